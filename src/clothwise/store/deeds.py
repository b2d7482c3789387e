"""Deeds: what was done at the page, so that it can be undone and done again.

A deed moves names from one version to another (see `versions`); undoing moves them back. Nothing is deleted
by either. Each deed has a scope, the thing it was done to ('ticket/Tuesday skirt'). Undo and redo look at the
deeds of one scope, of several, or of a whole kind ('cloth/'), and at whatever else was done to those things:
a cut is found at its ticket and at its cloth, another name at the old one and at the new. A new deed ends what
could be redone of the things it changed; the versions themselves stay in the store.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Generator, Sequence
from contextlib import closing
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
    """Changes of one deed, in one transaction. Handed to the function given to `do`.

    words   what the deed did; the function may say it better once it knows what stood there
    """

    def __init__(self, connection: Connection, words: str) -> None:
        self.connection, self.words = connection, words
        self.moves: list[Move] = []

    def find(self, kind: Kind[Thing], name: str) -> Thing | None:
        """The thing as it stands, inside this transaction."""
        row = find_current(self.connection, kind.table, name)
        return None if row is None else kind.read(self.connection, row)

    def refuse_changed(self, kind: Kind[Any], name: str, version: int) -> None:
        """StoreError when the thing is no longer the version that the change was worked out from."""
        row = find_current(self.connection, kind.table, name)
        if row is None or row.version != version:
            raise StoreError(
                f"The {kind.word} {name!r} was changed elsewhere in the same moment.",
                where=f"{kind.word} {name!r}",
                mend="Nothing of yours was kept: see how it stands now, then do it again.",
            )

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

    def put(self, kind: Kind[Any], name: str, *, stands: int | None, wanted: int | None) -> None:
        """Makes another version the one that stands, or none. StoreError unless `stands` does still."""
        _set(self.connection, kind.word, name, stands, wanted)
        self._moved(kind.word, name, stands, wanted)

    def photo(self, number: int, *, there: bool) -> None:
        """Takes a photo away, or brings it in."""
        _set_photo(self.connection, number, there)
        self._moved(PHOTO, str(number), None if there else 1, 1 if there else None)

    def _moved(self, kind: str, name: str, before: int | None, after: int | None) -> None:
        self.moves.append((kind, name, before, after))


def do(
    store: Store,
    scope: str,
    words: str,
    change: Callable[[Hand], None],
    watch: Callable[[Connection], None] | None = None,
) -> bool:
    """Carries out one deed. Returns whether anything changed; what raises leaves all as it was.

    watch   looks at the store right before the deed and right after it (see `standing.Watch`)
    """
    with store._writing() as connection:
        hand = Hand(connection, words)
        if watch:
            watch(connection)
        change(hand)
        if watch:
            watch(connection)
        if hand.moves:
            _end_redo(connection, scope, hand.moves)
            connection.execute(
                insert(DEEDS).values(done_at=now(), scope=scope, words=hand.words, moves=json.dumps(hand.moves))
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


def moves_of(store: Store, number: int) -> tuple[Move, ...]:
    """What one deed moved; nothing when there is no such deed."""
    with store._reading() as connection:
        row = connection.execute(select(DEEDS).where(DEEDS.c.id == number)).one_or_none()
    return () if row is None else tuple(moves_in(row))


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
        moves = moves_in(row)
        for kind, name, before, after in moves if undone else reversed(moves):
            stands, wanted = (before, after) if undone else (after, before)
            try:
                _set(connection, kind, name, stands, wanted)
            except StoreError as no:
                raise _not_turned(connection, row, kind, name, undone=undone) from no
        connection.execute(update(DEEDS).where(DEEDS.c.id == row.id).values(undone=not undone))
    return _deed(row)


def _not_turned(connection: Connection, row: Row[Any], kind: str, name: str, *, undone: bool) -> StoreError:
    """Says what was done since, and where: that must be taken back first."""
    since = _next(connection, f"{kind}/{name}", undone=False)
    later = since if since is not None and since.id > row.id and not undone else None
    return StoreError(
        f"'{row.words}' cannot be undone or done again: {kind} {name!r} was changed elsewhere since"
        + (f", by '{later.words}'." if later is not None else "."),
        where=f"{kind} {name!r}",
        mend="Nothing was changed now; take that back first, at its own page."
        if later is not None
        else "Nothing was changed now; the earlier versions are all in the store.",
    )


# ---- which deeds ---------------------------------------------------------------------------------


def _next(connection: Connection, scopes: Scopes, *, undone: bool) -> Row[Any] | None:
    """The deed that undo would take next (the last one done), or redo (the first undone after it)."""
    wanted = [scopes] if isinstance(scopes, str) else scopes
    with closing(_in_order(connection, wanted, undone=undone)) as found:
        return next(found, None)


def standing_deeds(connection: Connection, scopes: Sequence[str]) -> Generator[Row[Any]]:
    """What was done in these scopes and to their things and not undone, newest first."""
    return _in_order(connection, scopes, undone=False)


def _in_order(connection: Connection, scopes: Sequence[str], *, undone: bool) -> Generator[Row[Any]]:
    order = DEEDS.c.id.asc() if undone else DEEDS.c.id.desc()
    likely = or_(*(DEEDS.c.moves.contains(_begin(one), autoescape=True) | _in_scope(one) for one in scopes))
    wanted = select(DEEDS).where(DEEDS.c.undone == undone, likely).order_by(order)
    with closing(connection.execute(wanted)) as rows:
        yield from (row for row in rows if any(_of(row, one) for one in scopes))


def _whole_kind(scope: str) -> bool:
    """Whether a scope means all things of a kind: 'cloth/'. (A name may end with a stroke too: 'ticket/a/'.)"""
    return scope.find("/") == len(scope) - 1


def _in_scope(scope: str) -> ColumnElement[bool]:
    return DEEDS.c.scope.startswith(scope, autoescape=True) if _whole_kind(scope) else DEEDS.c.scope == scope


def _begin(scope: str) -> str:
    """How a move of what the scope means is written in a deed (see `tables.DEEDS`)."""
    kind, _, name = scope.partition("/")
    return f"[{json.dumps(kind)}, " + ("" if _whole_kind(scope) else f"{json.dumps(name)}, ")


def _of(row: Row[Any], scope: str) -> bool:
    """Whether a deed was done in this scope, or to what it means. Exact, where the database's look is not."""
    if row.scope == scope or (_whole_kind(scope) and row.scope.startswith(scope)):
        return True
    meant, _, called = scope.partition("/")
    return any(kind == meant and (name == called or not called) for kind, name, _, _ in moves_in(row))


def _end_redo(connection: Connection, scope: str, moves: Sequence[Move]) -> None:
    """What was undone is not done again once its things have gone another way; nor what came after it."""
    changed = {(kind, name) for kind, name, _, _ in moves}
    for row in connection.execute(select(DEEDS).where(DEEDS.c.undone).order_by(DEEDS.c.id)).all():
        things = {(kind, name) for kind, name, _, _ in moves_in(row)}
        if row.scope == scope or changed & things:
            changed |= things
            connection.execute(delete(DEEDS).where(DEEDS.c.id == row.id))


def moves_in(row: Row[Any]) -> list[Move]:
    """What a deed moved."""
    return [tuple(move) for move in json.loads(row.moves)]


def _set(connection: Connection, kind: str, name: str, stands: int | None, wanted: int | None) -> None:
    """Makes another version the current one; refused when something else stands there by now."""
    if kind == PHOTO:
        _set_photo(connection, int(name), wanted is not None)
        return
    table = next(k.table for k in KINDS if k.word == kind)
    row = find_current(connection, table, name)
    if (None if row is None else row.version) != stands:
        raise StoreError(
            f"The {kind} {name!r} was changed since.",
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
    moves = moves_in(row)
    brought = tuple((kind, name) for kind, name, _, after in moves if after is None)
    took = tuple((kind, name) for kind, name, before, _ in moves if before is None)
    return Deed(int(row.id), str(row.words), brought, took)
