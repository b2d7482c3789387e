"""The lays of a ticket as they were kept: planned, or moved by hand, with what is pinned. One for each cloth.

That of the main cloth stands in the ticket's progress under 'lay', that of another under 'lay second_cloth' and
so on (see `ticket.made.PLACES`), each with the mark of what it was laid for: once measures, choices or cloth
change, it is shown as laid before the change and does not count any more.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import astuple, dataclass, replace
from functools import lru_cache
from typing import Any

from clothwise.cloth import Cloth
from clothwise.errors import ClothError, LayError
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.layering import Layering
from clothwise.lay.pins import check_placement, twin
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.lay.verify import faults
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.ticket.made import PLACES, Made, divided, lay_cloth, lay_problem, work_out
from clothwise.tolerance import SAME_POINT
from clothwise.web.lay_wish import AS_USUAL, Placing
from clothwise.web.live import drawn
from clothwise.web.sheet import Reader

KEY = "lay"
IN_CM = Reader(False)
MAIN = ""  # in place of one of PLACES: the main cloth of a ticket


@dataclass(frozen=True, slots=True)
class KeptLay:
    """Placements on the cloth, as they were wished; `pinned` holds (piece, copy) of what must stay."""

    of: str
    layering: Layering
    placements: tuple[Placement, ...]
    pinned: frozenset[tuple[str, int]] = frozenset()
    placing: Placing = AS_USUAL

    def plan(self, problem: LayProblem) -> LayPlan:
        """As a plan of the problem, its length read from where the pieces end; not yet verified."""
        pieces = {piece.name: piece for piece in problem.pieces}
        length = max(
            x for p in self.placements if p.piece in pieces for x, _ in p.outline_on_cloth(pieces[p.piece])
        )
        return LayPlan(replace(self.placing.on(problem), pinned=()), self.layering, self.placements, length)

    def told(self) -> dict[str, Any]:
        """As plain JSON values."""
        return {
            "of": self.of,
            "layering": [self.layering.name, self.layering.depth, self.layering.far],
            "placements": [list(astuple(placement)) for placement in self.placements],
            "pinned": sorted([piece, copy] for piece, copy in self.pinned),
            "wished": list(astuple(self.placing)),
        }


def key_of(place: str) -> str:
    """Where the lay of a ticket's cloth stands in its progress."""
    return f"{KEY} {place}" if place else KEY


def kept_lay(said: Mapping[str, Any], place: str = MAIN) -> KeptLay | None:
    """The lay of one cloth in a ticket's progress."""
    told = said.get(key_of(place))
    if not told:
        return None
    return KeptLay(
        told["of"],
        Layering(*told["layering"]),
        tuple(Placement(*placement) for placement in told["placements"]),
        frozenset((piece, copy) for piece, copy in told["pinned"]),
        Placing(*told.get("wished", ())),
    )


def standing_lay(said: Mapping[str, Any], ticket: Ticket, place: str = MAIN) -> KeptLay | None:
    """The kept lay of one cloth, while it is of the whole ticket as it stands."""
    lay = kept_lay(said, place)
    return lay if lay is not None and lay.of == lay_mark(ticket, place) else None


def places_of(ticket: Ticket) -> tuple[str, ...]:
    """The cloths of a ticket by their places, the main one first."""
    return (MAIN, *(place for place, _ in zip(PLACES, ticket.other_cloths, strict=False)))


def cloth_at(ticket: Ticket, place: str) -> Cloth:
    """The cloth of a whole ticket at one of its places."""
    if place == MAIN:
        assert ticket.cloth is not None
        return ticket.cloth
    return ticket.other_cloths[PLACES.index(place)].cloth


def place_called(ticket: Ticket, cloth_name: str) -> str:
    """The place of the cloth of that name; the main one for any other name."""
    return next((place for place in places_of(ticket) if cloth_at(ticket, place).name == cloth_name), MAIN)


def lay_mark(ticket: Ticket, place: str = MAIN) -> str:
    """Tells what decides the lay of one cloth: the make, the body, the cloth, its share of the pieces.

    ticket  is whole
    """
    said: tuple[Any, ...] = (
        ticket.pattern, sorted(ticket.choices.items()), sorted(ticket.figure.items()),
        sorted(ticket.left.items()),
        ticket.changes, sorted(ticket.body.measures.items()) if ticket.body else (), cloth_at(ticket, place),
    )  # fmt: skip
    if place != MAIN:
        said = (*said, ticket.other_cloths[PLACES.index(place)].pieces)
    elif ticket.other_cloths:
        said = (*said, sorted(name for one in ticket.other_cloths for name in one.pieces))
    return hashlib.sha256(repr(said).encode()).hexdigest()[:20]


def problem_of(ticket: Ticket, place: str = MAIN) -> LayProblem:
    """The lay problem of one cloth of a whole ticket; remembered, since it is asked while a piece is dragged.

    Raises  TicketError: its pieces cannot be divided as the ticket says; what the draft raises
    """
    return _problems(write_ticket(replace(ticket, name="", made_on="")))[place]


@lru_cache(maxsize=8)
def _problems(text: str) -> dict[str, LayProblem]:
    ticket = read_ticket(text.replace('name = ""\n', 'name = "ticket"\n', 1))
    assert ticket.cloth is not None
    matched = lay_cloth(ticket.cloth).repeat is not None
    garment = drawn(ticket)
    kept, moved = divided(lay_pieces(garment, matched=matched), garment, ticket)
    others = {place: lay_problem(part, cloth) for place, (cloth, part) in zip(PLACES, moved, strict=False)}
    return {MAIN: lay_problem(kept, ticket.cloth), **others}


def endless(problem: LayProblem) -> LayProblem:
    """The same on cloth without an end, so that a lay tells what it takes; a remnant keeps its outline."""
    if problem.cloth.outline is not None:
        return problem
    return replace(problem, cloth=replace(problem.cloth, length=None))


def moved(lay: KeptLay, problem: LayProblem, one: Placement) -> KeptLay:
    """The lay with one copy moved, its twin in the fold with it; both are pinned from now on."""
    known = {(p.piece, p.copy): p for p in lay.placements}
    if (one.piece, one.copy) not in known:
        raise LayError("There is no such piece on this cloth.", where="lay", mend="Reload the page.")
    changed = {(one.piece, one.copy): one}
    if one.how == "double":
        other = twin(one, lay.layering, problem.cloth.width)
        changed[other.piece, other.copy] = other
    placements = tuple(changed.get((p.piece, p.copy), p) for p in lay.placements)
    return replace(lay, placements=placements, pinned=lay.pinned | frozenset(changed))


def hand_faults(lay: KeptLay, problem: LayProblem, one: Placement) -> tuple[str, ...]:
    """Why a copy may not lie so, its twin too; empty when it may."""
    problem = lay.placing.on(problem)
    after = moved(lay, problem, one)
    mine = [p for p in after.placements if (p.piece, p.copy) == (one.piece, one.copy)]
    if one.how == "double":
        mine += [p for p in after.placements if (p.piece, p.copy) == (one.piece, one.copy ^ 1)]
    said: list[str] = []
    for placement in mine:
        said += check_placement(problem, lay.layering, after.placements, placement)
    return tuple(dict.fromkeys(said))


def all_faults(lay: KeptLay, problem: LayProblem) -> tuple[str, ...]:
    """Everything wrong with the whole lay."""
    return faults(lay.plan(problem))


def made_on(ticket: Ticket, said: Mapping[str, Any]) -> Made:
    """A whole ticket worked out on the lays kept in its progress, while they hold; else on some planned now.

    Raises  ClothError: a kept lay may not be cut as it lies, besides what `work_out` raises
    """
    if wrong := left_wrong(ticket, said):
        raise wrong
    kept = {place: lay for place in places_of(ticket) if (lay := standing_lay(said, ticket, place))}
    plans = {place: replace(lay.plan(problem_of(ticket, place)), verified=True) for place, lay in kept.items()}
    return work_out(ticket, plans=plans)


def cannot_be_cut(ticket: Ticket, place: str, lay: KeptLay, who: Reader) -> ClothError | None:
    """Why a cloth may not be cut as it lies, and how it is mended; None when it may."""
    cloth, problem, where = cloth_at(ticket, place), problem_of(ticket, place), f"ticket '{ticket.name}': cloth"
    length, have = lay.plan(problem).length, cloth.usable_length
    if length > have + SAME_POINT:
        return ClothError(
            f"It needs {who.metres(length)} of {cloth.name}; there are {who.metres(have)}.",
            where=where,
            mend="Lay it anew, make it smaller, or cut some pieces from another cloth.",
        )
    if wrong := all_faults(lay, problem):
        return ClothError(
            f"The lay on {cloth.name} as it was left cannot be cut: {wrong[0]}",
            where=where,
            mend="Move that piece, or lay the rest anew.",
        )
    return None


def left_wrong(ticket: Ticket, said: Mapping[str, Any], who: Reader = IN_CM) -> ClothError | None:
    """What `made_on` would refuse, told beforehand; None while every kept lay holds."""
    for place in places_of(ticket):
        lay = standing_lay(said, ticket, place)
        if lay is not None and (wrong := cannot_be_cut(ticket, place, lay, who)):
            return wrong
    return None


def turned(one: Placement) -> Placement:
    """The same copy lying the other way round, its middle where it was before is kept by the caller."""
    return replace(one, angle=(one.angle + 180) % 360)
