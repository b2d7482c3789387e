"""Closed outlines: area, direction, what lies inside, and whether the line stays clear of itself.

An outline is a curve whose end is its start.
"""

from __future__ import annotations

from itertools import pairwise

from clothwise.curve.crossing import self_crossings
from clothwise.curve.curve import Curve
from clothwise.curve.nearest import nearest
from clothwise.curve.point import Point
from clothwise.curve.roots import bernstein_roots
from clothwise.curve.segment import Line, Segment
from clothwise.tolerance import PARAMETER, SAME_POINT


def closed(curve: Curve) -> bool:
    """Whether the end is the start."""
    return curve.start.distance(curve.end) <= SAME_POINT


def area_cm2(outline: Curve) -> float:
    """Area inside, exact; negative when it is travelled clockwise. [cm2] ValueError when it is open."""
    _ask_closed(outline)
    return outline.area_share()


def anticlockwise(outline: Curve) -> bool:
    """Whether the inside lies to the left of travel."""
    return area_cm2(outline) > 0


def inside(outline: Curve, place: Point, *, tolerance: float) -> bool:
    """Whether a place lies inside; on the line, within the tolerance, counts as inside.

    Counted by how often the outline goes round the place, so it holds for any direction of travel.
    """
    _ask_closed(outline)
    left, bottom, right, top = outline.bounds()
    if not (
        left - tolerance <= place.x <= right + tolerance and bottom - tolerance <= place.y <= top + tolerance
    ):
        return False
    if nearest(outline, place).away <= tolerance:
        return True
    return _rounds(outline, place) != 0


def simple(outline: Curve, *, tolerance: float) -> bool:
    """Whether the outline is closed and neither crosses nor touches itself within the tolerance."""
    return closed(outline) and not self_crossings(outline, tolerance=tolerance)


def _rounds(outline: Curve, place: Point) -> int:
    """Times the outline goes round the place, anticlockwise positive: how often it passes upwards over the
    ray to the right, less how often downwards. A piece owns its lower end, so joints count once."""
    rounds = 0
    for stroke in (*outline.strokes, Line(outline.end, outline.start)):
        marks = _turning_heights(stroke)
        for low, high in pairwise(marks):
            before, after = _at(stroke, low).y, _at(stroke, high).y
            if (before <= place.y) != (after <= place.y) and _right_of(stroke, low, high, place):
                rounds += 1 if before < after else -1
    return rounds


def _turning_heights(stroke: Segment) -> list[float]:
    """Parameters between which the stroke only rises or only falls."""
    if isinstance(stroke, Line):
        return [0.0, 1.0]
    ys = [stroke.start.y, stroke.first.y, stroke.second.y, stroke.end.y]
    return [0.0, *(t for t in bernstein_roots([b - a for a, b in pairwise(ys)]) if 0 < t < 1), 1.0]


def _right_of(stroke: Segment, low: float, high: float, place: Point) -> bool:
    """Whether a rising or falling piece passes the place's height to the right of it; found by halving."""
    rises = _at(stroke, low).y <= place.y
    while high - low > PARAMETER:
        middle = (low + high) / 2
        if (stroke.at(middle).y <= place.y) == rises:
            low = middle
        else:
            high = middle
    return stroke.at(low).x > place.x


def _at(stroke: Segment, parameter: float) -> Point:
    """A stroke's point; at its ends the very point it shares with its neighbour, not that less a rounding."""
    if parameter == 0.0:
        return stroke.start
    return stroke.end if parameter == 1.0 else stroke.at(parameter)


def _ask_closed(outline: Curve) -> None:
    if not closed(outline):
        raise ValueError("an outline ends where it starts")
