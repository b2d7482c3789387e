"""The front or the back of a garment that hangs from the shoulders, or is built of tiers: its pieces laid flat.

The middle piece of that side lies as it is drawn, left and right; sleeves, skirts and tiers are laid along the
edges they are sewn to, a sleeve folded along its grain so that only its near half shows. Facings, bands, bags
and pockets set on are left out, as they are in a sketch. A picture, not a pattern.
"""

from __future__ import annotations

from dataclasses import replace

from shapely import affinity

from clothwise.curve import Point
from clothwise.garment import Garment, Piece, Seam
from clothwise.sew.cut_copies import cut_garment
from clothwise.sew.ink import Area, Item, Label, Path, Picture
from clothwise.sew.makes import folded_piece
from clothwise.sew.placing import Laid, Lie, Meeting, crease, meetings, net, on_table, other_half, partner
from clothwise.sew.step import Join

FRONT, BACK = "front", "back"
SLEEVE = "sleeve"
LEAST_PART = 0.06  # of the largest piece's area: what is smaller is trimming


def flat_picture(garment: Garment, *, front: bool, labelled: bool = True) -> Picture:
    """One side of the garment."""
    word, away = (FRONT, BACK) if front else (BACK, FRONT)
    root = _middle(garment, word, away)
    start = on_table(garment, (root.name, "as drawn", 0), right_side_up=True)
    laid = _laid(garment, start, away)
    axis = start.lie.point(root.fold.curve.start).x if root.fold else 0.0
    items: list[Item] = []
    for one, keep in laid:
        shape = one.lie.shape(net(one.piece).intersection(crease(one.piece, keep)) if keep else net(one.piece))
        for side in (1.0, -1.0):
            half = shape if side > 0 else affinity.affine_transform(shape, [-1, 0, 0, 1, 2 * axis, 0])
            items.append(Area(half, "wrong"))
    for one, _ in laid:
        for mark in one.piece.marks:
            if mark.kind in ("button", "buttonhole") and one.piece is root:
                items.append(Path(one.line(mark.name), "outline"))
    if labelled:
        low = min(item.shape.bounds[1] for item in items if isinstance(item, Area))
        items.append(Label("front" if front else "back", (axis, low - 5.0), 3.0, kind="phrase"))
    return Picture(tuple(items), "front" if front else "back")


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
    found = meetings(garment, join)
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
