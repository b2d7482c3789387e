"""Is each step possible when its turn comes, and is the garment finished after the last?

Independent of the code that orders: this sews the garment step by step on paper. Every cut copy is a ring of
edges between corners; sewing two runs together makes their end corners one. From that follows what can be
walked without a break, what has become a tube, and what is still open.

What is held
- a run in one go is unbroken: each edge ends in the corner where the next begins
- no edge is sewn twice, turned twice, finished twice; none is sewn after it was turned
- an edge neatened by itself lies flat and single; one neatened in a seam is in that seam
- a patch has its own free edges turned and its allowances folded in, and its ground is still flat
- what is turned in the round is round, and wide enough for the machine
- what is sewn can be turned right side out: somewhere it is open
- a casing for elastic gets its elastic and is closed; nothing is left open
- at the end every copy of every seam is sewn, every free edge turned, every raw edge finished
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from clothwise.cloth import Cloth
from clothwise.garment import Garment, Piece, Run
from clothwise.sew.manners import manners
from clothwise.sew.step import Neatening, Step

Corner = tuple[str, str, int]  # piece, side, number of the edge that starts there
EdgeCopy = tuple[str, str, str]  # piece, side, edge

LEAST_ROUND = 14.0  # cm: girth of the narrowest ring that can be sewn from its inside on a home machine (T)
LEAST_OPENING = 14.0  # cm: the narrowest round that a garment is turned through (T)
FRENCH_ROOM = 1.3  # cm: allowance a seam closed on itself needs
SIDES = ("as drawn", "mirrored")


@dataclass(frozen=True, slots=True)
class StepFault:
    """One thing that cannot be done, or is left undone. step 0 = at the end."""

    step: int
    what: str


def check_steps(garment: Garment, steps: Sequence[Step], cloth: Cloth) -> tuple[StepFault, ...]:
    """All faults of an order of work; none when it can be sewn as written and ends in a finished garment."""
    table = _Table(garment, frays=not manners(cloth).gives)
    for position, step in enumerate(steps, 1):
        if step.number != position:
            table.say(step.number, f"step {position} is numbered {step.number}")
        _do(table, step)
    _at_the_end(table)
    return tuple(table.faults)


# ---- the paper table ---------------------------------------------------------------------------


@dataclass
class _Table:
    """The work as it lies on the table."""

    garment: Garment
    frays: bool
    faults: list[StepFault] = field(default_factory=list)
    glued: dict[Corner, Corner] = field(default_factory=dict)
    lots: dict[tuple[str, str], tuple[str, str]] = field(default_factory=dict)
    tubes: set[tuple[str, str]] = field(default_factory=set)
    sewn: Counter[EdgeCopy] = field(default_factory=Counter)
    turned: Counter[EdgeCopy] = field(default_factory=Counter)
    finished: Counter[EdgeCopy] = field(default_factory=Counter)
    folded: Counter[EdgeCopy] = field(default_factory=Counter)
    seams: Counter[str] = field(default_factory=Counter)
    edges: Counter[str] = field(default_factory=Counter)
    darts: Counter[str] = field(default_factory=Counter)
    pressed: dict[str, bool] = field(default_factory=dict)
    open_gaps: set[str] = field(default_factory=set)
    threaded: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        for piece in self.garment.pieces:
            for number, edge in enumerate(piece):
                if edge.kind == "fold" and piece.copies == 1:  # both halves share the fold's two ends
                    for corner in (number, (number + 1) % len(piece.edges)):
                        self._glue((piece.name, SIDES[0], corner), (piece.name, SIDES[1], corner))

    def say(self, step: int, what: str) -> None:
        self.faults.append(StepFault(step, what))

    def corner(self, corner: Corner) -> Corner:
        while (up := self.glued.get(corner, corner)) != corner:
            corner = up
        return corner

    def _glue(self, one: Corner, other: Corner) -> None:
        self.glued[self.corner(one)] = self.corner(other)

    def lot(self, run: Run) -> tuple[str, str]:
        """The thing on the table that the run's cut copy has become part of."""
        copy = (run.piece, SIDES[0] if self.garment.piece(run.piece).copies == 1 else run.side)
        while (up := self.lots.get(copy, copy)) != copy:
            copy = up
        return copy

    def number(self, run: Run) -> int | None:
        names = [edge.name for edge in self.garment.piece(run.piece)]
        return names.index(run.line) if run.line in names else None

    def ends(self, run: Run) -> tuple[Corner, Corner] | None:
        """Corner where the run is entered and where it is left; None for a line drawn inside the piece."""
        number = self.number(run)
        if number is None:
            return None
        after = (number + 1) % len(self.garment.piece(run.piece).edges)
        first, last = (after, number) if run.backwards else (number, after)
        return self.corner((run.piece, run.side, first)), self.corner((run.piece, run.side, last))

    def join(self, a: Run, b: Run, *, at_start: bool) -> None:
        """Make the entering (or leaving) corners of two runs one."""
        one, other = self.ends(a), self.ends(b)
        if one and other:
            self._glue(one[0 if at_start else 1], other[0 if at_start else 1])

    def merge(self, runs: Iterable[Run]) -> None:
        """The copies become one thing; if two runs of one seam already were, a tube has been closed."""
        first, *rest = [self.lot(run) for run in runs]
        for lot in rest:
            if lot != first:
                self.lots[lot] = first
                if lot in self.tubes:
                    self.tubes.add(first)


def _copy(run: Run) -> EdgeCopy:
    return run.piece, run.side, run.line


def _name(run: Run) -> str:
    return f"{run.line.replace('_', ' ')} of {run.piece.replace('_', ' ')} ({run.side})"


# ---- doing a step ------------------------------------------------------------------------------


def _do(table: _Table, step: Step) -> None:
    deeds = {
        "neaten": _neaten, "fold in": _fold_in, "seam": _sew, "patch": _set_patch, "turn": _turn,
        "elastic": _thread,
    }  # fmt: skip
    deed = deeds.get(step.kind)
    if deed:
        deed(table, step)


def _neaten(table: _Table, step: Step) -> None:
    for neatening in step.neatenings:
        for run in neatening.edges:
            if table.sewn[_copy(run)] or table.turned[_copy(run)]:
                table.say(step.number, f"{_name(run)} cannot be neatened alone: it is sewn already")
        _finish(table, step, neatening)


def _fold_in(table: _Table, step: Step) -> None:
    for run in step.edges:
        table.folded[_copy(run)] += 1


def _finish(table: _Table, step: Step, neatening: Neatening) -> None:
    if neatening.finish == "none needed" and table.frays:
        table.say(step.number, "this cloth frays: its edges cannot be left raw")
    if neatening.finish == "enclosed" and (
        step.facing != "wrong sides together" or step.rows != 2 or step.allowance < FRENCH_ROOM
    ):
        table.say(step.number, "closed on itself: sewn twice, first wrong sides together, and needs room")
    for run in neatening.edges:
        table.finished[_copy(run)] += 1
        if table.finished[_copy(run)] > 1:
            table.say(step.number, f"{_name(run)} is finished twice")


def _unbroken(table: _Table, step: Step, runs: Sequence[Run], *, closed: bool) -> None:
    """Every edge ends in the corner where the next begins."""
    following = [*runs[1:], runs[0]] if closed else runs[1:]
    for run, after in zip(runs, following, strict=False):
        one, other = table.ends(run), table.ends(after)
        if one and other and one[1] != other[0]:
            table.say(
                step.number, f"{_name(run)} does not run on into {_name(after)}: a seam between is not sewn yet"
            )


def _sew(table: _Table, step: Step) -> None:
    if not step.joins:
        table.darts[step.name] += 1
        return
    for join in step.joins:
        _as_drawn(table, step, join.a, join.b)
        _sew_once(table, step, join.a, join.b)
    allowed = [n for n in step.neatenings if n.how != "alone"]
    mine = {_copy(run) for join in step.joins for run in (*join.a, *join.b)}
    for neatening in allowed:
        if not {_copy(run) for run in neatening.edges} <= mine:
            table.say(step.number, f"{step.title}: an edge is neatened that is not in this seam")
        _finish(table, step, neatening)
    table.pressed[step.title] = bool(step.pressed)
    for title in step.crossings:
        if not table.pressed.get(title, False):
            table.say(step.number, f"'{title}' is crossed before it is sewn and pressed")


def _as_drawn(table: _Table, step: Step, a: tuple[Run, ...], b: tuple[Run, ...]) -> None:
    """The runs joined are those of the garment's seam of that name, on one half or on the other."""
    seam = next((s for s in table.garment.seams if s.name == step.name), None)
    if seam is None:
        table.say(step.number, f"the garment has no seam '{step.name}'")
        return
    mine = [(r.piece, r.line, r.backwards) for r in (*a, *b)]
    theirs = [(r.piece, r.line, r.backwards) for r in (*seam.a, *seam.b)]
    turned = {r.side == s.side for r, s in zip((*a, *b), (*seam.a, *seam.b), strict=False)}
    if mine != theirs or len(a) != len(seam.a) or len(turned) != 1:
        table.say(step.number, f"'{step.title}' joins other edges than the pattern does")


def _sew_once(table: _Table, step: Step, a: tuple[Run, ...], b: tuple[Run, ...]) -> None:
    for side in (a, b):
        _unbroken(table, step, side, closed=False)
    for run in (*a, *b):
        if table.number(run) is None:
            continue
        if table.turned[_copy(run)]:
            table.say(step.number, f"{_name(run)} is turned already and cannot be seamed")
        table.sewn[_copy(run)] += 1
        if table.sewn[_copy(run)] > 1:
            table.say(step.number, f"{_name(run)} is sewn twice")
    table.seams[step.name] += 1
    closes = table.lot(a[0]) == table.lot(b[0])
    table.merge((*a, *b))
    if closes:
        table.tubes.add(table.lot(a[0]))
    if len(a) == len(b):
        for one, other in zip(a, b, strict=True):
            table.join(one, other, at_start=True)
            table.join(one, other, at_start=False)
    else:
        table.join(a[0], b[0], at_start=True)
        table.join(a[-1], b[-1], at_start=False)
    if not _can_be_turned(table, a[0]):
        table.say(step.number, f"after '{step.title}' the work is shut all round and cannot be turned")


def _can_be_turned(table: _Table, run: Run) -> bool:
    """Some round of edges still open is wide enough to turn the work through."""
    if table.lot(run) not in table.tubes:
        return True
    lot = table.lot(run)
    open_length = 0.0
    for piece, side in _cut_copies(table.garment):
        if table.lot(Run(piece.name, "", False, side)) == lot:  # type: ignore[arg-type]
            edges = [e for e in piece if e.kind != "fold" and not table.sewn[piece.name, side, e.name]]
            open_length += sum(edge.curve.length() for edge in edges)
    return open_length >= LEAST_OPENING


def _set_patch(table: _Table, step: Step) -> None:
    for join in step.joins:
        _as_drawn(table, step, join.a, join.b)
        ground = table.lot(join.b[0])
        if ground in table.tubes:
            table.say(step.number, f"{step.title}: its ground is a tube already, the machine cannot reach")
        for run in join.a:
            if not table.folded[_copy(run)]:
                table.say(step.number, f"{_name(run)} is not folded in before it is set")
            table.sewn[_copy(run)] += 1
            if table.sewn[_copy(run)] > 1:
                table.say(step.number, f"{_name(run)} is sewn twice")
        mine = {_copy(run) for run in join.a}
        patch = join.a[0]
        for edge in table.garment.piece(patch.piece):
            copy = (patch.piece, patch.side, edge.name)
            if edge.kind != "fold" and copy not in mine and not table.turned[copy]:
                table.say(step.number, f"{edge.name} of {patch.piece} is still raw when it is set")
        table.seams[step.name] += 1
    for neatening in step.neatenings:
        _finish(table, step, neatening)


def _turn(table: _Table, step: Step) -> None:
    free = next((f for f in table.garment.free_edges if f.name == step.name), None)
    if free is None:
        table.say(step.number, f"the garment has no free edge '{step.name}'")
        return
    size = len(free.runs)
    for start in range(0, len(step.edges), size):
        chain = step.edges[start : start + size]
        _unbroken(table, step, chain, closed=free.closed)
        if free.closed and table.garment.length(chain) < LEAST_ROUND:
            table.say(step.number, f"{step.title}: too narrow to be sewn in the round")
        for run in chain:
            if table.sewn[_copy(run)]:
                table.say(step.number, f"{_name(run)} is sewn already and cannot be turned")
            table.turned[_copy(run)] += 1
            if table.turned[_copy(run)] > 1:
                table.say(step.number, f"{_name(run)} is turned twice")
        table.edges[step.name] += 1
    for neatening in step.neatenings:
        _finish(table, step, neatening)
    if step.fold_in == 0 and table.frays and any(not table.finished[_copy(run)] for run in step.edges):
        table.say(step.number, f"{step.title}: turned once only while its edge is still raw")
    if step.opening > 0:
        table.open_gaps.add(step.name)


def _thread(table: _Table, step: Step) -> None:
    copies = {_copy(run) for run in step.edges}
    casings = [
        f.name for f in table.garment.free_edges if {(r.piece, "as drawn", r.line) for r in f.runs} & copies
    ]
    if not all(table.turned[copy] for copy in copies):
        table.say(step.number, f"{step.title}: there is no casing to thread it through yet")
    for name in casings:
        if name not in table.open_gaps:
            table.say(step.number, f"{step.title}: the casing has no opening")
        table.open_gaps.discard(name)
        table.threaded.add(name)


# ---- at the end --------------------------------------------------------------------------------


def _cut_copies(garment: Garment) -> list[tuple[Piece, str]]:
    """Every copy of every piece; a piece on the fold is two halves."""
    return [
        (piece, side)
        for piece in garment.pieces
        for side in (SIDES if piece.copies > 1 or piece.cutting == "on fold" else SIDES[:1])
    ]


def _at_the_end(table: _Table) -> None:
    for seam in table.garment.seams:
        if table.seams[seam.name] != seam.times:
            table.say(0, f"'{seam.title}' is sewn {table.seams[seam.name]} times, not {seam.times}")
    for free in table.garment.free_edges:
        if table.edges[free.name] != free.times:
            table.say(0, f"'{free.title}' is turned {table.edges[free.name]} times, not {free.times}")
        if free.elastic > 0 and free.name not in table.threaded:
            table.say(0, f"'{free.title}' never gets its elastic")
    for name in sorted(table.open_gaps):
        table.say(0, f"the opening in '{name}' is never closed")
    for piece in table.garment.pieces:
        for dart in piece.darts:
            if table.darts[f"{piece.name} {dart.name}"] != 1:
                table.say(0, f"dart '{dart.name}' of {piece.name} is not sewn once")
    for piece, side in _cut_copies(table.garment):
        for edge in piece:
            copy = (piece.name, side, edge.name)
            if edge.kind == "fold":
                continue
            if edge.kind != "raw" and not table.sewn[copy] and not table.turned[copy]:
                table.say(0, f"{edge.name} of {piece.name} ({side}) is neither sewn nor turned")
            if table.finished[copy] == 0 and (table.frays or edge.kind != "raw"):
                table.say(0, f"{edge.name} of {piece.name} ({side}) is never finished")
