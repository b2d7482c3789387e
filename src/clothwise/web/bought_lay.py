"""The pieces of a bought pattern laid on a cloth of the cupboard, where all their outlines are known. [cm]"""

from __future__ import annotations

from dataclasses import replace

from clothwise.cloth import Cloth
from clothwise.errors import LayError
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.shelf.pattern import BoughtPattern
from clothwise.size.cloth_need import BLADE_GAP, ClothNeed, lay_pieces
from clothwise.store import Store
from clothwise.store.lays import LayMemory
from clothwise.ticket.made import lay_cloth

EFFORT = "brisk"  # as the shelf lays them when it tells how much to buy


def lay_on(store: Store, pattern: BoughtPattern, need: ClothNeed | None, cloth: Cloth) -> LayPlan | None:
    """The shortest lay found in the size and length that are needed, on this very cloth, its shape and flaws.

    None where an outline is not known, or a piece fits nowhere. It may be longer than the cloth.
    """
    pieces = lay_pieces(pattern, need.size, "main", need.longer) if need else ()
    if not pieces:
        return None
    numbered = tuple(replace(piece, number=number) for number, piece in enumerate(pieces, 1))
    try:
        with LayMemory.beside(store.place) as memory:
            return memory.plan(LayProblem(numbered, lay_cloth(cloth), gap=BLADE_GAP), EFFORT)
    except LayError:  # a piece wider than the cloth: the size's own words say so
        return None
