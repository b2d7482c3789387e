"""How much of a refused change can be had there: found by trying, so that a bound that is told is one.

One rule may forbid an amount that another would allow, so no rule by itself knows the bound. Lengths in cm.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from clothwise.errors import GarmentError
from clothwise.garment import Garment
from clothwise.tolerance import SOLVE  # 0.3 is three steps, whatever the last digit says

STEP = 0.1  # cm, or times as long: nobody asks more finely
NEAR = 16  # a bound is sought to a 16th of itself: four or five tries, each a whole check


def with_bound(
    refused: GarmentError, done: Callable[[float], Garment], least: float, asked: float, unit: str
) -> GarmentError:
    """The refusal, its mend ending with the most that can be had of what was asked; as it is where not even the
    least can, for then the amount is not what is wrong.

    done   does the change by another amount; raises GarmentError
    least  the smallest amount that anybody means
    """
    sign = math.copysign(1.0, asked)
    low, high = math.ceil(least / STEP - SOLVE), math.ceil(abs(asked) / STEP - SOLVE)

    def can_be_had(steps: int) -> bool:
        try:
            done(sign * steps * STEP)
        except GarmentError:
            return False
        return True

    if low >= high or not can_be_had(low):
        return refused
    while high - low > max(1, high // NEAR):
        middle = (low + high) // 2
        low, high = (middle, high) if can_be_had(middle) else (low, middle)
    mend = f"{refused.mend} Up to {sign * low * STEP:.1f} {unit} can be had there."
    return GarmentError(refused.what, where=refused.where, mend=mend.lstrip())
