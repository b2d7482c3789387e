"""From the pattern's graph to the cut copies on the table: which copy is in which seam, and in what line.

The graph says "sewn twice"; cloth is cut in copies. Here every run of every seam and free edge is given its
cut copy, and runs that are stitched without stopping are put into one line:
- a work the garment has twice joins the runs as written, and once more their mirror images;
- of several copies alike (cuffs, collars, pocket bags) each line of each copy is used once, left before right;
- a seam written by halves that meet on a fold or in a centre seam is one line, not two;
- a free edge runs on over every seam it meets when the garment is finished.
Corners: (piece, side, number, i) is where edge i of that copy starts; sewing makes corners one.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from clothwise.garment import Edge, FreeEdge, Garment, Piece, Run, Seam
from clothwise.garment.garment import Side
from clothwise.sew.step import CutRun, Join

Corner = tuple[str, str, int, int]
Chain = tuple[CutRun, ...]
DRAWN: Side = "as drawn"
MIRRORED: Side = "mirrored"


def hands(piece: Piece) -> tuple[Side, ...]:
    """The sides a piece's copies have: halves of a fold, left and right of a pair, or one."""
    return (DRAWN,) if piece.cutting == "single" else (DRAWN, MIRRORED)


def alike(piece: Piece) -> int:
    """How many copies of one hand are cut."""
    return max(piece.copies // 2, 1) if piece.cutting == "pair" else piece.copies


def all_copies(piece: Piece) -> Iterator[tuple[str, Side, int]]:
    """Every cut copy; of a piece on the fold every half."""
    for number in range(alike(piece)):
        for side in hands(piece):
            yield piece.name, side, number


def back(chain: Sequence[CutRun]) -> Chain:
    """The chain walked from its other end."""
    return tuple(CutRun(r.piece, r.line, not r.backwards, r.side, r.number) for r in reversed(chain))


# ---- corners -----------------------------------------------------------------------------------


def places(pieces: tuple[Piece, ...]) -> dict[tuple[str, str], tuple[int, int]]:
    """(piece, edge) -> numbers of the corners where it starts and ends."""
    return {
        (piece.name, edge.name): (i, (i + 1) % len(piece.edges))
        for piece in pieces
        for i, edge in enumerate(piece.edges)
    }


@dataclass
class Corners:
    """Corners of the cut copies, and which have become one."""

    garment: Garment
    one: dict[Corner, Corner] = field(default_factory=dict)
    places: dict[tuple[str, str], tuple[int, int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if not self.places:
            self.places = places(self.garment.pieces)
        for piece in self.garment.pieces:
            for number, edge in enumerate(piece):
                if edge.kind == "fold":
                    for i in (number, (number + 1) % len(piece.edges)):
                        for copy in range(alike(piece)):
                            self.glue((piece.name, DRAWN, copy, i), (piece.name, MIRRORED, copy, i))

    def find(self, corner: Corner) -> Corner:
        while (up := self.one.get(corner, corner)) != corner:
            corner = up
        return corner

    def glue(self, a: Corner, b: Corner) -> None:
        a, b = self.find(a), self.find(b)
        if a != b:
            self.one[a] = b

    def ends(self, run: CutRun) -> tuple[Corner, Corner] | None:
        """Corner where the run is entered and where it is left; None for a line drawn inside the piece."""
        place = self.places.get((run.piece, run.line))
        if place is None:
            return None
        first, last = reversed(place) if run.backwards else place
        copy = run.piece, run.side, run.number
        return self.find((*copy, first)), self.find((*copy, last))

    def chain_ends(self, chain: Chain) -> tuple[Corner, Corner] | None:
        first, last = self.ends(chain[0]), self.ends(chain[-1])
        return (first[0], last[1]) if first and last else None

    def closed(self, chain: Chain) -> bool:
        """Whether the chain ends where it began."""
        ends = self.chain_ends(chain)
        return ends is not None and ends[0] == ends[1]

    def sew(self, join: Join) -> None:
        """Make the corners that a join brings together one."""
        for ply in join.plies[1:]:
            pairs = zip(join.a, ply, strict=True) if len(ply) == len(join.a) else ((join.a[0], ply[0]),)
            for one, other in pairs:
                self._bring(one, other, 0)
                if len(ply) == len(join.a):
                    self._bring(one, other, 1)
            self._bring(join.a[-1], ply[-1], 1)

    def _bring(self, one: CutRun, other: CutRun, end: int) -> None:
        a, b = self.ends(one), self.ends(other)
        if a and b:
            self.glue(a[end], b[end])

    def close_darts(self, piece: Piece) -> None:
        names = [edge.name for edge in piece]
        for dart in (d for d in piece.darts if d.edge):
            i = names.index(dart.edge)
            for copy in all_copies(piece):
                self.glue((*copy, i), (*copy, (i + 1) % len(names)))


# ---- which copy --------------------------------------------------------------------------------


class _Taken:
    """Which line of which copy is already in a seam or free edge."""

    def __init__(self, garment: Garment) -> None:
        self.garment = garment
        self.taken: set[tuple[str, str, int, str]] = set()
        self.rows = _rows(garment)

    def join(self, seam: Seam, turn: int) -> Join:
        """One copy of the seam. Strips that lie in a row are joined each to the next, not to themselves."""
        if not self._joins_a_row(seam):
            return Join(
                self.chain(seam.a, turn, seam.times),
                self.chain(seam.b, turn, seam.times),
                tuple(self.chain(ply, turn, seam.times) for ply in seam.more),
                seam.name,
            )
        a, b = (tuple(self._in_row(run, turn) for run in ply) for ply in (seam.a, seam.b))
        return Join(a, b, (), seam.name)

    def _joins_a_row(self, seam: Seam) -> bool:
        """Whether it joins pieces of a row to the next of them, each to its own like."""
        mine = [run.piece for run in seam.a]
        return mine == [run.piece for run in seam.b] and all(piece in self.rows for piece in mine)

    def _in_row(self, run: Run, turn: int) -> CutRun:
        piece = self.garment.piece(run.piece)
        side = _other(run.side) if turn % 2 and piece.cutting != "single" else run.side
        number = (turn if (side, run.line) == self.rows[run.piece] else turn + 1) % alike(piece)
        self.taken.add((run.piece, side, number, run.line))
        return CutRun(run.piece, run.line, run.backwards, side, number)

    def chain(self, runs: Sequence[Run], turn: int, times: int) -> Chain:
        """The runs of the work's copy number `turn`, on copies whose lines are still free."""
        found: list[CutRun] = []
        for run in runs:
            piece = self.garment.piece(run.piece)
            side = run.side
            if turn % 2 and piece.cutting != "single":
                side = _other(run.side)
            same = [r.number for r in found if r.piece == run.piece]
            number = self._number(piece, run.line, side, turn, times, same[-1:])
            found.append(CutRun(run.piece, run.line, run.backwards, side, number))
            self.taken.add((run.piece, side, number, run.line))
        return tuple(found)

    def _number(self, piece: Piece, line: str, side: str, turn: int, times: int, before: Sequence[int]) -> int:
        n = alike(piece)
        first = 0 if piece.cutting == "on fold" else turn * n // times
        order = [*before, *((first + i) % n for i in range(n))]
        return next((i for i in order if (piece.name, side, i, line) not in self.taken), first)


def _other(side: Side) -> Side:
    return DRAWN if side == MIRRORED else MIRRORED


def _rows(garment: Garment) -> dict[str, tuple[Side, str]]:
    """Pieces of which several copies lie one after another in one line, and the side and edge where a copy ends
    and the next begins."""
    found: dict[str, tuple[Side, str]] = {}
    plies = [ply for seam in garment.seams for ply in (seam.a, seam.b, *seam.more)]
    for runs in (*plies, *(free.runs for free in garment.free_edges)):
        for i, run in enumerate(runs):
            again = next((j for j in range(i + 1, len(runs)) if _same_line(runs[j], run)), None)
            if again is not None:
                last = runs[again - 1]
                edge = met(garment, last, going_out=True)
                if last.piece == run.piece and edge is not None:
                    found.setdefault(run.piece, (last.side, edge.name))
    return found


def _same_line(one: Run, other: Run) -> bool:
    return (one.piece, one.line, one.side) == (other.piece, other.line, other.side)


# ---- lines -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class CutGarment:
    """The garment's works on its cut copies: joins of each seam, chains of each free edge."""

    joins: Mapping[str, tuple[Join, ...]]
    chains: Mapping[str, tuple[Chain, ...]]
    finished: Corners  # all sewn


def cut_garment(garment: Garment) -> CutGarment:
    """Every seam's and free edge's lines on cut copies."""
    taken = _Taken(garment)
    joins = {seam.name: tuple(taken.join(seam, turn) for turn in range(seam.times)) for seam in garment.seams}
    centre = Corners(garment)
    for seam in garment.seams:
        if own_mirror(seam):
            for join in joins[seam.name]:
                centre.sew(join)
    for seam in garment.seams:
        if not own_mirror(seam):
            blocked = {s.name for s in garment.seams if own_mirror(s) and _meets(garment, s, seam)}
            joins[seam.name] = _in_one(joins[seam.name], Corners(garment) if blocked else centre)
    finished = Corners(garment)
    for piece in garment.pieces:
        finished.close_darts(piece)
    for found in joins.values():
        for join in found:
            finished.sew(join)
    chains = {
        free.name: _chains(
            garment, free, tuple(taken.chain(free.runs, n, free.times) for n in range(free.times)), finished
        )
        for free in garment.free_edges
    }
    return CutGarment(joins, chains, finished)


def own_mirror(seam: Seam) -> bool:
    """Whether it joins pieces to their own mirror images: centre seams, crotch seams."""
    return {r.piece for r in seam.a} == {r.piece for r in seam.b} and any(
        a.side != b.side for a, b in zip(seam.a, seam.b, strict=False)
    )


def _meets(garment: Garment, long: Seam, short: Seam) -> bool:
    """Whether the long seam is sewn across the short one."""
    lines = {(r.piece, r.line) for r in short.runs}
    for runs in (long.a, long.b):
        for one, other in itertools.pairwise(runs):
            for run, at_end in ((one, True), (other, False)):
                edge = neighbour(garment.piece(run.piece), run.line, at_end=at_end != run.backwards)
                if edge and (run.piece, edge.name) in lines:
                    return True
    return False


def _in_one(found: tuple[Join, ...], corners: Corners) -> tuple[Join, ...]:
    """Two halves that meet, on every ply, on a fold or in a centre seam are one line."""
    if len(found) != 2:
        return found
    one, other = found
    for end in (0, 1):
        meet = []
        for mine, yours in zip(one.plies, other.plies, strict=True):
            a, b = corners.chain_ends(mine), corners.chain_ends(yours)
            if a and b:  # a line drawn inside a piece has no corners to meet at
                meet.append(a[end] == b[end])
        if meet and all(meet):
            plies = [
                (*back(yours), *mine) if end == 0 else (*mine, *back(yours))
                for mine, yours in zip(one.plies, other.plies, strict=True)
            ]
            return (Join(plies[0], plies[1], tuple(plies[2:]), one.seam),)
    return found


def _chains(
    garment: Garment, free: FreeEdge, copies: tuple[Chain, ...], finished: Corners
) -> tuple[Chain, ...]:
    """Runs put one after another as they lie when all is sewn; what is turned flat runs on over folds only."""
    if free.kind == "pocket top" or any(finished.ends(run) is None for ply in copies for run in ply):
        return copies
    corners = finished
    if not free.closed and free.kind != "zip":
        corners = Corners(garment)
        for piece in garment.pieces:
            corners.close_darts(piece)
        for ply in copies:
            for one, other in itertools.pairwise(ply):
                a, b = corners.ends(one), corners.ends(other)
                if a and b and finished.find(a[1]) == finished.find(b[0]):
                    corners.glue(a[1], b[0])
    return _walks([run for ply in copies for run in ply], corners)


def _walks(runs: list[CutRun], corners: Corners) -> tuple[Chain, ...]:
    found: list[Chain] = []
    left = list(runs)
    while left:
        chain = [left.pop(0)]
        for forward in (True, False):
            while not corners.closed(tuple(chain)):
                following = _next(chain, left, corners, forward=forward)
                if following is None:
                    break
                run, turned = following
                left.remove(run)
                run = back((run,))[0] if turned else run
                chain = [*chain, run] if forward else [run, *chain]
        found.append(tuple(chain))
    return tuple(found)


def _next(
    chain: list[CutRun], left: list[CutRun], corners: Corners, *, forward: bool
) -> tuple[CutRun, bool] | None:
    """A run that begins where the chain ends (or ends where it begins), and whether it must be turned."""
    ends = corners.chain_ends(tuple(chain))
    if ends is None:
        return None
    here = ends[1] if forward else ends[0]
    for run in left:
        mine = corners.ends(run)
        if mine and mine[0 if forward else 1] == here:
            return run, False
    for run in left:
        mine = corners.ends(run)
        if mine and mine[1 if forward else 0] == here:
            return run, True
    return None


# ---- neighbours --------------------------------------------------------------------------------


def neighbour(piece: Piece, line: str, *, at_end: bool) -> Edge | None:
    """The edge that meets this edge at its end (else at its start); None for a line inside the piece."""
    names = [edge.name for edge in piece]
    if line not in names:
        return None
    return piece.edges[(names.index(line) + (1 if at_end else -1)) % len(names)]


def met(garment: Garment, run: Run, *, going_out: bool) -> Edge | None:
    """The edge that meets the run where it is left (else where it is entered)."""
    return neighbour(garment.piece(run.piece), run.line, at_end=going_out != run.backwards)


def lines_of(joins: Iterable[Join]) -> set[tuple[str, str]]:
    """(piece, line) of every run."""
    return {(run.piece, run.line) for join in joins for run in join.runs}
