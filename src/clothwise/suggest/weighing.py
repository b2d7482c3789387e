"""How an answer is weighed: does the cloth suit, does the evening suffice, is the cloth used well.

Weights are a house rule of 2026-11: what hangs wrong is not worn, so cloth counts most; an evening that
does not suffice is merely continued.
"""

from __future__ import annotations

from clothwise.cloth import Cloth
from clothwise.draft import HouseDraft
from clothwise.garment import Garment
from clothwise.lay.plan import LayPlan
from clothwise.sew import Minutes
from clothwise.suggest.answer import Reason

SUITS, TIME, USE, NOTES = 0.45, 0.35, 0.15, 0.05  # shares of the score; they sum to one
FADES_OVER = 80.0  # g/m2 beyond the draft's range at which a cloth no longer suits at all (trade sense)
FULLY_USED = 0.6  # share of the cloth's area, without allowances, at which nothing useful is left over
EACH_NOTE = 0.35  # of the notes' share lost for each thing the draft had to change


def suits(draft: HouseDraft, cloth: Cloth) -> Reason:
    """Is the cloth's weight what the draft is meant for?"""
    grams = cloth.grams_per_m2
    if grams < draft.lightest:
        off, kind, wanted = draft.lightest - grams, "too light", draft.lightest
    elif grams > draft.heaviest:
        off, kind, wanted = grams - draft.heaviest, "too heavy", draft.heaviest
    else:
        return Reason("suits", SUITS, {"grams": grams})
    share = max(0.0, 1 - off / FADES_OVER)
    return Reason(
        "too light" if kind == "too light" else "too heavy", SUITS * share, {"grams": grams, "wanted": wanted}
    )


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
    share = area_cm2 / (cloth.usable_width * cloth.usable_length)
    return USE * min(1.0, share / FULLY_USED)


def use_of(cloth: Cloth, plan: LayPlan, counts: float) -> Reason:
    """How much of the length is used."""
    share = min(1.0, plan.length / cloth.usable_length)
    return Reason("uses cloth", counts, {"share": share, "left": max(0.0, cloth.usable_length - plan.length)})


def notes_of(garment: Garment) -> tuple[Reason, ...]:
    """What the draft had to change; without any, the full share."""
    if not garment.notes:
        return ()
    each = NOTES * max(-1.0, -EACH_NOTE)
    return tuple(Reason("draft note", each, {"text": note.text}) for note in garment.notes)


def score(reasons: tuple[Reason, ...]) -> float:
    """0 to 1."""
    return min(1.0, max(0.0, NOTES + sum(reason.counts for reason in reasons)))
