"""The front or the back of a garment that hangs from the shoulders, or is built of tiers: its pieces laid flat.

The middle piece of that side lies as it is drawn, left and right; sleeves, skirts and tiers are laid along the
edges they are sewn to, a sleeve folded along its grain so that only its near half shows. Facings, bands, bags
and pockets set on are left out, as they are in a sketch. A picture, not a pattern.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPoint
from shapely.geometry.base import BaseGeometry

from clothwise.curve import Point
from clothwise.garment import Garment, Piece, Seam
from clothwise.sew.cut_copies import cut_garment
from clothwise.sew.ink import Area, Item, Label, Path, Picture
from clothwise.sew.makes import Makes, folded_piece
from clothwise.sew.placing import Laid, Lie, Meeting, crease, meetings, net, on_table, other_half, partner
from clothwise.sew.step import Join
from clothwise.sew.trimmings import both, trimmings

FRONT, BACK = "front", "back"
SLEEVE = "sleeve"
FOOT = 0.5  # cm: the lowest strip of a shape, by which its width below is read
Points = NDArray[np.float64]
Move = Callable[[Points], Points]
FALLS = 0.16  # of its width: how much wider a gathered part is drawn at its foot
LEAST_PART = 0.06  # of the largest piece's area: what is smaller is trimming


def flat_picture(garment: Garment, *, front: bool, labelled: bool = True) -> Picture:
    """One side of the garment."""
    word, away = (FRONT, BACK) if front else (BACK, FRONT)
    root = _middle(garment, word, away)
    start = on_table(garment, (root.name, "as drawn", 0), right_side_up=True)
    laid = _laid(garment, start, away)
    axis = start.lie.point(root.fold.curve.start).x if root.fold else 0.0
    makes = Makes(garment, cut_garment(garment))
    # What lies furthest from the middle first: sleeves beneath the body, bands over both.
    shown = {one.piece.name: _shown(one, keep, laid, axis) for one, keep in laid}
    moves = _drawn_up(garment, [one for one, _ in laid], shown, axis)
    items: list[Item] = []
    for one, _ in reversed(laid):
        name = one.piece.name
        items += both(Area(shapely.transform(shown[name], moves.get(name, _still)), "wrong"), axis)
    for one, _ in laid:
        move = moves.get(one.piece.name, _still)
        for part in trimmings(garment, makes, one, shown[one.piece.name]):
            items += both(_moved(part, move), axis)
    for one, _ in laid:
        for mark in one.piece.marks:
            if mark.kind in ("button", "buttonhole") and one.piece is root:
                items.append(Path(one.line(mark.name), "outline"))
    if labelled:
        low = min(item.shape.bounds[1] for item in items if isinstance(item, Area))
        items.append(Label("front" if front else "back", (axis, low - 5.0), 3.0, kind="phrase"))
    return Picture(tuple(items), "front" if front else "back")


def _seen(one: Laid, keep: Point | None) -> BaseGeometry:
    """What shows of a piece: of a sleeve, folded along its middle, the near half."""
    return one.lie.shape(net(one.piece).intersection(crease(one.piece, keep)) if keep else net(one.piece))


def _shown(
    one: Laid, keep: Point | None, laid: Sequence[tuple[Laid, Point | None]], axis: float
) -> BaseGeometry:
    """A set-in sleeve is drawn on into its armhole, beneath the body: the head goes round the shoulder."""
    shape = _seen(one, keep)
    if keep is None or not any("cap" in edge.name for edge in one.piece):
        return shape
    near = [
        point
        for other, _ in laid
        for edge in other.piece
        if "armhole" in edge.name and edge.kind == "seam" and "mouth" not in edge.name
        for point in other.line(edge.name)
    ]
    side = shape.centroid.x > axis
    armhole = [point for point in near if (point[0] > axis) == side]
    return shapely.unary_union([shape, MultiPoint([*armhole, *shape.exterior.coords]).convex_hull])


def _drawn_up(
    garment: Garment, laid: Sequence[Laid], shown: Mapping[str, BaseGeometry], axis: float
) -> dict[str, Move]:
    """What is gathered, narrowed at its top to the width it is sewn to, and falling a little wider."""
    found: dict[str, Move] = {}
    names = [one.piece.name for one in laid]
    for seam in garment.seams:
        full, ground = {r.piece for r in seam.a}, {r.piece for r in seam.b}
        for one in laid if seam.kind == "gathered" else ():
            name = one.piece.name
            above = next((g for g in names if g in ground and names.index(g) < names.index(name)), None)
            if name not in full or above is None or SLEEVE in name:
                continue
            head = shapely.transform(shown[above], found.get(above, _still))
            middle = one.lie.point(one.piece.fold.curve.start).x if one.piece.fold else axis
            found[name] = _flaring(shown[name], middle, _half(head, axis), axis)
    return found


def _half(shape: BaseGeometry, axis: float) -> float:
    """How far a shape reaches from the middle at its foot."""
    left, bottom, right, _ = shape.bounds
    foot = shape.intersection(shapely.box(left - 1, bottom, right + 1, bottom + FOOT))
    return float(max(abs(foot.bounds[0] - axis), abs(foot.bounds[2] - axis)))


def _flaring(shape: BaseGeometry, middle: float, width: float, axis: float) -> Move:
    """Moves a half with its middle on the axis, as wide at the top as told, wider at the foot."""
    left, bottom, right, top = shape.bounds
    own = max(abs(left - middle), abs(right - middle))

    def move(points: Points) -> Points:
        down = (top - points[:, 1]) / max(top - bottom, FOOT)
        x = axis + (points[:, 0] - middle) * width / own * (1 + FALLS * down)
        return np.column_stack((x, points[:, 1]))

    return move


def _still(points: Points) -> Points:
    return points


def _moved(item: Item, move: Move) -> Item:
    if isinstance(item, Area):
        return Area(shapely.transform(item.shape, move), item.face, item.line)
    assert isinstance(item, Path)  # words are set once, afterwards
    return Path(tuple((float(x), float(y)) for x, y in move(np.array(item.points))), item.line)


def _parts(garment: Garment) -> list[Piece]:
    """Pieces that are seen from outside and are more than trimming."""
    applied = {run.piece for s in garment.seams if s.kind in ("applied", "patch") for run in s.a}
    banded = {run.piece for f in garment.free_edges if f.kind == "band" for run in f.runs}
    largest = max(piece.area_cm2() for piece in garment.pieces)
    return [
        piece
        for piece in garment.pieces
        if piece.layer in ("shell", "rib")
        and piece.name not in applied | banded
        and not piece.loose
        and not folded_piece(piece)
        and piece.area_cm2() >= LEAST_PART * largest
    ]


def _middle(garment: Garment, word: str, away: str) -> Piece:
    """The piece at the middle of that side, highest first."""
    parts = _parts(garment) or list(garment.pieces)
    named = [p for p in parts if word in p.name and SLEEVE not in p.name]
    necked = [p for p in named if any("neck" in edge.name for edge in p)]
    rest = [p for p in parts if away not in p.name and SLEEVE not in p.name]
    return next(iter(sorted(necked or named, key=lambda p: -p.area_cm2())), (rest or parts)[0])


def _laid(garment: Garment, root: Laid, away: str) -> list[tuple[Laid, Point | None]]:
    """The root and what hangs on it on this side; with a sleeve a point of the half that is seen."""
    cut = cut_garment(garment)
    seen = {piece.name for piece in _parts(garment) if away not in piece.name or SLEEVE in piece.name}
    seams = {seam.name: seam for seam in garment.seams if seam.kind not in ("applied", "patch")}
    laid: dict[tuple[str, str, int], tuple[Laid, Point | None]] = {root.copy: (root, None)}
    names = {root.piece.name}
    grown = True
    while grown:
        grown = False
        for name, seam in seams.items():
            for join in cut.joins[name]:
                for meeting in _both_ways(garment, join):
                    here = laid.get(meeting.one.copy)
                    other = meeting.other
                    if here is None or other.piece in names or other.piece not in seen:
                        continue
                    found = _along(garment, here[0], meeting, seam)
                    if found is None:
                        continue
                    keep = meeting.theirs[0 if _outer(meeting) else 1] if SLEEVE in other.piece else None
                    laid[found.copy] = (found, keep)
                    for half in other_half(found):
                        laid.setdefault(half.copy, (half, keep))
                    names.add(other.piece)
                    grown = True
    drawn: dict[str, tuple[Laid, Point | None]] = {}
    for one, keep in laid.values():
        drawn.setdefault(one.piece.name, (one, keep))
    return list(drawn.values())


def _both_ways(garment: Garment, join: Join) -> list[Meeting]:
    caught = [Join(ply, join.b, seam=join.seam) for ply in join.more]
    found = [meeting for one in (join, *caught) for meeting in meetings(garment, one)]
    return [*found, *(meeting.turned() for meeting in found)]


def _along(garment: Garment, here: Laid, meeting: Meeting, seam: Seam) -> Laid | None:
    """The other piece laid along the edge; what is gathered is laid middle on middle, or fold on fold."""
    piece = garment.piece(meeting.other.piece)
    edges = {e.name for e in piece} | {e.name for e in here.piece}
    if not {meeting.other.line, meeting.one.line} <= edges:
        return None
    folds = here.piece.fold, piece.fold
    if seam.kind in ("gathered", "stretched") and folds[0] is not None and folds[1] is not None:
        mine, theirs = folds[0].curve, folds[1].curve
        corner = _nearest(meeting.mine, mine.start, mine.end)
        other = _nearest(meeting.theirs, theirs.start, theirs.end)
        goal = here.lie.point(corner)
        found = on_table(garment, meeting.other.copy, right_side_up=here.right_side_up)
        at = Lie(found.lie.flipped).point(other)
        return replace(found, lie=Lie(found.lie.flipped, 0.0, goal.x - at.x, goal.y - at.y))
    return partner(garment, here, meeting, over=False)


def _nearest(ends: tuple[Point, Point], *corners: Point) -> Point:
    return min(corners, key=lambda corner: min(corner.distance(end) for end in ends))


def _outer(meeting: Meeting) -> bool:
    """Whether the sleeve's seam begins at the underarm: lower on the body than where it ends."""
    return meeting.mine[0].y < meeting.mine[1].y
