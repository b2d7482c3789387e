"""Long work on one ticket, in a worker: a careful lay, the whole packet."""

from __future__ import annotations

import math
import signal
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

from clothwise.draft import pattern
from clothwise.errors import ChoiceError, ClothError, DraftError, LayError
from clothwise.garment.check import check
from clothwise.lay.answers import longer_words
from clothwise.lay.answers import longest as longest_lay
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.layering import SINGLE
from clothwise.lay.nofit import NoFits
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import best_plan, plan
from clothwise.lay.tricks import offers
from clothwise.race.racing import race
from clothwise.store import Store
from clothwise.suggest.longest import STEP
from clothwise.ticket import Ticket
from clothwise.ticket.made import BLADE_GAP, Made, divided, lay_cloth
from clothwise.web.lay_drawing import thumbnail
from clothwise.web.lay_state import (
    MAIN,
    KeptLay,
    cloth_at,
    endless,
    lay_mark,
    made_on,
    places_of,
    problem_of,
    standing_lay,
)
from clothwise.web.lay_wish import AS_USUAL, wish_told
from clothwise.web.laying import keep_lay
from clothwise.web.live import FIRST_EFFORTS, drawn
from clothwise.web.ticket_head import progress
from clothwise.web.ticket_state import load
from clothwise.web.work import Tell


def lay(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """Lays the cloth in view, then each other cloth of the ticket that has no lay yet."""
    ticket = load(store, asked["ticket"]).whole
    said, wanted, known = progress(store, asked["ticket"]), asked.get("place", MAIN), NoFits()
    others = [p for p in places_of(ticket) if p != wanted and standing_lay(said, ticket, p) is None]
    for place in (wanted, *others):
        _lay(store, {**asked, "place": place}, ticket, known, tell)


def _lay(store: Store, asked: dict[str, Any], ticket: Ticket, known: NoFits, tell: Tell) -> None:
    """Lays one cloth: a quick lay first, kept at once, then a better one as far as effort or clock go.

    What is pinned stays, in its own layering, unless the lay is wanted afresh or folded in another way.
    """
    name, place = asked["ticket"], asked["place"]
    wish = wish_told(asked)
    before, folded = standing_lay(progress(store, name), ticket, place), wish.layering
    pins = before.pinned if before and not wish.afresh and folded is None else frozenset()
    pinned = tuple(p for p in before.placements if (p.piece, p.copy) in pins) if before else ()
    problem = replace(endless(wish.placing.on(problem_of(ticket, place))), pinned=pinned)
    layering = before.layering if pinned and before else folded
    mark, cloth = lay_mark(ticket, place), cloth_at(ticket, place).name
    words = "Laid around what is pinned" if pinned else "Laid"
    best: LayPlan | None = None

    def keep(found: LayPlan | None, effort: str) -> None:
        nonlocal best
        if found is not None and (best is None or found.length < best.length):
            best = found
            kept = KeptLay(mark, found.layering, found.placements, pins, wish.placing)
            keep_lay(store, name, kept, f"{words}: {cloth}", place)
            tell("laid", {"length": found.length, "effort": effort, "cloth": cloth})

    def look(effort: str) -> LayPlan:
        if layering is None:
            return best_plan(problem, effort=effort, known=known)
        return plan(problem, layering, effort=effort, known=known)

    keep(min((look(one) for one in FIRST_EFFORTS), key=lambda made: made.length), "quick")
    if wish.seconds is not None:
        ticking = _ticking(wish.seconds, tell)

        def watch(found: LayPlan | None) -> bool:
            keep(found, "raced")
            return ticking()

        with _ended_in_order():
            keep(race(problem, layering or SINGLE, seconds=wish.seconds, known=known, watch=watch), "raced")
    elif wish.effort != "quick":
        keep(look(wish.effort), wish.effort)


@contextmanager
def _ended_in_order() -> Iterator[None]:
    """A worker that is ended in here takes the packer along, which would else run on by its own clock."""
    before = signal.signal(signal.SIGTERM, lambda *_: sys.exit())
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _ticking(seconds: float, tell: Tell) -> Callable[[], bool]:
    """Tells once a second how many are left; never ends the search, which the clock does."""
    until, told = time.monotonic() + seconds, math.inf

    def tick() -> bool:
        nonlocal told
        left = max(0, math.ceil(until - time.monotonic()))
        if left < told:
            told = left
            tell("clock", {"left": left})
        return True

    return tick


def tricks(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """Trade tricks that save cloth against the lay that is kept, each with what it saves and costs."""
    name, place = asked["ticket"], asked.get("place", MAIN)
    ticket = load(store, name).whole
    cloth, mark, known = cloth_at(ticket, place), lay_mark(ticket, place), NoFits()
    problem = endless(problem_of(ticket, place))
    kept = standing_lay(progress(store, name), ticket, place)
    placing = kept.placing if kept else AS_USUAL
    problem = placing.on(problem)
    try:
        against = kept.plan(problem) if kept else best_plan(problem, known=known)
    except LayError:
        against = None  # some trick may make it possible
    plain = cloth.make == "woven"
    for number, offer in enumerate(offers(problem, against, known=known, plain=plain), 1):
        made, same = offer.plan, offer.trick.problem.pieces == problem.pieces
        lay = KeptLay(mark, made.layering, made.placements, placing=placing).told() if same else None
        says = {"number": number, "title": offer.trick.says, "costs": offer.trick.costs, "saves": offer.saves}
        drawing = thumbnail(made, cloth.usable_length)
        tell("offer", {**says, "length": made.length, "lay": lay, "drawing": drawing})


def longest(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """The greatest length at which what is cut from the main cloth goes onto it, the ticket as it is altered.

    Raises  ChoiceError: its draft has no length to choose; ClothError: it does not go on, however short
    """
    state = load(store, asked["ticket"])
    ticket, draft = state.whole, pattern(state.ticket.pattern)
    if not draft.shortened_by:
        raise ChoiceError(
            f"{draft.title} has no length to choose.",
            where=f"ticket '{state.name}'",
            mend="Change its measures.",
        )
    choice = draft.choice(draft.shortened_by)

    def pieces(by: float) -> tuple[LayPiece, ...]:
        garment = drawn(replace(ticket, choices={**ticket.choices, choice.name: by}))
        if check(garment):
            raise DraftError(f"It cannot be drawn {longer_words(by)}.")
        return divided(lay_pieces(garment, matched=state.cloth.repeat_along > 0), garment, ticket)[0]

    found = longest_lay(
        pieces, lay_cloth(state.cloth), shortest=choice.low, most=choice.high, step=STEP, gap=BLADE_GAP,
        effort="quick", says=longer_words,
    )  # fmt: skip
    if found.length is None or found.plan is None:
        raise ClothError(
            f"It does not go onto {state.cloth.name}, however short.",
            where=f"ticket '{state.name}'",
            mend="Take another cloth, or cut some pieces from another.",
        )
    now = ticket.choices.get(choice.name, choice.default)
    told = {"by": found.length, "words": longer_words(found.length), "why": found.reason}
    capped = found.length >= choice.high
    tell("longest", {**told, "length": found.plan.length, "capped": capped, "same": found.length == now})


def packet(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """Every file of the packet, on the lay that is kept."""
    from clothwise.ticket.packet import packet as files_of

    made = made_of(store, asked["ticket"])
    tell("laid", {"length": made.plan.length})
    files = files_of(made)
    tell("packed", {"name": asked["ticket"], "files": {name: data.hex() for name, data in files.items()}})


def made_of(store: Store, name: str) -> Made:
    """The ticket worked out, on the lay that the sewer keeps where it still holds."""
    return made_on(load(store, name).whole, progress(store, name))
