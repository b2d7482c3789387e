"""Mirror images: of an edge, a dart, a whole piece, in a line. Outlines stay anticlockwise, names stay."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.curve import Point, Vector
from clothwise.garment.piece import Dart, Edge, Piece


def mirrored_piece(piece: Piece, through: Point, along: Vector) -> Piece:
    """The piece turned over about the line: drawn for the other half of the body, right side up."""
    bottom, top = piece.grain
    return replace(
        piece,
        edges=tuple(mirrored_edge(edge, through, along) for edge in reversed(piece.edges)),
        grain=(bottom.mirrored(through, along), top.mirrored(through, along)),
        darts=tuple(mirrored_dart(dart, through, along) for dart in piece.darts),
        marks=tuple(replace(mark, curve=mark.curve.mirrored(through, along)) for mark in piece.marks),
    )


def mirrored_edge(edge: Edge, through: Point, along: Vector) -> Edge:
    """The edge's image, travelled the other way so that it fits into the mirrored outline."""
    return _reversed(replace(edge, curve=edge.curve.mirrored(through, along)))


def mirrored_dart(dart: Dart, through: Point, along: Vector) -> Dart:
    """The dart's image; its legs change places, as the mouth is travelled the other way."""
    return replace(
        dart,
        tip=dart.tip.mirrored(through, along),
        first_leg=dart.second_leg.mirrored(through, along),
        second_leg=dart.first_leg.mirrored(through, along),
        other_tip=dart.other_tip.mirrored(through, along) if dart.other_tip else None,
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
