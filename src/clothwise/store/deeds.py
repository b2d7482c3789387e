"""Deeds: what was done at the page, so that it can be undone and done again.

A deed moves names from one version to another (see `versions`); undoing moves them back. Nothing is deleted
by either. Each deed has a scope, the thing it was done to ('ticket/Tuesday skirt'); undo and redo look at the
deeds of one scope, of several, or of all that begin with it ('cloth/'). A new deed in a scope ends what could
be redone there; the versions themselves stay in the store.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, Row, delete, insert, or_, select, update

from clothwise.errors import StoreError
from clothwise.store.store import BODY, BOUGHT, CLOTH, HOW_FAR, IN_BOX, MAKE, TICKET, Kind, Store, Thing
from clothwise.store.tables import DEEDS, PHOTOS
from clothwise.store.versions import current_row, find_current, retire

KINDS: tuple[Kind[Any], ...] = (BODY, CLOTH, TICKET, BOUGHT, MAKE, HOW_FAR, IN_BOX)
PHOTO = "photo"  # a move of a photo: before and after are 'there' (1) or not (None)

Move = tuple[str, str, int | None, int | None]  # kind, name, version before, version after
Scopes = str | Sequence[str]


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing done, in words.

    brought, took   things, by kind and name, that undoing it brings back and takes away; redoing, the reverse
    """

    number: int
    words: str
    brought: tuple[tuple[str, str], ...] = ()
    took: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Can:
    """What can be undone and redone now; None: nothing."""

    undo: Deed | None
    redo: Deed | None


class Hand:
    """Changes of one deed, in one transaction. Handed to the function given to `do`."""

    def __init__(self, connection: Connection) -> None:
        self.connection = connection
        self.moves: list[Move] = []

    def find(self, kind: Kind[Thing], name: str) -> Thing | None:
        """The thing as it stands, inside this transaction."""
        row = find_current(self.connection, kind.table, name)
        return None if row is None else kind.read(self.connection, row)

    def keep(self, kind: Kind[Thing], thing: Thing) -> None:
        """Keeps a thing; nothing is written when it stands there already just so."""
        before = find_current(self.connection, kind.table, thing.name)
        if before is not None and kind.read(self.connection, before) == thing:
            return
        kind.write(self.connection, thing)
        after = current_row(self.connection, kind.table, kind.word, thing.name)
        self._moved(kind.word, thing.name, None if before is None else before.version, after.version)

    def forget(self, kind: Kind[Thing], name: str) -> None:
        """Takes a thing away; its versions stay."""
        before = current_row(self.connection, kind.table, kind.word, name)
        retire(self.connection, kind.table, name)
        self._moved(kind.word, name, before.version, None)

    def photo(self, number: int, *, there: bool) -> None:
        """Takes a photo away, or brings it in."""
        _set_photo(self.connection, number, there)
        self._moved(PHOTO, str(number), None if there else 1, 1 if there else None)

    def _moved(self, kind: str, name: str, before: int | None, after: int | None) -> None:
        self.moves.append((kind, name, before, after))


def do(store: Store, scope: str, words: str, change: Callable[[Hand], None]) -> bool:
    """Carries out one deed. Returns whether anything changed; what raises leaves all as it was."""
    with store._writing() as connection:
        hand = Hand(connection)
        change(hand)
        if hand.moves:
            connection.execute(delete(DEEDS).where(DEEDS.c.scope == scope, DEEDS.c.undone))
            connection.execute(
                insert(DEEDS).values(done_at=now(), scope=scope, words=words, moves=json.dumps(hand.moves))
            )
    return bool(hand.moves)


def keep(store: Store, kind: Kind[Thing], thing: Thing, words: str) -> bool:
    """Keeps one thing as a deed of its own."""
    return do(store, f"{kind.word}/{thing.name}", words, lambda hand: hand.keep(kind, thing))


def forget(store: Store, kind: Kind[Thing], name: str, words: str) -> bool:
    """Takes one thing away as a deed of its own."""
    return do(store, f"{kind.word}/{name}", words, lambda hand: hand.forget(kind, name))


def can(store: Store, scope: Scopes) -> Can:
    """What the next undo and redo would do."""
    with store._reading() as connection:
        undo, redo = _next(connection, scope, undone=False), _next(connection, scope, undone=True)
    return Can(_deed(undo), _deed(redo))


def undo(store: Store, scope: Scopes) -> Deed | None:
    """Takes back the last deed of a scope. None when there is none left."""
    return _turn(store, scope, undone=False)


def redo(store: Store, scope: Scopes) -> Deed | None:
    """Does again what was undone last. None when there is none."""
    return _turn(store, scope, undone=True)


def version(store: Store, kind: Kind[Thing], name: str) -> int:
    """The number of the version that stands; 0 when the name is not there."""
    with store._reading() as connection:
        row = find_current(connection, kind.table, name)
    return 0 if row is None else int(row.version)


def now() -> str:
    """The time as ISO text, to the second, in UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def _turn(store: Store, scope: Scopes, *, undone: bool) -> Deed | None:
    with store._writing() as connection:
        row = _next(connection, scope, undone=undone)
        if row is None:
            return None
        moves: Sequence[Move] = [tuple(move) for move in json.loads(row.moves)]
        for kind, name, before, after in moves if undone else reversed(moves):
            _set(connection, kind, name, *((before, after) if undone else (after, before)), row.words)
        connection.execute(update(DEEDS).where(DEEDS.c.id == row.id).values(undone=not undone))
    return _deed(row)


def _next(connection: Connection, scope: Scopes, *, undone: bool) -> Row[Any] | None:
    """The deed that undo would take next (the last one done), or redo (the first undone after it)."""
    within = or_(*(_within(one) for one in ([scope] if isinstance(scope, str) else scope)))
    order = DEEDS.c.id.asc() if undone else DEEDS.c.id.desc()
    wanted = select(DEEDS).where(within, DEEDS.c.undone == undone).order_by(order).limit(1)
    return connection.execute(wanted).one_or_none()


def _within(scope: str) -> ColumnElement[bool]:
    """Deeds of this scope; of all that begin with it where it ends with a stroke."""
    if scope.endswith("/"):
        return DEEDS.c.scope.startswith(scope, autoescape=True)
    return DEEDS.c.scope == scope


def _set(
    connection: Connection, kind: str, name: str, stands: int | None, wanted: int | None, words: str
) -> None:
    """Makes another version the current one; refused when something else stands there by now."""
    if kind == PHOTO:
        _set_photo(connection, int(name), wanted is not None)
        return
    table = next(k.table for k in KINDS if k.word == kind)
    row = find_current(connection, table, name)
    if (None if row is None else row.version) != stands:
        raise StoreError(
            f"'{words}' cannot be undone or done again: {kind} {name!r} was changed elsewhere since.",
            where=f"{kind} {name!r}",
            mend="Nothing was changed now; the earlier versions are all in the store.",
        )
    retire(connection, table, name)
    if wanted is not None:
        connection.execute(
            update(table).where(table.c.name == name, table.c.version == wanted).values(current=True)
        )


def _set_photo(connection: Connection, number: int, there: bool) -> None:
    connection.execute(update(PHOTOS).where(PHOTOS.c.id == number).values(gone=not there))


def _deed(row: Row[Any] | None) -> Deed | None:
    if row is None:
        return None
    moves: Sequence[Move] = [tuple(move) for move in json.loads(row.moves)]
    brought = tuple((kind, name) for kind, name, _, after in moves if after is None)
    took = tuple((kind, name) for kind, name, before, _ in moves if before is None)
    return Deed(int(row.id), str(row.words), brought, took)
