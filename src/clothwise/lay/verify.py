"""The independent check of a lay, from the raw pieces and the stored placements alone.

It shares nothing with the search but the values: shapely does the geometry. Every plan that is
handed out has passed it; a plan that fails is our own bug.
"""

from __future__ import annotations

import itertools
import math

from shapely import STRtree, make_valid
from shapely.affinity import affine_transform
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from clothwise.lay.layering import Fold, folds_of
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.lay.verify_matching import match_faults
from clothwise.tolerance import LAY_ANGLE_DEG, LAY_FOLD, LAY_GAP, LAY_OVERLAP_CM2


def faults(plan: LayPlan) -> tuple[str, ...]:
    """Everything wrong with a lay, as sentences; empty when it may be cut."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    unknown = [p.piece for p in plan.placements if p.piece not in pieces]
    if unknown:
        return (f"'{unknown[0]}' is not a piece of this lay.",)
    if lost := [p for p in plan.placements if not _is_somewhere(p)]:
        return (_lies_nowhere(pieces[lost[0].piece]),)
    folds = folds_of(plan.layering, plan.problem.cloth.width)
    regions = [_covered(p, pieces[p.piece], folds) for p in plan.placements]
    found = list(_count_faults(plan, pieces))
    for placement in plan.placements:
        found += _own_faults(placement, pieces[placement.piece], plan.problem, folds)
    found += _pinned_faults(plan)
    found += _pair_faults(plan, pieces, folds)
    found += _length_faults(plan, regions)
    cloth = plan.problem.cloth.shape(plan.length)
    for placement, region in zip(plan.placements, regions, strict=True):
        found += _cloth_faults(pieces[placement.piece], region, cloth, plan.problem)
    found += _overlap_faults(plan, pieces, regions)
    found += match_faults(plan)
    return tuple(found)


def placement_faults(plan: LayPlan, index: int) -> tuple[str, ...]:
    """Everything wrong with one placement among those of an unfinished lay; the others are trusted."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    folds = folds_of(plan.layering, plan.problem.cloth.width)
    one = plan.placements[index]
    if one.piece not in pieces:
        return (f"'{one.piece}' is not a piece of this lay.",)
    piece = pieces[one.piece]
    if not _is_somewhere(one):
        return (_lies_nowhere(piece),)
    region = _covered(one, piece, folds)
    found = _own_faults(one, piece, plan.problem, folds)
    found += _cloth_faults(piece, region, plan.problem.cloth.shape(max(region.bounds[2], 1.0)), plan.problem)
    for k, other in enumerate(plan.placements):
        if k != index and other.piece in pieces:
            found += _meet(
                piece, region, pieces[other.piece], _covered(other, pieces[other.piece], folds), plan
            )
    return tuple(found + match_faults(plan))


def unfinished_faults(plan: LayPlan) -> tuple[str, ...]:
    """Everything wrong with what lies there, though pieces may still be missing."""
    known = {piece.name: piece for piece in plan.problem.pieces}
    found = [fault for k in range(len(plan.placements)) for fault in placement_faults(plan, k)]
    if all(p.piece in known for p in plan.placements):
        found += _pair_faults(plan, known, folds_of(plan.layering, plan.problem.cloth.width))
    return tuple(dict.fromkeys(found))


def _is_somewhere(placement: Placement) -> bool:
    return all(math.isfinite(v) for v in (placement.angle, placement.dx, placement.dy))


def _lies_nowhere(piece: LayPiece) -> str:
    return f"'{piece.title}' lies nowhere: a figure of its place is not a number."


def _own_faults(
    placement: Placement, piece: LayPiece, problem: LayProblem, folds: tuple[Fold, ...]
) -> list[str]:
    """What can be wrong with a placement by itself."""
    return _turn_faults(placement, piece, problem) + _fold_faults(placement, piece, folds, problem.gap)


def _count_faults(plan: LayPlan, pieces: dict[str, LayPiece]) -> list[str]:
    found = []
    for name, piece in pieces.items():
        laid = [p for p in plan.placements if p.piece == name]
        if sorted(p.copy for p in laid) != list(range(piece.count)):
            found.append(f"'{piece.title}' is laid {len(laid)} times, wanted {piece.count}.")
        turned = sum(p.mirrored for p in laid)
        if plan.problem.cloth.two_right_sides or piece.either_side_up or piece.on_fold:
            continue
        wanted = piece.count // 2 if piece.mirrored_pair else 0
        if turned != wanted:
            found.append(f"'{piece.title}': {turned} copies are turned over, wanted {wanted}.")
    return found


def _turn_faults(placement: Placement, piece: LayPiece, problem: LayProblem) -> list[str]:
    """The angle must be allowed by the grain and the nap; a copy turned over lies as the mirror image would."""
    cloth = problem.cloth
    lies = -placement.angle if placement.mirrored else placement.angle
    uneven = bool(piece.match) and cloth.repeat is not None and not cloth.repeat.even
    upside_down = (180.0,) if piece.may_turn and cloth.nap != "one-way" and not uneven else ()
    for named in piece.angles:
        angle = named % 180 - (180 if named % 180 > 90 else 0)  # upwards: what points down has been turned
        crosswise = abs(math.remainder(angle - 90, 180)) < LAY_ANGLE_DEG
        if crosswise and cloth.nap != "none" and len(piece.angles) > 1:
            continue
        for turn in (0.0, *upside_down):
            if abs(math.remainder(lies - angle - turn, 360)) < piece.lean + LAY_ANGLE_DEG:
                return []
    return [f"'{piece.title}' lies at {placement.angle:g} degrees, which its grain or the nap forbids."]


def _fold_faults(placement: Placement, piece: LayPiece, folds: tuple[Fold, ...], gap: float) -> list[str]:
    """How a piece is cut must suit the folds; a doubled one stays where the cloth is double."""
    title = piece.title
    if placement.how in ("single", "unfolded"):
        if piece.on_fold != (placement.how == "unfolded"):
            return [f"'{title}' is drawn as a half and must be unfolded or lie on the fold."]
        return [] if placement.fold is None else [f"'{title}' names a fold but is cut through one layer."]
    if placement.fold is None or not 0 <= placement.fold < len(folds):
        return [f"'{title}' is cut double, but there is no such fold."]
    fold = folds[placement.fold]
    off = [point[0 if fold.across else 1] - fold.line for point in placement.carry(piece.outline)]
    below = -fold.depth - LAY_FOLD <= min(off) and max(off) <= LAY_FOLD
    above = min(off) >= -LAY_FOLD and max(off) <= fold.depth + LAY_FOLD
    found = [] if below or above else [f"'{title}' leaves the part where the cloth is double."]
    if placement.how == "on the fold":
        if piece.fold_edge is None or fold.across:
            return [f"'{title}' has no fold edge that could lie on this fold."]
        away = max(abs(y - fold.line) for _, y in placement.carry(piece.fold_edge))
        if away > LAY_FOLD:
            found.append(f"'{title}': its fold edge lies {away:.3f} cm from the fold.")
    elif gap and min(abs(value) for value in off) < gap / 2 - LAY_GAP:
        found.append(f"'{title}' lies too near the fold for the blade.")
    return found


def _covered(placement: Placement, piece: LayPiece, folds: tuple[Fold, ...]) -> BaseGeometry:
    """The part of the opened cloth that goes into this copy."""
    drawn = make_valid(Polygon(placement.carry(piece.outline)))
    if placement.how == "single" or placement.how == "double":
        return drawn
    if placement.how == "unfolded":
        if piece.fold_edge is None:
            return drawn
        (ax, ay), (bx, by) = placement.carry(piece.fold_edge)
        return drawn.union(_reflected(drawn, ax, ay, bx - ax, by - ay)).buffer(0)
    if placement.fold is None or placement.fold >= len(folds):
        return drawn
    return drawn.union(_in_fold(drawn, folds[placement.fold])).buffer(0)


def _in_fold(shape: BaseGeometry, fold: Fold) -> BaseGeometry:
    """What lies on the shape when the fold is made."""
    if fold.across:
        return affine_transform(shape, [-1, 0, 0, 1, 2 * fold.line, 0])
    return affine_transform(shape, [1, 0, 0, -1, 0, 2 * fold.line])


def _reflected(shape: BaseGeometry, x: float, y: float, u: float, v: float) -> BaseGeometry:
    """Mirror image in the line through (x, y) along (u, v)."""
    n = u * u + v * v
    a, b = (u * u - v * v) / n, 2 * u * v / n
    return affine_transform(shape, [a, b, b, -a, x - a * x - b * y, y - b * x + a * y])


def _pair_faults(plan: LayPlan, pieces: dict[str, LayPiece], folds: tuple[Fold, ...]) -> list[str]:
    """What is cut through both layers must be there twice: each the other's mirror image in the fold."""
    found = []
    for name, piece in pieces.items():
        double = [p for p in plan.placements if p.piece == name and p.how == "double" and p.fold is not None]
        waiting: list[Placement] = []
        for placement in double:
            assert placement.fold is not None
            if placement.fold >= len(folds):
                continue
            image = _in_fold(Polygon(placement.carry(piece.outline)), folds[placement.fold])
            twin = next(
                (
                    other
                    for other in waiting
                    if other.fold == placement.fold
                    and other.mirrored != placement.mirrored
                    and image.symmetric_difference(Polygon(other.carry(piece.outline))).area < LAY_OVERLAP_CM2
                ),
                None,
            )
            if twin is None:
                waiting.append(placement)
            else:
                waiting.remove(twin)
        if waiting:
            found.append(f"'{piece.title}' is cut double, but its mirror image in the fold is missing.")
    return found


def _pinned_faults(plan: LayPlan) -> list[str]:
    """What was pinned by hand must lie where it was pinned."""
    titles = {piece.name: piece.title for piece in plan.problem.pieces}
    where = {(p.piece, p.copy): (p.mirrored, p.angle, p.dx, p.dy) for p in plan.placements}
    return [
        f"'{titles.get(pin.piece, pin.piece)}' was pinned and has been moved."
        for pin in plan.problem.pinned
        if where.get((pin.piece, pin.copy)) != (pin.mirrored, pin.angle, pin.dx, pin.dy)
    ]


def _length_faults(plan: LayPlan, regions: list[BaseGeometry]) -> list[str]:
    found = []
    length = plan.problem.cloth.length
    furthest = max((region.bounds[2] for region in regions), default=0.0)
    if not abs(furthest - plan.length) <= LAY_FOLD:
        found.append(f"The furthest point lies at {furthest:.2f} cm, the plan says {plan.length:.2f} cm.")
    if length is not None and plan.length > length + LAY_FOLD:
        found.append(f"The plan needs {plan.length:.1f} cm of a cloth {length:.1f} cm long.")
    return found


def _square(area: float) -> str:
    """An area as it is told: in whole cm², where it is one at least."""
    return f"{area:.{0 if area >= 1 else 2}f} cm²"


def _cloth_faults(piece: LayPiece, region: BaseGeometry, cloth: BaseGeometry, problem: LayProblem) -> list[str]:
    """A piece must lie on the cloth, clear of its flaws."""
    outside = region.difference(cloth).area
    if outside <= LAY_OVERLAP_CM2:
        return []
    flaws = unary_union([Polygon(flaw) for flaw in problem.cloth.flaws])
    on_flaws = region.intersection(flaws).area
    if on_flaws > LAY_OVERLAP_CM2:
        return [f"'{piece.title}' lies on a flaw, {_square(on_flaws)} of it."]
    return [f"'{piece.title}' hangs over the edge of the cloth, {_square(outside)} of it."]


def _overlap_faults(plan: LayPlan, pieces: dict[str, LayPiece], regions: list[BaseGeometry]) -> list[str]:
    found = []
    tree = STRtree(regions)
    for i, j in itertools.chain.from_iterable(
        ((i, int(j)) for j in tree.query(region.buffer(plan.problem.gap)) if int(j) > i)
        for i, region in enumerate(regions)
    ):
        a, b = plan.placements[i], plan.placements[j]
        found += _meet(pieces[a.piece], regions[i], pieces[b.piece], regions[j], plan)
    return found


def _meet(a: LayPiece, one: BaseGeometry, b: LayPiece, other: BaseGeometry, plan: LayPlan) -> list[str]:
    """Two pieces must lie clear of each other, with room for the blade."""
    gap = plan.problem.gap
    common = one.intersection(other).area
    if common > LAY_OVERLAP_CM2:
        return [f"'{a.title}' and '{b.title}' overlap by {_square(common)}."]
    if gap and one.distance(other) < gap - LAY_GAP:
        return [f"'{a.title}' and '{b.title}' lie nearer than the gap of {gap:g} cm."]
    return []
