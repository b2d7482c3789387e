"""Crossings, nearest points and closed outlines: against closed forms and shapely at dense sampling."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot

from clothwise.curve import (
    RIGHT,
    UP,
    Cubic,
    Curve,
    Point,
    Vector,
    anticlockwise,
    area_cm2,
    closed,
    corner,
    crossings,
    crossings_at_x,
    crossings_at_y,
    crossings_with_line,
    heading,
    inside,
    line,
    nearest,
    polyline,
    self_crossings,
    simple,
)
from tests.curve_strokes import curves, places

TOLERANCES = [1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8]
PARABOLA = Curve((Cubic(Point(0, 0), Point(2, 0), Point(4, 2), Point(6, 6)),))  # y = x^2 / 6
BOW = Curve((Cubic(Point(0, 0), Point(5, 10), Point(12, 10), Point(20, 0)),))


def circle(radius: float) -> Curve:
    """Four cubic quarters, anticlockwise from the right."""
    ends = [Point(0, 0).go(heading(a), radius) for a in (0, 90, 180, 270, 360)]
    ends[-1] = ends[0]
    quarters = [corner(ends[i], heading(90 * i + 90), ends[i + 1], heading(90 * i + 180)) for i in range(4)]
    return quarters[0].then(*quarters[1:])


def flat(curve: Curve) -> bool:
    return LineString(curve.flattened(tolerance=1e-3)).convex_hull.area < 0.05 * curve.length()


# ---- straight lines and levels -------------------------------------------------------------------


@pytest.mark.parametrize("tolerance", TOLERANCES)
def test_a_parabola_meets_a_slanting_line_where_the_formula_says(tolerance: float) -> None:
    """x^2 / 6 = 1 - x / 4"""
    x = (-0.25 + math.sqrt(0.0625 + 4 / 6)) * 3
    (found,) = crossings_with_line(PARABOLA, Point(0, 1), Vector(4, -1), tolerance=tolerance)
    assert found.point.distance(Point(x, 1 - x / 4)) <= min(tolerance, 1e-9)
    along = (x / 3 * math.sqrt(1 + x * x / 9) + math.asinh(x / 3)) * 1.5
    assert abs(found.along - along) <= tolerance
    assert abs(found.along_other - math.hypot(x, x / 4)) <= min(tolerance, 1e-9)


def test_levels_are_met_in_order_along_the_curve() -> None:
    low, high = crossings_at_y(BOW, 5.0, tolerance=1e-6)
    assert low.point.y == pytest.approx(5.0, abs=1e-12)
    assert high.point.y == pytest.approx(5.0, abs=1e-12)
    assert low.along < high.along
    assert [c.point.x for c in crossings_at_x(BOW, 7.0, tolerance=1e-6)] == pytest.approx([7.0], abs=1e-12)
    assert crossings_at_y(BOW, 9.0, tolerance=1e-6) == ()


def test_a_touched_level_counts_once_and_a_joint_of_strokes_too() -> None:
    (top,) = crossings_at_y(BOW, 7.5, tolerance=1e-6)
    assert top.point.x == pytest.approx(8.875)
    bent = polyline([Point(0, 0), Point(5, 5), Point(10, 0), Point(15, 5)])
    assert [c.point for c in crossings_at_y(bent, 5.0, tolerance=1e-6)] == [Point(5, 5), Point(15, 5)]
    assert [c.point for c in crossings_at_x(bent, 10.0, tolerance=1e-6)] == [Point(10, 0)]


def test_a_line_lying_on_the_level_gives_its_two_ends() -> None:
    run = line(Point(2, 3), Point(9, 3))
    assert [c.point for c in crossings_at_y(run, 3.0, tolerance=1e-6)] == [Point(2, 3), Point(9, 3)]


@given(curves, places, st.floats(0, 360))
@settings(max_examples=20, deadline=None)
def test_crossings_with_a_line_agree_with_dense_sampling(curve: Curve, through: Point, angle: float) -> None:
    way = heading(angle)
    fine = LineString(curve.flattened(tolerance=1e-5))
    ruler = LineString([through.go(way, -500), through.go(way, 500)])
    found = crossings_with_line(curve, through, way, tolerance=1e-7)
    for one in found:
        assert abs(through.to(one.point).cross(way)) <= 1e-6
        assert fine.distance(Spot(one.point)) <= 2e-5
    for spot in shapely.get_parts(fine.intersection(ruler)):
        if spot.is_empty:
            continue
        place = Point(*spot.coords[0])
        along = nearest(curve, place).along
        sides = [through.to(curve.at_length(along + by)).cross(way) for by in (-0.02, 0.02)]
        if min(sides) < -1e-4 and max(sides) > 1e-4:  # really from one side to the other
            assert min(c.point.distance(place) for c in found) <= 0.05


# ---- curve with curve ----------------------------------------------------------------------------


@pytest.mark.parametrize("tolerance", TOLERANCES)
def test_two_parabolas_meet_where_the_formula_says(tolerance: float) -> None:
    """y = x^2 / 6 and x = y^2 / 6: at 0 and at (6, 6)."""
    found = crossings(PARABOLA, PARABOLA.mirrored(Point(0, 0), heading(45)), tolerance=tolerance)
    assert len(found) == 2
    assert found[0].point.distance(Point(0, 0)) <= tolerance
    assert found[1].point.distance(Point(6, 6)) <= tolerance


@pytest.mark.parametrize("tolerance", TOLERANCES)
def test_curves_that_only_touch_are_found_once(tolerance: float) -> None:
    top = BOW.bounds()[3]
    (found,) = crossings(BOW, BOW.mirrored(Point(0, top), RIGHT), tolerance=tolerance)
    assert found.point.y == pytest.approx(top, abs=tolerance)
    near = BOW.mirrored(Point(0, top + 2 * tolerance), RIGHT)
    assert crossings(BOW, near, tolerance=tolerance) == ()


@pytest.mark.parametrize("tolerance", TOLERANCES)
def test_curves_along_each_other_give_the_ends_of_the_run(tolerance: float) -> None:
    low, high = crossings(BOW, BOW.part(4, 10, tolerance=1e-9), tolerance=max(tolerance, 1e-7))
    assert (low.along, high.along) == pytest.approx((4, 10), abs=max(tolerance, 2e-7))
    assert (low.along_other, high.along_other) == pytest.approx((0, 6), abs=max(tolerance, 2e-7))
    one, other = crossings(line(Point(0, 0), Point(9, 0)), line(Point(4, 0), Point(20, 0)), tolerance=tolerance)
    assert (one.point, other.point) == (Point(4, 0), Point(9, 0))


@given(curves, curves)
@settings(max_examples=60, deadline=None)
def test_crossings_of_curves_agree_with_dense_sampling(one: Curve, other: Curve) -> None:
    assume(not (flat(one) and flat(other)))  # two straight lines drawn as cubics may double back on each other
    found = crossings(one, other, tolerance=1e-6)
    a, b = LineString(one.flattened(tolerance=1e-5)), LineString(other.flattened(tolerance=1e-5))
    for c in found:
        assert a.distance(Spot(c.point)) <= 2e-5
        assert b.distance(Spot(c.point)) <= 2e-5
        assert one.at_length(c.along).distance(c.point) <= 1e-5
        assert other.at_length(c.along_other).distance(c.point) <= 1e-5
    for spot in shapely.get_parts(a.intersection(b)):
        if spot.geom_type == "Point" and not spot.is_empty:
            place = Point(*spot.coords[0])
            ways = [c.tangent_at_length(nearest(c, place).along) for c in (one, other)]
            if abs(ways[0].cross(ways[1])) > 0.02:  # not at so flat an angle that chords cross elsewhere
                assert min(c.point.distance(place) for c in found) <= 0.05


def test_a_straight_cubic_is_left_where_the_other_truly_leaves_it() -> None:
    """One stroke sets out along the other and leaves it as a cube does: they share the start and no more."""
    straight = Curve((Cubic(Point(0, -7), Point(0, 2.9), Point(0, 12.8), Point(0, 26)),))
    bent = Curve((Cubic(Point(0, -7), Point(0, -7), Point(0, 0), Point(1, 0)),))
    for tolerance in TOLERANCES[2:]:
        for one, other in ((straight, bent), (bent, straight)):
            for met in crossings(one, other, tolerance=tolerance):
                assert one.at_length(met.along).distance(met.point) <= 2 * tolerance
                assert other.at_length(met.along_other).distance(met.point) <= 2 * tolerance


# ---- a curve with itself -------------------------------------------------------------------------


def test_a_loop_crosses_itself_at_its_known_point() -> None:
    """(t^2, t^3 - t) from t = -1.5 to 1.5 crosses itself at (1, 0), at t = -1 and 1."""

    def control(p: float, q: float, r: float) -> Point:
        return Point((p * q + q * r + p * r) / 3, p * q * r - (p + q + r) / 3)

    a, b = -1.5, 1.5
    loop = Curve((Cubic(control(a, a, a), control(a, a, b), control(a, b, b), control(b, b, b)),))
    (found,) = self_crossings(loop, tolerance=1e-9)
    assert found.point.distance(Point(1, 0)) < 1e-12
    assert found.along + found.along_other == pytest.approx(loop.length(tolerance=1e-9), abs=1e-6)


def test_joints_and_the_closing_are_no_crossings() -> None:
    assert self_crossings(circle(9.0), tolerance=1e-6) == ()
    assert self_crossings(polyline([Point(0, 0), Point(9, 0), Point(9, 9), Point(0, 0)]), tolerance=1e-6) == ()
    eight = polyline([Point(0, 0), Point(10, 10), Point(10, 0), Point(0, 10)])
    assert [c.point for c in self_crossings(eight, tolerance=1e-6)] == [Point(5, 5)]
    touching = polyline([Point(0, 0), Point(10, 0), Point(10, 5), Point(5, 0), Point(0, 5)])
    assert [c.point for c in self_crossings(touching, tolerance=1e-6)] == [Point(5, 0)]


@given(curves)
@settings(max_examples=60, deadline=None)
def test_self_crossings_agree_with_dense_sampling(curve: Curve) -> None:
    points = curve.flattened(tolerance=1e-5)
    assume(Polygon(points).area > 1e-3 if len(points) > 2 else False)
    found = self_crossings(curve, tolerance=1e-7)
    clear = LineString(points).is_simple
    wide = [c for c in found if c.along_other - c.along > 0.2 and 0.2 < c.along_other < curve.length() - 0.2]
    assert not (wide and clear)
    assert clear or found or curve.chord < 0.05


# ---- nearest -------------------------------------------------------------------------------------


def test_the_nearest_point_of_a_parabola() -> None:
    """From (0, 3 + d) on the axis the foot of y = x^2 / 6 stands at x^2 = 6 d."""
    found = nearest(PARABOLA, Point(0, 3 + 1.5))
    assert found.point.distance(Point(3.0, 1.5)) < 1e-12
    assert found.away == pytest.approx(math.hypot(3, 3))
    assert found.along == pytest.approx((math.sqrt(2) + math.asinh(1)) * 1.5, abs=1e-6)


@given(curves, places)
@settings(max_examples=80, deadline=None)
def test_no_sampled_point_is_nearer(curve: Curve, place: Point) -> None:
    found = nearest(curve, place)
    fine = LineString(curve.flattened(tolerance=1e-6))
    assert found.away == pytest.approx(fine.distance(Spot(place)), abs=3e-6)
    assert found.point.distance(place) == pytest.approx(found.away, abs=1e-12)
    assert curve.at_length(found.along).distance(found.point) <= 4e-6


def test_the_first_of_equally_near_points_is_given() -> None:
    square = polyline([Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10), Point(0, 0)])
    assert nearest(square, Point(5, 5)).point == Point(5, 0)


# ---- outlines ------------------------------------------------------------------------------------


@pytest.mark.parametrize("radius", [0.5, 10.0, 90.0])
def test_the_area_of_a_circle_of_four_cubics(radius: float) -> None:
    outline = circle(radius)
    assert area_cm2(outline) == pytest.approx(math.pi * radius**2, rel=3e-4)
    fine = Polygon(outline.flattened(tolerance=radius * 1e-7))
    assert area_cm2(outline) == pytest.approx(fine.area, rel=1e-6)
    assert anticlockwise(outline)
    assert not anticlockwise(outline.reversed())
    assert simple(outline, tolerance=1e-6)
    assert closed(outline)


def test_an_open_line_has_no_inside() -> None:
    with pytest.raises(ValueError, match="ends where it starts"):
        area_cm2(BOW)
    assert not simple(BOW, tolerance=1e-6)


@given(curves, places)
@settings(max_examples=60, deadline=None)
def test_inside_agrees_with_dense_sampling(curve: Curve, place: Point) -> None:
    assume(curve.chord > 0.1)
    outline = curve.then(line(curve.end, curve.start))
    ring = outline.flattened(tolerance=1e-5)
    away = LineString(ring).distance(Spot(place))
    assume(away > 1e-4)
    rounds = shapely.make_valid(Polygon(ring)) if len(self_crossings(outline, tolerance=1e-6)) == 0 else None
    assume(rounds is not None)
    assert inside(outline, place, tolerance=1e-6) == rounds.contains(Spot(place))
    assert inside(outline.reversed(), place, tolerance=1e-6) == rounds.contains(Spot(place))


def test_a_place_level_with_a_corner_that_rounding_would_lift_is_judged_right() -> None:
    corner, tip = Point(0.0, 0.562), Point(-1.0, 3.0)  # the line from tip to corner ends 3e-16 above it
    outline = Curve((Cubic(corner, corner, tip, tip),)).then(line(tip, corner))
    assert not inside(outline, Point(-1.0, 0.562), tolerance=1e-6)


@pytest.mark.parametrize("height", [0.0, 5.0, 10.0, 10.0 - 1e-9])
def test_places_level_with_corners_are_judged_right(height: float) -> None:
    star = polyline([Point(0, 0), Point(10, 5), Point(20, 0), Point(15, 10), Point(5, 10), Point(0, 0)])
    ring = Polygon([(0, 0), (10, 5), (20, 0), (15, 10), (5, 10)])
    for x in (-1.0, 0.7, 2.4, 5.1, 9.9, 10.0, 14.9, 19.0, 21.0):
        if ring.exterior.distance(Spot(x, height)) > 1e-6:
            assert inside(star, Point(x, height), tolerance=1e-7) == ring.contains(Spot(x, height))


def test_a_place_on_the_line_counts_as_inside() -> None:
    square = polyline([Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10), Point(0, 0)])
    assert inside(square, Point(10.005, 5), tolerance=0.01)
    assert not inside(square, Point(10.02, 5), tolerance=0.01)
    assert nearest(square, Point(3, 4), tolerance=1e-3).away == 3
    assert UP.cross(RIGHT) < 0
