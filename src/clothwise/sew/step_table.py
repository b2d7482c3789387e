"""The paper table of the step check: every cut copy as a ring of edges, and what has been done to each.

Independent of the code that orders: corners of copies become one as runs are sewn, copies become one thing,
and a thing sewn to itself becomes a tube.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from clothwise.curve import nearest
from clothwise.garment import Edge, Garment, Piece
from clothwise.sew.step import CutRun, Step
from clothwise.tolerance import ON_OUTLINE

Copy = tuple[str, str, int]  # piece, side, which of those alike
Corner = tuple[str, str, int, int]  # copy and the number of the edge that starts there
EdgeCopy = tuple[str, str, int, str]

SIDES = ("as drawn", "mirrored")


@dataclass(frozen=True, slots=True)
class StepFault:
    """One thing that cannot be done, or is left undone. step 0 = at the end."""

    step: int
    what: str


def cut_copies(piece: Piece) -> Iterator[Copy]:
    """Every copy of a piece; a piece on the fold is two halves."""
    for number in range(piece.copies // 2 if piece.cutting == "pair" else piece.copies):
        for side in SIDES[:1] if piece.cutting == "single" else SIDES:
            yield piece.name, side, number


def edge_copy(run: CutRun) -> EdgeCopy:
    return run.piece, run.side, run.number, run.line


def run_name(run: CutRun) -> str:
    return f"{run.line.replace('_', ' ')} of {run.piece.replace('_', ' ')} ({run.side})"


def pleat_takes(piece: Piece, line: str) -> float:
    """What the pleats marked at an edge take up, told by where their two lines meet it. [cm]"""
    edge = next((e.curve for e in piece if e.name == line), None)
    lines = [mark for mark in piece.marks if "pleat" in mark.name]
    if edge is None or not lines:
        return 0.0
    along = {
        mark.name: near.along
        for mark in lines
        for end in (mark.curve.start, mark.curve.end)
        if (near := nearest(edge, end)).away <= ON_OUTLINE
    }
    return sum(
        abs(at - along[mate])
        for name, at in along.items()
        if name.endswith("_fold") and (mate := f"{name.removesuffix('_fold')}_meets") in along
    )


@dataclass
class Table:
    """The work as it lies on the table."""

    garment: Garment
    frays: bool
    faults: list[StepFault] = field(default_factory=list)
    glued: dict[Corner, Corner] = field(default_factory=dict)
    lots: dict[Copy, Copy] = field(default_factory=dict)
    tubes: set[Copy] = field(default_factory=set)
    sewn: Counter[EdgeCopy] = field(default_factory=Counter)
    turned: Counter[EdgeCopy] = field(default_factory=Counter)
    finished: Counter[EdgeCopy] = field(default_factory=Counter)
    folded: Counter[EdgeCopy] = field(default_factory=Counter)
    gathered: Counter[EdgeCopy] = field(default_factory=Counter)
    pleated: Counter[EdgeCopy] = field(default_factory=Counter)
    tucked: Counter[EdgeCopy] = field(default_factory=Counter)
    inside: list[tuple[Step, CutRun]] = field(default_factory=list)
    uses: Counter[tuple[str, int, EdgeCopy]] = field(default_factory=Counter)  # seam, ply, edge
    edges: Counter[str] = field(default_factory=Counter)
    darts: Counter[EdgeCopy] = field(default_factory=Counter)
    dart_count: Counter[str] = field(default_factory=Counter)
    fused: set[str] = field(default_factory=set)
    pressed: dict[str, bool] = field(default_factory=dict)
    open_gaps: set[str] = field(default_factory=set)
    threaded: set[str] = field(default_factory=set)
    holes: set[tuple[str, str]] = field(default_factory=set)
    buttons: int = 0

    def __post_init__(self) -> None:
        for piece in self.garment.pieces:
            for number, edge in enumerate(piece):
                if edge.kind == "fold":  # both halves share the fold's two ends
                    for corner in (number, (number + 1) % len(piece.edges)):
                        for _, side, copy in cut_copies(piece):
                            self.glue((piece.name, SIDES[0], copy, corner), (piece.name, side, copy, corner))

    def say(self, step: int, what: str) -> None:
        self.faults.append(StepFault(step, what))

    @property
    def single(self) -> set[str]:
        """Pieces of which no mirror image is cut."""
        return {piece.name for piece in self.garment.pieces if piece.cutting == "single"}

    # ---- corners

    def corner(self, corner: Corner) -> Corner:
        while (up := self.glued.get(corner, corner)) != corner:
            corner = up
        return corner

    def glue(self, one: Corner, other: Corner) -> None:
        a, b = self.corner(one), self.corner(other)
        if a != b:
            self.glued[a] = b

    def edge(self, run: CutRun) -> Edge | None:
        return next((e for e in self.garment.piece(run.piece) if e.name == run.line), None)

    def ends(self, run: CutRun) -> tuple[Corner, Corner] | None:
        """Corner where the run is entered and where it is left; None for a line drawn inside the piece."""
        names = [edge.name for edge in self.garment.piece(run.piece)]
        if run.line not in names:
            return None
        number = names.index(run.line)
        after = (number + 1) % len(names)
        first, last = (after, number) if run.backwards else (number, after)
        here = (run.piece, run.side, run.number)
        return self.corner((*here, first)), self.corner((*here, last))

    def join(self, a: CutRun, b: CutRun, *, at_start: bool) -> None:
        """Make the entering (or leaving) corners of two runs one."""
        one, other = self.ends(a), self.ends(b)
        if one and other:
            self.glue(one[0 if at_start else 1], other[0 if at_start else 1])

    def closed(self, runs: Sequence[CutRun]) -> bool:
        first, last = self.ends(runs[0]), self.ends(runs[-1])
        return bool(first and last and first[0] == last[1])

    # ---- things

    def lot(self, copy: Copy) -> Copy:
        """The thing on the table that a cut copy has become part of."""
        piece, side, number = copy
        copy = (piece, side if self.garment.piece(piece).cutting == "pair" else SIDES[0], number)
        while (up := self.lots.get(copy, copy)) != copy:
            copy = up
        return copy

    def merge(self, runs: Iterable[CutRun]) -> None:
        """The copies become one thing."""
        first, *rest = [self.lot(run.copy) for run in runs]
        for lot in rest:
            if lot != first and self.lot(lot) != first:
                if lot in self.tubes:
                    self.tubes.add(first)
                self.lots[lot] = first

    def all_copies(self) -> list[tuple[Piece, Copy]]:
        return [(piece, copy) for piece in self.garment.pieces for copy in cut_copies(piece)]
