"""Knits: how much the cloth gives, and the ease that follows from it.

A draft cannot see the cloth; the sewer says how far it pulls out. Lengths in cm, stretch in per cent in the
choices and as a share of one in the code.
Sources: rules of the trade I1 (knits: 0 to -10 % on the round for a T-shirt or closer; never beyond half of
what the cloth gives), drafting method 0 (knit tee: close -16 % of the stretch, skimming +2 %, relaxed +9 %);
the widest class is a house rule, 2026-11. Not sewn yet.
"""

from __future__ import annotations

from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.possible import at_least
from clothwise.errors import ChoiceError
from clothwise.tolerance import SOLVE

CLOSE, EASY, LOOSE, VERY_LOOSE = "close", "easy", "loose", "very loose"
FITS = (CLOSE, EASY, LOOSE, VERY_LOOSE)
CLOSE_OF_STRETCH = -0.16  # of the girth and the stretch: a cloth of 50 % is drawn 8 % smaller than the body
EASE_OF_GIRTH = {EASY: 0.02, LOOSE: 0.09, VERY_LOOSE: 0.18}  # share of the girth added
FURTHEST = 0.5  # of what the cloth gives: drawn smaller, it is worn thin and its seams pop
ARMHOLE_DROP = {CLOSE: 1.0, EASY: 2.0, LOOSE: 3.5, VERY_LOOSE: 5.0}  # cm: the underarm below the armpit
OF_CHILD = 0.8  # of an adult's drop
PASSES_OF_STRETCH = 0.8  # of the stretch is used when an edge of the cloth itself is pulled over the body
ARM_PASSES_OF_STRETCH = 0.5  # of the stretch is used round hand and arm: it should not feel tight
BAND_PASSES_OF_STRETCH = 0.9  # of a band's: it runs straight across the cloth, no seam binds it


def stretch_choice(usual: float, low: float = 10.0, high: float = 120.0) -> Choice:
    """How far the cloth pulls out across, in per cent."""
    return Choice(
        "stretch",
        "How far the cloth gives across: fold it, pull 10 cm along a ruler until it resists, and say by how "
        "many per cent it grows.",
        unit="%",
        low=low,
        high=high,
        default=usual,
        changes="ease, opening of the neck, length of the bands",
    )


def fit_choice(usual: str = EASY) -> Choice:
    """How closely it lies, as a share of the girth; a close fit uses the stretch."""
    return Choice(
        "fit",
        f"How closely it lies: {CLOSE} is drawn smaller than the body, the cloth's stretch fills it.",
        options=FITS,
        default=usual,
        changes="width of front and back, depth of the armhole",
    )


def ease_of(fit: str, girth: float, stretch: float) -> float:
    """Ease on a girth, in the round; negative for a close fit. [cm]"""
    return girth * (CLOSE_OF_STRETCH * stretch if fit == CLOSE else EASE_OF_GIRTH[fit])


def least_ease(girth: float, stretch: float) -> float:
    """The most that may be taken off a girth: half of what the cloth gives. [cm, negative]"""
    return -FURTHEST * girth * (1 - 1 / (1 + stretch))


def ease_choice(level: str, low: float, high: float) -> Choice:
    """Ease at one level, in the round, instead of what the fit says; may be negative."""
    name = "arm" if level == "upper arm" else level
    return Choice(
        f"{name}_ease",
        f"Room at the {level}, in the round; if left open the fit says. Negative: the cloth stretches to it.",
        unit="cm",
        low=low,
        high=high,
        changes=f"width at the {level}",
    )


def ease(level: str, girth: float, wish: Wish, pattern: str) -> float:
    """Ease at that level: as asked there, else as the fit says. [cm]

    Raises ChoiceError when the cloth does not give as much as is asked.
    """
    stretch = float(wish["stretch"]) / 100
    if f"{level}_ease" not in wish:
        return ease_of(str(wish["fit"]), girth, stretch)
    asked, least = float(wish[f"{level}_ease"]), least_ease(girth, stretch)
    if asked < least - SOLVE:
        raise ChoiceError(
            f"{asked:g} cm of ease on {girth:.1f} cm is more than {100 * stretch:g} % of stretch give.",
            where=f"pattern '{pattern}', choice '{level}_ease'",
            mend=f"From {at_least(least)} cm up is possible; a cloth that stretches further allows less.",
        )
    return asked
