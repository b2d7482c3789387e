"""The seat of trousers: both halves from the waist to the hem, the fork solved to the body's crotch length.

Drawn in a half: centre line x = 0 at hip level, side seam at +x, natural waist y = 0, y up, cm. Front and
back are drawn the same way round here; the draft turns the back over when it makes a piece of it.

    u         fullness of the seat, -1 to 1: the one dimension that is solved (see fork.py)
    shift     how far the back side seam starts above the front's, so that both are equally long [cm]
    lowered   how far the crotch line was moved down from where the rise puts it [cm]
    side_out  how far the side seam stands outside its hip point at the waist, negative when taken in [cm]

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Figure
from clothwise.curve import Curve, NoSolution, Point, heading, solve
from clothwise.draft.equal import trued
from clothwise.draft.fork import Fork, back_crotch, fork, front_crotch
from clothwise.draft.front_dart import DartedWaist, DartSize, darted_waist, shut_side, tip_of
from clothwise.draft.leg import TOP_BEND, Leg, inseam, side_seam
from clothwise.draft.waist import climbing_line, waist_line
from clothwise.tolerance import SOLVE

BACK_WIDER = 0.006  # of the garment's hip, from a front quarter to a back quarter: the side seam hangs centred
BACK_CREASE = 0.3  # the back crease lies this share of the forks' difference nearer the side than the middle
THIGH_OF_FORK = 0.95  # width of a leg at the crotch = H/2 + this x fork
HEM_BACK_WIDER = 0.015  # of half the hem girth, back wider and front narrower: trade, 1-2 cm in all
SIDE_OUT = 1.0  # cm: the sides may be let out this much before the back's lean is cut
LEAN_CUT = 0.6  # of the lean may be cut to win width at the waist
TAKEN_IN = 0.05  # of waist to hip: the most a side is taken in; elastic draws in the rest
BELLY_FRONT = 0.3  # of what is still wanting goes to the centre front, the rest to the sides
FRONT_FALL = 0.45  # of the fall both crotch ends take, so that the corners at the inseam sum to 180 degrees
MOST_DROP = 5.0  # cm: the back crotch point lies at most this far below the front's
MOST_SHIFT = 3.0  # cm: the back side seam may start at most this much higher or lower than the front's


@dataclass(frozen=True, slots=True)
class Frame:
    """What the body and the choices fix before the fork is solved. Heights are y, girths whole, in cm."""

    figure: Figure
    hip: float
    finished_hip: float
    thigh: float
    knee_girth: float
    calf: float
    heel: float
    rise: float  # waist to crotch line, ease included
    waist: float  # height of the finished waist at the side; 0 = natural waist
    hip_level: float
    knee: float
    calf_level: float
    hem: float  # of the full leg
    edge: float  # girth the waist edge must have
    side_slope_deg: float
    hem_share: float  # hem girth of the leg's width at the crotch
    knee_share: float  # knee between hem (0) and crotch width (1)
    most_bow_deg: float  # the back waist may turn this much between centre and side, to fold down flat
    shift: float = 0.0  # of the back side seam, found at u = 0
    dart: DartSize | None = None  # in each front
    side_raised: float = 0.0  # the waist at the side, over a high hip; the centres stay

    @property
    def front_hip(self) -> float:
        return self.finished_hip * (0.25 - BACK_WIDER)

    @property
    def back_hip(self) -> float:
        return self.finished_hip * (0.25 + BACK_WIDER)


@dataclass(frozen=True, slots=True)
class Seat:
    """Both halves from the waist down, side seams not yet drawn."""

    fork: Fork
    front_leg: Leg
    back_leg: Leg
    front_crotch: Curve
    back_crotch: Curve
    front_inseam: Curve
    back_inseam: Curve
    side_out: float
    drop: float  # back crotch point below the front's

    @property
    def crotch_length(self) -> float:
        return self.front_crotch.length() + self.back_crotch.length()


@dataclass(frozen=True, slots=True)
class Sides:
    """Both side seams and the waist, in one agreement: sides equal, waist square and as wide as needed."""

    front_side: Curve  # from the waist down
    back_side: Curve
    front_waist: Curve  # from the centre to the side, a dart sewn shut
    back_waist: Curve
    shift: float  # back side seam starts this much above the front's
    darted: DartedWaist | None = None  # the front waist as it is cut, when it has a dart

    @property
    def edge(self) -> float:
        return 2 * (self.front_waist.length() + self.back_waist.length())


def draw_seat(frame: Frame, fullness: float, lowered: float = 0.0) -> Seat:
    """Fork, crotch curves and inseams for one fullness of the seat."""
    reach = fork(frame.figure, frame.hip, frame.finished_hip, frame.thigh, fullness)
    side_out, front_lean, back_lean = _waist_shared(frame, reach)
    front_leg, back_leg = _legs(frame, reach)
    rise = frame.rise + reach.lowered + lowered

    front_point = Point(-reach.front, -rise)
    front_inseam, front_start = inseam(front_leg, front_point)
    length = front_inseam.length()

    def back_point(drop: float) -> Point:
        return Point(-reach.back, -rise - drop)

    drop = trued(lambda d: inseam(back_leg, back_point(d))[0].length(), length, -1.0, MOST_DROP)
    back_inseam, back_start = inseam(back_leg, back_point(drop))
    fall = front_start + back_start
    front_centre, back_centre = _waist_heights(frame, reach, side_out, front_lean, back_lean)
    return Seat(
        fork=reach,
        front_leg=front_leg,
        back_leg=back_leg,
        front_crotch=front_crotch(
            front_lean, frame.hip_level, front_centre, front_point, rise, FRONT_FALL * fall
        ),
        back_crotch=back_crotch(
            back_lean, frame.hip_level, back_centre, back_point(drop), (1 - FRONT_FALL) * fall
        ),
        front_inseam=front_inseam,
        back_inseam=back_inseam,
        side_out=side_out,
        drop=drop,
    )


def fitted_seat(frame: Frame, crotch_length: float, reach: float = 1.0) -> tuple[Seat, float]:
    """The seat whose crotch seam has that length at the natural waist, and its fullness.

    `reach`  how far from u = 0 the fullness may go
    Raises NoSolution with the lengths that can be reached.
    """
    fullness = solve(
        lambda u: at_natural_waist(frame, draw_seat(frame, u)), crotch_length, -reach, reach, tolerance=SOLVE
    )
    return draw_seat(frame, fullness), fullness


def moved_seat(
    frame: Frame, crotch_length: float, fullness: float, up: float, down: float
) -> tuple[Seat, float]:
    """The seat of a given fullness whose crotch line is moved to meet the length, and how far down.

    Raises NoSolution when more than so many cm up or down would be needed.
    """
    lowered = solve(
        lambda d: at_natural_waist(frame, draw_seat(frame, fullness, d)),
        crotch_length,
        -up,
        down,
        tolerance=SOLVE,
    )
    return draw_seat(frame, fullness, lowered), lowered


def with_shift(frame: Frame) -> Frame:
    """The frame with the shift of the back side seam, as it is for a middling seat."""
    reach = fork(frame.figure, frame.hip, frame.finished_hip, frame.thigh, 0.0)
    side_out = _waist_shared(frame, reach)[0]
    front_leg, back_leg = _legs(frame, reach)
    return replace(frame, shift=_equal_sides(frame, front_leg, back_leg, side_out)[2])


def at_natural_waist(frame: Frame, seat: Seat) -> float:
    """Crotch seam as long as it would be with the waist at the natural waist: centre lines are straight."""
    back = seat.back_crotch.length() + frame.waist / seat.back_crotch.start_tangent.y
    return front_at_natural_waist(frame, seat) + back


def front_at_natural_waist(frame: Frame, seat: Seat) -> float:
    """The front part of it, down to the inseam."""
    return seat.front_crotch.length() + frame.waist / seat.front_crotch.start_tangent.y


def draw_sides(frame: Frame, seat: Seat) -> Sides:
    """Side seams and waist: the side is moved until the waist edge is as wide as needed, then the back's
    start is moved until both side seams are equally long."""
    side_out = seat.side_out
    for _ in range(3):  # each pass leaves a hundredth of the error before: 4 edges move 1 cm for 1 cm
        sides = _sides(frame, seat, side_out)
        side_out = max(side_out + (frame.edge - sides.edge) / 4, -TAKEN_IN * (frame.waist - frame.hip_level))
    return _sides(frame, seat, side_out)


def _sides(frame: Frame, seat: Seat, side_out: float) -> Sides:
    front, back, shift = _equal_sides(frame, seat.front_leg, seat.back_leg, side_out, frame.side_raised)
    # The two inside corners at the side sum to 180 degrees, so the waist runs on straight across the seam.
    lean = (front.start_tangent.angle_deg + 90 + back.start_tangent.angle_deg + 90) / 2
    front_way, back_way = heading(frame.side_slope_deg + lean), heading(lean - frame.side_slope_deg)
    front_centre, back_centre = seat.front_crotch, seat.back_crotch
    darted = None
    drawn = climbing_line if frame.side_raised else waist_line
    if frame.dart:
        tip = _tip(frame, frame.dart, seat.fork)
        along = front_centre.start_tangent.left()
        darted = darted_waist(frame.dart, tip, front_centre.start, along, front.start, front_way, drawn)
        front_waist = darted.shut
    else:
        front_waist = drawn(front_centre.start, front_centre.start_tangent.left(), front.start, front_way)
    return Sides(
        front_side=front,
        back_side=back,
        front_waist=front_waist,
        back_waist=drawn(back_centre.start, back_centre.start_tangent.left(), back.start, back_way),
        shift=shift,
        darted=darted,
    )


def _equal_sides(
    frame: Frame, front_leg: Leg, back_leg: Leg, side_out: float, raised: float = 0.0
) -> tuple[Curve, Curve, float]:
    """Front and back side seam, equally long, and the shift that made them so. raised: above the waist [cm]"""
    front_hip, back_hip = Point(frame.front_hip, frame.hip_level), Point(frame.back_hip, frame.hip_level)
    top = frame.waist + raised
    front = side_seam(front_leg, front_hip, Point(frame.front_hip + side_out, top))

    def back(shift: float) -> Curve:
        return side_seam(back_leg, back_hip, Point(frame.back_hip + side_out, top + shift))

    shift = trued(lambda by: back(by).length(), front.length(), 1.0, MOST_SHIFT)
    return front, back(shift), shift


def _waist_shared(frame: Frame, reach: Fork) -> tuple[float, float, float]:
    """How the waist edge gets its width: side_out, front lean, back lean.

    What is too much is taken in at the sides. What is wanting comes first from the sides, then from the
    back's lean, and for a belly from the centre front and the sides together.
    """
    height = frame.waist - frame.hip_level
    side_out, front_lean, back_lean = _width_from(frame, reach.lean, reach.raise_share, height)
    # The back waist turns from the side's slope to the lean; on a short waist that bow must stay foldable.
    steepest = frame.side_slope_deg - _side_lean_deg(frame, side_out) + frame.most_bow_deg
    lean = math.tan(math.radians(steepest))
    if lean >= back_lean:
        return side_out, front_lean, back_lean
    return _width_from(frame, lean, reach.raise_share, height)


def _width_from(frame: Frame, lean: float, raise_share: float, height: float) -> tuple[float, float, float]:
    climb = _back_climb(frame, lean, raise_share, 0.0)
    back_height = height + climb
    back_width = math.hypot(frame.back_hip - lean * back_height, climb)
    intake = frame.dart.intake if frame.dart else 0.0
    lack = frame.edge / 2 - (frame.front_hip - intake + back_width)
    if lack <= 0:
        return max(lack / 2, -TAKEN_IN * height), 0.0, lean
    side = min(lack / 2, SIDE_OUT)
    lack -= 2 * side
    cut = min(lack, LEAN_CUT * lean * back_height)
    lack -= cut
    belly = BELLY_FRONT * lack
    return side + (lack - belly) / 2, -belly / height, lean - cut / back_height


def _waist_heights(
    frame: Frame, reach: Fork, side_out: float, front_lean: float, back_lean: float
) -> tuple[float, float]:
    """Heights of centre front and centre back: the waist bends one way only between centre and side."""
    at_side = frame.side_slope_deg + _side_lean_deg(frame, side_out)
    side = Point(frame.front_hip + side_out, frame.waist)
    if frame.dart:
        at_side += frame.dart.spread_deg
        side = shut_side(frame.dart, _tip(frame, frame.dart, reach), side)
    front_slope = (math.degrees(math.atan(-front_lean)) + at_side) / 2
    front = side.y - side.x * math.tan(math.radians(front_slope))
    back = frame.waist + frame.shift + _back_climb(frame, back_lean, reach.raise_share, side_out)
    return front, back


def _tip(frame: Frame, size: DartSize, reach: Fork) -> Point:
    """The tip of the front dart, on the crease."""
    return tip_of(size, _front_crease(frame, reach), frame.waist)


def _front_crease(frame: Frame, reach: Fork) -> float:
    return (frame.front_hip - reach.front) / 2


def _back_climb(frame: Frame, lean: float, raise_share: float, side_out: float) -> float:
    """How far the waist climbs from the side to the centre back."""
    at_side = frame.side_slope_deg - _side_lean_deg(frame, side_out)
    at_centre = math.degrees(math.atan(lean))
    slope = math.tan(math.radians(at_side + raise_share * (at_centre - at_side)))
    width = frame.back_hip + side_out - lean * (frame.waist - frame.hip_level)
    return width * slope / (1 + lean * slope)


def _side_lean_deg(frame: Frame, side_out: float) -> float:
    """Lean of the side seam at the waist, positive when taken in."""
    way = math.degrees(math.atan(side_out / (frame.waist - frame.hip_level)))
    return -way if side_out > 0 else -TOP_BEND * way


def _legs(frame: Frame, reach: Fork) -> tuple[Leg, Leg]:
    """Front and back leg: knee and hem widths, laid evenly about the crease in the middle of the crotch."""
    front_width, back_width = frame.front_hip + reach.front, frame.back_hip + reach.back
    girth = frame.hem_share * (frame.finished_hip / 2 + THIGH_OF_FORK * reach.whole)
    girth = max(girth, frame.heel)
    front_hem, back_hem = girth / 2 * (1 - HEM_BACK_WIDER), girth / 2 * (1 + HEM_BACK_WIDER)
    front_knee = front_hem + frame.knee_share * (front_width - front_hem)
    back_knee = back_hem + frame.knee_share * (back_width - back_hem)
    knee_more = max(frame.knee_girth - front_knee - back_knee, 0.0) / 2
    front_knee, back_knee = front_knee + knee_more, back_knee + knee_more
    down = (frame.knee - frame.calf_level) / (frame.knee - frame.hem)
    at_calf = (front_knee + back_knee) * (1 - down) + girth * down
    calf_more = max(frame.calf - at_calf, 0.0) / 2
    return (
        Leg(
            crease=_front_crease(frame, reach),
            half_knee=(front_knee + calf_more) / 2,
            half_hem=(front_hem + calf_more) / 2,
            knee=frame.knee,
            hem=frame.hem,
        ),
        Leg(
            crease=(frame.back_hip - reach.back + BACK_CREASE * (reach.back - reach.front)) / 2,
            half_knee=(back_knee + calf_more) / 2,
            half_hem=(back_hem + calf_more) / 2,
            knee=frame.knee,
            hem=frame.hem,
        ),
    )


__all__ = [
    "Frame",
    "NoSolution",
    "Seat",
    "Sides",
    "at_natural_waist",
    "draw_seat",
    "draw_sides",
    "fitted_seat",
    "front_at_natural_waist",
    "moved_seat",
    "with_shift",
]
