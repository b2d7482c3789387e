"""How the wearer holds back and shoulders, where no tape shows it: choices for fitted tops.

A rounded back is longer from the nape down to the underarm and nowhere else. Shoulders held forward want the
shoulder seam to run farther forward at the arm. A low shoulder ends lower while the neck stays as it is; its
armhole goes down with it. Ask the last of one side only and left and right are cut singly. Lengths in cm.

Source: the trade's list of figure alterations; house rule, 2026-11, where nothing is said.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.possible import possible, within
from clothwise.errors import ChoiceError

ROUND_BACK = Choice(
    "round_back",
    "Back longer over rounded shoulder blades (+), or shorter where it is held very straight (-).",
    unit="cm",
    low=-2.0,
    high=2.5,
    default=0.0,
    changes="centre back, back armhole, sleeve cap",
)
FORWARD_SHOULDER = Choice(
    "forward_shoulder",
    "How far the shoulder seam runs farther forward (+) or back (-) where it meets the arm.",
    unit="cm",
    low=-1.0,
    high=2.0,
    default=0.0,
    changes="shoulders of front and back, sleeve cap",
)
LOW_SHOULDER = Choice(
    "low_shoulder",
    "How much lower the shoulder ends than its slope says; for one side, ask it of that side only.",
    unit="cm",
    low=0.0,
    high=1.2,
    default=0.0,
    changes="shoulder, armhole and side seam",
)
CHOICES = (ROUND_BACK, FORWARD_SHOULDER, LOW_SHOULDER)

# What to do instead where a make has no line for it: figure change -> one sentence
KNIT: Mapping[str, str] = {
    "across_back": "A knit gives across the back: ask for more 'bust_ease', or 'round_back' where the back is "
    "rounded too.",
    "across_front": "A knit gives across the chest: ask for more 'bust_ease'.",
}
STRAPS: Mapping[str, str] = {
    "round_back": "Its straps go over the back: leave them longer when it is tried on, or ask 'back_length'.",
    "forward_shoulder": "Its straps find their own way over the shoulders: set their ends when it is tried on.",
    "low_shoulder": "It has no shoulders: set the strap on that side shorter when it is tried on.",
    "across_back": "It has no width across the back of its own: set the straps farther apart, or nearer, when "
    "it is tried on.",
    "shoulder_width": "It has no shoulders: set the straps where they stay up when it is tried on.",
    "upper_arm": "It has no sleeves: an arm asks nothing of it.",
}
WRAPPED: Mapping[str, str] = {
    "across_back": "It hangs straight from the shoulders: give a broad back more 'room'.",
    "across_front": "It hangs straight from the shoulders: give a broad chest more 'room', or more 'overlap'.",
}
RAGLAN: Mapping[str, str] = {
    "across_back": "A raglan ends the back at no armhole: give a broad back more 'bust_ease', and 'round_back' "
    "where it is rounded too.",
    "across_front": "A raglan ends the front at no armhole: give a broad chest more 'bust_ease'.",
}


@dataclass(frozen=True, slots=True)
class Posture:
    """See the choices of the same names. [cm]"""

    round_back: float = 0.0
    forward_shoulder: float = 0.0
    low_shoulder: float = 0.0


UPRIGHT = Posture()


def turn_deg(shoulder: float, by: float) -> float:
    """By how much a shoulder so long must turn about the neck point for its end to move so far. [degrees]"""
    return math.degrees(math.asin(by / shoulder))


@dataclass(frozen=True, slots=True)
class Held:
    """How front or back of a top without shaping is held: its neck and shoulder lie so much higher [cm], its
    shoulder line runs so much steeper, and falls so much more from where the neck begins. [degrees]"""

    higher: float = 0.0
    steeper_deg: float = 0.0
    falls_deg: float = 0.0


def halves(shoulder: float, posture: Posture) -> tuple[Held, Held]:
    """Front and back for a shoulder so long. [cm]

    The neck stays as it is; with a shoulder held forward both halves turn about it against each other, so that
    it still runs on over the shoulder seam.
    """
    turn, fall = turn_deg(shoulder, posture.forward_shoulder), turn_deg(shoulder, posture.low_shoulder)
    return Held(0.0, turn, fall), Held(posture.round_back, -turn, fall)


# Least and most of each, as a share of the measure it bends; beyond it armhole and cap no longer run smoothly
OF_MEASURE: Mapping[str, tuple[str, float, float]] = {
    "round_back": ("back_waist_length", -0.055, 0.07),
    "forward_shoulder": ("shoulder_length", -0.09, 0.17),
    "low_shoulder": ("shoulder_length", 0.0, 0.105),
}


def posture_of(body: Body, wish: Wish, pattern: str) -> Posture:
    """As chosen. ChoiceError where it is more than this body's back or shoulder can take."""
    return Posture(*(_held(body, choice.name, float(wish[choice.name]), pattern) for choice in CHOICES))


def _held(body: Body, name: str, asked: float, pattern: str) -> float:
    measure, low, high = OF_MEASURE[name]
    least, most = math.ceil(10 * low * body[measure]) / 10, math.floor(10 * high * body[measure]) / 10
    if not within(asked, least, most):
        raise ChoiceError(
            f"{asked:+g} cm is too much for a {measure.replace('_', ' ')} of {body[measure]:.1f} cm.",
            where=f"pattern '{pattern}', choice '{name}'",
            mend=possible(asked, least, most),
        )
    return asked
