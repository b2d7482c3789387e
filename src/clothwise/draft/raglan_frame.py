"""The frame of a raglan pullover: how far the neck is opened, where underarm and side seam lie, how wide the
sleeve is.

Half of the body, centre on x = 0, side at +x, the natural waist y = 0, y up, cm. The side seam is one straight
line from the underarm to the hem; at the bust line it stands out by a quarter of bust and ease.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; ease from the rules of the trade I1.
Not drawn: a bust dart. A full bust is given length by lifting the front neck; beyond CUP_SPEAKS a note says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import LEFT, Curve, NoSolution, Point, Vector, corner, solve
from clothwise.draft import bodice, fit, raglan_neck, raglan_seam
from clothwise.draft.bodice import LOW_ARM_MOST
from clothwise.draft.neckline import along_shoulder, square_to_shoulder
from clothwise.draft.pattern import Wish
from clothwise.draft.possible import at_most
from clothwise.draft.posture import Posture, posture_of, turn_deg
from clothwise.draft.raglan_seam import Arm, BodyHalf, SleeveHalf
from clothwise.errors import ChoiceError, DraftError, MeasureError, WorkroomError
from clothwise.garment import Note
from clothwise.tolerance import ON_OUTLINE, SOLVE

LOWER_ARMHOLE = 2.5  # cm below what the fit says: a raglan lifts the arm from farther down (child 0.8 of it)
WIDER_SLEEVE = 2.5  # cm more than a set-in sleeve: the raglan has no cap to take the arm's round (child 0.8)
FRONT_LOWER = 0.6  # cm the front neck is lowered, and of what the neck is opened along the shoulder
FRONT_LOWER_OF = 0.9
BACK_LOWER_OF = 0.22
LOWER_OF = BACK_LOWER_OF, FRONT_LOWER_OF
BACK_DIP = (
    0.22  # of its half width: the back neck lies at least so far below its neck point, else it turns sharply
)
BACK_HANDLES = (0.82, 0.58)
FRONT_HANDLES = (0.60, 0.62)
FRONT_BASE = 0.40  # of its half width: so much of the front neck turns into its base, at least
SHOULDER_LEFT = 2.5  # cm of shoulder between neck and shoulder point, at least; of a child's short shoulder
SHOULDER_LEFT_SHARE = 0.20  # this share
LOWER_MOST = 5.0  # cm: a neck opened to there is lowered so much farther, where the head asks it;
LOW_SHOULDER_MORE = 2.0  # cm: on a low shoulder, which makes it a little smaller, so much more
FRONT_WIDER = 0.4  # cm: the side seam lies so far behind the middle
BUST_BELOW_ARM = 2.5  # cm: the bust line below the underarm
LOWEST_ARM = 0.20  # of the back waist length above the waist
LEAST_LEAN = 0.06  # the side stands out by so much of its length: it hangs clear of the hip
CUP_LIFT, LIFT_MOST = 0.175, 2.5  # of the cup, and cm: the front neck is lifted, so that the front is longer
CUP_SPEAKS = 10.0  # cm of cup: the front hangs from the bust, a dart would be better
SPEAK = 0.3  # cm: from here on a change is told

Slopes = tuple[float, float]  # of back and front shoulder [degrees]


@dataclass(frozen=True, slots=True)
class Want:
    """What the choices ask. [cm]

    neck     girth of the neck edge as cut; no_neck: the refusal when only girths from .. to .. are possible
    fall     of the arm line below the shoulder slope [degrees]
    hips     girth to be passed at `hips_depth` below the waist; hem: at least so wide at `hem_depth`
    """

    neck: float
    no_neck: Callable[[float, float], WorkroomError]
    fall: float
    hips: float
    hips_depth: float
    hem: float
    hem_depth: float


@dataclass(frozen=True, slots=True)
class Frame:
    """front, back: the body's halves; sleeve_front, sleeve_back: the sleeve's. [cm]

    arms    of front and back, on the body; fall_deg below the shoulder; opened: neck point moved along it
    bust    height of the bust line, where the side seam stands at side_front, side_back
    lean    how much the side seam stands out for each cm down
    ease    at the bust and at the upper arm
    """

    front: BodyHalf
    back: BodyHalf
    sleeve_front: SleeveHalf
    sleeve_back: SleeveHalf
    arms: tuple[Arm, Arm]
    fall_deg: float
    opened: float
    bust: float
    side_front: float
    side_back: float
    lean: float
    bust_ease: float
    arm_ease: float
    notes: tuple[Note, ...]

    @property
    def darted(self) -> bool:
        """Whether the arm falls steeper than the shoulder, so that the sleeve has a dart there."""
        return self.fall_deg > 0

    @property
    def underarm(self) -> float:
        """Height of the underarm."""
        return self.front.raglan.end.y

    @property
    def down(self) -> Vector:
        """Down the side seam."""
        return Vector(self.lean, -1.0).unit()

    def side_at(self, half: BodyHalf, y: float) -> Point:
        """The point of the side seam at that height."""
        end = half.raglan.end
        return Point(end.x + self.lean * (end.y - y), y)

    def girth_at(self, y: float) -> float:
        """Round the body at that height, below the underarm. [cm]"""
        return 2 * (self.side_at(self.front, y).x + self.side_at(self.back, y).x)


def frame(body: Body, wish: Wish, want: Want) -> Frame:
    """Raises MeasureError, ChoiceError or DraftError with one sentence."""
    ease, drop = fit.ease("bust", body, wish), fit.armhole_drop(body, wish) + _scaled(body, LOWER_ARMHOLE)
    base = bodice.frame(body, bodice.Room(ease, drop, slope_apart_deg=0.0, darted=False))
    held = posture_of(body, wish, raglan_neck.NAME)
    point = Point(base.neck.width, base.nape + base.neck.rise)
    slopes, (back_neck, front_neck), opened = _shoulders(body, want, held, base, point)
    lift = min(CUP_LIFT * base.cup, LIFT_MOST)
    front_neck = front_neck.moved(Vector(0.0, lift))
    back_neck = back_neck.moved(Vector(0.0, held.round_back))
    arms = _arms((back_neck.start, front_neck.start), slopes, body["shoulder_length"] - opened, want.fall)
    side_front, side_back = base.half / 2 + FRONT_WIDER, base.half / 2 - FRONT_WIDER
    front_parts, back_parts = raglan_seam.split_neck(front_neck), raglan_seam.split_neck(back_neck)
    underarm = min(
        base.underarm,
        raglan_seam.highest_underarm(front_parts[0].end, side_front),
        raglan_seam.highest_underarm(back_parts[0].end, side_back),
    )
    _refuse_low(body, underarm)
    bust = underarm - BUST_BELOW_ARM
    lean = max(
        LEAST_LEAN,
        (want.hips / 4 - base.half / 2) / (bust + want.hips_depth),
        (want.hem / 4 - base.half / 2) / (bust + want.hem_depth),
    )
    out = Vector(1.0, lean).unit()
    lower = min(held.low_shoulder, LOW_ARM_MOST * BUST_BELOW_ARM)  # along the side, which stays
    in_by, underarm = lean * (BUST_BELOW_ARM - lower), underarm - lower
    front = raglan_seam.body_half(*front_parts, Point(side_front - in_by, underarm), out, raglan_seam.FRONT)
    back = raglan_seam.body_half(*back_parts, Point(side_back - in_by, underarm), out, raglan_seam.BACK)
    width, notes = _sleeve_width(body, wish, front, back, arms)
    sleeve_front, sleeve_back = raglan_seam.sleeve_halves(front, back, arms, width)
    sag = max(raglan_seam.sag(sleeve_front), raglan_seam.sag(sleeve_back))
    if sag > ON_OUTLINE:
        raise _sagging(body, sag, raglan_seam.widest(front, back, arms, width))
    return Frame(
        front,
        back,
        sleeve_front,
        sleeve_back,
        arms,
        want.fall,
        opened,
        bust,
        side_front,
        side_back,
        lean,
        bust_ease=ease,
        arm_ease=width - body["upper_arm_girth"],
        notes=(*notes, *_cup_notes(base.cup)),
    )


def _scaled(body: Body, cm: float) -> float:
    return fit.OF_CHILD * cm if body.child else cm


# ---- neck ------------------------------------------------------------------------------------------


def _shoulders(
    body: Body, want: Want, held: Posture, base: bodice.Frame, point: Point
) -> tuple[Slopes, tuple[Curve, Curve], float]:
    """Slopes of back and front shoulder as they are held, both necks, and how far they are opened along the
    shoulders for the edge wanted. A low shoulder falls from where the neck begins, whose middle stays.
    [degrees, cm]"""
    apart = turn_deg(body["shoulder_length"], held.forward_shoulder)
    level = body["shoulder_slope_deg"] - apart, body["shoulder_slope_deg"] + apart
    opened = _opened(body, want, lambda x, low: _necks(base, point, level, x, low))
    necks = _necks(base, point, level, *opened)
    if not held.low_shoulder:
        return level, necks, opened[0]
    turn = turn_deg(body["shoulder_length"], held.low_shoulder)
    slopes, middles = (level[0] + turn, level[1] + turn), (necks[0].end, necks[1].end)

    def between(wide: float, low: float) -> tuple[Curve, Curve]:
        """The middles only lie lower where the neck is at its widest and still too small."""
        behind, before = (along_shoulder(point, slope, wide) for slope in level)
        more = max(low - max(opened[1], wide), 0.0)
        back, front = (middle.down(of * more) for middle, of in zip(middles, LOWER_OF, strict=True))
        return _necks_between((behind, before), slopes, (back, front))

    wide, low = _opened(body, want, between, LOW_SHOULDER_MORE)
    return slopes, between(wide, low), wide


def _arms(starts: tuple[Point, Point], slopes: Slopes, shoulder: float, fall: float) -> tuple[Arm, Arm]:
    """The arms of front and back, from where their necks begin, `shoulder` of it left. [cm, degrees]"""
    back, front = (
        Arm(along_shoulder(start, slope, shoulder), slope + fall)
        for start, slope in zip(starts, slopes, strict=True)
    )
    return front, back


def _necks(base: bodice.Frame, point: Point, slopes: Slopes, wide: float, low: float) -> tuple[Curve, Curve]:
    """Back and front neck, the neck point moved `wide` along the shoulders, the centres lowered by shares of
    `low`. [cm]"""
    behind, before = (along_shoulder(point, slope, wide) for slope in slopes)
    front = Point(0.0, point.y - base.neck.depth - FRONT_LOWER - FRONT_LOWER_OF * low)
    back = Point(0.0, min(base.nape - BACK_LOWER_OF * low, behind.y - BACK_DIP * behind.x))
    return _necks_between((behind, before), slopes, (back, front))


def _necks_between(
    starts: tuple[Point, Point], slopes: Slopes, middles: tuple[Point, Point]
) -> tuple[Curve, Curve]:
    """Both necks from the shoulders to their middles. [cm]

    Both leave square to the shoulder; on a steep shoulder turned a little, alike, so that a deep front does not
    come to a point at its centre.
    """
    (behind, before), (back, front) = starts, middles
    steepest = math.degrees(math.atan2((1 - FRONT_BASE) * before.x, before.y - front.y))
    turn = max(slopes[1] - steepest, 0.0)
    return (
        corner(behind, square_to_shoulder(slopes[0]).turned(-turn), back, LEFT, *BACK_HANDLES),
        corner(before, square_to_shoulder(slopes[1]).turned(turn), front, LEFT, *FRONT_HANDLES),
    )


def _opened(
    body: Body,
    want: Want,
    necks: Callable[[float, float], tuple[Curve, Curve]],
    more: float = 0.0,
) -> tuple[float, float]:
    """How far the neck is opened along the shoulder and lowered for the edge wanted, `more` than else where it
    must be. [cm]"""
    shoulder = body["shoulder_length"]
    widest = shoulder - min(SHOULDER_LEFT, SHOULDER_LEFT_SHARE * shoulder)

    def round_neck(x: float) -> float:
        return 2 * sum(curve.length() for curve in necks(min(x, widest), x))

    most = widest + LOWER_MOST
    if more and round_neck(most) < want.neck:
        most += more
    try:
        x = solve(round_neck, want.neck, 0.0, most, tolerance=SOLVE)
    except NoSolution as out:
        raise want.no_neck(out.low, out.high) from out
    return min(x, widest), x


# ---- underarm and sleeve ---------------------------------------------------------------------------


def _refuse_low(body: Body, underarm: float) -> None:
    least = LOWEST_ARM * body["back_waist_length"]
    if underarm < least:
        raise DraftError(
            f"The raglan would reach down to {underarm:.1f} cm above the waist, too low to lift an arm.",
            where=f"body '{body.name}': bust girth, shoulder length, armscye depth",
            mend="Measure them again, or choose a closer fit: the shoulders are narrow for so wide a body.",
        )


def _sleeve_width(
    body: Body, wish: Wish, front: BodyHalf, back: BodyHalf, arms: tuple[Arm, Arm]
) -> tuple[float, tuple[Note, ...]]:
    """Width under the arm: as asked, else as wide as the seam needs to be gentle. [cm]"""
    more = 0.0 if "arm_ease" in wish else _scaled(body, WIDER_SLEEVE)
    asked = body["upper_arm_girth"] + fit.ease("arm", body, wish) + more
    least, most = raglan_seam.widths(front, back, arms)
    if asked > most:
        most = raglan_seam.widest(front, back, arms, most)
        raise _too_wide(body, asked, most, chosen="arm_ease" in wish)
    if asked >= least:
        return asked, ()
    by = least - asked
    if by < SPEAK:
        return least, ()
    text = f"The sleeve is {by:.1f} cm wider than asked, so that its raglan seam runs without a hook."
    return least, (Note(text, "arm_ease", by),)


def _too_wide(body: Body, asked: float, most: float, *, chosen: bool) -> WorkroomError:
    what = f"A sleeve {asked:.1f} cm wide does not fit into this raglan."
    possible = f"{at_most(most - body['upper_arm_girth'])} cm of arm ease or less"
    if chosen:
        mend = f"For this body {possible} is possible; a looser fit has a deeper armhole."
        return ChoiceError(what, where="choice 'arm_ease'", mend=mend)
    where = f"body '{body.name}': upper arm girth, armscye depth"
    return MeasureError(what, where=where, mend=f"Measure them again, or ask {possible}.")


def _sagging(body: Body, sag: float, most: float) -> ChoiceError:
    """Of a sleeve far wider than its armhole, whose seam would fall below the underarm and rise again."""
    return ChoiceError(
        f"So wide a sleeve would sag {sag:.1f} cm below the underarm.",
        where=f"pattern '{raglan_neck.NAME}', choice 'arm_ease'",
        mend=f"For this body {at_most(most - body['upper_arm_girth'])} cm of arm ease or less is possible; a "
        "looser fit has a lower underarm.",
    )


def _cup_notes(cup: float) -> tuple[Note, ...]:
    if cup <= CUP_SPEAKS:
        return ()
    text = (
        f"The bust is {cup:.0f} cm over the high bust and this pullover has no bust dart: "
        "choose a loose fit and a cloth that hangs."
    )
    return (Note(text),)


MEASURES = (*bodice.MEASURES, "head_girth", "arm_length", "wrist_girth", "waist_to_hip")
