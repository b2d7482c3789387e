"""Half-planes that keep two images apart: a convex part of the free space around where they lie. Compiled.

From a place d outside a no-fit polygon, the nearest point of the rim gives a half-plane; whatever of the
rim still lies inside it and the trusted square gives the next, until nothing is left.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from clothwise.lay.overlap import (
    AX,
    AY,
    BIG,
    FOLD,
    INVERSE,
    SHIFT,
    SIGN,
    TOUCH,
    VX,
    VY,
    Floats,
    Ints,
    Tables,
    compiled,
)

MOST_PLANES = 12  # a deeper pocket is cut short: then the square shrinks instead
ON_RIM = 5 * TOUCH  # cm: nearer than this counts as touching
BEHIND = TOUCH / 2  # cm: the rim this far behind a half-plane is out of the way


@compiled
def planes(t: Tables, k: int, dx: float, dy: float, reach: float, last: bool, out: Floats) -> int:
    """Rows (nx, ny, c) with n.d >= c into `out`; -1 when more than MOST_PLANES are needed.

    `last` settles which of two edges that meet at the touching corner is taken.
    """
    b = t.bounds[k]
    if dx + reach <= b[0] or dx - reach >= b[2] or dy + reach <= b[1] or dy - reach >= b[3]:
        return 0
    n = 0
    while True:
        best, at, bx, by = BIG, -1, 0.0, 0.0
        for e in range(t.first_edge[k], t.first_edge[k + 1]):
            ax, ay, vx, vy = t.edge[e, AX], t.edge[e, AY], t.edge[e, VX], t.edge[e, VY]
            s0, s1 = _clip(ax - dx, vx, -reach, reach, 0.0, 1.0)
            s0, s1 = _clip(ay - dy, vy, -reach, reach, s0, s1)
            for h in range(n):
                start = out[h, 0] * ax + out[h, 1] * ay - out[h, 2] - BEHIND
                s0, s1 = _clip(start, out[h, 0] * vx + out[h, 1] * vy, 0.0, BIG, s0, s1)
            if s0 >= s1:
                continue
            s = min(max(((dx - ax) * vx + (dy - ay) * vy) * t.edge[e, INVERSE], s0), s1)
            px, py = ax + s * vx, ay + s * vy
            far = np.hypot(px - dx, py - dy)
            if far < best - TOUCH or (last and far < best + TOUCH):
                best, at, bx, by = min(far, best), e, px, py
        if at < 0:
            return n
        if n == MOST_PLANES:
            return -1
        if best > ON_RIM:
            nx, ny = (dx - bx) / best, (dy - by) / best
            c = nx * bx + ny * by
        else:
            size = np.hypot(t.edge[at, VX], t.edge[at, VY])
            nx, ny = t.edge[at, VY] / size, -t.edge[at, VX] / size  # rings run with the overlap on their left
            c = nx * t.edge[at, AX] + ny * t.edge[at, AY]
        out[n, 0], out[n, 1], out[n, 2] = nx, ny, c
        n += 1


@compiled
def _clip(start: float, slope: float, low: float, high: float, s0: float, s1: float) -> tuple[float, float]:
    """The part of s0..s1 on which start + s * slope lies between low and high."""
    if slope == 0.0:
        return (s0, s1) if low <= start <= high else (1.0, 0.0)
    a, b = (low - start) / slope, (high - start) / slope
    return max(s0, min(a, b)), min(s1, max(a, b))


@compiled
def all_planes(t: Tables, places: Floats, chosen: Ints, reach: float, last: bool) -> Any:
    """Rows (i, j, cx, cy_i, cy_j, c) for every pair that could meet: cx (x_i - x_j) + cy_i y_i - cy_j y_j >= c.

    None fits when some pair needs too many half-planes: then no rows and False.
    """
    n = len(chosen)
    rows = np.empty((max(16, n * n * 8), 6))
    found = np.empty((MOST_PLANES, 3))
    count = 0
    for i in range(n):
        for j in range(i):
            if i >= t.movable and j >= t.movable:
                continue
            vi, vj = chosen[i], chosen[j]
            i0, i1 = t.first_image[vi], t.first_image[vi + 1]
            j0, j1 = t.first_image[vj], t.first_image[vj + 1]
            if t.box[vi, FOLD] >= 0 and t.box[vj, FOLD] >= 0:
                if t.box[vi, FOLD] != t.box[vj, FOLD]:
                    continue
                i1, j1 = i0 + 1, j0 + 1
            for a in range(i0, i1):
                for b in range(j0, j1):
                    sa, sb = t.shape[a], t.shape[b]
                    k = t.nofit[sb, sa]
                    if k < 0:
                        continue
                    fx, fy = t.flip[sb, sa, 0], t.flip[sb, sa, 1]
                    dx = (places[i, 0] - places[j, 0]) * fx
                    dy = (
                        t.image[a, SIGN] * places[i, 1]
                        + t.image[a, SHIFT]
                        - t.image[b, SIGN] * places[j, 1]
                        - t.image[b, SHIFT]
                    ) * fy
                    m = planes(t, k, dx, dy, reach, last, found)
                    if m < 0:
                        return rows[:0], False
                    if count + m > len(rows):
                        rows = np.concatenate((rows, np.empty_like(rows)))
                    for h in range(m):
                        nx, ny = found[h, 0] * fx, found[h, 1] * fy
                        rows[count, 0], rows[count, 1] = float(i), float(j)
                        rows[count, 2], rows[count, 3] = nx, ny * t.image[a, SIGN]
                        rows[count, 4] = ny * t.image[b, SIGN]
                        rows[count, 5] = found[h, 2] - ny * (t.image[a, SHIFT] - t.image[b, SHIFT])
                        count += 1
    return rows[:count], True
