"""Facings: cut from the garment's own edges, so that they fit them by construction.

A neck facing follows the neck at an even width and runs out square to the shoulder and the centre. An all-in-
one facing takes in neck, shoulder and armhole and ends square to the side seam below the arm; where the
garment has a dart there, the facing is drawn with it closed. Drawn for one half with the centre on x = 0, y
up, cm. Source: rules of the trade D (facing 4-5, ordinary 5-6.5); house rule, 2026-11.
"""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.curve import DOWN, LEFT, Curve, Point, Vector, corner, line, sweep
from clothwise.draft.darts import Part, Ring
from clothwise.draft.neckline import square_to_shoulder

WIDTH = 5.5  # cm: lies flat and does not peep out
WIDTH_OF_SHOULDER = 0.7  # but no wider than this share of the shoulder
BELOW_SLIT = 3.0  # cm: a facing goes on below the end of the slit it faces
BELOW_ARM = 5.0  # cm: an all-in-one facing below the underarm,
BELOW_ARM_MOST = 0.35  # but at most this share of the way to the waist
HANDLES = (0.60, 0.58)
SQUARE_HANDLES = (0.90, 0.85)  # round the corner of a square neck,
SQUARE_BESIDE = 0.8  # of its width along the shoulder: so wide at least it lies beside the corner
S_HANDLES = (0.45, 0.45)


def neck_outer(neck_point: Point, slope_deg: float, centre: Point, width: float, depth: float) -> Curve:
    """The outer edge of a neck facing, from the shoulder to the centre.

    centre  where the neck meets the centre; width along the shoulder, depth below the neck at the centre [cm]
    """
    square = square_to_shoulder(slope_deg)
    start = neck_point.go(square.left(), width)
    return corner(start, square, Point(0.0, centre.y - depth), LEFT, *HANDLES)


def _square_outer(neck: Sequence[Curve], slope_deg: float, width: float, depth: float) -> Curve:
    """Of a square neck: beside its side as that runs, then round its corner to the centre."""
    square, turn, centre = square_to_shoulder(slope_deg), neck[0].end, neck[-1].end
    start = neck[0].start.go(square.left(), width)
    beside = turn.right(max(start.x - neck[0].start.x, SQUARE_BESIDE * width))
    side = sweep(start, square, beside, DOWN)
    return side.then(corner(beside, DOWN, Point(0.0, centre.y - depth), LEFT, *SQUARE_HANDLES))


def all_in_one_outer(side: Point, inward: Vector, centre: Point, depth: float) -> Curve:
    """The lower edge of an all-in-one facing, from the side seam, square to it, to the centre."""
    return sweep(side, inward, Point(0.0, centre.y - depth), LEFT, *S_HANDLES)


def neck_ring(neck: Sequence[Curve], slope_deg: float, width: float, depth: float) -> Ring:
    """A neck facing, anticlockwise: outer edge, shoulder, neck, centre. `neck` from the neck point to the
    centre.
    """
    outer = neck_outer(neck[0].start, slope_deg, neck[-1].end, width, depth).reversed()
    if len(neck) > 1:
        outer = _square_outer(neck, slope_deg, width, depth).reversed()
    return (
        Part("outer", outer),
        Part("shoulder", line(outer.end, neck[0].start)),
        *neck_parts(neck),
        Part("centre", line(neck[-1].end, outer.start)),
    )


def all_in_one_ring(neck: Sequence[Curve], shoulder: Curve, armhole: Curve, side: Curve, depth: float) -> Ring:
    """An all-in-one facing, anticlockwise: outer edge, side, armhole, shoulder, neck, centre.

    shoulder from the neck point out, armhole from the shoulder to the underarm, side from the underarm down
    """
    outer = all_in_one_outer(side.end, side.end_tangent.right(), neck[-1].end, depth).reversed()
    return (
        Part("outer", outer),
        Part("side", side.reversed()),
        Part("armhole", armhole.reversed()),
        Part("shoulder", shoulder.reversed()),
        *neck_parts(neck),
        Part("centre", line(neck[-1].end, outer.start)),
    )


def neck_parts(neck: Sequence[Curve]) -> tuple[Part, ...]:
    """The neck as parts of a ring; of a square neck the second is its base."""
    return tuple(Part("neck" if i == 0 else "neck_base", part) for i, part in enumerate(neck))
