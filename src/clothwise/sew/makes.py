"""What kind of work a seam is, beyond joining two edges; read from what else its pieces are sewn to.

A facing has no other seam than to the garment and to itself; a band has a free edge of kind 'band' that is sewn
down later; a folded band has both its edges in one seam; two layers of a collar or cuff are sewn to each other
all round, and wherever one is sewn the other is in the same seam, or sewn down as a band.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import combinations

from clothwise.garment import Garment, Piece, Seam
from clothwise.sew.cut_copies import CutGarment, all_copies
from clothwise.sew.step import CutRun, Join, Make

Body = tuple[str, str, int]  # a whole cut copy: piece, side ('' where both halves hang together), number
ALONG = 0.5  # of the longest edge, from which an edge runs along its piece
INSIDE: tuple[Make, ...] = ("facing", "binding", "band", "layers", "sandwich", "folded on itself")
# work that shuts the raw edges of its seam in


def whole(garment: Garment, run: CutRun) -> Body:
    """The cut copy a run lies on; both halves of a fold are one."""
    return run.piece, run.side if garment.piece(run.piece).cutting == "pair" else "", run.number


def bodies(garment: Garment, runs: Iterable[CutRun]) -> frozenset[Body]:
    return frozenset(whole(garment, run) for run in runs)


def folded_piece(piece: Piece) -> bool:
    """Whether the piece is pressed in half along a line of its own."""
    return any(mark.kind == "fold line" for mark in piece.marks)


@dataclass
class Makes:
    """What each seam is, which copies are bands, and which are layers of one thing."""

    garment: Garment
    cut: CutGarment
    banded: set[Body] = field(default_factory=set)
    layers: set[frozenset[Body]] = field(default_factory=set)
    of: dict[str, Make] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for free in self.garment.free_edges:
            if free.kind == "band":
                runs = [r for chain in self.cut.chains[free.name] for r in chain if self.along(r)]
                self.banded |= bodies(self.garment, runs)
        self.layers = _layers(self.garment, self.cut)
        for seam in self.garment.seams:
            self.of[seam.name] = self._make(seam)

    def along(self, run: CutRun) -> bool:
        """Whether a band's edge runs along it: a facing's end, folded in beside a zip, makes it no band."""
        piece = self.garment.piece(run.piece)
        longest = max(edge.curve.length() for edge in piece)
        return piece.line(run.line).length() >= ALONG * longest

    def plies(self, join: Join) -> list[frozenset[Body]]:
        return [bodies(self.garment, ply) for ply in join.plies]

    def layered(self, one: frozenset[Body], other: frozenset[Body]) -> bool:
        """Whether every copy of the one ply is a layer of a copy of the other."""
        return bool(one) and all(any(frozenset((a, b)) in self.layers for b in other) for a in one)

    def _make(self, seam: Seam) -> Make:
        if seam.kind == "patch":
            return ""
        join = self.cut.joins[seam.name][0]
        plies = self.plies(join)
        a, b = plies[0], plies[1]
        if all(self._strip(body) for ply in plies for body in ply) and not self.layered(a, b):
            return "folded on itself"
        if any(ply in (a, b) for ply in plies[2:]) and a != b:
            return "folded band"
        if seam.kind == "applied":
            return "binding" if a & self.banded else "facing"
        if a != b and (self.layered(a, b) or self._lining(a) != self._lining(b)):
            return "layers"
        if any(self.layered(one, other) for one, other in combinations(plies, 2)):
            pair = next(p for p in combinations(plies, 2) if self.layered(*p))
            return "caught" if self._sewn_together(pair) else "sandwich"
        if (a | b) & self._banded_mates():
            return "band"
        return "caught" if len(plies) > 2 else ""

    def _strip(self, body: Body) -> bool:
        return body in self.banded or folded_piece(self.garment.piece(body[0]))

    def _lining(self, ply: frozenset[Body]) -> bool:
        return all(self.garment.piece(body[0]).layer == "lining" for body in ply)

    def _banded_mates(self) -> set[Body]:
        """Bands, and the layers that lie on a band."""
        mates = {b for pair in self.layers if pair & self.banded for b in pair}
        return self.banded | mates

    def _sewn_together(self, pair: tuple[frozenset[Body], frozenset[Body]]) -> bool:
        """Whether the two have a seam of their own, with nothing of the garment in it."""
        both = pair[0] | pair[1]
        return any(
            self.plies(join)[0] | self.plies(join)[1] <= both and self.plies(join)[0] != self.plies(join)[1]
            for found in self.cut.joins.values()
            for join in found
        )


def _layers(garment: Garment, cut: CutGarment) -> set[frozenset[Body]]:
    """Pairs of copies that lie on each other when done: wherever one is sewn, the other is in the same line, on
    another ply, or one of the two edges is sewn down as a band; neither has a hem."""
    seen: dict[Body, set[Body]] = defaultdict(set)
    turned = _turned(garment, cut)
    uses = _uses(garment, cut)
    for found in cut.joins.values():
        for join in found:
            plies = [bodies(garment, ply) for ply in join.plies]
            for one, other in combinations(plies, 2):
                for a in one - other:
                    seen[a] |= other - one
    return {
        frozenset((a, b))
        for a, mates in seen.items()
        for b in mates
        if a != b and not {a, b} & turned and _with_each_other(uses, a, b)
    }


Use = tuple[frozenset[Body], ...]  # the other plies of one line; empty where it is a band


def _uses(garment: Garment, cut: CutGarment) -> Mapping[Body, list[Use]]:
    uses: dict[Body, list[Use]] = defaultdict(list)
    for found in cut.joins.values():
        for join in found:
            for i, ply in enumerate(join.plies):
                others = tuple(bodies(garment, p) for j, p in enumerate(join.plies) if j != i)
                for body in bodies(garment, ply):
                    uses[body].append(others)
    return uses


def _turned(garment: Garment, cut: CutGarment) -> set[Body]:
    """Copies with a hem, casing or the like, or with an edge only neatened: they hang free."""
    found: set[Body] = set()
    for free in garment.free_edges:
        if free.kind != "band":
            found |= bodies(garment, (r for chain in cut.chains[free.name] for r in chain))
    for piece in garment.pieces:
        if any(edge.kind in ("raw", "hem", "casing") for edge in piece):
            found |= {(name, side if piece.cutting == "pair" else "", n) for name, side, n in all_copies(piece)}
    return found


def _with_each_other(uses: Mapping[Body, list[Use]], a: Body, b: Body) -> bool:
    """Wherever the one is sewn the other is another ply, but for one line: there the other may be a band, or
    the one is made of two halves."""
    alone = sum(not any(mate in ply for ply in use) for body, mate in ((a, b), (b, a)) for use in uses[body])
    return alone <= 1
