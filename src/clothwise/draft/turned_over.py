"""A piece turned over: its mirror image, drawn for the other half of the body with the right side up.

Panels are drawn with the centre on the left; the back is turned over when it is done, so that both front and
back are the wearer's left half as they are cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.curve import UP, Curve, Point
from clothwise.garment import Edge, Piece

MIDDLE = Point(0.0, 0.0)


def turned_over(piece: Piece) -> Piece:
    """The piece mirrored in the upright line through (0, 0); all names stay."""
    bottom, top = piece.grain
    return replace(
        piece,
        edges=walked_back(tuple(replace(edge, curve=_over(edge.curve)) for edge in piece.edges)),
        grain=(bottom.mirrored(MIDDLE, UP), top.mirrored(MIDDLE, UP)),
        darts=tuple(
            replace(
                dart,
                tip=dart.tip.mirrored(MIDDLE, UP),
                first_leg=dart.second_leg.mirrored(MIDDLE, UP),
                second_leg=dart.first_leg.mirrored(MIDDLE, UP),
                other_tip=dart.other_tip.mirrored(MIDDLE, UP) if dart.other_tip else None,
            )
            for dart in piece.darts
        ),
        marks=tuple(replace(mark, curve=_over(mark.curve)) for mark in piece.marks),
    )


def walked_back(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """The same edges from the last to the first, each the other way, notches where they were."""
    return tuple(_reversed(edge) for edge in reversed(edges))


def _reversed(edge: Edge) -> Edge:
    if not edge.notches:
        return replace(edge, curve=edge.curve.reversed())
    length = edge.curve.length()
    notches = tuple(replace(notch, at=length - notch.at) for notch in reversed(edge.notches))
    return replace(edge, curve=edge.curve.reversed(), notches=notches)


def _over(curve: Curve) -> Curve:
    return curve.mirrored(MIDDLE, UP)
