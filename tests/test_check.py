"""The check of a garment: sound ones pass, and every rule is broken once on purpose and named."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.integrate import quad

from clothwise.curve import LEFT, UP, Cubic, Curve, Line, Point, Vector, corner, line
from clothwise.errors import GarmentError
from clothwise.garment import (
    Edge,
    Garment,
    Piece,
)
from clothwise.garment import check as check_package
from clothwise.garment.allowance import cutting_line
from clothwise.garment.check import check, cut, forget, greatest_move, same
from clothwise.garment.check.drawn import drawn
from clothwise.tolerance import SEAM_MATCH
from tests.breaking import longer
from tests.broken import BROKEN, Change
from tests.hand_made import bag, bent, legs, skirt, tapered_legs, with_edge


def rules(garment: Garment) -> set[str]:
    return {fault.rule for fault in check(garment)}


# ---- sound garments ------------------------------------------------------------------------------


@pytest.mark.parametrize("make", [bag, skirt, legs, tapered_legs])
def test_a_sound_garment_has_no_fault(make: Callable[[], Garment]) -> None:
    assert [str(fault) for fault in check(make())] == []


@pytest.mark.parametrize("make", [bag, skirt, legs, tapered_legs])
def test_it_stays_sound_turned_and_moved(make: Callable[[], Garment]) -> None:
    """Where a piece lies on the drawing means nothing."""

    def turned(piece: Piece) -> Piece:
        about, way = Point(3.0, 4.0), Vector(100.0, -7.0)

        def curve(c: Curve) -> Curve:
            return c.rotated(about, 33.0).moved(way)

        def point(p: Point) -> Point:
            return p.rotated(about, 33.0).go(way)

        return replace(
            piece,
            edges=tuple(replace(e, curve=curve(e.curve)) for e in piece.edges),
            marks=tuple(replace(m, curve=curve(m.curve)) for m in piece.marks),
            darts=tuple(
                replace(d, tip=point(d.tip), first_leg=point(d.first_leg), second_leg=point(d.second_leg))
                for d in piece.darts
            ),
            grain=(point(piece.grain[0]), point(piece.grain[1])),
        )

    garment = make()
    assert check(replace(garment, pieces=tuple(turned(p) for p in garment.pieces))) == ()


# ---- broken ones ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rule", "make", "change"), [b[0:1] + b[2:] for b in BROKEN], ids=[f"{b[0]}: {b[1]}" for b in BROKEN]
)
def test_a_garment_broken_on_purpose_is_caught_by_name(
    rule: str, make: Callable[[], Garment], change: Change
) -> None:
    faults = check(change(make()))
    assert rule in {f.rule for f in faults}
    for fault in faults:
        assert fault.what.endswith(".")
        assert fault.where


@pytest.mark.parametrize(
    ("rule", "wrong_line"),
    [
        ("allowance", lambda p: ring(shape(p).buffer(1.2, join_style="mitre"))),
        ("allowance", lambda p: ring(shape(p).buffer(1.7, join_style="mitre"))),
        ("cutting line", lambda p: ring(shape(p).buffer(-0.2, join_style="mitre"))),
        ("cutting line", lambda p: ring(shape(p).buffer(1.5, join_style="mitre"))[:3]),
        ("folded hem", lambda p: ring(shape(p).union(bands(p)))),
        ("folded hem", lambda p: ring(shape(p).union(bands(p, run_on=3.0)))),
    ],
    ids=["narrow", "wide", "inside", "corners lost", "turn falls short", "turn stands out"],
)
def test_a_wrong_cutting_line_is_caught_by_name(
    rule: str, wrong_line: Callable[[Piece], list[Point]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The bag narrows to its top here, so that its hem has to be cut flaring out again."""
    cutting = {"cutting line", "allowance", "folded hem", "folds flat"}
    assert not cutting & rules(narrowing_bag())
    forget()
    monkeypatch.setattr(cut, "cutting_line", wrong_line)
    assert rule in rules(narrowing_bag())
    forget()


def narrowing_bag() -> Garment:
    """30 cm wide below, 22 above, with a straight hem that is not square to the sides."""
    garment = bag()
    for name in ("front", "back"):
        a, b, c, d = Point(0, 0), Point(30, 0), Point(26, 40), Point(4, 40)
        for edge, (p, q) in {"left": (d, a), "right": (b, c), "top": (c, d)}.items():
            garment = with_edge(garment, name, edge, lambda e, p=p, q=q: replace(e, curve=line(p, q)))  # type: ignore[misc]
    return garment


def test_a_piece_that_cannot_be_cut_is_told_and_not_thrown() -> None:
    tight = with_edge(
        bag(),
        "front",
        "left",
        lambda e: replace(e, kind="hem", allowance=3.0, curve=bent(e.curve, (0, 1, 14.0, 0), (0, 2, 14.0, 0))),
    )
    assert {"cutting line", "folds flat"} & rules(tight)


def test_a_hem_on_a_sharp_bow_is_told_to_lie_badly() -> None:
    bowed = with_edge(
        bag(), "front", "top", lambda e: replace(e, curve=bent(e.curve, (0, 1, 0, 5.0), (0, 2, 0, 5.0)))
    )
    assert "folds flat" in rules(bowed)
    narrow = with_edge(bowed, "front", "top", lambda e: replace(e, allowance=1.5))
    assert "folds flat" not in rules(narrow)


def shape(p: Piece) -> shapely.Polygon:
    return shapely.Polygon(p.polygon(tolerance=0.01))


def ring(outline: shapely.Polygon) -> list[Point]:
    return [Point(x, y) for x, y in shapely.geometry.polygon.orient(outline).exterior.coords[:-1]]


def bands(p: Piece, run_on: float = 1.5) -> shapely.Polygon:
    """Allowances as square bands run on past their corners: right for seams, wrong for a turn that leans."""
    found = []
    for e in p.edges:
        a, b = e.curve.start, e.curve.end
        chords = e.curve.flattened(tolerance=0.01)
        beyond = [a.go(e.curve.start_tangent, -run_on), *chords, b.go(e.curve.end_tangent, run_on)]
        line = shapely.LineString(beyond)
        found.append(line.buffer(-e.allowance, single_sided=True, join_style="mitre"))
    return shapely.union_all(found)


def test_every_rule_named_at_the_head_is_broken_above() -> None:
    assert check_package.__doc__ is not None
    listed = check_package.__doc__.split("says):\n")[1].split("  compare")[0]
    named = {
        r.strip()
        for block in listed.replace("\n              ", " ").splitlines()
        for r in block[14:].split(",")
    }
    named = {" ".join(r.split()) for r in named} - {""}
    elsewhere = {"cutting line", "allowance", "folded hem", "folds flat"}
    assert named == {b[0] for b in BROKEN} | elsewhere


# ---- broken by chance ------------------------------------------------------------------------------

SEAM_EDGES = [
    (name, e.name, k, which)
    for name in ("front_leg", "back_leg")
    for e in tapered_legs().piece(name).edges
    if e.name in ("inseam", "side")
    for k in range(len(e.curve.strokes))
    for which in range(4)
]


def true_length(c: Curve) -> float:
    """Arc length by adaptive quadrature of the speed: neither the kernel's rule nor the check's chords."""
    total = 0.0
    for cubic in (stroke.cubic() for stroke in c.strokes):
        way = 3 * np.diff(np.array([cubic.start, cubic.first, cubic.second, cubic.end]), axis=0)

        def speed(t: float, way: NDArray[np.float64] = way) -> float:
            return float(np.hypot(*((1 - t) ** 2 * way[0] + 2 * t * (1 - t) * way[1] + t * t * way[2])))

        total += quad(speed, 0.0, 1.0, limit=200)[0]
    return total


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(SEAM_EDGES), st.floats(0.2, 6.0), st.floats(0.0, 360.0))
def test_a_control_point_moved_by_2_mm_or_more_is_caught_when_it_changes_the_seam(
    place: tuple[str, str, int, int], far: float, way_deg: float
) -> None:
    """Caught exactly when the two sides differ by more than is allowed; the corner may gape as well."""
    piece, edge, stroke, which = place
    right, up = far * math.cos(math.radians(way_deg)), far * math.sin(math.radians(way_deg))
    garment = tapered_legs()
    moved = with_edge(
        garment, piece, edge, lambda e: replace(e, curve=bent(e.curve, (stroke, which, right, up)))
    )
    off = abs(true_length(moved.piece(piece).line(edge)) - true_length(garment.piece(piece).line(edge)))
    assume(abs(off - SEAM_MATCH) > 1e-4)
    assert ("seam length" in rules(moved)) == (off > SEAM_MATCH)
    if which in (0, 3):
        assert "closed" in rules(moved)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(BROKEN), min_size=2, max_size=4))
def test_garments_broken_several_times_over_are_reported_and_never_raise(
    breakages: list[tuple[str, str, Callable[[], Garment], Change]],
) -> None:
    make = breakages[0][2]
    garment = make()
    for _, _, base, change in breakages:
        if base is make:
            try:
                garment = change(garment)
            except (GarmentError, ValueError, ZeroDivisionError, IndexError):
                assume(False)  # that breakage cannot be done to a garment already broken
    assert all(fault.what in str(fault) for fault in check(garment))


def test_what_was_found_on_a_piece_is_kept_for_no_other() -> None:
    """Looked at before or not, in whatever order: each garment gets its own faults."""
    sound = tapered_legs()
    hair = with_edge(sound, "front_leg", SEAM_EDGES[0][1], lambda e: replace(e, allowance=e.allowance + 0.001))
    garments = [sound, *(change(make()) for _, _, make, change in BROKEN[::7]), hair, sound]
    anew = []
    for garment in garments:
        forget()
        anew.append(str(check(garment)))
    assert [str(check(garment)) for garment in garments] == anew
    assert [str(check(garment)) for garment in reversed(garments)] == anew[::-1]
    assert anew[0] == "()" != anew[-2]


# ---- independence ----------------------------------------------------------------------------------


@pytest.mark.parametrize("make", [skirt, tapered_legs])
def test_it_measures_without_the_kernel(make: Callable[[], Garment], monkeypatch: pytest.MonkeyPatch) -> None:
    """A kernel that is wrong about lengths, places and directions changes no finding."""
    sound = make()
    broken = with_edge(sound, sound.pieces[0].name, "side", lambda e: replace(e, curve=longer(e.curve, 0.2)))
    forget()
    monkeypatch.setattr(cut, "cutting_line", lambda p: CUT[id(p)])
    CUT = {id(p): cutting_line(p) for p in (*sound.pieces, *broken.pieces)}
    for name in ("length", "at_length", "tangent_at_length", "split", "bounds", "area_share", "flattened"):
        monkeypatch.setattr(Curve, name, lambda *_, **__: pytest.fail("the check asked the kernel"))
    for stroke in (Line, Cubic):
        for name in ("at", "tangent", "length", "slope", "curvature", "flattened", "bounds"):
            monkeypatch.setattr(stroke, name, lambda *_, **__: pytest.fail("the check asked the kernel"))
    assert check(sound) == ()
    assert "seam length" in rules(broken)


@pytest.mark.parametrize("radius", [3.0, 20.0, 400.0])
def test_its_lengths_agree_with_quadrature(radius: float) -> None:
    quarter = corner(Point(radius, 0), UP, Point(0, radius), LEFT)
    for c in (quarter, bent(quarter, (0, 1, -0.8 * radius, 0.5 * radius))):
        assert drawn(c).length == pytest.approx(true_length(c), abs=radius * 1e-6)


# ---- two drafts ------------------------------------------------------------------------------------


def test_same_is_to_the_last_digit_and_in_order() -> None:
    assert same(skirt(), skirt())
    nudged = with_edge(skirt(), "front", "side", lambda e: replace(e, curve=e.curve.moved(Vector(1e-13, 0.0))))
    assert not same(skirt(), nudged)
    assert not same(
        replace(skirt(), finished={"a": 1.0, "b": 2.0}), replace(skirt(), finished={"b": 2.0, "a": 1.0})
    )


def test_the_greatest_move_is_that_of_the_line_that_moved_most() -> None:
    moved = with_edge(legs(), "back_leg", "side", lambda e: replace(e, curve=e.curve.moved(Vector(0.3, -0.4))))
    assert greatest_move(legs(), moved) == pytest.approx(0.5)
    assert greatest_move(legs(), legs()) == 0.0


def test_a_curve_split_in_two_has_not_moved() -> None:
    def split(e: Edge) -> Edge:
        one, other = e.curve.split(11.0)
        return replace(e, curve=one.then(other))

    assert greatest_move(legs(), with_edge(legs(), "front_leg", "crotch", split)) < 0.01


def test_a_piece_that_came_or_went_is_an_endless_move() -> None:
    assert greatest_move(skirt(), replace(skirt(), pieces=skirt().pieces[:2])) == math.inf


def test_a_draft_of_a_body_enlarged_as_a_whole_is_that_draft_enlarged() -> None:
    def grown(p: Piece, k: float) -> Piece:
        return replace(
            p,
            edges=tuple(replace(e, curve=e.curve.mapped(lambda q: Point(q.x * k, q.y * k))) for e in p.edges),
            marks=(),
        )

    one = replace(legs(), pieces=tuple(grown(p, 1.0) for p in legs().pieces))
    other = replace(legs(), pieces=tuple(grown(p, 1.1) for p in legs().pieces))
    assert greatest_move(one, other, scale=1.1) < 1e-9
    assert greatest_move(one, other) > 5.0
