"""A pattern's charts completed, level by level, with the grade carried on beyond both ends.

    place   number of a size along the chart: 0 for the first; below 0 and beyond the last lie sizes that
            the paper does not hold
    grade   growth from one size to the next [cm]
    intended  finished less chart: the ease the maker meant [cm]

A gap is filled from its neighbours. A row that is missing is made from the other row and the usual ease
of the fit class, and says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from clothwise.errors import ShelfError
from clothwise.shelf.levels import level as level_of
from clothwise.shelf.pattern import BoughtPattern, Row
from clothwise.size.advice import EaseOfSize

BEYOND = 4  # sizes the grade is carried on at either end; further out no grade holds
USUAL_GRADE = 4.0  # cm: girth from size to size when the chart does not tell (T)
USUAL_GRADE_LENGTH = 0.5  # cm: the same for lengths of adults (T)


@dataclass(frozen=True, slots=True)
class Graded:
    """One level over all places, `-beyond` to the last and `beyond` more. [cm]

    charted, printed   places at which the body chart, the finished measures were really given
    filled             some cell between was filled in from its neighbours
    """

    level: str
    beyond: int
    chart: tuple[float, ...]
    finished: tuple[float, ...]
    charted: frozenset[int]
    printed: frozenset[int]

    def chart_at(self, place: int) -> float:
        return self.chart[place + self.beyond]

    def finished_at(self, place: int) -> float:
        return self.finished[place + self.beyond]

    def intended_at(self, place: int) -> float:
        return self.finished_at(place) - self.chart_at(place)

    @property
    def places(self) -> range:
        return range(-self.beyond, len(self.chart) - self.beyond)

    @property
    def grade(self) -> float:
        """Usual growth from size to size, never nothing."""
        steps = [b - a for a, b in pairwise(self.finished) if b > a]
        return float(np.median(steps)) if steps else USUAL_GRADE


def label(pattern: BoughtPattern, place: int) -> str:
    """'14', or '2 sizes beyond 22'."""
    n = len(pattern.sizes)
    if 0 <= place < n:
        return pattern.sizes[place]
    by = -place if place < 0 else place - n + 1
    sizes = "1 size" if by == 1 else f"{by} sizes"
    return f"{sizes} below {pattern.sizes[0]}" if place < 0 else f"{sizes} beyond {pattern.sizes[-1]}"


def place_of(pattern: BoughtPattern, size: str) -> int:
    """The number of a size, one beyond the chart included ('2 sizes beyond 22')."""
    if size in pattern.sizes:
        return pattern.sizes.index(size)
    by, _, rest = size.partition(" size")
    if by.isdigit() and rest:
        return -int(by) if " below " in rest else len(pattern.sizes) - 1 + int(by)
    raise ShelfError(
        f"There is no size '{size}'.",
        where=f"pattern '{pattern.name}'",
        mend=f"It has {', '.join(pattern.sizes)}.",
    )


def eases(row: Graded, pattern: BoughtPattern, base: float, place: int) -> tuple[EaseOfSize, ...]:
    """What each size of the chart gives over a measure, and those beyond it as far as `place`."""
    last = len(pattern.sizes) - 1
    return tuple(
        EaseOfSize(
            label(pattern, p),
            row.finished_at(p) - base,
            row.finished_at(p),
            row.chart_at(p),
            on_chart(pattern, p),
            p in row.printed,
        )
        for p in row.places
        if min(place, 0) <= p <= max(place, last)
    )


def on_chart(pattern: BoughtPattern, place: int) -> bool:
    return 0 <= place < len(pattern.sizes)


def graded(pattern: BoughtPattern, view: str, level: str, usual: float | None) -> Graded | None:
    """One level completed; None when nothing can be said of it.

    usual   ease to assume where body chart or finished measures are missing; None: assume none
    """
    n = len(pattern.sizes)
    blank: Row = (None,) * n
    body = _middles(pattern.body.get(level, blank))
    made = _middles(pattern.finished_of(view).get(level, blank))
    charted = frozenset(p for p, value in enumerate(body) if value is not None)
    printed = frozenset(p for p, value in enumerate(made) if value is not None)
    if not charted and not printed:
        return None
    ease = [m - b if m is not None and b is not None else None for m, b in zip(made, body, strict=True)]
    if any(e is not None for e in ease):
        full_ease = _filled(ease, 0.0)
    elif usual is not None:
        full_ease = [usual] * n
    else:
        return None
    body = [b if b is not None else _less(m, e) for b, m, e in zip(body, made, full_ease, strict=True)]
    chart = _filled(body, USUAL_GRADE if level_of(level).kind == "girth" else USUAL_GRADE_LENGTH)
    finished = [m if m is not None else c + e for m, c, e in zip(made, chart, full_ease, strict=True)]
    beyond = BEYOND if n > 1 else 0
    return Graded(level, beyond, _carried_on(chart, beyond), _carried_on(finished, beyond), charted, printed)


def plain_row(pattern: BoughtPattern, view: str, level: str) -> tuple[float | None, ...]:
    """Finished measures of a level that no body measure stands behind, as printed. [cm]"""
    return tuple(_middles(pattern.finished_of(view).get(level, (None,) * len(pattern.sizes))))


def _middles(row: Row) -> list[float | None]:
    return [None if cell is None else cell.middle for cell in row]


def _less(made: float | None, ease: float) -> float | None:
    return None if made is None else made - ease


def _filled(row: Sequence[float | None], grade: float) -> list[float]:
    """Gaps filled along straight lines, beyond the known ends by the usual step, else `grade`."""
    known = [(p, value) for p, value in enumerate(row) if value is not None]
    steps = [(b - a) / (q - p) for (p, a), (q, b) in pairwise(known)]
    step = float(np.median(steps)) if steps else grade
    places, values = [p for p, _ in known], [value for _, value in known]
    filled = np.interp(range(len(row)), places, values)
    for p in range(len(row)):
        if p < places[0]:
            filled[p] = values[0] - (places[0] - p) * step
        elif p > places[-1]:
            filled[p] = values[-1] + (p - places[-1]) * step
    return [float(value) for value in filled]


def _carried_on(row: Sequence[float], beyond: int) -> tuple[float, ...]:
    """The row with the mean of its last two steps repeated at either end: one odd step counts half."""
    if not beyond:
        return tuple(row)
    steps = [b - a for a, b in pairwise(row)]
    low, high = float(np.mean(steps[:2])), float(np.mean(steps[-2:]))
    below = [row[0] - k * low for k in range(beyond, 0, -1)]
    above = [row[-1] + k * high for k in range(1, beyond + 1)]
    return (*below, *row, *above)
