"""The station of the log: how it came out, level by level, with photos; finished, it goes among the makes."""

from __future__ import annotations

from datetime import date
from typing import Any, get_args

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.errors import TicketError
from clothwise.sew.log import after
from clothwise.sew.sewer import Sewer
from clothwise.shelf.levels import find_level
from clothwise.shelf.pattern import FinishedMake, FitClass, Judgement, Verdict
from clothwise.store import Store, deeds, photos
from clothwise.store.log_book import logged_makes, sewer_of
from clothwise.store.progress import KeptProgress
from clothwise.store.standing import Watch
from clothwise.store.store import HOW_FAR, MAKE
from clothwise.web.photographs import photo_routes
from clothwise.web.sheet import as_json, go_to, named, page, store_of
from clothwise.web.ticket_head import Head, head_of, scopes_of
from clothwise.web.ticket_state import pace_said

CLASSES: dict[str, FitClass] = {
    "close": "close", "easy": "semi-fitted", "loose": "loose", "very loose": "very loose",
}  # fmt: skip
MOST_WORDS = 4000  # letters of a log's notes


async def show(request: Request) -> Response:
    """The log as it stands."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    name = named(request.path_params["name"])
    head = head_of(request, name)
    return page(
        request,
        "log.html",
        title=f"{name}: log",
        scope=scopes_of(name),
        head=head,
        station="log",
        levels=head.seen["levels"] if head.seen else [],
        verdicts=get_args(Verdict),
        said=head.said,
        judged=head.said.get("judged", {}),
        photos=photos.of_thing(store_of(request), f"make/{name}"),
        today=date.today().isoformat(),
        pace=_pace(request, head) if head.said.get("finished_on") else "",
    )


def _pace(request: Request, head: Head) -> str:
    """What her finished makes say of her pace; '' while none of them tells."""
    makes, _ = logged_makes(store_of(request), sewer_of(head.state.ticket))
    return pace_said(after(Sewer(), makes))


async def kept(request: Request) -> Response:
    """What was written in the log, sent as it is typed: {"set": {path: text}}."""
    from clothwise.web.tickets import entries_of

    entries = await entries_of(request)
    return await run_in_threadpool(_kept, request, entries)


def _kept(request: Request, entries: dict[str, str]) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    head = head_of(request, name)
    known = {level["name"] for level in head.seen["levels"]} if head.seen else set()

    def change(hand: deeds.Hand) -> None:
        before = hand.find(HOW_FAR, name)
        said = dict(before.said) if before else {}
        for path, text in entries.items():
            _set(said, path, text, known)
        hand.keep(HOW_FAR, KeptProgress(name, said))

    words = ", ".join(
        f"{path.rpartition('.')[2].replace('_', ' ')}: {text[:40]}" for path, text in entries.items()
    )
    watch = Watch(store, scopes_of(name))
    deeds.do(store, f"progress/{name}", words[:200], change, watch)
    can = deeds.can(store, scopes_of(name))
    return as_json(
        request,
        {
            "version": deeds.version(store, HOW_FAR, name),
            "says": dict(entries),
            "undo": can.undo.words if can.undo else "",
            **watch.told,
        },
    )


def _set(said: dict[str, Any], path: str, text: str, levels: set[str]) -> None:
    part, _, level = path.partition(".")
    if part == "judged" and level in levels and text in ("", *get_args(Verdict)):
        judged = {**said.get("judged", {}), level: text}
        said["judged"] = {key: value for key, value in judged.items() if value}
    elif part == "words" and len(text) <= MOST_WORDS:
        said["words"] = text
    elif part == "minutes":
        said["spent"] = minutes_typed(text)
    else:
        raise TicketError("That cannot be written in the log.", where="log", mend="Reload the page.")


def minutes_typed(text: str) -> float:
    """Minutes as typed: '250', '4 h 10', '4:10'."""
    plain = text.strip().lower().replace("min", "").replace(":", " h ")
    hours, mark, rest = plain.partition("h")
    try:
        spent = (float(hours or 0) * 60 + float(rest.strip() or 0)) if mark else float(plain or 0)
    except ValueError:
        spent = -1.0
    if not 0 <= spent < 100_000:
        raise TicketError(
            f"{text[:20]!r} is no time.", where="log: time", mend="Type it as 4 h 10, or in minutes."
        )
    return spent


async def finish(request: Request) -> Response:
    """The make is done: what was judged goes among the makes, for the next time."""
    return await run_in_threadpool(_finished, request, day_of(await request.form()))


def _finished(request: Request, when: str) -> Response:
    head = head_of(request, named(request.path_params["name"]))
    finish_make(store_of(request), make_of(head, when))
    return go_to(f"{head.path}/log")


def day_of(form: FormData) -> str:
    """The day a make was finished, as the form has it, else today. Raises TicketError for no date."""
    when = str(form.get("finished_on", "")) or date.today().isoformat()
    try:
        date.fromisoformat(when)
    except ValueError:
        raise TicketError(f"{when[:20]!r} is no date.", where="log", mend="Write it as 2026-11-25.") from None
    return when


def finish_make(store: Store, make: FinishedMake) -> None:
    """Puts a ticket's make among the makes and says on the ticket when, in one deed."""

    def change(hand: deeds.Hand) -> None:
        before = hand.find(HOW_FAR, make.name)
        said = {**(before.said if before else {}), "finished_on": make.made_on}
        hand.keep(HOW_FAR, KeptProgress(make.name, said))
        hand.keep(MAKE, make)

    deeds.do(store, f"progress/{make.name}", f"'{make.name}' finished", change)


def make_of(head: Head, when: str) -> FinishedMake:
    """The ticket as a finished make, with what its wearer says of each level that makes are compared by."""
    if head.seen is None:
        raise head.no or TicketError("The ticket cannot be drawn.", where="log", mend="Mend its shape first.")
    judged = head.said.get("judged", {})
    ticket, words = head.state.ticket, str(head.said.get("words", "")).strip()
    return FinishedMake(
        name=head.state.name,
        person=head.state.body.name,
        pattern=head.seen["title"],
        fit_class=CLASSES.get(str(ticket.choices.get("fit", "easy")), "semi-fitted"),
        make=head.state.cloth.make,
        judgements=tuple(
            Judgement(level["name"], round(level["ease"], 1), judged[level["name"]])
            for level in head.seen["levels"]
            if level["name"] in judged and find_level(level["name"]) is not None
        ),
        made_on=when,
        notes=tuple(line for line in words.splitlines() if line.strip()),
    )


ROUTES = (
    Route("/ticket/{name}/log", show),
    Route("/ticket/{name}/log/keep", kept, methods=["POST"]),
    Route("/ticket/{name}/log/finish", finish, methods=["POST"]),
    *photo_routes("/ticket/{name}/log", "make"),
)
