"""A store read through from end to end: every version of every thing, every deed, photo and piece of work.

A backup may come from anywhere. One row in it that cannot be read would make a page unreadable, perhaps the one
from which it could be taken back; so all is read before it is put in the place of anything.
"""

from __future__ import annotations

import json
from collections.abc import Callable

from sqlalchemy import Connection, select

from clothwise.errors import StoreError, WorkroomError
from clothwise.store.deeds import KINDS, PHOTO, moves_in
from clothwise.store.photos import kind_of
from clothwise.store.store import Store
from clothwise.store.tables import DEEDS, JOB_NEWS, JOBS, PHOTOS

UNREADABLE = (
    WorkroomError,
    ValueError,
    TypeError,
    LookupError,
    AttributeError,
    ArithmeticError,
    RecursionError,
)


def refuse_unsound(store: Store) -> None:
    """Reads all of a store. Raises StoreError at the first row that cannot be read."""
    looks: tuple[tuple[str, Callable[[Connection], None]], ...] = (
        ("thing", _things), ("photo", _photos), ("deed", _deeds), ("work", _work),
    )  # fmt: skip
    with store._reading() as connection:
        for what, look in looks:
            try:
                look(connection)
            except UNREADABLE as wrong:
                raise StoreError(
                    f"This store holds a {what} that no Clothwise could have kept.",
                    where=store.place,
                    mend="Use another copy, one that has not been changed by other programs.",
                ) from wrong


def _things(connection: Connection) -> None:
    for kind in KINDS:
        for row in connection.execute(select(kind.table)).all():
            kind.read(connection, row)


def _photos(connection: Connection) -> None:
    for row in connection.execute(select(PHOTOS.c.id, PHOTOS.c.kind, PHOTOS.c.data)):
        if kind_of(row.data) != row.kind:
            raise ValueError(f"photo {row.id} is no {row.kind}")


def _deeds(connection: Connection) -> None:
    known = {PHOTO, *(kind.word for kind in KINDS)}
    for row in connection.execute(select(DEEDS)):
        for kind, name, *versions in moves_in(row):
            if kind not in known or not isinstance(name, str) or len(versions) != 2:
                raise ValueError(f"deed {row.id}")
            if not all(one is None or isinstance(one, int) for one in versions):
                raise ValueError(f"deed {row.id}")
            if kind == PHOTO:
                int(name)


def _work(connection: Connection) -> None:
    for row in connection.execute(select(JOBS.c.asked)):
        if not isinstance(json.loads(row.asked), dict):
            raise ValueError("work asked for by no words")
    for row in connection.execute(select(JOB_NEWS.c.text)):
        json.loads(row.text)
