"""What fits on the remnants that lie about: one make on one of them, or on several together by layer.

A make's pieces stay together by what they are: the main pieces on one cloth, and facings, pockets, bindings,
bands, collars and cuffs each, when the main cloth does not hold them, on another of the same make and about the
same weight. What is seen least is moved first, and no more than is needed. Every lay is verified.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clothwise.body import estimate
from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS, HouseDraft
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.lay.verify import faults
from clothwise.suggest.candidate import Evening, Make
from clothwise.suggest.choosing import choices_of
from clothwise.suggest.laying import Planner, goes_onto
from clothwise.suggest.suiting import share_of

PARTS: tuple[tuple[str, ...], ...] = (  # words in the names of pieces, what is seen least first
    ("facing", "stand"),
    ("pocket", "bag"),
    ("binding", "loop", "strap"),
    ("waistband", "band", "belt", "tie"),
    ("collar", "cuff", "hood"),
    ("frill", "peplum", "tier"),
)
LEAST_SUITS = 0.35  # of one: a remnant that suits less is left lying
WEIGHTS = (0.5, 1.5)  # g/m2 of a second cloth over those of the first: between these it hangs along
MOST = 12


@dataclass(frozen=True, slots=True)
class Part:
    """What is cut from one remnant."""

    cloth: Cloth
    pieces: tuple[str, ...]
    plan: LayPlan


@dataclass(frozen=True, slots=True)
class FromScraps:
    """One make from remnants. `used`: share of their area that goes into it; `score` ranks."""

    make: Make
    title: str
    parts: tuple[Part, ...]
    used: float
    score: float


def from_scraps(
    evening: Evening,
    remnants: Sequence[Cloth],
    planner: Planner,
    drafts: Sequence[HouseDraft] = PATTERNS,
    *,
    most: int = MOST,
) -> tuple[FromScraps, ...]:
    """The best that the remnants give, one make of a draft at most for each set of cloths; best first."""
    body = estimate(evening.body)
    found: dict[tuple[str, ...], FromScraps] = {}
    for draft in drafts:
        if body.age_years is not None and body.age_years < draft.least_age:
            continue
        for first in remnants:
            if first.make not in draft.makes:
                continue
            for wish in choices_of(draft, first):
                suits = share_of(draft, wish, first, evening.asked)
                if suits < LEAST_SUITS:
                    continue
                make = Make(draft, wish, body)
                parts = _parts(make, first, remnants, planner)
                if parts and make.sound:
                    one = _answer(make, parts, suits)
                    key = (draft.name, *(part.cloth.name for part in parts))
                    if key not in found or one.score > found[key].score:
                        found[key] = one
    return tuple(sorted(found.values(), key=lambda one: -one.score)[:most])


def _answer(make: Make, parts: tuple[Part, ...], suits: float) -> FromScraps:
    assert make.garment is not None
    for part in parts:
        wrong = faults(part.plan)
        assert not wrong, f"A lay from remnants fails its check: {' '.join(wrong)}"
    used = sum(part.plan.used_cm2 for part in parts)
    have = sum(part.cloth.usable_area_cm2 for part in parts)
    return FromScraps(make, make.garment.title, parts, used / have, suits * used / have)


def _parts(make: Make, first: Cloth, remnants: Sequence[Cloth], planner: Planner) -> tuple[Part, ...]:
    """The main pieces on the first remnant, the fewest parts on others; nothing when it does not go."""
    garment = make.garment
    if garment is None:
        return ()
    everywhere = sum(one.usable_area_cm2 for one in remnants if one.make == first.make)
    if make.least_area_cm2() > everywhere:
        return ()
    for kept, moved in _divided(make.pieces_on(first)):
        if sum(piece.area_cm2 for piece in kept) > first.usable_area_cm2:
            continue
        plan = goes_onto(kept, first, planner)
        if plan is None:
            continue
        others = _placed(moved, first, remnants, planner)
        if others is not None:
            return (Part(first, tuple(piece.name for piece in kept), plan), *others)
    return ()


def _divided(
    pieces: tuple[LayPiece, ...],
) -> Iterator[tuple[tuple[LayPiece, ...], tuple[tuple[LayPiece, ...], ...]]]:
    """All together first; then one part more taken away each time."""
    moved: tuple[tuple[LayPiece, ...], ...] = ()
    kept = pieces
    yield kept, moved
    for words in PARTS:
        part = tuple(piece for piece in kept if any(word in piece.name for word in words))
        if part and len(part) < len(kept):
            kept = tuple(piece for piece in kept if piece not in part)
            moved = (*moved, part)
            yield kept, moved


def _placed(
    moved: Sequence[tuple[LayPiece, ...]], first: Cloth, remnants: Sequence[Cloth], planner: Planner
) -> tuple[Part, ...] | None:
    """Each part on the smallest other remnant that holds it with what lies there already."""
    laid: dict[str, tuple[LayPiece, ...]] = {}
    plans: dict[str, Part] = {}
    low, high = (factor * first.grams_per_m2 for factor in WEIGHTS)
    fit = [
        one for one in remnants
        if one.name != first.name and one.make == first.make and low <= one.grams_per_m2 <= high
    ]  # fmt: skip
    for part in moved:
        for cloth in sorted(fit, key=lambda one: (one.name not in laid, one.usable_area_cm2)):
            together = (*laid.get(cloth.name, ()), *part)
            plan = goes_onto(together, cloth, planner)
            if plan is not None:
                laid[cloth.name] = together
                plans[cloth.name] = Part(cloth, tuple(piece.name for piece in together), plan)
                break
        else:
            return None
    return tuple(plans.values())
