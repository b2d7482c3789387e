"""Pieces on a strip of paper as short as the lay search makes it: a roll is a cloth without grain or nap."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Polygon

from clothwise.curve import Point
from clothwise.errors import LayError
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import best_plan
from clothwise.lay.problem import SINGLE, LayCloth, LayPiece, LayProblem
from clothwise.paper.drawing import Carry, Turn
from clothwise.paper.grid import RIM
from clothwise.paper.plane import APART

QUARTERS: tuple[float, ...] = (0.0, 90.0)  # degrees: on paper a piece may lie along or across, either way up
THINNED = 0.05  # cm: half of RIM and a sixth of the gap between pieces
TURNS: dict[int, Turn] = {0: 0, 90: 90, 180: 180, 270: 270}


@dataclass(frozen=True, slots=True)
class Strip:
    """How the outlines lie on the strip: x across it, y along it from its lower end. [cm]"""

    carries: tuple[Carry, ...]
    length: float


def on_strip(
    outlines: Sequence[Sequence[Point]], width: float, *, effort: str = "quick", known: NoFits | None = None
) -> Strip | None:
    """The outlines on a strip of that width; None when one is too wide for it however it is turned.

    known  no-fit polygons found before, to be handed in again for another width
    """
    inner = width - 2 * RIM
    pieces = tuple(
        LayPiece(str(i), str(i), _thinned(outline), angles=QUARTERS) for i, outline in enumerate(outlines)
    )
    if inner <= 0:
        return None
    try:
        problem = LayProblem(pieces, LayCloth(inner, None, "none"), gap=APART)
        plan = best_plan(problem, effort=effort, known=known, layerings=(SINGLE,))
    except LayError:
        return None
    carries: list[Carry] = [Carry()] * len(outlines)
    for placement in plan.placements:  # the lay runs along +x; on paper the strip runs upwards
        turn = TURNS[round(placement.angle) % 360]
        carries[int(placement.piece)] = Carry(turn, inner + RIM - placement.dy, placement.dx + RIM)
    return Strip(tuple(carries), math.ceil((plan.length + 2 * RIM) * 100) / 100)


def _thinned(outline: Sequence[Point]) -> tuple[tuple[float, float], ...]:
    """With no more points than the gap between pieces can hide."""
    return tuple(Polygon(outline).simplify(THINNED).exterior.coords[:-1])
