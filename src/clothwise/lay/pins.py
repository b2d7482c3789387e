"""Pieces laid by hand: may this one lie here? And the rest planned around those that stay.

The sewer drags a piece on the cloth; the check answers while she drags. It is the independent verifier's own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.errors import LayError
from clothwise.lay.layering import Layering, folds_of
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.lay.verify import placement_faults, unfinished_faults


def check_placement(
    problem: LayProblem, layering: Layering, placed: Sequence[Placement], one: Placement
) -> tuple[str, ...]:
    """Why `one` may not lie where it is, beside those `placed`; empty when it may. A few milliseconds."""
    others = [p for p in placed if (p.piece, p.copy) != (one.piece, one.copy)]
    lay = LayPlan(replace(problem, pinned=()), layering, (*others, one), 0.0)
    return placement_faults(lay, len(others))


def twin(one: Placement, layering: Layering, width: float) -> Placement:
    """The other copy of what is cut through both layers: its mirror image in the fold.

    Raises  LayError when there is no such fold
    """
    folds = folds_of(layering, width)
    if one.how != "double" or one.fold is None or not 0 <= one.fold < len(folds):
        raise LayError(
            f"'{one.piece}' does not lie on a fold of this layering.",
            where="lay: pinned",
            mend="Lay it where the cloth is double, or cut it through one layer.",
        )
    fold = folds[one.fold]
    other = replace(one, copy=one.copy ^ 1, mirrored=not one.mirrored)
    if fold.across:
        return replace(other, angle=(180 - one.angle) % 360, dx=2 * fold.line - one.dx)
    return replace(other, angle=-one.angle % 360, dy=2 * fold.line - one.dy)


def check_pins(problem: LayProblem, layering: Layering) -> None:
    """Raise LayError, with the reason, unless all that is pinned may lie so in this layering."""
    if not problem.pinned:
        return
    wrong = unfinished_faults(LayPlan(replace(problem, pinned=()), layering, problem.pinned, 0.0))
    pieces = {piece.name: piece for piece in problem.pieces}
    for pin in problem.pinned:
        piece = pieces[pin.piece]
        if piece.either_side_up or piece.on_fold or problem.cloth.two_right_sides:
            continue
        if pin.mirrored != (piece.mirrored_pair and pin.copy % 2 == 1):
            wrong = (*wrong, f"'{piece.title}', copy {pin.copy + 1}, lies with the wrong side up.")
    if wrong:
        raise LayError(
            f"What is pinned cannot stay: {wrong[0]}",
            where=f"lay: pinned, {layering}",
            mend="Move or free that piece, or lay the cloth in another way.",
        )
