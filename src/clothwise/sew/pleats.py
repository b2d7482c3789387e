"""Pleats of a seam: read from the marks of its pieces, where each is folded and to where the fold is brought.

They are laid and basted while their piece lies flat, each by itself, before the seam is sewn; what fullness is
then left in the edge is gathered like any other. Lengths in cm.
Source: trade knowledge (T): folds are pinned right side up, basted across just inside the allowance, and
pressed no farther than they are to lie.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from clothwise.curve import Curve, nearest
from clothwise.garment import Garment, Piece, Run, Seam
from clothwise.sew.before import PREPARED
from clothwise.sew.bench import BASTING, Bench, Operation
from clothwise.sew.graph import allowance, length
from clothwise.sew.step import Step
from clothwise.tolerance import ON_OUTLINE

MARKED = re.compile(r"(.*pleat_\d+)_(fold|meets)$")
BESIDE = 0.2  # cm: basted so far outside the seam line, where the seam will hide it


@dataclass(frozen=True, slots=True)
class Pleat:
    """The line it is folded on, and the line the fold is brought to; so far apart along the edge. [cm]"""

    fold: Curve
    meets: Curve
    takes: float


def pleats_of(piece: Piece, line: str) -> tuple[Pleat, ...]:
    """The pleats marked at one edge of a piece, in the order of their marks."""
    found: dict[str, dict[str, Curve]] = {}
    edge = next((e.curve for e in piece if e.name == line), None)
    if edge is None:
        return ()
    for mark in piece.marks:
        named = MARKED.match(mark.name)
        if named is None:
            continue
        for down in (mark.curve, mark.curve.reversed()):
            if nearest(edge, down.start).away <= ON_OUTLINE:
                found.setdefault(named[1], {})[named[2]] = down
    return tuple(_pleat(edge, pair["fold"], pair["meets"]) for pair in found.values() if len(pair) == 2)


def _pleat(edge: Curve, fold: Curve, meets: Curve) -> Pleat:
    apart = nearest(edge, fold.start).along - nearest(edge, meets.start).along
    return Pleat(fold, meets, abs(apart))


def taken(garment: Garment, runs: Iterable[Run]) -> float:
    """What the pleats along the runs take up. [cm]"""
    return sum(p.takes for run in runs for p in pleats_of(garment.piece(run.piece), run.line))


def pleats_name(seam: Seam) -> str:
    return f"{seam.name} pleats"


def laying(bench: Bench, seam: Seam) -> list[Operation]:
    """All pleats of a seam laid and basted, on every copy."""
    if seam.kind != "pleated":
        return []
    garment = bench.garment
    edges = tuple(
        run
        for join in bench.cut.joins[seam.name]
        for run in join.a
        if pleats_of(garment.piece(run.piece), run.line)
    )
    found = [pleat for run in edges for pleat in pleats_of(garment.piece(run.piece), run.line)]
    laid = length(garment, edges) - sum(pleat.takes for pleat in found)
    step = Step(
        0, "pleat", pleats_name(seam), seam.title, edges=edges, lines=(1,) * len(edges),
        facing="right side up", stitch=BASTING, needle=bench.manners.needle,
        allowance=max(allowance(garment, edges) - BESIDE, BESIDE), times=len(edges), count=len(found),
        turn=found[0].takes / 2 if found else 0.0, length=laid, why="pleat",
    )  # fmt: skip
    darts = {f"{run.piece} darts" for run in edges if garment.piece(run.piece).darts}
    return [Operation(step, PREPARED | darts)]
