"""Where lines cross: a curve with a curve, with a straight line, with a level, and with itself.

Straight lines and levels exactly, by the roots of a polynomial. Two cubics by halving both until they are as
straight as the tolerance asks, then a few Newton steps on the true curves. Touching within the tolerance
counts as crossing; where two run along each other the two ends of the run are given.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from clothwise.curve.curve import Curve
from clothwise.curve.nearest import nearest
from clothwise.curve.point import RIGHT, UP, Point, Vector
from clothwise.curve.roots import bernstein_roots, bernstein_value
from clothwise.curve.segment import Cubic, Line, Segment, quadratic_roots
from clothwise.tolerance import PARAMETER

_NEWTON_STEPS = 8  # from a start as near as the tolerance it takes two or three
_LOOKS = 9  # places between two shared ends at which two cubics are compared: they share at most 9 points else
_RUN = 20.0  # times the square root of tolerance x size: two curves near each other for longer run together

_Hit = tuple[float, float]  # parameters on both strokes
_Span = tuple[float, float, float, float]  # from and to on the first stroke, from and to on the other


@dataclass(frozen=True, slots=True)
class Crossing:
    """One place where two lines meet.

    along  distance from the start of the first curve along it [cm]
    along_other  the same on the other curve; for a straight line the distance from the point it was given by
    """

    point: Point
    along: float
    along_other: float


def crossings(one: Curve, other: Curve, *, tolerance: float) -> tuple[Crossing, ...]:
    """All places where two curves meet, in order along the first."""
    found = []
    for i, a in enumerate(one.strokes):
        for j, b in enumerate(other.strokes):
            for t, u in _meetings(a, b, tolerance):
                along = one.length_to(i, t, tolerance=tolerance)
                found.append(Crossing(a.at(t), along, other.length_to(j, u, tolerance=tolerance)))
    return _distinct(found, tolerance)


def crossings_with_line(
    curve: Curve, through: Point, along: Vector, *, tolerance: float
) -> tuple[Crossing, ...]:
    """All places where a curve meets the endless straight line through a point, in order along the curve."""
    way = along.unit()
    found = []
    for i, stroke in enumerate(curve.strokes):
        for t in _on_line(stroke, through, way, tolerance):
            point = stroke.at(t)
            reach = curve.length_to(i, t, tolerance=tolerance)
            found.append(Crossing(point, reach, through.to(point).dot(way)))
    return _distinct(found, tolerance)


def crossings_at_x(curve: Curve, x: float, *, tolerance: float) -> tuple[Crossing, ...]:
    """All places at that distance right of the origin, in order along the curve."""
    return crossings_with_line(curve, Point(x, 0.0), UP, tolerance=tolerance)


def crossings_at_y(curve: Curve, y: float, *, tolerance: float) -> tuple[Crossing, ...]:
    """All places at that height, in order along the curve."""
    return crossings_with_line(curve, Point(0.0, y), RIGHT, tolerance=tolerance)


def self_crossings(curve: Curve, *, tolerance: float) -> tuple[Crossing, ...]:
    """All places where a curve meets itself, but for the joints of its strokes and the closing of its ends."""
    found = []
    strokes = curve.strokes
    last = len(strokes) - 1
    closed = curve.start.distance(curve.end) <= tolerance
    for i, a in enumerate(strokes):
        hits = [(i, t, u) for t, u in _loop(a)]
        for j in range(i + 1, len(strokes)):
            joint = j == i + 1, closed and i == 0 and j == last
            hits += [
                (j, t, u)
                for t, u in _meetings(a, strokes[j], tolerance)
                if not _at_joint(a, t, strokes[j], u, joint, tolerance)
            ]
        for j, t, u in hits:
            along = curve.length_to(i, t, tolerance=tolerance)
            found.append(Crossing(a.at(t), along, curve.length_to(j, u, tolerance=tolerance)))
    return _distinct([c for c in found if not (closed and _is_closing(c, curve, tolerance))], tolerance)


# ---- bookkeeping ---------------------------------------------------------------------------------


def _distinct(found: list[Crossing], tolerance: float) -> tuple[Crossing, ...]:
    """In order along the first curve, each place once (a joint of strokes is found from both sides)."""
    kept: list[Crossing] = []
    for one in sorted(found, key=lambda c: (c.along, c.along_other)):
        if not any(
            abs(one.along - c.along) <= 4 * tolerance and abs(one.along_other - c.along_other) <= 4 * tolerance
            for c in kept[-3:]
        ):
            kept.append(one)
    return tuple(kept)


def _is_closing(found: Crossing, curve: Curve, tolerance: float) -> bool:
    return found.along <= 4 * tolerance and found.along_other >= curve.length() - 4 * tolerance


def _at_joint(a: Segment, t: float, b: Segment, u: float, joint: tuple[bool, bool], tolerance: float) -> bool:
    """Whether the two places are one and the same joint: hardly any way lies between them along the curve."""
    follows, closes = joint
    if follows and _rest(a, t, 1.0, tolerance) + _rest(b, 0.0, u, tolerance) <= 8 * tolerance:
        return True
    return closes and _rest(a, 0.0, t, tolerance) + _rest(b, u, 1.0, tolerance) <= 8 * tolerance


def _rest(stroke: Segment, low: float, high: float, tolerance: float) -> float:
    return stroke.length_between(low, high, tolerance=tolerance)


# ---- straight lines ------------------------------------------------------------------------------


def _on_line(stroke: Segment, through: Point, way: Vector, tolerance: float) -> list[float]:
    """Parameters at which a stroke meets the endless line: roots of its distance, and touches without one."""
    points = [stroke.start, stroke.end]
    if isinstance(stroke, Cubic):
        points = [stroke.start, stroke.first, stroke.second, stroke.end]
    row = [way.cross(through.to(p)) for p in points]
    if max(abs(d) for d in row) <= tolerance:
        return [0.0, 1.0]
    found = bernstein_roots(row)
    turns = [b - a for a, b in pairwise(row)]
    extremes = (
        quadratic_roots(turns[0] - 2 * turns[1] + turns[2], 2 * (turns[1] - turns[0]), turns[0])
        if (len(turns) == 3)
        else ()
    )
    for t in (0.0, 1.0, *extremes):
        near = 0 <= t <= 1 and abs(bernstein_value(row, t)) <= tolerance
        if near and all(stroke.at(t).distance(stroke.at(f)) > tolerance for f in found):
            found.append(t)
    return sorted(found)


def _line_meetings(a: Segment, b: Line, tolerance: float) -> list[_Hit]:
    size = b.start.distance(b.end)
    way = b.start.to(b.end).unit()
    hits = []
    for t in _on_line(a, b.start, way, tolerance):
        reach = b.start.to(a.at(t)).dot(way)
        if -tolerance <= reach <= size + tolerance:
            hits.append((t, min(max(reach / size, 0.0), 1.0)))
    if isinstance(a, Line):  # of two lines along each other the ends of the other may be the ends of the run
        at, span = a.start, a.start.distance(a.end)
        for u, p in ((0.0, b.start), (1.0, b.end)):
            reach = at.to(p).dot(a.tangent(0.0))
            if 0 <= reach <= span and abs(at.to(p).cross(a.tangent(0.0))) <= tolerance:
                hits.append((reach / span, u))
    return hits


# ---- two strokes ---------------------------------------------------------------------------------


def _meetings(a: Segment, b: Segment, tolerance: float) -> list[_Hit]:
    if not _boxes_meet(_box(_controls(a)), _box(_controls(b)), tolerance):
        return []
    if isinstance(b, Line):
        return _line_meetings(a, b, tolerance)
    if isinstance(a, Line):
        return [(t, u) for u, t in _line_meetings(b, a, tolerance)]
    return _cubic_meetings(a, b, tolerance)


_Row = tuple[complex, complex, complex, complex]
_Box = tuple[float, float, float, float]


def _controls(stroke: Segment) -> _Row:
    cubic = stroke.cubic()
    return complex(*cubic.start), complex(*cubic.first), complex(*cubic.second), complex(*cubic.end)


def _box(row: _Row) -> _Box:
    xs, ys = [z.real for z in row], [z.imag for z in row]
    return min(xs), min(ys), max(xs), max(ys)


def _boxes_meet(a: _Box, b: _Box, by: float) -> bool:
    return a[0] <= b[2] + by and b[0] <= a[2] + by and a[1] <= b[3] + by and b[1] <= a[3] + by


def _halved(row: _Row) -> tuple[_Row, _Row]:
    p, q, r, s = row
    a, b, c = (p + q) / 2, (q + r) / 2, (r + s) / 2
    d, e = (a + b) / 2, (b + c) / 2
    f = (d + e) / 2
    return (p, a, d, f), (f, e, c, s)


def _bow(row: _Row) -> float:
    """How far the stroke can leave its chord, run through evenly."""
    p, q, r, s = row
    return 0.75 * max(abs(p - 2 * q + r), abs(q - 2 * r + s))


def _cubic_meetings(a: Cubic, b: Cubic, tolerance: float) -> list[_Hit]:
    shared = _shared_ends(a, b, tolerance)
    if shared:
        return shared
    fine = tolerance / 4
    near: list[_Span] = []  # what comes within the tolerance
    stack = [(_controls(a), 0.0, 1.0, _controls(b), 0.0, 1.0)]
    while stack:
        p, t0, t1, q, u0, u1 = stack.pop()
        if not _boxes_meet(_box(p), _box(q), tolerance):
            continue
        bow_p, bow_q = _bow(p), _bow(q)
        if max(bow_p, bow_q) <= fine:
            if _chord_gap(p[0], p[3], q[0], q[3]) <= tolerance:
                near.append((t0, t1, u0, u1))
        elif bow_p >= bow_q:
            one, other = _halved(p)
            middle = (t0 + t1) / 2
            stack += [(one, t0, middle, q, u0, u1), (other, middle, t1, q, u0, u1)]
        else:
            one, other = _halved(q)
            middle = (u0 + u1) / 2
            stack += [(p, t0, t1, one, u0, middle), (p, t0, t1, other, middle, u1)]
    return [hit for run in _runs(near) for hit in _settled(a, b, run, tolerance)]


def _chord_gap(a: complex, b: complex, c: complex, d: complex) -> float:
    """Least distance of two straight pieces."""
    u, v, w = b - a, d - c, c - a
    turn = (u.conjugate() * v).imag
    if turn != 0:
        s, t = (w.conjugate() * v).imag / turn, (w.conjugate() * u).imag / turn
        if 0 <= s <= 1 and 0 <= t <= 1:
            return 0.0
    return min(_gap(a, c, d), _gap(b, c, d), _gap(c, a, b), _gap(d, a, b))


def _gap(p: complex, a: complex, b: complex) -> float:
    way = b - a
    size = abs(way) ** 2
    share = min(max(((p - a) * way.conjugate()).real / size, 0.0), 1.0) if size > 0 else 0.0
    return abs(a + share * way - p)


def _runs(near: list[_Span]) -> list[list[_Span]]:
    """Spans grouped so that those of one group touch each other, in order along the first stroke."""
    group = list(range(len(near)))

    def root(i: int) -> int:
        while group[i] != i:
            i = group[i]
        return i

    near = sorted(near)
    open_spans: list[int] = []
    for i, span in enumerate(near):
        open_spans = [k for k in open_spans if near[k][1] >= span[0]]
        for k in open_spans:
            if near[k][2] <= span[3] and span[2] <= near[k][3]:
                group[root(i)] = root(k)
        open_spans.append(i)
    runs: dict[int, list[_Span]] = {}
    for i, span in enumerate(near):
        runs.setdefault(root(i), []).append(span)
    return list(runs.values())


def _settled(a: Cubic, b: Cubic, run: list[_Span], tolerance: float) -> list[_Hit]:
    """The places meant by one run of spans: its ends if it is long, else its crossing, else its touch."""
    size = max(a.length(tolerance=1.0), b.length(tolerance=1.0))
    long = _RUN * math.sqrt(tolerance * size)
    if a.at(run[0][0]).distance(a.at(max(s[1] for s in run))) > long:
        ends = _run_ends(a, b, run, tolerance)
        if ends and a.at(ends[0][0]).distance(a.at(ends[-1][0])) > long:
            return ends
    for t, u in ((0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)):  # ends that lie together are meant exactly
        reached = any(s[0] <= t <= s[1] and s[2] <= u <= s[3] for s in run)
        if reached and a.at(t).distance(b.at(u)) <= tolerance:
            return [(t, u)]
    for t0, t1, u0, u1 in run:
        hit = _newton(a, b, (t0 + t1) / 2, (u0 + u1) / 2)
        if hit and _within(hit[0], t0, t1) and _within(hit[1], u0, u1):
            hit = min(max(hit[0], 0.0), 1.0), min(max(hit[1], 0.0), 1.0)
            if a.at(hit[0]).distance(b.at(hit[1])) <= tolerance:
                return [hit]
    t0, t1, _, _ = run[len(run) // 2]
    return [((t0 + t1) / 2, _foot(b, a.at((t0 + t1) / 2)))]


def _run_ends(a: Cubic, b: Cubic, run: list[_Span], tolerance: float) -> list[_Hit]:
    """First and last place of a run that truly lie within the tolerance.

    A straight stretch of one stroke is a single long span, though the other leaves it soon: an end of a span
    of either stroke counts only with its foot on the other near it.
    """
    first, last = run[0][0], max(s[1] for s in run)
    outer = [s for s in run if s[0] == first or s[1] == last]
    hits = [(t, _foot(b, a.at(t))) for t in (first, last)]
    hits += [(_foot(a, b.at(u)), u) for u in sorted({u for s in outer for u in s[2:]})]
    hits = sorted((t, u) for t, u in hits if a.at(t).distance(b.at(u)) <= tolerance)
    return [hits[0], hits[-1]] if hits else []


def _within(t: float, low: float, high: float) -> bool:
    slack = (high - low) + PARAMETER
    return low - slack <= t <= high + slack


def _foot(stroke: Segment, place: Point) -> float:
    return nearest(Curve((stroke,)), place).t


def _shared_ends(a: Cubic, b: Cubic, tolerance: float) -> list[_Hit]:
    """The ends of a run that two cubics have in common; none when they do not run along each other.

    Cubics that share a run are one and the same curve there, so the run ends where one of them ends.
    """
    hits = [(t, _foot(b, a.at(t))) for t in (0.0, 1.0)] + [(_foot(a, b.at(u)), u) for u in (0.0, 1.0)]
    hits = sorted((t, u) for t, u in hits if a.at(t).distance(b.at(u)) <= tolerance)
    if len(hits) < 2 or hits[-1][0] - hits[0][0] <= PARAMETER:
        return []
    low, high = hits[0], hits[-1]
    looks = [a.at(low[0] + (high[0] - low[0]) * i / (_LOOKS + 1)) for i in range(1, _LOOKS + 1)]
    if all(b.at(_foot(b, p)).distance(p) <= tolerance for p in looks):
        return [low, high] if a.at(low[0]).distance(a.at(high[0])) > tolerance else [low]
    return []


def _newton(a: Cubic, b: Cubic, t: float, u: float) -> _Hit | None:
    """The true crossing near two parameters; None where the curves run too nearly alike for it."""
    for _ in range(_NEWTON_STEPS):
        way, along, beside = a.at(t).to(b.at(u)), a.slope(t), b.slope(u)
        turn = along.cross(beside)
        if abs(turn) <= PARAMETER * along.length * beside.length:
            return None
        step = way.cross(beside) / turn, way.cross(along) / turn
        t, u = t + step[0], u + step[1]
        if not (-1 <= t <= 2 and -1 <= u <= 2):
            return None
        if max(abs(step[0]), abs(step[1])) <= PARAMETER:
            break
    return t, u


def _loop(stroke: Segment) -> list[_Hit]:
    """Where a single cubic crosses itself, in closed form: with s = t + u, p = t u the condition
    B(t) = B(u), divided by t - u, is a (s^2 - p) + b s + c = 0."""
    if isinstance(stroke, Line):
        return []
    p0, p1, p2, p3 = stroke.start, stroke.first, stroke.second, stroke.end
    a = p0.to(p3).minus(p1.to(p2).times(3))
    b = p1.to(p2).minus(p0.to(p1)).times(3)
    c = p0.to(p1).times(3)
    turn = b.cross(a)
    if abs(turn) <= PARAMETER * (a.length + b.length + c.length) ** 2:
        return []
    s = -c.cross(a) / turn
    p = s * s + (b.times(s).plus(c)).dot(a) / a.dot(a)
    inside = s * s - 4 * p
    if inside <= PARAMETER:
        return []
    t, u = (s - math.sqrt(inside)) / 2, (s + math.sqrt(inside)) / 2
    return [(t, u)] if t >= 0 and u <= 1 else []
