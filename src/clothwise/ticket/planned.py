"""The minutes a ticket plans, without laying its cloth: what a log is held against."""

from __future__ import annotations

from dataclasses import replace

from clothwise.body import estimate
from clothwise.draft import pattern
from clothwise.errors import TicketError
from clothwise.lay.from_garment import lay_pieces
from clothwise.paper.sheets import sheet, sheets_roughly
from clothwise.sew import minutes, order_of_work
from clothwise.ticket.made import drawn, with_cloth
from clothwise.ticket.ticket import Ticket


def planned_minutes(ticket: Ticket) -> float:
    """Likely minutes of the whole make at the pace of the plan, printing and taping included.

    Raises  TicketError: body or cloth is a mere name; else what the draft and its changes raise
    """
    if ticket.body is None or ticket.cloth is None:
        raise TicketError(
            "The ticket holds no figures for its body or its cloth.",
            where=f"ticket '{ticket.name}'",
            mend="Fill it from the store first.",
        )
    choices = with_cloth(pattern(ticket.pattern), ticket.choices, ticket.cloth)
    body = estimate(ticket.body)
    garment = drawn(body, ticket.pattern, choices, ticket.figure, ticket.left, ticket.changes)
    sewer = replace(ticket.sewer, pace=1.0, logged=0)
    steps = order_of_work(garment, ticket.cloth, sewer, preferring=ticket.ways)
    paper = sheets_roughly((piece.outline for piece in lay_pieces(garment)), sheet(ticket.sheet))
    return minutes(garment, steps, ticket.cloth, sewer, sheets=paper).likely
