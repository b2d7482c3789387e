"""Fit: how much room a garment of woven cloth has at each level, from a word for the whole of it.

A fit class and a level give the usual ease in the round; a sewer who knows better asks for centimetres at that
level. Lengths in cm.
Source: rules of the trade I1 (ease on the round, cloth without stretch: bust fitted 4.5, semi 7, loose 10, very
loose 15 and more; dress waist 2-5; hip 5-10; upper arm 3-6; shirt chest 9, 12, 16, 20; child chest 4, 6, 7.6);
house rule, 2026-11, where nothing is said.
"""

from __future__ import annotations

from typing import Literal

from clothwise.body import Body
from clothwise.draft.pattern import Choice, Wish

Fit = Literal["close", "easy", "loose", "very loose"]
LevelWord = Literal["bust", "waist", "hip", "thigh", "arm"]

FITS: tuple[Fit, ...] = ("close", "easy", "loose", "very loose")
EASE: dict[LevelWord, tuple[float, float, float, float]] = {  # cm in the round, in the order of FITS
    "bust": (5.0, 8.0, 12.0, 18.0),  # close: the rule's least that is comfortable in woven cloth
    "waist": (4.0, 8.0, 13.0, 20.0),  # of a garment without a waist seam that is shaped there
    "hip": (5.0, 7.0, 11.0, 16.0),
    "thigh": (3.0, 6.0, 10.0, 15.0),
    "arm": (4.0, 5.5, 8.0, 11.0),
}
SHIRT_BUST: tuple[float, float, float, float] = (9.0, 12.0, 16.0, 20.0)  # cm: worn loose over more
OF_CHILD = 0.8  # of an adult's ease: rule 4, 6, 7.6 at the chest of a child
# cm below the armpit at which the underarm of a garment lies; the tape down the spine is already added to
ARMHOLE_DROP: tuple[float, float, float, float] = (2.0, 2.5, 3.5, 5.0)
MAN_LOWER = 1.5  # cm more for a man: broader arms over a longer trunk want a deeper armhole
SLEEVELESS_DROP = 1.5  # cm: without a sleeve a lower armhole shows what is worn beneath


def fit_choice(default: Fit = "easy", of: tuple[Fit, ...] = FITS) -> Choice:
    """The choice of the fit class."""
    return Choice(
        "fit",
        "How much room it has all over.",
        options=of,
        default=default,
        changes="ease at every level that is not asked for by itself",
    )


def ease_choice(level: LevelWord, low: float, high: float) -> Choice:
    """The choice of the ease at one level. Left open, the fit says it. [cm]"""
    return Choice(
        f"{level}_ease",
        f"Room at the {'upper arm' if level == 'arm' else level}, in the round; if left open, as the fit says.",
        unit="cm",
        low=low,
        high=high,
        changes=f"width at the {'sleeve' if level == 'arm' else level}",
    )


def ease(level: LevelWord, body: Body, wish: Wish) -> float:
    """Ease at that level: as asked there, else as the fit says, for a child less. [cm]"""
    return of_table(EASE[level], f"{level}_ease", body, wish)


def of_table(table: tuple[float, float, float, float], asked: str, body: Body, wish: Wish) -> float:
    """Ease from a table in the order of FITS, unless the choice `asked` says it. [cm]"""
    if asked in wish:
        return float(wish[asked])
    usual = table[_place(wish)]
    return OF_CHILD * usual if body.child else usual


def armhole_drop(body: Body, wish: Wish, *, sleeved: bool = True) -> float:
    """How far below the armpit the underarm lies. [cm]"""
    usual = ARMHOLE_DROP[_place(wish)] if sleeved else SLEEVELESS_DROP
    return OF_CHILD * usual if body.child else usual + MAN_LOWER * (body.figure == "man")


def _place(wish: Wish) -> int:
    return [str(fit) for fit in FITS].index(str(wish["fit"]))
