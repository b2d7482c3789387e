"""Long work in processes of its own, so that the page stays quick and anything can be cancelled.

The store is the only seam: a worker writes its news there, the page reads them from there, and a restart finds
there what was interrupted. One worker waits warm, with everything imported, so that work begins at once.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
import threading
from collections.abc import AsyncIterator
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from clothwise.errors import StoreError
from clothwise.store import Store, jobs
from clothwise.web.numbers import NUMBER, counted
from clothwise.web.sheet import fragment, go_to, jobs_of, own_path, reader, store_of, told, wants_json
from clothwise.web.workers import WORKERS

LOOK = 0.06  # seconds between looks for news while somebody waits
RETRY_MS = 1000  # until a browser asks again whether we are back
MOST_AT_ONCE = 2  # workers working; what is asked beyond that ends the oldest
END = 2.0  # seconds a worker gets to end by itself

HTML = {  # news that are shown as a piece of a page: kind -> template
    "answer": "answer.html",
    "early": "answer.html",
    "shopping list": "shopping_found.html",
    "width": "metres_found.html",
}


class Jobs:
    """The workers of one server."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._spare: tuple[BaseProcess, Connection] | None = None
        self._working: dict[int, BaseProcess] = {}
        self._lock = threading.Lock()

    def open(self) -> None:
        """Says what was interrupted before, and hires the first worker while nobody waits yet."""
        jobs.interrupt_all(self._store)
        threading.Thread(target=self._make_ready, daemon=True).start()

    def close(self) -> None:
        """Ends all workers; what they worked on is marked interrupted at the next start."""
        with self._lock:
            spare = [self._spare[0]] if self._spare else []
            for process in [*self._working.values(), *spare]:
                process.terminate()
            for process in [*self._working.values(), *spare]:
                _end(process)
            self._working, self._spare = {}, None
        jobs.interrupt_all(self._store)

    def begin(self, kind: str, asked: dict[str, Any]) -> int:
        """Starts a piece of work. Returns its number."""
        number = jobs.ask(self._store, kind, asked)
        with self._lock:
            self._sweep()
            while len(self._working) >= MOST_AT_ONCE:
                oldest = min(self._working)
                jobs.turn(self._store, oldest, "cancelled", "Other work was asked for meanwhile.")
                _end(self._working.pop(oldest))
            if self._spare is None or not self._spare[0].is_alive():
                self._spare = self._hired()
            process, wire = self._spare
            wire.send(number)
            wire.close()
            self._working[number] = process
            self._spare = self._hired()
        return number

    def end_all(self) -> None:
        """Ends all work and says so: another store comes in the place of the one it was asked in."""
        with self._lock:
            working, self._working = list(self._working.values()), {}
        for process in working:
            _end(process)
        jobs.interrupt_all(self._store)

    def cancel(self, number: int) -> bool:
        """Ends a piece of work. Returns whether it was still going."""
        stopped = jobs.turn(self._store, number, "cancelled", "You ended it.")
        with self._lock:
            process = self._working.pop(number, None)
        if process is not None:
            _end(process)
        return stopped

    def look_after(self, number: int) -> None:
        """Marks a job interrupted whose worker died without a word."""
        with self._lock:
            process = self._working.get(number)
            if process is not None and process.is_alive():
                return
            self._working.pop(number, None)
        jobs.turn(self._store, number, "interrupted", "The work ended before it was done; ask again.")

    def _make_ready(self) -> None:
        with self._lock:
            self._spare = self._spare or self._hired()

    def _hired(self) -> tuple[BaseProcess, Connection]:
        from clothwise.web.work import wait_for_work

        here, there = WORKERS.Pipe()
        process = WORKERS.Process(target=wait_for_work, args=(self._store.place, there), daemon=True)
        process.start()
        there.close()
        return process, here

    def _sweep(self) -> None:
        self._working = {number: p for number, p in self._working.items() if p.is_alive()}


def _end(process: BaseProcess) -> None:
    process.terminate()
    process.join(END)
    if process.is_alive():
        process.kill()


# ---- told as it goes -----------------------------------------------------------------------------


async def stream(request: Request) -> Response:
    """The news of a job as server-sent events, from the beginning or after the last one this browser saw."""
    number = request.path_params["number"]
    seen = request.headers.get("last-event-id", "0")
    await run_in_threadpool(jobs.job, store_of(request), number)
    return StreamingResponse(_events(request, number, counted(seen) or 0), media_type="text/event-stream")


async def _events(request: Request, number: int, seen: int) -> AsyncIterator[str]:
    store, who = store_of(request), reader(request)
    with contextlib.suppress(asyncio.CancelledError):
        yield f"retry: {RETRY_MS}\n\n"
        while not (request.app.state.closing or await request.is_disconnected()):
            try:
                state = await run_in_threadpool(jobs.job, store, number)
            except StoreError:  # a backup without it was put back meanwhile
                gone = {
                    "state": "refused",
                    "said": "Another store is in its place now; ask again.",
                }
                yield f"event: end\ndata: {json.dumps(gone)}\n\n"
                return
            for one in await run_in_threadpool(jobs.news, store, number, seen):
                seen = one.number
                made = HTML.get(one.kind)
                news = {"html": fragment(request, made, **one.told)} if made else told(one.told, who)
                yield f"id: {seen}\nevent: {one.kind}\ndata: {json.dumps(news)}\n\n"
            if not state.going:
                ended = {"state": state.state, "said": who.sentence(state.said)}
                yield f"event: end\ndata: {json.dumps(ended)}\n\n"
                return
            await run_in_threadpool(jobs_of(request).look_after, number)
            await asyncio.sleep(LOOK)


async def cancel(request: Request) -> Response:
    """Ends a job, and goes back to where it was asked."""
    async with request.form(max_files=0, max_fields=1) as form:
        back = str(form.get("back", ""))
    stopped = await run_in_threadpool(jobs_of(request).cancel, request.path_params["number"])
    return JSONResponse({"stopped": stopped}) if wants_json(request) else go_to(back)


async def again(request: Request) -> Response:
    """Asks anew for work that was left or broken off, and goes back to where it was asked."""
    async with request.form(max_files=0, max_fields=2) as form:
        back = str(form.get("back", ""))
    before = await run_in_threadpool(jobs.job, store_of(request), request.path_params["number"])
    number = before.number
    if not before.going:
        number = await run_in_threadpool(jobs_of(request).begin, before.kind, before.asked)
    return go_to(_with_job(own_path(back), number))


def _with_job(path: str, number: int) -> str:
    """The same address with that job in it."""
    parts = urlsplit(path)
    kept = [(key, value) for key, value in parse_qsl(parts.query) if key != "job"]
    return f"{parts.path}?{urlencode([*kept, ('job', str(number))])}"


ROUTES = (
    Route(f"/jobs/{NUMBER}/news", stream),
    Route(f"/jobs/{NUMBER}/cancel", cancel, methods=["POST"]),
    Route(f"/jobs/{NUMBER}/again", again, methods=["POST"]),
)
