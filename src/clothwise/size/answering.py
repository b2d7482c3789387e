"""The whole answer to 'which size?': the body filled in before, the cloth told after. One for all faces."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clothwise.body import Body, estimate
from clothwise.body.slips import slips
from clothwise.cloth import Cloth
from clothwise.cloth.cloth import Nap
from clothwise.errors import ClothError, LayError, MeasureError, ShelfError
from clothwise.shelf.pattern import BoughtPattern, FinishedMake
from clothwise.size.advice import Advice
from clothwise.size.advising import advise
from clothwise.size.chart import place_of
from clothwise.size.cloth_need import ClothNeed, cloth_needs
from clothwise.size.lengthening import longer_as_advised


@dataclass(frozen=True, slots=True)
class SizeAnswer:
    """Advice, cloth by kind, why no cloth can be told ('' when it can), and what to ask before cutting."""

    advice: Advice
    needs: Mapping[str, ClothNeed]
    trouble: str
    questions: tuple[str, ...]


def answered(
    body: Body,
    pattern: BoughtPattern,
    *,
    view: str = "",
    cloth: Cloth | None = None,
    width: float | None = None,
    nap: Nap = "two-way",
    hem: float = 0.0,
    shrinkage: float = 0.0,
    makes: Sequence[FinishedMake] = (),
    wishes: Mapping[str, float] | None = None,
    tape_days: int | None = None,
) -> SizeAnswer:
    """Which size, how much cloth, and what looks odd.

    view   '' takes the first of the envelope: a size is nearly always the same for all
    cloth  of the cupboard: its width and nap decide; without one, `width` and `nap` do [cm]
    hem    made longer by this, negative: shorter [cm]
    shrinkage  share lost in the first wash of cloth to be bought; the cupboard's own cloths know theirs
    tape_days  since the body was taped, where that is known
    """
    whole, questions = _filled_in(body)
    chosen = view or (pattern.views[0] if pattern.views else "")
    advice = advise(
        whole, pattern, view=chosen, cloth=cloth, makes=tuple(makes), wishes=wishes or {}, tape_days=tape_days
    )  # fmt: skip
    usable = cloth.usable_width if cloth else width
    needs, trouble = _cloth(advice, pattern, usable, cloth.nap if cloth else nap, hem, shrinkage)
    return SizeAnswer(advice, needs, trouble, questions)


def _filled_in(body: Body) -> tuple[Body, tuple[str, ...]]:
    """The body with what was not taped estimated, and what to ask before cutting from it."""
    questions = tuple(slip.sentence for slip in slips(body))
    try:
        return estimate(body), questions
    except MeasureError as refusal:  # a size can be told from the taped measures alone
        return body, (*questions, f"What was not taped could not be estimated: {refusal.what}")


def _cloth(
    advice: Advice, pattern: BoughtPattern, width: float | None, nap: Nap, hem: float, shrinkage: float
) -> tuple[dict[str, ClothNeed], str]:
    """Cloth for the largest size that is cut, in length too, and as it is altered; or why none can be told."""
    if advice.cut == "nothing":
        return {}, ""
    growing = advice.growing
    grown = [size for size in (growing.length_size, growing.roomy_size) if size] if growing else []
    size = max((*advice.sizes.values(), *grown), key=lambda one: place_of(pattern, one))
    longer_anyway = size in grown and size not in advice.sizes.values()  # its length holds what she needs today
    longer = longer_as_advised(() if longer_anyway else advice.lengths, hem=hem)
    try:
        needs = cloth_needs(pattern, size, width, view=advice.view, nap=nap, longer=longer, shrinkage=shrinkage)
        return needs, ""
    except (ShelfError, ClothError, LayError) as refusal:
        return {}, f"{refusal.what} {refusal.mend}"
