"""Outlines made ready for the search: fewer points, never smaller than the piece.

Points are dropped only outwards, so whatever the search keeps apart is apart in truth.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray
from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from clothwise.lay.problem import Outline
from clothwise.tolerance import LAY_TOUCH, PARALLEL, PARAMETER

Array = NDArray[np.float64]
MITRE = 2.0  # a sharp corner grows at most this many times the gap when the blade's gap is added
BIG = 1e300


def prepared(outline: Outline, *, gap: float, slack: float) -> Array:
    """The outline grown by half the blade's gap and thinned outwards by at most `slack`. Anticlockwise [cm]."""
    shape = orient(Polygon(outline))
    if gap > 0:
        shape = orient(Polygon(shape.buffer(gap / 2, join_style="mitre", mitre_limit=MITRE).exterior))
    raw = _straightened(np.asarray(shape.exterior.coords[:-1], dtype=np.float64))
    thin = thinned(raw, slack)
    candidate = Polygon(thin)
    if candidate.is_valid and candidate.buffer(LAY_TOUCH).contains(shape):
        return thin
    return raw


def _straightened(points: Array) -> Array:
    """Without repeated points and points in the middle of a straight run."""
    kept = points
    while len(kept) > 3:
        before, after = np.roll(kept, 1, axis=0), np.roll(kept, -1, axis=0)
        u, v = kept - before, after - kept
        bend = np.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])
        flat = bend <= LAY_TOUCH / 10 * np.maximum(np.hypot(u[:, 0], u[:, 1]), np.hypot(v[:, 0], v[:, 1]))
        if not flat.any():
            break
        first = int(np.argmax(flat))
        flat[first + 1 :] &= np.arange(first + 1, len(kept)) % 2 == first % 2  # never two neighbours at once
        if first == 0:
            flat[-1] = False
        kept = kept[~flat]
    return np.ascontiguousarray(kept)


def thinned(points: Array, slack: float) -> Array:
    """Fewer points, the figure nowhere smaller and nowhere more than `slack` larger. [cm]"""
    x, y, n = _thin(points[:, 0].copy(), points[:, 1].copy(), slack)
    return np.stack([x[:n], y[:n]], axis=1)


@njit(cache=True)
def _thin(x: Array, y: Array, slack: float) -> Any:
    """Cheapest first: fill a hollow corner, or let two neighbours of a short edge meet."""
    n = len(x)
    grown = np.zeros(n)  # how far the edge starting here already stands off the true outline
    while n > 4:
        best, at, kind = BIG, -1, 0
        for i in range(n):
            h, j, k = (i - 1) % n, (i + 1) % n, (i + 2) % n
            ux, uy = x[i] - x[h], y[i] - y[h]
            vx, vy = x[j] - x[i], y[j] - y[i]
            turn = ux * vy - uy * vx
            if turn <= 0:  # hollow corner at i: chord h -> j
                cx, cy = x[j] - x[h], y[j] - y[h]
                cost = abs(cx * uy - cy * ux) / max(np.hypot(cx, cy), PARAMETER) + max(grown[h], grown[i])
                if cost < best:
                    best, at, kind = cost, i, 1
                continue
            wx, wy = x[k] - x[j], y[k] - y[j]
            if vx * wy - vy * wx <= 0:
                continue
            across = ux * wy - uy * wx  # both ends of edge i -> j are full corners: let h-i and k-j meet
            if across <= PARALLEL * np.hypot(ux, uy) * np.hypot(wx, wy):
                continue
            t = (vx * wy - vy * wx) / across
            px, py = x[i] + t * ux, y[i] + t * uy
            cost = abs(vx * (py - y[i]) - vy * (px - x[i])) / max(np.hypot(vx, vy), PARAMETER) + grown[i]
            if cost < best:
                best, at, kind = cost, i, 2
        if best > slack:
            break
        j = (at + 1) % n
        if kind == 1:
            grown[(at - 1) % n] = best
            gone = at
        else:
            h, k = (at - 1) % n, (at + 2) % n
            ux, uy = x[at] - x[h], y[at] - y[h]
            vx, vy = x[j] - x[at], y[j] - y[at]
            wx, wy = x[k] - x[j], y[k] - y[j]
            t = (vx * wy - vy * wx) / (ux * wy - uy * wx)
            x[at] += t * ux
            y[at] += t * uy
            grown[h] = max(grown[h], best)
            grown[at] = max(grown[j], best)
            gone = j
        for m in range(gone, n - 1):
            x[m], y[m], grown[m] = x[m + 1], y[m + 1], grown[m + 1]
        n -= 1
    return x, y, n
