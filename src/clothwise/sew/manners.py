"""How a cloth wants to be sewn: needle, stitch, iron, how it frays, what it adds to the minutes.

Needle numbers are the shaft in 1/100 mm, stitch lengths mm.
Source: needle and stitch table and finishes from the house's rules of the trade (five sources for needles that
differ by at most one step; finishes three); difficulty, iron and tips are trade knowledge, 2025-11.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from clothwise.cloth import Cloth
from clothwise.cloth.kinds import find_kind

Iron = Literal["cool", "warm", "medium", "hot"]
Tip = Literal[
    "slips", "frays", "thick", "pile", "grows", "curls", "soft", "crisp", "shows holes", "press cloth",
    "walking foot", "shrinks", "weighty",
]  # fmt: skip

SLIPPERY, SHRINKS, THICK = 0.45, 0.05, 320.0  # drape coefficient below; share; g/m2 from which it is so (T)
SLOW = 0.1  # of the minutes, that slipping or a pile costs beyond the weight (T)
NEEDLE_HOURS = (8, 12)  # of sewing until a needle is blunt (rules of the trade, one source)
KNIT_STRETCH = 0.15  # share: a cloth that gives more than this across needs a seam that gives


@dataclass(frozen=True, slots=True)
class Manners:
    """How one cloth is handled.

    stitch_mm   straight stitch length for it
    factor      minutes at table and machine over those for a plain, well-behaved cotton
    fine        fine enough that a seam closed on itself (French) stays slim
    tight       woven tightly enough that pinked edges hold
    gives       stretches: seams must stretch with it, and its edges do not fray
    """

    needle: str
    stitch_mm: float
    iron: Iron
    factor: float = 1.0
    fine: bool = False
    tight: bool = False
    gives: bool = False
    tips: tuple[Tip, ...] = ()


def _m(
    needle: str,
    stitch_mm: float,
    iron: Iron,
    factor: float,
    *tips: Tip,
    fine: bool = False,
    tight: bool = False,
) -> Manners:
    return Manners(needle, stitch_mm, iron, factor, fine=fine, tight=tight, tips=tips)


KINDS: dict[str, Manners] = {
    "cotton lawn": _m("universal 70", 2.0, "medium", 1.05, "shows holes", fine=True, tight=True),
    "poplin": _m("universal 80", 2.5, "medium", 1.0, "crisp", tight=True),
    "linen": _m("universal 80", 2.5, "hot", 1.0, "frays", "shrinks"),
    "denim, washed": _m("jeans 100", 3.0, "hot", 1.15, "thick"),
    "denim, raw": _m("jeans 100", 3.0, "hot", 1.2, "thick", "shrinks"),
    "chambray": _m("universal 80", 2.5, "medium", 1.0, "crisp", tight=True),
    "viscose challis": _m("universal 80", 2.5, "medium", 1.2, "slips", "grows", "shrinks"),
    "crepe": _m("universal 80", 2.5, "warm", 1.2, "slips", "grows", "press cloth"),
    "wool flannel": _m("universal 90", 2.5, "warm", 1.05, "press cloth", "thick"),
    "corduroy": _m("universal 90", 3.0, "medium", 1.15, "pile", "thick"),
    "velvet": _m("universal 80", 2.5, "cool", 1.5, "pile", "slips", "walking foot"),
    "double gauze": _m("universal 80", 2.5, "medium", 1.1, "soft", "frays", "shrinks"),
    "silk satin": _m("sharp 60", 2.0, "cool", 1.5, "slips", "shows holes", "frays", "press cloth", fine=True),
    "canvas": _m("jeans 100", 3.0, "hot", 1.2, "thick", "weighty"),
    "single jersey": _m("ballpoint 80", 2.5, "medium", 1.2, "curls", "walking foot"),
    "interlock": _m("ballpoint 80", 2.5, "medium", 1.1, "walking foot"),
    "French terry": _m("ballpoint 80", 2.5, "medium", 1.1, "walking foot"),
    "ribbing": _m("ballpoint 80", 2.5, "medium", 1.2, "walking foot"),
    "ponte": _m("stretch 75", 2.5, "warm", 1.05, "press cloth"),
    "swim tricot": _m("stretch 75", 2.5, "cool", 1.3, "walking foot"),
    "fleece": _m("ballpoint 90", 3.0, "cool", 1.1, "thick", "walking foot"),
}

# By weight when the kind is not known: up to so many g/m2.
WOVEN_BY_WEIGHT: tuple[tuple[float, Manners], ...] = (
    (90.0, _m("universal 70", 2.0, "medium", 1.1, "shows holes", fine=True)),
    (220.0, _m("universal 80", 2.5, "medium", 1.0)),
    (320.0, _m("universal 90", 2.5, "medium", 1.1, "thick")),
)
WOVEN_HEAVY = _m("jeans 100", 3.0, "hot", 1.2, "thick", "weighty")
KNIT_LIGHT, KNIT_HEAVY = (
    _m("ballpoint 80", 2.5, "medium", 1.15, "walking foot"),
    _m("ballpoint 90", 2.5, "medium", 1.15, "thick", "walking foot"),
)
KNIT_HEAVY_FROM = 280.0  # g/m2


def manners(cloth: Cloth) -> Manners:
    """How this cloth is handled: by its kind where that is known, else by make and weight."""
    found = KINDS.get(cloth.kind) or _by_table(cloth) or _by_weight(cloth)
    gives = cloth.make == "knit" or cloth.stretch_across > KNIT_STRETCH
    return replace(found, gives=gives)


def _by_table(cloth: Cloth) -> Manners | None:
    """A kind of the cupboard's table without a row here: needle, stitch and iron from there, tips from what it
    is like, minutes as its weight asks.
    """
    kind = find_kind(cloth.kind)
    if kind is None:
        return None
    likely: dict[Tip, bool] = {
        "pile": kind.surface == "pile",
        "grows": kind.on_bias == "grows",
        "slips": kind.drape < SLIPPERY and kind.make == "woven",
        "shows holes": kind.see_through == "sheer",
        "press cloth": "through a cloth" in kind.press,
        "shrinks": kind.shrinkage >= SHRINKS,
        "thick": kind.grams >= THICK,
        "walking foot": kind.make == "knit",
    }
    tips = tuple(tip for tip, so in likely.items() if so)
    factor = _by_weight(cloth).factor + (SLOW if "slips" in tips or "pile" in tips else 0.0)
    fine = kind.finish.startswith("French")
    return Manners(kind.needle, kind.stitch_mm, kind.iron, factor, fine=fine, tips=tips)  # type: ignore[arg-type]


def _by_weight(cloth: Cloth) -> Manners:
    if cloth.make == "knit":
        return KNIT_HEAVY if cloth.grams_per_m2 >= KNIT_HEAVY_FROM else KNIT_LIGHT
    return next((m for most, m in WOVEN_BY_WEIGHT if cloth.grams_per_m2 <= most), WOVEN_HEAVY)
