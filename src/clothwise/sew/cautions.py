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


TIED = frozenset(("tie", "ties", "belt", "sash", "cord", "drawstring"))  # words in names of pieces


def cautions(garment: Garment, cloth: Cloth) -> tuple[Caution, ...]:
    """Cautions of the booklet, most telling first. A child's garment has all of its own: it is worn for years,
    and things are added to it. Tools apply to every make.
    """
    found: list[Caution] = []
    if garment.for_child:
        found += ["child cords", "small parts", "child elastic", "child nightwear"]
    elif burns(garment.name, cloth):
        found.append("nightwear")
    return (*found, "iron", "needle", "blade")


def foremost(garment: Garment, cloth: Cloth, *, slept_in: bool = False) -> tuple[Caution, ...]:
    """Those beside an answer of the evening: of the booklet's what bears on this make as it is drawn.

    slept_in  it is asked for to sleep in
    """
    if not garment.for_child:
        return ("nightwear",) if slept_in or burns(garment.name, cloth) else ()
    tied = has_cords(garment) or any(TIED & set(piece.name.split("_")) for piece in garment.pieces)
    found: list[Caution] = ["child nightwear"] if slept_in or garment.name in SLEPT_IN else []
    found += ["child cords"] if tied else []
    found += ["small parts"] if has_small_parts(garment) else []
    found += ["child elastic"] if any(notion.name == "elastic" for notion in garment.notions) else []
    return tuple(found)


def burns(name: str, cloth: Cloth) -> bool:
    """Whether a flame is to be feared: a draft made for the night, or a cloth along which it runs fast."""
    return name in SLEPT_IN or cloth.kind in BURNS_FAST


def has_cords(garment: Garment) -> bool:
    """Whether something bought for it is a cord."""
    return any(notion.name in CORDS for notion in garment.notions)


def has_small_parts(garment: Garment) -> bool:
    return any(notion.name in SMALL_PARTS for notion in garment.notions)
