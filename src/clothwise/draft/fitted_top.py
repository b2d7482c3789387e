"""The top of a fitted skirt: what side seam and darts take between waist and hip, and the waist they leave.

A quarter of the skirt is a slice of a cone that is as wide as asked at the hip and too wide at the waist. The
side seam bows in and takes part of it, darts take the rest; the side is one line for front and back. The waist
is drawn with its darts sewn shut and opened (`darted_waist`), their width solved so that it ends at the side.

Source: drafting method, skirts (A-line: side .38 of a quarter, 40 % of the rest in front); rules of the trade
I4 (front dart <= 2.5, back <= 3, side <= 3-4, back darts longer); house rule, 2026-11, where nothing is said.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from clothwise.curve import Curve, Point, sweep
from clothwise.draft.cone import Slice
from clothwise.draft.darted_waist import Shaped, Wedge, shaped, undarted
from clothwise.draft.equal import trued
from clothwise.tolerance import SOLVE

SIDE_SHARE = 0.38  # of the surplus of a quarter leaves at its side seam
SIDE_ALONE = 1.2  # cm: up to this the side takes all, no dart is worth sewing
SIDE_MOST = 3.0  # cm (rule: 3-4): a rounder side seam stands off at the hip
LEAST_DART = 0.8  # cm: a narrower dart is left to the side
FRONT_SHARE = 0.40  # of what darts take: the belly is rounder than the seat is hollow
FRONT_MOST, BACK_MOST = 2.5, 3.0  # cm (rule): what is wider becomes two or three darts
MOST_DARTS = 3  # each quarter
FRONT_LENGTH, BACK_LENGTH = 0.45, 0.62  # of waist to hip: 9 and 12.5 cm, back longer (rule)
SHORTER_OUTWARDS = 0.12  # of its length each dart is shorter than the one before it: the hip comes higher there
DARTS_AT: dict[int, tuple[float, ...]] = {
    0: (),
    1: (0.46,),
    2: (0.36, 0.66),
    3: (0.28, 0.52, 0.76),
}  # shares of the sewn waist from the centre
BOW_IN = 1.5  # the side seam's lean at the waist over its mean lean: round at the hip, straight at the top
ROUNDS = 6  # in which the waist's height at the side settles (3)
RAISED_MOST = 12.0  # cm: the end of an even bow lies so high at most, and what evens its darts is in it
RAISED_ROUNDS = 2  # in which a raised centre settles to less than a millimetre
EVEN = 1 / 3  # of the chord: handles that spread a slight bow most evenly

Darts = Callable[[float], tuple[Wedge, ...]]


@dataclass(frozen=True, slots=True)
class Frame:
    """What body and choices fix: a quarter of the cone, W, d, the slit, what side and darts take. [cm]"""

    cone: Slice
    waist: float
    hip_depth: float
    side: float = 0.0
    front: float = 0.0
    back: float = 0.0
    slit: float = 0.0

    @property
    def hip_girth(self) -> float:
        return 4 * self.cone.width(self.hip_depth)

    @property
    def hem_girth(self) -> float:
        return 4 * self.cone.width(self.cone.length)


@dataclass(frozen=True, slots=True)
class Side:
    """The side seam above the hip, running up from it; slope: of the waist where it arrives. [radians]"""

    curve: Curve
    slope: float

    @property
    def top(self) -> Point:
        return self.curve.end


def top_of(
    frame: Frame, front_raised: float, back_raised: float, side_raised: float = 0.0
) -> tuple[Side, Shaped, Shaped]:
    """The side seam above the hip and both waists, sewn together as long as the waist edge.

    The top of the side seam is lifted until the centre front, if not raised, lies level with the natural waist;
    raised itself, it leaves the centres where they were.
    """
    front_darts, back_darts = _darts(frame)
    front_length = frame.cone.outer - frame.side - frame.front
    lift = 0.0
    for _ in range(ROUNDS):
        side = _side(frame, frame.side + _more(frame, lift, front_raised, back_raised), lift)
        high = side.top.y - _waist(side, front_length, front_darts, 0.0).end.y
        if abs(high) <= SOLVE:
            break
        lift -= high
    front = _raised(lambda raised: _waist(side, front_length, front_darts, raised), front_raised)
    back_length = frame.waist / 2 - front.length
    back = _raised(lambda raised: _waist(side, back_length, back_darts, raised), back_raised)
    if not side_raised:
        return side, front, back
    return _over_high_hip(frame, lift, side_raised, side.top.y - front.end.y, side.top.y - back.end.y)


def _over_high_hip(
    frame: Frame, lift: float, raised: float, front_at: float, back_at: float
) -> tuple[Side, Shaped, Shaped]:
    """The top with its side lifted so much above a level waist, its centres at the heights given. [cm]"""
    darts = _darts(frame)
    front_raised, back_raised = front_at - raised, back_at - raised
    for _ in range(ROUNDS):
        side = _side(frame, frame.side + _more(frame, lift + raised, front_raised, back_raised), lift + raised)

        def front(by: float, side: Side = side) -> Shaped:
            return _waist(side, frame.cone.outer - frame.side - frame.front, darts[0], by)

        was = front_raised, back_raised
        front_raised = _centred(front, side.top.y - front_at)
        sewn_front = front(front_raised)

        def back(by: float, side: Side = side, rest: float = frame.waist / 2 - sewn_front.length) -> Shaped:
            return _waist(side, rest, darts[1], by)

        back_raised = _centred(back, side.top.y - back_at)
        if abs(front_raised - was[0]) + abs(back_raised - was[1]) <= SOLVE:
            break
    return side, sewn_front, back(back_raised)


def _centred(waist: Callable[[float], Shaped], end: float) -> float:
    """How much a centre is raised on an even bow for the waist to end so much higher than it. [cm]"""
    return trued(lambda raised: waist(raised).end.y, end, -1.0, RAISED_MOST)


def _more(frame: Frame, lift: float, front_raised: float, back_raised: float) -> float:
    """How much more than planned the side takes: without any dart it alone makes the waist fit. [cm]"""
    if frame.back:
        return 0.0

    def around(more: float) -> float:
        side = _side(frame, frame.side + more, lift)
        return sum(undarted(side.top.x, side.slope, raised).length for raised in (front_raised, back_raised))

    return trued(around, frame.waist / 2, -2.0, SIDE_MOST)


def _raised(waist: Callable[[float], Shaped], wanted: float) -> Shaped:
    """The waist whose centre lies so much higher above its side: what the opened darts make of it is evened."""
    shape = waist(wanted)
    if not wanted or not shape.darts:
        return shape
    level_end, raised = waist(0.0).end.y, wanted
    for _ in range(RAISED_ROUNDS):
        raised *= wanted / (level_end - shape.end.y)
        shape = waist(raised)
    return shape


def _waist(side: Side, length: float, darts: Darts, raised: float) -> Shaped:
    """A waist of that length, its darts made so wide that it ends at the side seam; without darts it is as long
    as the side seam leaves it."""
    if not darts(0.0):
        return undarted(side.top.x, side.slope, raised)

    def reach(wider: float) -> float:
        return shaped(length, side.slope, darts(wider), raised).end.x

    wider = trued(reach, side.top.x, 1.0, sum(wedge.width for wedge in darts(0.0)))
    return shaped(length, side.slope, darts(wider), raised)


def _side(frame: Frame, take: float, lift: float) -> Side:
    """From the hip up: it leaves along the cone and bows in by `take` at the top."""
    cone, depth = frame.cone, frame.hip_depth
    hip, top = cone.at(cone.outer, depth), cone.at(cone.outer, 0.0)
    up = hip.to(top).unit()
    lean = BOW_IN * take / (depth + lift)
    end = top.go(up, lift).go(up.left(), take)
    return Side(sweep(hip, up, end, up.turned(math.degrees(lean)), EVEN, EVEN), cone.angle + lean)


def shares(surplus: float) -> tuple[float, float, float]:
    """Of what half the skirt is too wide at the waist: each side edge, the front's darts, the back's. [cm]"""
    side = min(max(SIDE_SHARE * surplus / 2, min(surplus / 2, SIDE_ALONE)), SIDE_MOST)
    darts = surplus - 2 * side
    if darts < LEAST_DART:
        return surplus / 2, 0.0, 0.0
    front = FRONT_SHARE * darts
    return (side, front, darts - front) if front >= LEAST_DART else (side, 0.0, darts)


def _darts(frame: Frame) -> tuple[Darts, Darts]:
    """The darts of front and back, each given by how much wider than planned they are together. [cm]"""
    return (
        _wedges(frame.front, FRONT_MOST, FRONT_LENGTH * frame.hip_depth),
        _wedges(frame.back, BACK_MOST, BACK_LENGTH * frame.hip_depth),
    )


def _wedges(total: float, most: float, length: float) -> Darts:
    n = min(math.ceil(total / most), MOST_DARTS)

    def darts(wider: float) -> tuple[Wedge, ...]:
        return tuple(
            Wedge(at, (total + wider) / n, length * (1 - i * SHORTER_OUTWARDS))
            for i, at in enumerate(DARTS_AT[n])
        )

    return darts
