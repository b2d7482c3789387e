"""A waist with darts, drawn sewn shut first and then opened, so that it runs smoothly once the darts are sewn.

Sewn shut, the waist of half a front or back is one even bow from the centre, which it leaves square, to the
side seam. Each dart is opened by turning what lies beyond it about the dart's tip. So both legs are equally
long, the waist stands square on them, and its length is exact by construction.

Drawn from the centre at (0, 0) to the right, y up, cm.

    theta  how far the closed waist turns from the centre to the side [radians]: the slope of the side and the
           angles of all darts
    X, Y   where the closed waist ends

Source: drafting method, rule 11 (waist pieces meet side and dart legs square; the lengthening fed back);
house rule, 2026-11.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.curve import RIGHT, Cubic, Curve, Point, heading
from clothwise.garment import Dart
from clothwise.tolerance import PARAMETER, SOLVE

LOOKS = 12  # more than a length ever needs to settle (3-5)
START = Point(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Wedge:
    """A dart to be opened. at: share of the waist from the centre; width of its mouth and length of its legs
    [cm]."""

    at: float
    width: float
    length: float

    @property
    def angle(self) -> float:
        """Between its legs. [radians]"""
        return 2 * math.asin(self.width / 2 / self.length)


@dataclass(frozen=True, slots=True)
class Shaped:
    """A waist: as it is when sewn, and on the flat piece in parts with the darts between them."""

    closed: Curve
    parts: tuple[Curve, ...]
    darts: tuple[Dart, ...]

    @property
    def length(self) -> float:
        """When sewn. [cm]"""
        return self.closed.length()

    @property
    def end(self) -> Point:
        """Where it meets the side, darts open."""
        return self.parts[-1].end


def shaped(length: float, side_slope: float, wedges: Sequence[Wedge], raised: float = 0.0) -> Shaped:
    """A waist of that length when sewn, which meets the side climbing at that slope. [cm, radians]

    raised  how much higher the centre lies than on an even bow
    """
    closed = closed_waist(length, side_slope + sum(wedge.angle for wedge in wedges), raised)
    parts: list[Curve] = []
    darts: list[Dart] = []
    rest, done = closed, 0.0
    for number, wedge in enumerate(wedges, 1):
        part, rest = rest.split(wedge.at * length - done)
        done = wedge.at * length
        tip = part.end.go(part.end_tangent.right(), wedge.length)
        rest = rest.rotated(tip, -math.degrees(wedge.angle))
        parts.append(part)
        darts.append(Dart(f"dart_{number}", tip, part.end, rest.start, f"dart_{number}_mouth"))
    return Shaped(closed, (*parts, rest), tuple(darts))


def closed_waist(length: float, turn: float, raised: float = 0.0) -> Curve:
    """One bow of that length from the centre, level there, turning up by so much. [cm, radians]"""
    x = length * (math.sin(turn) / turn if abs(turn) > PARAMETER else 1.0)
    for _ in range(LOOKS):
        curve = bow(x, turn, raised)
        off = length - curve.length()
        if abs(off) <= SOLVE:
            break
        x += off * x / length
    return curve


def undarted(x: float, side_slope: float, raised: float = 0.0) -> Shaped:
    """A waist without darts that ends x to the right of the centre. [cm, radians]"""
    curve = bow(x, side_slope, raised)
    return Shaped(curve, (curve,), ())


def bow(x: float, turn: float, raised: float) -> Curve:
    """Handles as of a circle's arc of that turn; the bow is even where the centre is not raised."""
    end = Point(x, x * math.tan(turn / 2) - raised)
    share = 4 / 3 * math.tan(turn / 4) / (2 * math.sin(turn / 2)) if abs(turn) > PARAMETER else 1 / 3
    handle = share * START.distance(end)
    return Curve((Cubic(START, START.go(RIGHT, handle), end.go(heading(math.degrees(turn)), -handle), end),))
