"""Growth tucks above a hem: read from the marks of its pieces, sewn in the round before the hem.

Lengths in cm. Source: trade knowledge (T): a tuck runs over every seam in its way, so it waits for them; its
long stitches are found again and pulled out on the day it is let down.
"""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.garment import FreeEdge, Run, Seam
from clothwise.garment.growth_tuck import growth_tucks
from clothwise.sew.before import PREPARED
from clothwise.sew.bench import EASING, Bench, Operation
from clothwise.sew.step import CutRun, SeamType, Step

TUCKED = SeamType("", "tuck")


def tucks_name(work: FreeEdge | Seam) -> str:
    return f"{work.name} tucks"


def tucking(bench: Bench) -> Iterator[tuple[str, Operation]]:
    """The tucks above each hem, turned or faced, with the name of the hem that waits for them."""
    garment = bench.garment
    works: list[tuple[FreeEdge | Seam, tuple[Run, ...]]] = [(f, f.runs) for f in garment.free_edges]
    works += [(s, s.b) for s in garment.seams if s.kind == "applied"]
    for work, runs in works:
        if not any(growth_tucks(garment.piece(run.piece), run.line) for run in runs):
            continue
        if isinstance(work, FreeEdge):
            chains = bench.cut.chains[work.name]
        else:
            chains = tuple(join.b for join in bench.cut.joins[work.name])
        yield work.name, Operation(_step(bench, work, chains), PREPARED | bench.needs.before[work.name])


def _step(bench: Bench, work: FreeEdge | Seam, chains: tuple[tuple[CutRun, ...], ...]) -> Step:
    garment = bench.garment
    first = chains[0][0]
    each = growth_tucks(garment.piece(first.piece), first.line)
    mine = tuple(run for chain in chains for run in chain)
    long = sum(t.upper.length() for run in mine for t in growth_tucks(garment.piece(run.piece), run.line))
    crossed = bench.needs.before[work.name]
    return Step(
        0, "tuck", tucks_name(work), work.title, edges=mine, lines=tuple(len(chain) for chain in chains),
        crossings=tuple(s.title for s in garment.seams if s.name in crossed), facing="wrong sides together",
        seam_type=TUCKED, stitch=EASING, needle=bench.manners.needle, round=True,
        allowance=each[0].depth, turn=each[0].depth, times=len(chains), count=len(each),
        length=long, why="tuck",
    )  # fmt: skip
