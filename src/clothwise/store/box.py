"""Things of the haberdashery box to rows and back."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from sqlalchemy import Connection, Row

from clothwise.errors import WorkroomError
from clothwise.shopping.box import BoxItem
from clothwise.store.tables import BOX as TABLE
from clothwise.store.versions import damaged, refuse_unfit_columns, refuse_unfit_name, write_row

WORD = "thing in the box"


def write_item(connection: Connection, item: BoxItem) -> None:
    """A new current version of this thing."""
    refuse_unfit_name(WORD, item.name)
    columns = {field.name: getattr(item, field.name) for field in fields(BoxItem) if field.name != "name"}
    refuse_unfit_columns(WORD, item.name, columns)
    write_row(connection, TABLE, item.name, columns)


def read_item(_connection: Connection, row: Row[Any]) -> BoxItem:
    """The thing of a row. Raises StoreError when the row is damaged."""
    try:
        return BoxItem(**{field.name: getattr(row, field.name) for field in fields(BoxItem)})
    except (WorkroomError, TypeError) as wrong:
        raise damaged(WORD, row.name) from wrong
