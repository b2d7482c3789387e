"""Cutting a piece in two, the parts joined by a seam: a yoke, a panel split, a join for narrow cloth.

Every edge the line crosses is parted between the two pieces; whatever was sewn to it is now sewn to both, one
after the other. Lengths in cm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely

from clothwise.alter.settle import kept
from clothwise.alter.sides import drawn_as_left, turned
from clothwise.curve import UP, Curve, Point, Vector, crossings, crossings_with_line, joined, line, nearest
from clothwise.draft.turned_over import MIDDLE
from clothwise.errors import GarmentError
from clothwise.garment import Corner, Dart, Edge, Garment, Joint, Mark, Notch, Note, Piece, Run, Seam
from clothwise.garment.growth_tuck import in_a_tuck
from clothwise.tolerance import ARC_LENGTH, FLATTEN, NOTCH_CORNER, ON_OUTLINE, SAME_POINT, SHORTEST_EDGE

ALLOWANCE = 1.0  # cm of the new seam, where nothing else is said (trade: 1-1.5)
GRAIN_SHARE = 0.6  # of the piece's height that the arrow of a new piece takes
GRAIN_LEAST, GRAIN_MOST_SHARE = 3.5, 0.95  # cm an arrow takes of a narrow piece, up to this share of it
FAR = 1000.0  # cm: beyond any piece
LOOKS = 12  # lines across a piece on which its grain arrow may lie
ACROSS = ("level", "adjust", "centre", "fold line")  # lines of which every part keeps its own
Part = tuple[str, str]  # name and title of a new piece


@dataclass(frozen=True, slots=True)
class _Cut:
    """Where the line leaves the outline and where it comes back: edge number and distance along that edge."""

    piece: Piece
    line: Curve
    leaves: tuple[int, float]
    returns: tuple[int, float]


def cut_in_two(
    garment: Garment,
    piece_name: str,
    line: Curve,
    parts: tuple[Part, Part],
    *,
    seam: str,
    title: str,
    allowance: float = ALLOWANCE,
) -> Garment:
    """The garment with one piece cut in two along a line from edge to edge, and a seam that joins the parts.

    parts      name and title of the upper part (along the grain: the one nearer the centre), and of the other
    seam       name and title of the new seam
    Raises     GarmentError: the line does not run from edge to edge, leaves a stub, or crosses a dart
    """
    piece = garment.piece(piece_name)
    if _leaves_a_pair(piece, line) and not drawn_as_left(garment, piece_name):
        garment, line = turned(garment, {piece_name}), line.mirrored(MIDDLE, UP)
        piece = garment.piece(piece_name)
    if piece.cutting == "single" and piece.copies > 1 and _in_a_row(garment, piece_name):
        raise GarmentError(
            f"'{piece.title}' is sewn end to end with another of its kind and cannot be cut in two any more.",
            where=f"garment '{garment.name}', piece '{piece_name}'",
            mend="Cut it in two before left and right are told apart.",
        )
    cut = _cut(piece, line)
    one, other = _halves(cut, allowance, seam)
    if not _first(piece, one, other, line):
        one, other = other, one
    first, second = (_finished(piece, e, part, line) for e, part in zip((one, other), parts, strict=True))
    pieces = {piece_name: (first, second)}
    changed = replace(
        garment,
        pieces=tuple(part for p in garment.pieces for part in pieces.get(p.name, (p,))),
        seams=(
            *(_told(s, piece, first, second) for s in garment.seams),
            _seam(piece, first, second, seam, title),
        ),
        free_edges=tuple(replace(f, runs=_parted(f.runs, piece, first, second)) for f in garment.free_edges),
        joints=tuple(_joint(joint, piece, first, second) for joint in garment.joints),
        levels=tuple(replace(lv, runs=_girth(lv.runs, piece, first, second)) for lv in garment.levels),
        passages=tuple(replace(p, runs=_girth(p.runs, piece, first, second)) for p in garment.passages),
    )
    names = f"{first.title.lower()} and {second.title.lower()}"
    said = (
        f"{piece.title} is cut in two, {names}: {allowance:g} cm of seam allowance at either side of the cut."
    )
    return kept(garment, changed, Note(said, measure=seam, by=allowance))


def _in_a_row(garment: Garment, piece_name: str) -> bool:
    """Whether a copy of it is sewn to the next of its copies."""
    own = {piece_name}
    return any({r.piece for r in s.a} == own == {r.piece for r in s.b} for s in garment.seams)


def _leaves_a_pair(piece: Piece, line: Curve) -> bool:
    """Whether a part of what is cut on the fold is no longer on it."""
    ends = (line.start, line.end)
    return piece.fold is not None and all(nearest(piece.fold.curve, end).away > ON_OUTLINE for end in ends)


def yoked(garment: Garment, piece_name: str, level: str, below: float = 0.0) -> Garment:
    """The garment with a piece cut in two across, along one of its levels or so far below it."""
    piece = garment.piece(piece_name)
    mark = piece.mark(level).curve
    up = piece.grain[0].to(piece.grain[1]).unit()
    across = _through(piece, mark.at_length(mark.length() / 2).go(up, -below), up.right())
    title = piece.title[:1].lower() + piece.title[1:]
    parts = ((f"upper_{piece_name}", f"Upper {title}"), (f"lower_{piece_name}", f"Lower {title}"))
    return cut_in_two(
        garment, piece_name, across, parts, seam=f"{piece_name}_yoke", title=f"Yoke seam, {title}"
    )


def panelled(garment: Garment, piece_name: str, share: float) -> Garment:
    """The garment with a piece cut in two along the grain, at that share of its width from the fold or left."""
    piece = garment.piece(piece_name)
    left, low, right, high = piece.outline().bounds()
    if piece.fold and piece.fold.curve.start.x > (left + right) / 2:
        share = 1 - share
    up = piece.grain[0].to(piece.grain[1]).unit()
    along = _through(piece, Point(left + share * (right - left), (low + high) / 2), up)
    title = piece.title[:1].lower() + piece.title[1:]
    parts = ((f"centre_{piece_name}", f"Centre {title}"), (f"side_{piece_name}", f"Side {title}"))
    return cut_in_two(
        garment, piece_name, along, parts, seam=f"{piece_name}_panel", title=f"Panel seam, {title}"
    )


def _through(piece: Piece, place: Point, way: Vector) -> Curve:
    """The straight line through a place, from edge to edge."""
    met = [c.point for e in piece for c in crossings_with_line(e.curve, place, way, tolerance=ARC_LENGTH)]
    before = [p for p in met if place.to(p).dot(way) < 0]
    after = [p for p in met if place.to(p).dot(way) > 0]
    if not before or not after:
        raise GarmentError(
            "The cut would lie outside the piece.",
            where=f"piece '{piece.name}'",
            mend="Choose another level, or less.",
        )
    return line(min(before, key=place.distance), min(after, key=place.distance))


# ---- the cut -----------------------------------------------------------------------------------------


def _cut(piece: Piece, line: Curve) -> _Cut:
    ends = []
    for place in (line.start, line.end):
        found = [(nearest(edge.curve, place), number) for number, edge in enumerate(piece.edges)]
        best, number = min(found, key=lambda f: f[0].away)
        length = piece.edges[number].curve.length()
        if best.away > ON_OUTLINE:
            raise GarmentError(
                f"The cut ends {best.away:.1f} cm from the edge of the piece.",
                where=f"piece '{piece.name}'",
                mend="Let it run from edge to edge.",
            )
        if min(best.along, length - best.along) < SHORTEST_EDGE:
            raise GarmentError(
                f"The cut would leave a stub of {min(best.along, length - best.along):.1f} cm of its edge "
                f"'{piece.edges[number].name}'.",
                where=f"piece '{piece.name}'",
                mend="Move it away from the corner.",
            )
        ends.append((number, best.along))
    return _Cut(piece, line, ends[0], ends[1])


def _halves(cut: _Cut, allowance: float, seam: str) -> tuple[list[Edge], list[Edge]]:
    """The outlines of both parts: from where the line leaves round to where it returns, and the rest."""
    (i, at_i), (j, at_j) = cut.leaves, cut.returns
    edges = cut.piece.edges
    if i == j:
        raise GarmentError(
            f"The cut begins and ends on the same edge '{edges[i].name}'.",
            where=f"piece '{cut.piece.name}'",
            mend="Let it run from one edge to another.",
        )
    n = len(edges)
    start_i, end_i = _split(edges[i], at_i)
    start_j, end_j = _split(edges[j], at_j)
    between = [edges[k % n] for k in range(i + 1, j + n if j < i else j)]
    beyond = [edges[k % n] for k in range(j + 1, i + n if i < j else i)]
    there = Edge(seam, _ending(cut.line, start_i.curve.end, start_j.curve.end), "seam", allowance)
    back = replace(there, curve=there.curve.reversed())
    return [end_i, *between, start_j, back], [end_j, *beyond, start_i, there]


def _ending(line: Curve, start: Point, end: Point) -> Curve:
    """The line with its ends set exactly onto the outline."""
    first, *rest = line.strokes
    strokes = [first.mapped(lambda p: start if p == first.start else p), *rest]
    last = strokes[-1]
    strokes[-1] = last.mapped(lambda p: end if p == last.end else p)
    return joined(strokes)


def _split(edge: Edge, at: float) -> tuple[Edge, Edge]:
    one, other = edge.curve.split(at)
    before = tuple(notch for notch in edge.notches if notch.at <= at - NOTCH_CORNER)
    after = tuple(Notch(n.sign, n.at - at, n.count) for n in edge.notches if n.at >= at + NOTCH_CORNER)
    return replace(edge, curve=one, notches=before), replace(edge, curve=other, notches=after)


def _first(piece: Piece, one: list[Edge], other: list[Edge], line: Curve) -> bool:
    up = piece.grain[0].to(piece.grain[1]).unit()
    along = line.start.to(line.end).unit()
    a, b = _middle(one), _middle(other)
    if abs(along.cross(up)) > abs(along.dot(up)):
        return a.to(b).dot(up) * (1 if up.y >= 0 else -1) < 0
    return abs(a.x) < abs(b.x)


def _polygon(edges: list[Edge]) -> shapely.Polygon:
    outline = edges[0].curve.then(*(edge.curve for edge in edges[1:]))
    return shapely.Polygon(outline.flattened(tolerance=FLATTEN))


def _middle(edges: list[Edge]) -> Point:
    centre = _polygon(edges).centroid
    return Point(centre.x, centre.y)


# ---- the parts ---------------------------------------------------------------------------------------


def _finished(piece: Piece, edges: list[Edge], part: Part, line: Curve) -> Piece:
    """A part as a piece: its own marks and darts, a grain arrow within it, still on the fold or now a pair."""
    shape = _polygon(edges).buffer(ON_OUTLINE)
    on_fold = any(edge.kind == "fold" for edge in edges)
    pair = piece.cutting == "on fold" and not on_fold
    darts = tuple(d for d in piece.darts if any(shape.contains(shapely.Point(p)) for p in _tips(d)))
    for dart in darts:
        if not all(shape.contains(shapely.Point(place)) for place in dart.drawn):
            raise GarmentError(
                f"The cut crosses the dart '{dart.name}'.",
                where=f"piece '{piece.name}'",
                mend="Cut beside the dart, or move the dart first.",
            )
    return replace(
        piece,
        name=part[0],
        title=part[1],
        edges=tuple(edges),
        grain=grain_within(piece, shape),
        cutting="pair" if pair else piece.cutting,
        copies=2 * piece.copies if pair else piece.copies,
        darts=darts,
        marks=tuple(_marks(piece, shape, line)),
    )


def _tips(dart: Dart) -> tuple[Point, ...]:
    return (dart.tip, dart.other_tip) if dart.other_tip else (dart.tip,)


def _marks(piece: Piece, shape: shapely.Polygon, line: Curve) -> Iterator[Mark]:
    for mark in piece.marks:
        points = shapely.LineString([*mark.curve.flattened(tolerance=FLATTEN)])
        inside = shape.intersection(points).length
        if inside >= points.length - SAME_POINT:
            yield mark
        elif inside > ON_OUTLINE and (mark.kind in ACROSS or in_a_tuck(mark)):
            yield replace(mark, curve=_part_of(mark.curve, line, shape))
        elif inside > ON_OUTLINE * 4 and mark.kind in ("placement", "button", "buttonhole"):
            raise GarmentError(
                f"The cut crosses '{mark.name.replace('_', ' ')}'.",
                where=f"piece '{piece.name}'",
                mend="Cut beside it, or leave it out.",
            )


def _part_of(curve: Curve, line: Curve, shape: shapely.Polygon) -> Curve:
    """What of a level lies in the part."""
    met = crossings(curve, line, tolerance=ARC_LENGTH)
    if len(met) != 1:
        return curve
    halves = curve.split(met[0].along)
    return max(
        halves, key=lambda c: shape.intersection(shapely.LineString(c.flattened(tolerance=FLATTEN))).length
    )


def grain_within(piece: Piece, shape: shapely.Polygon) -> tuple[Point, Point]:
    """An arrow in the old direction through the middle of the part."""
    up = piece.grain[0].to(piece.grain[1]).unit()
    centre = Point(shape.centroid.x, shape.centroid.y)
    aside = up.right()
    reach = [centre.to(Point(*p)).dot(aside) for p in shape.exterior.coords]
    lines = [
        _inside(shape, centre.go(aside, off), up) for off in (0.0, *np.linspace(min(reach), max(reach), LOOKS))
    ]
    longest = max(lines, key=lambda found: found.length)
    through = lines[0] if lines[0].length >= GRAIN_SHARE * longest.length else longest
    low, high = (Point(*p) for p in (through.coords[0], through.coords[-1]))
    if low.to(high).dot(up) < 0:
        low, high = high, low
    free = (1 - min(max(GRAIN_SHARE, GRAIN_LEAST / low.distance(high)), GRAIN_MOST_SHARE)) / 2
    return low.between(high, free), low.between(high, 1 - free)


def _inside(shape: shapely.Polygon, at: Point, up: Vector) -> shapely.LineString:
    """The longest stretch inside a shape of the line through a place."""
    far = shapely.LineString([at.go(up, -FAR), at.go(up, FAR)]).intersection(shape)
    parts = list(far.geoms) if hasattr(far, "geoms") else [far]
    lines = [part for part in parts if isinstance(part, shapely.LineString)]
    return max(lines, key=lambda part: part.length, default=shapely.LineString())


# ---- what was sewn to it ------------------------------------------------------------------------------


def _parted(runs: tuple[Run, ...], piece: Piece, first: Piece, second: Piece) -> tuple[Run, ...]:
    return tuple(part for run in runs for part in _run(run, piece, first, second))


def _run(run: Run, piece: Piece, first: Piece, second: Piece) -> Iterator[Run]:
    if run.piece != piece.name:
        yield run
        return
    found = [part for part in (first, second) if _has(part, run.line)]
    if len(found) == 2 and any(e.name == run.line for e in piece):
        start = piece.edge(run.line).curve.start
        found.sort(key=lambda part: part.edge(run.line).curve.start.distance(start) > SAME_POINT)
        if run.backwards:
            found.reverse()
    for part in found:
        yield replace(run, piece=part.name)


def _has(part: Piece, line: str) -> bool:
    return any(line == e.name for e in part) or any(line == m.name for m in part.marks)


def _told(seam: Seam, piece: Piece, first: Piece, second: Piece) -> Seam:
    def parted(runs: tuple[Run, ...]) -> tuple[Run, ...]:
        return _parted(runs, piece, first, second)

    return replace(seam, a=parted(seam.a), b=parted(seam.b), more=tuple(parted(ply) for ply in seam.more))


def _seam(piece: Piece, first: Piece, second: Piece, name: str, title: str) -> Seam:
    """Right sides together the two outlines run against each other."""
    times = piece.copies if piece.cutting != "on fold" else piece.copies * 2
    both_folded = first.fold is not None and second.fold is not None
    a: tuple[Run, ...] = (Run(first.name, name),)
    b: tuple[Run, ...] = (Run(second.name, name, backwards=True),)
    if both_folded:  # one seam right across, from one half to the other
        fold = first.fold.curve if first.fold else first.edge(name).curve
        ends_on_fold = first.edge(name).curve.end.distance(fold.start) <= ON_OUTLINE
        a = (*a, Run(first.name, name, backwards=True, side="mirrored"))
        b = (*b, Run(second.name, name, side="mirrored"))
        if not ends_on_fold:
            a, b = (a[1], a[0]), (b[1], b[0])
        times = piece.copies
    return Seam(name, title, a, b, times=times, pressed="open")


def _joint(joint: Joint, piece: Piece, first: Piece, second: Piece) -> Joint:
    def corner(c: Corner) -> Corner:
        if c.piece != piece.name:
            return c
        for part in (first, second):
            names = [edge.name for edge in part]
            if c.before in names and names[(names.index(c.before) + 1) % len(names)] == c.after:
                return replace(c, piece=part.name)
        return c

    return replace(joint, corners=tuple(corner(c) for c in joint.corners))


def _girth(
    runs: tuple[tuple[str, str, int], ...], piece: Piece, first: Piece, second: Piece
) -> tuple[tuple[str, str, int], ...]:
    told: list[tuple[str, str, int]] = []
    for name, drawn, times in runs:
        if name != piece.name:
            told.append((name, drawn, times))
        else:
            told += [(part.name, drawn, times) for part in (first, second) if _has(part, drawn)]
    return tuple(told)
