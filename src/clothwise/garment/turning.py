"""What is folded back onto the piece (hem, casing, a seam pressed open), cut as the mirror image of what it
comes to lie on, so that it lies flat and reaches exactly.

The fold line may be curved: then each point is mirrored in the fold line where that stands square to it.
Letters: p the fold line's points, n its outward directions, w the height over it on the piece's side.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from shapely import get_parts, intersection, make_valid
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Point
from clothwise.tolerance import CUT_TRIM, SAME_POINT

LONGEST_CHORD = 0.5  # cm: longer chords of what is mirrored in a curved fold line are broken up first
STRAIGHT = (
    CUT_TRIM  # a fold line whose points leave its chord by less mirrors straight chords to straight chords
)

Pair = tuple[float, float]
Array = NDArray[np.float64]
Rails = tuple[Array, Array]  # n x 2 each: points of the fold line, outward ways there


def rails(points: Array, outward: Array, before: float, after: float) -> Rails:
    """The fold line with its outward directions, run on straight past its ends. [cm]"""
    ends = []
    for i, run, turn in ((0, before, 1.0), (-1, after, -1.0)):
        x, y = outward[i] / math.hypot(*outward[i])
        ends.append(points[i] + np.array([[y, -x]]) * (run * turn))
    head, tail = ends[0][: before > 0], ends[1][: after > 0]
    return (
        np.concatenate([head, points, tail]),
        np.concatenate([outward[: len(head)], outward, outward[len(outward) - len(tail) :]]),
    )


def can_turn(line: Rails, depth: float) -> bool:
    """Whether that depth can be laid on either side of the fold line without running into itself."""
    p, n = line
    way, spread = np.diff(p, axis=0), np.diff(n, axis=0)
    along = np.sum(way * way, axis=1)
    return bool(np.all(along > depth * np.abs(np.sum(way * spread, axis=1))))


def turned(region: BaseGeometry, line: Rails, depth: float) -> list[Polygon]:
    """The part of the region within that depth of the fold line, mirrored outwards. [cm]

    Only what hangs together with the fold line itself counts.
    """
    p, n = line
    inner, outer = p - depth * n, p + depth * n
    strip = Polygon(np.concatenate([p, inner[::-1]]))
    spine = LineString(p - CUT_TRIM * n)
    under = [part for part in _polygons(_common(region, strip)) if part.intersects(spine)]
    pairs: list[Pair] = [(x, y) for x, y in p.tolist()]
    known = dict(zip(pairs, pairs, strict=True))
    known |= {(x, y): (v, w) for (x, y), (v, w) in zip(inner.tolist(), outer.tolist(), strict=True)}
    bent = _bent(p)
    return [sound for part in under for sound in _sound(_image(part, line, known, bent))]


def _common(region: BaseGeometry, strip: Polygon) -> BaseGeometry:
    """Where the strip lies on the region.

    The two share edges to the last digit, and there the library now and then hands the strip back with an
    end uncut (one casing in some eight hundred). So what is common and what is left over must make up the
    region; else it is asked again on a fine grid, where shared edges are one.
    """
    common = region.intersection(strip)
    left_over = region.difference(strip)
    if abs(common.area + left_over.area - region.area) <= CUT_TRIM:
        return common
    return intersection(region, strip, grid_size=SAME_POINT)


def _sound(image: Polygon) -> list[Polygon]:
    """The image without the hairlines in which its ring may cross itself: two edges that met on the strip's
    rim, mirrored one by one, can pass each other in the last digits, and a union of such a ring fails."""
    if image.is_valid:
        return [image]
    return [part for kind in get_parts(make_valid(image)) for part in _polygons(kind)]


def _bent(p: Array) -> bool:
    way = (p[-1] - p[0]) / np.hypot(*(p[-1] - p[0]))
    return bool(np.any(np.abs(_cross(p - p[0], way)) > STRAIGHT))


def _image(part: Polygon, line: Rails, known: dict[Pair, Pair], bent: bool) -> Polygon:
    """The part seen in the fold line; points of the strip itself are known, the few others are worked out."""
    corners: list[Pair] = list(part.exterior.coords)
    ring: list[Pair] = []
    for c, d in pairwise(corners):
        ring.append(c)
        if bent and not (c in known and d in known):
            steps = math.ceil(math.dist(c, d) / LONGEST_CHORD)
            ring.extend(Point(*c).between(Point(*d), i / steps) for i in range(1, steps))
    strangers = [c for c in ring if c not in known]
    images = dict(zip(strangers, _mirrored(strangers, line), strict=True)) if strangers else {}
    return Polygon([known[c] if c in known else images[c] for c in ring])


def _mirrored(places: Sequence[Pair], line: Rails) -> list[Pair]:
    """The places seen in the fold line: as far outside it, square to it, as they lie inside.

    Between two rails the outward way turns evenly; the foot lies at share u of the chord where
    (to - u along) x (m + u spread) = 0. All places against all chords at once; each takes the nearest chord its
    foot lies on.
    """
    at, (p, m) = np.array(places), (line[0][:-1], line[1][:-1])
    along, spread = np.diff(line[0], axis=0), np.diff(line[1], axis=0)
    to = at[:, None, :] - p
    a = -_cross(along, spread)
    b = _cross(to, spread) - _cross(along, m)
    c = _cross(to, m)
    inside = np.maximum(b * b - 4 * a * c, 0.0)
    u = -2 * c / (b + np.copysign(np.sqrt(inside), b))  # b is never 0 while the depth can be turned
    beyond = np.maximum(np.maximum(-u, u - 1), 0.0) * np.hypot(along[:, 0], along[:, 1])
    foot, out = p + u[..., None] * along, m + u[..., None] * spread
    w = np.sum((at[:, None, :] - foot) * out, axis=2) / np.sum(out * out, axis=2)
    # of a fold line that goes half round a place at one end lies square to the other end too, but far off
    rows, best = np.arange(len(places)), np.argmin(beyond + np.abs(w), axis=1)
    foot, out, w = foot[rows, best], out[rows, best], w[rows, best]
    return [(x, y) for x, y in (foot - w[:, None] * out).tolist()]


def _cross(one: Array, other: Array) -> Array:
    product: Array = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    return product


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    if isinstance(shape, Polygon):
        return [shape] if shape.area > 0 else []
    return [p for p in getattr(shape, "geoms", ()) if isinstance(p, Polygon) and p.area > 0]
