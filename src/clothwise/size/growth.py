"""Children: how much room a size gives, and how many months until it is used up.

`growth.json` holds how large children are at each age. A child is taken to keep near its own place among
children of its age, straying more with time:

    z        how many spreads (of logarithms) it lies from the mean of its age
    keeping  share of z that is kept over a year; the rest is chance
    months   until the measure reaches a limit: likely, and the span that nine in ten such children fall in

The survey met each child once, so `keeping` is the house's judgement, set so that one year's growth in
height varies between children by 1 cm or a little more, as growth studies agree it does; girths stray more.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

import numpy as np

from clothwise.body import Figure
from clothwise.body.model import Array
from clothwise.body.population import Z90

KEEPING_LENGTH = 0.985  # a year; house rule, 2026-11, see above
KEEPING_GIRTH = 0.96  # a year; house rule, 2026-11: a girth may stand still through a spurt of height
LONGEST = 60  # months: further ahead nobody plans a garment
OLDEST = 18.0  # years: where the figures end
GIRTHS = frozenset("bust_girth waist_girth hip_girth thigh_girth".split())


@dataclass(frozen=True, slots=True)
class Wear:
    """Months until a measure reaches a limit: likely, and nine in ten children between `low` and `high`.

    A number that reaches LONGEST means 'that or more'.
    """

    measure: str
    room: float  # cm from the measure to the limit
    likely: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class SizeWear:
    """How long one size serves at one level."""

    size: str
    level: str
    wear: Wear


@dataclass(frozen=True, slots=True)
class Growing:
    """What growing means for the sizes advised.

    width_size, length_size   by girth and by height, for today
    roomy_size                the length size that leaves room to grow: the next one; '' when there is none
    room         what the next size gives more than today's, by level [cm]
    wear         of today's sizes, and of the roomy one; empty for a baby, whom no survey here has met
    age_guessed  the age was not given, and was told from the height
    """

    width_size: str
    length_size: str
    roomy_size: str
    room: tuple[tuple[str, float], ...]
    wear: tuple[SizeWear, ...]
    age_years: float
    age_guessed: bool


def known_measures() -> tuple[str, ...]:
    """The body measures whose growth is known."""
    return tuple(_figures()["girl"])


def age_of_height(figure: Figure, height: float) -> float:
    """The age at which this height is the mean. [years]"""
    ages, mean, _ = _curve(figure, "height")
    return float(np.interp(math.log(height), mean, ages))


def months_until(figure: Figure, age_years: float, measure: str, now: float, limit: float) -> Wear:
    """How long until a measure of `now` cm reaches `limit` cm.

    >>> wear = months_until("girl", 7, "height", 120, 126)
    >>> round(wear.likely), wear.low < wear.likely < wear.high
    (12, True)
    """
    months = np.arange(0, LONGEST + 1)
    middle, stray = _ahead(figure, age_years, measure, now, months / 12)
    wanted = math.log(limit) if limit > 0 else -math.inf

    def reached(path: Array) -> float:
        over = np.nonzero(path >= wanted)[0]
        return float(months[over[0]]) if len(over) else float(LONGEST)

    return Wear(
        measure,
        limit - now,
        likely=reached(middle),
        low=reached(middle + Z90 * stray),
        high=reached(middle - Z90 * stray),
    )


def _ahead(figure: Figure, age: float, measure: str, now: float, years: Array) -> tuple[Array, Array]:
    """Log of the likely measure in `years`, and how far it strays: one standard deviation."""
    ages, mean, spread = _curve(figure, measure)
    keeping = KEEPING_GIRTH if measure in GIRTHS else KEEPING_LENGTH
    z = (math.log(now) - np.interp(age, ages, mean)) / np.interp(age, ages, spread)
    then = np.minimum(age + years, OLDEST)
    kept = keeping**years
    later = np.interp(then, ages, spread)
    middle = np.interp(then, ages, mean) + kept * z * later
    return np.maximum.accumulate(np.asarray(middle)), np.asarray(np.sqrt(1 - kept**2) * later)


def _curve(figure: Figure, measure: str) -> tuple[list[float], list[float], list[float]]:
    whole = _figures()
    found = whole[figure][measure]
    return _ages(), found["mean"], found["spread"]


@lru_cache
def _figures() -> dict[str, dict[str, dict[str, list[float]]]]:
    whole = _file()
    return {figure: whole[figure] for figure in ("girl", "boy")}


@lru_cache
def _ages() -> list[float]:
    return [float(age) for age in _file()["ages"]]


def _file() -> dict[str, dict[str, dict[str, list[float]]]]:
    text = resources.files("clothwise.size").joinpath("growth.json").read_text("utf-8")
    return dict(json.loads(text))
