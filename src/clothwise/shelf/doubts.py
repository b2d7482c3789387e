"""What looks like a slip in a bought pattern's charts. Doubts are shown; nothing is corrected.

step      from one size to the next, of the same level [cm]
as read   a chart keeps the figure it was given, even a doubted one
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median
from typing import Literal

from clothwise.body import definition
from clothwise.body.slips import turned
from clothwise.shelf.levels import level
from clothwise.shelf.pattern import BoughtPattern, Row, Span
from clothwise.units import INCH

DoubtKind = Literal[
    "not rising", "inches among centimetres", "centimetres among inches", "impossible", "uneven step",
    "smaller than the body", "uneven ease", "a child's", "digits turned",
]  # fmt: skip

UNEVEN = 2.5  # times the usual step of its row: a step beyond it is a slip more often than a design
UNEVEN_LEAST = 4.0  # cm: a step that differs less from the usual is rounding between sizes
EASE_OFF = 4.0  # cm: the ease of one size may stray this much from that of the others
UNIT_NEAR = 0.12  # share: a figure turned into the other unit falls this near to its neighbours' line
NEAR_ROW = 0.35  # share: an impossible figure in the other unit lies this near to the rest of its row
SMALLEST_BABY = 45.0  # cm of height: the smallest clothes that are sold
BABY_HEIGHT = (1.2, 1.75)  # times the chest: newborn 1.35, at two years 1.7; in inches beside cm far below
PLAUSIBLE_MORE = 1.05  # the vocabulary's range of bodies, and a little: charts end where bodies do


OTHER_UNITS: tuple[tuple[DoubtKind, float], ...] = (
    ("inches among centimetres", INCH),
    ("centimetres among inches", 1 / INCH),
)


@dataclass(frozen=True, slots=True)
class ChartDoubt:
    """One doubt. `view` '' stands for all views or the body chart.

    size       '' for a whole row; `found` is then its first figure
    found      the doubted figure [cm]; other: what it is held against [cm]
    """

    kind: DoubtKind
    table: Literal["body chart", "finished"]
    level: str
    size: str = ""
    view: str = ""
    found: float = 0.0
    other: float = 0.0

    @property
    def grave(self) -> bool:
        """Whether a size told from this figure cannot be trusted."""
        return self.kind not in ("uneven step", "uneven ease")


def doubts(pattern: BoughtPattern) -> tuple[ChartDoubt, ...]:
    """All doubts about the charts of a pattern, in the order of its rows."""
    if _of_a_child(pattern):
        name = next(iter(pattern.body))
        return (ChartDoubt("a child's", "body chart", name),)
    found = [*_table_doubts(pattern, "body chart", "", pattern.body)]
    for view, rows in pattern.finished.items():
        found += _table_doubts(pattern, "finished", view, rows)
        found += _against_body(pattern, view, rows)
    return tuple(found)


def _of_a_child(pattern: BoughtPattern) -> bool:
    """Whether an adult's chart holds what only children measure, from its smallest size on.

    What lies in the midst of figures that adults measure is a slip, and so is what its digits turned explain.
    """
    rows = {name: [cell for cell in row if cell] for name, row in pattern.body.items()}
    adult = {name: [_possible(pattern, name, "body chart", c) for c in row] for name, row in rows.items()}
    if pattern.figure in ("girl", "boy") or all(all(row) for row in adult.values()):
        return False
    if any(row != sorted(row) or _turned_digits(_numbered(rows[name])) for name, row in adult.items()):
        return False
    child = replace(pattern, figure="girl")
    return all(_possible(child, name, "body chart", cell) for name, row in rows.items() for cell in row)


def _numbered(cells: Iterable[Span]) -> list[tuple[str, Span]]:
    """Cells with any names for their sizes."""
    return [(str(at), cell) for at, cell in enumerate(cells)]


def _table_doubts(
    pattern: BoughtPattern, table: Literal["body chart", "finished"], view: str, rows: Mapping[str, Row]
) -> Iterator[ChartDoubt]:
    for name, row in rows.items():

        def doubt(
            kind: DoubtKind, size: str, found: float, other: float = 0.0, _name: str = name
        ) -> ChartDoubt:
            return ChartDoubt(kind, table, _name, size, view, found, other)

        cells = [(size, cell) for size, cell in zip(pattern.sizes, row, strict=True) if cell]
        whole = _whole_row(pattern, name, table, cells)
        if whole is not None:
            yield doubt(whole[0], "", cells[0][1].middle, cells[0][1].middle * whole[1])
            continue
        wrong_unit, digits = dict(_unit_slips(name, table, cells)), dict(_turned_digits(cells))
        for size, cell in cells:
            if size in digits:
                yield doubt("digits turned", size, cell.middle, digits[size])
            elif size in wrong_unit:
                factor = dict(OTHER_UNITS)[wrong_unit[size]]
                yield doubt(wrong_unit[size], size, cell.middle, cell.middle * factor)
            elif not _possible(pattern, name, table, cell):
                yield doubt(*_impossible(pattern, name, table, size, cell, cells))
        yield from _step_doubts([c for c in cells if c[0] not in wrong_unit and c[0] not in digits], doubt)


def _turned_digits(cells: list[tuple[str, Span]]) -> tuple[tuple[str, float], ...]:
    """The one cell off the line of its row that falls into it once two neighbouring digits are turned about.

    Of several that would, the one that leaves the most even steps; none where no row comes in order so.
    """
    figures, found = [cell.middle for _, cell in cells], []
    for at, (size, cell) in enumerate(cells):
        others = figures[:at] + figures[at + 1 :]
        steps = [after - before for before, after in pairwise(others)]
        if cell.low != cell.high or len(others) < 2 or any(step < 0 for step in steps):
            continue
        least = others[at - 1] if at else others[0] - UNEVEN * steps[0] - 1
        most = others[at] if at < len(others) else others[-1] + UNEVEN * steps[-1] + 1
        if least <= figures[at] <= most:
            continue
        told = [other * unit for unit in (1.0, INCH) for other in turned(round(figures[at] / unit, 2))]
        for other in told:
            if least <= other <= most:
                row = [*figures[:at], other, *figures[at + 1 :]]
                found.append((_unevenness(row), size, other))
    return tuple((size, other) for _, size, other in sorted(found)[:1])


def _unevenness(row: list[float]) -> float:
    """From the smallest to the largest step. [cm]"""
    steps = [after - before for before, after in pairwise(row)]
    return max(steps) - min(steps)


def _impossible(
    pattern: BoughtPattern, name: str, table: str, size: str, cell: Span, cells: list[tuple[str, Span]]
) -> tuple[DoubtKind, str, float, float]:
    """A figure that cannot be: in the other unit it may lie with the rest of its row."""
    sound = [one.middle for _, one in cells if _possible(pattern, name, table, one)]
    for kind, factor in OTHER_UNITS:
        if sound and abs(cell.middle * factor / median(sound) - 1) < NEAR_ROW:
            return kind, size, cell.middle, cell.middle * factor
    return "impossible", size, cell.middle, 0.0


def _whole_row(
    pattern: BoughtPattern, name: str, table: str, cells: list[tuple[str, Span]]
) -> tuple[DoubtKind, float] | None:
    """Whether every figure of a row is impossible as it stands and possible in the other unit."""
    if not cells or any(_possible(pattern, name, table, cell) for _, cell in cells):
        return None
    for kind, factor in OTHER_UNITS:
        other = [Span(cell.low * factor, cell.high * factor) for _, cell in cells]
        if all(_possible(pattern, name, table, cell) for cell in other):
            return kind, factor
    return None


def _unit_slips(name: str, table: str, cells: list[tuple[str, Span]]) -> Iterator[tuple[str, DoubtKind]]:
    """Cells that fall in line once they are read in the other unit."""
    for at, (size, cell) in enumerate(cells):
        others = [c.middle for n, (_, c) in enumerate(cells) if n != at]
        if len(others) < 2:
            continue
        expected = _line(at, [(n, c.middle) for n, (_, c) in enumerate(cells) if n != at])
        for kind, factor in OTHER_UNITS:
            if abs(cell.middle * factor / expected - 1) < UNIT_NEAR:
                yield size, kind


def _line(at: int, others: list[tuple[int, float]]) -> float:
    """What the row's other cells make likely here: between the neighbours, else the nearest."""
    middle = median(value for _, value in others)
    near = [value for n, value in others if abs(n - at) == 1]
    value = median(near) if near else middle
    return value if abs(value / middle - 1) < 0.5 else middle


def _possible(pattern: BoughtPattern, name: str, table: str, cell: Span) -> bool:
    """Whether a body could measure this, and a garment not be wildly off it."""
    one = level(name)
    if not one.body:
        return cell.low > 1 and cell.high < 1000
    if name == "height" and table == "body chart" and _babys_height(pattern, cell):
        return True
    low, high = definition(one.body).plausible(pattern.figure)
    if table == "finished":
        low, high = low * 0.4, high * 2.5  # shorts and negative ease below, wide shapes above
    return low / PLAUSIBLE_MORE <= cell.low and cell.high <= high * PLAUSIBLE_MORE


def _babys_height(pattern: BoughtPattern, cell: Span) -> bool:
    """Whether a height below that of any surveyed child goes with the chest of its size, as a baby's does."""
    heights = pattern.body["height"]
    chest = pattern.body.get("bust")
    if pattern.figure not in ("girl", "boy") or chest is None or cell not in heights:
        return False
    beside = chest[heights.index(cell)]
    if beside is None or not _possible(pattern, "bust", "body chart", beside):
        return False
    least, most = BABY_HEIGHT
    return cell.low >= SMALLEST_BABY and least <= cell.middle / beside.middle <= most


def _step_doubts(cells: list[tuple[str, Span]], doubt: Callable[..., ChartDoubt]) -> Iterator[ChartDoubt]:
    steps = [b.middle - a.middle for (_, a), (_, b) in pairwise(cells)]
    usual = median(steps) if steps else 0.0
    for (_, before), (size, here), step in zip(cells, cells[1:], steps, strict=False):
        if step < 0:
            yield doubt("not rising", size, here.middle, before.middle)
        elif len(steps) > 2 and step > UNEVEN * max(usual, 0.0) and step - usual > UNEVEN_LEAST:
            yield doubt("uneven step", size, step, usual)


def _against_body(pattern: BoughtPattern, view: str, rows: Mapping[str, Row]) -> Iterator[ChartDoubt]:
    for name, row in rows.items():
        one = level(name)
        if one.kind != "girth" or name not in pattern.body or name in pattern.elastic:
            continue  # an edge drawn in by elastic has no ease of its own
        both = [
            (size, made.middle, body.low)
            for size, made, body in zip(pattern.sizes, row, pattern.body[name], strict=True)
            if made and body
        ]
        usual = median(made - body for _, made, body in both) if both else 0.0
        for size, made, body in both:
            if pattern.make == "woven" and made < body:
                yield ChartDoubt("smaller than the body", "finished", name, size, view, made, body)
            elif len(both) > 2 and abs(made - body - usual) > EASE_OFF:
                yield ChartDoubt("uneven ease", "finished", name, size, view, made - body, usual)
