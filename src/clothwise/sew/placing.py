"""How cut pieces lie on the table: each copy as a shape, turned, flipped and laid so that seams meet.

A copy 'as drawn' shows its right side when it is not flipped; its mirror image when it is. Shapes carry their
allowances except at edges already sewn or turned.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Curve, Point
from clothwise.garment import Garment, Piece, Run
from clothwise.garment.allowance import unfolded_cutting_line
from clothwise.garment.piece import Edge
from clothwise.sew.step import Join

DRAW = 0.05  # cm: chords of a drawn line may leave it by so much; a fifth of a printed line at 1 : 10
RUN_ON = 9.0  # cm: further than any hem or casing is deep, so its corner goes with the seam's allowance
NEAR = 15.0  # cm from a corner along which a neighbour is aligned where seams cross

Copy = tuple[str, str]  # piece, side
EdgeCopy = tuple[str, str, str]  # piece, side, edge


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

    @property
    def right_side_up(self) -> bool:
        return self.lie.flipped == (self.side == "mirrored")

    def line(self, name: str) -> tuple[tuple[float, float], ...]:
        return self.lie.points(self.piece.line(name).flattened(tolerance=DRAW))


def flat(side: str, *, right_side_up: bool, angle: float = 0.0) -> Lie:
    """Lying as drawn, showing the asked side."""
    return Lie(right_side_up == (side == "mirrored"), angle)


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


def partner(garment: Garment, here: Laid, mine: Run, other: Run, *, over: bool, near: str = "") -> Laid:
    """The other run's copy, laid with its run on `mine` of a copy that lies already.

    over  laid on top or under, face to face with it; else opened out beside it, same side up
    """
    goal = [here.lie.point(p) for p in run_ends(garment, mine, near)]
    piece = garment.piece(other.piece)
    right_side_up = here.right_side_up != over
    lie = flat(other.side, right_side_up=right_side_up)
    return Laid(
        piece,
        other.side,
        aligned(run_ends(garment, other, near), (goal[0], goal[1]), flipped=lie.flipped),
    )


def opened_out(garment: Garment, root: Laid, joins: Iterable[Join]) -> list[Laid]:
    """The root copy with everything that hangs on it by these seams, opened out flat beside it. What would
    close a tube is left unjoined."""
    laid: dict[Copy, Laid] = {(root.piece.name, root.side): root}
    known = list(joins)
    grown = True
    while grown:
        grown = False
        for join in known:
            for a, b in zip(join.a, join.b, strict=False):
                for one, other in ((a, b), (b, a)):
                    here = laid.get((one.piece, one.side))
                    if here and (other.piece, other.side) not in laid and _is_edge(garment, one, other):
                        laid[other.piece, other.side] = partner(garment, here, one, other, over=False)
                        grown = True
    return list(laid.values())


def upright(garment: Garment, root: Laid, joins: Iterable[Join]) -> Laid:
    """The root turned so that all that hangs on it stands upright together: grains up on the average."""
    ways = []
    for laid in opened_out(garment, root, joins):
        low, high = laid.piece.grain
        ways.append(laid.lie.point(low).to(laid.lie.point(high)).unit())
    x, y = sum(way.x for way in ways), sum(way.y for way in ways)
    lean = math.degrees(math.atan2(y, x)) - 90.0
    return Laid(root.piece, root.side, Lie(root.lie.flipped, root.lie.angle - lean))


def _is_edge(garment: Garment, *runs: Run) -> bool:
    return all(any(e.name == run.line for e in garment.piece(run.piece)) for run in runs)


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
    parts = [p for p in getattr(cut, "geoms", [cut]) if isinstance(p, Polygon)]
    return max(parts, key=lambda p: p.area)


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
