"""A lay in a single layer as a plain strip to be packed, for a general strip packer; and its answer as a lay.

The packer knows nothing of grain, folds, flaws or the blade: outlines go to it grown by half the blade's gap,
turned as the grain allows, left and right as two kinds. What comes back is only a proposal: it is put right,
pressed together and verified like any other lay.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from clothwise.lay.barriers import barriers
from clothwise.lay.compact import press
from clothwise.lay.kernel import Seed, separate
from clothwise.lay.layering import SINGLE
from clothwise.lay.moves import set_out
from clothwise.lay.nofit import SCALE, NoFits
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.placing import is_apart, lay_of, plan_of
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.lay.search import SEED, Effort

ROOM = 1.00001  # the strip is so much wider: packers stumble over a piece exactly as tall as the strip
FINE = 0.01  # cm: outlines may be thinned outwards by so much
NEAR = 0.1  # cm: a proposal may stand so far off the places that are allowed
LOOSER = 1.0005  # so much longer a proposal may become when its last overlaps are cleared


@dataclass(frozen=True, slots=True)
class Kind:
    """One outline for the packer: x along the cloth, y across. [cm, degrees]"""

    name: str
    piece: str
    mirrored: bool
    outline: tuple[tuple[float, float], ...]
    count: int
    turns: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Packed:
    """Where one copy of a kind is proposed: turned about the origin, then moved."""

    kind: str
    turn: float
    x: float
    y: float


def packable(problem: LayProblem) -> bool:
    """Can a strip packer play? Not round flaws, remnants, pinned pieces or stripes."""
    return not problem.phases and not problem.cloth.repeat and not problem.pinned and not barriers(problem)


def strip_height(problem: LayProblem) -> float:
    """Of the strip that the packer fills. [cm]"""
    return (problem.cloth.width + problem.gap) * ROOM


def kinds(problem: LayProblem, known: NoFits) -> tuple[Kind, ...]:
    """All outlines to be packed."""
    found = []
    for piece in problem.pieces:
        for mirrored, count in ((False, piece.count - _turned_over(piece)), (True, _turned_over(piece))):
            if count:
                flat = Placement(piece.name, 0, mirrored, 0.0, 0.0, 0.0).carry(piece.whole_outline)
                points = known.outline(flat, problem.gap, FINE) / SCALE
                outline = tuple((float(x), float(y)) for x, y in points)
                turns = tuple(-a % 360 if mirrored else a for a in piece.angles_on(problem.cloth))
                name = f"{piece.name} {'turned over' if mirrored else 'as drawn'}"
                found.append(Kind(name, piece.name, mirrored, outline, count, turns))
    return tuple(found)


def _turned_over(piece: LayPiece) -> int:
    return piece.count // 2 if piece.mirrored_pair else 0


def proposed(
    problem: LayProblem, kinds_asked: Sequence[Kind], packed: Sequence[Packed], known: NoFits, effort: Effort
) -> LayPlan | None:
    """The proposal put right and pressed together, not yet verified; None when it is no lay of these pieces."""
    by_name = {kind.name: kind for kind in kinds_asked}
    pieces = {piece.name: piece for piece in problem.pieces}
    copies = {kind.name: _copies(pieces[kind.piece], kind.mirrored) for kind in kinds_asked}
    placements = []
    for one in packed:
        kind = by_name[one.kind]
        if not copies[kind.name]:
            return None
        placements.append(
            Placement(
                kind.piece,
                copies[kind.name].pop(0),
                kind.mirrored,
                one.turn % 360,
                one.x - problem.gap / 2,
                one.y - problem.gap / 2,
                "unfolded" if pieces[kind.piece].on_fold else "single",
            )
        )
    setting = set_out(problem, SINGLE, known, slack=effort.slack)
    lay = lay_of(setting, LayPlan(problem, SINGLE, tuple(placements), 0.0), near=NEAR)
    if lay is None:
        return None
    t, n = setting.tables, len(lay.chosen)
    budget = np.array([effort.tries], np.int64)
    seed: Seed = np.array([SEED], np.uint64)
    if not is_apart(setting, lay):
        weights = np.ones((n, n))
        separate(
            t,
            lay.length * LOOSER,
            lay.places,
            lay.chosen,
            weights,
            effort.samples,
            effort.patience,
            budget,
            seed,
        )
        if not is_apart(setting, lay):
            return None
    lay.length = press(t, lay.places, lay.chosen, rounds=effort.rounds)
    return plan_of(setting, lay)


def _copies(piece: LayPiece, mirrored: bool) -> list[int]:
    if not piece.mirrored_pair:
        return list(range(piece.count))
    return [copy for copy in range(piece.count) if (copy % 2 == 1) == mirrored]
