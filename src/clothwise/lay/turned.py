"""Points of a garment's piece turned so that its grain runs straight up, as a lay takes them."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.curve import Point, Vector
from clothwise.garment import Piece
from clothwise.lay.cloth import Outline


def to_grain(piece: Piece, points: Sequence[Point]) -> Outline:
    """Points of the piece turned about the origin so that its grain runs straight up."""
    up = _grain(piece)
    across = up.right()
    return tuple((p.x * across.x + p.y * across.y, p.x * up.x + p.y * up.y) for p in points)


def _grain(piece: Piece) -> Vector:
    low, high = piece.grain
    return low.to(high).unit()
