"""Pleats: width laid in even folds into the seam a piece hangs from. Lengths in cm.

Source: trade knowledge: a pleat takes up twice its depth; depth 1.5 to 6; folds marked where they are made and
where they come to lie.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.alter.settle import settled
from clothwise.alter.widen import into_seam, widened
from clothwise.curve import line
from clothwise.errors import GarmentError
from clothwise.garment import Garment, Mark, Note, Piece

SHALLOWEST, DEEPEST = 0.8, 8.0  # cm: what is shallower is a tuck, what is deeper hangs like a sack
MOST = 12  # on one half
MARK = 6.0  # cm: how far down from the seam the folds are marked
APART = 0.5  # cm at least between one pleat's fold and where the one beside it comes to lie


def pleated(
    garment: Garment, seam_name: str, piece_name: str, number: int, depth: float, *, foot: float = 1.0
) -> Garment:
    """The garment with so many pleats of that depth on each half of a piece, laid where it is sewn into a seam.

    foot    share of the added width that is still there at the edge opposite: 1 straight, 0 none
    Raises  GarmentError: no such seam or piece in it, pleats that would lie over each other, or a broken rule
    """
    where = f"garment '{garment.name}', seam '{seam_name}'"
    if not (SHALLOWEST <= depth <= DEEPEST and 1 <= number <= MOST):
        raise GarmentError(
            f"{number} pleats {depth:g} cm deep cannot be laid.",
            where=where,
            mend=f"Possible are 1 to {MOST} on each half, {SHALLOWEST:g} to {DEEPEST:g} cm deep.",
        )
    seam, edge_name, halves = into_seam(garment, seam_name, piece_name)
    piece = garment.piece(piece_name)
    edge = piece.edge(edge_name)
    if len({run.line for run in seam.a if run.piece == piece_name}) > 1:
        raise GarmentError(
            f"'{piece.title}' is shaped by darts or parted at '{seam.title.lower()}': no pleats fit there.",
            where=where,
            mend="Choose a seam that it meets with one plain edge, or a pattern without darts there.",
        )
    room = edge.curve.length() / number
    if room < depth + APART:
        raise GarmentError(
            f"{number} pleats {depth:g} cm deep would lie over each other on {edge.curve.length():.1f} cm.",
            where=where,
            mend="Lay fewer, or make them shallower.",
        )
    more = 2 * depth * number
    wide = widened(piece, edge, more, foot)
    before = sum(mark.name.endswith("_fold") and "pleat_" in mark.name for mark in piece.marks)
    wide = replace(wide, marks=(*wide.marks, *_marks(wide, edge_name, number, depth, before)))
    whole = garment.length(seam.a) + more * halves
    new = replace(seam, kind="pleated", ratio=whole / garment.length(seam.b), ease=0.0)
    seams = tuple(new if s.name == seam_name else s for s in garment.seams)
    said = (
        f"{piece.title}: {number} pleat{'s' if number > 1 else ''} {depth:g} cm deep on each half. Before "
        f"'{seam.title.lower()}' is sewn, fold each on its line, bring the fold to the other and baste."
    )
    return settled(
        replace(garment, seams=seams), [wide], Note(said, measure=seam_name, by=more), fullness=seam_name
    )


def _marks(piece: Piece, edge_name: str, number: int, depth: float, before: int) -> list[Mark]:
    """Of each pleat the fold, and the line to which it is brought: twice its depth nearer the start."""
    edge = piece.edge(edge_name).curve
    whole = edge.length()
    found = []
    for n in range(number):
        middle = (n + 0.5) * whole / number
        for what, at in (("fold", middle + depth), ("meets", middle - depth)):
            top = edge.at_length(at)
            foot = top.go(edge.tangent_at_length(at).left(), MARK)
            found.append(Mark(f"pleat_{before + n + 1}_{what}", "note", line(top, foot)))
    return found
