"""A cloth of the cupboard as the page changes it: one field at a time, typed as at the command line.

Fields are those of `cloth.typed`; `season.NAME` ticks one season; outline and flaws are drawn, in cm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from clothwise.cloth import SEASONS, Cloth
from clothwise.cloth.shape import written
from clothwise.cloth.typed import FIELDS, NO_WORD, cloth_typed
from clothwise.errors import ClothError
from clothwise.web.entries import with_each
from clothwise.web.sheet import Reader

DRAWN = ("outline", "flaws")  # always cm: the drawing writes them
TAKEN_BACK = {  # what an emptied field means, where the words for it are not `NO_WORD`
    "stretch_across": "0", "stretch_along": "0", "shrinkage": "0",
    "repeat_along": NO_WORD, "repeat_across": NO_WORD, "price": NO_WORD, "outline": NO_WORD, "flaws": NO_WORD,
}  # fmt: skip
LENGTHS = ("width", "length", "repeat_along", "repeat_across")
SHARES = ("stretch_across", "stretch_along", "shrinkage", "recovery", "drape")
MOST_LETTERS = 4000


def with_fields(cloth: Cloth, entries: Mapping[str, str], reader: Reader) -> Cloth:
    """The cloth with these fields set. Raises Refused, which tells which field cannot be."""
    return with_each(cloth, entries, lambda stands, path, text: _set(stands, path, text, reader))


def _set(cloth: Cloth, path: str, text: str, reader: Reader) -> Cloth:
    part, _, season = path.partition(".")
    if part == "season" and season in SEASONS:
        ticked = {*cloth.seasons, season} if text else set(cloth.seasons) - {season}
        return replace(cloth, seasons=tuple(one for one in SEASONS if one in ticked))
    if path not in FIELDS or len(text) > MOST_LETTERS:
        raise ClothError("That is no entry of a cloth.", where=path[:60], mend="Reload the page.")
    if not text:
        return _emptied(cloth, path)
    if path == "flaws":
        return cloth_typed(cloth.name, {path: text.split(";")}, before=cloth)
    if said(cloth, path, reader) == text:
        return cloth
    unit = "cm" if path in DRAWN else reader.unit
    return cloth_typed(cloth.name, {path: text}, unit=unit, before=cloth)


def _emptied(cloth: Cloth, path: str) -> Cloth:
    """A field that was cleared: what it is when nothing is told of it."""
    if path in ("recovery", "drape"):
        return cloth.changed(**{path: None})
    if path in ("kind", "fibre", "colour", "see_through"):
        return cloth.changed(**{path: ""})
    if path in TAKEN_BACK:
        return cloth_typed(cloth.name, {path: TAKEN_BACK[path]}, before=cloth)
    raise ClothError(
        f"A cloth needs its {path.replace('_', ' ')}.", where=cloth.name, mend="Type it, or leave it as it was."
    )


def said(cloth: Cloth, path: str, reader: Reader) -> str:
    """How a field reads, as it may be typed again; '' where nothing was told."""
    part, _, season = path.partition(".")
    if part == "season":
        return "yes" if season in cloth.seasons else ""
    if path in LENGTHS:
        value = float(getattr(cloth, path))
        return reader.number(value) if value else ""
    if path in SHARES:
        share = getattr(cloth, path)
        return "" if not share else f"{share * 100:.0f} %"
    match path:
        case "weight":
            return f"{cloth.grams_per_m2:g}"
        case "price":
            return "" if cloth.price_per_m is None else f"{cloth.price_per_m:.2f}"
        case "washed":
            return "yes" if cloth.washed else "no"
        case "one_way_print":
            return "yes" if cloth.print_one_way else "no"
        case "uneven_repeat":
            return "no" if cloth.repeat_even else "yes"
        case "outline":
            return written(cloth.outline)
        case "flaws":
            return ";".join(written(flaw) for flaw in cloth.flaws)
    return str(getattr(cloth, path, ""))


def words_of(before: Cloth, after: Cloth, entries: Mapping[str, str], reader: Reader) -> str:
    """What a change did, for undo: 'width 138.0 to 140.0'."""
    told = []
    for path in entries:
        old, new = said(before, path, reader), said(after, path, reader)
        if old != new:
            name = path.rpartition(".")[2].replace("_", " ")
            told.append(f"{name} changed" if path in DRAWN else f"{name} {old or 'open'} to {new or 'open'}")
    return ", ".join(told)[:300] or "Nothing"
