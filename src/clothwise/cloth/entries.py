"""A cloth as a table of plain entries, as it stands in a ticket and in the store; and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, fields
from typing import Any, get_type_hints

from clothwise.cloth.cloth import Cloth
from clothwise.cloth.shape import Outline
from clothwise.errors import ClothError

ALWAYS = (  # written even when they stand as they usually do: a ticket shows them
    "name", "width", "length", "make", "kind", "fibre", "grams_per_m2", "stretch_across", "stretch_along",
    "nap", "shrinkage", "washed", "colour",
)  # fmt: skip
LISTS = ("seasons", "outline", "flaws")
_HINTS = get_type_hints(Cloth)
FLAGS = tuple(f.name for f in fields(Cloth) if _HINTS[f.name] is bool)
WORDS = ("name", "make", "kind", "fibre", "nap", "colour", "see_through")
NUMBERS = tuple(f.name for f in fields(Cloth) if f.name not in (*LISTS, *FLAGS, *WORDS))


def entries(cloth: Cloth) -> dict[str, Any]:
    """What was told of the cloth, in the order of its fields; outlines as lists of [along, across]."""
    found: dict[str, Any] = {}
    for field in fields(Cloth):
        value = getattr(cloth, field.name)
        usual = field.default is not MISSING and value == field.default
        if value is None or value == "" or (usual and field.name not in ALWAYS):
            continue
        found[field.name] = _plain(value) if field.name in LISTS else value
    return found


def cloth_of(table: Mapping[str, Any]) -> Cloth:
    """The cloth of such a table. Raises ClothError naming the entry that is missing or wrong."""
    name = str(table.get("name", ""))
    known = [field.name for field in fields(Cloth)]
    for entry in table:
        if entry not in known:
            raise ClothError(
                f"'{entry}' is not an entry of a cloth.",
                where=f"cloth '{name}'",
                mend=f"Possible are: {', '.join(known)}.",
            )
    for entry in ("name", "width", "length"):
        if entry not in table:
            raise ClothError(
                f"The cloth's {entry} is missing.", where=f"cloth '{name}'", mend=f"Add '{entry}'."
            )
    return Cloth(**{entry: _value(entry, value, name) for entry, value in table.items()})


def _value(entry: str, value: Any, cloth: str) -> Any:
    where = f"cloth '{cloth}': {entry}"
    if entry in LISTS:
        return listed(entry, value, where)
    if entry in FLAGS:
        good = isinstance(value, bool)
    elif entry in WORDS:
        good = isinstance(value, str)
    else:
        good = isinstance(value, int | float) and not isinstance(value, bool)
    if not good:
        wanted = "true or false" if entry in FLAGS else "a word" if entry in WORDS else "a number"
        raise ClothError(f"{value!r} is not {wanted}.", where=where, mend=f"Give {wanted}.")
    return float(value) if entry in NUMBERS else value


def listed(entry: str, value: Any, where: str) -> Any:
    """Seasons, an outline, or flaws from plain lists."""
    try:
        if entry == "seasons":
            if not all(isinstance(word, str) for word in value):
                raise TypeError
            return tuple(value)
        if entry == "outline":
            return _outline(value)
        return tuple(_outline(flaw) for flaw in value)
    except (TypeError, ValueError) as wrong:
        wanted = {
            "seasons": 'a list of words: ["spring", "summer"]',
            "outline": "a list of corner points: [[0, 0], [95, 0], [95, 80]]",
            "flaws": "a list of outlines, each a list of corner points",
        }[entry]
        raise ClothError(
            f"{value!r} is not {wanted.split(':')[0]}.", where=where, mend=f"Give {wanted}."
        ) from wrong


def _outline(value: Any) -> Outline:
    return tuple((float(x), float(y)) for x, y in value)


def _plain(value: Any) -> Any:
    return [_plain(part) for part in value] if isinstance(value, tuple) else value
