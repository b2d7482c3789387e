"""A piece cut in two and joined again by a seam, so that it finds room on the cloth. Allowances are added.

The parts keep the outline; along the join each is cut wider by the allowance.
"""

from __future__ import annotations

from dataclasses import replace

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon, box
from shapely.geometry.polygon import orient

from clothwise.errors import LayError
from clothwise.lay.cloth import LONGEST, Outline
from clothwise.lay.piece import LayPiece

JOIN = 1.0  # cm: allowance on each side of a join, as on the house's other plain seams
LEAST_PART = 4.0  # cm: a narrower part is hard to join and shows as a strip (house rule, 2026-11)


def with_the_grain(piece: LayPiece, at: float, *, allowance: float = JOIN) -> tuple[LayPiece, LayPiece]:
    """The piece cut along its grain, at this x of its own axes. [cm]

    Of a half on the fold the part beside the fold stays on it, the other becomes left and right.
    Raises  LayError when a part would be too narrow or fall into pieces
    """
    return _parts(piece, 0, at, allowance)


def across_the_grain(piece: LayPiece, at: float, *, allowance: float = JOIN) -> tuple[LayPiece, LayPiece]:
    """The piece cut across its grain, at this y of its own axes. [cm]"""
    return _parts(piece, 1, at, allowance)


def seamed_on_the_fold(piece: LayPiece, *, allowance: float = JOIN) -> LayPiece:
    """A half on the fold becomes left and right, joined by a seam where the fold was."""
    if piece.fold_edge is None or not piece.on_fold:
        raise LayError("It has no fold.", where=f"piece '{piece.title}'", mend="Divide it with the grain.")
    ys = sorted(y for _, y in piece.fold_edge)
    x = piece.fold_x
    side = 1.0 if Polygon(piece.outline).centroid.x > x else -1.0
    strip = box(min(x, x - side * allowance), ys[0], max(x, x - side * allowance), ys[1])
    shape = Polygon(piece.outline).union(strip).buffer(0)
    outline = _outline(shape, piece)
    return replace(
        piece, outline=outline, count=2 * piece.count, mirrored_pair=True, on_fold=False, fold_edge=None
    )


def _parts(piece: LayPiece, axis: int, at: float, allowance: float) -> tuple[LayPiece, LayPiece]:
    values = [point[axis] for point in piece.outline]
    if not min(values) + LEAST_PART <= at <= max(values) - LEAST_PART:
        raise LayError(
            f"A join at {at:.1f} cm leaves less than {LEAST_PART:g} cm on one side.",
            where=f"piece '{piece.title}'",
            mend="Join it nearer to its middle.",
        )
    shape = Polygon(piece.outline)
    far = LONGEST
    low = box(-far, -far, at + allowance, far) if axis == 0 else box(-far, -far, far, at + allowance)
    high = box(at - allowance, -far, far, far) if axis == 0 else box(-far, at - allowance, far, far)
    sides = (_outline(shape.intersection(low), piece), _outline(shape.intersection(high), piece))
    one, two = (_part(piece, k, outline, axis, allowance, at) for k, outline in enumerate(sides, 1))
    return one, two


def _part(piece: LayPiece, number: int, outline: Outline, axis: int, allowance: float, at: float) -> LayPiece:
    name, title = f"{piece.name}_part_{number}", f"{piece.title}, part {number}"
    inside = Polygon(outline)
    match = tuple(m for m in piece.match if inside.covers(Spot(m.at)))
    part = replace(piece, name=name, title=title, outline=outline, match=match)
    if not piece.on_fold:
        return part
    assert piece.fold_edge is not None
    if axis == 0:
        beside = min(abs(x - piece.fold_x) for x, _ in outline) < allowance / 2
        if beside:
            return part
        return replace(part, on_fold=False, fold_edge=None, count=2 * piece.count, mirrored_pair=True)
    low, high = sorted(y for _, y in piece.fold_edge)
    low, high = (low, min(high, at + allowance)) if number == 1 else (max(low, at - allowance), high)
    return replace(part, fold_edge=((piece.fold_x, low), (piece.fold_x, high)))


def _outline(shape: object, piece: LayPiece) -> Outline:
    if not isinstance(shape, Polygon) or shape.interiors:
        raise LayError(
            "Cut there, it falls into more than two parts.",
            where=f"piece '{piece.title}'",
            mend="Join it elsewhere.",
        )
    return tuple((float(x), float(y)) for x, y in orient(shape).exterior.coords[:-1])
