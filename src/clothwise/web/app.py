"""The application: one store, all screens, the guard before them."""

from __future__ import annotations

import gc
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response

from clothwise.errors import StoreError, WorkroomError
from clothwise.store import Store
from clothwise.web import (
    bought,
    box,
    buying,
    cupboard,
    evening,
    files,
    house,
    jobs,
    laying,
    learning,
    makes,
    opening,
    people,
    photographs,
    printing,
    printing_sizes,
    reading,
    shelf,
    takeaway,
    tickets,
    working,
)
from clothwise.web.bench import Bench
from clothwise.web.guard import Allowed, Guard
from clothwise.web.sheet import as_json, as_refusal, refused, slug, wants_json
from clothwise.web.ticket_state import OnOneSheet

SELDOM = 20_000  # new values before Python looks for rings among them: a drawing makes many values and no rings

SCREENS = (
    files,
    jobs,
    reading,
    evening,
    tickets,
    opening,
    laying,
    printing,
    printing_sizes,
    working,
    learning,
    photographs,
    takeaway,
    shelf,
    bought,
    makes,
    people,
    cupboard,
    box,
    buying,
    house,
)  # modules with ROUTES


def application(store: Store, allowed: Allowed) -> Starlette:
    """The page over one open store."""

    @asynccontextmanager
    async def life(app: Starlette) -> AsyncIterator[None]:
        app.state.jobs.open()
        app.state.bench.open()
        gc.freeze()  # what was loaded stays; it is not looked through again and again while somebody types
        gc.set_threshold(SELDOM)
        try:
            yield
        finally:
            app.state.jobs.close()
            app.state.bench.close()

    app = Starlette(
        routes=[route for screen in SCREENS for route in screen.ROUTES],
        middleware=[Middleware(Guard, allowed=allowed)],
        exception_handlers={
            WorkroomError: _refusal,
            HTTPException: _no_page,
            Exception: _our_own_bug,
        },
        lifespan=life,
    )
    app.state.store, app.state.jobs = store, jobs.Jobs(store)
    app.state.bench = Bench(store.place)
    app.state.closing = False
    return app


async def _refusal(request: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, WorkroomError)
    if isinstance(wrong, OnOneSheet) and request.method == "GET" and not wants_json(request):
        return RedirectResponse(f"/ticket/{slug(wrong.name)}", 303)  # an address of a station it has not
    status = 404 if isinstance(wrong, StoreError) and request.method == "GET" else 422
    if wants_json(request):
        return as_json(request, {"refused": as_refusal(wrong)}, status)
    return refused(request, wrong, status)


async def _no_page(request: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, HTTPException)
    if wants_json(request):
        return JSONResponse({"refused": {"what": wrong.detail, "where": "", "mend": ""}}, wrong.status_code)
    no = WorkroomError("There is no page here.", where=request.url.path, mend="Go on from this evening.")
    return refused(request, no, wrong.status_code)


async def _our_own_bug(request: Request, wrong: Exception) -> Response:
    """Starlette logs and raises it again; the person is told in a sentence."""
    said = (
        "Something is wrong in Clothwise itself. Nothing you had kept is lost; the terminal says what it was."
    )
    if wants_json(request):
        no = {"what": said, "where": "", "mend": "Try again; please tell the makers of Clothwise."}
        return JSONResponse({"refused": no}, status_code=500)
    return PlainTextResponse(said + "\n", status_code=500)
