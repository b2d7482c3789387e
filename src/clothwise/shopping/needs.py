"""What a garment wants besides its main cloth: haberdashery, other layers, needles. Lengths in cm."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from clothwise.garment import Garment, Notion
from clothwise.garment.haberdashery import bindings, haberdashery
from clothwise.lay.plan import LayPlan
from clothwise.sew import NEEDLE_HOURS, Step
from clothwise.shopping.box import Sort

SORT_OF: Mapping[str, Sort] = {
    "elastic": "elastic", "thread": "thread", "interfacing": "interfacing", "drawstring": "cord",
    "button": "button", "zip": "zip", "hook": "hook", "binding": "bias binding",
}  # fmt: skip
LAYER_SORT: Mapping[str, Sort] = {"rib": "rib", "pocket": "pocket cloth", "lining": "lining"}
ELASTIC_SPARE = 5.0  # beyond the elastic's length: to try it on and to overlap
CM = re.compile(r"(\d+(?:\.\d+)?) ?(mm|cm)")


@dataclass(frozen=True, slots=True)
class Need:
    """One thing wanted. `instead` says what it spares when it is bought rather than cut from the cloth.

    wears  hours of sewing that a needle is used for: several makes together may blunt more than one
    """

    sort: Sort
    title: str
    length: float = 0.0
    count: int = 0
    width: float = 0.0
    colour: str = ""
    wanted_by: str = ""
    instead: str = ""
    wears: float = 0.0


def needs_of(
    garment: Garment,
    steps: Iterable[Step],
    *,
    wanted_by: str,
    colour: str = "",
    overlocker: bool = False,
    others: Mapping[str, LayPlan] | None = None,
) -> tuple[Need, ...]:
    """All that one make wants besides its main cloth.

    others  the lays of its other layers, by layer
    """
    found = [
        _need(notion, wanted_by, colour)
        for notion in haberdashery(garment, neaten="504" if overlocker else "304")
    ]
    for layer, plan in (others or {}).items():
        sort = LAYER_SORT.get(layer, "other")
        title = f"{sort.capitalize()}, {plan.problem.cloth.width:.0f} cm wide"
        found.append(Need(sort, title, length=plan.length, width=plan.problem.cloth.width, wanted_by=wanted_by))
    hours: dict[str, float] = {}
    for step in steps:
        if step.needle:
            hours[step.needle] = hours.get(step.needle, 0.0) + step.minutes.likely / 60
    found += [
        Need("needle", f"Machine needle, {needle}", count=needles(wears), wanted_by=wanted_by, wears=wears)
        for needle, wears in sorted(hours.items())
    ]
    for binding in bindings(garment):
        title = f"{binding.title}, {binding.width:.1f} cm finished"
        spared = "instead of cutting it from the cloth"
        found.append(
            Need("bias binding", title, binding.length, 0, binding.width, colour, wanted_by, instead=spared)
        )
    return tuple(found)


def needles(hours: float) -> int:
    """How many are blunt after so many hours at the machine: the last one still serves. At least one."""
    return max(1, math.ceil(hours / NEEDLE_HOURS[1]))


def _need(notion: Notion, wanted_by: str, colour: str) -> Need:
    sort = SORT_OF.get(notion.name, "other")
    spare = ELASTIC_SPARE if sort == "elastic" else 0.0
    coloured = colour if sort in ("thread", "button", "zip") else ""
    if sort == "zip":
        return Need(sort, notion.title, count=1, width=notion.length, colour=coloured, wanted_by=wanted_by)
    by_count = sort in ("button", "hook") or not notion.length
    return Need(
        sort,
        notion.title,
        length=0.0 if by_count else notion.length + spare,
        count=max(notion.count, 1) if by_count else 0,
        width=notion.width or (_told_width(notion.title) if sort == "button" else 0.0),
        colour=coloured,
        wanted_by=wanted_by,
    )


def _told_width(title: str) -> float:
    """A button's width where only its title tells it. [cm]"""
    found = CM.search(title)
    return 0.0 if found is None else float(found[1]) * (0.1 if found[2] == "mm" else 1.0)
