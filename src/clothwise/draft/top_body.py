"""Front and back of an upper garment drawn from their frame, as rings of named parts ready to become pieces.

A half is drawn with its centre on x = 0 and its side at +x, waist y = 0, y up, cm; its ring runs anticlockwise
from the hem's centre: hem, side, armhole, shoulder, neck, centre. The back piece is turned over at the end, so
that both pieces are the wearer's left half with the right side up.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from clothwise.curve import RIGHT, Curve, Point, crossings_at_x, line, polyline, sweep
from clothwise.draft import hem, level
from clothwise.draft.bodice import INSIDE_SHOULDER, Frame, Half, back_armhole, front_armhole
from clothwise.draft.darts import Part, Ring
from clothwise.draft.facing import neck_parts
from clothwise.draft.neckline import Neckline, cut_back, cut_front
from clothwise.draft.side_seam import Shape, curve, hem_end
from clothwise.garment import Edge, Mark, Piece
from clothwise.garment.piece import Cutting, Dart, EdgeKind
from clothwise.tolerance import SOLVE

FRONT, BACK = "front", "back"
SEAM = 1.5  # cm allowance: room to fit
CURVED_SEAM = 1.0  # cm: neck and armhole lie flat with no more
BUST_MOUTH = "bust_dart_mouth"
TAIL_HANDLES = (0.55, 0.35)  # of the chord: a shirt tail runs level over its middle and rises to the side
GRAIN_IN, GRAIN_FREE, GRAIN_LOW = 0.35, 0.12, 0.2  # of the centre line: how far in; free at its ends
GRAIN_AT = 4.0  # cm from the centre, at most
GRAIN_CLEAR = 0.2  # cm from the neck, on a facing so narrow that the arrow needs all of it


@dataclass(frozen=True, slots=True)
class Outline:
    """One half: neck from the neck point to the centre; shoulder from the neck point out; armhole from the
    shoulder to the underarm; side from the underarm (or the dart's lower leg) to the hem; hem from the centre
    to the side.

    upper_side  of a front with its dart open at the side: from the underarm to the dart's upper leg
    """

    neck: tuple[Curve, ...]
    shoulder: Curve
    armhole: Curve
    side: Curve
    hem: Curve
    upper_side: Curve | None = None

    @property
    def centre(self) -> Curve:
        return line(self.neck[-1].end, self.hem.start)

    @property
    def neck_length(self) -> float:
        return sum(part.length() for part in self.neck)

    def ring(self) -> Ring:
        """Anticlockwise from the hem's centre."""
        side: tuple[Part, ...] = (Part("side", self.side.reversed()),)
        if self.upper_side:
            low, high = Part("side_lower", self.side.reversed()), Part("side_upper", self.upper_side.reversed())
            side = (low, Part(BUST_MOUTH, line(low.curve.end, high.curve.start), mouth=True), high)
        necks = neck_parts(self.neck)
        return (
            Part("hem", self.hem),
            *side,
            Part("armhole", self.armhole.reversed()),
            Part("shoulder", self.shoulder.reversed()),
            *necks,
            Part("centre", self.centre),
        )


def narrowed(half: Half, by: float) -> Half:
    """The same half with its shoulder point moved in along the shoulder. [cm]"""
    shoulder = half.shoulder.go(half.shoulder.to(half.neck_point).unit(), by)
    return replace(half, shoulder=shoulder, width=min(half.width, shoulder.x - INSIDE_SHOULDER))


def front_outline(
    frame: Frame, neckline: Neckline, shape: Shape, hip_depth: float, hem_y: float, tail: float = 0.0
) -> Outline:
    """The front, its bust dart open at the side. `tail`: so much higher than usual the hem ends there. [cm]"""
    neck = cut_front(frame.neck, neckline, frame.front.neck_point, frame.front.slope_deg)
    return _outline(frame, frame.front, frame.side_front, neck, shape, hip_depth, (hem_y, tail))


def back_outline(
    frame: Frame, neckline: Neckline, shape: Shape, hip_depth: float, hem_y: float, tail: float = 0.0
) -> Outline:
    """The back, not yet turned over."""
    neck = (cut_back(frame.neck, neckline, frame.back.neck_point, frame.back.slope_deg),)
    return _outline(frame, frame.back, frame.side_back, neck, shape, hip_depth, (hem_y, tail))


def _outline(
    frame: Frame,
    half: Half,
    x: float,
    neck: tuple[Curve, ...],
    shape: Shape,
    hip_depth: float,
    ends: tuple[float, float],
) -> Outline:
    """One half. `ends`: height of the hem at the centre, and how much higher than usual it ends at the side."""
    hem_y, tail = ends
    wider = max(frame.side_back, frame.side_front)
    end = hem_end(x, wider, hip_depth, shape, hem_y) + tail
    side = curve(x, half.underarm.y, frame.bust_level, hip_depth, shape, end)
    armhole = (front_armhole if half is frame.front else back_armhole)(half)
    centre = line(neck[-1].end, Point(0.0, hem_y))
    upper = None
    if frame.bust and half is frame.front:
        upper = line(half.underarm, frame.bust.upper_leg)
        side = Curve(side.strokes[1:])
    low = hem.hem_line(centre, side)
    if tail:
        low = sweep(centre.end, RIGHT, side.end, side.end_tangent.left(), *TAIL_HANDLES)
    return Outline(neck, half.shoulder_from(neck[0].start), armhole, side, low, upper)


def level_x(neck: Curve, x: float) -> float:
    """Distance along a neck, from its start, at which it comes so near to the centre. [cm]"""
    turned = neck.mapped(lambda p: Point(-p.y, p.x))
    return level.distance_to(turned, x)


# ---- from rings to pieces --------------------------------------------------------------------------------


def base(name: str) -> str:
    """'side_lower' -> 'side': what an edge is, without where it lies."""
    return name.split("_")[0]


def renamed(ring: Ring, stem: str, names: Sequence[str]) -> Ring:
    """The parts whose names begin with the stem, in the ring's order, named anew: alone just by the stem."""
    own = [i for i, part in enumerate(ring) if base(part.name) == stem and not part.mouth]
    given = {i: stem if len(own) == 1 else f"{stem}_{names[n]}" for n, i in enumerate(own)}
    return tuple(replace(part, name=given.get(i, part.name)) for i, part in enumerate(ring))


def edges_of(
    ring: Ring, kinds: Mapping[str, tuple[EdgeKind, float]], pointed: bool = False
) -> tuple[Edge, ...]:
    """Edges with kind and allowance by what they are; a dart's mouth takes them from the edge before it."""
    edges: list[Edge] = []
    for part in ring:
        kind, allowance = (
            (edges[-1].kind, edges[-1].allowance)
            if part.mouth
            else kinds.get(part.name) or kinds[base(part.name)]
        )
        edges.append(
            Edge(part.name, part.curve, kind, allowance, pointed=pointed and part.name.startswith("neck"))
        )
    return tuple(edges)


def names_of(ring: Ring, stem: str) -> tuple[str, ...]:
    """Names of the parts that are this (without mouths), in the ring's order."""
    return tuple(part.name for part in ring if base(part.name) == stem and not part.mouth)


def piece(
    name: str,
    title: str,
    edges: tuple[Edge, ...],
    marks: tuple[Mark, ...] = (),
    darts: tuple[Dart, ...] = (),
    cutting: Cutting = "on fold",
    *,
    interfaced: bool = False,
    grain_at: float = GRAIN_AT,
) -> Piece:
    """A piece with its grain parallel to the centre, at most `grain_at` from it. [cm]"""
    return Piece(
        name,
        title,
        edges,
        grain_of(edges, grain_at),
        cutting,
        2 if cutting == "pair" else 1,
        darts=darts,
        marks=marks,
        interfaced=interfaced,
    )


def grain_of(edges: Sequence[Edge], grain_at: float) -> tuple[Point, Point]:
    """An arrow beside the centre line, from the lower edge to where the neck meets the centre; shorter where
    the lower edge, that of a facing of a deep neck, rises so far by then."""
    neck = next(edge.curve for edge in reversed(edges) if base(edge.name) == "neck")
    low, high = edges[0].curve.start.y, neck.end.y
    length = high - low
    x = min(grain_at, GRAIN_IN * length)
    start, end = low + GRAIN_LOW * length, high - GRAIN_FREE * length
    risen = max((found.point.y for found in crossings_at_x(edges[0].curve, x, tolerance=SOLVE)), default=low)
    if risen > start:
        (top,) = crossings_at_x(neck, x, tolerance=SOLVE)
        return Point(x, risen), Point(x, top.point.y - GRAIN_CLEAR)
    return Point(x, start), Point(x, end)


# ---- levels ------------------------------------------------------------------------------------------------


def across(name: str, ring: Ring, y: float) -> Mark:
    """A level line from the centre to the side."""
    for part in ring:
        low, high = sorted((part.curve.start.y, part.curve.end.y))
        if base(part.name) == "side" and not part.mouth and low - SOLVE <= y <= high + SOLVE:
            held = min(max(y, low), high)
            return Mark(name, "level", line(Point(0.0, y), level.crossing(part.curve, held)))
    raise AssertionError(f"no side at {y}")


def over_dart(name: str, y: float, dart: Dart, end: Point) -> Mark:
    """A level line over a dart that runs down to the side: it goes on, turned with the dart, to `end`."""
    first, second = dart.first_leg, dart.second_leg
    share = (y - first.y) / (dart.tip.y - first.y)
    points = [Point(0.0, y), first.between(dart.tip, share), second.between(dart.tip, share), end]
    return Mark(name, "level", polyline(points))
