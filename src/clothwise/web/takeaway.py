"""The takeaway: one self-contained page of a ticket that works without the server, on any phone, offline.

Made in the process beside the page. Pictures stand in it as data, so that nothing is fetched; ticks are kept by
the browser under the ticket's own mark, and without its script the boxes just forget.
"""

from __future__ import annotations

from base64 import b64encode
from dataclasses import replace
from pathlib import Path
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.paper.lay import how_to_fold, lay_svg
from clothwise.paper.pattern import pattern_svg
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.ticket.lists import shopping_and_cutting
from clothwise.ticket.packet import ident
from clothwise.web.lay_state import KEY, made_on
from clothwise.web.live import levels
from clothwise.web.naming import file_word
from clothwise.web.paper_look import work_told
from clothwise.web.printing import as_file
from clothwise.web.sheet import Reader, named, reader, templates
from clothwise.web.ticket_head import bench_of, head_of
from clothwise.web.words_set import words_set

HERE = Path(__file__).parent / "static"


async def send(request: Request) -> Response:
    """The takeaway of a ticket, as a download."""
    name = named(request.path_params["name"])
    head = await run_in_threadpool(head_of, request, name)
    if head.no:
        raise head.no
    lays = {key: told for key, told in head.said.items() if key.startswith(KEY)}
    text = await bench_of(request).ask(takeaway, head.text, lays, reader(request).inches)
    return as_file(text.encode(), f"{file_word(name)}.html", "text/html")


def takeaway(text: str, lays: dict[str, Any], inches: bool) -> str:
    """The page. `lays` are those kept in the ticket's progress; each is used while it holds.

    Raises  ClothError: a kept lay may not be cut so
    """
    made, who = made_on(read_ticket(text), lays), Reader(inches)
    work = work_told(text, who.units)
    pictures = {name: (_data(svg), alt) for name, (svg, alt) in work["pictures"].items()}
    drawn = pattern_svg(made.garment, body_name=made.body.name, ticket_id=ident(text))
    names = (made.ticket.name, made.body.name, *(cloth.name for cloth, _ in made.named))
    return words_set(
        templates()
        .get_template("takeaway.html")
        .render(
            made=made,
            reader=who,
            style=(HERE / "takeaway.css").read_text(encoding="utf-8"),
            script=(HERE / "takeaway.js").read_text(encoding="utf-8"),
            told=work["told"],
            pictures=pictures,
            levels=levels(made.garment),
            lays=[
                (cloth, plan, how_to_fold(plan), _data(lay_svg(plan, made.ticket.name)))
                for cloth, plan in made.named
            ],
            pieces=_data(drawn),
            lists=shopping_and_cutting(made),
            mark=ident(text),
            ticket=_carried(made.ticket),
        ),
        lambda: names,
        inches=inches,
    )


def _carried(ticket: Ticket) -> str:
    """The ticket itself, so that Clothwise can open the page again; the notes on the body are nobody else's."""
    return write_ticket(ticket if ticket.body is None else replace(ticket, body=replace(ticket.body, notes=())))


def _data(svg: str) -> str:
    return "data:image/svg+xml;base64," + b64encode(svg.encode()).decode()


ROUTES = (Route("/ticket/{name}/takeaway", send),)
