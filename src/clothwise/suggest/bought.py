"""Bought patterns on the cloths of the cupboard: which size, does the cloth suffice, how long will it take.

Where the pieces are known they are really laid and the lay is verified; else the envelope's table says what is
needed, and a cloth counts as enough only when it holds the high end of the table's span.

Minutes: stated times were low by 3, 3 and 10 times for first makes (ten makers' reports), so a beginner's
likely time is three times what is stated, a practised sewer's one and a half; where nothing is stated, the
hours that makers reported for such garments. Tracing and cutting come on top, piece by piece.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clothwise.body import Body, estimate
from clothwise.cloth import Cloth
from clothwise.cloth.kinds import facts, find_kind
from clothwise.errors import WorkroomError
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.lay.verify import faults
from clothwise.shelf.pattern import ALL_VIEWS, BoughtPattern, FinishedMake
from clothwise.size.advice import Advice
from clothwise.size.advising import advise
from clothwise.size.cloth_need import ClothNeed, cloth_need, lay_pieces
from clothwise.suggest.answer import Reason, Refusal
from clothwise.suggest.candidate import Evening
from clothwise.suggest.laying import Planner, goes_onto
from clothwise.suggest.stretching import Stretch
from clothwise.suggest.suiting import DRAPE_FADES_OVER, FADES_OVER, LEAST_OF_DRAPE, OUT_OF_SEASON, SUITS
from clothwise.suggest.weighing import NOTES, TIME, USE, time_counts, use_counts

OVER_STATED: Mapping[str, float] = {"beginner": 3.0, "practised": 1.5, "expert": 1.0}
REPORTED_HOURS: Mapping[str, Mapping[str, float]] = {  # middle of what makers reported, by skill
    "dress": {"beginner": 7.5, "practised": 4.0, "expert": 2.0},
    "skirt": {"beginner": 4.5, "practised": 2.5, "expert": 1.0},
    "shirt": {"beginner": 14.0, "practised": 9.0, "expert": 4.0},
    "top": {"beginner": 4.0, "practised": 2.0, "expert": 1.5},
}
LIKE: Mapping[str, str] = {"trousers": "skirt", "one-piece": "dress", "jacket": "shirt", "coat": "shirt"}
TRACE_AND_CUT: Mapping[str, float] = {"beginner": 20.0, "practised": 13.0, "expert": 9.0}  # minutes a piece
SPAN = (0.65, 1.9)  # of the likely minutes: nine in ten (the spread of those reports)
NOT_NAMED = 0.8  # share for a cloth that the envelope does not name but that is like those it names
NAMELESS = 0.85  # share when the envelope names no cloth


@dataclass(frozen=True, slots=True)
class BoughtAnswer:
    """One bought pattern that goes onto one cloth. `plan` None: told by the envelope's table alone."""

    pattern: str
    view: str
    cloth: str
    advice: Advice
    need: ClothNeed
    plan: LayPlan | None
    low: float  # minutes, nine in ten such makes
    likely: float
    high: float
    score: float
    reasons: tuple[Reason, ...]
    haberdashery: tuple[str, ...]


def bought_answers(
    evening: Evening,
    cloths: Sequence[Cloth],
    patterns: Sequence[BoughtPattern],
    planner: Planner,
    makes: tuple[FinishedMake, ...] = (),
) -> tuple[tuple[BoughtAnswer, ...], tuple[Refusal, ...]]:
    """All that can be made, best first, and what cannot with its reason."""
    body = estimate(evening.body)
    answers: list[BoughtAnswer] = []
    refusals: list[Refusal] = []
    advised: dict[tuple[str, str, float], Advice] = {}
    for pattern in patterns:
        for view in pattern.views or (ALL_VIEWS,):
            for cloth in cloths:
                found = _one(evening, body, pattern, view, cloth, planner, makes, advised)
                if isinstance(found, BoughtAnswer):
                    answers.append(found)
                else:
                    refusals.append(Refusal(pattern.name, cloth.name, found))
    return tuple(sorted(answers, key=lambda one: -one.score)), tuple(dict.fromkeys(refusals))


def _one(
    evening: Evening,
    body: Body,
    pattern: BoughtPattern,
    view: str,
    cloth: Cloth,
    planner: Planner,
    makes: tuple[FinishedMake, ...],
    advised: dict[tuple[str, str, float], Advice],
) -> BoughtAnswer | str:
    """The answer, or why there is none."""
    if cloth.make != pattern.make:
        return f"It is meant for {pattern.make} cloth; this one is {cloth.make}."
    if pattern.least_stretch is not None and cloth.stretch_across < pattern.least_stretch:
        return Stretch(pattern.least_stretch, cloth.stretch_across).sentence("It")
    key = (pattern.name, view, cloth.stretch_across)
    try:
        if key not in advised:
            advised[key] = advise(body, pattern, view=view, cloth=cloth, makes=makes)
        advice = advised[key]
        if advice.cut == "nothing":
            return "None of its sizes is near enough to her measures."
        size = _largest(pattern, advice)
        pieces = lay_pieces(pattern, size, "main")
        plan = goes_onto(pieces, cloth, planner) if pieces else None
        need = cloth_need(pattern, size, cloth.usable_width, view=view, nap=cloth.laid_nap)
    except WorkroomError as no:
        return no.what
    if need.too_narrow:
        return f"{need.too_narrow[0]} is wider than {cloth.usable_width:.0f} cm."
    if (pieces and plan is None) or (not pieces and (cloth.outline or need.high > cloth.usable_length)):
        return f"It needs {need.low:.0f} to {need.high:.0f} cm of {cloth.usable_width:.0f} cm width."
    if plan is not None:
        wrong = faults(plan)
        assert not wrong, f"A lay to be suggested fails its check: {' '.join(wrong)}"
    return _answer(evening, pattern, view, cloth, advice, need, plan, pieces)


def _largest(pattern: BoughtPattern, advice: Advice) -> str:
    """The largest of the sizes that are cut: its pieces need most."""
    places = [pattern.sizes.index(label) for label in advice.blend.values() if label in pattern.sizes]
    return pattern.sizes[max(places)] if places else advice.single


def _answer(
    evening: Evening,
    pattern: BoughtPattern,
    view: str,
    cloth: Cloth,
    advice: Advice,
    need: ClothNeed,
    plan: LayPlan | None,
    pieces: tuple[LayPiece, ...],
) -> BoughtAnswer:
    likely = _minutes(pattern, evening.sewer.skill) * evening.sewer.pace
    low, high = (likely * part for part in SPAN)
    share, reasons = _suits(pattern, cloth, evening.season)
    hours = 60 * evening.hours
    in_time = time_counts(likely, high, hours)
    area = sum(p.area_cm2 for p in pieces) if pieces else need.likely * cloth.usable_width * 0.75
    used = use_counts(cloth, area)
    if high <= hours:
        time = Reason("in time", in_time, {"spare": hours - likely})
    elif likely <= hours:
        time = Reason("may run over", in_time, {"over": high - hours})
    else:
        time = Reason("over time", in_time, {"over": likely - hours})
    length = plan.length if plan else need.likely
    left = max(0.0, cloth.usable_length - length)
    use = Reason("uses cloth", used, {"share": min(1.0, length / cloth.usable_length), "left": left})
    score = min(1.0, NOTES + SUITS * share + min(in_time, TIME) + min(used, USE))
    return BoughtAnswer(
        pattern=pattern.name,
        view=view,
        cloth=cloth.name,
        advice=advice,
        need=need,
        plan=plan,
        low=low,
        likely=likely,
        high=high,
        score=score,
        reasons=(*reasons, time, use),
        haberdashery=pattern.haberdashery,
    )


def _minutes(pattern: BoughtPattern, skill: str) -> float:
    """Sewing as above, tracing and cutting besides. [minutes]"""
    hours = REPORTED_HOURS[LIKE.get(pattern.garment, pattern.garment)][skill]
    sewing = pattern.minutes * OVER_STATED[skill] if pattern.minutes else 60 * hours
    return sewing + TRACE_AND_CUT[skill] * len(pattern.pieces)


def _suits(pattern: BoughtPattern, cloth: Cloth, season: str) -> tuple[float, list[Reason]]:
    """By the cloths the envelope names: one of them, or near to them in weight and drape."""
    share, reasons = 1.0, []
    known = facts(cloth)
    named = [kind for kind in map(find_kind, pattern.recommended) if kind is not None]
    if cloth.kind in pattern.recommended:
        reasons.append(Reason("suits", SUITS, {"grams": cloth.grams_per_m2}))
    elif not named:
        share = NAMELESS
    else:
        light, heavy = min(kind.lightest for kind in named), max(kind.heaviest for kind in named)
        off = max(light - cloth.grams_per_m2, cloth.grams_per_m2 - heavy, 0.0)
        share = NOT_NAMED * max(0.0, 1 - off / FADES_OVER)
        if off:
            light_or_heavy = "too light" if cloth.grams_per_m2 < light else "too heavy"
            wanted = light if light_or_heavy == "too light" else heavy
            figures = {"grams": cloth.grams_per_m2, "wanted": wanted}
            reasons.append(Reason(light_or_heavy, -SUITS * off / FADES_OVER, figures))  # type: ignore[arg-type]
        low, high = min(kind.drape for kind in named), max(kind.drape for kind in named)
        away = max(low - known.drape, known.drape - high, 0.0)
        if away:
            factor = max(LEAST_OF_DRAPE, 1 - away / DRAPE_FADES_OVER)
            softer = known.drape < low
            reasons.append(
                Reason(
                    "hangs close" if softer else "stands away",
                    SUITS * share * (factor - 1),
                    {"drape": known.drape, "wanted": low if softer else high, "known": known.drape_known},
                )
            )
            share *= factor
    if season and season not in known.seasons:
        figures_of = {"season": season, "worn": ", ".join(known.seasons)}
        reasons.append(Reason("out of season", SUITS * share * (OUT_OF_SEASON - 1), figures_of))
        share *= OUT_OF_SEASON
    return share, reasons
