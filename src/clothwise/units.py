"""Units. Inside Clothwise a bare length is a float in centimetres; convert once, at the door.

`parse_length` reads what people type, and refuses rather than guess. `format_length` writes it back.

    bare number     a length without a unit; it is in the unit the sewer has chosen
    mixed number    a whole and a fraction: 26 1/2, 26-1/2, 26½
    two-part length a larger and a smaller unit of one family: 2 ft 3, 1 m 20, 67 cm 3 mm
"""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import floor, isfinite
from typing import Literal

from clothwise.errors import LengthError

MM = 0.1  # cm
INCH = 2.54  # cm
FOOT = 12 * INCH  # cm
YARD = 36 * INCH  # cm
PT = INCH / 72  # cm: the point of PDF

Unit = Literal["mm", "cm", "m", "in", "ft", "yd"]

LONGEST_TEXT = 40  # characters: nobody types a longer length; keeps numbers within a float
EIGHTHS = 8  # parts of an inch on a dressmaker's tape

_EXACT: dict[Unit, Fraction] = {  # cm; exact, so that 26 1/2 in is 67.31 cm and nothing else
    "mm": Fraction(1, 10),
    "cm": Fraction(1),
    "m": Fraction(100),
    "in": Fraction(254, 100),
    "ft": Fraction(3048, 100),
    "yd": Fraction(9144, 100),
}
_SPELLED: dict[str, Unit] = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("in", "inch", "inches", '"', "''"), "in"),
    **dict.fromkeys(("ft", "foot", "feet", "'"), "ft"),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), "yd"),
}
_SMALLER: dict[Unit, tuple[Unit, ...]] = {"m": ("cm", "mm"), "cm": ("mm",), "yd": ("ft", "in"), "ft": ("in",)}
_AFTER: dict[Unit, Unit] = {"ft": "in", "m": "cm"}  # what a bare number means after these

_SPACES = dict.fromkeys(map(ord, "\u00a0\u2007\u2009\u200a\u202f\t"), " ")
_MARKS = {ord(a): b for a, b in zip("′’‘″”“⁄∕−‐‑", "'''\"\"\"//---", strict=True)}
_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5",
    "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip

_NUMBER = (
    r"(?:(?P<whole{n}>[0-9]+)(?:\ +|-))?(?P<top{n}>[0-9]+)\ ?/\ ?(?P<bottom{n}>[0-9]+)"
    r"|(?P<decimal{n}>[0-9]*[.,][0-9]+|[0-9]+)"
)
_UNIT = r"(?P<unit{n}>[a-z]+\.?|''|'|\")"
_SECOND = rf"\ ?(?:{_NUMBER.format(n=2)})\ ?{_UNIT.format(n=2)}?"
_LENGTH = re.compile(rf"(?:{_NUMBER.format(n=1)})\ ?(?:{_UNIT.format(n=1)}(?:{_SECOND})?)?")


def parse_length(text: str, *, unit: Unit = "cm", allow_negative: bool = False) -> float:
    """A length as people type it, in cm.

    unit            what a bare number is in
    allow_negative  a leading minus may stand before the whole length (for a change, never for a measure)
    Raises          LengthError: the text is no length, or can be read in more than one way
    >>> parse_length("26 1/2", unit="in"), parse_length("67,3 cm"), parse_length("2 ft 3")
    (67.31, 67.3, 68.58)
    """
    tidy = _tidy(text)
    negative = tidy.startswith("-")
    if negative and not allow_negative:
        raise _refusal(text, "A length cannot be less than nothing.", "Leave out the minus.")
    found = _LENGTH.fullmatch(tidy[1:].lstrip() if negative else tidy)
    if found is None:
        raise _refusal(text, "This cannot be read as a length.", _EXAMPLES)
    length = _measured(text, found, unit)
    return float(-length if negative else length)


_EXAMPLES = 'Type it as 67.3, 67,3 cm, 26 1/2 in, 26½", 2 ft 3 or 673 mm.'


def _tidy(text: str) -> str:
    if len(text) > LONGEST_TEXT:
        raise _refusal(text[:LONGEST_TEXT] + "…", "This is too long for a length.", _EXAMPLES)
    plain = text.translate(_SPACES).translate(_MARKS).lower()
    for sign, fraction in _VULGAR.items():
        plain = re.sub(rf"(?<=[0-9]){sign}", f" {fraction}", plain).replace(sign, fraction)
    return re.sub(r" +", " ", plain).strip()


def _measured(text: str, found: re.Match[str], unit: Unit) -> Fraction:
    first, second = _number(text, found, 1), _number(text, found, 2)
    if first is None:
        raise AssertionError("a length always begins with a number")
    larger = _unit(text, found["unit1"]) or unit
    if second is None:
        return first * _EXACT[larger]
    smaller = _unit(text, found["unit2"]) or _bare_after(text, larger, found)
    if smaller not in _SMALLER.get(larger, ()):
        raise _refusal(text, f"After {larger}, a part in {smaller} makes no sense.", _EXAMPLES)
    if first.denominator != 1:
        raise _refusal(text, f"The {larger} must be whole when {smaller} follow.", _EXAMPLES)
    if second * _EXACT[smaller] >= _EXACT[larger]:
        raise _refusal(text, f"{found['decimal2'] or second} {smaller} are more than one {larger}.", _EXAMPLES)
    return first * _EXACT[larger] + second * _EXACT[smaller]


def _number(text: str, found: re.Match[str], n: int) -> Fraction | None:
    decimal, top, bottom, whole = (found[f"{part}{n}"] for part in ("decimal", "top", "bottom", "whole"))
    if decimal is not None:
        if re.fullmatch(r"[1-9][0-9]*,[0-9]{3}", decimal):
            mend = f"Type {decimal.replace(',', '')} or {decimal.replace(',', '.')}."
            raise _refusal(text, f"{decimal} can be read in two ways, as thousands or as a decimal.", mend)
        return Fraction(decimal.replace(",", "."))
    if top is None:
        return None
    if int(bottom) == 0:
        raise _refusal(text, "Nothing can be divided into 0 parts.", "Type the fraction as 1/2, 3/8 and so on.")
    fraction = Fraction(int(top), int(bottom))
    if whole is not None and fraction >= 1:
        raise _refusal(text, f"{top}/{bottom} after a whole number is one or more.", "Check the fraction.")
    return fraction + int(whole or 0)


def _unit(text: str, spelled: str | None) -> Unit | None:
    if spelled is None:
        return None
    known = _SPELLED.get(spelled.removesuffix("."))
    if known is None:
        raise _refusal(text, f"'{spelled}' is no unit of length here.", "Use mm, cm, m, in, ft or yd.")
    return known


def _bare_after(text: str, larger: Unit, found: re.Match[str]) -> Unit:
    """What a number without a unit means after a larger unit: inches after feet, two digits of cm after m."""
    smaller = _AFTER.get(larger)
    two_digits = bool(re.fullmatch(r"[0-9]{2}", found["decimal2"] or ""))
    if smaller is None or (larger == "m" and not two_digits):
        raise _refusal(
            text, f"The number after the {larger} could mean more than one thing.", "Give it a unit."
        )
    return smaller


def _refusal(text: str, what: str, mend: str) -> LengthError:
    return LengthError(what, where=f"'{text}'", mend=mend)


def format_length(cm: float, unit: Unit = "cm", *, with_unit: bool = True) -> str:
    """A length for people: cm and mm to the millimetre, m to the centimetre, inches to the nearest 1/8.

    Feet and yards are written in inches, as on the tape. `parse_length` reads back what this writes.
    >>> format_length(67.31, "in"), format_length(67.25), format_length(120, "m")
    ('26 1/2 in', '67.3 cm', '1.20 m')
    """
    if not isfinite(cm):
        raise ValueError(f"{cm} is no length")
    if unit in ("in", "ft", "yd"):
        number, unit = _in_eighths(cm), "in"
    elif unit == "m":
        number = _rounded(cm / 100, "0.01")
    elif unit == "mm":
        number = _rounded(cm * 10, "1")
    else:
        number = _rounded(cm, "0.1")
    return f"{number} {unit}" if with_unit else number


def _rounded(value: float, step: str) -> str:
    """Half goes away from nothing, as people round."""
    rounded = Decimal(repr(value)).quantize(Decimal(step), rounding=ROUND_HALF_UP)
    return str(abs(rounded) if rounded == 0 else rounded)


def _in_eighths(cm: float) -> str:
    parts = floor(abs(cm) / INCH * EIGHTHS + 0.5)
    whole, rest = divmod(parts, EIGHTHS)
    sign = "-" if cm < 0 and parts else ""
    if not rest:
        return f"{sign}{whole}"
    fraction = str(Fraction(rest, EIGHTHS))
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
