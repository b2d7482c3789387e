"""Cloth folded by hand: the strip outside a fold line laid back over it chord by chord, with shapely only.

Independent of the code that drew the cutting line: it reflects cut cloth, it never builds an allowance.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely import union_all
from shapely.affinity import affine_transform
from shapely.geometry import LineString, MultiPoint, Point, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Curve

FINE = 0.0005  # cm: how far a chord of the fold line may leave it here
FAR = 12.0  # cm: the fold line is creased on past its ends this far


@dataclass(frozen=True)
class Folded:
    """What is seen when the turn lies on the piece.

    protrudes  how far it stands out beyond the cloth it lies on [cm]
    short      how much of the cloth under it, up to the turn's depth, it leaves bare [cm]
    """

    protrudes: float
    short: float


def folded(cut: Polygon, fold: Curve, depth: float, *, fold_line_x: float | None = None) -> Folded:
    """Fold what lies beyond `fold` (a run of an anticlockwise outline) back by `depth`."""
    points = np.array(fold.flattened(tolerance=FINE))
    first, last = np.array(fold.start_tangent), np.array(fold.end_tangent)
    reach = min(FAR, 3 * depth)
    points = np.vstack([points[0] - reach * first, points, points[-1] + reach * last])
    under, laid = [], []
    ways = np.diff(points, axis=0)
    ways /= np.hypot(ways[:, 0], ways[:, 1])[:, None]
    turns = np.vstack([ways[:1], ways[:-1] + ways[1:], ways[-1:]])
    turns /= np.hypot(turns[:, 0], turns[:, 1])[:, None]
    outward = np.column_stack([turns[:, 1], -turns[:, 0]])
    for (i, p), (j, q) in pairwise(enumerate(points)):
        m, n = outward[i], outward[j]
        outside = Polygon([p, q, q + 1.5 * depth * n, p + 1.5 * depth * m])
        inside = Polygon([p, q, q - depth * n, p - depth * m])
        under.append(cut.intersection(inside))
        laid.append(_reflected(cut.intersection(outside), p, ways[i]))
    cloth, turn = _beside(under, fold), _beside(laid, fold)
    if fold_line_x is not None:  # on the fold of the cloth: the other half continues there
        away = Polygon([(fold_line_x, -500), (fold_line_x, 500), (500, 500), (500, -500)])
        cloth, turn = cloth.intersection(away), turn.intersection(away)
    return Folded(_furthest(turn, cloth), _furthest(cloth, turn))


def _reflected(shape: BaseGeometry, at: np.ndarray, way: np.ndarray) -> BaseGeometry:
    c, s = way[0] ** 2 - way[1] ** 2, 2 * way[0] * way[1]
    a = np.array([[c, s], [s, -c]])
    shift = at - a @ at
    return affine_transform(shape, [*a.ravel(), *shift])


def _beside(parts: list[BaseGeometry], fold: Curve) -> BaseGeometry:
    """All parts in one, seams between chords healed, only what touches the fold line."""
    whole = union_all([p for p in parts if p.area > 0]).buffer(0.002).buffer(-0.002)
    spine = LineString(fold.flattened(tolerance=FINE))
    pieces = getattr(whole, "geoms", [whole])
    return union_all([p for p in pieces if p.distance(spine) < 0.01])


def _furthest(one: BaseGeometry, other: BaseGeometry) -> float:
    """How far any corner of one lies outside the other."""
    corners = [c for part in getattr(one, "geoms", [one]) for c in part.exterior.coords]
    return max(other.distance(Point(c)) for c in MultiPoint(corners).geoms and corners)
