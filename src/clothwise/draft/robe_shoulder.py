"""Shoulder and armhole of a robe: one straight line from the neck over the arm to the side, and the straight
sleeve's armhole below it, front and back as the shoulders are held.

Half of each, centre on x = 0, the natural waist y = 0, y up, cm. The neck and the underarm stay where they are:
held forward, the shoulder seam turns about the neck, front and back against each other; a low one ends lower; a
rounded back lies higher, and its armhole is as much longer.

Source: drafting method 8 (shoulder slope .75); house rule, 2026-11, for what is held.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import DOWN, Curve, NoSolution, Point, heading, line, solve, sweep
from clothwise.draft.bodice import LOW_ARRIVES
from clothwise.draft.neckline import along_shoulder, close_neck, square_to_shoulder
from clothwise.draft.posture import UPRIGHT, Held, Posture, halves
from clothwise.errors import DraftError
from clothwise.tolerance import SOLVE

SLOPE = 0.75  # of the shoulder's slope
LOWEST = 0.14  # of the back waist length above the waist: the lowest underarm
FLATTEST = 2.0  # degrees of the shoulder seam
ARC_HANDLE = 0.34  # of the chord: the armhole bends by no more than the shoulder's slope


@dataclass(frozen=True, slots=True)
class Shoulder:
    """One half: the shoulder seam from its end to the neck; the armhole from there down to the underarm."""

    seam: Curve
    armhole: Curve


def shoulders(
    close: Point, neck: Point, slope: float, quarter: float, arm: float, posture: Posture
) -> tuple[Shoulder, Shoulder]:
    """Front and back. `close` is the neck's own point, `neck` where the seam begins. [cm, degrees]"""
    armhole = _armhole(close, slope, quarter, arm)
    upright = Shoulder(line(armhole.start, neck), armhole)
    if posture == UPRIGHT:
        return upright, upright
    front, back = (_held(upright, slope, half) for half in halves(neck.distance(armhole.start), posture))
    return front, back


def _held(upright: Shoulder, slope: float, half: Held) -> Shoulder:
    neck, long = upright.seam.end.up(half.higher), upright.seam.length()
    leaves = slope + half.steeper_deg
    tip, arrives = along_shoulder(neck, leaves + half.falls_deg, long), leaves + LOW_ARRIVES * half.falls_deg
    seam = line(tip, neck)
    if half.falls_deg:
        seam = sweep(neck, heading(-leaves), tip, heading(-arrives)).reversed()
    under = upright.armhole.end
    return Shoulder(seam, sweep(tip, square_to_shoulder(arrives), under, DOWN, ARC_HANDLE, ARC_HANDLE))


def slope_of(body: Body, quarter: float, arm: float) -> float:
    """Of the shoulder seam; less where the underarm would come too near to the waist. [degrees]"""
    lowest = LOWEST * body["back_waist_length"]

    def underarm(slope: float) -> float:
        neck = close_neck(body["neck_base_girth"], slope, slope)
        return _armhole(Point(neck.width, body["back_waist_length"] + neck.rise), slope, quarter, arm).end.y

    usual = SLOPE * body["shoulder_slope_deg"]
    if underarm(usual) >= lowest:
        return usual
    try:
        return solve(underarm, lowest, FLATTEST, usual, tolerance=SOLVE)
    except NoSolution as no:
        raise DraftError(
            f"The underarm of the straight sleeve would lie {no.high:.1f} cm above the waist, too low.",
            where=f"body '{body.name}': upper arm girth, back waist length",
            mend="Measure upper arm and back waist length again, or choose less room.",
        ) from None


def _armhole(close: Point, slope: float, quarter: float, arm: float) -> Curve:
    """From the end of the shoulder seam, square to it, down to the underarm, where it runs into the side."""
    chord = heading(-90 - slope / 2)
    out = -arm * chord.x
    top = along_shoulder(close, slope, (quarter + out - close.x) / math.cos(math.radians(slope)))
    return sweep(top, square_to_shoulder(slope), top.go(chord, arm), DOWN, ARC_HANDLE, ARC_HANDLE)
