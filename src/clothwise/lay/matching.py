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
    x = y = ANYWHERE
    if repeat.along and phase.along is not None:
        x = Grid((repeat.bar or 0.0) + along * phase.along, repeat.along)
    if repeat.across and phase.across is not None:
        v = phase.across
        if mirrored and not repeat.even:  # the one point that is matched lies on the other side of the origin
            v -= 2 * next(m for m in piece.match if m.across).at[0]
        y = Grid((repeat.stripe or 0.0) + across * v, repeat.across)
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
    alongs = _alongs(problem, _together(matched, ALONG)) if repeat.along else [(repeat.bar, {})]
    acrosses = (
        _acrosses(problem, layering, _together(matched, ACROSS)) if repeat.across else [(repeat.stripe, {})]
    )
    found: list[LayProblem] = []
    for (bar, us), (stripe, vs) in product(alongs, acrosses):
        phases = tuple(Phase(p.name, us.get(p.name), vs.get(p.name)) for p in matched)
        cloth = replace(problem.cloth, repeat=replace(repeat, bar=bar, stripe=stripe))
        found.append(replace(problem, cloth=cloth, phases=phases))
    return tuple(found)


# ---- what hangs together ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Together:
    """Pieces that must keep step in one direction, each with its phase beside that of the first. [cm]"""

    pieces: tuple[LayPiece, ...]
    offset: dict[str, float]


def _together(matched: Sequence[LayPiece], axis: int) -> list[Together]:
    """Pieces that share match groups in this direction, directly or through others."""
    rest, found = [p for p in matched if _groups(p, axis)], []
    while rest:
        one = [rest.pop(0)]
        names = _groups(one[0], axis)
        while more := [p for p in rest if names & _groups(p, axis)]:
            rest = [p for p in rest if p not in more]
            one += more
            names |= {name for p in more for name in _groups(p, axis)}
        found.append(one)
    return [Together(tuple(one), _offsets(one, axis)) for one in found]


def _groups(piece: LayPiece, axis: int) -> set[str]:
    return {m.group for m in piece.match if m.on(axis)}


def _offsets(group: Sequence[LayPiece], axis: int) -> dict[str, float]:
    """Each piece's own phase beside that of the first, so that all its points match. [cm]

    Along, a point's phase is U + y; across, it is V - x (at angle 0 a piece's x runs down across the cloth).
    """
    sign = 1.0 if axis == ALONG else -1.0
    found: dict[str, float] = {}
    points: dict[str, float] = {}
    waiting = list(group)
    while waiting:
        piece = next((p for p in waiting if _groups(p, axis) & points.keys()), waiting[0])
        waiting.remove(piece)
        held = next((m for m in piece.match if m.on(axis) and m.group in points), None)
        found[piece.name] = points[held.group] - sign * held.at[axis] if held else 0.0
        for m in piece.match:
            if m.on(axis):
                points.setdefault(m.group, found[piece.name] + sign * m.at[axis])
    return found


# ---- phases worth trying ---------------------------------------------------------------------------

Choice = tuple[float | None, dict[str, float]]  # where a bar (a stripe) lies, and the phase of each piece


def _alongs(problem: LayProblem, groups: list[Together]) -> list[Choice]:
    """Phases with which some piece begins right at the cut end; the longest pieces first."""
    repeat = problem.cloth.repeat
    assert repeat is not None
    if not groups:
        return [(repeat.bar, {})]
    turnable = repeat.bar is None and any(p.may_turn_on(problem.cloth) for g in groups for p in g.pieces)
    found: list[Choice] = []
    for k in range(MOST_ALONG):
        which = k // 2 if turnable else k
        low, high = _span(_ranked(groups[0], ALONG, which), ALONG)
        bar = repeat.bar or 0.0
        if turnable:  # upside down it begins at the cut end too when a bar lies half its length away from there
            bar = ((high - low) / 2 + (k % 2) * repeat.along / 2) % repeat.along
        us: dict[str, float] = {}
        for group in groups:
            first = _ranked(group, ALONG, which)
            us |= _shifted(group, first, -_span(first, ALONG)[0] - bar)
        found.append((bar, us))
    return _different(found, repeat.along)


def _acrosses(problem: LayProblem, layering: Layering, groups: list[Together]) -> list[Choice]:
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
    for k in range(2 * len(stripes) + 1):
        stripe = stripes[k % len(stripes)]
        which = k // len(stripes)
        vs: dict[str, float] = {}
        for group in groups:
            half = next((p for p in group.pieces if p.on_fold and repeat.even), None)
            if half is not None:  # the line it is folded on lies on a stripe or midway: both sides look alike
                middle = folds[0].line - stripe if folds else which % 2 * repeat.across / 2
                vs |= _shifted(group, half, middle + half.fold_x)
            else:
                first = _ranked(group, ACROSS, which)
                vs |= _shifted(group, first, _span(first, ACROSS)[1] - stripe)
        found.append((stripe, vs))
    return _different(found, repeat.across)[:MOST_ACROSS]


def _shifted(group: Together, piece: LayPiece, phase: float) -> dict[str, float]:
    """The phases of all when this piece has this one."""
    return {name: phase + offset - group.offset[piece.name] for name, offset in group.offset.items()}


def _ranked(group: Together, axis: int, k: int) -> LayPiece:
    """The k-th longest in this direction, beginning again after the last."""
    order = sorted(group.pieces, key=lambda p: _span(p, axis)[0] - _span(p, axis)[1])
    return order[k % len(order)]


def _span(piece: LayPiece, axis: int) -> tuple[float, float]:
    values = [point[axis] for point in piece.whole_outline]
    return min(values), max(values)


def _different(choices: list[Choice], step: float) -> list[Choice]:
    """Without those that are the same modulo the repeat."""
    kept: list[Choice] = []
    for one in choices:
        if not any(_same(one, other, step) for other in kept):
            kept.append(one)
    return kept


def _same(one: Choice, other: Choice, step: float) -> bool:
    pairs = [(one[0] or 0.0, other[0] or 0.0), *((one[1][name], other[1][name]) for name in one[1])]
    return all(abs(math.remainder(a - b, step)) < LAY_FOLD for a, b in pairs)


# ---- what cannot be matched ------------------------------------------------------------------------


def _check_folds(problem: LayProblem, layering: Layering, matched: Sequence[LayPiece]) -> None:
    """The stripes must look alike on both layers."""
    cloth = problem.cloth
    repeat = cloth.repeat
    assert repeat is not None
    _check_uneven(cloth, matched)
    for step, axis in ((repeat.along, ALONG), (repeat.across, ACROSS)):
        if step:
            _check_step(matched, step, axis)
    doubled = [p for p in matched if p.on_fold or p.count > 1]
    folds = folds_of(layering, cloth.width)
    if not folds or not doubled:
        return
    if any(fold.across for fold in folds) and repeat.along:
        raise LayError(
            "Bars do not meet when the cloth is folded crosswise.",
            where="layering",
            mend="Fold it lengthwise, or lay it in a single layer.",
        )
    if not repeat.across or not any(m.across for p in doubled for m in p.match):
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


def _check_step(matched: Sequence[LayPiece], step: float, axis: int) -> None:
    """All points of a group must be able to keep step at once."""
    sign = 1.0 if axis == ALONG else -1.0
    for group in _together(matched, axis):
        held: dict[str, tuple[LayPiece, float]] = {}
        for piece in group.pieces:
            for m in piece.match:
                at = group.offset[piece.name] + sign * m.at[axis]
                other, there = held.setdefault(m.group, (piece, at)) if m.on(axis) else (piece, at)
                off = abs(math.remainder(at - there, step))
                if off > LAY_FOLD:
                    raise LayError(
                        f"'{piece.title}' and '{other.title}' cannot match at '{m.group}' and elsewhere too: "
                        f"they are {off:.1f} cm out of step.",
                        where="lay: match points",
                        mend=f"Leave one of them out, or move a seam by {off:.1f} cm.",
                    )


def _check_uneven(cloth: LayCloth, matched: Sequence[LayPiece]) -> None:
    repeat = cloth.repeat
    assert repeat is not None
    if repeat.even or not repeat.across:
        return
    for piece in matched:
        across = {round(m.at[0] % repeat.across, 2) for m in piece.match if m.across}
        if piece.mirrored_pair and len(across) > 1:
            raise LayError(
                f"Left and right of '{piece.title}' cannot both match uneven stripes at two points.",
                where="lay: match points",
                mend="Match one point only.",
            )
