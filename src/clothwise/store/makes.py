"""Finished makes with what their wearers say of them, to rows and back."""

from __future__ import annotations

import json
from typing import Any, get_args

from sqlalchemy import Connection, Row, insert, select

from clothwise.cloth import Make
from clothwise.shelf.levels import find_level
from clothwise.shelf.pattern import FinishedMake, FitClass, Judgement, Verdict
from clothwise.store.tables import JUDGEMENTS, MAKES
from clothwise.store.versions import damaged, refuse_unfit_columns, refuse_unfit_name, write_row

WORD = "make"


def write_make(connection: Connection, make: FinishedMake) -> None:
    """A new current version of this make, with its judgements."""
    refuse_unfit_name(WORD, make.name)
    columns = {
        "person": make.person,
        "pattern": make.pattern,
        "fit_class": make.fit_class,
        "make": make.make,
        "made_on": make.made_on,
        "sizes": json.dumps(dict(make.sizes)),
        "notes": json.dumps(make.notes),
    }
    refuse_unfit_columns(WORD, make.name, columns)
    rows = [
        {"level": one.level, "place": place, "ease": float(one.ease), "verdict": one.verdict}
        for place, one in enumerate(make.judgements)
    ]
    for row in rows:
        refuse_unfit_columns(WORD, make.name, row)
    make_id = write_row(connection, MAKES, make.name, columns)
    if rows:
        connection.execute(insert(JUDGEMENTS), [{"make_id": make_id, **row} for row in rows])


def read_make(connection: Connection, row: Row[Any]) -> FinishedMake:
    """The make of a row. Raises StoreError when the row is damaged."""
    wanted = select(JUDGEMENTS).where(JUDGEMENTS.c.make_id == row.id).order_by(JUDGEMENTS.c.place)
    judged = connection.execute(wanted).all()
    wrong = any(one.verdict not in get_args(Verdict) or find_level(one.level) is None for one in judged)
    if row.fit_class not in get_args(FitClass) or row.make not in get_args(Make) or wrong:
        raise damaged(WORD, row.name)
    try:
        sizes, notes = dict(json.loads(row.sizes)), tuple(str(note) for note in json.loads(row.notes))
    except (ValueError, TypeError) as fault:
        raise damaged(WORD, row.name) from fault
    return FinishedMake(
        name=row.name,
        person=row.person,
        pattern=row.pattern,
        fit_class=row.fit_class,
        make=row.make,
        sizes=sizes,
        judgements=tuple(Judgement(one.level, one.ease, one.verdict) for one in judged),
        made_on=row.made_on,
        notes=notes,
    )
