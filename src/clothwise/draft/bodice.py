"""The bodice frame: neck, shoulders, underarm, widths, side seam and bust dart of an upper body.

Every upper garment starts here. Half of the body, centre on x = 0, side at +x, the natural waist y = 0,
y up, cm. The front is thought with its bust dart closed first: its side seam is then the back's. Everything
outside and above the dart is turned open about the bust point, which makes dart legs and side seams equal by
construction.

    T       half the bust with ease          theta   angle of the bust dart [degrees]
    D       back neck point above underarm   c       front neck point above the bust point
    r       bust point to side seam          G       what the arm takes between chest and back

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; the dart's angle is that of a full
bust adjustment: half of the cup gained over the way from bust point to armhole. Not drawn: a belly, a shoulder
blade dart (only 0.5 of ease in the back shoulder), unlike sides. Nothing has been sewn from it yet: make a
toile for a close fit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import RIGHT, Curve, Point, Vector, heading, line, meeting, sweep
from clothwise.draft import armhole
from clothwise.draft.neckline import Neck, along_shoulder, close_neck
from clothwise.draft.posture import UPRIGHT, Posture, turn_deg
from clothwise.errors import DraftError, MeasureError
from clothwise.garment import Note

SLOPE_APART_DEG = 2.0  # degrees: the shoulder seam lies a little forward: the back slopes less
BACK_SHOULDER_EASE = 0.5  # cm: the back shoulder is eased onto the front over the shoulder blade
BACK_EASE, FRONT_EASE = 0.5, 0.3  # cm: room across, on one half
INSIDE_SHOULDER = 0.4  # cm: the width at the arm lies at least so far inside the shoulder point
FRONT_NARROWER = 0.3  # cm: and the front at least so much inside the back
ARM_LEAST = (0.30, 1.0)  # share of the upper arm and cm that the armhole is wide, at least
ARM_MOST = (0.45, 2.0)  # and at most
ARM_MOST_LOOSE = 0.25  # of the bust ease beyond USUAL_EASE goes into the armhole's width
USUAL_EASE = 8.0  # cm
SWING = 0.044  # of T per sine of the dart: the opened dart brings the front underarm in by so much
LACK_BACK = 0.4  # of what the arm lacks is taken from the back, the rest from the front
FRONT_LOWER = 0.5  # cm: front neck point over underarm less than the back's
CUP_SHARE = 8.0  # the front's side lies cup / 8 farther out than the back's, so it carries the cup
SIDE_FORWARD = 0.25  # cm: half of what the front is wider without a cup
SIDE_LEAST, SIDE_MOST = 0.42, 0.56  # of G: the underarm lies so far from the back's width
SIDE_OFF = (0.06, 0.5)  # share of T and cm that the side may lie off the middle
CUP_SETTLES = (0.5, 3.0)  # cm of cup over which the side seam passes from the arm's middle to the cup's rule
CUP_REACH = 0.16  # of the bust: way from bust point to armhole over which half the cup is gained
LEAST_DART_DEG, MOST_DART_DEG = 3.5, 32.0  # degrees: less is left as ease; more wants a princess seam
LEVEL_WITH_BUST_YEARS = 11.0  # below this age the bust is flat: no dart is drawn
DART_FALLS_DEG = 8.0  # degrees: a side dart points up to the bust from below
DART_BELOW_ARM = 2.5  # cm: the lower leg ends at least this much below the underarm
DART_ABOVE_WAIST = 0.22  # of the underarm's height: and so far above the waist
BUST_BELOW_ARM = 2.5  # cm: without a dart the bust line is taken this much below the underarm
LOW_ARM_MOST = 0.6  # of the way from underarm to bust line that the underarm goes down with a low shoulder
LOW_ARRIVES = 1.05  # of its mean turn a low shoulder has turned where it ends: bowed near the neck
BUST_BELOW_MOST = 0.5  # of the way to the waist, where that is less
LOWEST_ARM = 0.12  # of the back waist length: an underarm nearer to the waist binds the arm
BACK_WIDER = (0.8, 0.05)  # cm and share of the bust ease: the back may be so much wider than taped, on one half
SPEAK = 0.5  # cm on one half: from here on a width that had to be made narrower is told,
SPEAK_WIDER = 1.25  # and from here on one that is wider: with ease at the bust the back may be wider too


@dataclass(frozen=True, slots=True)
class Room:
    """What the garment leaves: ease at the bust in the round; the underarm below the armpit; cm.

    slope_apart_deg  back and front shoulder slope differ by twice this; 0 where they must be equal (raglan)
    darted           False where the cup is left to the cloth (knits, raglan without dart)
    """

    bust: float
    drop: float
    slope_apart_deg: float = SLOPE_APART_DEG
    darted: bool = True
    posture: Posture = UPRIGHT


@dataclass(frozen=True, slots=True)
class Bust:
    """The bust point on the front, the dart's whole angle, and where its lower leg ends on the side seam."""

    point: Point
    dart_deg: float
    lower_leg: Point

    def opened(self, p: Point) -> Point:
        """Where a point outside and above the dart comes to lie when the dart is opened."""
        return p.rotated(self.point, self.dart_deg)

    @property
    def upper_leg(self) -> Point:
        return self.opened(self.lower_leg)


@dataclass(frozen=True, slots=True)
class Half:
    """Front or back: close neck point, shoulder slope, shoulder point, half width at the arm, underarm point.

    out   direction square to the side seam at the underarm: level, but on a front with its dart open
    drop_deg  so much steeper than at the neck the shoulder arrives at its point, which lies low [degrees]
    """

    neck_point: Point
    slope_deg: float
    shoulder: Point
    width: float
    underarm: Point
    out: Vector
    drop_deg: float = 0.0

    def shoulder_from(self, start: Point) -> Curve:
        """The shoulder from a neckline's start: straight, or bowed down to a low shoulder point."""
        if not self.drop_deg:
            return line(start, self.shoulder)
        return sweep(start, heading(-self.slope_deg), self.shoulder, heading(-self.slope_deg - self.drop_deg))


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame of an upper body. Heights above the waist, half widths. [cm]

    side_back, side_front  x of the side seam, the front's with the dart closed
    bust_level             height of the bust line: the side seam is vertical from the underarm down to it
    """

    nape: float
    underarm: float
    half: float
    neck: Neck
    back: Half
    front: Half
    side_back: float
    side_front: float
    bust: Bust | None
    bust_level: float
    cup: float
    notes: tuple[Note, ...] = ()


def frame(body: Body, room: Room) -> Frame:
    """The frame for this body. Raises MeasureError or DraftError with one sentence."""
    half = (body["bust_girth"] + room.bust) / 2
    nape = body["back_waist_length"] + room.posture.round_back
    underarm = body["back_waist_length"] - body["armscye_depth"] - room.drop
    _refuse_low_arm(body, underarm)
    cup = cup_of(body)
    dart_deg = dart_angle_deg(cup, body["bust_girth"]) if room.darted else 0.0
    apart = room.slope_apart_deg + turn_deg(body["shoulder_length"], room.posture.forward_shoulder)
    back_slope, front_slope = body["shoulder_slope_deg"] - apart, body["shoulder_slope_deg"] + apart
    neck = close_neck(body["neck_base_girth"], back_slope, front_slope)
    back_neck = Point(neck.width, nape + neck.rise)
    shoulder = along_shoulder(back_neck, back_slope, body["shoulder_length"] + BACK_SHOULDER_EASE)
    front_x = along_shoulder(back_neck, front_slope, body["shoulder_length"]).x
    back_width, front_width, notes = _widths(body, room, half, (shoulder.x, front_x), dart_deg)
    side = _side(half, back_width, front_width, cup)
    upright = back_neck.y - room.posture.round_back  # the front does not follow a rounded back
    bust = _bust(body, neck, upright - underarm, underarm, half - side, dart_deg)
    back = Half(back_neck, back_slope, shoulder, back_width, Point(side, underarm), RIGHT)
    front_neck = Point(neck.width, _front_neck(body, neck, upright, bust))
    front_shoulder = along_shoulder(front_neck, front_slope, body["shoulder_length"])
    under, out = Point(half - side, underarm), RIGHT
    if bust:
        under, out = bust.opened(under), RIGHT.turned(bust.dart_deg)
    front = Half(front_neck, front_slope, front_shoulder, front_width, under, out)
    level = bust.lower_leg.y if bust else underarm - min(BUST_BELOW_ARM, BUST_BELOW_MOST * underarm)
    found = Frame(nape, underarm, half, neck, back, front, side, half - side, bust, level, cup, notes)
    by = room.posture.low_shoulder
    return _with_low_shoulder(found, turn_deg(body["shoulder_length"], by), by) if by else found


# ---- posture ---------------------------------------------------------------------------------------


def _with_low_shoulder(upright: Frame, turn: float, by: float) -> Frame:
    """The frame with its shoulders bowed down to a lower point, and the underarm going down with it as far as
    the bust line lets it; the neck and all that lies below the bust line stay. [cm]"""
    lower = min(by, LOW_ARM_MOST * (upright.underarm - upright.bust_level))

    def half(one: Half) -> Half:
        length = one.neck_point.distance(one.shoulder)
        shoulder = along_shoulder(one.neck_point, one.slope_deg + turn, length)
        return replace(
            one,
            shoulder=shoulder,
            width=min(one.width, shoulder.x - INSIDE_SHOULDER),
            underarm=one.underarm.go(one.out.right(), lower),
            drop_deg=LOW_ARRIVES * turn,
        )

    return replace(upright, back=half(upright.back), front=half(upright.front))


def back_armhole(half: Half) -> Curve:
    """The back armhole, from the shoulder point to the underarm."""
    return armhole.armhole(
        half.shoulder,
        half.slope_deg + half.drop_deg,
        half.width,
        half.underarm,
        half.out,
        armhole.BACK_UP,
        armhole.BACK_HANDLES,
    )


def front_armhole(half: Half) -> Curve:
    """The front armhole, from the shoulder point to the underarm, its side dart open."""
    return armhole.armhole(
        half.shoulder,
        half.slope_deg + half.drop_deg,
        half.width,
        half.underarm,
        half.out,
        armhole.FRONT_UP,
        armhole.FRONT_HANDLES,
    )


# ---- cup and dart ----------------------------------------------------------------------------------


def cup_of(body: Body) -> float:
    """Bust over high bust, of women and of girls who have one. [cm]"""
    grown = body.figure == "woman" or (
        body.figure == "girl" and (body.age_years or 0.0) >= LEVEL_WITH_BUST_YEARS
    )
    return max(body["bust_girth"] - body["high_bust_girth"], 0.0) if grown else 0.0


def dart_angle_deg(cup: float, bust_girth: float) -> float:
    """The bust dart's whole angle; 0 where it would be too small to sew. Refused where it is too large."""
    angle = math.degrees(cup / 2 / (CUP_REACH * bust_girth))
    if angle > MOST_DART_DEG:
        raise MeasureError(
            f"Bust {bust_girth:.1f} cm is {cup:.1f} cm over the high bust, more than a dart can shape.",
            where="measures: bust girth, high bust girth",
            mend="Measure the high bust again, close under the arms; so full a bust wants a princess seam.",
        )
    return angle if angle >= LEAST_DART_DEG else 0.0


def _bust(body: Body, neck: Neck, d: float, underarm: float, side: float, dart_deg: float) -> Bust | None:
    if not dart_deg:
        return None
    x, c = _bust_x(body), _neck_to_bust(body, neck)
    sine, cosine = math.sin(math.radians(dart_deg)), math.cos(math.radians(dart_deg))
    y = underarm + (d - FRONT_LOWER - c + (side - x) * sine) / cosine
    point = Point(x, y)
    meets = meeting(point, heading(-DART_FALLS_DEG), Point(side, 0.0), Vector(0.0, 1.0))
    assert meets is not None
    low = min(max(meets.y, DART_ABOVE_WAIST * underarm), underarm - DART_BELOW_ARM)
    return Bust(point, dart_deg, Point(side, low))


def _front_neck(body: Body, neck: Neck, back_neck: float, bust: Bust | None) -> float:
    if bust is None:
        return back_neck - FRONT_LOWER
    return bust.point.y + _neck_to_bust(body, neck)


def bust_height(body: Body, frame: Frame) -> float:
    """Height of the bust point over the waist, also of those without a cup. [cm]"""
    return frame.front.neck_point.y - _neck_to_bust(body, frame.neck)


def _bust_x(body: Body) -> float:
    return body["bust_point_distance"] / 2


def _neck_to_bust(body: Body, neck: Neck) -> float:
    """Height of the front neck point over the bust point, from the tape between them. [cm]"""
    aside = _bust_x(body) - neck.width
    return math.sqrt(body["shoulder_neck_point_to_bust_point"] ** 2 - aside**2)


# ---- widths ----------------------------------------------------------------------------------------


def _widths(
    body: Body, room: Room, half: float, shoulders: tuple[float, float], dart_deg: float
) -> tuple[float, float, tuple[Note, ...]]:
    """Half widths of back and front at the arm, so that the arm has the room it needs between them. [cm]

    shoulders  how far from the centre back and front shoulder point lie
    """
    asked = (body["across_back"] / 2 + BACK_EASE, body["across_front"] / 2 + FRONT_EASE)
    most_back, most_front = (x - INSIDE_SHOULDER for x in shoulders)
    back = min(asked[0], most_back)
    front = min(asked[1], back - FRONT_NARROWER, most_front)
    arm = body["upper_arm_girth"]
    swing = SWING * half * math.sin(math.radians(dart_deg))
    room_for_arm = half - back - front - swing
    lack = ARM_LEAST[0] * arm + ARM_LEAST[1] - room_for_arm
    most = ARM_MOST[0] * arm + ARM_MOST[1] + ARM_MOST_LOOSE * max(room.bust - USUAL_EASE, 0.0)
    if lack > 0:
        back, front = back - LACK_BACK * lack, front - (1 - LACK_BACK) * lack
    elif room_for_arm > most:
        over = room_for_arm - most
        most_back = min(most_back, asked[0] + BACK_WIDER[0] + BACK_WIDER[1] * room.bust)  # the tape counts
        both = max(min(over / 2, most_back - back, most_front - front), 0.0)
        back, front = back + both, front + both
        rest = over - 2 * both
        front += min(rest, max(min(back - FRONT_NARROWER, most_front) - front, 0.0))
        back += min(max(half - back - front - swing - most, 0.0), max(most_back - back, 0.0))
    changes = (("across_back", "the back", back - asked[0]), ("across_front", "the front", front - asked[1]))
    return back, front, _width_notes(changes, half - back - front - swing - most)


def _width_notes(changes: tuple[tuple[str, str, float], ...], over: float) -> tuple[Note, ...]:
    notes = []
    for measure, where, by in changes:
        if by <= -SPEAK:
            text = (
                f"Across {where} it is {-2 * by:.1f} cm narrower than measured, so that the armhole lies "
                "between shoulder point and side: measure across back, across front and shoulder length again."
            )
            notes.append(Note(text, measure, 2 * by))
        elif by >= SPEAK_WIDER:
            text = (
                f"Across {where} it is {2 * by:.1f} cm wider than measured, so that the armhole is not wider "
                "than the arm needs."
            )
            notes.append(Note(text, measure, 2 * by))
    if over >= SPEAK:
        text = f"The armhole is {over:.1f} cm wider than the arm needs: the shoulders are narrow for the bust."
        notes.append(Note(text))
    return tuple(notes)


def _side(half: float, back: float, front: float, cup: float) -> float:
    """How far from the centre back the side seam lies. [cm]"""
    arm = half - back - front
    middle = back + 0.5 * arm
    for_cup = half / 2 - SIDE_FORWARD - cup / CUP_SHARE
    low, high = CUP_SETTLES
    share = min(max((cup - low) / (high - low), 0.0), 1.0)
    side = middle + share * (for_cup - middle)
    off = SIDE_OFF[0] * half + SIDE_OFF[1]
    side = min(max(side, half / 2 - off), half / 2 + off)
    return min(max(side, back + SIDE_LEAST * arm), back + SIDE_MOST * arm)


def _refuse_low_arm(body: Body, underarm: float) -> None:
    least = LOWEST_ARM * body["back_waist_length"]
    if underarm < least:
        raise DraftError(
            f"The underarm would lie {underarm:.1f} cm above the waist, too low to lift an arm.",
            where=f"body '{body.name}': armscye depth, back waist length",
            mend="Measure armscye depth and back waist length again, or choose a closer fit.",
        )


MEASURES = (
    "bust_girth",
    "high_bust_girth",
    "neck_base_girth",
    "shoulder_length",
    "shoulder_slope_deg",
    "across_back",
    "across_front",
    "back_waist_length",
    "armscye_depth",
    "upper_arm_girth",
)
BUST_MEASURES = ("bust_point_distance", "shoulder_neck_point_to_bust_point")
