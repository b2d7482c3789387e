"""Looks at a ticket's paper and work, made in the process beside the page: sheets, files to print, steps."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from clothwise.body import estimate
from clothwise.draft import pattern
from clothwise.garment.haberdashery import haberdashery
from clothwise.paper.arrange import arranged
from clothwise.paper.caption import Caption
from clothwise.paper.pattern import pattern_svg, print_pattern
from clothwise.paper.piece import draw_pieces
from clothwise.paper.projector import print_projector
from clothwise.paper.roll import print_roll
from clothwise.paper.sheets import sheet
from clothwise.sew import minutes, proved_order
from clothwise.sew.booklet import BookletContent
from clothwise.sew.contents import pictures_of, told
from clothwise.ticket import Ticket, read_ticket
from clothwise.ticket.made import drawn, with_cloth
from clothwise.ticket.packet import ident
from clothwise.web.live import drawn as drawn_live

SHEETS = ("A4", "Letter", "A3", "Legal", "Tabloid")  # those a ticket may name


def checked(ticket: Ticket) -> Any:
    """The garment, past its check: nothing is printed that has not passed it."""
    assert ticket.body is not None
    assert ticket.cloth is not None
    choices = with_cloth(pattern(ticket.pattern), ticket.choices, ticket.cloth)
    return drawn(estimate(ticket.body), ticket.pattern, choices, ticket.figure, ticket.left, ticket.changes)


def paper_map(text: str) -> dict[str, Any]:
    """The taped paper: its sheets by name, and the pieces across them. cm, y down."""
    ticket = read_ticket(text)
    garment = checked(ticket)
    pieces = draw_pieces(garment, _caption(ticket, garment.title, text), ())
    found = arranged([piece.outline for piece in pieces], sheet(ticket.sheet))
    grid = found.grid
    high = grid.size[1]
    outlines = []
    for piece, carry in zip(pieces, found.carries, strict=True):
        points = [carry(point) for point in piece.outline]
        xs, ys = [p.x for p in points], [p.y for p in points]
        outlines.append(
            {
                "number": piece.number,
                "title": piece.piece.title,
                "path": "M" + "L".join(f"{p.x:.1f} {high - p.y:.1f}" for p in points) + "Z",
                "x": (min(xs) + max(xs)) / 2,
                "y": high - (min(ys) + max(ys)) / 2,
                "size": min(max(xs) - min(xs), max(ys) - min(ys)),
            }
        )
    tiles = []
    for tile in grid.tiles:
        left, bottom, right, top = grid.window(tile)
        tiles.append({"label": tile.label, "x": left, "y": high - top, "w": right - left, "h": top - bottom})
    return {
        "width": grid.size[0],
        "height": high,
        "tiles": tiles,
        "pieces": outlines,
        "plain": found.plain,
        "sheet": ticket.sheet,
    }


def printed(text: str, on: str, only: tuple[str, ...]) -> bytes:
    """A file to print: 'sheets' (all, or only those named), 'roll', 'projector', 'svg'."""
    ticket = read_ticket(text)
    garment = checked(ticket)
    assert ticket.body is not None
    said: dict[str, Any] = {"body_name": ticket.body.name, "made_on": ticket.made_on, "ticket_id": ident(text)}
    if on == "roll":
        return print_roll(garment, **said).data
    if on == "projector":
        return print_projector(garment, **said).data
    if on == "svg":
        return pattern_svg(garment, **said).encode()
    return print_pattern(garment, paper=sheet(ticket.sheet), only=only, **said).data


def _caption(ticket: Ticket, title: str, text: str) -> Caption:
    assert ticket.body is not None
    return Caption(title, ticket.body.name, ticket.made_on, ident(text), "")


def work_told(text: str) -> dict[str, Any]:
    """The order of work as the booklet tells it, its pictures by name: (SVG, alternative text)."""
    ticket = read_ticket(text)
    garment, cloth = drawn_live(ticket), ticket.cloth
    assert cloth is not None
    steps = proved_order(garment, cloth, ticket.sewer, preferring=ticket.ways)
    content = BookletContent(
        garment=garment,
        steps=steps,
        minutes=minutes(garment, steps, cloth, ticket.sewer),
        cloth=cloth,
        sewer=replace(ticket.sewer),
        title=ticket.name,
        notions=haberdashery(garment, neaten="504" if ticket.sewer.overlocker else "304"),
    )
    pictures = pictures_of(content)
    said = told(content, pictures)
    for step, shown in zip(steps, said["steps"], strict=True):
        shown["key"] = f"{step.kind} {step.name}"
        shown["likely"] = step.minutes.likely
    return {"told": said, "pictures": pictures}
