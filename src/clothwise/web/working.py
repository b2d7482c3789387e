"""The station of work: the order of work step by step, ticked off, with a clock that runs while she sews."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from clothwise.errors import GarmentError, TicketError
from clothwise.sew import order_of_work
from clothwise.store import deeds
from clothwise.store.standing import Watch
from clothwise.web.laying import change_progress
from clothwise.web.live import drawn
from clothwise.web.paper_look import work_told
from clothwise.web.sheet import as_json, go_to, named, page, reader, slug, store_of, wants_json
from clothwise.web.ticket_head import bench_of, head_of, looked_at, progress, scopes_of
from clothwise.web.ticket_state import changed, keep, load

PICTURE_POLICY = "default-src 'none'; style-src 'unsafe-inline'"  # a drawing's own styles; nothing is run in it
LONGEST_STRETCH = 16 * 60.0  # minutes: a clock left running over night counts no more than a long day


async def show(request: Request) -> Response:
    """All steps."""
    no = ""
    try:
        name, head, found, waits = await looked_at(request, work_told, reader(request).units)
    except GarmentError as wrong:  # a way that was chosen for a seam which is no longer there
        name = named(request.path_params["name"])
        head, found, waits = await run_in_threadpool(head_of, request, name), None, False
        no = f"{wrong.what} {wrong.mend}"
    return await run_in_threadpool(_shown, request, name, head, found, waits, no)


def _shown(
    request: Request, name: str, head: Any, found: dict[str, Any] | None, waits: bool, no: str
) -> Response:
    ticks = set(head.said.get("ticks", []))
    steps = found["told"]["steps"] if found else []
    done = [step for step in steps if step["key"] in ticks]
    left = sum(step["likely"] for step in steps) - sum(step["likely"] for step in done)
    return page(
        request,
        "work.html",
        title=f"{name}: work",
        scope=scopes_of(name),
        head=head,
        waits=waits,
        station="work",
        told=found["told"] if found else None,
        pictures=found["pictures"] if found else {},
        ticks=ticks,
        ways=found["ways"] if found else [],
        no=no,
        chosen=head.state.ticket.ways,
        left=left,
        running=head.said.get("running_since", ""),
        spent=head.said.get("spent", 0.0),
        next_key=next((step["key"] for step in steps if step["key"] not in ticks), ""),
    )


async def picture(request: Request) -> Response:
    """One picture of a step, as a file of its own."""
    name = named(request.path_params["name"])
    head = await run_in_threadpool(head_of, request, name)
    found = None if head.no else await bench_of(request).ask(work_told, head.text, reader(request).units)
    wanted = request.path_params["picture"]
    if found is None or wanted not in found["pictures"]:
        return PlainTextResponse("There is no such picture.\n", status_code=404)
    headers = {"content-security-policy": PICTURE_POLICY}
    return Response(found["pictures"][wanted][0], media_type="image/svg+xml", headers=headers)


async def tick(request: Request) -> Response:
    """A step done, or not done after all."""
    form = await request.form()
    name, key = named(request.path_params["name"]), str(form.get("step", ""))
    return await run_in_threadpool(_ticked, request, name, key, form.get("done") == "yes")


def _ticked(request: Request, name: str, key: str, done: bool) -> Response:
    store = store_of(request)
    store.ticket(name)
    if not key or len(key) > 200:
        raise TicketError("That is no step.", where="work", mend="Reload the page.")

    def ticked(said: Mapping[str, Any]) -> dict[str, Any]:
        ticks = [one for one in said.get("ticks", []) if one != key]
        return {"ticks": [*ticks, key] if done else ticks}

    watch = Watch(store, scopes_of(name))
    change_progress(store, name, f"{key} {'done' if done else 'not done'}", ticked, watch)
    return _after(request, name, dict(watch.told))


async def ways(request: Request) -> Response:
    """How seams are sewn that the trade sews in more than one way; an empty form: all in the usual way."""
    form = await request.form()
    name = named(request.path_params["name"])
    asked = {key: str(value) for key, value in form.items() if key.startswith("way.")}
    return await run_in_threadpool(_sewn_so, request, name, asked)


def _sewn_so(request: Request, name: str, asked: dict[str, str]) -> Response:
    store, who = store_of(request), reader(request)
    state = load(store, name)
    usual = {f"way.{seam}": "" for seam in state.ticket.ways}
    wanted = {**usual, **asked}
    whole = changed(state, wanted, who, store).whole
    order_of_work(drawn(whole), whole.cloth or state.cloth, whole.sewer, preferring=whole.ways)
    keep(store, name, wanted, who)
    return go_to(f"/ticket/{slug(name)}/work")


async def clock(request: Request) -> Response:
    """The clock begins or stops."""
    form = await request.form()
    name = named(request.path_params["name"])
    return await run_in_threadpool(_clocked, request, name, form.get("run") == "yes")


def _clocked(request: Request, name: str, run: bool) -> Response:
    store = store_of(request)
    store.ticket(name)
    now = deeds.now()

    def set_going(said: Mapping[str, Any]) -> dict[str, Any]:
        since, spent = said.get("running_since", ""), float(said.get("spent", 0.0))
        if run:
            return {"running_since": since or now}
        sewn = min(minutes_between(since, now), LONGEST_STRETCH) if since else 0.0
        return {"running_since": "", "spent": spent + sewn} if since else {}

    watch = Watch(store, scopes_of(name))
    change_progress(store, name, "Clock begun" if run else "Clock stopped", set_going, watch)
    after = progress(store, name)
    return _after(
        request, name, {"since": after.get("running_since", ""), "spent": after.get("spent", 0.0), **watch.told}
    )


def minutes_between(since: str, now: str) -> float:
    """Minutes from one ISO time to another, never less than none."""
    return max(0.0, (_time(now) - _time(since)).total_seconds() / 60)


def _time(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)


def _after(request: Request, name: str, told: dict[str, Any]) -> Response:
    if wants_json(request):
        can = deeds.can(store_of(request), scopes_of(name))
        return as_json(request, {**told, "undo": can.undo.words if can.undo else ""})
    return go_to(f"/ticket/{slug(name)}/work")


ROUTES = (
    Route("/ticket/{name}/work", show),
    Route("/ticket/{name}/tick", tick, methods=["POST"]),
    Route("/ticket/{name}/ways", ways, methods=["POST"]),
    Route("/ticket/{name}/clock", clock, methods=["POST"]),
    Route("/ticket/{name}/picture/{picture}", picture),
)
