"""Button-front shirt with a band collar or a camp collar, for women, men and children.

Front cut as a pair with its button stand, back on the fold; set-in sleeves under a flat cap, hemmed or with
a cuff; hem straight or as a shirt tail. With a bust dart or without. Drawn half by half, centre on x = 0,
the natural waist y = 0, y up, cm. Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`;
ease by the rules of the trade (I1 shirt, I3). Not drawn: a yoke, pleats, a tower placket. No shirt has
been sewn from it yet.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.draft import bust_dart, fit, hem, level, posture, set_in, side_slit, sleeve, top_length
from clothwise.draft.collar import BAND, CAMP
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.shirt_parts import BUTTONED, CUFF, HEMMED, LENGTHS, NAME, NO_DART, STRAIGHT, TAIL, drawn
from clothwise.draft.shirt_pieces import TAIL_HEM, garment_of
from clothwise.errors import ChoiceError
from clothwise.garment import Garment

CHOICES = (
    Choice(
        "collar",
        "A band that stands up, or a camp collar that lies open.",
        options=(BAND, CAMP),
        default=BAND,
        changes="collar, front edge, facing",
        main=True,
    ),
    Choice(
        "sleeve",
        "Where the sleeve ends.",
        options=sleeve.LENGTH_WORDS,
        default="long",
        changes="sleeve",
        main=True,
    ),
    Choice(
        "sleeve_end",
        "How a long sleeve ends: in a cuff the hand slips through, in a fitted cuff that buttons over a slit, "
        "or hemmed.",
        options=(CUFF, BUTTONED, HEMMED),
        default=CUFF,
        changes="sleeve, cuff",
    ),
    sleeve.longer_choice(),
    top_length.length_choice("shirt", LENGTHS),
    level.longer_choice(20.0),
    Choice(
        "hem_shape",
        "Straight, or a shirt tail that rises to the side seams.",
        options=(STRAIGHT, TAIL),
        default=TAIL,
        changes="hem, side seam",
    ),
    side_slit.choice(where=" On a straight hem."),
    fit.fit_choice("easy"),
    Choice(
        "dart",
        "Where the bust dart begins, or none; on a body without a cup there is none.",
        options=(bust_dart.SIDE, bust_dart.SHOULDER, bust_dart.ARMHOLE, bust_dart.FRENCH, NO_DART),
        default=bust_dart.SIDE,
        changes="front",
    ),
    bust_dart.SPLIT_CHOICE,
    fit.ease_choice("bust", 6.0, 30.0),
    fit.ease_choice("hip", 4.0, 30.0),
    fit.ease_choice("arm", 4.0, 18.0),
    *posture.CHOICES,
    set_in.cap_ease_choice("1.2 per cent of it: a flat cap lies smooth", 2.5),
    hem.depth_choice(f"{hem.FLARED_SKIRT_HEM:g}, a shirt tail {TAIL_HEM:g}"),
)


def draw(body: Body, wish: Wish) -> Garment:
    """The shirt for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    if "side_slit" in wish and wish["hem_shape"] == TAIL:
        raise ChoiceError(
            "A shirt tail rises to the side seams: slits belong to a straight hem.",
            where=f"pattern '{NAME}', choice 'side_slit'",
            mend="Choose the hem straight, or no slits.",
        )
    garment = garment_of(body, wish, drawn(body, wish))
    return side_slit.slitted(garment, wish)


BUTTON_FRONT_SHIRT = HouseDraft(
    name=NAME,
    title="Button-front shirt",
    what="A shirt that buttons down the front, with a band or camp collar, for women, men and children.",
    choices=CHOICES,
    needs=(
        *("bust_girth", "high_bust_girth", "waist_girth", "hip_girth", "neck_base_girth", "shoulder_length"),
        *("shoulder_slope_deg", "across_back", "across_front", "back_waist_length", "armscye_depth"),
        *("upper_arm_girth", "elbow_girth", "wrist_girth", "arm_length"),
        *("bust_point_distance", "shoulder_neck_point_to_bust_point"),
        *("waist_to_hip", "body_rise", "waist_to_knee", "waist_to_ankle", "inside_leg"),
    ),
    least_age=2.0,
    draw=draw,
    lightest=80.0,
    heaviest=220.0,
    shortened_by="longer",
    length_shown="back length",
)
