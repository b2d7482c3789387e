"""Room for words: where a box fits inside a shape without touching a line.

Two answers. `Ground.clear` says of one box, exactly, whether it is free. `Ground.room` makes a raster of small
cells, each knowing how far it is from the nearest line or from the outside, and `Room.best` finds the place
with most air round a box.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.ndimage import distance_transform_edt, minimum_filter
from shapely import MultiLineString, Polygon, prepare

from clothwise.curve import Point
from clothwise.paper.drawing import box_of

CELL = 0.2  # cm: a cell's side, a fifth of the least room any label asks for
MOST_CELLS = 25_000  # of one raster; a larger shape gets larger cells, so a coat costs no more than a skirt
AIR = 0.1  # cm kept between words and lines
ENOUGH_AIR = 1.5  # cm: more air than this is no better
DIAGONAL = math.sqrt(2.0)  # cells: a line may lie this much nearer than the middle of its cell says
UPWARDS = 0.01  # worth of a centimetre higher up, in centimetres of air: breaks ties, as on every pattern


@dataclass(frozen=True, slots=True)
class Ground:
    """A closed shape, the lines drawn in it, and the boxes that words already hold."""

    ring: tuple[Point, ...]
    lines: tuple[tuple[Point, ...], ...]
    shape: Polygon
    drawn: MultiLineString
    taken: tuple[Polygon, ...] = ()

    def clear(self, corners: Sequence[Point], air: float = AIR) -> bool:
        """Does this (turned) box lie inside, with air round it? Exact."""
        box = shape_of(corners)
        if any(box.dwithin(other, air) for other in self.taken):
            return False
        return bool(self.shape.contains(box)) and not box.dwithin(self.drawn, air)

    def taking(self, boxes: Iterable[Sequence[Point]]) -> Ground:
        """The same with these boxes held too."""
        return replace(self, taken=(*self.taken, *map(shape_of, boxes)))

    def room(self, cell: float = CELL) -> Room:
        boxes = [[Point(x, y) for x, y in box.exterior.coords] for box in self.taken]
        return room_inside(self.ring, [*self.lines, *boxes], cell)


def ground(ring: Sequence[Point], lines: Iterable[Sequence[Point]]) -> Ground:
    """A shape and the lines in it; its own rim counts as a line."""
    kept = [tuple(line) for line in lines if len(line) > 1]
    rim = (*ring, ring[0])
    shape = shape_of(ring)
    prepare(shape)
    drawn = lines_of([rim, *kept])
    prepare(drawn)
    return Ground(tuple(ring), tuple(kept), shape, drawn)


def shape_of(ring: Sequence[Point]) -> Polygon:
    """The closed shape; much quicker than the library's own way from points."""
    return shapely.polygons(np.asarray(ring, dtype=np.float64))


def lines_of(rows: Sequence[Sequence[Point]]) -> MultiLineString:
    """All rows of points as one shape."""
    points = np.concatenate([np.asarray(row, dtype=np.float64) for row in rows])
    which = np.repeat(np.arange(len(rows)), [len(row) for row in rows])
    return shapely.multilinestrings(shapely.linestrings(points, indices=which))


@dataclass(frozen=True, slots=True)
class Room:
    """Distances on a raster: cell [row, column] has its middle at left + (column + .5) x cell, and so on."""

    left: float
    bottom: float
    cell: float
    distance: NDArray[np.float64]  # cm from the middle of a cell to the nearest thing in the way

    def best(self, width: float, height: float, air: float = AIR) -> Point | None:
        """The lower left corner of an upright box where it has most air; None where it does not fit."""
        across, up = math.ceil(width / self.cell) + 1, math.ceil(height / self.cell) + 1
        rows, columns = self.distance.shape
        if across > columns or up > rows:
            return None
        least = minimum_filter(self.distance, size=(up, across), origin=(-(up // 2), -(across // 2)))
        least = least[: rows - up + 1, : columns - across + 1]
        worth = np.minimum(least, ENOUGH_AIR) + UPWARDS * self.cell * np.arange(least.shape[0])[:, None]
        worth[least < air + DIAGONAL * self.cell] = -1.0
        row, column = divmod(int(np.argmax(worth)), least.shape[1])
        if worth[row, column] < 0:
            return None
        return Point(self.left + (column + 0.5) * self.cell, self.bottom + (row + 0.5) * self.cell)


def room_inside(ring: Sequence[Point], lines: Iterable[Sequence[Point]], cell: float = CELL) -> Room:
    """The room inside a closed ring, kept off these lines (each a row of points)."""
    left, bottom, right, top = box_of(ring)
    cell = max(cell, math.sqrt((right - left) * (top - bottom) / MOST_CELLS))
    columns, rows = math.ceil((right - left) / cell) + 1, math.ceil((top - bottom) / cell) + 1
    free = _inside(ring, left, bottom, cell, rows, columns)
    bar(free, [[*ring, ring[0]], *lines], left, bottom, cell)
    padded = np.pad(free, 1)
    distance = distance_transform_edt(padded)[1:-1, 1:-1] * cell
    return Room(left, bottom, cell, np.asarray(distance, dtype=np.float64))


def raster(ring: Sequence[Point]) -> NDArray[np.bool_]:
    """Every cell of side 1 that the ring's inside touches; the ring lies against both axes."""
    _, _, right, top = box_of(ring)
    rows, columns = math.floor(top) + 1, math.floor(right) + 1
    clear = np.ones((rows, columns), dtype=bool)
    bar(clear, [[*ring, ring[0]]], 0.0, 0.0, 1.0)
    return np.asarray(_inside(ring, 0.0, 0.0, 1.0, rows, columns) | ~clear)


def _inside(
    ring: Sequence[Point], left: float, bottom: float, cell: float, rows: int, columns: int
) -> NDArray[np.bool_]:
    """Cells whose middle lies inside the ring: each crossing of a row flips all cells to its right."""
    flips = np.zeros((rows, columns + 1), dtype=np.int32)
    points = np.asarray([*ring, ring[0]], dtype=np.float64)
    for (x0, y0), (x1, y1) in pairwise(points):
        low, high = sorted((y0, y1))
        first = max(math.ceil((low - bottom) / cell - 0.5), 0)
        last = min(math.ceil((high - bottom) / cell - 0.5), rows)  # rows whose middle lies in [low, high)
        if first >= last:
            continue
        row = np.arange(first, last)
        x = x0 + (x1 - x0) * (bottom + (row + 0.5) * cell - y0) / (y1 - y0)
        column = np.clip(np.ceil((x - left) / cell - 0.5), 0, columns).astype(int)
        np.add.at(flips, (row, column), 1)
    return (np.cumsum(flips, axis=1)[:, :columns] % 2).astype(bool)


def bar(
    free: NDArray[np.bool_],
    lines: Iterable[Sequence[Point] | NDArray[np.float64]],
    left: float,
    bottom: float,
    cell: float,
) -> None:
    """Takes every cell a line runs through; steps of half a cell cannot jump over one by more than a corner."""
    rows = [np.asarray(line, dtype=np.float64) for line in lines]
    rows = [row for row in rows if len(row) > 1]
    if not rows:
        return
    points = np.concatenate(rows)
    way = np.diff(points, axis=0)
    way[np.cumsum([len(row) for row in rows])[:-1] - 1] = 0.0  # from one line to the next nothing is drawn
    steps = np.maximum(np.ceil(np.hypot(way[:, 0], way[:, 1]) / (cell / 2)).astype(int), 1)
    index = np.repeat(np.arange(len(steps)), steps)
    share = (np.arange(steps.sum()) - np.repeat(np.cumsum(steps) - steps, steps)) / steps[index]
    along = np.vstack([points[index] + way[index] * share[:, None], points[-1:]])
    column = np.floor((along[:, 0] - left) / cell).astype(int)
    row = np.floor((along[:, 1] - bottom) / cell).astype(int)
    high, wide = free.shape
    held = (row >= 0) & (row < high) & (column >= 0) & (column < wide)
    free[row[held], column[held]] = False
