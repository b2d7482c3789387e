"""One person's measures, in cm, each with where it came from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Literal

from clothwise.errors import MeasureError

Figure = Literal["woman", "man", "girl", "boy"]
Source = Literal["taped", "estimated", "worked out"]

DAYS_A_MONTH = 30.4
SURVEYED_FROM = 2.0  # years: younger children are in no survey of the house
STALE_DAYS, CHILD_STALE_DAYS = 183, 90  # the tape's figures are taken again after half a year (rule of the
# trade), or a change of weight; a child's after a quarter (house rule)


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure. `low` and `high` bound 90 % of like bodies when it was estimated; else both are `cm`."""

    cm: float
    source: Source = "taped"
    low: float | None = None
    high: float | None = None
    confirmed: bool = False  # the sewer was asked and stands by it


@dataclass(frozen=True, slots=True)
class Body:
    """One person. `measures` holds names of `body.vocabulary`, in any order."""

    name: str
    figure: Figure
    measures: Mapping[str, Measure]
    age_years: float | None = None
    taken_on: str = ""  # ISO date of the tape
    notes: tuple[str, ...] = field(default=())

    def __post_init__(self) -> None:
        object.__setattr__(self, "measures", MappingProxyType(dict(self.measures)))

    def __getitem__(self, measure: str) -> float:
        """The measure in cm. Raises MeasureError when it is missing."""
        found = self.measures.get(measure)
        if found is None:
            raise MeasureError(
                f"The measure '{measure.replace('_', ' ')}' is missing.",
                where=f"body '{self.name}'",
                mend="Take it with the tape, or let it be estimated from height, bust, waist and hip.",
            )
        return found.cm

    def __contains__(self, measure: str) -> bool:
        return measure in self.measures

    def __iter__(self) -> Iterator[str]:
        return iter(self.measures)

    def taped(self, measure: str) -> bool:
        """Whether the measure is there and was taken with a tape."""
        return measure in self.measures and self.measures[measure].source == "taped"

    @property
    def child(self) -> bool:
        """Whether the children's rules and cautions apply."""
        return self.figure in ("girl", "boy")

    @property
    def baby(self) -> bool:
        """Whether it is a child too young for what the house knows of children."""
        return self.child and self.age_years is not None and self.age_years < SURVEYED_FROM

    def months_stale(self, days: int | None) -> int | None:
        """Months since the tape that should be taken again; None while they serve, or no day is known."""
        if days is None or days <= (CHILD_STALE_DAYS if self.child else STALE_DAYS):
            return None
        return round(days / DAYS_A_MONTH)

    def with_measures(self, **cm: float) -> Body:
        """The same body with these taped measures set or replaced."""
        return replace(self, measures={**self.measures, **{n: Measure(v) for n, v in cm.items()}})

    def __reduce__(self) -> tuple[object, ...]:
        return (Body, (self.name, self.figure, dict(self.measures), self.age_years, self.taken_on, self.notes))
