"""Stripes and checks: where a piece may lie so that it meets them as its group does.

Every match point is measured in its piece's own direction: from a bar upwards along the grain, from a stripe
to one side. Left and right, and a piece turned upside down, see even stripes alike from their own side; so
the fold of doubled cloth must lie on a stripe or midway between two. Uneven stripes look different from the
other side: then nothing is turned, and matched pieces are cut through one layer.

Letters: U, V phase of a piece's own origin, along and across, in its own direction [cm].
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product

from clothwise.errors import LayError
from clothwise.lay.cloth import LayCloth, Repeat
from clothwise.lay.layering import SINGLE, Layering, folds_of
from clothwise.lay.piece import LayPiece
from clothwise.lay.problem import LayProblem, Phase
from clothwise.tolerance import LAY_FOLD

MOST_ALONG, MOST_ACROSS = 4, 3  # phases tried in each direction: each costs a whole search
ALONG, ACROSS = 1, 0  # index of the coordinate of a match point, in the piece's own axes


@dataclass(frozen=True, slots=True)
class Grid:
    """A coordinate may only be start + k * step. [cm] Step 0: any."""

    start: float = 0.0
    step: float = 0.0


ANYWHERE = Grid()


def grids(problem: LayProblem, piece: LayPiece, angle: float, mirrored: bool) -> tuple[Grid, Grid]:
    """Where a placement's dx and dy may stand. The problem's phases must be settled, see `phased`."""
    repeat = problem.cloth.repeat
    phase = next((p for p in problem.phases if p.piece == piece.name), None)
    if repeat is None or not piece.match or phase is None:
        return ANYWHERE, ANYWHERE
    turned = abs(math.remainder(angle - 180, 360)) < 1
    along, across = _signs(repeat, turned, mirrored)
    v = phase.across
    if mirrored and not repeat.even:  # the one point that is matched lies on the other side of the origin
        v -= 2 * piece.match[0].at[0]
    x = Grid((repeat.bar or 0.0) + along * phase.along, repeat.along) if repeat.along else ANYWHERE
    y = Grid((repeat.stripe or 0.0) + across * v, repeat.across) if repeat.across else ANYWHERE
    return x, y


def _signs(repeat: Repeat, turned: bool, mirrored: bool) -> tuple[float, float]:
    if not repeat.even:
        return 1.0, 1.0
    return (-1.0 if turned else 1.0), (-1.0 if turned != mirrored else 1.0)


def phased(problem: LayProblem, layering: Layering = SINGLE) -> tuple[LayProblem, ...]:
    """The problem with its phases settled, in several ways, best bets first; itself when nothing is matched.

    Raises  LayError when the points contradict each other, or the folds lie badly among the stripes
    """
    repeat = problem.cloth.repeat
    matched = [piece for piece in problem.pieces if piece.match]
    if repeat is None or not matched or problem.phases:
        return (problem,)
    _check_folds(problem, layering, matched)
    groups = _together(matched)
    offsets = [
        {ax: _offsets(group, step, ax) for ax, step in ((ALONG, repeat.along), (ACROSS, repeat.across))}
        for group in groups
    ]
    found: list[LayProblem] = []
    alongs = _alongs(problem, groups, offsets) if repeat.along else [(repeat.bar, [0.0] * len(groups))]
    acrosses = (
        _acrosses(problem, layering, groups, offsets)
        if repeat.across
        else [(repeat.stripe, [0.0] * len(groups))]
    )
    for (bar, us), (stripe, vs) in product(alongs, acrosses):
        phases = tuple(
            Phase(piece.name, us[k] + offsets[k][ALONG][piece.name], vs[k] + offsets[k][ACROSS][piece.name])
            for k, group in enumerate(groups)
            for piece in group
        )
        cloth = replace(problem.cloth, repeat=replace(repeat, bar=bar, stripe=stripe))
        found.append(replace(problem, cloth=cloth, phases=phases))
    return tuple(found)


# ---- what hangs together ---------------------------------------------------------------------------


def _together(matched: Sequence[LayPiece]) -> list[list[LayPiece]]:
    """Pieces that share match groups, directly or through others."""
    rest, found = list(matched), []
    while rest:
        one = [rest.pop(0)]
        names = {m.group for m in one[0].match}
        while True:
            more = [p for p in rest if names & {m.group for m in p.match}]
            if not more:
                break
            rest = [p for p in rest if p not in more]
            one += more
            names |= {m.group for p in more for m in p.match}
        found.append(one)
    return found


def _offsets(group: Sequence[LayPiece], step: float, axis: int) -> dict[str, float]:
    """Each piece's own phase beside that of the first, so that all its points match. [cm]

    Along, a point's phase is U + y; across, it is V - x (at angle 0 a piece's x runs down across the cloth).
    """
    sign = 1.0 if axis == ALONG else -1.0
    found = {group[0].name: 0.0}
    points = {m.group: sign * m.at[axis] for m in group[0].match}
    waiting = list(group[1:])
    while waiting:
        piece = next(p for p in waiting if any(m.group in points for m in p.match))
        waiting.remove(piece)
        held = next(m for m in piece.match if m.group in points)
        found[piece.name] = points[held.group] - sign * held.at[axis]
        for m in piece.match:
            at = found[piece.name] + sign * m.at[axis]
            off = math.remainder(at - points.setdefault(m.group, at), step) if step else 0.0
            if abs(off) > LAY_FOLD:
                raise LayError(
                    f"'{piece.title}' cannot match '{held.group}' and '{m.group}' at once: they are "
                    f"{abs(off):.1f} cm out of step.",
                    where="lay: match points",
                    mend=f"Leave one of them out, or move a seam by {abs(off):.1f} cm.",
                )
    return found


# ---- phases worth trying ---------------------------------------------------------------------------

Choice = tuple[
    float | None, list[float]
]  # where a bar (a stripe) lies, and the phase of each group's first piece
Offsets = list[dict[int, dict[str, float]]]


def _alongs(problem: LayProblem, groups: list[list[LayPiece]], offsets: Offsets) -> list[Choice]:
    """Phases with which some piece begins right at the cut end; the longest pieces first."""
    repeat = problem.cloth.repeat
    assert repeat is not None
    turnable = any(p.may_turn_on(problem.cloth) for group in groups for p in group)
    found: list[Choice] = []
    for k in range(MOST_ALONG):
        piece = _ranked(groups[0], ALONG)[k // 2 % len(groups[0])]
        low, high = _span(piece, ALONG)
        if repeat.bar is not None:
            bar = repeat.bar
        elif (
            turnable
        ):  # upside down it begins at the cut end too when a bar lies half its length away from there
            bar = ((high - low) / 2 + (k % 2) * repeat.along / 2) % repeat.along
        else:
            bar = 0.0
        us = []
        for g, group in enumerate(groups):
            first = _ranked(group, ALONG)[(k // 2 if repeat.bar is None and turnable else k) % len(group)]
            us.append(-_span(first, ALONG)[0] - bar - offsets[g][ALONG][first.name])
        found.append((bar, us))
    return _different(found, repeat.along)


def _acrosses(
    problem: LayProblem, layering: Layering, groups: list[list[LayPiece]], offsets: Offsets
) -> list[Choice]:
    """Phases across: given by the fold for what is drawn as a half, else a piece begins at the selvedge."""
    repeat, width = problem.cloth.repeat, problem.cloth.width
    assert repeat is not None
    folds = folds_of(layering, width)
    if repeat.stripe is not None:
        stripes = [repeat.stripe]
    else:  # most cloths are the same on both sides of their middle: a stripe lies there, or a space
        middle = folds[0].line if folds else width / 2
        stripes = [middle % repeat.across, (middle + repeat.across / 2) % repeat.across]
    found: list[Choice] = []
    for k in range(MOST_ACROSS + 1):
        stripe = stripes[k % len(stripes)]
        vs = []
        for g, group in enumerate(groups):
            halves = [p for p in group if p.on_fold] if repeat.even else []
            if halves:  # the line it is folded on lies on a stripe or midway, so that both sides look alike
                half = halves[0]
                middle = (folds[0].line - stripe) if folds else (k // 2 % 2) * repeat.across / 2
                vs.append(middle + half.fold_x - offsets[g][ACROSS][half.name])
            else:
                first = _ranked(group, ACROSS)[k // len(stripes) % len(group)]
                vs.append(_span(first, ACROSS)[1] - stripe - offsets[g][ACROSS][first.name])
        found.append((stripe, vs))
    return _different(found, repeat.across)[:MOST_ACROSS]


def _ranked(group: Sequence[LayPiece], axis: int) -> list[LayPiece]:
    return sorted(group, key=lambda p: -(_span(p, axis)[1] - _span(p, axis)[0]))


def _span(piece: LayPiece, axis: int) -> tuple[float, float]:
    values = [point[axis] for point in piece.whole_outline]
    return min(values), max(values)


def _different(choices: list[Choice], step: float) -> list[Choice]:
    """Without those that are the same modulo the repeat."""
    kept: list[Choice] = []
    for one in choices:
        values = [one[0] or 0.0, *one[1]]
        if not any(
            all(
                abs(math.remainder(a - b, step)) < LAY_FOLD
                for a, b in zip(values, [other[0] or 0.0, *other[1]], strict=True)
            )
            for other in kept
        ):
            kept.append(one)
    return kept


# ---- what cannot be matched ------------------------------------------------------------------------


def _check_folds(problem: LayProblem, layering: Layering, matched: Sequence[LayPiece]) -> None:
    """The stripes must look alike on both layers."""
    cloth = problem.cloth
    repeat = cloth.repeat
    assert repeat is not None
    _check_uneven(cloth, matched)
    doubled = [p for p in matched if p.on_fold or p.mirrored_pair or p.count > 1]
    folds = folds_of(layering, cloth.width)
    if not folds or not doubled:
        return
    if any(fold.across for fold in folds) and repeat.along:
        raise LayError(
            "Bars do not meet when the cloth is folded crosswise.",
            where="layering",
            mend="Fold it lengthwise, or lay it in a single layer.",
        )
    if not repeat.across:
        return
    if not repeat.even:
        raise LayError(
            "Uneven stripes run the wrong way on the under layer of folded cloth.",
            where="layering",
            mend="Lay it in a single layer and turn the paper over for the second piece.",
        )
    stripe = folds[0].line if repeat.stripe is None else repeat.stripe
    for fold in folds:
        off = math.remainder(2 * (fold.line - stripe), repeat.across) / 2
        if abs(off) > LAY_FOLD:
            raise LayError(
                f"The fold at {fold.line:.1f} cm lies {abs(off):.1f} cm off the middle of a stripe or space.",
                where="layering",
                mend="Fold on a stripe, or lay the cloth in a single layer.",
            )


def _check_uneven(cloth: LayCloth, matched: Sequence[LayPiece]) -> None:
    repeat = cloth.repeat
    assert repeat is not None
    if repeat.even or not repeat.across:
        return
    for piece in matched:
        across = {round(m.at[0] % repeat.across, 2) for m in piece.match}
        if piece.mirrored_pair and len(across) > 1:
            raise LayError(
                f"Left and right of '{piece.title}' cannot both match uneven stripes at two points.",
                where="lay: match points",
                mend="Match one point only.",
            )
