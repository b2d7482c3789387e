"""Checks on the graph itself: names, runs that exist, and every edge sewn or finished exactly once."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from clothwise.garment.check.fault import Fault, on_piece
from clothwise.garment.garment import FreeEdge, Garment, Level, Passage, Run, Seam
from clothwise.garment.piece import Edge, Mark, Piece

# How often a line of a piece exists in the finished garment, per copy: a half on the fold exists twice.
INSTANCES = {"pair": 1, "single": 1, "on fold": 2}


def graph_faults(garment: Garment) -> Iterator[Fault]:
    yield from _names(garment)
    yield from _copies(garment)
    yield from _runs(garment)
    yield from _order(garment)
    yield from _used_once(garment)
    yield from _attached(garment)
    yield from _joint_corners(garment)


def works(garment: Garment) -> tuple[Seam | FreeEdge, ...]:
    return (*garment.seams, *garment.free_edges)


def girths_of(garment: Garment) -> tuple[Level | Passage, ...]:
    return (*garment.levels, *garment.passages)


def lines_of(piece: Piece) -> tuple[Edge | Mark, ...]:
    return (*piece.edges, *piece.marks)


def runs_of(work: Seam | FreeEdge) -> tuple[Run, ...]:
    return work.runs


def instances(piece: Piece) -> int:
    """How often each line of the piece exists in the finished garment."""
    return piece.copies * INSTANCES[piece.cutting]


def _twice(names: Iterable[str]) -> list[str]:
    return [name for name, n in Counter(names).items() if n > 1]


# ---- names ---------------------------------------------------------------------------------------


def _names(garment: Garment) -> Iterator[Fault]:
    where = f"garment '{garment.name}'"
    for kind, names in (
        ("pieces", [p.name for p in garment.pieces]),
        ("seams or free edges", [w.name for w in works(garment)]),
        ("joints", [j.name for j in garment.joints]),
        ("levels or passages", [g.name for g in girths_of(garment)]),
    ):
        for name in _twice(names):
            yield Fault("names", where, f"Two {kind} are called '{name}'.", names.count(name), 1)
        if "" in names:
            yield Fault("names", where, f"One of its {kind} has no name.")
    for piece in garment.pieces:
        lines = [line.name for line in lines_of(piece)]
        for name in _twice(lines):
            yield Fault("names", on_piece(piece.name), f"Two lines are called '{name}'.", lines.count(name), 1)
        for name in _twice(d.name for d in piece.darts):
            yield Fault("names", on_piece(piece.name), f"Two darts are called '{name}'.", 2, 1)


def _copies(garment: Garment) -> Iterator[Fault]:
    for piece in garment.pieces:
        where = on_piece(piece.name)
        folds = sum(e.kind == "fold" for e in piece.edges)
        if piece.copies < 1:
            yield Fault("copies", where, f"It is cut {piece.copies} times.", piece.copies, 1)
        if piece.cutting == "pair" and piece.copies % 2:
            yield Fault("copies", where, f"It is cut as a pair but {piece.copies} times.", piece.copies, 2)
        if folds != (1 if piece.cutting == "on fold" else 0):
            yield Fault("fold", where, f"It is cut '{piece.cutting}' and has {folds} fold edges.", folds)


# ---- what runs and works name ----------------------------------------------------------------------


def _runs(garment: Garment) -> Iterator[Fault]:
    pieces = {p.name: p for p in garment.pieces}
    for work in works(garment):
        where = f"'{work.name}'"
        sides = (work.a, work.b, *work.more) if isinstance(work, Seam) else (work.runs,)
        if not all(sides):
            yield Fault("runs", where, "One of its sides joins nothing.")
        if work.times < 1:
            yield Fault("runs", where, f"The garment has it {work.times} times.", work.times, 1)
        for run in runs_of(work):
            yield from _missing(pieces, where, run.piece, run.line)
    for girth in girths_of(garment):
        if not girth.runs:
            yield Fault("runs", f"'{girth.name}'", "It goes along nothing.")
        for piece, line, _ in girth.runs:
            yield from _missing(pieces, f"'{girth.name}'", piece, line)


def _missing(pieces: dict[str, Piece], where: str, piece: str, line: str) -> Iterator[Fault]:
    if piece not in pieces:
        yield Fault("runs", where, f"There is no piece '{piece}'.")
    elif not any(line == other.name for other in lines_of(pieces[piece])):
        yield Fault("runs", where, f"Piece '{piece}' has no line '{line}'.")


def _order(garment: Garment) -> Iterator[Fault]:
    after = {work.name: work.after for work in works(garment)}
    for name, needed in after.items():
        for other in needed:
            if other not in after:
                yield Fault("order", f"'{name}'", f"It waits for '{other}', which is not in the garment.")
    done: set[str] = set()
    while True:
        ready = {
            n for n, needed in after.items() if n not in done and done.issuperset(set(needed) & after.keys())
        }
        if not ready:
            break
        done |= ready
    stuck = sorted(after.keys() - done)
    if stuck:
        yield Fault("order", f"garment '{garment.name}'", f"They wait for one another: {', '.join(stuck)}.")


# ---- every edge exactly once ------------------------------------------------------------------------

TURNED_SEAM_EDGES = ("band", "zip")  # free edges that lie on edges of kind 'seam'
_TAKEN_BY = {"seam": "seam", "hem": "free", "casing": "free", "raw": "free", "fold": "nothing"}


def _used_once(garment: Garment) -> Iterator[Fault]:
    uses = _uses(garment)
    for piece in garment.pieces:
        mouths = {dart.edge for dart in piece.darts}
        for edge in piece.edges:
            if edge.name not in mouths:
                yield from _edge_use(piece, edge, uses[piece.name, edge.name])
        for mark in piece.marks:
            n = sum(times for _, times, _ in uses[piece.name, mark.name])
            if mark.kind == "placement" and not 0 < n <= instances(piece):
                yield Fault(
                    "used once",
                    on_piece(piece.name, mark.name),
                    f"The placement line exists {instances(piece)} times and is sewn to {n} times.",
                    n,
                    instances(piece),
                )
            elif mark.kind != "placement" and n:
                yield Fault(
                    "used once", on_piece(piece.name, mark.name), "It is sewn to but marks no placement.", n
                )


def _uses(garment: Garment) -> dict[tuple[str, str], list[tuple[Run, int, str]]]:
    """For each line its uses: the run, how often the garment has it, and by what."""
    uses: dict[tuple[str, str], list[tuple[Run, int, str]]] = defaultdict(list)
    for work in works(garment):
        by = "seam" if isinstance(work, Seam) or work.kind in TURNED_SEAM_EDGES else "free"
        for run in runs_of(work):
            uses[run.piece, run.line].append((run, work.times, by))
    return uses


def _edge_use(piece: Piece, edge: Edge, uses: list[tuple[Run, int, str]]) -> Iterator[Fault]:
    where = on_piece(piece.name, edge.name)
    allowed = _TAKEN_BY[edge.kind]
    for by in sorted({by for _, _, by in uses} - {allowed}):
        taken = "sewn in a seam" if by == "seam" else "finished by itself"
        yield Fault("edge kind", where, f"It is a '{edge.kind}' edge and yet {taken}.")
    n = sum(times for _, times, _ in uses)
    wanted = 0 if edge.kind == "fold" or (edge.kind == "raw" and not uses) else instances(piece)
    if n != wanted:
        yield Fault(
            "used once", where, f"It exists {wanted} times and is sewn or finished {n} times.", n, wanted
        )
    elif n:
        yield from _both_sides(piece, where, uses)


def _both_sides(piece: Piece, where: str, uses: list[tuple[Run, int, str]]) -> Iterator[Fault]:
    """A work done twice is done left and right; one done once takes the side it names."""
    drawn = mirrored = 0
    for run, times, _ in uses:
        here, there = (times - times // 2, times // 2) if piece.cutting != "single" else (times, 0)
        if run.side == "mirrored":
            here, there = there, here
        drawn, mirrored = drawn + here, mirrored + there
    wanted = (instances(piece), 0) if piece.cutting == "single" else (instances(piece) // 2,) * 2
    if (drawn, mirrored) != wanted:
        what = (
            f"It exists {wanted[0]} times as drawn and {wanted[1]} times mirrored, used {drawn} and {mirrored}."
        )
        yield Fault("sides", where, what, drawn, wanted[0])


def _attached(garment: Garment) -> Iterator[Fault]:
    """All pieces hang together by seams; interfacing is fused on and needs none, nor does a loose belt."""
    names = [p.name for p in garment.pieces if p.layer != "interfacing" and not p.loose]
    if not names:
        return
    reached, grown = {names[0]}, True
    while grown:
        grown = False
        for seam in garment.seams:
            joined = {run.piece for run in runs_of(seam)}
            if joined & reached and not joined <= reached:
                reached |= joined
                grown = True
    for name in names:
        if name not in reached:
            yield Fault("attached", on_piece(name), "No chain of seams joins it to the rest of the garment.")
    for piece in garment.pieces:
        sewn = {r.piece for s in garment.seams for r in s.runs if piece.name in {x.piece for x in s.runs}}
        if piece.loose and sewn - {piece.name}:
            yield Fault(
                "attached", on_piece(piece.name), "It is said to be loose and is sewn to another piece."
            )


def _joint_corners(garment: Garment) -> Iterator[Fault]:
    pieces = {p.name: p for p in garment.pieces}
    for joint in garment.joints:
        where = f"joint '{joint.name}'"
        if not joint.corners:
            yield Fault("joint corners", where, "It names no corner.")
        for corner in joint.corners:
            edges = [e.name for e in pieces[corner.piece].edges] if corner.piece in pieces else []
            following = dict(zip(edges, edges[1:] + edges[:1], strict=True))
            if following.get(corner.before) != corner.after:
                what = f"Piece '{corner.piece}' has no corner where '{corner.before}' meets '{corner.after}'."
                yield Fault("joint corners", where, what)
