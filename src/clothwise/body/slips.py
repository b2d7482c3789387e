"""Slips of the tape and of the pen: inches among centimetres, halves, swaps, digits, odd ones out.

Every entry is compared with what the others make likely. Two things raise a question: an entry, or
the body as a whole, lies where next to no real body lies; or one of the usual slips, undone, would
make the body so much more likely that the slip is the better explanation. The check asks and
proposes; it never changes a measure, and an entry that the sewer has confirmed is left in peace.

    surprise   -2 log density of a body's log measures: the larger, the rarer
    gain       how much less surprising the body is with a slip undone
    z          how far an entry lies from what the others make likely, in standard deviations

What cannot be caught: slips under about 3 cm, and the high hip taken for the hip. Only the
definitions in `vocabulary`, and measuring twice, help there. Rates: benchmarks/bodies.py.
Thresholds are the least that ask fewer than one false question in a hundred bodies, with room for chance.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

import numpy as np
from scipy.special import chdtri

from clothwise.body.body import Body, Figure
from clothwise.body.model import CORE, Array, Model, model, wide_model
from clothwise.body.rules import rules
from clothwise.body.vocabulary import definition, measures_of
from clothwise.units import INCH

Kind = Literal[
    "inches among centimetres",
    "centimetres taken for inches",
    "half a girth",
    "point misplaced",
    "swapped",
    "digits transposed",
    "unlikely",
    "contradiction",
]

# Chosen on the training and tuning parts of the surveys and on bodies drawn as among everybody, never on
# the held-out part: see `python -m benchmarks.bodies --tune`.
SOLDIERS = 0.8  # weight of likeness to the survey's soldiers; the rest is likeness to everybody
ODD = 3.5  # z: with four entries, next to no real body has an entry as odd as this among everybody
ODD_MORE = 0.17  # z, per root of each further entry: more entries, more chances to be odd
RARE_BODY = 0.0005  # tail of the distance of the whole body
RARE_MORE = 0.012  # share of the distance, per further entry: real tails are longer than a normal's
CONVINCING = 6.0  # gain: undoing the slip explains the body 20 times better; enough to propose it
SWAP = 9.5  # gain at which a swap is asked about though nothing else is odd: many a waist is wider than the hip
BUST_SWAP = 11.0  # the same with the bust in it: more often yet, the waist is truly wider than the bust
TURN = 7.0  # the same for two digits transposed
UNIT = 12.0  # the same for inches, halves, points: so large a change leaves little doubt where it is the reason
TAILS: dict[Figure, float] = {  # factor on all of these: how much longer the tails are than a normal's
    "woman": 1.0,
    "man": 1.1,
    "girl": 1.3,  # the children's survey is rougher
    "boy": 1.3,
}
GAIN_MORE = 0.015  # share of the gains asked for, per further entry: more ways to be explained by chance
CHILD_MORE = 0.02  # added to the factor for children per further entry
RULE_ODD = 4.0  # z against a rule of thumb, whose scatter was judged and not measured
RISE_GAP = 1.5  # cm: waist to floor, inside leg and rise may disagree by two readings of the tape
MOST = 6  # questions at once; more than that is a wrong unit or another person's card

PAIRS = (  # likely to be typed in each other's place, and the gain at which to ask
    ("waist_girth", "hip_girth", SWAP),
    ("bust_girth", "waist_girth", BUST_SWAP),
    ("bust_girth", "hip_girth", BUST_SWAP),
    ("thigh_girth", "upper_arm_girth", SWAP),
    ("thigh_girth", "calf_girth", SWAP),
    ("waist_to_floor", "inside_leg", SWAP),
    ("waist_to_hip", "body_rise", BUST_SWAP),
)


@dataclass(frozen=True, slots=True)
class Slip:
    """One question to the sewer.

    measures   what is doubted
    suggestion what it may have been meant to be, cm by measure; empty: measure again
    sentence   all of it in one plain sentence
    """

    kind: Kind
    measures: tuple[str, ...]
    sentence: str
    suggestion: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "suggestion", MappingProxyType(dict(self.suggestion)))


def slips(body: Body) -> tuple[Slip, ...]:
    """Questions about the taped measures that are not confirmed, the most pressing first; of each measure one.

    A baby is like nobody in the surveys: nothing is asked.
    """
    if body.baby:
        return ()
    cm = {
        name: measure.cm
        for name, measure in body.measures.items()
        if measure.source == "taped" and not measure.confirmed and measure.cm > 0
    }
    found: list[Slip] = []
    while len(found) < MOST:
        slip = _first(body.figure, cm)
        if slip is None:
            break
        asked = {name for earlier in found for name in earlier.measures}
        if asked & set(slip.measures):  # it would ask about a figure of ours: go on without those in doubt
            cm = {name: value for name, value in cm.items() if name not in asked}
            continue
        found.append(slip)
        for name in slip.measures:
            cm[name] = slip.suggestion.get(name, 0.0)
        cm = {name: value for name, value in cm.items() if value > 0}
    return tuple(found)


def _first(figure: Figure, cm: Mapping[str, float]) -> Slip | None:
    return (
        _unlikely(figure, cm) or _contradiction(cm) or _against_rules(figure, cm) or _out_of_range(figure, cm)
    )


# ---- against the population ---------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class _Likeness:
    """Two views of the same entries, soldiers and everybody: centres, inverse covariances, log volumes."""

    centres: tuple[Array, Array]
    precisions: tuple[Array, Array]
    volumes: tuple[float, float]
    whole: Model
    names: tuple[str, ...]
    tails: float  # factor on the thresholds: how much longer than normal the tails are
    odd: float
    rare: float

    def surprise(self, logs: Array) -> Array:
        """-2 log density of each row, by likeness to soldiers and to everybody."""
        straight = self.whole.straight(self.names, logs)
        parts = [
            -0.5 * (_distance2(straight - centre, precision) + volume) + np.log(share)
            for centre, precision, volume, share in zip(
                self.centres, self.precisions, self.volumes, (SOLDIERS, 1 - SOLDIERS), strict=True
            )
        ]
        thinned = 2 * self._log_fan(logs).sum(axis=-1)  # a density is thinner where bodies scatter more
        return np.asarray(-2 * np.logaddexp(*parts) + thinned, dtype=np.float64)

    def scatter(self, logs: Array, at: int) -> float:
        """Scatter of the log of one entry beside the others of one body, among everybody."""
        return float(np.exp(self._log_fan(logs)[at]) / np.sqrt(self.precisions[1][at, at]))

    def _log_fan(self, logs: Array) -> Array:
        """Log of the factor by which children scatter more or less at this height."""
        if self.whole.level or not set(CORE) <= set(self.names):
            return np.zeros(logs.shape)
        return self.whole.log_fan(self.names, logs[..., self.names.index("height")])

    def oddness(self, logs: Array) -> tuple[Array, float]:
        """z of every entry against the others, and the squared distance of the whole, among everybody."""
        off = self.whole.straight(self.names, logs) - self.centres[1]
        precision = self.precisions[1]
        return (precision @ off) / np.sqrt(np.diag(precision)), float(off @ precision @ off)


def _distance2(off: Array, precision: Array) -> Array:
    return np.asarray(((off @ precision) * off).sum(axis=-1), dtype=np.float64)


@lru_cache(maxsize=4096)
def _likeness(figure: Figure, names: tuple[str, ...]) -> _Likeness:
    def view(whole: Model) -> tuple[Array, Array, float]:
        at = whole.index(names)
        covariance = whole.covariance[np.ix_(at, at)]
        return (
            whole.mean[at],
            np.linalg.inv(covariance).astype(np.float64),
            float(np.linalg.slogdet(covariance)[1]),
        )

    soldiers, everybody = view(model(figure)), view(wide_model(figure))
    further = max(0, len(names) - 4)
    tails = TAILS[figure] + (CHILD_MORE * further if figure in ("girl", "boy") else 0.0)
    return _Likeness(
        centres=(soldiers[0], everybody[0]),
        precisions=(soldiers[1], everybody[1]),
        volumes=(soldiers[2], everybody[2]),
        whole=model(figure),
        names=names,
        tails=tails,
        odd=tails * (ODD + ODD_MORE * further**0.5),
        rare=tails * float(chdtri(len(names), RARE_BODY)) * (1 + RARE_MORE * further),
    )


@dataclass(frozen=True, slots=True)
class _Undone:
    """One way a slip may have happened, undone."""

    kind: Kind
    changes: Mapping[str, float]
    needed: float  # gain at which to ask though nothing is odd


def _unlikely(figure: Figure, cm: Mapping[str, float]) -> Slip | None:
    """The most pressing question that the population raises, if any."""
    names = tuple(name for name in model(figure).measures if name in cm)
    if {"waist_to_floor", "inside_leg", "body_rise"} <= set(names):
        names = tuple(name for name in names if name != "body_rise")
    if len(names) < 2:
        return None
    likeness = _likeness(figure, names)
    logs = np.log([cm[name] for name in names])
    z, distance2 = likeness.oddness(logs)
    worst = int(np.argmax(np.abs(z)))
    strange = abs(z[worst]) > likeness.odd or distance2 > likeness.rare
    undone = _best_undone(names, cm, likeness, logs, strange)
    if undone is not None:
        return _slip_undone(undone, cm)
    return _slip_unlikely(names[worst], cm, z[worst], likeness.scatter(logs, worst)) if strange else None


def _best_undone(
    names: tuple[str, ...], cm: Mapping[str, float], likeness: _Likeness, logs: Array, strange: bool
) -> _Undone | None:
    """The slip that explains the body best, if convincing; a body not strange itself needs more."""
    ways = list(_ways(names, cm))
    rows = np.tile(logs, (len(ways), 1))
    for row, way in zip(rows, ways, strict=True):
        for name, value in way.changes.items():
            row[names.index(name)] = math.log(value)
    gains = likeness.surprise(logs[None, :])[0] - likeness.surprise(rows)
    needed = np.array([CONVINCING if strange else way.needed for way in ways])
    margin = gains - likeness.tails * needed * (1 + GAIN_MORE * max(0, len(names) - 4))
    best = int(np.argmax(margin))
    return ways[best] if margin[best] > 0 else None


def _ways(names: tuple[str, ...], cm: Mapping[str, float]) -> Iterator[_Undone]:
    """The usual slips, each undone."""
    if len(names) > 2:
        yield _Undone("inches among centimetres", {name: cm[name] * INCH for name in names}, UNIT)
        yield _Undone("centimetres taken for inches", {name: cm[name] / INCH for name in names}, UNIT)
    for name in names:
        yield _Undone("inches among centimetres", {name: cm[name] * INCH}, UNIT)
        yield _Undone("centimetres taken for inches", {name: cm[name] / INCH}, UNIT)
        if definition(name).girth:
            yield _Undone("half a girth", {name: cm[name] * 2}, UNIT)
        for tenfold in (10.0, 0.1):
            yield _Undone("point misplaced", {name: cm[name] * tenfold}, UNIT)
        for value in turned(cm[name]):
            yield _Undone("digits transposed", {name: value}, TURN)
    for one, other, needed in PAIRS:
        if one in names and other in names and cm[one] != cm[other]:
            yield _Undone("swapped", {one: cm[other], other: cm[one]}, needed)


def turned(value: float) -> Iterator[float]:
    """The value with two neighbouring digits before the point the other way round; 12 may have been 102."""
    whole, rest = divmod(value, 1.0)
    digits = f"0{int(whole)}"  # a turned 102 was typed 012
    for at in range(len(digits) - 1):
        other = int(digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :])
        if other > 0 and other != int(whole):
            yield other + rest


# ---- the questions -----------------------------------------------------------------------------


def _slip_undone(way: _Undone, cm: Mapping[str, float]) -> Slip:
    had = _listed(way.changes, cm)
    meant = _listed(way.changes, way.changes)
    plural = len(way.changes) > 1
    look = "look" if plural else "looks"
    why = {
        "inches among centimetres": f"{look} like inches written as centimetres",
        "centimetres taken for inches": f"{look} like centimetres written as inches",
        "half a girth": "looks like half the girth, measured flat",
        "point misplaced": "looks as if its decimal point had slipped",
        "digits transposed": "looks as if two digits changed places",
        "swapped": "look as if they changed places",
    }[way.kind]
    return Slip(way.kind, tuple(way.changes), f"{_capital(had)} {why}: did you mean {meant}?", way.changes)


def _slip_unlikely(name: str, cm: Mapping[str, float], z: float, scatter: float) -> Slip:
    middle = math.log(cm[name]) - z * scatter
    usual = (
        f"{np.exp(middle - 1.645 * scatter):.0f} to {np.exp(middle + 1.645 * scatter):.0f} cm would be usual"
    )
    return Slip(
        "unlikely",
        (name,),
        f"{_capital(_listed([name], cm))} is unlikely beside the other measures ({usual}): "
        "please measure it again, or confirm it.",
    )


def _contradiction(cm: Mapping[str, float]) -> Slip | None:
    """Waist to floor, inside leg and rise that do not add up."""
    three = ("waist_to_floor", "inside_leg", "body_rise")
    if any(name not in cm for name in three):
        return None
    gap = cm["waist_to_floor"] - cm["inside_leg"] - cm["body_rise"]
    if abs(gap) <= RISE_GAP:
        return None
    worked_out = cm["waist_to_floor"] - cm["inside_leg"]
    return Slip(
        "contradiction",
        three,
        f"Waist to floor less inside leg is {worked_out:.1f} cm, but body rise is {cm['body_rise']:.1f} cm: "
        "please measure the three again, or confirm them.",
    )


def _against_rules(figure: Figure, cm: Mapping[str, float]) -> Slip | None:
    """Measures that no survey holds, against their rules of thumb."""
    for rule in rules(figure):
        if rule.measure in cm and rule.needs and all(name in cm for name in rule.needs):
            likely = rule.likely(cm)
            if abs(np.log(cm[rule.measure] / likely)) > RULE_ODD * rule.scatter:
                return Slip(
                    "unlikely",
                    (rule.measure,),
                    f"{_capital(_listed([rule.measure], cm))} is far from what the other measures "
                    f"suggest (about {likely:.0f} cm): please measure it again, or confirm it.",
                )
    return None


def _out_of_range(figure: Figure, cm: Mapping[str, float]) -> Slip | None:
    """Entries that nobody of this figure measures; they stand alone, or nothing else explains them."""
    for name in measures_of(figure):
        low, high = definition(name).plausible(figure)
        if name in cm and not low <= cm[name] <= high:
            return _slip_out_of_range(name, cm, low, high)
    return None


def _slip_out_of_range(name: str, cm: Mapping[str, float], low: float, high: float) -> Slip:
    unit = definition(name).unit
    repairs: tuple[tuple[Kind, Callable[[float], float]], ...] = (
        ("inches among centimetres", lambda value: value * INCH),
        ("centimetres taken for inches", lambda value: value / INCH),
    )
    for kind, repair in repairs:
        if unit == "cm" and low <= repair(cm[name]) <= high:
            return _slip_undone(_Undone(kind, {name: repair(cm[name])}, 0.0), cm)
    return Slip(
        "unlikely",
        (name,),
        f"{_capital(definition(name).words)} {cm[name]:.4g} {unit} lies outside what anybody measures "
        f"({low:g} to {high:g}): please measure it again, or confirm it.",
    )


def _listed(names: Mapping[str, float] | list[str], cm: Mapping[str, float]) -> str:
    parts = [f"{definition(name).words} {cm[name]:.1f} cm" for name in names]
    whole = parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + " and " + parts[-1]
    return whole.replace(" girth", "")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
