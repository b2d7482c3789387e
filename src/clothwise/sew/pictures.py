"""A picture for every step, made from the garment's own pieces as they lie when its turn comes.

Right side hatched, wrong side plain, what is joined already grey; this step's stitching heavy. Face to face
seams show the upper piece with a corner laid back, where there is one free.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Point
from clothwise.garment import Garment, Piece, Run
from clothwise.garment.allowance import notch_marks
from clothwise.paper import font
from clothwise.sew.ink import XY, Anchor, Area, Face, Item, Label, Line, Path, Picture, beside, cropped
from clothwise.sew.phrases import edge_name
from clothwise.sew.placing import (
    Copy,
    Laid,
    Lie,
    crease,
    flat,
    opened_out,
    partner,
    run_ends,
    shape,
    strip,
    upright,
)
from clothwise.sew.rounds import round_picture, whole_picture
from clothwise.sew.step import Join, Step

PRINTED = 85.0  # mm: about the height a picture has on the page; small signs are sized by it
WIDE = 76.0  # mm: and its width
NOTCH = 1.6  # mm
BELOW_FORK = 34.0  # cm of leg shown under the crotch
BETWEEN = 8.0  # cm between pieces in a row
PEEL = 0.42  # of the piece's width: how far a corner is laid back


@dataclass
class Done:
    """What is sewn and turned before a step."""

    lines: dict[Copy, set[str]] = field(default_factory=dict)
    joins: list[Join] = field(default_factory=list)
    pockets: dict[Copy, list[str]] = field(default_factory=dict)

    def after(self, steps: Sequence[Step]) -> Done:
        for step in steps:
            for join in step.joins:
                for run in (*join.a, *join.b):
                    self.lines.setdefault((run.piece, run.side), set()).add(run.line)
                if step.kind == "patch":
                    ground = join.b[0]
                    self.pockets.setdefault((ground.piece, ground.side), []).append(ground.line)
                else:
                    self.joins.append(join)
            if step.kind == "turn":
                for run in step.edges:
                    self.lines.setdefault((run.piece, run.side), set()).add(run.line)
        return self

    def joined(self, laid: Laid) -> bool:
        copy = (laid.piece.name, laid.side)
        in_seam = any((r.piece, r.side) == copy for j in self.joins for r in (*j.a, *j.b))
        return in_seam or copy in self.pockets


def step_picture(garment: Garment, steps: Sequence[Step], number: int) -> Picture:
    """The picture of the step of that number (from 1)."""
    step = steps[number - 1]
    done = Done().after(steps[: number - 1])
    if step.kind == "seam" and step.tube == "nested":
        return _nested(garment, done, step)
    if step.kind == "seam" and step.joins:
        return _seam(garment, done, step)
    if step.kind == "patch":
        return _patch(garment, done, step)
    if step.kind in ("neaten", "stay", "mark", "seam"):
        return _all_pieces(garment, done, step)
    if step.kind == "fold in" or (step.kind == "turn" and not step.round):
        return _small_piece(garment, done, step)
    if step.kind in ("turn", "elastic"):
        return round_picture(garment, step)
    return whole_picture(garment)


# ---- copies ------------------------------------------------------------------------------------


def _unit(height: float) -> float:
    """cm of drawing for 1 mm of paper in a picture that high."""
    return height / PRINTED


def _face(laid: Laid, done: Done) -> Face:
    if done.joined(laid):
        return "joined right" if laid.right_side_up else "joined wrong"
    return "right" if laid.right_side_up else "wrong"


def _shape(laid: Laid, done: Done) -> BaseGeometry:
    return laid.lie.shape(shape(laid.piece, done.lines.get((laid.piece.name, laid.side), ())))


def _copy_items(garment: Garment, laid: Laid, done: Done) -> list[Item]:
    items: list[Item] = [Area(_shape(laid, done), _face(laid, done))]
    set_on = done.pockets.get((laid.piece.name, laid.side), [])
    for mark in laid.piece.marks:
        points = laid.line(mark.name)
        if mark.name in set_on:
            if laid.right_side_up:
                items.append(Area(Polygon(points), "joined right"))
            else:
                items.append(Path((*points, points[0]), "hidden"))
        elif mark.kind == "placement" and laid.right_side_up:
            items.append(Path((*points, points[0]) if len(points) > 2 else points, "hidden"))
    return items


def _name(laid: Laid, size: float = 2.9) -> Label:
    """The piece's name in the thick of it."""
    inside = laid.lie.shape(shape(laid.piece))
    x, y = inside.centroid.x, inside.centroid.y
    return Label(laid.piece.title, (x, y), size)


def _edge_words(laid: Laid, unit: float, gone: Iterable[str] = ()) -> list[Item]:
    """'waist' and 'hem' beside their edges, to tell which way up; `gone` are edges folded away."""
    labels: list[Item] = []
    middle = laid.lie.shape(shape(laid.piece)).centroid
    for edge in laid.piece:
        if edge.kind in ("casing", "hem"):
            x, y = laid.lie.point(edge.curve.at_length(edge.curve.length() / 2))
            dx, dy = x - middle.x, y - middle.y
            size = math.hypot(dx, dy) or 1.0
            out = (0.0 if edge.name in gone else edge.allowance) + 2.4 * unit
            labels.append(Label(edge_name(edge.name), (x + dx / size * out, y + dy / size * out - unit), 2.4))
    return labels


def _notches(
    laid: Laid, lines: Sequence[str], signs: Sequence[str], unit: float, *, inside: bool = False
) -> list[Item]:
    """Ticks at the notches of the edges in work, with their signs: outside, or where a curve leaves no room
    there, on the piece."""
    items: list[Item] = []
    for mark in notch_marks(laid.piece):
        if mark.edge not in lines or (signs and mark.sign not in signs):
            continue
        tip, out = laid.lie.point(mark.on_cut), laid.lie.point(mark.on_cut.go(mark.outward))
        way = tip.to(out)
        for k in range(mark.count):
            base = tip.go(way.left(), (k - (mark.count - 1) / 2) * 1.3 * unit)
            tick = base.go(way, -NOTCH * unit)
            items.append(Path(((base.x, base.y), (tick.x, tick.y)), "arrow"))
        at = tip.go(way, (-2.2 - NOTCH if inside else 1.6) * unit)
        out_x = -way.x if inside else way.x
        anchor: Anchor = "start" if out_x > 0.3 else ("end" if out_x < -0.3 else "middle")
        items.append(Label(mark.sign, (at.x, at.y - unit), 2.3, anchor))
    return items


# ---- seams -------------------------------------------------------------------------------------


def _seam(garment: Garment, done: Done, step: Step) -> Picture:
    """Face to face: the lower layer, the upper on it, the seam."""
    join = step.joins[0]
    french = step.facing == "wrong sides together"
    b = join.b[0]
    root = Laid(garment.piece(b.piece), b.side, flat(b.side, right_side_up=not french))
    over_root = partner(garment, root, b, join.a[0], over=True)
    if step.tube == "closes each":
        under, over = [root], [over_root]
    else:
        root = upright(garment, root, done.joins)
        over_root = partner(garment, root, b, join.a[0], over=True)
        under = opened_out(garment, root, done.joins)
        over = opened_out(garment, over_root, done.joins)
    lower = shapely.union_all([_shape(laid, done) for laid in under])
    unit = _unit(lower.bounds[3] - lower.bounds[1])
    items: list[Item] = []
    if step.joined and step.tube != "closes each":
        items += [_shadow(laid, done, unit) for laid in under]
    for laid in under:
        items += _copy_items(garment, laid, done)
    peeled = len(over) == 1 and not step.tube
    for laid in over:
        items += _peeled(garment, laid, done, join) if peeled else _copy_items(garment, laid, done)
    for laid in over:
        for one in step.joins:
            for run in one.a:
                if (laid.piece.name, laid.side) == (run.piece, run.side):
                    items += [
                        Path(laid.line(run.line), "seam"),
                        *_notches(laid, [run.line], step.notches, unit),
                    ]
    items += [_name(laid) for laid in over]
    items += _edge_words(over[0], unit)
    return Picture(tuple(items), f"{step.title}: {_faces(step)}, stitched along the heavy line.")


def _faces(step: Step) -> str:
    return step.facing


def _shadow(laid: Laid, done: Done, unit: float) -> Item:
    """The lower layer peeps out a little, so that two layers are seen."""
    return Area(affinity.translate(_shape(laid, done), 1.1 * unit, -1.1 * unit), _face(laid, done))


def _peeled(garment: Garment, laid: Laid, done: Done, join: Join) -> list[Item]:
    """The upper piece with the corner furthest from the seam laid back, so that its other face shows."""
    whole = _shape(laid, done)
    seam = shapely.union_all([LineString(laid.line(run.line)) for run in join.a])
    hems = [edge.curve for edge in laid.piece if edge.kind == "hem"] or [e.curve for e in laid.piece]
    corners = [laid.lie.point(p) for curve in hems for p in (curve.start, curve.end)]
    corner = max(corners, key=lambda c: float(seam.distance(shapely.Point(c))))
    middle = whole.centroid
    inward = corner.to(Point(middle.x, corner.y + (10.0 if middle.y > corner.y else -10.0))).unit()
    depth = PEEL * min(float(seam.distance(shapely.Point(corner))), 24.0)
    on = corner.go(inward, depth)
    far = 400.0
    left, right = on.go(inward.left(), far), on.go(inward.right(), far)
    keep = Polygon([left, right, right.go(inward, far), left.go(inward, far)])
    kept, cut = whole.intersection(keep), whole.difference(keep)
    # Reflected in the fold line: along `inward` the distance to the line changes sign.
    nx, ny = inward
    d = nx * on.x + ny * on.y
    flap = affinity.affine_transform(
        cut, [1 - 2 * nx * nx, -2 * nx * ny, -2 * nx * ny, 1 - 2 * ny * ny, 2 * d * nx, 2 * d * ny]
    )
    face = _face(laid, done)
    swap: dict[Face, Face] = {
        "right": "wrong", "wrong": "right", "joined right": "joined wrong", "joined wrong": "joined right",
    }  # fmt: skip
    items = [i for i in _copy_items(garment, laid, done)[1:] if isinstance(i, Path)]
    return [Area(kept, face), *items, Area(flap.intersection(keep), swap[face])]


# ---- one tube in the other ---------------------------------------------------------------------


def _nested(garment: Garment, done: Done, step: Step) -> Picture:
    """Two tubes side by side, the one right side out on its way into the other; there the seam as a U."""
    join = step.joins[0]
    inner = _tube(garment, done, step, join.b, right_side_out=True, seam=False)
    outer = _tube(garment, done, step, join.a, right_side_out=False, seam=True)
    left, bottom, right, top = outer.bounds()
    gap = (right - left) * 0.24
    row = beside([inner, outer], gap)
    width = inner.bounds()[2] - inner.bounds()[0]
    y = (top - bottom) * 0.62
    arrow = [(width + gap * 0.12, y), (width + gap * 0.88, y)]
    head = [(arrow[1][0] - gap * 0.2, y + gap * 0.12), arrow[1], (arrow[1][0] - gap * 0.2, y - gap * 0.12)]
    items = (*row.items, Path(tuple(arrow), "arrow"), Path(tuple(head), "arrow"))
    return Picture(
        items,
        f"{step.title}: one tube, right side out, is slipped into the other, inside out; both layers are "
        "stitched together along the U.",
    )


def _tube(
    garment: Garment, done: Done, step: Step, runs: tuple[Run, ...], *, right_side_out: bool, seam: bool
) -> Picture:
    """The tube lying with the crossed seam uppermost, cut off where it folds (the crease of each piece)."""
    first, second = runs[0], runs[1]
    crossing = next(
        (a, b) if (a.piece, a.side) == (first.piece, first.side) else (b, a)
        for j in done.joins
        for a, b in zip(j.a, j.b, strict=False)
        if {(a.piece, a.side), (b.piece, b.side)} == {(first.piece, first.side), (second.piece, second.side)}
        and _touches(garment, a if a.piece == first.piece else b, first)
    )
    mine, other = crossing
    corner = run_ends(garment, first)[1]
    near = "start" if run_ends(garment, mine)[0].distance(corner) < 0.5 else "end"
    lie = flat(first.side, right_side_up=right_side_out)
    ends = run_ends(garment, mine, near)
    way = lie.point(ends[0]).to(lie.point(ends[1]))
    turn = (-90.0 if near == "start" else 90.0) - way.angle_deg
    root = Laid(garment.piece(first.piece), first.side, Lie(lie.flipped, turn))
    next_to = partner(garment, root, mine, other, over=False, near=near)
    items: list[Item] = []
    for laid, run in ((root, first), (next_to, second)):
        keep = crease(laid.piece, run_ends(garment, run)[1 if run is first else 0])
        lines = done.lines.get((laid.piece.name, laid.side), set())
        part = laid.lie.shape(shape(laid.piece, lines).intersection(keep))
        items.append(Area(part, _face(laid, done)))
    fork = root.lie.point(corner)
    for laid, run in ((root, first), (next_to, second)):
        if seam:
            items.append(Path(laid.line(run.line), "seam"))
    picture = cropped(Picture(tuple(items)), fork.y - BELOW_FORK, 1e3)
    left, _, right, _ = picture.bounds()
    unit = 2.3 * (right - left) / WIDE
    words: list[Item] = []
    for laid, run in ((root, first), (next_to, second)):
        if seam:
            words += _notches(laid, [run.line], step.notches, unit, inside=True)
    areas = [item.shape.bounds for item in picture.items if isinstance(item, Area)]
    for laid, box in zip((root, next_to), areas, strict=True):
        words.append(Label(laid.piece.title, ((box[0] + box[2]) / 2, fork.y - 0.3 * BELOW_FORK), 2.1))
    foot = picture.bounds()[1] - 4 * unit
    words.append(Label("right side out" if right_side_out else "inside out", (fork.x, foot), 2.4, bold=True))
    return Picture((*picture.items, *words))


def _touches(garment: Garment, edge: Run, run: Run) -> bool:
    """Whether an edge meets the end of a run on the same piece."""
    end = run_ends(garment, run)[1]
    return min(p.distance(end) for p in run_ends(garment, edge)) < 0.5


# ---- pieces by themselves ----------------------------------------------------------------------


def _all_pieces(garment: Garment, done: Done, step: Step) -> Picture:
    """Every piece once, side by side; edges in work heavy."""
    lines: dict[str, list[str]] = {}
    for run in step.edges:
        lines.setdefault(run.piece, []).append(run.line)
    shown = [piece for piece in garment.pieces if not lines or piece.name in lines]
    boxes = [shape(piece).bounds for piece in shown]
    across = sum(box[2] - box[0] for box in boxes) + BETWEEN * (len(boxes) - 1)
    unit = max(_unit(max(box[3] - box[1] for box in boxes)), across / WIDE)
    row: list[Picture] = []
    for piece in shown:
        laid = Laid(piece, "as drawn", flat("as drawn", right_side_up=step.facing == "right side up"))
        items = _copy_items(garment, laid, done)
        for name in lines.get(piece.name, []):
            line: Line = "bold" if step.kind == "neaten" else "seam"
            items.append(Path(_at_edge(laid, name, step), line))
        items += _edge_words(laid, unit)
        items += _named(laid, unit, step)
        row.append(Picture(tuple(items)))
    return beside(row, BETWEEN, f"{step.title}: the pieces side by side, the edges in work heavy.")


def _named(laid: Laid, unit: float, step: Step) -> list[Item]:
    """The name in the piece, or under it where it is too small; for marking also how many, and which way up."""
    label = _name(laid)
    left, bottom, right, _ = laid.lie.shape(shape(laid.piece)).bounds
    roomy = font.width(label.text, label.size) * unit < 0.85 * (right - left)
    x, y = label.at if roomy else ((left + right) / 2, bottom - 6.5 * unit)
    items: list[Item] = [replace(label, at=(x, y))]
    if step.kind == "mark":
        items.append(Label(f"× {laid.piece.copies}", (x, y - 4 * unit), 2.6))
        foot = y + 5 * unit if roomy else bottom + 2 * unit
        items += _arrow((x, foot), (x, foot + 8 * unit), unit)
    return items


def _at_edge(laid: Laid, name: str, step: Step) -> tuple[XY, ...]:
    """Along the cut edge when it is neatened, along the stitching when it is stayed."""
    edge = laid.piece.edge(name)
    out = edge.allowance - (step.allowance if step.kind == "stay" else 0.0)
    curve = LineString(edge.curve.flattened(tolerance=0.05)).parallel_offset(max(out, 0.01), "right")
    rim = LineString(shape(laid.piece).exterior.coords)
    near = rim.intersection(curve.buffer(0.25, cap_style="flat")) if step.kind == "neaten" else curve
    parts = getattr(shapely.line_merge(near) if near.geom_type == "MultiLineString" else near, "geoms", [near])
    longest = max((p for p in _flat_parts(parts, near)), key=lambda p: p.length)
    return tuple(tuple(laid.lie.point(Point(*p))) for p in longest.coords)  # type: ignore[misc]


def _flat_parts(parts: object, whole: BaseGeometry) -> list[LineString]:
    merged = shapely.line_merge(whole) if whole.geom_type == "MultiLineString" else whole
    return [p for p in getattr(merged, "geoms", [merged]) if isinstance(p, LineString)]


def _arrow(low: XY, high: XY, unit: float) -> list[Item]:
    x, y = high
    return [
        Path((low, high), "arrow"),
        Path(((x - 1.2 * unit, y - 2 * unit), high, (x + 1.2 * unit, y - 2 * unit)), "arrow"),
    ]


def _small_piece(garment: Garment, done: Done, step: Step) -> Picture:
    """A pocket, wrong side up: what is folded over shows its right side."""
    piece = garment.piece(step.edges[0].piece)
    laid = Laid(piece, "as drawn", flat("as drawn", right_side_up=False))
    folded = {run.line for run in step.edges}
    gone = done.lines.get((piece.name, "as drawn"), set()) | folded
    items: list[Item] = [Area(laid.lie.shape(shape(piece, gone)), "wrong")]
    unit = (shape(piece).bounds[3] - shape(piece).bounds[1]) / 50.0
    for name in sorted(gone):
        edge = piece.edge(name)
        depth = step.turn - step.fold_in if name in folded and step.kind == "turn" else edge.allowance
        if name not in folded:
            depth = next(
                (f.turn - f.fold_in for f in garment.free_edges if any(r.line == name for r in f.runs)), depth
            )
        flap = strip(edge, depth).intersection(shape(piece, gone))
        items.append(Area(laid.lie.shape(flap), "right"))
    for name in sorted(folded):
        if step.kind == "turn":
            items.append(Path(_inside(piece, laid, name, step.turn - step.fold_in - step.allowance), "seam"))
        else:
            items.append(Path(laid.line(name), "bold"))
    items.append(_name(laid))
    items += _edge_words(laid, unit, gone)
    return Picture(tuple(items), f"{step.title}: the piece wrong side up, its edge folded over.")


def _inside(piece: Piece, laid: Laid, name: str, depth: float) -> tuple[XY, ...]:
    """A line inside an edge at that depth, from rim to rim."""
    edge = piece.edge(name)
    curve = LineString(edge.curve.flattened(tolerance=0.05)).parallel_offset(depth, "left")
    return tuple(tuple(laid.lie.point(Point(*p))) for p in curve.coords)  # type: ignore[misc]


def _patch(garment: Garment, done: Done, step: Step) -> Picture:
    """The ground right side up with the pocket on its place."""
    join = step.joins[0]
    ground = join.b[0]
    laid = Laid(garment.piece(ground.piece), ground.side, flat(ground.side, right_side_up=True))
    items = _copy_items(garment, laid, done)
    points = laid.line(ground.line)
    unit = _unit(shape(laid.piece).bounds[3] - shape(laid.piece).bounds[1])
    pocket = Polygon(points)
    items.append(Area(pocket, "right"))
    inner = pocket.buffer(-max(step.allowance, 0.9 * unit), join_style="mitre")
    along = LineString(points).buffer(2.0 * unit, cap_style="flat")
    for part in _flat_parts((), inner.exterior.intersection(along)):
        items.append(Path(tuple((x, y) for x, y in part.coords), "seam"))
    patch = garment.piece(join.a[0].piece)
    middle = (pocket.centroid.x, pocket.centroid.y)
    items += [_name(laid), Label(patch.title, middle, 2.2), *_edge_words(laid, unit)]
    return Picture(tuple(items), f"{step.title}: the pocket on its place, stitched along the heavy line.")
