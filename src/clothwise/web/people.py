"""People: who is sewn for, and how each is measured."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, get_args

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.body import Body, Figure, definition, measures_of
from clothwise.body.sizes import size_bodies, size_names
from clothwise.errors import MeasureError
from clothwise.size.growth import OLDEST as GROWN
from clothwise.size.growth import Wear, age_of_height, known_measures, months_until
from clothwise.store import deeds
from clothwise.store.store import BODY
from clothwise.store.versions import refuse_unfit_name
from clothwise.ticket.taped import days_since_taped
from clothwise.web.entries import forget_route, keep_entries
from clothwise.web.figure_drawn import FigureDrawn, figure_drawn
from clothwise.web.person_state import Known, guess, known, length, said, with_entries, words_of
from clothwise.web.sheet import Reader, as_json, go_to, named, page, reader, slug, store_of

GROUPS = {  # how much an estimate is worth (see `vocabulary.Definition.asked`), in words
    "always": "Tape these; all else follows from them",
    "tape it": "Tape these too where a make sits close: size says little of them",
    "may be estimated": "These may be left to the estimate",
}
MAIN = ("height", "bust_girth", "waist_girth", "hip_girth")
STEPS = {"height": 6.0, "bust_girth": 4.0, "waist_girth": 3.0, "hip_girth": 4.0}  # cm of one size to the next
WORTH_TELLING = 0.5  # cm: a length that an earlier card has not changed by is not worth telling


async def show(request: Request) -> Response:
    """Everybody, and how to add somebody."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    store, who = store_of(request), reader(request)
    people = [
        {
            "body": body,
            "main": [(name, length(body[name], name, who)) for name in MAIN if name in body],
            "taped": sum(body.taped(name) for name in body),
            "doubts": known(body).doubts,
            "stale": stale(body),
        }
        for body in store.bodies()
    ]
    return page(
        request, "people.html", title="People", scope=f"{BODY.word}/", people=people, figures=get_args(Figure)
    )


def stale(body: Body) -> str:
    """'taped 14 months ago: measure again'; '' while the figures are fresh."""
    months = body.months_stale(days_since_taped(body, date.today().isoformat()))
    return "" if months is None else f"taped {months} months ago: measure again"


async def add(request: Request) -> Response:
    """A new card."""
    form = await request.form()
    return await run_in_threadpool(_added, request, {key: str(value) for key, value in form.items()})


def _added(request: Request, asked: dict[str, str]) -> Response:
    store, name = store_of(request), asked.get("name", "").strip()
    refuse_unfit_name("body", name)
    if name in {body.name for body in store.bodies()}:
        raise MeasureError(
            f"There is a card for {name} already.",
            where="people",
            mend="Give another name, or go to that card.",
        )
    entries = {key: asked.get(key, "") for key in ("figure", "age")}
    body = with_entries(
        Body(name, "woman", {}), {**entries, "taken_on": date.today().isoformat()}, reader(request)
    )
    deeds.keep(store, BODY, body, f"{name}'s card begun")
    return go_to(f"/person/{slug(name)}")


# ---- one person ----------------------------------------------------------------------------------


async def person(request: Request) -> Response:
    """One card: what is taped, what is estimated, what looks like a slip, and where the tape runs."""
    return await run_in_threadpool(_person, request)


def _person(request: Request) -> Response:
    store, who = store_of(request), reader(request)
    name = named(request.path_params["name"])
    body = store.body(name)
    found = known(body)
    groups = [(words, _asked(body, asked)) for asked, words in GROUPS.items()]
    return page(
        request, "person.html", title=name, scope=f"{BODY.word}/{name}", path=f"/person/{slug(name)}",
        body=body, groups=[(words, [_line(found, one, who) for one in names]) for words, names in groups],
        doubts=doubts_shown(found, who), no=found.no, thin=found.thin, figures=get_args(Figure),
        drawn=drawn_of(found), stale=stale(body), growth=growth_shown(found, who),
        earlier=earlier_shown(store.earlier_bodies(name), body, who),
        tickets=[t.name for t in store.tickets() if f'"{name}"' in t.text],
    )  # fmt: skip


def _asked(body: Body, asked: str) -> list[str]:
    return [name for name in measures_of(body.figure) if definition(name).asked == asked]


def _line(found: Known, name: str, who: Reader) -> dict[str, Any]:
    """One measure as a line of the card."""
    body, one = found.body, definition(name)
    taped = body.taped(name)
    degrees = one.unit == "degrees"
    return {
        "name": name,
        "path": f"measure.{name}",
        "known": one,
        "taped": taped,
        "typed": "" if not taped else f"{body[name]:g}" if degrees else who.number(body[name]),
        "guess": guess(found, name, who),
        "unit": "°" if degrees else who.unit,
        "confirmed": taped and body.measures[name].confirmed,
    }


def drawn_of(found: Known) -> FigureDrawn:
    """The figure, of herself where she can be told, else of a usual body."""
    if found.whole is not None:
        return figure_drawn(found.whole)
    names = size_names(found.body.figure)
    return figure_drawn(size_bodies(found.body.figure, (names[len(names) // 2],))[0])


def doubts_shown(found: Known, who: Reader) -> list[dict[str, Any]]:
    """What looks like a slip: the question, what it may have been, and what may be confirmed."""
    return [
        {
            "sentence": slip.sentence,
            "measures": list(slip.measures),
            "suggestion": {
                name: {"typed": who.number(cm), "says": length(cm, name, who)}
                for name, cm in slip.suggestion.items()
            },
        }
        for slip in found.doubts
    ]  # fmt: skip


# ---- growing -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Outgrown:
    """Until one measure is a size further."""

    measure: str
    limit: str
    wear: Wear


def growth_shown(found: Known, who: Reader) -> dict[str, Any] | None:
    """How long a child's clothes last; None for adults, and where too little is known."""
    body = found.whole
    if body is None or not body.child:
        return None
    age = body.age_years if body.age_years is not None else age_of_height(body.figure, body["height"])
    if age >= GROWN:
        return None
    told = []
    for name, step in STEPS.items():
        if name in known_measures() and name in body:
            wear = months_until(body.figure, age, name, body[name], body[name] + step)
            told.append(Outgrown(name, length(body[name] + step, name, who), wear))
    return {"age": age, "guessed": body.age_years is None, "told": told}


def earlier_shown(earlier: tuple[Body, ...], now: Body, who: Reader) -> list[dict[str, Any]]:
    """The card as it was on each earlier day of taping, newest first: what has changed since."""
    by_day = {body.taken_on: body for body in earlier if body.taken_on and body.taken_on != now.taken_on}
    shown = []
    for day, body in sorted(by_day.items(), reverse=True):
        changed = [
            (name, length(body[name], name, who), length(now[name], name, who))
            for name in measures_of(now.figure)
            if body.taped(name) and now.taped(name) and abs(body[name] - now[name]) >= WORTH_TELLING
        ]
        shown.append({"day": day, "changed": changed})
    return shown


# ---- for the scripts -----------------------------------------------------------------------------


async def kept(request: Request) -> Response:
    """Keeps entries as one deed: {"set": {path: text}}; answers with all that follows from them."""
    from clothwise.web.tickets import entries_of

    entries = await entries_of(request)
    return await run_in_threadpool(_kept, request, entries)


def _kept(request: Request, entries: dict[str, str]) -> Response:
    store, name, who = store_of(request), named(request.path_params["name"]), reader(request)
    told = keep_entries(
        store, BODY, name,
        lambda body: with_entries(body, entries, who),
        lambda before, after: words_of(before, after, entries, who),
    )  # fmt: skip
    if "refused" in told:
        return as_json(request, told)
    body = store.body(name)
    found = known(body)
    drawn = drawn_of(found)
    return as_json(
        request,
        {
            **told,
            "says": {path: said(body, path, who) for path in entries},
            "guesses": {one: guess(found, one, who) for one in measures_of(body.figure)},
            "doubts": doubts_shown(found, who),
            "no": f"{found.no.what} {found.no.mend}" if found.no else "",
            "thin": list(found.thin),
            "drawn": {
                "view": drawn.view,
                "outlines": drawn.outlines,
                "tapes": {one: tape.path for one, tape in drawn.tapes.items()},
            },
        },
    )


ROUTES = (
    Route("/people", show),
    Route("/people/add", add, methods=["POST"]),
    Route("/person/{name}", person),
    Route("/person/{name}/keep", kept, methods=["POST"]),
    forget_route("/person/{name}", BODY, "{name}'s card taken away", "/people"),
)
