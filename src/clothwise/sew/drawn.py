"""Cut copies drawn as they lie: their faces, names, notches and marks, and what is sewn before a step."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from shapely.geometry import MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.garment import Edge, Garment, Piece
from clothwise.garment.allowance import notch_marks
from clothwise.sew.ink import Anchor, Area, Face, Item, Label, Path
from clothwise.sew.placing import Copy, Laid, shape
from clothwise.sew.step import Join, Step

PRINTED = 85.0  # mm: about the height a picture has on the page; small signs are sized by it
WIDE = 76.0  # mm: and its width
NOTCH = 1.6  # mm


@dataclass
class Done:
    """What is sewn and turned before a step."""

    lines: dict[Copy, set[str]] = field(default_factory=dict)
    joins: list[Join] = field(default_factory=list)
    pockets: dict[Copy, list[str]] = field(default_factory=dict)

    def after(self, steps: Sequence[Step]) -> Done:
        for step in steps:
            for join in step.joins:
                for run in join.runs:
                    self.lines.setdefault(run.copy, set()).add(run.line)
                if step.kind == "patch":
                    ground = join.b[0]
                    self.pockets.setdefault(ground.copy, []).append(ground.line)
                else:
                    self.joins.append(join)
            if step.kind in ("turn", "band", "zip"):
                for run in step.edges:
                    self.lines.setdefault(run.copy, set()).add(run.line)
        return self

    def joined(self, laid: Laid) -> bool:
        in_seam = any(run.copy == laid.copy for join in self.joins for run in join.runs)
        return in_seam or laid.copy in self.pockets


# ---- copies ------------------------------------------------------------------------------------


def unit_of(height: float) -> float:
    """cm of drawing for 1 mm of paper in a picture that high."""
    return height / PRINTED


def face(laid: Laid, done: Done) -> Face:
    if done.joined(laid):
        return "joined right" if laid.right_side_up else "joined wrong"
    return "right" if laid.right_side_up else "wrong"


def laid_shape(laid: Laid, done: Done) -> BaseGeometry:
    return laid.lie.shape(shape(laid.piece, done.lines.get(laid.copy, ())))


def once(laid: Iterable[Laid]) -> list[Laid]:
    """Each cut piece once: of a piece on the fold, laid open, one of its halves stands for both."""
    seen: set[tuple[str, str, int]] = set()
    found = []
    for one in laid:
        key = (one.piece.name, "" if one.piece.fold else one.side, one.number)
        if key not in seen:
            seen.add(key)
            found.append(one)
    return found


def copy_items(garment: Garment, laid: Laid, done: Done) -> list[Item]:
    items: list[Item] = [Area(laid_shape(laid, done), face(laid, done))]
    set_on = done.pockets.get(laid.copy, [])
    for mark in laid.piece.marks:
        points = laid.line(mark.name)
        if mark.name in set_on and len(points) < 3:
            items.append(Path(points, "outline"))
        elif mark.name in set_on:
            if laid.right_side_up:
                items.append(Area(pocket_area(garment, [laid], mark.name), "joined right"))
            else:
                items.append(Path((*points, points[0]), "hidden"))
        elif mark.kind == "placement" and laid.right_side_up:
            items.append(Path((*points, points[0]) if len(points) > 2 else points, "hidden"))
    return items


def pocket_area(garment: Garment, halves: Iterable[Laid], line: str) -> Polygon:
    """All that a pocket covers: what lies within the lines by which it is sewn to its ground."""
    halves = list(halves)
    ground = halves[0].piece.name
    patch = next(s.a[0].piece for s in garment.seams for r in s.b if (r.piece, r.line) == (ground, line))
    lines = [
        run.line
        for seam in garment.seams
        if any(run.piece == patch for run in seam.a)
        for run in seam.b
        if run.piece == ground and garment.edge_of(run) is None
    ]
    points = [point for half in halves for name in dict.fromkeys(lines) for point in half.line(name)]
    hull = MultiPoint(points).convex_hull
    return hull if isinstance(hull, Polygon) else Polygon()


def name_label(laid: Laid, size: float = 2.9) -> Label:
    """The piece's name in the thick of it."""
    inside = laid.lie.shape(shape(laid.piece))
    x, y = inside.centroid.x, inside.centroid.y
    return Label(laid.piece.title, (x, y), size)


def edge_words(laid: Laid, unit: float, gone: Iterable[str] = ()) -> list[Item]:
    """'waist' and 'hem' beside their edges, to tell which way up; `gone` are edges folded away."""
    labels: list[Item] = []
    middle = laid.lie.shape(shape(laid.piece)).centroid
    for edge in laid.piece:
        if edge.kind in ("casing", "hem") and runs_across_grain(laid.piece, edge):
            x, y = laid.lie.point(edge.curve.at_length(edge.curve.length() / 2))
            dx, dy = x - middle.x, y - middle.y
            size = math.hypot(dx, dy) or 1.0
            out = (0.0 if edge.name in gone else edge.allowance) + 2.4 * unit
            at = (x + dx / size * out, y + dy / size * out - unit)
            labels.append(Label(edge.name, at, 2.4, kind="edge"))
    return labels


def runs_across_grain(piece: Piece, edge: Edge) -> bool:
    """Whether an edge lies across the piece, as hem and waist do and a front edge does not."""
    way = edge.curve.start.to(edge.curve.end)
    grain = piece.grain[0].to(piece.grain[1])
    return abs(way.cross(grain)) > abs(way.dot(grain))


def notches(
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
        items.append(Label(mark.sign, (at.x, at.y - unit), 2.3, anchor, kind="sign"))
    return items
