"""One leg of leggings, drawn smaller than the body, which the knit stretches to fill: no side seam.

The whole leg lies about its axis x = 0, front on the left, back on the right, natural waist y = 0, y up, cm.
Both inseams are mirror images of each other, so they are equally long by construction.

    n         negative ease: every girth is drawn at (1 - n) of the body's
    h, F      half the hip as drawn; what the fork adds to it: a leg is h + F wide at the crotch line
    fullness  u, -1 to 1: fork, lean and raise of the back together; solved for the crotch length

Source: drafting method 8 (n, length along the crotch, share of front and back fork, raise of the back); house
rule, 2026-11: fork and lean set so that u = 0 fits the median body of 6,068 adults.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from clothwise.curve import UP, Cubic, Curve, Point, Vector, line, solve
from clothwise.draft import level
from clothwise.draft.fork import back_crotch, front_crotch
from clothwise.draft.waist import waist_line
from clothwise.tolerance import SOLVE

FORK, FORK_BY_FULLNESS = 0.16, 0.04  # of the hip as drawn
FRONT_SHARE = 0.32  # of the fork in front
THIGH_ROOM = 2.5  # cm: the leg narrows by so much from the crotch line to where the thigh is measured
LEAN, LEAN_BY_FULLNESS = 0.22, 0.12  # of the back centre line, cm aside a cm up
FRONT_LEAN = 0.03
LOWERED_BY_FULLNESS = 1.5  # cm: the crotch line itself, between u = 0 and u = 1
BELLY_FRONT = 0.4  # of what a wide waist still wants goes to the centre front, the rest to the back
WAIST_LOOKS = 4  # each leaves a tenth of what the waist edge wanted
WAIST_BOW = 0.04  # casing depth over radius of the waist line: it folds down flat with room to spare
CLIMB, CLIMB_BY_FULLNESS = 0.055, 0.02  # of the hip as drawn: the waist from centre front to centre back
ANKLE_LEAN = 0.5  # the inseam ends this much, of its lean below the calf, off the upright
FRONT_FALL = 0.45  # of the fall both crotch ends take, so that the corners at the inseam sum to 180 degrees


@dataclass(frozen=True, slots=True)
class Frame:
    """What the body and the choices fix. Girths as drawn, already smaller than the body; heights are y. [cm]"""

    hip: float
    thigh: float
    knee_girth: float
    knee_most: float
    calf: float
    ankle: float
    rise: float  # waist to crotch line
    waist: float  # height of the finished waist; 0 = natural waist
    edge: float  # girth the waist edge has at least
    casing: float  # depth turned down there
    hip_level: float
    knee: float
    calf_level: float
    hem: float  # of the full leg
    lowered: float = 0.0  # the crotch line below where the rise puts it


@dataclass(frozen=True, slots=True)
class Leg:
    """Seams from the top down, waist from the centre front to the centre back."""

    front_crotch: Curve
    back_crotch: Curve
    front_inseam: Curve
    waist: Curve

    @property
    def back_inseam(self) -> Curve:
        return self.front_inseam.mirrored(Point(0.0, 0.0), UP)

    @property
    def crotch_length(self) -> float:
        return self.front_crotch.length() + self.back_crotch.length()


def draw_leg(frame: Frame, fullness: float) -> Leg:
    """The leg for one fullness of the seat."""
    half = frame.hip / 2
    fork = (FORK + FORK_BY_FULLNESS * fullness) * frame.hip
    fork = max(fork, frame.thigh + THIGH_ROOM - half)
    front_reach, back_reach = FRONT_SHARE * fork, (1 - FRONT_SHARE) * fork
    crotch = -(frame.rise + LOWERED_BY_FULLNESS * fullness + frame.lowered)
    point = Point(-(half + fork) / 2, crotch)
    inseam, start_deg = _inseam(frame, point)
    fall = 2 * start_deg
    front_centre = point.x + front_reach
    edge = frame.edge
    for _ in range(WAIST_LOOKS):
        top = _waist(frame, half, edge, front_centre, fullness)
        line_round = top.line(frame.hip_level, front_centre, half)
        lack = frame.edge / 2 - line_round.length()
        if lack <= SOLVE:
            break
        edge += 2 * lack
    front = front_crotch(
        top.front_lean,
        frame.hip_level,
        top.front_height,
        Point(-front_reach, crotch),
        0.0,
        FRONT_FALL * fall,
    )
    back = back_crotch(
        top.back_lean, frame.hip_level, top.back_height, Point(-back_reach, crotch), (1 - FRONT_FALL) * fall
    )
    front = front.moved(Vector(front_centre, 0.0))
    back = back.mirrored(Point(0.0, 0.0), UP).moved(Vector(front_centre + half, 0.0))
    return Leg(front, back, inseam, line_round)


def fitted_leg(frame: Frame, crotch_length: float) -> Leg:
    """The leg whose crotch seam has that length at the natural waist. NoSolution: what is possible."""
    fullness = solve(
        lambda u: at_natural_waist(frame, draw_leg(frame, u)), crotch_length, -1.0, 1.0, tolerance=SOLVE
    )
    return draw_leg(frame, fullness)


def moved_leg(frame: Frame, crotch_length: float, fullness: float, most: float) -> tuple[Leg, float]:
    """The leg of a given fullness whose crotch line is moved to meet the length, and how far down."""

    def at(lowered: float) -> float:
        return at_natural_waist(frame, draw_leg(replace(frame, lowered=lowered), fullness))

    lowered = solve(at, crotch_length, -most, most, tolerance=SOLVE)
    return draw_leg(replace(frame, lowered=lowered), fullness), lowered


def at_natural_waist(frame: Frame, leg: Leg) -> float:
    """Crotch seam as long as it would be with the waist at the natural waist: centre lines are straight."""
    front, back = leg.front_crotch.start_tangent.y, leg.back_crotch.start_tangent.y
    return leg.crotch_length + frame.waist * (1 / front + 1 / back)


# ---- waist ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Top:
    """Leans of both centre lines, positive when they narrow the waist, and the heights they reach."""

    front_lean: float
    back_lean: float
    front_height: float
    back_height: float

    def line(self, hip_level: float, front_centre: float, half: float) -> Curve:
        """The waist, square to both centre lines, which stand so far apart at the hip."""
        front = Point(front_centre + self.front_lean * (self.front_height - hip_level), self.front_height)
        back = Point(front_centre + half - self.back_lean * (self.back_height - hip_level), self.back_height)
        return waist_line(front, Vector(1.0, -self.front_lean), back, Vector(1.0, self.back_lean))


def _waist(frame: Frame, half: float, edge: float, front_centre: float, fullness: float) -> _Top:
    """The waist bends one way only where it can, lies at its height over the axis and climbs to the back."""
    spare = half - edge / 2
    front = back = frame.waist - frame.hip_level  # of both centres over the hip line
    foldable = math.tan(WAIST_BOW / frame.casing * frame.edge / 2)
    for _ in range(WAIST_LOOKS):  # the leans move the ends by a tenth of what they climb
        if spare < 0:
            front_lean, back_lean = BELLY_FRONT * spare / front, (1 - BELLY_FRONT) * spare / back
        else:
            front_lean = min(FRONT_LEAN, spare / front)
            back_lean = min(LEAN + LEAN_BY_FULLNESS * fullness, (spare - front_lean * front) / back)
        back_lean = min(back_lean, foldable - front_lean)
        left = front_centre + front_lean * front
        width = half - front_lean * front - back_lean * back
        climb = _climb(frame, width, front_lean, back_lean, fullness)
        t = -left / width
        at_axis = (
            (3 - 2 * t) * t * t * climb
            - t * (1 - t) ** 2 * width * front_lean
            - t * t * (1 - t) * width * back_lean
        )
        front = frame.waist - at_axis - frame.hip_level
        back = front + climb
    return _Top(front_lean, back_lean, frame.hip_level + front, frame.hip_level + back)


def _climb(frame: Frame, width: float, front_lean: float, back_lean: float, fullness: float) -> float:
    """How far the waist climbs from the centre front to the centre back: what an even bow between the centre
    lines gives, and more where the casing then still folds flat. [cm]"""
    even = width * (back_lean - front_lean) / 2
    wanted = (CLIMB + CLIMB_BY_FULLNESS * fullness) * frame.hip
    spare = WAIST_BOW / frame.casing - abs(front_lean + back_lean) / width
    return even + min(max(wanted - even, 0.0), max(spare, 0.0) * width * width / 6)


# ---- leg -----------------------------------------------------------------------------------------


def _inseam(frame: Frame, point: Point) -> tuple[Curve, float]:
    """The front inseam from the crotch point to the hem, and the lean at which it leaves [degrees].

    One hollow arc down to the calf, as hollow as the knee allows, and one S from there to the ankle. With its
    upper lean half of what three chords want over the lower the arc bends one way only.
    """
    height, share = point.y - frame.calf_level, (point.y - frame.knee) / (point.y - frame.calf_level)
    half_thigh, half_knee = -point.x, frame.knee_girth / 2
    half_calf = max(frame.calf / 2, (half_knee - (1 - share) * half_thigh) / share)
    calf, hem = Point(-half_calf, frame.calf_level), Point(-frame.ankle / 2, frame.hem)
    chord = _lean(point, calf)
    out, arriving = share * (1 - share) ** 2, share * share * (1 - share)
    drawn_in = (
        half_thigh - (half_thigh - half_calf) * (3 - 2 * share) * share * share - 1.5 * out * height * chord
    )
    needed = (half_knee - drawn_in) / (height * (out / 2 + arriving))
    at_calf = min(max(_lean_between(point, calf, hem), needed), chord)
    start = (3 * chord - at_calf) / 2
    upper = _part(point, start, calf, at_calf)
    wide = level.crossing(upper, frame.knee)
    if -wide.x > frame.knee_most / 2:
        knee = Point(-frame.knee_most / 2, frame.knee)
        start, at_calf, upper = _to_slim_knee(point, knee, calf, at_calf, upper)
    lower = _part(calf, at_calf, hem, ANKLE_LEAN * _lean(calf, hem))
    return upper.then(lower), math.degrees(math.atan(start))


def _to_slim_knee(
    point: Point, knee: Point, calf: Point, at_calf: float, arc: Curve
) -> tuple[float, float, Curve]:
    """From a stout thigh to a slim knee and on to the calf, hollower than the arc that passes it wider; with
    the leans at its start and at the calf. As the knee comes nearer to the arc, so does the line."""
    wide, along = level.crossing(arc, knee.y), arc.tangent_at_length(level.distance_to(arc, knee.y))
    left = max(_lean(knee, calf), 0.0) / _lean(wide, calf)  # of the narrowing between knee and calf
    at_knee = -along.x / along.y * left
    start = (3 * _lean(point, knee) - at_knee) / 2
    at_calf *= left
    return start, at_calf, _part(point, start, knee, at_knee).then(_part(knee, at_knee, calf, at_calf))


def _lean(upper: Point, lower: Point) -> float:
    """Cm aside a cm down, positive when it nears the axis on its way down."""
    return (lower.x - upper.x) / (upper.y - lower.y)


def _lean_between(above: Point, at: Point, below: Point) -> float:
    """The lean at a level at which the line neither overshoots it nor waves: a weighted harmonic mean of the
    leans to both sides, upright where they go opposite ways.

    Source: F. N. Fritsch, J. Butland, SIAM Journal on Scientific and Statistical Computing 5 (1984) 300-304.
    """
    one, other = _lean(above, at), _lean(at, below)
    if one * other <= 0:
        return 0.0
    high, low = above.y - at.y, at.y - below.y
    share = (high + 2 * low) / (3 * (high + low))
    return one * other / (share * other + (1 - share) * one)


def _part(upper: Point, lean: float, lower: Point, other: float) -> Curve:
    third = (upper.y - lower.y) / 3
    first = Point(upper.x + lean * third, upper.y - third)
    second = Point(lower.x - other * third, lower.y + third)
    return Curve((Cubic(upper, first, second, lower),))


def across(leg: Leg, y: float, at: Callable[[Curve, float], Point]) -> Curve:
    """A level line across the leg between its inseams."""
    left = at(leg.front_inseam, y)
    return line(left, Point(-left.x, left.y))
