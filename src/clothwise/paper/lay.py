"""A lay plan drawn to be read at the cutting table, in black and white.

Shown is the cloth as it lies on the table, folds made, right side in: from above one sees the flap's wrong
side. A piece that goes through both layers is drawn once. Cloth runs to the right, its cut end on the left.
All lengths of the cloth are scaled onto the paper; the scale bar says how much.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import LineString, Polygon

from clothwise.curve import Curve, Line, Point, polyline
from clothwise.lay.plan import LayPlan, Placement
from clothwise.lay.problem import Fold, LayPiece, folds_of
from clothwise.paper import font
from clothwise.paper.drawing import Drawing, Fill, Item, Stroke, Words, arrow_head, polygon, rectangle
from clothwise.paper.pdf import Book, Page, write_pdf
from clothwise.paper.sheets import sheet
from clothwise.paper.svg import Hung, write_svg

BETWEEN_HATCH = 0.16  # cm on paper between the lines that mark a piece lying face down
TITLE = 0.5  # cm of type
LABEL = 0.34  # cm of type on a piece, at most
SMALLEST = 0.19  # cm of type: smaller cannot be read
NOTE = 0.3  # cm of type below the drawing
HEAD = 0.25  # cm: arrow head
BAR = 50.0  # cm of cloth that the scale bar shows
ROOM_ABOVE, ROOM_BELOW = 1.6, 3.4  # cm on paper for the title, and for scale bar and notes
END_LABEL = 0.27  # cm of type along the edges of the cloth
SVG_WIDTH = 25.0  # cm: an SVG is drawn to be read on a landscape A4 or a screen


@dataclass(frozen=True, slots=True)
class Table:
    """The part of the opened cloth that is seen from above when the folds are made.

    low, high  across the cloth [cm]; `low_fold`, `high_fold` whether that side is a fold and not a selvedge
    """

    low: float
    high: float
    low_fold: bool
    high_fold: bool
    meet: float | None = None  # where two selvedges meet between them


def table_of(folds: Sequence[Fold], width: float) -> Table:
    """What is seen from above."""
    if not folds:
        return Table(0.0, width, False, False)
    if len(folds) == 1:
        return Table(folds[0].line, width, True, False)
    first, last = sorted(folds, key=lambda fold: fold.line)
    return Table(first.line, last.line, True, True, meet=first.line + first.depth)


def lay_svg(plan: LayPlan, title: str) -> str:
    """The lay plan as SVG, 25 cm wide."""
    drawing = lay_drawing(plan, title, SVG_WIDTH)
    return write_svg([Hung(drawing)], title=title, what=_facts(plan))


def lay_pdf(plan: LayPlan, title: str, size: str = "A4", *, made_on: str = "") -> bytes:
    """The lay plan on one landscape sheet."""
    paper = sheet(size)
    across, up = max(paper.width, paper.height), min(paper.width, paper.height)
    drawing = _fitted(plan, title, across - 2 * paper.margin, up - 2 * paper.margin)
    left, _, _, top = drawing.bounds()
    placed = drawing.moved(paper.margin - left, up - paper.margin - top)
    page = Page(across, up, "Lay", placed, bookmark="Lay plan")
    return write_pdf(Book(title=f"Lay plan: {title}", pages=(page,), made_on=made_on, ident=title))


def _fitted(plan: LayPlan, title: str, width: float, height: float) -> Drawing:
    """As large as the room allows. [cm]"""
    table = table_of(folds_of(plan.layering, plan.problem.cloth.width), plan.problem.cloth.width)
    tall = height - ROOM_ABOVE - ROOM_BELOW
    scale = min((width - 1.0) / _shown(plan), tall / (table.high - table.low))
    return _drawn(plan, title, table, scale)


def lay_drawing(plan: LayPlan, title: str, width: float) -> Drawing:
    """The lay plan `width` cm wide on paper, its origin at the cloth's lower left corner."""
    cloth_width = plan.problem.cloth.width
    table = table_of(folds_of(plan.layering, cloth_width), cloth_width)
    return _drawn(plan, title, table, (width - 1.0) / _shown(plan))


def _shown(plan: LayPlan) -> float:
    """Length of cloth drawn: all of it when it is not much longer than the lay. [cm]"""
    whole = plan.problem.cloth.length
    return min(whole, plan.length * 1.25) if whole else plan.length


def _drawn(plan: LayPlan, title: str, table: Table, scale: float) -> Drawing:
    on_paper = _Scale(scale, table.low)
    numbers = {p.name: p.number or place for place, p in enumerate(plan.problem.pieces, 1)}  # as on the paper
    items = [
        *_cloth(plan, table, on_paper),
        *(item for laid in visible(plan, table) for item in _piece(plan, laid, numbers[laid.piece], on_paper)),
        *_edges(plan, table, on_paper),
        *_heading(plan, title, table, on_paper),
        *_foot(plan, table, on_paper),
    ]
    return Drawing("lay", title, tuple(items))


@dataclass(frozen=True, slots=True)
class _Scale:
    scale: float
    low: float

    def __call__(self, x: float, y: float) -> Point:
        return Point(x * self.scale, (y - self.low) * self.scale)


def visible(plan: LayPlan, table: Table) -> list[Placement]:
    """Every outline that is cut, once, in the order it is met from the cut end of the cloth."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    seen = []
    for placement in plan.placements:
        middle = Polygon(placement.outline_on_cloth(pieces[placement.piece])).centroid.y
        if placement.how == "double" and not table.low <= middle <= table.high:
            continue
        if placement.how != "double":
            placement = _in_view(placement, pieces[placement.piece], table)
        seen.append((placement.dx, middle, placement))
    return [placement for _, _, placement in sorted(seen, key=lambda row: (_left(row[2], pieces), row[1]))]


def _left(placement: Placement, pieces: dict[str, LayPiece]) -> float:
    return min(x for x, _ in placement.outline_on_cloth(pieces[placement.piece]))


def _in_view(placement: Placement, piece: LayPiece, table: Table) -> Placement:
    """What lies on a flap, seen through it where it comes to lie on the table: mirrored in the fold."""
    middle = Polygon(placement.outline_on_cloth(piece)).centroid.y
    if table.low <= middle <= table.high:
        return placement
    fold_y = min((table.low, table.high), key=lambda y: abs(y - middle))
    return replace(
        placement, mirrored=not placement.mirrored, angle=-placement.angle, dy=2 * fold_y - placement.dy
    )


# ---- the cloth -------------------------------------------------------------------------------------


def _cloth(plan: LayPlan, table: Table, at: _Scale) -> Iterator[Item]:
    end = _shown(plan)
    yield Stroke(_line(at(0, table.low), at(0, table.high)), "cloth")
    yield Stroke(_line(at(end, table.low), at(end, table.high)), "level")
    if end > plan.length + 0.5:
        yield Stroke(_line(at(plan.length, table.low), at(plan.length, table.high)), "adjust")


def _edges(plan: LayPlan, table: Table, at: _Scale) -> Iterator[Item]:
    """Folds dashed, selvedges heavy, each with its name."""
    end = _shown(plan)
    double = " of both layers" if table.low_fold and not table.high_fold and table.meet is None else ""
    for y, fold, below in ((table.low, table.low_fold, True), (table.high, table.high_fold, False)):
        yield Stroke(_line(at(0, y), at(end, y)), "fold" if fold else "selvedge")
        name = "fold" if fold else f"selvedge{double if plan.layering.name == 'folded lengthwise' else ''}"
        place = at(0, y)
        shift = -END_LABEL * 1.25 if below else END_LABEL * 0.5
        yield Words(name, Point(place.x, place.y + shift), END_LABEL)
    if table.meet is not None:
        yield Stroke(_line(at(0, table.meet), at(end, table.meet)), "selvedge")
    elif plan.layering.name == "partial fold":
        y = table.low + (plan.layering.depth or 0.0)
        yield Stroke(_line(at(0, y), at(end, y)), "selvedge")


# ---- the pieces ------------------------------------------------------------------------------------


def _piece(plan: LayPlan, placement: Placement, number: int, at: _Scale) -> Iterator[Item]:
    piece = next(p for p in plan.problem.pieces if p.name == placement.piece)
    ring = [at(x, y) for x, y in placement.outline_on_cloth(piece)]
    shape = Polygon(ring)
    if placement.mirrored:
        yield from _hatch(shape)
    else:
        yield Fill(polygon(*ring), "piece fill")
    yield Stroke(polygon(*ring), "cut", closed=True)
    yield from _label(shape, placement, piece, number, plan.layering.name != "single layer")


def _hatch(shape: Polygon) -> Iterator[Item]:
    """Slanting lines: the paper piece lies face down."""
    left, bottom, right, top = shape.bounds
    step = BETWEEN_HATCH * 2**0.5
    start = left - (top - bottom)
    lines = [
        LineString([(start + i * step, bottom), (start + i * step + top - bottom, top)])
        for i in range(int((right - start) / step) + 1)
    ]
    cut = shapely.intersection(lines, shape)
    for part in shapely.get_parts(cut):
        if part.geom_type == "LineString" and part.length > 0.01:
            (x0, y0), (x1, y1) = part.coords[0], part.coords[-1]
            yield Stroke(_line(Point(x0, y0), Point(x1, y1)), "hatch")


def _label(shape: Polygon, placement: Placement, piece: LayPiece, number: int, folded: bool) -> Iterator[Item]:
    """Number, title and how many, inside the piece on white; below them the grain arrow."""
    circle = shapely.maximum_inscribed_circle(shape)
    middle, radius = Point(*circle.coords[0]), circle.length
    lines: tuple[str, ...] = (f"{number}  {piece.title}", _says(placement, folded))
    widest = max(font.width(line, 1.0, bold=True) for line in lines)
    size = min(LABEL, 1.5 * radius / max(widest, 1.0))
    if size < SMALLEST:
        lines, size = (f"{number}",), max(SMALLEST, min(LABEL, radius))
        widest = font.width(lines[0], 1.0, bold=True)
    half, rise = widest * size / 2 + 0.08, size * 1.25
    above = rise * len(lines) / 2
    yield Fill(rectangle(middle.x - half, middle.y - above, middle.x + half, middle.y + above), "paper")
    for i, line in enumerate(lines):
        place = Point(middle.x, middle.y + above - rise * (i + 0.8))
        yield Words(line, place, size, anchor="middle", bold=i == 0)
    yield from _grain(shape, placement, middle.y - above - 0.15)


def _says(placement: Placement, folded: bool) -> str:
    once = "once, through one layer only" if folded else "once"
    return {
        "double": "through both layers",
        "on the fold": "on the fold, through both",
        "unfolded": f"opened out, {once}",
        "single": f"face down, {once}" if placement.mirrored else once,
    }[placement.how]


def _grain(shape: Polygon, placement: Placement, y: float) -> Iterator[Item]:
    """An arrow with the grain, its head towards the top of the piece."""
    left, _, right, _ = shape.bounds
    run = shape.intersection(LineString([(left - 1, y), (right + 1, y)]))
    if placement.angle % 180 != 0 or run.is_empty:
        return
    longest = max(shapely.get_parts(run), key=lambda part: part.length)
    x0, x1 = sorted(x for x, _ in (longest.coords[0], longest.coords[-1]))
    spare = (x1 - x0) * 0.2
    tail, tip = Point(x0 + spare, y), Point(x1 - spare, y)
    if placement.angle % 360 == 180:
        tail, tip = tip, tail
    if tail.distance(tip) > 3 * HEAD:
        yield Stroke(_line(tail, tip), "grain")
        yield arrow_head(tip, tail.to(tip), HEAD)


# ---- the words -------------------------------------------------------------------------------------


def _heading(plan: LayPlan, title: str, table: Table, at: _Scale) -> Iterator[Item]:
    top = at(0, table.high).y
    yield Words(title, Point(0, top + 1.05), TITLE, bold=True)
    yield Words(_facts(plan), Point(0, top + 0.62), NOTE)


def _facts(plan: LayPlan) -> str:
    cloth = plan.problem.cloth
    left = f"; {cloth.length - plan.length:.0f} cm left over" if cloth.length else ""
    proved = "; no shorter lay exists for this layering" if plan.optimal else ""
    return (
        f"{str(plan.layering).capitalize()}: {plan.length / 100:.2f} m of cloth {cloth.width:.0f} cm wide, "
        f"{plan.waste:.0%} falls away{left}{proved}"
    )


def how_to_fold(plan: LayPlan) -> str:
    """One sentence for the table."""
    return {
        "single layer": "Lay the cloth open, right side up.",
        "folded lengthwise": "Fold the cloth lengthwise, right sides in, selvedge on selvedge.",
        "selvedges to the centre": "Fold both selvedges to the centre, right sides in, until they meet.",
        "partial fold": "Fold one selvedge in, right sides in, until "
        f"{plan.layering.depth or 0:.0f} cm lie double; the rest lies single, right side up.",
    }[plan.layering.name]


NAP_WORDS = {
    "one-way": "The cloth has one way: every arrow points the same way.",
    "two-way": "Pieces may point up or down the cloth.",
    "none": "Pieces may point up or down the cloth.",
}


def _foot(plan: LayPlan, table: Table, at: _Scale) -> Iterator[Item]:
    y = -1.1
    length = min(BAR, 10 * int(_shown(plan) / 10) or 10.0) * at.scale
    yield Stroke(
        polyline([Point(0, y + 0.12), Point(0, y), Point(length, y), Point(length, y + 0.12)]), "square"
    )
    yield Words(f"{length / at.scale:.0f} cm of cloth", Point(length + 0.15, y), END_LABEL)
    notes = [
        f"{how_to_fold(plan)} {NAP_WORDS[plan.problem.cloth.nap]}",
        "Lay all pieces before the first cut, then cut from the left. Numbers are those of the pieces; arrows",
        "point to the top of a piece. Hatched: the paper lies face down. Mark wrong sides as you cut.",
    ]
    for i, note in enumerate(notes):
        yield Words(note, Point(0, y - 0.6 - i * NOTE * 1.45), NOTE)


def _line(a: Point, b: Point) -> Curve:
    return Curve((Line(a, b),))
