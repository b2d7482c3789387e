"""The lay of a ticket as it was kept: planned, or moved by hand, with what is pinned.

It stands in the ticket's progress under 'lay', with the mark of what it was laid for: once measures, choices or
cloth change, it is shown as laid before the change and does not count any more.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import astuple, dataclass, replace
from functools import lru_cache
from typing import Any

from clothwise.errors import ClothError, LayError
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.layering import Layering
from clothwise.lay.pins import check_placement, twin
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.lay.verify import faults
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.ticket.made import Made, lay_cloth, lay_problem, work_out
from clothwise.web.live import drawn

KEY = "lay"


@dataclass(frozen=True, slots=True)
class KeptLay:
    """Placements on the cloth; `pinned` holds (piece, copy) of what must stay."""

    of: str
    layering: Layering
    placements: tuple[Placement, ...]
    pinned: frozenset[tuple[str, int]] = frozenset()

    def plan(self, problem: LayProblem) -> LayPlan:
        """As a plan of the problem, its length read from where the pieces end; not yet verified."""
        pieces = {piece.name: piece for piece in problem.pieces}
        length = max(
            x for p in self.placements if p.piece in pieces for x, _ in p.outline_on_cloth(pieces[p.piece])
        )
        return LayPlan(replace(problem, pinned=()), self.layering, self.placements, length)

    def told(self) -> dict[str, Any]:
        """As plain JSON values."""
        return {
            "of": self.of,
            "layering": [self.layering.name, self.layering.depth, self.layering.far],
            "placements": [list(astuple(placement)) for placement in self.placements],
            "pinned": sorted([piece, copy] for piece, copy in self.pinned),
        }


def kept_lay(said: Mapping[str, Any]) -> KeptLay | None:
    """The lay in a ticket's progress."""
    told = said.get(KEY)
    if not told:
        return None
    return KeptLay(
        told["of"],
        Layering(*told["layering"]),
        tuple(Placement(*placement) for placement in told["placements"]),
        frozenset((piece, copy) for piece, copy in told["pinned"]),
    )


def lay_mark(ticket: Ticket) -> str:
    """Tells what decides a lay: the make, the body, the cloth. `ticket` is whole."""
    said = (
        ticket.pattern, sorted(ticket.choices.items()), sorted(ticket.figure.items()),
        sorted(ticket.left.items()),
        ticket.changes, sorted(ticket.body.measures.items()) if ticket.body else (), ticket.cloth,
    )  # fmt: skip
    return hashlib.sha256(repr(said).encode()).hexdigest()[:20]


def problem_of(ticket: Ticket) -> LayProblem:
    """The lay problem of a whole ticket; remembered, since it is asked while a piece is dragged."""
    return _problem(write_ticket(replace(ticket, name="", made_on="")))


@lru_cache(maxsize=8)
def _problem(text: str) -> LayProblem:
    ticket = read_ticket(text.replace('name = ""\n', 'name = "ticket"\n', 1))
    assert ticket.cloth is not None
    matched = lay_cloth(ticket.cloth).repeat is not None
    return lay_problem(lay_pieces(drawn(ticket), matched=matched), ticket.cloth)


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


def made_on(ticket: Ticket, kept: KeptLay | None) -> Made:
    """A whole ticket worked out on the lay that is kept, while that holds; else on one planned now.

    Raises  ClothError: the kept lay may not be cut as it lies, besides what `work_out` raises
    """
    if kept is None or kept.of != lay_mark(ticket):
        return work_out(ticket)
    problem = problem_of(ticket)
    wrong = all_faults(kept, problem)
    if wrong:
        raise ClothError(
            f"The lay as it was left cannot be cut: {wrong[0]}",
            where=f"ticket '{ticket.name}': cloth",
            mend="Move that piece, or lay the rest anew.",
        )
    return replace(work_out(ticket, effort="quick"), plan=replace(kept.plan(problem), verified=True))


def turned(one: Placement) -> Placement:
    """The same copy lying the other way round, its middle where it was before is kept by the caller."""
    return replace(one, angle=(one.angle + 180) % 360)
