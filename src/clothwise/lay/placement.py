"""Where one copy of a piece lies on the opened cloth.

Axes as in `cloth`: it runs along +x, selvedges at y = 0 and y = width, right side up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from clothwise.lay.cloth import Outline
from clothwise.lay.piece import LayPiece, unfolded
from clothwise.tolerance import PARAMETER

How = Literal["single", "double", "on the fold", "unfolded"]


@dataclass(frozen=True, slots=True)
class Placement:
    """One copy of a piece on the opened cloth.

    copy      0, 1, 2... within the piece
    mirrored  turned over: the wrong side of the piece's drawing is up
    angle     of its grain to the cloth's grain: 0 points to +x, 90 to +y [degrees]
    dx, dy    move after turning [cm]
    how       'single': through one layer; 'double': with its mirror image, through both;
              'on the fold': the half outline, its fold edge on the fold;
              'unfolded': the whole outline, through one layer
    fold      which fold of the layering doubles it (an index), or None
    """

    piece: str
    copy: int
    mirrored: bool
    angle: float
    dx: float
    dy: float
    how: How = "single"
    fold: int | None = None

    def carry(self, outline: Outline) -> Outline:
        """An outline in the piece's own axes, carried to the cloth: mirror, turn, move. Always rigid."""
        turn = math.radians(self.angle - 90.0)
        c, s = _exact(math.cos(turn)), _exact(math.sin(turn))
        side = -1.0 if self.mirrored else 1.0
        return tuple((c * side * x - s * y + self.dx, s * side * x + c * y + self.dy) for x, y in outline)

    def outline_on_cloth(self, piece: LayPiece) -> Outline:
        """What is drawn on the cloth: the outline as cut; the half when it lies on the fold."""
        return self.carry(unfolded(piece) if self.how == "unfolded" else piece.outline)


def _exact(value: float) -> float:
    """Sine or cosine without the dust that quarter turns leave."""
    nearest = round(value)
    return float(nearest) if abs(value - nearest) < PARAMETER else value
