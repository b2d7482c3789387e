"""A piece turned over: its mirror image, drawn for the other half of the body with the right side up.

Panels are drawn with the centre on the left; the back is turned over when it is done, so that both front and
back are the wearer's left half as they are cut.
"""

from __future__ import annotations

from clothwise.curve import UP, Point
from clothwise.garment import Piece
from clothwise.garment.mirror import mirrored_piece

MIDDLE = Point(0.0, 0.0)


def turned_over(piece: Piece) -> Piece:
    """The piece mirrored in the upright line through (0, 0); all names stay."""
    return mirrored_piece(piece, MIDDLE, UP)
