"""What to buy: one shopping list over several tickets, and the metres of a draft for any width.

Both lay pieces on cloth, so both are jobs; what they found stands in the address as a job's number.
"""

from __future__ import annotations

import re
from typing import Any, get_args

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.cloth import Nap
from clothwise.cloth.kinds import kinds
from clothwise.cloth.typed import cloth_typed
from clothwise.draft import pattern
from clothwise.errors import ClothError, TicketError
from clothwise.shopping.asked import like_of
from clothwise.shopping.metres import LEAST_WIDTH, MOST_WIDTH
from clothwise.store import Store, jobs
from clothwise.store.jobs import Job
from clothwise.web.numbers import counted
from clothwise.web.sheet import Reader, go_to, jobs_of, named, page, reader, slug, store_of
from clothwise.web.ticket_head import progress
from clothwise.web.ticket_state import load

MOST_TICKETS = 12  # of one list: each is worked out
MOST_WIDTHS = 8  # of one question: each is laid
MOST_LETTERS = 200
WIDTHS = {"cm": (90.0, 110.0, 140.0, 150.0, 160.0), "in": (36.0, 45.0, 54.0, 60.0)}  # as cloth is usually sold
INCH = 2.54  # cm
OF_CLOTH = ("nap", "shrinkage", "price")


def job_here(request: Request, kind: str) -> Job | None:
    """The job in the address, when it is of this kind."""
    number = counted(request.query_params.get("job", ""))
    found = None if number is None else jobs.job(store_of(request), number)
    return found if found is not None and found.kind == kind else None


# ---- the shopping list ---------------------------------------------------------------------------


async def list_shown(request: Request) -> Response:
    """Which tickets, and the list of the job in the address."""
    return await run_in_threadpool(_list_shown, request)


def _list_shown(request: Request) -> Response:
    store, job = store_of(request), job_here(request, "shopping")
    tickets = [(kept.name, bool(progress(store, kept.name).get("finished_on"))) for kept in store.tickets()]
    asked = job.asked["tickets"] if job else [name for name, finished in tickets if not finished]
    return page(
        request, "shopping.html", title="Shopping list", tickets=tickets, asked=asked[:MOST_TICKETS], job=job,
        without_cloth=bool(job and job.asked["without_cloth"]),
    )  # fmt: skip


async def list_asked(request: Request) -> Response:
    """Begins to work out the list."""
    form = await request.form()
    names = [str(name) for name in form.getlist("ticket")]
    if not names:
        raise TicketError("No ticket is ticked.", where="shopping list", mend="Tick at least one.")
    if len(names) > MOST_TICKETS:
        raise TicketError(
            f"{len(names)} tickets are too many for one list.",
            where="shopping list",
            mend=f"Tick {MOST_TICKETS} at most.",
        )
    for name in names:
        await run_in_threadpool(store_of(request).ticket, name)
    asked = {"tickets": names, "without_cloth": form.get("without_cloth") == "yes"}
    number = await run_in_threadpool(jobs_of(request).begin, "shopping", asked)
    return go_to(f"/shopping?job={number}")


# ---- metres --------------------------------------------------------------------------------------


async def metres_shown(request: Request) -> Response:
    """The question, and the widths of the job in the address."""
    return await run_in_threadpool(_metres_shown, request)


def _metres_shown(request: Request) -> Response:
    store, who, query = store_of(request), reader(request), request.query_params
    draft, job = pattern(named(request.path_params["name"])), job_here(request, "metres")
    bodies, cloths = store.bodies(), [cloth for cloth in store.cloths() if cloth.make in draft.makes]
    ask: dict[str, Any] = {"for": query.get("for", ""), "like": "", "ticket": query.get("ticket", "")}
    ask |= dict.fromkeys(OF_CLOTH, "") | {"widths": usual_widths(who)}
    if ask["ticket"]:
        state = load(store, ask["ticket"])
        ask |= {"for": state.body.name, "like": state.cloth.name}
        draft = pattern(state.ticket.pattern)
    if job:
        ask = job.asked
    return page(
        request, "metres.html", title=f"How much to buy: {draft.title}", draft=draft, bodies=bodies,
        cloths=cloths, kinds=[kind for kind in kinds() if kind.make in draft.makes], naps=get_args(Nap),
        ask=ask, job=job, widths=widths_said(ask["widths"], who),
        like=_liked(store, ask), path=f"/draft/{slug(draft.name)}/metres",
    )  # fmt: skip


def _liked(store: Store, ask: dict[str, Any]) -> str:
    """What is taken to be true of the cloth, in a line."""
    cloth = like_cloth(store, ask)
    nap = "no nap" if cloth.laid_nap == "none" else f"{cloth.laid_nap} nap"
    price = "" if cloth.price_per_m is None else f", {cloth.price_per_m:.2f} a metre"
    return f"{cloth.name}: {nap}, loses {cloth.shrinkage * 100:.0f} % of its length in the first wash{price}."


def like_cloth(store: Store, ask: dict[str, Any]) -> Any:
    """The cloth that is asked about. Raises ClothError for what no cloth can be."""
    cloth = like_of(ask["like"], store.cloths())
    typed = {field: ask[field] for field in OF_CLOTH if ask[field]}
    return cloth_typed(cloth.name, typed, before=cloth) if typed else cloth


async def metres_asked(request: Request) -> Response:
    """Begins to lay."""
    form = await request.form()
    return await run_in_threadpool(_metres_asked, request, form)


def _metres_asked(request: Request, form: FormData) -> Response:
    store, draft = store_of(request), pattern(named(request.path_params["name"]))
    fields = ("for", "like", "ticket", *OF_CLOTH)
    ask: dict[str, Any] = {key: str(form.get(key, "")).strip()[:MOST_LETTERS] for key in fields}
    ask["widths"] = widths_typed(str(form.get("widths", ""))[:MOST_LETTERS], reader(request))
    ask["pattern"] = draft.name
    if ask["ticket"]:
        load(store, ask["ticket"])
    else:
        store.body(ask["for"])
    like_cloth(store, ask)
    number = jobs_of(request).begin("metres", ask)
    return go_to(f"/draft/{slug(draft.name)}/metres?job={number}")


def usual_widths(who: Reader) -> list[float]:
    """Widths as shops of her country sell them. [cm]"""
    return [width * (INCH if who.inches else 1.0) for width in WIDTHS[who.unit]]


def widths_said(widths: list[float], who: Reader) -> str:
    """As they may be typed again: '110; 140'."""
    return "; ".join(who.number(width).removesuffix(".0") for width in widths)


def widths_typed(text: str, who: Reader) -> list[float]:
    """Widths with ';', ', ' or spaces between ('43 1/2; 60'), in cm. Raises ClothError, LengthError."""
    text = re.sub(r",\s", "; ", text)  # a comma within a number has no space behind it
    parts = text.split(";") if ";" in text or "/" in text else text.split()
    widths = [who.typed(part) for part in parts if part.strip()]
    if not 1 <= len(widths) <= MOST_WIDTHS or not all(LEAST_WIDTH <= width <= MOST_WIDTH for width in widths):
        such = widths_said(usual_widths(who)[1:3], who)
        raise ClothError(
            f"'{text[:40]}' cannot be widths of cloth.",
            where="how much to buy: widths",
            mend=f"Write up to {MOST_WIDTHS} of them in {who.unit}, such as '{such}'.",
        )
    return list(dict.fromkeys(widths))


ROUTES = (
    Route("/shopping", list_shown),
    Route("/shopping/ask", list_asked, methods=["POST"]),
    Route("/draft/{name}/metres", metres_shown),
    Route("/draft/{name}/metres", metres_asked, methods=["POST"]),
)
