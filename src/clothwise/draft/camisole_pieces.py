"""The pieces of a camisole: front and back cut whole, straps, and what finishes the upper edges.

Cut on the bias, single and never on the fold, so front and back are drawn whole with the centre on x = 0; the
front seen from outside, the wearer's left at +x; the back seen from outside, her left at -x. Lengths in cm.
Source: house rule, 2026-11; rules of the trade D (bindings).
"""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.curve import LEFT, UP, Curve, Point, Vector, line, sweep
from clothwise.draft import binding, facing, level
from clothwise.draft.camisole_parts import BACK_DIP, BOUND, FACED, SIDE_SEAM, SPARE, Drawn, side_way, turned
from clothwise.draft.darts import Part, Ring
from clothwise.garment import Dart, Edge, Mark, Piece
from clothwise.garment.piece import EdgeKind

FRONT, BACK, STRAP = "front", "back", "strap"
FRONT_FACING, BACK_FACING = "front_facing", "back_facing"
NECK_BINDING, TOP_BINDING = "neck_binding", "top_binding"
STRAP_SEAM = 0.6  # cm allowance of the strap: turned inside it
FACING_AT_CENTRE, FACING_AT_SIDE = 5.0, 4.0  # cm wide
FACING_CLEAR = 0.6  # cm between the facing's edge and the dart
STRAP_CLEAR = 0.4  # cm beside the strap's end, in the peak
BELOW_TOP = 0.5  # cm: the strap is sewn on below the back's edge
GRAIN_FREE = 0.15  # of the length left at both ends of the grain arrow


def front(found: Drawn, allowance: float, turn: float, strap: float) -> Piece:
    """`allowance` of the upper edges, `turn` of the hem; `strap`: width of the strap. [cm]"""
    left = found.front
    kinds: dict[str, tuple[EdgeKind, float]] = {
        "hem": ("hem", turn),
        "side": ("seam", SIDE_SEAM),
        "armhole": ("seam", allowance),
        "neck": ("seam", allowance),
    }
    edges = _whole(left, kinds)
    darts = tuple(d for dart in found.darts for d in (_named("left", dart), _mirror(_named("right", dart))))
    y = found.frame.bust_level
    place = _peak_place(found, strap)
    marks = (
        _across("bust", y, found.frame.side_front),
        *_levels(found.front, found),
        Mark("left_strap_place", "placement", place),
        Mark("right_strap_place", "placement", place.mirrored(Point(0.0, 0.0), UP)),
    )
    return _bias(FRONT, "Front", edges, found.front[-1].curve.end.y, -found.depth, darts, marks)


def back(found: Drawn, allowance: float, turn: float, strap: float) -> Piece:
    kinds: dict[str, tuple[EdgeKind, float]] = {
        "hem": ("hem", turn),
        "side": ("seam", SIDE_SEAM),
        "top": ("seam", allowance),
    }
    edges = _whole(found.back, kinds, left="right", right="left")
    top = found.back[-1].curve
    y = top.end.y - BELOW_TOP
    marks = []
    for side, sign in (("left", -1), ("right", 1)):
        at = Point(sign * found.back_strap, y)
        marks.append(Mark(f"{side}_strap_place", "placement", line(at.left(strap / 2), at.right(strap / 2))))
    levels = (_across("bust", found.frame.bust_level, found.frame.side_back), *_levels(found.back, found))
    return _bias(BACK, "Back", edges, top.end.y, -found.depth, (), (*levels, *marks))


def _whole(
    half: Ring, kinds: dict[str, tuple[EdgeKind, float]], left: str = "left", right: str = "right"
) -> tuple[Edge, ...]:
    """Both halves as one outline, anticlockwise from the hem. What meets itself at the centre is one edge."""
    other = turned(half)
    first, last = half[0], half[-1]
    base = Edge(first.name, other[-1].curve.then(first.curve), *kinds[first.name])
    one = [_edge(part, left, kinds) for part in half[1:-1]]
    two = [_edge(part, right, kinds) for part in other[1:-1]]
    pointed = abs(last.curve.end_tangent.y) > abs(last.curve.end_tangent.x) * 0.05
    if pointed:
        tops = [_edge(last, left, kinds), _edge(other[0], right, kinds)]
    else:
        tops = [Edge(last.name, last.curve.then(other[0].curve), *kinds[last.name])]
    return (base, *one, *tops, *two)


def _edge(part: Part, side: str, kinds: dict[str, tuple[EdgeKind, float]]) -> Edge:
    kind, allowance = kinds["side" if part.mouth else part.name.split("_")[0]]
    return Edge(f"{side}_{part.name}", part.curve, kind, allowance)


def _named(side: str, dart: Dart) -> Dart:
    return replace(dart, name=f"{side}_{dart.name}", edge=f"{side}_{dart.edge}")


def _mirror(dart: Dart) -> Dart:
    over = [p.mirrored(Point(0.0, 0.0), UP) for p in (dart.tip, dart.second_leg, dart.first_leg)]
    return replace(dart, tip=over[0], first_leg=over[1], second_leg=over[2])


def _across(name: str, y: float, x: float) -> Mark:
    return Mark(name, "level", line(Point(-x, y), Point(x, y)))


def _levels(half: Ring, found: Drawn) -> tuple[Mark, ...]:
    side = next(part.curve for part in half if part.name in ("side", "side_lower"))
    marks = [
        _across(name, y, level.crossing(side, y).x) for name, y in (("waist", 0.0), ("hip", -found.hip_depth))
    ]
    y = -found.hip_depth / 2
    adjust = _across("adjust_length", y, level.crossing(side, y).x)
    return (*marks, replace(adjust, kind="adjust"))


def _peak_place(found: Drawn, strap: float) -> Curve:
    """Across the left peak, so far below it that the strap's end has room."""
    neck, edge = found.front[-1].curve, found.front[-2].curve
    one, other = neck.start_tangent, edge.end_tangent.back()
    half = math.acos(max(min(one.dot(other), 1.0), -1.0)) / 2
    down = one.plus(other).unit()
    at = found.peak.go(down, (strap / 2 + STRAP_CLEAR) / math.tan(half))
    return line(at.go(down.right(), strap / 2), at.go(down.right(), -strap / 2))


def _bias(
    name: str,
    title: str,
    edges: tuple[Edge, ...],
    top: float,
    low: float,
    darts: tuple[Dart, ...] = (),
    marks: tuple[Mark, ...] = (),
) -> Piece:
    free = GRAIN_FREE * (top - low)
    grain = (Point(0.0, low + free), Point(0.0, top - free))
    return Piece(name, title, edges, grain, "single", 1, darts=darts, marks=marks, bias=True)


# ---- facings -----------------------------------------------------------------------------------------


def facings(found: Drawn) -> tuple[Piece, Piece]:
    """Front and back facing, as the upper parts of the pieces they face."""
    at_side = FACING_AT_SIDE
    if found.frame.bust:
        at_side = min(at_side, found.frame.front.underarm.distance(found.frame.bust.upper_leg) - FACING_CLEAR)
    kinds: dict[str, tuple[EdgeKind, float]] = {
        "outer": ("raw", 0.0),
        "side": ("seam", SIDE_SEAM),
        "armhole": ("seam", FACED),
        "neck": ("seam", FACED),
        "top": ("seam", FACED),
    }
    under, way = found.frame.front.underarm, side_way(found.frame)
    side = line(under.go(way, at_side), under)
    front_ring = (_front_outer(found, side.start, way.right()), Part("side", side), *found.front[-2:])
    under = found.back[-1].curve.start
    back_side = line(under.down(at_side), under)
    inward = LEFT.turned(_falls_deg(found))
    centre = Point(0.0, under.y - BACK_DIP)
    back_ring = (_outer(back_side.start, inward, centre), Part("side", back_side), found.back[-1])
    made = []
    for name, title, ring, names in (
        (FRONT_FACING, "Front facing", front_ring, ("left", "right")),
        (BACK_FACING, "Back facing", back_ring, ("right", "left")),
    ):
        low, top = ring[0].curve.start.y, ring[-1].curve.end.y
        made.append(_bias(name, title, _whole(ring, kinds, *names), top, low))
    return made[0], made[1]


def _falls_deg(found: Drawn) -> float:
    """How much the dart falls from the bust point to the side; 0 without one."""
    bust = found.frame.bust
    return -bust.point.to(bust.lower_leg).angle_deg if bust else 0.0


def _front_outer(found: Drawn, side: Point, inward: Vector) -> Part:
    """The facing's lower edge; where there is a dart it runs beside its upper leg and past the tip."""
    bust, centre = found.frame.bust, found.front[-1].curve.end
    if bust is None:
        return _outer(side, inward, centre)
    along = bust.upper_leg.to(bust.point).unit()
    tip = found.darts[0].tip
    past = side.go(along, side.to(tip).dot(along) + FACING_CLEAR)
    low = Point(0.0, min(centre.y - FACING_AT_CENTRE, past.y - FACING_CLEAR))
    return Part("outer", line(side, past).then(sweep(past, along, low, LEFT)).reversed())


def _outer(side: Point, inward: Vector, centre: Point) -> Part:
    curve = facing.all_in_one_outer(side, inward, centre, FACING_AT_CENTRE)
    return Part("outer", curve.reversed())


# ---- bindings and straps -----------------------------------------------------------------------------


def bindings(found: Drawn) -> tuple[Piece, Piece]:
    """One for the neck between the peaks, one from peak to peak round the back."""
    neck = 2 * found.front[-1].curve.length()
    around = 2 * (found.front[-2].curve.length() + found.back[-1].curve.length())
    inner = binding.binding(NECK_BINDING, "Neck binding", neck, BOUND)
    ends = tuple(
        replace(edge, kind="raw", allowance=0.0) if edge.name in ("start", "end") else edge
        for edge in inner.edges
    )
    return replace(inner, edges=ends), binding.binding(TOP_BINDING, "Upper binding", around, BOUND)


def strap(found: Drawn, width: float) -> Piece:
    """A strap, to be sewn into a tube: folded along the middle it is `width` wide. [cm]

    The fold is drawn at one end and the grain at the other, so that the words find room on so narrow a piece.
    """
    length = found.strap + SPARE
    right, top, middle = Point(length, 0.0), Point(0.0, 2 * width), Point(0.0, width)
    return Piece(
        STRAP,
        "Strap",
        edges=(
            Edge("outer", line(Point(0.0, 0.0), right), "seam", STRAP_SEAM),
            Edge("back_end", line(right, right.up(width)), "seam", STRAP_SEAM),
            Edge("back_end_inside", line(right.up(width), right.up(2 * width)), "seam", STRAP_SEAM),
            Edge("inner", line(right.up(2 * width), top), "seam", STRAP_SEAM),
            Edge("front_end_inside", line(top, middle), "seam", STRAP_SEAM),
            Edge("front_end", line(middle, Point(0.0, 0.0)), "seam", STRAP_SEAM),
        ),
        grain=(Point(0.74 * length, width), Point(0.98 * length, width)),
        cutting="single",
        copies=2,
        bias=True,
        marks=(Mark("fold", "fold line", line(middle, Point(0.12 * length, width))),),
    )
