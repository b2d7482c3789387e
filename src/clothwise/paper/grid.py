"""The taped paper: a grid of sheet windows, and which of them are needed.

Plane of the taped paper: cm, x right, y up, row 1 uppermost. Sheet (row, column) shows its window; neighbours
show the same strip where they overlap. Rows are lettered, columns numbered: A1, A2, B1.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Polygon, box, prepare, union_all
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Point
from clothwise.paper.drawing import Box
from clothwise.paper.sheets import Sheet
from clothwise.tolerance import SAME_POINT

RIM = 0.1  # cm round a cutting line that must be on paper: half its pen, and a hair to cut in


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet's place. row and column from 0, row 0 uppermost."""

    row: int
    column: int

    @property
    def label(self) -> str:
        return f"{row_letters(self.row)}{self.column + 1}"


def row_letters(row: int) -> str:
    """A to Z, then AA, AB..."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


@dataclass(frozen=True, slots=True)
class Grid:
    """A sheet, how many rows and columns of it, and the tiles that are printed, row by row."""

    sheet: Sheet
    rows: int
    columns: int
    tiles: tuple[Tile, ...] = ()

    @property
    def size(self) -> tuple[float, float]:
        """Of the taped paper's printed area. [cm]"""
        (across, up), (pitch_x, pitch_y) = self.sheet.window, self.sheet.pitch
        return (self.columns - 1) * pitch_x + across, (self.rows - 1) * pitch_y + up

    def window(self, tile: Tile) -> Box:
        """What the tile shows, on the taped paper's plane."""
        (across, up), (pitch_x, pitch_y) = self.sheet.window, self.sheet.pitch
        left, top = tile.column * pitch_x, self.size[1] - tile.row * pitch_y
        return left, top - up, left + across, top

    def has(self, row: int, column: int) -> bool:
        return Tile(row, column) in self.tiles


def grown(outline: Sequence[Point]) -> Polygon:
    """What must be on paper for an outline to be cut along."""
    return Polygon(outline).buffer(RIM)


def needed(grid: Grid, things: Sequence[Polygon]) -> Grid:
    """The grid with the tiles that these grown shapes need: none whose share a neighbour shows whole."""
    for thing in things:
        prepare(thing)
    overlap = grid.sheet.overlap
    kept: list[Tile] = []
    shown: list[BaseGeometry] = []
    for row in range(grid.rows):
        for column in range(grid.columns):
            tile = Tile(row, column)
            left, bottom, right, top = grid.window(tile)
            own = box(left, bottom, right, top)
            here = [thing for thing in things if thing.intersects(own)]
            if not here:
                continue
            core = box(left + overlap, bottom, right, top - overlap).buffer(-SAME_POINT)  # no neighbour has it
            if any(thing.intersects(core) for thing in here):
                kept.append(tile)
                shown.append(own)
                continue
            near = [s for s in shown if s.intersects(own)]
            fresh = own.difference(union_all(near)) if near else own
            if any(thing.intersection(fresh).area > SAME_POINT for thing in here):
                kept.append(tile)
                shown.append(own)
    return Grid(grid.sheet, grid.rows, grid.columns, tuple(kept))
