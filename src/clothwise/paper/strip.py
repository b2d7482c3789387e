"""Pieces on a strip of paper as short as the lay search makes it: a roll is a cloth without grain or nap."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.curve import Point
from clothwise.errors import LayError
from clothwise.lay.planning import best_plan
from clothwise.lay.problem import SINGLE, LayCloth, LayPiece, LayProblem
from clothwise.paper.drawing import Carry, Turn
from clothwise.paper.grid import RIM
from clothwise.paper.plane import APART

QUARTERS: tuple[float, ...] = (0.0, 90.0)  # degrees: on paper a piece may lie along or across, either way up
TURNS: dict[int, Turn] = {0: 0, 90: 90, 180: 180, 270: 270}


@dataclass(frozen=True, slots=True)
class Strip:
    """How the outlines lie on the strip: x across it, y along it from its lower end. [cm]"""

    carries: tuple[Carry, ...]
    length: float


def on_strip(outlines: Sequence[Sequence[Point]], width: float, *, effort: str = "quick") -> Strip | None:
    """The outlines on a strip of that width; None when one is too wide for it however it is turned."""
    inner = width - 2 * RIM
    pieces = tuple(
        LayPiece(str(i), str(i), tuple((p.x, p.y) for p in outline), angles=QUARTERS)
        for i, outline in enumerate(outlines)
    )
    if inner <= 0:
        return None
    try:
        plan = best_plan(
            LayProblem(pieces, LayCloth(inner, None, "none"), gap=APART), effort=effort, layerings=(SINGLE,)
        )
    except LayError:
        return None
    carries: list[Carry] = [Carry()] * len(outlines)
    for placement in plan.placements:  # the lay runs along +x; on paper the strip runs upwards
        turn = TURNS[round(placement.angle) % 360]
        carries[int(placement.piece)] = Carry(turn, inner + RIM - placement.dy, placement.dx + RIM)
    return Strip(tuple(carries), math.ceil((plan.length + 2 * RIM) * 100) / 100)
