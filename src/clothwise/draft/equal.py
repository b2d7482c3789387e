"""Two seams made equally long by moving one end of one of them, as a cutter trues them.

Moving the end by a centimetre changes the seam by about a centimetre, so a few steps along the chord of the
last two looks suffice; where they do not, the whole range is searched.
"""

from __future__ import annotations

from collections.abc import Callable

from clothwise.curve import solve
from clothwise.tolerance import SOLVE

LOOKS = 8  # more than ever needed on a seam that answers evenly (3-4)


def trued(length: Callable[[float], float], wanted: float, answers: float, most: float) -> float:
    """How far the end is moved so that the seam has the wanted length, within SOLVE. [cm]

    answers  change of length for a centimetre of move, roughly: 1 or -1
    most     farthest move either way. NoSolution when that is not enough.
    """
    move, gap = 0.0, length(0.0) - wanted
    slope = answers
    for _ in range(LOOKS):
        if abs(gap) <= SOLVE:
            return move
        further = move - gap / slope
        if abs(further) > most:
            break
        left = length(further) - wanted
        slope = (left - gap) / (further - move) or answers
        move, gap = further, left
    return solve(length, wanted, -most, most, tolerance=SOLVE)
