"""A garment's pieces as they will be cut, turned so that their grain points to +y."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.curve import Point, Vector
from clothwise.garment import Garment, Piece
from clothwise.garment.allowance import cutting_line
from clothwise.lay.problem import BIAS, STRAIGHT, STRAIGHT_OR_CROSSWISE, LayPiece, Outline

MAY_LIE_CROSSWISE = ("patch_pocket",)  # small pieces a cutter turns across when the cloth has no nap


def lay_pieces(garment: Garment, layer: str = "shell") -> tuple[LayPiece, ...]:
    """The pieces of one layer, allowances included, for a lay problem."""
    numbered = enumerate(garment.pieces, start=1)  # over all layers, as on the paper
    return tuple(lay_piece(piece, number) for number, piece in numbered if piece.layer == layer)


def lay_piece(piece: Piece, number: int = 0) -> LayPiece:
    """One piece with its cutting line. A pair of copies becomes left and right halves."""
    return LayPiece(
        name=piece.name,
        title=piece.title,
        outline=to_grain(piece, cutting_line(piece)),
        count=piece.copies,
        mirrored_pair=piece.cutting == "pair",
        on_fold=piece.cutting == "on fold",
        fold_edge=_fold_edge(piece),
        layer=piece.layer,
        angles=_angles(piece),
        number=number,
    )


def to_grain(piece: Piece, points: Sequence[Point]) -> Outline:
    """Points of the piece turned about the origin so that its grain runs straight up."""
    up = _grain(piece)
    across = up.right()
    return tuple((p.x * across.x + p.y * across.y, p.x * up.x + p.y * up.y) for p in points)


def _grain(piece: Piece) -> Vector:
    low, high = piece.grain
    return low.to(high).unit()


def _fold_edge(piece: Piece) -> tuple[tuple[float, float], tuple[float, float]] | None:
    fold = piece.fold
    if piece.cutting != "on fold" or fold is None:
        return None
    one, other = to_grain(piece, (fold.curve.start, fold.curve.end))
    return one, other


def _angles(piece: Piece) -> tuple[float, ...]:
    if piece.bias:
        return BIAS
    return STRAIGHT_OR_CROSSWISE if piece.name in MAY_LIE_CROSSWISE else STRAIGHT
