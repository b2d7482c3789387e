"""What the order of work asks of the drawn edges: allowances, how curved, which way they run, how long."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from clothwise.curve import Curve
from clothwise.garment import Edge, Garment, Piece, Run

TURN_STEP = 0.5  # cm: fineness at which the turning of a seam is added up; it only sorts straight from curved
CURVED_DEG = 45.0  # degrees: a seam that turns more is curved: it is sewn twice, trimmed, and not closed French
POINT_DEG = 100.0  # degrees turned inwards within POINT_LONG: the end of a slit, to be cut into
POINT_LONG = 2.0  # cm
ACROSS_DEG = 45.0  # degrees off the grain from which a seam runs across the body, not along it


def allowance(garment: Garment, runs: Iterable[Run]) -> float:
    """The widest allowance along the runs; nought where they are placement lines. [cm]"""
    found = (garment.edge_of(run) for run in runs)
    return max((edge.allowance for edge in found if edge), default=0.0)


def length(garment: Garment, runs: Iterable[Run]) -> float:
    """Length of runs one after another. [cm]"""
    return garment.length(tuple(runs))


def _bends(curve: Curve) -> list[tuple[float, float]]:
    """(cm along, degrees to the left) at every bend of the curve."""
    points = curve.flattened(tolerance=TURN_STEP / 10)
    ways = [a.to(b) for a, b in pairwise(points)]
    along = 0.0
    found = []
    for one, two in pairwise(ways):
        along += one.length
        found.append((along, math.degrees(math.atan2(one.cross(two), one.dot(two)))))
    return found


def turning_deg(curve: Curve) -> float:
    """How much a curve turns in all, left and right added. [degrees]"""
    return sum(abs(deg) for _, deg in _bends(curve))


def turning_of(garment: Garment, runs: Iterable[Run]) -> float:
    """The most that one of the runs turns. [degrees]"""
    return max(turning_deg(garment.piece(run.piece).line(run.line)) for run in runs)


def hollow_deg(edge: Edge) -> float:
    """How much an edge turns into the piece, less how much it turns out of it: a neck, an armhole. [degrees]"""
    return -sum(deg for _, deg in _bends(edge.curve))


def has_point(garment: Garment, runs: Sequence[Run]) -> bool:
    """Whether the runs end a slit: a sharp turn into the piece, within an edge or from edge to edge."""
    for run in runs:
        edge = garment.edge_of(run)
        bends = _bends(edge.curve) if edge else []
        for start, _ in bends:
            near = sum(-deg for at, deg in bends if start <= at <= start + POINT_LONG)
            if near >= POINT_DEG:
                return True
    for run in runs:  # corners of the outline whose both edges are in the runs
        piece = garment.piece(run.piece)
        lines = {r.line for r in runs if r.piece == run.piece}
        for one, two in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
            if one.name in lines and two.name in lines:
                a, b = one.curve.end_tangent, two.curve.start_tangent
                if -math.degrees(math.atan2(a.cross(b), a.dot(b))) >= POINT_DEG:
                    return True
    return False


def runs_across(garment: Garment, runs: Iterable[Run], *, from_deg: float = ACROSS_DEG) -> bool:
    """Whether the runs lie across the grain, as a shoulder or a waist does, rather than along it.

    from_deg  degrees off the grain, end to end, from which they count as across
    """
    along = across = 0.0
    for run in runs:
        edge = garment.edge_of(run)
        if edge is None:
            continue
        piece = garment.piece(run.piece)
        grain = piece.grain[0].to(piece.grain[1]).unit()
        way = edge.curve.start.to(edge.curve.end)
        along += abs(way.dot(grain))
        across += abs(way.cross(grain))
    return math.degrees(math.atan2(across, max(along, TURN_STEP))) > from_deg


def area_cm2(piece: Piece) -> float:
    """Area of one cut copy, a half on the fold laid open."""
    return piece.area_cm2() * (2.0 if piece.cutting == "on fold" else 1.0)
