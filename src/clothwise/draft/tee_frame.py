"""What body and choices fix of a knit tee: widths, heights, neck as cut, sleeve and its end.

Half of front and back, centre on x = 0, the natural waist y = 0, y up, cm. They share all but the neck.
Source: drafting method 5; ease of the arm by fit from the rules of the trade I1 less what a knit gives; lengths
of sleeves house rule, 2026-11.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import Point, Vector
from clothwise.draft import cut_on_sleeve, knit, knit_neck, knit_side, neck_finish, rib, top_length
from clothwise.draft.cut_on_sleeve import CutOn
from clothwise.draft.hem import hem_depth
from clothwise.draft.narrow_hem import narrow_turn
from clothwise.draft.pattern import Wish
from clothwise.draft.posture import Posture, halves, posture_of
from clothwise.errors import ChoiceError
from clothwise.garment import Note

NAME = "cut_on_sleeve_tee"
HEM, BAND = "hem", "band"
SLEEVE_HEM = 2.0  # cm turned once
TURN_OF_REACH, LEAST_TURN = 0.5, 0.5  # share; cm: of a child's cap
ARM_EASE = {knit.CLOSE: 0.0, knit.EASY: 4.0, knit.LOOSE: 7.0, knit.VERY_LOOSE: 11.0}  # cm on the upper arm
OF_CHILD = 0.8  # of an adult's ease on the arm
OPENING_EASE = 1.5  # cm more round a cap's opening than round a sleeve: nothing hangs from it
SHORT_OF_ARM = 0.34  # of the arm: a short sleeve ends a hand above the elbow (elbow at .57 of the arm)
WRIST_EASE = 3.0  # cm: a long sleeve's edge stands off the wrist by so much
HAND_OF_WRIST = (
    1.36  # girth of the hand, thumb laid in, over the wrist (trade knowledge: 21 on a wrist of 15.5)
)
CUFF_WIDTH, CHILD_CUFF_WIDTH = 5.0, 4.0  # cm finished, on a long sleeve
SLEEVE_BAND, CHILD_SLEEVE_BAND = 2.0, 1.6  # cm finished, on cap and short sleeve
HOLDS = 0.95  # of the arm's or wrist's girth: a cuff or band holds itself, and does not bind
BUST_BELOW = 1.0  # cm at least between the start of the underarm curve and the bust line
HIGHEST_HEM = 0.5  # of the bust line's height above the waist,
HEM_BELOW_BUST = 4.0  # cm: and so far below the bust line at least, else nothing of the side is left to hem
TOLD = 0.5  # cm from here on a change is told to the sewer


@dataclass(frozen=True, slots=True)
class SleeveEnd:
    """A band of that finished width and share of the edge's length, or a hem turned so deep. [cm]"""

    band: float = 0.0
    share: float = 1.0
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class Frame:
    """Heights above the waist, quarter widths, the necks as cut. Eases in the round. [cm]

    cut          front and back with their sleeves, the shoulders held upright; front, back: as they are held
    """

    stretch: float
    finish: neck_finish.Finish
    necks: neck_finish.Necks
    neck_point: Point
    slope: float
    sleeve: str
    cut: CutOn
    front: CutOn
    back: CutOn
    end: SleeveEnd
    bust_y: float
    widths: knit_side.Quarters
    bust_ease: float
    hip_ease: float
    depth: float
    hip_depth: float
    notes: tuple[Note, ...]

    @property
    def covers_hip(self) -> bool:
        """Whether the hem lies below the hip by enough to promise a girth there."""
        return self.depth >= self.hip_depth + BUST_BELOW

    @property
    def covers_waist(self) -> bool:
        return self.depth >= BUST_BELOW


def frame(body: Body, wish: Wish) -> Frame:
    """The frame for this body. Raises ChoiceError or MeasureError with one sentence."""
    stretch = float(wish["stretch"]) / 100
    finish = neck_finish.asked(body, wish, NAME)
    bust_ease = knit.ease("bust", body["bust_girth"], wish, NAME)
    hip_ease = knit.ease("hip", body["hip_girth"], wish, NAME)
    slope = body["shoulder_slope_deg"]
    wider, deeper = float(wish["neck_width"]), float(wish["neck_depth"])
    necks, opened = knit_neck.necks(body, str(wish["neckline"]), finish, NAME, wider=wider, deeper=deeper)
    start = necks.front.start
    posture = posture_of(body, wish, NAME)
    necks = replace(necks, back=necks.back.moved(Vector(0.0, posture.round_back)))
    room = _room(body, wish, start, body["shoulder_length"] - opened.wide, bust_ease)
    cut, notes = _sleeve(body, wish, room)
    bust_y = min(body["bust_height"] - body["waist_to_floor"], cut.straight_to - BUST_BELOW)
    cut, front, back = _held(body, wish, posture, room, cut, bust_y)
    end = _end(body, wish, (front, back))
    notes = (*notes, *_band_notes(wish, end))
    knit_neck.refuse_below_bust(necks, bust_y, NAME)
    return Frame(
        stretch=stretch,
        finish=finish,
        necks=necks,
        neck_point=start,
        slope=slope,
        sleeve=str(wish["sleeve"]),
        cut=cut,
        front=front,
        back=back,
        end=end,
        bust_y=bust_y,
        widths=knit_side.quarters(body, wish, bust_ease, hip_ease, stretch, bust_y),
        bust_ease=bust_ease,
        hip_ease=hip_ease,
        depth=top_length.depth_of(body, wish, NAME, least=-min(HIGHEST_HEM * bust_y, bust_y - HEM_BELOW_BUST)),
        hip_depth=body["waist_to_hip"],
        notes=(*neck_finish.widening_notes(opened.by), *notes),
    )


# ---- the sleeve ----------------------------------------------------------------------------------


def _room(body: Body, wish: Wish, start: Point, shoulder: float, bust_ease: float) -> cut_on_sleeve.Frame:
    """What the sleeve is drawn from; `shoulder`: so much of it is left beyond the neck. [cm]"""
    sleeve = str(wish["sleeve"])
    arm = body["upper_arm_girth"] + _arm_ease(body, wish)
    nape, bust = body["back_waist_length"], body["bust_girth"]
    drop = knit.ARMHOLE_DROP[str(wish["fit"])] * (knit.OF_CHILD if body.child else 1.0)
    width = _band_width(body, sleeve) if wish.get("sleeve_end") == BAND else 0.0
    return cut_on_sleeve.Frame(
        neck=start,
        slope=body["shoulder_slope_deg"],
        shoulder=shoulder,
        quarter=(bust + bust_ease) / 4,
        level=nape - body["armscye_depth"] - drop,
        lowest=cut_on_sleeve.LOWEST * nape,
        opening=(arm + OPENING_EASE) / 2,
        under=arm / 2 + cut_on_sleeve.LEANS_OUT * bust,
        overhang=_overhang(body, sleeve) - (0.0 if sleeve == "cap" else width),
        end=_sleeve_end_girth(body, wish, arm) / 2,
        least_underside=cut_on_sleeve.UNDERSIDE * body["arm_length"],
    )


def _sleeve(body: Body, wish: Wish, room: cut_on_sleeve.Frame) -> tuple[CutOn, tuple[Note, ...]]:
    """The sleeve drawn with its shoulder upright, and what had to be changed."""
    sleeve = str(wish["sleeve"])
    cut = cut_on_sleeve.cut_on(room, sleeve)
    return cut, _sleeve_notes(cut, sleeve)


def _held(
    body: Body, wish: Wish, posture: Posture, room: cut_on_sleeve.Frame, cut: CutOn, bust_y: float
) -> tuple[CutOn, CutOn, CutOn]:
    """The sleeve for shoulders as they are held: as both share it, and of front and back. What lies below the
    bust line stays."""
    sleeve, held = str(wish["sleeve"]), halves(body["shoulder_length"], posture)
    if posture.low_shoulder:
        straight = bust_y + BUST_BELOW / 2
        room, cut = cut_on_sleeve.lowered(room, cut, sleeve, held[0].falls_deg, straight)
    front, back = (cut_on_sleeve.held(room, cut, half, tapered=sleeve == "long") for half in held)
    return cut, front, back


def _arm_ease(body: Body, wish: Wish) -> float:
    if "arm_ease" in wish:
        return float(wish["arm_ease"])
    return ARM_EASE[str(wish["fit"])] * (OF_CHILD if body.child else 1.0)


def _overhang(body: Body, sleeve: str) -> float:
    """Length of the sleeve beyond the shoulder point. [cm]"""
    if sleeve == "cap":
        return cut_on_sleeve.CAP_OF_HEIGHT * body["height"]
    return body["arm_length"] * (SHORT_OF_ARM if sleeve == "short" else 1.0)


def hand(body: Body) -> float:
    """Girth of the hand, thumb laid in. [cm]"""
    return HAND_OF_WRIST * body["wrist_girth"]


def _sleeve_end_girth(body: Body, wish: Wish, arm: float) -> float:
    """Of the sleeve's edge: round the arm, or round the wrist and wide enough for the hand. [cm]"""
    if wish["sleeve"] != "long":
        return arm
    passes = hand(body) / (1 + knit.ARM_PASSES_OF_STRETCH * float(wish["stretch"]) / 100)
    return max(body["wrist_girth"] + WRIST_EASE, passes)


def _band_width(body: Body, sleeve: str) -> float:
    if sleeve == "long":
        return CHILD_CUFF_WIDTH if body.child else CUFF_WIDTH
    return CHILD_SLEEVE_BAND if body.child else SLEEVE_BAND


def _end(body: Body, wish: Wish, cuts: tuple[CutOn, CutOn]) -> SleeveEnd:
    """A hem where it is asked or lies flat, else a band. ChoiceError for a hem that cannot lie flat."""
    sleeve, asked = str(wish["sleeve"]), str(wish.get("sleeve_end", ""))
    ends = tuple(cut.end for cut in cuts)
    turn = _cap_turn(body, cuts) if sleeve == "cap" else hem_depth(SLEEVE_HEM, None, *ends)
    if turn is not None and asked != BAND:
        return SleeveEnd(turn=turn)
    if asked == HEM:
        raise ChoiceError(
            "The opening of this cap curves too much to be turned in.",
            where=f"pattern '{NAME}', choice 'sleeve_end'",
            mend="Choose the band.",
        )
    finish = neck_finish.asked(body, wish, NAME)
    edge, width = sum(end.length() for end in ends), _band_width(body, sleeve)
    if sleeve == "cap":
        return SleeveEnd(width, rib.hollow_share(edge, width, finish.stretch, finish.recovery))
    girth = HOLDS * body["wrist_girth" if sleeve == "long" else "upper_arm_girth"]
    share = rib.straight_share(edge, girth, finish.stretch)
    if sleeve == "long":  # it must let the hand through
        share = max(share, hand(body) / (1 + knit.BAND_PASSES_OF_STRETCH * finish.stretch) / edge)
    return SleeveEnd(width, min(share, 1.0))


def _cap_turn(body: Body, cuts: tuple[CutOn, CutOn]) -> float | None:
    """How deep a cap's opening is turned; on a child no deeper than half of what its underarm reaches out, else
    the turn is cut with a tail along the side seam. [cm]"""
    turn = narrow_turn(*(cut.end for cut in cuts))
    if turn is None or not body.child:
        return turn
    under = cuts[0].under
    most = TURN_OF_REACH * abs(under.end.x - under.start.x)
    return max(min(turn, math.floor(10 * most) / 10), LEAST_TURN)


def _sleeve_notes(cut: CutOn, sleeve: str) -> tuple[Note, ...]:
    notes = []
    if cut.lowered >= TOLD:
        text = f"The underarm lies {cut.lowered:.1f} cm lower than the armpit asks, so that the arm has room."
        notes.append(Note(text, "armscye_depth", cut.lowered))
    if cut.lengthened >= TOLD:
        text = f"The sleeve is {cut.lengthened:.1f} cm longer than a {sleeve} one, to end beyond the side."
        notes.append(Note(text, "arm_length", cut.lengthened))
    return tuple(notes)


def _band_notes(wish: Wish, end: SleeveEnd) -> tuple[Note, ...]:
    if not end.band or wish.get("sleeve_end") == BAND:
        return ()
    return (Note("The opening curves like an armhole, so it is finished by a band, not by a hem."),)
