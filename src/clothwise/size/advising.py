"""Which size of a bought pattern to cut, for one body and one cloth: one pure function.

    base       the measure a size is told by; the high bust where the bust is full
    held       a level that takes part in the choice; one that hangs free counts only by its floor
    place      number of a size along the chart, see `chart`

The chart is only the start: what counts is the ease that each size gives her, against the ease that was
meant and that she likes. The reasons are data; `cli` makes the sentences.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from typing import Literal

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.errors import ShelfError
from clothwise.shelf.doubts import ChartDoubt, doubts
from clothwise.shelf.levels import level as level_of
from clothwise.shelf.pattern import ALL_VIEWS, BoughtPattern, FinishedMake
from clothwise.size.advice import Advice, BlendStep, LevelAdvice
from clothwise.size.altering import (
    beyond_alterations,
    girth_alterations,
    length_advice,
    length_alterations,
    lengths_of,
    limb_alterations,
    trunk_alteration,
    waist_to_hip_removal,
)
from clothwise.size.chart import eases, graded, label, plain_row
from clothwise.size.children import growing_of
from clothwise.size.choosing import Held, best_blend, best_single
from clothwise.size.getting_in import Elastic, Passage, elastic_waist, passages
from clothwise.size.levels_held import Asked, as_held, asked_levels, length_between, stretch_of
from clothwise.size.reasoning import confidence_of, reasons_of

OPENINGS = ("neck_opening", "waist_opening", "sleeve_hem", "leg_hem")


def advise(
    body: Body,
    pattern: BoughtPattern,
    *,
    view: str = ALL_VIEWS,
    cloth: Cloth | None = None,
    makes: tuple[FinishedMake, ...] = (),
    wishes: Mapping[str, float] | None = None,
    tape_days: int | None = None,
) -> Advice:
    """Which size to cut at each level, and why.

    makes    finished makes with her judgements; those of the pattern's fit class teach what she likes
    wishes   ease she asks for now, by level, over everything learned [cm]
    tape_days  how long ago the body was taped; None: not known
    Raises   ShelfError: the pattern has no such view, or a wish names no level of the round
    """
    wishes = dict(wishes or {})
    _refuse_unknown(pattern, view, wishes)
    stretch = stretch_of(pattern, cloth)
    asked = asked_levels(body, pattern, view, stretch, makes, wishes)
    held = as_held(asked, body, pattern)
    single, blend = _chosen(held) if not _all_alike(asked, pattern) else _by_length(body, pattern, view, asked)
    places = dict(zip((one.level for one in asked), blend, strict=True))
    cut = _cut(asked, blend)
    chart_doubts = _that_matter(doubts(pattern), view)
    levels = tuple(_level_advice(one, pattern, places[one.level]) for one in asked)
    lengths = length_advice(body, pattern, view, places, makes) if cut != "nothing" else ()
    alterations = (
        [
            *girth_alterations(asked, held, places),
            *beyond_alterations(asked, places, len(pattern.sizes) - 1),
            *limb_alterations(body, pattern, view, places, stretch),
            *length_alterations(lengths),
            *trunk_alteration(body, pattern, view, places),
        ]
        if cut != "nothing"
        else []
    )
    removal = waist_to_hip_removal(asked, body) if cut != "nothing" else None
    growing = growing_of(body, pattern, view, asked, places) if cut != "nothing" else None
    reasons = reasons_of(
        body, pattern, view, cloth, stretch, asked, held, single, blend, growing, removal, tape_days
    )
    return Advice(
        person=body.name,
        pattern=pattern.name,
        view=view,
        cloth=cloth.name if cloth else "",
        single="" if cut == "nothing" else label(pattern, single),
        single_wearable=cut != "nothing" and all(one.wearable(single) for one in asked),
        blend={} if cut == "nothing" else {level: label(pattern, place) for level, place in places.items()},
        steps=_steps(asked, blend, body, pattern) if cut == "blend" else (),
        cut=cut,
        levels=levels,
        lengths=lengths,
        alterations=tuple(alterations),
        passages=_passages(body, pattern, view, places, stretch) if cut != "nothing" else (),
        elastic=_elastic(body, pattern) if cut != "nothing" else None,
        growing=growing,
        reasons=reasons,
        doubts=chart_doubts,
        confidence=confidence_of(reasons, chart_doubts, cut, asked, body),
    )


def _refuse_unknown(pattern: BoughtPattern, view: str, wishes: Mapping[str, float]) -> None:
    if view != ALL_VIEWS and view not in pattern.views:
        raise ShelfError(
            f"There is no view {view!r}.",
            where=f"pattern '{pattern.name}'",
            mend=f"It has {', '.join(pattern.views)}." if pattern.views else "It has no views: leave it out.",
        )
    strange = set(wishes) - {"bust", "waist", "hip"}
    if strange:
        raise ShelfError(
            f"Ease can be wished for at bust, waist and hip, not at '{sorted(strange)[0]}'.",
            where="wishes",
            mend="Write, for example, hip=6.",
        )


def _chosen(held: tuple[Held, ...]) -> tuple[int, tuple[int, ...]]:
    """Places of the best single size and of the best blend."""
    if not held:
        return 0, ()
    beyond = (len(held[0].eases) - min(sum(off == 0 for off in one.off) for one in held)) // 2
    blend = best_blend(held)
    single = blend[0] if len(set(blend)) == 1 else best_single(held)
    return single - beyond, tuple(at - beyond for at in blend)


def _all_alike(asked: tuple[Asked, ...], pattern: BoughtPattern) -> bool:
    """Whether the sizes differ in no girth, as petite and tall do: then lengths decide."""
    rows = [one.grading for one in asked]
    return len(pattern.sizes) > 1 and all(
        row.finished_at(0) == row.finished_at(place) for row in rows for place in range(len(pattern.sizes))
    )


def _by_length(
    body: Body, pattern: BoughtPattern, view: str, asked: tuple[Asked, ...]
) -> tuple[int, tuple[int, ...]]:
    """The size that lies nearest in the first length that chart and body share; the first size without one."""
    place = 0
    for name in (*lengths_of(pattern), "height"):
        row = graded(pattern, view, name, 0.0)
        measure = level_of(name).body
        if row is not None and measure in body:
            place = min(range(len(pattern.sizes)), key=lambda p: abs(row.chart_at(p) - body[measure]))
            break
    return place, (place,) * len(asked)


def _cut(asked: tuple[Asked, ...], blend: tuple[int, ...]) -> Literal["single", "blend", "nothing"]:
    if not asked or any(too_far(one, place) for one, place in zip(asked, blend, strict=True)):
        return "nothing"
    return "blend" if len(set(blend)) > 1 else "single"


def too_far(one: Asked, place: int) -> bool:
    """Whether a place lies as far out as the grade was carried: there or anywhere beyond, nobody knows."""
    return one.grading.beyond > 0 and place in (one.grading.places[0], one.grading.places[-1])


def _level_advice(one: Asked, pattern: BoughtPattern, place: int) -> LevelAdvice:
    row = one.grading
    return LevelAdvice(
        level=one.level,
        body=one.base,
        measured=one.source,
        intended=one.intended,
        wanted=one.wanted,
        floor=one.floor,
        judged=one.liked.judged if one.wished is None else 0,
        eases=eases(row, pattern, one.base, place),
        size=label(pattern, place),
        ease=one.ease(place),
        free=one.free,
        between=between(one),
        printed=place in row.printed,
        charted=bool(row.charted),
    )


def between(one: Asked) -> float:
    """How far her measure lies along the chart, in places: 2.0 just on the third size, 2.5 half way on."""
    chart = one.grading.chart
    for at, (low, high) in enumerate(itertools.pairwise(chart)):
        if low <= one.base < high:
            return at - one.grading.beyond + (one.base - low) / (high - low)
    near = min(range(len(chart)), key=lambda at: abs(chart[at] - one.base))
    return float(near - one.grading.beyond)


def _steps(
    asked: tuple[Asked, ...], blend: tuple[int, ...], body: Body, pattern: BoughtPattern
) -> tuple[BlendStep, ...]:
    pairs = list(zip(asked, blend, strict=True))
    return tuple(
        BlendStep(
            upper.level,
            lower.level,
            label(pattern, p),
            label(pattern, q),
            length_between(upper.level, lower.level, body),
            lower.grading.finished_at(q) - lower.grading.finished_at(p),
        )
        for (upper, p), (lower, q) in itertools.pairwise(pairs)
        if p != q
    )


def _passages(
    body: Body, pattern: BoughtPattern, view: str, places: Mapping[str, int], stretch: float | None
) -> tuple[Passage, ...]:
    """The openings of the sizes that are cut, and the waist itself where nothing opens it."""
    last = len(pattern.sizes) - 1
    edges: dict[str, float] = {}
    for name in OPENINGS:
        row = plain_row(pattern, view, name)
        level = {"leg_hem": "hip", "waist_opening": "waist"}.get(name, "bust")
        place = places.get(level, next(iter(places.values())))
        edge = row[min(max(place, 0), last)]
        if edge is not None:
            edges[name] = edge
    if (
        pattern.pull_on
        and "waist_opening" not in edges
        and "waist" in places
        and "waist" not in pattern.elastic
    ):
        waist = graded(pattern, view, "waist", None)
        if waist is not None:
            edges["waist"] = waist.finished_at(places["waist"])
    return passages(body, pattern, edges, stretch or 0.0)


def _elastic(body: Body, pattern: BoughtPattern) -> Elastic | None:
    if "waist" not in pattern.elastic or "waist_girth" not in body or "hip_girth" not in body:
        return None
    return elastic_waist(body["waist_girth"], body["hip_girth"], child=body.child)


def _that_matter(found: tuple[ChartDoubt, ...], view: str) -> tuple[ChartDoubt, ...]:
    """Doubts of the body chart and of this view."""
    return tuple(doubt for doubt in found if doubt.table == "body chart" or doubt.view in (ALL_VIEWS, view))
