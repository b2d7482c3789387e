"""The store as the rest of the house sees it.

    with open_store(place) as store:
        store.keep_body(marit)
        store.body("Marit")

Every call is one transaction: all of it is kept, or nothing. Nothing is ever lost: keeping a name again
leaves the earlier version, and so does forgetting.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any, Generic, TypeVar

from sqlalchemy import Connection, Engine, Row, Table

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.errors import StoreError
from clothwise.shelf.pattern import BoughtPattern, FinishedMake
from clothwise.shopping.box import BoxItem
from clothwise.store.bodies import read_body, write_body
from clothwise.store.bought import read_bought, write_bought
from clothwise.store.box import read_item, write_item
from clothwise.store.cloths import read_cloth, write_cloth
from clothwise.store.makes import read_make, write_make
from clothwise.store.opening import back_up, open_engine, spoken, writing
from clothwise.store.place import default_place, file_of
from clothwise.store.progress import KeptProgress, read_progress, write_progress
from clothwise.store.tables import BODIES, BOUGHT_PATTERNS, BOX, CLOTHS, MAKES, PROGRESS, TICKETS
from clothwise.store.tickets import KeptTicket, read_ticket_row, write_ticket
from clothwise.store.versions import current_row, current_rows, earlier_rows, find_current, retire

Thing = TypeVar("Thing", Body, Cloth, KeptTicket, BoughtPattern, FinishedMake, KeptProgress, BoxItem)


@dataclass(frozen=True)
class Kind(Generic[Thing]):
    """How one kind of thing is named, written and read."""

    word: str
    table: Table
    write: Callable[[Connection, Thing], None]
    read: Callable[[Connection, Row[Any]], Thing]


BODY = Kind[Body]("body", BODIES, write_body, read_body)
CLOTH = Kind[Cloth]("cloth", CLOTHS, write_cloth, read_cloth)
TICKET = Kind[KeptTicket]("ticket", TICKETS, write_ticket, read_ticket_row)
BOUGHT = Kind[BoughtPattern]("bought pattern", BOUGHT_PATTERNS, write_bought, read_bought)
MAKE = Kind[FinishedMake]("make", MAKES, write_make, read_make)
IN_BOX = Kind[BoxItem]("thing in the box", BOX, write_item, read_item)
HOW_FAR = Kind[KeptProgress]("progress", PROGRESS, write_progress, read_progress)


def open_store(place: str | Path | None = None) -> Store:
    """The store in a file or at a database URL, made or brought up to date if need be.

    place   None: where CLOTHWISE_STORE says, else the person's own data folder
    Raises  StoreError: not a store, damaged, of a newer Clothwise, or not writable; the file is left as it was
    """
    where = default_place() if place is None else str(place)
    return Store(where, open_engine(where))


class Store:
    """An open store. Unknown names raise StoreError with the names most like them."""

    def __init__(self, place: str, engine: Engine) -> None:
        self.place = place
        self.writes = 0  # how often something was written here; what another process writes is not counted
        self.put_back = 0  # how often another store was put in the place of this one, see `restoring`
        self._engine = engine

    def __enter__(self) -> Store:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, wrong: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Lets the database go."""
        self._engine.dispose()

    def bodies(self) -> tuple[Body, ...]:
        """All bodies, by name."""
        return self._all(BODY)

    def body(self, name: str) -> Body:
        """The body of this name as last kept."""
        return self._one(BODY, name)

    def keep_body(self, body: Body) -> None:
        """Keeps a body, as a new version when the name is there already and something changed."""
        self._keep(BODY, body)

    def forget_body(self, name: str) -> None:
        """Takes a body off the shelf; its versions stay as earlier ones."""
        self._forget(BODY, name)

    def earlier_bodies(self, name: str) -> tuple[Body, ...]:
        """The versions that are no longer current, oldest first."""
        return self._earlier(BODY, name)

    def cloths(self) -> tuple[Cloth, ...]:
        """All cloths in the cupboard, by name."""
        return self._all(CLOTH)

    def cloth(self, name: str) -> Cloth:
        """The cloth of this name as last kept."""
        return self._one(CLOTH, name)

    def keep_cloth(self, cloth: Cloth) -> None:
        """Keeps a cloth, as a new version when the name is there already and something changed."""
        self._keep(CLOTH, cloth)

    def forget_cloth(self, name: str) -> None:
        """Takes a cloth out of the cupboard; its versions stay as earlier ones."""
        self._forget(CLOTH, name)

    def earlier_cloths(self, name: str) -> tuple[Cloth, ...]:
        """The versions that are no longer current, oldest first."""
        return self._earlier(CLOTH, name)

    def box(self) -> tuple[BoxItem, ...]:
        """All things in the haberdashery box, by name."""
        return self._all(IN_BOX)

    def box_item(self, name: str) -> BoxItem:
        """The thing in the box of this name as last kept."""
        return self._one(IN_BOX, name)

    def tickets(self) -> tuple[KeptTicket, ...]:
        """All tickets, by name."""
        return self._all(TICKET)

    def ticket(self, name: str) -> KeptTicket:
        """The ticket of this name as last kept."""
        return self._one(TICKET, name)

    def keep_ticket(self, ticket: KeptTicket) -> None:
        """Keeps a ticket, as a new version when the name is there already and something changed."""
        self._keep(TICKET, ticket)

    def forget_ticket(self, name: str) -> None:
        """Takes a ticket off the shelf; its versions stay as earlier ones."""
        self._forget(TICKET, name)

    def earlier_tickets(self, name: str) -> tuple[KeptTicket, ...]:
        """The versions that are no longer current, oldest first."""
        return self._earlier(TICKET, name)

    def bought_patterns(self) -> tuple[BoughtPattern, ...]:
        """All bought patterns on the shelf, by name."""
        return self._all(BOUGHT)

    def bought_pattern(self, name: str) -> BoughtPattern:
        """The bought pattern of this name as last kept."""
        return self._one(BOUGHT, name)

    def keep_bought_pattern(self, pattern: BoughtPattern) -> None:
        """Keeps a bought pattern, as a new version when the name is there already and something changed."""
        self._keep(BOUGHT, pattern)

    def forget_bought_pattern(self, name: str) -> None:
        """Takes a bought pattern off the shelf; its versions stay as earlier ones."""
        self._forget(BOUGHT, name)

    def earlier_bought_patterns(self, name: str) -> tuple[BoughtPattern, ...]:
        """The versions that are no longer current, oldest first."""
        return self._earlier(BOUGHT, name)

    def makes(self) -> tuple[FinishedMake, ...]:
        """All finished makes, by name."""
        return self._all(MAKE)

    def make(self, name: str) -> FinishedMake:
        """The finished make of this name as last kept."""
        return self._one(MAKE, name)

    def keep_make(self, make: FinishedMake) -> None:
        """Keeps a finished make, as a new version when the name is there already and something changed."""
        self._keep(MAKE, make)

    def forget_make(self, name: str) -> None:
        """Takes a finished make out of the log, so that it teaches nothing more; its versions stay."""
        self._forget(MAKE, name)

    def earlier_makes(self, name: str) -> tuple[FinishedMake, ...]:
        """The versions that are no longer current, oldest first."""
        return self._earlier(MAKE, name)

    def back_up(self, copy: str | Path) -> None:
        """A whole copy of a store that is a file. Raises StoreError when `copy` exists or cannot be written."""
        file, target = file_of(self.place), Path(copy)
        if file is None:
            raise StoreError(
                "This store is not a file.", where=self.place, mend="Use the backup of its database server."
            )
        if target.exists():
            raise StoreError("A backup overwrites nothing.", where=str(target), mend="Name a new file.")
        with spoken(target):
            back_up(file, target)

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with spoken(self.place), self._engine.connect() as connection:
            yield connection

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        with spoken(self.place), writing(self._engine) as connection:
            yield connection
        self.writes += 1

    def _all(self, kind: Kind[Thing]) -> tuple[Thing, ...]:
        with self._reading() as connection:
            return tuple(kind.read(connection, row) for row in current_rows(connection, kind.table))

    def _one(self, kind: Kind[Thing], name: str) -> Thing:
        with self._reading() as connection:
            return kind.read(connection, current_row(connection, kind.table, kind.word, name))

    def _earlier(self, kind: Kind[Thing], name: str) -> tuple[Thing, ...]:
        with self._reading() as connection:
            return tuple(kind.read(connection, row) for row in earlier_rows(connection, kind.table, name))

    def _keep(self, kind: Kind[Thing], thing: Thing) -> None:
        with self._writing() as connection:
            row = find_current(connection, kind.table, thing.name)
            if row is None or kind.read(connection, row) != thing:
                kind.write(connection, thing)

    def _forget(self, kind: Kind[Thing], name: str) -> None:
        with self._writing() as connection:
            current_row(connection, kind.table, kind.word, name)
            retire(connection, kind.table, name)
