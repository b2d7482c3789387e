"""A trouser leg below the hip: inseam, side seam and hem, balanced on the crease.

Drawn in a half: centre line on the left, side seam at +x, natural waist y = 0, y up, cm. The crease is the
grain: knee and hem lie evenly to its left and right, so the leg hangs straight.

    lean_deg  how far a seam stands off the upright, positive when it nears the crease on its way down

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; balanced on the crease as in
every trade draft (rules of the trade, trousers).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.curve import DOWN, Curve, Point, Vector, corner, heading, line, sweep

HOLLOW = 0.4  # the inseam leaves the crotch this much steeper than its chord, of the bend it has in all
INSEAM_HANDLES = (0.70, 0.85)  # of the ways to the corner, which lies near the knee: they spread the bend from
# crotch to knee, so that it is no sharper than the allowance takes, on a stout toddler's short thigh too
TOP_BEND = 1.5  # a side taken in leaves the waist this much steeper than its chord to the hip
SIDE_HANDLES = (0.40, 0.36)  # of the chord hip to knee: full over the thigh, no S


@dataclass(frozen=True, slots=True)
class Leg:
    """What a half leg is drawn between: crease x; half widths at knee and hem; heights of both. [cm]"""

    crease: float
    half_knee: float
    half_hem: float
    knee: float
    hem: float

    @property
    def lower_lean_deg(self) -> float:
        """Lean of both seams below the knee."""
        return math.degrees(math.atan2(self.half_knee - self.half_hem, self.knee - self.hem))

    def inner(self, half: float, y: float) -> Point:
        return Point(self.crease - half, y)

    def outer(self, half: float, y: float) -> Point:
        return Point(self.crease + half, y)


def inseam(leg: Leg, crotch_point: Point) -> tuple[Curve, float]:
    """The inseam from the crotch point to the hem, gently hollow to the knee and straight below it; and the
    lean at which it leaves the crotch [degrees]."""
    knee, hem = leg.inner(leg.half_knee, leg.knee), leg.inner(leg.half_hem, leg.hem)
    lower = leg.lower_lean_deg
    chord = math.degrees(math.atan2(knee.x - crotch_point.x, crotch_point.y - knee.y))
    start = chord + HOLLOW * (chord - lower)
    upper = corner(crotch_point, _down(start), knee, _down(lower), *INSEAM_HANDLES)
    return upper.then(line(knee, hem)), start


def side_seam(leg: Leg, hip: Point, waist: Point) -> Curve:
    """The side seam from the waist over the hip to the hem.

    A waist taken in bends to the upright at the hip; a waist let out runs straight through the hip, so that
    the seam bends one way only down to the thigh.
    """
    knee, hem = leg.outer(leg.half_knee, leg.knee), leg.outer(leg.half_hem, leg.hem)
    out_deg = math.degrees(math.atan2(waist.x - hip.x, waist.y - hip.y))
    if out_deg > 0:
        top, at_hip = line(waist, hip), waist.to(hip).unit()
    else:
        top, at_hip = corner(waist, _down(-TOP_BEND * out_deg), hip, DOWN), DOWN
    thigh = sweep(hip, at_hip, knee, _down(-leg.lower_lean_deg), *SIDE_HANDLES)
    return top.then(thigh, line(knee, hem))


def _down(lean_deg: float) -> Vector:
    """Downwards, and to the right by lean_deg."""
    return heading(-90 + lean_deg)
