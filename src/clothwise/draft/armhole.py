"""The armhole: from the shoulder point down to the width of the chest or back, and round under the arm.

Drawn from the shoulder point to the underarm, centre on the left, y up, cm. The upper part is one arc without a
reversal: its direction at the chest follows from the chord. (A vertical tangent forced there made a wobble on
half of real bodies.) The lower part rounds to the side seam, square to it, so that the two halves run on.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`.
"""

from __future__ import annotations

import math

from clothwise.curve import Curve, Point, Vector, corner, sweep
from clothwise.draft.neckline import square_to_shoulder

BACK_UP, FRONT_UP = 0.48, 0.40  # of the armhole's height: where its width is taken
LEAST_IN = 2.2  # cm: the chest point lies at least so far inside the underarm point
MOST_OUT_DEG, MOST_IN_DEG = 20.0, 8.0  # degrees from vertical at the chest point, out- and inwards
BASE_LEFT = 0.25  # of the way from chest to underarm: leaning out further, no round is left for the base
BACK_HANDLES = (0.56, 0.67)
FRONT_HANDLES = (0.60, 0.71)  # the front is hollowed more: the arm swings forward
UPPER_HANDLES = (0.36, 0.36)


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
    chest = Point(min(width, underarm.x - LEAST_IN), underarm.y + up * (shoulder.y - underarm.y))
    chord = shoulder.to(chest)
    inward_deg = math.degrees(math.atan2(-chord.x, -chord.y))
    base_deg = math.degrees(math.atan2(BASE_LEFT * (underarm.x - chest.x), chest.y - underarm.y))
    lean_deg = min(max(slope_deg - 2 * inward_deg, -MOST_IN_DEG), MOST_OUT_DEG, base_deg)
    down = Vector(math.sin(math.radians(lean_deg)), -math.cos(math.radians(lean_deg)))
    upper = sweep(shoulder, square_to_shoulder(slope_deg), chest, down, *UPPER_HANDLES)
    return upper.then(corner(chest, down, underarm, out, *handles))
