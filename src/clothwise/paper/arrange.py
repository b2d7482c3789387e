"""Pieces arranged on the grid of sheets so that few sheets are needed.

On paper a piece may be turned freely by quarters; large ones straddle joins, small ones fill. A raster of small
cells holds what is taken; a correlation tells at once every place where a piece still fits, and how many fresh
sheets it would touch there. Several orders and grids are tried; the fewest sheets win, then the smaller grid.
No chance and no clock: same pieces, same arrangement.

    cells   whole numbers of cells make one pitch, so the sheet pattern repeats from sheet to sheet
    free    [row, column] of a piece's lower left cell: it fits there
    fresh   [row, column]: sheets it would touch that are not yet in use
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

import numpy as np
from numpy.typing import NDArray
from scipy import fft
from shapely import Polygon

from clothwise.curve import Point
from clothwise.paper.drawing import Carry, Turn, box_of
from clothwise.paper.grid import RIM, Grid, needed
from clothwise.paper.room import raster
from clothwise.paper.sheets import Sheet

CELL = 0.5  # cm, about: side of a cell
APART = 0.3  # cm between cutting lines, room for scissors
TURNS: tuple[Turn, ...] = (0, 90, 180, 270)
TRIES = 8  # grids x orders looked at; what more tries save is in benchmarks/paper.py
SPARE_ROWS = 2  # rows of sheets beyond what the best so far would need: no better arrangement reaches farther
MOST_ORDERS = 6  # orders of the pieces tried on each grid
MOST_COLUMNS = 12  # a taped paper wider than this is not handled on a table

Bits = NDArray[np.bool_]
Numbers = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Where each outline lies on the taped paper, and the grid that holds them all.

    plain  sheets that the pieces would need side by side as drawn, for comparison
    """

    grid: Grid
    carries: tuple[Carry, ...]
    plain: int


def arranged(outlines: Sequence[Sequence[Point]], sheet: Sheet, *, tries: int = TRIES) -> Arrangement:
    """The outlines on as few sheets as the search finds. Never more than side by side."""
    best = min((_side_by_side(outlines, way) for way in sheet.orientations()), key=_cost)
    plain = len(best.grid.tiles)
    least = min(_least(outlines, way) for way in sheet.orientations())
    masks = {way: [_masks(outline, _cell(way)) for outline in outlines] for way in sheet.orientations()}
    for number, (way, columns, order) in enumerate(_plans(outlines, sheet)):
        if number >= tries or len(best.grid.tiles) <= least:
            break
        found = _placed(outlines, masks[way], way, columns, order, len(best.grid.tiles))
        if found is not None and _cost(found) < _cost(best):
            best = found
    return Arrangement(best.grid, best.carries, plain)


def _cost(arrangement: Arrangement) -> tuple[int, int, int]:
    grid = arrangement.grid
    return len(grid.tiles), grid.rows * grid.columns, grid.rows + grid.columns


def _least(outlines: Sequence[Sequence[Point]], sheet: Sheet) -> int:
    """No arrangement can do with fewer: the area alone fills these."""
    across, up = sheet.window
    area: float = sum(Polygon(outline).area for outline in outlines)
    return math.ceil(area / (across * up))


# ---- the plain way ---------------------------------------------------------------------------------


def _side_by_side(outlines: Sequence[Sequence[Point]], sheet: Sheet) -> Arrangement:
    """One row, as drawn, each beside the last."""
    carries: list[Carry] = []
    x, top = RIM, 0.0
    for outline in outlines:
        left, bottom, right, high = box_of(outline)
        carries.append(Carry(0, x - left, RIM - bottom))
        x += right - left + APART
        top = max(top, high - bottom)
    return _made(outlines, sheet, carries, _count(x, sheet, 0), _count(top + 2 * RIM, sheet, 1))


def _count(length: float, sheet: Sheet, axis: int) -> int:
    """Windows that cover this length."""
    return max(1, math.ceil((length - sheet.window[axis]) / sheet.pitch[axis]) + 1)


def _made(
    outlines: Sequence[Sequence[Point]], sheet: Sheet, carries: Sequence[Carry], columns: int, rows: int
) -> Arrangement:
    lying = [[carry(p) for p in outline] for carry, outline in zip(carries, outlines, strict=True)]
    grid = needed(Grid(sheet, rows, columns), lying)
    return Arrangement(grid, tuple(carries), len(grid.tiles))


# ---- the search ------------------------------------------------------------------------------------


def _plans(outlines: Sequence[Sequence[Point]], sheet: Sheet) -> Iterator[tuple[Sheet, int, tuple[int, ...]]]:
    """Grids and orders, the likeliest first: every grid with the largest piece first, then other orders."""
    orders = _orders(outlines)
    grids = [(way, columns) for way in sheet.orientations() for columns in _columns(outlines, way)]
    for order in orders:
        for way, columns in grids:
            yield way, columns, order


def _columns(outlines: Sequence[Sequence[Point]], sheet: Sheet) -> list[int]:
    """Widths worth trying: from the narrowest that takes every piece to about the longest piece."""
    boxes = [box_of(outline) for outline in outlines]
    narrow = max(min(right - left, top - bottom) for left, bottom, right, top in boxes)
    long = max(max(right - left, top - bottom) for left, bottom, right, top in boxes)
    first, last = _count(narrow + 2 * APART, sheet, 0), _count(long + 2 * APART, sheet, 0)
    return list(range(first, min(max(last, first + 1), MOST_COLUMNS) + 1))


def _orders(outlines: Sequence[Sequence[Point]]) -> list[tuple[int, ...]]:
    areas = [Polygon(outline).area for outline in outlines]
    by_area = sorted(range(len(outlines)), key=lambda i: (-areas[i], i))
    if len(outlines) <= 3:
        return list(permutations(by_area))[:MOST_ORDERS]
    spans = [max(b[2] - b[0], b[3] - b[1]) for b in map(box_of, outlines)]
    by_span = sorted(range(len(outlines)), key=lambda i: (-spans[i], i))
    swapped = [by_area[1], by_area[0], *by_area[2:]]
    return list(dict.fromkeys((tuple(by_area), tuple(by_span), tuple(swapped))))[:MOST_ORDERS]


def _cells(sheet: Sheet) -> tuple[int, int]:
    """Cells across and up one pitch."""
    return round(sheet.pitch[0] / CELL), round(sheet.pitch[1] / CELL)


def _cell(sheet: Sheet) -> tuple[float, float]:
    """Width and height of a cell. [cm]"""
    across, up = _cells(sheet)
    return sheet.pitch[0] / across, sheet.pitch[1] / up


@dataclass(frozen=True, slots=True)
class _Mask:
    """A turned piece as cells. The carry puts the piece's cell corner on the origin."""

    carry: Carry
    cells: Bits


def _placed(
    outlines: Sequence[Sequence[Point]],
    masks: Sequence[Sequence[_Mask]],
    sheet: Sheet,
    columns: int,
    order: Sequence[int],
    best: int,
) -> Arrangement | None:
    """One try: each piece in turn where it touches the fewest fresh sheets, then lowest, then leftmost."""
    plane = _Plane(sheet, columns, math.ceil(best / columns) + SPARE_ROWS)
    carries: list[Carry] = [Carry()] * len(outlines)
    for index in order:
        carry = plane.take(masks[index])
        if carry is None:
            return None
        carries[index] = carry
    lying = [box_of([carry(p) for p in outline]) for carry, outline in zip(carries, outlines, strict=True)]
    low = min(b[1] for b in lying) - RIM
    settled = [Carry(c.turn, c.dx, c.dy - low) for c in carries]
    rows = _count(max(b[3] for b in lying) - low + RIM, sheet, 1)
    return _made(outlines, sheet, settled, columns, rows)


class _Plane:
    """What is taken so far: cells, and sheets in use. Rows run upwards."""

    def __init__(self, sheet: Sheet, columns: int, rows: int) -> None:
        self.cell = _cell(sheet)
        self.per_column, self.per_row = _cells(sheet)
        self.columns = columns
        width = (columns - 1) * sheet.pitch[0] + sheet.window[0]
        self.taken = np.zeros((rows * self.per_row, int(width / self.cell[0])), dtype=bool)
        self.used = np.zeros((rows, columns), dtype=bool)
        self.shape = [fft.next_fast_len(n, real=True) for n in self.taken.shape]

    def take(self, masks: Sequence[_Mask]) -> Carry | None:
        """Places the piece and returns how it lies; None where it does not fit."""
        taken = fft.rfft2(self.taken.astype(np.float32), self.shape)
        best: tuple[tuple[float, int, int], _Mask] | None = None
        for mask in masks:
            found = self._best(mask, taken)
            if found is not None and (best is None or found < best[0]):
                best = found, mask
        if best is None:
            return None
        (_, row, column), mask = best
        high, wide = mask.cells.shape
        self.taken[row : row + high, column : column + wide] |= mask.cells
        self._use(mask, row, column)
        return Carry(mask.carry.turn, mask.carry.dx + column * self.cell[0], mask.carry.dy + row * self.cell[1])

    def _best(self, mask: _Mask, taken: NDArray[np.complexfloating]) -> tuple[float, int, int] | None:
        """Fewest fresh sheets, then the lowest row, then the leftmost column."""
        high, wide = mask.cells.shape
        rows, columns = self.taken.shape[0] - high + 1, self.taken.shape[1] - wide + 1
        if rows <= 0 or columns <= 0:
            return None
        piece = fft.rfft2(mask.cells.astype(np.float32), self.shape)
        overlap = fft.irfft2(taken * np.conj(piece), self.shape)[:rows, :columns]
        fresh = self._fresh(mask, rows, columns)
        fresh[overlap > 0.5] = np.inf
        place = int(np.argmin(fresh))
        row, column = divmod(place, columns)
        return None if np.isinf(fresh[row, column]) else (float(fresh[row, column]), row, column)

    def _fresh(self, mask: _Mask, rows: int, columns: int) -> Numbers:
        """Sheets not yet in use that the piece would touch, for each place of its lower left cell."""
        n, m = self.per_row, self.per_column
        touches = _window_any(mask.cells, n, m)
        beyond = np.maximum.accumulate(touches[:, ::-1], axis=1)[:, ::-1]  # the last column keeps its overlap
        high, wide = mask.cells.shape
        count = np.zeros((rows, columns), dtype=np.float32)
        for i, j in zip(*np.nonzero(~self.used), strict=True):
            # touched at (r, c) when any cell lies in rows [i*n - r, i*n - r + n) and likewise across
            low_r, high_r = max(0, i * n - high + 1), min(rows, (i + 1) * n)
            low_c, high_c = max(0, j * m - wide + 1), min(columns, self._right(j))
            if low_r >= high_r or low_c >= high_c:
                continue
            table = beyond if j == self.columns - 1 else touches
            up = _down_slice((i + 1) * n - 1 - low_r, high_r - low_r)
            across = _down_slice((j + 1) * m - 1 - low_c, high_c - low_c)
            count[low_r:high_r, low_c:high_c] += table[up, across]
        return count

    def _right(self, column: int) -> int:
        """First cell beyond a column; the last column has its overlap to itself."""
        return self.taken.shape[1] if column == self.columns - 1 else (column + 1) * self.per_column

    def _use(self, mask: _Mask, row: int, column: int) -> None:
        up, across = np.nonzero(mask.cells)
        columns = np.minimum((across + column) // self.per_column, self.columns - 1)
        self.used[(up + row) // self.per_row, columns] = True


def _down_slice(first: int, length: int) -> slice:
    """first, first - 1, ... `length` of them."""
    stop = first - length
    return slice(first, stop if stop >= 0 else None, -1)


def _window_any(cells: Bits, n: int, m: int) -> Bits:
    """[a, b]: is any cell set in rows a-n+1 .. a and columns b-m+1 .. b? Windows may hang over the rim."""
    high, wide = cells.shape
    sums = np.zeros((high + 2 * n - 1, wide + 2 * m - 1), dtype=np.int32)
    sums[n : n + high, m : m + wide] = cells
    sums = sums.cumsum(axis=0).cumsum(axis=1)
    window = sums[n:, m:] - sums[:-n, m:] - sums[n:, :-m] + sums[:-n, :-m]
    return np.asarray(window > 0)


def _masks(outline: Sequence[Point], cell: tuple[float, float]) -> tuple[_Mask, ...]:
    """The piece in each quarter turn, grown by half the gap, as the cells it touches; equal ones once."""
    grown = Polygon(outline).buffer(APART / 2, join_style="mitre").simplify(APART / 6)
    ring = [Point(x, y) for x, y in grown.exterior.coords[:-1]]
    found: dict[bytes, _Mask] = {}
    for turn in TURNS:
        lying = [Carry(turn)(p) for p in ring]
        left, bottom, _, _ = box_of(lying)
        cells = raster([Point((p.x - left) / cell[0], (p.y - bottom) / cell[1]) for p in lying])
        key = bytes(str(cells.shape), "ascii") + cells.tobytes()
        found.setdefault(key, _Mask(Carry(turn, -left, -bottom), cells))
    return tuple(found.values())
