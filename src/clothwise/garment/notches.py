"""Paired notches, set from the seam graph: walked from one seam end on both sides, never put by a level.

A seam joins a chain of runs to a chain of runs from the same end. A notch stands at the same walked distance
on both; where the seam is gathered, eased or stretched the other side's distance is scaled to its length.
Notches are measured on the seam line and drawn on the cutting line.
Source: house rule, 2025-11 (notches set at a level missed each other by up to 1.9 cm, so they are walked).
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.errors import GarmentError
from clothwise.garment.garment import Garment, Run, Seam
from clothwise.garment.piece import Edge, Notch, Piece
from clothwise.tolerance import NOTCH_CORNER, SAME_POINT


def notched(
    garment: Garment,
    seam_name: str,
    at: float,
    sign: str,
    count_a: int = 1,
    count_b: int = 1,
    *,
    at_b: float | None = None,
    plies: bool = False,
) -> Garment:
    """The garment with one more pair of notches on a seam.

    at       distance along side a from its walked start [cm], 0 to the side's length
    sign     what stands at both halves of the pair; unique on the seam's edges
    count_a  notches side by side on a: 1 single (front), 2 double (back); count_b the same on b
    at_b     distance along side b, where the fullness lies all on one side of the notch; else spread evenly
    plies    also on the further plies caught in the seam, as on b
    Raises   GarmentError: no such seam; off the seam; within NOTCH_CORNER of a corner of either piece;
             a side is a placement line, which is drawn and not cut; the sign is taken
    """
    seam = garment.seam(seam_name)
    length_a, length_b = garment.length(seam.a), garment.length(seam.b)
    plain = seam.ratio == 1.0 and seam.ease == 0.0
    other = at_b if at_b is not None else at if plain else at * length_b / length_a
    piece_a, edge_a, at_a = _walked(garment, seam, seam.a, at)
    piece_b, edge_b, at_b = _walked(garment, seam, seam.b, other)
    one = (piece_a, edge_a, Notch(sign, at_a, count_a))
    two = (piece_b, edge_b, Notch(sign, at_b, count_b))
    further = [_walked(garment, seam, ply, other) for ply in seam.more] if plies else []
    between = [(piece, edge, Notch(sign, at, count_b)) for piece, edge, at in further]
    for piece, edge, notch in (one, two, *between):
        _refuse_taken(garment, seam, piece, edge, notch)
    # An edge sewn to its own mirror image is cut once as drawn, so both halves are the same notch.
    met = (piece_a, edge_a) == (piece_b, edge_b) and abs(at_a - at_b) <= SAME_POINT
    for piece, edge, notch in (*((one,) if met else (one, two)), *between):
        garment = _with_notch(garment, piece, edge, notch)
    return garment


def _walked(garment: Garment, seam: Seam, runs: tuple[Run, ...], at: float) -> tuple[str, str, float]:
    """Piece, edge and distance from that edge's own start, found by walking the chain of runs."""
    where = f"garment '{garment.name}', seam '{seam.name}'"
    whole = garment.length(runs)
    rest = at
    for run in runs:
        length = garment.piece(run.piece).line(run.line).length()
        if rest <= length:
            break
        rest -= length
    if not 0.0 <= at <= whole or not runs:
        raise GarmentError(
            f"A notch {at:.1f} cm along a seam of {whole:.1f} cm lies off it.",
            where=where,
            mend=f"Put it between {NOTCH_CORNER:g} and {whole - NOTCH_CORNER:.1f} cm.",
        )
    if not any(edge.name == run.line for edge in garment.piece(run.piece)):
        raise GarmentError(
            f"'{run.line}' of piece '{run.piece}' is a line drawn inside the piece and can carry no notch.",
            where=where,
            mend="Put notches on seams between edges.",
        )
    from_start = length - rest if run.backwards else rest
    if min(from_start, length - from_start) < NOTCH_CORNER - SAME_POINT:
        raise GarmentError(
            f"A notch {at:.1f} cm along the seam comes within {NOTCH_CORNER:g} cm of a corner "
            f"of piece '{run.piece}', where the crossing seam hides it.",
            where=where,
            mend="Move it along the seam.",
        )
    return run.piece, run.line, from_start


def _refuse_taken(garment: Garment, seam: Seam, piece: str, edge: str, notch: Notch) -> None:
    if any(notch.sign == other.sign for other in garment.piece(piece).edge(edge).notches):
        raise GarmentError(
            f"Edge '{edge}' of piece '{piece}' already has a notch '{notch.sign}'.",
            where=f"garment '{garment.name}', seam '{seam.name}'",
            mend="Give each pair of notches its own sign.",
        )


def _with_notch(garment: Garment, piece_name: str, edge_name: str, notch: Notch) -> Garment:
    def on_edge(edge: Edge) -> Edge:
        if edge.name != edge_name:
            return edge
        return replace(edge, notches=tuple(sorted((*edge.notches, notch), key=lambda n: (n.at, n.sign))))

    def on_piece(piece: Piece) -> Piece:
        if piece.name != piece_name:
            return piece
        return replace(piece, edges=tuple(on_edge(e) for e in piece.edges))

    return replace(garment, pieces=tuple(on_piece(p) for p in garment.pieces))
