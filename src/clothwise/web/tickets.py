"""Tickets: the pile of them, a new one, and the station where one gets its shape."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.alter.figure import FIGURE_CHANGES
from clothwise.body import definition, estimate
from clothwise.draft import PATTERNS, Choice, pattern
from clothwise.errors import TicketError, WorkroomError
from clothwise.sew.log import after
from clothwise.sew.sewer import SKILLS, Sewer
from clothwise.store import KeptTicket, deeds, photos
from clothwise.store.log_book import logged_makes
from clothwise.store.standing import Watch
from clothwise.store.store import HOW_FAR, MAKE, TICKET
from clothwise.store.versions import refuse_unfit_name
from clothwise.suggest.suiting import Asked, suiting
from clothwise.suggest.words import reason
from clothwise.ticket import Ticket, write_ticket
from clothwise.ticket.bought_ticket import is_bought
from clothwise.ticket.made import with_cloth
from clothwise.web import altering, on_one_sheet
from clothwise.web.altering import words_of_change
from clothwise.web.entries import Refused, forget_route, json_said
from clothwise.web.live import EASE_AT, look, pulls
from clothwise.web.sheet import (
    Reader,
    as_json,
    as_refusal,
    go_to,
    named,
    page,
    reader,
    slug,
    store_of,
)
from clothwise.web.ticket_head import Head, bench_of, head_of, scopes_of
from clothwise.web.ticket_state import State, changed, figure_said, keep, load, named_anew, pace_said, shown

MOST_ENTRIES = 200  # of one change
MOST_LETTERS = 5000  # of one entry: notes, or the corners of a remnant


async def pile(request: Request) -> Response:
    """All tickets, and how to begin one."""
    return await run_in_threadpool(_pile, request)


def _pile(request: Request) -> Response:
    store = store_of(request)
    heads: list[tuple[str, Head | on_one_sheet.OneSheet | None, WorkroomError | None]] = []
    for kept in store.tickets():
        try:
            one = (
                on_one_sheet.sheet_of(store, kept.name, reader(request))
                if is_bought(kept.text)
                else head_of(request, kept.name)
            )
            heads.append((kept.name, one, None))
        except WorkroomError as no:
            heads.append((kept.name, None, no))
    return page(
        request, "tickets.html", title="Tickets", scope=("ticket/", "progress/"), heads=heads,
        bodies=store.bodies(), cloths=store.cloths(), patterns=PATTERNS, shelf=store.bought_patterns(),
    )  # fmt: skip


async def new(request: Request) -> Response:
    """A ticket for a person, a draft and a cloth, everything else as the draft has it."""
    form = await request.form()
    return await run_in_threadpool(
        _new, request, {key: str(form.get(key, "")) for key in ("for", "pattern", "cloth")}
    )


def _new(request: Request, asked: dict[str, str]) -> Response:
    from clothwise.web.evening import keep_new_ticket

    store = store_of(request)
    body, cloth, draft = store.body(asked["for"]), store.cloth(asked["cloth"]), pattern(asked["pattern"])
    makes, _ = logged_makes(store, body.name)
    ticket = Ticket(
        name=f"{draft.title} for {body.name}", pattern=draft.name, body_name=body.name, cloth_name=cloth.name,
        made_on=date.today().isoformat(), sewer=after(Sewer(units=reader(request).units), makes, draft.name),
    )  # fmt: skip
    return go_to(f"/ticket/{slug(keep_new_ticket(store, ticket.name, write_ticket(ticket)))}")


async def rename(request: Request) -> Response:
    """Another name for a ticket; all that belongs to it comes along."""
    form = await request.form()
    return await run_in_threadpool(_renamed, request, str(form.get("name", "")).strip())


def _renamed(request: Request, wanted: str) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    refuse_unfit_name("ticket", wanted)
    if wanted == name:
        return go_to(f"/ticket/{slug(name)}")
    if wanted in {ticket.name for ticket in store.tickets()}:
        raise TicketError(
            f"There is a ticket {wanted!r} already.", where="ticket: name", mend="Choose another."
        )
    store.ticket(name)
    made = {make.name: make for make in store.makes()}
    if wanted in made:
        raise TicketError(f"There is a make {wanted!r} already.", where="ticket: name", mend="Choose another.")

    def change(hand: deeds.Hand) -> None:
        kept, far = hand.find(TICKET, name) or store.ticket(name), hand.find(HOW_FAR, name)
        hand.keep(TICKET, KeptTicket(wanted, named_anew(kept.text, wanted), kept.created_on))
        hand.forget(TICKET, name)
        if far:
            hand.keep(HOW_FAR, replace(far, name=wanted))
            hand.forget(HOW_FAR, name)
        if name in made:
            hand.keep(MAKE, replace(made[name], name=wanted))
            hand.forget(MAKE, name)
        photos.carry(hand, f"make/{name}", f"make/{wanted}")

    deeds.do(store, f"ticket/{wanted}", f"Named '{wanted}'", change)
    return go_to(f"/ticket/{slug(wanted)}")


# ---- the station of shape ------------------------------------------------------------------------


async def shape(request: Request) -> Response:
    """The ticket as it is written, the levels, the pieces."""
    return await run_in_threadpool(_shape, request)


def _shape(request: Request) -> Response:
    name = named(request.path_params["name"])
    if is_bought(store_of(request).ticket(name).text):
        return on_one_sheet.shown(request, name)
    head, who = head_of(request, name), reader(request)
    state = head.state
    draft = pattern(state.ticket.pattern)
    bodies, cloths = store_of(request).bodies(), store_of(request).cloths()
    return page(
        request,
        "shape.html",
        title=name,
        scope=scopes_of(name),
        head=head,
        station="shape",
        draft=draft,
        choices=[_choice_shown(head, choice, who) for choice in draft.choices],
        measures=[_measure_shown(state, need, who) for need in draft.needs],
        said_of=figure_said,
        pace_said=pace_said,
        suits=_suits(state),
        skills=SKILLS,
        altered=[words_of_change(change, who) for change in state.ticket.changes],
        figures=[one for one in FIGURE_CHANGES if one.shows_in(draft)],
        bodies=bodies,
        cloths=cloths,
        known={  # a ticket from elsewhere carries its own, and so does one whose cloth is all cut
            "body": any(one.name == state.body.name for one in bodies),
            "cloth": any(one.name == state.cloth.name for one in cloths),
        },
        patterns=PATTERNS,
        card=_card(request, state),
        opened=request.query_params.get("opened", ""),
        data={"look": head.seen, "exact": head.exact, "version": state.version, "unit": who.unit},
    )


def _suits(state: State) -> dict[str, Any]:
    """Whether the cloth suits the make, by what it is; a sentence where it cannot be made from it at all."""
    draft, cloth = pattern(state.ticket.pattern), state.cloth
    if cloth.make not in draft.makes:
        no = f"{draft.title} is drafted for {' or '.join(draft.makes)} cloth; {cloth.name} is {cloth.make}."
        return {"no": no, "share": 0.0, "look": "", "reasons": []}
    asked = Asked(state.ticket.sewer.skill)
    found = suiting(draft, with_cloth(draft, state.ticket.choices, cloth), cloth, asked)
    reasons = [{"words": reason(one), "speaks": one.speaks} for one in found.reasons]
    return {"no": "", "share": found.share, "look": found.look, "reasons": reasons}


def _card(request: Request, state: State) -> dict[str, Any] | None:
    """Where the ticket's copy of the body differs from the person's own card."""
    store = store_of(request)
    if state.ticket.body is None or state.body.name not in {body.name for body in store.bodies()}:
        return None
    card = store.body(state.body.name)
    differs = [n for n in state.body if state.body.taped(n) and (n not in card or card[n] != state.body[n])]
    return {"name": card.name, "differs": differs} if differs else None


def _choice_shown(head: Head, choice: Choice, who: Reader) -> dict[str, Any]:
    """A choice as a blank of the ticket: what it stands at, and between what it may lie."""
    state = head.state
    asked = state.ticket.choices.get(choice.name)
    settled: Any = asked if asked is not None else choice.default
    if settled is None and head.seen is not None:
        at = EASE_AT.get(choice.name)
        settled = next((level["ease"] for level in head.seen["levels"] if level["name"] == at), None)
    length = choice.unit == "cm"
    number = isinstance(settled, int | float)
    text = (
        ""
        if settled is None
        else who.length(settled)
        if length and number
        else f"{settled:g}"
        if number
        else settled
    )
    return {
        "name": choice.name,
        "path": f"choice.{choice.name}",
        "choice": choice,
        "asked": asked is not None,
        "says": text,
        "typed": (who.number(float(asked)) if length else f"{asked:g}") if isinstance(asked, float) else "",
        "now": settled if number else None,
        "length": length,
    }


def _measure_shown(state: State, name: str, who: Reader) -> dict[str, Any]:
    """A measure as a blank: taped, or estimated with where it is likely to lie."""
    known, whole = definition(name), estimate(state.body)
    measure = whole.measures.get(name)
    degrees = known.unit == "degrees"
    taped = state.body.taped(name)
    cm = measure.cm if measure else None

    def said(value: float | None) -> str:
        return "" if value is None else f"{value:.0f}°" if degrees else who.length(value)

    span = 8.0 if degrees or (cm or 0) < 60 else 12.0
    return {
        "name": name,
        "path": f"measure.{name}",
        "known": known,
        "taped": taped,
        "confirmed": bool(measure and measure.confirmed),
        "says": said(cm),
        "low": said(measure.low) if measure and not taped else "",
        "high": said(measure.high) if measure and not taped else "",
        "typed": "" if not taped or cm is None else f"{cm:g}" if degrees else who.number(cm),
        "now": cm,
        "least": max((cm or span) - span, 1.0),
        "most": (cm or span) + span,
        "length": not degrees,
    }


# ---- for the scripts -----------------------------------------------------------------------------


async def entries_of(request: Request) -> dict[str, str]:
    """The changes in a request: {"set": {path: text}}. Raises TicketError for anything else."""
    try:
        told = (await json_said(request))["set"]
    except (ValueError, KeyError, TypeError):
        told = None
    fits = isinstance(told, dict) and len(told) <= MOST_ENTRIES
    if not fits or not all(_is_entry(path, text) for path, text in told.items()):
        raise TicketError("This is no change of a ticket.", where="page", mend="Reload the page.")
    return dict(told)


def _is_entry(path: Any, text: Any) -> bool:
    return isinstance(path, str) and isinstance(text, str) and len(text) <= MOST_LETTERS


async def looked(request: Request) -> Response:
    """What would follow from changes that are not kept yet."""
    entries = await entries_of(request)
    return await run_in_threadpool(_looked, request, entries)


def _looked(request: Request, entries: dict[str, str]) -> Response:
    name, who = named(request.path_params["name"]), reader(request)
    try:
        state = changed(load(store_of(request), name), entries, who, store_of(request))
        seen = look(state.whole, bench_of(request).waste.get(state.ticket.pattern))
    except WorkroomError as no:
        return as_json(request, {"refused": {**as_refusal(no), "path": getattr(no, "path", "")}})
    return as_json(request, {"look": seen, "says": {path: shown(state, path, who) for path in entries}})


async def kept(request: Request) -> Response:
    """Keeps changes as one deed."""
    entries = await entries_of(request)
    return await run_in_threadpool(_kept, request, entries)


def _kept(request: Request, entries: dict[str, str]) -> Response:
    store, name, who = store_of(request), named(request.path_params["name"]), reader(request)
    watch = Watch(store, scopes_of(name))
    try:
        state = keep(store, name, entries, who, watch)
    except Refused as no:
        return as_json(request, {"refused": {**as_refusal(no), "path": no.path}})
    told = deeds.can(store, scopes_of(name))
    return as_json(
        request,
        {
            "version": state.version,
            "says": {path: shown(state, path, who) for path in entries},
            "undo": told.undo.words if told.undo else "",
            **watch.told,
        },
    )


async def exact(request: Request) -> Response:
    """The second look: cutting lines, check and lay of the ticket with changes not kept yet."""
    entries = await entries_of(request)
    name = named(request.path_params["name"])
    store = store_of(request)

    def whole() -> tuple[str, str]:
        state = changed(load(store, name), entries, reader(request), store)
        return write_ticket(state.whole), state.ticket.pattern

    try:
        text, of = await run_in_threadpool(whole)
    except WorkroomError as no:
        return as_json(request, {"refused": as_refusal(no)})
    return as_json(request, await bench_of(request).exact(text, of))


async def handles(request: Request) -> Response:
    """Which edge moves with which choice, see `live.pulls`."""
    entries = await entries_of(request)

    def whole() -> str:
        store = store_of(request)
        state = changed(load(store, named(request.path_params["name"])), entries, reader(request), store)
        return write_ticket(state.whole)

    try:
        text = await run_in_threadpool(whole)
        return as_json(request, {"pulls": await bench_of(request).ask(pulls, text)})
    except WorkroomError:
        return as_json(request, {"pulls": {}})  # what cannot be drawn cannot be pulled; the look says why


async def to_card(request: Request) -> Response:
    """The measures of this ticket also onto the person's own card."""

    def put() -> str:
        from clothwise.store.store import BODY

        store, name = store_of(request), named(request.path_params["name"])
        state = load(store, name)
        card = store.body(state.body.name)
        taped = {n: m for n, m in state.body.measures.items() if m.source == "taped"}
        body = type(card)(
            card.name, card.figure, {**card.measures, **taped}, card.age_years, card.taken_on, card.notes
        )
        words = f"{card.name}'s card from ticket '{name}'"
        deeds.do(store, f"ticket/{name}", words, lambda hand: hand.keep(BODY, body))
        return name

    return go_to(f"/ticket/{slug(await run_in_threadpool(put))}")


ROUTES = (
    Route("/tickets", pile),
    Route("/tickets/new", new, methods=["POST"]),
    Route("/ticket/{name}", shape),
    Route("/ticket/{name}/rename", rename, methods=["POST"]),
    forget_route("/ticket/{name}", TICKET, "Ticket '{name}' taken away", "/tickets"),
    Route("/ticket/{name}/look", looked, methods=["POST"]),
    Route("/ticket/{name}/keep", kept, methods=["POST"]),
    Route("/ticket/{name}/exact", exact, methods=["POST"]),
    Route("/ticket/{name}/pulls", handles, methods=["POST"]),
    Route("/ticket/{name}/to-card", to_card, methods=["POST"]),
    *altering.ROUTES,
    *on_one_sheet.ROUTES,
)
