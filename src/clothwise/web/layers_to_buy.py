"""What of a make is cut from cloth that is still to be bought: lining, ribbing, cloth for pockets, interfacing.

Each is laid on the width it is usually sold in, or on one that is asked for, with the metres to buy: the same
as on the shopping list. `wide.lining` in the address is the width of the lining.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from clothwise.errors import ClothError, LayError, LengthError
from clothwise.garment import Garment
from clothwise.garment.haberdashery import INTERFACING_SPARE, INTERFACING_WIDTH, haberdashery
from clothwise.lay.from_garment import interfacing_pieces, lay_pieces
from clothwise.lay.piece import LayPiece
from clothwise.shopping.metres import LEAST_WIDTH, MOST_WIDTH, to_buy
from clothwise.ticket import Ticket, read_ticket
from clothwise.ticket.lists import LAYERS
from clothwise.ticket.made import LAYER_WIDTHS, shortest_layer
from clothwise.web.cutting_out import stages_told
from clothwise.web.live import drawn
from clothwise.web.sheet import Reader, fragment, named, reader
from clothwise.web.ticket_head import Head, bench_of, head_of

INTERFACING = "interfacing"
USUAL: Mapping[str, float] = {**LAYER_WIDTHS, INTERFACING: INTERFACING_WIDTH}
TITLES: Mapping[str, str] = {**LAYERS, INTERFACING: "Interfacing"}
WIDE = "wide."  # before a layer's name, in an address
MOST_LETTERS = 20  # of a width as it is typed

Widths = tuple[tuple[str, float], ...]


def to_buy_for(ticket: Ticket) -> dict[str, tuple[LayPiece, ...]]:
    """The pieces of a whole ticket that no cloth is named for, by layer."""
    return _without_a_cloth(ticket, drawn(ticket))


def _without_a_cloth(ticket: Ticket, garment: Garment) -> dict[str, tuple[LayPiece, ...]]:
    has_one = {name for one in ticket.other_cloths for name in one.pieces}
    found = {
        layer: tuple(piece for piece in lay_pieces(garment, layer) if piece.name not in has_one)
        for layer in LAYER_WIDTHS
    }
    found[INTERFACING] = interfacing_pieces(garment)
    return {layer: pieces for layer, pieces in found.items() if pieces}


def layers_laid(text: str, widths: Widths) -> list[dict[str, Any]]:
    """Each layer as it lies, for the page. Lengths in cm.

    text    the whole ticket
    widths  by layer, where it is not the usual one
    """
    ticket, asked = read_ticket(text), dict(widths)
    garment = drawn(ticket)
    return [
        _layer(layer, pieces, asked.get(layer, USUAL[layer]), garment)
        for layer, pieces in _without_a_cloth(ticket, garment).items()
    ]


def _layer(layer: str, pieces: tuple[LayPiece, ...], width: float, garment: Garment) -> dict[str, Any]:
    told = {
        "layer": layer,
        "title": TITLES[layer],
        "width": width,
        "pieces": [(piece.number, piece.title, piece.count) for piece in pieces],
    }
    try:
        plan = shortest_layer(pieces, width)
    except LayError as no:
        return {**told, "why": no.what}
    asked_for = plan.length
    if layer == INTERFACING:
        asked_for = on_list(garment) if width == INTERFACING_WIDTH else plan.length + INTERFACING_SPARE
    laid = {"need": plan.length, "buy": to_buy(asked_for, 0.0), "layering": str(plan.layering)}
    return {**told, **laid, "why": "", "stages": list(stages_told(plan))}


def on_list(garment: Garment) -> float:
    """How much interfacing the shopping list says. [cm]"""
    return next(notion.length for notion in haberdashery(garment) if notion.name == INTERFACING)


# ---- at the page ---------------------------------------------------------------------------------


def for_page(request: Request, head: Head) -> dict[str, Any] | None:
    """Where the station of cloth finds them laid; None where nothing is to be bought, or nothing is drawn."""
    layers = None if head.no else to_buy_for(head.state.whole)
    if not layers:
        return None
    query = f"?{request.url.query}" if request.url.query else ""
    return {"titles": [TITLES[layer].lower() for layer in layers], "query": query}


async def show(request: Request) -> Response:
    """The layers as they lie, as a part of a page."""
    head = await run_in_threadpool(head_of, request, named(request.path_params["name"]))
    if head.no:
        raise head.no
    widths, no = _widths_asked(request)
    laid = await bench_of(request).ask(layers_laid, head.text, widths)
    return HTMLResponse(fragment(request, "layers.html", layers=laid, no=no, path=f"{head.path}/cloth"))


def _widths_asked(request: Request) -> tuple[Widths, str]:
    """Widths in the address that are not the usual ones; the refusal of one that is no width, else ''."""
    widths, no = list[tuple[str, float]](), ""
    for layer in USUAL:
        if text := request.query_params.get(WIDE + layer, "").strip()[:MOST_LETTERS]:
            try:
                widths.append((layer, width_typed(text, reader(request))))
            except (ClothError, LengthError) as wrong:
                no = f"{TITLES[layer]}: {wrong.what} {wrong.mend}"
    return tuple(widths), no


def width_typed(text: str, who: Reader) -> float:
    """A width as it is typed. [cm] Raises ClothError, LengthError."""
    width = who.typed(text)
    if not LEAST_WIDTH <= width <= MOST_WIDTH:
        raise ClothError(
            f"{who.length(width)} is no width of cloth.",
            where="cloth: width",
            mend=f"Give one from {who.length(LEAST_WIDTH)} up, such as {who.length(140.0)}.",
        )
    return width


ROUTES = (Route("/ticket/{name}/cloth/layers", show),)
