"""Which cautions belong to a make. The texts stand in `page_words`; here is only what decides.

Facts behind them: laws bind those who sell and supply, good sense binds those who make. EN 14682 (cords on
children's clothing to 14 years), nightwear rules (fire), what makers' accidents teach (iron, needle, blade).
"""

from __future__ import annotations

from typing import Literal

from clothwise.cloth import Cloth
from clothwise.garment import Garment

Caution = Literal[
    "iron", "needle", "blade", "child cords", "child elastic", "small parts", "child nightwear", "nightwear",
]  # fmt: skip

CORDS = ("drawstring", "cord", "tie", "ribbon")
SMALL_PARTS = ("button", "snap", "toggle", "bead", "eyelet")
SLEPT_IN = ("pyjama_bottoms", "robe")  # drafts made first of all for the night, from whatever cloth
BURNS_FAST = (
    "fleece", "velvet", "French terry", "double gauze", "cotton lawn", "viscose challis", "brushed cotton",
    "towelling", "voile", "cheesecloth", "georgette",
)  # fmt: skip  # their pile or openness lets a flame run fast


def cautions(garment: Garment, cloth: Cloth) -> tuple[Caution, ...]:
    """Cautions that apply, most telling first. Tools apply to every make."""
    found: list[Caution] = []
    if garment.for_child:
        found += ["child cords", "small parts", "child elastic", "child nightwear"]
    elif garment.name in SLEPT_IN or cloth.kind in BURNS_FAST:
        found.append("nightwear")
    return (*found, "iron", "needle", "blade")


def has_cords(garment: Garment) -> bool:
    """Whether something bought for it is a cord."""
    return any(notion.name in CORDS for notion in garment.notions)


def has_small_parts(garment: Garment) -> bool:
    return any(notion.name in SMALL_PARTS for notion in garment.notions)
