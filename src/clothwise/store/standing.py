"""How things stand, in a few letters: whoever shows them sees whether they were changed elsewhere since.

'0:7+3,4.2': the first scope's thing stands at version 7 with photos 3 and 4, the second's at 2. The number
before the colon counts the backups that were put back meanwhile: versions may begin anew then. Versions of a
name only grow, so the same letters mean the same things.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

from sqlalchemy import Connection, select

from clothwise.store.deeds import KINDS, Move, moves_in, standing_deeds
from clothwise.store.store import Store
from clothwise.store.tables import PHOTOS
from clothwise.store.versions import find_current

MOST_TOLD = 4  # deeds that are told in words
LONGEST = 4000  # letters of such a text that are read: sixty photos of each of eight things are fewer
PART = re.compile(r"(\d+)(?:\+[\d,]*)?")


def stands(store: Store, scopes: Sequence[str]) -> str:
    """How the things of these scopes stand; '' when none of them is a thing ('cloth/' is a whole kind)."""
    with store._reading() as connection:
        return _stands(connection, store.put_back, scopes)


def since(store: Store, scopes: Sequence[str], on: str, until: str = "") -> tuple[str, ...]:
    """What was done to them after they stood at `on`, in words, oldest first; up to `until`, or to now.

    Nothing where that cannot be told: it was taken back, or a backup was put back.
    """
    things = _things(scopes)
    with store._reading() as connection:
        low = _versions(on, len(things))
        high = _versions(until or _stands(connection, store.put_back, scopes), len(things))
        if low is None or high is None:
            return ()
        between = {thing: (a, b) for thing, a, b in zip(things, low, high, strict=True)}
        found = (
            row.words
            for row in standing_deeds(connection, [f"{kind}/{name}" for kind, name in things])
            if any(_came_between(move, between) for move in moves_in(row))
        )
        return tuple(reversed(tuple(islice(found, MOST_TOLD))))


@dataclass
class Watch:
    """How things stand right before a deed and right after it, with nothing between: given to `deeds.do`."""

    store: Store
    scopes: Sequence[str]
    stood: str = ""
    stands: str = ""

    def __call__(self, connection: Connection) -> None:
        self.stood, self.stands = self.stands, _stands(connection, self.store.put_back, self.scopes)

    @property
    def told(self) -> dict[str, str]:
        """For the page that asked for the deed: what it did not know of is what `stood` has more."""
        return {"stood": self.stood, "stands": self.stands}


def _things(scopes: Sequence[str]) -> list[tuple[str, str]]:
    split = (scope.partition("/") for scope in scopes)
    return [(kind, name) for kind, _, name in split if name and any(one.word == kind for one in KINDS)]


def _stands(connection: Connection, put_back: int, scopes: Sequence[str]) -> str:
    things = _things(scopes)
    return f"{put_back}:" + ".".join(_part(connection, *thing) for thing in things) if things else ""


def _part(connection: Connection, kind: str, name: str) -> str:
    row = find_current(connection, next(one.table for one in KINDS if one.word == kind), name)
    there = select(PHOTOS.c.id).where(PHOTOS.c.of == f"{kind}/{name}", ~PHOTOS.c.gone).order_by(PHOTOS.c.id)
    photos = ",".join(str(number) for number in connection.scalars(there))
    return f"{0 if row is None else row.version}" + (f"+{photos}" if photos else "")


def _versions(text: str, count: int) -> list[int] | None:
    """The version of each thing in such a text; None for anything else."""
    parts = text[:LONGEST].partition(":")[2].split(".")
    found = [PART.fullmatch(part) for part in parts]
    if len(found) != count:
        return None
    return [int(one[1]) for one in found if one is not None] if all(found) else None


def _came_between(move: Move, between: dict[tuple[str, str], tuple[int, int]]) -> bool:
    kind, name, _, after = move
    low, high = between.get((kind, name), (0, 0))
    return after is not None and low < after <= high
