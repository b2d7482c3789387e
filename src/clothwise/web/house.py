"""Keeping: backup and restore as one file, export of everything, the demo put away."""

from __future__ import annotations

import tempfile
from collections.abc import Sized
from datetime import date, datetime
from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.errors import StoreError
from clothwise.store import Store
from clothwise.store.demo import DEMO_SCOPE, clear_demo, scenario
from clothwise.store.export import as_archive, exported
from clothwise.store.restoring import last_aside, restore, take_back
from clothwise.web.guard import MOST_RESTORE
from clothwise.web.printing import as_file
from clothwise.web.sheet import go_to, jobs_of, page, store_of


async def show(request: Request) -> Response:
    """What can be done with the store as a whole."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    store = store_of(request)
    aside = last_aside(store)
    names = {body.name for body in scenario()[0]}
    return page(
        request,
        "house.html",
        title="Keeping",
        scope=DEMO_SCOPE,
        place=store.place,
        counts=[
            counted(things, one, many)
            for things, one, many in (
                (store.bodies(), "person", "people"),
                (store.cloths(), "cloth", ""),
                (store.box(), "thing in the box", "things in the box"),
                (store.tickets(), "ticket", ""),
                (store.bought_patterns(), "bought pattern", ""),
                (store.makes(), "make", ""),
            )
            if things
        ],
        demo=any(body.name in names for body in store.bodies()),
        restored=request.query_params.get("restored", ""),
        aside=None if aside is None else copied_at(aside),
    )


def counted(things: Sized, one: str, many: str = "") -> str:
    """'1 cloth', '2 cloths'."""
    return f"{len(things)} {one if len(things) == 1 else many or one + 's'}"


def copied_at(file: Path) -> str:
    """When a copy was made, by this machine's clock: '26 November 2026, 01:20'."""
    when = datetime.fromtimestamp(file.stat().st_mtime)
    return f"{when.day} {when:%B %Y, %H:%M}"


async def backup(request: Request) -> Response:
    """The whole store as one file."""
    data = await run_in_threadpool(backup_of, store_of(request))
    return as_file(data, f"clothwise-{date.today().isoformat()}.sqlite", "application/vnd.sqlite3")


def backup_of(store: Store) -> bytes:
    """A copy of the store, right even while it is written."""
    with tempfile.TemporaryDirectory(prefix="clothwise-") as folder:
        copy = Path(folder) / "copy.sqlite"
        store.back_up(copy)
        return copy.read_bytes()


async def put_back(request: Request) -> Response:
    """A backup in the place of all that is here."""
    async with request.form(max_files=1, max_fields=4) as form:
        sent = form.get("backup")
        if not isinstance(sent, UploadFile):
            raise StoreError("No backup was chosen.", where="backup", mend="Choose its file first.")
        data = await sent.read(MOST_RESTORE)
    store, at_work = store_of(request), jobs_of(request)
    await run_in_threadpool(restore, store, data, at_work.end_all)
    await run_in_threadpool(at_work.end_all)  # what was going on when the backup was made
    return go_to("/house?restored=yes")


async def not_put_back(request: Request) -> Response:
    """Takes the last restoring back: what was here before stands again."""
    store, at_work = store_of(request), jobs_of(request)
    await run_in_threadpool(take_back, store, at_work.end_all)
    await run_in_threadpool(at_work.end_all)
    return go_to("/house?restored=back")


async def export(request: Request) -> Response:
    """Everything as JSON, CSV and TOML in one archive."""
    files = await run_in_threadpool(exported, store_of(request))
    return as_file(as_archive(files), f"clothwise-export-{date.today().isoformat()}.zip", "application/zip")


async def no_demo(request: Request) -> Response:
    """Takes the demo's things away; undo brings them back."""
    await run_in_threadpool(clear_demo, store_of(request))
    return go_to("/house")


ROUTES = (
    Route("/house", show),
    Route("/house/backup.sqlite", backup),
    Route("/house/restore", put_back, methods=["POST"]),
    Route("/house/restore/back", not_put_back, methods=["POST"]),
    Route("/house/export.zip", export),
    Route("/house/demo/clear", no_demo, methods=["POST"]),
)
