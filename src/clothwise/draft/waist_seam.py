"""A top parted at the waist: bodice and skirt with their waist darts, both waists running smoothly once sewn.

A half is a ring, its centre on x = 0 and its waist at y = 0. Each dart is given by its point and by where its
legs would cross a straight waist; the legs are run on past it until the waist between them meets each square,
and what that lengthens the waist is taken up by the darts again, so that bodice and skirt stay equally long.
The end at the side stays where it is; the centre moves a little. Lengths in cm, y up.

Source: drafting method, rule 11 (waist pieces meet fold, side and dart legs square; the lengthening fed back).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwise.curve import RIGHT, Curve, Point, Vector, line, sweep
from clothwise.draft import level
from clothwise.draft.darts import Part, Ring, merged, sewn
from clothwise.draft.top_body import base
from clothwise.garment import Dart
from clothwise.tolerance import SAME_POINT

WAIST = "waist"
ROUNDS = 40  # at most, in which the darts take up what truing lengthens: 2 to 4, more where they are short
HALF = 0.5  # of its change of slope an even bow rises


@dataclass(frozen=True, slots=True)
class Wedge:
    """A dart at the waist: the point its legs run from, its middle and width on the straight waist. [cm]"""

    apex: Point
    at: float
    width: float

    def leg(self, side: float, longer: float) -> Point:
        """Where a leg ends, `side` -1 towards the centre or 1, run on so far past the straight waist."""
        middle = self.apex.distance(Point(self.at, 0.0))
        way = self.apex.to(Point(self.at + side * self.width / 2, 0.0)).unit()
        return self.apex.go(way, middle + longer)

    def square(self, side: float) -> Vector:
        """Along the waist, away from the centre, square to that leg."""
        way = self.apex.to(Point(self.at + side * self.width / 2, 0.0)).unit()
        return way.left() if way.left().x > 0 else way.right()


@dataclass(frozen=True, slots=True)
class Waist:
    """One waist from the centre to the side: its parts, and between them the mouths of the darts."""

    parts: tuple[Curve, ...]

    @property
    def length(self) -> float:
        return sum(part.length() for part in self.parts)


def trued(
    wedges: Sequence[Wedge], side: Point, square: Vector, length: float, least: float = 0.0
) -> tuple[Waist, tuple[Wedge, ...]]:
    """The waist of that length, darts sewn, which meets the side there, square to it; and its darts, each so
    wide at least. [cm]"""
    widened = tuple(wedges)
    for _ in range(ROUNDS):
        waist = _drawn(widened, side, square)
        if not widened:
            break
        more = (waist.length - length) / len(widened)
        if abs(more) <= SAME_POINT:
            break
        widened = tuple(replace(wedge, width=max(wedge.width + more, least)) for wedge in widened)
    return _drawn(widened, side, square), widened


def _drawn(wedges: Sequence[Wedge], side: Point, square: Vector) -> Waist:
    if not wedges:
        return Waist((sweep(Point(0.0, 0.0), RIGHT, side, square),))
    last = wedges[-1]
    straight, way = last.leg(1.0, 0.0), last.apex.to(last.leg(1.0, 0.0)).unit()
    low = side.y - _rise(last.square(1.0), square) * (side.x - straight.x)
    longer = (low - straight.y) / way.y
    first = wedges[0].leg(-1.0, longer)
    climbs = wedges[0].square(-1.0)
    centre = Point(0.0, first.y - HALF * climbs.y / climbs.x * first.x)
    parts = [sweep(centre, RIGHT, first, climbs)]
    for one, other in pairwise(wedges):
        parts.append(sweep(one.leg(1.0, longer), one.square(1.0), other.leg(-1.0, longer), other.square(-1.0)))
    parts.append(sweep(last.leg(1.0, longer), last.square(1.0), side, square))
    return Waist(tuple(parts))


def _rise(one: Vector, other: Vector) -> float:
    """How far an even bow from one direction to another rises for each cm across."""
    return HALF * (one.y / one.x + other.y / other.x)


# ---- rings ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Parted:
    """Bodice and skirt of one half, and their darts at the waist."""

    bodice: Ring
    skirt: Ring
    bodice_wedges: tuple[Wedge, ...]
    skirt_wedges: tuple[Wedge, ...]


def parted(
    ring: Ring, above: Sequence[Wedge], below: Sequence[Wedge], length: float, least: float = 0.0
) -> Parted:
    """The ring cut at its waist; `length` of the half waist, darts sewn. Without darts a skirt is as long there
    as it comes, and the bodice follows it. [cm]

    above, below  the darts of bodice and skirt, from the centre outwards
    least         width of a dart of the bodice: negative where a bust dart opens it yet
    """
    i = next(n for n, part in enumerate(ring) if _holds_waist(part))
    low, high = ring[i].curve.split(level.distance_to(ring[i].curve, 0.0))
    side, square = high.start, high.start_tangent.right()
    lower, low_wedges = trued(below, side, square, length)
    upper, wedges = trued(above, side, square, length if below else lower.length, least)
    ends = ring[_centre_at(ring) :]
    between = ring[i + 1 : _centre_at(ring)]
    bodice = (
        *_waist_parts(upper),
        Part(ring[i].name, high),
        *between,
        *_above(ends, upper.parts[0].start.y),
    )
    skirt = (
        *ring[:i],
        Part("side", low),
        *_turned(_waist_parts(lower)),
        *_below(ends, lower.parts[0].start.y),
    )
    return Parted(bodice, skirt, wedges, low_wedges)


def _holds_waist(part: Part) -> bool:
    ends = part.curve.start.y, part.curve.end.y
    return base(part.name) == "side" and not part.mouth and min(ends) < 0 < max(ends)


def _centre_at(ring: Ring) -> int:
    """Where the centre begins: after the neck."""
    return max(n for n, part in enumerate(ring) if base(part.name) == "neck") + 1


def _waist_parts(waist: Waist) -> Ring:
    """From the centre to the side, mouths between them."""
    n = len(waist.parts)
    found: list[Part] = []
    for i, curve in enumerate(waist.parts, 1):
        found.append(Part(WAIST if n == 1 else f"{WAIST}_{i}", curve))
        if i < n:
            mouth = line(curve.end, waist.parts[i].start) if _open(waist, i) else None
            name = f"waist_dart{'' if n == 2 else f'_{i}'}_mouth"
            found.append(Part(name, mouth or curve, mouth=True))
    return tuple(found)


def _open(waist: Waist, i: int) -> bool:
    return waist.parts[i - 1].end.distance(waist.parts[i].start) > SAME_POINT


def _turned(ring: Ring) -> Ring:
    return tuple(replace(part, curve=part.curve.reversed()) for part in reversed(ring))


def _above(centre: Ring, y: float) -> Ring:
    """The parts of the centre, downwards, as far as that height."""
    kept: list[Part] = []
    for part in centre:
        if part.curve.end.y >= y:
            kept.append(part)
        else:
            kept.append(replace(part, curve=line(part.curve.start, Point(part.curve.start.x, y))))
            break
    return tuple(kept)


def _below(centre: Ring, y: float) -> Ring:
    kept: list[Part] = []
    for part in centre:
        if part.curve.start.y <= y:
            kept.append(part)
        elif part.curve.end.y < y:
            kept.append(replace(part, curve=line(Point(part.curve.end.x, y), part.curve.end)))
    return tuple(kept)


def darts_of(ring: Ring, wedges: Sequence[Wedge]) -> tuple[Dart, ...]:
    """The darts at the mouths of a waist, in the ring's order."""
    mouths = [part for part in ring if part.mouth and part.name.startswith("waist_dart")]
    return tuple(
        Dart(part.name.removesuffix("_mouth"), wedge.apex, part.curve.start, part.curve.end, part.name)
        for part, wedge in zip(mouths, wedges, strict=True)
    )


def with_bust(ring: Ring, bust_mouth: str, about: Point, angle_deg: float) -> tuple[Ring, tuple[Dart, ...]]:
    """The bodice with its bust dart turned from the side into its waist darts, an even share into each."""
    mouths = [n for n, part in enumerate(ring) if part.mouth and part.name.startswith("waist_dart")]
    old = next(n for n, part in enumerate(ring) if part.name == bust_mouth)
    turned: list[Part] = list(ring[: mouths[0]])
    for count, here in enumerate(mouths, 1):
        until = mouths[count] if count < len(mouths) else old
        share = angle_deg * count / len(mouths)
        moved = [replace(p, curve=p.curve.rotated(about, share)) for p in ring[here + 1 : until]]
        mouth = replace(ring[here], curve=line(turned[-1].curve.end, moved[0].curve.start))
        turned += [mouth, *moved]
    whole = merged((*turned, *ring[old + 1 :]), "side_lower", "side_upper", "side")
    return sewn(whole, about)
