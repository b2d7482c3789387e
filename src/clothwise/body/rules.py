"""Rules of thumb for the measures that no survey at hand holds.

Each rule gives a likely value from other measures, and a scatter: the standard deviation of the
logarithm, wide on purpose, because it was judged and not measured on bodies that wear our definition.
90 % of like bodies should lie within 1.645 scatters. A measure for which only a rule exists is a
measure to take with the tape before cutting close.

Sources: 'survey means' are published means of anthropometric surveys (US Army 1988, women n = 334);
'data' are ratios of the adult survey behind population.json; 'house rule' is the house's judgement, 2026-11.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from clothwise.body.body import Figure

Known = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Rule:
    """A likely value [cm] from other measures [cm], its log scatter, and where the rule comes from."""

    measure: str
    needs: tuple[str, ...]
    likely: Callable[[Known], float]
    scatter: float
    source: str
    at_most: str = ""  # a measure it can never exceed


def _high_hip(body: Known) -> float:
    return body["waist_girth"] + 0.6 * (body["hip_girth"] - body["waist_girth"])


def _front_waist(body: Known) -> float:
    return body["shoulder_neck_point_to_bust_point"] + body["bust_height"] - body["waist_to_floor"]


_EVERYBODY = (
    Rule("high_hip_girth", ("waist_girth", "hip_girth"), _high_hip, 0.03, "house rule"),
    Rule("shoulder_slope_deg", (), lambda body: 21.0, 0.20, "house rule; degrees, hardly follows size"),
)

_FRONT_LENGTH = Rule(
    "front_waist_length_over_bust",
    ("shoulder_neck_point_to_bust_point", "bust_height", "waist_to_floor"),
    _front_waist,
    0.03,
    "house rule: to the bust point, then straight down",
)

_WOMAN = (
    # The cup is 5 cm in 95 cm of bust; between none and 11 cm is common: the tape alone can say.
    Rule(
        "high_bust_girth",
        ("bust_girth",),
        lambda body: 0.948 * body["bust_girth"],
        0.035,
        "house rule",
        "bust_girth",
    ),
    Rule(
        "across_front", ("across_back",), lambda body: 0.96 * body["across_back"], 0.04, "house rule: 1.5 less"
    ),
    Rule("bust_point_distance", ("bust_girth",), lambda body: 0.202 * body["bust_girth"], 0.08, "survey means"),
    _FRONT_LENGTH,
    Rule("armscye_girth", ("bust_girth",), lambda body: 0.41 * body["bust_girth"], 0.06, "survey means"),
    Rule(
        "elbow_girth", ("upper_arm_girth",), lambda body: 0.88 * body["upper_arm_girth"], 0.05, "survey means"
    ),
    # Seated, the seat is pressed flat and the tape follows the hip: more than the standing rise.
    Rule("crotch_depth_sitting", ("body_rise",), lambda body: body["body_rise"] + 1.6, 0.07, "survey means"),
)

_MAN = (
    Rule("high_bust_girth", ("bust_girth",), lambda body: body["bust_girth"], 0.025, "house rule"),
    Rule(
        "across_front", ("across_back",), lambda body: 0.975 * body["across_back"], 0.04, "house rule: 1 less"
    ),
    Rule("bust_point_distance", ("bust_girth",), lambda body: 0.20 * body["bust_girth"], 0.09, "house rule"),
    Rule(
        "shoulder_neck_point_to_bust_point",
        ("height", "bust_girth"),
        lambda body: 0.055 * body["height"] + 0.19 * body["bust_girth"],
        0.06,
        "house rule",
    ),
    _FRONT_LENGTH,
    Rule("crotch_depth_sitting", ("body_rise",), lambda body: body["body_rise"] + 1.2, 0.07, "survey means"),
)

_CHILD = (
    Rule("across_front", ("across_back",), lambda body: 0.97 * body["across_back"], 0.05, "house rule"),
    Rule("bust_point_distance", ("bust_girth",), lambda body: 0.20 * body["bust_girth"], 0.09, "house rule"),
    Rule(
        "bust_height",
        ("nape_to_floor", "height"),
        lambda body: body["nape_to_floor"] - 0.136 * body["height"],
        0.015,
        "data: drop from nape to bust in adults",
    ),
    Rule(
        "shoulder_neck_point_to_bust_point",
        ("height", "bust_girth"),
        lambda body: 0.055 * body["height"] + 0.19 * body["bust_girth"],
        0.08,
        "house rule",
    ),
    _FRONT_LENGTH,
    Rule(
        "armscye_girth", ("bust_girth",), lambda body: 0.44 * body["bust_girth"], 0.07, "data: between adults"
    ),
    Rule(
        "armscye_depth",
        ("height",),
        lambda body: 0.115 * body["height"],
        0.08,
        "data: as adults, a little more",
    ),
    Rule("elbow_girth", ("upper_arm_girth",), lambda body: 0.95 * body["upper_arm_girth"], 0.07, "house rule"),
    Rule("crotch_depth_sitting", ("body_rise",), lambda body: 1.06 * body["body_rise"], 0.08, "house rule"),
    Rule(
        "crotch_length_total",
        ("hip_girth", "body_rise"),
        lambda body: 0.41 * body["hip_girth"] + 1.16 * body["body_rise"],
        0.06,
        "data: adults in proportion",
    ),
    Rule(
        "knee_girth",
        ("thigh_girth", "calf_girth"),
        lambda body: 0.805 * (body["thigh_girth"] * body["calf_girth"]) ** 0.5,
        0.05,
        "data: adults in proportion",
    ),
    Rule("foot_heel_girth", ("foot_length",), lambda body: 1.27 * body["foot_length"], 0.05, "data: as adults"),
)

_GIRL = (
    Rule(
        "high_bust_girth",
        ("bust_girth",),
        lambda body: 0.985 * body["bust_girth"],
        0.025,
        "house rule",
        "bust_girth",
    ),
    Rule(
        "under_bust_girth",
        ("bust_girth",),
        lambda body: 0.90 * body["bust_girth"],
        0.05,
        "house rule",
        "bust_girth",
    ),
)
_BOY = (Rule("high_bust_girth", ("bust_girth",), lambda body: body["bust_girth"], 0.025, "house rule"),)


@lru_cache
def rules(figure: Figure) -> tuple[Rule, ...]:
    """The rules of one figure, in an order in which each finds its needs filled."""
    own = {"woman": _WOMAN, "man": _MAN, "girl": _GIRL + _CHILD, "boy": _BOY + _CHILD}
    return _EVERYBODY + own[figure]
