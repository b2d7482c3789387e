"""A strip along an edge: what a facing is cut from, and what is taken off to make a piece shorter.

Its inner line runs beside the edge at an even distance and ends on the two neighbours, as far along each as the
strip is wide. Lengths in cm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.alter.warp import warped_curve
from clothwise.curve import Cubic, Curve, NoParallel, Point, Vector, joined, nearest, parallel
from clothwise.errors import GarmentError
from clothwise.garment import Edge, FreeEdge, Garment, Notch, Piece
from clothwise.tolerance import ARC_LENGTH, NOTCH_CORNER, SHORTEST_EDGE

BENT_DEG = 1.0  # degrees a neighbour may bend beside the strip without being followed
EVEN = 0.2  # of its width by which a strip may be wider or narrower in between: nobody sees its inner edge
SQUARE_DEG = 25.0  # degrees: a neighbour that leaves the edge more slanting gives no even strip


@dataclass(frozen=True, slots=True)
class Strip:
    """edge; before and after: its neighbours in the outline; inner: beside the edge, travelled as it is."""

    piece: Piece
    edge: Edge
    before: Edge
    after: Edge
    inner: Curve
    wide: float


def strip(piece: Piece, edge_name: str, wide: float) -> Strip:
    """The strip of that width along an edge. GarmentError where the piece has no room for it."""
    edges = list(piece.edges)
    here = next(i for i, edge in enumerate(edges) if edge.name == edge_name)
    before, edge, after = edges[here - 1], edges[here], edges[(here + 1) % len(edges)]
    least = min(before.curve.length(), after.curve.length())
    where = f"piece '{piece.name}', edge '{edge_name}'"
    if wide > least - SHORTEST_EDGE:
        raise GarmentError(
            f"A strip {wide:g} cm wide is wider than the piece is long beside it ({least:.1f} cm).",
            where=where,
            mend="Ask for less.",
        )
    start = before.curve.at_length(before.curve.length() - wide)
    end = after.curve.at_length(wide)
    try:
        beside = parallel(edge.curve, -wide, tolerance=ARC_LENGTH)
    except NoParallel as none:
        raise GarmentError(
            f"A strip {wide:g} cm wide closes up in the bends of the edge.", where=where, mend="Ask for less."
        ) from none
    first, last = beside.start.to(start), beside.end.to(end)
    if max(first.length, last.length) > wide * abs(_sine(SQUARE_DEG)):
        raise GarmentError(
            "The edges beside it run too slanting for an even strip.", where=where, mend="Ask for less."
        )
    whole = beside.length()

    def onto_the_neighbours(p: Point) -> Vector:
        share = nearest(beside, p).along / whole
        return first.times(1 - share).plus(last.times(share))

    inner = warped_curve(beside, onto_the_neighbours)
    return Strip(piece, edge, before, after, _with_its_neighbours(inner, edge, before, after, wide), wide)


def _with_its_neighbours(inner: Curve, edge: Edge, before: Edge, after: Edge, wide: float) -> Curve:
    """Where a neighbour bends beside the strip, the inner line meets it at the same corner as the edge does, so
    that it too runs on across the seam: one even curve, where that stays as wide."""
    there = before.curve.tangent_at_length(before.curve.length() - wide), after.curve.tangent_at_length(wide)
    bent = (_turned(before.curve.end_tangent, there[0]), _turned(after.curve.start_tangent, there[1]))
    if max(abs(deg) for deg in bent) < BENT_DEG:
        return inner
    handle = inner.length() / 3
    start, end = inner.start, inner.end
    leaving, arriving = edge.curve.start_tangent.turned(bent[0]), edge.curve.end_tangent.turned(bent[1])
    even = joined([Cubic(start, start.go(leaving, handle), end.go(arriving, -handle), end)])
    shares = [n / 8 for n in range(1, 8)]
    off = max(nearest(inner, even.at_length(share * even.length())).away for share in shares)
    return even if off <= EVEN * wide else inner


def _turned(one: Vector, other: Vector) -> float:
    """From the one way to the other, anticlockwise. [degrees]"""
    return math.degrees(math.atan2(one.cross(other), one.dot(other)))


def _sine(deg: float) -> float:
    return Vector(1.0, 0.0).turned(deg).y


def without(cut: Strip) -> Piece:
    """The piece shorter by the strip: its edge now runs along the inner line."""

    def trimmed(edge: Edge) -> Edge:
        if edge.name == cut.edge.name:
            longer = cut.inner.length() / edge.curve.length()
            notches = tuple(replace(notch, at=notch.at * longer) for notch in edge.notches)
            return replace(edge, curve=cut.inner, notches=notches)
        if edge.name == cut.before.name:
            curve = _joined_to(edge.curve.part(0.0, edge.curve.length() - cut.wide), end=cut.inner.start)
            return replace(edge, curve=curve, notches=_kept(edge.notches, curve.length()))
        if edge.name == cut.after.name:
            curve = _joined_to(edge.curve.part(cut.wide, edge.curve.length()), start=cut.inner.end)
            moved = tuple(Notch(n.sign, n.at - cut.wide, n.count) for n in edge.notches)
            return replace(edge, curve=curve, notches=_kept(moved, curve.length()))
        return edge

    return replace(cut.piece, edges=tuple(trimmed(edge) for edge in cut.piece))


def alone(cut: Strip) -> tuple[Edge, Edge, Edge, Edge]:
    """The strip's own outline: the edge, its end on the next, the inner line, its end on the one before."""
    after = _joined_to(cut.after.curve.part(0.0, cut.wide), end=cut.inner.end)
    length = cut.before.curve.length()
    before = _joined_to(cut.before.curve.part(length - cut.wide, length), start=cut.inner.start)
    return (
        replace(cut.edge, notches=()),
        replace(cut.after, curve=after, notches=()),
        Edge("outer", cut.inner.reversed(), "raw", 0.0),
        replace(cut.before, curve=before, notches=()),
    )


def _joined_to(curve: Curve, *, start: Point | None = None, end: Point | None = None) -> Curve:
    """The curve with an end set exactly where its neighbour begins, a hair away."""
    strokes = list(curve.strokes)
    if start is not None:
        strokes[0] = strokes[0].mapped(lambda p: start if p == curve.start else p)
    if end is not None:
        strokes[-1] = strokes[-1].mapped(lambda p: end if p == curve.end else p)
    return Curve(tuple(strokes))


def _kept(notches: tuple[Notch, ...], length: float) -> tuple[Notch, ...]:
    return tuple(n for n in notches if NOTCH_CORNER <= n.at <= length - NOTCH_CORNER)


def hem_of(garment: Garment, name: str, *, closed: bool = False) -> FreeEdge:
    """A hem without elastic by its name; `closed`: one that goes all round. GarmentError when there is none."""
    hems = [
        free
        for free in garment.free_edges
        if free.kind == "hem" and not free.elastic and (free.closed or not closed)
    ]
    for free in hems:
        if free.name == name:
            return free
    raise GarmentError(
        f"It has no hem '{name}' {'that goes round ' if closed else ''}without elastic.",
        where=f"garment '{garment.name}'",
        mend=f"Such hems are {', '.join(free.name for free in hems) or 'none'}.",
    )
