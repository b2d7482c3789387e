"""Bought patterns to rows and back. A pattern is kept as the TOML text that a person could have typed."""

from __future__ import annotations

from hashlib import sha256
from typing import Any

from sqlalchemy import Connection, Row

from clothwise.errors import ShelfError
from clothwise.shelf.pattern import BoughtPattern
from clothwise.shelf.reading import read_pattern
from clothwise.shelf.writing import write_pattern
from clothwise.store.tables import BOUGHT_PATTERNS
from clothwise.store.versions import damaged, refuse_unfit_columns, refuse_unfit_name, write_row

WORD = "bought pattern"


def write_bought(connection: Connection, pattern: BoughtPattern) -> None:
    """A new current version of this pattern."""
    refuse_unfit_name(WORD, pattern.name)
    text = write_pattern(pattern)
    refuse_unfit_columns(WORD, pattern.name, {"text": text})
    columns = {"text": text, "sha256": sha256(text.encode()).hexdigest()}
    write_row(connection, BOUGHT_PATTERNS, pattern.name, columns)


def read_bought(_connection: Connection, row: Row[Any]) -> BoughtPattern:
    """The pattern of a row. Raises StoreError when the text is not the one that was kept."""
    if sha256(row.text.encode()).hexdigest() != row.sha256:
        raise damaged(WORD, row.name)
    try:
        return read_pattern(row.text).pattern
    except ShelfError as wrong:
        raise damaged(WORD, row.name) from wrong
