"""Letting length into a piece, or taking it out, across a line: as much at one edge, as much at the other.

One move carries most of a cutter's alterations for length: lengthen below the hip (the same at both edges), a
full seat or tummy (all at the centre, nothing at the side), a hollow back (taken out at the centre). The
pattern is slashed along a level and spread; here over the whole stretch between the level and the next corner
of the piece, so that edges stay smooth.

Source: house rule, 2026-11; method by the trade (slash, spread, true the line).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from clothwise.alter.true import run_up, squared, trued, with_line
from clothwise.alter.warp import Shift, warped
from clothwise.curve import Curve, Point, Vector, nearest
from clothwise.errors import GarmentError
from clothwise.garment import Edge, Piece
from clothwise.tolerance import ON_OUTLINE, SOLVE

SHORTEST_STRETCH = 4.0  # cm: over less the lines would be seen to bend
MOST_OUT = 0.6  # of the stretch that may be taken out: more would fold the lines back
MOST_LEAN_DEG = 30.0  # degrees off the grain; farther over, drawing out along the grain bends a line
LEAN_STEP = 0.05  # cm: fineness at which an edge's lean is read
LOOKS = 12  # rounds until both edges have what is asked; each is nearly independent of the other, 3-4 do
ROUNDED = 0.2  # of the stretch at either end over which the spread sets in


Side = Literal["above", "below"]
Stretch = tuple[float, float]  # from one height over the line to another, the lower first [cm]


@dataclass(frozen=True, slots=True)
class Slash:
    """Where a piece is slashed: the line from edge `left` to edge `right`, and how far above and below it no
    corner lies. `up` is along the grain. [cm]"""

    piece: Piece
    line: Curve
    left: Edge
    right: Edge
    up: Vector
    above: float
    below: float

    def height(self, p: Point) -> float:
        """How far above the line a place lies, along the grain; beyond the line's ends it runs on level."""
        start, end = self._ends()
        across = self.up.right()
        whole = start.to(end).dot(across)
        share = min(max(start.to(p).dot(across) / whole, 0.0), 1.0)
        return self._foot(share).to(p).dot(self.up)

    def across(self, p: Point) -> float:
        """Share of the way from the left end of the line to the right."""
        start, end = self._ends()
        across = self.up.right()
        return start.to(p).dot(across) / start.to(end).dot(across)

    def _ends(self) -> tuple[Point, Point]:
        return self.line.start, self.line.end

    def _foot(self, share: float) -> Point:
        """The line's point at a share of its length; levels are straight or slightly bowed."""
        if len(self.line.strokes) == 1:
            return self.line.strokes[0].at(share)
        return self.line.at_length(share * self.line.length())


def slash(piece: Piece, line: Curve) -> Slash:
    """The piece made ready to be spread along a line that runs from edge to edge.

    GarmentError when the line does not end on two edges.
    """
    up = piece.grain[0].to(piece.grain[1]).unit()
    up = up if up.y >= 0 else up.back()
    if line.start.to(line.end).dot(up.right()) < 0:
        line = line.reversed()
    left, right = (_edge_at(piece, end) for end in (line.start, line.end))
    found = Slash(piece, line, left, right, up, math.inf, math.inf)
    heights = [found.height(edge.curve.start) for edge in piece.edges]
    heights += [h for edge in (left, right) for h in _leaning(found, edge.curve)]
    above = min((h for h in heights if h > 0), default=0.0)
    below = min((-h for h in heights if h < 0), default=0.0)
    return Slash(piece, line, left, right, up, above, below)


def _leaning(at: Slash, curve: Curve) -> list[float]:
    """Heights where an edge runs too far off the grain to be drawn out: into a fork, round an armhole. [cm]"""
    points = curve.flattened(tolerance=LEAN_STEP)
    leaning = []
    for a, b in pairwise(points):
        if abs(a.to(b).unit().cross(at.up)) > math.sin(math.radians(MOST_LEAN_DEG)):
            leaning += [at.height(a), at.height(b)]
    return leaning


def _edge_at(piece: Piece, place: Point) -> Edge:
    away, edge = min(((nearest(e.curve, place).away, e) for e in piece.edges), key=lambda found: found[0])
    if away > ON_OUTLINE:
        raise GarmentError(
            f"The line to slash along ends {away:.1f} cm inside the piece.",
            where=f"piece '{piece.name}'",
            mend="Choose a level that runs from edge to edge.",
        )
    return edge


def spread(at: Slash, left: float, right: float, *, side: Side, stretch: Stretch) -> Piece:
    """The piece with its left crossing edge longer by `left` and its right one by `right`. [cm]

    Where both are the same it is the way along the grain that grows so much; where they differ, the edges.
    side     'below': what lies under the stretch moves down; 'above': what lies over it moves up
    stretch  where it is drawn out
    """
    low, high = stretch
    if side == "below":
        way, start, sign = at.up.back(), high, -1.0
    else:
        way, start, sign = at.up, low, 1.0

    def shift_by(a: float, b: float) -> Shift:
        def shift(p: Point) -> Vector:
            share = _ramp(sign * (at.height(p) - start) / (high - low))
            if share == 0.0:
                return Vector(0.0, 0.0)
            return way.times((a + (b - a) * _smooth(at.across(p))) * share)

        return shift

    a, b = left, right  # the same at both edges: all beyond the stretch moves as it is, nothing is bent
    before = at.left.curve.length(), at.right.curve.length()
    for _ in range(LOOKS if left != right else 0):
        shift = shift_by(a, b)
        off_left = trued(at.left.curve, shift).length() - before[0] - left
        off_right = trued(at.right.curve, shift).length() - before[1] - right
        if max(abs(off_left), abs(off_right)) <= SOLVE:
            break
        a, b = a - off_left, b - off_right
    shift = shift_by(a, b)
    piece = warped(at.piece, shift)
    for edge in (at.left, at.right):
        piece = with_line(piece, edge.name, trued(edge.curve, shift))
    for edge in (at.left, at.right):
        if edge.kind != "fold":
            piece = squared(piece, at.piece, edge.name)
    return run_up(piece, at.piece)


def _ramp(t: float) -> float:
    """0 up to the line, 1 from the end of the stretch on, even in between, setting in and out gently."""
    if t <= 0.0:
        return 0.0
    if t >= 1.0:
        return 1.0
    r = ROUNDED
    if t < r:
        return t * t / (2 * r * (1 - r))
    if t > 1 - r:
        return 1 - (1 - t) * (1 - t) / (2 * r * (1 - r))
    return (t - r / 2) / (1 - r)


def _smooth(t: float) -> float:
    """0 to 1 from edge to edge, level at both so that corners keep their angles, bent as little as can be."""
    t = min(max(t, 0.0), 1.0)
    return 2 * t * t if t < 0.5 else 1 - 2 * (1 - t) * (1 - t)
