"""The demo scenario, the Tide Mill sewing evenings, put into a store once."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

from sqlalchemy import Connection, insert, select

from clothwise.body import Body, Measure
from clothwise.cloth import Cloth
from clothwise.cloth.entries import cloth_of
from clothwise.shelf.pattern import BoughtPattern, FinishedMake, Judgement
from clothwise.shelf.reading import read_pattern
from clothwise.store import deeds
from clothwise.store.store import BODY, BOUGHT, CLOTH, MAKE, TICKET, Kind, Store, Thing
from clothwise.store.tables import FLAGS
from clothwise.store.tickets import KeptTicket
from clothwise.store.versions import find_current

SCENARIO = "tide_mill"  # the file beside this one, and the flag that it was seeded
DEMO_SCOPE = "house/demo"  # of the deed that takes the scenario away
SHELF = "tide_mill_shelf"  # the flag for its bought patterns and makes


def seed_demo(store: Store) -> bool:
    """Puts the scenario into the store, once in its life. Returns whether it put in anything now.

    What is there already under one of its names stays as it is, and what was forgotten stays forgotten.
    The shelf has a flag of its own: a store seeded before there was one gets it at the next start.
    """
    with store._writing() as connection:

        def put(kind: Kind[Thing], things: tuple[Thing, ...]) -> None:
            for thing in things:
                if find_current(connection, kind.table, thing.name) is None:
                    kind.write(connection, thing)

        seeded = _flags(connection)
        if SCENARIO not in seeded:
            bodies, cloths, tickets = scenario()
            put(BODY, bodies)
            put(CLOTH, cloths)
            put(TICKET, tickets)
            connection.execute(insert(FLAGS).values(name=SCENARIO))
        if SHELF not in seeded:
            patterns, makes = bought_scenario()
            put(BOUGHT, patterns)
            put(MAKE, makes)
            connection.execute(insert(FLAGS).values(name=SHELF))
    return not {SCENARIO, SHELF} <= seeded


def clear_demo(store: Store) -> int:
    """Takes the scenario's people, cloths, tickets, patterns and makes away, in one deed that can be undone.

    What was changed since goes too: it bears the scenario's name. It is never given back unasked, not even what
    a later version brings. Returns how many were taken away.
    """
    bodies, cloths, tickets = scenario()
    patterns, makes = bought_scenario()
    gone = 0

    def take_away(hand: deeds.Hand) -> None:
        nonlocal gone
        rows: tuple[tuple[Kind[Any], tuple[Any, ...]], ...] = (
            (TICKET, tickets), (MAKE, makes), (BOUGHT, patterns), (CLOTH, cloths), (BODY, bodies),
        )  # fmt: skip
        for kind, things in rows:
            for thing in things:
                if hand.find(kind, thing.name) is not None:
                    hand.forget(kind, thing.name)
                    gone += 1

    deeds.do(store, DEMO_SCOPE, "The demo taken away", take_away)
    with store._writing() as connection:
        for name in {SCENARIO, SHELF} - _flags(connection):
            connection.execute(insert(FLAGS).values(name=name))
    return gone


def _flags(connection: Connection) -> set[str]:
    return set(connection.scalars(select(FLAGS.c.name)))


def scenario() -> tuple[tuple[Body, ...], tuple[Cloth, ...], tuple[KeptTicket, ...]]:
    """The people, the cupboard and the tickets of the scenario."""
    whole = _whole()
    return (
        tuple(_body(entry) for entry in whole["body"]),
        tuple(cloth_of(entry) for entry in whole["cloth"]),
        tuple(KeptTicket(**entry) for entry in whole["ticket"]),
    )


def bought_scenario() -> tuple[tuple[BoughtPattern, ...], tuple[FinishedMake, ...]]:
    """The bought patterns on the shelf, and what was made from them before."""
    whole = _whole()
    return (
        tuple(read_pattern(entry["text"]).pattern for entry in whole["bought"]),
        tuple(_make(entry) for entry in whole["make"]),
    )


def _whole() -> dict[str, Any]:
    return tomllib.loads((files("clothwise.store") / f"{SCENARIO}.toml").read_text(encoding="utf-8"))


def _make(entry: dict[str, Any]) -> FinishedMake:
    judged = tuple(Judgement(**judgement) for judgement in entry["judgements"])
    return FinishedMake(**{**entry, "judgements": judged})


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
