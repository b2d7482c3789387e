"""The independent check of a lay, from the raw pieces and the stored placements alone.

It shares nothing with the search but the values: shapely does the geometry. Every plan that is
handed out has passed it; a plan that fails is our own bug.
"""

from __future__ import annotations

import itertools
import math

from shapely import STRtree, make_valid
from shapely.affinity import affine_transform
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from clothwise.lay.plan import LayPlan, Placement
from clothwise.lay.problem import Fold, LayCloth, LayPiece, folds_of
from clothwise.tolerance import LAY_ANGLE_DEG, LAY_FOLD, LAY_GAP, LAY_OVERLAP_CM2


def faults(plan: LayPlan) -> tuple[str, ...]:
    """Everything wrong with a lay, as sentences; empty when it may be cut."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    unknown = [p.piece for p in plan.placements if p.piece not in pieces]
    if unknown:
        return (f"'{unknown[0]}' is not a piece of this lay.",)
    folds = folds_of(plan.layering, plan.problem.cloth.width)
    found = list(_count_faults(plan, pieces))
    regions: list[BaseGeometry] = []
    for placement in plan.placements:
        piece = pieces[placement.piece]
        found += _turn_faults(placement, piece, plan.problem.cloth)
        found += _fold_faults(placement, piece, folds, plan.problem.gap)
        regions.append(_covered(placement, piece, folds))
    found += _pair_faults(plan, pieces, folds)
    found += _cloth_faults(plan, regions)
    found += _overlap_faults(plan, regions)
    return tuple(found)


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


def _turn_faults(placement: Placement, piece: LayPiece, cloth: LayCloth) -> list[str]:
    """The angle must be allowed by the grain and the nap; a copy turned over lies as the mirror image would."""
    lies = -placement.angle if placement.mirrored else placement.angle
    for angle in piece.angles:
        crosswise = abs(math.remainder(angle - 90, 180)) < LAY_ANGLE_DEG
        if crosswise and cloth.nap != "none" and len(piece.angles) > 1:
            continue
        upside_down = (180.0,) if piece.may_turn and cloth.nap != "one-way" else ()
        for turn in (0.0, *upside_down):
            if abs(math.remainder(lies - angle - turn, 360)) < LAY_ANGLE_DEG:
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
    ys = [y for _, y in placement.carry(piece.outline)]
    below = fold.line - fold.depth - LAY_FOLD <= min(ys) and max(ys) <= fold.line + LAY_FOLD
    above = fold.line - LAY_FOLD <= min(ys) and max(ys) <= fold.line + fold.depth + LAY_FOLD
    found = [] if below or above else [f"'{title}' leaves the part where the cloth is double."]
    if placement.how == "on the fold":
        if piece.fold_edge is None:
            return [f"'{title}' has no fold edge."]
        off = max(abs(y - fold.line) for _, y in placement.carry(piece.fold_edge))
        if off > LAY_FOLD:
            found.append(f"'{title}': its fold edge lies {off:.3f} cm from the fold.")
    elif gap and min(abs(y - fold.line) for y in ys) < gap / 2 - LAY_GAP:
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
    line = folds[placement.fold].line
    return drawn.union(affine_transform(drawn, [1, 0, 0, -1, 0, 2 * line])).buffer(0)


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
            line = folds[placement.fold].line
            shape = Polygon(placement.carry(piece.outline))
            image = affine_transform(shape, [1, 0, 0, -1, 0, 2 * line])
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


def _cloth_faults(plan: LayPlan, regions: list[BaseGeometry]) -> list[str]:
    cloth = plan.problem.cloth
    found = []
    whole = box(0, 0, plan.length, cloth.width)
    for placement, region in zip(plan.placements, regions, strict=True):
        outside = region.difference(whole).area
        if outside > LAY_OVERLAP_CM2:
            found.append(f"'{placement.piece}' hangs {outside:.2f} cm2 over the edge of the cloth.")
    furthest = max((region.bounds[2] for region in regions), default=0.0)
    if abs(furthest - plan.length) > LAY_FOLD:
        found.append(f"The furthest point lies at {furthest:.2f} cm, the plan says {plan.length:.2f} cm.")
    if cloth.length is not None and plan.length > cloth.length + LAY_FOLD:
        found.append(f"The plan needs {plan.length:.1f} cm of a cloth {cloth.length:.1f} cm long.")
    return found


def _overlap_faults(plan: LayPlan, regions: list[BaseGeometry]) -> list[str]:
    found = []
    gap = plan.problem.gap
    tree = STRtree(regions)
    for i, j in itertools.chain.from_iterable(
        ((i, int(j)) for j in tree.query(region.buffer(gap)) if int(j) > i) for i, region in enumerate(regions)
    ):
        a, b = plan.placements[i], plan.placements[j]
        common = regions[i].intersection(regions[j]).area
        if common > LAY_OVERLAP_CM2:
            found.append(f"'{a.piece}' and '{b.piece}' overlap by {common:.2f} cm2.")
        elif gap and regions[i].distance(regions[j]) < gap - LAY_GAP:
            found.append(f"'{a.piece}' and '{b.piece}' lie nearer than the gap of {gap:g} cm.")
    return found
