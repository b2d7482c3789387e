"""Growth tucks as they are drawn above a hem: three marks each, known again by their names. Lengths in cm."""

from __future__ import annotations

import re
from dataclasses import dataclass

from clothwise.curve import Curve
from clothwise.garment.piece import Mark, Piece

LINES = ("lower", "fold", "upper")  # from the hem up; the outer two are stitched to each other
_MARKED = re.compile(rf"(.*)_growth_tuck_(\d+)_({'|'.join(LINES)})$")


@dataclass(frozen=True, slots=True)
class GrowthTuck:
    """Its two stitched lines and the fold between them."""

    lower: Curve
    fold: Curve
    upper: Curve

    @property
    def depth(self) -> float:
        """From the stitching to the fold. [cm]"""
        return self.lower.start.distance(self.upper.start) / 2


def tuck_line(edge: str, number: int, line: str, curve: Curve) -> Mark:
    """One of the LINES of an edge's tuck, the lowest tuck being number 1."""
    return Mark(f"{edge}_growth_tuck_{number}_{line}", "note", curve)


def in_a_tuck(mark: Mark) -> bool:
    """Whether a mark is a line of a growth tuck."""
    return _MARKED.match(mark.name) is not None


def growth_tucks(piece: Piece, edge: str) -> tuple[GrowthTuck, ...]:
    """The growth tucks above one edge of a piece, the lowest first."""
    found: dict[int, dict[str, Curve]] = {}
    for mark in piece.marks:
        named = _MARKED.match(mark.name)
        if named and (edge == named[1] or edge.endswith(f"_{named[1]}")):  # a half told apart: left_hem
            found.setdefault(int(named[2]), {})[named[3]] = mark.curve
    return tuple(GrowthTuck(**lines) for _, lines in sorted(found.items()) if len(lines) == len(LINES))
