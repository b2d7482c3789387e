"""When a cloth cannot do: proved, with the reason. What is not proved may still fit.

Proofs: the pieces cover more than there is, some piece fits nowhere even alone, or those that are long for the
cloth have no room side by side. Folds only add bounds, so the single layer decides. A piece is first made a
little smaller, so that one which just fits is never refused.
"""

from __future__ import annotations

import math
from dataclasses import replace

from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from clothwise.lay.barriers import barriers
from clothwise.lay.cloth import LayCloth
from clothwise.lay.crowded import SMALLER, smaller, why_crowded
from clothwise.lay.nofit import NoFits, Whole, whole
from clothwise.lay.outline import prepared
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.problem import LayProblem
from clothwise.tolerance import LAY_OVERLAP_CM2

ANGLE_STEP = 0.25  # degrees between angles looked at where a piece may lean


def why_impossible(problem: LayProblem, known: NoFits | None = None) -> str:
    """One sentence why no lay exists on this cloth, or nothing where that is not proved."""
    cloth = problem.cloth
    if problem.area_cm2 > cloth.area_cm2 + LAY_OVERLAP_CM2 * len(problem.pieces):
        return (
            f"The pieces cover {problem.area_cm2 / 1e4:.2f} m², the cloth only {cloth.area_cm2 / 1e4:.2f} m²"
            f"{' without its flaws' if cloth.flaws else ''}."
        )
    for piece in problem.pieces:
        if problem.free_copies(piece):
            reason = _too_large(piece, cloth) or _nowhere(piece, problem, known or NoFits())
            if reason:
                return reason
    return why_crowded(problem)


def _too_large(piece: LayPiece, cloth: LayCloth) -> str:
    """Longer than the cloth, or wider, at every angle allowed."""
    spans = [_span(piece, angle) for angle in _angles(piece, cloth)]
    slip = _reach(piece) * math.radians(ANGLE_STEP / 2) if piece.lean else 0.0
    long, wide = min(along for along, _ in spans) - slip, min(across for _, across in spans) - slip
    if cloth.length is not None and long > cloth.length + SMALLER:
        return f"Piece '{piece.title}' is {long:.1f} cm long and the cloth {cloth.length:.1f} cm."
    if wide > cloth.width + SMALLER:
        return f"Piece '{piece.title}' is {wide:.1f} cm wide and the cloth {cloth.width:.1f} cm."
    if cloth.length is not None and all(
        along - slip > cloth.length + SMALLER or across - slip > cloth.width + SMALLER
        for along, across in spans
    ):
        return (
            f"Piece '{piece.title}' is too large for a cloth of {cloth.length:.1f} x {cloth.width:.1f} cm "
            "at every angle its grain allows."
        )
    return ""


def _angles(piece: LayPiece, cloth: LayCloth) -> list[float]:
    if not piece.lean:
        return list(piece.angles_on(cloth))
    steps = math.ceil(piece.lean / ANGLE_STEP)
    leans = [k * piece.lean / steps for k in range(-steps, steps + 1)]
    return [angle + lean for angle in replace(piece, lean=0.0).angles_on(cloth) for lean in leans]


def _span(piece: LayPiece, angle: float) -> tuple[float, float]:
    """Along and across the cloth, of a whole piece. [cm]"""
    x0, y0, x1, y1 = _turned(Polygon(piece.whole_outline), angle, mirrored=False).bounds
    return x1 - x0, y1 - y0


def _reach(piece: LayPiece) -> float:
    x0, y0, x1, y1 = Polygon(piece.whole_outline).bounds
    return math.hypot(x1 - x0, y1 - y0)


def _turned(shape: Polygon, angle: float, *, mirrored: bool) -> Polygon:
    """As it lies on the cloth."""
    return Polygon(Placement("", 0, mirrored, angle, 0.0, 0.0).carry(tuple(shape.exterior.coords[:-1])))


def _nowhere(piece: LayPiece, problem: LayProblem, known: NoFits) -> str:
    """Does one copy find no place at all between the edge and the flaws?"""
    cloth = problem.cloth
    walls = [_whole(Polygon(wall.outline).simplify(SMALLER / 2)) for wall in barriers(problem)]
    if not walls or cloth.length is None or piece.lean:  # a leaning piece has endless angles: nothing is proved
        return ""
    shape = smaller(Polygon(piece.whole_outline))
    if shape is None:
        return ""
    for sides in _sides(piece, cloth):
        tries = ((side, angle) for side in sides for angle in piece.angles_on(cloth))
        if all(
            _room(_turned(shape, -a if over else a, mirrored=over), walls, cloth, known).is_empty
            for over, a in tries
        ):
            break
    else:
        return ""
    what = "the flaws" if cloth.outline is None else "its edges and flaws" if cloth.flaws else "its edges"
    pinned = " and what is pinned" if problem.pinned else ""
    return f"Piece '{piece.title}' fits nowhere on this cloth between {what}{pinned}."


def _sides(piece: LayPiece, cloth: LayCloth) -> tuple[tuple[bool, ...], ...]:
    """Ways up, each of which must find a place; of several in one, any will do."""
    if piece.either_side_up or cloth.two_right_sides:
        return ((False, True),)
    return ((False,), (True,)) if piece.mirrored_pair else ((False,),)


def _whole(shape: Polygon) -> Whole:
    """Exactly the outline, in whole steps, without points that fall together."""
    return whole(prepared(tuple(shape.exterior.coords[:-1]), gap=0.0, slack=0.0))


def _room(laid: Polygon, walls: list[Whole], cloth: LayCloth, known: NoFits) -> BaseGeometry:
    """Where the piece's own origin may lie: the box less the no-fit polygons."""
    assert cloth.length is not None
    x0, y0, x1, y1 = laid.bounds
    if x1 - x0 > cloth.length or y1 - y0 > cloth.width:
        return Polygon()
    room: BaseGeometry = box(-x0, -y0, cloth.length - x1, cloth.width - y1)
    points = _whole(laid)
    for wall in walls:
        rings = [Polygon(ring) for ring in known.rings(wall, points)]
        outer = [ring for ring in rings if ring.exterior.is_ccw]
        pockets = [ring for ring in rings if not ring.exterior.is_ccw]
        room = room.difference(unary_union(outer).difference(unary_union(pockets)))
        if room.is_empty:
            break
    return room
