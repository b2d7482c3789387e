"""Checks on the cutting line: the allowance is there all round, and what is turned lies flat and reaches.

The cutting line is taken as it is handed to the scissors; distances to it are measured here.
Letters: d the allowance or turn, n the outward direction (right of travel, the outline being anticlockwise).
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from clothwise.errors import GarmentError
from clothwise.garment.allowance import cutting_line
from clothwise.garment.check.drawn import Drawn, Floats, Seen
from clothwise.garment.check.fault import Fault, on_piece
from clothwise.garment.piece import Edge
from clothwise.tolerance import ALLOWANCE, FLATTEN, HEM_FOLDED, LAY_FOLD, ON_OUTLINE

LOOKS = (0.3, 0.5, 0.7)  # shares of an edge at which the allowance is measured: away from its corners
FAR = 3.0  # cm beyond the allowance: as far as a cutting line is looked for
MITRE = 2.5  # times an allowance: as far as the tip of a corner may reach
FLAT = 0.06  # depth x curvature: a turn on a sharper bow has to be eased by more than 12 % and stands off
NARROW = 1.5  # cm: a turn no deeper is the trade's turn for a curved hem, eased flat with the iron,
FLAT_NARROW = 0.1  # up to a bow on which it is eased by 20 %
FLAT_WINDOW = 5.0  # cm: the bow is taken over this length; a shorter one is pressed away
BLUNT_DEG = 150.0  # degrees: beyond it a turn ends square, there is no neighbour for it to lie on
THIN = 4  # of the samples of a fold line every fourth does: they still lie within 0.1 mm of it
_LOOKS, _RIGHT = np.array(LOOKS), np.array([1.0, -1.0])
STEP = 0.25  # cm between the points at which a turn is folded


def cut_faults(piece: Seen) -> Iterator[Fault]:
    where = on_piece(piece.piece.name)
    if piece.shape is None:
        return  # told by the rules on the outline
    try:
        ring = np.array(cutting_line(piece.piece), dtype=np.float64)
    except GarmentError as refusal:
        yield Fault("cutting line", where, f"No cutting line can be drawn. {refusal.what}")
        return
    if len(ring) < 3:
        yield Fault("cutting line", where, f"The cutting line has {len(ring)} points.", len(ring), 3)
        return
    cut = shapely.Polygon(ring)
    shapely.prepare(cut)
    if not cut.is_valid or not (cut.covers(piece.shape) or cut.buffer(FLATTEN).covers(piece.shape)):
        lost = piece.shape.difference(cut.buffer(0)).area
        what = f"The cutting line crosses itself or the piece; {lost:.2f} cm2 of it would be cut off."
        yield Fault("cutting line", where, what, lost)
        return
    yield from _allowances(piece, cut)
    for edge in piece.piece.edges:
        if edge.kind in ("hem", "casing"):
            yield from _flat(piece, edge)
            yield from _folded(piece, edge, cut)


# ---- allowances --------------------------------------------------------------------------------------


def _allowances(piece: Seen, cut: shapely.Polygon) -> Iterator[Fault]:
    """Straight out from three places of every edge the cutting line is met at the distance asked."""
    edges = piece.piece.edges
    looks = [_looks(piece.lines[e.name]) for e in edges]
    at, out = np.concatenate([a for a, _ in looks]), np.concatenate([o for _, o in looks])
    asked = np.repeat([e.allowance for e in edges], len(LOOKS))
    reach = _reaches(at, out, asked, cut)
    for k, edge in enumerate(edges):
        for i in range(k * len(LOOKS), (k + 1) * len(LOOKS)):
            near = reach[i] < edge.allowance - ALLOWANCE
            far = reach[i] > edge.allowance + (LAY_FOLD if edge.kind == "fold" else ALLOWANCE)
            if near or (far and _alone(piece, edge, at[i] + out[i] * reach[i])):
                what = f"The cutting line lies {reach[i]:.2f} cm outside, asked {edge.allowance:g} cm."
                where = on_piece(piece.piece.name, edge.name)
                yield Fault("allowance", where, what, float(reach[i]), edge.allowance)
                break


def _looks(line: Drawn) -> tuple[Floats, Floats]:
    """The points at LOOKS of a line's length and the unit directions outwards."""
    here = _LOOKS * line.along[-1]
    i = np.clip(line.along.searchsorted(here), 1, len(line.along) - 1)
    a = line.points[i - 1]
    way = line.points[i] - a
    way = way / np.hypot(way[:, 0], way[:, 1])[:, None]
    out = way[:, ::-1] * _RIGHT
    return a + way * (here - line.along[i - 1])[:, None], out


def _reaches(at: Floats, out: Floats, d: Floats, cut: shapely.Polygon) -> Floats:
    """How far one can go straight out from each place before meeting the cutting line. [cm]"""
    rays = shapely.linestrings(np.stack([at - out * FLATTEN, at + out * (d + FAR)[:, None]], axis=1))
    met, ray = shapely.get_coordinates(shapely.intersection(rays, cut.exterior), return_index=True)
    found = ((met - at[ray]) * out[ray]).sum(axis=1)
    reach = d + FAR
    np.minimum.at(reach, ray, found)
    return reach


def _alone(piece: Seen, edge: Edge, place: Floats) -> bool:
    """Whether a place outside the piece is out of reach of every other edge's allowance and corner tip,
    and of the cap over a dart."""
    if any(dart.edge == edge.name for dart in piece.piece.darts):
        return False
    spot = shapely.Point(place)
    return all(
        spot.distance(shapely.LineString(piece.lines[other.name].points)) > MITRE * other.allowance + ALLOWANCE
        for other in piece.piece.edges
        if other.name != edge.name
    )


# ---- what is turned ----------------------------------------------------------------------------------


def _flat(piece: Seen, edge: Edge) -> Iterator[Fault]:
    line = piece.lines[edge.name]
    way = np.diff(line.points, axis=0)
    heading = np.unwrap(np.arctan2(way[:, 1], way[:, 0]))
    middles = (line.along[1:] + line.along[:-1]) / 2
    window = min(FLAT_WINDOW, line.along[-1])
    starts = np.arange(0.0, line.along[-1] - window + STEP, STEP)
    turned = np.interp(starts + window, middles, heading) - np.interp(starts, middles, heading)
    bow = float(np.abs(turned).max()) / window
    limit = FLAT if edge.allowance > NARROW else FLAT_NARROW
    if bow * edge.allowance > limit:
        what = f"Turned {edge.allowance:g} cm on a bow of {1 / bow:.0f} cm radius it cannot lie flat."
        yield Fault("folds flat", on_piece(piece.piece.name, edge.name), what, bow * edge.allowance, limit)


def _folded(piece: Seen, edge: Edge, cut: shapely.Polygon) -> Iterator[Fault]:
    """Turned about its line, the turn neither stands out beyond what it lies on nor falls short of it."""
    fold_line = _run_on(piece, edge)
    turn = edge.allowance
    ring = shapely.get_coordinates(shapely.segmentize(cut.exterior, STEP))
    low, high = fold_line.min(axis=0) - (turn + FAR), fold_line.max(axis=0) + (turn + FAR)
    ring = ring[((ring >= low) & (ring <= high)).all(axis=1)]
    image, depth, between = _mirrored(ring, fold_line)
    outside = between & (depth > ON_OUTLINE) & (depth < turn + FAR)
    # what lies under the turn: the neighbours' cutting lines, as deep as the turn reaches
    under = between & (depth < -ON_OUTLINE) & (depth > ON_OUTLINE + ALLOWANCE - turn)
    for chosen, words in ((outside, "stands out by"), (under, "falls short by")):
        if not chosen.any():
            continue
        off = _farthest(cut, image[chosen])
        if off > HEM_FOLDED:
            what = f"Turned about its line it {words} {off:.2f} cm at its end."
            yield Fault("folded hem", on_piece(piece.piece.name, edge.name), what, off, HEM_FOLDED)


def _farthest(cut: shapely.Polygon, places: Floats) -> float:
    """How far the farthest of some places lies outside. [cm]"""
    spots = shapely.points(places)
    out = spots[~shapely.covers(cut, spots)]
    return float(shapely.distance(cut, out).max(initial=0.0))


def _run_on(piece: Seen, edge: Edge) -> Floats:
    """The line a turn is folded about, run on straight over its neighbours' allowances."""
    line = piece.lines[edge.name]
    points = [line.points[::THIN] if len(line.points) % THIN == 1 else line.points]
    mouths = {dart.edge for dart in piece.piece.darts}
    for at_end in (False, True):
        name = piece.neighbour(edge.name, at_end=at_end)
        other = piece.piece.edge(name)
        if name in mouths or piece.corner_deg(edge.name, at_end=at_end) > BLUNT_DEG:
            continue
        run = MITRE * other.allowance
        if run <= 0:
            continue
        way = np.array(line.arrives if at_end else line.leaves)
        points = [*points, line.points[-1:] + way * run] if at_end else [line.points[:1] - way * run, *points]
    return np.concatenate(points)


def _mirrored(
    places: Floats, line: Floats
) -> tuple[Floats, Floats, np.ndarray[tuple[int], np.dtype[np.bool_]]]:
    """Places mirrored in a line; how far outside it they lie [cm]; whether their foot is between its ends."""
    a, way = line[:-1], line[1:] - line[:-1]
    # x and y apart: sums over an axis of two cost many times the sum of two arrays
    x, y = places[:, :1] - a[:, 0], places[:, 1:] - a[:, 1]
    share = (x * way[:, 0] + y * way[:, 1]) / (way * way).sum(axis=1)
    on = np.minimum(np.maximum(share, 0.0), 1.0)
    off_x, off_y = x - on * way[:, 0], y - on * way[:, 1]
    squared = off_x * off_x + off_y * off_y
    nearest = squared.argmin(axis=1)
    rows = np.arange(len(places))
    share_at, along = share[rows, nearest], way[nearest]
    feet = a[nearest] + on[rows, nearest, None] * along
    right = x[rows, nearest] * along[:, 1] - y[rows, nearest] * along[:, 0]  # positive to the right, outwards
    depth = np.copysign(np.sqrt(squared[rows, nearest]), right)
    last = len(a) - 1
    between = ~((nearest == 0) & (share_at < 0)) & ~((nearest == last) & (share_at > 1))
    return 2 * feet - places, depth, between
