"""The demo scenario, the Tide Mill sewing evenings, put into a store once."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

from sqlalchemy import insert, select

from clothwise.body import Body, Measure
from clothwise.cloth import Cloth
from clothwise.store.store import BODY, CLOTH, TICKET, Kind, Store, Thing
from clothwise.store.tables import FLAGS
from clothwise.store.tickets import KeptTicket
from clothwise.store.versions import find_current

SCENARIO = "tide_mill"  # the file beside this one, and the flag that it was seeded


def seed_demo(store: Store) -> bool:
    """Puts the scenario into the store, once in its life. Returns whether it did so now.

    What is there already under one of its names stays as it is, and what was forgotten stays forgotten.
    """
    bodies, cloths, tickets = scenario()
    with store._writing() as connection:
        if connection.execute(select(FLAGS).where(FLAGS.c.name == SCENARIO)).one_or_none():
            return False

        def put(kind: Kind[Thing], things: tuple[Thing, ...]) -> None:
            for thing in things:
                if find_current(connection, kind.table, thing.name) is None:
                    kind.write(connection, thing)

        put(BODY, bodies)
        put(CLOTH, cloths)
        put(TICKET, tickets)
        connection.execute(insert(FLAGS).values(name=SCENARIO))
    return True


def scenario() -> tuple[tuple[Body, ...], tuple[Cloth, ...], tuple[KeptTicket, ...]]:
    """The people, the cupboard and the tickets of the scenario."""
    text = (files("clothwise.store") / f"{SCENARIO}.toml").read_text(encoding="utf-8")
    whole = tomllib.loads(text)
    return (
        tuple(_body(entry) for entry in whole["body"]),
        tuple(Cloth(**entry) for entry in whole["cloth"]),
        tuple(KeptTicket(**entry) for entry in whole["ticket"]),
    )


def _body(entry: dict[str, Any]) -> Body:
    taped = {name: Measure(float(cm)) for name, cm in entry["taped"].items()}
    return Body(
        name=entry["name"],
        figure=entry["figure"],
        measures=taped,
        age_years=entry["age_years"],
        taken_on=entry["taken_on"],
        notes=tuple(entry.get("notes", ())),
    )
