"""How this reader reads, and undo and redo, which stand on every page."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.store import deeds
from clothwise.store.deeds import Deed
from clothwise.store.store import TICKET
from clothwise.web.sheet import UNITS_COOKIE, YEAR, go_to, slug, store_of, wants_json


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
    scope = str(form.get("scope", ""))
    turn = deeds.undo if back else deeds.redo
    deed = await run_in_threadpool(turn, store_of(request), scope) if scope else None
    if wants_json(request):
        return JSONResponse({"words": deed.words if deed else ""})
    page = str(form.get("back", "/"))
    return go_to(_renamed(page, deed, back=back) if deed else page)


def _renamed(page: str, deed: Deed, *, back: bool) -> str:
    """The page to go to: where the ticket of this page has another name now, that ticket's."""
    came, gone = (deed.brought, deed.took) if back else (deed.took, deed.brought)
    names = [[slug(name) for kind, name in things if kind == TICKET.word] for things in (came, gone)]
    if [len(some) for some in names] != [1, 1]:
        return page
    (after,), (before,) = names
    head, ticket, rest = page.partition(f"/ticket/{before}")
    return f"/ticket/{after}{rest}" if ticket and not head and rest[:1] in ("", "/", "?") else page


ROUTES = (
    Route("/units", units, methods=["POST"]),
    Route("/undo", undo, methods=["POST"]),
    Route("/redo", redo, methods=["POST"]),
)
