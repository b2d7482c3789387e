"""The least change with which a make goes onto the cloth that `clothwise lay` was told of."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from clothwise.cloth import Cloth
    from clothwise.lay.cloth import LayCloth
    from clothwise.lay.nofit import NoFits
    from clothwise.lay.plan import LayPlan
    from clothwise.lay.problem import LayProblem
    from clothwise.suggest.candidate import Make
    from clothwise.suggest.near import Near

EFFORT = "quick"  # each of some tens of changed makes is laid


def least_change(make: Make, kept: Cloth | None, problem: LayProblem, known: NoFits) -> Near | None:
    """One choice changed, or one and a shortening; None where no small change helps.

    kept  the cloth of the cupboard that is meant, if any: how it stretches is known of it alone
    """
    from clothwise.body import estimate
    from clothwise.errors import LayError
    from clothwise.lay.planning import fits
    from clothwise.suggest.near import near_miss

    def planner(asked: LayProblem, effort: str) -> LayPlan:
        answer = fits(replace(asked, gap=problem.gap), effort=EFFORT, known=known)
        if answer.plan is None:
            raise LayError(answer.reason, where="lay")
        return answer.plan

    whole = replace(make, body=estimate(make.body))
    return near_miss(whole, as_kept(problem.cloth, kept), planner)


def as_kept(cloth: LayCloth, kept: Cloth | None) -> Cloth:
    """The cloth as told, as if it lay in the cupboard, washed."""
    from clothwise.cloth import Cloth

    assert cloth.length is not None
    repeat = cloth.repeat
    return replace(
        kept or Cloth("the cloth", cloth.width, cloth.length),
        width=cloth.width,
        length=cloth.length,
        nap=cloth.nap,
        washed=True,
        shrinkage=0.0,
        outline=cloth.outline or (),
        flaws=cloth.flaws,
        repeat_along=repeat.along if repeat else 0.0,
        repeat_across=repeat.across if repeat else 0.0,
        repeat_even=repeat.even if repeat else True,
    )
