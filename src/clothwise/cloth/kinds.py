"""About thirty-five kinds of cloth with what is usual for each, and what can be said of one cloth.

The table is `kinds.csv`: weight g/m2 (usual, lightest, heaviest), drape coefficient, stretch, recovery and
shrinkage in per cent, needle in 1/100 mm, stitch in mm. Every row names its source, or says 'estimate': an
estimate is ordinary trade knowledge, not measured and not looked up. What was measured on the cloth itself
always goes before its kind.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib import resources
from typing import Literal

from clothwise.cloth.cloth import Cloth, Make, SeeThrough
from clothwise.errors import ClothError

Surface = Literal["plain", "pile", "brushed", "shine"]
OnBias = Literal["steady", "drops", "grows"]
Known = Literal["measured", "kind", "weight"]

# Of a cloth whose kind is not told, by weight up to so many g/m2: drape coefficient (trade sense; the kinds
# of the table spread by 0.15 about these).
WOVEN_DRAPE: tuple[tuple[float, float], ...] = ((90.0, 0.42), (150.0, 0.52), (230.0, 0.62), (330.0, 0.68))
WOVEN_STIFF = 0.78
KNIT_DRAPE: tuple[tuple[float, float], ...] = ((200.0, 0.29), (260.0, 0.36), (340.0, 0.46))
KNIT_STIFF = 0.5
USUAL_RECOVERY = 0.85
SHEER_UP_TO, SHOWS_UP_TO = 70.0, 110.0  # g/m2 of a woven without a kind (trade sense)
LIGHT_UP_TO, WARM_FROM = 160.0, 260.0  # g/m2: worn in the warm half of the year, or in the cold one


@dataclass(frozen=True, slots=True)
class Kind:
    """What is usual for one kind of cloth. Shares of one; weights g/m2; stitch mm."""

    name: str
    make: Make
    fibre: str
    grams: float
    lightest: float
    heaviest: float
    drape: float
    stretch_across: float
    stretch_along: float
    recovery: float
    shrinkage: float
    see_through: SeeThrough
    surface: Surface
    on_bias: OnBias  # what it does when it hangs on the bias: keeps its length, drops, or grows
    seasons: tuple[str, ...]
    wash: str  # degrees, 'hand' or 'dry clean'
    needle: str
    stitch_mm: float
    iron: str
    finish: str
    press: str
    source: str


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known or taken to be true of one cloth, each with where it comes from."""

    drape: float
    recovery: float
    see_through: SeeThrough
    surface: Surface
    on_bias: OnBias
    seasons: tuple[str, ...]
    wash: str
    drape_known: Known
    recovery_known: Known


@cache
def kinds() -> tuple[Kind, ...]:
    """All kinds of the table, wovens first, light to heavy within its groups."""
    text = resources.files("clothwise.cloth").joinpath("kinds.csv").read_text("utf-8")
    return tuple(_kind(row) for row in csv.DictReader(text.splitlines()))


@cache
def _by_name() -> dict[str, Kind]:
    return {kind.name: kind for kind in kinds()}


def find_kind(name: str) -> Kind | None:
    """The kind of that name, None when the table has none."""
    return _by_name().get(name)


def kind_named(name: str) -> Kind:
    """The kind of that name. Raises ClothError with those most like it."""
    found = find_kind(name)
    if found is None:
        near = get_close_matches(name, _by_name(), 3, cutoff=0.5)
        mend = f"Did you mean {' or '.join(near)}?" if near else f"There are: {', '.join(_by_name())}."
        raise ClothError(f"There is no kind of cloth called '{name}'.", where="cloth: kind", mend=mend)
    return found


def facts(cloth: Cloth) -> Facts:
    """What was measured on the cloth, else what is usual for its kind, else what its weight suggests."""
    kind = find_kind(cloth.kind)
    if kind is None:
        drape, see, seasons = _drape_by_weight(cloth), _see_through(cloth), _seasons(cloth)
    else:
        drape, see, seasons = kind.drape, kind.see_through, kind.seasons
    known: Known = "kind" if kind else "weight"
    return Facts(
        drape=drape if cloth.drape is None else cloth.drape,
        recovery=(kind.recovery if kind else USUAL_RECOVERY) if cloth.recovery is None else cloth.recovery,
        see_through=cloth.see_through or see,
        surface=kind.surface if kind else "plain",
        on_bias=kind.on_bias if kind else ("grows" if cloth.make == "knit" else "drops"),
        seasons=cloth.seasons or seasons,
        wash=kind.wash if kind else "",
        drape_known=known if cloth.drape is None else "measured",
        recovery_known=known if cloth.recovery is None else "measured",
    )


def _drape_by_weight(cloth: Cloth) -> float:
    steps, stiff = (KNIT_DRAPE, KNIT_STIFF) if cloth.make == "knit" else (WOVEN_DRAPE, WOVEN_STIFF)
    return next((drape for most, drape in steps if cloth.grams_per_m2 <= most), stiff)


def _see_through(cloth: Cloth) -> SeeThrough:
    if cloth.make == "knit" or cloth.grams_per_m2 > SHOWS_UP_TO:
        return "opaque"
    return "sheer" if cloth.grams_per_m2 <= SHEER_UP_TO else "shows against light"


def _seasons(cloth: Cloth) -> tuple[str, ...]:
    if cloth.grams_per_m2 <= LIGHT_UP_TO:
        return ("spring", "summer")
    return ("autumn", "winter") if cloth.grams_per_m2 >= WARM_FROM else ("spring", "summer", "autumn", "winter")


def _kind(row: dict[str, str]) -> Kind:
    def share(name: str) -> float:
        return round(float(row[name]) / 100, 4)

    return Kind(
        name=row["kind"],
        make=row["make"],  # type: ignore[arg-type]  # a test holds the words of the table
        fibre=row["fibre"],
        grams=float(row["grams"]),
        lightest=float(row["lightest"]),
        heaviest=float(row["heaviest"]),
        drape=share("drape"),
        stretch_across=share("stretch_across"),
        stretch_along=share("stretch_along"),
        recovery=share("recovery"),
        shrinkage=share("shrinkage"),
        see_through=row["see_through"],  # type: ignore[arg-type]
        surface=row["surface"],  # type: ignore[arg-type]
        on_bias=row["on_bias"],  # type: ignore[arg-type]
        seasons=tuple(row["seasons"].split()),
        wash=row["wash"],
        needle=row["needle"],
        stitch_mm=float(row["stitch_mm"]),
        iron=row["iron"],
        finish=row["finish"],
        press=row["press"],
        source=row["source"],
    )
