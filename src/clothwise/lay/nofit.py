"""No-fit polygons: where one piece may not lie against another.

no_fit(a, b) is the set of moves d for which a and b + d overlap; on its rim they touch. It is the
Minkowski sum of a and -b, found from the convolution of the two outlines (Guibas, Ramshaw, Stolfi,
'A kinetic framework for computational geometry', 1983): the points that the convolution winds around
at least once. Clipper draws the union. Coordinates are whole tenths of a micrometre meanwhile, so
every comparison of directions is exact.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pyclipper
from numba import njit
from numpy.typing import NDArray

from clothwise.lay.cells import Measured, measured
from clothwise.lay.outline import prepared

Array = NDArray[np.float64]
Whole = NDArray[np.int64]
SCALE = 1e5  # steps in one cm; a roll of 200 m is 2e9 steps, whose squares still fit 64 bits
NEEDLE = 1.5  # steps: a union may leave slits so narrow, deep into what is overlap; a hair more than a diagonal
SMALLEST_HOLE = 100.0 * SCALE  # steps2: about 1e-3 mm2; a smaller pocket admits nothing that could be cut


def whole(points: Array) -> Whole:
    """Points in whole steps, none twice in a row: of an edge without length nobody knows the direction."""
    found = np.rint(points * SCALE).astype(np.int64)
    distinct: Whole = found[(found != np.roll(found, 1, axis=0)).any(axis=1)]
    return distinct


def no_fit(a: Whole, b: Whole) -> tuple[Array, ...]:
    """Rings of the no-fit polygon of b against a, outer rings and pockets. Each n x 2 [cm]."""
    x, y, ends = _convolution(a, -b)
    clipper = pyclipper.Pyclipper()
    points = np.stack([x, y], axis=1)
    clipper.AddPaths([p.tolist() for p in np.split(points, ends[:-1])], pyclipper.PT_SUBJECT, True)
    rings = clipper.Execute(pyclipper.CT_UNION, pyclipper.PFT_POSITIVE, pyclipper.PFT_POSITIVE)
    return tuple(
        np.asarray(ring, dtype=np.float64) / SCALE
        for ring in pyclipper.CleanPolygons(rings, NEEDLE)
        if abs(pyclipper.Area(ring)) > SMALLEST_HOLE
    )


@njit(cache=True)
def _within(ux: int, uy: int, wx: int, wy: int, vx: int, vy: int, closed_start: bool) -> bool:
    """Does direction w lie between u and v, turning left by less than 180 degrees from u to v?"""
    start, end = ux * wy - uy * wx, wx * vy - wy * vx
    if start > 0 and end > 0:
        return True
    if closed_start:
        return start == 0 and end > 0 and ux * wx + uy * wy > 0
    return end == 0 and start > 0 and vx * wx + vy * wy > 0


@njit(cache=True)
def _arcs(a: Whole, b: Whole, a_first: bool, start: Whole, end: Whole, k: int) -> int:
    """Edges of b carried at corners of a. Where directions tie, a counts as turned a hair to the right."""
    n, m = len(a), len(b)
    for i in range(n):
        h, j = (i - 1) % n, (i + 1) % n
        ux, uy = a[i, 0] - a[h, 0], a[i, 1] - a[h, 1]
        vx, vy = a[j, 0] - a[i, 0], a[j, 1] - a[i, 1]
        full = ux * vy - uy * vx > 0
        for p in range(m):
            q = (p + 1) % m
            wx, wy = b[q, 0] - b[p, 0], b[q, 1] - b[p, 1]
            if full and not _within(ux, uy, wx, wy, vx, vy, a_first):
                continue
            if not full and not _within(vx, vy, wx, wy, ux, uy, a_first):
                continue
            here = i * m + p if a_first else p * n + i
            there = i * m + q if a_first else q * n + i
            if full:
                start[k], end[k] = here, there
            else:
                start[k], end[k] = there, here
            k += 1
    return k


@njit(cache=True)
def _convolution(a: Whole, b: Whole) -> Any:
    """The closed loops of the convolution of two anticlockwise outlines: x, y and where each loop ends."""
    n, m = len(a), len(b)
    start = np.empty(2 * n * m, np.int64)
    end = np.empty(2 * n * m, np.int64)
    k = _arcs(a, b, True, start, end, 0)
    k = _arcs(b, a, False, start, end, k)
    first = np.full(n * m, -1, np.int64)  # arcs leaving a node, as linked lists
    following = np.full(k, -1, np.int64)
    for arc in range(k - 1, -1, -1):
        following[arc] = first[start[arc]]
        first[start[arc]] = arc
    x = np.empty(k, np.int64)
    y = np.empty(k, np.int64)
    ends = np.empty(k, np.int64)
    count, loops = 0, 0
    for root in range(n * m):
        while first[root] >= 0:
            node = root
            while first[node] >= 0:  # balanced: as many arcs arrive as leave, so the walk ends where it began
                arc = first[node]
                first[node] = following[arc]
                x[count] = a[node // m, 0] + b[node % m, 0]
                y[count] = a[node // m, 1] + b[node % m, 1]
                count += 1
                node = end[arc]
            ends[loops] = count
            loops += 1
    return x[:count], y[:count], ends[:loops]


@dataclass(slots=True)
class NoFits:
    """No-fit polygons already found, by the shapes themselves; the caller keeps it and hands it in again.

    They depend on neither the cloth nor its width. Forgotten all at once when `most` are held.
    """

    most: int = 20_000
    known: dict[tuple[bytes, bytes], tuple[Array, ...]] = field(default_factory=dict)
    prepared: dict[tuple[object, ...], Whole] = field(default_factory=dict)
    most_meshed: int = 1_500  # a mesh takes some 50 kB
    meshed: dict[tuple[bytes, bytes], Measured] = field(default_factory=dict)

    def outline(self, points: tuple[tuple[float, float], ...], gap: float, slack: float) -> Whole:
        """An outline made ready for the search, in whole steps."""
        key = (points, gap, slack)
        found = self.prepared.get(key)
        if found is None:
            if len(self.prepared) >= self.most:
                self.prepared.clear()
            found = self.prepared[key] = whole(prepared(points, gap=gap, slack=slack))
        return found

    def rings(self, a: Whole, b: Whole) -> tuple[Array, ...]:
        """The no-fit polygon of b against a. [cm]"""
        key = (a.tobytes(), b.tobytes())
        found = self.known.get(key)
        if found is None:
            if len(self.known) >= self.most:
                self.known.clear()
            found = self.known[key] = no_fit(a, b)
        return found

    def measured(self, a: Whole, b: Whole) -> Measured:
        """The no-fit polygon of b against a as the search reads it."""
        key = (a.tobytes(), b.tobytes())
        found = self.meshed.get(key)
        if found is None:
            if len(self.meshed) >= self.most_meshed:
                self.meshed.clear()
            found = self.meshed[key] = measured(self.rings(a, b))
        return found
