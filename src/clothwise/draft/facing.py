"""Facings: cut from the garment's own edges, so that they fit them by construction.

A neck facing follows the neck at an even width and runs out square to the shoulder and the centre. An
all-in-one facing takes in neck, shoulder and armhole and ends square to the side seam below the arm.
Drawn for one half with the centre on x = 0, y up, cm; the outer edge runs from the shoulder (or side) to the
centre.
Source: rules of the trade D (facing 4-5, ordinary 5-6.5); house rule, 2026-11.
"""

from __future__ import annotations

from clothwise.curve import LEFT, Curve, Point, Vector, corner, sweep
from clothwise.draft.neckline import square_to_shoulder

WIDTH = 5.5  # cm: lies flat and does not peep out
BELOW_SLIT = 3.0  # cm: a facing goes on below the end of the slit it faces
BELOW_ARM = 5.0  # cm: an all-in-one facing below the underarm
HANDLES = (0.60, 0.58)
S_HANDLES = (0.45, 0.45)


def neck_outer(neck_point: Point, slope_deg: float, centre: Point, width: float, depth: float) -> Curve:
    """The outer edge of a neck facing, from the shoulder to the centre.

    centre  where the neck meets the centre; width along the shoulder, depth below the neck at the centre [cm]
    """
    square = square_to_shoulder(slope_deg)
    start = neck_point.go(square.left(), width)
    return corner(start, square, Point(0.0, centre.y - depth), LEFT, *HANDLES)


def all_in_one_outer(side: Point, inward: Vector, centre: Point, depth: float) -> Curve:
    """The lower edge of an all-in-one facing, from the side seam, square to it, to the centre."""
    return sweep(side, inward, Point(0.0, centre.y - depth), LEFT, *S_HANDLES)
