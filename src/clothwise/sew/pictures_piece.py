"""Pieces by themselves: marked, fused, neatened, darted, gathered, creased, folded, with zip or buttons."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Point
from clothwise.garment import Garment, Piece
from clothwise.garment.growth_tuck import growth_tucks
from clothwise.paper import font
from clothwise.sew.drawn import (
    PRINTED,
    WIDE,
    Done,
    copy_items,
    edge_words,
    face,
    laid_shape,
    name_label,
    notches,
    once,
    pocket_area,
    unit_of,
)
from clothwise.sew.ink import XY, Area, Item, Label, Line, Path, Picture, beside
from clothwise.sew.placing import Laid, net, on_table, opened_out, other_half, shape, strip, upright
from clothwise.sew.pleats import pleats_of
from clothwise.sew.step import Step

BETWEEN = 8.0  # cm between pieces in a row
MOST_IN_ROW = 4  # pieces of a turned edge shown; the others are alike
ROW_OUT = 0.3  # cm: rows of long stitches are drawn so far outside the seam line
SHOWN_BESIDE = 0.35  # cm: stitching close to the teeth is drawn so far from them, to be seen
ARROW_AT = 3.0  # cm down from the edge, halfway down the lines of a pleat
TAPE = 0.8  # cm: half the width of a zip's tape as drawn


def row_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """Every piece in work once, side by side; edges in work heavy."""
    lines: dict[str, list[str]] = {}
    for run in step.edges:
        lines.setdefault(run.piece, []).append(run.line)
    shown = [piece for piece in garment.pieces if not lines or piece.name in lines]
    boxes = [shape(piece).bounds for piece in shown]
    across = sum(box[2] - box[0] for box in boxes) + BETWEEN * (len(boxes) - 1)
    unit = max(unit_of(max(box[3] - box[1] for box in boxes)), across / WIDE)
    row: list[Picture] = []
    for piece in shown:
        laid = on_table(garment, (piece.name, "as drawn", 0), right_side_up=step.facing == "right side up")
        items = copy_items(garment, laid, done)
        halves = [laid, *other_half(laid)]
        if step.kind == "fuse":
            items += [Area(half.lie.shape(net(piece)), "elastic", None) for half in halves]
        elif step.kind in ("eyelet", "buttons"):
            names = lines.get(piece.name) or _button_marks(piece)
            items += [Path(half.line(name), "bold") for half in halves for name in names]
        else:
            for name in dict.fromkeys(lines.get(piece.name, [])):
                line: Line = "bold" if step.kind == "neaten" else "seam"
                items += [Path(_at_edge(half, name, step), line) for half in halves]
        if step.kind == "gather":
            items += notches(laid, lines[piece.name], step.notches, unit)
        items += edge_words(laid, unit)
        items += _named(laid, unit, step, lower=len(row) % 2 == 1)
        row.append(Picture(tuple(items)))
    return beside(row, BETWEEN, "row")


def _button_marks(piece: Piece) -> list[str]:
    return [mark.name for mark in piece.marks if mark.kind in ("button", "buttonhole")]


def buttons_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """The pieces that carry buttons or holes, right side up."""
    marked = tuple(piece for piece in garment.pieces if _button_marks(piece))
    return row_picture(replace(garment, pieces=marked or garment.pieces[:1]), done, step)


def _named(laid: Laid, unit: float, step: Step, *, lower: bool) -> list[Item]:
    """The name in the piece, or under it where it is too small; for marking also how many, and which way up."""
    label = name_label(laid)
    left, bottom, right, top = laid.lie.shape(shape(laid.piece)).bounds
    roomy = font.width(label.text, label.size) * unit < 0.85 * (right - left) and top - bottom > 8 * unit
    below = (10.5 if lower else 6.5) + (
        3.5 if lower and step.kind == "mark" else 0.0
    )  # names beside do not touch
    x, y = label.at if roomy else ((left + right) / 2, bottom - below * unit)
    items: list[Item] = [replace(label, at=(x, y))]
    if step.kind == "mark":
        items.append(Label(f"× {laid.piece.copies}", (x, y - 4 * unit), 2.6))
        foot = y + 5 * unit if roomy else bottom + 2 * unit
        if top - bottom > 12 * unit:
            items += _arrow((x, foot), (x, foot + 8 * unit), unit)
    return items


def _at_edge(laid: Laid, name: str, step: Step) -> tuple[XY, ...]:
    """Along the cut edge when it is neatened, along the stitching when it is stayed or gathered."""
    edge = laid.piece.edge(name)
    out = {"stay": edge.allowance - step.allowance, "gather": ROW_OUT, "pleat": ROW_OUT}.get(
        step.kind, edge.allowance
    )
    curve = LineString(edge.curve.flattened(tolerance=0.05)).parallel_offset(max(out, 0.01), "right")
    rim = LineString(shape(laid.piece).exterior.coords)
    near = rim.intersection(curve.buffer(0.25, cap_style="flat")) if step.kind == "neaten" else curve
    longest = max(
        line_parts(near) or [LineString(edge.curve.flattened(tolerance=0.05))], key=lambda p: p.length
    )
    return tuple(tuple(laid.lie.point(Point(*p))) for p in longest.coords)  # type: ignore[misc]


def line_parts(whole: BaseGeometry) -> list[LineString]:
    merged = shapely.line_merge(whole) if whole.geom_type == "MultiLineString" else whole
    return [p for p in getattr(merged, "geoms", [merged]) if isinstance(p, LineString)]


def _arrow(low: XY, high: XY, unit: float) -> list[Item]:
    x, y = high
    return [
        Path((low, high), "arrow"),
        Path(((x - 1.2 * unit, y - 2 * unit), high, (x + 1.2 * unit, y - 2 * unit)), "arrow"),
    ]


# ---- darts -------------------------------------------------------------------------------------


def dart_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """The piece wrong side up, the legs of its darts heavy."""
    piece = garment.piece(step.name.removesuffix(" darts"))
    laid = on_table(garment, (piece.name, "as drawn", 0), right_side_up=False)
    items = copy_items(garment, laid, done)
    for half in (laid, *other_half(laid)):
        for dart in piece.darts:
            items.append(Path(half.lie.points(dart.drawn), "seam"))
            middle = dart.first_leg.between(dart.second_leg)
            items.append(Path(half.lie.points((middle, dart.tip)), "fold"))
    left, bottom, right, top = laid_shape(laid, done).bounds
    unit = max(unit_of(top - bottom), (right - left) / WIDE)
    items += [name_label(laid), *edge_words(laid, unit)]
    return Picture(tuple(items), "darts")


# ---- pleats ------------------------------------------------------------------------------------


def pleat_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """Each piece right side up: the line each fold is made on, an arrow to where it comes, the basting."""
    names = dict.fromkeys((run.piece, run.line) for run in step.edges)
    row: list[Picture] = []
    for name, line in names:
        piece = garment.piece(name)
        laid = on_table(garment, (name, "as drawn", 0), right_side_up=True)
        left, bottom, right, top = shape(piece).bounds
        unit = max(unit_of(top - bottom), (right - left) * len(names) / WIDE)
        items = copy_items(garment, laid, done)
        for half in (laid, *other_half(laid)):
            for pleat in pleats_of(piece, line):
                items += [
                    Path(half.lie.points(pleat.fold.flattened(tolerance=0.05)), "fold"),
                    Path(half.lie.points(pleat.meets.flattened(tolerance=0.05)), "hidden"),
                    *_pointing(half, pleat.fold.at_length(ARROW_AT), pleat.meets.at_length(ARROW_AT), unit),
                ]
            items.append(Path(_at_edge(half, line, step), "seam"))
        items += [*edge_words(laid, unit), name_label(laid)]
        row.append(Picture(tuple(items)))
    return beside(row, BETWEEN, "pleats")


def tuck_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """Each piece right side up with the lines of its growth tucks: the fold, and the two that are stitched."""
    names = list(dict.fromkeys((run.piece, run.line) for run in step.edges))[:MOST_IN_ROW]
    row: list[Picture] = []
    for name, line in names:
        laid = on_table(garment, (name, "as drawn", 0), right_side_up=True)
        left, bottom, right, top = shape(garment.piece(name)).bounds
        unit = max(unit_of(top - bottom), (right - left) * len(names) / WIDE)
        items = copy_items(garment, laid, done)
        for half in (laid, *other_half(laid)):
            for tuck in growth_tucks(garment.piece(name), line):
                lower, fold, upper = (
                    half.lie.points(curve.flattened(tolerance=0.05))
                    for curve in (tuck.lower, tuck.fold, tuck.upper)
                )
                items += [Path(lower, "seam"), Path(fold, "fold"), Path(upper, "seam")]
        row.append(Picture((*items, *edge_words(laid, unit), name_label(laid))))
    return beside(row, BETWEEN, "tucks")


def _pointing(laid: Laid, tail: Point, tip: Point, unit: float) -> list[Item]:
    """An arrow across a piece, from point to point."""
    a, b = laid.lie.point(tail), laid.lie.point(tip)
    way = b.to(a).unit()
    barbs = [b.go(way.turned(deg), min(1.6 * unit, a.distance(b) / 2)) for deg in (30.0, -30.0)]
    ends = [(barbs[0].x, barbs[0].y), (b.x, b.y), (barbs[1].x, barbs[1].y)]
    return [Path(((a.x, a.y), (b.x, b.y)), "arrow"), Path(tuple(ends), "arrow")]


# ---- edges turned flat -------------------------------------------------------------------------


def turned_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """The pieces of the edge wrong side up: what is folded over shows its right side."""
    names = list(dict.fromkeys(run.piece for run in step.edges))[:MOST_IN_ROW]
    boxes = [shape(garment.piece(name)).bounds for name in names]
    tall = max(box[3] - box[1] for box in boxes)
    across = sum(box[2] - box[0] for box in boxes) + BETWEEN * (len(boxes) - 1)
    unit = max(tall / 50.0 if tall < PRINTED / 3 else unit_of(tall), across / WIDE)
    row = [_turned(garment, done, step, garment.piece(name), unit) for name in names]
    return beside(row, BETWEEN, "turned")


def _turned(garment: Garment, done: Done, step: Step, piece: Piece, unit: float) -> Picture:
    laid = on_table(garment, (piece.name, "as drawn", 0), right_side_up=False)
    folded = {run.line for run in step.edges if run.piece == piece.name}
    before = {
        line for line in done.lines.get(laid.copy, set()) if _depth(garment, step, piece, line, folded) > 0
    }
    gone = before | folded
    sewn = done.lines.get(laid.copy, set()) | folded
    items: list[Item] = [Area(laid.lie.shape(shape(piece, sewn)), face(laid, done))]
    for half in (laid, *other_half(laid)):
        for name in sorted(gone):
            depth = _depth(garment, step, piece, name, folded)
            flap = strip(piece.edge(name), depth).intersection(shape(piece, sewn))
            items.append(Area(half.lie.shape(flap), "right"))
        for name in sorted(folded):
            if step.kind in ("turn", "band"):
                inside = step.turn - step.fold_in if step.kind == "turn" else step.turn
                items.append(Path(_inside(piece, half, name, max(inside - step.allowance, 0.1)), "seam"))
            else:
                items.append(Path(half.line(name), "bold"))
        items += [Path(half.line(mark.name), "fold") for mark in piece.marks if mark.kind == "fold line"]
    label = name_label(laid)
    _, bottom, _, top = laid_shape(laid, done).bounds
    if top - bottom < 8 * unit:
        label = replace(label, at=(label.at[0], bottom - 6.5 * unit))
    items.append(label)
    items += edge_words(laid, unit, gone)
    return Picture(tuple(items))


def _depth(garment: Garment, step: Step, piece: Piece, name: str, folded: Iterable[str]) -> float:
    """How deep an edge is folded over, now or before; nought where it is in a seam. [cm]"""
    if name in folded:
        return step.turn - step.fold_in if step.kind == "turn" else piece.edge(name).allowance
    turned = next(
        (f for f in garment.free_edges if any((r.piece, r.line) == (piece.name, name) for r in f.runs)), None
    )
    if turned is not None:
        return turned.turn - turned.fold_in or turned.turn
    patch = any(
        s.kind == "patch" and any((r.piece, r.line) == (piece.name, name) for r in s.a) for s in garment.seams
    )
    return piece.edge(name).allowance if patch else 0.0


def _inside(piece: Piece, laid: Laid, name: str, depth: float) -> tuple[XY, ...]:
    """A line inside an edge at that depth, from rim to rim."""
    edge = piece.edge(name)
    curve = LineString(edge.curve.flattened(tolerance=0.05)).parallel_offset(depth, "left")
    parts = line_parts(curve) or [LineString(edge.curve.flattened(tolerance=0.05))]
    longest = max(parts, key=lambda p: p.length)
    return tuple(tuple(laid.lie.point(Point(*p))) for p in longest.coords)  # type: ignore[misc]


# ---- patches, zips, rings ----------------------------------------------------------------------


def patch_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """The ground right side up with the pocket on its place."""
    join = step.joins[0]
    ground = join.b[0]
    laid = on_table(garment, ground.copy, right_side_up=True)
    items = copy_items(garment, laid, done)
    halves = {half.side: half for half in (laid, *other_half(laid))}
    points = tuple(
        point
        for run in join.b
        for point in halves.get(run.side, laid).line(run.line)[:: -1 if run.backwards else 1]
    )
    unit = unit_of(shape(laid.piece).bounds[3] - shape(laid.piece).bounds[1])
    pocket = Polygon(points)
    covered = [half for side, half in halves.items() if side in {run.side for run in join.b}]
    whole = pocket_area(garment, covered or [laid], ground.line)
    items.append(Area(whole, "right"))
    inner = pocket.buffer(-max(step.allowance, 0.9 * unit), join_style="mitre")
    along = LineString(points).buffer(2.0 * unit, cap_style="flat")
    for part in line_parts(inner.exterior.intersection(along)):
        items.append(Path(tuple((x, y) for x, y in part.coords), "seam"))
    patch = garment.piece(join.a[0].piece)
    middle = (whole.centroid.x, whole.centroid.y)
    items += [name_label(laid), Label(patch.title, middle, 2.2), *edge_words(laid, unit)]
    return Picture(tuple(items), "patch")


def zip_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """Both sides of the opening beside each other, wrong side up, the zip on the seam."""
    first = step.edges[0]
    root = on_table(garment, first.copy, right_side_up=False)
    root = upright(garment, root, done.joins)
    shown = once(opened_out(garment, root, done.joins, among={run.copy for run in step.edges}))
    items: list[Item] = []
    for laid in shown:
        items += copy_items(garment, laid, done)
    here = [laid for laid in shown if laid.copy in {run.copy for run in step.edges}]
    tapes = [LineString(laid.line(r.line)) for laid in here for r in step.edges if r.copy == laid.copy]
    items.append(Area(shapely.union_all([tape.buffer(TAPE, cap_style="flat") for tape in tapes]), "elastic"))
    for tape in tapes:
        for way in _beside(step):
            for part in line_parts(tape.parallel_offset(abs(way), "left" if way > 0 else "right")):
                items.append(Path(tuple((x, y) for x, y in part.coords), "seam"))
    left, bottom, right, top = shapely.union_all([laid_shape(laid, done) for laid in here]).bounds
    unit = max(unit_of(top - bottom), (right - left) / WIDE)
    items += [item for laid in here for item in (name_label(laid), *edge_words(laid, unit))]
    return Picture(tuple(items), "zip" if step.way == "centred" else f"zip_{step.way}")


def _beside(step: Step) -> tuple[float, float]:
    """How far from the teeth the rows are stitched, left and right. [cm]"""
    off = max(step.allowance, SHOWN_BESIDE)
    return (off, -SHOWN_BESIDE) if step.way == "lapped" else (off, -off)


def ring_picture(step: Step) -> Picture:
    """Elastic lapped into a ring and sewn with a crossed square."""
    half, lap, long = step.elastic_width / 2 or 1.0, 2.5, 12.0
    band = Area(shapely.box(0, -half, long, half), "elastic")
    join = Area(shapely.box(5.0, -half, 5.0 + lap, half), "elastic")
    low, high = -half + 0.2, half - 0.2
    cross = [
        Path(((5.2, low), (4.8 + lap, high)), "seam"),
        Path(((5.2, high), (4.8 + lap, low)), "seam"),
    ]
    label = Label("lapped", (5.0 + lap / 2, -half - 1.2), 2.4, kind="phrase")
    return Picture((band, join, *cross, label), "lapped")
