"""What a sewer asks of a lay, beside 'how long' and 'does it fit'.

longest      how long the garment can be made on this cloth
plan_around  some pieces stay where she laid them, the rest is planned around them
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from clothwise.errors import LayError, WorkroomError
from clothwise.lay.cloth import LayCloth
from clothwise.lay.layering import Layering
from clothwise.lay.nofit import NoFits
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayAnswer, LayPlan
from clothwise.lay.planning import Watch, fits, plan
from clothwise.lay.problem import LayProblem

Make = Callable[[float], Sequence[LayPiece]]  # the pieces of the garment made so long [cm]
Says = Callable[[float], str]
MOST_STEPS = 5000  # lengths between the shortest and the longest: more is a slip of the step


@dataclass(frozen=True, slots=True)
class Longest:
    """The longest that fits, with its lay, and why a step more does not; length None: not even the shortest."""

    length: float | None
    plan: LayPlan | None
    reason: str


def longest(
    make: Make,
    cloth: LayCloth,
    *,
    shortest: float,
    most: float,
    step: float = 1.0,
    gap: float = 0.0,
    effort: str = "usual",
    known: NoFits | None = None,
    says: Says = lambda length: f"{length:g} cm long",
) -> Longest:
    """How long the garment can be made on this cloth, to the step. [cm]

    make            pieces for a length; a refusal of the draft counts as 'cannot be'
    shortest, most  the lengths between which to look [cm]
    says            a length in words, for the reason
    The search halves: it takes for granted that what fits long fits short too.
    """
    sensible = step > 0 and math.isfinite(most - shortest)
    steps = round((most - shortest) / step) if sensible else -1
    if not 0 <= steps <= MOST_STEPS:
        raise LayError(
            f"There are no lengths from {shortest:g} to {most:g} cm in steps of {step:g} cm.",
            where="lay: longest",
            mend="Give the shortest length first, and a step of half a centimetre or more.",
        )
    known = known or NoFits()
    best: tuple[float, LayAnswer] | None = None
    reason = f"It fits at the longest asked for, {most:g} cm."
    low, high = 0, steps  # below low it fits; above high it does not
    at = high
    while low <= high:
        length = shortest + at * step
        answer = _asked(make, length, cloth, gap, effort, known)
        if answer.plan is not None:
            best, low = (length, answer), at + 1
        else:
            reason, high = f"{says(length)}: {answer.reason}", at - 1
        at = (low + high + 1) // 2
    if best is None:
        return Longest(None, None, reason)
    return Longest(best[0], best[1].plan, reason)


def longer_words(by: float) -> str:
    """'3 cm longer', '2 cm shorter', 'as it is drawn'. [cm]"""
    return "as it is drawn" if abs(by) < 0.05 else f"{abs(by):g} cm {'longer' if by > 0 else 'shorter'}"


def plan_around(
    problem: LayProblem,
    layering: Layering,
    pinned: Sequence[Placement],
    *,
    effort: str = "brisk",
    known: NoFits | None = None,
    watch: Watch | None = None,
) -> LayPlan:
    """The shortest lay found in which these copies lie where they are put.

    Raises  LayError when one of them may not lie there, or the rest finds no room
    """
    return plan(replace(problem, pinned=tuple(pinned)), layering, effort=effort, known=known, watch=watch)


def _asked(make: Make, length: float, cloth: LayCloth, gap: float, effort: str, known: NoFits) -> LayAnswer:
    try:
        return fits(LayProblem(tuple(make(length)), cloth, gap), effort=effort, known=known)
    except WorkroomError as refusal:
        return LayAnswer("impossible", refusal.what)
