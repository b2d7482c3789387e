"""What is bought besides the cloth, against figures reckoned by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwise.curve import Point, line
from clothwise.garment import Edge, Garment, Notion, Piece
from clothwise.garment.haberdashery import (
    INTERFACING_WIDTH,
    THREAD_RATIO,
    finished_measures,
    haberdashery,
    seam_lengths,
    thread_length,
)
from tests.hand_made import LEG_LENGTH, RISE, bag, legs, skirt, with_edge


def bought(garment: Garment, name: str, **how: str) -> list[Notion]:
    return [n for n in haberdashery(garment, **how) if n.name == name]  # type: ignore[arg-type]


def test_every_dart_seam_and_free_edge_has_its_length() -> None:
    lines = {s.name: (round(s.once, 3), s.times) for s in seam_lengths(skirt())}
    assert lines["side"] == (60.0, 2)
    assert lines["centre_back"] == (60.0, 1)
    assert lines["front.waist_dart"] == (
        round(math.hypot(12.0, 0.5), 3),
        2,
    )  # two, one in each half on the fold
    assert lines["back.waist_dart"] == (round(math.hypot(12.0, 0.5), 3), 2)
    assert lines["hem"] == (50.0, 2)
    assert lines["pocket"][0] == pytest.approx(10 + 4 + 10 + 2 * 4 * math.pi / 2, abs=0.02)
    assert set(lines) >= {f.name for f in skirt().free_edges}


def test_raw_edges_are_those_that_stay_open() -> None:
    """Both allowances of a pressed-open seam; none of a folded hem or a patch turned in."""
    raw = {s.name: s.raw for s in seam_lengths(skirt())}
    assert raw["side"] == pytest.approx(4 * 60.0)
    assert raw["hem"] == 0.0
    assert raw["pocket"] == 0.0
    plain_hem = replace(skirt(), free_edges=tuple(replace(f, fold_in=0.0) for f in skirt().free_edges))
    assert {s.name: s.raw for s in seam_lengths(plain_hem)}["hem"] == pytest.approx(100.0)


def test_thread_for_a_bag_by_hand() -> None:
    """110 cm of seam, 60 of hem in lockstitch, 220 of raw edge zigzagged; four tails of 40 cm; 15 % waste."""
    by_hand = 1.15 * (2.8 * (110 + 60) + 5.5 * 220 + 40 * (1 + 1 + 2))
    assert bought(bag(), "thread")[0].length == pytest.approx(by_hand)


def test_overlocked_edges_take_far_more_thread_than_zigzagged_ones() -> None:
    zigzag, overlock = (bought(legs(), "thread", neaten=n)[0].length for n in ("304", "504"))
    assert 1.5 * zigzag < overlock < 3.0 * zigzag


def test_longer_seams_take_more_thread_in_proportion() -> None:
    one, two = thread_length([("301", 100.0, 0)]), thread_length([("301", 200.0, 0)])
    assert two == pytest.approx(2 * one)


@pytest.mark.parametrize(("stitch_mm", "cloth_mm"), [(2.5, 0.4), (2.5, 0.7), (3.0, 1.0)])
def test_the_lockstitch_ratio_agrees_with_the_shape_of_the_stitch(stitch_mm: float, cloth_mm: float) -> None:
    """Two threads lie along the seam and each dives once per stitch into the middle of two layers of cloth."""
    shape = 2 * (stitch_mm + cloth_mm) / stitch_mm
    least, _, most = THREAD_RATIO["301"]
    assert least - 0.3 <= shape <= most + 0.2


def test_what_the_draft_asks_for_comes_first_and_once() -> None:
    assert [n.name for n in haberdashery(legs())] == ["elastic", "thread"]
    stale = replace(legs(), notions=(*legs().notions, Notion("thread", "Thread", length=1.0)))
    assert haberdashery(stale) == haberdashery(legs())


def test_interfacing_is_laid_in_rows_across_its_width() -> None:
    def strip(name: str, width: float, depth: float, copies: int) -> Piece:
        a, b, c, d = Point(0, 0), Point(width, 0), Point(width, depth), Point(0, depth)
        sides = zip("abcd", ((a, b), (b, c), (c, d), (d, a)), strict=True)
        edges = tuple(Edge(n, line(p, q), "raw", 0.0) for n, (p, q) in sides)
        grain = (Point(width / 2, 1), Point(width / 2, depth - 1))
        return Piece(name, name, edges, grain, "single", copies, layer="interfacing")

    assert bought(bag(), "interfacing") == []
    # 40 + 40 go beside each other, 8 deep; a third needs a new row; the small one (5 deep) fits beside it
    garment = replace(bag(), pieces=(*bag().pieces, strip("facing", 40, 8, 3), strip("loop", 20, 5, 1)))
    found = bought(garment, "interfacing")[0]
    assert found.width == INTERFACING_WIDTH
    assert found.length == pytest.approx(8 + 8 + 5.0)


def test_finished_measures_are_those_of_the_pieces() -> None:
    found = {m.name: m.cm for m in finished_measures(replace(legs(), finished={"outside leg": 103.0}))}
    assert found["hip"] == pytest.approx(104.0)
    assert found["inseam"] == pytest.approx(LEG_LENGTH)
    assert found["side"] == pytest.approx(LEG_LENGTH + RISE)
    assert found["hem"] == pytest.approx(66.0)
    assert found["outside leg"] == 103.0


def test_a_longer_leg_needs_more_thread() -> None:
    """The thread follows the drawing, not a table."""
    longer = legs()
    for name in ("front_leg", "back_leg"):
        for edge in ("side", "inseam"):
            longer = with_edge(
                longer, name, edge, lambda e: replace(e, curve=e.curve.mapped(lambda p: Point(p.x, p.y * 1.1)))
            )
    more = bought(longer, "thread")[0].length - bought(legs(), "thread")[0].length
    grown = 2 * (0.1 * LEG_LENGTH + 0.1 * (LEG_LENGTH + RISE))  # cm of seam, both sides of the body
    assert more == pytest.approx(1.15 * (2.8 * grown + 5.5 * 2 * grown))
