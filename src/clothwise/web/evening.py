"""This evening: for whom, how long, from which cloths. Answers come as found; one tap makes a ticket."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.cloth import SEASONS
from clothwise.errors import ChoiceError, StoreError
from clothwise.sew.sewer import SKILLS
from clothwise.store import KeptTicket, Store, deeds, jobs
from clothwise.store.store import TICKET
from clothwise.suggest.wants import OCCASIONS
from clothwise.web.numbers import counted
from clothwise.web.sheet import go_to, jobs_of, page, reader, slug, store_of

LEAST_HOURS, MOST_HOURS = 0.5, 48.0
USUAL_HOURS = 3.0


async def show(request: Request) -> Response:
    """The question, and the answers of the job in the address, if there is one."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    store = store_of(request)
    number = counted(request.query_params.get("job", ""))
    asked = None if number is None else jobs.job(store, number)
    bodies, cloths = store.bodies(), store.cloths()
    latest = jobs.newest(store, "evening")
    said = asked.asked if asked else (latest[0].asked if latest else {})
    ask = {
        "for": said.get("for") or (bodies[0].name if bodies else ""),
        "hours": said.get("hours", USUAL_HOURS),
        "cloths": _ticked(said, [cloth.name for cloth in cloths]),
        "skill": said.get("skill", "practised"),
        "overlocker": said.get("overlocker", False),
        "season": said.get("season", ""),
        "occasion": said.get("occasion", ""),
    }
    return page(
        request,
        "evening.html",
        title="This evening",
        bodies=bodies,
        cloths=cloths,
        skills=SKILLS,
        seasons=SEASONS,
        occasions=OCCASIONS,
        looked=_looked(store, asked),
        ask=ask,
        job=asked,
        tickets=_recent(store),
    )


def _ticked(said: Mapping[str, Any], names: Sequence[str]) -> list[str]:
    """The cloths of the last question, and those that came into the cupboard since."""
    before, there = said.get("cloths", names), said.get("there", [])
    return [name for name in names if name in before or name not in there]


def _looked(store: Store, asked: jobs.Job | None) -> str:
    """How far a search has come, or came: '812 of 7800 makes looked at'; '' when it did not say."""
    news = jobs.news(store, asked.number) if asked and asked.state != "done" else ()
    last = next((one.told for one in reversed(news) if one.kind == "progress"), None)
    return f"{last['done']} of {last['of']} makes looked at" if last else ""


def _recent(store: Store) -> list[str]:
    return [ticket.name for ticket in store.tickets()][:6]


async def ask(request: Request) -> Response:
    """Begins the search."""
    form = await request.form()
    asked = asked_of(form)
    await run_in_threadpool(store_of(request).body, asked["for"])
    there = await run_in_threadpool(store_of(request).cloths)
    asked["units"] = reader(request).units
    asked["there"] = [cloth.name for cloth in there]
    number = await run_in_threadpool(jobs_of(request).begin, "evening", asked)
    return go_to(f"/?job={number}")


def asked_of(form: FormData) -> dict[str, Any]:
    """The question in a form. Raises ChoiceError for what cannot be asked."""
    try:
        hours = float(str(form.get("hours", "")).replace(",", "."))
    except ValueError:
        hours = 0.0
    if not LEAST_HOURS <= hours <= MOST_HOURS:
        raise ChoiceError(
            f"An evening of {str(form.get('hours', ''))[:20]!r} hours is not possible.",
            where="this evening: hours",
            mend=f"Give {LEAST_HOURS:g} to {MOST_HOURS:g}.",
        )
    cloths = [str(name) for name in form.getlist("cloth")]
    if not cloths:
        raise ChoiceError(
            "No cloth is chosen.", where="this evening: from which cloths", mend="Tick at least one."
        )
    skill = str(form.get("skill", "practised"))
    if skill not in SKILLS:
        raise ChoiceError(
            f"{skill[:20]!r} is not a skill.", where="this evening", mend=f"Choose {', '.join(SKILLS)}."
        )
    season, occasion = (_one_of(form, *one) for one in (("season", SEASONS), ("occasion", OCCASIONS)))
    return {
        "for": str(form.get("for", "")),
        "season": season,
        "occasion": occasion,
        "of": "remnants" if form.get("of") == "remnants" else "",
        "hours": hours,
        "cloths": cloths,
        "skill": skill,
        "overlocker": form.get("overlocker") == "yes",
        "made_on": date.today().isoformat(),
    }


def _one_of(form: FormData, what: str, known: Sequence[str]) -> str:
    """A word of the form, '' for any. Raises ChoiceError."""
    word = str(form.get(what, ""))
    if word and word not in known:
        raise ChoiceError(
            f"{word[:20]!r} is no {what}.", where="this evening", mend=f"Choose {', '.join(known)}, or any."
        )
    return word


async def take(request: Request) -> Response:
    """One tap: an answer becomes a ticket."""
    form = await request.form()
    return await run_in_threadpool(_taken, request, str(form.get("job", "")), str(form.get("rank", "")))


def _taken(request: Request, number: str, rank: str) -> Response:
    store = store_of(request)
    known = counted(number)
    found = () if known is None else jobs.news(store, known)
    answer = next(
        (n.told for n in found if n.kind in ("answer", "early") and str(n.told["rank"]) == rank), None
    )
    if answer is None:
        raise StoreError("That answer is no longer there.", where="this evening", mend="Ask again.")
    name = keep_new_ticket(store, answer["ticket_name"], answer["ticket"])
    return go_to(f"/ticket/{slug(name)}")


def keep_new_ticket(store: Store, wanted: str, text: str, words: str = "") -> str:
    """Keeps a ticket under a name that is free, as a deed. Returns the name.

    words  what undo says of it; '' = that it was begun
    """
    from clothwise.web.ticket_state import named_anew

    taken = {ticket.name for ticket in store.tickets()}
    name, number = wanted, 1
    while name in taken:
        number += 1
        name = f"{wanted} {number}"
    deeds.keep(
        store,
        TICKET,
        KeptTicket(name, named_anew(text, name), date.today().isoformat()),
        words or f"Ticket '{name}' begun",
    )
    return name


ROUTES = (
    Route("/", show),
    Route("/evening/ask", ask, methods=["POST"]),
    Route("/evening/take", take, methods=["POST"]),
)
