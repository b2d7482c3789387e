"""The longest that a make can be on a cloth: its length solved so that it just goes on. Lengths in cm."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.cloth import Cloth
from clothwise.errors import ChoiceError, ClothError
from clothwise.lay.plan import LayPlan
from clothwise.suggest.candidate import Make
from clothwise.suggest.laying import Planner, goes_onto
from clothwise.suggest.near import Redraw

STEP = 0.5  # cm: nobody hems closer


@dataclass(frozen=True, slots=True)
class Longest:
    """`by`: the draft's own lengthening (+) or shortening (-); `capped`: the draft itself goes no longer."""

    make: Make
    by: float
    plan: LayPlan
    capped: bool


def longest(make: Make, cloth: Cloth, planner: Planner) -> Longest:
    """The greatest length at which every piece goes onto the cloth, to half a centimetre.

    Raises  ChoiceError: the draft has no length to choose; ClothError: it does not go on however short
    """
    draft = make.draft
    if not draft.shortened_by:
        raise ChoiceError(f"{draft.title} has no length to choose.", where=f"pattern '{draft.name}'")
    choice, redraw = draft.choice(draft.shortened_by), Redraw.new()
    low, high = 0, round((choice.high - choice.low) / STEP)
    best: tuple[int, Make, LayPlan] | None = None
    at = high
    while low <= high:
        drawn = redraw(make, choice.name, choice.low + STEP * at)
        plan = goes_onto(drawn.pieces, cloth, planner) if drawn is not None and drawn.sound else None
        if drawn is not None and plan is not None:
            best, low = (at, drawn, plan), at + 1
        else:
            high = at - 1
        at = (low + high) // 2
    if best is None:
        raise ClothError(
            f"{draft.title} does not go onto this cloth, however short.",
            where=f"cloth '{cloth.name}', {cloth.usable_width:g} x {cloth.usable_length:g} cm after washing",
            mend="Take another cloth, or ask `clothwise suggest` what does.",
        )
    at, drawn, plan = best
    by = choice.low + STEP * at
    return Longest(drawn, by, plan, by >= choice.high)
