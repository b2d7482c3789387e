"""What bodies, cloths and tickets have in common: versions of a named thing, one of them current."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from sqlalchemy import Connection, Row, Table, func, insert, select, update

from clothwise.errors import StoreError

LIKENESS = 0.5  # share of letters in common from which a name is offered as 'did you mean'
OFFERED = 3  # names at most in such an offer
LONGEST_NAME = 200  # characters: a line on a label, not a page
JOINERS = "\u200c\u200d"  # unseen: Persian and the scripts of India are spelled with them, and joined pictures


def current_rows(connection: Connection, table: Table) -> Sequence[Row[Any]]:
    """All current rows, by name."""
    rows = connection.execute(select(table).where(table.c.current)).all()
    return sorted(rows, key=lambda row: (row.name.casefold(), row.name))


def current_row(connection: Connection, table: Table, word: str, name: str) -> Row[Any]:
    """The current row of this name. Raises StoreError with near names when there is none."""
    row = find_current(connection, table, name)
    if row is None:
        raise unknown(word, name, [r.name for r in current_rows(connection, table)])
    return row


def find_current(connection: Connection, table: Table, name: str) -> Row[Any] | None:
    if not fit_name(name):
        return None
    return connection.execute(select(table).where(table.c.current, table.c.name == name)).one_or_none()


def earlier_rows(connection: Connection, table: Table, name: str) -> Sequence[Row[Any]]:
    """Every row of this name that is no longer current, oldest first."""
    if not fit_name(name):
        return []
    wanted = select(table).where(table.c.name == name, ~table.c.current).order_by(table.c.version)
    return connection.execute(wanted).all()


def write_row(connection: Connection, table: Table, name: str, columns: Mapping[str, object]) -> int:
    """A new current version of `name`; the one before becomes history. Returns the row's id."""
    retire(connection, table, name)
    newest = connection.scalar(select(func.max(table.c.version)).where(table.c.name == name)) or 0
    row = {"name": name, "version": newest + 1, "current": True, **columns}
    return int(connection.execute(insert(table).returning(table.c.id), row).scalar_one())


def retire(connection: Connection, table: Table, name: str) -> None:
    """Leave `name` without a current version; its rows stay as history."""
    connection.execute(update(table).where(table.c.name == name, table.c.current).values(current=False))


def unknown(word: str, name: str, names: Iterable[str]) -> StoreError:
    """The refusal for a name that is not there, with the names most like it."""
    shelf = sorted(names)
    near = get_close_matches(name.casefold(), {n.casefold() for n in shelf}, n=OFFERED, cutoff=LIKENESS)
    if near:
        mend = f"Did you mean {' or '.join(repr(n) for n in shelf if n.casefold() in near)}?"
    elif shelf:
        mend = f"There {'is' if len(shelf) == 1 else 'are'}: {', '.join(shelf)}."
    else:
        mend = f"There is no {word} in the store yet."
    return StoreError(f"There is no {word} called {name!r}.", where="store", mend=mend)


def fit_name(name: str) -> bool:
    """Whether a name can stand on a label: one line of text that does not begin or end with a space."""
    seen = name.translate(dict.fromkeys(map(ord, JOINERS)))
    ends_seen = bool(name) and name[0] not in JOINERS and name[-1] not in JOINERS
    return len(name) <= LONGEST_NAME and ends_seen and name == name.strip() and seen.isprintable()


def refuse_unfit_name(word: str, name: str) -> None:
    if not fit_name(name):
        raise StoreError(
            f"A {word} cannot be called {name[:LONGEST_NAME]!r}.",
            where="store",
            mend=f"Use one line of up to {LONGEST_NAME} letters, signs and spaces, no space at its ends.",
        )


def refuse_unfit_columns(word: str, name: str, columns: Mapping[str, object]) -> None:
    """Refuses numbers and text that would come back from a database as something else."""
    for column, value in columns.items():
        if isinstance(value, float) and not math.isfinite(value):
            bad = f"is {value}, which is not a length or share"
        elif isinstance(value, str) and not _writable(value):
            bad = "holds signs that are not text"
        else:
            continue
        what = column.replace("_", " ")
        raise StoreError(
            f"The {what} of {word} {name!r} {bad}.", where=f"{word} {name!r}: {what}", mend="Write it anew."
        )


def _writable(text: str) -> bool:
    """Whether every database keeps the text as it is: UTF-8, and no NUL that ends a string early."""
    return "\0" not in text and not any("\ud800" <= sign <= "\udfff" for sign in text)


def damaged(word: str, name: str) -> StoreError:
    """The refusal for a row that no Clothwise can have written."""
    return StoreError(
        f"What the store holds about {word} {name!r} is damaged.",
        where="store",
        mend="Bring back the backup that lies beside the store, or write it anew.",
    )
