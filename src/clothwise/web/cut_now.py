"""The cloths of a ticket are cut: what each lay takes comes off the cupboard, what is left goes in. It is one
deed on cloths, ticket and progress, and undo takes it back like any other. Where more was done since, the cloth
is put back by a button of its own, which is a deed too.

From then on the ticket carries its cloth as it was, so that its lay, its sheets and its order stay as they were
cut; the cupboard has the remnant. A mark in the ticket's progress, 'cut', says what was cut.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.cloth import Cloth
from clothwise.errors import LayError, StoreError, WorkroomError
from clothwise.lay.plan import LayPlan
from clothwise.store import KeptTicket, Store, deeds
from clothwise.store.cutting import Cut, cut
from clothwise.store.progress import KeptProgress
from clothwise.store.store import CLOTH, HOW_FAR, TICKET
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.web.lay_state import (
    cannot_be_cut,
    cloth_at,
    places_of,
    problem_of,
    standing_lay,
)
from clothwise.web.sheet import Reader, go_to, named, reader, slug, store_of
from clothwise.web.ticket_head import progress
from clothwise.web.ticket_state import keep, load

KEY = "cut"


@dataclass(frozen=True, slots=True)
class CutNow:
    """A ticket that is cut. `cloths` with what was used of each [cm]."""

    cloths: tuple[tuple[str, float], ...]
    left: tuple[str, ...]
    on: str
    wrote: bool  # the cloth was written onto the ticket then


def cut_of(store: Store, said: Mapping[str, Any]) -> CutNow | None:
    """How the ticket with this progress was cut; None: it is not, or it was taken back."""
    mark = said.get(KEY)
    if not mark:
        return None
    if "deed" in mark:  # an older mark: it stands while the deed of the cupboard does
        last = deeds.can(store, mark["scope"]).undo
        if last is None or last.number != mark["deed"]:
            return None
    used = mark.get("cloths") or [[mark["cloth"], mark["used"]]]  # one cloth alone, as it was written once
    cloths = tuple((name, cm) for name, cm in used)
    return CutNow(cloths, tuple(mark["left"]), mark["on"], mark["wrote"])


def refuse_cut(store: Store, name: str) -> None:
    """LayError where the ticket is cut already: nothing on the table can be moved any more."""
    if cut_of(store, progress(store, name)):
        raise _cut_already(name)


def _cut_already(name: str) -> LayError:
    return LayError(
        "This ticket is cut already.",
        where=f"ticket '{name}': cloth",
        mend="If it was not, put the cloth back at the station of cloth.",
    )


def other_than_cupboard(store: Store, ticket: Ticket) -> str:
    """Says so where a cloth of the whole ticket is no longer what the cupboard has; '' where each is."""
    for cloth in (cloth_at(ticket, place) for place in places_of(ticket)):
        try:
            now = store.cloth(cloth.name)
        except StoreError:
            return f"{cloth.name} is no longer in the cupboard."
        if not _same(now, cloth):
            return f"{cloth.name} is not in the cupboard as it stands on this ticket."
    return ""


def not_to_be_cut(ticket: Ticket, said: Mapping[str, Any], who: Reader) -> str:
    """Why a whole ticket cannot be cut as it lies, cloth by cloth; '' when it can."""
    try:
        plans_of(ticket, said, who)
    except WorkroomError as no:
        return f"{no.what} {no.mend}"
    return ""


def plans_of(ticket: Ticket, said: Mapping[str, Any], who: Reader) -> dict[str, LayPlan]:
    """The kept lays of all cloths by their names, each fit to be cut. Raises LayError, ClothError."""
    plans = {}
    for place in places_of(ticket):
        cloth, lay = cloth_at(ticket, place), standing_lay(said, ticket, place)
        where = f"ticket '{ticket.name}': cloth"
        if lay is None:
            raise LayError(f"{cloth.name} is not laid as the ticket stands.", where=where, mend="Lay it first.")
        if wrong := cannot_be_cut(ticket, place, lay, who):
            raise wrong
        plans[cloth.name] = replace(lay.plan(problem_of(ticket, place)), verified=True)
    return plans


def _same(one: Cloth, other: Cloth) -> bool:
    return (one.usable_width, one.usable_length, one.usable_outline, one.usable_flaws) == (
        other.usable_width,
        other.usable_length,
        other.usable_outline,
        other.usable_flaws,
    )


async def cut_now(request: Request) -> Response:
    """Takes the lay off the cloth of the cupboard."""
    return await run_in_threadpool(_cut, request)


def _cut(request: Request) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    refuse_cut(store, name)
    state = load(store, name)

    def on_the_ticket(hand: deeds.Hand, done: Sequence[Cut]) -> None:
        wrote = state.ticket.cloth is None
        if wrote:
            hand.refuse_changed(TICKET, name, state.version)
            with_cloth = replace(state.ticket, cloth=done[0].before)
            hand.keep(TICKET, KeptTicket(name, write_ticket(with_cloth), state.kept.created_on))
        used = [(one.before.name, one.used_cm) for one in done]
        mark_cut(hand, name, used, [rest.name for one in done for rest in one.after], wrote=wrote)

    cut(store, name, plans_of(state.whole, progress(store, name), reader(request)), on_the_ticket)
    return go_to(f"/ticket/{slug(name)}/cloth")


def mark_cut(
    hand: deeds.Hand, name: str, used: Sequence[tuple[str, float]], left: Sequence[str], *, wrote: bool
) -> None:
    """Marks a ticket as cut, in the deed that cuts its cloths. used: cloths with what is off them [cm]"""
    far = hand.find(HOW_FAR, name)
    if far and "moves" in (far.said.get(KEY) or {}):  # by another device in the same moment
        raise _cut_already(name)
    moves = [move[1:] for move in hand.moves if move[0] == CLOTH.word]
    mark = {
        "cloths": [list(one) for one in used],
        "left": list(left),
        "on": date.today().isoformat(),
        "wrote": wrote,
        "moves": moves,
    }
    _mark(hand, name, mark)


async def uncut(request: Request) -> Response:
    """Takes the cut back, whatever was done since: the cloth is whole again."""
    return await run_in_threadpool(_uncut, request)


def _uncut(request: Request) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    said = progress(store, name)
    done = cut_of(store, said)
    if done is None:
        raise LayError("This ticket is not cut.", where=f"ticket '{name}'", mend="Nothing is to be taken back.")

    def change(hand: deeds.Hand) -> None:
        for cloth, before, after in reversed(_moves(store, said[KEY])):
            hand.put(CLOTH, cloth, stands=after, wanted=before)
        if done.wrote:
            kept = hand.find(TICKET, name) or store.ticket(name)
            from_cupboard = replace(read_ticket(kept.text), cloth=None, cloth_name=done.cloths[0][0])
            hand.keep(TICKET, KeptTicket(name, write_ticket(from_cupboard), kept.created_on))
        _mark(hand, name, None)

    deeds.do(store, f"{HOW_FAR.word}/{name}", f"{name} not cut, the cloth put back", change)
    return go_to(f"/ticket/{slug(name)}/cloth")


def _moves(store: Store, mark: Mapping[str, Any]) -> list[tuple[str, int | None, int | None]]:
    """The cloths of a cut with their versions before and after it; an older mark only names the deed."""
    if "moves" in mark:
        return [tuple(move) for move in mark["moves"]]
    return [move[1:] for move in deeds.moves_of(store, mark["deed"]) if move[0] == CLOTH.word]


def _mark(hand: deeds.Hand, name: str, mark: dict[str, Any] | None) -> None:
    before = hand.find(HOW_FAR, name)
    said = {key: value for key, value in (before.said if before else {}).items() if key != KEY}
    hand.keep(HOW_FAR, KeptProgress(name, {**said, KEY: mark} if mark else said))


async def afresh(request: Request) -> Response:
    """The cloth of the ticket as the cupboard has it now."""
    name = named(request.path_params["name"])
    await run_in_threadpool(_from_cupboard, store_of(request), request, name)
    return go_to(f"/ticket/{slug(name)}/cloth")


def _from_cupboard(store: Store, request: Request, name: str) -> None:
    state = load(store, name)
    keep(store, name, {"cloth": state.cloth.name}, reader(request))
    if state.ticket.other_cloths:
        others = tuple(replace(one, cloth=store.cloth(one.cloth.name)) for one in state.ticket.other_cloths)
        after = replace(load(store, name).ticket, other_cloths=others)
        kept = KeptTicket(name, write_ticket(after), state.kept.created_on)
        deeds.keep(store, TICKET, kept, "cloths as the cupboard has them")


ROUTES = (
    Route("/ticket/{name}/cloth/cut", cut_now, methods=["POST"]),
    Route("/ticket/{name}/cloth/uncut", uncut, methods=["POST"]),
    Route("/ticket/{name}/cloth/afresh", afresh, methods=["POST"]),
)
