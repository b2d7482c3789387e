"""The garment as it lies flat when done, front and back, made from its real pieces.

At every height the half width shown is the mean of the front and the back piece there, which is what a
garment laid flat measures. Trouser legs keep that width; where both would need more room than the hips leave
they touch, as cloth does. The waist is drawn in to what the elastic leaves. A picture, not a pattern.

Letters: y height on the pieces, w half width there [cm]; x = 0 the middle of the body.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Polygon

from clothwise.garment import Edge, Garment, Piece
from clothwise.sew.cut_copies import cut_garment, own_mirror
from clothwise.sew.finishing import flat_front as is_flat
from clothwise.sew.flats import flat_picture
from clothwise.sew.ink import XY, Area, Face, Item, Label, Path, Picture
from clothwise.sew.makes import Makes
from clothwise.sew.placing import net
from clothwise.sew.trimmings import DEEPEST, OUTSIDE, depth

STEP = 1.0  # cm between the heights at which widths are read
SPLAY = 0.07  # cm outwards for each cm down from the hip: legs stand a little apart
LEAST_TALL = 10.0  # cm between waist and hem: a full circle's quarter has no heights that run all across it
GATHER_OVER = 14.0  # cm below the waist over which the cloth widens from the elastic to its own width
GATHERS = 15  # little lines that show gathering
GATHERED = 0.5  # cm of half a side drawn in from which gathers are shown
HIP_SHARE = 0.55  # of the rise, from the waist down: where the sides are at the hip


@dataclass(frozen=True, slots=True)
class View:
    """One side of the garment laid flat.

    outer, inner  half outline from the waist down: x of the side, and of the middle or the inside leg
    fork          height of the crotch, or None
    gathered      elastic draws the waist in here
    piece         whose details are shown; its middle edge x by height, to carry its marks over
    """

    ys: tuple[float, ...]
    outer: tuple[float, ...]
    inner: tuple[float, ...]
    fork: float | None
    piece: Piece
    gathered: bool
    middle: Callable[[float], float]
    width: Callable[[float], float]

    @property
    def top(self) -> float:
        return self.ys[0]

    @property
    def bottom(self) -> float:
        return self.ys[-1]

    def half(self) -> list[XY]:
        """Ring of the wearer's left half, seen at the right."""
        down = list(zip(self.outer, self.ys, strict=True))
        up = list(zip(self.inner, self.ys, strict=True))[::-1]
        return [*down, *up]

    def side_at(self, y: float) -> float:
        return _interpolated(self.ys, self.outer, y)

    def inner_at(self, y: float) -> float:
        return _interpolated(self.ys, self.inner, y)

    def carried(self, x: float, y: float) -> XY:
        """A point of the piece on the view."""
        share = abs(x - self.middle(y)) / max(self.width(y), STEP)
        return self.inner_at(y) + share * (self.side_at(y) - self.inner_at(y)), y


def view(garment: Garment, *, front: bool, drawn_in: bool = True) -> View:
    """The front or the back, with its elastic in or not yet; made of the pieces that run from waist to hem."""
    one, other = _panels(garment)
    piece = one if front else other
    fork = _fork(garment, one)
    shapes = net(one), net(other)
    top, bottom = _from_to((one, other))
    ys = [top - i * STEP for i in range(int((top - bottom) / STEP))] + [bottom]
    layers = 4 if one.name == other.name and fork is not None else 2  # one piece goes round the whole leg
    widths = [(_width(shapes[0], y) + _width(shapes[1], y)) / layers for y in ys]
    outer, inner = _half_outline(ys, widths, fork)
    waist = _drawn_in(garment, widths[0]) if drawn_in else widths[0]
    outer = [
        x - (widths[0] - waist) * _ease(1 - (top - y) / GATHER_OVER) for x, y in zip(outer, ys, strict=True)
    ]
    centre = _middle(garment, piece)
    width = _reader(net(piece))
    gathered = waist < widths[0] - GATHERED and not (front and is_flat(garment))
    return View(tuple(ys), tuple(outer), tuple(inner), fork, piece, gathered, centre, width)


def _from_to(panels: tuple[Piece, Piece]) -> tuple[float, float]:
    """From where the waist edges have both begun to where the first hem begins: full widths all the way."""
    top = min(_heights(panel, "casing", net(panel))[0] for panel in panels)
    bottom = max(_heights(panel, "hem", net(panel))[1] for panel in panels)
    return top, bottom


def _heights(piece: Piece, kind: str, shape: Polygon) -> tuple[float, float]:
    """Lowest and highest point of the edges of a kind; of the whole piece where it has none."""
    hems = [e for e in piece if e.name == kind] or [e for e in piece if e.kind == kind]  # a stand is no hem
    edges = _upper(piece) if kind == "casing" else hems
    ys = [p.y for e in edges for p in e.curve.flattened(tolerance=STEP / 10)]
    ends = (shape.bounds[3], shape.bounds[1])
    return (min(ys), max(ys)) if ys else ends


def stands(garment: Garment) -> bool:
    """Whether it hangs from the waist in panels that run from there to the hem: skirts and trousers."""
    necked = any("neck" in edge.name for piece in garment.pieces for edge in piece)
    if necked or not _tall(garment):
        return False
    top, bottom = _from_to(_panels(garment))
    return top - bottom > LEAST_TALL


def panel_names(garment: Garment) -> set[str]:
    """The front and the back panel that its pictures are made of."""
    return {piece.name for piece in _panels(garment)}


def _tall(garment: Garment) -> list[Piece]:
    """Pieces that run from the waist to the hem."""
    return [p for p in garment.pieces if any("hem" in (e.kind, e.name) for e in p) and _upper(p)]


def _upper(piece: Piece) -> list[Edge]:
    """Its edges at the waist."""
    cased = [edge for edge in piece if edge.kind == "casing"]
    return cased or [edge for edge in piece if "waist" in edge.name and "mouth" not in edge.name]


def _panels(garment: Garment) -> tuple[Piece, Piece]:
    tall = _tall(garment) or list(garment.pieces[:1])
    fronts = [p for p in tall if "front" in p.name] or tall[:1]
    backs = [p for p in tall if "back" in p.name] or tall[-1:]
    return fronts[0], backs[0]


def _centre_edges(garment: Garment, piece: Piece) -> set[str]:
    edges = {r.line for s in garment.seams if own_mirror(s) for r in s.a if r.piece == piece.name}
    return edges or {e.name for e in piece if e.kind == "fold"}


def _fork(garment: Garment, piece: Piece) -> float | None:
    """Height of the crotch point: where the centre edge ends above another seam, not at the hem."""
    centre = _centre_edges(garment, piece)
    low = min((min(e.curve.start.y, e.curve.end.y) for e in piece if e.name in centre), default=-math.inf)
    foot = min(y for _, y in net(piece).exterior.coords)
    return low if low > foot + 3 * STEP else None


def _half_outline(ys: list[float], widths: list[float], fork: float | None) -> tuple[list[float], list[float]]:
    if fork is None:
        return list(widths), [0.0] * len(ys)
    top = ys[0]
    hip = top - (top - fork) * HIP_SHARE
    at_hip = _interpolated(tuple(ys), tuple(widths), hip)
    outer, inner = [], []
    for y, w in zip(ys, widths, strict=True):
        if y >= hip:
            outer.append(w)
            inner.append(0.0)
            continue
        side = at_hip + SPLAY * (hip - y)
        inside = max(side - w, 0.0) if y < fork else 0.0
        outer.append(side if inside > 0 or y >= fork else min(side, max(w, at_hip)))
        inner.append(inside)
    return outer, inner


def _drawn_in(garment: Garment, flat_half: float) -> float:
    """Half of the half round of the waist with its elastic relaxed."""
    for seam in garment.seams:
        if seam.kind == "gathered" and panel_names(garment) <= {run.piece for run in seam.a}:
            return min(garment.length(seam.b) * seam.times / 4, flat_half)
    elastic = [n.length for n in garment.notions if n.name == "elastic" and n.length]
    relaxed = garment.finished.get("waist, elastic relaxed", elastic[0] if elastic else 4 * flat_half)
    return min(relaxed / 4, flat_half)


def _middle(garment: Garment, piece: Piece) -> Callable[[float], float]:
    """x of the piece's centre edge at a height; below its foot the x there."""
    edges = [e for e in piece if e.name in _centre_edges(garment, piece)]
    points = sorted({(p.y, p.x) for e in edges for p in e.curve.flattened(tolerance=STEP / 10)})
    ys, xs = tuple(p[0] for p in points), tuple(p[1] for p in points)
    return lambda y: _interpolated(ys[::-1], xs[::-1], y)


def _reader(shape: Polygon) -> Callable[[float], float]:
    return lambda y: _width(shape, y)


def _width(shape: Polygon, y: float) -> float:
    """How wide a shape is at a height; held within its own top and foot."""
    left, bottom, right, top = shape.bounds
    level = min(max(y, bottom + 0.01), top - 0.01)
    cut = shape.intersection(LineString([(left - 1, level), (right + 1, level)]))
    return float(cut.bounds[2] - cut.bounds[0]) if not cut.is_empty else 0.0


def _interpolated(ys: tuple[float, ...], xs: tuple[float, ...], y: float) -> float:
    """x at a height, ys falling; held at the ends."""
    if y >= ys[0]:
        return xs[0]
    for i in range(len(ys) - 1):
        if ys[i + 1] <= y:
            span = ys[i] - ys[i + 1]
            share = (ys[i] - y) / span if span else 0.0
            return xs[i] + share * (xs[i + 1] - xs[i])
    return xs[-1]


def _ease(t: float) -> float:
    """0 to 1 without a corner at either end."""
    t = min(max(t, 0.0), 1.0)
    return t * t * (3 - 2 * t)


# ---- drawing -----------------------------------------------------------------------------------


def mirrored(points: list[XY]) -> list[XY]:
    return [(-x, y) for x, y in points]


def silhouette(v: View, face: Face) -> list[Item]:
    """Both halves as one shape, with the middle line."""
    half = Polygon(v.half())
    other = Polygon(mirrored(v.half()))
    whole = shapely.union_all([half.buffer(0.02), other.buffer(0.02)])
    items: list[Item] = [Area(whole, face)]
    foot = v.fork if v.fork is not None else v.bottom
    items.append(Path(((0.0, v.top), (0.0, foot)), "hair"))
    if v.fork is not None:
        touching = [y for y, x in zip(v.ys, v.inner, strict=True) if y < v.fork and x < 0.15]
        if touching:
            items.append(Path(((0.0, v.fork), (0.0, min(touching))), "outline"))
    return items


def level_line(v: View, y: float) -> list[tuple[XY, ...]]:
    """The line across at a height: one, or one for each leg."""
    side, inner = v.side_at(y), v.inner_at(y)
    if inner < 0.15:
        return [((-side, y), (side, y))]
    return [((-side, y), (-inner, y)), ((inner, y), (side, y))]


def gathers(v: View, casing: float) -> list[Item]:
    """Little lines from the casing down where elastic draws the cloth in."""
    if not v.gathered:
        return []
    low = v.top - casing
    items: list[Item] = []
    for i in range(GATHERS):
        share = (i + 0.5) / GATHERS * 2 - 1
        x = share * v.side_at(low)
        size = GATHER_OVER * (0.22 + 0.2 * ((i * 7) % 5) / 5)
        fan = 1 + 0.25 * size / GATHER_OVER
        items.append(Path(((x, low - 0.3), (x * fan, low - size)), "hair"))
    return items


def worn_picture(garment: Garment, *, front: bool, labelled: bool = True) -> Picture:
    """The finished garment from the front or the back."""
    if not stands(garment):
        return flat_picture(garment, front=front, labelled=labelled)
    v = view(garment, front=front)
    items = silhouette(v, "wrong")
    for free in garment.free_edges:
        depth = free.turn - free.fold_in
        if free.kind == "casing":
            items += [Path(line, "done") for line in level_line(v, v.top - depth)]
            items += gathers(v, depth)
        elif free.kind == "band":
            items += gathers(v, 0.0)
        elif free.kind == "hem":
            items += [Path(line, "done") for line in level_line(v, v.bottom + depth)]
    items += _pockets(garment, v)
    items += _bands(garment, v)
    items += _buttons(v)
    name = "front" if front else "back"
    if labelled:
        items.append(Label(name, (0.0, Picture(tuple(items)).bounds()[1] - 5.0), 3.0, kind="phrase"))
    return Picture(tuple(items), name)


def _bands(garment: Garment, v: View) -> list[Item]:
    """Waistband above, cuffs below, as deep as they are sewn."""
    makes = Makes(garment, cut_garment(garment))
    items: list[Item] = []
    for seam in garment.seams:
        if makes.of[seam.name] not in OUTSIDE:
            continue
        strips = [garment.piece(r.piece) for r in seam.runs if r.piece not in panel_names(garment)]
        deep = min((depth(strip) for strip in strips), default=DEEPEST)
        for run in seam.runs if deep < DEEPEST else ():
            if run.piece == v.piece.name and "waist" in run.line:
                side = v.side_at(v.top)
                items.append(Area(shapely.box(-side, v.top, side, v.top + deep), "wrong"))
                items += gathers(v, 0.0)
            elif run.piece == v.piece.name:
                for (x0, y), (x1, _) in level_line(v, v.bottom):
                    inset = (1 - min(seam.ratio, 1.0)) * (x1 - x0) / 2
                    items.append(Area(shapely.box(x0 + inset, y - deep, x1 - inset, y), "wrong"))
    return items


def _buttons(v: View) -> list[Item]:
    """Down the middle, where the panel has them."""
    marks = [mark for mark in v.piece.marks if mark.kind in ("button", "buttonhole")]
    ys = dict.fromkeys(round(mark.curve.start.y, 1) for mark in marks)
    return [Path(((-0.6, y), (0.6, y)), "bold_ink") for y in ys if y < v.top]


def _pockets(garment: Garment, v: View) -> list[Item]:
    placed = {r.line for s in garment.seams if s.kind == "patch" for r in s.b if r.piece == v.piece.name}
    items: list[Item] = []
    for mark in v.piece.marks:
        if mark.name in placed:
            points = [v.carried(p.x, p.y) for p in mark.curve.flattened(tolerance=STEP / 10)]
            ring = [*points, points[0]]
            items += [Path(tuple(ring), "outline"), Path(tuple(mirrored(ring)), "outline")]
    return items
