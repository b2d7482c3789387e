"""A dart moved, or parted in two, on a piece already drawn: pivoted about its apex, as a cutter does on paper.

The part of the piece between the old mouth and the new one turns about the apex until the old mouth is shut, or
shut by so much; what it shut opens at the new mouth. No edge changes its length, so every seam still matches.
Then the edges beside each mouth are trued: where a dart was shut the line runs on, and both legs of the new one
are equal and meet the edge so that it runs on when the dart is sewn. A bust dart ends short of the bust point;
any other keeps its point. What of the drawn lines lies on the turning part turns with it. Lengths in cm.

Source: the trade's pivot method; the truing is that of the drafts (draft/darts.py).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

import shapely

from clothwise.alter.settle import settled
from clothwise.curve import Curve, Point, Vector, crossings, joined, line
from clothwise.draft.darts import Part, end_turned, sewn
from clothwise.errors import GarmentError
from clothwise.garment import Corner, Dart, Edge, Garment, Joint, Mark, Notch, Note, Piece, Run, Seam
from clothwise.tolerance import ARC_LENGTH, FLATTEN, NOTCH_CORNER, ON_OUTLINE, SAME_POINT

BUST_POINT = "bust_point"
AT_BUST, NEAR_BUST = 0.3, 6.0  # cm: a dart points at the bust point that passes and ends so near it
LEAST_LEG, MOST_LEG = 5.0, 30.0  # cm: a shorter dart makes a point; a longer one is a seam
END_FREE = 1.5  # cm of the edge left on either side of a new mouth
LEAST_MOUTH = 0.5  # cm: a narrower dart is not worth sewing
BENT = ("level", "adjust")  # lines that may go on, turned, beyond a dart; any other must lie clear of it
SMOOTH_DEG = 0.02  # degrees: a line that bends by less runs on


@dataclass(frozen=True, slots=True)
class _Pivot:
    """About which point, by what angle [degrees, anticlockwise], and which edges turn. `cut` is the line from
    the apex to the new mouth, which opens there."""

    about: Point
    angle_deg: float
    turning: frozenset[str]
    cut: Curve
    region: shapely.Polygon

    def turned(self, curve: Curve) -> Curve:
        return curve.rotated(self.about, self.angle_deg)

    def with_dart(self, dart: Dart) -> Dart:
        """Another dart, turned with the part it lies on."""
        if dart.edge not in self.turning and not (
            dart.other_tip and self.region.contains(shapely.Point(dart.tip))
        ):
            return dart
        tip, first, second = (
            p.rotated(self.about, self.angle_deg) for p in (dart.tip, dart.first_leg, dart.second_leg)
        )
        other = dart.other_tip and dart.other_tip.rotated(self.about, self.angle_deg)
        return replace(dart, tip=tip, first_leg=first, second_leg=second, other_tip=other)


def pivoted(garment: Garment, piece_name: str, dart: Dart, to: str, share: float, portion: float) -> Garment:
    """The garment with so much of a dart shut where it was, and opened at that share of an edge of its piece.

    GarmentError: that edge takes no dart there, the way to it is barred, or the result would not sew.
    """
    whole = garment.piece(piece_name)
    about, short = _apex(whole, dart)
    at = _place(garment, whole, dart, to, share)
    _refuse_barred(whole, dart, about, whole.edge(to).curve.at_length(at))
    parted, near, far = _parted(garment, piece_name, to, at)
    piece = parted.piece(piece_name)
    names = [edge.name for edge in piece]
    pivot = _pivot(piece, dart, about, near, far, portion)
    closed = _shut_smoothly(piece, dart, about)
    edges = {e.name: replace(e, curve=pivot.turned(e.curve)) if e.name in pivot.turning else e for e in closed}
    ring = [edges[name] for name in names if name != dart.edge]
    mouths: list[str] = []
    if portion < 1.0:
        ring = _opened(ring, piece, dart.edge, names[names.index(dart.edge) - 1])
        mouths.append(dart.edge)
    new_mouth = dart.edge if portion == 1.0 else _free_name(names, f"{dart.name}_half", "_mouth")
    ring = _opened(ring, piece, new_mouth, near)
    mouths.append(new_mouth)
    edges_now, darts = _trued(ring, mouths, about, short=short)
    called = {dart.edge: dart.name} | ({} if portion == 1.0 else {new_mouth: new_mouth.removesuffix("_mouth")})
    darts = tuple(replace(d, name=called[d.edge]) for d in darts)
    changed = replace(
        piece,
        edges=edges_now,
        darts=(*(pivot.with_dart(d) for d in piece.darts if d.name != dart.name), *darts),
        marks=tuple(_carried(piece, dart, pivot, mark, shut=portion == 1.0) for mark in piece.marks),
    )
    width = _width(next(d for d in darts if d.edge == new_mouth))
    return settled(parted, [changed], _said(piece, dart, darts, to, width, portion))


def _said(piece: Piece, dart: Dart, darts: tuple[Dart, ...], to: str, width: float, portion: float) -> Note:
    what, where = dart.name.replace("_", " "), to.replace("_", " ")
    if portion == 1.0:
        text = f"{piece.title}: the {what} is moved to the {where}, {width:.1f} cm wide at its mouth there "
        text += f"({_width(dart):.1f} cm before)."
    else:
        left = next(_width(d) for d in darts if d.name == dart.name)
        text = (
            f"{piece.title}: the {what} is parted in two, {left:.1f} cm wide where it was and {width:.1f} cm "
        )
        text += f"at the {where} ({_width(dart):.1f} cm before)."
    return Note(text, measure=dart.name, by=width)


def _width(dart: Dart) -> float:
    return dart.first_leg.distance(dart.second_leg)


# ---- where to -----------------------------------------------------------------------------------------


def _apex(piece: Piece, dart: Dart) -> tuple[Point, bool]:
    """What the dart turns about, and whether its tip stays short of that: the bust point if it points there."""
    marked = next((mark.curve for mark in piece.marks if mark.name == BUST_POINT), None)
    if marked is None:
        return dart.tip, False
    point, middle = marked.at_length(marked.length() / 2), dart.first_leg.between(dart.second_leg)
    way = middle.to(dart.tip).unit()
    aside, beyond = abs(way.cross(dart.tip.to(point))), way.dot(dart.tip.to(point))
    if aside > AT_BUST or not SAME_POINT < beyond < NEAR_BUST:
        return dart.tip, False
    return middle.go(way, middle.to(point).dot(way)), True  # on the line through the middle: equal legs


def _place(garment: Garment, piece: Piece, dart: Dart, to: str, share: float) -> float:
    """Distance along the edge at which the dart shall open. [cm]"""
    edge, mouths = piece.edge(to), {d.edge for d in piece.darts}
    held = {run.line for free in garment.free_edges for run in free.runs if run.piece == piece.name}
    takes = [e.name for e in piece if e.kind == "seam" and e.name not in mouths and e.name not in held]
    if to not in takes:
        raise GarmentError(
            f"No dart begins at '{to.replace('_', ' ')}': nothing is sewn to it there that would hold one.",
            where=f"piece '{piece.name}', dart '{dart.name}'",
            mend=f"Choose {', '.join(takes)}; at a hem, ask for flare.",
        )
    at, length = share * edge.curve.length(), edge.curve.length()
    if not END_FREE <= at <= length - END_FREE:
        raise GarmentError(
            f"The dart would open {min(at, length - at):.1f} cm from a corner of the piece.",
            where=f"piece '{piece.name}', dart '{dart.name}', edge '{to}'",
            mend="Choose a place nearer to the middle of the edge, or a longer edge.",
        )
    return at


def _refuse_barred(piece: Piece, dart: Dart, about: Point, place: Point) -> None:
    """GarmentError where the way from the apex is too short, leaves the piece, or crosses another dart."""
    where = f"piece '{piece.name}', dart '{dart.name}'"
    long = about.distance(place)
    if long < LEAST_LEG:
        raise GarmentError(
            f"The dart would be only {long:.1f} cm long there.",
            where=where,
            mend="Choose a place farther from its point, or let it out.",
        )
    if long > MOST_LEG:
        raise GarmentError(
            f"The dart would be {long:.1f} cm long there, a seam rather than a dart.",
            where=where,
            mend="Choose a place nearer to its point.",
        )
    way = shapely.LineString([about, place])
    inside = shapely.Polygon(piece.polygon(tolerance=FLATTEN)).buffer(ON_OUTLINE).contains(way)
    others = [shapely.Polygon(d.drawn) for d in piece.darts if d.name != dart.name]
    own = shapely.Polygon((dart.first_leg, dart.tip, dart.second_leg)).buffer(-ON_OUTLINE)
    if not inside or any(way.intersects(other) for other in others) or way.intersects(own):
        raise GarmentError(
            "The way from the dart's point to there leaves the piece or crosses a dart.",
            where=where,
            mend="Choose another edge, or another place on it.",
        )


# ---- the edge parted ------------------------------------------------------------------------------------


def _parted(garment: Garment, piece_name: str, to: str, at: float) -> tuple[Garment, str, str]:
    """The garment with an edge of a piece told as two, and their names: nothing is moved yet."""
    piece = garment.piece(piece_name)
    taken = [edge.name for edge in piece]
    near, far = _free_name(taken, to, "_1"), _free_name(taken, to, "_2")
    edge = piece.edge(to)
    one, other = edge.curve.split(at)
    halves = (
        replace(
            edge, name=near, curve=one, notches=tuple(n for n in edge.notches if n.at <= at - NOTCH_CORNER)
        ),
        replace(
            edge,
            name=far,
            curve=other,
            notches=tuple(Notch(n.sign, n.at - at, n.count) for n in edge.notches if n.at >= at + NOTCH_CORNER),
        ),
    )
    edges = tuple(part for e in piece for part in (halves if e.name == to else (e,)))

    def runs(chain: tuple[Run, ...]) -> tuple[Run, ...]:
        told: list[Run] = []
        for run in chain:
            two = [replace(run, line=near), replace(run, line=far)]
            mine = (run.piece, run.line) == (piece_name, to)
            told += (two[::-1] if run.backwards else two) if mine else [run]
        return tuple(told)

    def seam(s: Seam) -> Seam:
        return replace(s, a=runs(s.a), b=runs(s.b), more=tuple(runs(ply) for ply in s.more))

    def girth(lines: tuple[tuple[str, str, int], ...]) -> tuple[tuple[str, str, int], ...]:
        return tuple(
            (name, part, times)
            for name, drawn, times in lines
            for part in ((near, far) if (name, drawn) == (piece_name, to) else (drawn,))
        )

    def joint(j: Joint) -> Joint:
        return replace(j, corners=tuple(_corner(c, piece_name, to, near, far) for c in j.corners))

    parted = replace(
        garment,
        pieces=tuple(replace(p, edges=edges) if p.name == piece_name else p for p in garment.pieces),
        seams=tuple(seam(s) for s in garment.seams),
        free_edges=tuple(replace(f, runs=runs(f.runs)) for f in garment.free_edges),
        joints=tuple(joint(j) for j in garment.joints),
        levels=tuple(replace(level, runs=girth(level.runs)) for level in garment.levels),
        passages=tuple(replace(p, runs=girth(p.runs)) for p in garment.passages),
    )
    return parted, near, far


def _corner(corner: Corner, piece: str, to: str, near: str, far: str) -> Corner:
    if corner.piece != piece:
        return corner
    before, after = (
        (far if corner.before == to else corner.before),
        (near if corner.after == to else corner.after),
    )
    return Corner(piece, before, after)


def _free_name(taken: Iterable[str], stem: str, end: str) -> str:
    name, held = f"{stem}{end}", set(taken)
    while name in held:
        stem = f"{stem}_more"
        name = f"{stem}{end}"
    return name


# ---- the pivot ------------------------------------------------------------------------------------------


def _pivot(piece: Piece, dart: Dart, about: Point, near: str, far: str, portion: float) -> _Pivot:
    """The part between the mouths that does not hold the fold, or else the hem, turns."""
    names = [edge.name for edge in piece]
    mouth = names.index(dart.edge)
    order = names[mouth + 1 :] + names[:mouth]
    beyond, before = order[: order.index(far)], order[order.index(far) :]
    forward = _weight(piece, beyond) < _weight(piece, before)
    turning = beyond if forward else before
    angle = portion * _angle_deg(about.to(dart.first_leg), about.to(dart.second_leg))
    place = piece.edge(far).curve.start
    outline = [p for name in turning for p in piece.edge(name).curve.flattened(tolerance=FLATTEN)]
    region = shapely.Polygon([about, *outline])
    return _Pivot(about, -angle if forward else angle, frozenset(turning), line(about, place), region)


def _weight(piece: Piece, names: list[str]) -> tuple[bool, bool, float]:
    """What keeps a part of a piece in its place: a fold, a hem, then how much there is of it."""
    kinds = [piece.edge(name).kind for name in names]
    return "fold" in kinds, "hem" in kinds, sum(piece.edge(name).curve.length() for name in names)


def _shut_smoothly(piece: Piece, dart: Dart, about: Point) -> list[Edge]:
    """The edges beside the mouth bent, half each, so that the line runs on once the mouth is shut."""
    names = [edge.name for edge in piece]
    mouth = names.index(dart.edge)
    last, following = names[mouth - 1], names[(mouth + 1) % len(names)]
    shut = _angle_deg(about.to(dart.first_leg), about.to(dart.second_leg))
    arrives, leaves = (
        piece.edge(last).curve.end_tangent,
        piece.edge(following).curve.start_tangent.turned(-shut),
    )
    bend = _angle_deg(arrives, leaves) / 2

    def bent(edge: Edge) -> Edge:
        if abs(bend) <= SMOOTH_DEG:
            return edge
        if edge.name == last:
            return replace(edge, curve=end_turned(edge.curve, bend))
        if edge.name == following:
            return replace(edge, curve=end_turned(edge.curve.reversed(), -bend).reversed())
        return edge

    return [bent(edge) for edge in piece]


def _angle_deg(one: Vector, other: Vector) -> float:
    return math.degrees(math.atan2(one.cross(other), one.dot(other)))


def _opened(ring: list[Edge], piece: Piece, mouth: str, after: str) -> list[Edge]:
    """The edges with a mouth put in after one of them."""
    here = next(i for i, edge in enumerate(ring) if edge.name == after)
    beside, following = ring[here], ring[(here + 1) % len(ring)]
    gap = line(beside.curve.end, following.curve.start)
    if gap.length() < LEAST_MOUTH:
        raise GarmentError(
            f"The dart would be only {gap.length():.1f} cm wide.",
            where=f"piece '{piece.name}', edge '{after}'",
            mend="Leave it whole, or let it out.",
        )
    return [*ring[: here + 1], replace(beside, name=mouth, curve=gap, notches=()), *ring[here + 1 :]]


def _trued(
    edges: list[Edge], mouths: list[str], about: Point, *, short: bool
) -> tuple[tuple[Edge, ...], tuple[Dart, ...]]:
    """The outline closed again to the last digit, trued beside the mouths, and the darts there."""
    exact = [
        edge if edge.curve.end == following.curve.start else replace(edge, curve=_ending(edge.curve, following))
        for edge, following in zip(edges, (*edges[1:], edges[0]), strict=True)
    ]
    ring, darts = sewn(
        tuple(Part(edge.name, edge.curve, mouth=edge.name in mouths) for edge in exact), about, short=short
    )
    told = tuple(replace(edge, curve=part.curve) for edge, part in zip(exact, ring, strict=True))
    return told, darts


def _ending(curve: Curve, following: Edge) -> Curve:
    end, last = following.curve.start, curve.strokes[-1]
    return joined((*curve.strokes[:-1], last.mapped(lambda p: end if p == last.end else p)))


# ---- what is drawn on the piece ---------------------------------------------------------------------------


def _carried(piece: Piece, dart: Dart, pivot: _Pivot, mark: Mark, *, shut: bool) -> Mark:
    """A drawn line where it now lies: turned, left, or turned in part and going on over the dart."""
    legs = (line(pivot.about, dart.first_leg), line(pivot.about, dart.second_leg))
    if mark.name == BUST_POINT:
        return mark
    places = sorted(
        c.along for cut in (pivot.cut, *legs) for c in crossings(mark.curve, cut, tolerance=ARC_LENGTH)
    )
    whole = mark.curve.length()
    bounds = [0.0, *(p for p in places if ON_OUTLINE < p < whole - ON_OUTLINE), whole]
    stretches = [(a, b) for a, b in pairwise(bounds) if b - a > ON_OUTLINE]
    if len(stretches) > 1 and mark.kind not in BENT:
        raise GarmentError(
            f"The dart would cross '{mark.name.replace('_', ' ')}'.",
            where=f"piece '{piece.name}', dart '{dart.name}'",
            mend="Choose another edge, or another place on it.",
        )
    wedge = shapely.Polygon([pivot.about, dart.first_leg, dart.second_leg]).buffer(-ON_OUTLINE)
    kept: list[Curve] = []
    for a, b in stretches:
        part, middle = mark.curve.part(a, b), shapely.Point(mark.curve.at_length((a + b) / 2))
        if wedge.contains(middle):
            continue  # shut with the dart, or drawn anew over what is left of it
        kept.append(pivot.turned(part) if pivot.region.contains(middle) else part)
    if not kept:
        return mark
    curve = kept[0]
    for part in kept[1:]:
        gap = line(curve.end, part.start)
        curve = curve.then(gap, part) if gap.length() > SAME_POINT else curve.then(part)
    return replace(mark, curve=curve)
