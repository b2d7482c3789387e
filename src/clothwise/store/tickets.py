"""Tickets to rows and back. A ticket is kept as the text it was written in."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from sqlalchemy import Connection, Row

from clothwise.store.tables import TICKETS
from clothwise.store.versions import damaged, refuse_unfit_columns, refuse_unfit_name, write_row

WORD = "ticket"


@dataclass(frozen=True, slots=True)
class KeptTicket:
    """A ticket's file as it was kept. `created_on` is an ISO date, given by whoever keeps it."""

    name: str
    text: str
    created_on: str = ""

    @property
    def sha256(self) -> str:
        """The fingerprint of the text: the same ticket has the same, on every machine."""
        return sha256(self.text.encode()).hexdigest()


def write_ticket(connection: Connection, ticket: KeptTicket) -> None:
    """A new current version of this ticket."""
    refuse_unfit_name(WORD, ticket.name)
    columns = {"text": ticket.text, "created_on": ticket.created_on}
    refuse_unfit_columns(WORD, ticket.name, columns)
    write_row(connection, TICKETS, ticket.name, {**columns, "sha256": ticket.sha256})


def read_ticket_row(_connection: Connection, row: Row[Any]) -> KeptTicket:
    """The ticket of a row. Raises StoreError when the text is not the one that was kept."""
    ticket = KeptTicket(row.name, row.text, row.created_on)
    if ticket.sha256 != row.sha256:
        raise damaged(WORD, row.name)
    return ticket
