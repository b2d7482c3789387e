"""Lengths of what hangs from the shoulders: crop, top, tunic, dress; as depths below the waist, cm.

Source: house rule, 2026-11: a crop ends below the waistband of what is worn with it, a top half way from hip
to crotch, a tunic where it covers the seat when she bends, a dress at the knee.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from clothwise.body import Body
from clothwise.draft import level
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.possible import possible, within
from clothwise.errors import ChoiceError

CROP_OF_HIP = 0.15  # of waist to hip: 3 cm below the waist
TOP_BELOW_HIP = 0.5  # of the way from hip to crotch
SHIRT_TO_KNEE = 0.12  # of the way from crotch to knee: stays tucked in, and hangs well outside
TUNIC_TO_KNEE = 0.32  # of the way from crotch to knee: 10 cm below the crotch on an adult


def crop(body: Body) -> float:
    return CROP_OF_HIP * body["waist_to_hip"]


def top(body: Body) -> float:
    hip = body["waist_to_hip"]
    return hip + TOP_BELOW_HIP * max(body["body_rise"] - hip, 0.0)


def tunic(body: Body) -> float:
    return body["body_rise"] + TUNIC_TO_KNEE * (body["waist_to_knee"] - body["body_rise"])


def shirt(body: Body) -> float:
    return body["body_rise"] + SHIRT_TO_KNEE * (body["waist_to_knee"] - body["body_rise"])


def dress(body: Body) -> float:
    return level.knee(body)


DEPTHS: Mapping[str, Callable[[Body], float]] = {
    "crop": crop,
    "top": top,
    "tunic": tunic,
    "dress": dress,
    "midi": level.mid_calf,
    "shirt": shirt,
}
MEASURES = ("waist_to_hip", "body_rise", "waist_to_knee", "inside_leg")
PULLOVER_MEASURES = (  # of a knit pulled over the head, with its sleeves and its length
    "height",
    "bust_girth",
    "waist_girth",
    "hip_girth",
    "head_girth",
    "neck_base_girth",
    "shoulder_length",
    "shoulder_slope_deg",
    "back_waist_length",
    "bust_height",
    "waist_to_floor",
    "armscye_depth",
    "upper_arm_girth",
    "wrist_girth",
    "arm_length",
    *MEASURES,
)


def length_choice(usual: str = "top", of: tuple[str, ...] = ("crop", "top", "tunic", "dress")) -> Choice:
    """The choice of the length by its word."""
    return Choice("length", "Where it ends.", options=of, default=usual, changes="hem", main=True)


def depth_of(body: Body, wish: Wish, pattern: str, least: float) -> float:
    """The hem below the waist, by word and centimetres; negative above it. [cm]

    least  the highest hem that the draft allows, as a depth. ChoiceError when it is passed, or the floor.
    """
    usual, longer = DEPTHS[str(wish["length"])](body), float(wish["longer"])
    most = body["body_rise"] + body["inside_leg"] - level.LEAST_CLEAR
    if not within(usual + longer, least, most):
        word = "drag on the floor" if usual + longer > most else "end too high under the arms"
        raise ChoiceError(
            f"{longer:+.1f} cm on the length '{wish['length']}' would {word}.",
            where=f"pattern '{pattern}', choice 'longer'",
            mend=possible(longer, least - usual, most - usual),
        )
    return usual + longer
