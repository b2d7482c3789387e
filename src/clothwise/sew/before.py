"""What is done while every piece is single and flat: mark, fuse, stay, neaten, darts, creases, eyelets."""

from __future__ import annotations

import math
from collections.abc import Iterator

from clothwise.garment import FreeEdge, Garment, Piece
from clothwise.sew.bench import BUTTONHOLE, NEATENED, OVERLOCK, ZIGZAG, Bench, Operation, finish_of
from clothwise.sew.cut_copies import all_copies
from clothwise.sew.graph import CURVED_DEG, allowance, hollow_deg, length, turning_of
from clothwise.sew.step import CutRun, Neatening, SeamType, Step

STAY_INSIDE = 0.3  # cm: the line of stay stitching lies so far outside the seam line
STAY_DEG = 30.0  # degrees a neck or waist turns in, both halves together, from which it is stayed (T)
UPRIGHT_DEG = 45.0  # degrees off the grain up to which a dart stands upright
CORDS = ("drawstring", "cord")
FIRST = frozenset({"mark", "fuse"})
PREPARED = FIRST | {"stay", "neaten"}


def before_any_seam(bench: Bench) -> list[Operation]:
    found = [_marking(bench), *_fusing(bench), *_staying(bench), *_neatening(bench)]
    found += [_darts(bench, piece) for piece in bench.garment.pieces if piece.darts]
    found += [_crease(bench, free) for free in bench.garment.free_edges if is_creased(bench, free)]
    return [*found, *_eyelets(bench)]


def _marking(bench: Bench) -> Operation:
    snip = not bench.manners.gives and "frays" not in bench.manners.tips
    step = Step(0, "mark", "mark", "Mark the pieces", why="mark", facing="wrong side up", snip=snip)
    return Operation(step)


def interfaced(garment: Garment) -> list[Piece]:
    """Pieces that interfacing is fused to; where it has pieces of its own, those."""
    return [p for p in garment.pieces if p.interfaced or p.layer == "interfacing"]


def _fusing(bench: Bench) -> Iterator[Operation]:
    backed = interfaced(bench.garment)
    if not backed:
        return
    # Named by one edge of each copy: the step is about whole pieces.
    edges = tuple(CutRun(p.name, p.edges[0].name, False, s, n) for p in backed for _, s, n in all_copies(p))
    count = sum(piece.copies for piece in backed)
    step = Step(
        0, "fuse", "fuse", "Fuse the interfacing", edges=edges, facing="wrong side up", count=count, why="fuse"
    )
    yield Operation(step, frozenset({"mark"}))


# ---- edges -------------------------------------------------------------------------------------


def _unique(runs: list[CutRun]) -> tuple[CutRun, ...]:
    """Each edge once, whichever way it is walked."""
    return tuple(dict.fromkeys(CutRun(r.piece, r.line, False, r.side, r.number) for r in runs))


def _neatening(bench: Bench) -> Iterator[Operation]:
    """All edges that are neatened each by itself, while everything still lies flat."""
    edges: list[CutRun] = []
    for seam in bench.garment.seams:
        if finish_of(bench, seam) == (bench.machine, "alone"):
            for join in bench.cut.joins[seam.name]:
                edges += [run for run in join.runs if bench.garment.edge_of(run)]
    if not bench.manners.gives:
        for free in bench.garment.free_edges:
            if (free.fold_in == 0 or free.kind == "zip") and free.kind != "band":
                edges += [run for chain in bench.cut.chains[free.name] for run in chain]
        edges += _raw_edges(bench)
    if not edges:
        return
    chain = _unique(edges)
    step = Step(
        0, "neaten", "neaten", "Neaten the edges", edges=chain, facing="right side up",
        neatenings=(Neatening(bench.machine, "alone", chain),), seam_type=NEATENED,
        stitch=OVERLOCK if bench.sewer.overlocker else ZIGZAG, needle=bench.manners.needle,
        length=length(bench.garment, chain), why="neaten flat",
    )  # fmt: skip
    yield Operation(step, FIRST)


def _raw_edges(bench: Bench) -> list[CutRun]:
    """Edges that stay as they are but for the neatening: in no seam and no turn."""
    taken = {(r.piece, r.line) for s in bench.garment.seams for r in s.runs} | set(bench.needs.free)
    return [
        CutRun(piece.name, edge.name, False, side, number)
        for piece in bench.garment.pieces
        if piece.layer != "interfacing"
        for edge in piece
        if edge.kind == "raw" and (piece.name, edge.name) not in taken
        for _, side, number in all_copies(piece)
    ]


def _staying(bench: Bench) -> Iterator[Operation]:
    """A line of stitches along what would grow: necks in any woven cloth, all curves in a loose one."""
    if bench.manners.gives:
        return
    grows = bool({"grows", "soft"} & set(bench.manners.tips))
    edges: list[CutRun] = []
    for seam in bench.garment.seams:
        for join in bench.cut.joins[seam.name] if seam.kind != "patch" else ():
            neck = bench.make(seam) in ("facing", "binding", "band", "caught", "sandwich")
            for run in join.runs:
                edge = bench.garment.edge_of(run)
                piece = bench.garment.piece(run.piece)
                if edge is None or piece.interfaced or piece.layer in ("interfacing", "pocket"):
                    continue
                if edge.allowance <= STAY_INSIDE:  # a slit not cut open yet: no room, and it cannot stretch
                    continue
                hollow = neck and run in join.b and hollow_deg(edge) * (2 if piece.fold else 1) >= STAY_DEG
                loose = grows and seam.kind == "plain" and turning_of(bench.garment, (run,)) >= CURVED_DEG
                edges += [run] if hollow or loose else []
    if not edges:
        return
    chain = _unique(edges)
    step = Step(
        0, "stay", "stay", "Stay-stitch the curves", edges=chain, facing="right side up",
        stitch=bench.lockstitch(), needle=bench.manners.needle, length=length(bench.garment, chain),
        allowance=max(allowance(bench.garment, chain) - STAY_INSIDE, STAY_INSIDE), why="stay",
    )  # fmt: skip
    yield Operation(step, FIRST)


# ---- darts -------------------------------------------------------------------------------------


def _darts(bench: Bench, piece: Piece) -> Operation:
    """All darts of one piece."""
    legs = [dart.leg_length for dart in piece.darts]
    copies = list(all_copies(piece))
    mouths = tuple(CutRun(piece.name, d.edge, False, s, n) for d in piece.darts if d.edge for _, s, n in copies)
    inner = any(dart.other_tip for dart in piece.darts)
    ways = {"to the centre" if _upright(piece, i) else "down" for i in range(len(piece.darts))}
    several = len(piece.darts) > 1 or len(copies) > 1
    step = Step(
        0, "dart", f"{piece.name} darts", f"{piece.title}: {'darts' if several else 'dart'}", edges=mouths,
        stitch=bench.joining(), seam_type=SeamType("", "dart"), needle=bench.manners.needle,
        times=piece.copies, count=len(legs) * len(copies), length=sum(legs) * len(copies),
        pressed=ways.pop() if len(ways) == 1 else "both",
        why="dart", point=inner,
    )  # fmt: skip
    return Operation(step, PREPARED)


def _upright(piece: Piece, number: int) -> bool:
    dart = piece.darts[number]
    mouth = dart.other_tip or dart.first_leg.between(dart.second_leg)
    axis = mouth.to(dart.tip).unit()
    grain = piece.grain[0].to(piece.grain[1]).unit()
    return math.degrees(math.acos(min(abs(axis.dot(grain)), 1.0))) < UPRIGHT_DEG


# ---- bands and eyelets -------------------------------------------------------------------------


def crease_name(free: FreeEdge) -> str:
    return f"{free.name} creased"


def is_creased(bench: Bench, free: FreeEdge) -> bool:
    """Whether its fold is pressed while the strip is flat: an edge along a band, not a short end."""
    return free.kind == "band" and any(
        bench.makes.along(run) for chain in bench.cut.chains[free.name] for run in chain
    )


def _crease(bench: Bench, free: FreeEdge) -> Operation:
    """The band pressed in half if it has a fold line, the allowance of its free edge pressed in."""
    chains = bench.cut.chains[free.name]
    mine = tuple(run for chain in chains for run in chain)
    pieces = {run.piece for run in mine}
    folds = any(m.kind == "fold line" for name in pieces for m in bench.garment.piece(name).marks)
    copies = {
        run.copy[::2] if bench.garment.piece(run.piece).cutting == "on fold" else run.copy for run in mine
    }
    step = Step(
        0, "crease", crease_name(free), free.title, edges=mine, lines=tuple(len(c) for c in chains),
        facing="wrong side up", allowance=free.turn, times=len(copies), count=int(folds),
        length=length(bench.garment, mine), why="crease",
    )  # fmt: skip
    return Operation(step, PREPARED)


def cords(garment: Garment) -> list[str]:
    """Places that a cord runs through."""
    return [notion.place for notion in garment.notions if notion.name in CORDS]


def eyelet_marks(garment: Garment, free_name: str) -> list[tuple[Piece, str]]:
    """Buttonhole marks on the pieces of a casing or band that a cord runs through."""
    free = next((f for f in garment.free_edges if f.name == free_name), None)
    seam = next((s for s in garment.seams if s.name == free_name), None)
    runs = free.runs if free else (seam.a if seam else ())
    found = []
    for name in dict.fromkeys(run.piece for run in runs):
        piece = garment.piece(name)
        found += [(piece, mark.name) for mark in piece.marks if mark.kind == "buttonhole"]
    return found


def _eyelets(bench: Bench) -> Iterator[Operation]:
    for place in cords(bench.garment):
        marks = eyelet_marks(bench.garment, place)
        if not marks:
            continue
        count = sum(piece.shapes for piece, _ in marks)
        edges = tuple(
            CutRun(piece.name, mark, False, side, number)
            for piece, mark in marks
            for _, side, number in all_copies(piece)
        )
        step = Step(
            0, "eyelet", f"{place} eyelets", "Eyelets for the cord", edges=edges, facing="right side up",
            stitch=BUTTONHOLE, needle=bench.manners.needle, count=count, times=count, why="eyelet",
        )  # fmt: skip
        yield Operation(step, PREPARED)
