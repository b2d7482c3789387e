"""Long work on one ticket, in a worker: a careful lay, the whole packet."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from clothwise.errors import LayError
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import best_plan, plan
from clothwise.lay.tricks import offers
from clothwise.store import Store
from clothwise.ticket.made import Made, other_layers
from clothwise.web.lay_drawing import thumbnail
from clothwise.web.lay_state import KeptLay, endless, kept_lay, lay_mark, made_on, problem_of
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
        free = replace(endless(problem), pinned=pinned)
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


def tricks(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """Trade tricks that save cloth against the lay that is kept, each with what it saves and costs."""
    name = asked["ticket"]
    ticket = load(store, name).whole
    cloth = ticket.cloth
    assert cloth is not None
    problem, mark, known = endless(problem_of(ticket)), lay_mark(ticket), NoFits()
    kept = kept_lay(progress(store, name))
    try:
        against = kept.plan(problem) if kept and kept.of == mark else best_plan(problem, known=known)
    except LayError:
        against = None  # some trick may make it possible
    plain = cloth.make == "woven"
    for number, offer in enumerate(offers(problem, against, known=known, plain=plain), 1):
        made, same = offer.plan, offer.trick.problem.pieces == problem.pieces
        lay = KeptLay(mark, made.layering, made.placements).told() if same else None
        says = {"number": number, "title": offer.trick.says, "costs": offer.trick.costs, "saves": offer.saves}
        drawing = thumbnail(made, cloth.usable_length)
        tell("offer", {**says, "length": made.length, "lay": lay, "drawing": drawing})


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
