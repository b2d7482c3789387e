"""Raglan pullover of woven cloth: front, back and sleeves that run up to the neck; top, peplum top or dress.

The neck passes the head: bound and cut wide enough, or drawn in by elastic in a casing; or the back buttons,
and then it may lie close, smooth or gathered. A frill may be caught in the raglan seams. The arm line falls
with the shoulder; with a shoulder dart it falls steeper and the sleeve hangs closer to the body.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; ease, hems, elastic, frills and
bindings from the rules of the trade. Nothing has been sewn from it yet: make a toile for a close fit.
"""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.body import Body
from clothwise.draft import (
    bodice,
    fit,
    frill,
    hem,
    level,
    posture,
    raglan_frame,
    raglan_neck,
    raglan_pieces,
    raglan_pockets,
    top_length,
    waist,
)
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.possible import possible, within
from clothwise.draft.raglan_frame import Frame, Want
from clothwise.draft.raglan_joined import HAND_EASE, HAND_OF_WRIST, joined, least_hip
from clothwise.draft.raglan_neck import BUTTONS, NAME, Neck
from clothwise.draft.raglan_pieces import Cut
from clothwise.errors import ChoiceError, WorkroomError
from clothwise.garment import Garment, Note

PEPLUM = "peplum top"
LENGTHS = {
    "top": top_length.top,
    PEPLUM: top_length.top,
    "knee": level.knee,
    "midi": level.mid_calf,
    "maxi": level.maxi,
}
SHORT, LONG = "short", "long"
HEMMED, ELASTIC_END = "hem", "elastic"
FRILLS = {"none": (False, False), "front": (True, False), "back": (False, True), "both": (True, True)}
SMOOTH, DARTED = "smooth", "dart"

SLEEVE_ELASTIC = 1.0
DART_FALL_DEG = 14.0  # degrees steeper than the shoulder: half the way to a hanging arm
LEAST_DART = 0.4  # cm at its mouth
STEEPEST_DEG = 40.0  # degrees: a steeper arm line would not lift
SHORT_OF_ARM = 0.36  # of the arm: a short sleeve ends between armpit and elbow
SHORTEST = 4.0  # cm of underarm seam: a shorter one cannot be sewn round
WRIST_OF_SLEEVE, ELASTIC_OF_SLEEVE, SHORT_OF_SLEEVE = 0.64, 0.80, 0.94  # hem of the sleeve over its width
SHORT_TAPER = 0.08  # of its underarm seam at most, so that its hem stays nearly straight
BLOUSED = 2.0  # cm longer with elastic: it falls over it
TOP_HEM, DRESS_HEM, SLEEVE_HEM = 2.5, 3.0, 2.5  # cm
STRIDE_OF_HEIGHT, STRIDE_FROM = 0.75, 0.9  # hem over height that lets her step, from this share of the knee
LEAST_BELOW_ARM = 14.0  # cm from underarm to hem at least, of an adult of 90 bust
PEPLUM_FULLNESS = 1.5
LEAST_PEPLUM = 8.0  # cm
HIP_ABOVE_HEM = 1.0  # cm: a hem at the hip is measured so far above it,
HIP_SPAN = 4.0  # cm: and one that ends more above the hip is not held to it
HIP_SURE = 0.05  # cm: wider there than promised, where the sides must lean for it,
LEANINGS = 4  # and so often at most: each leaves some 5 % of what was wanting
NARROWER_BY, NARROWER = 0.1, 4  # cm that a binding is narrower at a time, and how many widths are tried
NECK_LOOKS = 32  # at each stroke of a neck, for its sharpest bend

CHOICES = (
    Choice("length", "Where it ends.", options=tuple(LENGTHS), default="top", changes="hem, peplum", main=True),
    level.longer_choice(20.0),
    Choice("sleeve", "Length of the sleeve.", options=(SHORT, LONG), default=LONG, changes="sleeve", main=True),
    Choice(
        "sleeve_longer",
        "Sleeve longer (+) or shorter (-).",
        unit="cm",
        low=-12.0,
        high=10.0,
        default=0.0,
        changes="sleeve",
    ),
    Choice(
        "sleeve_end",
        "How the sleeve ends.",
        options=(HEMMED, ELASTIC_END),
        default=HEMMED,
        changes="width and turn of the sleeve's end, elastic",
    ),
    replace(fit.fit_choice("loose"), main=False),
    raglan_neck.NECK_CHOICE,
    raglan_neck.GIRTH_CHOICE,
    raglan_neck.BACK_CHOICE,
    Choice(
        "frill",
        "A frill in the raglan seams.",
        options=tuple(FRILLS),
        default="none",
        changes="frill pieces, marks on the raglan",
    ),
    frill.WIDTH_CHOICE,
    Choice(
        "shoulder",
        "Whether the sleeve lies smooth over the shoulder or has a dart there and hangs closer.",
        options=(SMOOTH, DARTED),
        default=SMOOTH,
        changes="sleeve",
    ),
    raglan_pockets.CHOICE,
    fit.ease_choice("bust", 4.0, 40.0),
    fit.ease_choice("hip", 4.0, 40.0),
    fit.ease_choice("arm", 4.0, 30.0),
    *posture.CHOICES,
    hem.depth_choice(f"{TOP_HEM:g}, a dress {DRESS_HEM:g}"),
)


def draw(body: Body, wish: Wish) -> Garment:
    """The pullover for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    depth = LENGTHS[str(wish["length"])](body) + float(wish["longer"])
    neck, frame = _neck_and_frame(body, wish, depth)
    _refuse_dart(body, wish, frame)
    cut = _cut(body, wish, frame, neck, depth)
    patch = raglan_pockets.pockets(body, wish, frame, cut)
    return joined(body, wish, frame, cut, neck, patch, _notes(body, wish, neck))


# ---- frame and cut ---------------------------------------------------------------------------------


def _want(body: Body, wish: Wish, neck: Neck, depth: float) -> Want:
    slope = body["shoulder_slope_deg"]
    fall = min(DART_FALL_DEG, STEEPEST_DEG - slope) if wish["shoulder"] == DARTED else 0.0
    peplum = wish["length"] == PEPLUM
    hips = 0.0 if peplum else body["hip_girth"] + fit.ease("hip", body, wish)
    strides = depth >= STRIDE_FROM * body["waist_to_knee"] and not peplum
    stride = STRIDE_OF_HEIGHT * body["height"] if strides else 0.0

    def no_neck(least: float, most: float) -> WorkroomError:
        return raglan_neck.impossible(body, wish, neck, least, most)

    return Want(neck.edge, no_neck, max(fall, 0.0), hips, body["waist_to_hip"], stride, depth)


def _neck_and_frame(body: Body, wish: Wish, depth: float) -> tuple[Neck, Frame]:
    """The frame with its neck; a small neck that bends too sharply for its binding has a narrower one."""
    usual = raglan_neck.binding_width(body)
    for narrower in range(NARROWER):
        neck = raglan_neck.neck_of(body, wish, usual - narrower * NARROWER_BY)
        frame = _frame(body, wish, _want(body, wish, neck, depth), depth)
        necks = frame.sleeve_front.neck, frame.sleeve_back.neck
        if neck.binding * hem.sharpest(*necks, looks=NECK_LOOKS) <= 1.0:
            break
    return neck, frame


def _frame(body: Body, wish: Wish, want: Want, depth: float) -> Frame:
    """The frame, its sides leaning so far that a hem which ends just above the hip goes over it too. The hem
    rises a little as they lean, so that is asked again."""
    frame = raglan_frame.frame(body, wish, want)
    if wish["length"] == PEPLUM:
        return frame
    need = body["hip_girth"] + least_hip(body, wish)
    for _ in range(LEANINGS):
        line = _hip_line(body, frame, depth, peplum=False)
        if not line or frame.girth_at(-line) >= need:
            break
        frame = raglan_frame.frame(body, wish, replace(want, hips=need + HIP_SURE, hips_depth=line))
    return frame


def _refuse_dart(body: Body, wish: Wish, frame: Frame) -> None:
    """A dart must be worth sewing: a steep shoulder leaves it no angle, a neck opened far no length."""
    if wish["shoulder"] != DARTED:
        return
    left = body["shoulder_length"] - frame.opened
    mouth = 2 * left * math.sin(math.radians(frame.fall_deg))
    if mouth < LEAST_DART:
        raise ChoiceError(
            f"A shoulder dart would take in only {mouth:.1f} cm.",
            where=f"pattern '{NAME}', choice 'shoulder'",
            mend="Choose a smooth shoulder, or buttons at the back, which leave a longer one.",
        )


def _cut(body: Body, wish: Wish, frame: Frame, neck: Neck, depth: float) -> Cut:
    peplum = wish["length"] == PEPLUM
    elastic = SLEEVE_ELASTIC if wish["sleeve_end"] == ELASTIC_END else 0.0
    length, wrist = _sleeve(body, wish, frame)
    _refuse_length(body, wish, frame, depth)
    cut = Cut(
        bottom=0.0 if peplum else depth,
        bottom_turn=0.0,
        sleeve=length,
        wrist=wrist,
        sleeve_turn=waist.casing_turn(elastic) if elastic else 0.0,
        sleeve_elastic=elastic,
        neck=neck.allowance,
        frills=FRILLS[str(wish["frill"])],
        buttoned=wish["back"] == BUTTONS,
        hip=_hip_line(body, frame, depth, peplum=peplum),
        peplum=depth if peplum else 0.0,
        fullness=PEPLUM_FULLNESS,
    )
    return _with_hems(body, wish, frame, cut)


def _with_hems(body: Body, wish: Wish, frame: Frame, cut: Cut) -> Cut:
    """The depths turned up, as the curves allow."""
    dress = wish["length"] not in ("top", PEPLUM)
    usual = hem.deepened_for_growth(DRESS_HEM if dress else TOP_HEM, body.child)
    wished = float(wish["hem"]) if "hem" in wish else None
    if cut.peplum:
        cut = replace(cut, peplum_turn=wished or usual)
    else:
        edges = (raglan_pieces.lower_edge(frame, half, cut.bottom) for half in (frame.front, frame.back))
        cut = replace(cut, bottom_turn=hem.hem_depth(usual, wished, *edges))
    if cut.sleeve_elastic:
        return cut
    end = hem.hem_line(*raglan_pieces.underarm_seams(frame, cut))
    return replace(cut, sleeve_turn=hem.hem_depth(SLEEVE_HEM, None, end))


def _hip_line(body: Body, frame: Frame, depth: float, *, peplum: bool) -> float:
    """Depth of the hip line: at the hip, or just above a hem that ends there; 0 where it ends higher. [cm]"""
    lift = 0.0 if peplum else raglan_pieces.lift(frame, depth)
    hip = body["waist_to_hip"]
    line = min(hip, depth - lift - HIP_ABOVE_HEM)
    return line if line > hip - HIP_SPAN else 0.0


def _sleeve(body: Body, wish: Wish, frame: Frame) -> tuple[float, float]:
    """Length from the shoulder point, and girth of the end. ChoiceError when no underarm seam is left. [cm]"""
    start = frame.sleeve_front.underarm.x
    wide = frame.sleeve_front.underarm.y + frame.sleeve_back.underarm.y
    arm, elastic = body["arm_length"], wish["sleeve_end"] == ELASTIC_END
    long = wish["sleeve"] == LONG
    usual = arm + (BLOUSED if elastic else 0.0) if long else max(SHORT_OF_ARM * arm, start + SHORTEST + 1.0)
    longer = float(wish["sleeve_longer"])
    if usual + longer < start + SHORTEST:
        raise ChoiceError(
            f"A {wish['sleeve']} sleeve {longer:+.1f} cm long would end above the underarm.",
            where=f"pattern '{NAME}', choice 'sleeve_longer'",
            mend=possible(longer, start + SHORTEST - usual),
        )
    if long:
        passes = HAND_OF_WRIST * body["wrist_girth"] + HAND_EASE
        share = ELASTIC_OF_SLEEVE if elastic else WRIST_OF_SLEEVE
        return usual + longer, min(max(share * wide, passes), wide)
    narrower = min((1 - SHORT_OF_SLEEVE) * wide, 2 * SHORT_TAPER * (usual + longer - start))
    return usual + longer, wide if elastic else wide - narrower


def _refuse_length(body: Body, wish: Wish, frame: Frame, depth: float) -> None:
    longest = body["body_rise"] + body["inside_leg"] - level.LEAST_CLEAR
    if wish["length"] == PEPLUM:
        shortest = LEAST_PEPLUM
    else:
        shortest = LEAST_BELOW_ARM * min(body["bust_girth"] / 90.0, 1.0) - frame.underarm
    usual = depth - float(wish["longer"])
    if not within(depth, shortest, longest):
        word = "drag on the floor" if depth > longest else "end too high"
        raise ChoiceError(
            f"{wish['longer']:+.1f} cm on the length '{wish['length']}' would {word}.",
            where=f"pattern '{NAME}', choice 'longer'",
            mend=possible(float(wish["longer"]), shortest - usual, longest - usual),
        )


def _notes(body: Body, wish: Wish, neck: Neck) -> tuple[Note, ...]:
    notes = []
    usual = raglan_neck.binding_width(body)
    if 0 < neck.binding < usual:
        text = f"The neck bends so much that its binding is only {neck.binding:.1f} cm wide when finished."
        notes.append(Note(text, "binding", neck.binding - usual))
    if wish["back"] == BUTTONS and body.child:
        text = "Buttons come off and are swallowed: sew them on firmly; follow the local rules for small parts."
        notes.append(Note(text))
    return tuple(notes)


RAGLAN_PULLOVER = HouseDraft(
    name=NAME,
    title="Raglan pullover",
    what="Sleeves that run up to the neck: a woven top, peplum top or dress with a bound or gathered neck.",
    choices=CHOICES,
    needs=(
        *bodice.MEASURES,
        "height",
        "hip_girth",
        "head_girth",
        "arm_length",
        "wrist_girth",
        "waist_to_hip",
        "waist_to_knee",
        "waist_to_ankle",
        "body_rise",
        "inside_leg",
    ),
    least_age=2.0,
    draw=draw,
    lightest=70.0,
    heaviest=220.0,
    shortened_by="longer",
    length_shown="back length",
    instead=posture.RAGLAN,
)
