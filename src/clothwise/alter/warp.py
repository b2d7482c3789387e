"""Moving the points of a piece by a smooth rule, so that its lines stay smooth and its corners stay corners.

A cutter slashes, spreads and then trues the line with a curve. Here the spread is drawn out over a stretch of
the piece instead, so there is no step to be trued: every edge is cut into short strokes, both ends and the
directions there are moved by the rule, and joined again. Grain, darts and the places of other pieces are moved
without being bent. Lengths in cm.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from clothwise.curve import Cubic, Curve, Line, Point, Segment, Vector, joined
from clothwise.garment import Dart, Edge, Mark, Piece

Shift = Callable[[Point], Vector]

STROKE = (
    3.0  # cm: longer strokes are cut before they are moved; a cubic follows a smooth shift over this exactly
)
NUDGE = 0.01  # cm: the shift's change over it gives how directions turn
RIGID = ("placement", "button", "buttonhole")  # marks that keep their shape and size


def warped(piece: Piece, shift: Shift) -> Piece:
    """The piece with every point moved by the shift. Notches keep their place on the cloth."""
    return replace(
        piece,
        edges=tuple(_edge(edge, shift) for edge in piece.edges),
        grain=_rigid_grain(piece.grain, shift),
        darts=tuple(_dart(dart, shift) for dart in piece.darts),
        marks=tuple(_mark(mark, shift) for mark in piece.marks),
    )


def warped_curve(curve: Curve, shift: Shift) -> Curve:
    """The curve moved; strokes on which the shift is even are moved as they are."""
    return joined(moved for stroke in curve.strokes for moved in _stroke(stroke, shift))


def _edge(edge: Edge, shift: Shift) -> Edge:
    if not edge.notches:
        return replace(edge, curve=warped_curve(edge.curve, shift))
    parts, at = [], []
    rest, done = edge.curve, 0.0
    for before, notch in pairwise((None, *edge.notches)):
        assert notch is not None
        first, rest = rest.split(notch.at - (before.at if before else 0.0))
        parts.append(warped_curve(first, shift))
        done += parts[-1].length()
        at.append(done)
    parts.append(warped_curve(rest, shift))
    notches = tuple(replace(notch, at=there) for notch, there in zip(edge.notches, at, strict=True))
    return replace(edge, curve=parts[0].then(*parts[1:]), notches=notches)


def _stroke(stroke: Segment, shift: Shift) -> list[Segment]:
    at_start, middle, at_end = shift(stroke.start), shift(stroke.at(0.5)), shift(stroke.end)
    if at_start == middle == at_end == Vector(0.0, 0.0):
        return [stroke]
    if at_start == middle == at_end:
        return [stroke.mapped(lambda p: p.go(at_start))]
    if stroke.start.distance(stroke.end) > STROKE:
        one, other = stroke.split(0.5)
        return [*_stroke(one, shift), *_stroke(other, shift)]
    start, end = stroke.start.go(at_start), stroke.end.go(at_end)
    if isinstance(stroke, Line) and _even(at_start, middle, at_end):
        return [Line(start, end)]
    leaving = _turned(stroke.start, stroke.slope(0.0), shift)
    arriving = _turned(stroke.end, stroke.slope(1.0), shift)
    return [Cubic(start, start.go(leaving, 1 / 3), end.go(arriving, -1 / 3), end)]


def _even(at_start: Vector, middle: Vector, at_end: Vector) -> bool:
    """A straight line stays one: its middle moves as its ends do, to a hair."""
    off = at_start.plus(at_end).times(0.5).minus(middle)
    return off.length < NUDGE / 100


def _turned(at: Point, slope: Vector, shift: Shift) -> Vector:
    """The slope as it is after the shift."""
    unit = slope.unit()
    change = shift(at.go(unit, NUDGE)).minus(shift(at.go(unit, -NUDGE))).times(0.5 / NUDGE)
    return slope.plus(change.times(slope.length))


# ---- what is not bent --------------------------------------------------------------------------------


def _rigid_grain(grain: tuple[Point, Point], shift: Shift) -> tuple[Point, Point]:
    way = shift(grain[0].between(grain[1]))
    return grain[0].go(way), grain[1].go(way)


def _mark(mark: Mark, shift: Shift) -> Mark:
    if mark.kind not in RIGID:
        return replace(mark, curve=warped_curve(mark.curve, shift))
    left, bottom, right, top = mark.curve.bounds()
    return replace(mark, curve=mark.curve.moved(shift(Point((left + right) / 2, (bottom + top) / 2))))


def _dart(dart: Dart, shift: Shift) -> Dart:
    """Its mouth goes with the outline; the tip keeps its height over the mouth, but for what lengthens the
    dart.
    """
    if dart.other_tip is not None:  # inside the piece: it keeps its shape, only its place moves
        way = shift(dart.first_leg.between(dart.second_leg))
        return replace(
            dart,
            tip=dart.tip.go(way),
            first_leg=dart.first_leg.go(way),
            second_leg=dart.second_leg.go(way),
            other_tip=dart.other_tip.go(way),
        )
    first, second = dart.first_leg.go(shift(dart.first_leg)), dart.second_leg.go(shift(dart.second_leg))
    mouth, moved = dart.first_leg.between(dart.second_leg), first.between(second)
    along = dart.first_leg.to(dart.second_leg).unit().left()
    height = mouth.to(dart.tip).dot(along)
    longer = shift(dart.tip).minus(mouth.to(moved)).dot(along)
    return replace(
        dart,
        first_leg=first,
        second_leg=second,
        tip=moved.go(first.to(second).unit().left(), height + longer),
    )
