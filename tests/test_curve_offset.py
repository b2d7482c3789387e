"""Parallel curves: at an even distance, loops gone, corners sharp; against shapely sampled densely."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from clothwise.curve import (
    DOWN,
    LEFT,
    Cubic,
    Curve,
    NoParallel,
    Point,
    area_cm2,
    corner,
    heading,
    line,
    parallel,
    parallel_outline,
    polyline,
    self_crossings,
    simple,
    sweep,
)
from tests.curve_strokes import curves

NECK = corner(Point(8, 2), heading(250), Point(0, -7), LEFT, 0.6, 0.58)
SIMPLIFIED = 0.012  # of the distance: shapely first simplifies a line by a hundredth of its buffer's width


def distances(one: Curve, other: Curve, *, fine: float = 1e-4) -> tuple[float, float]:
    """Least and greatest distance of points of one from the other."""
    judge = LineString(other.flattened(tolerance=fine / 10))
    found = shapely.distance(judge, shapely.points(one.flattened(tolerance=fine)))
    return float(found.min()), float(found.max())


def square(side: float) -> list[Curve]:
    ends = [Point(0, 0), Point(side, 0), Point(side, side), Point(0, side), Point(0, 0)]
    return [line(p, q) for p, q in pairwise(ends)]


@pytest.mark.parametrize("tolerance", [1e-1, 1e-2, 1e-3, 1e-4, 1e-5])
@pytest.mark.parametrize("by", [1.0, -1.0, 3.0, -5.5, -20.0])
def test_a_facing_runs_at_an_even_distance_from_the_neck(by: float, tolerance: float) -> None:
    facing = parallel(NECK, by, tolerance=tolerance)
    low, high = distances(facing, NECK, fine=tolerance / 10)
    assert low >= abs(by) - tolerance
    assert high <= abs(by) + tolerance
    out = NECK.start_tangent.right()
    assert facing.start.distance(NECK.start.go(out, by)) <= tolerance
    assert facing.start_tangent.dot(NECK.start_tangent) == pytest.approx(1, abs=1e-9)


def test_a_circle_gives_a_circle_and_inside_out_nothing() -> None:
    ends = [Point(0, 0).go(heading(a), 9.0) for a in (0, 90, 180, 270)]
    quarters = [
        corner(ends[i], heading(90 * i + 90), ends[(i + 1) % 4], heading(90 * i + 180)) for i in range(4)
    ]
    grown = parallel_outline(quarters, [2.0] * 4, tolerance=1e-4)
    assert grown.area_share() == pytest.approx(math.pi * 121, rel=5e-4)
    shrunk = parallel_outline(quarters, [-4.0] * 4, tolerance=1e-4)
    assert shrunk.area_share() == pytest.approx(math.pi * 25, rel=1e-3)
    with pytest.raises(NoParallel):
        parallel_outline(quarters, [-9.5] * 4, tolerance=1e-4)


def test_each_edge_of_a_square_keeps_its_own_distance() -> None:
    grown = parallel_outline(square(10), [1.0, 2.0, 0.0, 0.5], tolerance=1e-3)
    assert grown.bounds() == pytest.approx((-0.5, -1.0, 12.0, 10.0))
    assert grown.area_share() == pytest.approx(12.5 * 11.0)
    shrunk = parallel_outline(square(10), [-1.0, -2.0, 0.0, -0.5], tolerance=1e-3)
    assert shrunk.bounds() == pytest.approx((0.5, 1.0, 8.0, 10.0))


def test_a_needle_corner_is_cut_square_and_a_hollow_one_trimmed() -> None:
    needle = polyline([Point(0, 0), Point(20, 0), Point(0, 2)])
    outside = parallel(needle, 1.0, tolerance=1e-3)
    tips = [s.end for s in outside.strokes if s.end.distance(Point(20, 0)) < 4]
    assert max(p.distance(Point(20, 0)) for p in tips) < 2.7
    inside = parallel(needle, -0.5, tolerance=1e-3)
    assert simple(inside.then(line(inside.end, inside.start)), tolerance=1e-6)
    assert distances(inside, needle)[0] == pytest.approx(0.5, abs=1e-3)


def test_unlike_distances_on_a_straight_run_meet_in_a_step() -> None:
    ends = [Point(0, 0), Point(10, 0), Point(20, 0), Point(20, 20), Point(0, 20), Point(0, 0)]
    grown = parallel_outline([line(p, q) for p, q in pairwise(ends)], [1.0, 2.0, 1.0, 1.0, 1.0], tolerance=1e-3)
    corners = {(round(s.start.x, 6), round(s.start.y, 6)) for s in grown.strokes}
    assert {(10, -1), (10, -2)} <= corners


def test_a_slit_narrower_than_twice_the_distance_closes() -> None:
    ends = [
        Point(*p)
        for p in ((0, 0), (20, 0), (20, 30), (11, 30), (10.5, 12), (9.5, 12), (9, 30), (0, 30), (0, 0))
    ]
    grown = parallel_outline([line(p, q) for p, q in pairwise(ends)], [1.5] * 8, tolerance=1e-3)
    assert simple(grown, tolerance=1e-6)
    truth = Polygon(ends).buffer(1.5, join_style="mitre", mitre_limit=2.5)
    outer = Polygon(truth.exterior)
    assert Polygon(grown.flattened(tolerance=1e-4)).symmetric_difference(outer).area < 0.05


@given(curves, st.sampled_from([0.7, -0.7, 1.5, -1.5, 3.0, -3.0, 6.0, -6.0]))
@settings(max_examples=30, deadline=None)
def test_any_parallel_keeps_its_distance_and_never_crosses_itself(curve: Curve, by: float) -> None:
    assume(not self_crossings(curve, tolerance=1e-3))
    assume(curve.length() > 2)
    thin = LineString(curve.flattened(tolerance=1e-3)).convex_hull.area < 0.05 * curve.length()
    assume(not thin or curve.length() < 1.001 * curve.chord)  # there and back on one line has no sides
    try:
        beside = parallel(curve, by, tolerance=1e-3)
    except NoParallel:
        # nothing may be left: then hardly a point of the true parallel keeps the distance
        judge = LineString(curve.flattened(tolerance=1e-5))
        ts = [i / 400 for i in range(401)]
        stroke = curve.strokes[0]
        raw = [stroke.at(t).go(stroke.tangent(t).right(), by) for t in ts]
        far = shapely.distance(judge, shapely.points(raw)) >= abs(by) + 1e-3
        assert far.sum() <= 4
        return
    assert distances(beside, curve)[0] >= abs(by) - 1.5e-3
    # where two strands leave each other just room the line may run there and back, a hair apart
    drawn = LineString(beside.flattened(tolerance=1e-4))
    loops = shapely.get_parts(shapely.polygonize([shapely.node(drawn)]))
    assert all(loop.area <= 5e-3 * drawn.length for loop in loops)


@st.composite
def outlines(draw: st.DrawFn) -> list[Curve]:
    """Stars with straight and curved edges."""
    n = draw(st.integers(3, 7))
    radii = draw(st.lists(st.floats(7, 25), min_size=n, max_size=n))
    corners = [Point(0, 0).go(heading(360 * i / n), r) for i, r in enumerate(radii)]
    edges = []
    for p, q in pairwise([*corners, corners[0]]):
        way = p.to(q).unit()
        if draw(st.booleans()):
            edges.append(line(p, q))
        else:
            edges.append(
                sweep(p, way.turned(draw(st.floats(-25, 25))), q, way.turned(draw(st.floats(-25, 25))))
            )
    return edges


@given(outlines(), st.sampled_from([0.6, 1.0, 2.0, -0.6, -1.0, -2.0]))
@settings(max_examples=30, deadline=None)
def test_any_outline_agrees_with_a_mitred_buffer(edges: list[Curve], by: float) -> None:
    whole = edges[0].then(*edges[1:])
    assume(simple(whole, tolerance=1e-6))
    beside = parallel_outline(edges, [by] * len(edges), tolerance=1e-3)
    got = Polygon(beside.flattened(tolerance=1e-4))
    truth = Polygon(whole.flattened(tolerance=1e-4)).buffer(
        by, join_style="mitre", mitre_limit=2.5 if by > 0 else 1e6
    )
    truth = max(shapely.get_parts(truth), key=lambda part: part.area)
    assert got.is_valid
    assert got.exterior.is_ccw
    assert distances(beside, whole)[0] >= abs(by) - 1.5e-3
    assert got.symmetric_difference(truth).area <= SIMPLIFIED * abs(by) * truth.length


@given(outlines(), st.lists(st.sampled_from([0.0, 1.0, 1.5, 4.0]), min_size=7, max_size=7))
@settings(max_examples=30, deadline=None)
def test_unlike_distances_hold_for_every_edge(edges: list[Curve], widths: list[float]) -> None:
    whole = edges[0].then(*edges[1:])
    assume(simple(whole, tolerance=1e-6))
    by = widths[: len(edges)]
    beside = Polygon(parallel_outline(edges, by, tolerance=1e-3).flattened(tolerance=1e-4))
    assert beside.is_valid
    assert Polygon(whole.flattened(tolerance=1e-3)).difference(beside.buffer(0.01)).is_empty
    for edge, d in zip(edges, by, strict=True):
        middle = shapely.Point(edge.at_length(edge.length() / 2))
        # beside an edge with nothing outside it the strip ends square at the corner, which may be nearer
        ways = [(edge.start, edge.start_tangent.right()), (edge.end, edge.end_tangent.right())]
        ends = [LineString([corner, corner.go(square, d)]).distance(middle) for corner, square in ways if d]
        assert beside.exterior.distance(middle) >= min([d, *ends]) - 2e-3


@pytest.mark.parametrize("by", [0.7, 0.5, 1.5, -0.7])
def test_beside_a_hairpin_end_no_loop_is_left_however_small(by: float) -> None:
    hairpin = Curve((Cubic(Point(-4, 0), Point(-1, 1), Point(0, 0), Point(0, 0)),))
    beside = parallel(hairpin, by, tolerance=1e-3)
    assert LineString(beside.flattened(tolerance=1e-4)).is_simple
    assert distances(beside, hairpin)[0] >= abs(by) - 1e-3


def test_an_allowance_beside_none_at_a_right_angle_ends_square_whatever_the_rounding() -> None:
    for turn in range(0, 360, 7):
        ends = [Point(0, 0).go(heading(turn + a), 15.0) for a in (0, 90, 180, 270)]
        edges = [line(ends[i], ends[(i + 1) % 4]) for i in range(4)]
        strip = parallel_outline(edges, [0.0, 0.0, 1.0, 0.0], tolerance=1e-3)
        assert area_cm2(strip) == pytest.approx(450 + math.sqrt(450), abs=1e-2)


def test_what_has_no_side_is_refused() -> None:
    eight = polyline([Point(0, 0), Point(10, 10), Point(10, 0), Point(0, 10)])
    with pytest.raises(ValueError, match="crosses itself"):
        parallel(eight, 1.0, tolerance=1e-3)
    with pytest.raises(ValueError, match="outwards or inwards"):
        parallel_outline(square(9), [1.0, -1.0, 1.0, 1.0], tolerance=1e-3)
    with pytest.raises(ValueError, match="its own distance"):
        parallel_outline(square(9), [1.0], tolerance=1e-3)
    assert parallel(NECK, 0.0, tolerance=1e-3) == NECK
    assert DOWN.dot(LEFT) == 0
