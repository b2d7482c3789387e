"""What each house draft wants of a cloth beside its weight, and of the one who sews it.

drape      drape coefficients it is meant for: below, it hangs closer than drawn; above, it stands away
opaque     nobody should see through it: else it wants a lining or something below
bias       cut on the bias: the cloth must fall, and not grow
close      lies so close that the cloth must go back after stretching
hard       1 straight seams and elastic; 2 curves, bands, rib; 3 zips, darts, collars, slippery edges
occasions  what it is worn for
Source: trade sense of the house, 2026-11, held against the case list of the trade (weight bands, knits, bias);
the drape of each kind of cloth is in `cloth.kinds`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

Occasion = Literal["everyday", "work", "celebration", "sleep", "sport", "home"]
OCCASIONS: tuple[str, ...] = ("everyday", "work", "celebration", "sleep", "sport", "home")
SMART = ("everyday", "work", "celebration")


@dataclass(frozen=True, slots=True)
class Wants:
    """See the module."""

    drape: tuple[float, float]
    hard: int = 1
    opaque: bool = True
    bias: bool = False
    close: bool = False
    gathered: bool = False
    occasions: tuple[str, ...] = ("everyday",)


WANTS: Mapping[str, Wants] = {
    "pull_on_trousers": Wants((0.30, 0.78), 2, occasions=("everyday", "work", "home")),
    "jogger": Wants((0.26, 0.60), 2, occasions=("everyday", "sport", "home")),
    "pyjama_bottoms": Wants((0.30, 0.66), 1, occasions=("sleep", "home")),
    "leggings": Wants((0.15, 0.50), 2, close=True, occasions=("everyday", "sport")),
    "four_panel_skirt": Wants((0.34, 0.84), 1, occasions=("everyday", "work")),
    "a_line_skirt": Wants((0.42, 0.90), 3, occasions=SMART),
    "circle_skirt": Wants((0.24, 0.66), 2, occasions=SMART),
    "bias_skirt": Wants((0.22, 0.54), 3, bias=True, occasions=SMART),
    "gathered_skirt": Wants((0.24, 0.66), 1, gathered=True, occasions=("everyday", "celebration")),
    "tiered_skirt": Wants((0.24, 0.60), 1, gathered=True, occasions=("everyday", "celebration")),
    "cut_on_sleeve_tee": Wants((0.16, 0.50), 1, occasions=("everyday", "sport", "sleep")),
    "raglan_pullover": Wants((0.28, 0.68), 2, opaque=False, occasions=("everyday", "work", "sleep", "home")),
    "darted_shift": Wants((0.38, 0.80), 3, occasions=SMART),
    "button_front_shirt": Wants((0.28, 0.74), 3, opaque=False, occasions=("everyday", "work", "sleep")),
    "bias_camisole": Wants((0.20, 0.50), 3, opaque=False, bias=True, occasions=("celebration", "sleep")),
    "sweatshirt": Wants((0.30, 0.66), 2, occasions=("everyday", "sport", "home")),
    "robe": Wants((0.20, 0.76), 2, opaque=False, occasions=("sleep", "home")),
    "apron": Wants((0.44, 0.96), 1, opaque=False, occasions=("home", "work")),
}
ANYTHING = Wants((0.15, 0.95), 2, occasions=OCCASIONS)
SOFTER = 0.08  # a wide leg, a full sweep, a flutter: it should fall where the plain form may stand a little


def wants(draft: str, wish: Mapping[str, float | str]) -> Wants:
    """What a draft with these choices wants; a draft without a row of its own asks for nothing special."""
    found = WANTS.get(draft, ANYTHING)
    low, high = found.drape
    soft = wish.get("leg") == "wide" or wish.get("sweep") in ("three quarters", "full")
    if soft or wish.get("sleeve") == "flutter" or wish.get("length") in ("maxi", "midi slip"):
        found = replace(found, drape=(low - SOFTER, high - SOFTER))
    zipped = "zip" in str(wish.get("waist", "")) or "buttons" in str(wish.get("waist", ""))
    if zipped and found.hard < 2:
        found = replace(found, hard=2)
    if draft == "darted_shift" and wish.get("length") in ("dress", "midi"):
        found = replace(found, occasions=SMART)
    return found
