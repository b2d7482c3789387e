"""The point of a curve nearest to a place, and how far along it lies."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from clothwise.curve.curve import Curve
from clothwise.curve.point import Point
from clothwise.curve.roots import bernstein_roots
from clothwise.curve.segment import Cubic, Line, Segment
from clothwise.tolerance import ARC_LENGTH


@dataclass(frozen=True, slots=True)
class Nearest:
    """Where a curve comes nearest to a place.

    along  distance from the curve's start along it [cm]
    away   straight distance from the place [cm]
    stroke, t  the same place of the curve by stroke number and parameter
    """

    point: Point
    along: float
    away: float
    stroke: int
    t: float


def nearest(curve: Curve, place: Point, *, tolerance: float = ARC_LENGTH) -> Nearest:
    """The nearest point, exact to the last digits; `tolerance` is that of its distance along the curve.

    Of points equally near the first along the curve is given.
    """
    best = (math.inf, 0, 0.0)
    for i, stroke in enumerate(curve.strokes):
        if box_distance(stroke, place) <= best[0]:
            for t in _feet(stroke, place):
                away = stroke.at(t).distance(place)
                if away < best[0]:
                    best = (away, i, t)
    away, i, t = best
    along = curve.length_to(i, t, tolerance=tolerance)
    return Nearest(curve.strokes[i].at(t), along, away, i, t)


def box_distance(stroke: Segment, place: Point) -> float:
    """Least distance the stroke can have: that of the box round its control points."""
    points = (
        (stroke.start, stroke.end)
        if isinstance(stroke, Line)
        else (stroke.start, stroke.first, stroke.second, stroke.end)
    )
    x = max(min(p.x for p in points) - place.x, 0.0, place.x - max(p.x for p in points))
    y = max(min(p.y for p in points) - place.y, 0.0, place.y - max(p.y for p in points))
    return math.hypot(x, y)


def _feet(stroke: Segment, place: Point) -> list[float]:
    """Parameters that may be nearest: both ends, and where the way to the place stands square."""
    return [0.0, *square_feet(stroke, place), 1.0]


def square_feet(stroke: Segment, place: Point) -> list[float]:
    """Parameters at which the way to the place stands square on the stroke."""
    if isinstance(stroke, Cubic):
        return bernstein_roots(_square_on(stroke, place))
    way = stroke.start.to(stroke.end)
    share = stroke.start.to(place).dot(way) / way.dot(way)
    return [share] if 0 <= share <= 1 else []


def _square_on(stroke: Cubic, place: Point) -> tuple[float, ...]:
    """Bernstein coefficients, degree 5, of (B(t) - place) . B'(t) / 3."""
    a = [place.to(p) for p in (stroke.start, stroke.first, stroke.second, stroke.end)]
    b = [p.minus(q) for q, p in pairwise(a)]
    d = [[p.dot(q) for q in b] for p in a]
    return (
        d[0][0],
        (2 * d[0][1] + 3 * d[1][0]) / 5,
        (d[0][2] + 6 * d[1][1] + 3 * d[2][0]) / 10,
        (3 * d[1][2] + 6 * d[2][1] + d[3][0]) / 10,
        (3 * d[2][2] + 2 * d[3][1]) / 5,
        d[3][2],
    )
