"""`clothwise cupboard cut`: a ticket laid on the cloths that are in the cupboard now, then taken off them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from clothwise.cli.bought import opened
from clothwise.cloth.words import summary
from clothwise.errors import StoreError
from clothwise.store.cutting import Cut, cut, undo_cut
from clothwise.ticket import Ticket, read_ticket
from clothwise.ticket.figures import plain, rounded

Said = tuple[list[str], dict[str, Any]]


def cut_ticket(file: Path) -> Said:
    """Lays the ticket on its cloths as they are in the cupboard, and cuts them all."""
    from dataclasses import replace

    from clothwise.cli.files import read_file
    from clothwise.ticket.made import work_out

    given = read_ticket(read_file(file, "ticket"))
    with opened() as store:
        whole = replace(
            given,
            body=given.body or store.body(given.body_name),
            cloth=store.cloth(given.cloth_name),
            other_cloths=tuple(replace(one, cloth=store.cloth(one.cloth.name)) for one in given.other_cloths),
        )
        made = work_out(whole)
        done = cut(store, given.name, {cloth.name: plan for cloth, plan in made.named})
    return [line for one in done for line in _lines(given, one)], _figures(given, done)


def undo_ticket(file: Path) -> Said:
    """Takes the last cut of this ticket back."""
    from clothwise.cli.files import read_file

    given = read_ticket(read_file(file, "ticket"))
    with opened() as store:
        deed = undo_cut(store, given.name)
    if deed is None:
        raise StoreError(
            f"'{given.name}' was not cut, or its cut was taken back already.",
            where="cupboard",
            mend="See `clothwise cupboard show NAME --versions` for what was there before.",
        )
    return [f"Taken back: {deed.words}. What was cut is as it was."], {"taken_back": deed.words}


def _lines(ticket: Ticket, one: Cut) -> list[str]:
    lines = [f"{ticket.name}: {one.used_cm:.0f} cm of {one.before.name} are taken off."]
    if not one.after:
        return [*lines, "  Nothing usable is left: it is off the shelf."]
    return lines + [f"  Left: {cloth.name}: {summary(cloth)}" for cloth in one.after]


def _figures(ticket: Ticket, done: tuple[Cut, ...]) -> dict[str, Any]:
    return {
        "cut": ticket.name,
        "cloths": [
            {
                "cloth": one.before.name,
                "used_cm": rounded(one.used_cm),
                "left": [plain(cloth) for cloth in one.after],
            }
            for one in done
        ],
    }
