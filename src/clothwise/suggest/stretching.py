"""A knit draft on a cloth that may not stretch enough: the least stretch that this body needs, and the sum.

The draft itself knows when a cloth cannot pass a head, a hip or a heel; it refuses. So the least stretch is
solved: the smallest, in whole per cent, at which it can be drawn for this body with these choices.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from clothwise.cloth import Cloth
from clothwise.draft import HouseDraft

Draws = Callable[[Mapping[str, float | str]], bool]  # whether the draft can be drawn with these choices
MARKED = 10.0  # cm between the two pins of the ruler's test
MOST = 1.2  # share: beyond 120 % no cloth for clothes stretches
# share: drafts are drawn for the cloth's stretch rounded down to this, so that it always gives enough
STEP = 0.05


@dataclass(frozen=True, slots=True)
class Stretch:
    """What a draft needs and a cloth gives, as shares of one."""

    needs: float
    gives: float

    @property
    def enough(self) -> bool:
        """Whether the cloth stretches as far as it must."""
        return self.gives >= self.needs

    def sentence(self, title: str) -> str:
        """The refusal with its arithmetic."""
        return (
            f"{title} must stretch {self.needs:.0%} here: {MARKED:g} cm must pull out to "
            f"{MARKED * (1 + self.needs):.1f} cm. This cloth gives {self.gives:.0%}: "
            f"{MARKED:g} cm pull out to {MARKED * (1 + self.gives):.1f} cm."
        )


def asks_stretch(draft: HouseDraft) -> bool:
    """Whether the draft is drawn to the stretch of its cloth."""
    return any(choice.name == "stretch" for choice in draft.choices)


def drawn_for(cloth: Cloth) -> float:
    """The stretch across that a draft is drawn for, in per cent: the cloth's, rounded down. [%]"""
    steps = int(cloth.stretch_across / STEP + STEP / 10)
    return round(100 * STEP * steps, 1)


def least_stretch(draft: HouseDraft, wish: Mapping[str, float | str], draws: Draws) -> float | None:
    """The least stretch at which it can be drawn, as a share; None when no stretch is enough.

    Solved by halving over whole per cents: a cloth that stretches further never refuses where another did not.
    """
    choice = draft.choice("stretch")
    low, high = int(choice.low), int(min(choice.high, 100 * MOST))
    if not draws({**wish, "stretch": float(high)}):
        return None
    while low < high:
        middle = (low + high) // 2
        if draws({**wish, "stretch": float(middle)}):
            high = middle
        else:
            low = middle + 1
    return high / 100
