"""What is asked of a lay: the pieces, the cloth, and what already lies on it.

piece, cloth, layering, placement hold the values; their names can be had from here too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.errors import LayError
from clothwise.lay.cloth import LayCloth, Nap, Outline, Point, Repeat, remnant
from clothwise.lay.layering import FOLDED, SINGLE, TO_CENTRE, Fold, Layering, folds_of, partial_fold
from clothwise.lay.piece import (
    BIAS,
    CROSSWISE,
    STRAIGHT,
    STRAIGHT_OR_CROSSWISE,
    LayPiece,
    MatchPoint,
    unfolded,
)
from clothwise.lay.placement import Placement

__all__ = [
    "BIAS",
    "CROSSWISE",
    "FOLDED",
    "SINGLE",
    "STRAIGHT",
    "STRAIGHT_OR_CROSSWISE",
    "TO_CENTRE",
    "Fold",
    "LayCloth",
    "LayPiece",
    "LayProblem",
    "Layering",
    "MatchPoint",
    "Nap",
    "Outline",
    "Phase",
    "Placement",
    "Point",
    "Repeat",
    "folds_of",
    "of_layer",
    "partial_fold",
    "remnant",
    "unfolded",
]

MOST_COPIES = 150  # copies in one lay: more than any garment with its lining, few enough to stay quick


@dataclass(frozen=True, slots=True)
class Phase:
    """Where a matched piece's own origin lies among the stripes, in the piece's own direction. [cm]

    along   above a bar; across: beside a stripe; None where it is not matched in that direction
    """

    piece: str
    along: float | None
    across: float | None


@dataclass(frozen=True, slots=True)
class LayProblem:
    """Pieces to be cut from one cloth.

    gap     left between pieces for the blade [cm]
    pinned  copies that already lie where somebody put them; they stay. A mirrored pair's copies 0, 2, 4...
            are those as drawn, 1, 3, 5... those turned over
    phases  of the matched pieces, once they are settled, see `matching`
    """

    pieces: tuple[LayPiece, ...]
    cloth: LayCloth
    gap: float = 0.0
    pinned: tuple[Placement, ...] = ()
    phases: tuple[Phase, ...] = ()

    def __post_init__(self) -> None:
        if not self.pieces:
            raise LayError("There is nothing to lay.", where="lay: pieces", mend="Give one piece at least.")
        if not 0 <= self.gap <= 10:
            raise LayError(
                f"A gap of {self.gap:g} cm between pieces cannot be kept.",
                where="lay: gap",
                mend="Give 0 to 10 cm.",
            )
        names = [piece.name for piece in self.pieces]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise LayError(
                f"Two pieces are called '{twice[0]}'.",
                where="lay: pieces",
                mend="Give every piece a name of its own.",
            )
        copies = sum(piece.count for piece in self.pieces)
        if copies > MOST_COPIES:
            raise LayError(
                f"{copies} copies are more than one lay can hold.",
                where="lay: pieces",
                mend=f"Lay at most {MOST_COPIES} copies at a time, for example one garment after the other.",
            )

        self._check_pinned()

    def _check_pinned(self) -> None:
        counts = {piece.name: piece.count for piece in self.pieces}
        seen: set[tuple[str, int]] = set()
        for pin in self.pinned:
            copy = (pin.piece, pin.copy)
            if not 0 <= pin.copy < counts.get(pin.piece, 0) or copy in seen:
                raise LayError(
                    f"'{pin.piece}', copy {pin.copy + 1}, is pinned but is not a copy still to be laid.",
                    where="lay: pinned",
                    mend="Pin each copy of a piece once.",
                )
            seen.add(copy)

    def free_copies(self, piece: LayPiece) -> tuple[int, ...]:
        """The copies of a piece that still look for a place."""
        held = {pin.copy for pin in self.pinned if pin.piece == piece.name}
        return tuple(copy for copy in range(piece.count) if copy not in held)

    @property
    def area_cm2(self) -> float:
        """Area of everything that must be cut. [cm2]"""
        return sum(piece.area_cm2 for piece in self.pieces)


def of_layer(pieces: Sequence[LayPiece], layer: str) -> tuple[LayPiece, ...]:
    """The pieces cut from one layer: shell, lining, interfacing..."""
    return tuple(piece for piece in pieces if piece.layer == layer)
