"""The work ticket of a make from a bought pattern: names alone, since its pieces are on its own paper.

It is kept among the other tickets, as TOML; the table [bought] in place of [pattern] tells it from theirs.
Size, cloth and minutes follow from body, pattern and cloth as they stand in the store when it is looked at.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import tomli_w

from clothwise.errors import TicketError
from clothwise.sew.sewer import Sewer
from clothwise.ticket.ticket import FORMAT


@dataclass(frozen=True, slots=True)
class BoughtTicket:
    """One make from a bought pattern. `view` '' where the envelope has one garment.

    longer  made longer by this, negative: shorter [cm]; ease  wished for, by level [cm]
    """

    name: str
    pattern: str
    body_name: str
    cloth_name: str
    view: str = ""
    sewer: Sewer = field(default_factory=Sewer)
    made_on: str = ""  # ISO date
    longer: float = 0.0
    ease: Mapping[str, float] = field(default_factory=dict)


def is_bought(text: str) -> bool:
    """Whether a kept ticket is one of these. What cannot be read is not; its reader says why."""
    try:
        return "bought" in tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return False


def write_bought_ticket(ticket: BoughtTicket) -> str:
    """As TOML text, entries in a fixed order."""
    whole: dict[str, Any] = {"ticket": FORMAT, "name": ticket.name}
    if ticket.made_on:
        whole["made_on"] = ticket.made_on
    wished = {"view": ticket.view, "longer": ticket.longer, "ease": dict(ticket.ease)}
    whole["bought"] = {"name": ticket.pattern, **{key: said for key, said in wished.items() if said}}
    whole["body"] = {"name": ticket.body_name}
    whole["cloth"] = {"name": ticket.cloth_name}
    sewer = ticket.sewer
    whole["sewer"] = {"name": sewer.name, "skill": sewer.skill, "overlocker": sewer.overlocker}
    return tomli_w.dumps(whole)


def read_bought_ticket(text: str) -> BoughtTicket:
    """The ticket in a TOML text. Raises TicketError: what, at which entry, how to mend it."""
    try:
        whole = tomllib.loads(text)
        sewer = whole.get("sewer", {})
        return BoughtTicket(
            name=str(whole["name"]),
            pattern=str(whole["bought"]["name"]),
            body_name=str(whole["body"]["name"]),
            cloth_name=str(whole["cloth"]["name"]),
            view=str(whole["bought"].get("view", "")),
            sewer=Sewer(
                name=str(sewer.get("name", "")),
                skill=sewer.get("skill", "beginner"),
                overlocker=sewer.get("overlocker") is True,
            ),
            made_on=str(whole.get("made_on", "")),
            longer=float(whole["bought"].get("longer", 0.0)),
            ease={str(level): float(cm) for level, cm in whole["bought"].get("ease", {}).items()},
        )
    except (tomllib.TOMLDecodeError, KeyError, TypeError, AttributeError, ValueError):
        raise TicketError(
            "This is no ticket of a bought pattern.",
            where="ticket",
            mend="It names the pattern under [bought], the body under [body] and the cloth under [cloth].",
        ) from None
