"""A make is cut: its cloth shrinks to what is truly left, in one deed that can be undone.

What is left is worked out from the lay itself (`lay.left_over`): the largest part keeps the cloth's name, the
others become remnants beside it, 'Sand linen, rest 2'. Where nothing usable is left, the cloth goes out of the
cupboard. Earlier versions stay in the store, as everywhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count

from shapely.geometry import Polygon

from clothwise.cloth import Cloth
from clothwise.cloth.shape import Outline, settled
from clothwise.errors import ClothError
from clothwise.lay.left_over import left_over
from clothwise.lay.plan import LayPlan
from clothwise.store.deeds import Deed, Hand, do, undo
from clothwise.store.store import CLOTH, Store
from clothwise.tolerance import SAME_POINT

SCOPE = "cut/"  # of the deeds: undoing looks at the cuts alone
MOST_PARTS = 4  # remnants kept of one cut: more would fill the cupboard with scraps
LEAST_PART_CM2 = 600.0  # a pocket and its facing; smaller parts are for test stitches (house rule)


@dataclass(frozen=True, slots=True)
class Cut:
    """One cloth cut: what was there, and what is there now (nothing: all is used up)."""

    before: Cloth
    after: tuple[Cloth, ...]
    used_cm: float  # length of cloth that the lay took


def rests(cloth: Cloth, plan: LayPlan, taken: Sequence[str] = ()) -> tuple[Cloth, ...]:
    """What is left of a cloth after this lay, washed. The first keeps its name; `taken` are names in use."""
    washed = cloth.after_wash()
    found: list[Cloth] = []
    names = _names(cloth.name, taken)
    for part in parts_left(plan):
        name = cloth.name if not found else next(names)
        found.append(_rest(washed, part, name))
    return tuple(found)


def parts_left(plan: LayPlan) -> tuple[Outline, ...]:
    """The parts of the cloth that are kept after this lay, largest first, where they lie on it."""
    unmarked = replace(plan.problem, cloth=replace(plan.problem.cloth, flaws=()))  # flaws stay on what is left
    parts = left_over(replace(plan, problem=unmarked))
    return tuple(part for part in parts if _area(part) >= LEAST_PART_CM2)[:MOST_PARTS]


def _rest(cloth: Cloth, part: Outline, name: str) -> Cloth:
    """One part as a cloth of its own: straight where it is a rectangle, with the flaws that lie on it."""
    left, low = min(x for x, _ in part), min(y for _, y in part)
    outline = settled(part)
    length, width = max(x for x, _ in outline), max(y for _, y in outline)
    whole = abs(_area(outline) - length * width) < SAME_POINT * (length + width)
    flaws = tuple(tuple((x - left, y - low) for x, y in flaw) for flaw in cloth.flaws)
    kept = tuple(flaw for flaw in flaws if _touches(flaw, outline))
    return replace(cloth, name=name, length=length, width=width, outline=() if whole else outline, flaws=kept)


def _names(name: str, taken: Sequence[str]) -> Iterator[str]:
    """Names for further parts, without end."""
    for number in count(2):
        if (wanted := f"{name}, rest {number}") not in taken:
            yield wanted


def _area(outline: Outline) -> float:
    return float(Polygon(outline).area)


def _touches(flaw: Outline, outline: Outline) -> bool:
    return bool(Polygon(flaw).intersects(Polygon(outline)))


def cut(
    store: Store,
    make: str,
    plans: Mapping[str, LayPlan],
    also: Callable[[Hand, Sequence[Cut]], None] = lambda _hand, _done: None,
) -> tuple[Cut, ...]:
    """Takes what a make uses off its cloths, and puts back what is left. One deed, all of it or nothing.

    plans   by the name of the cloth as it stands in the cupboard
    also    what else belongs to the deed
    Raises  ClothError: a cloth is not as it was when it was laid; StoreError: it is not in the cupboard
    """
    done: list[Cut] = []
    taken = [cloth.name for cloth in store.cloths()]
    for name in plans:
        store.cloth(name)

    def change(hand: Hand) -> None:
        for name, plan in plans.items():
            cloth = hand.find(CLOTH, name)
            assert cloth is not None
            _refuse_other_cloth(cloth, plan)
            after = rests(cloth, plan, taken)
            if after:
                for one in after:
                    hand.keep(CLOTH, one)
            else:
                hand.forget(CLOTH, name)
            done.append(Cut(cloth, after, plan.length))
        also(hand, done)

    do(store, SCOPE + make, f"Cut {make}", change)
    return tuple(done)


def undo_cut(store: Store, make: str = "") -> Deed | None:
    """Takes back the last cut, or the last of one make. None when there is none."""
    return undo(store, SCOPE + make)


def _refuse_other_cloth(cloth: Cloth, plan: LayPlan) -> None:
    laid = plan.problem.cloth
    same = (
        abs(laid.width - cloth.usable_width) < SAME_POINT
        and abs((laid.length or cloth.usable_length) - cloth.usable_length) < SAME_POINT
        and (laid.outline or ()) == cloth.usable_outline
        and laid.flaws == cloth.usable_flaws
    )
    if not same:
        raise ClothError(
            "The cloth is no longer as it was when the make was laid on it.",
            where=f"cloth '{cloth.name}': {cloth.width:g} x {cloth.length:g} cm",
            mend="Lay the make again on the cloth as it is now, then cut.",
        )
