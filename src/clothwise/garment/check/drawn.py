"""What the check measures with: every line sampled densely from its raw control points.

Nothing here asks the curve kernel for a length, a direction or a bend, so that a fault of the kernel shows
as a fault of the garment. Each cubic is walked in STEPS chords; its length is the sum of the chords in two
finenesses, extrapolated (Richardson), which leaves less than 1e-5 cm on any line of a garment.

Letters: B the Bernstein weights of the samples, D those of the first and E of the second derivative.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from clothwise.curve import Cubic, Curve, Segment
from clothwise.garment.check.graph import lines_of
from clothwise.garment.garment import Garment, Run
from clothwise.garment.piece import Piece

Floats = NDArray[np.float64]

STEPS = 64  # chords per cubic, even: 128 change no length of a garment by more than 1e-6 cm
VISIBLE_HANDLE = 0.01  # cm: a handle shorter than a tenth of a millimetre shows no direction

_T = np.linspace(0.0, 1.0, STEPS + 1)
_U = 1.0 - _T
_B = np.stack([_U**3, 3 * _U**2 * _T, 3 * _U * _T**2, _T**3], axis=1)
_D = np.stack([_U**2, 2 * _U * _T, _T**2], axis=1) * 3
_E = np.stack([_U, _T], axis=1) * 6


@dataclass(frozen=True, slots=True)
class Drawn:
    """One line as measured.

    points      along it, both ends included [cm]
    along       distance of each point from the start [cm], chords summed
    length      [cm]
    leaves      unit direction at the start; arrives: at the end; nan where there is none
    kinks       change of direction where strokes join within the line [degrees]
    bends       curvature at the samples of its cubics [1/cm], positive to the left; steps: their share of the
                length [cm]
    gap         greatest distance between the end of one stroke and the start of the next [cm]
    """

    points: Floats
    along: Floats
    length: float
    leaves: tuple[float, float]
    arrives: tuple[float, float]
    kinks: tuple[float, ...]
    bends: Floats
    steps: Floats
    gap: float

    @property
    def finite(self) -> bool:
        return bool(np.isfinite(self.points).all())

    def at(self, distance: float) -> tuple[float, float]:
        """The point that far from the start, on the chords."""
        x = np.interp(distance, self.along, self.points[:, 0])
        y = np.interp(distance, self.along, self.points[:, 1])
        return float(x), float(y)

    def shares(self, n: int) -> Floats:
        """n + 1 points at equal steps along it, by chords."""
        where = np.linspace(0.0, self.along[-1], n + 1)
        return np.stack([np.interp(where, self.along, self.points[:, axis]) for axis in (0, 1)], axis=1)

    def waves(self, least_deg: float) -> int:
        """How often it changes from bending one way to the other, bends of less than `least_deg` aside."""
        turns = np.degrees(self.bends * self.steps)
        turns = turns[turns != 0.0]
        if len(turns) == 0:
            return 0
        left = turns > 0
        starts = np.flatnonzero(np.concatenate([[True], left[1:] != left[:-1]]))
        seen = left[starts][np.abs(np.add.reduceat(turns, starts)) >= least_deg]
        return int((seen[1:] != seen[:-1]).sum())


@dataclass(frozen=True, slots=True)
class Seen:
    """One piece as measured: its lines by name, its ring, its shape (None when the ring crosses itself)."""

    piece: Piece
    lines: dict[str, Drawn]
    ring: Floats
    area_cm2: float
    simple: bool
    shape: shapely.Polygon | None

    def neighbour(self, edge: str, *, at_end: bool) -> str:
        """The edge that meets this edge at its end, or at its start."""
        names = [e.name for e in self.piece.edges]
        return names[(names.index(edge) + (1 if at_end else -1)) % len(names)]

    def angle_deg(self, before: str, after: str) -> float:
        """Inside angle where one edge ends and the next begins; nan where one has no direction."""
        (ax, ay), (bx, by) = self.lines[before].arrives, self.lines[after].leaves
        return 180.0 - math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))

    def corner_deg(self, edge: str, *, at_end: bool) -> float:
        """Inside angle at the edge's end, or start."""
        other = self.neighbour(edge, at_end=at_end)
        return self.angle_deg(edge, other) if at_end else self.angle_deg(other, edge)


def seen(garment: Garment) -> dict[str, Seen]:
    """All pieces measured, by name."""
    return {piece.name: seen_piece(piece) for piece in garment.pieces}


def seen_piece(piece: Piece) -> Seen:
    """A piece measured. Of two lines with one name the first is taken."""
    lines: dict[str, Drawn] = {}
    places = lines_of(piece)
    for place, found in zip(places, measured([place.curve for place in places]), strict=True):
        lines.setdefault(place.name, found)
    return _seen(piece, lines)


def has_line(pieces: dict[str, Seen], run: Run) -> bool:
    return run.piece in pieces and run.line in pieces[run.piece].lines


def _seen(piece: Piece, lines: dict[str, Drawn]) -> Seen:
    ring = np.concatenate([lines[e.name].points[:-1] for e in piece.edges])
    if not np.isfinite(ring).all() or len(ring) < 3:
        return Seen(piece, lines, ring, math.nan, False, None)
    (x, y), (on_x, on_y) = ring.T, np.concatenate([ring[1:], ring[:1]]).T
    area = float((x * on_y - on_x * y).sum() / 2)
    outline = shapely.linearrings(ring)
    simple = bool(shapely.is_simple(outline))
    shape = shapely.polygons(outline) if simple and area != 0.0 else None
    if shape is not None:
        shapely.prepare(shape)
    return Seen(piece, lines, ring, area, simple, shape)


def drawn(curve: Curve) -> Drawn:
    """One line measured from its raw control points."""
    return measured([curve])[0]


def measured(curves: Sequence[Curve]) -> list[Drawn]:
    """Lines measured from their raw control points, all at once."""
    lines = [[_control_points(stroke) for stroke in curve.strokes] for curve in curves]
    cubics = np.array([c for line in lines for c in line if len(c) == 4], dtype=np.float64).reshape(-1, 4, 2)
    rounds = np.matmul(_B, cubics)
    bends, steps = _bends(cubics)
    found = []
    first = 0
    lengths = _lengths(rounds)
    for line in lines:
        last = first + sum(len(c) == 4 for c in line)
        found.append(_line(line, rounds[first:last], lengths[first:last], bends[first:last], steps[first:last]))
        first = last
    return found


def _line(
    strokes: list[list[tuple[float, float]]], rounds: Floats, lengths: Floats, bends: Floats, steps: Floats
) -> Drawn:
    """One line from its control points, and the samples, lengths and bends of its cubics in order."""
    samples = iter(rounds)
    parts = [np.array(c, dtype=np.float64) if len(c) == 2 else next(samples) for c in strokes]
    walked = np.concatenate([parts[0], *(part[1:] for part in parts[1:])])
    way = walked[1:] - walked[:-1]
    along = np.zeros(len(walked))
    np.cumsum(np.hypot(way[:, 0], way[:, 1]), out=along[1:])
    headings = [(_heading(c), _turned_back(_heading(c[::-1]))) for c in strokes]
    return Drawn(
        points=walked,
        along=along,
        length=float(lengths.sum()) + sum(math.dist(*c) for c in strokes if len(c) == 2),
        leaves=headings[0][0],
        arrives=headings[-1][1],
        kinks=tuple(_turn_deg(one[1], other[0]) for one, other in pairwise(headings)),
        bends=bends.ravel(),
        steps=steps.ravel(),
        gap=max((math.dist(one[-1], other[0]) for one, other in pairwise(strokes)), default=0.0),
    )


def _control_points(stroke: Segment) -> list[tuple[float, float]]:
    if isinstance(stroke, Cubic):
        return [(p.x, p.y) for p in (stroke.start, stroke.first, stroke.second, stroke.end)]
    return [(p.x, p.y) for p in (stroke.start, stroke.end)]


def _lengths(rounds: Floats) -> Floats:
    """Length of each sampled cubic [cm]: chords of two finenesses, extrapolated."""
    fine = _chord_sums(rounds)
    return np.asarray(fine + (fine - _chord_sums(rounds[:, ::2])) / 3)


def _chord_sums(rounds: Floats) -> Floats:
    way = rounds[:, 1:] - rounds[:, :-1]
    return np.asarray(np.hypot(way[..., 0], way[..., 1]).sum(axis=1))


def _bends(cubics: Floats) -> tuple[Floats, Floats]:
    """Curvature [1/cm] at the samples of each cubic, and the length each sample stands for [cm]."""
    first = cubics[:, 1:] - cubics[:, :-1]
    slope = np.matmul(_D, first)
    bend = np.matmul(_E, first[:, 1:] - first[:, :-1])
    speed = np.hypot(slope[..., 0], slope[..., 1])
    cross = slope[..., 0] * bend[..., 1] - slope[..., 1] * bend[..., 0]
    still = speed <= VISIBLE_HANDLE  # the end of an empty handle: no direction there, no bend to speak of
    curvature = np.where(still, 0.0, cross / np.where(still, 1.0, speed) ** 3)
    weights = np.full(STEPS + 1, 1.0 / STEPS)
    weights[[0, -1]] /= 2
    return curvature, np.asarray(speed * weights)


def _heading(control: list[tuple[float, float]]) -> tuple[float, float]:
    """Unit direction in which a stroke leaves its first control point; nan when it is a single point."""
    x, y = control[0]
    for other in control[1:]:
        size = math.hypot(other[0] - x, other[1] - y)
        if size > VISIBLE_HANDLE or (other is control[-1] and size > 0):
            return (other[0] - x) / size, (other[1] - y) / size
    return math.nan, math.nan


def _turned_back(way: tuple[float, float]) -> tuple[float, float]:
    return -way[0], -way[1]


def _turn_deg(one: tuple[float, float], other: tuple[float, float]) -> float:
    cross = one[0] * other[1] - one[1] * other[0]
    return math.degrees(math.atan2(cross, one[0] * other[0] + one[1] * other[1]))
