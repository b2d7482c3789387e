"""The cloth folded crosswise: the cut end is brought over, so that the first part lies double.

For pairs that are too wide for cloth folded lengthwise, on cloth that may lie up or down. Pairs are laid on
the doubled part, one after the other as on a single layer; what is cut once lies behind it, on the rest.
Such a lay is never shorter than the best single layer: it saves cuts, not cloth.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from clothwise.errors import LayError
from clothwise.lay.cloth import LayCloth
from clothwise.lay.layering import crosswise
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem

SinglePlan = Callable[[LayProblem], LayPlan]  # plans a problem in a single layer


def crosswise_plan(problem: LayProblem, single: SinglePlan) -> LayPlan:
    """The lay on crosswise folded cloth, not yet verified.

    Raises  LayError when the cloth or the pieces do not permit it
    """
    _check(problem)
    doubled = [piece for piece in problem.pieces if _pairs(piece, problem)]
    if not doubled:
        raise LayError(
            "No piece lies double on crosswise folded cloth.",
            where="lay: layering",
            mend="Lay it in a single layer.",
        )
    upper = single(
        replace(problem, pieces=tuple(_one_of_each_pair(piece) for piece in doubled), cloth=_endless(problem))
    )
    line = upper.length + problem.gap / 2
    pairs = [copy for one in upper.placements for copy in _both(one, line, problem)]
    rest = tuple(_what_is_left(problem.pieces, problem))
    length = max(x for p in pairs for x, _ in p.carry(_piece(p, problem).outline))
    singles: list[Placement] = []
    if rest:
        behind = single(replace(problem, pieces=rest, cloth=_endless(problem)))
        start = 2 * line + problem.gap
        length = start + behind.length
        singles = [replace(one, dx=one.dx + start, copy=_last_copy(one, problem)) for one in behind.placements]
    return LayPlan(problem, crosswise(line), (*pairs, *singles), length)


def _check(problem: LayProblem) -> None:
    cloth = problem.cloth
    if cloth.nap == "one-way":
        raise LayError(
            "On crosswise folded cloth the under layer would point the other way.",
            where="lay: layering",
            mend="Fold a cloth with one way lengthwise, or cut the length in two and turn one half round.",
        )
    if cloth.outline is not None or cloth.flaws or problem.pinned or cloth.repeat is not None:
        raise LayError(
            "A crosswise fold is planned for straight plain cloth only, with nothing pinned.",
            where="lay: layering",
            mend="Fold it lengthwise or lay it in a single layer.",
        )


def _pairs(piece: LayPiece, problem: LayProblem) -> int:
    """How many pairs of a piece go through both layers; the under one points the other way."""
    either = piece.either_side_up or problem.cloth.two_right_sides
    if piece.on_fold or piece.apart or not piece.may_turn_on(problem.cloth):
        return 0
    return piece.count // 2 if piece.mirrored_pair or either else 0


def _one_of_each_pair(piece: LayPiece) -> LayPiece:
    return replace(piece, count=piece.count // 2, mirrored_pair=False, either_side_up=True)


def _what_is_left(pieces: tuple[LayPiece, ...], problem: LayProblem) -> Iterator[LayPiece]:
    for piece in pieces:
        left = piece.count - 2 * _pairs(piece, problem)
        if left:
            yield replace(piece, count=left)


def _endless(problem: LayProblem) -> LayCloth:
    return replace(problem.cloth, length=None)


def _both(one: Placement, line: float, problem: LayProblem) -> tuple[Placement, Placement]:
    """The copy on the upper layer and its mirror image below; the one that is not turned over comes first."""
    upper = replace(one, how="double", fold=0)
    under = replace(upper, mirrored=not one.mirrored, angle=(180 - one.angle) % 360, dx=2 * line - one.dx)
    drawn, over = (under, upper) if one.mirrored else (upper, under)
    return replace(drawn, copy=2 * one.copy), replace(over, copy=2 * one.copy + 1)


def _last_copy(one: Placement, problem: LayProblem) -> int:
    return 2 * _pairs(_piece(one, problem), problem) + one.copy


def _piece(one: Placement, problem: LayProblem) -> LayPiece:
    return next(piece for piece in problem.pieces if piece.name == one.piece)
