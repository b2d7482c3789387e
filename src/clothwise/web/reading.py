"""How this reader reads, and undo and redo, which stand on every page."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.store import deeds
from clothwise.web.sheet import UNITS_COOKIE, YEAR, go_to, store_of, wants_json


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
    return go_to(str(form.get("back", "/")))


ROUTES = (
    Route("/units", units, methods=["POST"]),
    Route("/undo", undo, methods=["POST"]),
    Route("/redo", redo, methods=["POST"]),
)
