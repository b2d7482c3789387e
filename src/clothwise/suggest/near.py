"""Near misses: the least shortening with which a make goes onto a cloth it is too long for."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from clothwise.cloth import Cloth
from clothwise.draft import HouseDraft
from clothwise.lay.plan import LayPlan
from clothwise.suggest.candidate import Candidate, Evening, Make, Planner, planned

NEAR = 12  # cm: a make that must be shortened by more is no near miss but another length of it

Shorten = Callable[[Make, int], Make | None]


def near_miss(
    evening: Evening, short: Sequence[Make], cloth: Cloth, planner: Planner, shorten: Shorten
) -> tuple[int, Candidate] | None:
    """By how many whole centimetres, and the make shortened least that goes onto this cloth."""
    best: tuple[int, Make, LayPlan] | None = None
    for make in sorted(short, key=lambda m: m.least_area_cm2()):
        most = best[0] - 1 if best else _most_shorter(make.draft)
        found = _least_shorter(make, cloth, planner, shorten, most)
        if found is not None and found[1].sound:
            best = found
    if best is None:
        return None
    by, make, plan = best
    candidate = Candidate(make, cloth, plan=plan)
    candidate.draw(evening)
    candidate.look = 2
    return by, candidate


def _most_shorter(draft: HouseDraft) -> int:
    """How many whole centimetres the draft may be shortened; 0 when it has no such choice."""
    if not draft.shortened_by:
        return 0
    return min(NEAR, int(-draft.choice(draft.shortened_by).low))


def _least_shorter(
    make: Make, cloth: Cloth, planner: Planner, shorten: Shorten, most: int
) -> tuple[int, Make, LayPlan] | None:
    """The most first: where that does not go on, nothing does. Then halving over whole centimetres."""
    low, best = 0, None
    by = most
    while by > low:
        shorter = shorten(make, by)
        plan = planned(shorter, cloth, planner) if shorter else None
        if shorter and plan:
            best = by, shorter, plan
        elif shorter and best is None:
            return None  # shortened as far as it can be, and still too long
        else:
            low, most = (by, most) if shorter else (low, by - 1)
        by = (low + best[0]) // 2 if best else most
    return best


def shortening() -> Shorten:
    """Shortens a make, None where it cannot be drawn so; remembers for the next cloth."""
    drawn_before: dict[tuple[object, ...], Make | None] = {}

    def shorten(make: Make, by: int) -> Make | None:
        key = (make.draft.name, *make.wish.items(), by)
        if key not in drawn_before:
            shorter = Make(make.draft, {**make.wish, make.draft.shortened_by: float(-by)}, make.body)
            drawn_before[key] = shorter if shorter.garment is not None else None
        return drawn_before[key]

    return shorten
