"""The levels that charts and envelopes speak of, with the words they use for them.

A level has one name here. `body` is the measure of the body vocabulary it is compared with; levels
without one belong to the garment alone (its length, its openings). Girths are all the way round.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from typing import Literal

LevelKind = Literal["girth", "length", "opening"]


@dataclass(frozen=True, slots=True)
class Level:
    """One level. `also`: other words that mean it, each as it is left by `plain`."""

    name: str
    kind: LevelKind
    body: str = ""
    also: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        return self.name.replace("_", " ")


LEVELS: tuple[Level, ...] = (
    Level("bust", "girth", "bust_girth", ("full bust", "chest", "breast", "bust chest", "chest bust")),
    Level("high_bust", "girth", "high_bust_girth", ("upper bust", "above bust", "upper chest", "high chest")),
    Level("under_bust", "girth", "under_bust_girth", ("underbust", "rib cage", "ribcage")),
    Level("waist", "girth", "waist_girth", ("natural waist",)),
    Level("high_hip", "girth", "high_hip_girth", ("upper hip", "upper hips", "high hips")),
    Level("hip", "girth", "hip_girth", ("hips", "full hip", "full hips", "low hip", "lower hip", "seat")),
    Level("neck", "girth", "neck_base_girth", ("neck base", "collar")),
    Level("head", "girth", "head_girth", ()),
    Level("upper_arm", "girth", "upper_arm_girth", ("bicep", "biceps", "sleeve width", "arm")),
    Level("thigh", "girth", "thigh_girth", ("leg width",)),
    Level("knee", "girth", "knee_girth", ()),
    Level("calf", "girth", "calf_girth", ()),
    Level("height", "length", "height", ("stature", "body height", "tall")),
    Level(
        "back_length",
        "length",
        "back_waist_length",
        ("back waist length", "nape to waist", "back neck to waist", "back waist", "back to waist"),
    ),
    Level("sleeve_length", "length", "arm_length", ("sleeve", "arm length", "sleeve seam")),
    Level("rise", "length", "body_rise", ("body rise", "crotch depth", "seat depth")),
    Level("crotch_length", "length", "crotch_length_total", ("crotch seam", "total rise", "crotch")),
    Level("inside_leg", "length", "inside_leg", ("inseam", "inner leg", "inside leg length")),
    Level("side_length", "length", "waist_to_ankle", ("outside leg", "outseam", "side seam", "outer leg")),
    Level("waist_to_hip", "length", "waist_to_hip", ("hip depth",)),
    Level("trunk", "length", "", ("trunk girth", "trunk loop", "torso", "torso girth", "vertical trunk")),
    Level("length", "length", "", ("finished length", "garment length", "total length", "back length from nape",
                                   "centre back length", "center back length", "skirt length", "dress length")),
    Level("hem", "opening", "", ("hem width", "hem girth", "sweep", "hem circumference", "bottom width")),
    Level("neck_opening", "opening", "", ("neckline", "neck edge", "neck hole")),
    Level("waist_opening", "opening", "", ("waist edge", "top edge")),
    Level("sleeve_hem", "opening", "", ("sleeve opening", "wrist opening", "cuff", "sleeve hem width")),
    Level("leg_hem", "opening", "", ("leg opening", "trouser hem", "leg hem width", "hem of leg")),
)  # fmt: skip

_BY_NAME = {level.name: level for level in LEVELS}
_NOISE = re.compile(
    r"\b(?:finished|body|measurements?|girth|circumference|of|the|at|approx|approximate|size)\b"
)
NEAR = 0.85  # share of letters in common from which a misspelt level is still taken for it


def level(name: str) -> Level:
    """The level of this name. A KeyError is our own slip: names from outside go through `find_level`."""
    return _BY_NAME[name]


def plain(words: str) -> str:
    """Words as they are compared: small letters, no brackets with what is in them, single spaces."""
    text = re.sub(r"\([^)]*\)|\[[^\]]*\]", " ", words.lower())
    return re.sub(r"[^a-z]+", " ", text).strip()


def find_level(words: str) -> Level | None:
    """The level that these words name, or None: a small misspelling is understood, a guess is not made."""
    said = plain(words)
    known = _names()
    for text in (said, re.sub(r" +", " ", _NOISE.sub(" ", said)).strip()):
        if text in known:
            return known[text]
    near = get_close_matches(said, known, n=2, cutoff=NEAR) if len(said) > 3 else []
    return known[near[0]] if near and len({known[word].name for word in near}) == 1 else None


@cache
def _names() -> dict[str, Level]:
    known = {level.words: level for level in LEVELS}
    for one in LEVELS:
        known |= dict.fromkeys(one.also, one)
        if one.body:
            known.setdefault(plain(one.body), one)
    return known
