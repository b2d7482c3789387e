"""How far a ticket has come, to rows and back: ticks, minutes taken, pieces pinned by hand, what was learned.

Kept as JSON under the ticket's name; the face that keeps it says what stands in it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from sqlalchemy import Connection, Row

from clothwise.store.tables import PROGRESS
from clothwise.store.versions import damaged, refuse_unfit_columns, refuse_unfit_name, write_row

WORD = "progress"


@dataclass(frozen=True, slots=True)
class KeptProgress:
    """What has been done of one ticket. `said` holds plain JSON values."""

    name: str
    said: Mapping[str, Any] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "said", MappingProxyType(dict(self.said)))


def write_progress(connection: Connection, progress: KeptProgress) -> None:
    """A new current version of it."""
    refuse_unfit_name(WORD, progress.name)
    text = json.dumps(dict(progress.said), ensure_ascii=False, allow_nan=False)
    refuse_unfit_columns(WORD, progress.name, {"text": text})
    write_row(connection, PROGRESS, progress.name, {"text": text})


def read_progress(_connection: Connection, row: Row[Any]) -> KeptProgress:
    """The progress of a row. Raises StoreError when the row is damaged."""
    try:
        said = json.loads(row.text)
    except ValueError as wrong:
        raise damaged(WORD, row.name) from wrong
    if not isinstance(said, dict):
        raise damaged(WORD, row.name)
    return KeptProgress(row.name, said)
