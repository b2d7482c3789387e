"""Cloths to rows and back: the columns are the fields; lists are kept as JSON."""

from __future__ import annotations

import json
from dataclasses import fields
from typing import Any

from sqlalchemy import Connection, Row

from clothwise.cloth import Cloth
from clothwise.cloth.entries import LISTS, listed
from clothwise.errors import ClothError
from clothwise.store.tables import CLOTHS
from clothwise.store.versions import damaged, refuse_unfit_columns, refuse_unfit_name, write_row

WORD = "cloth"


def write_cloth(connection: Connection, cloth: Cloth) -> None:
    """A new current version of this cloth."""
    refuse_unfit_name(WORD, cloth.name)
    columns = {field.name: getattr(cloth, field.name) for field in fields(Cloth) if field.name != "name"}
    columns.update({name: json.dumps(columns[name]) for name in LISTS})
    refuse_unfit_columns(WORD, cloth.name, columns)
    write_row(connection, CLOTHS, cloth.name, columns)


def read_cloth(_connection: Connection, row: Row[Any]) -> Cloth:
    """The cloth of a row. Raises StoreError when the row is damaged."""
    given = {field.name: getattr(row, field.name) for field in fields(Cloth)}
    try:
        for name in LISTS:
            given[name] = listed(name, json.loads(given[name]), f"cloth '{row.name}': {name}")
        return Cloth(**given)
    except (ClothError, ValueError, TypeError) as wrong:
        raise damaged(WORD, row.name) from wrong
