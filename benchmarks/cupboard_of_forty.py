"""A cupboard of forty cloths for benchmarks and tests of `suggest`: every kind, whole lengths and remnants.

Invented; drawn with a seed from the table of kinds, so that it is the same on every machine.
"""

from __future__ import annotations

import random

from clothwise.cloth import Cloth
from clothwise.cloth.kinds import kinds
from clothwise.cloth.shape import Outline

SEED = 20_261_125
WIDTHS = (90.0, 112.0, 138.0, 142.0, 150.0)
LENGTHS = (60.0, 90.0, 120.0, 150.0, 180.0, 220.0, 300.0)
NAPS = ("none", "two-way", "two-way", "one-way")


def forty(count: int = 40) -> tuple[Cloth, ...]:
    """The cloths; every eighth is a remnant with a corner cut away and a flaw."""
    chance = random.Random(SEED)
    table = kinds()
    return tuple(_cloth(chance, number, table[number % len(table)].name) for number in range(count))


def _cloth(chance: random.Random, number: int, kind_name: str) -> Cloth:
    kind = next(one for one in kinds() if one.name == kind_name)
    width, length = chance.choice(WIDTHS), chance.choice(LENGTHS)
    outline, flaws = _remnant(length, width) if number % 8 == 7 else ((), ())
    return Cloth(
        name=f"{kind.name.capitalize()} {number + 1}",
        width=width,
        length=length,
        make=kind.make,
        kind=kind.name,
        fibre=kind.fibre,
        grams_per_m2=kind.grams,
        stretch_across=kind.stretch_across if kind.make == "knit" else 0.0,
        stretch_along=kind.stretch_along if kind.make == "knit" else 0.0,
        nap="one-way" if kind.surface == "pile" else chance.choice(NAPS),  # type: ignore[arg-type]
        shrinkage=kind.shrinkage,
        washed=chance.random() < 0.7,
        outline=outline,
        flaws=flaws,
    )


def _remnant(length: float, width: float) -> tuple[Outline, tuple[Outline, ...]]:
    """A corner was cut away, and there is a stain."""
    a, b = round(0.35 * length), round(0.4 * width)
    outline = (
        (0.0, 0.0),
        (length, 0.0),
        (length, width - b),
        (length - a, width - b),
        (length - a, width),
        (0.0, width),
    )
    x, y = round(0.2 * length), round(0.3 * width)
    return outline, (((x, y), (x + 5.0, y), (x + 5.0, y + 4.0), (x, y + 4.0)),)
