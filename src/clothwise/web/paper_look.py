"""Looks at a ticket's paper and work, made in the process beside the page: sheets, files to print, steps."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from clothwise.body import estimate
from clothwise.draft import pattern
from clothwise.errors import PaperError
from clothwise.garment.haberdashery import haberdashery
from clothwise.paper.arrange import arranged
from clothwise.paper.caption import Caption
from clothwise.paper.changes import print_changes
from clothwise.paper.dxf import pattern_dxf
from clothwise.paper.geometry import pattern_json
from clothwise.paper.nest import print_nest
from clothwise.paper.pattern import pattern_svg, print_pattern
from clothwise.paper.piece import draw_pieces
from clothwise.paper.projector import print_projector
from clothwise.paper.roll import print_roll
from clothwise.paper.screen import pattern_screen
from clothwise.sew import Alternative, alternatives, minutes, proved_order
from clothwise.sew.booklet import BookletContent
from clothwise.sew.contents import pictures_of, told
from clothwise.sew.sewer import Units
from clothwise.ticket import Ticket, read_ticket
from clothwise.ticket.made import drawn, with_cloth
from clothwise.ticket.packet import ident
from clothwise.web.live import drawn as drawn_live
from clothwise.web.print_wish import Wish

AS_USUAL = Wish()
SHEETS = ("A4", "Letter", "A3", "Legal", "Tabloid")  # those a ticket may name


def checked(ticket: Ticket) -> Any:
    """The garment, past its check: nothing is printed that has not passed it."""
    assert ticket.body is not None
    assert ticket.cloth is not None
    choices = with_cloth(pattern(ticket.pattern), ticket.choices, ticket.cloth)
    return drawn(estimate(ticket.body), ticket.pattern, choices, ticket.figure, ticket.left, ticket.changes)


def paper_map(text: str, wish: Wish = AS_USUAL) -> dict[str, Any]:
    """The taped paper: its sheets by name, and the pieces across them. cm, y down.

    Raises  PaperError: a sheet, piece or layer that cannot be
    """
    ticket = read_ticket(text)
    garment = checked(ticket)
    paper = wish.sheet(ticket.sheet)
    pieces = draw_pieces(garment, _caption(ticket, garment.title, text), wish.pieces)
    found = arranged([piece.outline for piece in pieces], paper)
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
        "sheet": paper.name,
        "all": [(piece.name, piece.title) for piece in garment.pieces],
        "lengths": _lengths(ticket),
    }


def _lengths(ticket: Ticket) -> tuple[str, ...]:
    """The lengths by name that the draft knows."""
    choices = {choice.name: choice for choice in pattern(ticket.pattern).choices}
    return tuple(choices["length"].options) if "length" in choices else ()


def printed(text: str, on: str, only: tuple[str, ...], wish: Wish = AS_USUAL, earlier: str = "") -> bytes:
    """A file to print: 'sheets' (all, or only those named), 'changes', 'lengths', 'roll', 'projector', or for a
    screen or another program: 'screen', 'svg', 'dxf', 'json'.

    earlier  for 'changes': the whole ticket as it was printed before
    Raises   PaperError: what cannot be printed so
    """
    ticket = read_ticket(text)
    garment = checked(ticket)
    assert ticket.body is not None
    plain: dict[str, Any] = {"body_name": ticket.body.name, "made_on": ticket.made_on, "pieces": wish.pieces}
    said = {**plain, "ticket_id": ident(text), "pens": wish.pens}
    match on:
        case "roll":
            return print_roll(garment, width=wish.width, longest=wish.longest, **said).data
        case "projector":
            return print_projector(garment, table=wish.table, dark=wish.dark, **said).data
        case "screen":
            return pattern_screen(garment, **said).encode()
        case "svg":
            return pattern_svg(garment, **said).encode()
        case "dxf":
            return pattern_dxf(garment, **plain).encode()
        case "json":
            return pattern_json(garment, **plain).encode()
    on_sheets: dict[str, Any] = {"paper": wish.sheet(ticket.sheet), "only": only}
    if on == "changes":
        before = checked(read_ticket(earlier)).pieces
        return print_changes(garment, before, **on_sheets, **said).data
    if on == "lengths":
        return _in_lengths(ticket, wish, on_sheets)
    return print_pattern(garment, **on_sheets, **said).data


def _in_lengths(ticket: Ticket, wish: Wish, on_sheets: dict[str, Any]) -> bytes:
    """One body's garment in several lengths, one inside the other."""
    assert ticket.body is not None
    known = _lengths(ticket)
    wrong = [name for name in wish.lengths if name not in known]
    if wrong or len(wish.lengths) < 2:
        raise PaperError(
            f"'{wrong[0]}' is no length of it." if wrong else "One length alone is the ticket's own.",
            where="paper: lengths",
            mend=f"Tick two or more of {', '.join(known)}." if known else "This draft has one length.",
        )
    garments = {
        name: checked(replace(ticket, choices={**ticket.choices, "length": name})) for name in wish.lengths
    }
    return print_nest(
        garments, made_on=ticket.made_on, pieces=wish.pieces, lengths_for=ticket.body.name, box=wish.pens,
        **on_sheets,
    ).data  # fmt: skip


def _caption(ticket: Ticket, title: str, text: str) -> Caption:
    assert ticket.body is not None
    return Caption(title, ticket.body.name, ticket.made_on, ident(text), "")


def work_told(text: str, units: Units) -> dict[str, Any]:
    """The order of work as the booklet tells it, its pictures by name: (SVG, alternative text)."""
    ticket = read_ticket(text)
    garment, cloth = drawn_live(ticket), ticket.cloth
    assert cloth is not None
    steps = proved_order(garment, cloth, ticket.sewer, preferring=ticket.ways)
    either = alternatives(garment, cloth, ticket.sewer)
    content = BookletContent(
        garment=garment,
        steps=steps,
        minutes=minutes(garment, steps, cloth, ticket.sewer),
        cloth=cloth,
        sewer=replace(ticket.sewer, units=units),
        title=ticket.name,
        notions=haberdashery(garment, neaten="504" if ticket.sewer.overlocker else "304"),
    )
    pictures = pictures_of(content)
    said = told(content, pictures)
    for step, shown in zip(steps, said["steps"], strict=True):
        shown["key"] = f"{step.kind} {step.name}"
        shown["likely"] = step.minutes.likely
    return {"told": said, "pictures": pictures, "ways": _ways(either, ticket)}


def _ways(either: tuple[Alternative, ...], ticket: Ticket) -> list[dict[str, Any]]:
    """Seams and zips that the trade sews in more than one way: the usual one first, and which is chosen."""
    rows: dict[str, dict[str, Any]] = {}
    for one in either:
        row = rows.setdefault(one.seam, {"seam": one.seam, "title": one.title, "ways": [one.way]})
        row["ways"].append(one.other)
        row["chosen"] = ticket.ways.get(one.seam, one.way)
    return list(rows.values())
