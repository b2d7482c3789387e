"""What is left of the cloth after cutting, as outlines for the cupboard.

A part counts as far as a disc of the least width can roll in it: strips and slivers between pieces are waste.
Every outline lies wholly on free cloth, a little inside its true edge.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely import get_parts
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

from clothwise.lay.cloth import Outline
from clothwise.lay.plan import LayPlan

LEAST_WIDE = 10.0  # cm: narrower parts serve for nothing but test stitches (house rule, 2026-11)
INSIDE = 0.2  # cm: shears leave no straighter edge; the room in which an outline is simplified
ROUND = 4  # segments of a quarter circle while parts are opened; the outline is simplified afterwards


def left_over(plan: LayPlan, *, least: float = LEAST_WIDE) -> tuple[Outline, ...]:
    """Usable parts, largest first, on the opened cloth: x from the cut end, y from the near selvedge. [cm]

    least   a part is at least this wide everywhere [cm]
    A cloth without a length ends where the lay ends.
    """
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    covered = unary_union([Polygon(p.carry(pieces[p.piece].whole_outline)) for p in plan.placements])
    free = plan.problem.cloth.shape(plan.length).difference(covered)
    radius = least / 2
    opened = free.buffer(-radius, quad_segs=ROUND).buffer(radius - INSIDE, quad_segs=ROUND)
    parts = [part for one in _polygons(opened.simplify(INSIDE)) for part in _without_holes(one)]
    return tuple(
        tuple((float(x), float(y)) for x, y in orient(part).exterior.coords[:-1])
        for part in sorted(parts, key=lambda p: -p.area)
        if part.area >= least * least
    )


def left_words(plan: LayPlan) -> str:
    """One sentence on what is left worth keeping; nothing where that is nothing, or the cloth has no length."""
    cloth = plan.problem.cloth
    parts = left_over(plan) if cloth.length is not None else ()
    if not parts:
        return ""
    xs, ys = zip(*parts[0], strict=True)
    size = f"{Polygon(parts[0]).area / 1e4:.2f} m² within {max(xs) - min(xs):.0f} x {max(ys) - min(ys):.0f} cm"
    straight = cloth.length - plan.length if cloth.length is not None and cloth.outline is None else 0.0
    end = f", {straight:.0f} cm of it in the whole width" if straight >= LEAST_WIDE else ""
    if len(parts) > 1:
        return f"{len(parts)} parts worth keeping are left, the largest {size}{end}."
    return f"One part worth keeping is left, {size}{end}."


def _without_holes(part: Polygon) -> Iterator[Polygon]:
    """A part that goes round a piece or a flaw is cut across, in the middle of what it goes round."""
    if not part.interiors:
        yield part
        return
    x = Polygon(part.interiors[0]).centroid.x
    x0, y0, x1, y1 = part.bounds
    for side in (box(x0, y0, x, y1), box(x, y0, x1, y1)):
        for one in _polygons(part.intersection(side)):
            yield from _without_holes(one)


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    return [part for part in get_parts(shape) if isinstance(part, Polygon) and not part.is_empty]
