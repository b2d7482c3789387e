"""What cloth is meant when metres are asked for before a cloth is bought. Lengths in cm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from clothwise.cloth import Cloth
from clothwise.cloth.kinds import find_kind, kinds
from clothwise.cloth.typed import cloth_typed
from clothwise.errors import ClothError

PLAIN_SHRINKAGE = 0.05  # of a cloth of which nothing is known: cottons lose 3 to 5 % (house rules C)


def like_of(asked: str, cloths: Iterable[Cloth]) -> Cloth:
    """The cloth of this name, else one of this kind, else a plain one: for its nap, repeat, shrinkage, price.

    Raises  ClothError: neither a cloth nor a kind
    """
    if not asked:
        return Cloth("Plain cloth", 140.0, 300.0, shrinkage=PLAIN_SHRINKAGE, washed=False)
    found = next((cloth for cloth in cloths if cloth.name == asked), None)
    if found is not None:
        return replace(found, outline=(), flaws=())
    kind = find_kind(asked)
    if kind is None:
        near = [one.name for one in kinds() if asked.casefold() in one.name]
        raise ClothError(
            f"'{asked}' is neither a cloth of the cupboard nor a kind of cloth.",
            where="metres: like",
            mend=f"Perhaps {' or '.join(near)}?"
            if near
            else "Name one of the cupboard or a kind, or leave it open for a plain cloth.",
        )
    return cloth_typed(
        kind.name.capitalize(), {"kind": kind.name, "width": "140", "length": "300", "washed": "no"}
    )
