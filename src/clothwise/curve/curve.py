"""A curve: a chain of strokes from one end to the other. Frozen; every change gives a new one."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwise.curve.point import Point, Vector
from clothwise.curve.segment import Cubic, Line, Segment
from clothwise.tolerance import ARC_LENGTH, SAME_POINT


@dataclass(frozen=True, slots=True)
class Curve:
    """A chain of strokes; each begins where the last ended. Strokes shorter than SAME_POINT are dropped,
    since they have no direction."""

    strokes: tuple[Segment, ...]

    def __post_init__(self) -> None:
        if not self.strokes:
            raise ValueError("a curve needs a stroke")
        for one, other in pairwise(self.strokes):
            if one.end.distance(other.start) > SAME_POINT:
                raise ValueError(f"strokes do not join: {one.end} and {other.start}")

    # -- ends -----------------------------------------------------------------------------------
    @property
    def start(self) -> Point:
        return self.strokes[0].start

    @property
    def end(self) -> Point:
        return self.strokes[-1].end

    @property
    def start_tangent(self) -> Vector:
        """Unit direction of travel at the start."""
        return self.strokes[0].tangent(0.0)

    @property
    def end_tangent(self) -> Vector:
        """Unit direction of travel at the end."""
        return self.strokes[-1].tangent(1.0)

    @property
    def chord(self) -> float:
        return self.start.distance(self.end)

    # -- lengths along it -----------------------------------------------------------------------
    def _sizes(self, tolerance: float) -> list[float]:
        share = tolerance / len(self.strokes)
        return [stroke.length(tolerance=share) for stroke in self.strokes]

    def _find(self, distance: float, sizes: list[float], tolerance: float) -> tuple[int, float]:
        """Stroke and t at that distance from the start, kept within the curve."""
        rest = distance
        last = len(sizes) - 1
        for i, size in enumerate(sizes):
            if rest <= size or i == last:
                share = tolerance / len(sizes)
                return i, self.strokes[i].at_length(rest, tolerance=share, whole=size)
            rest -= size
        raise AssertionError("unreachable")

    def _cut(self, distance: float, sizes: list[float], tolerance: float) -> tuple[Curve, Curve]:
        i, t = self._find(distance, sizes, tolerance)
        one, other = self.strokes[i].split(t)
        return joined((*self.strokes[:i], one)), joined((other, *self.strokes[i + 1 :]))

    def length(self, *, tolerance: float = ARC_LENGTH) -> float:
        return sum(self._sizes(tolerance))

    def at_length(self, distance: float, *, tolerance: float = ARC_LENGTH) -> Point:
        """The point that far along; ends are held."""
        i, t = self._find(distance, self._sizes(tolerance), tolerance)
        return self.strokes[i].at(t)

    def tangent_at_length(self, distance: float, *, tolerance: float = ARC_LENGTH) -> Vector:
        """Unit direction of travel that far along; ends are held."""
        i, t = self._find(distance, self._sizes(tolerance), tolerance)
        return self.strokes[i].tangent(t)

    def length_to(self, stroke: int, t: float, *, tolerance: float = ARC_LENGTH) -> float:
        """Distance from the start to a place given by stroke number and parameter."""
        share = tolerance / len(self.strokes)
        before = sum(s.length(tolerance=share) for s in self.strokes[:stroke])
        return before + self.strokes[stroke].length_between(0.0, t, tolerance=share)

    def split(self, distance: float, *, tolerance: float = ARC_LENGTH) -> tuple[Curve, Curve]:
        """Cut in two at that distance. ValueError when it is not inside, or nearer to an end than two
        points can be told apart."""
        sizes = self._sizes(tolerance)
        whole = sum(sizes)
        if not SAME_POINT < distance < whole - SAME_POINT:
            raise ValueError(f"cannot split a curve of {whole:.3f} cm at {distance:.3f} cm")
        return self._cut(distance, sizes, tolerance)

    def part(self, low: float, high: float, *, tolerance: float = ARC_LENGTH) -> Curve:
        """The run between two distances from the start; beyond the ends the ends are meant.

        ValueError when nothing lies between.
        """
        sizes = self._sizes(tolerance)
        whole = sum(sizes)
        low, high = max(low, 0.0), min(high, whole)
        if high - low <= SAME_POINT:
            raise ValueError(f"nothing lies between {low:.3f} and {high:.3f} cm of a curve of {whole:.3f} cm")
        i, t = (0, 0.0) if low <= SAME_POINT else self._find(low, sizes, tolerance)
        j, u = (len(sizes) - 1, 1.0) if high >= whole - SAME_POINT else self._find(high, sizes, tolerance)
        if i == j:
            return joined((_between(self.strokes[i], t, u),))
        first, last = _between(self.strokes[i], t, 1.0), _between(self.strokes[j], 0.0, u)
        return joined((first, *self.strokes[i + 1 : j], last))

    # -- moves ----------------------------------------------------------------------------------
    def mapped(self, move: Callable[[Point], Point]) -> Curve:
        return Curve(tuple(stroke.mapped(move) for stroke in self.strokes))

    def moved(self, way: Vector) -> Curve:
        return self.mapped(lambda p: p.go(way))

    def rotated(self, about: Point, angle_deg: float) -> Curve:
        c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))

        def turn(p: Point) -> Point:
            x, y = p.x - about.x, p.y - about.y
            return Point(about.x + x * c - y * s, about.y + x * s + y * c)

        return self.mapped(turn)

    def mirrored(self, through: Point, along: Vector) -> Curve:
        """Reflected in a line; the direction of travel is kept, so left becomes right."""
        return self.mapped(lambda p: p.mirrored(through, along))

    def reversed(self) -> Curve:
        return Curve(tuple(stroke.reversed() for stroke in reversed(self.strokes)))

    def scaled(self, k: float) -> Curve:
        return self.mapped(lambda p: Point(p.x * k, p.y * k))

    # -- the whole ------------------------------------------------------------------------------
    def bounds(self) -> tuple[float, float, float, float]:
        """left, bottom, right, top"""
        boxes = [stroke.bounds() for stroke in self.strokes]
        return (
            min(b[0] for b in boxes),
            min(b[1] for b in boxes),
            max(b[2] for b in boxes),
            max(b[3] for b in boxes),
        )

    def flattened(self, *, tolerance: float) -> list[Point]:
        """Points from start to end whose chords leave the curve by no more than the tolerance."""
        points = [self.start]
        for stroke in self.strokes:
            points.extend(stroke.flattened(tolerance=tolerance))
        return points

    def area_share(self) -> float:
        return sum(stroke.area_share() for stroke in self.strokes)

    def then(self, *others: Curve) -> Curve:
        """This curve followed by others that begin where it ends."""
        return joined([s for curve in (self, *others) for s in curve.strokes])


def joined(strokes: Iterable[Segment]) -> Curve:
    """A curve of these strokes; those too short to have a direction are dropped, ends closed up."""
    kept: list[Segment] = []
    for stroke in strokes:
        if _tiny(stroke):
            continue
        if kept and kept[-1].end != stroke.start:
            stroke = _starting_at(stroke, kept[-1].end)
        kept.append(stroke)
    return Curve(tuple(kept))


def _between(stroke: Segment, low: float, high: float) -> Segment:
    """The stroke from t = low to t = high."""
    if high < 1:
        stroke = stroke.split(high)[0]
    return stroke.split(low / high)[1] if low > 0 else stroke


def _tiny(stroke: Segment) -> bool:
    if stroke.start.distance(stroke.end) > SAME_POINT:
        return False
    left, bottom, right, top = stroke.bounds()
    return max(right - left, top - bottom) <= SAME_POINT


def _starting_at(stroke: Segment, start: Point) -> Segment:
    if start.distance(stroke.start) > SAME_POINT:
        raise ValueError(f"strokes do not join: {start} and {stroke.start}")
    if isinstance(stroke, Line):
        return Line(start, stroke.end)
    return Cubic(start, stroke.first, stroke.second, stroke.end)


def polyline(points: Sequence[Point]) -> Curve:
    """Straight strokes through the points."""
    return joined(Line(a, b) for a, b in pairwise(points))
