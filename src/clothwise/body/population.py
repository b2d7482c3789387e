"""What the rest of a body is likely to measure, and whole bodies drawn from the population.

`estimate` fills in every measure that was not taped, each with an interval that holds 90 % of like
bodies. `sample` draws complete bodies. Both rest on `population.json` and on `rules`.
Where the data end, the estimates say so and widen; far beyond, they refuse.

    z          how many standard deviations (of logarithms) off
    widened    factor on every interval, 1 within the data
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

import numpy as np
from scipy.special import chdtri

from clothwise.body.body import Body, Figure, Measure
from clothwise.body.model import Array, Conditioned, Model, conditioned, likely, model, wide_model
from clothwise.body.rules import Rule, rules
from clothwise.body.vocabulary import definition, measures_of
from clothwise.errors import MeasureError

Z90 = 1.645  # standard deviations: 90 % of a normal spread lies within
FAR = 3.0  # widened more than this, an estimate would be a guess: six standard deviations or so
BEYOND_AGE = 1.15  # intervals grow by this for ages the adult survey did not hold; house rule, 2026-11
EXPECTING = 2.0  # intervals of the trunk grow by this when a baby is on the way; house rule, 2026-11
SAMPLE_TAIL = 0.001  # bodies rarer than this are drawn again
RULE_REACH = 2.0  # standard deviations: how far a drawn body may stray from a rule of thumb
SEAT_BELOW_CROTCH = 3.0  # cm: no real adult's fullest seat lies lower than this below the crotch
OLDEST_CHILD = 18.5  # years: where children end; 18 is still a child's chart

TRUNK = frozenset(
    "bust_girth high_bust_girth under_bust_girth waist_girth high_hip_girth hip_girth back_waist_length "
    "front_waist_length_over_bust bust_height bust_point_distance shoulder_neck_point_to_bust_point "
    "crotch_length_total body_rise crotch_depth_sitting waist_to_hip".split()
)


def estimate(body: Body, *, pregnant: bool = False) -> Body:
    """The same body with every missing measure filled in, with an interval for 90 % of like bodies.

    Taped measures stay as they are; earlier estimates are made afresh. `notes` say where the data
    run thin. `pregnant` widens the trunk, of which the data know nothing then.
    Raises MeasureError: nothing to go by; a name outside the vocabulary; a child outside 2 to 18
    years; a body (or a slip of the tape) so far from the data that an estimate would be a guess.
    Coverage on bodies the model never met: see benchmarks/bodies.py.
    """
    taped = _given(body)
    basis = _basis(body.figure, taped)
    _refuse_age(body, taped)
    known, whole = conditioned(body.figure, basis), model(body.figure)
    given = np.log([taped[name].cm for name in basis])
    widened, notes = _thin_data(body, known, whole.straight(basis, given))
    found = dict(taped)
    middles, scatter = likely(whole, known, basis, given)
    reaches = scatter * (Z90 * widened)
    wanted = measures_of(body.figure)
    for name, middle, reach in zip(known.rest, middles.tolist(), reaches.tolist(), strict=True):
        if name not in found and name in wanted:
            found[name] = _spread(middle, reach * _for_trunk(name, pregnant))
    _agree_on_rise(found, taped)
    for rule in rules(body.figure):
        if rule.measure not in found:
            found[rule.measure] = _by_rule(rule, found, widened * _for_trunk(rule.measure, pregnant))
    if pregnant:
        notes = (*notes, _EXPECTING_NOTE)
    return replace(body, measures={name: found[name] for name in wanted}, notes=_joined(body.notes, notes))


_EXPECTING_NOTE = (
    "The data hold nobody who expects a baby: measures of the trunk are given intervals "
    f"{EXPECTING:g} times as wide. Tape bust, waist and hip often, and choose a make that grows."
)


def sample(figure: Figure, n: int, seed: int, *, wide: bool = False) -> tuple[Body, ...]:
    """`n` complete bodies drawn from the population, the same for the same seed.

    `wide`: height, waist and hip of adults vary as among everybody, not as among soldiers.
    Bodies rarer than one in a thousand are drawn again. Children come from 2 to 18 years alike.
    """
    chance = np.random.default_rng(seed)
    whole = wide_model(figure) if wide else model(figure)
    drawn: list[Body] = []
    while len(drawn) < n:
        for row in _draw(whole, n, chance):
            body = _complete(figure, row, len(drawn), chance)
            if len(drawn) < n and _plausible(body):
                drawn.append(body)
    return tuple(drawn)


# ---- what is given -----------------------------------------------------------------------------


def _given(body: Body) -> dict[str, Measure]:
    """The measures to go by: all but earlier estimates. Refuses what is no length at all."""
    taped = {name: measure for name, measure in body.measures.items() if measure.source != "estimated"}
    for name, measure in taped.items():
        unit = definition(name).unit
        if not (math.isfinite(measure.cm) and measure.cm > 0):
            raise MeasureError(
                f"{definition(name).words.capitalize()} cannot be {measure.cm:g} {unit}.",
                where=f"body '{body.name}'",
                mend="Give a length greater than nothing, or leave it out and let it be estimated.",
            )
    _work_out_rise(taped)
    return taped


def _work_out_rise(taped: dict[str, Measure]) -> None:
    """Waist to floor, inside leg and body rise: two of them give the third."""
    floor, leg, rise = (taped.get(name) for name in ("waist_to_floor", "inside_leg", "body_rise"))
    if floor and leg and (rise is None or rise.source == "worked out") and floor.cm > leg.cm:
        taped["body_rise"] = Measure(floor.cm - leg.cm, "worked out")
    elif leg and rise and floor is None:
        taped["waist_to_floor"] = Measure(leg.cm + rise.cm, "worked out")
    elif floor and rise and leg is None and floor.cm > rise.cm:
        taped["inside_leg"] = Measure(floor.cm - rise.cm, "worked out")


def _basis(figure: Figure, taped: Mapping[str, Measure]) -> tuple[str, ...]:
    """The given measures that the model knows, in its order; never all three of the rise at once."""
    found = tuple(name for name in model(figure).measures if name in taped)
    if {"waist_to_floor", "inside_leg", "body_rise"} <= set(found):
        found = tuple(name for name in found if name != "body_rise")
    if not found or (figure in ("girl", "boy") and "height" not in found):
        needed = "height" if found else "height, bust, waist and hip"
        raise MeasureError(
            f"There is too little to estimate a {figure}'s measures from.",
            where="body: measures",
            mend=f"Tape {needed}; the more is taped, the closer the estimates.",
        )
    return found


def _refuse_age(body: Body, taped: Mapping[str, Measure]) -> None:
    """Children are known from 2 to 18 years only."""
    if not body.child:
        return
    youngest = model(body.figure).ages[0]
    age = body.age_years
    least, most = definition("height").child
    if age is not None and not youngest <= age < OLDEST_CHILD:
        too = "young" if age < youngest else "old"
        mend = (
            "Tape every measure the draft asks for."
            if too == "young"
            else f"Choose the figure '{_grown(body)}'."
        )
        raise MeasureError(
            f"At the age of {age:g} this child is too {too}: the data hold children from {youngest:g} to 18.",
            where=f"body '{body.name}': age",
            mend=mend,
        )
    if not least <= taped["height"].cm <= most:
        raise MeasureError(
            f"A height of {taped['height'].cm:g} cm lies outside the data's children "
            f"({least:g} to {most:g} cm).",
            where=f"body '{body.name}': height",
            mend="Measure the height again; under two years, tape every measure the draft asks for.",
        )


def _grown(body: Body) -> str:
    return "woman" if body.figure == "girl" else "man"


def _thin_data(body: Body, known: Conditioned, given: Array) -> tuple[float, tuple[str, ...]]:
    """How much wider the intervals must be for this body, and the notes that say so."""
    beyond = math.sqrt(known.distance2(given) / known.rare)
    if beyond > FAR:
        raise MeasureError(
            "These measures lie so far from every body in the data that an estimate would be a guess.",
            where=f"body '{body.name}'",
            mend="Check them for a slip of the tape or inches among centimetres; if they are right, tape "
            "every measure the draft asks for.",
        )
    widened, notes = max(1.0, beyond), []
    if beyond > 1:
        notes.append(
            "Few bodies in the data are like this one: estimates are given intervals "
            f"{widened:.3g} times as wide. Tape what matters."
        )
    youngest, oldest = model(body.figure).ages
    age = body.age_years
    if not body.child and age is not None and not youngest <= age <= oldest:
        widened *= BEYOND_AGE
        notes.append(
            f"The data hold adults from {youngest:g} to {oldest:g} years: at {age:g}, estimates are given "
            f"intervals {BEYOND_AGE:g} times as wide."
        )
    return widened, tuple(notes)


# ---- what is likely ----------------------------------------------------------------------------


def _spread(middle: float, reach: float) -> Measure:
    """A measure from its logarithm and the half width of its interval there."""
    return Measure(math.exp(middle), "estimated", math.exp(middle - reach), math.exp(middle + reach))


def _for_trunk(name: str, pregnant: bool) -> float:
    return EXPECTING if pregnant and name in TRUNK else 1.0


def _agree_on_rise(found: dict[str, Measure], taped: Mapping[str, Measure]) -> None:
    """Make body rise the difference of waist to floor and inside leg wherever one was estimated."""
    floor, leg, rise = (found[name] for name in ("waist_to_floor", "inside_leg", "body_rise"))
    if "body_rise" not in taped:
        found["body_rise"] = _moved(rise, floor.cm - leg.cm)
    elif "inside_leg" not in taped or "waist_to_floor" not in taped:
        found["waist_to_floor"] = _moved(floor, leg.cm + rise.cm)


def _moved(measure: Measure, cm: float) -> Measure:
    """The same interval, in proportion, about another middle."""
    share = cm / measure.cm
    low = None if measure.low is None else measure.low * share
    high = None if measure.high is None else measure.high * share
    return replace(measure, cm=cm, low=low, high=high)


def _by_rule(rule: Rule, found: Mapping[str, Measure], widened: float) -> Measure:
    """The rule of thumb, its own scatter joined with that of the estimates it starts from."""
    middle = {name: found[name].cm for name in rule.needs}
    thumb = rule.likely(middle)
    spread2 = (Z90 * rule.scatter * widened) ** 2
    for name in rule.needs:
        high = found[name].high
        if high is not None:
            spread2 += math.log(rule.likely({**middle, name: high}) / thumb) ** 2
    measure = _spread(math.log(thumb), math.sqrt(spread2))
    return measure if not rule.at_most else _held_below(measure, found[rule.at_most].cm)


def _held_below(measure: Measure, most: float) -> Measure:
    return replace(measure, cm=min(measure.cm, most), high=min(measure.high or most, most))


def _joined(before: tuple[str, ...], now: tuple[str, ...]) -> tuple[str, ...]:
    return (*before, *(note for note in now if note not in before))


# ---- drawing -----------------------------------------------------------------------------------


def _draw(whole: Model, n: int, chance: np.random.Generator) -> list[dict[str, float]]:
    """`n` rows of the model, less those in the tail; of children, ages alike from 2 to 18 years."""
    mean, covariance = whole.mean, whole.covariance
    standard = chance.standard_normal((n, len(mean)))
    inside = (standard**2).sum(axis=1) < chdtri(len(mean), SAMPLE_TAIL)
    if whole.measures[0] == "age_years":
        age = np.log(chance.uniform(*whole.ages, n))
        standard[:, 0] = (age - mean[0]) / math.sqrt(covariance[0, 0])
    logs = mean + standard @ np.linalg.cholesky(covariance).T
    bent = whole.bent(whole.measures, logs[inside])
    return [dict(zip(whole.measures, row, strict=True)) for row in np.exp(bent).tolist()]


def _complete(figure: Figure, row: dict[str, float], number: int, chance: np.random.Generator) -> Body:
    """A drawn row as a body: whole and consistent, as if all had been taped to the millimetre."""
    age = row.pop("age_years", None)
    cm = {name: round(value, 1) for name, value in row.items()}
    cm["body_rise"] = round(cm["waist_to_floor"] - cm["inside_leg"], 1)
    for rule in rules(figure):
        if rule.measure not in cm:
            stray = rule.scatter * float(np.clip(chance.standard_normal(), -RULE_REACH, RULE_REACH))
            value = rule.likely(cm) * math.exp(stray)
            cm[rule.measure] = round(min(value, cm[rule.at_most]) if rule.at_most else value, 1)
    measures = {name: Measure(cm[name]) for name in measures_of(figure)}
    return Body(f"{figure} {number}", figure, measures, age_years=None if age is None else round(age, 1))


def _plausible(body: Body) -> bool:
    """Whether every measure lies in its plausible range and the levels follow each other downwards."""
    in_range = all(
        low <= body[name] <= high for name in body for low, high in (definition(name).plausible(body.figure),)
    )
    if body["waist_to_hip"] > body["body_rise"] + SEAT_BELOW_CROTCH:
        return False
    order = ("waist_to_hip", "waist_to_knee", "waist_to_ankle", "waist_to_floor", "nape_to_floor", "height")
    levels = [body[name] for name in order]
    return in_range and all(above < below for above, below in pairwise(levels))
