"""What the check measures with: every line sampled densely from its raw control points.

Nothing here asks the curve kernel for a length, a direction or a bend, so that a fault of the kernel shows
as a fault of the garment. Each cubic is walked in STEPS chords; its length is the sum of the chords in two
finenesses, extrapolated (Richardson), which leaves less than 1e-5 cm on any line of a garment.

Letters: B the Bernstein weights of the samples, D those of the first and E of the second derivative.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from clothwise.curve import Cubic, Curve, Segment
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
        signs: list[tuple[bool, float]] = []
        for turn in turns[turns != 0.0]:
            left = bool(turn > 0)
            if signs and signs[-1][0] == left:
                signs[-1] = (left, signs[-1][1] + float(turn))
            else:
                signs.append((left, float(turn)))
        seen = [left for left, total in signs if abs(total) >= least_deg]
        return sum(one != other for one, other in pairwise(seen))


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
    """All pieces measured, by name. Of two pieces with one name the first is taken."""
    found: dict[str, Seen] = {}
    for piece in garment.pieces:
        found.setdefault(piece.name, _seen(piece))
    return found


def has_line(pieces: dict[str, Seen], run: Run) -> bool:
    return run.piece in pieces and run.line in pieces[run.piece].lines


def _seen(piece: Piece) -> Seen:
    lines: dict[str, Drawn] = {}
    for edge in piece.edges:
        lines.setdefault(edge.name, drawn(edge.curve))
    ring = np.concatenate([lines[e.name].points[:-1] for e in piece.edges])
    for mark in piece.marks:
        lines.setdefault(mark.name, drawn(mark.curve))
    if not np.isfinite(ring).all() or len(ring) < 3:
        return Seen(piece, lines, ring, math.nan, False, None)
    x, y = ring[:, 0], ring[:, 1]
    area = float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)
    simple = bool(shapely.is_simple(shapely.linearrings(ring)))
    shape = shapely.Polygon(ring) if simple and area != 0.0 else None
    if shape is not None:
        shapely.prepare(shape)
    return Seen(piece, lines, ring, area, simple, shape)


def drawn(curve: Curve) -> Drawn:
    """One line measured from its raw control points."""
    controls = [_control_points(stroke) for stroke in curve.strokes]
    cubics = np.array([c for c in controls if len(c) == 4], dtype=np.float64).reshape(-1, 4, 2)
    rounds = np.matmul(_B, cubics)
    lengths = iter(_lengths(rounds))
    samples = iter(rounds)
    bends, steps = _bends(cubics)
    points: list[Floats] = []
    length = gap = 0.0
    for control in controls:
        run = np.array(control) if len(control) == 2 else next(samples)
        length += math.dist(*control) if len(control) == 2 else next(lengths)
        if points:
            gap = max(gap, math.dist(points[-1][-1], run[0]))
            run = run[1:]
        points.append(run)
    walked = np.concatenate(points)
    chords = np.hypot(*np.diff(walked, axis=0).T)
    headings = [(_heading(control), _heading(control[::-1])) for control in controls]
    return Drawn(
        points=walked,
        along=np.concatenate([[0.0], np.cumsum(chords)]),
        length=float(length),
        leaves=headings[0][0],
        arrives=_turned_back(headings[-1][1]),
        kinks=tuple(_turn_deg(_turned_back(one[1]), other[0]) for one, other in pairwise(headings)),
        bends=bends,
        steps=steps,
        gap=gap,
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
    way = np.diff(rounds, axis=1)
    return np.asarray(np.hypot(way[..., 0], way[..., 1]).sum(axis=1))


def _bends(cubics: Floats) -> tuple[Floats, Floats]:
    """Curvature [1/cm] at the samples of all cubics one after another, and the length each stands for [cm]."""
    first = np.diff(cubics, axis=1)
    slope = np.matmul(_D, first)
    bend = np.matmul(_E, np.diff(first, axis=1))
    speed = np.hypot(slope[..., 0], slope[..., 1])
    cross = slope[..., 0] * bend[..., 1] - slope[..., 1] * bend[..., 0]
    still = speed <= VISIBLE_HANDLE  # the end of an empty handle: no direction there, no bend to speak of
    curvature = np.where(still, 0.0, cross / np.where(still, 1.0, speed) ** 3)
    weights = np.full(STEPS + 1, 1.0 / STEPS)
    weights[[0, -1]] /= 2
    return curvature.ravel(), (speed * weights).ravel()


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
