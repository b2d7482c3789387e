"""How much of a choice a body can have, said so that it can be had: rounded inwards, to the millimetre."""

from __future__ import annotations

import math
from collections.abc import Callable

from clothwise.tolerance import SOLVE


def within(asked: float, least: float, most: float) -> bool:
    """Whether it lies between the bounds, or on one of them but for the last digits. [cm]"""
    return least - SOLVE <= asked <= most + SOLVE


def possible(asked: float, least: float = -math.inf, most: float = math.inf) -> str:
    """The mend of a choice that was asked beyond one of these bounds: tells that bound. [cm]

    >>> possible(6, -4.26, 3.46)
    'For this body up to +3.4 cm is possible.'
    >>> possible(-6, -4.26, 3.46)
    'For this body -4.2 cm or more is possible.'
    """
    if asked > most:
        return f"For this body up to {math.floor(10 * most) / 10 + 0.0:+.1f} cm is possible."
    return f"For this body {math.ceil(10 * least) / 10 + 0.0:+.1f} cm or more is possible."


def greatest(fits: Callable[[float], bool], least: float, most: float, *, share: int = 0) -> float | None:
    """The greatest of a choice below `most` that fits, to the millimetre, found by halving; None when not even
    the least does. [cm]

    share  where a try is dear: to so many-th of itself will do

    >>> greatest(lambda cm: cm * cm < 2, 0.1, 2.0)
    1.4
    """
    low, high = math.ceil(10 * least - SOLVE), math.ceil(10 * most - SOLVE)
    if low >= high or not fits(low / 10):
        return None
    while high - low > max(1, high // share if share else 1):
        middle = (low + high) // 2
        low, high = (middle, high) if fits(middle / 10) else (low, middle)
    return low / 10


def between(least: float, most: float) -> str:
    """The bounds of a measure that goes with the others. [cm]

    >>> between(57.01, 77.89)
    '57.1 to 77.8 cm'
    """
    return f"{at_least(least)} to {at_most(most)} cm"


def at_least(cm: float) -> str:
    return f"{math.ceil(10 * cm) / 10:g}"


def at_most(cm: float) -> str:
    return f"{math.floor(10 * cm) / 10:g}"
