"""What must be done before what: read from which edges meet, and which way a seam is sewn.

A seam that could be sewn open or closed (a sleeve, a cuff, a facing) is sewn one way by rule and the other by
wish: flat, it comes before the seams that would close it; in the round, after them. The trade does both.
Source: house rules of work, 2025-11 and 2026-11; trade knowledge (T) where a number stands without more.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from clothwise.errors import GarmentError
from clothwise.garment import Edge, FreeEdge, Garment, Run, Seam
from clothwise.sew.cut_copies import Chain, Corners, CutGarment, met
from clothwise.sew.graph import length
from clothwise.sew.makes import INSIDE, Body, Makes, bodies
from clothwise.sew.step import Join, Way

FLAT_EASE = 1.4  # cm: a sleeve head up to so much fuller than its armhole (shirt 0-1.3) goes in flat (T)
STRIP = 0.4  # of its length, up to which a piece is wide and still a strip (T)

CENTRED: Way = "centred"
LAPPED: Way = "lapped"
INVISIBLE: Way = "invisible"
ZIP_WAYS: tuple[Way, ...] = (CENTRED, LAPPED, INVISIBLE)

Preferring = Mapping[str, Way]  # name of a seam, or of a zip -> how she would rather sew it


@dataclass(frozen=True, slots=True)
class Alternative:
    """A seam, or a zip, that the trade sews in more than one way; one of these for each other way.

    way     how it is sewn unless she would rather have the other
    reason  keys of the words: why this way, and what speaks for the other
    """

    seam: str
    title: str
    way: Way
    other: Way
    reason: str
    for_other: str


@dataclass
class Needs:
    """All that waits, for all works of a garment."""

    garment: Garment
    cut: CutGarment
    makes: Makes
    preferring: Preferring
    users: dict[tuple[str, str], list[Seam]] = field(default_factory=dict)
    free: dict[tuple[str, str], FreeEdge] = field(default_factory=dict)
    alternatives: list[Alternative] = field(default_factory=list)
    ways: dict[str, Way] = field(default_factory=dict)
    before: dict[str, set[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for seam in self.garment.seams:
            for run in seam.runs:
                if seam.kind != "patch" or run in seam.a:
                    self.users.setdefault((run.piece, run.line), []).append(seam)
        for free in self.garment.free_edges:
            for run in free.runs:
                self.free[run.piece, run.line] = free
        self.before = {seam.name: self._of_seam(seam) for seam in self.garment.seams}
        for free in self.garment.free_edges:
            self.before[free.name] = self._of_free(free)
        self._zips()
        self._layers_in_one_go()
        self._flat_or_round()
        self._refuse_unknown()

    # ---- neighbours

    def seams_at(self, piece: str, edge: Edge | None) -> list[Seam]:
        return self.users.get((piece, edge.name), []) if edge else []

    def _crossings(self, chain: Chain, *, closed: bool) -> set[str]:
        """Seams met between run and run, and where a closed chain comes round."""
        found: set[str] = set()
        pairs = list(itertools.pairwise(chain))
        if closed and len(chain) > 1:
            pairs.append((chain[-1], chain[0]))
        if closed and len(chain) == 1:
            found |= self._closers(chain)
        for one, other in pairs:
            out, into = met(self.garment, one, going_out=True), met(self.garment, other, going_out=False)
            if one.copy == other.copy and out is not None and out.name == other.line:
                continue
            found |= {s.name for s in (*self.seams_at(one.piece, out), *self.seams_at(other.piece, into))}
        return found

    def _closers(self, chain: Chain) -> set[str]:
        """Seams that would join the chain's two ends."""
        first, last = met(self.garment, chain[0], going_out=False), met(self.garment, chain[-1], going_out=True)
        return {s.name for s in (*self.seams_at(chain[0].piece, first), *self.seams_at(chain[-1].piece, last))}

    def _end_edges(self, chain: Chain) -> list[tuple[Run, Edge]]:
        ends = (
            (chain[0], met(self.garment, chain[0], going_out=False)),
            (chain[-1], met(self.garment, chain[-1], going_out=True)),
        )
        return [(run, edge) for run, edge in ends if edge]

    # ---- seams

    def _of_seam(self, seam: Seam) -> set[str]:
        joins = self.cut.joins[seam.name]
        found = set(seam.after)
        if seam.kind == "patch":
            return found | self._tops(seam)
        for join in joins:
            for ply in join.plies:
                found |= self._crossings(ply, closed=False)
            found |= self._openings_at(seam, join)
            found |= self._prepared(seam, join)
            found |= self._band_first(seam, join)
        return found - {seam.name}

    def _band_first(self, seam: Seam, join: Join) -> set[str]:
        """The ends of a band are folded and shut once it is sewn on."""
        if self.makes.of[seam.name] != "folded on itself" or not self._over_the_fold(join):
            return set()
        mine = bodies(self.garment, join.runs)
        return {
            name
            for name, others in self.cut.joins.items()
            if self.makes.of[name] in INSIDE
            and self.makes.of[name] != "folded on itself"
            and any(bodies(self.garment, (*other.a, *other.b)) & mine for other in others)
        }

    def _tops(self, seam: Seam) -> set[str]:
        mine = {run.piece for run in seam.a}
        tops = {f.name for f in self.garment.free_edges if {r.piece for r in f.runs} & mine}
        return tops | {
            s.name for s in self.garment.seams if s is not seam and {r.piece for r in s.runs} <= mine
        }

    def _openings_at(self, seam: Seam, join: Join) -> set[str]:
        """Zips and stands that the seam ends at: they are caught in it. And pocket bags beside it."""
        found: set[str] = set()
        for ply in join.plies:
            for run, edge in self._end_edges(ply):
                for other in self.seams_at(run.piece, edge):
                    bag = {r.piece for r in other.a if self.garment.piece(r.piece).layer == "pocket"}
                    beside = other is not seam and bag and not bag & {r.piece for r in seam.runs}
                    if beside and seam.name not in self._crossed_by(other):  # else it is sewn on across it
                        found.add(other.name)
        # Where both sides of a seam run on into the opening, the seam comes before the zip.
        return found | {name for name, plies in self._met_by(join).items() if not {0, 1} <= plies}

    def _crossed_by(self, seam: Seam) -> set[str]:
        """Seams that lie across it between its ends."""
        plies = (ply for join in self.cut.joins[seam.name] for ply in join.plies)
        return {name for ply in plies for name in self._crossings(ply, closed=False)}

    def _met_by(self, join: Join) -> dict[str, set[int]]:
        """Zips and stands at the ends of a join, each with the plies that meet it."""
        at: dict[str, set[int]] = {}
        for i, ply in enumerate(join.plies):
            for run, edge in self._end_edges(ply):
                free = self.free.get((run.piece, edge.name))
                if free and free.kind in ("zip", "stand"):
                    at.setdefault(free.name, set()).add(i)
        return at

    def _over_the_fold(self, join: Join) -> bool:
        """Whether the strip is folded at one end of the line: the end of a band, shut when the band is on."""
        one, other = (
            met(self.garment, join.a[-1], going_out=True),
            met(self.garment, join.b[-1], going_out=True),
        )
        first, last = (
            met(self.garment, join.a[0], going_out=False),
            met(self.garment, join.b[0], going_out=False),
        )
        mine, yours = {r.line for r in join.a}, {r.line for r in join.b}
        return any(edge is not None and edge.name in yours for edge in (one, first)) or any(
            edge is not None and edge.name in mine for edge in (other, last)
        )

    def _prepared(self, seam: Seam, join: Join) -> set[str]:
        """Collars, cuffs, layers: sewn to each other before they are sewn on."""
        found: set[str] = set()
        mine = bodies(self.garment, join.runs)
        for name, others in self.cut.joins.items():
            if name == seam.name or self.makes.of[name] not in ("layers", "folded on itself"):
                continue
            inner = {b for other in others for b in bodies(self.garment, (*other.a, *other.b))}
            if not inner & mine:
                continue
            own = inner & bodies(self.garment, (*join.a, *join.b))  # not of a tie that is caught in it
            if self.makes.of[name] == "folded on itself" and own and self._over_the_fold(others[0]):
                continue
            if self.makes.of[name] == "layers" and self.makes.of[seam.name] != "layers":
                found.add(name)
            elif not own:
                found.add(name)  # a collar is turned, a tie made, before it is caught between layers
        return found

    def _layers_in_one_go(self) -> None:
        """Seams of the same two layers wait for one another's needs: ends and top of a stand are one line."""
        pairs: dict[frozenset[Body], list[str]] = {}
        for name, make in self.makes.of.items():
            if make == "layers":
                join = self.cut.joins[name][0]
                pairs.setdefault(bodies(self.garment, (*join.a, *join.b)), []).append(name)
        for names in pairs.values():
            together = set().union(*(self.before[name] for name in names)) - set(names)
            for name in names:
                self.before[name] |= together

    # ---- free edges

    def _of_free(self, free: FreeEdge) -> set[str]:
        if free.kind in ("zip", "stand"):
            return self._of_opening(free)
        found = set(free.after)
        for chain in self.cut.chains[free.name]:
            closed = free.closed and self.cut.finished.closed(chain)
            found |= self._crossings(chain, closed=closed)
            for run, edge in self._end_edges(chain):
                other = self.free.get((run.piece, edge.name))
                if other and other is not free and other.kind == "stand":
                    found.add(other.name)
                for seam in self.seams_at(run.piece, edge):
                    faced = self.makes.of[seam.name] == "facing" and free.name not in seam.after
                    if faced or free.kind == "band":
                        found.add(seam.name)
            if free.kind == "band":
                found |= self._attaching(chain)
        return found - {free.name}

    def _of_opening(self, free: FreeEdge) -> set[str]:
        """A zip waits for what runs on into its opening, not for what is sewn across its end; so a stand."""
        found = set(free.after)
        for seam in self.garment.seams:
            for join in self.cut.joins[seam.name] if seam.kind != "patch" else ():
                if free.name in self._met_by(join) and free.name not in self._openings_at(seam, join):
                    found.add(seam.name)
        return found

    def _attaching(self, chain: Chain) -> set[str]:
        """Every seam of a band's own copies, and of the layers it lies on."""
        mine = bodies(self.garment, chain)
        mine |= {b for pair in self.makes.layers if pair & mine for b in pair}
        return {
            name
            for name, joins in self.cut.joins.items()
            if any(bodies(self.garment, join.runs) & mine for join in joins)
        }

    # ---- zips

    def _zips(self) -> None:
        for free in self.garment.free_edges:
            if free.kind != "zip":
                continue
            for other in ZIP_WAYS[1:]:
                choice = Alternative(free.name, free.title, CENTRED, other, f"{CENTRED} zip", f"{other} zip")
                self.alternatives.append(choice)
            self.ways[free.name] = self.preferring.get(free.name, CENTRED)
            if self.ways[free.name] == INVISIBLE:  # set while the whole seam is open
                below = self._run_on_into(free)
                self.before[free.name] -= below
                for name in below:
                    self.before[name].add(free.name)

    def _run_on_into(self, free: FreeEdge) -> set[str]:
        """Seams that both sides of the opening run on into."""
        return {
            name
            for name, joins in self.cut.joins.items()
            if name not in free.after and any({0, 1} <= self._met_by(j).get(free.name, set()) for j in joins)
        }

    def beside_zip(self, seam: str) -> Way:
        """How the zip is set whose opening the seam runs on into."""
        zips = [f for f in self.garment.free_edges if f.kind == "zip" and seam in self._run_on_into(f)]
        return self.ways[zips[0].name] if zips else ""

    # ---- flat or in the round

    def _flat_or_round(self) -> None:
        rolled: set[str] = set()
        for seam in self.garment.seams:
            if seam.kind == "patch" or self.makes.of[seam.name] in ("layers", "folded on itself"):
                continue
            found = self._closing(seam)
            if found is None:
                continue
            closing, free_choice = found
            way, reason, for_other = self._usual(seam)
            if free_choice is None:
                self.ways[seam.name] = "flat"
                for name in closing:
                    self.before[name].add(seam.name)
                rolled.add(seam.name)
                continue
            if not free_choice:
                self.before[seam.name] |= closing
                self.ways[seam.name] = "in the round"
                continue
            other: Way = "flat" if way == "in the round" else "in the round"
            self.alternatives.append(Alternative(seam.name, seam.title, way, other, reason, for_other))
            chosen = self.preferring.get(seam.name, way)
            self.ways[seam.name] = chosen
            if chosen == "in the round":
                self.before[seam.name] |= closing
            else:
                for name in closing:
                    self.before[name].add(seam.name)
        for name in rolled:  # the facing hangs at the neck before its armholes are sewn from inside
            self.before[name] |= self._same_facing(name) - rolled

    def _same_facing(self, name: str) -> set[str]:
        """Other seams by which the same facing is sewn to the garment."""
        mine = bodies(self.garment, (r for join in self.cut.joins[name] for r in join.a))
        return {
            other.name
            for other in self.garment.seams
            if other.kind == "applied"
            and other.name != name
            and mine & bodies(self.garment, (r for join in self.cut.joins[other.name] for r in join.a))
        }

    def hangs_already(self, seam: Seam) -> bool:
        """Whether its facing is sewn to the garment along another edge too: neck and armholes in one."""
        return seam.kind == "applied" and bool(self._same_facing(seam.name))

    def _closing(self, seam: Seam) -> tuple[set[str], bool | None] | None:
        """Seams that close the line this one runs along, and whether it may also be sewn before them; None
        where it must be, because what is sewn all round could not be turned."""
        lines = [ply for join in self.cut.joins[seam.name] for ply in (join.a, join.b)]
        if not all(self._may_close(ply) for ply in lines):
            return None
        without = self._corners(name for name in self.cut.joins if name != seam.name)
        if not all(without.closed(ply) for ply in lines):
            return None
        already = self._corners(self.all_before(seam.name))
        shut = any(already.closed(ply) for ply in lines)
        closing = {
            name for ply in lines if not already.closed(ply) for name in self._closers(ply) - {seam.name}
        }
        if closing and self.hangs_already(seam):
            return closing, None
        make = self.makes.of[seam.name]
        waits = any(seam.name in self.all_before(name) for name in closing)
        if waits:
            return None
        forced = shut or make in ("folded band", "band", "binding", "caught")
        return closing, not forced

    def _may_close(self, ply: Chain) -> bool:
        """Whether both its ends meet a fold or an edge that is sewn to something: else they stay apart."""
        ends = (
            (ply[0].piece, met(self.garment, ply[0], going_out=False)),
            (ply[-1].piece, met(self.garment, ply[-1], going_out=True)),
        )
        return all(
            edge is not None and (edge.kind == "fold" or (piece, edge.name) in self.users or not edge.allowance)
            for piece, edge in ends
        )

    def _corners(self, names: Iterable[str]) -> Corners:
        """Corners as they are when the darts and these seams have been sewn."""
        corners = Corners(self.garment, places=self.cut.finished.places)
        for piece in self.garment.pieces:
            corners.close_darts(piece)
        for name in names:
            for join in self.cut.joins.get(name, ()):
                corners.sew(join)
        return corners

    def all_before(self, name: str) -> set[str]:
        found: set[str] = set()
        waiting = [name]
        while waiting:
            for one in self.before.get(waiting.pop(), ()):
                if one not in found:
                    found.add(one)
                    waiting.append(one)
        return found

    def _usual(self, seam: Seam) -> tuple[Way, str, str]:
        """How the trade mostly sews it, why, and what speaks for the other way."""
        join = self.cut.joins[seam.name][0]
        fuller = length(self.garment, join.a) - length(self.garment, join.b)
        if seam.kind == "stretched":
            return "in the round", "round band", "flat quick"
        if seam.kind == "gathered":
            return "in the round", "round gathers", "flat quick"
        if seam.kind == "pleated":
            return "in the round", "round pleats", "flat quick"
        if seam.kind == "applied":
            return "in the round", "round facing", "flat facing"
        if any(self._ring_strip(ply) for ply in (join.a, join.b)):
            return "in the round", "round band", "flat quick"
        if fuller > FLAT_EASE:
            return "in the round", "round cap", "flat cap eased"
        return "flat", "flat cap", "round looks"

    def _ring_strip(self, ply: Chain) -> bool:
        """Whether the ply is one strip joined end to end: its two ends are sewn to each other."""
        first, last = met(self.garment, ply[0], going_out=False), met(self.garment, ply[-1], going_out=True)
        if len({run.copy for run in ply}) > 1 or first is None or last is None:
            return False
        piece = self.garment.piece(ply[0].piece)
        long = piece.line(ply[0].line).length()
        short = max(first.curve.length(), last.curve.length())
        return short < STRIP * long and any(
            {first.name, last.name} <= {r.line for r in seam.runs if r.piece == piece.name}
            for seam in self.garment.seams
        )

    def _refuse_unknown(self) -> None:
        possible: dict[str, list[Way]] = {}
        for choice in self.alternatives:
            possible.setdefault(choice.seam, [choice.way]).append(choice.other)
        for name, way in self.preferring.items():
            if way not in possible.get(name, []):
                raise GarmentError(
                    f"'{name}' cannot be sewn {way}.",
                    where=f"garment '{self.garment.name}': how a seam is sewn",
                    mend=f"There is a choice for {_listed(possible)}."
                    if possible
                    else "This garment has no seam that could be sewn either way.",
                )


def _listed(possible: Mapping[str, Iterable[str]]) -> str:
    return ", ".join(f"'{name}' ({' or '.join(ways)})" for name, ways in possible.items())
