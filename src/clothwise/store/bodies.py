"""Bodies to rows and back."""

from __future__ import annotations

import json
from typing import Any, get_args

from sqlalchemy import Connection, Row, insert, select

from clothwise.body import Body, Figure, Measure, Source
from clothwise.store.tables import BODIES, MEASURES
from clothwise.store.versions import damaged, refuse_unfit_columns, refuse_unfit_name, write_row

WORD = "body"


def write_body(connection: Connection, body: Body) -> None:
    """A new current version of this body, with its measures."""
    refuse_unfit_name(WORD, body.name)
    columns = {
        "figure": body.figure,
        "age_years": body.age_years,
        "taken_on": body.taken_on,
        "notes": json.dumps(body.notes),
    }
    rows = [_measure_row(place, name, measure) for place, (name, measure) in enumerate(body.measures.items())]
    refuse_unfit_columns(WORD, body.name, columns)
    for row in rows:
        parts = {f"{row['name']} ({part})": row[part] for part in ("name", "cm", "low", "high")}
        refuse_unfit_columns(WORD, body.name, parts)
    body_id = write_row(connection, BODIES, body.name, columns)
    if rows:
        connection.execute(insert(MEASURES), [{"body_id": body_id, **row} for row in rows])


def _measure_row(place: int, name: str, measure: Measure) -> dict[str, Any]:
    return {
        "name": name,
        "place": place,
        "cm": float(measure.cm),
        "source": measure.source,
        "low": measure.low,
        "high": measure.high,
        "confirmed": measure.confirmed,
    }


def read_body(connection: Connection, row: Row[Any]) -> Body:
    """The body of a row. Raises StoreError when the row is damaged."""
    wanted = select(MEASURES).where(MEASURES.c.body_id == row.id).order_by(MEASURES.c.place)
    measures = connection.execute(wanted).all()
    figures, sources = get_args(Figure), get_args(Source)
    if row.figure not in figures or any(m.source not in sources for m in measures):
        raise damaged(WORD, row.name)
    return Body(
        name=row.name,
        figure=row.figure,
        measures={m.name: Measure(m.cm, m.source, m.low, m.high, m.confirmed) for m in measures},
        age_years=row.age_years,
        taken_on=row.taken_on,
        notes=_notes(row),
    )


def _notes(row: Row[Any]) -> tuple[str, ...]:
    try:
        return tuple(str(note) for note in json.loads(row.notes))
    except (ValueError, TypeError) as wrong:
        raise damaged(WORD, row.name) from wrong
