"""Whether a make goes onto a cloth: bounds that can only rule out what no lay can hold, then a real lay.

    area    the pieces, allowances included, cover more than the cloth
    width   a piece is wider than the cloth at every angle its grain and the nap allow
    length  a piece is longer than the cloth, likewise

Each bound is a proof (tests hold them against the lay itself); only what passes all of them is laid.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal

from clothwise.cloth import Cloth
from clothwise.errors import WorkroomError
from clothwise.lay.cloth import LayCloth
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.ticket.made import BLADE_GAP, lay_cloth
from clothwise.tolerance import LAY_FOLD

FIT = "fit"  # effort: the first lay that goes onto the cloth, no shorter one is sought
SHORT = "quick"  # effort: the shortest found in some tens of milliseconds
Planner = Callable[[LayProblem, str], LayPlan]
# A verified lay, found with an effort: with FIT on the cloth as it is, LayError when none was found; else the
# shortest for a cloth's width whatever its length, LayError when a piece is too wide.

TooMuch = Literal["", "area", "width", "length"]


def rules_out(pieces: Sequence[LayPiece], cloth: Cloth) -> TooMuch:
    """What proves that the pieces do not go onto the cloth; nothing when only a lay can tell."""
    if sum(piece.area_cm2 for piece in pieces) > cloth.usable_area_cm2:
        return "area"
    laid = lay_cloth(cloth)
    for piece in pieces:
        spans = spans_of(piece, laid)
        if spans and all(across > laid.width + LAY_FOLD for _, across in spans):
            return "width"
        if spans and all(
            across > laid.width + LAY_FOLD or along > cloth.usable_length + LAY_FOLD for along, across in spans
        ):
            return "length"
    return ""


def spans_of(piece: LayPiece, cloth: LayCloth) -> tuple[tuple[float, float], ...]:
    """Along and across the cloth at each angle that the piece may lie, opened out when on the fold. [cm]"""
    spans = []
    for angle in {angle % 180 for angle in piece.angles_on(cloth)}:
        laid = Placement(piece.name, 0, False, angle, 0.0, 0.0).carry(piece.whole_outline)
        xs, ys = [x for x, _ in laid], [y for _, y in laid]
        spans.append((max(xs) - min(xs), max(ys) - min(ys)))
    return tuple(spans)


def goes_onto(pieces: Sequence[LayPiece], cloth: Cloth, planner: Planner) -> LayPlan | None:
    """A verified lay on this cloth, or None where the bounds rule it out or none was found."""
    if rules_out(pieces, cloth):
        return None
    try:
        plan = planner(LayProblem(tuple(pieces), lay_cloth(cloth), gap=BLADE_GAP), FIT)
    except WorkroomError:  # none found: the sentence is made where it is refused
        return None
    return plan if plan.length <= cloth.usable_length else None


def shortest_of(plan: LayPlan, cloth: Cloth, planner: Planner) -> LayPlan:
    """The lay found with more care, that also wants few cuts, where it goes on; a remnant's lay stays."""
    if cloth.remnant:
        return plan
    other = planner(plan.problem, SHORT)
    return other if other.length <= cloth.usable_length else plan
