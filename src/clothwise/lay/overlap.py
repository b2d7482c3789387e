"""How deep moves overlap, compiled: the tables of a problem, and what is read from them.

A *move* is what is placed at once: a single piece, a pair, a piece on the fold. Its *variants* differ in
angle, side up and panel; each allows the reference point a box (perhaps only a line) and covers the cloth
with one or two *images*. Two images overlap as deep as the reference point lies inside their no-fit
polygon.

Letters: i, j moves; v variant; p place of a move (x, y); q place of an image; d = q_i - q_j; k no-fit polygon.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from clothwise.lay.cells import ACROSS, ALONG, FIRST_CELL, FIRST_ROW, HALF, N_ACROSS, N_ALONG, Mesh
from clothwise.tolerance import LAY_TOUCH

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

BIG = 1e300
TOUCH = LAY_TOUCH
compiled = njit(cache=True, error_model="numpy", nogil=True)


class Tables(NamedTuple):
    """Everything about a problem that stays fixed while the search runs."""

    movable: int  # the first moves are free, the rest are obstacles
    first_variant: Ints  # per move, plus the end
    first_image: Ints  # per variant, plus the end
    box: Floats  # per variant: LOW_X, TRAIL (high_x is length - trail), LOW_Y, HIGH_Y, FOLD (or -1), grids
    shape: Ints  # per image
    image: Floats  # per image: SIGN, SHIFT: q_y = sign * p_y + shift
    nofit: Ints  # shape x shape: k of (j, i), or -1
    flip: Floats  # shape x shape x 2: signs carrying d into the stored polygon
    first_edge: Ints  # per no-fit polygon, plus the end
    bounds: Floats  # per no-fit polygon: low x, low y, high x, high y
    edge: (
        Floats  # per edge: AX, AY its start, BY the y of its end, VX, VY to its end, INVERSE 1 / length squared
    )
    mesh: Mesh  # over the no-fit polygons


LOW_X, TRAIL, LOW_Y, HIGH_Y, FOLD, START_X, STEP_X, START_Y, STEP_Y = range(9)
BOX_COLUMNS = 9
SIGN, SHIFT = range(2)
AX, AY, BY, VX, VY, INVERSE = range(6)


@compiled
def on_grid(value: float, low: float, high: float, start: float, step: float) -> float:
    """The nearest place between low and high that a grid allows; BIG when it allows none there."""
    if step == 0.0:
        return float(min(max(value, low), high))
    k = np.rint((value - start) / step)
    k = min(max(k, np.ceil((low - TOUCH - start) / step)), np.floor((high + TOUCH - start) / step))
    place = float(start + k * step)
    return place if place >= low - TOUCH else BIG


@compiled
def allowed(t: Tables, v: int, high_x: float, x: float, y: float) -> tuple[float, float]:
    """The nearest place to (x, y) where variant v may stand; BIG where there is none."""
    return (
        on_grid(x, t.box[v, LOW_X], high_x, t.box[v, START_X], t.box[v, STEP_X]),
        on_grid(y, t.box[v, LOW_Y], t.box[v, HIGH_Y], t.box[v, START_Y], t.box[v, STEP_Y]),
    )


@compiled
def put_right(t: Tables, places: Floats, chosen: Ints, length: float) -> bool:
    """Move all moves to the nearest places they may have within this length. False where one has none."""
    ok = True
    for i in range(t.movable):
        v = chosen[i]
        high_x = max(length - t.box[v, TRAIL], t.box[v, LOW_X])
        x, y = allowed(t, v, high_x, places[i, 0], places[i, 1])
        if x >= BIG:  # the next bar lies beyond the end: a lay of this length cannot hold it so
            x = on_grid(t.box[v, LOW_X], t.box[v, LOW_X], BIG, t.box[v, START_X], t.box[v, STEP_X])
            ok = False
        places[i, 0], places[i, 1] = x, y
    return ok


@compiled
def _depth(edge: Floats, mesh: Mesh, k: int, cell: int, row: int, dx: float, dy: float) -> float:
    """How far d, in this cell of no-fit polygon k, lies inside it. [cm]"""
    centre, half = mesh.centre[cell], mesh.lie[k, HALF]
    if centre <= half:
        inside = False
        through = mesh.through
        row += mesh.layout[k, FIRST_ROW]
        for at in range(mesh.first_through[row], mesh.first_through[row + 1]):
            e = through[at]
            ay = edge[e, AY]
            if (ay > dy) != (edge[e, BY] > dy) and dx - edge[e, AX] < edge[e, VX] * (dy - ay) / edge[e, VY]:
                inside = not inside
        if not inside:
            return 0.0
    least = BIG
    near = mesh.near
    for at in range(mesh.first_near[cell], mesh.first_near[cell + 1]):
        e = near[at]
        px, py = dx - edge[e, AX], dy - edge[e, AY]
        s = min(max((px * edge[e, VX] + py * edge[e, VY]) * edge[e, INVERSE], 0.0), 1.0)
        px -= s * edge[e, VX]
        py -= s * edge[e, VY]
        least = min(least, px * px + py * py)
    found = float(np.sqrt(least))
    return found if found > TOUCH else 0.0


@compiled
def spread(
    t: Tables,
    i: int,
    v: int,
    x: float,
    y: float,
    places: Floats,
    chosen: Ints,
    first: int,
    weight: Floats,
    limit: float,
    out: Floats,
) -> float:
    """Overlap of move i, laid as v at (x, y), with each move from `first` on, into `out`; its weighted sum.

    Gives up once above `limit`; then the rest of `out` is not filled. One long function, its tables taken
    out once: the call of a smaller one would cost more than its work.
    """
    first_image, box, shape, image, nofit, flip = t.first_image, t.box, t.shape, t.image, t.nofit, t.flip
    bounds, edge, lie, count, centre, mesh = t.bounds, t.edge, t.mesh.lie, t.mesh.layout, t.mesh.centre, t.mesh
    i0, i1_all = first_image[v], first_image[v + 1]
    fold = box[v, FOLD]
    total: float = 0.0
    for j in range(first, len(chosen)):
        vj = chosen[j]
        out[j] = 0.0
        if j == i or vj < 0:
            continue
        j0, j1, i1 = first_image[vj], first_image[vj + 1], i1_all
        if fold >= 0 and box[vj, FOLD] >= 0:
            if fold != box[vj, FOLD]:
                continue
            i1, j1 = i0 + 1, j0 + 1  # the other images are their reflections
        dx, yj = x - places[j, 0], places[j, 1]
        found: float = 0.0
        for a in range(i0, i1):
            sa, qy = shape[a], image[a, SIGN] * y + image[a, SHIFT]
            for b in range(j0, j1):
                sb = shape[b]
                k = nofit[sb, sa]
                if k < 0:
                    continue
                ex, ey = dx * flip[sb, sa, 0], (qy - (image[b, SIGN] * yj + image[b, SHIFT])) * flip[sb, sa, 1]
                px, py = ex - bounds[k, 0], ey - bounds[k, 1]
                if px <= 0.0 or py <= 0.0 or ex >= bounds[k, 2] or ey >= bounds[k, 3]:
                    continue
                column = min(int(px * lie[k, ALONG]), count[k, N_ALONG] - 1)
                row = min(int(py * lie[k, ACROSS]), count[k, N_ACROSS] - 1)
                cell = count[k, FIRST_CELL] + row * count[k, N_ALONG] + column
                if centre[cell] > -lie[k, HALF]:
                    found += _depth(edge, mesh, k, cell, row, ex, ey)
        if found > 0.0:
            out[j] = found
            total += weight[j] * found
            if total >= limit:
                return total
    return total


@compiled
def measure(t: Tables, places: Floats, chosen: Ints, deep: Floats) -> float:
    """Fill the matrix of overlaps; returns their sum over pairs. [cm]"""
    total = 0.0
    n = len(chosen)
    even = np.ones(n)
    deep[:] = 0.0
    for i in range(t.movable):
        total += spread(t, i, chosen[i], places[i, 0], places[i, 1], places, chosen, i + 1, even, BIG, deep[i])
        for j in range(i + 1, n):
            deep[j, i] = deep[i, j]
    return total
