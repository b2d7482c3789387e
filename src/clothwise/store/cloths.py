"""Cloths to rows and back: the columns are the fields."""

from __future__ import annotations

from dataclasses import asdict, fields
from typing import Any, get_args

from sqlalchemy import Connection, Row

from clothwise.cloth import Cloth, Make, Nap
from clothwise.store.tables import CLOTHS
from clothwise.store.versions import damaged, refuse_unfit_columns, refuse_unfit_name, write_row

WORD = "cloth"


def write_cloth(connection: Connection, cloth: Cloth) -> None:
    """A new current version of this cloth."""
    refuse_unfit_name(WORD, cloth.name)
    columns = asdict(cloth)
    refuse_unfit_columns(WORD, cloth.name, columns)
    del columns["name"]
    write_row(connection, CLOTHS, cloth.name, columns)


def read_cloth(_connection: Connection, row: Row[Any]) -> Cloth:
    """The cloth of a row. Raises StoreError or ClothError when the row is damaged."""
    if row.make not in get_args(Make) or row.nap not in get_args(Nap):
        raise damaged(WORD, row.name)
    return Cloth(**{field.name: getattr(row, field.name) for field in fields(Cloth)})
