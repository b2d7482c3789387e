"""The independent check of stripes and checks: from the points where they lie on the cloth, nothing else.

A copy looks along its own grain and to its own side. Among even stripes a point's phase is how far it lies
from a bar (a stripe) in that direction; among uneven ones how far along the cloth.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from clothwise.lay.cloth import Repeat
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.tolerance import LAY_MATCH


@dataclass(frozen=True, slots=True)
class Seen:
    """One match point on the cloth: its group and piece, where it lies, and which way its copy looks."""

    group: str
    title: str
    at: float
    way: float


def match_faults(plan: LayPlan) -> list[str]:
    """Points of one group that do not meet the stripes alike."""
    repeat = plan.problem.cloth.repeat
    if repeat is None:
        return []
    found: list[str] = []
    for axis, step, known in ((0, repeat.along, repeat.bar), (1, repeat.across, repeat.stripe)):
        if step:
            seen = _all_seen(plan, repeat, axis)
            place = _best_place(seen, step) if known is None else known
            found += _faults_with(seen, step, place, "along" if axis == 0 else "across")
    return found


def place_of_stripes(plan: LayPlan, axis: int) -> float:
    """Where a bar (axis 0) or a stripe (axis 1) must lie, when it was not measured. [cm]"""
    repeat = plan.problem.cloth.repeat
    if repeat is None:
        return 0.0
    return _best_place(_all_seen(plan, repeat, axis), repeat.along if axis == 0 else repeat.across)


def _all_seen(plan: LayPlan, repeat: Repeat, axis: int) -> list[Seen]:
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    placed = [(p, pieces[p.piece]) for p in plan.placements if p.piece in pieces]
    return [seen for placement, piece in placed for seen in _seen(placement, piece, repeat, axis)]


def _seen(placement: Placement, piece: LayPiece, repeat: Repeat, axis: int) -> Iterator[Seen]:
    up, side = placement.carry(((0.0, 1.0), (1.0, 0.0), (0.0, 0.0)))[:2]
    origin = placement.carry(((0.0, 0.0),))[0]
    # at angle 0 a piece's own side, +x, points down across the cloth
    way = up[0] - origin[0] if axis == 0 else origin[1] - side[1]
    way = math.copysign(1.0, way) if repeat.even else 1.0
    for point in piece.match:
        if not (point.along if axis == 0 else point.across):
            continue
        yield Seen(point.group, piece.title, placement.carry((point.at,))[0][axis], way)
        if piece.on_fold and repeat.even:  # the other half shows the mirror image
            x = 2 * piece.fold_x - point.at[0]
            other = placement.carry(((x, point.at[1]),))[0][axis]
            yield Seen(point.group, piece.title, other, way if axis == 0 else -way)


def _best_place(seen: list[Seen], step: float) -> float:
    """The place of the stripes with which fewest points miss each other."""
    return min(_places(seen, step), key=lambda place: len(list(_faults_with(seen, step, place, ""))))


def _places(seen: list[Seen], step: float) -> Iterator[float]:
    """Where a stripe may lie when it was not measured: two that look opposite ways tell, to half a repeat."""
    yield 0.0
    for one in seen:
        for other in seen:
            if one.group == other.group and one.way > 0 > other.way:
                yield (one.at + other.at) / 2
                yield (one.at + other.at + step) / 2
                return


def _faults_with(seen: list[Seen], step: float, place: float, direction: str) -> Iterator[str]:
    first: dict[str, Seen] = {}
    for one in seen:
        held = first.setdefault(one.group, one)
        off = math.remainder(one.way * (one.at - place) - held.way * (held.at - place), step)
        if abs(off) > LAY_MATCH:
            yield (
                f"'{one.title}' misses '{held.title}' by {abs(off):.2f} cm {direction} the stripes "
                f"at '{one.group}'."
            )
