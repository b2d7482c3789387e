"""The cloth folded crosswise: the cut end is brought over, so that the first part lies double.

For pairs that are too wide for cloth folded lengthwise, on cloth that may lie up or down. Pairs are laid on
the doubled part, one after the other as on a single layer; what is cut once goes round them on the opened
cloth. Such a lay is never shorter than the best single layer: it saves cuts, not cloth.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from shapely.geometry import Polygon

from clothwise.errors import LayError
from clothwise.lay.cloth import Outline
from clothwise.lay.layering import crosswise
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.tolerance import LAY_FOLD

SinglePlan = Callable[[LayProblem], LayPlan]  # plans a problem in a single layer


def crosswise_plan(problem: LayProblem, single: SinglePlan, line: float | None = None) -> LayPlan:
    """The lay on crosswise folded cloth, not yet verified.

    line    where the fold lies already, because something is pinned to it [cm]; None: just behind the pairs
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
        replace(
            problem,
            pieces=tuple(_one_of_each_pair(piece) for piece in doubled),
            cloth=replace(problem.cloth, length=None, flaws=tuple(_taken(problem, line))),
            pinned=tuple(_on_the_flap(problem, line)),
        )
    )
    needed = upper.length + problem.gap / 2
    line = needed if line is None else line
    before = [one for one in upper.placements if _end(one, problem) + problem.gap / 2 <= line + LAY_FOLD]
    if not before:
        raise LayError(
            f"The pairs take {needed:.1f} cm and the fold is pinned at {line:.1f} cm.",
            where="lay: pinned, folded crosswise",
            mend="Free what is pinned, or lay the cloth in another way.",
        )
    pairs = tuple(copy for one in before for copy in _both(one, line, problem))  # the others are cut one by one
    held = {(one.piece, one.copy): one for one in (*pairs, *problem.pinned)}
    opened = single(
        replace(
            problem,
            cloth=replace(problem.cloth, length=None),
            pinned=tuple(
                replace(one, how="single", fold=None) if one.how == "double" else one for one in held.values()
            ),
        )
    )
    placements = tuple(held.get((one.piece, one.copy), one) for one in opened.placements)
    return LayPlan(problem, crosswise(line), placements, opened.length)


def permitted(problem: LayProblem) -> bool:
    """Is a crosswise fold worth a try: may this cloth be folded so, and does something lie double on it?"""
    plain = not _refusal(problem) and not problem.pinned
    return plain and any(_pairs(piece, problem) for piece in problem.pieces)


def _check(problem: LayProblem) -> None:
    refusal = _refusal(problem)
    if refusal:
        raise LayError(refusal[0], where="lay: layering", mend=refusal[1])


def _refusal(problem: LayProblem) -> tuple[str, str] | None:
    """Why this cloth is not folded crosswise, and what to do instead."""
    cloth = problem.cloth
    if cloth.nap == "one-way":
        return (
            "On crosswise folded cloth the under layer would point the other way.",
            "Fold a cloth with one way lengthwise, or cut the length in two and turn one half round.",
        )
    if cloth.outline is not None or cloth.flaws or cloth.repeat is not None:
        return (
            "A crosswise fold is planned for straight plain cloth only.",
            "Fold it lengthwise or lay it in a single layer.",
        )
    return None


def _pairs(piece: LayPiece, problem: LayProblem) -> int:
    """How many pairs of a piece go through both layers; the under one points the other way."""
    either = piece.either_side_up or problem.cloth.two_right_sides
    if piece.on_fold or piece.apart or not piece.may_turn_on(problem.cloth):
        return 0
    return piece.count // 2 if piece.mirrored_pair or either else 0


def _one_of_each_pair(piece: LayPiece) -> LayPiece:
    return replace(piece, count=piece.count // 2, mirrored_pair=False, either_side_up=True)


def _both(one: Placement, line: float, problem: LayProblem) -> tuple[Placement, Placement]:
    """The copy on the upper layer and its mirror image below; the one that is not turned over comes first."""
    upper = replace(one, how="double", fold=0)
    under = replace(upper, mirrored=not one.mirrored, angle=(180 - one.angle) % 360, dx=2 * line - one.dx)
    drawn, over = (under, upper) if one.mirrored else (upper, under)
    return replace(drawn, copy=2 * one.copy), replace(over, copy=2 * one.copy + 1)


# ---- what is pinned ----------------------------------------------------------------------------------


def _on_the_flap(problem: LayProblem, line: float | None) -> Iterator[Placement]:
    """Of each pinned pair the copy before the fold, as a copy of its own."""
    for pin in problem.pinned:
        if pin.how == "double":
            middle = Polygon(pin.carry(_piece(pin, problem).outline)).centroid.x
            if line is not None and middle < line:
                yield replace(pin, copy=pin.copy // 2, how="single", fold=None)


def _taken(problem: LayProblem, line: float | None) -> Iterator[Outline]:
    """Where single copies are pinned, with the blade's gap: on the flap, and on what lies under it."""
    for pin in problem.pinned:
        if pin.how != "double" and line is not None:
            laid = Polygon(pin.outline_on_cloth(_piece(pin, problem))).buffer(problem.gap, join_style="mitre")
            for points in (
                laid.exterior.coords[:-1],
                [(2 * line - x, y) for x, y in laid.exterior.coords[:-1]],
            ):
                if max(x for x, _ in points) > 0:
                    yield tuple(points)


def _end(one: Placement, problem: LayProblem) -> float:
    """How far along the cloth it reaches. [cm]"""
    return max(x for x, _ in one.carry(_piece(one, problem).outline))


def _piece(one: Placement, problem: LayProblem) -> LayPiece:
    return next(piece for piece in problem.pieces if piece.name == one.piece)
