"""Checks on one piece: its outline, fold, grain, darts and marks, and how its lines bend."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import shapely

from clothwise.garment.check.drawn import Drawn, Floats, Seen
from clothwise.garment.check.fault import Fault, on_piece
from clothwise.garment.piece import Dart, Edge
from clothwise.tolerance import (
    ANGLE_DEG,
    DART_LEGS,
    FLATTEN,
    FOLD_DEG,
    GRAIN_DEG,
    ON_OUTLINE,
    OUTLINE_CLOSED,
    SHORTEST_EDGE,
    WAVE_DEG,
)

SHORTEST_GRAIN = 3.0  # cm: a shorter arrow cannot be laid parallel to a selvedge by eye; on a strip cut across
# the cloth and narrower than that it runs over the whole width, the long edges show the direction as well
DART_TIP_INSIDE = 1.0  # cm: nearer to an edge the tip falls into the allowance
SHARPEST_STEP_DEG = 30.0  # degrees between two chords of one line: more is a cusp or a hook, not a curve
# How often a line may change its bend. A crotch or armhole is one arc with at most one reversal, a sleeve head
# has two, any other seam line two (hip out, thigh in, knee out); a hem or casing bows one way or runs out once.
WAVES = {"hem": 1, "casing": 1, "seam": 2, "raw": 2, "fold": 0}
ONE_WAVE = ("crotch", "armhole")


def piece_faults(piece: Seen) -> Iterator[Fault]:
    broken = list(_outline(piece))
    yield from broken
    if any(f.rule == "finite" for f in broken):
        return
    yield from _fold(piece)
    yield from _grain(piece)
    for edge in piece.piece.edges:
        yield from _bends(piece, edge)
    for dart in piece.piece.darts:
        yield from _dart(piece, dart)
    yield from _marks(piece)


# ---- the outline -----------------------------------------------------------------------------------


def _outline(piece: Seen) -> Iterator[Fault]:
    where = on_piece(piece.piece.name)
    for name, line in piece.lines.items():
        if not line.finite:
            yield Fault("finite", on_piece(piece.piece.name, name), "A point of it is not a number.", math.nan)
            return
    edges = piece.piece.edges
    for one, other in zip(edges, (*edges[1:], edges[0]), strict=True):
        gap = math.dist(piece.lines[one.name].points[-1], piece.lines[other.name].points[0])
        gap = max(gap, piece.lines[one.name].gap)
        if gap > OUTLINE_CLOSED:
            what = f"Between the end of '{one.name}' and the start of '{other.name}' gapes {gap:.5f} cm."
            yield Fault("closed", where, what, gap, OUTLINE_CLOSED)
    if not piece.simple:
        yield Fault("crosses itself", where, "The outline crosses or touches itself.")
    elif piece.area_cm2 <= 0:
        what = f"The outline runs clockwise (area {piece.area_cm2:.1f} cm2)."
        yield Fault("anticlockwise", where, what, piece.area_cm2)
    for edge in edges:
        length = piece.lines[edge.name].length
        if length < SHORTEST_EDGE:
            what = f"The edge is {length:.2f} cm long; it cannot be sewn."
            yield Fault("short edge", on_piece(piece.piece.name, edge.name), what, length, SHORTEST_EDGE)


def _fold(piece: Seen) -> Iterator[Fault]:
    for edge in piece.piece.edges:
        if edge.kind != "fold":
            continue
        where = on_piece(piece.piece.name, edge.name)
        bow = _bow(piece.lines[edge.name])
        if bow > FLATTEN:
            yield Fault("fold straight", where, f"The fold bows by {bow:.3f} cm.", bow, FLATTEN)
        for at_end in (False, True):
            angle = piece.corner_deg(edge.name, at_end=at_end)
            other = piece.neighbour(edge.name, at_end=at_end)
            if not abs(angle - 90.0) <= FOLD_DEG and not piece.piece.edge(other).pointed:
                what = f"'{other}' meets the fold at {angle:.1f} degrees: unfolded it shows a corner."
                yield Fault("fold square", where, what, angle, 90.0)
        if edge.allowance != 0:
            yield Fault(
                "fold allowance", where, f"A fold has {edge.allowance:g} cm of allowance.", edge.allowance
            )


def _bow(line: Drawn) -> float:
    """How far a line leaves its chord. [cm]"""
    (ax, ay), (bx, by) = line.points[0], line.points[-1]
    size = math.hypot(bx - ax, by - ay)
    if size == 0:
        return line.length
    away = (bx - ax) * (line.points[:, 1] - ay) - (by - ay) * (line.points[:, 0] - ax)
    return float(np.abs(away).max() / size)


def _grain(piece: Seen) -> Iterator[Fault]:
    where = on_piece(piece.piece.name)
    (ax, ay), (bx, by) = piece.piece.grain
    size = math.hypot(bx - ax, by - ay)
    if not size >= SHORTEST_GRAIN and not (size > 0 and _over_the_whole_width(piece, size)):
        yield Fault("grain", where, f"The grain arrow is {size:.1f} cm long.", size, SHORTEST_GRAIN)
        return
    if piece.shape is not None:
        outside = shapely.LineString([(ax, ay), (bx, by)]).difference(piece.shape).length
        if outside > ON_OUTLINE:
            what = f"{outside:.1f} cm of the grain arrow lies outside the piece."
            yield Fault("grain inside", where, what, outside, ON_OUTLINE)
    if piece.piece.bias and piece.piece.cutting == "on fold":
        yield Fault("bias on fold", where, "A bias piece is cut on the fold: its halves would stretch unalike.")
    fold = piece.piece.fold
    if fold is not None and not piece.piece.bias:
        fx, fy = piece.lines[fold.name].points[-1] - piece.lines[fold.name].points[0]
        off = math.degrees(
            math.asin(min(1.0, abs(fx * (by - ay) - fy * (bx - ax)) / (math.hypot(fx, fy) * size)))
        )
        if off > GRAIN_DEG:
            what = f"The grain arrow leaves the fold by {off:.2f} degrees."
            yield Fault("grain along fold", where, what, off, GRAIN_DEG)


def _over_the_whole_width(piece: Seen, size: float) -> bool:
    """Whether an arrow runs from edge to edge of a strip, square to both. [cm]"""
    (ax, ay), (bx, by) = piece.piece.grain
    along = (piece.ring[:, 0] * (bx - ax) + piece.ring[:, 1] * (by - ay)) / size
    across = (piece.ring[:, 1] * (bx - ax) - piece.ring[:, 0] * (by - ay)) / size
    return bool(abs(np.ptp(along) - size) <= ON_OUTLINE and np.ptp(across) >= SHORTEST_GRAIN)


# ---- how lines bend ----------------------------------------------------------------------------------


def _bends(piece: Seen, edge: Edge) -> Iterator[Fault]:
    line = piece.lines[edge.name]
    where = on_piece(piece.piece.name, edge.name)
    if any(math.isnan(v) for v in (*line.leaves, *line.arrives, *line.kinks)):
        yield Fault(
            "direction", where, "The line has a stroke that is a single point and leads nowhere.", math.nan
        )
        return
    kink = max((abs(k) for k in line.kinks), default=0.0)
    if kink > ANGLE_DEG:
        yield Fault("kink", where, f"The line breaks by {kink:.1f} degrees on its way.", kink, ANGLE_DEG)
    else:
        step = _sharpest_step_deg(line)
        if step > SHARPEST_STEP_DEG:
            yield Fault(
                "kink", where, f"The line turns on the spot by {step:.0f} degrees.", step, SHARPEST_STEP_DEG
            )
    allowed = 1 if any(word in edge.name for word in ONE_WAVE) else WAVES[edge.kind]
    waves = line.waves(WAVE_DEG)
    if waves > allowed:
        what = f"The line changes its bend {waves} times; {allowed} would be smooth."
        yield Fault("wavy", where, what, waves, allowed)
    # Anticlockwise, the cloth lies to the left: a turn to the right is hollow, and the allowance lies in it.
    hollow = float(-line.bends.min(initial=0.0))
    if edge.kind != "fold" and hollow * edge.allowance > 1.0:
        what = f"Its hollow has a radius of {1 / hollow:.2f} cm under {edge.allowance:g} cm of allowance."
        yield Fault("too tight", where, what, 1 / hollow, edge.allowance)


def _sharpest_step_deg(line: Drawn) -> float:
    x, y = (line.points[1:] - line.points[:-1]).T
    turns = np.arctan2(x[:-1] * y[1:] - y[:-1] * x[1:], x[:-1] * x[1:] + y[:-1] * y[1:])
    return math.degrees(float(np.abs(turns).max(initial=0.0)))


# ---- darts and marks -----------------------------------------------------------------------------------


def _dart(piece: Seen, dart: Dart) -> Iterator[Fault]:
    where = f"piece '{piece.piece.name}', dart '{dart.name}'"
    yield from _dart_legs(piece, dart, where)
    if dart.other_tip is not None:
        return
    if dart.edge not in {e.name for e in piece.piece.edges}:
        yield Fault("dart mouth", where, f"The piece has no edge '{dart.edge}' for the dart's mouth.")
        return
    mouth = piece.lines[dart.edge]
    gap = max(math.dist(mouth.points[0], dart.first_leg), math.dist(mouth.points[-1], dart.second_leg))
    if gap > ON_OUTLINE:
        what = f"The legs end {gap:.2f} cm from the ends of the mouth."
        yield Fault("dart mouth", where, what, gap, ON_OUTLINE)
    closed = _closed_dart_deg(piece, dart)
    if not abs(closed - 180.0) <= ANGLE_DEG:
        what = f"With the dart sewn the edge makes a corner of {closed:.1f} degrees across it."
        yield Fault("dart closed", where, what, closed, 180.0)


def _dart_legs(piece: Seen, dart: Dart, where: str) -> Iterator[Fault]:
    """Legs equal, tips well inside; a dart pointed at both ends lies inside as a whole."""
    tips = (dart.tip,) if dart.other_tip is None else (dart.tip, dart.other_tip)
    for tip in tips:
        first, second = math.dist(tip, dart.first_leg), math.dist(tip, dart.second_leg)
        if abs(first - second) > DART_LEGS:
            what = f"The legs are {first:.2f} and {second:.2f} cm long."
            yield Fault("dart legs", where, what, abs(first - second), DART_LEGS)
    if piece.shape is None:
        return
    for tip in tips if dart.other_tip is None else (*tips, dart.first_leg, dart.second_leg):
        inside = piece.shape.exterior.distance(shapely.Point(tip))
        inside = inside if piece.shape.contains(shapely.Point(tip)) else -inside
        if inside < DART_TIP_INSIDE:
            what = f"The tip lies {inside:.2f} cm inside the piece."
            yield Fault("dart tip", where, what, inside, DART_TIP_INSIDE)


def _closed_dart_deg(piece: Seen, dart: Dart) -> float:
    """The edge's inside angle across the sewn dart: the angles it makes with both legs. [degrees]"""
    before = piece.neighbour(dart.edge, at_end=False)
    after = piece.neighbour(dart.edge, at_end=True)
    back = piece.lines[before].arrives
    on = piece.lines[after].leaves
    leg1 = (dart.tip[0] - dart.first_leg[0], dart.tip[1] - dart.first_leg[1])
    leg2 = (dart.tip[0] - dart.second_leg[0], dart.tip[1] - dart.second_leg[1])
    return _between_deg((-back[0], -back[1]), leg1) + _between_deg(leg2, on)


def _between_deg(one: tuple[float, float], other: tuple[float, float]) -> float:
    cross = one[0] * other[1] - one[1] * other[0]
    return abs(math.degrees(math.atan2(cross, one[0] * other[0] + one[1] * other[1])))


def _marks(piece: Seen) -> Iterator[Fault]:
    if piece.shape is None:
        return
    room: shapely.Polygon | None = None
    for mark in piece.piece.marks:
        points = piece.lines[mark.name].points
        if piece.shape.covers(_pulled_in(points)):
            continue
        room = room or piece.shape.buffer(ON_OUTLINE)
        if not room.covers(shapely.LineString(points)):
            outside = float(shapely.distance(piece.shape, shapely.points(points)).max())
            what = f"The {mark.kind} line lies up to {outside:.2f} cm outside the piece."
            yield Fault("mark inside", on_piece(piece.piece.name, mark.name), what, outside, ON_OUTLINE)


def _pulled_in(points: Floats) -> shapely.LineString:
    """A line shorter by a quarter of ON_OUTLINE at either end, where most end on the outline, but for the
    last digits: when the piece covers that much, no point of the whole leaves it by more."""
    pulled = points.copy()
    for end, neighbour in ((0, 1), (-1, -2)):
        way = points[neighbour] - points[end]
        size = math.hypot(*way)
        if size > 0:
            pulled[end] += way * min(ON_OUTLINE / 4 / size, 0.5)
    return shapely.linestrings(pulled)
