"""How cut pieces lie on the table: each copy as a shape, turned, flipped and laid so that seams meet.

A copy 'as drawn' shows its right side when it is not flipped; its mirror image when it is. Shapes carry their
allowances except at edges already sewn or turned.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Curve, Point
from clothwise.garment import Garment, Piece, Run, Seam
from clothwise.garment.allowance import unfolded_cutting_line
from clothwise.garment.piece import Edge
from clothwise.sew.step import CutRun, Join

DRAW = 0.05  # cm: chords of a drawn line may leave it by so much; a fifth of a printed line at 1 : 10
RUN_ON = 9.0  # cm: further than any hem or casing is deep, so its corner goes with the seam's allowance
AGREE = 0.9  # mean of the grains' directions, from which there is one way up for all
SLIVER = 0.02  # of a seam: a shorter stretch tells nothing of how two pieces lie
NEAR = 15.0  # cm from a corner along which a neighbour is aligned where seams cross

LIES_FLAT = 0.88  # shorter chord over longer, from which two edges can be drawn along each other

Copy = tuple[str, str, int]  # piece, side, which of those alike
Ends = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Lie:
    """A rigid move: flip (x to -x) first if `flipped`, then turn, then move. Angle in degrees, dx, dy in cm."""

    flipped: bool = False
    angle: float = 0.0
    dx: float = 0.0
    dy: float = 0.0

    def matrix(self) -> list[float]:
        c, s = math.cos(math.radians(self.angle)), math.sin(math.radians(self.angle))
        f = -1.0 if self.flipped else 1.0
        return [c * f, -s, s * f, c, self.dx, self.dy]

    def shape(self, shape: BaseGeometry) -> BaseGeometry:
        return affinity.affine_transform(shape, self.matrix())

    def point(self, p: Point) -> Point:
        a, b, c, d, dx, dy = self.matrix()
        return Point(a * p.x + b * p.y + dx, c * p.x + d * p.y + dy)

    def points(self, points: Iterable[Point]) -> tuple[tuple[float, float], ...]:
        return tuple(tuple(self.point(p)) for p in points)  # type: ignore[misc]


@dataclass(frozen=True, slots=True)
class Laid:
    """One copy on the table."""

    piece: Piece
    side: str
    lie: Lie
    number: int = 0
    turned: bool = False

    @property
    def copy(self) -> Copy:
        return self.piece.name, self.side, self.number

    @property
    def right_side_up(self) -> bool:
        return self.lie.flipped == ((self.side == "mirrored") != self.turned)

    def line(self, name: str) -> tuple[tuple[float, float], ...]:
        return self.lie.points(self.piece.line(name).flattened(tolerance=DRAW))


def on_table(garment: Garment, copy: Copy, *, right_side_up: bool) -> Laid:
    """A cut copy lying as drawn, showing the asked side."""
    name, side, number = copy
    turned = name in turned_over(garment)
    return Laid(
        garment.piece(name), side, Lie(right_side_up == ((side == "mirrored") != turned)), number, turned
    )


def turned_over(garment: Garment) -> frozenset[str]:
    """Pieces whose drawing shows the wrong side of the copy called 'as drawn'.

    Right sides together, two edges of copies of one side run against each other. A piece on the fold is there
    both ways, so a draft may draw either half; a facing is drawn as the edge it faces.
    """
    firm = tuple(piece.name for piece in garment.pieces if piece.cutting == "pair")
    return _turned_over(garment.seams, firm, tuple(piece.name for piece in garment.pieces))


@cache
def _turned_over(seams: tuple[Seam, ...], firm: tuple[str, ...], names: tuple[str, ...]) -> frozenset[str]:
    turned: dict[str, bool] = {}
    for start in (*firm, *names):
        turned.setdefault(start, False)
        waiting = [start]
        while waiting:
            here = waiting.pop()
            for a, b in ((a, b) for s in seams if s.kind != "patch" for a in s.a[:1] for b in s.b[:1]):
                for one, other in ((a, b), (b, a)):
                    if one.piece == here and other.piece not in turned:
                        with_each_other = (one.backwards != other.backwards) == (one.side != other.side)
                        turned[other.piece] = turned[here] != with_each_other
                        waiting.append(other.piece)
    return frozenset(name for name, is_turned in turned.items() if is_turned)


def aligned(mine: tuple[Point, Point], theirs: tuple[Point, Point], *, flipped: bool) -> Lie:
    """The lie that brings my two points onto theirs, middle on middle."""
    f = -1.0 if flipped else 1.0
    a, b = Point(mine[0].x * f, mine[0].y), Point(mine[1].x * f, mine[1].y)
    turn = theirs[0].to(theirs[1]).angle_deg - a.to(b).angle_deg
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    middle, goal = a.between(b), theirs[0].between(theirs[1])
    return Lie(flipped, turn, goal.x - (c * middle.x - s * middle.y), goal.y - (s * middle.x + c * middle.y))


def walked(garment: Garment, run: Run) -> Curve:
    """The run's curve on its piece, in the direction it is walked."""
    return garment.curve(run)


def run_ends(garment: Garment, run: Run, near: str = "") -> tuple[Point, Point]:
    """Start and end of a run; with `near` 'start' or 'end' only its first or last NEAR cm."""
    curve = walked(garment, run)
    size = curve.length()
    if near == "start" and size > NEAR:
        return curve.start, curve.at_length(NEAR)
    if near == "end" and size > NEAR:
        return curve.at_length(size - NEAR), curve.end
    return curve.start, curve.end


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where two runs of a join lie along each other: each run with its two points there, on its own piece."""

    one: CutRun
    mine: Ends
    other: CutRun
    theirs: Ends

    @property
    def flat(self) -> bool:
        """Whether the two stretches are of one shape as far as their chords tell."""
        a, b = self.mine[0].distance(self.mine[1]), self.theirs[0].distance(self.theirs[1])
        return min(a, b) > LIES_FLAT * max(a, b)

    def turned(self) -> Meeting:
        return Meeting(self.other, self.theirs, self.one, self.mine)


def meetings(garment: Garment, join: Join) -> list[Meeting]:
    """All stretches along which side a and side b of a join meet, longest first."""
    sides = [_spans(garment, ply) for ply in (join.a, join.b)]
    found: list[tuple[float, Meeting]] = []
    for run, low, high in sides[0]:
        for other, from_, to in sides[1]:
            start, end = max(low, from_), min(high, to)
            if end - start > SLIVER:
                mine = _stretch(garment, run, (start - low) / (high - low), (end - low) / (high - low))
                theirs = _stretch(garment, other, (start - from_) / (to - from_), (end - from_) / (to - from_))
                found.append((end - start, Meeting(run, mine, other, theirs)))
    return [meeting for _, meeting in sorted(found, key=lambda pair: -pair[0])]


def _spans(garment: Garment, ply: tuple[CutRun, ...]) -> list[tuple[CutRun, float, float]]:
    """Each run with the share of the ply's length at which it begins and ends."""
    lengths = [garment.piece(run.piece).line(run.line).length() for run in ply]
    whole = sum(lengths)
    spans, done = [], 0.0
    for run, size in zip(ply, lengths, strict=True):
        spans.append((run, done / whole, (done + size) / whole))
        done += size
    return spans


def _stretch(garment: Garment, run: CutRun, low: float, high: float) -> Ends:
    curve = walked(garment, run)
    size = curve.length()
    return curve.at_length(low * size), curve.at_length(min(high, 1.0) * size)


def partner(garment: Garment, here: Laid, meeting: Meeting, *, over: bool) -> Laid:
    """The copy of the meeting's other run, laid along `one` of a copy that lies already.

    over  laid on top or under, face to face with it; else opened out beside it, same side up
    """
    goal = here.lie.point(meeting.mine[0]), here.lie.point(meeting.mine[1])
    other = on_table(garment, meeting.other.copy, right_side_up=here.right_side_up != over)
    return replace(other, lie=aligned(meeting.theirs, goal, flipped=other.lie.flipped))


def other_half(laid: Laid) -> list[Laid]:
    """The other half of a piece on the fold, as it lies with this one."""
    fold = laid.piece.fold
    if fold is None:
        return []
    ends = fold.curve.start, fold.curve.end
    lie = aligned(ends, (laid.lie.point(ends[0]), laid.lie.point(ends[1])), flipped=not laid.lie.flipped)
    return [replace(laid, side="mirrored" if laid.side == "as drawn" else "as drawn", lie=lie)]


def near_end(garment: Garment, one: CutRun, other: CutRun, near: str) -> Meeting:
    """Two runs of one length meeting near their start or end only."""
    return Meeting(one, run_ends(garment, one, near), other, run_ends(garment, other, near))


def opened_out(
    garment: Garment, root: Laid, joins: Iterable[Join], *, among: Iterable[Copy] | None = None
) -> list[Laid]:
    """The root copy with everything that hangs on it by these seams, opened out flat beside it. What would
    close a tube is left unjoined, and so is what cannot lie flat there.

    among  only these copies are drawn
    """
    laid: dict[Copy, Laid] = {root.copy: root}
    laid |= {half.copy: half for half in other_half(root)}
    allowed = None if among is None else set(among)
    known = [m for join in joins for m in meetings(garment, join) if m.flat]
    grown = True
    while grown:
        grown = False
        for meeting in (side for m in known for side in (m, m.turned())):
            here = laid.get(meeting.one.copy)
            free = meeting.other.copy not in laid and (allowed is None or meeting.other.copy in allowed)
            if here and free and garment.edge_of(meeting.one) and garment.edge_of(meeting.other):
                found = partner(garment, here, meeting, over=False)
                laid |= {half.copy: half for half in (found, *other_half(found))}
                grown = True
    return list(laid.values())


def upright(garment: Garment, root: Laid, joins: Iterable[Join]) -> Laid:
    """The root turned so that all that hangs on it stands upright together: grains up on the average."""
    ways = []
    for laid in opened_out(garment, root, joins):
        low, high = laid.piece.grain
        ways.append(laid.lie.point(low).to(laid.lie.point(high)).unit())
    x, y = sum(way.x for way in ways), sum(way.y for way in ways)
    if math.hypot(x, y) < AGREE * len(ways):  # front and back opened out at the shoulders point apart
        low, high = root.piece.grain
        x, y = root.lie.point(low).to(root.lie.point(high)).unit()
    lean = math.degrees(math.atan2(y, x)) - 90.0
    return replace(root, lie=Lie(root.lie.flipped, root.lie.angle - lean))


# ---- shapes ------------------------------------------------------------------------------------


def shape(piece: Piece, done: Iterable[str] = ()) -> BaseGeometry:
    """The piece as cut, without the allowances of edges that are sewn or turned already."""
    return _shape(piece, frozenset(done))


@cache
def _shape(piece: Piece, done: frozenset[str]) -> BaseGeometry:
    cut: BaseGeometry = Polygon(unfolded_cutting_line(piece))
    for edge in piece:
        if edge.name in done and edge.allowance > 0:
            cut = cut.difference(beyond(edge))
            if piece.fold is not None:
                cut = cut.difference(_over_the_fold(beyond(edge), piece.fold))
    parts = [p for p in getattr(cut, "geoms", [cut]) if isinstance(p, Polygon)]
    return max(parts, key=lambda p: p.area)


def _over_the_fold(shape: BaseGeometry, fold: Edge) -> BaseGeometry:
    """The shape mirrored in a straight fold."""
    (x, y), way = fold.curve.start, fold.curve.start.to(fold.curve.end).unit()
    c, s = way.x * way.x - way.y * way.y, 2 * way.x * way.y
    return affinity.affine_transform(shape, [c, s, s, -c, x - c * x - s * y, y - s * x + c * y])


def beyond(edge: Edge) -> BaseGeometry:
    """The strip outside an edge, wider than its allowance and run on past both ends."""
    width = 1.6 * edge.allowance + 0.5
    start = edge.curve.start.go(edge.curve.start_tangent, -RUN_ON)
    end = edge.curve.end.go(edge.curve.end_tangent, RUN_ON)
    points = [start, *edge.curve.flattened(tolerance=DRAW), end]
    return LineString(points).buffer(-width, single_sided=True, join_style="mitre")


def strip(edge: Edge, depth: float) -> BaseGeometry:
    """The strip inside an edge: what a turn of that depth covers."""
    line = LineString(edge.curve.flattened(tolerance=DRAW))
    return line.buffer(depth, single_sided=True, join_style="mitre")


def net(piece: Piece) -> Polygon:
    """The piece inside its seam lines."""
    return Polygon(piece.polygon(tolerance=DRAW))


def crease(piece: Piece, keep: Point) -> BaseGeometry:
    """A great half plane bounded by the piece's grain line, on the side where `keep` lies."""
    low, high = piece.grain
    way = low.to(high).unit()
    side = way.left() if way.cross(low.to(keep)) > 0 else way.right()
    far = 500.0
    a, b = low.go(way, -far), low.go(way, far)
    return shapely.Polygon([a, b, b.go(side, far), a.go(side, far)])
