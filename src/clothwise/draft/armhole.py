"""The armhole: from the shoulder point down to the width of the chest or back, and round under the arm.

Drawn from the shoulder point to the underarm, centre on the left, y up, cm. The upper part is one arc without a
reversal: its direction at the chest follows from the chord. (A vertical tangent forced there made a wobble on
half of real bodies.) The lower part rounds to the side seam, square to it, so that the two halves run on.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`.
"""

from __future__ import annotations

import math

from clothwise.curve import Cubic, Curve, Point, Vector, corner, meeting, sweep
from clothwise.draft.hem import sharpest
from clothwise.draft.neckline import square_to_shoulder

BACK_UP, FRONT_UP = 0.48, 0.40  # of the armhole's height: where its width is taken
LEAST_IN = 2.2  # cm: the chest point lies at least so far inside the underarm point
MOST_OUT_DEG, MOST_IN_DEG = 20.0, 8.0  # degrees from vertical at the chest point, out- and inwards
BASE_LEFT = 0.25  # of the way from chest to underarm: leaning out further, no round is left for the base
BACK_HANDLES = (0.56, 0.67)
FRONT_HANDLES = (0.60, 0.71)  # the front is hollowed more: the arm swings forward
UPPER_HANDLES = (0.36, 0.36)
LEAST_HANDLE = 0.2  # of the chord: a shorter handle breaks at the shoulder
WHISKER_DEG = 0.46  # degrees: what bends back by less is straight to the eye (0.5, and seen at few places)
LEAST_RADIUS = 1.05  # cm: the hollow under the arm takes its seam allowance of 1 cm; where it would not,
STEP, MOST_STEPS = 0.1, 8  # cm: the chest point moves in, so far at most
LOOKS = 12  # places at which a part is looked at


def armhole(
    shoulder: Point,
    slope_deg: float,
    width: float,
    underarm: Point,
    out: Vector,
    up: float,
    handles: tuple[float, float],
) -> Curve:
    """One half armhole, from the shoulder point to the underarm point.

    width  across chest or back at that height, from the centre [cm]
    out    direction square to the side seam at the underarm, outwards
    up     share of the height at which the width is taken; `handles` of the lower part
    """
    for step in range(MOST_STEPS + 1):
        chest = Point(
            min(width - step * STEP, underarm.x - LEAST_IN), underarm.y + up * (shoulder.y - underarm.y)
        )
        down = _down(shoulder, slope_deg, chest, underarm)
        lower = corner(chest, down, underarm, out, *handles)
        if sharpest(lower, looks=LOOKS) * LEAST_RADIUS <= 1.0:
            break
    return _upper(shoulder, slope_deg, chest, down).then(lower)


def _down(shoulder: Point, slope_deg: float, chest: Point, underarm: Point) -> Vector:
    """The way the armhole runs at the chest."""
    chord = shoulder.to(chest)
    inward_deg = math.degrees(math.atan2(-chord.x, -chord.y))
    base_deg = math.degrees(math.atan2(BASE_LEFT * (underarm.x - chest.x), chest.y - underarm.y))
    lean_deg = min(max(slope_deg - 2 * inward_deg, -MOST_IN_DEG), MOST_OUT_DEG, base_deg)
    return Vector(math.sin(math.radians(lean_deg)), -math.cos(math.radians(lean_deg)))


def _upper(shoulder: Point, slope_deg: float, chest: Point, down: Vector) -> Curve:
    """From the shoulder, square to it, to the chest; so drawn that it does not bend out again on its way."""
    first = square_to_shoulder(slope_deg)
    upper = sweep(shoulder, first, chest, down, *UPPER_HANDLES)
    tip = meeting(shoulder, first, chest, down) if _turns_back_deg(upper) > WHISKER_DEG else None
    if tip is None:
        return upper
    shorter = min(max(shoulder.distance(tip) / shoulder.distance(chest), LEAST_HANDLE), UPPER_HANDLES[0])
    return sweep(shoulder, first, chest, down, shorter, UPPER_HANDLES[1])


def _turns_back_deg(part: Curve) -> float:
    """How much the upper part, hollow at the shoulder, bends out again before the chest. [degrees]"""
    (upper,) = part.strokes
    assert isinstance(upper, Cubic)
    one, two, three = upper.start.to(upper.first), upper.first.to(upper.second), upper.second.to(upper.end)
    if one.cross(two) <= 0 or two.cross(three) >= 0:  # hollow all the way, or fuller at the shoulder
        return 0.0
    ways = [upper.tangent(i / LOOKS) for i in range(LOOKS + 1)]
    return max(math.degrees(math.atan2(way.cross(ways[-1]), way.dot(ways[-1]))) * -1 for way in ways)
