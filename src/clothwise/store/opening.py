"""Opening a store: look before touching, back up before migrating, and say in one sentence what is wrong.

SQLite: WAL, so that readers do not wait for a writer; a write takes its lock at once (BEGIN IMMEDIATE),
since a lock taken late fails with 'database is locked' when two write at once.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError
from sqlalchemy.pool import NullPool

from clothwise.errors import StoreError
from clothwise.store.place import file_of
from clothwise.store.tables import NEWEST, REVISIONS

WAIT_MS = 15_000  # ms: how long a writer waits for another before it gives up
HEADER = b"SQLite format 3\0"  # the first bytes of every SQLite file
NOT_READY = ("locked", "busy")
UNWRITABLE = ("readonly", "unable to open", "permission")
BROKEN = ("malformed", "not a database", "decode", "corrupt")
DAMAGED = "The store's file is damaged."
BRING_BACK = "Bring back a backup; the file was left as it is."


def open_engine(place: str | Path) -> Engine:
    """An engine on the newest tables. Raises StoreError; a file it cannot read is left as it is."""
    file = file_of(place)
    if file is not None:
        _refuse_unfit_file(file)
    engine = _engine(place, file)
    with spoken(place):
        _refuse_foreign(engine, place, file)
        if _revision(engine) != NEWEST:
            _migrate(engine, file)
    return engine


def _engine(place: str | Path, file: Path | None) -> Engine:
    if file is None:
        try:
            return create_engine(make_url(str(place)), poolclass=NullPool)
        except (ArgumentError, NoSuchModuleError, ImportError) as wrong:
            raise StoreError(
                f"The store cannot be opened: {wrong}.",
                where=str(place),
                mend="Name a file, or a database URL whose driver is installed.",
            ) from wrong
    engine = create_engine(URL.create("sqlite", database=str(file.absolute())), poolclass=NullPool)
    event.listen(engine, "connect", _set_up_connection)
    event.listen(engine, "begin", _begin)
    return engine


def _set_up_connection(connection: Any, _record: object) -> None:
    connection.isolation_level = None  # transactions begin where we say, see _begin
    for pragma in (f"busy_timeout = {WAIT_MS}", "foreign_keys = ON"):
        connection.execute(f"PRAGMA {pragma}")


def _begin(connection: Connection) -> None:
    connection.exec_driver_sql(connection.get_execution_options().get("begin", "BEGIN"))


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """A transaction that takes the write lock at once; all of it is kept, or nothing."""
    with engine.execution_options(begin="BEGIN IMMEDIATE").begin() as connection:
        yield connection


@contextmanager
def spoken(place: str | Path) -> Iterator[None]:
    """Turns what a database says into one sentence for the sewer."""
    try:
        yield
    except (DBAPIError, sqlite3.Error, UnicodeDecodeError) as wrong:
        what, mend = _in_plain_words(wrong.orig if isinstance(wrong, DBAPIError) else wrong)
        raise StoreError(what, where=str(place), mend=mend) from wrong


def _in_plain_words(cause: BaseException | None) -> tuple[str, str]:
    """What is wrong, and how to mend it."""
    said = str(cause).lower()
    if any(word in said for word in NOT_READY):
        return "The store is being written by another program.", "Close the other one, or try again."
    if any(word in said for word in UNWRITABLE):
        return "The store may not be written here.", "Name a folder of your own, or allow writing."
    if any(word in said for word in BROKEN):
        return DAMAGED, BRING_BACK
    return f"The store cannot be used: {cause}.", "Mend that, or name another place."


# ---- look before touching ------------------------------------------------------------------------


def _refuse_unfit_file(file: Path) -> None:
    """Refuses what is certainly no store, before SQLite touches it; makes the folder of a new one."""
    try:
        if file.is_dir():
            raise StoreError("A folder is not a store.", where=str(file), mend="Name a file in it.")
        if not file.exists():
            file.parent.mkdir(parents=True, exist_ok=True)
            return
        with file.open("rb") as opened:
            head = opened.read(len(HEADER))
    except OSError as wrong:
        raise StoreError(
            f"The store cannot be read: {wrong.strerror}.",
            where=str(file),
            mend="Allow reading and writing it, or name another place.",
        ) from wrong
    if head not in (b"", HEADER):
        raise StoreError(
            "This file is not a store of Clothwise.",
            where=str(file),
            mend="Name another file; it was left as it is.",
        )


def _refuse_foreign(engine: Engine, place: str | Path, file: Path | None) -> None:
    with engine.connect() as connection:
        if file is not None and connection.scalar(text("PRAGMA integrity_check(1)")) != "ok":
            raise StoreError(DAMAGED, where=str(place), mend=BRING_BACK)
        tables = inspect(connection).get_table_names()
    if tables and "alembic_version" not in tables:
        raise StoreError(
            "This database belongs to another program.",
            where=str(place),
            mend="Name another; it was left as it is.",
        )
    revision = _revision(engine)
    if revision is not None and revision not in REVISIONS:
        raise StoreError(
            f"A newer Clothwise wrote this store (tables of revision {revision}, known here: {NEWEST}).",
            where=str(place),
            mend="Use the newer Clothwise; the store was left as it is.",
        )


def _revision(engine: Engine) -> str | None:
    """The revision of the tables; None while there are none."""
    with engine.connect() as connection:
        return _revision_on(connection)


def _revision_on(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    found = connection.scalar(text("SELECT version_num FROM alembic_version"))
    return None if found is None else str(found)


# ---- backup and migration ------------------------------------------------------------------------


def _migrate(engine: Engine, file: Path | None) -> None:
    """Brings the tables to the newest revision, after a copy of a file that holds something already."""
    if file is not None and _revision(engine) is None:
        with closing(sqlite3.connect(file, timeout=WAIT_MS / 1000)) as connection:
            connection.execute("PRAGMA journal_mode = WAL")  # stays with the file
    with writing(engine) as connection:  # two programs may start at once: the second finds all done
        revision = _revision_on(connection)
        if revision == NEWEST:
            return
        if file is not None and revision is not None:
            back_up(file, free_name(file.with_name(f"{file.stem}-before-revision-{NEWEST}{file.suffix}")))
        _upgrade(connection)


def _upgrade(connection: Connection, to: str = NEWEST) -> None:
    from alembic import command  # heavy, and needed once in the life of a store
    from alembic.config import Config

    config = Config()
    folder = str(Path(__file__).parent / "migrations")
    config.set_main_option("script_location", folder.replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, to)


def back_up(file: Path, copy: Path) -> None:
    """A copy by SQLite itself, right even while another program writes; `copy` appears only when whole."""
    part = copy.with_name(copy.name + ".part")
    with (
        closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)) as source,
        closing(sqlite3.connect(part)) as target,
    ):
        source.backup(target)
    part.replace(copy)


def free_name(wanted: Path) -> Path:
    """`wanted`, or the first of `wanted-2`, `wanted-3` ... that is not taken."""
    name, number = wanted, 1
    while name.exists():
        number += 1
        name = wanted.with_name(f"{wanted.stem}-{number}{wanted.suffix}")
    return name
