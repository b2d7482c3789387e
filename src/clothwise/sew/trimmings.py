"""What trims a garment in its drawings: bands, collars and cuffs, bindings, darts, pockets, a zip.

A band is drawn as deep as its piece is when sewn: its area over its length, half of that where it is folded.
A sketch: nothing is drawn in, as a cuff draws a sleeve in.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely import affinity
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.garment import Garment, Piece
from clothwise.sew.ink import Area, Item, Path
from clothwise.sew.makes import Makes, folded_piece
from clothwise.sew.placing import Laid
from clothwise.sew.step import Make

OUTSIDE: tuple[Make, ...] = ("band", "folded band", "caught")  # stands on the edge; a binding lies over it
DEEPEST = 12.0  # cm: what is deeper is no band but a part of its own
THINNEST = 0.4  # cm: a thinner band is drawn so thin
SHORTEST = 2.0  # cm of an edge that shows


def trimmings(garment: Garment, makes: Makes, laid: Laid, shown: BaseGeometry) -> Iterator[Item]:
    """Everything on one piece as it lies, `shown` being what shows of it."""
    yield from _darts(laid)
    yield from _pockets(garment, laid)
    yield from _zips(garment, laid)
    yield from _bands(garment, makes, laid, shown)


def both(item: Item, axis: float) -> tuple[Item, Item]:
    """An item and its mirror image about the garment's middle."""
    if isinstance(item, Area):
        other = affinity.affine_transform(item.shape, [-1, 0, 0, 1, 2 * axis, 0])
        return item, Area(other, item.face, item.line)
    assert isinstance(item, Path)  # words are set once, afterwards
    return item, Path(tuple((2 * axis - x, y) for x, y in item.points), item.line)


def _darts(laid: Laid) -> Iterator[Item]:
    for dart in laid.piece.darts:
        mouth = dart.other_tip or dart.first_leg.between(dart.second_leg)
        yield Path(laid.lie.points((mouth, dart.tip)), "outline")


def _pockets(garment: Garment, laid: Laid) -> Iterator[Item]:
    """Lines that a patch or a pocket's edge is sewn to."""
    sewn = {
        run.line
        for seam in garment.seams
        for run in seam.b
        if run.piece == laid.piece.name and garment.edge_of(run) is None and not seam.more
    }
    for mark in laid.piece.marks:
        if mark.kind == "placement" and mark.name in sewn:
            yield Path(laid.line(mark.name), "outline")


def _zips(garment: Garment, laid: Laid) -> Iterator[Item]:
    for free in garment.free_edges:
        for run in free.runs if free.kind == "zip" else ():
            if run.piece == laid.piece.name:
                yield Path(laid.line(run.line), "bold_ink")


# ---- bands -------------------------------------------------------------------------------------


def _bands(garment: Garment, makes: Makes, laid: Laid, shown: BaseGeometry) -> Iterator[Item]:
    for seam in garment.seams:
        make = makes.of[seam.name]
        if make not in (*OUTSIDE, "binding") and not (make == "facing" and seam.more):
            continue
        # Of a faced edge only what is caught in it shows.
        plies = (seam.b, *seam.more) if make == "facing" else (seam.a, seam.b, *seam.more)
        for mine in plies:
            bands = [garment.piece(r.piece) for ply in plies if ply is not mine for r in ply]
            bands = [piece for piece in bands if piece.name != laid.piece.name]
            for run in mine:
                if run.piece == laid.piece.name and bands and _is_band(bands[0], laid.piece):
                    yield from _band(laid, run.line, shown, bands[0], outside=make != "binding")


def _is_band(band: Piece, ground: Piece) -> bool:
    return depth(band) <= DEEPEST and band.area_cm2() < ground.area_cm2()


def depth(band: Piece) -> float:
    """How deep a band is when sewn. [cm]"""
    longest = max(edge.curve.length() for edge in band if edge.kind != "fold")
    return max(band.area_cm2() / longest / (2 if folded_piece(band) else 1), THINNEST)


def _band(laid: Laid, line: str, shown: BaseGeometry, band: Piece, *, outside: bool) -> Iterator[Item]:
    """The strip along an edge, outwards from the piece or over its rim."""
    edge = LineString(laid.line(line)).intersection(shown.buffer(0.05))
    for part in getattr(edge, "geoms", [edge]):
        if not isinstance(part, LineString) or part.length < SHORTEST:
            continue
        strips = [part.buffer(side * depth(band), single_sided=True) for side in (1.0, -1.0)]
        inwards = max(strips, key=lambda strip: strip.intersection(shown).area)
        strip = next(s for s in strips if s is not inwards) if outside else inwards
        if isinstance(strip, Polygon) and not strip.is_empty:
            yield Area(strip, "wrong")
