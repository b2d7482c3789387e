"""The fork: how far a pair of trousers reaches between the legs, and the crotch curve drawn over it.

Drawn in a half: centre line x = 0 at hip level, side seam at +x, natural waist y = 0, y up, cm.

    H       hip of the garment: body and ease
    F       the whole fork, front and back together, measured along the crotch line
    fullness  u, from -1 (flat seat, short crotch length) to 1 (full seat, long): it moves fork, lean and
            raise of the back together, as a cutter does who fits a fuller seat

Source: house rule, 2026-11: constants set so that u = 0 fits the median body of 6,068 adults and their front
and back forks lie where the trade's drafts lie (front 0.06-0.085 of the hip, back 0.11-0.135, back/front
1.7-2.2); proved on the bodies of `benchmarks.drafts`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.body import Figure
from clothwise.curve import Curve, Point, Vector, corner, heading, line, meeting
from clothwise.tolerance import SAME_POINT

SEAT_DEPTH: dict[Figure, tuple[float, float]] = {  # seat depth front to back = share of hip - cm
    "woman": (0.28, 5.3),
    "man": (0.31, 7.2),
    "girl": (0.28, 5.3),
    "boy": (0.31, 7.2),
}
FORK_OF_SEAT: dict[Figure, float] = {"woman": 0.88, "man": 0.82, "girl": 0.84, "boy": 0.84}
FORK_BY_FULLNESS = 0.18  # the fork grows or shrinks by this share between u = 0 and u = 1
FRONT_SHARE = 0.33  # of the fork in front: back/front 2.0, the middle of the trade's drafts
THIGH_ROOM: dict[Figure, float] = {"woman": 7.0, "man": 7.0, "girl": 8.8, "boy": 8.8}
# cm: the fork is at least thigh + this - H/2, so that the thigh line clears by 3; down to it the leg of an
# adult narrows by up to 4, that of a stout toddler by 5.3

LEAN: dict[Figure, float] = {"woman": 0.18, "man": 0.16, "girl": 0.13, "boy": 0.13}  # cm aside a cm up
LEAN_BY_FULLNESS = 0.07
RAISE_SHARE = 0.50  # the back waist climbs between the slope at the side (0) and the lean (1): an even bow
RAISE_BY_FULLNESS = 0.06  # a little only: a bow bent at one end would not fold down flat
LOWERED_BY_FULLNESS = 1.8  # cm: the crotch line itself, between u = 0 and u = 1

FRONT_STRAIGHT = (1.35, 0.28)  # the centre line runs straight to this x front fork, or x rise, above the fork
BACK_STRAIGHT = 0.42  # of the back fork: the straight line ends this much above the corner of the curve
FRONT_HANDLES = (0.52, 0.60)  # hollow of the curve: shares of the way to the corner
BACK_HANDLES = (0.62, 0.60)
# Where a low hip leaves less than this share before the corner, of the way from there on to the crotch point,
# the curve is drawn rounder and runs out straight, lest its hollow be too tight for its allowance.
FRONT_SHORT, BACK_SHORT, SHORT_ROUNDER = 0.6, 0.33, 1.8


@dataclass(frozen=True, slots=True)
class Fork:
    """What the seat adds behind and between the legs.

    front, back  reach of the crotch points beyond x = 0 [cm]
    lean         of the back centre line, cm aside a cm up
    raise_share  how steeply the back waist climbs, from the slope at the side (0) to the lean (1)
    lowered      the crotch line below where rise and ease put it [cm]
    """

    front: float
    back: float
    lean: float
    raise_share: float
    lowered: float

    @property
    def whole(self) -> float:
        return self.front + self.back


def fork(figure: Figure, hip: float, finished_hip: float, thigh: float, fullness: float) -> Fork:
    """The fork for a body and a fullness of seat from -1 to 1; girths in cm."""
    share, less = SEAT_DEPTH[figure]
    seat_depth = share * hip - less
    reach = FORK_OF_SEAT[figure] * seat_depth * math.sqrt(finished_hip / hip)
    reach *= 1 + FORK_BY_FULLNESS * fullness
    reach = max(reach, thigh + THIGH_ROOM[figure] - finished_hip / 2)
    return Fork(
        front=FRONT_SHARE * reach,
        back=(1 - FRONT_SHARE) * reach,
        lean=LEAN[figure] + LEAN_BY_FULLNESS * fullness,
        raise_share=RAISE_SHARE + RAISE_BY_FULLNESS * fullness,
        lowered=LOWERED_BY_FULLNESS * fullness,
    )


def centre_line(lean: float, hip_level: float, y: float) -> Point:
    """The point of a centre line at height y: it passes x = 0 at hip level and leans `lean` cm a cm."""
    return Point(lean * (y - hip_level), y)


def front_crotch(
    lean: float, hip_level: float, waist: float, point: Point, rise: float, fall_deg: float
) -> Curve:
    """Centre front from the waist (height `waist`) to the crotch point, where it falls by fall_deg.

    rise  of trousers that hang; 0 for a close leg, whose short fork would be too tight in a long curve [cm]
    """
    reach, share = FRONT_STRAIGHT
    straight_to = point.y + max(-reach * point.x, share * rise)
    return _crotch(lean, hip_level, waist, straight_to, point, fall_deg, FRONT_HANDLES, FRONT_SHORT)


def back_crotch(lean: float, hip_level: float, waist: float, point: Point, fall_deg: float) -> Curve:
    """Centre back from the waist to the back crotch point."""
    straight_to = point.y - point.x * (math.tan(math.radians(fall_deg)) + BACK_STRAIGHT)
    return _crotch(lean, hip_level, waist, straight_to, point, fall_deg, BACK_HANDLES, BACK_SHORT)


def _crotch(
    lean: float,
    hip_level: float,
    waist: float,
    straight_to: float,
    point: Point,
    fall_deg: float,
    handles: tuple[float, float],
    short: float,
) -> Curve:
    """Straight from the waist at least to the hip, so that the hip keeps its width, then one hollow curve."""
    top = centre_line(lean, hip_level, waist)
    turn = centre_line(lean, hip_level, min(straight_to, hip_level))
    way: Vector = top.to(turn).unit()
    arrives = heading(180 + fall_deg)
    met = meeting(turn, way, point, arrives)
    whole = line(top, turn)
    if met is not None:
        before, after = turn.distance(met), met.distance(point)
        lack = short - before / after
        reach = before / (short + SHORT_ROUNDER * max(lack, 0.0))
        if lack > 0 and after - reach > SAME_POINT:
            out = met.go(arrives, reach)
            return whole.then(corner(turn, way, out, arrives, *handles), line(out, point))
    return whole.then(corner(turn, way, point, arrives, *handles))
