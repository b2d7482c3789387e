"""The taped paper as a raster while pieces are arranged on it: what is taken, which sheets are in use.

A correlation (by Fourier transform) tells at once every place where a piece still fits; box sums tell how many
fresh sheets it would touch there. Rows run upwards, columns to the right.

    cell     a whole number of cells makes one pitch, so sheets begin at whole cells
    n, m     cells of one pitch, upwards and across
    mask     the cells that a piece covers in one of its quarter turns
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import fft
from shapely import Polygon

from clothwise.curve import Point
from clothwise.paper.drawing import Carry, Turn, box_of
from clothwise.paper.room import raster
from clothwise.paper.sheets import Sheet

CELL = 0.5  # cm, about: least side of a cell
MOST_CELLS = 60_000  # that all pieces cover; where there would be more, the cells are larger,
MOST_CELL = 1.0  # cm, up to this: on 20 pieces in ten sizes as few sheets, in a third of the time (2026-11)
MOST_KEPT = 2_000_000  # numbers of spectra kept for the second look: 16 MB, as much as all else here together
APART = 0.3  # cm between cutting lines, room for scissors
TURNS: tuple[Turn, ...] = (0, 90, 180, 270)

Bits = NDArray[np.bool_]
Numbers = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Mask:
    """A turned piece as cells.

    carry    puts the piece's cells against both axes
    touches  [a, b]: is any cell set in the sheet whose last row is a and last column is b?
    beyond   the same for the last column of sheets, which keeps its overlap to itself
    """

    carry: Carry
    cells: Bits
    touches: Bits
    beyond: Bits


def cell_for(area: float) -> float:
    """The side of a cell for pieces of that area together. [cm2 -> cm]"""
    return min(max(CELL, math.sqrt(area / MOST_CELLS)), MOST_CELL)


def cells_of(sheet: Sheet, cell: float = CELL) -> tuple[int, int]:
    """Cells across and up one pitch, each about as large as asked. [cm]"""
    return round(sheet.pitch[0] / cell), round(sheet.pitch[1] / cell)


def masks_of(outline: Sequence[Point], sheet: Sheet, cell: float = CELL) -> tuple[Mask, ...]:
    """The piece in each quarter turn, grown by half the gap, as the cells it touches; equal ones once."""
    m, n = cells_of(sheet, cell)
    across, up = sheet.pitch[0] / m, sheet.pitch[1] / n
    grown = Polygon(outline).buffer(APART / 2, join_style="mitre").simplify(APART / 6)
    ring = [Point(x, y) for x, y in grown.exterior.coords[:-1]]
    found: dict[bytes, Mask] = {}
    for turn in TURNS:
        lying = [Carry(turn)(p) for p in ring]
        left, bottom, _, _ = box_of(lying)
        cells = raster([Point((p.x - left) / across, (p.y - bottom) / up) for p in lying])
        key = bytes(str(cells.shape), "ascii") + cells.tobytes()
        if key not in found:
            touches = _window_any(cells, n, m)
            beyond = np.maximum.accumulate(touches[:, ::-1], axis=1)[:, ::-1]
            found[key] = Mask(Carry(turn, -left, -bottom), cells, touches, beyond)
    return tuple(found.values())


def _window_any(cells: Bits, n: int, m: int) -> Bits:
    """[a, b]: is any cell set in rows a-n+1 .. a and columns b-m+1 .. b? Windows may hang over the rim."""
    high, wide = cells.shape
    sums = np.zeros((high + 2 * n - 1, wide + 2 * m - 1), dtype=np.int32)
    sums[n : n + high, m : m + wide] = cells
    sums = sums.cumsum(axis=0).cumsum(axis=1)
    window = sums[n:, m:] - sums[:-n, m:] - sums[n:, :-m] + sums[:-n, :-m]
    return np.asarray(window > 0)


class Plane:
    """What is taken so far: cells, and sheets in use. `masks` of every piece, by its place in the garment."""

    def __init__(
        self, sheet: Sheet, columns: int, rows: int, masks: Sequence[Sequence[Mask]], cell: float = CELL
    ) -> None:
        self.sheet = sheet
        self.masks = masks
        self.per_column, self.per_row = cells_of(sheet, cell)
        self.cell = (sheet.pitch[0] / self.per_column, sheet.pitch[1] / self.per_row)
        self.columns = columns
        width = (columns - 1) * sheet.pitch[0] + sheet.window[0]
        self.taken = np.zeros((rows * self.per_row, int(width / self.cell[0])), dtype=bool)
        self.used = np.zeros((rows, columns), dtype=bool)
        self.shape = [fft.next_fast_len(n, real=True) for n in self.taken.shape]
        self.lying: dict[int, tuple[Mask, int, int]] = {}
        self.spectra: dict[tuple[int, int], NDArray[np.complexfloating]] = {}

    def take(self, index: int) -> bool:
        """Lays a piece where it touches the fewest fresh sheets, lowest, then leftmost; False where none."""
        taken = fft.rfft2(self.taken.astype(np.float32), self.shape) if self.lying else None
        best: tuple[tuple[float, int, int], Mask] | None = None
        for k, mask in enumerate(self.masks[index]):
            overlap = None if taken is None else taken * self._spectrum(index, k)
            found = self._best(mask, overlap)
            if found is not None and (best is None or found < best[0]):
                best = found, mask
        if best is None:
            return False
        (_, row, column), mask = best
        self.lying[index] = (mask, row, column)
        self._part(mask, row, column)[mask.cells] = True
        self._use(mask, row, column)
        return True

    def release(self, index: int) -> None:
        """Takes a piece up again."""
        mask, row, column = self.lying.pop(index)
        self._part(mask, row, column)[mask.cells] = False
        self.used[:] = False
        for other in self.lying.values():
            self._use(*other)

    def carry(self, index: int) -> Carry:
        """How a piece lies on the taped paper."""
        mask, row, column = self.lying[index]
        return Carry(mask.carry.turn, mask.carry.dx + column * self.cell[0], mask.carry.dy + row * self.cell[1])

    def sheets(self) -> int:
        """In use."""
        return int(self.used.sum())

    def _part(self, mask: Mask, row: int, column: int) -> Bits:
        high, wide = mask.cells.shape
        return self.taken[row : row + high, column : column + wide]

    def _spectrum(self, index: int, k: int) -> NDArray[np.complexfloating]:
        """Of a mask, turned round for correlation. Kept for the second look as far as memory allows."""
        if (index, k) in self.spectra:
            return self.spectra[index, k]
        cells = self.masks[index][k].cells.astype(np.float32)
        found = np.conj(fft.rfft2(cells, self.shape))
        if (len(self.spectra) + 1) * found.size <= MOST_KEPT:
            self.spectra[index, k] = found
        return found

    def _best(self, mask: Mask, overlap: NDArray[np.complexfloating] | None) -> tuple[float, int, int] | None:
        """Fewest fresh sheets, then the lowest row, then the leftmost column. `overlap` as a spectrum."""
        high, wide = mask.cells.shape
        rows, columns = self.taken.shape[0] - high + 1, self.taken.shape[1] - wide + 1
        if rows <= 0 or columns <= 0:
            return None
        fresh = self._fresh(mask, rows, columns)
        if overlap is not None:
            fresh[fft.irfft2(overlap, self.shape)[:rows, :columns] > 0.5] = np.inf
        place = int(np.argmin(fresh))
        row, column = divmod(place, columns)
        return None if math.isinf(fresh[row, column]) else (float(fresh[row, column]), row, column)

    def _fresh(self, mask: Mask, rows: int, columns: int) -> Numbers:
        """Sheets not yet in use that the piece would touch, for each place of its lower left cell."""
        n, m = self.per_row, self.per_column
        high, wide = mask.cells.shape
        count = np.zeros((rows, columns), dtype=np.float32)
        for i, j in zip(*np.nonzero(~self.used), strict=True):
            # touched at (r, c) when any cell lies in rows [i*n - r, i*n - r + n) and likewise across
            low_r, high_r = max(0, i * n - high + 1), min(rows, (i + 1) * n)
            low_c, high_c = max(0, j * m - wide + 1), min(columns, self._right(j))
            if low_r >= high_r or low_c >= high_c:
                continue
            table = mask.beyond if j == self.columns - 1 else mask.touches
            up = _downwards((i + 1) * n - 1 - low_r, high_r - low_r)
            across = _downwards((j + 1) * m - 1 - low_c, high_c - low_c)
            count[low_r:high_r, low_c:high_c] += table[up, across]
        return count

    def _right(self, column: int) -> int:
        """First cell beyond a column; the last column has its overlap to itself."""
        return self.taken.shape[1] if column == self.columns - 1 else (column + 1) * self.per_column

    def _use(self, mask: Mask, row: int, column: int) -> None:
        up, across = np.nonzero(mask.cells)
        columns = np.minimum((across + column) // self.per_column, self.columns - 1)
        self.used[(up + row) // self.per_row, columns] = True


def _downwards(first: int, length: int) -> slice:
    """first, first - 1, ... `length` of them."""
    stop = first - length
    return slice(first, stop if stop >= 0 else None, -1)
