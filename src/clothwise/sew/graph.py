"""What the order of work asks of the seam graph: copies of runs, which seams a run crosses, how curved it is.

A seam that the garment has twice joins the runs as written, and once more their mirror images. Corners are
read from the pieces' edges: two edges meet where one ends and the next begins.
"""

from __future__ import annotations

import math
from itertools import pairwise

from clothwise.curve import Curve
from clothwise.garment import Edge, FreeEdge, Garment, Piece, Run, Seam
from clothwise.garment.piece import EdgeKind

TURN_STEP = 0.5  # cm: fineness at which the turning of a seam is added up; it only sorts straight from curved
CURVED_DEG = 45.0  # degrees: a seam that turns more is curved: it is sewn twice, trimmed, and not closed French


def flipped(run: Run) -> Run:
    """The same edge on the other half of the pair."""
    return Run(run.piece, run.line, run.backwards, "as drawn" if run.side == "mirrored" else "mirrored")


def copy(runs: tuple[Run, ...], number: int) -> tuple[Run, ...]:
    """The runs of the first, second... copy of a seam or free edge: left, right, left..."""
    return tuple(flipped(run) for run in runs) if number % 2 else runs


def copies(runs: tuple[Run, ...], times: int) -> tuple[Run, ...]:
    """The runs of all copies in one chain."""
    return tuple(run for number in range(times) for run in copy(runs, number))


def edge_of(garment: Garment, run: Run) -> Edge | None:
    """The edge a run walks, or None when it is a line drawn inside the piece."""
    return next((e for e in garment.piece(run.piece) if e.name == run.line), None)


def allowance(garment: Garment, runs: tuple[Run, ...]) -> float:
    """The widest allowance along the runs; nought where they are placement lines. [cm]"""
    found = (edge_of(garment, run) for run in runs)
    return max((edge.allowance for edge in found if edge), default=0.0)


def turning_deg(curve: Curve) -> float:
    """How much a curve turns in all, left and right added. [degrees]"""
    points = curve.flattened(tolerance=TURN_STEP / 10)
    ways = [a.to(b) for a, b in pairwise(points)]
    return sum(abs(math.degrees(math.atan2(a.cross(b), a.dot(b)))) for a, b in pairwise(ways))


def turning_of(garment: Garment, runs: tuple[Run, ...]) -> float:
    """The most that one of the runs turns. [degrees]"""
    return max(turning_deg(garment.piece(run.piece).line(run.line)) for run in runs)


def own_mirror(seam: Seam) -> bool:
    """Whether it joins pieces to their own mirror images: centre seams, crotch seams."""
    return {r.piece for r in seam.a} == {r.piece for r in seam.b} and any(
        a.side != b.side for a, b in zip(seam.a, seam.b, strict=False)
    )


def neighbour(piece: Piece, line: str, *, at_end: bool) -> Edge | None:
    """The edge that meets this edge at its end (else at its start); None for a line inside the piece."""
    names = [edge.name for edge in piece]
    if line not in names:
        return None
    return piece.edges[(names.index(line) + (1 if at_end else -1)) % len(names)]


def _met(garment: Garment, run: Run, *, going_out: bool) -> tuple[str, str] | None:
    """(piece, edge) that meets the run where it is left (else where it is entered)."""
    edge = neighbour(garment.piece(run.piece), run.line, at_end=going_out != run.backwards)
    return (run.piece, edge.name) if edge else None


def crossed(garment: Garment, runs: tuple[Run, ...], *, ends_too: bool) -> tuple[Seam, ...]:
    """Seams that the runs are sewn across: those whose edges meet them between run and run, and with
    `ends_too` those that meet them at the first and last end."""
    met: set[tuple[str, str] | None] = set()
    for number, run in enumerate(runs):
        if number > 0 or ends_too:
            met.add(_met(garment, run, going_out=False))
        if number < len(runs) - 1 or ends_too:
            met.add(_met(garment, run, going_out=True))
    mine = {(run.piece, run.line) for run in runs}
    return tuple(
        seam
        for seam in garment.seams
        if any((r.piece, r.line) in met for r in (*seam.a, *seam.b))
        and not any((r.piece, r.line) in mine for r in (*seam.a, *seam.b))
    )


def needed_by_seam(garment: Garment, seam: Seam) -> tuple[Seam, ...]:
    """Seams to be sewn before this one because it runs across them."""
    both = (*crossed(garment, seam.a, ends_too=False), *crossed(garment, seam.b, ends_too=False))
    return tuple(dict.fromkeys(both))


def needed_by_edge(garment: Garment, edge: FreeEdge) -> tuple[Seam, ...]:
    """Seams to be sewn before a free edge can be turned in one go."""
    return crossed(garment, edge.runs, ends_too=edge.closed)


def edges_of_kind(garment: Garment, *kinds: EdgeKind) -> tuple[tuple[Piece, Edge], ...]:
    """Every edge of these kinds, with its piece."""
    return tuple((piece, edge) for piece in garment.pieces for edge in piece if edge.kind in kinds)
