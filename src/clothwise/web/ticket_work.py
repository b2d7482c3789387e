"""Long work on one ticket, in a worker: a careful lay, the whole packet."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import best_plan, plan
from clothwise.store import Store
from clothwise.ticket.made import Made, other_layers
from clothwise.web.lay_drawing import thumbnail
from clothwise.web.lay_state import KeptLay, kept_lay, lay_mark, made_on, problem_of
from clothwise.web.laying import keep_lay
from clothwise.web.live import drawn
from clothwise.web.ticket_head import progress
from clothwise.web.ticket_state import load
from clothwise.web.work import Tell


def lay(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """Lays the ticket: a quick lay first, kept at once, then a better one as far as the effort goes.

    What is pinned stays, in its own layering, unless the lay is wanted afresh.
    """
    name = asked["ticket"]
    ticket = load(store, name).whole
    problem, mark, known = problem_of(ticket), lay_mark(ticket), NoFits()
    before = kept_lay(progress(store, name))
    pins = () if before is None or before.of != mark or asked["afresh"] else before.pinned
    pinned = tuple(p for p in before.placements if (p.piece, p.copy) in pins) if before and pins else ()
    best = None
    for effort in dict.fromkeys(("quick", asked["effort"])):
        free = replace(problem, cloth=replace(problem.cloth, length=None), pinned=pinned)
        if pinned and before is not None:
            found = plan(free, before.layering, effort=effort, known=known)
        else:
            found = best_plan(free, effort=effort, known=known)
        if best is None or found.length < best.length:
            best = found
            kept = KeptLay(mark, found.layering, found.placements, frozenset(pins))
            words = "Laid around what is pinned" if pinned else "Laid"
            keep_lay(store, name, kept, words)
            tell("laid", {"length": found.length, "effort": effort})
    cloth = ticket.cloth
    assert cloth is not None
    others = other_layers(drawn(ticket), known)
    tell("others", {layer: thumbnail(one, one.length) for layer, one in others.items()})


def packet(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """Every file of the packet, on the lay that is kept."""
    from clothwise.ticket.packet import packet as files_of

    made = made_of(store, asked["ticket"])
    tell("laid", {"length": made.plan.length})
    files = files_of(made)
    tell("packed", {"name": asked["ticket"], "files": {name: data.hex() for name, data in files.items()}})


def made_of(store: Store, name: str) -> Made:
    """The ticket worked out, on the lay that the sewer keeps where it still holds."""
    return made_on(load(store, name).whole, kept_lay(progress(store, name)))
