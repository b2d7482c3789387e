"""How this reader reads, and undo and redo, which stand on every page."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.store import deeds
from clothwise.store.deeds import Deed
from clothwise.store.standing import since, stands
from clothwise.store.store import BODY, BOUGHT, CLOTH, MAKE, TICKET
from clothwise.web.sheet import UNITS_COOKIE, YEAR, go_to, slug, store_of, wants_json

MOST_SCOPES = 8  # of one page
PAGES = {  # where a thing of each kind is shown, and where all of them are
    BODY.word: ("/person/", "/people"),
    CLOTH.word: ("/cloth/", "/cupboard"),
    TICKET.word: ("/ticket/", "/tickets"),
    BOUGHT.word: ("/bought/", "/shelf"),
    MAKE.word: ("/make/", "/makes"),
}


async def units(request: Request) -> Response:
    """cm or inch, for this browser."""
    form = await request.form()
    answer = go_to(str(form.get("back", "/")))
    wanted = "inch" if form.get("units") == "inch" else "cm"
    answer.set_cookie(UNITS_COOKIE, wanted, max_age=YEAR, samesite="strict", httponly=True)
    return answer


async def undo(request: Request) -> Response:
    """Takes back the last deed of the page's scope."""
    return await _turned(request, back=True)


async def redo(request: Request) -> Response:
    """Does again what was taken back."""
    return await _turned(request, back=False)


async def _turned(request: Request, *, back: bool) -> Response:
    form = await request.form()
    scope = [str(one) for one in form.getlist("scope")][:MOST_SCOPES]
    turn = deeds.undo if back else deeds.redo
    deed = await run_in_threadpool(turn, store_of(request), scope) if scope else None
    if wants_json(request):
        return JSONResponse({"words": deed.words if deed else ""})
    page = str(form.get("back", "/"))
    return go_to(_still_there(page, deed, back=back) if deed else page)


async def how_it_stands(request: Request) -> Response:
    """How the things of a page stand now, and what was done since they stood `on`: asked every few seconds."""
    asked = request.query_params
    scope = asked.getlist("scope")[:MOST_SCOPES]
    store, on, until = store_of(request), asked.get("on", ""), asked.get("until", "")
    now = await run_in_threadpool(stands, store, scope)
    told = () if now == on else await run_in_threadpool(since, store, scope, on, until)
    return JSONResponse({"stands": now, "since": list(told)})


def _still_there(page: str, deed: Deed, *, back: bool) -> str:
    """The page to go to: the same thing under its other name, or the list, where this one is gone now."""
    came, gone = (deed.brought, deed.took) if back else (deed.took, deed.brought)
    for kind, name in gone:
        own, among = PAGES.get(kind, ("", ""))
        head, found, rest = page.partition(f"{own}{slug(name)}")
        if own and found and not head and rest[:1] in ("", "/", "?"):
            others = [other for word, other in came if word == kind]
            return f"{own}{slug(others[0])}{rest}" if len(others) == 1 else among
    return page


ROUTES = (
    Route("/units", units, methods=["POST"]),
    Route("/undo", undo, methods=["POST"]),
    Route("/redo", redo, methods=["POST"]),
    Route("/stands", how_it_stands),
)
