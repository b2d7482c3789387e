"""A draft in the house's own sizes, one inside the other: for those who make for others."""

from __future__ import annotations

from datetime import date
from typing import Any, cast

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.body import Figure
from clothwise.body.sizes import WORDS, size_bodies, size_names
from clothwise.draft import pattern
from clothwise.errors import PaperError
from clothwise.paper.dxf import nest_dxf
from clothwise.paper.nest import print_nest
from clothwise.paper.sheets import SIZES
from clothwise.ticket.made import drawn
from clothwise.web.naming import file_word
from clothwise.web.print_wish import Wish, wish_of
from clothwise.web.printing import as_file
from clothwise.web.sheet import named, page, reader
from clothwise.web.ticket_head import bench_of
from clothwise.web.ticket_state import typed_choice

SHOWN = ("height", "bust_girth", "waist_girth", "hip_girth", "back_waist_length", "arm_length", "inside_leg")
MOST = 12  # sizes on one sheet: more dashes cannot be told apart
FILES = {"sheets": ("sizes.pdf", "application/pdf"), "dxf": ("sizes.dxf", "image/vnd.dxf")}


async def show(request: Request) -> Response:
    """Which sizes of which figure, and their measures."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    draft, figure = pattern(named(request.path_params["name"])), _figure(request)
    bodies = size_bodies(figure)
    return page(
        request, "sizes.html", title=f"{draft.title} in sizes", draft=draft, figures=WORDS, figure=figure,
        sizes=size_names(figure), most=MOST, paper=dict(SIZES), settled=_settings(request),
        main=[choice for choice in draft.choices if choice.main and choice.options],
        rows=[(name, [body[name] for body in bodies]) for name in SHOWN if name in bodies[0]],
    )  # fmt: skip


def _figure(request: Request) -> Figure:
    word = request.query_params.get("figure") or "woman"
    if word not in WORDS:
        raise PaperError(f"There are no sizes of {word[:20]!r}.", where="sizes", mend="Choose women or men.")
    return cast("Figure", word)


def _settings(request: Request) -> dict[str, float | str]:
    """The choices of the draft in an address: set.length=knee."""
    draft = pattern(named(request.path_params["name"]))
    asked = {key.removeprefix("set."): v for key, v in request.query_params.items() if key.startswith("set.")}
    who = reader(request)
    return {name: typed_choice(draft.choice(name), text, who) for name, text in asked.items() if text}


async def file(request: Request) -> Response:
    """The sizes as one file to print, or for cutters."""
    name, on = named(request.path_params["name"]), request.path_params["on"]
    if on not in FILES:
        raise PaperError(f"Sizes are not printed on {on[:20]!r}.", where="sizes", mend="Choose sheets or dxf.")
    asked, who = request.query_params, reader(request)
    tall = asked.get("height", "").strip()
    ending, kind = FILES[on]
    wanted = tuple(asked.getlist("sizes"))
    height = who.typed(tall) if tall else None
    settings = tuple(sorted(_settings(request).items()))
    data = await bench_of(request).ask(
        printed, name, _figure(request), wanted, height, settings, on, wish_of(asked, who), _today()
    )
    return as_file(data, f"{file_word(name)}-{ending}", kind)


def _today() -> str:
    return date.today().isoformat()


def printed(
    name: str,
    figure: Figure,
    sizes: tuple[str, ...],
    height: float | None,
    settings: tuple[tuple[str, float | str], ...],
    on: str,
    wish: Wish,
    made_on: str,
) -> bytes:
    """The draft once for each size body. Made in the process beside the page.

    Raises  MeasureError: no such size, a height few have; PaperError: too many at once; what the draft raises
    """
    if len(sizes) > MOST or not sizes:
        raise PaperError(
            "Tick the sizes that are wanted." if not sizes else f"{len(sizes)} sizes cannot be told apart.",
            where="sizes",
            mend=f"Choose one to {MOST} of them.",
        )
    bodies = size_bodies(figure, sizes, height=height)
    garments = {body.name: drawn(body, name, dict(settings)) for body in bodies}
    if on == "dxf":
        return nest_dxf(garments, made_on=made_on, pieces=wish.pieces).encode()
    how: dict[str, Any] = {"paper": wish.sheet("A4"), "pieces": wish.pieces, "box": wish.pens}
    return print_nest(garments, made_on=made_on, **how).data


ROUTES = (
    Route("/draft/{name}/sizes", show),
    Route("/draft/{name}/sizes/{on}", file),
)
