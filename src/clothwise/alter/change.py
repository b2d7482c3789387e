"""Changes as a ticket writes them: plain values, done one after another. Lengths in cm."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from clothwise.alter.darts import dart_let_out
from clothwise.alter.length import lengthened, wedged
from clothwise.alter.room import Side
from clothwise.alter.sides import apart
from clothwise.alter.widen import flared, gathered
from clothwise.errors import ChoiceError
from clothwise.garment import Garment

Value = float | str


@dataclass(frozen=True, slots=True)
class Change:
    """One change: what is done, and with which entries.

    'lengthen'      at (a level), by; side 'above' or 'below'
    'wedge'         pieces (names, a comma between), at (a level), edge, by; side
    'flare'         pieces (names, a comma between), by
    'gather'        seam, piece, by (how many times as long), foot (share of it left below)
    'let dart out'  piece, dart
    'cut singly'    left and right told apart, for bodies that differ: 'left_front_leg', 'right_front_leg'
    """

    what: str
    entries: Mapping[str, Value]


def _lengthen(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return lengthened(
        garment, str(e["at"]), float(e["by"]), side="above" if e.get("side") == "above" else "below"
    )


def _wedge(garment: Garment, e: Mapping[str, Value]) -> Garment:
    side: Side = "below" if e.get("side") == "below" else "above"
    pieces = [name.strip() for name in str(e["pieces"]).split(",")]
    return wedged(garment, pieces, str(e["at"]), float(e["by"]), at=str(e["edge"]), side=side)


def _flare(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return flared(garment, [name.strip() for name in str(e["pieces"]).split(",")], float(e["by"]))


def _gather(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return gathered(garment, str(e["seam"]), str(e["piece"]), float(e["by"]), foot=float(e.get("foot", 1.0)))


def _let_out(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return dart_let_out(garment, str(e["piece"]), str(e["dart"]))


def _singly(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return apart(garment)


_WAYS: Mapping[
    str, tuple[Callable[[Garment, Mapping[str, Value]], Garment], tuple[str, ...], tuple[str, ...]]
] = {
    "lengthen": (_lengthen, ("at", "by"), ("side",)),
    "wedge": (_wedge, ("pieces", "at", "edge", "by"), ("side",)),
    "flare": (_flare, ("pieces", "by"), ()),
    "gather": (_gather, ("seam", "piece", "by"), ("foot",)),
    "cut singly": (_singly, (), ()),
    "let dart out": (_let_out, ("piece", "dart"), ()),
}
NUMBERS = ("by", "foot")  # entries that are numbers; the others are words


def change_of(what: str, entries: Mapping[str, Value]) -> Change:
    """The change, its entries checked. ChoiceError naming what is missing, unknown or of the wrong kind."""
    where = f"change '{what}'"
    if what not in _WAYS:
        raise ChoiceError(f"'{what}' is no change.", where=where, mend=f"There are: {', '.join(_WAYS)}.")
    _, needed, more = _WAYS[what]
    for name in needed:
        if name not in entries:
            raise ChoiceError(
                f"'{name}' is missing.", where=where, mend=f"It takes {', '.join((*needed, *more))}."
            )
    for name, value in entries.items():
        if name not in (*needed, *more):
            raise ChoiceError(
                f"'{name}' is unknown.", where=where, mend=f"It takes {', '.join((*needed, *more))}."
            )
        if isinstance(value, str) == (name in NUMBERS):
            kind = "a number" if name in NUMBERS else "a word in quotes"
            raise ChoiceError(f"{value!r} is not {kind}.", where=f"{where}, {name}", mend=f"Give {kind}.")
    return Change(what, dict(entries))


def changed(garment: Garment, changes: Sequence[Change]) -> Garment:
    """The garment after all changes in their order. GarmentError as each of them."""
    for change in changes:
        garment = _WAYS[change.what][0](garment, change.entries)
    return garment
