"""Bought patterns and bodies for the size tests, invented. Rows are short to read: one figure to a size."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from clothwise.body import Body, Figure, Measure
from clothwise.shelf.pattern import BoughtPattern, FinishedMake, Judgement, Row, Span, Verdict
from clothwise.size.advice import Advice
from clothwise.size.advising import advise
from clothwise.units import INCH

SIZES = ("8", "10", "12", "14", "16", "18", "20")
BUST = (80, 84, 88, 92, 97, 102, 108)
WAIST = (62, 66, 70, 74, 79, 84, 90)
HIP = (88, 92, 96, 100, 105, 110, 116)
MEASURE = {"bust": "bust_girth", "waist": "waist_girth", "hip": "hip_girth", "high_bust": "high_bust_girth"}


def row(*cells: float | tuple[float, float] | None, unit: float = 1.0) -> Row:
    """Cells in cm, or in the unit; a pair is a range."""
    return tuple(
        None
        if cell is None
        else Span(cell[0] * unit, cell[1] * unit)
        if isinstance(cell, tuple)
        else Span(cell * unit, cell * unit)
        for cell in cells
    )


def more(base: tuple[float, ...], ease: float) -> Row:
    return row(*(value + ease for value in base))


def bought(
    garment: str = "dress",
    ease: Mapping[str, float] | None = None,
    *,
    finished: Mapping[str, Row] | None = None,
    body: Mapping[str, Row] | None = None,
    **others: Any,
) -> BoughtPattern:
    """The usual chart with these eases over it, or with finished rows of its own."""
    given = {"bust": 6.0, "waist": 4.0, "hip": 7.0} if ease is None else ease
    chart = {"bust": row(*BUST), "waist": row(*WAIST), "hip": row(*HIP)}
    made = {name: more({"bust": BUST, "waist": WAIST, "hip": HIP}[name], by) for name, by in given.items()}
    if "sizes" in others and body is not None:
        chart, made = {}, {}
    return BoughtPattern(
        name="Sample",
        sizes=others.pop("sizes", SIZES),
        garment=garment,  # type: ignore[arg-type]
        fit_class=others.pop("fit_class", "fitted"),
        body={**chart, **(body or {})},
        finished={"": {**made, **(finished or {})}},
        **others,
    )


def someone(
    figure: Figure = "woman", age: float | None = None, *, unit: float = 1.0, taken_on: str = "", **cm: float
) -> Body:
    """A body with these taped measures: bust, waist, hip, high_bust, or names of the vocabulary."""
    measures = {MEASURE.get(name, name): Measure(value * unit) for name, value in cm.items()}
    return Body("Sewer", figure, measures, age_years=age, taken_on=taken_on)


def inches(**values: float) -> Body:
    return someone(unit=INCH, **values)


def sized(pattern: BoughtPattern, body: Body, **others: Any) -> Advice:
    return advise(body, pattern, **others)


def told(
    level: str, *judged: tuple[float, Verdict], pattern: BoughtPattern | None = None
) -> tuple[FinishedMake, ...]:
    """Earlier makes of the class of the pattern, judged at one level."""
    like = pattern or bought()
    return tuple(
        FinishedMake(
            f"make {n}", "Sewer", like.name, like.fit_class, like.make,
            judgements=(Judgement(level, ease, verdict),), made_on=f"2026-0{1 + n % 9}-01",
        )
        for n, (ease, verdict) in enumerate(judged)
    )  # fmt: skip


def cut(advice: Advice) -> str:
    """The sizes from the top down, '12' or '12/14/16'."""
    sizes = list(advice.sizes.values())
    return sizes[0] if len(set(sizes)) == 1 else "/".join(sizes)


def changes(advice: Advice, kind: str) -> dict[str, float]:
    """How much of one kind of alteration, by level. [cm]"""
    return {one.level: round(one.by, 2) for one in advice.alterations if one.kind == kind}
