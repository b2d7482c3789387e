"""Cutting lines: what is cut outside the finished edges, so that seams join cleanly and turns lie flat.

The cut shape is the union of the piece, one band per side, a wedge per outward corner, and the mirror image
of the piece beyond each edge that is folded back. Hollow corners and tight curves need no case of their own.
Source: drafting method, rule 9 (seam allowance).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from shapely import (
    GEOSException,
    area,
    covers,
    difference,
    distance,
    get_coordinates,
    get_parts,
    is_valid,
    linearrings,
    point_on_surface,
    polygons,
    prepare,
    set_precision,
    union_all,
)
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Point, Vector, meeting
from clothwise.errors import GarmentError
from clothwise.garment.piece import Edge, Piece
from clothwise.garment.sides import STEP_OUT, Array, Side, sides_of
from clothwise.garment.turning import can_turn, rails, turned
from clothwise.tolerance import CUT_TRIM, FLATTEN, LAY_FOLD, PARAMETER, SAME_POINT

LONGEST_MITRE = 2.5  # times the allowance: a corner's tip reaches no farther, it is cut square across there
ACUTE_DEG = 85.0  # degrees: a seam pressed open is mirrored at corners sharper than this
# degrees: at corners blunter than this a turn just ends square, there is no neighbour to lie on
BLUNT_DEG = 150.0
RUN_ON = 0.2  # times the allowance: bands run on this much past a fold line before they are clipped to it
HAIRLINE = 0.001  # width of a slit to its depth: no corner of a cut piece is so sharp, 0.06 degrees
GAPE = 0.05  # cm: half of the widest slit that is closed again; scissors do not cut one of a millimetre
FAR_MITRE = 100.0  # times GAPE: every corner is taken back to where it was
KEPT = 256  # cutting lines: the check, the paper and the lay of one garment ask for the same ones in turn
Ring = Sequence[Point] | Array
REACH = 3.0  # times depth + allowance: how far the fold line is run on to catch the neighbour's cutting line


@dataclass(frozen=True, slots=True)
class NotchMark:
    """A match mark as it is drawn and snipped.

    on_seam   on the seam line, where it was measured; on_cut  straight out from there on the cutting line
    outward   unit direction from the one to the other
    """

    sign: str
    count: int
    edge: str
    on_seam: Point
    on_cut: Point
    outward: Vector


def cutting_line(piece: Piece, *, pressed_open: Sequence[str] = ()) -> tuple[Point, ...]:
    """The closed line to cut along, anticlockwise, the last point not repeated; chords within FLATTEN.

    On the fold it is that of the half, and runs exactly along the fold.
    pressed_open  edges besides those that say so themselves, whose seam is pressed open before its neighbours
                  are sewn across its ends, in that order
    Raises        GarmentError: a turn too deep for its curve, a fold that is not straight, no single outline
    """
    return _cutting_line(piece, tuple(pressed_open))


@lru_cache(maxsize=KEPT)
def _cutting_line(piece: Piece, pressed_open: tuple[str, ...]) -> tuple[Point, ...]:
    whole, fold = _whole(piece, pressed_open), piece.fold
    corners = _corners(whole) if fold is None else _half(whole, fold, piece.name)
    return tuple(map(Point._make, corners.tolist()))


def unfolded_cutting_line(piece: Piece, *, pressed_open: Sequence[str] = ()) -> tuple[Point, ...]:
    """As cutting_line, but of the whole shape when the piece is cut on the fold: the half and its image."""
    half, fold = cutting_line(piece, pressed_open=pressed_open), piece.fold
    if fold is None:
        return half
    at, way = fold.curve.start, fold.curve.start.to(fold.curve.end)
    start = next(i for i, p in enumerate(half) if _on_fold(p, fold) and not _on_fold(half[i - 1], fold))
    open_half = [p for p in (*half[start:], *half[:start]) if not _on_fold(p, fold)]
    first = next(p for p in (*half[start + 1 :], *half[:start]) if _on_fold(p, fold))
    image = [p.mirrored(at, way) for p in reversed(open_half)]
    return (first, *open_half, half[start], *image)


def _whole(piece: Piece, pressed_open: Sequence[str]) -> Polygon:
    """The whole cut shape, the half on the fold laid open."""
    for name in pressed_open:
        piece.edge(name)
    pressed_open = (*pressed_open, *(edge.name for edge in piece if edge.pressed_open))
    sides = sides_of(piece)
    corners = [_Corner.between(sides, i, pressed_open) for i in range(len(sides))]
    outline = polygons(np.concatenate([side.points[:-1] for side in sides]))
    shape = _united([outline, *_bands(sides, corners), *_wedges(corners)])
    back = _in_order_of_turning(sides, corners, pressed_open)
    apart = not pressed_open and all(corner.owner != "both" for corner in corners)
    ends: list[Polygon] = []
    for i in back:
        ends.extend(_turned(sides[i], corners[i - 1], corners[i], shape, piece.name))
        if not apart:  # the next may come to lie on this one
            shape = _united([shape, *ends])
    whole = _on_grid([shape, *ends])
    if any(corner.owner == "both" for corner in corners):
        whole = _closed(whole, ends)
    return _ring(whole, piece.name)


def _closed(shape: BaseGeometry, ends: Sequence[Polygon]) -> BaseGeometry:
    """Without slits beside the turned ends that are too narrow to be cut: two turns that meet are each mirrored
    in a line of its own, and where both lines bow their images gape by a hair. A slit elsewhere is meant."""
    wider = shape.buffer(GAPE, join_style="mitre", mitre_limit=FAR_MITRE)
    closed = set_precision(wider.buffer(-GAPE, join_style="mitre", mitre_limit=FAR_MITRE), SAME_POINT)
    filled = difference(closed, shape)
    meant = [part for part in get_parts(filled) if distance(part, _united(ends)) > GAPE]
    return difference(closed, union_all(meant)) if meant else closed


def _united(parts: Sequence[BaseGeometry]) -> BaseGeometry:
    """One shape of them. Where edges all but lie on one another the library may fail on full digits, or leave
    a whole part out unsaid (one trouser back in some ten thousand): then it is asked again on a fine grid,
    where they are one."""
    try:
        shape = union_all(parts)
        prepare(shape)
        inside = point_on_surface(parts)
        inside = inside[~covers(shape, inside)]
        if not np.any(distance(inside, shape) > LAY_FOLD):
            return shape
    except GEOSException:
        pass  # asked again below
    return _on_grid(parts)


def _on_grid(parts: Sequence[BaseGeometry]) -> BaseGeometry:
    """One shape of them, on a grid so that no hairline is left between parts that only touch.

    GarmentError where even that has no answer: an outline that crosses itself.
    """
    try:
        return union_all(parts, grid_size=SAME_POINT)
    except GEOSException:
        raise GarmentError(
            "No cutting line can be drawn round the piece.",
            where="cutting line",
            mend="Check that its edges follow one another anticlockwise and do not cross.",
        ) from None


def notch_marks(piece: Piece, *, cut: Sequence[Point] | None = None) -> tuple[NotchMark, ...]:
    """All notches of the piece, edge by edge. `cut` is its cutting line, if the caller already has it."""
    cut = cutting_line(piece) if cut is None else cut
    marks = []
    for edge in piece.edges:
        for notch in edge.notches:
            at = edge.curve.at_length(notch.at)
            outward = edge.curve.tangent_at_length(notch.at).right()
            out = at.go(outward, _way_out(at, outward, cut, edge.allowance))
            marks.append(NotchMark(notch.sign, notch.count, edge.name, at, out, outward))
    return tuple(marks)


# ---- corners -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Corner:
    """Where the side `before` ends and the side `after` begins.

    owner  '' plain; 'before', 'after', 'both': that side is folded back here, so it takes the mirror image
           of the other side's cutting line, and the other runs on to its fold line
    """

    before: Side
    after: Side
    bend_deg: float  # to the left; 180 minus the inside angle
    owner: str

    @staticmethod
    def between(sides: Sequence[Side], i: int, pressed_open: Sequence[str]) -> _Corner:
        before, after = sides[i], sides[(i + 1) % len(sides)]
        one, other = before.last_way, after.first_way
        bend = math.degrees(math.atan2(one.cross(other), one.dot(other)))
        return _Corner(before, after, bend, _owner(before, after, 180 - bend, pressed_open))

    @property
    def at(self) -> Point:
        return self.before.end

    def run_on(self, allowance: float) -> float:
        """How far a band must go on past the corner to reach the fold line over its whole width."""
        sharp = math.radians(self.bend_deg - 90)
        return allowance * (min(max(0.0, math.tan(sharp)), LONGEST_MITRE) + RUN_ON)

    def beyond(self) -> Polygon:
        """What lies near the corner beyond the fold line of its owner, run on straight."""
        fold, out, way = (
            (self.before, self.before.last_way.right(), self.before.last_way)
            if self.owner == "before"
            else (self.after, self.after.first_way.right(), self.after.first_way.back())
        )
        other = self.after if fold is self.before else self.before
        far = 2 * (self.run_on(other.allowance) + other.allowance)
        near, end = self.at.go(way, -far), self.at.go(way, far)
        return polygons([near, end, end.go(out, far), near.go(out, far)])

    def wedge(self) -> Ring:
        """The mitre of an outward corner; cut square across where its tip would reach too far.
        Without points where there is none."""
        one, other = self.before, self.after
        if self.owner or self.bend_deg <= 0 or max(one.allowance, other.allowance) <= 0:
            return ()
        a = self.at.go(one.last_way.right(), one.allowance)
        b = self.at.go(other.first_way.right(), other.allowance)
        tip = meeting(a, one.last_way, b, other.first_way)
        if tip is None or a.to(tip).dot(one.last_way) < 0 or tip.to(b).dot(other.first_way) < 0:
            return self.at, a, b  # allowances too unlike for a mitre: a step
        way, reach = self.at.to(tip), LONGEST_MITRE * max(one.allowance, other.allowance)
        if way.length <= reach:
            return self.at, a, tip, b
        square, level = way.unit().left(), self.at.go(way.unit(), reach)
        c = meeting(a, one.last_way, level, square) or tip
        d = meeting(b, other.first_way, level, square) or tip
        return self.at, a, c, d, b


def _wedges(corners: Sequence[_Corner]) -> list[Polygon]:
    return _real(_drawn([ring for corner in corners if (ring := corner.wedge())]))


def _owner(before: Side, after: Side, inside_deg: float, pressed_open: Sequence[str]) -> str:
    if inside_deg >= BLUNT_DEG:
        return ""
    if before.turned or after.turned:
        return "both" if before.turned and after.turned else "before" if before.turned else "after"
    if inside_deg >= ACUTE_DEG or before.edge == after.edge:
        return ""
    open_here = [side.edge for side in (before, after) if side.allowance > 0]
    names = [n for n in pressed_open if n in open_here]  # the first of them is crossed later
    return "" if not names else "before" if names[0] == before.edge else "after"


# ---- bands ---------------------------------------------------------------------------------------


def _bands(sides: Sequence[Side], corners: Sequence[_Corner]) -> list[BaseGeometry]:
    """The allowance beside every side that is not folded back, cut off at the fold lines of those that are."""
    found: list[BaseGeometry] = []
    around = [(side, corners[i - 1], corners[i]) for i, side in enumerate(sides)]
    parts = [_plain_part(*place) for place in around]
    square = iter(_square([part for part in parts if part is not None and part.allowance > 0]))
    for part, (side, before, after) in zip(parts, around, strict=True):
        band = next(square) if part is not None and part.allowance > 0 else []
        found += _clipped([*band, *_ends(side, before, after)], before, after)
    return found


def _square(sides: Sequence[Side]) -> Iterator[list[Polygon]]:
    """The allowance beside each side, square at both ends. [cm]"""
    outs = [side.points + side.allowance * side.outward for side in sides]
    bands = _drawn([np.concatenate([side.points, out[::-1]]) for side, out in zip(sides, outs, strict=True)])
    for side, out, band, sound in zip(sides, outs, bands, is_valid(bands), strict=True):
        along, beside = side.points[1:] - side.points[:-1], out[1:] - out[:-1]
        runs_on = bool(((along * beside).sum(axis=1) > 0).all())
        yield [band] if runs_on and sound else _chord_by_chord(side, out)


def _chord_by_chord(side: Side, out: Array) -> list[Polygon]:
    """The allowance where it is wider than a hollow of the curve: what overlaps is cut once."""
    corners = [Point(*p) for p in side.points.tolist()]
    planks = [_plank(p, q, side.allowance) for p, q in pairwise(corners)]
    gaps = [
        (one[1], one[2], Point(*out[i + 1].tolist()), other[3])
        for i, (one, other) in enumerate(pairwise(planks))
    ]
    return _real(_drawn([*planks, *gaps]))


def _plank(p: Point, q: Point, width: float) -> tuple[Point, ...]:
    out = p.to(q).unit().right()
    return p, q, q.go(out, width), p.go(out, width)


def _drawn(rings: Sequence[Ring]) -> NDArray[np.object_]:
    """Polygons of many rings, drawn at once: one by one each costs more than it holds."""
    if not rings:
        return np.array([], dtype=np.object_)
    of = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
    drawn: NDArray[np.object_] = polygons(linearrings(np.concatenate(rings), indices=of))
    return drawn


def _ends(side: Side, before: _Corner, after: _Corner) -> list[Polygon]:
    """Where a neighbour is folded back: the band run on past the corner as far as the neighbour's fold line."""
    found: list[tuple[Point, ...]] = []
    if side.allowance <= 0 or side.turned:
        return []
    if after.owner == "after":
        run = side.end.go(side.last_way, after.run_on(side.allowance))
        found.append(_plank(side.end, run, side.allowance))
    if before.owner == "before":
        run = side.start.go(side.first_way, -before.run_on(side.allowance))
        found.append(_plank(run, side.start, side.allowance))
    return list(_drawn(found))


def _clipped(bands: Sequence[Polygon], before: _Corner, after: _Corner) -> list[BaseGeometry]:
    """Bands without what lies beyond the fold line of a neighbour that is folded back."""
    clipped: list[BaseGeometry] = list(bands)
    for corner, owner in ((before, "before"), (after, "after")):
        if corner.owner == owner and clipped:
            clipped = list(difference(clipped, corner.beyond()))
    return clipped


def _real(shapes: NDArray[np.object_]) -> list[Polygon]:
    return list(shapes[(area(shapes) > 0) & is_valid(shapes)])


# ---- what is folded back -------------------------------------------------------------------------


def _folded_back(side: Side, before: _Corner, after: _Corner) -> bool:
    return side.turned or before.owner == "after" or after.owner == "before"


def _plain_part(side: Side, before: _Corner, after: _Corner) -> Side | None:
    """What of the side has an ordinary band: of a seam pressed open, the half away from a sharp corner."""
    if not _folded_back(side, before, after):
        return side
    if side.turned or (before.owner == "after" and after.owner == "before"):
        return None
    return side.halves()[1 if before.owner == "after" else 0]


def _folded_part(side: Side, before: _Corner, after: _Corner) -> Side:
    if side.turned or (before.owner == "after" and after.owner == "before"):
        return side
    return side.halves()[0 if before.owner == "after" else 1]


def _in_order_of_turning(
    sides: Sequence[Side], corners: Sequence[_Corner], pressed_open: Sequence[str]
) -> list[int]:
    """Indices of the sides folded back: what is folded first lies under what is folded later, so it is the
    mirror image of that and comes after it here. Hems and casings are turned when all seams are sewn, and
    take in the ends of them: they come last, and of two that meet the straighter one: mirrored in a straight
    line the other's turn closes up to it, whichever way round the piece lies."""
    back = [i for i, side in enumerate(sides) if _folded_back(side, corners[i - 1], corners[i])]
    seams = [i for i in back if not sides[i].turned]
    seams.sort(key=lambda i: -pressed_open.index(sides[i].edge))
    return seams + sorted((i for i in back if sides[i].turned), key=lambda i: -_bend_deg(sides[i]))


def _bend_deg(side: Side) -> float:
    """How much a side bends in all, this way and that. [degrees]"""
    x, y = np.diff(side.points, axis=0).T
    return float(np.round(np.degrees(np.abs(np.diff(np.unwrap(np.arctan2(y, x)))).sum()), 1))


def _turned(side: Side, before: _Corner, after: _Corner, shape: BaseGeometry, name: str) -> list[Polygon]:
    """The side's allowance as the mirror image of what it comes to lie on."""
    reach = REACH * (side.allowance + max(before.before.allowance, after.after.allowance))
    at_start = reach if before.owner in ("after", "both") else 0.0
    at_end = reach if after.owner in ("before", "both") else 0.0
    part = _folded_part(side, before, after)
    line = rails(part.points, part.outward, at_start, at_end)
    if not can_turn(line, side.allowance):
        raise GarmentError(
            f"The edge '{side.edge}' of '{name}' is too curved to be turned {side.allowance:g} cm.",
            where=f"piece '{name}', edge '{side.edge}'",
            mend="Turn it less, straighten the edge, or finish it with a facing or a band.",
        )
    return turned(shape, line, side.allowance)


# ---- one line ------------------------------------------------------------------------------------


def _ring(shape: BaseGeometry, name: str) -> Polygon:
    """The union without holes, and without lines that two parts share in the last digits only."""
    parts = [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon)]
    if len(parts) != 1 or parts[0].is_empty:
        raise GarmentError(
            f"The cutting line of '{name}' is not one closed line.",
            where=f"piece '{name}'",
            mend="Check that its edges follow one another anticlockwise and do not cross.",
        )
    return Polygon(parts[0].exterior)


def _corners(shape: Polygon) -> Array:
    """Its corners anticlockwise, without those that bend it by less than a pen's width."""
    corners = np.asarray(get_coordinates(shape.simplify(FLATTEN / STEP_OUT).exterior))[:-1]
    (x, y), (on_x, on_y) = corners.T, _shifted(corners).T
    if x @ on_y < y @ on_x:  # clockwise
        corners = corners[::-1]
    while len(corners) > 3 and (doubled := _doubled_back(corners)).any():
        corners = corners[~doubled]
    return corners


def _doubled_back(ring: Array) -> NDArray[np.bool_]:
    """Corners at which the line runs back the way it came, and those that stand on the one before.

    Where a seam's end and a turned hem share an edge but for the last digits, the union may keep a slit between
    them, narrower than any pen (one front leg in some four thousand).
    """
    on = _shifted(ring) - ring
    back = -np.concatenate([on[-1:], on[:-1]])
    across = np.abs(back[:, 0] * on[:, 1] - back[:, 1] * on[:, 0])
    along = back[:, 0] * on[:, 0] + back[:, 1] * on[:, 1]
    same = np.hypot(back[:, 0], back[:, 1]) <= CUT_TRIM
    tips = (along > 0) & (across <= HAIRLINE * along)
    return np.asarray(same if same.any() else tips)


def _shifted(ring: Array) -> Array:
    """Of each corner the next."""
    return np.concatenate([ring[1:], ring[:1]])


def _half(whole: Polygon, fold: Edge, name: str) -> Array:
    """The part of the whole on the drawn side of the fold, its points set exactly onto the fold."""
    at, way = fold.curve.start, fold.curve.start.to(fold.curve.end).unit()
    far = 2 * at.distance(Point(*whole.bounds[:2])) + 2 * at.distance(Point(*whole.bounds[2:]))
    low, high = at.go(way, -far), at.go(way, far)
    drawn = Polygon([low, high, high.go(way.left(), far), low.go(way.left(), far)])
    half = whole.intersection(drawn)
    if not isinstance(half, Polygon):
        raise GarmentError(
            f"The cutting line of '{name}' crosses its fold more than twice.",
            where=f"piece '{name}', edge '{fold.name}'",
            mend="Let the piece lie on one side of its fold only.",
        )
    corners = _corners(half)
    to = corners - at
    along = to[:, 0] * way.x + to[:, 1] * way.y
    on_fold = np.abs(to[:, 0] * way.y - to[:, 1] * way.x) <= CUT_TRIM
    corners[on_fold] = at + along[on_fold, None] * np.array(way)
    return corners


def _on_fold(place: Point, fold: Edge) -> bool:
    at = fold.curve.start
    return abs(at.to(place).cross(at.to(fold.curve.end).unit())) <= CUT_TRIM


def _way_out(at: Point, outward: Vector, cut: Sequence[Point], allowance: float) -> float:
    """How far the cutting line lies from a point of the seam line, straight out. [cm]"""
    p = np.asarray(cut, dtype=np.float64)
    along, to = np.roll(p, -1, axis=0) - p, p - np.asarray(at)
    turn = outward.x * along[:, 1] - outward.y * along[:, 0]
    met = np.abs(turn) > PARAMETER
    along, to, turn = along[met], to[met], turn[met]
    share = (to[:, 0] * outward.y - to[:, 1] * outward.x) / turn
    ways = (to[:, 0] * along[:, 1] - to[:, 1] * along[:, 0]) / turn
    beyond = ways[(share >= -PARAMETER) & (share <= 1 + PARAMETER) & (ways >= -LAY_FOLD)]
    return max(float(beyond.min()), 0.0) if len(beyond) else allowance
