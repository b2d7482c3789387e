"""The ease one person likes, learned from what she says of finished makes.

Before anybody has said anything, she is taken to like what the maker of the pattern intends, within the
spread of people in that fit class. Each judgement of a make then weighs the eases it makes likely:

    right   her liking lies within HALF of the make's ease, give or take SLACK
    tight   it lies above that; loose: below. Neither says by how much: a make that was tight with no
            ease at all tells nothing new of someone who is known to like 6 cm

The posterior is summed up on a grid about the intention; mean and spread are handed out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr

from clothwise.shelf.pattern import BoughtPattern, FinishedMake, Judgement

HALF = 2.0  # cm: half the width of what feels right; house rule: about half a size either way
SLACK = 2.0  # cm, standard deviation: how far a verdict may lie off; tape, cloth and the day
REACH = 12.0  # standard deviations of the prior that the grid spans either way
STEPS = 961  # points of the grid: finer than a millimetre and a half for every class
FADING = 0.9  # each further judgement of the same level, newest first, counts this share of the one after it


@dataclass(frozen=True, slots=True)
class Liking:
    """Liked ease at one level. `judged`: how many makes it rests on; 0: the intention itself. [cm]"""

    mean: float
    spread: float
    judged: int


def liking(judgements: Iterable[Judgement], *, intended: float, spread: float) -> Liking:
    """The liking at one level, from the judgements of that level, oldest first.

    intended   the centre of the prior [cm]; spread: its standard deviation [cm]
    """
    told = tuple(judgements)
    if not told:
        return Liking(intended, spread, 0)
    grid = intended + np.linspace(-REACH * spread, REACH * spread, STEPS)
    weight = -0.5 * ((grid - intended) / spread) ** 2
    for age, judgement in enumerate(reversed(told)):
        weight = weight + FADING**age * _log_likelihood(judgement, grid)
    share = np.exp(weight - weight.max())
    share /= share.sum()
    mean = float(share @ grid)
    return Liking(mean, float(np.sqrt(share @ (grid - mean) ** 2)), len(told))


def judgements_of(
    makes: Iterable[FinishedMake], person: str, like: BoughtPattern, level: str, *, same_pattern: bool = False
) -> tuple[Judgement, ...]:
    """What this person said of a level in makes of the same fit class and make of cloth, oldest first.

    same_pattern   only makes of this very pattern: for a finished length, which is a matter of the design
    """
    mine = [
        make
        for make in makes
        if (make.person, make.fit_class, make.make) == (person, like.fit_class, like.make)
        and (make.pattern == like.name or not same_pattern)
    ]
    ordered = sorted(mine, key=lambda make: (make.made_on, make.name))
    return tuple(j for make in ordered for j in make.judgements if j.level == level)


def _log_likelihood(judgement: Judgement, liked: NDArray[np.float64]) -> NDArray[np.float64]:
    """Log of how likely the verdict is, for each liking on the grid."""
    if judgement.verdict == "tight":
        return np.asarray(log_ndtr((liked - judgement.ease - HALF) / SLACK), dtype=np.float64)
    if judgement.verdict == "loose":
        return np.asarray(log_ndtr((judgement.ease - liked - HALF) / SLACK), dtype=np.float64)
    away = np.abs(liked - judgement.ease)  # the same on both sides; in the lower tail the difference is exact
    upper, lower = log_ndtr((HALF - away) / SLACK), log_ndtr((-HALF - away) / SLACK)
    return np.asarray(upper + np.log1p(-np.exp(lower - upper)), dtype=np.float64)
