"""A piece's outline as the scissors meet it: smooth sides with their outward directions, darts capped,
the half on the fold laid open.

Letters: w a unit direction of travel, n the outward direction (right of travel, the outline being
anticlockwise). At a bend inside a side n is as long as its mitre: 1 / cos(half the bend).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from clothwise.curve import Curve, Line, Point, Segment, Vector, line, meeting, nearest
from clothwise.errors import GarmentError
from clothwise.garment.piece import Dart, Edge, EdgeKind, Piece
from clothwise.tolerance import FLATTEN, LAY_FOLD, PARAMETER, SAME_POINT

KINK_DEG = 1.0  # degrees: a bend inside an edge from here on is a corner with its own mitre
STEP_OUT = 2  # the cutting line runs wider than the seam line, so its chords need a finer step

Array = NDArray[np.float64]
Trace = tuple[Array, Array]  # n x 2: points of one stroke, and the unit directions of travel there


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """A run of the outline without a corner in it."""

    edge: str
    kind: EdgeKind
    allowance: float
    points: Array
    outward: Array
    first_way: Vector  # of travel at its start
    last_way: Vector  # of travel at its end

    @property
    def start(self) -> Point:
        return Point(*self.points[0].tolist())

    @property
    def end(self) -> Point:
        return Point(*self.points[-1].tolist())

    @property
    def turned(self) -> bool:
        """Whether what lies outside it is folded back onto the piece."""
        return self.kind in ("hem", "casing") and self.allowance > 0

    def halves(self) -> tuple[Side, Side]:
        """Cut across at the middle of its length."""
        steps = np.hypot(*np.diff(self.points, axis=0).T)
        along = np.concatenate([[0.0], np.cumsum(steps)])
        i = int(np.searchsorted(along, along[-1] / 2, side="left"))
        share = (along[-1] / 2 - along[i - 1]) / steps[i - 1]
        point = self.points[i - 1 : i] + share * (self.points[i : i + 1] - self.points[i - 1 : i])
        out = self.outward[i - 1 : i] + share * (self.outward[i : i + 1] - self.outward[i - 1 : i])
        way = Vector(-float(out[0, 1]), float(out[0, 0])).unit()
        one = (np.concatenate([self.points[:i], point]), np.concatenate([self.outward[:i], out]))
        other = (np.concatenate([point, self.points[i:]]), np.concatenate([out, self.outward[i:]]))
        return replace(self, points=one[0], outward=one[1], last_way=way), replace(
            self, points=other[0], outward=other[1], first_way=way
        )


def sides_of(piece: Piece) -> list[Side]:
    """All sides anticlockwise; of a piece on the fold those of the whole shape, laid open.

    Raises GarmentError when a fold is not straight or a dart does not stand on its edge.
    """
    edges = [_capped(edge, piece) for edge in piece.edges]
    fold = piece.fold
    if fold is None:
        traced = [(edge, _traces(edge.curve)) for edge in edges]
    else:
        traced = _laid_open(edges, fold, piece.name)
    return [side for edge, traces in traced for side in _sides(edge, traces)]


# ---- from curves to points -----------------------------------------------------------------------


def _traces(curve: Curve) -> list[Trace]:
    return [_trace(stroke) for stroke in curve.strokes]


def _trace(stroke: Segment) -> Trace:
    if isinstance(stroke, Line):
        way = stroke.tangent(0.0)
        return np.array([stroke.start, stroke.end]), np.array([way, way])
    controls = np.array([stroke.start, stroke.first, stroke.second, stroke.end])
    steps = stroke.steps(tolerance=FLATTEN / STEP_OUT)
    of_points, of_slopes = _weights(steps)
    points = of_points @ controls
    points[0], points[-1] = stroke.start, stroke.end
    slopes = of_slopes @ (controls[1:] - controls[:-1])
    sizes = np.hypot(slopes[:, 0], slopes[:, 1])
    ways = slopes / np.maximum(sizes, SAME_POINT)[:, None]
    ways[0], ways[-1] = stroke.tangent(0.0), stroke.tangent(1.0)
    for i in (sizes <= SAME_POINT).nonzero()[0].tolist():
        ways[i] = stroke.tangent(i / steps)
    return points, ways


@lru_cache(maxsize=1024)
def _weights(steps: int) -> tuple[Array, Array]:
    """Of the four control points at so many even steps, and of the three ways between them in the slope."""
    t = np.linspace(0.0, 1.0, steps + 1)[:, None]
    u = 1 - t
    return np.hstack([u**3, 3 * u * u * t, 3 * u * t * t, t**3]), np.hstack([u * u, 2 * u * t, t * t])


def _sides(edge: Edge, traces: Sequence[Trace]) -> list[Side]:
    """One side per smooth run of the edge; what is turned stays in one, however it bends."""
    whole = edge.kind in ("hem", "casing")
    runs: list[Trace] = []
    for points, ways in traces:
        if runs:
            last, first = Vector(*runs[-1][1][-1].tolist()), Vector(*ways[0].tolist())
            if whole or abs(math.degrees(math.atan2(last.cross(first), last.dot(first)))) <= KINK_DEG:
                before, ways_before = runs[-1]
                joint = np.array([_mitred(last, first)])
                runs[-1] = (
                    np.concatenate([before, points[1:]]),
                    np.concatenate([ways_before[:-1], joint, ways[1:]]),
                )
                continue
        runs.append((points, ways))
    return [_side(edge, *run) for run in runs]


def _side(edge: Edge, points: Array, ways: Array) -> Side:
    outward = np.column_stack([ways[:, 1], -ways[:, 0]])
    first, last = Vector(*ways[0].tolist()), Vector(*ways[-1].tolist())
    return Side(edge.name, edge.kind, edge.allowance, points, outward, first, last)


def _mitred(one: Vector, other: Vector) -> Vector:
    """Between two directions, as long as the mitre; one that doubles back keeps the first."""
    share = 1 + one.dot(other)
    return one.plus(other).times(1 / share) if share > PARAMETER else one


# ---- the fold ------------------------------------------------------------------------------------


def _laid_open(edges: Sequence[Edge], fold: Edge, name: str) -> list[tuple[Edge, list[Trace]]]:
    """The half and its mirror image; edges that meet their image on the fold become one with it."""
    at, way = fold.curve.start, fold.curve.start.to(fold.curve.end).unit()
    if any(abs(at.to(p).cross(way)) > LAY_FOLD for p in fold.curve.flattened(tolerance=FLATTEN)):
        raise GarmentError(
            f"The fold edge of '{name}' is not straight.",
            where=f"piece '{name}', edge '{fold.name}'",
            mend="Cloth folds along a straight line: draw the edge straight, or cut two pieces and seam them.",
        )
    place = next(i for i, edge in enumerate(edges) if edge.name == fold.name)
    half = [(e, _traces(e.curve)) for e in (*edges[place + 1 :], *edges[:place])]
    image = [(e, _mirrored(traces, at, way)) for e, traces in reversed(half)]
    if len(half) == 1:
        return [(half[0][0], [*half[0][1], *image[0][1]])]
    first = (half[0][0], [*image[-1][1], *half[0][1]])
    last = (half[-1][0], [*half[-1][1], *image[0][1]])
    return [first, *half[1:-1], last, *image[1:-1]]


def _mirrored(traces: Sequence[Trace], at: Point, way: Vector) -> list[Trace]:
    """Reflected in the fold and travelled the other way, so that the outline goes on anticlockwise."""
    u = np.array(way)
    reflect = 2 * np.outer(u, u) - np.eye(2)
    return [((points[::-1] - at) @ reflect + at, -(ways[::-1] @ reflect)) for points, ways in reversed(traces)]


# ---- darts ---------------------------------------------------------------------------------------


def _capped(edge: Edge, piece: Piece) -> Edge:
    """The edge with a cap over each dart's mouth, so that the folded dart is caught along the whole seam.

    None where the edge is turned: there the dart is sewn straight on through the turn to its raw edge.
    """
    if edge.kind in ("hem", "casing"):
        return edge
    curve = edge.curve
    for dart in piece.darts:
        if dart.edge == edge.name:
            curve = _with_cap(curve, dart, piece.name)
    return edge if curve is edge.curve else Edge(edge.name, curve, edge.kind, edge.allowance, edge.notches)


def _with_cap(curve: Curve, dart: Dart, name: str) -> Curve:
    """The mouth replaced by leg end, cap tip, leg end.

    Pressed to one side the dart's fold lies on the piece beside it, so the cap is the neighbouring seam line
    mirrored in the leg; where it meets the dart's middle line is the tip. Source: drafting method, rule 9.6.
    """
    ends = sorted(
        (nearest(curve, leg) for leg in (dart.first_leg, dart.second_leg)), key=lambda found: found.along
    )
    whole = curve.length()
    if max(end.away for end in ends) > LAY_FOLD or ends[1].along - ends[0].along <= LAY_FOLD:
        raise GarmentError(
            f"The legs of dart '{dart.name}' do not end on the edge '{dart.edge}'.",
            where=f"piece '{name}'",
            mend="Let both legs run out to that edge.",
        )
    low, high = ends[0].along, ends[1].along
    one, other = ends[0].point, ends[1].point
    leg = dart.tip.to(one)
    away = curve.tangent_at_length(max(low - LAY_FOLD, 0.0)).back()  # along the seam line, off the dart
    seen = Vector(*one.go(away).mirrored(one, leg))
    tip = meeting(one, Vector(seen.x - one.x, seen.y - one.y), dart.tip, dart.tip.to(one.between(other)))
    if tip is None or dart.tip.distance(tip) < leg.length / 2:
        raise GarmentError(
            f"Dart '{dart.name}' cannot be folded flat at its mouth.",
            where=f"piece '{name}', edge '{dart.edge}'",
            mend="Make its legs equal and meet the edge nearly square, or make the dart narrower.",
        )
    before = [curve.part(0.0, low)] if low > LAY_FOLD else []
    after = [curve.part(high, whole)] if high < whole - LAY_FOLD else []
    runs = [*before, line(one, tip), line(tip, other), *after]
    return runs[0].then(*runs[1:])
