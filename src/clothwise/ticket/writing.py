"""A ticket back into TOML, whole: reading it again gives the same ticket."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import tomli_w

from clothwise.body import Body
from clothwise.cloth.entries import entries
from clothwise.ticket.ticket import FORMAT, Booklet, Ticket


def write_ticket(ticket: Ticket) -> str:
    """The ticket as TOML text, entries in a fixed order."""
    whole: dict[str, Any] = {"ticket": FORMAT, "name": ticket.name}
    if ticket.made_on:
        whole["made_on"] = ticket.made_on
    whole["pattern"] = {"name": ticket.pattern, "choices": dict(ticket.choices)}
    for name, table in (("figure", ticket.figure), ("left", ticket.left)):
        if table:
            whole["pattern"][name] = dict(table)
    if ticket.changes:
        whole["pattern"]["changes"] = [{"what": c.what, **c.entries} for c in ticket.changes]
    whole["body"] = _body(ticket.body) if ticket.body else {"name": ticket.body_name}
    whole["cloth"] = entries(ticket.cloth) if ticket.cloth else {"name": ticket.cloth_name}
    if ticket.other_cloths:
        others = ticket.other_cloths
        whole["other_cloths"] = [{"pieces": list(one.pieces), **entries(one.cloth)} for one in others]
    sewer = ticket.sewer
    whole["sewer"] = {name: value for name, value in asdict(sewer).items() if value != ""}
    if ticket.ways:
        whole["ways"] = dict(ticket.ways)
    whole["paper"] = {"sheet": ticket.sheet}
    if ticket.booklet != Booklet():
        whole["booklet"] = {name: value for name, value in asdict(ticket.booklet).items() if value != ""}
    return tomli_w.dumps(whole)


def _body(body: Body) -> dict[str, Any]:
    table: dict[str, Any] = {"name": body.name, "figure": body.figure}
    if body.age_years is not None:
        table["age_years"] = body.age_years
    if body.taken_on:
        table["taken_on"] = body.taken_on
    confirmed = sorted(name for name, measure in body.measures.items() if measure.confirmed)
    if confirmed:
        table["confirmed"] = confirmed
    if body.notes:
        table["notes"] = list(body.notes)
    ordered = sorted(body.measures.items())
    table["measures"] = {name: m.cm for name, m in ordered if m.source != "estimated"}
    estimated = {
        name: [m.cm, m.cm if m.low is None else m.low, m.cm if m.high is None else m.high]
        for name, m in ordered
        if m.source == "estimated"
    }
    if estimated:
        table["estimated"] = estimated
    return table
