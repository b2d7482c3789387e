"""The two strokes that all lines of a pattern are made of: the straight line and the cubic Bézier.

Both answer at(t), slope(t), length, split, reversed, mapped, bounds, area_share; t runs from 0 to 1.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from clothwise.curve.arc import Speed, arc_length, parameter_at
from clothwise.curve.point import Point, Vector
from clothwise.tolerance import PARAMETER, SAME_POINT


@dataclass(frozen=True, slots=True)
class Line:
    """A straight stroke."""

    start: Point
    end: Point

    def at(self, t: float) -> Point:
        return self.start.between(self.end, t)

    def slope(self, t: float) -> Vector:
        """Derivative by t."""
        return self.start.to(self.end)

    def tangent(self, t: float) -> Vector:
        """Unit direction of travel."""
        return self.start.to(self.end).unit()

    def curvature(self, t: float) -> float:
        """1/cm, positive when turning left."""
        return 0.0

    def length(self, *, tolerance: float) -> float:
        return self.start.distance(self.end)

    def length_between(self, low: float, high: float, *, tolerance: float) -> float:
        """Length from t = low to t = high."""
        return (high - low) * self.start.distance(self.end)

    def at_length(self, distance: float, *, tolerance: float, whole: float | None = None) -> float:
        """The t at that distance from the start, 0 or 1 beyond the ends."""
        size = self.start.distance(self.end) if whole is None else whole
        return min(max(distance / size, 0.0), 1.0) if size > 0 else 0.0

    def split(self, t: float) -> tuple[Line, Line]:
        middle = self.at(t)
        return Line(self.start, middle), Line(middle, self.end)

    def reversed(self) -> Line:
        return Line(self.end, self.start)

    def mapped(self, move: Callable[[Point], Point]) -> Line:
        """Each control point moved; exact for rigid and affine moves."""
        return Line(move(self.start), move(self.end))

    def bounds(self) -> tuple[float, float, float, float]:
        """left, bottom, right, top"""
        (ax, ay), (bx, by) = self.start, self.end
        return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)

    def area_share(self) -> float:
        """Integral of (x dy - y dx) / 2 along the stroke; summed round a closed outline it is the area."""
        return (self.start.x * self.end.y - self.start.y * self.end.x) / 2

    def flattened(self, *, tolerance: float) -> list[Point]:
        """Points after the start, the end included, whose chords leave the stroke by no more."""
        return [self.end]

    def cubic(self) -> Cubic:
        return Cubic(
            self.start, self.start.between(self.end, 1 / 3), self.start.between(self.end, 2 / 3), self.end
        )


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bézier: leaves `start` towards `first`, arrives at `end` from `second`."""

    start: Point
    first: Point
    second: Point
    end: Point

    def at(self, t: float) -> Point:
        u = 1 - t
        a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
        return Point(
            a * self.start.x + b * self.first.x + c * self.second.x + d * self.end.x,
            a * self.start.y + b * self.first.y + c * self.second.y + d * self.end.y,
        )

    def slope(self, t: float) -> Vector:
        """Derivative by t."""
        u = 1 - t
        a, b, c = 3 * u * u, 6 * u * t, 3 * t * t
        return Vector(
            a * (self.first.x - self.start.x)
            + b * (self.second.x - self.first.x)
            + c * (self.end.x - self.second.x),
            a * (self.first.y - self.start.y)
            + b * (self.second.y - self.first.y)
            + c * (self.end.y - self.second.y),
        )

    def bend(self, t: float) -> Vector:
        """Second derivative by t."""
        a = self.start.to(self.first)
        b = self.first.to(self.second)
        c = self.second.to(self.end)
        return b.minus(a).times(6 * (1 - t)).plus(c.minus(b).times(6 * t))

    def tangent(self, t: float) -> Vector:
        """Unit direction of travel. Where the stroke stops (empty handle, cusp): the way it goes on,
        or at the very end the way it arrived. ValueError if all four points are one."""
        slope = self.slope(t)
        if slope.length > SAME_POINT:
            return slope.unit()
        bend = self.bend(t)
        if bend.length > SAME_POINT:
            return bend.unit().back() if t >= 1 else bend.unit()
        third = self.start.to(self.end).minus(self.first.to(self.second).times(3))
        return third.unit()

    def curvature(self, t: float) -> float:
        """1/cm, positive when turning left."""
        slope = self.slope(t)
        size = slope.length
        return slope.cross(self.bend(t)) / size**3 if size > PARAMETER else math.inf

    def _speed(self) -> Speed:
        """Coefficients of the derivative, x + iy, highest first."""
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self.start, self.first, self.second, self.end
        return (
            complex(3 * (x3 - x0 + 3 * (x1 - x2)), 3 * (y3 - y0 + 3 * (y1 - y2))),
            complex(6 * (x2 - 2 * x1 + x0), 6 * (y2 - 2 * y1 + y0)),
            complex(3 * (x1 - x0), 3 * (y1 - y0)),
        )

    def length(self, *, tolerance: float) -> float:
        return arc_length(self._speed(), 0.0, 1.0, tolerance)

    def length_between(self, low: float, high: float, *, tolerance: float) -> float:
        """Length from t = low to t = high."""
        return arc_length(self._speed(), low, high, tolerance)

    def at_length(self, distance: float, *, tolerance: float, whole: float | None = None) -> float:
        """The t at that distance from the start, 0 or 1 beyond the ends.

        `whole`, if the caller has it, is this stroke's length to the same tolerance.
        """
        speed = self._speed()
        if whole is None:
            whole = arc_length(speed, 0.0, 1.0, tolerance)
        return parameter_at(speed, distance, whole, tolerance)

    def split(self, t: float) -> tuple[Cubic, Cubic]:
        a = self.start.between(self.first, t)
        b = self.first.between(self.second, t)
        c = self.second.between(self.end, t)
        d, e = a.between(b, t), b.between(c, t)
        f = d.between(e, t)
        return Cubic(self.start, a, d, f), Cubic(f, e, c, self.end)

    def reversed(self) -> Cubic:
        return Cubic(self.end, self.second, self.first, self.start)

    def mapped(self, move: Callable[[Point], Point]) -> Cubic:
        """Each control point moved; exact for rigid and affine moves."""
        return Cubic(move(self.start), move(self.first), move(self.second), move(self.end))

    def bounds(self) -> tuple[float, float, float, float]:
        """left, bottom, right, top; exact, by the roots of the derivative"""
        xs, ys = [self.start.x, self.end.x], [self.start.y, self.end.y]
        for axis, values in ((0, xs), (1, ys)):
            p0, p1, p2, p3 = self.start[axis], self.first[axis], self.second[axis], self.end[axis]
            for t in quadratic_roots(p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0):
                if 0 < t < 1:
                    values.append(self.at(t)[axis])
        return min(xs), min(ys), max(xs), max(ys)

    def area_share(self) -> float:
        """Integral of (x dy - y dx) / 2 along the stroke, exact; round a closed outline it is the area."""
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self.start, self.first, self.second, self.end
        return (
            x0 * (6 * y1 + 3 * y2 + y3)
            + x1 * (-6 * y0 + 3 * y2 + 3 * y3)
            + x2 * (-3 * y0 - 3 * y1 + 6 * y3)
            + x3 * (-y0 - 3 * y1 - 6 * y2)
        ) / 20

    def steps(self, *, tolerance: float) -> int:
        """How many even steps in t keep the chords within the tolerance, by the greatest second difference
        (the classical chord bound: 6/8 of it over the steps squared)."""
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self.start, self.first, self.second, self.end
        way = max(
            math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3)
        )
        return max(1, math.ceil(math.sqrt(0.75 * way / tolerance)))

    def flattened(self, *, tolerance: float) -> list[Point]:
        """Points after the start, the end included, whose chords leave the stroke by no more.

        Even steps in t.
        """
        steps = self.steps(tolerance=tolerance)
        return [*(self.at(i / steps) for i in range(1, steps)), self.end]

    def cubic(self) -> Cubic:
        return self


Segment = Line | Cubic


def quadratic_roots(a: float, b: float, c: float) -> tuple[float, ...]:
    """Real roots of a t^2 + b t + c, stable when a is small; none when it is constant."""
    if abs(a) <= PARAMETER * (abs(b) + abs(c)):
        return (-c / b,) if b != 0 else ()
    inside = b * b - 4 * a * c
    if inside < 0:
        return ()
    q = -(b + math.copysign(math.sqrt(inside), b)) / 2
    return (q / a, c / q) if q != 0 else (0.0,)
