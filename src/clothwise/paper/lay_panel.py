"""One picture of a lay plan: the cloth on the table, its folds, flaws and stripes, and what is cut from it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Curve, Line, Point
from clothwise.lay.cutting import Stage, Table
from clothwise.lay.layering import SINGLE
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.stripes import bars_and_stripes
from clothwise.paper.drawing import Fill, Item, Stroke, Words, polygon
from clothwise.paper.lay_label import label, wordings
from clothwise.paper.pens import PenName

BETWEEN_HATCH = 0.16  # cm on paper between the lines that mark a piece lying face down
END_LABEL = 0.27  # cm of type along the edges of the cloth
SPARE = 1.25  # a longer cloth is drawn up to so many times the lay, and broken off there
CLOSEST = 0.12  # cm on paper: stripes closer than this are drawn thinned out, every second, third...


@dataclass(frozen=True, slots=True)
class Scale:
    """From the opened cloth to the paper: paper over cloth, and the cloth's lower left corner in view."""

    scale: float
    start: float
    low: float
    base: float

    def __call__(self, x: float, y: float) -> Point:
        return Point((x - self.start) * self.scale, (y - self.low) * self.scale + self.base)


def shown_length(plan: LayPlan, stage: Stage) -> float:
    """Length of cloth drawn: all of it when it is not much longer than the lay. [cm]"""
    cloth = plan.problem.cloth
    end = plan.length
    if cloth.length:
        end = cloth.length if cloth.outline is not None else min(cloth.length, plan.length * SPARE)
    return end - stage.table.start


def panel(
    plan: LayPlan, stage: Stage, at: Scale, first_number: int, earlier: tuple[Placement, ...] = ()
) -> Iterator[Item]:
    """The stage drawn; cuts are numbered from `first_number` on. `earlier`: what is cut away by then."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    numbers = {p.name: p.number or place for place, p in enumerate(plan.problem.pieces, 1)}  # as on the paper
    yield from _ends(plan, stage, at)
    shapes = [(cut, _ring(cut, pieces[cut.piece], at)) for cut in stage.cuts]
    for cut, ring in shapes:
        if cut.mirrored:
            yield from _hatch(Polygon(ring), BETWEEN_HATCH, "hatch")
        else:
            yield Fill(polygon(*ring), "piece fill")
    yield from _stripes(plan, stage, at)
    yield from _flaws(plan, stage, at)
    for one in earlier:
        yield from _gone(one, pieces[one.piece], plan, at)
    for _, ring in shapes:
        yield Stroke(polygon(*ring), "cut", closed=True)
    taken = [Polygon(ring) for _, ring in shapes]
    for number, (cut, ring) in enumerate(shapes, first_number):
        piece = pieces[cut.piece]
        yield from label(
            Polygon(ring), cut, wordings(numbers[cut.piece], piece, number, _says(cut, stage)), taken
        )
    yield from _edges(plan, stage, at)


def _ring(placement: Placement, piece: LayPiece, at: Scale) -> list[Point]:
    return [at(x, y) for x, y in placement.outline_on_cloth(piece)]


# ---- the cloth -------------------------------------------------------------------------------------


def _in_view(plan: LayPlan, stage: Stage) -> BaseGeometry:
    """The cloth that is seen, on the opened cloth."""
    table = stage.table
    end = table.start + shown_length(plan, stage)
    return plan.problem.cloth.shape(end, whole=True).intersection(box(table.start, table.low, end, table.high))


def _ends(plan: LayPlan, stage: Stage, at: Scale) -> Iterator[Item]:
    """The cut end, where the lay ends, where the cloth ends; all round a remnant."""
    table, cloth = stage.table, plan.problem.cloth
    end = table.start + shown_length(plan, stage)
    if cloth.outline is not None:
        yield from _outlines(_in_view(plan, stage), at, "cut")
        if table.low_fold or table.high_fold:
            yield from _flaps(plan, table, at)
        return
    if not table.flap_ends:
        yield Stroke(_line(at(0, table.low), at(0, table.high)), "cloth")
    yield Stroke(_line(at(end, table.low), at(end, table.high)), "level")
    if end > plan.length + 0.5:
        yield Stroke(_line(at(plan.length, table.low), at(plan.length, table.high)), "adjust")


def _flaps(plan: LayPlan, table: Table, at: Scale) -> Iterator[Item]:
    """The edge of what is folded over, where it comes to lie."""
    cloth = plan.problem.cloth.shape(plan.length, whole=True)
    _, bottom, right, top = cloth.bounds
    if table.low_fold:
        flap = cloth.intersection(box(0, bottom, right, table.low))
        yield from _outlines(_turned_over(flap, table.low), at, "earlier")
    if table.high_fold:
        flap = cloth.intersection(box(0, table.high, right, top))
        yield from _outlines(_turned_over(flap, table.high), at, "earlier")


def _turned_over(shape: BaseGeometry, line: float) -> BaseGeometry:
    return shapely.affinity.affine_transform(shape, [1, 0, 0, -1, 0, 2 * line])


def _outlines(shape: BaseGeometry, at: Scale, pen: PenName) -> Iterator[Item]:
    for part in shapely.get_parts(shape):
        if isinstance(part, Polygon) and not part.is_empty:
            yield Stroke(polygon(*(at(x, y) for x, y in part.exterior.coords[:-1])), pen, closed=True)


def _edges(plan: LayPlan, stage: Stage, at: Scale) -> Iterator[Item]:
    """Folds dashed, selvedges heavy, each with its name."""
    table, cloth = stage.table, plan.problem.cloth
    end = table.start + shown_length(plan, stage)
    doubled = " of both layers" if stage.layering.name == "folded lengthwise" else ""
    for y, fold, below in ((table.low, table.low_fold, True), (table.high, table.high_fold, False)):
        if cloth.outline is not None and not fold:
            continue
        yield Stroke(_line(at(table.start, y), at(end, y)), "fold" if fold else "selvedge")
        name = "fold" if fold else f"selvedge{doubled}"
        place = at(table.start, y)
        yield Words(
            name, Point(place.x, place.y + (-END_LABEL * 1.25 if below else END_LABEL * 0.5)), END_LABEL
        )
    for y in table.edges if cloth.outline is None else ():
        yield Stroke(_line(at(table.start, y), at(end, y)), "selvedge")
    if table.flap_ends:
        yield Stroke(_line(at(table.start, table.low), at(table.start, table.high)), "fold")
        yield Stroke(_line(at(table.flap_ends, table.low), at(table.flap_ends, table.high)), "cloth")
        corner = at(table.start, table.low)
        yield Words("fold", Point(corner.x - END_LABEL * 0.4, corner.y + 0.2), END_LABEL, turn_deg=90)
        place = at(table.flap_ends, table.low)
        yield Words(
            "cut end of the flap", Point(place.x, place.y - END_LABEL * 1.25), END_LABEL, anchor="middle"
        )


def _flaws(plan: LayPlan, stage: Stage, at: Scale) -> Iterator[Item]:
    """Crossed out where they are seen; a flaw on a flap where it comes to lie."""
    table = stage.table
    seen = _in_view(plan, stage)
    for flaw in plan.problem.cloth.flaws:
        shape = Polygon(flaw)
        places = [shape.intersection(seen)]
        if table.low_fold:
            places.append(_turned_over(shape.intersection(box(-1e5, -1e5, 1e5, table.low)), table.low))
        if table.high_fold:
            places.append(_turned_over(shape.intersection(box(-1e5, table.high, 1e5, 1e5)), table.high))
        for part in (p for place in places for p in shapely.get_parts(place) if isinstance(p, Polygon)):
            if part.is_empty:
                continue
            ring = Polygon([at(x, y) for x, y in part.exterior.coords])
            yield Stroke(polygon(*(Point(x, y) for x, y in ring.exterior.coords[:-1])), "cloth", closed=True)
            yield from _hatch(ring, BETWEEN_HATCH / 2, "cloth")
            yield from _hatch(ring, BETWEEN_HATCH / 2, "cloth", falling=True)


def _stripes(plan: LayPlan, stage: Stage, at: Scale) -> Iterator[Item]:
    """The middle of every bar and stripe that is matched, thin; on paper never closer than can be told."""
    matched = {piece.name for piece in plan.problem.pieces if piece.match}
    if not any(cut.piece in matched for cut in stage.cuts):
        return
    seen = _in_view(plan, stage)
    left, bottom, right, top = seen.bounds
    for along, (first, step) in bars_and_stripes(plan):
        if not step:
            continue
        every = step * max(1, math.ceil(CLOSEST / (step * at.scale)))
        low, high = (left, right) if along else (bottom, top)
        for k in range(math.ceil((low - first) / every), math.floor((high - first) / every) + 1):
            v = first + k * every
            run = LineString([(v, bottom), (v, top)] if along else [(left, v), (right, v)]).intersection(seen)
            for part in shapely.get_parts(run):
                if isinstance(part, LineString) and part.length > 0:
                    (x0, y0), (x1, y1) = part.coords[0], part.coords[-1]
                    yield Stroke(_line(at(x0, y0), at(x1, y1)), "trim")


# ---- the pieces ------------------------------------------------------------------------------------


def _gone(placement: Placement, piece: LayPiece, plan: LayPlan, at: Scale) -> Iterator[Item]:
    """Holes that an earlier cut left in the opened cloth, of a pair both."""
    double = [p for p in plan.placements if p.piece == placement.piece and p.fold is not None]
    for one in [placement] if placement.fold is None else double:
        outline = one.carry(piece.whole_outline)
        yield Stroke(polygon(*(at(x, y) for x, y in outline)), "seam", closed=True)


def _hatch(shape: Polygon, between: float, pen: PenName, *, falling: bool = False) -> Iterator[Item]:
    """Slanting lines inside a shape."""
    left, bottom, right, top = shape.bounds
    step = between * 2**0.5
    tall = top - bottom
    starts = [left - tall + i * step for i in range(int((right - left + tall) / step) + 1)]
    ends = (top, bottom) if falling else (bottom, top)
    lines = [LineString([(x, ends[0]), (x + tall, ends[1])]) for x in starts]
    for part in shapely.get_parts(shapely.intersection(lines, shape)):
        if part.geom_type == "LineString" and part.length > 0.01:
            (x0, y0), (x1, y1) = part.coords[0], part.coords[-1]
            yield Stroke(_line(Point(x0, y0), Point(x1, y1)), pen)


def _says(placement: Placement, stage: Stage) -> str:
    once = "once, through one layer only" if stage.layering != SINGLE else "once"
    return {
        "double": "through both layers",
        "on the fold": "on the fold, through both",
        "unfolded": f"opened out, {once}",
        "single": f"face down, {once}" if placement.mirrored else once,
    }[placement.how]


def _line(a: Point, b: Point) -> Curve:
    return Curve((Line(a, b),))
