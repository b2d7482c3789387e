"""Which ways to lay the cloth are worth a search: the pieces ask for them by their own widths.

No folded lay is shorter than the best single layer, but it takes fewer cuts and keeps left and right alike.
A partial fold just as deep as what lies double on it leaves the rest of the width for single pieces; a fold
across the cloth takes pairs that are wider than half of it.
"""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.lay.cloth import LayCloth
from clothwise.lay.crosswise import permitted
from clothwise.lay.layering import ACROSS, FOLDED, SINGLE, TO_CENTRE, Layering, folds_of, partial_fold
from clothwise.lay.piece import LayPiece
from clothwise.lay.problem import LayProblem
from clothwise.tolerance import LAY_FOLD

MOST_PARTIAL = 4  # partial folds searched: each costs as much as any other layering
ALL_BUT_HALF = 0.97  # a fold deeper than this share of half the width is a fold down the middle
LEAST_DEEP = 5.0  # cm: a narrower fold slips (house rule, 2026-11)


def layerings_for(problem: LayProblem) -> tuple[Layering, ...]:
    """Ways to lay the cloth for these pieces, the plain ones first; the single layer always among them."""
    cloth = problem.cloth
    doubled = [piece for piece in problem.pieces if _lies_double(piece, cloth)]
    if not doubled:
        return (SINGLE,)
    whole = [SINGLE, FOLDED, TO_CENTRE]
    if _striped(problem):
        whole = [SINGLE, *(_on_a_stripe(one, cloth) for one in (FOLDED, TO_CENTRE))]
    partial = [_on_a_stripe(one, cloth) if _striped(problem) else one for one in _partial(problem, doubled)]
    across = [ACROSS] if permitted(problem) else []
    ways = dict.fromkeys((*whole, *partial, *across))  # each once, in this order
    return tuple(ways)


def _lies_double(piece: LayPiece, cloth: LayCloth) -> bool:
    either = (piece.either_side_up or cloth.two_right_sides) and piece.count > 1
    return piece.on_fold or ((piece.mirrored_pair or either) and not piece.apart)


def _partial(problem: LayProblem, doubled: list[LayPiece]) -> list[Layering]:
    """Folds as deep as the widest halves and pairs, alone, side by side, or one at each selvedge."""
    cloth, gap = problem.cloth, problem.gap
    halves = sorted({_width(p) for p in doubled if p.on_fold}, reverse=True)
    pairs = sorted({_width(p) + gap for p in doubled if not p.on_fold}, reverse=True)
    depths = [halves[0] if halves else pairs[0]]
    if halves and pairs:
        depths.append(max(halves[0], pairs[0]))
    if len(pairs) > 1:
        depths.append(sum(pairs[:2]))
    if halves and pairs:
        depths.append(halves[0] + pairs[0])
    near = [partial_fold(d + gap / 2) for d in depths if d + gap / 2 >= LEAST_DEEP]
    both = []
    if len([p for p in doubled if p.on_fold]) > 1:  # two halves lie at one place along the cloth, a fold each
        second = halves[1] if len(halves) > 1 else halves[0]
        both.append(partial_fold(halves[0] + gap / 2, second + gap / 2))
    elif halves and pairs:
        both.append(partial_fold(halves[0] + gap / 2, pairs[0] + gap / 2))
    far = []
    if cloth.outline is not None or cloth.flaws:  # the two selvedges are not alike
        far = [partial_fold(far=one.depth) for one in near[:2]]
    ways = [one for one in (*both, *near, *far) if _can_be_folded(one, cloth.width)]
    return ways[:MOST_PARTIAL]


def _can_be_folded(one: Layering, width: float) -> bool:
    deep = (one.depth or 0.0) + (one.far or 0.0)
    return deep <= width / 2 * ALL_BUT_HALF


def _width(piece: LayPiece) -> float:
    """Across the cloth, laid with the grain. [cm]"""
    xs = [x for x, _ in piece.outline]
    return max(xs) - min(xs)


# ---- among stripes ---------------------------------------------------------------------------------


def _striped(problem: LayProblem) -> bool:
    """Must folds lie on a stripe?"""
    repeat = problem.cloth.repeat
    matched = any(m.across for piece in problem.pieces for m in piece.match)
    return repeat is not None and bool(repeat.across) and matched


def _on_a_stripe(layering: Layering, cloth: LayCloth) -> Layering:
    """The same fold moved onto a stripe, or the middle between two: deeper, but never beyond half the width."""
    half = cloth.width / 2
    if (
        cloth.repeat is not None and cloth.repeat.stripe is None
    ):  # not measured: the first fold is to lie on one
        stripe = folds_of(layering, cloth.width)[0].line
        cloth = replace(cloth, repeat=replace(cloth.repeat, stripe=stripe))
    if layering == FOLDED:
        depth = _snapped(half, cloth, up=False)
        return FOLDED if half - depth < LAY_FOLD else partial_fold(depth)
    if layering == TO_CENTRE:
        near, far = half / 2, half / 2
        up = False
    else:
        near, far, up = layering.depth or 0.0, layering.far or 0.0, True
    deep = _snapped(near, cloth, up=up) if near else None
    back = cloth.width - _snapped(cloth.width - far, cloth, up=not up) if far else None
    if (deep or 0.0) + (back or 0.0) > half + LAY_FOLD:
        return layering
    return layering if layering == TO_CENTRE and deep == back == half / 2 else partial_fold(deep, back)


def _snapped(line: float, cloth: LayCloth, *, up: bool) -> float:
    repeat = cloth.repeat
    assert repeat is not None
    assert repeat.stripe is not None
    half = repeat.across / 2
    steps = (line - repeat.stripe) / half
    near = round(steps)
    if abs(steps - near) * half < LAY_FOLD:
        return line
    return repeat.stripe + (math.ceil(steps) if up else math.floor(steps)) * half
