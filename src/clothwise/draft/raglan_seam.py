"""The raglan seam: body and sleeve share its upper part, below they part and run to the underarm, equally long.

Each half of the body (front, back) is drawn with its centre on x = 0, side at +x, y up, cm; the half of the
sleeve that belongs to it is drawn in its place on the body, its arm line leaving the shoulder point. So what
neck and raglan have in common is one curve cut in two, and every corner at the neck runs on by itself.

    N   where neck and raglan meet        P    where body and sleeve part
    U   underarm of the body              Us   underarm of the sleeve, t along the arm and w off the arm line
    a   direction of the arm line         n    square to it, towards the underarm
    psi   from a to the chord P-Us [radians]      theta   from a to the seam's direction at P

The sleeve's lower curve keeps its shape whatever its size: its handles are shares of its chord. So for every
psi the chord that makes it as long as the body's is known at once, and psi of front and back are solved
together (Newton) for one t, which makes the underarm seams equal, and for the width of the sleeve.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`: handles, parting point and directions
chosen for the gentlest curves there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.curve import UP, Cubic, Curve, Point, Vector, heading, sweep
from clothwise.draft.possible import greatest
from clothwise.errors import DraftError
from clothwise.tolerance import ARC_LENGTH, ON_OUTLINE, SOLVE

NECK_SHARE = 0.30  # of either neckline belongs to the sleeve,
NECK_LEAST, NECK_MOST = 1.8, 5.0  # cm, within these
PART_AT = 0.24  # of the way from neck to underarm: body and sleeve part there
BODY_HANDLES = (0.30, 0.50)  # shares of the chord: fuller at the underarm
SLEEVE_HANDLES = (0.33, 0.45)
UPPER_HANDLES = (1 / 3, 1 / 3)
HOLLOW_DEG = 14.0  # degrees: the sleeve's chord may lie so much flatter than its seam begins; beyond, it hooks
UPRIGHT_DEG = 76.0  # degrees: steeper, the underarm lies on the parting point
FLATTEST_DEG = 41.0  # degrees: a raglan that falls less is a wing
STEPS = 30  # of Newton: 3-4 are the rule
STEP_MOST = 0.3  # radians: longest step
NUDGE = 0.0005  # radians, for the slope


@dataclass(frozen=True, slots=True)
class Side:
    """How front and back differ: how far the seam is pushed into the body at P, as a share of its chord; how
    much it falls steeper there than the chord. [degrees]"""

    push: float
    steeper_deg: float


FRONT = Side(0.020, 5.0)  # the front is hollowed more: the arm reaches forward
BACK = Side(0.008, 2.5)


@dataclass(frozen=True, slots=True)
class BodyHalf:
    """One half of the body without its sleeve.

    sleeve_neck  from the shoulder line to N; neck: from N to the centre
    upper        from N to P; lower: from P to U, square to the side seam
    """

    sleeve_neck: Curve
    neck: Curve
    upper: Curve
    lower: Curve

    @property
    def raglan(self) -> Curve:
        """The body's edge, from the neck to the underarm."""
        return self.upper.then(self.lower)

    @property
    def parting(self) -> Point:
        return self.lower.start

    @property
    def along(self) -> Vector:
        """The seam's direction where body and sleeve part."""
        return self.lower.start_tangent


@dataclass(frozen=True, slots=True)
class Arm:
    """Where the arm leaves the body: the shoulder point, and its fall against the level. [degrees]"""

    shoulder: Point
    fall_deg: float

    @property
    def along(self) -> Vector:
        return heading(-self.fall_deg)

    @property
    def across(self) -> Vector:
        return self.along.right()

    def seen(self, p: Point) -> Point:
        """The point in the arm's own directions: so far along the arm, so far off its line."""
        way = self.shoulder.to(p)
        return Point(way.dot(self.along), way.dot(self.across))

    def placed(self, p: Point) -> Point:
        return self.shoulder.go(self.along, p.x).go(self.across, p.y)


@dataclass(frozen=True, slots=True)
class SleeveHalf:
    """Half a sleeve in the arm's own directions: x along the arm, y off its line.

    neck from the shoulder line to N; raglan from N to the underarm
    """

    neck: Curve
    raglan: Curve

    @property
    def underarm(self) -> Point:
        return self.raglan.end


def split_neck(neck: Curve) -> tuple[Curve, Curve]:
    """A neckline from the shoulder to the centre: the sleeve's part and the body's."""
    return neck.split(min(max(NECK_SHARE * neck.length(), NECK_LEAST), NECK_MOST))


def highest_underarm(neck_end: Point, x: float) -> float:
    """The height at which an underarm so far out must lie at most, for the raglan to fall steeply enough."""
    return neck_end.y - math.tan(math.radians(FLATTEST_DEG)) * (x - neck_end.x)


def body_half(sleeve_neck: Curve, neck: Curve, underarm: Point, out: Vector, side: Side) -> BodyHalf:
    """The body's raglan from the neck to the underarm, which it reaches along `out`, square to the side."""
    start = sleeve_neck.end
    chord = start.to(underarm)
    parting = start.go(chord, PART_AT).go(chord.right(), side.push)
    along = chord.unit().turned(-side.steeper_deg)
    first = start.to(parting).unit()
    leaves = first.turned(
        math.degrees(math.asin(along.back().cross(first.back())))
    )  # one arc: as much before as after
    upper = sweep(start, leaves, parting, along, *UPPER_HANDLES)
    return BodyHalf(sleeve_neck, neck, upper, sweep(parting, along, underarm, out, *BODY_HANDLES))


# ---- the sleeve ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Reach:
    """The lower curve of one half of the sleeve: P in the arm's directions, theta, and its length. [cm]"""

    at: Point
    theta: float
    length: float

    @staticmethod
    def of(half: BodyHalf, arm: Arm) -> _Reach:
        along = half.along
        theta = math.atan2(along.dot(arm.across), along.dot(arm.along))
        return _Reach(arm.seen(half.parting), theta, half.lower.length())

    def end(self, psi: float) -> Point:
        """The sleeve's underarm for that direction of the chord, the curve as long as the body's."""
        chord = self.length / _shape(self.theta, psi).length(tolerance=ARC_LENGTH)
        return Point(self.at.x + chord * math.cos(psi), self.at.y + chord * math.sin(psi))

    def curve(self, psi: float) -> Curve:
        end = self.end(psi)
        leaves = Vector(math.cos(self.theta), math.sin(self.theta))
        return sweep(self.at, leaves, end, UP, *SLEEVE_HANDLES)


def _shape(theta: float, psi: float) -> Cubic:
    """The lower curve for a chord of one."""
    first, second = SLEEVE_HANDLES
    x, y = math.cos(psi), math.sin(psi)
    return Cubic(
        Point(0.0, 0.0),
        Point(first * math.cos(theta), first * math.sin(theta)),
        Point(x, y - second),
        Point(x, y),
    )


def widths(front: BodyHalf, back: BodyHalf, arms: tuple[Arm, Arm]) -> tuple[float, float]:
    """The narrowest and the widest sleeve these halves can take with a gentle seam. [cm]"""
    reaches = _Reach.of(front, arms[0]), _Reach.of(back, arms[1])
    flat = [r.end(max(r.theta - math.radians(HOLLOW_DEG), 0.0)) for r in reaches]
    steep = [r.end(math.radians(UPRIGHT_DEG)) for r in reaches]
    return flat[0].y + flat[1].y, steep[0].y + steep[1].y


def sleeve_halves(
    front: BodyHalf, back: BodyHalf, arms: tuple[Arm, Arm], width: float
) -> tuple[SleeveHalf, SleeveHalf]:
    """Front and back half of a sleeve of that width under the arm. [cm]

    Both underarms lie equally far down the arm. DraftError when no such sleeve fits the body.
    """
    one, other = _Reach.of(front, arms[0]), _Reach.of(back, arms[1])
    psi_f, psi_b = _solved(one, other, width)
    return (
        SleeveHalf(
            front.sleeve_neck.mapped(arms[0].seen), front.upper.mapped(arms[0].seen).then(one.curve(psi_f))
        ),
        SleeveHalf(
            back.sleeve_neck.mapped(arms[1].seen), back.upper.mapped(arms[1].seen).then(other.curve(psi_b))
        ),
    )


def sag(half: SleeveHalf) -> float:
    """How far its seam falls below the underarm, to rise to it again. [cm]"""
    points = half.raglan.flattened(tolerance=ON_OUTLINE / 10)
    return max(p.x for p in points) - half.underarm.x


def widest(front: BodyHalf, back: BodyHalf, arms: tuple[Arm, Arm], most: float) -> float:
    """The widest sleeve, up to `most`, whose seam does not sag. [cm]"""

    def hangs_clear(width: float) -> bool:
        return max(map(sag, sleeve_halves(front, back, arms, width))) <= ON_OUTLINE

    least, _ = widths(front, back, arms)
    return most if hangs_clear(most) else greatest(hangs_clear, least, most) or least


def _solved(one: _Reach, other: _Reach, width: float) -> tuple[float, float]:
    """psi of both halves: one distance along the arm, both widths together as asked."""
    p, q = (_first_guess(reach, width / 2) for reach in (one, other))
    for _ in range(STEPS):
        here, there = one.end(p), other.end(q)
        apart, over = here.x - there.x, here.y + there.y - width
        if abs(apart) + abs(over) <= SOLVE:
            return p, q
        near, far = one.end(p + NUDGE), other.end(q + NUDGE)
        px, py = (near.x - here.x) / NUDGE, (near.y - here.y) / NUDGE
        qx, qy = (far.x - there.x) / NUDGE, (far.y - there.y) / NUDGE
        det = px * qy + qx * py
        step_p, step_q = (-apart * qy - qx * over) / det, (py * apart - px * over) / det
        share = min(1.0, STEP_MOST / max(abs(step_p), abs(step_q)))
        p, q = p + share * step_p, q + share * step_q
    raise DraftError(
        f"A raglan sleeve {width:.1f} cm wide does not fit this body.",
        where="raglan seam",
        mend="Measure upper arm, armscye depth and shoulder length again, or choose another fit.",
    )


def _first_guess(reach: _Reach, half_width: float) -> float:
    return math.asin(min(max((half_width - reach.at.y) / (0.97 * reach.length), -0.5), 0.97))
