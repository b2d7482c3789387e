"""How long a ticket's make can be on its cloth: asked at the station of cloth, and made so long."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.draft import pattern
from clothwise.errors import ChoiceError
from clothwise.web.cut_now import refuse_cut
from clothwise.web.sheet import Reader, go_to, jobs_of, named, slug, store_of, wants_json
from clothwise.web.ticket_state import keep, load


async def ask(request: Request) -> Response:
    """Begins the search, in a worker."""
    name = named(request.path_params["name"])
    await run_in_threadpool(load, store_of(request), name)
    number = await run_in_threadpool(jobs_of(request).begin, "longest", {"ticket": name})
    if wants_json(request):
        return JSONResponse({"job": number})
    return go_to(f"/ticket/{slug(name)}/cloth?longest={number}")


async def take(request: Request) -> Response:
    """The make drawn so long."""
    form = await request.form()
    return await run_in_threadpool(_taken, request, str(form.get("by", "")))


def _taken(request: Request, by: str) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    refuse_cut(store, name)
    choice = pattern(load(store, name).ticket.pattern).shortened_by
    if not choice:
        raise ChoiceError(
            "This draft has no length to choose.", where=f"ticket '{name}'", mend="Reload the page."
        )
    keep(store, name, {f"choice.{choice}": by}, Reader(False))  # as the worker told it, in cm
    return go_to(f"/ticket/{slug(name)}/cloth")


ROUTES = (
    Route("/ticket/{name}/cloth/longest", ask, methods=["POST"]),
    Route("/ticket/{name}/cloth/length", take, methods=["POST"]),
)
