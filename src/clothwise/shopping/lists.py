"""One shopping list over several makes: like needs together, less what is in the box, in the shop's steps.

What serves for what: the sort must be the same; the width within a millimetre or two (a zip may be longer than
asked, it is shortened); the colour the same where both name one. What the box holds is given to the needs in
turn, each thing only once.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from clothwise.shopping.box import BY_LENGTH, BoxItem, Sort
from clothwise.shopping.needs import Need, needles

STEP = 10.0  # cm: cloth, elastic and binding are sold by the tenth of a metre
REEL = 10_000.0  # cm of thread on an ordinary small reel
SAME_WIDTH = 0.2  # cm: an elastic or a button so near is the same for the purpose
LONGER_ZIP = 15.0  # cm: a zip so much longer is still shortened sensibly
WIDTH_MATTERS = ("elastic", "cord", "bias binding", "button", "zip")
NEEDLE_SIZES = (60, 120)  # shaft in hundredths of a millimetre; another number is another system's, or a count
POINTS = {
    "universal": "universal", "ballpoint": "ballpoint", "ball point": "ballpoint", "jersey": "ballpoint",
    "stretch": "stretch", "jeans": "jeans", "denim": "jeans", "microtex": "sharp", "sharp": "sharp",
    "leather": "leather", "hand": "hand", "overlock": "overlock", "twin": "twin",
}  # fmt: skip  # words of the trade on a packet of needles -> the point as the table of cloths names it
PIECED = ("elastic", "cord", "rib")  # one length must serve: they are not pieced together


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One line of the list. `length` [cm] or `count` as it is wanted, `buy` in the step it is sold.

    buy     cm, or pieces for what is counted (reels of thread too); 0 when the box holds enough
    in_box  what the box gives: cm or pieces, and from which things
    """

    sort: Sort
    title: str
    wanted: float
    buy: float
    unit: Literal["cm", "pieces", "reels"]
    in_box: float = 0.0
    from_box: tuple[str, ...] = ()
    colour: str = ""
    wanted_by: tuple[str, ...] = ()
    instead: str = ""


def shopping_list(needs: Iterable[Need], box: Sequence[BoxItem] = ()) -> tuple[ShoppingLine, ...]:
    """All needs, what is alike together, what the box gives subtracted; in the order the needs come."""
    left = {item.name: item.length if item.sort in BY_LENGTH else float(item.count) for item in box}
    return tuple(_line(need, makers, box, left) for need, makers in _together(needs))


def still_to_buy(lines: Iterable[ShoppingLine]) -> tuple[ShoppingLine, ...]:
    """The lines of which something must be bought; what is bought only instead of cutting stays out."""
    return tuple(line for line in lines if line.buy and not line.instead)


def _together(needs: Iterable[Need]) -> list[tuple[Need, tuple[str, ...]]]:
    """Needs that one purchase serves, added up. A needle serves several makes, as long as it stays sharp."""
    found: dict[tuple[object, ...], tuple[Need, tuple[str, ...]]] = {}
    key: tuple[object, ...]
    for need in needs:
        key = (
            need.sort,
            need.title if need.sort not in ("thread", "interfacing") else "",
            need.width,
            need.colour,
        )
        key = (*key, need.instead)
        if key not in found:
            found[key] = need, (need.wanted_by,)
            continue
        before, makers = found[key]
        wears = before.wears + need.wears
        blunt = max(before.count, need.count, needles(wears))
        count = blunt if need.sort == "needle" else before.count + need.count
        both = replace(before, length=before.length + need.length, count=count, wears=wears)
        found[key] = both, tuple(dict.fromkeys((*makers, need.wanted_by)))
    return list(found.values())


def _line(need: Need, makers: tuple[str, ...], box: Sequence[BoxItem], left: dict[str, float]) -> ShoppingLine:
    """`left` holds how much of each thing is not given away yet; what is given here is taken off."""
    by_length = need.sort in BY_LENGTH
    wanted = need.length if by_length else float(need.count)
    missing, sources = wanted, []
    for item in box:
        has = left[item.name]
        whole = need.sort not in PIECED or has >= wanted
        if missing > 0 and has > 0 and whole and serves(item, need):
            given = min(has, missing)
            missing -= given
            left[item.name] -= given
            sources.append(item.name)
    return ShoppingLine(
        sort=need.sort,
        title=need.title,
        wanted=wanted,
        buy=_sold(need.sort, missing),
        unit="reels" if need.sort == "thread" else "cm" if by_length else "pieces",
        in_box=wanted - missing,
        from_box=tuple(sources),
        colour=need.colour,
        wanted_by=makers,
        instead=need.instead,
    )


def serves(item: BoxItem, need: Need) -> bool:
    """Whether a thing of the box will do for a need."""
    if item.sort != need.sort or need.sort == "other":
        return False
    if item.colour and need.colour and item.colour.casefold() != need.colour.casefold():
        return False
    if need.sort == "needle":
        return _same_needle(item.name.casefold(), need.title.casefold())
    if need.sort not in WIDTH_MATTERS or not item.width or not need.width:
        return True
    if need.sort == "zip":
        return -SAME_WIDTH <= item.width - need.width <= LONGER_ZIP
    return abs(item.width - need.width) <= SAME_WIDTH


def _same_needle(there: str, wanted: str) -> bool:
    """'Needles 80', 'jersey needle 80/12': the point named, else universal; the size where it is told."""
    sizes = [size for size in re.findall(r"\d+", there) if NEEDLE_SIZES[0] <= int(size) <= NEEDLE_SIZES[1]]
    if sizes and not set(sizes) & set(re.findall(r"\d+", wanted)):
        return False
    points = {point for word, point in POINTS.items() if word in there} or {"universal"}
    return any(point in wanted for point in points)


def _sold(sort: Sort, missing: float) -> float:
    if missing <= 0:
        return 0.0
    if sort == "thread":
        return float(math.ceil(missing / REEL))
    return math.ceil(missing / STEP) * STEP if sort in BY_LENGTH else float(math.ceil(missing))
