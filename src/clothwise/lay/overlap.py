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

from clothwise.tolerance import LAY_TOUCH

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

BIG = 1e300
TOUCH = LAY_TOUCH
compiled = njit(cache=True, error_model="numpy")


class Tables(NamedTuple):
    """Everything about a problem that stays fixed while the search runs."""

    movable: int  # the first moves are free, the rest are obstacles
    first_variant: Ints  # per move, plus the end
    first_image: Ints  # per variant, plus the end
    box: Floats  # per variant: LOW_X, TRAIL (high_x is length - trail), LOW_Y, HIGH_Y, FOLD (or -1)
    shape: Ints  # per image
    image: Floats  # per image: SIGN, SHIFT: q_y = sign * p_y + shift
    nofit: Ints  # shape x shape: k of (j, i), or -1
    flip: Floats  # shape x shape x 2: signs carrying d into the stored polygon
    first_edge: Ints  # per no-fit polygon, plus the end
    bounds: Floats  # per no-fit polygon: low x, low y, high x, high y
    edge: (
        Floats  # per edge: AX, AY its start, BY the y of its end, VX, VY to its end, INVERSE 1 / length squared
    )


LOW_X, TRAIL, LOW_Y, HIGH_Y, FOLD = range(5)
SIGN, SHIFT = range(2)
AX, AY, BY, VX, VY, INVERSE = range(6)


@compiled
def depth(t: Tables, k: int, dx: float, dy: float) -> float:
    """How far d lies inside no-fit polygon k. [cm]"""
    b = t.bounds[k]
    if dx <= b[0] or dx >= b[2] or dy <= b[1] or dy >= b[3]:
        return 0.0
    inside = False
    for e in range(t.first_edge[k], t.first_edge[k + 1]):
        ay = t.edge[e, AY]
        if (ay > dy) != (t.edge[e, BY] > dy) and dx - t.edge[e, AX] < t.edge[e, VX] * (dy - ay) / t.edge[e, VY]:
            inside = not inside
    if not inside:
        return 0.0
    least = BIG
    for e in range(t.first_edge[k], t.first_edge[k + 1]):
        px, py = dx - t.edge[e, AX], dy - t.edge[e, AY]
        s = min(max((px * t.edge[e, VX] + py * t.edge[e, VY]) * t.edge[e, INVERSE], 0.0), 1.0)
        px -= s * t.edge[e, VX]
        py -= s * t.edge[e, VY]
        least = min(least, px * px + py * py)
    found = float(np.sqrt(least))
    return found if found > TOUCH else 0.0


@compiled
def overlap(t: Tables, vi: int, xi: float, yi: float, vj: int, xj: float, yj: float) -> float:
    """Depth of overlap of two moves, all their images. [cm]"""
    i0, i1 = t.first_image[vi], t.first_image[vi + 1]
    j0, j1 = t.first_image[vj], t.first_image[vj + 1]
    if t.box[vi, FOLD] >= 0 and t.box[vj, FOLD] >= 0:
        if t.box[vi, FOLD] != t.box[vj, FOLD]:
            return 0.0
        i1, j1 = i0 + 1, j0 + 1  # the other images are their reflections
    total = 0.0
    for a in range(i0, i1):
        qy = t.image[a, SIGN] * yi + t.image[a, SHIFT]
        for b in range(j0, j1):
            sa, sb = t.shape[a], t.shape[b]
            k = t.nofit[sb, sa]
            if k < 0:
                continue
            dx, dy = xi - xj, qy - (t.image[b, SIGN] * yj + t.image[b, SHIFT])
            total += depth(t, k, dx * t.flip[sb, sa, 0], dy * t.flip[sb, sa, 1])
    return total


@compiled
def cost(
    t: Tables, i: int, v: int, x: float, y: float, places: Floats, chosen: Ints, weights: Floats, limit: float
) -> float:
    """Weighted overlap of move i with all others; gives up once above `limit`."""
    total: float = 0.0
    for j in range(len(chosen)):
        if j == i or chosen[j] < 0:
            continue
        found = overlap(t, v, x, y, chosen[j], places[j, 0], places[j, 1])
        if found > 0.0:
            total += weights[i, j] * found
            if total >= limit:
                return total
    return total


@compiled
def measure(t: Tables, places: Floats, chosen: Ints, deep: Floats) -> float:
    """Fill the matrix of overlaps; returns their sum over pairs. [cm]"""
    total = 0.0
    n = len(chosen)
    for i in range(n):
        for j in range(i):
            deep[i, j] = 0.0
            if i < t.movable or j < t.movable:
                deep[i, j] = overlap(
                    t, chosen[i], places[i, 0], places[i, 1], chosen[j], places[j, 0], places[j, 1]
                )
            deep[j, i] = deep[i, j]
            total += deep[i, j]
    return total
