"""Necklines: the base of the neck solved from its girth, and what is cut wider or lower than it.

Drawn for one half with the centre on x = 0 and the neck point at +x, y up, cm; a neck curve runs from the neck
point on the shoulder to the centre, leaves square to the shoulder and meets the centre square, so that it is
smooth from the front over the shoulder to the back. Only a V ends in a point, and a square neck has corners.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`: back rise 0.30 of the half width,
front depth the half width + 0.8 (rules of the trade I2: front depth width + 0 to 1, back 1.3-3.8); head test:
opening at least head + 2 (rules of the trade D).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import DOWN, LEFT, Curve, Point, Vector, corner, heading, line, sweep
from clothwise.draft.pattern import Choice
from clothwise.draft.possible import possible, within
from clothwise.errors import ChoiceError
from clothwise.tolerance import SOLVE

NECK_EASE = 1.0  # cm in the round: a neckline at the base of the neck does not choke
BACK_RISE = 0.30  # of the half width: the neck point above the nape
FRONT_DEEPER = 0.8  # cm: the front's depth beyond the half width
BACK_HANDLES = (0.84, 0.70)  # full at the neck point: the hollow there takes a whole seam allowance
FRONT_HANDLES = (0.60, 0.58)
BACK_DIP = 0.21  # of the half width: a widened back neck still lies at least this much below its neck point
FRONT_DIP = 0.31  # of the half width: the same of the front, so that a boat neck is a curve
DEEP_IN = (
    0.45  # of the half width: where the line of a round front neck at the shoulder meets its depth at most
)
DEEP_FROM, DEEP_FULLER = 1.3, 0.22  # depth over half width from which the base of a round neck is drawn fuller
SQUARE_IN = 0.10  # of its depth: a square neck narrows towards its corners, else it looks splayed when worn
V_BOW = 0.5  # of the angle between shoulder square and chord: a V is bowed evenly, as one arc
OVER_HEAD = 2.0  # cm: the opening is at least the head and this (rule 2-3)
LEAST_SLIT = 9.0  # cm: a shorter slit does not open
LOOKS = 8  # steps of the secant: three suffice
SHOULDER_LEFT = 3.0  # cm: the narrowest shoulder a widened neck may leave,
SHOULDER_LEFT_SHARE = 0.5  # or this share of a small child's


@dataclass(frozen=True, slots=True)
class Neck:
    """The base of the neck: half width; neck point above the nape; front centre below its neck point. [cm]"""

    width: float
    rise: float
    depth: float


@dataclass(frozen=True, slots=True)
class Neckline:
    """A neckline as cut. `wide` is taken along the shoulder off the neck point; `front_low` and `back_low` are
    below the base of the neck at the centres (front_low may be negative). [cm]"""

    shape: str = "round"
    wide: float = 0.0
    front_low: float = 0.0
    back_low: float = 0.0
    lean_deg: float = (
        0.0  # a deep front leaves the shoulder so much steeper than square, the back so much flatter
    )


# A style as shares: of the shoulder taken off; of the neck's half width the front and back are lowered
STYLES: dict[str, tuple[str, float, float, float]] = {
    "round": ("round", 0.06, 0.15, 0.05),
    "scoop": ("round", 0.28, 0.75, 0.25),
    "boat": ("round", 0.46, -0.15, 0.10),
    "V": ("V", 0.14, 1.05, 0.10),
    "square": ("square", 0.24, 0.45, 0.15),
}


def neckline_choice(
    default: str = "round", of: tuple[str, ...] = tuple(STYLES), *, main: bool = False
) -> Choice:
    """The choice of the neckline's style."""
    return Choice(
        "neckline",
        "Shape of the neckline.",
        options=of,
        default=default,
        changes="neck edges and their facing",
        main=main,
    )


DEEPER = Choice(
    "neck_depth",
    "Front neckline deeper (+) or higher (-) than its style.",
    unit="cm",
    low=-6.0,
    high=10.0,
    default=0.0,
    changes="front neck",
)
WIDER = Choice(
    "neck_width",
    "Neckline wider (+) or narrower (-) than its style, on each shoulder.",
    unit="cm",
    low=-3.0,
    high=6.0,
    default=0.0,
    changes="neck and shoulder",
)


def close_neck(girth: float, back_slope_deg: float, front_slope_deg: float) -> Neck:
    """The base of the neck for a neck of that girth: its width is solved, so that both halves together measure
    half of the girth and its ease. [cm]"""
    wanted = (girth + NECK_EASE) / 2

    def over(width: float) -> float:
        neck = Neck(width, BACK_RISE * width, width + FRONT_DEEPER)
        back = back_curve(Point(width, neck.rise), back_slope_deg, 0.0)
        front = front_curves(Point(width, neck.depth), front_slope_deg, 0.0, "round")
        return back.length() + front[0].length() - wanted

    one, two = girth / 5.6, girth / 5.2
    at_one, at_two = over(one), over(two)
    for _ in range(LOOKS):
        if abs(at_two) <= SOLVE:
            break
        one, two, at_one = two, two - at_two * (two - one) / (at_two - at_one), at_two
        at_two = over(two)
    return Neck(two, BACK_RISE * two, two + FRONT_DEEPER)


def styled(
    style: str,
    neck: Neck,
    shoulder: float,
    slopes_deg: tuple[float, float],
    *,
    wider: float = 0.0,
    deeper: float = 0.0,
    inset: float = 0.0,
) -> Neckline:
    """The neckline of a style on this neck and shoulder; `wider` and `deeper` go beyond it. [cm]

    slopes_deg  of the back and the front shoulder
    inset       so far inside the line drawn the finished edge lies, of which the style speaks
    Raises      ChoiceError: wider or higher than this shoulder allows
    """
    shape, of_shoulder, of_front, of_back = STYLES[style]
    usual = of_shoulder * shoulder + inset
    widest = shoulder - min(SHOULDER_LEFT, SHOULDER_LEFT_SHARE * shoulder)
    if not within(usual + wider, 0.0, widest):
        raise ChoiceError(
            f"A {style} neckline {wider:+g} cm wide does not lie between neck and shoulder point.",
            where="choice 'neck_width'",
            mend=possible(wider, -usual, widest - usual),
        )
    wide = usual + wider
    back_slope, front_slope = slopes_deg
    lowest_back = _dip(neck, wide, back_slope, BACK_DIP) - neck.rise
    lowest_front = _dip(neck, wide, front_slope, FRONT_DIP) - neck.depth
    low = max(of_front * neck.width, lowest_front) + inset
    if deeper < lowest_front - low:
        raise ChoiceError(
            f"A {style} neckline {deeper:+g} cm deep would run straight over the throat.",
            where="choice 'neck_depth'",
            mend=possible(deeper, least=lowest_front - low),
        )
    found = lowered(neck, wide, low + deeper, max(of_back * neck.width, lowest_back), front_slope)
    return found if shape == "round" else replace(found, shape=shape, lean_deg=0.0)


def lowered(neck: Neck, wide: float, front: float, back: float, front_slope_deg: float) -> Neckline:
    """A round neckline so much wider and lower than the base of the neck. [cm]"""
    return Neckline("round", wide, front, back, _lean_deg(neck, wide, neck.depth + front, front_slope_deg))


def _lean_deg(neck: Neck, wide: float, depth: float, slope_deg: float) -> float:
    """How much steeper a deep round neck leaves the shoulder, not to reach the centre too high. [degrees]"""
    at = along_shoulder(Point(neck.width, 0.0), slope_deg, wide)
    steepest = math.degrees(math.atan2(DEEP_IN * at.x, depth + at.y))
    return max(slope_deg - steepest, 0.0)


def _dip(neck: Neck, wide: float, slope_deg: float, dip: float) -> float:
    """How far below the close neck point the centre lies at least, for the neck to be a curve. [cm]"""
    at = along_shoulder(Point(neck.width, 0.0), slope_deg, wide)
    return dip * at.x - at.y


def along_shoulder(neck_point: Point, slope_deg: float, distance: float) -> Point:
    """The point that far down the shoulder from the neck point."""
    return neck_point.go(heading(-slope_deg), distance)


def square_to_shoulder(slope_deg: float) -> Vector:
    """Into the piece, square to the shoulder line."""
    return heading(-slope_deg).right()


def back_curve(neck_point: Point, slope_deg: float, centre_y: float, lean_deg: float = 0.0) -> Curve:
    """The back neck, from the neck point to the centre back at that height; `lean_deg` steeper than square."""
    return corner(
        neck_point, square_to_shoulder(slope_deg + lean_deg), Point(0.0, centre_y), LEFT, *BACK_HANDLES
    )


def front_curves(
    neck_point: Point, slope_deg: float, centre_y: float, shape: str, lean_deg: float = 0.0
) -> tuple[Curve, ...]:
    """The front neck, from the neck point to the centre front at that height; a square one is two lines."""
    square, centre = square_to_shoulder(slope_deg - lean_deg), Point(0.0, centre_y)
    if shape == "V":
        chord = neck_point.to(centre).unit()
        bow = square.angle_deg - chord.angle_deg
        return (sweep(neck_point, square, centre, chord.turned(-V_BOW * bow)),)
    if shape == "square":
        depth = neck_point.y - centre_y
        turn = Point(neck_point.x - SQUARE_IN * depth, centre_y)
        return sweep(neck_point, square, turn, DOWN), line(turn, centre)
    first, second = FRONT_HANDLES
    deep = (neck_point.y - centre_y) / neck_point.x - DEEP_FROM
    return (corner(neck_point, square, centre, LEFT, first, second + DEEP_FULLER * min(max(deep, 0.0), 1.0)),)


def cut_back(neck: Neck, line_: Neckline, neck_point: Point, slope_deg: float) -> Curve:
    """The back neck of a neckline, from the close neck point of the back."""
    at = along_shoulder(neck_point, slope_deg, line_.wide)
    return back_curve(at, slope_deg, neck_point.y - neck.rise - line_.back_low, line_.lean_deg)


def cut_front(neck: Neck, line_: Neckline, neck_point: Point, slope_deg: float) -> tuple[Curve, ...]:
    """The front neck of a neckline, from the close neck point of the front."""
    at = along_shoulder(neck_point, slope_deg, line_.wide)
    low = neck_point.y - neck.depth - line_.front_low
    return front_curves(at, slope_deg, low, line_.shape, line_.lean_deg)


def slit_for_head(body: Body, opening: float, stretch: float = 0.0) -> float:
    """Length of the slit that lets the head through an opening of that girth; 0 when it passes. [cm]"""
    lack = body["head_girth"] + OVER_HEAD - opening * (1 + stretch)
    return max(LEAST_SLIT, lack / 2) if lack > 0 else 0.0
