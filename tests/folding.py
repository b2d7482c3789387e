"""Cloth folded by hand: the strip outside a fold line laid back over it chord by chord, with shapely only.

Independent of the code that drew the cutting line: it reflects cut cloth, it never builds an allowance.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from shapely import distance, get_coordinates, intersection, points, polygons, union_all
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Curve

FINE = 0.0001  # cm: how far a chord of the fold line may leave it here
SLIT = 0.06  # cm: half the widest slit between two chords' reflections
FAR = 12.0  # cm: the fold line is creased on past its ends this far


@dataclass(frozen=True)
class Folded:
    """What is seen when the turn lies on the piece.

    protrudes  how far it stands out beyond the cloth it lies on [cm]
    short      how much of the cloth under it, up to the turn's depth, it leaves bare [cm]
    """

    protrudes: float
    short: float


def folded(cut: Polygon, fold: Curve, depth: float) -> Folded:
    """Fold what lies beyond `fold` (a run of an anticlockwise outline) back by `depth`."""
    line = np.array(fold.flattened(tolerance=FINE))
    first, last = np.array(fold.start_tangent), np.array(fold.end_tangent)
    reach = min(FAR, 3 * depth)
    line = np.vstack([line[0] - reach * first, line, line[-1] + reach * last])
    ways = np.diff(line, axis=0)
    ways /= np.hypot(ways[:, 0], ways[:, 1])[:, None]
    turns = np.vstack([ways[:1], ways[:-1] + ways[1:], ways[-1:]])
    turns /= np.hypot(turns[:, 0], turns[:, 1])[:, None]
    outward = np.column_stack([turns[:, 1], -turns[:, 0]])
    far, near = line + 1.5 * depth * outward, line - depth * outward
    outside = polygons(np.stack([line[:-1], line[1:], far[1:], far[:-1]], axis=1))
    inside = polygons(np.stack([line[:-1], line[1:], near[1:], near[:-1]], axis=1))
    strips = intersection(cut, outside)
    laid = [_reflected(strip, at, way) for strip, at, way in zip(strips, line, ways, strict=False)]
    cloth, turn = _beside(list(intersection(cut, inside)), fold), _beside(laid, fold)
    return Folded(_furthest(turn, cloth), _furthest(cloth, turn))


def _reflected(shape: BaseGeometry, at: np.ndarray, way: np.ndarray) -> BaseGeometry:
    c, s = way[0] ** 2 - way[1] ** 2, 2 * way[0] * way[1]
    a = np.array([[c, s], [s, -c]])
    shift = at - a @ at
    return affine_transform(shape, [*a.ravel(), *shift])


def _beside(parts: list[BaseGeometry], fold: Curve) -> BaseGeometry:
    """All parts in one, only what touches the fold line. Where a hollow fold makes the turn's edge shorter
    than what it lies on, the cloth is stretched: the slits between chords are closed."""
    whole = union_all([p for p in parts if p.area > 0])
    whole = whole.buffer(SLIT).buffer(-SLIT)
    spine = LineString(fold.flattened(tolerance=FINE))
    pieces = getattr(whole, "geoms", [whole])
    return union_all([p for p in pieces if p.distance(spine) < 0.01])


def _furthest(one: BaseGeometry, other: BaseGeometry) -> float:
    """How far any corner of one lies outside the other."""
    return float(np.max(distance(other, points(get_coordinates(one)))))
