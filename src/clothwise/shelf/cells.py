"""One cell of a chart as it is printed or pasted: '92', '36 1/4"', '92-96', '80/84', '2 3/4 yd', '-'.

A range is two lengths with a dash, 'to' or a stroke between; a fraction of an inch is no range.
One length in both units, '92 cm / 36"' or '92 (36)', is read once, its cm.
"""

from __future__ import annotations

import re
from itertools import pairwise

from clothwise.errors import LengthError
from clothwise.shelf.pattern import Row, Span
from clothwise.units import Unit, parse_length

EMPTY = frozenset(("", "-", "–", "—", "--", "n/a", "na", "none", "?", "x", "."))

_UNITS = r"(?:mm|cm|m|in|inch|inches|yd|yds|yards?|ft|\"|''|″|”)"
_ENDS = re.compile(rf"(?P<number>.*?)\s*(?P<unit>{_UNITS})\.?\s*$", re.IGNORECASE)
_TO = re.compile(r"\s+(?:to|bis)\s+|\s*[–—]\s*|\s*\.\.+\s*|\s+-\s+|\s*~\s*", re.IGNORECASE)
_FRACTION = r"\d+\s?[/⁄]\s?\d+"
_TIGHT = re.compile(rf"(?<=[\d½¼¾⅛⅜⅝⅞\"”″])-(?!{_FRACTION}(?!\d))(?=\d)")  # 92-96, but not 26-1/2
_STROKE = re.compile(r"(?P<low>\d+(?:[.,]\d+)?)\s*/\s*(?P<high>\d+(?:[.,]\d+)?)")
_INCHES = re.compile(r"(?:in|inch|inches|\"|''|″|”)\.?\s*$", re.IGNORECASE)
_PLURAL = re.compile(r"(?<=[\d½¼¾⅛⅜⅝⅞ ])(in|cm|yd)s\b", re.IGNORECASE)
SAME_LENGTH = 1.3  # cm: envelopes round inches to a half, and some to a whole
LEAST_WHOLE = 20  # below it 'a/b' is a fraction of an inch; from it on, both are measures: 80/84


def read_cell(text: str, unit: Unit) -> Span | None:
    """The length or range in a cell; None for an empty one. Raises LengthError for what is neither."""
    said = _PLURAL.sub(r"\1", text.strip())
    if said.lower() in EMPTY:
        return None
    if (both := _in_both_units(said)) is not None:
        return both
    parts = _parts(said)
    trailing = _ENDS.fullmatch(parts[-1])
    lengths = []
    for part in parts:  # in '92-96 cm' and '31 1/2 - 33"' the unit after the last holds for all
        bare = not _ENDS.fullmatch(part)
        lengths.append(parse_length(f"{part} {trailing['unit']}" if trailing and bare else part, unit=unit))
    if len(lengths) > 2:
        raise LengthError(
            f"'{said}' holds more than two lengths.", where="chart", mend="Give one length, or a range of two."
        )
    if any(one > other for one, other in pairwise(lengths)):
        raise LengthError(
            f"The range '{said}' runs downwards.", where="chart", mend="Write the smaller length first."
        )
    return Span(lengths[0], lengths[-1])


def read_row(cells: list[str], unit: Unit) -> tuple[Row, list[str]]:
    """A row of cells, and those that could not be read, each as a sentence."""
    row: list[Span | None] = []
    unread = []
    for text in cells:
        try:
            row.append(read_cell(text, unit))
        except LengthError as fault:
            row.append(None)
            unread.append(f"'{text.strip()}': {fault.what}")
    return tuple(row), unread


def _in_both_units(said: str) -> Span | None:
    """The cm of a cell that says one length or range in both units; None when it is no such cell."""
    units: tuple[tuple[Unit, Unit], ...] = (("cm", "in"), ("in", "cm"))
    for mark in re.finditer(r"[/(\[]", said):
        before, after = said[: mark.start()], said[mark.end() :].rstrip(" )]")
        for first, second in units:
            try:
                one, other = read_cell(before, first), read_cell(after, second)
            except LengthError:
                continue  # the stroke of a fraction or of a range
            if one and other and min(one.low, other.low) >= LEAST_WHOLE and _same(one, other):
                return other if first == "in" or _INCHES.search(before) else one
    return None


def _same(one: Span, other: Span) -> bool:
    return max(abs(one.low - other.low), abs(one.high - other.high)) <= SAME_LENGTH


def _parts(said: str) -> list[str]:
    stroke = _STROKE.match(said)
    if stroke and float(stroke["low"].replace(",", ".")) >= LEAST_WHOLE:
        rest = said[stroke.end() :]
        return [stroke["low"], stroke["high"] + rest]
    return [part for piece in _TO.split(said) for part in _TIGHT.split(piece) if part.strip()]
