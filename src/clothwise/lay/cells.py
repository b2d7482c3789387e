"""A mesh of cells over every no-fit polygon, so that a depth costs a few edges and not all of them. Compiled.

Of each cell is known how deep its centre lies, and which edges can be the nearest to any of its points; of
each row of cells, which edges pass through it. What is read from the mesh is exact, to the last bit what all
edges together would give. Centre depths are signed: inside above zero. [cm]
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from clothwise.tolerance import PARAMETER

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Small = NDArray[np.int32]

CELLS = 1024  # of one no-fit polygon: twice as many gain nothing more, and cost their making
FEWEST = 4  # cells along the shorter side
SAFE = 1.0 + 1e-3  # a cell counts as this much larger, so that no rounding loses an edge
BIG = 1e300


class Mesh(NamedTuple):
    """All cells of all no-fit polygons, one after the other."""

    lie: Floats  # per polygon: cells per cm along, across; half the diagonal of a cell, a little more
    layout: Ints  # per polygon: cells along, across; its first cell; its first row
    centre: Floats  # per cell: depth of its centre
    first_near: Small  # per cell, plus the end
    near: Small  # edges
    first_through: Small  # per row, plus the end
    through: Small  # edges


ALONG, ACROSS, HALF = range(3)
N_ALONG, N_ACROSS, FIRST_CELL, FIRST_ROW = range(4)


def mesh(edge: Floats, first_edge: Ints, bounds: Floats) -> Mesh:
    """The mesh over these no-fit polygons; letters and columns as in `overlap.Tables`."""
    size = np.maximum(bounds[:, 2:] - bounds[:, :2], PARAMETER)
    aspect = np.sqrt(size[:, 0] / size[:, 1])
    n_along = np.clip(np.rint(np.sqrt(CELLS) * aspect), FEWEST, CELLS // FEWEST).astype(np.int64)
    n_across = np.clip(CELLS // n_along, FEWEST, CELLS).astype(np.int64)
    cells, rows = n_along * n_across, n_across
    first_cell, first_row = np.cumsum(cells) - cells, np.cumsum(rows) - rows
    half = np.hypot(size[:, 0] / n_along, size[:, 1] / n_across) / 2 * SAFE
    lie = np.column_stack([n_along / size[:, 0], n_across / size[:, 1], half])
    count = np.column_stack([n_along, n_across, first_cell, first_row])
    centre, first_near, near, first_through, through = _filled(
        edge, first_edge, bounds, lie, count, int(cells.sum()), int(rows.sum())
    )
    return Mesh(lie, count, centre, first_near, near, first_through, through)


@njit(cache=True, error_model="numpy")
def _squared(edge: Floats, e: int, x: float, y: float) -> float:
    """Squared distance to an edge."""
    px, py = x - edge[e, 0], y - edge[e, 1]
    s = min(max((px * edge[e, 3] + py * edge[e, 4]) * edge[e, 5], 0.0), 1.0)
    px -= s * edge[e, 3]
    py -= s * edge[e, 4]
    squared: float = px * px + py * py
    return squared


@njit(cache=True, error_model="numpy")
def _filled(
    edge: Floats, first_edge: Ints, bounds: Floats, lie: Floats, count: Ints, n_cells: int, n_rows: int
) -> Any:
    centre = np.empty(n_cells)
    first_near = np.zeros(n_cells + 1, np.int32)
    first_through = np.zeros(n_rows + 1, np.int32)
    near = np.empty(8 * n_cells + 64, np.int32)
    through = np.empty(8 * n_rows + 64, np.int32)
    n_near, n_through = 0, 0
    squared = np.empty(max(1, len(edge)))
    for k in range(len(first_edge) - 1):
        e0, e1 = first_edge[k], first_edge[k + 1]
        for row in range(count[k, 1]):
            low = bounds[k, 1] + (row - 0.001) / lie[k, 1]
            high = bounds[k, 1] + (row + 1.001) / lie[k, 1]
            if n_through + e1 - e0 > len(through):
                through = np.concatenate((through, np.empty(len(through) + e1 - e0, np.int32)))
            for e in range(e0, e1):
                if min(edge[e, 1], edge[e, 2]) <= high and max(edge[e, 1], edge[e, 2]) >= low:
                    through[n_through] = e
                    n_through += 1
            first_through[count[k, 3] + row + 1] = n_through
            y = bounds[k, 1] + (row + 0.5) / lie[k, 1]
            for column in range(count[k, 0]):
                x = bounds[k, 0] + (column + 0.5) / lie[k, 0]
                least, inside = BIG, False
                for e in range(e0, e1):
                    ay = edge[e, 1]
                    if (ay > y) != (edge[e, 2] > y) and x - edge[e, 0] < edge[e, 3] * (y - ay) / edge[e, 4]:
                        inside = not inside
                    squared[e] = _squared(edge, e, x, y)
                    least = min(least, squared[e])
                far = np.sqrt(least)
                cell = count[k, 2] + row * count[k, 0] + column
                centre[cell] = far if inside else -far
                if inside or far <= lie[k, 2]:
                    if n_near + e1 - e0 > len(near):
                        near = np.concatenate((near, np.empty(len(near) + e1 - e0, np.int32)))
                    reach = (far + 2.0 * lie[k, 2]) ** 2
                    for e in range(e0, e1):
                        if squared[e] <= reach:
                            near[n_near] = e
                            n_near += 1
                first_near[cell + 1] = n_near
    return centre, first_near, near[:n_near].copy(), first_through, through[:n_through].copy()
