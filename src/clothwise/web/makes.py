"""Makes: what was made, how it sat, and what was learned from it of the room each person likes.

The liking at a level is worked out as for a bought pattern (`size.liking`), about the usual ease of the class.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import get_args

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.body import Body, estimate
from clothwise.draft import PATTERNS
from clothwise.errors import MeasureError, ShelfError
from clothwise.shelf.levels import find_level
from clothwise.shelf.pattern import FinishedMake, FitClass, GarmentKind, Judgement, Verdict
from clothwise.size.ease import spread, usual_ease
from clothwise.size.liking import Liking, liking
from clothwise.store import Store, photos
from clothwise.store.store import MAKE
from clothwise.web.entries import forget_route, keep_entries
from clothwise.web.learning import MOST_WORDS
from clothwise.web.photographs import photo_routes
from clothwise.web.sheet import as_json, named, page, slug, store_of
from clothwise.web.shelf import FOR_LEGS, SKIRTS

SCOPE = MAKE.word


@dataclass(frozen=True, slots=True)
class Learned:
    """What one person likes at one level, in one fit class and make of cloth. [cm]"""

    level: str
    fit_class: FitClass
    cloth: str
    usual: float
    liked: Liking
    makes: tuple[str, ...]


async def show(request: Request) -> Response:
    """All makes, newest first, person by person, with what they taught."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    store = store_of(request)
    makes = sorted(store.makes(), key=lambda make: (make.made_on, make.name), reverse=True)
    bodies = {body.name: body for body in store.bodies()}
    people = sorted({make.person for make in makes})
    return page(
        request, "makes.html", title="Makes", scope=f"{SCOPE}/",
        people=[
            {
                "name": name,
                "makes": [(make, _photo(store, make)) for make in makes if make.person == name],
                "learned": learned(makes, bodies[name], garments(store)) if name in bodies else (),
                "known": name in bodies,
            }
            for name in people
        ],
    )  # fmt: skip


def _photo(store: Store, make: FinishedMake) -> photos.Photo | None:
    return next(iter(photos.of_thing(store, f"make/{make.name}")), None)


def garments(store: Store) -> dict[str, GarmentKind]:
    """What kind of garment each pattern makes, by the name that makes know it by."""
    house: dict[str, GarmentKind] = {
        draft.title: "trousers" if draft.name in FOR_LEGS else "skirt" if draft.name in SKIRTS else "dress"
        for draft in PATTERNS
    }
    return house | {pattern.name: pattern.garment for pattern in store.bought_patterns()}


def learned(
    makes: Sequence[FinishedMake], person: Body, garments: dict[str, GarmentKind]
) -> tuple[Learned, ...]:
    """Liked ease by fit class, make of cloth and level; only girths, since lengths belong to their pattern."""
    told: dict[tuple[FitClass, str, str], list[tuple[FinishedMake, Judgement]]] = {}
    for make in sorted(makes, key=lambda one: (one.made_on, one.name)):
        for one in make.judgements if make.person == person.name else ():
            level = find_level(one.level)
            if level is not None and level.kind == "girth":
                told.setdefault((make.fit_class, make.make, level.name), []).append((make, one))
    return tuple(_learned(key, found, _filled(person), garments) for key, found in sorted(told.items()))


def _filled(person: Body) -> Body:
    try:
        return estimate(person)
    except MeasureError:
        return person  # too little was taped to estimate from: a knit's usual ease is then told from nothing


def _learned(
    key: tuple[FitClass, str, str],
    found: Sequence[tuple[FinishedMake, Judgement]],
    person: Body,
    garments: dict[str, GarmentKind],
) -> Learned:
    fit_class, cloth, name = key
    last = found[-1][0]
    level = find_level(name)
    girth = person[level.body] if level is not None and level.body in person else 0.0
    usual = usual_ease(
        name, fit_class, garments.get(last.pattern, "dress"), person.figure, knit=cloth == "knit", body=girth
    )
    liked = liking((one for _, one in found), intended=usual, spread=spread(name, fit_class))
    return Learned(name, fit_class, cloth, usual, liked, tuple(make.name for make, _ in found))


# ---- one make ------------------------------------------------------------------------------------


async def make(request: Request) -> Response:
    """One make: what was cut, how it sat, what was written of it, photos."""
    return await run_in_threadpool(_make, request)


def _make(request: Request) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    found = store.make(name)
    drafts = {draft.title: draft.name for draft in PATTERNS}
    return page(
        request, "make.html", title=name, scope=f"{SCOPE}/{name}", make=found, verdicts=get_args(Verdict),
        path=f"/make/{slug(name)}", photos=photos.of_thing(store, f"make/{name}"),
        ticket=name if name in {ticket.name for ticket in store.tickets()} else "",
        draft=drafts.get(found.pattern, ""),
        bought=found.pattern in {pattern.name for pattern in store.bought_patterns()},
        lengths={one.level for one in found.judgements if _is_length(one.level)},
        people={body.name for body in store.bodies()},
    )  # fmt: skip


def _is_length(name: str) -> bool:
    level = find_level(name)
    return level is not None and level.kind == "length"


async def kept(request: Request) -> Response:
    """What was said anew of a make: {"set": {path: text}}, path 'notes' or 'judged.LEVEL'."""
    from clothwise.web.tickets import entries_of

    entries = await entries_of(request)
    return await run_in_threadpool(_kept, request, entries)


def _kept(request: Request, entries: dict[str, str]) -> Response:
    def changed(make: FinishedMake) -> FinishedMake:
        for path, text in entries.items():
            make = with_entry(make, path, text)
        return make

    told = keep_entries(
        store_of(request), MAKE, named(request.path_params["name"]), changed,
        lambda _before, _after: ", ".join(_said(path, text) for path, text in entries.items())[:200],
    )  # fmt: skip
    return as_json(request, told if "refused" in told else {**told, "says": dict(entries)})


def _said(path: str, text: str) -> str:
    return f"{path.rpartition('.')[2].replace('_', ' ')}: {text[:40]}"


def with_entry(make: FinishedMake, path: str, text: str) -> FinishedMake:
    """The make with one thing said anew. Raises ShelfError for what cannot be said."""
    part, _, level = path.partition(".")
    if part == "notes" and len(text) <= MOST_WORDS:
        return replace(make, notes=tuple(line for line in text.splitlines() if line.strip()))
    verdict = next((one for one in get_args(Verdict) if one == text), None)
    if part == "judged" and verdict and level in {one.level for one in make.judgements}:
        judged = tuple(replace(one, verdict=verdict) if one.level == level else one for one in make.judgements)
        return replace(make, judgements=judged)
    raise ShelfError("That cannot be said of a make.", where=f"make '{make.name}'", mend="Reload the page.")


ROUTES = (
    Route("/makes", show),
    Route("/make/{name}", make),
    Route("/make/{name}/keep", kept, methods=["POST"]),
    forget_route("/make/{name}", MAKE, "'{name}' taken away", "/makes"),
    *photo_routes("/make/{name}", "make"),
)
