"""A garment's pieces as they will be cut, turned so that their grain points to +y."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.curve import Point
from clothwise.garment import Garment, Piece
from clothwise.garment.allowance import cutting_line
from clothwise.lay.match_points import is_hidden, match_points
from clothwise.lay.piece import BIAS, STRAIGHT, STRAIGHT_OR_CROSSWISE, LayPiece
from clothwise.lay.turned import to_grain
from clothwise.tolerance import FLATTEN

BIAS_PAIR = BIAS[:1]  # turned over it lies the other way round: with both for each the garment would twist
MAY_LIE_CROSSWISE = ("patch_pocket",)  # small pieces a cutter turns across when the cloth has no nap


def lay_pieces(garment: Garment, layer: str = "shell", *, matched: bool = False) -> tuple[LayPiece, ...]:
    """The pieces of one layer, allowances included, for a lay problem; with their match points if wished.

    matched  the cloth has stripes or checks that should meet at the seams
    """
    numbered = enumerate(garment.pieces, start=1)  # over all layers, as on the paper
    pieces = tuple(lay_piece(piece, number) for number, piece in numbered if piece.layer == layer)
    if not matched:
        return pieces
    points = match_points(garment, layer)
    return tuple(replace(p, match=points[p.name], angles=STRAIGHT) if p.name in points else p for p in pieces)


def interfacing_pieces(garment: Garment) -> tuple[LayPiece, ...]:
    """What is cut from interfacing: its own pieces, and inside its seam lines each that is backed."""
    numbered = list(enumerate(garment.pieces, start=1))
    own = (lay_piece(piece, number) for number, piece in numbered if piece.layer == "interfacing")
    backed = (
        replace(_to_lay(piece, number, piece.polygon(tolerance=FLATTEN)), layer="interfacing")
        for number, piece in numbered
        if piece.interfaced
    )
    return (*own, *backed)


def lay_piece(piece: Piece, number: int = 0) -> LayPiece:
    """One piece with its cutting line. A pair of copies becomes left and right halves."""
    return _to_lay(piece, number, cutting_line(piece))


def _to_lay(piece: Piece, number: int, outline: Sequence[Point]) -> LayPiece:
    return LayPiece(
        name=piece.name,
        title=piece.title,
        outline=to_grain(piece, outline),
        count=piece.copies,
        mirrored_pair=piece.cutting == "pair",
        on_fold=piece.cutting == "on fold",
        fold_edge=_fold_edge(piece),
        layer=piece.layer,
        angles=_angles(piece),
        number=number,
        hidden=is_hidden(piece.name),
    )


def _fold_edge(piece: Piece) -> tuple[tuple[float, float], tuple[float, float]] | None:
    fold = piece.fold
    if piece.cutting != "on fold" or fold is None:
        return None
    one, other = to_grain(piece, (fold.curve.start, fold.curve.end))
    return one, other


def _angles(piece: Piece) -> tuple[float, ...]:
    if piece.bias:
        return BIAS_PAIR if piece.cutting == "pair" else BIAS
    return STRAIGHT_OR_CROSSWISE if piece.name in MAY_LIE_CROSSWISE else STRAIGHT
