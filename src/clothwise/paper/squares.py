"""Test squares in cm and inches, set on every sheet where they cover the least."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import uniform_filter

from clothwise.curve import Point
from clothwise.paper.drawing import Box, Carry, Drawing, Item, Stroke, Words, rectangle
from clothwise.paper.room import bar
from clothwise.units import INCH

CM_SQUARE = 5.0  # cm
INCH_SQUARE = 2 * INCH  # cm
CELL = 0.25  # cm: raster on which ink is counted
ON_WORDS = 12.0  # times worse to cover a cell of words than a cell of a line
ON_RIM = 3.0  # cost of a cell near the window's edge, where the join marks are
ON_FREE_RIM = 0.5  # the same along an edge that meets no other sheet
RIM = 0.7  # cm: that near
ON_MIDDLE = 3.0  # times worse in the middle of a square, where its words stand
NEVER = 1e6  # cost of a cell that must stay free
CLEAR = 0.5  # cm round a line that a square had better not enter
CLOSE = 0.3  # of a line's cost falls there
APART = 0.4  # cm between the two squares
FLAT = 0.05  # cm: lines are flattened this coarsely for counting ink

Ink = NDArray[np.float64]
Side = Literal["left", "right", "above", "below"]
ALL_SIDES: frozenset[Side] = frozenset(("left", "right", "above", "below"))


@dataclass(frozen=True, slots=True)
class InkMap:
    """How much is printed in each cell of the taped paper: [row, column] from its lower left corner."""

    ink: Ink

    def of(self, window: Box, overlap: float, joined: frozenset[Side] = ALL_SIDES) -> Ink:
        """The cells of one window; dear along edges that meet a neighbour and in the strips it covers, a little
        along the others, so that no side of a square lies on the frame."""
        left, bottom = round(window[0] / CELL), round(window[1] / CELL)
        part = np.zeros((int((window[3] - window[1]) / CELL), int((window[2] - window[0]) / CELL)))
        top, right = bottom + part.shape[0], left + part.shape[1]
        held = self.ink[max(bottom, 0) : top, max(left, 0) : right]
        part[: held.shape[0], : held.shape[1]] = held
        n, covered = round(RIM / CELL), round((RIM + overlap) / CELL)
        rims: Mapping[Side, tuple[slice, slice]] = {
            "below": np.s_[: covered if "below" in joined else n, :],
            "above": np.s_[-n:, :],
            "left": np.s_[:, :n],
            "right": np.s_[:, -(covered if "right" in joined else n) :],
        }
        for side, rim in rims.items():
            part[rim] += ON_RIM if side in joined else ON_FREE_RIM
        return part

    def under(self, at: Point, reach: float) -> float:
        """Ink in the box that reaches so far from a point of the taped paper. [cells]"""
        left, bottom = (max(int((v - reach) / CELL), 0) for v in at)
        right, top = (int((v + reach) / CELL) + 1 for v in at)
        return float(self.ink[bottom:top, left:right].sum())


def ink_map(size: tuple[float, float], placed: Iterable[tuple[Drawing, Carry]]) -> InkMap:
    """Counts what the placed drawings print. size of the taped paper [cm]"""
    rows, columns = (int(v / CELL) + 2 for v in (size[1], size[0]))
    free, quiet = np.ones((rows, columns), dtype=bool), np.ones((rows, columns), dtype=bool)
    for drawing, carry in placed:
        drawn = [item.path.flattened(tolerance=FLAT) for item in drawing if not isinstance(item, Words)]
        bar(free, _carried(drawn, carry), 0.0, 0.0, CELL)
        hatched = [line for words in drawing.words() for line in _hatched(words)]
        bar(quiet, _carried(hatched, carry), 0.0, 0.0, CELL)
    return InkMap((~free).astype(np.float64) + ON_WORDS * ~quiet)


def _carried(lines: Iterable[Sequence[Point]], carry: Carry) -> list[Ink]:
    """The lines as they lie on the taped paper, one point a row."""
    c, s = carry.cos_sin
    turn = np.array([[c, s], [-s, c]], dtype=np.float64)
    return [np.asarray(line, dtype=np.float64) @ turn + (carry.dx, carry.dy) for line in lines]


def _hatched(words: Words) -> Iterator[list[Point]]:
    """Lines that run through all of a text's box, one a cell."""
    a, b, c, d = words.corners(CELL / 2)
    n = max(2, int(a.distance(d) / CELL) + 2)
    for k in range(n):
        yield [a.between(d, k / (n - 1)), b.between(c, k / (n - 1))]


def square_places(ink: Ink) -> tuple[Point, Point]:
    """Lower left corners of the cm and the inch square, from the window's own: least ink, side by side."""
    spread = _spread(ink)
    cost = _cost(spread, CM_SQUARE)
    one = _lowest(cost + NEVER * ~_leaves_room(cost.shape, ink.shape))
    rest = spread.copy()
    n, gap = _cells(CM_SQUARE), _cells(APART)
    rest[max(one[0] - gap, 0) : one[0] + n + gap, max(one[1] - gap, 0) : one[1] + n + gap] += NEVER
    cost = _cost(rest, INCH_SQUARE)
    row, column = np.indices(cost.shape)
    other = _lowest(cost + (np.abs(row - one[0]) + np.abs(column - one[1])) / sum(ink.shape))
    return Point(one[1] * CELL, one[0] * CELL), Point(other[1] * CELL, other[0] * CELL)


def _leaves_room(places: tuple[int, ...], window: tuple[int, ...]) -> NDArray[np.bool_]:
    """Where the cm square may stand so that the inch square still fits beside, above or below it."""
    row, column = np.indices(places)
    taken, wanted = _cells(CM_SQUARE), _cells(APART) + _cells(INCH_SQUARE)
    above, beside = window[0] - row - taken, window[1] - column - taken
    return np.asarray((row >= wanted) | (above >= wanted) | (column >= wanted) | (beside >= wanted))


def _spread(ink: Ink) -> Ink:
    """Ink that also weighs a little on the cells round it: a square close beside a line is hard to measure."""
    n = 2 * round(CLEAR / CELL) + 1
    return ink + CLOSE * uniform_filter(ink, size=n, mode="constant") * n


def _cells(side: float) -> int:
    """Cells that hold a square of this side."""
    return int(-(-side // CELL))


def _cost(ink: Ink, side: float) -> Ink:
    """Ink that a square covers, for each place of its lower left cell; its middle counts more."""
    n = _cells(side)
    sums = np.zeros((ink.shape[0] + 1, ink.shape[1] + 1))
    sums[1:, 1:] = ink.cumsum(axis=0).cumsum(axis=1)
    return _boxes(sums, n, 0, n) + ON_MIDDLE * _boxes(sums, n, n // 4, n - n // 2)


def _lowest(cost: Ink) -> tuple[int, int]:
    """Row and column of the least cost; among equals the lowest, then the leftmost."""
    row, column = divmod(int(np.argmin(np.round(cost, 6))), cost.shape[1])
    return row, column


def _boxes(sums: Ink, n: int, inset: int, size: int) -> Ink:
    """Ink in boxes of `size` cells, set in by `inset` from where a square of n cells may begin."""
    high, wide = sums.shape[0] - n, sums.shape[1] - n
    low, far = inset, inset + size
    return np.asarray(
        sums[far : far + high, far : far + wide]
        - sums[low : low + high, far : far + wide]
        - sums[far : far + high, low : low + wide]
        + sums[low : low + high, low : low + wide]
    )


def square(corner: Point, side: float, lines: Sequence[tuple[str, float, bool]]) -> Iterator[Item]:
    """A square with lines of words in its middle: (text, size, bold), downwards."""
    yield Stroke(rectangle(corner.x, corner.y, corner.x + side, corner.y + side), "square", closed=True)
    high = sum(size * 1.35 for _, size, _ in lines)
    y = corner.y + side / 2 + high / 2
    for text, size, bold in lines:
        y -= size * 1.35
        fit = Words(text, Point(0, 0), size, bold=bold).width
        small = size * min(1.0, (side - 0.4) / fit) if fit else size
        yield Words(text, Point(corner.x + side / 2, y + size * 0.35), small, 0.0, "middle", "square", bold)


def both_squares(ink: Ink, origin: Point, sheet_name: str, whose: str) -> list[Item]:
    """Both squares of a sheet, the sheet's name in the inch square. origin: the window's corner on the page"""
    one, other = square_places(ink)
    cm = Point(origin.x + one.x, origin.y + one.y)
    inch = Point(origin.x + other.x, origin.y + other.y)
    return [
        *square(
            cm,
            CM_SQUARE,
            (("5 cm", 0.5, False), ("measure both ways,", 0.25, False), ("print at 100 %", 0.25, False)),
        ),
        *square(inch, INCH_SQUARE, ((sheet_name, 1.5, True), ("2 in", 0.35, False), (whose, 0.25, False))),
    ]
