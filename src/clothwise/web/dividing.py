"""Pieces of a ticket that are cut from another cloth than the rest: a facing, a lining, a pocket bag.

All others are laid on the ticket's own cloth. For another layer that has no cloth, one is still to be bought:
the shopping list tells.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.garment import Garment
from clothwise.lay.from_garment import lay_pieces
from clothwise.store import Store
from clothwise.ticket import Ticket
from clothwise.ticket.made import LAYER_WIDTHS, divided
from clothwise.ticket.ticket import OtherCloth
from clothwise.web.live import drawn
from clothwise.web.sheet import go_to, named, slug, store_of
from clothwise.web.ticket_head import Head
from clothwise.web.ticket_state import keep_whole, load

FROM = "from."  # before a piece's name, in a form


@dataclass(frozen=True, slots=True)
class Row:
    """One piece, and the cloth it is cut from; '' the main one, or none of the cupboard for another layer."""

    piece: str
    title: str
    layer: str
    cloth: str


def rows_of(head: Head, store: Store) -> tuple[tuple[Row, ...], tuple[str, ...]]:
    """Every piece that may have a cloth of its own, and the cloths there are; none while nothing is drawn."""
    if head.no:
        return (), ()
    ticket = head.state.whole
    assert ticket.cloth is not None
    own = {name: one.cloth.name for one in ticket.other_cloths for name in one.pieces}
    cloths = dict.fromkeys(cloth.name for cloth in store.cloths() if cloth.name != ticket.cloth.name)
    cloths.update(dict.fromkeys(own.values()))
    rows = tuple(
        Row(piece.name, piece.title, piece.layer, own.get(piece.name, ""))
        for piece in drawn(ticket).pieces
        if piece.layer == "shell" or piece.layer in LAYER_WIDTHS
    )
    return rows, tuple(cloths)


async def divide(request: Request) -> Response:
    """Which piece comes from which cloth, as the form has it."""
    form = await request.form()
    wanted = {key.removeprefix(FROM): str(value) for key, value in form.items() if key.startswith(FROM)}
    return await run_in_threadpool(_divided, request, wanted)


def _divided(request: Request, wanted: Mapping[str, str]) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    state = load(store, name)
    others = with_cloths(state.ticket, wanted, store)
    after = replace(state.ticket, other_cloths=others)
    refuse_undividable(after.filled(state.body, state.cloth))
    words = "; ".join(f"{', '.join(one.pieces)} from {one.cloth.name}" for one in others)
    keep_whole(store, state, after, words.replace("_", " ") or "All from one cloth")
    return go_to(f"/ticket/{slug(name)}/cloth")


def with_cloths(ticket: Ticket, wanted: Mapping[str, str], store: Store) -> tuple[OtherCloth, ...]:
    """The pieces by their cloths; a cloth that is on the ticket already stays as it is written there."""
    there = {one.cloth.name: one.cloth for one in ticket.other_cloths}
    pieces: dict[str, list[str]] = {}
    for piece, cloth in wanted.items():
        if cloth:
            pieces.setdefault(cloth, []).append(piece)
    return tuple(
        OtherCloth(tuple(names), there.get(cloth) or store.cloth(cloth)) for cloth, names in pieces.items()
    )


def refuse_undividable(whole: Ticket) -> None:
    """Raises TicketError for a division that leaves nothing, or names what is not there."""
    garment: Garment = drawn(whole)
    divided(lay_pieces(garment), garment, whole)


ROUTES = (Route("/ticket/{name}/cloth/divide", divide, methods=["POST"]),)
