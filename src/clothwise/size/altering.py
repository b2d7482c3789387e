"""What must change beyond the chart, once the sizes are chosen: room, length, and what the paper does not hold.

by     in all, in the round or along the length [cm]
each   at one of the `places` it is shared over: edges of side seams, halves of a front [cm]
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from clothwise.body import Body
from clothwise.shelf.levels import level as level_of
from clothwise.shelf.pattern import BoughtPattern, FinishedMake
from clothwise.size.advice import Alteration, LengthAdvice
from clothwise.size.chart import eases, graded, label, plain_row
from clothwise.size.choosing import EDGES, Held, loose_above, tight_below
from clothwise.size.ease import least_ease, spread
from clothwise.size.getting_in import trunk_needed, trunk_of
from clothwise.size.levels_held import Asked
from clothwise.size.liking import judgements_of, liking

WORTH_A_GIRTH = 1.5  # cm in the round, 4 mm at each side edge: less is lost in the sewing
WORTH_A_LENGTH = 1.0  # cm
WORTH_BY_HEIGHT = 5.0  # cm of height: a chart is drawn for one height, and people are not
DART_AT_MOST = 3.0  # cm taken by one dart or one side edge (T: back 3, front 2.5)
LARGE_DROP = 30.0  # cm from waist to hip: beyond it the usual darts do not take it (T)

OUT_OF_NAPPIES = 2.5  # years (T)

ABOVE_WAIST = ("back_length", "sleeve_length")
BELOW_WAIST = ("rise", "crotch_length", "inside_leg", "side_length")
OF_HEIGHT = {"back_length": 0.24, "sleeve_length": 0.345, "inside_leg": 0.47}  # shares of height (survey means)
LIMBS = ("upper_arm", "thigh", "high_hip", "knee", "calf")
BODICES = ("top", "shirt", "dress", "jacket", "coat", "one-piece")


def girth_alterations(
    asked: tuple[Asked, ...], held: tuple[Held, ...], places: Mapping[str, int]
) -> list[Alteration]:
    """Bust room, and what the best sizes still leave too tight or too wide."""
    found = []
    for one, as_chosen in zip(asked, held, strict=True):
        place = places[one.level]
        ease = one.ease(place)
        if one.by_high_bust:
            room = one.body + (one.floor if one.free else one.wanted) - one.grading.finished_at(place)
            if room >= WORTH_A_GIRTH:
                found.append(
                    Alteration("bust room", "bust", room, 2, room / 2, {"difference": one.body - one.base})
                )
                continue
        if ease < tight_below(as_chosen) and one.wanted - ease >= WORTH_A_GIRTH:
            by = (one.floor if one.free else one.wanted) - ease
            found.append(_shared("let out", one.level, by))
        elif not one.free and ease - loose_above(as_chosen) >= WORTH_A_GIRTH:
            found.append(_shared("take in", one.level, ease - one.wanted))
    return found


def _shared(kind: str, level: str, by: float) -> Alteration:
    """Over the four edges of the side seams; what they cannot take goes into darts."""
    edges = min(by, EDGES * DART_AT_MOST)
    more = math.ceil((by - edges) / 2 / DART_AT_MOST)
    return Alteration(kind, level, by, EDGES, edges / EDGES, {"pairs_of_darts": float(more)})  # type: ignore[arg-type]


def limb_alterations(
    body: Body, pattern: BoughtPattern, view: str, places: Mapping[str, int], stretch: float | None
) -> list[Alteration]:
    """Arms and legs are no part of the choice; where the envelope prints them, they must still go in."""
    found = []
    for name in LIMBS:
        row = graded(pattern, view, name, 0.0) if name in pattern.finished_of(view) else None
        measure = level_of(name).body
        if row is None or measure not in body:
            continue
        ease = row.finished_at(_place(name, places)) - body[measure]
        floor = least_ease(name, pattern.garment, pattern.figure, stretch=stretch, body=body[measure])
        if ease < floor:
            found.append(Alteration("let out", name, floor - ease, 2, (floor - ease) / 2))
    return found


def trunk_alteration(
    body: Body, pattern: BoughtPattern, view: str, places: Mapping[str, int]
) -> list[Alteration]:
    """A one-piece too short round the trunk pulls at shoulders and crotch, however wide it is."""
    trunk = trunk_of(body)
    place = min(max(_place("trunk", places), 0), len(pattern.sizes) - 1)
    finished = plain_row(pattern, view, "trunk")[place]
    if pattern.garment != "one-piece" or trunk is None or finished is None:
        return []
    nappy = body.age_years is not None and body.age_years < OUT_OF_NAPPIES
    by = trunk_needed(trunk, nappy=nappy) - finished
    told = {"trunk": trunk, "finished": finished, "nappy": float(nappy)}
    return [Alteration("lengthen", "trunk", by, 2, by / 2, told)] if by >= WORTH_A_LENGTH else []


def _place(name: str, places: Mapping[str, int]) -> int:
    """The place whose paper this level is drawn on."""
    order = (
        ("hip", "waist", "bust")
        if name in (*BELOW_WAIST, "thigh", "knee", "calf", "high_hip")
        else ("bust", "waist", "hip")
    )
    return next(places[level] for level in order if level in places)


def length_advice(
    body: Body, pattern: BoughtPattern, view: str, places: Mapping[str, int], makes: tuple[FinishedMake, ...]
) -> tuple[LengthAdvice, ...]:
    """Every length that chart or envelope gives and the body tells, at the size that is cut there."""
    found = []
    for name in lengths_of(pattern):
        row = graded(pattern, view, name, 0.0)
        measure = level_of(name).body
        if row is None or measure not in body:
            continue
        place = _place(name, places)
        intended = row.intended_at(place)
        told = judgements_of(makes, body.name, pattern, name)
        liked = liking(told, intended=intended, spread=spread(name, pattern.fit_class))
        wanted = body[measure] + liked.mean
        garment = row.finished_at(place)
        found.append(
            LengthAdvice(
                name,
                body[measure],
                label(pattern, place),
                garment,
                wanted,
                wanted - garment if _tells(body, measure, wanted - garment) else 0.0,
                place in row.printed,
                liked.judged,
                intended,
                eases(row, pattern, body[measure], place),
            )
        )
    return (*(found or _by_height(body, pattern, places)), *_as_liked(body, pattern, view, places, makes))


def _as_liked(
    body: Body, pattern: BoughtPattern, view: str, places: Mapping[str, int], makes: tuple[FinishedMake, ...]
) -> tuple[LengthAdvice, ...]:
    """The garment's own length, which no body measure tells: only from earlier makes of this pattern."""
    told = judgements_of(makes, body.name, pattern, "length", same_pattern=True)
    place = min(max(_place("length", places), 0), len(pattern.sizes) - 1)
    printed = plain_row(pattern, view, "length")[place]
    if not told or printed is None:
        return ()
    liked = liking(told, intended=printed, spread=spread("length", pattern.fit_class))
    by = liked.mean - printed
    return (
        LengthAdvice(
            "length",
            0.0,
            label(pattern, place),
            printed,
            liked.mean,
            by if abs(by) >= WORTH_A_LENGTH else 0.0,
            True,
            liked.judged,
        ),
    )


def lengths_of(pattern: BoughtPattern) -> tuple[str, ...]:
    """The lengths that matter to this garment."""
    above = ABOVE_WAIST if pattern.garment in BODICES else ()
    below = BELOW_WAIST if pattern.garment in ("trousers", "one-piece") else ()
    return above + below


def _tells(body: Body, measure: str, by: float) -> bool:
    """Whether the difference is worth a change: more than the sewing loses, and than an estimate may err."""
    known = body.measures[measure]
    reach = 0.0 if known.low is None or known.high is None else (known.high - known.low) / 2
    return abs(by) >= max(WORTH_A_LENGTH, reach)


def _by_height(body: Body, pattern: BoughtPattern, places: Mapping[str, int]) -> tuple[LengthAdvice, ...]:
    """When the chart only says for what height it is drawn: the difference, shared as bodies share it."""
    row = graded(pattern, "", "height", 0.0)
    if row is None or "height" not in body or body.child:
        return ()
    place = _place("back_length", places)
    more = body["height"] - row.chart_at(place)
    if abs(more) < WORTH_BY_HEIGHT:
        return ()
    return tuple(
        LengthAdvice(
            name,
            OF_HEIGHT[name] * body["height"],
            label(pattern, place),
            OF_HEIGHT[name] * row.chart_at(place),
            OF_HEIGHT[name] * body["height"],
            OF_HEIGHT[name] * more,
            False,
            0,
        )
        for name in lengths_of(pattern)
        if name in OF_HEIGHT and abs(OF_HEIGHT[name] * more) >= WORTH_A_LENGTH
    )


def length_alterations(lengths: tuple[LengthAdvice, ...]) -> list[Alteration]:
    """Lengthen or shorten, at the line the paper has for it."""
    return [
        Alteration("lengthen" if one.by > 0 else "shorten", one.level, abs(one.by))
        for one in lengths
        if abs(one.by) >= WORTH_A_LENGTH
    ]


def beyond_alterations(asked: tuple[Asked, ...], places: Mapping[str, int], last: int) -> list[Alteration]:
    """Where a size lies beyond the paper: by how much its lines must be carried on."""
    found = []
    for one in asked:
        place = places[one.level]
        edge = min(max(place, 0), last)
        if place != edge:
            by = one.grading.finished_at(place) - one.grading.finished_at(edge)
            found.append(Alteration("redraw beyond the chart", one.level, by, EDGES, by / EDGES))
    return found


def waist_to_hip_removal(asked: tuple[Asked, ...], body: Body) -> Alteration | None:
    """When waist and hip lie too far apart for the usual darts: what each half must lose. [cm]"""
    by_level = {one.level: one for one in asked}
    if not {"waist", "hip"} <= by_level.keys():
        return None
    waist, hip = by_level["waist"], by_level["hip"]
    drop = hip.body - waist.body
    if drop <= LARGE_DROP or waist.free or hip.free:
        return None
    half = (hip.body + hip.wanted - waist.body - waist.wanted) / 2
    return Alteration(
        "take in", "waist", 2 * half, 2, half, {"drop": drop, "shapers": float(math.ceil(half / DART_AT_MOST))}
    )
