"""How an answer is weighed beside whether the cloth suits: does the evening suffice, is the cloth used well.

Weights are a house rule of 2026-11: what hangs wrong is not worn, so cloth counts most; an evening that
does not suffice is merely continued.
"""

from __future__ import annotations

from clothwise.cloth import Cloth
from clothwise.garment import Garment
from clothwise.lay.plan import LayPlan
from clothwise.sew import Minutes
from clothwise.suggest.answer import Reason

TIME, USE, NOTES = 0.35, 0.15, 0.05  # shares of the score; with that of `suiting` they sum to one
FULLY_USED = 0.6  # share of the cloth's area, without allowances, at which nothing useful is left over
EACH_NOTE = 0.35  # of the notes' share lost for each thing the draft had to change


def time_counts(likely: float, high: float, evening: float) -> float:
    """What the evening counts for: all when even a slow make is done in it. All in minutes."""
    if high <= evening:
        return TIME
    return TIME * 0.8 if likely <= evening else TIME * max(0.0, 0.6 * evening / likely)


def in_time(minutes: Minutes, evening: float, counts: float) -> Reason:
    """Does the evening suffice? `evening` in minutes; `counts` as it was weighed for ranking."""
    if minutes.high <= evening:
        return Reason("in time", counts, {"spare": evening - minutes.likely})
    if minutes.likely <= evening:
        return Reason("may run over", counts, {"over": minutes.high - evening})
    return Reason("over time", counts, {"over": minutes.likely - evening})


def use_counts(cloth: Cloth, area_cm2: float) -> float:
    """What is used of the cloth, by area: a remnant used up is worth more than a length cut into."""
    share = area_cm2 / cloth.usable_area_cm2
    return USE * min(1.0, share / FULLY_USED)


def use_of(cloth: Cloth, plan: LayPlan, counts: float) -> Reason:
    """How much is used: of a whole length its length, of a remnant its area."""
    if cloth.remnant:
        share = min(1.0, plan.used_cm2 / cloth.usable_area_cm2)
        return Reason("uses remnant", counts, {"share": share})
    share = min(1.0, plan.length / cloth.usable_length)
    return Reason("uses cloth", counts, {"share": share, "left": max(0.0, cloth.usable_length - plan.length)})


def notes_of(garment: Garment) -> tuple[Reason, ...]:
    """What the draft says; only what it had to change costs, its advice does not."""
    each = NOTES * max(-1.0, -EACH_NOTE)
    return tuple(
        Reason("draft note", each if note.measure or note.by else 0.0, {"text": note.text})
        for note in garment.notes
    )
