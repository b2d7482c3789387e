"""What a lay hands out: placements on the opened cloth, plans and answers. Plain frozen values.

Axes as in `problem`: the cloth runs along +x, selvedges at y = 0 and y = width, right side up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from shapely.geometry import box

from clothwise.lay.layering import Layering
from clothwise.lay.placement import How, Placement
from clothwise.lay.problem import LayProblem

__all__ = ["How", "LayAnswer", "LayPlan", "Placement"]


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
        """Share of the used length of cloth, or of the remnant so far, that no piece covers, 0 to 1."""
        cloth = self.problem.cloth
        area = self.length * cloth.width
        if cloth.outline is not None:
            area = float(
                cloth.shape(self.length, whole=True).intersection(box(0, 0, self.length, cloth.width)).area
            )
        return 1.0 - self.used_cm2 / area

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
