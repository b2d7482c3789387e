"""The second half of the step check: does a line join what the pattern joins, and is all done at the end?"""

from __future__ import annotations

from collections import Counter
from itertools import product

from clothwise.garment import Run, Seam
from clothwise.garment.growth_tuck import growth_tucks
from clothwise.sew.step import CutRun, Join, Step
from clothwise.sew.step_table import SIDES, Table, cut_copies, edge_copy, pleat_takes

Plies = tuple[tuple[tuple[str, str, bool, str], ...], ...]


def _plain(run: Run, *, flip: bool) -> tuple[str, str, bool, str]:
    side = run.side if not flip else SIDES[1 - SIDES.index(run.side)]
    return run.piece, run.line, run.backwards, side


def _turned(ply: tuple[tuple[str, str, bool, str], ...]) -> tuple[tuple[str, str, bool, str], ...]:
    """Walked from the other end."""
    return tuple((piece, line, not backwards, side) for piece, line, backwards, side in reversed(ply))


def _copy_of(seam: Seam, single: set[str], *, flip: bool, turn: bool) -> Plies:
    """The seam as the pattern has it or its mirror image, from either end; single pieces have one side."""
    plies = (seam.a, seam.b, *seam.more)
    copied = tuple(tuple(_plain(run, flip=flip and run.piece not in single) for run in ply) for ply in plies)
    return tuple(_turned(ply) for ply in copied) if turn else copied


def drawn_as(join: Join, seam: Seam, single: set[str]) -> bool:
    """Whether the line is a copy of the garment's seam, or two copies one after the other."""
    mine = tuple(tuple(_plain(run, flip=False) for run in ply) for ply in join.plies)
    copies = [_copy_of(seam, single, flip=f, turn=t) for f, t in product((False, True), (False, True))]
    pairs = [
        tuple((*x, *y) for x, y in zip(one, other, strict=True))
        for one, other in product(copies, copies)
        if one != other
    ]
    return mine in copies or (seam.times > 1 and mine in pairs)


# ---- at the end --------------------------------------------------------------------------------


def at_the_end(table: Table) -> None:
    _seams(table)
    _free_edges(table)
    _put_in(table)
    for piece in table.garment.pieces:
        wanted = len(piece.darts) * len(list(cut_copies(piece)))
        if table.dart_count[f"{piece.name} darts"] != wanted:
            table.say(0, f"the darts of {piece.name} are not sewn, each once")
    for piece, copy in table.all_copies():
        mouths = {dart.edge for dart in piece.darts if dart.edge}
        for mouth in mouths:
            if table.darts[(*copy, mouth)] != 1:
                table.say(0, f"dart at '{mouth}' of {piece.name} is not sewn once")
        if (piece.interfaced or piece.layer == "interfacing") and piece.name not in table.fused:
            table.say(0, f"{piece.name} never gets its interfacing")
        if piece.layer == "interfacing":
            continue
        for edge in piece:
            one = (*copy, edge.name)
            if table.pleated[one] != (pleat_takes(piece, edge.name) > 0):
                table.say(0, f"the pleats at '{edge.name}' of {piece.name} ({copy[1]}) are not laid, each once")
            if table.tucked[one] != len(growth_tucks(piece, edge.name)):
                table.say(0, f"the growth tucks above '{edge.name}' of {piece.name} are not sewn, each once")
            if edge.kind == "fold" or edge.name in mouths:
                continue
            if edge.kind != "raw" and not table.sewn[one] and not table.turned[one]:
                table.say(0, f"{edge.name} of {piece.name} ({copy[1]}) is neither sewn nor turned")
            if table.finished[one] == 0 and (table.frays or edge.kind != "raw"):
                table.say(0, f"{edge.name} of {piece.name} ({copy[1]}) is never finished")
    for step, run in table.inside:
        if not _shut_in(table, step, run):
            table.say(step.number, f"{run.line} of {run.piece} is said to be shut in, but no layer covers it")
            break


def _seams(table: Table) -> None:
    for seam in table.garment.seams:
        for i, ply in enumerate((seam.a, seam.b, *seam.more)):
            wanted = Counter[tuple[str, str]]()
            for run in ply:
                wanted[run.piece, run.line] += seam.times
            done = Counter[tuple[str, str]]()
            for (name, ply_number, copy), n in table.uses.items():
                if (name, ply_number) == (seam.name, i):
                    done[copy[0], copy[3]] += n
            for line, times in wanted.items():
                if done[line] != times:
                    table.say(0, f"'{seam.title}' is sewn {done[line]} times, not {times}")
                    return


def _free_edges(table: Table) -> None:
    for free in table.garment.free_edges:
        wanted = len(free.runs) * free.times
        if table.edges[free.name] != wanted:
            table.say(0, f"'{free.title}' is turned along {table.edges[free.name]} edges, not {wanted}")
        if free.elastic > 0 and free.name not in table.threaded:
            table.say(0, f"'{free.title}' never gets its elastic")
    for name in sorted(table.open_gaps):
        table.say(0, f"the opening in '{name}' is never closed")


def _put_in(table: Table) -> None:
    buttons = sum(n.count for n in table.garment.notions if n.name == "button")
    if buttons and table.buttons != buttons:
        table.say(0, f"{buttons} buttons are bought and {table.buttons} are sewn on")
    for notion in table.garment.notions:
        if notion.name in ("drawstring", "cord") and f"{notion.place} cord" not in table.threaded:
            table.say(0, f"'{notion.title}' is never threaded")


def _shut_in(table: Table, step: Step, run: CutRun) -> bool:
    """A facing, a piece with an edge sewn down as a band, or folded, or a second layer lies over the seam."""
    join = next(j for j in step.joins if any(edge_copy(r) == edge_copy(run) for r in j.runs))
    seam = next(s for s in table.garment.seams if s.name == join.seam)
    if seam.kind == "applied":
        return True
    bands = {r.piece for f in table.garment.free_edges if f.kind == "band" for r in f.runs}
    pieces = {r.piece for r in join.runs}
    if pieces & bands or any(_backed(table, name, seam, bands) for name in pieces):
        return True
    folded = {p.name for p in table.garment.pieces if any(m.kind == "fold line" for m in p.marks)}
    if pieces <= folded:
        return True
    a, b = {r.copy for r in join.a}, {r.copy for r in join.b}
    if {table.garment.piece(c[0]).layer == "lining" for c in a} != {
        table.garment.piece(c[0]).layer == "lining" for c in b
    }:
        return True
    return _covered(table, [list(ply) for ply in join.plies])


def _backed(table: Table, name: str, here: Seam, bands: set[str]) -> bool:
    """Whether a band of two layers: sewn to its inner one along every other edge, which is folded over here."""
    others = [s for s in table.garment.seams if s is not here and name in {r.piece for r in s.runs}]
    return bool(others) and all(bands & {r.piece for r in s.runs} for s in others)


def _covered(table: Table, plies: list[list[CutRun]]) -> bool:
    """Two plies lie on each other: no edge of theirs is hemmed, wherever the one is sewn the other is too."""
    for i, one in enumerate(plies):
        for other in plies[i + 1 :]:
            p, q = one[0].piece, other[0].piece
            kinds = {e.kind for name in (p, q) for e in table.garment.piece(name)}
            if not kinds <= {"seam", "fold"} or (p == q and one[0].copy == other[0].copy):
                continue
            together = alone = 0
            for seam in table.garment.seams:
                sides = [{r.piece for r in ply} for ply in (seam.a, seam.b, *seam.more)]
                has = [side for side in sides if p in side], [side for side in sides if q in side]
                if not has[0] and not has[1]:
                    continue
                both = len(has[0]) > 1 if p == q else bool(has[0] and has[1])
                together, alone = together + both, alone + (not both)
            if together and alone <= 1:
                return True
    return False
