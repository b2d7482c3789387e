"""Checks on two drafts of one pattern: the same, or moved by no more than a change of measure explains."""

from __future__ import annotations

import math

import numpy as np

from clothwise.garment.check.drawn import Drawn, drawn
from clothwise.garment.check.graph import lines_of
from clothwise.garment.garment import Garment

SHARES = 32  # equal steps along each line at which two drafts are compared


def same(one: Garment, other: Garment) -> bool:
    """Whether two drafts are the same to the last digit, in the same order.

    By their written form, in which every float stands with all its digits and every list in its order:
    what the packet's bytes depend on.
    """
    return repr(one) == repr(other)


def greatest_move(one: Garment, other: Garment, *, scale: float = 1.0) -> float:
    """How far any line of a draft moved from one drafting to another. [cm]

    Each line of each piece is compared at equal shares of its length. `scale`: `one` is enlarged by it
    first, so that a draft of a body enlarged as a whole can be compared.
    Infinite when pieces, edges or marks of one are missing in the other (a dart came or went).
    """
    before, after = _lines(one), _lines(other)
    if before.keys() != after.keys():
        return math.inf
    return max((_move(before[key], after[key], scale) for key in before), default=0.0)


def _move(one: Drawn, other: Drawn, scale: float) -> float:
    way = one.shares(SHARES) * scale - other.shares(SHARES)
    return float(np.hypot(way[:, 0], way[:, 1]).max())


def _lines(garment: Garment) -> dict[tuple[str, str], Drawn]:
    return {(piece.name, line.name): drawn(line.curve) for piece in garment.pieces for line in lines_of(piece)}
