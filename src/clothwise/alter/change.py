"""Changes as a ticket writes them: plain values, done one after another. Lengths in cm."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from clothwise.alter.added import NARROWEST, faced, lined, pocketed
from clothwise.alter.buttons import buttoned
from clothwise.alter.cut import panelled, yoked
from clothwise.alter.darts import dart_let_out, dart_moved, dart_parted
from clothwise.alter.length import lengthened, wedged
from clothwise.alter.most import with_bound
from clothwise.alter.move import seam_moved
from clothwise.alter.pleats import SHALLOWEST, pleated
from clothwise.alter.room import Side
from clothwise.alter.sides import cut_singly
from clothwise.alter.tucks import SHALLOWEST as SHALLOWEST_TUCK
from clothwise.alter.tucks import tucked
from clothwise.alter.widen import LEAST_RATIO, flared, gathered
from clothwise.errors import ChoiceError, GarmentError
from clothwise.garment import Garment

Value = float | str


@dataclass(frozen=True, slots=True)
class Change:
    """One change: what is done, and with which entries.

    'lengthen'      at (a level), by; side 'above' or 'below'
    'wedge'         pieces (names, a comma between), at (a level), edge, by; side
    'flare'         pieces (names, a comma between), by
    'gather'        seam, piece, by (how many times as long), foot (share of it left below)
    'move dart'     piece, dart, to (an edge of the piece); share (0 to 1 along that edge, half if left out)
    'part dart'     piece, dart, to; share: half of it stays where it is
    'let dart out'  piece, dart
    'yoke'          piece, at (a level): cut in two across it; below: so much farther down
    'split'         piece, share (0 to 1, from the fold or the left): cut in two along the grain
    'pleat'         seam, piece, number (on each half), by (depth); foot (share of the width left below)
    'growth tuck'   hem, number (one above the other), by (depth)
    'move seam'     seam, piece (which gets narrower), by
    'face hem'      hem, by (width of the facing)
    'line'          seam (the pieces hanging from it are lined), by (how much shorter)
    'pocket'        piece, at (a level), by (width); below: so much farther down
    'button'        piece (cut on the fold): opened down its middle with a button stand
    'cut singly'    left and right told apart, for bodies that differ: 'left_front_leg', 'right_front_leg'
    """

    what: str
    entries: Mapping[str, Value]


def _lengthen(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return lengthened(garment, str(e["at"]), float(e["by"]), side=_side(e) or "below")


def _wedge(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return wedged(garment, _names(e), str(e["at"]), float(e["by"]), at=str(e["edge"]), side=_side(e))


def _flare(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return flared(garment, _names(e), float(e["by"]))


def _gather(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return gathered(garment, str(e["seam"]), str(e["piece"]), float(e["by"]), foot=float(e.get("foot", 1.0)))


def _move_dart(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return dart_moved(garment, str(e["piece"]), str(e["dart"]), str(e["to"]), float(e.get("share", 0.5)))


def _part_dart(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return dart_parted(garment, str(e["piece"]), str(e["dart"]), str(e["to"]), float(e.get("share", 0.5)))


def _let_out(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return dart_let_out(garment, str(e["piece"]), str(e["dart"]))


def _yoke(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return yoked(garment, str(e["piece"]), str(e["at"]), float(e.get("below", 0.0)))


def _split(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return panelled(garment, str(e["piece"]), float(e["share"]))


def _pleat(garment: Garment, e: Mapping[str, Value]) -> Garment:
    number, depth, foot = round(float(e["number"])), float(e["by"]), float(e.get("foot", 1.0))
    return pleated(garment, str(e["seam"]), str(e["piece"]), number, depth, foot=foot)


def _tuck(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return tucked(garment, str(e["hem"]), round(float(e["number"])), float(e["by"]))


def _move(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return seam_moved(garment, str(e["seam"]), str(e["piece"]), float(e["by"]))


def _face(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return faced(garment, str(e["hem"]), float(e["by"]))


def _line(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return lined(garment, str(e["seam"]), float(e["by"]))


def _pocket(garment: Garment, e: Mapping[str, Value]) -> Garment:
    below = float(e.get("below", 0.0))
    return pocketed(garment, str(e["piece"]), str(e["at"]), float(e["by"]), below)


def _button(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return buttoned(garment, str(e["piece"]))


def _singly(garment: Garment, e: Mapping[str, Value]) -> Garment:
    return cut_singly(garment)


def _side(e: Mapping[str, Value]) -> Side | None:
    """As written, held to SIDES when the change was read; None where it is left open."""
    if "side" not in e:
        return None
    return "above" if e["side"] == "above" else "below"


def _names(e: Mapping[str, Value]) -> list[str]:
    return list(dict.fromkeys(name.strip() for name in str(e["pieces"]).split(",")))


@dataclass(frozen=True, slots=True)
class _Way:
    """How a change is done, the entries it must have, and those it may have; the least `by` that
    anybody means, and in what it is said."""

    done: Callable[[Garment, Mapping[str, Value]], Garment]
    needs: tuple[str, ...] = ()
    may: tuple[str, ...] = ()
    least: float = 0.3  # cm: less is not worth a change
    unit: str = "cm"

    @property
    def takes(self) -> str:
        return f"It takes {', '.join((*self.needs, *self.may)) or 'no entries'}."


LEAST_POCKET = 6.0  # cm: in a narrower one there is room for two fingers
_WAYS: Mapping[str, _Way] = {
    "lengthen": _Way(_lengthen, ("at", "by"), ("side",)),
    "wedge": _Way(_wedge, ("pieces", "at", "edge", "by"), ("side",)),
    "flare": _Way(_flare, ("pieces", "by")),
    "gather": _Way(_gather, ("seam", "piece", "by"), ("foot",), LEAST_RATIO, "times as long"),
    "cut singly": _Way(_singly),
    "move dart": _Way(_move_dart, ("piece", "dart", "to"), ("share",)),
    "part dart": _Way(_part_dart, ("piece", "dart", "to"), ("share",)),
    "let dart out": _Way(_let_out, ("piece", "dart")),
    "yoke": _Way(_yoke, ("piece", "at"), ("below",)),
    "split": _Way(_split, ("piece", "share")),
    "pleat": _Way(_pleat, ("seam", "piece", "number", "by"), ("foot",), SHALLOWEST),
    "growth tuck": _Way(_tuck, ("hem", "number", "by"), (), SHALLOWEST_TUCK),
    "move seam": _Way(_move, ("seam", "piece", "by")),
    "face hem": _Way(_face, ("hem", "by"), (), NARROWEST),
    "line": _Way(_line, ("seam", "by")),
    "button": _Way(_button, ("piece",)),
    "pocket": _Way(_pocket, ("piece", "at", "by"), ("below",), LEAST_POCKET),
}
MOST_BY = 100.0  # cm, or times as long: beyond it somebody mistyped
NUMBERS = ("by", "foot", "share", "number", "below")  # entries that are numbers; the others are words
SIDES = ("above", "below")


def change_of(what: str, entries: Mapping[str, Value]) -> Change:
    """The change, its entries checked. ChoiceError naming what is missing, unknown, or not to be understood."""
    where = f"change '{what}'"
    way = _WAYS.get(what)
    if way is None:
        known = f"There are: {', '.join(_WAYS)}."
        raise ChoiceError(f"'{what}' is no change.", where=where, mend=known)
    for name in way.needs:
        if name not in entries:
            raise ChoiceError(f"'{name}' is missing.", where=where, mend=way.takes)
    for name, value in entries.items():
        if name not in (*way.needs, *way.may):
            raise ChoiceError(f"'{name}' is unknown.", where=where, mend=way.takes)
        _refuse_value(name, value, f"{where}, {name}")
    return Change(what, dict(entries))


def _refuse_value(name: str, value: Value, where: str) -> None:
    """ChoiceError for a word where a number belongs or the other way round, no amount, or another side."""
    if isinstance(value, str) == (name in NUMBERS):
        kind = "a number" if name in NUMBERS else "a word in quotes"
        raise ChoiceError(f"{value!r} is not {kind}.", where=where, mend=f"Give {kind}.")
    if isinstance(value, str):
        if name == "side" and value not in SIDES:
            raise ChoiceError(f"'{value}' is no side of a line.", where=where, mend="Say above or below.")
    elif name in ("foot", "share") and not 0 <= value <= 1:
        raise ChoiceError(f"{value:g} is no share.", where=where, mend="Give 0 (nothing left) to 1 (all).")
    elif name == "number" and not float(value).is_integer():
        raise ChoiceError(f"{value:g} of them cannot be laid.", where=where, mend="Give a whole number.")
    elif name == "by" and not 0 < abs(value) <= MOST_BY:
        mend = f"Give a number up to {MOST_BY:g}, not 0."
        raise ChoiceError(f"{value:g} is no amount to change by.", where=where, mend=mend)


def changed(garment: Garment, changes: Sequence[Change]) -> Garment:
    """The garment after all changes in their order. GarmentError as each of them, with what could be had there
    instead of the amount that was asked."""
    for change in changes:
        try:
            garment = _done(garment, change)
        except GarmentError as no:
            raise _bounded(no, garment, change) from no
    return garment


def possible(garment: Garment, change: Change) -> bool:
    """Whether it can be done."""
    try:
        _done(garment, change)
    except GarmentError:
        return False
    return True


def _done(garment: Garment, change: Change) -> Garment:
    return _WAYS[change.what].done(garment, change.entries)


def _bounded(no: GarmentError, garment: Garment, change: Change) -> GarmentError:
    way = _WAYS[change.what]
    if "by" not in way.needs:
        return no

    def by(amount: float) -> Garment:
        return way.done(garment, {**change.entries, "by": amount})

    return with_bound(no, by, way.least, float(change.entries["by"]), way.unit)
