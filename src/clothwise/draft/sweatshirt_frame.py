"""What body and choices fix of a sweatshirt: neck, shoulders, armholes, cap and sleeve, sides, bands.

Half of front and back, centre on x = 0, the natural waist y = 0, y up, cm. They share all but the neck. With a
dropped shoulder the armhole lies so far down the arm and the cap is so flat that the arm moves freely.
The sleeve's width follows from the armhole and the height of the cap; where that is too narrow for the arm,
the underarm is lowered until it is wide enough.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; cap without ease in a knit (rules of
the trade I3); bands by the module `rib`. Not sewn yet.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import DOWN, RIGHT, Curve, NoSolution, Point, Vector, line, solve, sweep
from clothwise.draft import knit, knit_neck, neck_finish, rib, top_length
from clothwise.draft.armhole import armhole
from clothwise.draft.bodice import LOW_ARRIVES, Half
from clothwise.draft.cap import Armhole, Cap, cap_for, cap_of_height
from clothwise.draft.hem import hem_line
from clothwise.draft.neckline import along_shoulder
from clothwise.draft.pattern import Wish
from clothwise.draft.possible import at_most
from clothwise.draft.posture import UPRIGHT, Held, Posture, halves, posture_of
from clothwise.draft.sleeve import too_short
from clothwise.draft.tee_frame import ARM_EASE, HIGHEST_HEM, OF_CHILD, hand
from clothwise.draft.waist import girth_below_waist
from clothwise.errors import ChoiceError
from clothwise.garment import Note

NAME = "sweatshirt"
DROPPED, SET_IN = "dropped", "set-in"
DROP_OF_HEIGHT = 0.032  # the dropped shoulder ends so far down the arm: 5 cm on an adult,
INSIDE_SIDE = 0.5  # cm, but at least so far inside the side
SET_IN_MORE = 0.8  # cm: a sweatshirt's set-in shoulder, too, lies a little over the shoulder point
LOWER = 1.5  # cm: thicker than a tee, its underarm lies lower
# Height of the cap over the depth of the armhole: flat for a wide sleeve in which the arm lifts, higher where
# the sleeve would else be wider than the arm needs.
CAP_LOW = {DROPPED: 0.30, SET_IN: 0.56}
CAP_HIGH = {DROPPED: 0.40, SET_IN: 0.66}
CHEST_IN = {DROPPED: 1.4, SET_IN: 1.2}  # cm: the armhole's width lies so far inside the shoulder's end
BASE_OF_QUARTER = 0.19  # of the quarter: and so far inside the side, or the base of the armhole is too tight
UP = 0.38  # of the armhole's height: where that is taken
HANDLES = (0.56, 0.70)  # of the base, towards chest and underarm
NECK_LOWER, NECK_WIDER = 1.5, 1.0  # cm beyond a close round neck: the seam of a hood stands off the throat
BLOUSES = 1.5  # cm: the sleeve is so much longer than the arm and bags over its cuff
CUFF, CHILD_CUFF = 6.0, 5.0  # cm finished
CUFF_OF_WRIST = 1.12  # the cuff's girth: it holds, and slides up the arm
SLEEVE_OF_CUFF = 1.32  # the sleeve's edge over the cuff's girth
HEM_BAND, CHILD_HEM_BAND = 6.0, 5.0  # cm finished
HEM_OF_BODY = 0.90  # the band's girth over the body's where it lies, if its stretch allows
HIP_EASE = 4.0  # cm in the round at the hem's edge over the body: the band holds there, not the cloth
NARROWS = 0.05  # cm a cm: the sides come in so much from bust to hem at most
BUST_BELOW = 2.0  # cm below the underarm the bust line at least,
BUST_LEAST_BELOW = 0.5  # cm, and so far where a low shoulder brings the underarm down
MOST_LOWERED = 14.0  # cm
LOWERED_CLOSE = 0.005  # cm: the width of the sleeve is met this closely
LOWEST = 0.10  # of the back waist length: the lowest underarm
TOLD = 0.5  # cm
ARC = 2.0  # times the chord's lean, at the end of an arc that begins upright
HANDLE = 1 / 3  # of the chord
ADULT_NECK = 37.0  # cm: the neck the centimetres for a hood's neck are meant for
NECKBAND = 2.5  # cm finished, without a hood
LEAST_UNDER = 0.25  # of the arm: the shortest underarm seam that still takes a cuff


@dataclass(frozen=True, slots=True)
class Band:
    """A band of rib: finished width, and its length over the length of the edge it is sewn to. [cm]"""

    width: float
    edge: float
    share: float

    @property
    def length(self) -> float:
        return self.share * self.edge


@dataclass(frozen=True, slots=True)
class Frame:
    """Curves of the half as they run on the piece, bands, girths and lengths. [cm]

    finish     of the neck, which under a hood is a seam
    shoulders  of front and back, from the end to the neck point; arms: their armholes from the underarm up
    side       from the bust line down to the hem's edge; depth: of that edge below the waist
    sleeve     from the crown to the seam of the cuff
    """

    stretch: float
    rib_stretch: float
    finish: neck_finish.Finish
    necks: neck_finish.Necks
    shoulders: tuple[Curve, Curve]
    arms: tuple[Curve, Curve]
    cap: Cap
    side: Curve
    bust_y: float
    bust_ease: float
    arm_least: float
    depth: float
    sleeve: float
    cuff: Band
    hem_band: Band
    notes: tuple[Note, ...]


def frame(body: Body, wish: Wish, *, hooded: bool) -> Frame:
    """The frame for this body. Raises ChoiceError or MeasureError with one sentence."""
    stretch, rib_stretch = float(wish["stretch"]) / 100, float(wish["rib_stretch"]) / 100
    finish = _finish(body, wish, hooded=hooded)
    small = body["neck_base_girth"] / ADULT_NECK
    wider, deeper = (NECK_WIDER * small, NECK_LOWER * small) if hooded else (0.0, 0.0)
    necks, opened = knit_neck.necks(body, "round", finish, NAME, wider=wider, deeper=deeper)
    bust_ease = knit.ease("bust", body["bust_girth"], wish, NAME)
    quarter = (body["bust_girth"] + bust_ease) / 4
    least = body["upper_arm_girth"] + ARM_EASE[str(wish["fit"])] * (OF_CHILD if body.child else 1.0)
    over = _over_shoulder(body, wish, opened.close, quarter)
    posture = posture_of(body, wish, NAME)
    necks = replace(necks, back=necks.back.moved(Vector(0.0, posture.round_back)))
    room = _Room(body, wish, body["shoulder_length"] + over - opened.wide, quarter, least)
    arms, cap, lowered = _armholes_and_cap(room, _shoulders(room, necks, UPRIGHT))
    bust_y = min(body["bust_height"] - body["waist_to_floor"], arms[0].start.y - BUST_BELOW)
    shoulders = _shoulders(room, necks, posture)
    if posture != UPRIGHT:
        arms, cap, lowered = _armholes_and_cap(room, shoulders, posture.low_shoulder)
        bust_y = min(bust_y, arms[0].start.y - BUST_LEAST_BELOW)
    width = CHILD_HEM_BAND if body.child else HEM_BAND
    depth = top_length.depth_of(body, wish, NAME, least=width - HIGHEST_HEM * bust_y) - width
    side = _side(body, quarter, bust_y, depth)
    cuff = _cuff(body, rib_stretch)
    return Frame(
        stretch=stretch,
        rib_stretch=rib_stretch,
        finish=finish,
        necks=necks,
        shoulders=(
            shoulders[0].shoulder_from(necks.front.start).reversed(),
            shoulders[1].shoulder_from(necks.back.start).reversed(),
        ),
        arms=arms,
        cap=cap,
        side=side,
        bust_y=bust_y,
        bust_ease=bust_ease,
        arm_least=least,
        depth=depth,
        sleeve=_sleeve(body, wish, cap, over, cuff.width),
        cuff=cuff,
        hem_band=_hem_band(body, 4 * hem_quarter(side).length(), depth, width, rib_stretch),
        notes=(*neck_finish.widening_notes(opened.by), *_lowered_notes(lowered)),
    )


def hem_quarter(side: Curve) -> Curve:
    """A quarter of the hem's edge, from the fold to the side, square to both."""
    return hem_line(line(Point(0.0, side.start.y), Point(0.0, side.end.y)), side)


# ---- neck, shoulder, armhole ---------------------------------------------------------------------


def _finish(body: Body, wish: Wish, *, hooded: bool) -> neck_finish.Finish:
    """A seam to the hood, or a neckband of rib."""
    cloth, stretch = float(wish["stretch"]) / 100, float(wish["rib_stretch"]) / 100
    if hooded:
        return neck_finish.Finish(neck_finish.HOOD, 0.0, cloth, stretch, rib.FULL, "rib")
    width = neck_finish.CHILD_BAND_WIDTH if body.child else NECKBAND
    return neck_finish.Finish(neck_finish.BAND, width, cloth, stretch, str(wish["recovery"]), "rib")


def _over_shoulder(body: Body, wish: Wish, close: Point, quarter: float) -> float:
    """How far the shoulder seam goes on beyond the shoulder point; a dropped one ends inside the side. [cm]"""
    least = SET_IN_MORE * (OF_CHILD if body.child else 1.0)
    if wish["shoulder"] == SET_IN:
        return least
    room = (quarter - INSIDE_SIDE - close.x) / math.cos(math.radians(body["shoulder_slope_deg"]))
    return max(min(DROP_OF_HEIGHT * body["height"], room - body["shoulder_length"]), least)


@dataclass(frozen=True, slots=True)
class _Room:
    """What shoulders and armholes are drawn from: length of the shoulder seam, quarter of the girth, the
    sleeve's least width. [cm]"""

    body: Body
    wish: Wish
    shoulder: float
    quarter: float
    least: float

    @property
    def child(self) -> float:
        return OF_CHILD if self.body.child else 1.0

    @property
    def level(self) -> float:
        """Height of the underarm. [cm]"""
        drop = (knit.ARMHOLE_DROP[str(self.wish["fit"])] + LOWER) * self.child
        return self.body["back_waist_length"] - self.body["armscye_depth"] - drop


def _shoulders(room: _Room, necks: neck_finish.Necks, posture: Posture) -> tuple[Half, Half]:
    """Front and back with their shoulders as they are held, each from where its neck begins."""

    def half(start: Point, held: Held) -> Half:
        slope = room.body["shoulder_slope_deg"] + held.steeper_deg
        tip = along_shoulder(start, slope + held.falls_deg, room.shoulder)
        inside = CHEST_IN[str(room.wish["shoulder"])] * room.child
        width = min(tip.x - inside, (1 - BASE_OF_QUARTER) * room.quarter)
        under = Point(room.quarter, room.level)
        return Half(start, slope, tip, width, under, RIGHT, LOW_ARRIVES * held.falls_deg)

    front, back = halves(room.body["shoulder_length"], posture)
    return half(necks.front.start, front), half(necks.back.start, back)


def _armholes_and_cap(
    room: _Room, shoulders: tuple[Half, Half], low: float = 0.0
) -> tuple[tuple[Curve, Curve], Cap, float]:
    """Front and back armhole from the underarm up, their cap, and how much they were lowered for the arm.

    low  so much lower the underarm lies with a low shoulder [cm]
    """
    shoulder = str(room.wish["shoulder"])

    def drawn(half: Half, lower: float) -> Curve:
        slope, under = half.slope_deg + half.drop_deg, half.underarm.down(low + lower)
        return armhole(half.shoulder, slope, half.width, under, half.out, UP, HANDLES)

    def hole(lower: float) -> Armhole:
        return Armhole.of(drawn(shoulders[0], lower), drawn(shoulders[1], lower))

    def cap(lower: float, share: float) -> Cap:
        found = hole(lower)
        return cap_of_height(found, share * found.depth, 0.0)

    flat, high = CAP_LOW[shoulder], CAP_HIGH[shoulder]
    lower, found = 0.0, cap(0.0, high)
    if found.width < room.least:
        widest = cap(0.0, flat)
        if widest.width >= room.least:
            found = cap_for(hole(0.0), room.least, 0.0)
        else:
            lower = _lowered(room, lambda x: cap(x, flat).width)
            found = cap(lower, flat)
    if room.level - low - lower < LOWEST * room.body["back_waist_length"]:
        raise _arm_refusal(room.least - room.body["upper_arm_girth"], 0.0)
    front, back = (drawn(half, lower).reversed() for half in shoulders)
    return (front, back), found, lower


def _lowered(room: _Room, width: Callable[[float], float]) -> float:
    """How much lower the armhole must lie for a sleeve wide enough. [cm]"""
    try:
        return solve(width, room.least, 0.0, MOST_LOWERED, tolerance=LOWERED_CLOSE)
    except NoSolution as no:
        arm = room.body["upper_arm_girth"]
        raise _arm_refusal(room.least - arm, no.high - arm) from None


def _arm_refusal(room: float, most: float) -> ChoiceError:
    return ChoiceError(
        f"No armhole above the waist holds a sleeve with {room:.1f} cm of room for the arm.",
        where=f"pattern '{NAME}', choice 'fit'",
        mend=f"Choose another fit; measure armscye depth and upper arm again (up to {at_most(most)} cm go in).",
    )


def _lowered_notes(lowered: float) -> tuple[Note, ...]:
    if lowered < TOLD:
        return ()
    text = f"The underarm lies {lowered:.1f} cm lower than usual, so that the sleeve has room for the arm."
    return (Note(text, "armscye_depth", lowered),)


# ---- side and bands ------------------------------------------------------------------------------


def _side(body: Body, quarter: float, bust_y: float, depth: float) -> Curve:
    """From the bust line, where it is upright, out or in to the hem in one arc."""
    ease = HIP_EASE * (OF_CHILD if body.child else 1.0)
    share = min(max(depth / body["waist_to_hip"], 0.0), 1.0)
    around = body["waist_girth"] + share * (body["hip_girth"] - body["waist_girth"])
    hem = max((around + ease) / 4, quarter - NARROWS * (bust_y + depth))
    lean = ARC * (hem - quarter) / (bust_y + depth)
    return sweep(Point(quarter, bust_y), DOWN, Point(hem, -depth), Vector(lean, -1.0).unit(), HANDLE, HANDLE)


def _cuff(body: Body, stretch: float) -> Band:
    """The cuff, so long that it holds at the wrist and lets the hand through; the sleeve's edge follows it."""
    passes = hand(body) / (1 + knit.BAND_PASSES_OF_STRETCH * stretch)
    length = max(CUFF_OF_WRIST * body["wrist_girth"], passes)
    share = max(1 / SLEEVE_OF_CUFF, rib.least_share(stretch))
    return Band(CHILD_CUFF if body.child else CUFF, length / share, share)


def _hem_band(body: Body, edge: float, depth: float, width: float, stretch: float) -> Band:
    """The band at the hem: it holds on the body where it lies, and passes bust and hips."""
    on_body = HEM_OF_BODY * girth_below_waist(body, depth + width)
    widest = max(body["bust_girth"], body["hip_girth"], body["waist_girth"])
    passes = widest / (1 + knit.BAND_PASSES_OF_STRETCH * stretch)
    return Band(width, edge, rib.straight_share(edge, max(on_body, passes), stretch))


def _sleeve(body: Body, wish: Wish, cap: Cap, over: float, cuff: float) -> float:
    """From the crown down the middle to the seam of the cuff. ChoiceError when nothing is left. [cm]"""
    longer = float(wish["sleeve_longer"])
    length = body["arm_length"] - over + BLOUSES - cuff + longer
    shortest = cap.height + LEAST_UNDER * body["arm_length"]
    if length < shortest:
        raise too_short(longer, longer + shortest - length)
    return length
