"""What no piece may cover, as simple outlines on the opened cloth: its edge, its flaws, what is pinned down.

A remnant is the rectangle around it less the parts that are not there. Those reach some way out over the
rectangle's edge, so that a piece that lies on one is nearest to free cloth inwards.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from shapely import get_parts
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

from clothwise.lay.cloth import LayCloth, Outline
from clothwise.lay.problem import LayProblem
from clothwise.tolerance import LAY_TOUCH

OUTWARDS = 40.0  # cm: deeper than most pieces reach out over an edge while the search still moves them
SMALLEST = LAY_TOUCH**2  # cm2: dust of a subtraction


@dataclass(frozen=True, slots=True)
class Barrier:
    """An outline, anticlockwise, that no piece may overlap. `blade`: pieces keep the blade's gap to it."""

    outline: Outline
    blade: bool = False


def barriers(problem: LayProblem) -> tuple[Barrier, ...]:
    """Everything that keeps pieces off, on the opened cloth. Beyond the cloth's length lies free cloth."""
    pieces = {piece.name: piece for piece in problem.pieces}
    pinned = [
        Barrier(_ring(Polygon(pin.carry(pieces[pin.piece].whole_outline))), blade=True)
        for pin in problem.pinned
    ]
    return (*(Barrier(_ring(part)) for part in off_the_cloth(problem.cloth)), *pinned)


def off_the_cloth(cloth: LayCloth) -> tuple[Polygon, ...]:
    """Flaws, and what is missing of the rectangle around a remnant. Each is simple and without holes."""
    missing: list[BaseGeometry] = [Polygon(flaw) for flaw in cloth.flaws]
    if cloth.outline is not None and cloth.length is not None:
        around = box(0, 0, cloth.length, cloth.width)
        missing += [_outwards(part, cloth) for part in _polygons(around.difference(Polygon(cloth.outline)))]
    joined = unary_union(missing)
    if all(not part.interiors for part in _polygons(joined)):
        return tuple(_polygons(joined))
    return tuple(part for one in missing for part in _polygons(one))  # a ring of flaws: keep them apart


def _outwards(part: Polygon, cloth: LayCloth) -> BaseGeometry:
    """The part, carried on beyond the sides of the rectangle that it touches, but not beyond its end."""
    x0, y0, x1, y1 = part.bounds
    assert cloth.length is not None
    grown: list[BaseGeometry] = [part]
    if y0 <= LAY_TOUCH:
        low, high = _run(part, box(x0 - 1, -1, x1 + 1, LAY_TOUCH), 0)
        grown.append(box(low, -OUTWARDS, high, 0))
    if y1 >= cloth.width - LAY_TOUCH:
        low, high = _run(part, box(x0 - 1, cloth.width - LAY_TOUCH, x1 + 1, cloth.width + 1), 0)
        grown.append(box(low, cloth.width, high, cloth.width + OUTWARDS))
    if x0 <= LAY_TOUCH:
        low, high = _run(part, box(-1, y0 - 1, LAY_TOUCH, y1 + 1), 1)
        grown.append(box(-OUTWARDS, low, 0, high))
    whole = unary_union(grown)
    return whole if isinstance(whole, Polygon) and not whole.interiors else part


def _run(part: Polygon, side: BaseGeometry, axis: int) -> tuple[float, float]:
    """From where to where a part lies along a side. [cm]"""
    bounds = part.intersection(side).bounds
    return float(bounds[axis]), float(bounds[axis + 2])


def _polygons(shape: BaseGeometry) -> Iterator[Polygon]:
    for part in get_parts(shape):
        if isinstance(part, Polygon) and part.area > SMALLEST:
            yield part


def _ring(shape: Polygon) -> Outline:
    """Its corners, without those that a subtraction left a hair apart."""
    kept: list[tuple[float, float]] = []
    for x, y in orient(shape).exterior.coords[:-1]:
        if not kept or math.dist(kept[-1], (x, y)) > LAY_TOUCH:
            kept.append((float(x), float(y)))
    return tuple(kept[1:] if math.dist(kept[0], kept[-1]) <= LAY_TOUCH else kept)
