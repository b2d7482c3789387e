"""A dart in the front waist of trousers: cloth taken out over the belly, so that less has to be gathered.

The waist is drawn with the dart shut, as one even line from the centre to the side, and the side part is turned
back about the tip to open it. So both legs are equally long and the sewn waist has no corner. The legs stand
square to the waist: sewn straight on through a casing, the dart is its own mirror image there and the casing
folds down flat behind it.

Drawn in a half: centre front on the left, side at +x, natural waist y = 0, y up, cm; `spread` in degrees.
Source: rules of the trade I5 (front dart of trousers 2 x 10, not over 2.5); house rule, 2026-11. Not sewn yet.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from clothwise.curve import Curve, Point, Vector, line, nearest
from clothwise.errors import ChoiceError, DraftError
from clothwise.garment import Dart, Edge
from clothwise.tolerance import SHORTEST_EDGE

WIDEST, NARROWEST = 2.0, 1.0  # cm taken out by each dart: more dents the cloth, less is not worth a dart
LONGEST = 10.0  # cm
LENGTH_TO_HIP = 0.5  # of the way from the waist to the hip: it ends over the belly, clear of the hip line
CASING_BOW = 0.05  # casing depth over radius: the sewn waist must still fold down flat (rule: up to 0.06)

DART, MOUTH = "front_dart", "dart_mouth"
AT_SIDE, AT_CENTRE = "waist_side", "waist_centre"


@dataclass(frozen=True, slots=True)
class DartSize:
    """length: from the waist down to the tip [cm]; spread: the angle between its legs [degrees]"""

    length: float
    spread_deg: float

    @property
    def intake(self) -> float:
        """What it takes out of the waist. [cm]"""
        return 2 * self.length * math.sin(math.radians(self.spread_deg / 2))


@dataclass(frozen=True, slots=True)
class DartedWaist:
    """shut: the sewn waist from the centre to the side; inner, outer: its two parts as they lie when open."""

    shut: Curve
    inner: Curve
    outer: Curve
    tip: Point

    def edges(self, allowance: float) -> tuple[Edge, ...]:
        """In place of the waist edge, from the side to the centre."""
        mouth = line(self.outer.start, self.inner.end)
        return (
            Edge(AT_SIDE, self.outer.reversed(), "casing", allowance),
            Edge(MOUTH, mouth, "casing", allowance),
            Edge(AT_CENTRE, self.inner.reversed(), "casing", allowance),
        )

    @property
    def dart(self) -> Dart:
        return Dart(DART, self.tip, self.outer.start, self.inner.end, MOUTH)


def size_for(height: float, quarter: float, casing: float, slope_deg: float, spare: float) -> DartSize:
    """The dart of one front. ChoiceError when there is nothing for it to take out. [cm]

    height   of the waist above the hip line
    quarter  width of the front at the waist; slope_deg: the waist climbs so steeply at the side
    casing   depth turned down at the waist
    spare    by which half the waist edge can be made smaller and still pass the hips
    """
    length = min(LONGEST, LENGTH_TO_HIP * height)
    foldable = math.degrees(CASING_BOW / casing * quarter) - slope_deg
    widest = min(WIDEST, 2 * length * math.sin(math.radians(max(foldable, 0.0) / 2)), spare)
    if widest < NARROWEST:
        if spare < NARROWEST:
            reason, mend = "with more, the waist would not pass the body", "more hip ease"
        else:
            reason, mend = "with more, the casing would not fold flat", "a narrower elastic"
        raise ChoiceError(
            f"Front darts can take out only {max(widest, 0.0):.1f} cm each: {reason}.",
            where="choice 'front_darts'",
            mend=f"Choose no darts, or {mend}.",
        )
    return DartSize(length, math.degrees(2 * math.asin(widest / (2 * length))))


def tip_of(size: DartSize, crease: float, waist: float) -> Point:
    """On the crease, below a waist of that height at the side."""
    return Point(crease, waist - size.length)


def shut_side(size: DartSize, tip: Point, side: Point) -> Point:
    """Where the side of the waist comes to lie when the dart is sewn."""
    return side.rotated(tip, size.spread_deg)


def darted_waist(
    size: DartSize,
    tip: Point,
    centre: Point,
    along: Vector,
    side: Point,
    slope: Vector,
    drawn: Callable[[Point, Vector, Point, Vector], Curve],
) -> DartedWaist:
    """The waist from the centre, which it leaves `along`, to the side, where it arrives along `slope`.

    drawn  how the sewn waist is drawn between them
    """
    shut = drawn(centre, along, shut_side(size, tip, side), slope.turned(size.spread_deg))
    foot = nearest(shut, tip)  # the legs stand square to the waist
    if min(foot.along, shut.length() - foot.along) < SHORTEST_EDGE:
        raise DraftError(
            "The front dart does not meet the waist between centre and side.",
            where="front darts of the trousers",
            mend="Measure waist to hip and body rise again, or choose no darts.",
        )
    inner, outer = shut.split(foot.along)
    return DartedWaist(shut, inner, outer.rotated(tip, -size.spread_deg), tip)
