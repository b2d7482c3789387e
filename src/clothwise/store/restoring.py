"""A backup put back: looked at closely, the store as it is copied aside, then all of it exchanged at once.

A backup of an older Clothwise is brought up to date on a copy of its own, so the file that was given is never
touched; one of a newer Clothwise, or that is no store, is refused and nothing is changed. Taking a restoring
back puts back the copy that it made, and makes another, so nothing is lost by either.
"""

from __future__ import annotations

import re
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from clothwise.errors import StoreError
from clothwise.store.opening import WAIT_MS, back_up, free_name, open_engine, spoken
from clothwise.store.place import file_of
from clothwise.store.soundness import refuse_unsound
from clothwise.store.store import Store

ASIDE = "-before-restore"  # after the store's own name: what it held before a backup was put back


def restore(store: Store, backup: bytes | Path, ready: Callable[[], None] = lambda: None) -> Path:
    """Puts a backup in the place of all that the store holds. Returns the copy of what it held before.

    ready   called when the backup is known to be good, before anything is exchanged
    Raises  StoreError: the store is no file, or the backup cannot be used; then nothing has changed
    """
    file = file_of(store.place)
    if file is None:
        raise StoreError(
            "This store is not a file.", where=store.place, mend="Use the backup of its database server."
        )
    with tempfile.TemporaryDirectory(prefix="clothwise-") as folder:
        given = Path(folder) / "given.sqlite"
        _copied(backup, given)
        _opened_once(given, "backup" if isinstance(backup, bytes) else str(backup))
        ready()
        aside = free_name(file.with_name(f"{file.stem}{ASIDE}{file.suffix}"))
        with spoken(file):
            back_up(file, aside)
            _exchange(given, file)
            store.put_back += 1
    return aside


def last_aside(store: Store) -> Path | None:
    """The copy that the last restoring made of what was here before; None when there is none."""
    file = file_of(store.place)
    if file is None:
        return None
    known = re.compile(re.escape(file.stem + ASIDE) + r"(-\d+)?" + re.escape(file.suffix))
    found = [one for one in file.absolute().parent.iterdir() if known.fullmatch(one.name) and one.is_file()]
    return max(found, key=lambda one: one.stat().st_mtime_ns, default=None)


def take_back(store: Store, ready: Callable[[], None] = lambda: None) -> Path:
    """Takes the last restoring back. Returns the copy of what stood until now. StoreError: there was none."""
    aside = last_aside(store)
    if aside is None:
        raise StoreError("Nothing was put back here.", where="keeping", mend="Choose the file of a backup.")
    return restore(store, aside, ready)


def _copied(backup: bytes | Path, given: Path) -> None:
    if isinstance(backup, bytes):
        if not backup:
            raise StoreError("The backup is empty.", where="backup", mend="Choose the file of a backup.")
        given.write_bytes(backup)
        return
    if not backup.is_file():
        raise StoreError("There is no such backup.", where=str(backup), mend="Name the file of a backup.")
    try:
        given.write_bytes(backup.read_bytes())
    except OSError as wrong:
        raise StoreError(
            f"The backup cannot be read: {wrong.strerror}.", where=str(backup), mend="Allow reading it."
        ) from wrong


def _opened_once(given: Path, told: str) -> None:
    """Refuses what is no store, naming the file as it was given; brings an older one up to date."""
    try:
        with Store(str(given), open_engine(given)) as store:
            refuse_unsound(store)
    except StoreError as no:
        raise StoreError(no.what, where=told, mend=no.mend) from no
    with closing(sqlite3.connect(given)) as raw:
        found = raw.execute("SELECT name FROM sqlite_master WHERE type IN ('trigger', 'view')").fetchall()
    if found:  # they would act by themselves on all that is kept from then on
        raise StoreError(
            "This backup holds instructions that no Clothwise wrote.",
            where=told,
            mend="Use another backup, one that has not been changed by other programs.",
        )


def _exchange(given: Path, file: Path) -> None:
    """All pages of the store for those of the backup, in one write that others see whole or not at all."""
    with (
        closing(sqlite3.connect(given)) as source,
        closing(sqlite3.connect(file, timeout=WAIT_MS / 1000)) as target,
    ):
        source.execute("PRAGMA journal_mode = DELETE")  # a file of one piece, as a backup is
        source.backup(target)
        target.execute("PRAGMA journal_mode = WAL")
