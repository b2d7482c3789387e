"""The log of finished makes in the store: whose they were, what was planned, what they took.

A make counts when its progress holds minutes and the day it was finished, and its ticket can still be drawn.
Minutes that no pace explains, as of a clock that was stopped after the first seam, are left out.
"""

from __future__ import annotations

from datetime import date

from clothwise.errors import StoreError, WorkroomError
from clothwise.sew.log import Logged
from clothwise.sew.sewer import LEAST_PACE, MOST_PACE
from clothwise.store import deeds
from clothwise.store.progress import KeptProgress
from clothwise.store.store import HOW_FAR, TICKET, Store
from clothwise.store.tickets import KeptTicket
from clothwise.ticket import Ticket, read_ticket
from clothwise.ticket.bought_ticket import is_bought, read_bought_ticket
from clothwise.ticket.planned import planned_minutes

LONGEST = 100_000.0  # minutes: more is no make but a mistake in typing


def logged_makes(store: Store, sewer: str) -> tuple[tuple[Logged, ...], tuple[str, ...]]:
    """Her finished makes, earliest first, and the names of those whose tickets can no longer be drawn."""
    tickets = {kept.name: kept for kept in store.tickets()}
    found: list[Logged] = []
    lost: list[str] = []
    for progress in store._all(HOW_FAR):
        spent, finished = progress.said.get("spent", 0.0), str(progress.said.get("finished_on", ""))
        if not finished or not spent or progress.name not in tickets:
            continue
        if is_bought(tickets[progress.name].text):  # what an envelope plans is too rough to learn a pace from
            continue
        try:
            ticket = filled(store, read_ticket(tickets[progress.name].text))
            if sewer_of(ticket) != sewer:
                continue
            planned = planned_minutes(ticket)
            if LEAST_PACE <= spent / planned <= MOST_PACE:
                found.append(Logged(ticket.pattern, planned, float(spent), finished))
        except WorkroomError:  # a body or cloth was forgotten, or a draft refuses it by now
            lost.append(progress.name)
    return tuple(sorted(found, key=lambda make: make.made_on)), tuple(lost)


def minutes_before(store: Store, bought: str, sewer: str, but: str) -> tuple[tuple[float, str], ...]:
    """Minutes and day of her finished makes of one bought pattern, earliest first; without the ticket `but`."""
    found: list[tuple[float, str]] = []
    tickets = {kept.name: kept for kept in store.tickets() if kept.name != but and is_bought(kept.text)}
    for progress in store._all(HOW_FAR):
        spent, finished = progress.said.get("spent", 0.0), str(progress.said.get("finished_on", ""))
        if finished and spent and progress.name in tickets:
            ticket = read_bought_ticket(tickets[progress.name].text)
            if (ticket.pattern, ticket.sewer.name or ticket.body_name) == (bought, sewer):
                found.append((float(spent), finished))
    return tuple(sorted(found, key=lambda make: make[1]))


def sewer_of(ticket: Ticket) -> str:
    """Who sews it: the sewer it names, else its wearer."""
    return ticket.sewer.name or ticket.body_name


def filled(store: Store, ticket: Ticket) -> Ticket:
    """The ticket with the body and cloth it only names."""
    if ticket.whole:
        return ticket
    return ticket.filled(
        ticket.body or store.body(ticket.body_name), ticket.cloth or store.cloth(ticket.cloth_name)
    )


def log(store: Store, ticket: Ticket, text: str, minutes: float, on: str) -> None:
    """Keeps that a make is finished, with its ticket: one deed, which can be undone.

    Raises  StoreError: minutes that cannot be, or no date
    """
    if not 0 < minutes < LONGEST:
        raise StoreError(
            f"A make of {minutes:g} minutes is not possible.",
            where="log",
            mend="Give all its minutes, pauses out.",
        )
    try:
        date.fromisoformat(on)
    except ValueError:
        raise StoreError(f"'{on}' is no date.", where="log", mend="Write it as 2026-11-25.") from None

    def change(hand: deeds.Hand) -> None:
        before = hand.find(HOW_FAR, ticket.name)
        said = dict(before.said) if before else {}
        hand.keep(TICKET, KeptTicket(ticket.name, text, ticket.made_on))
        hand.keep(HOW_FAR, KeptProgress(ticket.name, {**said, "spent": minutes, "finished_on": on}))

    deeds.do(store, f"progress/{ticket.name}", f"'{ticket.name}' finished", change)
