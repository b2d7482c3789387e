"""Makes that are cut from one cloth: whether there is enough of it for all of them. Lengths in cm.

Each make fits by itself; laid one after the other they need the sum of their lays. (Laid together they may need
a little less: what is told here is the safe side.)
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from clothwise.cloth import Cloth
from clothwise.shopping.cloths import WantedCloth
from clothwise.shopping.metres import to_buy


@dataclass(frozen=True, slots=True)
class Shared:
    """A cloth of the cupboard that several makes want, and that does not suffice for all of them."""

    cloth: str
    wanted_by: tuple[str, ...]
    need: float
    have: float
    buy: float  # as sold


def too_short(wanted: Iterable[WantedCloth], cloths: Iterable[Cloth]) -> tuple[Shared, ...]:
    """The cloths that do not suffice for all that is to be cut from them, in the order of the makes."""
    there = {cloth.name: cloth for cloth in cloths}
    makes: dict[str, list[WantedCloth]] = {}
    for one in wanted:
        if one.in_cupboard and one.cloth in there:
            makes.setdefault(one.cloth, []).append(one)
    found = []
    for name, ones in makes.items():
        need, cloth = sum(one.need for one in ones), there[name]
        missing = need - cloth.usable_length
        if len(ones) > 1 and missing > 0:
            by = tuple(one.wanted_by for one in ones)
            buy = to_buy(missing, cloth.shrinkage)
            found.append(Shared(name, by, need, cloth.usable_length, buy))
    return tuple(found)
