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
    def length(self, *, tolerance: float = ARC_LENGTH) -> float:
        share = tolerance / len(self.strokes)
        return sum(stroke.length(tolerance=share) for stroke in self.strokes)

    def _find(self, distance: float, tolerance: float) -> tuple[int, float]:
        """Stroke and t at that distance from the start, kept within the curve."""
        rest = distance
        share = tolerance / len(self.strokes)
        for i, stroke in enumerate(self.strokes):
            size = stroke.length(tolerance=share)
            if rest <= size or i == len(self.strokes) - 1:
                if rest <= 0:
                    return i, 0.0
                if rest >= size:
                    return i, 1.0
                return i, stroke.at_length(rest, tolerance=share)
            rest -= size
        raise AssertionError("unreachable")

    def at_length(self, distance: float, *, tolerance: float = ARC_LENGTH) -> Point:
        """The point that far along; ends are held."""
        i, t = self._find(distance, tolerance)
        return self.strokes[i].at(t)

    def tangent_at_length(self, distance: float, *, tolerance: float = ARC_LENGTH) -> Vector:
        i, t = self._find(distance, tolerance)
        return self.strokes[i].tangent(t)

    def split(self, distance: float, *, tolerance: float = ARC_LENGTH) -> tuple[Curve, Curve]:
        """Cut in two at that distance. ValueError when it is not inside."""
        whole = self.length(tolerance=tolerance)
        if not 0 < distance < whole:
            raise ValueError(f"cannot split a curve of {whole:.3f} cm at {distance:.3f} cm")
        i, t = self._find(distance, tolerance)
        one, other = self.strokes[i].split(t)
        return joined((*self.strokes[:i], one)), joined((other, *self.strokes[i + 1 :]))

    def part(self, low: float, high: float, *, tolerance: float = ARC_LENGTH) -> Curve:
        """The run between two distances from the start."""
        whole = self.length(tolerance=tolerance)
        run = self if high >= whole else self.split(high, tolerance=tolerance)[0]
        return run if low <= 0 else run.split(low, tolerance=tolerance)[1]

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


def _tiny(stroke: Segment) -> bool:
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
