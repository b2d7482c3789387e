"""Bought patterns at the page: charts pasted and checked at once, which size to cut, and how it turned out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any, get_args

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.body import Figure
from clothwise.errors import ShelfError, WorkroomError
from clothwise.shelf.doubts import doubts
from clothwise.shelf.levels import LEVELS
from clothwise.shelf.pasting import TableKind, sizes_of, with_table
from clothwise.shelf.pattern import BoughtPattern, FinishedMake, FitClass, GarmentKind, Row, Span
from clothwise.shelf.reading import Reading, read_pattern
from clothwise.shelf.writing import write_pattern
from clothwise.size.advice import LevelAdvice
from clothwise.size.answering import SizeAnswer, answered
from clothwise.size.chart import place_of
from clothwise.size.judging import judged
from clothwise.size.told import CHILD_CAUTION, TRUST, changes, cloth_told, headline
from clothwise.size.words import Speaker
from clothwise.store import deeds
from clothwise.store.store import BOUGHT, MAKE
from clothwise.ticket.taped import days_since_taped
from clothwise.units import Unit
from clothwise.web.entries import forget_route
from clothwise.web.sheet import Reader, fragment, go_to, named, page, reader, slug, store_of
from clothwise.web.size_asked import NAPS, USUAL_NAP, size_asked, wishable

SCOPE = BOUGHT.word
MOST_LETTERS = 60_000  # of a pasted table or a whole pattern: many times the largest chart
KINDS: dict[TableKind, str] = {
    "body": "body chart",
    "finished": "finished measures",
    "cloth": "cloth table",
}
UNITS: dict[str, Unit] = {"cm": "cm", "inch": "in"}


async def begin(request: Request) -> Response:
    """A sheet for a new pattern."""
    return page(request, "bought_new.html", title="A bought pattern", **_words(request))


def _words(request: Request) -> dict[str, Any]:
    return {
        "figures": get_args(Figure), "garments": get_args(GarmentKind), "fits": get_args(FitClass),
        "kinds": KINDS, "usual_unit": "inch" if reader(request).inches else "cm", "letters": MOST_LETTERS,
    }  # fmt: skip


async def add(request: Request) -> Response:
    """Puts a new pattern on the shelf: from its body chart, or a whole pattern written as text."""
    form = await request.form()
    return await run_in_threadpool(_added, request, {key: str(value) for key, value in form.items()})


def _added(request: Request, asked: dict[str, str]) -> Response:
    store = store_of(request)
    pattern = new_pattern(asked)
    if pattern.name in {one.name for one in store.bought_patterns()}:
        raise ShelfError(
            f"There is a pattern '{pattern.name}' on the shelf already.",
            where="name",
            mend="Give this one another name, or put the table into that one.",
        )
    deeds.keep(store, BOUGHT, pattern, f"'{pattern.name}' put on the shelf")
    return go_to(f"/bought/{slug(pattern.name)}")


def new_pattern(asked: Mapping[str, str]) -> BoughtPattern:
    """The pattern a form describes. Raises ShelfError for what cannot be read."""
    whole = _bounded(asked.get("whole", ""))
    if whole.strip():
        return read_pattern(whole).pattern
    name, text, unit = asked.get("name", "").strip(), _bounded(asked.get("text", "")), _unit(asked)
    if not name or not text.strip():
        raise ShelfError(
            "A pattern needs a name and its body chart.",
            where="a bought pattern",
            mend="Give it a name, and copy the table of sizes from its envelope, sheet or book.",
        )
    pattern = BoughtPattern(
        name, sizes_of(text, "body", unit),
        figure=asked.get("figure", "woman"),  # type: ignore[arg-type]  # the pattern checks its words itself
        garment=asked.get("garment", "dress"),  # type: ignore[arg-type]
        fit_class=asked.get("fit_class", "semi-fitted"),  # type: ignore[arg-type]
        make="knit" if asked.get("make") == "knit" else "woven",
        least_stretch=_share(asked.get("stretch", "")), kept=asked.get("kept", "").strip(),
    )  # fmt: skip
    return with_table(pattern, text, "body", unit=unit).pattern


def _share(text: str) -> float | None:
    """'35' or '35 %' as a share of one."""
    plain = text.strip().removesuffix("%").strip().replace(",", ".")
    if not plain:
        return None
    try:
        share = float(plain) / 100
    except ValueError:
        share = -1.0
    if not 0 <= share <= 3:
        raise ShelfError(
            f"{text[:20]!r} is no stretch.",
            where="least stretch",
            mend="Say how many centimetres ten of the cloth gain when pulled, as per cent: 35.",
        )
    return share


def _unit(asked: Mapping[str, str]) -> Unit:
    return UNITS.get(asked.get("unit", "cm"), "cm")


def _bounded(text: str) -> str:
    if len(text) > MOST_LETTERS:
        raise ShelfError(
            "This is too long for a table of sizes.", where="table", mend="Paste one table at a time."
        )
    return text


# ---- a table as it is pasted ---------------------------------------------------------------------


async def check(request: Request) -> Response:
    """What is understood of a table before it is put in: a piece of page with rows, problems and doubts."""
    form = await request.form()
    return await run_in_threadpool(_checked, request, {key: str(value) for key, value in form.items()})


def _checked(request: Request, asked: dict[str, str]) -> Response:
    try:
        if not asked.get("text", "").strip():
            return JSONResponse({"html": ""})
        reading = _with_table(request, asked)
        return JSONResponse({"html": fragment(request, "table_read.html", **_read(request, reading))})
    except WorkroomError as no:
        return JSONResponse(
            {"html": fragment(request, "table_read.html", no=no, tables=[], said=[], doubts=[])}
        )


def _with_table(request: Request, asked: Mapping[str, str]) -> Reading:
    """A pattern of the shelf, or one that begins here, with the table put in."""
    text, unit = _bounded(asked.get("text", "")), _unit(asked)
    kind: TableKind = next((kind for kind in KINDS if kind == asked.get("kind")), "body")
    if asked.get("of"):
        pattern = store_of(request).bought_pattern(asked["of"])
        return with_table(pattern, text, kind, view=asked.get("view", "").strip(), unit=unit)
    began = new_pattern({**asked, "name": asked.get("name", "").strip() or "this pattern"})
    return Reading(began, with_table(began, text, "body", unit=unit).problems)


def _read(request: Request, reading: Reading) -> dict[str, Any]:
    say = _speaker(reader(request), reading.pattern)
    return {
        "no": None, "tables": tables(reading.pattern, reader(request)), "said": reading.problems,
        "doubts": say.doubts(doubts(reading.pattern)),
    }  # fmt: skip


async def put(request: Request) -> Response:
    """Puts a table into a pattern of the shelf."""
    form = await request.form()
    asked = {key: str(value) for key, value in form.items()} | {"of": named(request.path_params["name"])}

    def kept() -> str:
        reading = _with_table(request, asked)
        kind = next((words for kind, words in KINDS.items() if kind == asked.get("kind")), "body chart")
        deeds.keep(store_of(request), BOUGHT, reading.pattern, f"{kind} put in")
        return reading.pattern.name

    return go_to(f"/bought/{slug(await run_in_threadpool(kept))}")


async def rewrite(request: Request) -> Response:
    """Keeps the whole pattern as it was written anew."""
    form = await request.form()
    name, text = named(request.path_params["name"]), str(form.get("whole", ""))

    def kept() -> str:
        store = store_of(request)
        store.bought_pattern(name)
        pattern = replace(read_pattern(_bounded(text)).pattern, name=name)
        deeds.keep(store, BOUGHT, pattern, "written anew")
        return name

    return go_to(f"/bought/{slug(await run_in_threadpool(kept))}")


# ---- one pattern ---------------------------------------------------------------------------------


async def show(request: Request) -> Response:
    """One pattern: what its envelope says, and which size to cut for whom."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    store, who = store_of(request), reader(request)
    pattern = store.bought_pattern(named(request.path_params["name"]))
    asked, bodies, cloths = request.query_params, store.bodies(), store.cloths()
    person = next((body for body in bodies if body.name == asked.get("for")), None)
    cloth = next((one for one in cloths if one.name == asked.get("cloth")), None)
    view = asked.get("view", "") if asked.get("view", "") in pattern.views else ""
    answer, no = None, None
    if person is not None:
        try:
            wish = size_asked(pattern, {**asked, "cloth": cloth.name if cloth else ""}, who)
            answer = answered(
                person, pattern, view=view, cloth=cloth, makes=store.makes(),
                tape_days=days_since_taped(person, date.today().isoformat()), **wish.answered_with,
            )  # fmt: skip
        except WorkroomError as wrong:
            no = wrong
    say = _speaker(who, pattern, person.name if person else "")
    return page(
        request, "bought.html", title=pattern.name, scope=f"{SCOPE}/{pattern.name}", pattern=pattern,
        path=f"/bought/{slug(pattern.name)}", tables=tables(pattern, who), doubts=say.doubts(doubts(pattern)),
        whole=write_pattern(pattern), bodies=bodies, cloths=cloths, person=person, cloth=cloth, view=view,
        answer=answer and advice_shown(answer, pattern, cloth, say), say=say, today=date.today().isoformat(),
        no=no, asked=asked, wishable=wishable(pattern), naps=NAPS, usual_nap=USUAL_NAP,
        judged_levels=judgeable(pattern, view), lengths=[one.name for one in LEVELS if one.kind == "length"],
        **_words(request),
    )  # fmt: skip


def _speaker(who: Reader, pattern: BoughtPattern, wearer: str = "") -> Speaker:
    return Speaker(who.unit, chest=pattern.figure != "woman", wearer=wearer)


def advice_shown(answer: SizeAnswer, pattern: BoughtPattern, cloth: Any, say: Speaker) -> dict[str, Any]:
    """The answer in sentences and one table, grave doubts first."""
    advice = answer.advice
    bolts = [text for kind, need in answer.needs.items() for text in cloth_told(kind, need, cloth, say)]
    inside = [say.passage(one) for one in advice.passages]
    told = {each.size for one in advice.levels for each in one.eases if each.on_chart or each.size == one.size}
    columns = sorted(told, key=lambda size: place_of(pattern, size))
    return {
        "headline": headline(advice, say),
        "trust": TRUST[advice.confidence],
        "grave": any(doubt.grave for doubt in advice.doubts),
        "doubts": say.doubts(advice.doubts),
        "columns": columns,
        "levels": [
            (one, say.level(one.level), [_ease(one, size) for size in columns]) for one in advice.levels
        ],
        "parts": [
            (title, said)
            for title, said in (
                ("Why", say.reasons(advice.reasons)),
                ("Change beyond the chart", changes(advice, say)),
                ("Getting in", [*inside, *([say.elastic(advice.elastic)] if advice.elastic else [])]),
                ("Growing", say.growing(advice.growing) if advice.growing else []),
                ("Cloth", [answer.trouble] if answer.trouble else bolts),
                ("Before you cut", answer.questions),
                ("For a child", [CHILD_CAUTION] if pattern.figure in ("girl", "boy") else []),
            )
            if said
        ],
        "sizes": dict(advice.sizes),
    }  # fmt: skip


def _ease(one: LevelAdvice, size: str) -> tuple[float, bool] | None:
    """What a size gives at a level, and whether that is too tight to wear; None where it is not known."""
    found = next((each.ease for each in one.eases if each.size == size), None)
    return None if found is None else (found, found < one.floor)


def tables(pattern: BoughtPattern, who: Reader) -> list[dict[str, Any]]:
    """All tables of a pattern as text in rows and columns."""
    shown = []
    for title, rows in (
        ("Body chart", pattern.body),
        *((f"Finished{f', view {view}' if view else ''}", rows) for view, rows in pattern.finished.items()),
    ):
        if rows:
            cells = [(name.replace("_", " "), [_cell(cell, who) for cell in row]) for name, row in rows.items()]
            shown.append({"title": title, "sizes": pattern.sizes, "rows": cells, "unit": who.unit})
    cloth = [
        (
            f"{who.length(row.width)} wide{'' if row.kind == 'main' else ', ' + row.kind}"
            f"{', one way' if row.nap == 'one-way' else ''}{f', view {row.view}' if row.view else ''}",
            [_cell(cell, who) for cell in row.lengths],
        )
        for row in pattern.cloth
    ]
    if cloth:
        shown.append({"title": "Cloth to buy", "sizes": pattern.sizes, "rows": cloth, "unit": who.unit})
    return shown


def _cell(cell: Span | None, who: Reader) -> str:
    if cell is None:
        return "–"
    low = who.number(cell.low)
    return low if cell.low == cell.high else f"{low} to {who.number(cell.high)}"


# ---- how it turned out ---------------------------------------------------------------------------


async def sewn(request: Request) -> Response:
    """A finished make of this pattern, judged level by level."""
    form = await request.form()
    return await run_in_threadpool(_sewn, request, {key: str(value) for key, value in form.items()})


def _sewn(request: Request, asked: dict[str, str]) -> Response:
    store = store_of(request)
    pattern, person = store.bought_pattern(named(request.path_params["name"])), store.body(asked.get("for", ""))
    day, view = asked.get("on", "") or date.today().isoformat(), asked.get("view", "")
    try:
        date.fromisoformat(day)
    except ValueError:
        raise ShelfError(f"{day[:20]!r} is no date.", where="on", mend="Write it as 2026-11-25.") from None
    told = {
        key.removeprefix("say."): verdict
        for key, verdict in asked.items()
        if key.startswith("say.") and verdict
    }
    if not told:
        raise ShelfError(
            "Nothing was said of how it sits.", where="judgement", mend="Say it of one level at least."
        )
    sizes = {level: asked.get(f"size.{level}") or asked.get("size", "") for level in told}
    judgements = tuple(
        judged(person, pattern, level, verdict, size=sizes[level], view=view) for level, verdict in told.items()
    )
    taken, name, number = {make.name for make in store.makes()}, f"{pattern.name} for {person.name}, {day}", 1
    while name in taken:
        number += 1
        name = f"{pattern.name} for {person.name}, {day} ({number})"
    make = FinishedMake(
        name, person.name, pattern.name, pattern.fit_class, pattern.make, sizes, judgements, day
    )
    deeds.keep(store, MAKE, make, f"'{name}' judged")
    return go_to(f"/make/{slug(name)}")


def judgeable(pattern: BoughtPattern, view: str) -> tuple[str, ...]:
    """The levels a verdict can teach something of: those whose finished measures are printed."""
    rows: Mapping[str, Row] = pattern.finished_of(view)
    return tuple(name for name, row in rows.items() if any(row))


ROUTES = (
    Route("/bought", begin),
    Route("/bought", add, methods=["POST"]),
    Route("/shelf/check", check, methods=["POST"]),
    Route("/bought/{name}", show),
    Route("/bought/{name}/table", put, methods=["POST"]),
    Route("/bought/{name}/whole", rewrite, methods=["POST"]),
    Route("/bought/{name}/sewn", sewn, methods=["POST"]),
    forget_route("/bought/{name}", BOUGHT, "'{name}' off the shelf", "/shelf"),
)
