"""The packet of a ticket: every file as bytes. Same ticket, same bytes; nothing is written here."""

from __future__ import annotations

import hashlib
from dataclasses import replace

from clothwise.draft import pattern
from clothwise.paper.lay import how_to_fold, lay_pdf, lay_svg
from clothwise.paper.pattern import pattern_svg, print_pattern
from clothwise.paper.sheets import sheet
from clothwise.sew import minutes
from clothwise.sew.booklet import PINNED, BookletContent, Sheet, booklet, card
from clothwise.sew.language import language
from clothwise.sew.screen import screen
from clothwise.ticket.figures import as_json, packet_figures
from clothwise.ticket.lists import before_cutting, layer_title, shopping_and_cutting
from clothwise.ticket.made import Made
from clothwise.ticket.spoken_lay import spoken_lay
from clothwise.ticket.ticket import Ticket
from clothwise.ticket.writing import write_ticket

IDENT = 8  # letters of a ticket's mark on paper: enough to tell the makes of a life apart


def packet(made: Made) -> dict[str, bytes]:
    """The files of the packet by name.

    Raises PaperError for a sheet that cannot hold the test squares
    """
    text = write_ticket(made.ticket)
    mark = ident(text)
    name, day = made.body.name, made.ticket.made_on
    printed = print_pattern(
        made.garment, paper=sheet(made.ticket.sheet), body_name=name, made_on=day, ticket_id=mark
    )
    made = _with_printing(made, printed.sheets)
    content = _content(made, mark)
    drawn = pattern_svg(made.garment, body_name=name, made_on=day, ticket_id=mark)
    files = {
        "ticket.toml": text.encode(),
        "pattern.pdf": printed.data,
        "pattern.svg": drawn.encode(),
        "lay.svg": lay_svg(made.plan, made.ticket.name).encode(),
        "lay.pdf": lay_pdf(made.plan, made.ticket.name, made.ticket.sheet, made_on=day),
        "booklet.pdf": booklet(content),
        "card.pdf": card(_to_pin_up(content, made.ticket)),
        "steps.html": screen(content).encode(),
        "list.txt": shopping_and_cutting(made).encode(),
    }
    for layer, plan in made.others.items():
        title = f"{made.ticket.name}, {layer_title(made, layer).lower()}"
        files[f"lay_{layer}.svg"] = lay_svg(plan, title).encode()
        files[f"lay_{layer}.pdf"] = lay_pdf(plan, title, made.ticket.sheet, made_on=day)
    figures = packet_figures(made, sheets=printed.sheets, files=(*sorted(files), "packet.json"))
    return {**files, "packet.json": as_json(figures).encode()}


def _with_printing(made: Made, sheets: int) -> Made:
    """The minutes with printing and taping of so many sheets in them."""
    sewer = made.ticket.sewer
    time = minutes(made.garment, made.steps, made.cloth, sewer, sheets=sheets, cuts=made.cuts)
    return replace(made, minutes=time)


def _content(made: Made, mark: str) -> BookletContent:
    """What the booklet is made from; where no sheet is asked for, on the one nearest to the pattern's."""
    ticket, book = made.ticket, made.ticket.booklet
    size: Sheet = book.sheet or _nearest(ticket)
    return BookletContent(
        garment=made.garment,
        steps=made.steps,
        minutes=made.minutes,
        cloth=made.cloth,
        sewer=ticket.sewer,
        title=ticket.name,
        for_whom=made.body.name,
        made_on=ticket.made_on,
        measures=_measures(made),
        notions=made.notions,
        lay_svg=spoken_lay(made.plan, ticket.name, language(book.language)),
        lay_note=how_to_fold(made.plan),
        sheet=size,
        large=book.large,
        tips=before_cutting(made),
        language=book.language,
        ident=mark,
    )


def _to_pin_up(content: BookletContent, ticket: Ticket) -> BookletContent:
    """The same on a sheet that can be pinned up."""
    return content if content.sheet in PINNED else replace(content, sheet=_nearest(ticket))


def _nearest(ticket: Ticket) -> Sheet:
    """The sheet to read that is nearest to the pattern's."""
    return "A4" if ticket.sheet in ("A4", "A3") else "Letter"


def _measures(made: Made) -> tuple[tuple[str, float, str], ...]:
    """The measures the draft was drawn to, as the vocabulary calls them."""
    needs = [name for name in pattern(made.ticket.pattern).needs if name in made.body]
    return tuple((name.replace("_", " "), made.body[name], made.body.measures[name].source) for name in needs)


def ident(text: str) -> str:
    """The mark of a ticket, from its text."""
    return hashlib.sha256(text.encode()).hexdigest()[:IDENT]
