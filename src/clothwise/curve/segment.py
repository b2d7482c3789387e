"""The two strokes that all lines of a pattern are made of: the straight line and the cubic Bézier.

Both answer at(t), slope(t), length, split, reversed, mapped, bounds, area_share; t runs from 0 to 1.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from clothwise.curve.point import Point, Vector
from clothwise.tolerance import PARAMETER, SAME_POINT

# Gauss-Legendre on [0, 1], 8 and 12 points: the difference of the two bounds the error of the finer.
_GAUSS_8 = (
    (0.019855071751231856, 0.05061426814518813),
    (0.10166676129318664, 0.11119051722668724),
    (0.2372337950418355, 0.15685332293894363),
    (0.4082826787521751, 0.18134189168918097),
    (0.5917173212478249, 0.18134189168918097),
    (0.7627662049581645, 0.15685332293894363),
    (0.8983332387068134, 0.11119051722668724),
    (0.9801449282487681, 0.05061426814518813),
)
_GAUSS_12 = (
    (0.009219682876640375, 0.023587668193255914),
    (0.0479413718147626, 0.05346966299765921),
    (0.1150486629028477, 0.08003916427167311),
    (0.20634102285669127, 0.10158371336153296),
    (0.31608425050090994, 0.11674626826917740),
    (0.43738329574426554, 0.12457352290670139),
    (0.5626167042557345, 0.12457352290670139),
    (0.6839157494990901, 0.11674626826917740),
    (0.7936589771433087, 0.10158371336153296),
    (0.8849513370971523, 0.08003916427167311),
    (0.9520586281852375, 0.05346966299765921),
    (0.9907803171233596, 0.023587668193255914),
)
_DEEPEST = 40  # halvings of an arc before the sum is taken as it is: 1e-12 of the curve


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

    def at_length(self, distance: float, *, tolerance: float) -> float:
        """The t at that distance from the start."""
        return distance / self.start.distance(self.end)

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
        """Unit direction of travel; at an end whose handle is empty, the limit towards it."""
        slope = self.slope(t)
        if slope.length > SAME_POINT:
            return slope.unit()
        nearer = (self.first, self.second, self.end) if t < 0.5 else (self.second, self.first, self.start)
        anchor = self.at(t)
        for other in nearer:
            way = anchor.to(other)
            if way.length > SAME_POINT:
                return way.unit() if t < 0.5 else way.unit().back()
        return slope.unit()

    def curvature(self, t: float) -> float:
        """1/cm, positive when turning left."""
        slope = self.slope(t)
        size = slope.length
        return slope.cross(self.bend(t)) / size**3 if size > PARAMETER else math.inf

    def _sum(self, rule: tuple[tuple[float, float], ...], low: float, high: float) -> float:
        ax, ay = 3 * (self.first.x - self.start.x), 3 * (self.first.y - self.start.y)
        bx, by = 3 * (self.second.x - self.first.x), 3 * (self.second.y - self.first.y)
        cx, cy = 3 * (self.end.x - self.second.x), 3 * (self.end.y - self.second.y)
        span = high - low
        total = 0.0
        for node, weight in rule:
            t = low + span * node
            u = 1 - t
            a, b, c = u * u, 2 * u * t, t * t
            total += weight * math.hypot(a * ax + b * bx + c * cx, a * ay + b * by + c * cy)
        return total * span

    def _length(self, low: float, high: float, tolerance: float, depth: int = 0) -> float:
        coarse, fine = self._sum(_GAUSS_8, low, high), self._sum(_GAUSS_12, low, high)
        if abs(fine - coarse) <= tolerance or depth >= _DEEPEST:
            return fine
        middle = (low + high) / 2
        return self._length(low, middle, tolerance / 2, depth + 1) + self._length(
            middle, high, tolerance / 2, depth + 1
        )

    def length(self, *, tolerance: float) -> float:
        return self._length(0.0, 1.0, tolerance)

    def at_length(self, distance: float, *, tolerance: float) -> float:
        """The t at that distance from the start, by Newton kept inside a bracket."""
        low, high = 0.0, 1.0
        whole = self.length(tolerance=tolerance)
        t = min(max(distance / whole, 0.0), 1.0) if whole > 0 else 0.0
        for _ in range(60):
            gap = self._length(0.0, t, tolerance / 4) - distance
            if abs(gap) <= tolerance / 2:
                break
            if gap > 0:
                high = t
            else:
                low = t
            speed = self.slope(t).length
            step = t - gap / speed if speed > PARAMETER else -1.0
            t = step if low < step < high else (low + high) / 2
        return t

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

    def flattened(self, *, tolerance: float) -> list[Point]:
        """Points after the start, the end included, whose chords leave the stroke by no more.

        Even steps in t; their number from the greatest second difference (the classical chord bound).
        """
        way = max(
            self.start.to(self.first).minus(self.first.to(self.second)).length,
            self.first.to(self.second).minus(self.second.to(self.end)).length,
        )
        steps = max(1, math.ceil(math.sqrt(0.75 * way / tolerance)))
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
