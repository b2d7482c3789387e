"""A mesh of cells over every no-fit polygon, so that a depth costs a few edges and not all of them. Compiled.

Of each cell is known how deep its centre lies, and which edges can be the nearest to any of its points; of
each row of cells, which edges pass through it. What is read from the mesh is exact, to the last bit what all
edges together would give. Centre depths are signed: inside above zero. [cm]
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from clothwise.tolerance import LAY_TOUCH, PARAMETER

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Small = NDArray[np.int32]

CELLS = 1024  # of one no-fit polygon: twice as many gain nothing more, and cost their making
FEWEST = 4  # cells along the shorter side
BLOCK = 4  # cells along and across that share one look at all edges

SAFE = 1.0 + 1e-3  # a cell counts as this much larger, so that no rounding loses an edge
ROW_MORE = 1e-3  # and a row of cells as this share of its height taller, above and below
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


@dataclass(frozen=True, slots=True)
class Measured:
    """One no-fit polygon: its edges (columns as in `overlap.Tables`), its bounds, and its mesh."""

    edge: Floats
    bounds: Floats
    mesh: Mesh


def measured(rings: Sequence[Floats]) -> Measured:
    """What the search reads of a no-fit polygon."""
    ends = _starts([len(ring) for ring in rings])
    a = np.concatenate(rings) if rings else np.zeros((0, 2))
    after = np.arange(1, len(a) + 1)
    after[ends[1:] - 1] = ends[:-1]
    edge = np.empty((len(a), 6))
    edge[:, :2], edge[:, 2], edge[:, 3:5] = a, a[after, 1], a[after] - a
    edge[:, 5] = 1.0 / np.maximum((edge[:, 3:5] ** 2).sum(axis=1), LAY_TOUCH**2)
    bounds = np.concatenate([a.min(axis=0), a.max(axis=0)]) if rings else np.zeros(4)
    return Measured(edge, bounds, _mesh(edge, bounds))


def joined(polygons: Sequence[Measured]) -> tuple[Floats, Ints, Floats, Mesh]:
    """Edges, first edge of each (plus the end), bounds and mesh of all, one after the other."""
    every = polygons or [measured(())]
    first_edge = _starts([len(one.edge) for one in every])
    meshes = [one.mesh for one in every]
    layout = np.concatenate([one.layout for one in meshes])
    layout[:, FIRST_CELL] = _starts([len(one.centre) for one in meshes])[:-1]
    layout[:, FIRST_ROW] = np.concatenate([[0], np.cumsum(layout[:, N_ACROSS])[:-1]])
    mesh = Mesh(
        np.concatenate([one.lie for one in meshes]),
        layout,
        np.concatenate([one.centre for one in meshes]),
        *_linked([one.first_near for one in meshes], [one.near for one in meshes], first_edge),
        *_linked([one.first_through for one in meshes], [one.through for one in meshes], first_edge),
    )
    return (
        np.concatenate([one.edge for one in every]),
        first_edge,
        np.stack([one.bounds for one in every]),
        mesh,
    )


def _starts(counts: Sequence[int]) -> Ints:
    return np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)


def _linked(firsts: Sequence[Small], edges: Sequence[Small], first_edge: Ints) -> tuple[Small, Small]:
    """Lists of edges one after the other, and where each begins, plus the end."""
    offsets = _starts([len(one) for one in edges]).astype(np.int32)
    first = [one[:-1] + offset for one, offset in zip(firsts, offsets[:-1], strict=True)]
    starts = first_edge[:-1].astype(np.int32)
    return np.concatenate([*first, offsets[-1:]]), np.concatenate(edges) + np.repeat(starts, np.diff(offsets))


def _mesh(edge: Floats, bounds: Floats) -> Mesh:
    """The mesh over one no-fit polygon."""
    along, across = np.maximum(bounds[2:] - bounds[:2], PARAMETER)
    n_along = int(np.clip(np.rint(np.sqrt(CELLS * along / across)), FEWEST, CELLS // FEWEST))
    n_across = CELLS // n_along
    half = float(np.hypot(along / n_along, across / n_across)) / 2 * SAFE
    lie = np.array([[n_along / along, n_across / across, half]])
    layout = np.array([[n_along, n_across, 0, 0]], np.int64)
    return Mesh(lie, layout, *_filled(edge, bounds, lie[0], n_along, n_across))


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
def _reachable(edge: Floats, x: float, y: float, half: float, squared: Floats, found: Small) -> int:
    """Edges that can be the nearest to any point less than `half` from here, into `found`; how many."""
    least = BIG
    for e in range(len(edge)):
        squared[e] = _squared(edge, e, x, y)
        least = min(least, squared[e])
    reach = (np.sqrt(least) + 2.0 * half) ** 2
    n = 0
    for e in range(len(edge)):
        if squared[e] <= reach:
            found[n] = e
            n += 1
    return n


@njit(cache=True, error_model="numpy")
def _filled(edge: Floats, bounds: Floats, lie: Floats, n_along: int, n_across: int) -> Any:
    """Depths of centres and lists of edges; a cell asks only the edges that its block of cells can reach."""
    n = len(edge)
    centre = np.empty(n_along * n_across)
    first_near = np.zeros(n_along * n_across + 1, np.int32)
    first_through = np.zeros(n_across + 1, np.int32)
    near = np.empty(8 * n_along * n_across + n, np.int32)
    through = np.empty(8 * n_across + n, np.int32)
    n_near, n_through = 0, 0
    squared = np.empty(n)
    blocks = (n_along + BLOCK - 1) // BLOCK
    reachable, n_reachable = np.empty((blocks, n), np.int32), np.zeros(blocks, np.int64)
    for row in range(n_across if n else 0):
        if row % BLOCK == 0:
            y = bounds[1] + (row + BLOCK / 2) / lie[ACROSS]
            for block in range(blocks):
                x = bounds[0] + (block + 0.5) * BLOCK / lie[ALONG]
                n_reachable[block] = _reachable(edge, x, y, lie[HALF] * BLOCK, squared, reachable[block])
        low = bounds[1] + (row - ROW_MORE) / lie[ACROSS]
        high = bounds[1] + (row + 1 + ROW_MORE) / lie[ACROSS]
        if n_through + n > len(through):
            through = np.concatenate((through, np.empty(len(through) + n, np.int32)))
        for e in range(n):
            if min(edge[e, 1], edge[e, 2]) <= high and max(edge[e, 1], edge[e, 2]) >= low:
                through[n_through] = e
                n_through += 1
        first_through[row + 1] = n_through
        y = bounds[1] + (row + 0.5) / lie[ACROSS]
        for column in range(n_along):
            x = bounds[0] + (column + 0.5) / lie[ALONG]
            inside = False
            for e in through[first_through[row] : n_through]:
                ay = edge[e, 1]
                if (ay > y) != (edge[e, 2] > y) and x - edge[e, 0] < edge[e, 3] * (y - ay) / edge[e, 4]:
                    inside = not inside
            least = BIG
            asked = reachable[column // BLOCK, : n_reachable[column // BLOCK]]
            for e in asked:
                squared[e] = _squared(edge, e, x, y)
                least = min(least, squared[e])
            far = np.sqrt(least)
            cell = row * n_along + column
            centre[cell] = far if inside else -far
            if inside or far <= lie[HALF]:
                if n_near + n > len(near):
                    near = np.concatenate((near, np.empty(len(near) + n, np.int32)))
                reach = (far + 2.0 * lie[HALF]) ** 2
                for e in asked:
                    if squared[e] <= reach:
                        near[n_near] = e
                        n_near += 1
            first_near[cell + 1] = n_near
    return centre, first_near, near[:n_near].copy(), first_through, through[:n_through].copy()
