"""Size bodies: the house's own table of sizes, for those who make for others and cannot measure them.

Each size is one figure of the population model, the likeliest at its control measure. Nothing is taken from
a published chart. The steps, by which anybody can work the table out again:

1. The control measure names the size, in cm: adults by bust or chest, children by height. It runs in the
   steps of `STEPS`, about a twentieth of itself, so that nobody is farther than half a step (2 to 3 cm) from
   a size: ease takes that up. The ends lie where the population grows thin, inside 1 in 50 on either side.
2. Adults are as tall as the population is on average (or as is asked); waist and hip are the likeliest at
   that height and bust, as among everybody (`wide_model`), to half a centimetre.
3. All other measures are the likeliest at height, bust, waist and hip, as `estimate` gives them, to the
   millimetre; children's at their height alone, proportions and age with it.

So steps are what bodies do, not one number for all: from size to size a waist grows more than a hip, a back
hardly at all. A size body stands for many: cut close only for somebody who has been measured.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from clothwise.body.body import Body, Figure, Measure
from clothwise.body.model import conditioned, likely, model, wide_model
from clothwise.body.population import estimate
from clothwise.errors import MeasureError

CONTROL = MappingProxyType(
    {"woman": "bust_girth", "man": "bust_girth", "girl": "height", "boy": "height"}
)  # what a size is named by; house rule, 2026-11, as in the standards of size marking
STEPS = MappingProxyType(
    {
        "woman": (*range(80, 108, 4), *range(110, 140, 6)),
        "man": (*range(88, 116, 4), *range(118, 142, 6)),
        "girl": tuple(range(92, 171, 6)),
        "boy": tuple(range(92, 177, 6)),
    }
)  # cm of the control measure
HALF = 0.5  # cm: girths of a chart are read to this
WORDS = MappingProxyType({"woman": "women", "man": "men", "girl": "girls", "boy": "boys"})


def size_names(figure: Figure) -> tuple[str, ...]:
    """The names of a figure's sizes, from small to large: '84', '88'."""
    return tuple(str(step) for step in STEPS[figure])


def size_bodies(figure: Figure, sizes: Sequence[str] = (), *, height: float | None = None) -> tuple[Body, ...]:
    """The bodies of all sizes of a figure, or of those named, from small to large, each called by its size.

    height  of adults [cm]; None: the population's own. Children are as tall as their size says.
    Raises  MeasureError: no such size; a height for children; a height few adults have
    """
    known = size_names(figure)
    for size in sizes:
        if size not in known:
            raise MeasureError(
                f"There is no size '{size}' for {WORDS[figure]}.",
                where="size bodies",
                mend=f"The sizes are {', '.join(known)}.",
            )
    wanted = [float(size) for size in known if not sizes or size in sizes]
    if figure in ("girl", "boy"):
        if height is not None:
            raise MeasureError(
                "Children's sizes are heights already.", where="size bodies", mend="Leave the height out."
            )
        return tuple(_child(figure, tall) for tall in wanted)
    tall = _height(figure, height)
    return tuple(_adult(figure, bust, tall) for bust in wanted)


def _height(figure: Figure, height: float | None) -> float:
    """The height of adults of all sizes. [cm]"""
    whole = wide_model(figure)
    at = whole.measures.index("height")
    middle, scatter = float(whole.mean[at]), math.sqrt(whole.covariance[at, at])
    if height is None:
        return float(round(math.exp(middle)))
    low, high = (math.exp(middle + side * 2 * scatter) for side in (-1, 1))
    if not low <= height <= high:
        raise MeasureError(
            f"A height of {height:g} cm is not one to make sizes for {WORDS[figure]} at.",
            where="size bodies",
            mend=f"Give {math.ceil(low)} to {math.floor(high)} cm, or draft to her own measures.",
        )
    return height


def _adult(figure: Figure, bust: float, tall: float) -> Body:
    """Waist and hip as among everybody, the rest as they follow."""
    whole, given = wide_model(figure), ("height", "bust_girth")
    known = whole.index(given)
    wanted = whole.index(("waist_girth", "hip_girth"))
    slope = np.linalg.solve(whole.covariance[np.ix_(known, known)], whole.covariance[np.ix_(known, wanted)])
    logs = whole.mean[wanted] + (np.log([tall, bust]) - whole.mean[known]) @ slope
    waist, hip = (HALF * round(value / HALF) for value in np.exp(logs).tolist())
    cm = {"height": tall, "bust_girth": bust, "waist_girth": waist, "hip_girth": hip}
    return _whole(figure, f"{bust:g}", cm, None)


def _child(figure: Figure, tall: float) -> Body:
    """All measures and the age at this height."""
    whole, given = model(figure), ("height",)
    known = conditioned(figure, given)
    logs, _ = likely(whole, known, given, np.log([tall]))
    age = round(math.exp(dict(zip(known.rest, logs.tolist(), strict=True))["age_years"]), 1)
    return _whole(figure, f"{tall:g}", {"height": tall}, age)


def _whole(figure: Figure, size: str, cm: dict[str, float], age: float | None) -> Body:
    """Every measure of the vocabulary, to the millimetre, as worked out: nobody was taped."""
    found = estimate(Body(size, figure, {name: Measure(value) for name, value in cm.items()}))
    rounded = {name: round(measure.cm, 1) for name, measure in found.measures.items()}
    rounded["body_rise"] = round(rounded["waist_to_floor"] - rounded["inside_leg"], 1)
    measures = {name: Measure(value, "worked out") for name, value in rounded.items()}
    return replace(found, measures=measures, age_years=age)
