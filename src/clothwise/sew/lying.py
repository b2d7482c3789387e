"""How the work lies on the table while it is sewn: which copies hang together, what has become a tube, which
corners are one. From that: what a seam does to the shape, and which seams run on into each other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from clothwise.garment import Garment
from clothwise.sew.cut_copies import Corners
from clothwise.sew.makes import Body, whole
from clothwise.sew.step import Join, Tube


class Lying:
    """Which cut pieces hang together so far: a seam along the body within one of them closes a tube."""

    def __init__(self, garment: Garment) -> None:
        self.garment = garment
        self.lot: dict[Body, Body] = {}
        self.tubes: set[Body] = set()
        self.corners = Corners(garment)

    def root(self, body: Body) -> Body:
        while (up := self.lot.get(body, body)) != body:
            body = up
        return body

    def _roots(self, join: Join) -> list[Body]:
        return [self.root(whole(self.garment, run)) for run in join.runs]

    def effect(self, joins: Sequence[Join], *, across: bool) -> Tube:
        """What sewing the joins would do to the shape, one after another."""
        lot = dict(self.lot)
        closed: set[Body] = set()
        found: Tube = ""
        try:
            for number, join in enumerate(joins):
                a = self.root(whole(self.garment, join.a[0]))
                b = self.root(whole(self.garment, join.b[0]))
                on_edges = all(self.corners.ends(run) for run in join.b)
                if a == b and not across and on_edges:
                    if number and not found:
                        found = "closes"
                    elif not found:
                        found = "closes each"
                    elif a in closed:
                        found = "folded"
                    closed.add(a)
                elif a in self.tubes and b in self.tubes and a != b:
                    found = "nested"
                roots = self._roots(join)
                for root in roots[1:]:
                    self.lot[self.root(root)] = self.root(roots[0])
        finally:
            self.lot = lot
        return found

    def sew(self, joins: Iterable[Join], *, across: bool) -> None:
        for join in joins:
            roots = self._roots(join)
            on_edges = all(self.corners.ends(run) for run in join.b)
            if roots[0] == self.root(whole(self.garment, join.b[0])) and not across and on_edges:
                self.tubes.add(roots[0])
            for root in roots[1:]:
                if self.root(root) in self.tubes:
                    self.tubes.add(self.root(roots[0]))
                self.lot[self.root(root)] = self.root(roots[0])
            if any(root in self.tubes for root in roots):
                self.tubes.add(self.root(roots[0]))
            self.corners.sew(join)

    def joined(self, join: Join) -> bool:
        """Whether both sides hang together with something of their own already."""
        sizes: dict[Body, int] = {}
        for body in {*self.lot}:
            sizes[self.root(body)] = sizes.get(self.root(body), 1) + 1
        a, b = self.root(whole(self.garment, join.a[0])), self.root(whole(self.garment, join.b[0]))
        return all(sizes.get(root, 1) > 1 or root in self.tubes for root in (a, b))


def runs_on(one: Sequence[Join], other: Sequence[Join], corners: Corners) -> bool:
    """Whether every line of the one ends, on both sides, where a line of the other begins: sewn in one go."""
    if len(one) != len(other):
        return False
    for mine, yours in zip(one, other, strict=True):
        ends = [corners.chain_ends(ply) for ply in (mine.a, mine.b)]
        starts = [corners.chain_ends(ply) for ply in (yours.a, yours.b)]
        if not _meet(ends, starts, 1, 0):
            return False
    return True


def flanks(pair: Sequence[Join], single: Sequence[Join], corners: Corners) -> bool:
    """Whether two lines, left and right, end at either end of a single one: the ends of a stand and its top."""
    if (len(pair), len(single)) != (2, 1):
        return False
    middle = [corners.chain_ends(ply) for ply in (single[0].a, single[0].b)]
    sides = [[corners.chain_ends(ply) for ply in (join.a, join.b)] for join in pair]
    return any(
        (_meet(sides[0], middle, i, 0) and _meet(sides[1], middle, i, 1))
        or (_meet(sides[0], middle, i, 1) and _meet(sides[1], middle, i, 0))
        for i in (0, 1)
    )  # fmt: skip


def _meet(
    ends: Sequence[tuple[object, object] | None], starts: Sequence[tuple[object, object] | None], i: int, j: int
) -> bool:
    """Both plies of the one meet both plies of the other there, whichever is called a."""
    here = [e[i] for e in ends if e]
    there = [s[j] for s in starts if s]
    return len(here) == 2 and len(there) == 2 and (here == there or here == there[::-1])
