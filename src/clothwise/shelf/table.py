"""A chart as it is pasted: tabs, commas, semicolons, strokes or plain spaces; sizes across or down.

    Size          12/14   16/18            size, bust, waist
    Bust (cm)     92-96   100-104          12,   36,   28 1/2
    Waist, in     29 1/2  32               14,   38,   30 1/2

A unit in a row's name, in a cell, or on a line of its own ('inches') holds over the unit given. The same
measure may stand twice, in cm and in inches: the cm are taken, and a disagreement is told. What could not
be read is listed, never guessed.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from clothwise.errors import ShelfError
from clothwise.shelf.cells import EMPTY, read_row
from clothwise.shelf.levels import Level, find_level
from clothwise.shelf.pattern import ClothRow, Row, Span
from clothwise.units import INCH, Unit

AGREE = 0.7  # cm: half an inch's rounding on either side; cm and inch rows may differ by it

_UNIT_WORDS: dict[str, Unit] = {
    "cm": "cm", "cms": "cm", "centimetres": "cm", "centimeters": "cm", "mm": "mm", "m": "m", "metres": "m",
    "in": "in", "ins": "in", "inch": "in", "inches": "in", '"': "in", "yd": "yd", "yds": "yd", "yards": "yd",
}  # fmt: skip
_UNIT_IN = re.compile(
    r"(?<![a-z])(cms?|centimet(?:re|er)s|mm|inch(?:es)?|ins?|yds?|yards|metres|m|\")(?![a-z])", re.IGNORECASE
)
_IN_CM = re.compile(r"\bin(?=\s+(?:cms?|centimet(?:re|er)s|mm|inch(?:es)?|yards|metres)\b)", re.IGNORECASE)
_SHORT = re.compile(r"\b(?:in|m)\b", re.IGNORECASE)  # in running text these are words, not units
_LABEL_NOISE = re.compile(r"^\s*(?:size|sizes|sz|gr)\b\.?\s*", re.IGNORECASE)
_NAMED = re.compile(r"([A-Za-z][^:\d]*):\s*(\S.*)")
_NUMBER_GAP = re.compile(r"(?<=\d) (?=\d+[/⁄]\d)")
_TWO = re.compile(r"\d\s+\d+(?!\s?[/⁄\d])")  # two figures in one cell: the columns stand a single space apart
_AFTER_UNIT = re.compile(r"\b(?:yds?|in|cm|mm|m)\.? +\d")  # so do they where a row has cells too few
_FRACTION = re.compile(r"\d+[/⁄]\d+")
_WIDTH = re.compile(r"^(.*?\d.*?(?:cm|mm|in|inch|inches|\"|”)?)\s*(?:wide|width|w)?\b\.?(.*)$", re.IGNORECASE)
_ONE_WAY = re.compile(r"\b(?:with nap|nap|one.?way|directional|velvet|corduroy)\b", re.IGNORECASE)
_NO_NAP = re.compile(r"\b(?:without nap|no nap|w/o nap|two.?way)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Chart:
    """What could be read: a row of cells for each level, and in `problems` what could not."""

    sizes: tuple[str, ...]
    rows: Mapping[str, Row]
    problems: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Grid:
    """Cells in rows, the first of each its name."""

    labels: tuple[str, ...]
    rows: tuple[tuple[str, list[str]], ...]
    unit: Unit
    problems: list[str] = field(default_factory=list)


def read_chart(text: str, *, unit: Unit = "cm") -> Chart:
    """A body chart or a table of finished measures. Raises ShelfError when no size can be made out."""
    grid = _grid(text, unit)
    if not any(_level(name) for name, _ in grid.rows):
        grid = _turned(grid)
    rows: dict[str, Row] = {}
    units: dict[str, Unit] = {}
    here = grid.unit
    for name, cells in grid.rows:
        alone = _UNIT_WORDS.get(name.strip().lower().strip("()"))
        if alone and all(cell.strip().lower() in EMPTY for cell in cells):
            here = alone
            continue
        level = _level(name)
        if level is None:
            grid.problems.append(f"The row '{name.strip()}' was not understood and is left out.")
            continue
        own = _unit_of(name, here)
        row, unread = read_row(_filled(cells, len(grid.labels)), own)
        grid.problems.extend(f"{level.words.capitalize()}, {what}" for what in unread)
        if level.name in rows:
            _told_twice(grid, level.words, rows[level.name], row)
            if units[level.name] != "in" and own == "in":
                continue
        rows[level.name], units[level.name] = row, own
    if not rows:
        raise _unreadable("No row of it names a measure, such as bust, waist or hip.")
    if _falls(grid.labels, rows):
        rows = {name: row[::-1] for name, row in rows.items()}
        grid.problems.append("The sizes run from the largest down; they are turned round, smallest first.")
        return Chart(grid.labels[::-1], rows, tuple(grid.problems))
    return Chart(grid.labels, rows, tuple(grid.problems))


def _falls(labels: Sequence[str], rows: Mapping[str, Row]) -> bool:
    """Whether labels and figures both run from the largest size down: an order, not a slip."""
    numbers = [float(found[0]) for label in labels if (found := re.search(r"\d+", label))]
    figures = [[cell.middle for cell in row if cell] for row in rows.values()]
    down = [all(a > b for a, b in pairwise(some)) for some in (numbers, *figures) if len(some) > 1]
    return len(numbers) == len(labels) > 1 and len(down) > 1 and all(down)


def read_cloth_table(
    text: str, *, unit: Unit = "cm"
) -> tuple[tuple[str, ...], tuple[ClothRow, ...], list[str]]:
    """A cloth table: a row for each width ('140 cm', '45 in with nap'), a cell for each size.

    unit   what a bare width is in. Bare lengths below ten are metres, or yards where the widths are inches.
    """
    grid = _grid(text, unit)
    rows: list[ClothRow] = []
    for name, cells in grid.rows:
        found = re.search(r"\d[\d.,/½¼¾ ]*", name)
        own = _unit_of(name, grid.unit)
        width, unread = read_row([found[0].strip()] if found else [""], own)
        if unread or width[0] is None:
            grid.problems.append(f"The row '{name.strip()}' names no width and is left out.")
            continue
        read, unread = _lengths(_filled(cells, len(grid.labels)), own)
        grid.problems.extend(f"{name.strip()}, {what}" for what in unread)
        one_way = bool(_ONE_WAY.search(_NO_NAP.sub(" ", name)))
        kind = next(
            (word for word in ("lining", "contrast", "interfacing", "rib") if word in name.lower()), "main"
        )
        rows.append(ClothRow(width[0].middle, read, "one-way" if one_way else "two-way", kind))
    if not rows:
        raise _unreadable("No row of it names a width of cloth.")
    return grid.labels, tuple(rows), grid.problems


LARGEST_BARE = 10.0  # a bare length of cloth below this is metres or yards: nobody buys 2.5 cm


def _lengths(cells: Sequence[str], width_unit: Unit) -> tuple[Row, list[str]]:
    whole: Unit = "yd" if width_unit == "in" else "m"
    row, unread = read_row(list(cells), whole)
    long = [cell.middle for cell in row if cell]
    if long and min(long) / (91.44 if whole == "yd" else 100.0) >= LARGEST_BARE:
        return read_row(list(cells), width_unit)
    return row, unread


def _level(name: str) -> Level | None:
    return find_level(_UNIT_IN.sub(" ", name))


def _told_twice(grid: _Grid, words: str, one: Row, other: Row) -> None:
    for size, a, b in zip(grid.labels, one, other, strict=True):
        if a and b and (abs(a.low - b.low) > AGREE or abs(a.high - b.high) > AGREE):
            grid.problems.append(
                f"{words.capitalize()} stands twice for size {size}, as {a.middle:.1f} cm and as "
                f"{b.middle:.1f} cm ({b.middle / INCH:.1f} in)."
            )


# ---- lines into cells ----------------------------------------------------------------------------


def _grid(text: str, unit: Unit) -> _Grid:
    lines = [line.strip("\r\n") for line in text.splitlines() if line.strip(" \t|,;-+=:")]
    if not lines:
        raise _unreadable("It is empty.")
    rows = _split(lines)
    head = next((n for n, row in enumerate(rows) if _is_head(row)), None)
    if head is None:
        raise _unreadable("No line of it names the sizes.")
    widest = max((len(row) for row in rows[head + 1 :]), default=0)
    if len(rows[head]) == widest - 1:  # nothing stands above the names
        rows[head].insert(0, "")
    above = " ".join(cell for row in rows[:head] for cell in row)
    start = _unit_of(rows[head][0], _unit_of(_SHORT.sub(" ", above), unit))
    labels, at = _labels(rows[head])
    problems = [f"The line '{' '.join(row).strip()}' was not used." for row in rows[:head] if len(row) > 1]
    body = []
    for row in rows[head + 1 :]:
        if len(row) > len(labels) + at and any(cell.strip() for cell in row[len(labels) + at :]):
            problems.append(f"The row '{row[0].strip()}' has more figures than there are sizes.")
        body.append((_name(row, at), row[at : at + len(labels)]))
    return _Grid(labels, tuple(body), start, problems)


def _name(row: list[str], at: int) -> str:
    """The row's name, with a column of units beside it taken in."""
    return " ".join(cell.strip() for cell in row[:at])


def _split(lines: list[str]) -> list[list[str]]:
    """Cells by line; 'Bust: 92' holds a name and a figure."""
    rows = []
    for row in _cells(lines):
        named = _NAMED.fullmatch(row[0]) if len(row) > 1 else None
        rows.append([*named.groups(), *row[1:]] if named else row)
    return rows


def _cells(lines: list[str]) -> list[list[str]]:
    for mark in "\t;|":
        if sum(mark in line for line in lines) * 2 > len(lines):
            return [_cut(line, mark) for line in lines]
    commas = [_cut(line, ",") for line in lines]
    widths = [len(row) for row in commas if len(row) > 1]
    if widths and len(widths) * 2 > len(lines) and widths.count(widths[0]) * 2 > len(widths):
        return commas
    wide = [re.split(r"\s{2,}", line.strip()) for line in lines]
    figures = [cell for row in wide for cell in row[1:]]
    ragged = len({len(row) for row in wide if len(row) > 1}) > 1
    close = any(_TWO.search(cell) or (ragged and _AFTER_UNIT.search(cell)) for cell in figures)
    if sum(len(row) > 2 for row in wide) * 2 > len(lines) and not close:
        return wide
    return [_by_spaces(line.strip()) for line in lines]


def _cut(line: str, mark: str) -> list[str]:
    if mark == "|":
        return [cell.strip() for cell in line.strip().strip("|").split("|")]
    return [cell.strip() for cell in next(csv.reader([line], delimiter=mark, skipinitialspace=True), [])]


def _by_spaces(line: str) -> list[str]:
    """Words first, then figures; a fraction belongs to the whole number before it."""
    tokens = line.split()
    if re.fullmatch(r"sizes?|sz", tokens[0], re.IGNORECASE):
        return tokens
    start = next((n for n, token in enumerate(tokens) if token[0].isdigit() and n), len(tokens))
    cells = [" ".join(tokens[:start])]
    for token in tokens[start:]:
        joined = _FRACTION.fullmatch(token) and cells[-1].isdigit() and len(cells) > 1
        follows = token.strip(".").lower() in _UNIT_WORDS and len(cells) > 1
        if joined or follows:
            cells[-1] += f" {token}"
        else:
            cells.append(token)
    return cells


def _is_head(row: list[str]) -> bool:
    """Whether a line names the sizes: it says so, or it holds cells and is no measure."""
    first = row[0].strip().lower()
    filled = [cell for cell in row[1:] if cell.strip()]
    if not filled:
        return False
    said = re.match(r"(?:sizes?|sz|gr)\b", first) is not None
    across = sum(find_level(cell) is not None for cell in filled) * 2 > len(filled)
    return said or across or _level(first) is None


def _labels(row: list[str]) -> tuple[tuple[str, ...], int]:
    """The labels, and in which column they begin: after the names, and after a column of units if any."""
    at = 2 if len(row) > 2 and row[1].strip().lower().strip("()") in ("unit", "units") else 1
    cells = row[at:]
    while cells and not cells[-1].strip():
        cells = cells[:-1]
    labels = [_LABEL_NOISE.sub("", _NUMBER_GAP.sub(" ", cell)).strip() for cell in cells]
    if any(not label for label in labels) or len(set(labels)) != len(labels):
        raise _unreadable("A size has no label, or two have the same.")
    return tuple(labels), at


def _turned(grid: _Grid) -> _Grid:
    """Sizes down the side: the heads are the measures."""
    labels = tuple(_LABEL_NOISE.sub("", name).strip() for name, _ in grid.rows)
    if any(not label for label in labels) or len(set(labels)) != len(labels):
        raise _unreadable("A size has no label, or two have the same.")
    cells = [_filled(row, len(grid.labels)) for _, row in grid.rows]
    rows = tuple((head, [row[n] for row in cells]) for n, head in enumerate(grid.labels))
    return _Grid(labels, rows, grid.unit, grid.problems)


def _filled(cells: Sequence[str], n: int) -> list[str]:
    return [*cells, *[""] * (n - len(cells))][:n]


def _unit_of(words: str, default: Unit) -> Unit:
    """The unit that words name; 'in' before another unit is no inch."""
    found = _UNIT_IN.search(_IN_CM.sub(" ", words))
    return _UNIT_WORDS.get(found[1].lower(), default) if found else default


def _unreadable(why: str) -> ShelfError:
    return ShelfError(
        f"This cannot be read as a table. {why}",
        where="table",
        mend="Give a first line with the sizes and a line for each measure, cells parted by tabs or commas.",
    )


def spans(row: Row) -> tuple[Span, ...]:
    """The cells that are filled."""
    return tuple(cell for cell in row if cell is not None)
