"""What the search reads of a no-fit polygon is exact, near its rim above all; and the polygon is whole."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import MultiPoint, Point, Polygon

from clothwise.lay.cells import ACROSS, ALONG, N_ACROSS, N_ALONG
from clothwise.lay.layering import SINGLE
from clothwise.lay.moves import set_out
from clothwise.lay.nofit import SCALE, NoFits, no_fit, whole
from clothwise.lay.overlap import BIG, Floats, Tables, spread
from clothwise.lay.piece import LayPiece

from .laid_by_hand import FRONT_LEG, TOP, problem

SEEN = 2e-5  # cm: nearer the rim than this counts as touching
NEAR_ENOUGH = 1e-6  # cm


def collar(inner: float, outer: float) -> tuple[tuple[float, float], ...]:
    """Three quarters of a ring: its no-fit polygons have many short edges, and pockets."""
    turns = [math.radians(-45 + 270 * k / 24) for k in range(25)]
    return tuple(
        [(outer * math.cos(a), outer * math.sin(a)) for a in turns]
        + [(inner * math.cos(a), inner * math.sin(a)) for a in reversed(turns)]
    )


PAIRS = {
    "collar and tab": (LayPiece("collar", "Collar", collar(14, 19)), LayPiece("tab", "Tab", collar(3, 5))),
    "leg and front": (FRONT_LEG, TOP[0]),
}


def corners(t: Tables, k: int) -> Floats:
    """Points just inside the four corners of every cell: none lie further from their cell's centre."""
    x0, y0, x1, y1 = t.bounds[k]
    nx, ny = t.mesh.layout[k, N_ALONG], t.mesh.layout[k, N_ACROSS]
    assert t.mesh.lie[k, ALONG] == pytest.approx(nx / (x1 - x0))
    assert t.mesh.lie[k, ACROSS] == pytest.approx(ny / (y1 - y0))
    within = np.array([1e-6, 1 - 1e-6])
    xs = x0 + (np.arange(nx)[:, None] + within).ravel() * (x1 - x0) / nx
    ys = y0 + (np.arange(ny)[:, None] + within).ravel() * (y1 - y0) / ny
    return np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)


def beside(edges: Floats) -> Floats:
    """Points beside the middle of every edge, a few hairs inside and outside."""
    middle, along = edges[:, :2] + edges[:, 3:5] / 2, edges[:, 3:5] * np.sqrt(edges[:, 5:6])
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)
    return np.concatenate([middle + hairs * 1e-4 * across for hairs in (-20, -2, 2, 20)])


@pytest.mark.parametrize("name", PAIRS)
def test_a_depth_is_exact_at_the_corners_of_every_cell(name):
    """Against shapely. A cell that forgets an edge, or takes outside for inside, is wrong at a corner first."""
    asked = problem(PAIRS[name], 140, "one-way")
    t = set_out(asked, SINGLE, NoFits(), slack=0.05).tables
    last = len(t.first_variant) - 2
    a, b = t.shape[t.first_image[t.first_variant[0]]], t.shape[t.first_image[t.first_variant[last]]]
    k, flip = t.nofit[a, b], t.flip[a, b]
    edges = t.edge[t.first_edge[k] : t.first_edge[k + 1]]
    gap = np.abs(edges[:-1, :2] + edges[:-1, 3:5] - edges[1:, :2]).max(axis=1) > SEEN
    rings = np.split(edges[:, :2], np.flatnonzero(gap) + 1)
    area = shapely.union_all([])
    for ring in rings:
        area = area.symmetric_difference(Polygon(ring))
    chosen = t.first_variant[:-1].copy()
    places = np.full((len(chosen), 2), 1e6)
    places[0] = 60.0, 60.0
    row, even = np.zeros(len(chosen)), np.ones(len(chosen))
    points = np.concatenate([corners(t, k), beside(edges)])
    inside = shapely.contains_xy(area, points)
    depth = shapely.distance(area.boundary, shapely.points(points))
    assert inside.sum() > 1000
    assert (~inside).sum() > 300
    for point, within, deep in zip(points, inside, depth, strict=True):
        x, y = places[0] + point * flip
        spread(t, last, chosen[last], x, y, places, chosen, 0, even, BIG, row)
        if deep > SEEN:
            assert row[0] == pytest.approx(deep if within else 0.0, abs=NEAR_ENOUGH), point


def test_points_that_round_to_the_same_step_leave_the_no_fit_polygon_whole():
    """Against the Minkowski sum of convex outlines, which is the hull of all differences."""
    house = [(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (15.0, 34.0), (0.0, 20.0)]
    hair = 0.2 / SCALE
    twice = [p for x, y in house for p in ((x, y), (x + hair, y), (x, y - hair))]
    other = np.array([(0.0, 0.0), (12.0, 3.0), (5.0, 16.0)])
    differences = [(ax - bx, ay - by) for ax, ay in house for bx, by in other]
    hull = MultiPoint(differences).convex_hull
    for points in (house, twice, [*twice, twice[0]]):
        for rings in (
            no_fit(whole(np.array(points)), whole(other)),
            no_fit(whole(other), whole(np.array(points))),
        ):
            assert len(rings) == 1
            assert Polygon(rings[0]).area == pytest.approx(hull.area, rel=1e-6)
    assert hull.contains(Point(1, 1))
    assert len(whole(np.array(twice))) == len(house)
