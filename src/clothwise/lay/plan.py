"""What a lay hands out: placements on the opened cloth, plans and answers. Plain frozen values.

Axes as in `problem`: the cloth runs along +x, selvedges at y = 0 and y = width, right side up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from clothwise.lay.problem import Layering, LayPiece, LayProblem, Outline, unfolded
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


@dataclass(frozen=True, slots=True)
class LayPlan:
    """A lay that has passed the independent check.

    length   cloth used, from x = 0 to the furthest point [cm]
    optimal  proved: no shorter lay exists for this layering, to within the search tolerance
    """

    problem: LayProblem
    layering: Layering
    placements: tuple[Placement, ...]
    length: float
    verified: bool = False
    optimal: bool = False

    @property
    def used_cm2(self) -> float:
        """Area of the pieces. [cm2]"""
        return self.problem.area_cm2

    @property
    def waste(self) -> float:
        """Share of the used length of cloth that no piece covers, 0 to 1."""
        return 1.0 - self.used_cm2 / (self.length * self.problem.cloth.width)

    @property
    def cuts(self) -> int:
        """How many outlines are cut: a pair through both layers counts once."""
        doubles = sum(1 for placement in self.placements if placement.how == "double")
        return len(self.placements) - doubles // 2


@dataclass(frozen=True, slots=True)
class LayAnswer:
    """Does it fit? 'yes' with a plan; 'impossible' is proved, with the reason; 'not found' at this effort."""

    verdict: Literal["yes", "impossible", "not found"]
    reason: str
    plan: LayPlan | None = None
    shortest: LayPlan | None = None  # the shortest lay found when the cloth is too short for it
