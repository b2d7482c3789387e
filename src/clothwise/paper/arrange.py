"""Pieces arranged on the grid of sheets so that few sheets are needed.

On paper a piece may be turned freely by quarters; large ones straddle joins, small ones fill. Tried are: side
by side, the shortest strip for each number of columns (strip.py), and several grids and orders on a raster that
knows the joins (plane.py). The fewest sheets win, then the smaller grid. No chance, no clock: same pieces, same
arrangement.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, permutations

from shapely import Polygon

from clothwise.curve import Point
from clothwise.lay.nofit import NoFits
from clothwise.paper.drawing import Box, Carry, box_of
from clothwise.paper.grid import RIM, Grid, grown, needed
from clothwise.paper.plane import APART, Mask, Plane, cell_for, masks_of
from clothwise.paper.sheets import Sheet
from clothwise.paper.strip import on_strip

TRIES = 4  # grids x orders on the raster: 10 find 0.5 % fewer sheets and take half as long again (32 bodies)
SPARE_ROWS = 2  # rows of sheets beyond what the best so far would need: no better arrangement reaches farther
NEAR = 2  # sheets above the best so far: a try this near is worth improving
FEW = 8  # pieces: for more, each strip takes long and the raster fills small ones in as well
STRIPS = 16  # strips tried for few pieces
STRIPS_OF_SOME = 2
MANY = 12  # pieces: for more, one try on the raster, and where that is not dense, one strip in a brief search;
STRIPS_OF_MANY = 1  # 4 tries, 2 strips and a longer search find 1.2 % fewer sheets in twice the time (2026-11)
DENSE = 1.35  # times the sheets that the area alone fills: no strip has bettered what lies so densely (11 sets)
MOST_ORDERS = 6  # orders of the pieces tried on each grid
MOST_COLUMNS = 12  # a taped paper wider than this is not handled on a table


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
    things = [grown(outline) for outline in outlines]
    best = min((_side_by_side(outlines, things, way) for way in sheet.orientations()), key=_cost)
    plain = len(best.grid.tiles)
    least = min(_least(outlines, way) for way in sheet.orientations())
    if len(outlines) > MANY:
        best = _on_raster(outlines, things, sheet, best, 1)
        if len(best.grid.tiles) > DENSE * least:
            best = _on_strips(outlines, things, sheet, best, STRIPS_OF_MANY, "brief")
    else:
        strips = STRIPS_OF_SOME if len(outlines) > FEW else STRIPS
        best = _on_strips(outlines, things, sheet, best, strips, "quick")
        best = _on_raster(outlines, things, sheet, best, tries)
    best = _centred(outlines, things, best)
    return Arrangement(best.grid, best.carries, plain)


def _centred(outlines: Sequence[Sequence[Point]], things: Sequence[Polygon], best: Arrangement) -> Arrangement:
    """Moved to the middle of the taped paper, off its rim, where that needs no more sheets."""
    width, height = best.grid.size
    left, bottom, right, top = _lying_box(outlines, best.carries)
    dx, dy = (width - right - left) / 2, (height - top - bottom) / 2
    for x, y in ((dx, dy), (dx, 0.0), (0.0, dy)):
        carries = [Carry(c.turn, c.dx + x, c.dy + y) for c in best.carries]
        moved = _made(things, best.grid.sheet, carries, best.grid.columns, best.grid.rows)
        if len(moved.grid.tiles) <= len(best.grid.tiles):
            return moved
    return best


def _lying_box(outlines: Sequence[Sequence[Point]], carries: Sequence[Carry]) -> Box:
    """Around all outlines as they lie."""
    return box_of(p for carry, outline in zip(carries, outlines, strict=True) for p in map(carry, outline))


def _cost(arrangement: Arrangement) -> tuple[int, int, int]:
    grid = arrangement.grid
    return len(grid.tiles), grid.rows * grid.columns, grid.rows + grid.columns


def _least(outlines: Sequence[Sequence[Point]], sheet: Sheet) -> int:
    """No arrangement can do with fewer: the area alone fills these."""
    across, up = sheet.window
    area: float = sum(Polygon(outline).area for outline in outlines)
    return math.ceil(area / (across * up))


# ---- the plain way ---------------------------------------------------------------------------------


def _side_by_side(outlines: Sequence[Sequence[Point]], things: Sequence[Polygon], sheet: Sheet) -> Arrangement:
    """One row, as drawn, each beside the last."""
    carries: list[Carry] = []
    x, top = RIM, 0.0
    for outline in outlines:
        left, bottom, right, high = box_of(outline)
        carries.append(Carry(0, x - left, RIM - bottom))
        x += right - left + APART
        top = max(top, high - bottom)
    return _made(things, sheet, carries, _count(x, sheet, 0), _count(top + 2 * RIM, sheet, 1))


def _count(length: float, sheet: Sheet, axis: int) -> int:
    """Windows that cover this length."""
    return max(1, math.ceil((length - sheet.window[axis]) / sheet.pitch[axis]) + 1)


def _made(
    things: Sequence[Polygon], sheet: Sheet, carries: Sequence[Carry], columns: int, rows: int
) -> Arrangement:
    lying = [carry.shape(thing) for carry, thing in zip(carries, things, strict=True)]
    grid = needed(Grid(sheet, rows, columns), lying)
    return Arrangement(grid, tuple(carries), len(grid.tiles))


def _stripped(
    outlines: Sequence[Sequence[Point]],
    things: Sequence[Polygon],
    sheet: Sheet,
    columns: int,
    known: NoFits,
    effort: str,
) -> Arrangement | None:
    """As short as the lay search makes it on a strip as wide as so many columns."""
    strip = on_strip(outlines, (columns - 1) * sheet.pitch[0] + sheet.window[0], effort=effort, known=known)
    if strip is None:
        return None
    return _made(things, sheet, strip.carries, columns, _count(strip.length, sheet, 1))


def _on_strips(
    outlines: Sequence[Sequence[Point]],
    things: Sequence[Polygon],
    sheet: Sheet,
    best: Arrangement,
    strips: int,
    effort: str,
) -> Arrangement:
    """The best of so many strips, and of what was found before."""
    known = NoFits()
    for way, columns in _grids(outlines, sheet)[:strips]:
        laid = _stripped(outlines, things, way, columns, known, effort)
        if laid is not None and _cost(laid) < _cost(best):
            best = laid
    return best


# ---- the search ------------------------------------------------------------------------------------


def _on_raster(
    outlines: Sequence[Sequence[Point]],
    things: Sequence[Polygon],
    sheet: Sheet,
    best: Arrangement,
    tries: int,
) -> Arrangement:
    """The best of so many grids and orders, and of what was found before."""
    least = min(_least(outlines, way) for way in sheet.orientations())
    most = len(best.grid.tiles)
    cell = cell_for(sum(thing.area for thing in things))
    masks: dict[Sheet, list[tuple[Mask, ...]]] = {}
    for way, columns, order in islice(_plans(outlines, sheet), tries):
        if len(best.grid.tiles) <= least:
            break
        if way not in masks:
            masks[way] = [masks_of(outline, way, cell) for outline in outlines]
        rows = math.ceil(most / columns) + SPARE_ROWS
        plane = Plane(way, columns, rows, masks[way], cell)
        found = _placed(outlines, things, plane, order, len(best.grid.tiles))
        if found is not None and _cost(found) < _cost(best):
            best = found
    return best


def _grids(outlines: Sequence[Sequence[Point]], sheet: Sheet) -> list[tuple[Sheet, int]]:
    """Ways to lie and numbers of columns: middling widths first, they win most often (32 bodies)."""
    ranked: list[tuple[float, int, Sheet, int]] = []
    for number, way in enumerate(sheet.orientations()):
        widths = _columns(outlines, way)
        middle = (widths[0] + widths[-1]) / 2
        ranked += [(abs(columns - middle), number, way, columns) for columns in widths]
    return [(way, columns) for _, _, way, columns in sorted(ranked, key=lambda r: r[:2])]


def _plans(outlines: Sequence[Sequence[Point]], sheet: Sheet) -> Iterator[tuple[Sheet, int, tuple[int, ...]]]:
    """Grids and orders for the raster, the likeliest first."""
    for way, columns in _grids(outlines, sheet):
        for order in _orders(outlines):
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
        return list(permutations(reversed(by_area)))[:MOST_ORDERS]
    spans = [max(b[2] - b[0], b[3] - b[1]) for b in map(box_of, outlines)]
    by_span = sorted(range(len(outlines)), key=lambda i: (-spans[i], i))
    swapped = [by_area[1], by_area[0], *by_area[2:]]
    return list(dict.fromkeys((tuple(by_area), tuple(by_span), tuple(swapped))))[:MOST_ORDERS]


def _placed(
    outlines: Sequence[Sequence[Point]],
    things: Sequence[Polygon],
    plane: Plane,
    order: Sequence[int],
    best: int,
) -> Arrangement | None:
    """One try: each piece in turn where it touches the fewest fresh sheets. None: it cannot beat the best."""
    for index in order:
        if not plane.take(index):
            return None
    if plane.sheets() > best + NEAR:
        return None
    for index in order:  # a second look: each piece once more, now that all others lie
        plane.release(index)
        plane.take(index)
    if plane.sheets() > best:
        return None
    carries = [plane.carry(index) for index in range(len(outlines))]
    left, bottom, right, top = _lying_box(outlines, carries)
    pitch_x, pitch_y = plane.sheet.pitch
    blank_x, blank_y = math.floor(left / pitch_x) * pitch_x, math.floor(bottom / pitch_y) * pitch_y
    settled = [Carry(c.turn, c.dx - blank_x, c.dy - blank_y) for c in carries]
    columns = _count(right - blank_x + RIM, plane.sheet, 0)
    return _made(things, plane.sheet, settled, columns, _count(top - blank_y + RIM, plane.sheet, 1))
