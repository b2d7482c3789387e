"""Is each step possible when its turn comes, and is the garment finished after the last?

Independent of the code that orders: this sews the garment step by step on paper (see `step_table`). From which
corners have become one follows what can be walked without a break, what is a tube, and what is still open.

What is held
- a run in one go is unbroken: each edge ends in the corner where the next begins
- every line joins what the pattern joins, and no edge is sewn, turned or finished twice, or sewn once turned
- an edge neatened by itself lies flat and single; one shut in really lies between two layers
- what is gathered has its rows first, what is pleated its pleats, laid once while it is free; darts are shut
  before a seam runs over them; interfacing is fused first
- growth tucks are sewn round and round, over the seams in their way, before the edge below is turned
- what is caught between two layers is itself made first
- a patch has its own free edges turned and its allowances folded in, and its ground is still flat
- what is turned or sewn in the round is round, and wide enough for the machine
- what is sewn can be turned right side out: somewhere it is open
- a zip or stand is in before a seam is sewn across its end, an invisible zip before, any other after the seam
  below it; a band is sewn down after it is sewn on
- a casing gets its elastic or cord and is closed; buttons come last, and none is forgotten
- at the end every copy of every seam is sewn, every free edge turned, every raw edge finished
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from clothwise.cloth import Cloth
from clothwise.garment import Garment
from clothwise.sew.manners import manners
from clothwise.sew.step import CutRun, Neatening, Step
from clothwise.sew.step_end import at_the_end, drawn_as
from clothwise.sew.step_table import StepFault, Table, edge_copy, pleat_takes, run_name

LEAST_ROUND = 14.0  # cm: girth of the narrowest ring that can be sewn from its inside on a home machine (T)
LEAST_OPENING = 10.0  # cm: the narrowest round that a part is turned through: a cuff, a collar (T)
LEAST_TUBE = 1.0  # cm: a strap sewn into a tube is turned with a loop or a pin (T)
FRENCH_ROOM = 1.3  # cm: allowance a seam closed on itself needs
FULL = 1.1  # ratio from which a gathered seam needs its rows of long stitches first

__all__ = ["StepFault", "check_steps"]


def check_steps(garment: Garment, steps: Sequence[Step], cloth: Cloth) -> tuple[StepFault, ...]:
    """All faults of an order of work; none when it can be sewn as written and ends in a finished garment."""
    table = Table(garment, frays=not manners(cloth).gives)
    for position, step in enumerate(steps, 1):
        if step.number != position:
            table.say(step.number, f"step {position} is numbered {step.number}")
        _do(table, step)
    at_the_end(table)
    return tuple(table.faults)


def _do(table: Table, step: Step) -> None:
    deeds = {
        "fuse": _fuse, "neaten": _neaten, "fold in": _fold_in, "dart": _dart, "gather": _gather,
        "pleat": _pleat, "eyelet": _eyelet, "tuck": _tuck, "seam": _sew, "patch": _set_patch, "turn": _turn,
        "band": _turn, "zip": _turn, "elastic": _thread, "cord": _cord, "buttons": _buttons,
    }  # fmt: skip
    deed = deeds.get(step.kind)
    if deed:
        deed(table, step)


# ---- flat and single ---------------------------------------------------------------------------


def _fuse(table: Table, step: Step) -> None:
    for run in step.edges:
        if any(copy[:3] == run.copy and n for copy, n in table.sewn.items()):
            table.say(step.number, f"{run.piece} is sewn already: nothing can be fused to it")
        table.fused.add(run.piece)


def _neaten(table: Table, step: Step) -> None:
    for neatening in step.neatenings:
        for run in neatening.edges:
            if table.sewn[edge_copy(run)] or table.turned[edge_copy(run)]:
                table.say(step.number, f"{run_name(run)} cannot be neatened alone: it is sewn already")
        _finish(table, step, neatening)


def _fold_in(table: Table, step: Step) -> None:
    for run in step.edges:
        table.folded[edge_copy(run)] += 1


def _dart(table: Table, step: Step) -> None:
    table.dart_count[step.name] += step.count
    for run in step.edges:
        ends = table.ends(run)
        if table.darts[edge_copy(run)] or ends is None:
            table.say(step.number, f"{run_name(run)} is sewn twice, or is no dart")
            continue
        table.darts[edge_copy(run)] += 1
        table.glue(*ends)


def _gather(table: Table, step: Step) -> None:
    for chain in step.chains:
        _unbroken(table, step, chain, closed=False)
        for run in chain:
            if table.sewn[edge_copy(run)]:
                table.say(step.number, f"{run_name(run)} is sewn already: it cannot be gathered")
            table.gathered[edge_copy(run)] += 1


def _pleat(table: Table, step: Step) -> None:
    for run in step.edges:
        if not pleat_takes(table.garment.piece(run.piece), run.line):
            table.say(step.number, f"no pleat is marked at {run_name(run)}")
        if table.sewn[edge_copy(run)]:
            table.say(step.number, f"{run_name(run)} is sewn already: no pleat can be laid in it")
        table.pleated[edge_copy(run)] += 1


def _tuck(table: Table, step: Step) -> None:
    for chain in step.chains:
        _unbroken(table, step, chain, closed=True)
        for run in chain:
            if table.turned[edge_copy(run)] or table.sewn[edge_copy(run)]:
                table.say(step.number, f"{run_name(run)} is finished already: tucks come before the hem")
            table.tucked[edge_copy(run)] += step.count


def _eyelet(table: Table, step: Step) -> None:
    for run in step.edges:
        table.holes.add((run.piece, run.line))
        for copy, n in table.turned.items():
            edge = next((e for e in table.garment.piece(copy[0]) if e.name == copy[3]), None)
            if n and copy[0] == run.piece and edge is not None and edge.kind == "casing":
                table.say(step.number, f"{step.title}: the casing is turned already, both layers would be cut")


def _finish(table: Table, step: Step, neatening: Neatening) -> None:
    if neatening.finish == "none needed" and table.frays:
        table.say(step.number, "this cloth frays: its edges cannot be left raw")
    if neatening.finish == "enclosed" and (
        step.facing != "wrong sides together" or step.rows != 2 or step.allowance < FRENCH_ROOM
    ):
        table.say(step.number, "closed on itself: sewn twice, first wrong sides together, and needs room")
    for run in neatening.edges:
        if neatening.finish == "inside":
            table.inside.append((step, run))
        table.finished[edge_copy(run)] += 1
        if table.finished[edge_copy(run)] > 1:
            table.say(step.number, f"{run_name(run)} is finished twice")


def _unbroken(table: Table, step: Step, runs: Sequence[CutRun], *, closed: bool) -> None:
    """Every edge ends in the corner where the next begins."""
    following = [*runs[1:], runs[0]] if closed else runs[1:]
    for run, after in zip(runs, following, strict=False):
        one, other = table.ends(run), table.ends(after)
        if one and other and one[1] != other[0]:
            table.say(
                step.number,
                f"{run_name(run)} does not run on into {run_name(after)}: the seam between is not sewn",
            )


# ---- seams -------------------------------------------------------------------------------------


def _sew(table: Table, step: Step) -> None:
    for join in step.joins:
        seam = next((s for s in table.garment.seams if s.name == join.seam), None)
        if seam is None:
            table.say(step.number, f"the garment has no seam '{join.seam}'")
            return
        if not drawn_as(join, seam, table.single):
            table.say(step.number, f"'{step.title}' joins other edges than the pattern does")
        takes = {edge_copy(run): pleat_takes(table.garment.piece(run.piece), run.line) for run in join.a}
        if any(cm and not table.pleated[copy] for copy, cm in takes.items()):
            table.say(step.number, f"'{seam.title}' is sewn before its pleats are laid")
        left = (table.garment.length(join.a) - sum(takes.values())) / table.garment.length(join.b)
        full = seam.kind in ("gathered", "pleated") and left > FULL
        if full and not all(table.gathered[edge_copy(run)] for run in join.a):
            table.say(step.number, f"'{seam.title}' is gathered and has no rows to draw it up by")
        elastic = any(n.name == "elastic" and n.place == seam.name for n in table.garment.notions)
        if elastic and seam.name not in table.threaded:
            table.say(step.number, f"'{seam.title}' is closed without its elastic")
        for ply in join.plies:
            _unbroken(table, step, ply, closed=step.round and len(step.seams) == 1)
            _openings_done(table, step, ply, join.plies)
        if step.round and table.garment.length(join.b) < LEAST_ROUND:
            table.say(step.number, f"{step.title}: too narrow to be sewn in the round")
        for piece in _unmade(table, join.plies):
            table.say(step.number, f"'{seam.title}' catches the {piece}, which is not sewn yet")
        if step.round and seam.kind == "applied" and _hangs(table, seam.name, join.a):
            table.say(
                step.number, f"{step.title}: the facing hangs there already; sewn all round it cannot be turned"
            )
        _sew_once(table, step, join.seam, join.plies)
    mine = {edge_copy(run) for join in step.joins for run in join.runs}
    for neatening in (n for n in step.neatenings if n.how != "alone"):
        if not {edge_copy(run) for run in neatening.edges} <= mine:
            table.say(step.number, f"{step.title}: an edge is neatened that is not in this seam")
        _finish(table, step, neatening)
    for name in step.seams:
        title = next(s.title for s in table.garment.seams if s.name == name)
        table.pressed[title] = bool(step.pressed) or step.make == "layers"
    for title in step.crossings:
        if not table.pressed.get(title, False):
            table.say(step.number, f"'{title}' is crossed before it is sewn and pressed")


def _unmade(table: Table, plies: Sequence[Sequence[CutRun]]) -> set[str]:
    """Pieces caught between others that have a seam of their own still to be sewn: a tie, a collar."""
    own = {run.piece for ply in plies[:2] for run in ply}
    caught = {run.piece for ply in plies[2:] for run in ply} - own
    made = {name for (name, _, _), n in table.uses.items() if n}
    return {
        piece
        for piece in caught
        for seam in table.garment.seams
        if {run.piece for run in seam.runs} == {piece} and seam.name not in made
    }


def _hangs(table: Table, name: str, facing: Sequence[CutRun]) -> bool:
    """Whether a facing is sewn to the garment along another edge already."""
    applied = {s.name for s in table.garment.seams if s.kind == "applied" and s.name != name}
    mine = {run.copy for run in facing}
    return any(
        seam in applied and copy[:3] in mine for (seam, ply, copy), n in table.uses.items() if n and ply == 0
    )


def _openings_done(table: Table, step: Step, ply: Sequence[CutRun], plies: Sequence[Sequence[CutRun]]) -> None:
    """A seam that ends at a zip or stand with one side only catches it: that must be in."""
    beside = [_beside(table, one) for one in plies]
    mine = _beside(table, ply)
    for free in table.garment.free_edges:
        lines = {(r.piece, r.line) for r in free.runs}
        met = [any((copy[0], copy[3]) in lines for copy in ends) for ends in beside[:2]]
        if free.kind in ("zip", "stand") and not all(met):
            for copy in mine:
                if (copy[0], copy[3]) in lines and not table.turned[copy]:
                    table.say(
                        step.number, f"'{free.title}' must be in before '{step.title}' is sewn across its end"
                    )


def _beside(table: Table, ply: Sequence[CutRun]) -> set[tuple[str, str, int, str]]:
    """Edges that meet the ply's two ends."""
    found = set()
    for run, at_end in ((ply[0], ply[0].backwards), (ply[-1], not ply[-1].backwards)):
        edges = table.garment.piece(run.piece).edges
        names = [edge.name for edge in edges]
        if run.line in names:
            other = edges[(names.index(run.line) + (1 if at_end else -1)) % len(names)]
            found.add((*run.copy, other.name))
    return found


def _sew_once(table: Table, step: Step, seam: str, plies: Sequence[Sequence[CutRun]]) -> None:
    a, b = plies[0], plies[1]
    for i, ply in enumerate(plies):
        for run in ply:
            table.uses[seam, i, edge_copy(run)] += 1
            if table.edge(run) is None:
                continue
            if table.turned[edge_copy(run)]:
                table.say(step.number, f"{run_name(run)} is turned already and cannot be seamed")
            table.sewn[edge_copy(run)] += 1
            if table.sewn[edge_copy(run)] > 1:
                table.say(step.number, f"{run_name(run)} is sewn twice")
    on_edges = all(table.edge(run) is not None for run in b)
    closes = on_edges and table.lot(a[0].copy) == table.lot(b[0].copy)
    table.merge([run for ply in plies for run in ply])
    if closes:
        table.tubes.add(table.lot(a[0].copy))
    for ply in plies[1:]:
        if len(a) == len(ply):
            for one, other in zip(a, ply, strict=True):
                table.join(one, other, at_start=True)
                table.join(one, other, at_start=False)
        else:
            table.join(a[0], ply[0], at_start=True)
            table.join(a[-1], ply[-1], at_start=False)
    if step.opening < LEAST_OPENING / 2 and not _can_be_turned(table, a[0]):
        table.say(step.number, f"after '{step.title}' the work is shut all round and cannot be turned")


def _can_be_turned(table: Table, run: CutRun) -> bool:
    """Some round of edges still open is wide enough to turn the work through."""
    lot = table.lot(run.copy)
    if lot not in table.tubes:
        return True
    open_length = 0.0
    least = LEAST_OPENING
    several = len({copy[0] for _, copy in table.all_copies() if table.lot(copy) == lot}) > 1
    for piece, copy in table.all_copies():
        if table.lot(copy) == lot:
            # The fold of a band sewn on is the opening's own edge.
            folds = [mark for mark in piece.marks if mark.kind == "fold line" and several]
            open_length += sum(mark.curve.length() for mark in folds)
            if any(mark.kind == "fold line" for mark in piece.marks):
                least = LEAST_TUBE
            shut = {dart.edge for dart in piece.darts if dart.edge}
            edges = [e for e in piece if e.kind != "fold" and e.name not in shut]
            open_length += sum(e.curve.length() for e in edges if not table.sewn[(*copy, e.name)])
    return open_length >= least


def _set_patch(table: Table, step: Step) -> None:
    for join in step.joins:
        seam = next((s for s in table.garment.seams if s.name == join.seam), None)
        if seam is None or not drawn_as(join, seam, table.single):
            table.say(step.number, f"'{step.title}' joins other edges than the pattern does")
        if not join.more and table.lot(join.b[0].copy) in table.tubes:
            table.say(step.number, f"{step.title}: its ground is a tube already, the machine cannot reach")
        for ply in join.more:
            for run in ply:
                table.sewn[edge_copy(run)] += 1
                table.uses[join.seam, 2, edge_copy(run)] += 1
        for run in join.a:
            if not join.more and not table.folded[edge_copy(run)]:
                table.say(step.number, f"{run_name(run)} is not folded in before it is set")
            table.sewn[edge_copy(run)] += 1
            table.uses[join.seam, 0, edge_copy(run)] += 1
            if table.sewn[edge_copy(run)] > 1:
                table.say(step.number, f"{run_name(run)} is sewn twice")
        for run in join.b:
            table.uses[join.seam, 1, edge_copy(run)] += 1
        if join.more:
            continue  # a strap: its other end is sewn elsewhere
        mine = {edge_copy(run) for run in join.a}
        patch = join.a[0]
        for edge in table.garment.piece(patch.piece):
            copy = (*patch.copy, edge.name)
            if edge.kind != "fold" and copy not in mine and not table.turned[copy] and not table.sewn[copy]:
                table.say(step.number, f"{edge.name} of {patch.piece} is still raw when it is set")
    for neatening in step.neatenings:
        _finish(table, step, neatening)


# ---- free edges and what is put in -------------------------------------------------------------


def _turn(table: Table, step: Step) -> None:
    free = next((f for f in table.garment.free_edges if f.name == step.name), None)
    if free is None:
        table.say(step.number, f"the garment has no free edge '{step.name}'")
        return
    for chain in step.chains:
        _unbroken(table, step, chain, closed=step.round)
        if step.round and table.garment.length(chain) < LEAST_ROUND:
            table.say(step.number, f"{step.title}: too narrow to be sewn in the round")
        if step.kind == "band" and not any(
            (table.lot(copy) == table.lot(run.copy) and piece.name != run.piece) or _mates(table, run, copy)
            for run in chain
            for piece, copy in table.all_copies()
        ):
            table.say(step.number, f"{step.title}: the band is not sewn to anything yet")
        for run in chain:
            if table.sewn[edge_copy(run)]:
                table.say(step.number, f"{run_name(run)} is sewn already and cannot be turned")
            table.turned[edge_copy(run)] += 1
            if table.turned[edge_copy(run)] > 1:
                table.say(step.number, f"{run_name(run)} is turned twice")
            table.edges[step.name] += 1
    if step.kind == "zip":
        _zip_in_time(table, step)
    for neatening in step.neatenings:
        _finish(table, step, neatening)
    if step.fold_in == 0 and table.frays and any(not table.finished[edge_copy(run)] for run in step.edges):
        table.say(step.number, f"{step.title}: turned once only while its edge is still raw")
    if step.opening > 0 and step.kind != "zip":
        table.open_gaps.add(step.name)


def _zip_in_time(table: Table, step: Step) -> None:
    """An invisible zip is sewn in while the seam below it is open, any other once it is closed."""
    ends = [set(corners) for run in step.edges if (corners := table.ends(run))]
    if len(ends) < 2:
        return  # the two sides are drawn apart, each with its own free edge
    closed = any(one & other for one, other in itertools.combinations(ends, 2))
    if step.way == "invisible" and closed:
        table.say(step.number, f"{step.title}: the seam below is closed, an invisible zip cannot be reached")
    if step.way != "invisible" and not closed:
        table.say(step.number, f"{step.title}: the seam below is not sewn yet")


def _mates(table: Table, run: CutRun, copy: tuple[str, str, int]) -> bool:
    """Another copy of the same piece, sewn to this one: the outer layer of a stand."""
    return copy != run.copy and copy[0] == run.piece and table.lot(copy) == table.lot(run.copy)


def _thread(table: Table, step: Step) -> None:
    if step.make == "folded band":
        table.threaded.add(step.name.removesuffix(" elastic"))
        return
    copies = {edge_copy(run) for run in step.edges}
    lines = {(run.piece, run.line) for run in step.edges}
    casings = [f.name for f in table.garment.free_edges if {(r.piece, r.line) for r in f.runs} & lines]
    if not all(table.turned[copy] for copy in copies):
        table.say(step.number, f"{step.title}: there is no casing to thread it through yet")
    for name in casings:
        if name not in table.open_gaps:
            table.say(step.number, f"{step.title}: the casing has no opening")
        table.open_gaps.discard(name)
        table.threaded.add(name)


def _cord(table: Table, step: Step) -> None:
    place = step.name.removesuffix(" cord")
    ready = table.edges[place] or any(name == place for (name, _, _), n in table.uses.items() if n)
    if not ready:
        table.say(step.number, f"{step.title}: there is nothing to thread it through yet")
    table.threaded.add(f"{place} cord")


def _buttons(table: Table, step: Step) -> None:
    table.buttons += step.count
    for free in table.garment.free_edges:
        if free.kind in ("stand", "band") and not table.edges[free.name]:
            table.say(
                step.number,
                f"{step.title}: '{free.title}' is not sewn yet, the holes would go through one layer",
            )
