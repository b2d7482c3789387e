"""What is bought besides the cloth, against figures reckoned by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwise.curve import Point, line
from clothwise.garment import Edge, Garment, Notion, Piece
from clothwise.garment.haberdashery import (
    BUTTON_THREAD,
    INTERFACING_WIDTH,
    THREAD_RATIO,
    bindings,
    finished_measures,
    haberdashery,
    seam_lengths,
    thread_length,
)
from tests.hand_made import LEG_LENGTH, RISE, bag, legs, skirt, with_edge
from tests.sewn_garments import darted_top, gathered_skirt, knit_tee, shirt


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


def test_gathers_take_two_rows_and_a_little_ease_none() -> None:
    skirt_rows = {s.name: s for s in seam_lengths(gathered_skirt())}
    cloth = 4 * 36.0
    assert skirt_rows["waist"].gathered == pytest.approx(2 * cloth)
    assert skirt_rows["waist"].once == pytest.approx(72.0)  # sewn at the length of the band
    eased = {s.name: s for s in seam_lengths(darted_top(2.5))}["sleeve_seam"]
    assert eased.gathered == pytest.approx(2 * darted_top(2.5).piece("sleeve").line("cap").length())
    assert {s.name: s for s in seam_lengths(darted_top(0.5))}["sleeve_seam"].gathered == 0.0


def test_what_a_band_or_facing_shuts_in_is_not_neatened() -> None:
    raw = {s.name: s.raw for s in seam_lengths(gathered_skirt())}
    assert raw["waist"] == 0.0
    assert raw["side_seam"] > 0
    top = {s.name: s for s in seam_lengths(darted_top())}
    assert (top["neck_facing"].raw, top["neck_facing"].rows) == (0.0, 2)  # sewn on, then understitched


def test_a_zip_and_buttons_are_bought_even_where_the_draft_forgot_them() -> None:
    forgot = replace(gathered_skirt(), notions=())
    assert bought(forgot, "zip")[0].length == pytest.approx(20.0)
    assert bought(forgot, "button")[0].count == 1
    assert len(bought(gathered_skirt(), "zip")) == 1
    plain = replace(gathered_skirt(), notions=gathered_skirt().notions[:1])
    plain = replace(plain, pieces=_without_marks(plain))
    more = bought(gathered_skirt(), "thread")[0].length - bought(plain, "thread")[0].length
    assert more == pytest.approx(BUTTON_THREAD)


def _without_marks(garment: Garment) -> tuple[Piece, ...]:
    return tuple(replace(piece, marks=()) for piece in garment.pieces)


def test_interfaced_pieces_are_bought_interfacing_for() -> None:
    """The waistband lies along its grain: 72 and its allowances long, 10 wide, one beside nothing else."""
    assert bought(gathered_skirt(), "interfacing")[0].length == pytest.approx(74.0 + 5.0)


def test_a_binding_can_be_bought_instead_of_cut() -> None:
    """Slit bindings of the shirt: two, each as long as its slit; cut 6 wide with allowances, 1.5 finished."""
    (binding,) = bindings(shirt())
    slit = shirt().piece("sleeve").line("slit").length()
    assert binding.length == pytest.approx(2 * slit)
    assert binding.width == pytest.approx((4.0 + 2 * 1.0) / 4)
    assert bindings(knit_tee()) == ()  # a neckband is stretched, not bought
