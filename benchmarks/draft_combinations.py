"""Several choices of a house draft at once, as a sewer sets them: drawn by lot, the same for the same seed."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from benchmarks.house import Wish, chosen
from clothwise.draft import Choice, HouseDraft
from clothwise.draft.pattern import FINISHED

FEWEST, MOST = 2, 5  # choices set at once
AT_AN_END = 0.5  # share of the numbers that are set at an end of their range
SHORT, LONG = 15.0, 120.0  # cm, finished: beyond them hardly a body admits it


def combinations(draft: HouseDraft, number: int, seed: int = 0) -> Iterator[Wish]:
    """So many wishes of two to five choices each: words by lot, numbers at an end or between the ends."""
    lot = Random(f"{draft.name} {seed}")
    for _ in range(number):
        said: Wish = {c.name: _value(c, lot) for c in lot.sample(draft.choices, lot.randint(FEWEST, MOST))}
        beside: Wish = {}
        for name, value in said.items():
            beside |= chosen(draft, name, value)
        yield beside | said


def _value(choice: Choice, lot: Random) -> float | str:
    if choice.options:
        return lot.choice(choice.options)
    low, high = (SHORT, LONG) if choice.name == FINISHED else (choice.low, choice.high)
    return lot.choice((low, high)) if lot.random() < AT_AN_END else round(lot.uniform(low, high), 1)
