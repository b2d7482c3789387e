"""How much of a refused change can be had there: found by trying, so that a bound that is told is one.

One rule may forbid an amount that another would allow, so no rule by itself knows the bound. Lengths in cm.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from clothwise.draft.possible import greatest
from clothwise.errors import GarmentError
from clothwise.garment import Garment

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

    def can_be_had(amount: float) -> bool:
        try:
            done(sign * amount)
        except GarmentError:
            return False
        return True

    most = greatest(can_be_had, least, abs(asked), share=NEAR)
    if most is None:
        return refused
    mend = f"{refused.mend} Up to {sign * most:.1f} {unit} can be had there."
    return GarmentError(refused.what, where=refused.where, mend=mend.lstrip())
