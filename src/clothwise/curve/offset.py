"""Parallel curves: a line at an even distance beside another, with loops taken out.

`by` is the distance to the right of travel, so outside an anticlockwise outline; negative to the left.
Each stroke is followed by cubics that share ends, directions and speed with the true parallel and are halved
until they keep the tolerance. On the outer side of a corner the parallels are run on to a mitre, on the inner
side they cross; whatever then lies nearer than it should is cut away at the crossings.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from clothwise.curve.crossing import crossings, self_crossings
from clothwise.curve.curve import Curve, joined
from clothwise.curve.nearest import box_distance, nearest, square_feet
from clothwise.curve.outline import inside
from clothwise.curve.point import Point, Vector, meeting
from clothwise.curve.roots import bernstein_roots
from clothwise.curve.segment import Cubic, Line, Segment
from clothwise.tolerance import PARAMETER, SAME_POINT

LONGEST_MITRE = 2.5  # times the distance: a longer tip is cut square across there
_DEEPEST = 16  # halvings of one stroke: its parallel is then followed on a 65,000th of it
_CHECKS = (0.25, 0.5, 0.75)  # where a cubic is held against the true parallel
_CHOOSE_3, _CHOOSE_6 = (1, 3, 3, 1), (1, 6, 15, 20, 15, 6, 1)  # binomials
_HAIR = 16  # times the tolerance: a run no longer than that may be one side of a loop nobody would see
_LOOKS = (0.5, 0.25, 0.75, 0.1, 0.9)  # shares of a run at which its distance is looked at


class NoParallel(Exception):
    """Nothing is left of the line at that distance: it closes up inside every bend."""


def parallel(curve: Curve, by: float, *, tolerance: float) -> Curve:
    """The curve beside another at an even distance, from beside its start to beside its end. [cm]

    Of several stretches the longest is given. Raises NoParallel when nothing is left of it, ValueError for a
    curve that crosses itself: its sides change over there.
    """
    if by == 0:
        return curve
    if self_crossings(curve, tolerance=tolerance):
        raise ValueError("a curve that crosses itself has no parallel")
    bands = _bands([curve], [by], ring=False)
    return _cleaned(_raw([curve], [by], ring=False), bands, tolerance, ring=False)[0]


def parallel_outline(edges: Sequence[Curve], by: Sequence[float], *, tolerance: float) -> Curve:
    """The outline beside a closed one, each edge at its own distance: all outwards (>= 0) or all inwards. [cm]

    edges  run anticlockwise one after another and close
    Raises NoParallel when nothing is left of it; of several parts the largest is given.
    """
    if min(by) < 0 < max(by):
        raise ValueError("an outline is drawn outwards or inwards, not both")
    if len(edges) != len(by):
        raise ValueError("each edge needs its own distance")
    if self_crossings(edges[0].then(*edges[1:]), tolerance=tolerance):
        raise ValueError("an outline that crosses itself has no outside")
    if not any(by):
        return edges[0].then(*edges[1:])
    loops = _cleaned(_raw(edges, by, ring=True), _bands(edges, by, ring=True), tolerance, ring=True)
    return max(loops, key=lambda loop: loop.area_share())


# ---- the raw line --------------------------------------------------------------------------------


_Beside = list[tuple[Segment, float]]  # strokes of the given curves, each with its distance


def _raw(curves: Sequence[Curve], by: Sequence[float], *, ring: bool) -> _Beside:
    strokes = [
        (part, d) for curve, d in zip(curves, by, strict=True) for s in curve.strokes for part in _uncusped(s)
    ]
    if ring:
        strokes.append(strokes[0])
    return strokes


def _uncusped(stroke: Segment) -> list[Segment]:
    """Cut where it stops and turns round."""
    if isinstance(stroke, Line):
        return [stroke]
    ways = [stroke.start.to(stroke.first), stroke.first.to(stroke.second), stroke.second.to(stroke.end)]
    stops = [
        t
        for t in bernstein_roots([w.x for w in ways])
        if PARAMETER < t < 1 - PARAMETER and stroke.slope(t).length <= SAME_POINT
    ]
    if not stops:
        return [stroke]
    one, other = stroke.split(stops[0])
    return [one, other]


def _followed(stroke: Segment, d: float, tolerance: float) -> list[Segment]:
    """The parallel of one stroke as strokes that keep the tolerance."""
    if isinstance(stroke, Line):
        out = stroke.tangent(0.0).right().times(d)
        return [Line(stroke.start.go(out), stroke.end.go(out))]
    found: list[Segment] = []
    spans = [(0.0, 1.0, 0)]
    while spans:
        low, high, depth = spans.pop()
        cubic = _hermite(stroke, d, low, high)
        checks = [(cubic.at(c), low + (high - low) * c) for c in _CHECKS]
        if depth >= _DEEPEST or all(_beside(stroke, d, t).distance(p) <= tolerance for p, t in checks):
            found.append(cubic)
        else:
            middle = (low + high) / 2
            spans += [(middle, high, depth + 1), (low, middle, depth + 1)]
    return found


def _beside(stroke: Cubic, d: float, t: float) -> Point:
    return stroke.at(t).go(stroke.tangent(t).right(), d)


def _hermite(stroke: Cubic, d: float, low: float, high: float) -> Cubic:
    """The cubic that leaves and arrives where the parallel does, as fast and in the same directions."""
    start, end, share = _beside(stroke, d, low), _beside(stroke, d, high), (high - low) / 3
    return Cubic(start, start.go(_speed(stroke, d, low), share), end.go(_speed(stroke, d, high), -share), end)


def _speed(stroke: Cubic, d: float, t: float) -> Vector:
    """Derivative of the parallel: the stroke's own, and the outward direction's turning times the distance."""
    slope, bend = stroke.slope(t), stroke.bend(t)
    size = slope.dot(slope)
    if size > SAME_POINT * SAME_POINT:
        turning = slope.cross(bend) / size
    else:  # an empty handle: the limit towards that end
        third = stroke.start.to(stroke.end).minus(stroke.first.to(stroke.second).times(3)).times(6)
        size = bend.dot(bend)
        turning = bend.cross(third) / (2 * size) if size > 0 else 0.0
    return slope.plus(stroke.tangent(t).times(d * turning))


def _joint(one: tuple[Segment, float], other: tuple[Segment, float]) -> list[Segment]:
    """What leads from one parallel to the next: nothing, a mitre outside, inside the way over the corner, so
    that it crosses whatever is to be cut away there."""
    (before, d), (after, e) = one, other
    corner, w, v = before.end, before.tangent(1.0), after.tangent(0.0)
    a, b = corner.go(w.right(), d), corner.go(v.right(), e)
    if a.distance(b) <= PARAMETER:
        return []
    if w.cross(v) * (d + e) > 0:
        tip = meeting(a, w, b, v)
        if tip is not None and min(a.to(tip).dot(w), tip.to(b).dot(v)) >= -SAME_POINT:
            reach = LONGEST_MITRE * max(abs(d), abs(e))
            way = corner.to(tip)
            if way.length <= reach:
                return _lines([a, tip, b])
            square, level = way.unit().left(), corner.go(way.unit(), reach)
            c, f = meeting(a, w, level, square), meeting(b, v, level, square)
            if c is not None and f is not None:
                return _lines([a, c, f, b])
        elif w.dot(v) < 0:  # turns right round: square across, as far out as the tip may reach
            reach = LONGEST_MITRE * max(abs(d), abs(e))
            return _lines([a, a.go(w, reach), b.go(v, -reach), b])
        return _lines([a, b])
    return _lines([a, corner, b])


def _lines(points: Sequence[Point]) -> list[Segment]:
    return [Line(p, q) for p, q in pairwise(points) if p.distance(q) > SAME_POINT]


# ---- loops taken out -----------------------------------------------------------------------------


_Band = tuple[Curve, float, float, float]  # a curve, its distance, and the distances round its two ends


def _bands(curves: Sequence[Curve], by: Sequence[float], *, ring: bool) -> list[_Band]:
    """Round a corner only the smaller of the two distances is kept: unlike ones meet in a step there."""
    wide = [abs(d) for d in by]
    if not ring:
        return [(curve, d, abs(d), abs(d)) for curve, d in zip(curves, by, strict=True)]
    n = len(wide)
    return [
        (curve, by[i], min(wide[i - 1], wide[i]), min(wide[i], wide[(i + 1) % n]))
        for i, curve in enumerate(curves)
    ]


def _cleaned(beside: _Beside, bands: Sequence[_Band], tolerance: float, *, ring: bool) -> list[Curve]:
    fine = tolerance / 4
    raw = _line_beside(beside, fine, ring=ring)
    crossed = {along for c in self_crossings(raw, tolerance=fine) for along in (c.along, c.along_other)}
    if not ring:  # its end may run into the other side of the curve
        behind = [(stroke, -d) for stroke, d in beside]
        crossed |= {c.along for c in crossings(raw, _line_beside(behind, fine, ring=False), tolerance=fine)}
    runs = _runs(raw, sorted(crossed | _round_ends(raw, bands)), tolerance)
    outline = bands[0][0].then(*(curve for curve, *_ in bands[1:])) if ring else None
    kept = [run for run in runs if _far_enough(run, bands, outline, tolerance)]
    loops = _chained(kept, tolerance, ring=ring)
    if not loops:
        raise NoParallel("nothing is left of the line at that distance")
    if not ring and any(run.length() <= _HAIR * tolerance for run in kept):
        return [_without_hairs(loop, tolerance) for loop in loops]
    return loops


def _without_hairs(line: Curve, tolerance: float) -> Curve:
    """Loops too small to stray by the tolerance taken out, as they arise where a curve ends in a hairpin."""
    for c in reversed(self_crossings(line, tolerance=tolerance / 4)):
        if c.along_other - c.along <= 2 * _HAIR * tolerance:
            ends = [(0.0, c.along), (c.along_other, line.length())]
            rests = [line.part(a, b) for a, b in ends if b - a > 2 * SAME_POINT]
            line = _closed_up([s for rest in rests for s in rest.strokes]) if rests else line
    return line


def _round_ends(raw: Curve, bands: Sequence[_Band]) -> set[float]:
    """Where the raw line passes in or out of reach of the ends of a curve, along it. [cm]"""
    found = set()
    for curve, _, d_start, d_end in bands:
        for centre, radius in ((curve.start, d_start), (curve.end, d_end)):
            for i, stroke in enumerate(raw.strokes):
                if box_distance(stroke, centre) <= radius:
                    c = stroke.cubic()
                    ways = [centre.to(p) for p in (c.start, c.first, c.second, c.end)]
                    found |= {raw.length_to(i, t) for t in bernstein_roots(_from_circle(ways, radius))}
    return found


def _from_circle(ways: Sequence[Vector], radius: float) -> list[float]:
    """Bernstein coefficients, degree 6, of the squared distance from a centre less the squared radius."""
    row = []
    for k in range(7):
        terms = [
            _CHOOSE_3[i] * _CHOOSE_3[k - i] * ways[i].dot(ways[k - i])
            for i in range(max(0, k - 3), min(3, k) + 1)
        ]
        row.append(sum(terms) / _CHOOSE_6[k] - radius * radius)
    return row


def _line_beside(beside: _Beside, tolerance: float, *, ring: bool) -> Curve:
    """The parallels of all strokes joined, loops and all."""
    strokes: list[Segment] = []
    for i, (stroke, d) in enumerate(beside):
        if i > 0:
            strokes += _joint(beside[i - 1], (stroke, d))
        if not (ring and i == len(beside) - 1):
            strokes += _followed(stroke, d, tolerance)
    return _closed_up(strokes)


def _closed_up(strokes: Sequence[Segment]) -> Curve:
    """Ends that differ by rounding made one."""
    whole: list[Segment] = []
    for stroke in strokes:
        if whole and whole[-1].end.distance(stroke.start) > SAME_POINT:
            whole.append(Line(whole[-1].end, stroke.start))
        whole.append(stroke)
    return joined(whole)


def _runs(raw: Curve, cuts: Sequence[float], tolerance: float) -> list[Curve]:
    length, least = raw.length(), max(tolerance / 4, 2 * SAME_POINT)  # nothing shorter is a run
    marks = [0.0]
    for cut in cuts:
        if cut - marks[-1] > least:
            marks.append(cut)
    if length - marks[-1] <= least and len(marks) > 1:
        marks.pop()
    return [raw.part(a, b) for a, b in pairwise([*marks, length]) if b - a > least]


def _far_enough(run: Curve, bands: Sequence[_Band], outline: Curve | None, tolerance: float) -> bool:
    """Whether no part of the run lies within the band of any curve, nor on the wrong side of an outline."""
    length = run.length()
    places = [run.at_length(length * share) for share in _LOOKS]
    if any(_in_band(place, band, outline is not None, tolerance) for place in places for band in bands):
        return False
    if outline is None:
        return True
    outwards = max(d for _, d, *_ in bands) > 0
    return all(
        inside(outline, p, tolerance=tolerance) != outwards or nearest(outline, p).away <= tolerance
        for p in places
    )


def _in_band(place: Point, band: _Band, one_sided: bool, tolerance: float) -> bool:
    """Nearer to the curve than its parallel; of an outline on the parallel's side only, of a line on either."""
    curve, by, d_start, d_end = band
    d = abs(by)
    left, bottom, right, top = curve.bounds()
    if not (left - d < place.x < right + d and bottom - d < place.y < top + d):
        return False
    if curve.start.distance(place) < d_start - tolerance or curve.end.distance(place) < d_end - tolerance:
        return True
    if not one_sided and any(s.end.distance(place) < d - tolerance for s in curve.strokes[:-1]):
        return True
    for stroke in curve.strokes:
        if box_distance(stroke, place) < d:
            for t in square_feet(stroke, place):
                foot = stroke.at(t)
                at_end = min(foot.distance(curve.start), foot.distance(curve.end)) <= tolerance  # had its say
                beside = stroke.tangent(t).cross(place.to(foot)) * by > 0 or not one_sided
                if foot.distance(place) < d - tolerance and beside and not at_end:
                    return True
    return False


def _chained(runs: Sequence[Curve], tolerance: float, *, ring: bool) -> list[Curve]:
    """Runs put end to end in their order; of a ring every closed loop, else the first chain."""
    rest = sorted(runs, key=lambda run: -run.length()) if ring else list(runs)
    chains: list[Curve] = []
    while rest:
        chain = [rest.pop(0)]
        while not (ring and _comes_home(chain, tolerance)):
            following = [run for run in rest if _meet(chain[-1].end, run.start, tolerance)]
            if not following:
                break
            # a crumb that strays by less than the tolerance may start here too: the longer run is meant
            chain.append(max(following, key=lambda run: run.length()))
            rest.remove(chain[-1])
        if not ring or _comes_home(chain, tolerance):
            chains.append(_sewn(chain, ring))
    if ring:
        return [c for c in chains if c.area_share() > 0]
    return sorted(chains, key=lambda c: -c.length())


def _comes_home(chain: Sequence[Curve], tolerance: float) -> bool:
    """Whether a chain closes; a crumb whose ends lie together anyway does not count."""
    long = sum(run.length() for run in chain) > 32 * tolerance
    return long and _meet(chain[-1].end, chain[0].start, tolerance)


def _meet(p: Point, q: Point, tolerance: float) -> bool:
    return p.distance(q) <= 8 * tolerance


def _sewn(chain: Sequence[Curve], ring: bool) -> Curve:
    strokes: list[Segment] = []
    for run in chain:
        for stroke in run.strokes:
            strokes.append(_moved_to(stroke, strokes[-1].end) if strokes else stroke)
    if ring:
        last = strokes[-1]
        home = strokes[0].start
        strokes[-1] = (
            Line(last.start, home)
            if isinstance(last, Line)
            else Cubic(last.start, last.first, last.second.go(last.end.to(home)), home)
        )
    return joined(strokes)


def _moved_to(stroke: Segment, start: Point) -> Segment:
    """The stroke with its start set onto the end of the one before, a hair away."""
    if stroke.start == start:
        return stroke
    if isinstance(stroke, Line):
        return Line(start, stroke.end)
    return Cubic(start, stroke.first.go(stroke.start.to(start)), stroke.second, stroke.end)
