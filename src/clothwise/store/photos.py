"""Photos in the store: the bytes as they came, of three kinds only, told by their first bytes."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import insert, select

from clothwise.errors import StoreError
from clothwise.store import deeds
from clothwise.store.photo_size import size_of
from clothwise.store.store import Store
from clothwise.store.tables import PHOTOS

MOST_BYTES = 8_000_000  # of one photo: a phone's camera at its best; the page sends them smaller
MOST_DOTS = 64_000_000  # of one photo, 4 bytes each when shown: the sharpest phones take some 50 million
MOST_OF_ONE = 60  # photos of one thing


@dataclass(frozen=True, slots=True)
class Photo:
    """What is known of a photo without its bytes."""

    number: int
    words: str
    taken_at: str


def kind_of(data: bytes) -> str | None:
    """The kind by its first bytes; None for anything that is not a photo we show."""
    if data[:3] == b"\xff\xd8\xff":
        return "image/jpeg"
    if data[:8] == b"\x89PNG\r\n\x1a\n":
        return "image/png"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "image/webp"
    return None


def bounded_kind(data: bytes) -> str:
    """The kind of a photo that may be kept. Raises StoreError: no photo, too many bytes, too many dots."""
    kind = kind_of(data)
    if kind is None:
        raise StoreError("This file is not a photo.", where="photo", mend="Choose a JPEG, PNG or WebP picture.")
    if len(data) > MOST_BYTES:
        raise StoreError(
            f"This photo is larger than {MOST_BYTES // 1_000_000} MB.",
            where="photo",
            mend="Choose a smaller one.",
        )
    size = size_of(data)
    if size is None:
        raise StoreError(
            "This photo does not say how large it is.", where="photo", mend="Save it anew as JPEG, PNG or WebP."
        )
    if size[0] * size[1] > MOST_DOTS:
        raise StoreError(
            f"This photo has {size[0]} by {size[1]} dots, more than can be shown.",
            where="photo",
            mend=f"Make it smaller than {MOST_DOTS // 1_000_000} million dots in all.",
        )
    return kind


def add(store: Store, of: str, data: bytes, words: str) -> int:
    """Keeps a photo of a thing ('make/Tuesday skirt') as a deed. Raises StoreError for what is no photo."""
    kind = bounded_kind(data)
    if len(of_thing(store, of)) >= MOST_OF_ONE:
        raise StoreError("There is no room for more photos of this.", where=of, mend="Take one away first.")
    numbers = []

    def put(hand: deeds.Hand) -> None:
        row = {"of": of, "kind": kind, "words": words, "taken_at": deeds.now(), "gone": True, "data": data}
        number = int(hand.connection.execute(insert(PHOTOS).returning(PHOTOS.c.id), row).scalar_one())
        hand.photo(number, there=True)
        numbers.append(number)

    deeds.do(store, of, "Photo added", put)
    return numbers[0]


def carry(hand: deeds.Hand, before: str, after: str) -> None:
    """The photos of a thing that is named anew, under its new name; undoing brings them back to the old one."""
    there = select(PHOTOS).where(PHOTOS.c.of == before, ~PHOTOS.c.gone).order_by(PHOTOS.c.id)
    for row in hand.connection.execute(there).mappings().all():
        copy = {**{key: value for key, value in row.items() if key != "id"}, "of": after, "gone": True}
        number = hand.connection.execute(insert(PHOTOS).returning(PHOTOS.c.id), copy).scalar_one()
        hand.photo(row["id"], there=False)
        hand.photo(int(number), there=True)


def of_thing(store: Store, of: str) -> tuple[Photo, ...]:
    """The photos of a thing, oldest first."""
    columns = (PHOTOS.c.id, PHOTOS.c.words, PHOTOS.c.taken_at)
    with store._reading() as connection:
        rows = connection.execute(
            select(*columns).where(PHOTOS.c.of == of, ~PHOTOS.c.gone).order_by(PHOTOS.c.id)
        ).all()
    return tuple(Photo(row.id, row.words, row.taken_at) for row in rows)


def bytes_of(store: Store, number: int) -> tuple[str, bytes]:
    """Kind and bytes of a photo. Raises StoreError when there is none of that number."""
    with store._reading() as connection:
        row = connection.execute(
            select(PHOTOS.c.kind, PHOTOS.c.data).where(PHOTOS.c.id == number, ~PHOTOS.c.gone)
        ).one_or_none()
    if row is None:
        raise StoreError("There is no such photo.", where="photo", mend="It may have been taken away.")
    return str(row.kind), bytes(row.data)


def take_away(store: Store, of: str, number: int) -> None:
    """Takes a photo of a thing away, as a deed that can be undone."""
    if number not in {photo.number for photo in of_thing(store, of)}:
        raise StoreError("There is no such photo.", where=of, mend="It may have been taken away already.")
    deeds.do(store, of, "Photo taken away", lambda hand: hand.photo(number, there=False))
