"""Truing: a changed edge drawn again without waves, and what is drawn on the piece brought up to it.

Lengths in cm.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from clothwise.alter.warp import NUDGE, Shift, warped_curve
from clothwise.curve import (
    Cubic,
    Curve,
    Line,
    Point,
    Segment,
    Vector,
    crossings_with_line,
    joined,
    line,
    nearest,
)
from clothwise.garment import Edge, Mark, Piece
from clothwise.tolerance import ARC_LENGTH, ON_OUTLINE, WAVE_DEG

FINE = 0.002  # cm: fineness at which the turning of a line is read
CORNER_KEPT_DEG = 0.05  # degrees: less is not seen, nor felt by the check
REACH = 8.0  # cm of a straight neighbour that is bent to keep a corner's width
AS_BEFORE = 1  # a straight line may bend once where it was drawn out


def trued(curve: Curve, shift: Shift) -> Curve:
    """The curve moved by the shift; where that makes waves, drawn again with as many strokes as it had."""
    moved = warped_curve(curve, shift)
    allowed = max(waves(curve), AS_BEFORE)
    if waves(moved) <= allowed:
        return moved
    tries = [moved, joined(_redrawn(stroke, shift) for stroke in curve.strokes), *_leant(curve, shift)]
    return min(tries, key=waves)


def _leant(curve: Curve, shift: Shift) -> list[Curve]:
    """The line swung from its moved end to the first joint that stays: each stroke on the way leans by the same
    little, so it bends where it bent before and nowhere else; the stroke after the joint takes up the new lean.
    None when both ends move."""
    nothing = Vector(0.0, 0.0)
    if (shift(curve.start) == nothing) == (shift(curve.end) == nothing):
        return []
    if shift(curve.start) == nothing:
        return [turned.reversed() for turned in _leant(curve.reversed(), shift)]
    strokes = curve.strokes
    swung = next(i for i, stroke in enumerate(strokes) if shift(stroke.end) == nothing) + 1
    whole = sum(stroke.length(tolerance=ARC_LENGTH) for stroke in strokes[:swung])
    move, done = shift(curve.start), 0.0
    drawn: list[Segment] = []
    for stroke in strokes[:swung]:
        size = stroke.length(tolerance=ARC_LENGTH)
        left, after = 1 - done / whole, 1 - (done + size) / whole
        drawn.append(_leaning(stroke, move.times(left), move.times(after), size))
        done += size
    return [joined((*drawn, *_taken_up(strokes[swung:], drawn[-1].tangent(1.0))))]


def _leaning(stroke: Segment, at_start: Vector, at_end: Vector, size: float) -> Segment:
    start, end = stroke.start.go(at_start), stroke.end.go(at_end)
    if isinstance(stroke, Line):
        return Line(start, end)
    lean = at_end.minus(at_start).times(1 / size)
    leaving, arriving = (stroke.slope(t).plus(lean.times(stroke.slope(t).length)) for t in (0.0, 1.0))
    return Cubic(start, start.go(leaving, 1 / 3), end.go(arriving, -1 / 3), end)


def _taken_up(strokes: tuple[Segment, ...], direction: Vector) -> tuple[Segment, ...]:
    """Strokes that begin in the direction in which the line arrives."""
    if not strokes:
        return ()
    first = strokes[0].cubic() if isinstance(strokes[0], Line) else strokes[0]
    handle = first.start.distance(first.first)
    return (Cubic(first.start, first.start.go(direction, handle), first.second, first.end), *strokes[1:])


def _redrawn(stroke: Segment, shift: Shift) -> Segment:
    """One stroke between the moved ends, leaving and arriving as they now do, handles as long for their
    chord.
    """
    start, end = stroke.start.go(shift(stroke.start)), stroke.end.go(shift(stroke.end))
    if isinstance(stroke, Line):
        stroke = stroke.cubic()
    longer = start.distance(end) / stroke.start.distance(stroke.end)
    leaving = _direction(stroke.start, stroke.tangent(0.0), shift)
    arriving = _direction(stroke.end, stroke.tangent(1.0), shift)
    first = stroke.start.distance(stroke.first) * longer
    second = stroke.second.distance(stroke.end) * longer
    return Cubic(start, start.go(leaving, first), end.go(arriving, -second), end)


def _direction(at: Point, unit: Vector, shift: Shift) -> Vector:
    change = shift(at.go(unit, NUDGE)).minus(shift(at.go(unit, -NUDGE))).times(0.5 / NUDGE)
    return unit.plus(change).unit()


def waves(curve: Curve) -> int:
    """How often the curve changes the way it bends; a bend of less than WAVE_DEG is none."""
    points = curve.flattened(tolerance=FINE)
    ways = [a.to(b).angle_deg for a, b in pairwise(points)]
    turns = [(b - a + 180.0) % 360.0 - 180.0 for a, b in pairwise(ways)]
    count, bend, turned = 0, 0.0, 0.0
    for turn in turns:
        turned = turned + turn if turned * turn >= 0 else turn
        if abs(turned) > WAVE_DEG and turned * bend <= 0:
            count += bend != 0
            bend = turned
    return count


def squared(piece: Piece, before: Piece, name: str) -> Piece:
    """The piece with the corners at both ends of an edge as wide as they were: where the edge came to lean, the
    neighbour's end is turned with it."""
    edges = list(piece.edges)
    here = next(i for i, edge in enumerate(edges) if edge.name == name)
    last, following = here - 1, (here + 1) % len(edges)
    old = before.edges
    turn = _angle_deg(old[here].curve.start_tangent, edges[here].curve.start_tangent) - _angle_deg(
        old[last].curve.end_tangent, edges[last].curve.end_tangent
    )
    edges[last] = replace(edges[last], curve=_end_turned(edges[last].curve.reversed(), turn).reversed())
    turn = _angle_deg(old[here].curve.end_tangent, edges[here].curve.end_tangent) - _angle_deg(
        old[following].curve.start_tangent, edges[following].curve.start_tangent
    )
    edges[following] = replace(edges[following], curve=_end_turned(edges[following].curve, turn))
    return replace(piece, edges=tuple(edges))


def _angle_deg(one: Vector, other: Vector) -> float:
    """Turn from one direction to another. [degrees]"""
    return math.degrees(math.atan2(one.cross(other), one.dot(other)))


def _end_turned(curve: Curve, turn_deg: float) -> Curve:
    """The curve leaving its start so much farther round to the left; a hair of a turn is left alone."""
    if abs(turn_deg) < CORNER_KEPT_DEG:
        return curve
    if isinstance(curve.strokes[0], Line) and curve.strokes[0].start.distance(curve.strokes[0].end) > 2 * REACH:
        one, other = curve.split(REACH)
        curve = one.then(other)
    first = curve.strokes[0]
    first = first.cubic() if isinstance(first, Line) else first
    handle = first.start.to(first.first).turned(turn_deg)
    return joined((Cubic(first.start, first.start.go(handle), first.second, first.end), *curve.strokes[1:]))


def with_line(piece: Piece, name: str, curve: Curve) -> Piece:
    """The piece with an edge drawn anew between the same ends; notches keep their share of it."""

    def drawn(edge: Edge) -> Edge:
        if edge.name != name:
            return edge
        longer = curve.length() / edge.curve.length()
        notches = tuple(replace(notch, at=notch.at * longer) for notch in edge.notches)
        return replace(edge, curve=curve, notches=notches)

    return replace(piece, edges=tuple(drawn(edge) for edge in piece))


def run_up(piece: Piece, before: Piece) -> Piece:
    """Levels that ran from edge to edge run from edge to edge again."""
    return replace(piece, marks=tuple(_run_up(mark, piece, before) for mark in piece.marks))


def _run_up(mark: Mark, piece: Piece, before: Piece) -> Mark:
    if mark.kind not in ("level", "adjust"):
        return mark
    was = before.mark(mark.name).curve
    start = _met(mark.curve.start, mark.curve.start_tangent, was.start, piece, before)
    end = _met(mark.curve.end, mark.curve.end_tangent, was.end, piece, before)
    if start == mark.curve.start and end == mark.curve.end:
        return mark
    if len(mark.curve.strokes) == 1 and isinstance(mark.curve.strokes[0], Line):
        return replace(mark, curve=line(start, end))
    first, last = mark.curve.start.to(start), mark.curve.end.to(end)
    whole = mark.curve.start.to(mark.curve.end)

    def carried(p: Point) -> Vector:
        share = min(max(mark.curve.start.to(p).dot(whole) / whole.dot(whole), 0.0), 1.0)
        return first.times(1 - share).plus(last.times(share))

    return replace(mark, curve=warped_curve(mark.curve, carried))


def _met(place: Point, along: Vector, was: Point, piece: Piece, before: Piece) -> Point:
    """Where the line meets the edge its end lay on."""
    edge = min(before.edges, key=lambda e: nearest(e.curve, was).away)
    if nearest(edge.curve, was).away > ON_OUTLINE:
        return place
    met = crossings_with_line(piece.edge(edge.name).curve, place, along, tolerance=ARC_LENGTH)
    return min((found.point for found in met), key=place.distance, default=place)
