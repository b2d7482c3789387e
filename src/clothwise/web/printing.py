"""The station of paper: the sheets before they are printed, picked and downloaded; the packet; the takeaway."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.errors import LengthError, PaperError, StoreError, WorkroomError
from clothwise.paper.sheets import SIZES
from clothwise.sew.contents import SHEETS as BOOKLET_SHEETS
from clothwise.store import jobs
from clothwise.web.lay_state import left_wrong
from clothwise.web.laying import set_progress
from clothwise.web.naming import called, file_word
from clothwise.web.numbers import NUMBER, counted
from clothwise.web.paper_look import AS_USUAL, SHEETS, paper_map, printed
from clothwise.web.print_wish import MAY_GO, MOST_NAMED, fields, wish_of
from clothwise.web.sheet import go_to, jobs_of, named, page, reader, slug, store_of
from clothwise.web.ticket_head import Head, bench_of, head_of, looked_at, scopes_of

LANGUAGES = {"en": "English", "de": "German"}  # those of `sew.language`, in words
SET_HERE = ("sheet", "booklet.language", "booklet.sheet", "booklet.large", "sewer.units")  # entries of a ticket
FILES = {
    "sheets": ("pattern.pdf", "application/pdf"),
    "changes": ("pattern-changes.pdf", "application/pdf"),
    "lengths": ("pattern-lengths.pdf", "application/pdf"),
    "screen": ("pattern.html", "text/html"),
    "dxf": ("pattern.dxf", "image/vnd.dxf"),
    "json": ("pattern.json", "application/json"),
    "roll": ("pattern-roll.pdf", "application/pdf"),
    "projector": ("pattern-projector.pdf", "application/pdf"),
    "svg": ("pattern.svg", "image/svg+xml"),
}


async def show(request: Request) -> Response:
    """The sheets of this ticket."""
    no: WorkroomError | None = None
    try:
        wish = wish_of(request.query_params, reader(request))
        name, head, found, waits = await looked_at(request, paper_map, wish)
    except (PaperError, LengthError) as wrong:  # the paper cannot be so; how it usually is stays on the page
        name, head, found, waits = await looked_at(request, paper_map, AS_USUAL)
        no = wrong
    return await run_in_threadpool(_shown, request, name, head, found, waits, no)


def _counted(head: Head, found: dict[str, Any]) -> Head:
    """The head with the sheets as they were counted here, the first one with the test squares among them."""
    words = f"{len(found['tiles']) + 1} × {found['sheet']}"
    knots = (
        replace(knot, words=words) if knot.key == "paper" and not knot.settled else knot for knot in head.knots
    )
    return replace(head, knots=tuple(knots))


def _shown(
    request: Request,
    name: str,
    head: Head,
    found: dict[str, Any] | None,
    waits: bool,
    no: WorkroomError | None,
) -> Response:
    number = counted(request.query_params.get("job", ""))
    job = None if number is None else jobs.job(store_of(request), number)
    return page(
        request,
        "paper.html",
        title=f"{name}: paper",
        scope=scopes_of(name),
        head=_counted(head, found) if found and not fields(request.query_params) else head,
        waits=waits,
        station="paper",
        found=found,
        sheets=SHEETS,
        picked=request.query_params.getlist("only"),
        job=job,
        no=no,
        asked=request.query_params,
        fields=[] if no else fields(request.query_params),
        paper=dict(SIZES),
        layers=MAY_GO,
        printed_as=head.said.get("printed_as", ""),
        booklet=head.state.ticket.booklet,
        languages=LANGUAGES,
        booklet_sheets=tuple(BOOKLET_SHEETS),
        wrong=None if head.no else left_wrong(head.state.whole, head.said, reader(request)),
    )


async def file(request: Request) -> Response:
    """One file to print, made on the spot."""
    name, on = named(request.path_params["name"]), request.path_params["on"]
    if on not in FILES:
        raise PaperError(
            f"There is no way to print called {on[:30]!r}.", where="paper", mend=f"Choose {', '.join(FILES)}."
        )
    only = tuple(request.query_params.getlist("only"))[:MOST_NAMED]
    wish = wish_of(request.query_params, reader(request))
    head = await run_in_threadpool(head_of, request, name)
    if head.no:
        raise head.no
    earlier = str(head.said.get("printed_as", ""))
    if on == "changes" and not earlier:
        raise PaperError(
            "It is not known what was printed before.",
            where=f"ticket '{name}': paper",
            mend="Print all of it once, and say that it is printed.",
        )
    data = await bench_of(request).ask(printed, head.text, on, only, wish, earlier if on == "changes" else "")
    ending, kind = FILES[on]
    return as_file(data, f"{file_word(name)}-{ending}", kind)


def as_file(data: bytes, name: str, kind: str) -> Response:
    """A download. Its name is made of `file_word`s."""
    headers = {"content-disposition": called(name)}
    return Response(data, media_type=kind, headers=headers)


async def sheet(request: Request) -> Response:
    """Another size of sheet; how the booklet is set."""
    from clothwise.web.ticket_state import keep

    form = await request.form()
    name = named(request.path_params["name"])
    entries = {path: str(form[path]) for path in SET_HERE if path in form}
    await run_in_threadpool(keep, store_of(request), name, entries, reader(request))
    return go_to(f"/ticket/{slug(name)}/paper")


async def ticked(request: Request) -> Response:
    """The paper is printed and taped, or not yet."""
    form = await request.form()
    name = named(request.path_params["name"])
    yes = form.get("printed") == "yes"
    words = "Printed and taped" if yes else "Not printed yet"
    head = await run_in_threadpool(head_of, request, name)
    entries = {"printed": yes, "printed_as": head.text if yes else ""}
    await run_in_threadpool(set_progress, store_of(request), name, entries, words)
    return go_to(f"/ticket/{slug(name)}/paper")


async def packet(request: Request) -> Response:
    """Begins the whole packet, in a worker."""
    name = named(request.path_params["name"])
    await run_in_threadpool(store_of(request).ticket, name)
    number = await run_in_threadpool(jobs_of(request).begin, "packet", {"ticket": name})
    return go_to(f"/ticket/{slug(name)}/paper?job={number}")


async def packed(request: Request) -> Response:
    """The packet that a job has made, as one file."""
    number = request.path_params["number"]
    news = await run_in_threadpool(jobs.news, store_of(request), number)
    files = next((one.told for one in reversed(news) if one.kind == "packed"), None)
    if files is None:
        raise StoreError(
            "That packet is not made.", where="packet", mend="Make it again at the station of paper."
        )
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as packed_up:
        for name, text in files["files"].items():
            packed_up.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), bytes.fromhex(text))
    return as_file(whole.getvalue(), f"{file_word(files['name'])}-packet.zip", "application/zip")


ROUTES = (
    Route("/ticket/{name}/paper", show),
    Route("/ticket/{name}/paper/sheet", sheet, methods=["POST"]),
    Route("/ticket/{name}/paper/printed", ticked, methods=["POST"]),
    Route("/ticket/{name}/paper/packet", packet, methods=["POST"]),
    Route("/ticket/{name}/print/{on}", file),
    Route(f"/jobs/{NUMBER}/packet.zip", packed),
)
