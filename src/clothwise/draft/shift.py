"""Darted shift: a top or dress of woven cloth, shaped by a bust dart, with or without sleeves.

Sleeveless, an all-in-one facing finishes neck and armholes; with sleeves, a neck facing. The waist hangs
loose or is shaped by darts. Front and back are cut on the fold; with a zip the back is cut as a pair. Drawn
half by half, centre on x = 0, the natural waist y = 0, y up, cm.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; ease, facings and head test by the
rules of the trade (I1, I2, D). No shift has been sewn from it yet: make a toile for a close fit.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.body import Body
from clothwise.draft import (
    back_opening,
    bust_dart,
    fit,
    hem,
    level,
    neckline,
    posture,
    set_in,
    side_slit,
    sleeve,
    top_length,
)
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.shift_parts import CAP, FLUTTER, LENGTHS, LOOSE, NAME, NO_SLEEVE, SEAMED, SHAPED, drawn
from clothwise.draft.shift_pieces import garment_of
from clothwise.garment import Garment

SLEEVES = (NO_SLEEVE, CAP, FLUTTER, *sleeve.LENGTH_WORDS)

CHOICES = (
    top_length.length_choice("top", LENGTHS),
    level.longer_choice(20.0),
    fit.fit_choice("easy", ("close", "easy", "loose")),
    Choice(
        "sleeve",
        "Sleeve, or none.",
        options=SLEEVES,
        default=NO_SLEEVE,
        changes="armhole, sleeve piece, facing",
        main=True,
    ),
    sleeve.longer_choice(),
    neckline.neckline_choice(),
    neckline.WIDER,
    neckline.DEEPER,
    replace(
        bust_dart.PLACE_CHOICE,
        meaning="Where the bust dart begins, at the waist only with a seam there; without a cup there is none.",
        options=(*bust_dart.PLACE_CHOICE.options, bust_dart.WAIST),
    ),
    bust_dart.SPLIT_CHOICE,
    Choice(
        "waist",
        "Whether darts shape the waist, and whether a seam runs round it.",
        options=(LOOSE, SHAPED, SEAMED),
        default=LOOSE,
        changes="side seam, darts at the waist; with a seam, bodice and skirt are cut by themselves",
    ),
    back_opening.CHOICE,
    Choice(
        "flare",
        "How far each side edge swings out over 50 cm below the hip; left open 2, or as much as a step needs.",
        unit="cm",
        low=0.0,
        high=14.0,
        changes="side seam, hem",
    ),
    side_slit.choice(side_slit.LONGEST_OF_DRESS),
    fit.ease_choice("bust", 4.0, 24.0),
    fit.ease_choice("waist", 2.0, 30.0),
    fit.ease_choice("hip", 4.0, 30.0),
    fit.ease_choice("arm", 3.0, 16.0),
    *posture.CHOICES,
    set_in.cap_ease_choice("3 per cent of it, for a child 2"),
    hem.depth_choice(f"{hem.STRAIGHT_SKIRT_HEM:g}, flared {hem.FLARED_SKIRT_HEM:g}"),
)


def draw(body: Body, wish: Wish) -> Garment:
    """The shift for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    garment = garment_of(body, wish, drawn(body, wish))
    return side_slit.slitted(garment, wish)


DARTED_SHIFT = HouseDraft(
    name=NAME,
    title="Darted shift",
    what="A top or dress of woven cloth with bust darts: sleeveless and faced, or with set-in sleeves.",
    choices=CHOICES,
    needs=(
        *("height", "bust_girth", "high_bust_girth", "waist_girth", "hip_girth", "head_girth"),
        *("neck_base_girth", "shoulder_length", "shoulder_slope_deg", "across_back", "across_front"),
        *("back_waist_length", "armscye_depth", "upper_arm_girth", "elbow_girth", "wrist_girth", "arm_length"),
        *("bust_point_distance", "shoulder_neck_point_to_bust_point"),
        *("waist_to_hip", "body_rise", "waist_to_knee", "waist_to_ankle", "inside_leg"),
    ),
    least_age=2.0,
    draw=draw,
    lightest=80.0,
    heaviest=260.0,
    shortened_by="longer",
    length_shown="back length",
)
