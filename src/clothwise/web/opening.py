"""A ticket that came as a file: its TOML text, or a file that holds it (the packet or its figures, a takeaway).

It becomes a new ticket; one that stands here already by its name is left as it is. Nothing else of the file is
looked at, and nothing of it reaches the disk but the ticket's own text, read and written anew.
"""

from __future__ import annotations

import html
import io
import json
import zipfile
import zlib
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.draft import pattern
from clothwise.errors import TicketError
from clothwise.store import Store
from clothwise.ticket import read_ticket, write_ticket
from clothwise.ticket.bought_ticket import is_bought, read_bought_ticket, write_bought_ticket
from clothwise.web.evening import keep_new_ticket
from clothwise.web.guard import MOST_UPLOAD
from clothwise.web.naming import file_word
from clothwise.web.printing import as_file
from clothwise.web.sheet import go_to, named, slug, store_of
from clothwise.web.ticket_state import load

MOST_LETTERS = 60_000  # of a ticket's text: one for five remnants with all their corners has some 30 000
TEXT, ARCHIVED = "ticket.toml", b"PK\x03\x04"
# damaged, of another kind of packing, with a password, cut off, saying of itself what cannot be
NO_ARCHIVE = (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, OSError, EOFError, ValueError)
FIGURES, EXPORT = "packet", "export"  # the first words of the JSON files that hold tickets
BEGINS, ENDS = '<template id="ticket">', "</template>"  # round the ticket in a takeaway
KINDS = "Choose a ticket as text (.toml), a packet (.zip), its packet.json, or a takeaway (.html)."


def ticket_text(data: bytes) -> str:
    """The ticket's text in a file. Raises TicketError: there is none, or it is too long to be one."""
    if data.startswith(ARCHIVED):
        data = _of_packet(data)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise _no_ticket("This file is no text and no packet.") from None
    begins = text.lstrip()[:1]
    if begins == "{":
        text = _of_figures(text)
    elif begins == "<":
        text = _of_takeaway(text)
    if len(text) > MOST_LETTERS:
        raise _no_ticket(f"A ticket has at most {MOST_LETTERS} letters; this has more.")
    return text


def _of_packet(data: bytes) -> bytes:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed, packed.open(TEXT) as held:
            return held.read(MOST_LETTERS * 4 + 1)  # no more is unpacked, whatever the archive says of itself
    except (*NO_ARCHIVE, KeyError):
        raise _no_ticket("This archive holds no ticket that can be read.") from None


def _of_figures(text: str) -> str:
    try:
        told = json.loads(text)
    except (ValueError, RecursionError):
        raise _no_ticket("This JSON cannot be read.") from None
    held: Any = told.get("ticket") if FIGURES in told else None
    if EXPORT in told and isinstance(told.get("tickets"), list):
        if len(told["tickets"]) != 1:
            raise TicketError(
                f"This export holds {len(told['tickets'])} tickets.",
                where="ticket file",
                mend="Choose one of the files in its folder 'tickets'.",
            )
        only = told["tickets"][0]
        held = only.get("text") if isinstance(only, dict) else None
    if not isinstance(held, str):
        raise _no_ticket("These figures hold no ticket.")
    return held


def _of_takeaway(text: str) -> str:
    _, begun, rest = text.partition(BEGINS)
    held, ended, _ = rest.partition(ENDS)
    if not begun or not ended:
        raise _no_ticket("This page is no takeaway that holds its ticket.")
    return html.unescape(held)


def _no_ticket(what: str) -> TicketError:
    return TicketError(what, where="ticket file", mend=KINDS)


def opened(store: Store, text: str) -> tuple[str, str]:
    """Keeps the ticket of a text as a new one. Returns its name, and the name it came with.

    Raises  TicketError, ChoiceError: what cannot be read, or is made from a draft that is not known here;
            StoreError: it only names a body, cloth or bought pattern, and that is not here
    """
    try:
        came, plain = _read(store, text)
    except (RecursionError, ValueError):  # nested without end, a number of a thousand digits
        raise _no_ticket("This is no ticket that anybody wrote.") from None
    return keep_new_ticket(store, came, plain, f"'{came}' opened from a file"), came


def _read(store: Store, text: str) -> tuple[str, str]:
    """Its name, and its text as we write it."""
    if is_bought(text):
        bought = read_bought_ticket(text)
        store.bought_pattern(bought.pattern)
        store.body(bought.body_name)
        store.cloth(bought.cloth_name)
        return bought.name, write_bought_ticket(bought)
    ticket = read_ticket(text)
    pattern(ticket.pattern)
    if ticket.body is None:
        store.body(ticket.body_name)
    if ticket.cloth is None:
        store.cloth(ticket.cloth_name)
    return ticket.name, write_ticket(ticket)


# ---- at the page ---------------------------------------------------------------------------------


async def open_file(request: Request) -> Response:
    """A ticket from a file that was chosen."""
    async with request.form(max_files=1, max_fields=4) as form:
        sent = form.get("open")
        if not isinstance(sent, UploadFile) or not sent.filename:
            raise TicketError("No file was chosen.", where="ticket file", mend="Choose one first.")
        data = await sent.read(MOST_UPLOAD)
    name, came = await run_in_threadpool(_opened, store_of(request), data)
    return go_to(f"/ticket/{slug(name)}?opened={'anew' if name == came else 'beside'}")


def _opened(store: Store, data: bytes) -> tuple[str, str]:
    return opened(store, ticket_text(data))


async def save(request: Request) -> Response:
    """A ticket as a file, with all figures of its body and cloths."""
    name = named(request.path_params["name"])
    text = await run_in_threadpool(_whole_text, store_of(request), name)
    return as_file(text.encode(), f"{file_word(name)}.toml", "application/toml")


def _whole_text(store: Store, name: str) -> str:
    text = store.ticket(name).text
    return text if is_bought(text) else write_ticket(load(store, name).whole)


ROUTES = (
    Route("/tickets/open", open_file, methods=["POST"]),
    Route("/ticket/{name}/ticket.toml", save),
)
