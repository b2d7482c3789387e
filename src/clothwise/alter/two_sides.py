"""One garment of two: the left side of one and the right side of the other, for a body that is not even.

Both are drawn by the same draft, each for its own side of the body, told `apart` and joined where they meet:
at a seam, or at the middle of what was on the fold. Lengths in cm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import TypeVar

from clothwise.alter.settle import GIRTH_SAID, SAME_FIGURE, off
from clothwise.alter.sides import LEFT, RIGHT, SINGLY, TOLD_APART, apart
from clothwise.curve import nearest
from clothwise.errors import GarmentError
from clothwise.garment import Dart, FreeEdge, Garment, Mark, Note, Piece, Seam
from clothwise.garment.check.notes import SHOWN_BY
from clothwise.tolerance import SAME_POINT, SEAM_MATCH

Named = TypeVar("Named", Dart, Mark, FreeEdge)


def of_two(left: Garment, right: Garment) -> Garment:
    """The left side of one garment and the right side of the other, cut singly.

    Both by the same draft and with the same choices. GarmentError when the two do not meet at the middle.
    """
    one, other = apart(left), apart(right)
    if [p.name for p in one.pieces] != [p.name for p in other.pieces]:
        raise GarmentError(
            "The two sides have different pieces and cannot be joined.",
            where=f"garment '{left.name}'",
            mend="Draw both sides by the same draft with the same choices.",
        )
    pieces = tuple(_of_two(a, b) for a, b in zip(one.pieces, other.pieces, strict=True))
    whole = replace(
        one,
        pieces=pieces,
        seams=tuple(_seam_of_two(a, b) for a, b in zip(one.seams, other.seams, strict=True)),
        free_edges=tuple(_own_half(a, b) for a, b in zip(one.free_edges, other.free_edges, strict=True)),
    )
    _refuse_uneven_turns(one, other)
    for seam in whole.seams:
        own = other if seam.name.startswith(f"{RIGHT}_") else one
        apart_by = abs(off(whole, seam) - off(own, own.seam(seam.name)))
        if apart_by > SEAM_MATCH:
            raise GarmentError(
                f"'{seam.title}' joins left and right, and they would differ by {apart_by:.1f} cm.",
                where=f"garment '{left.name}', seam '{seam.name}'",
                mend="Let the sides differ in what does not reach the middle: shoulder, underarm, side seam.",
            )
    levels = tuple(
        replace(level, ease=level.ease + whole.round(level.runs) - level.wanted)
        if not level.at_least and abs(whole.round(level.runs) - level.wanted) > GIRTH_SAID
        else level
        for level in whole.levels
    )
    said = Note(SINGLY, TOLD_APART, 1.0)
    finished = dict(_finished(whole, left.finished, right.finished))
    return replace(whole, levels=levels, notes=(*left.notes, said), finished=finished)


def _refuse_uneven_turns(one: Garment, other: Garment) -> None:
    """A casing or hem round both sides is turned equally deep on both."""
    for a, b in zip(one.free_edges, other.free_edges, strict=True):
        if a.turn != b.turn and not a.name.startswith((f"{LEFT}_", f"{RIGHT}_")):
            raise GarmentError(
                f"'{a.title}' would be turned {a.turn:g} cm on the left and {b.turn:g} cm on the right.",
                where=f"garment '{one.name}', edge '{a.name}'",
                mend="Ask for its width, so that it is the same on both: for a casing that of the elastic.",
            )


def _finished(
    whole: Garment, left: Mapping[str, float], right: Mapping[str, float]
) -> Iterator[tuple[str, float]]:
    """Finished measures: one round both sides is the mean of what either would make it; what either side has
    for itself is told twice where it differs."""
    for name, cm in left.items():
        other = right.get(name, cm)
        if abs(cm - other) <= SAME_FIGURE:
            yield name, cm
        elif any(free.name == SHOWN_BY.get(name) for free in whole.free_edges):
            yield name, (cm + other) / 2
        else:
            yield f"{name}, {LEFT}", cm
            yield f"{name}, {RIGHT}", other


def _of_two(one: Piece, other: Piece) -> Piece:
    """The right piece from the other garment; of a whole piece its right half."""
    if one.name.startswith(f"{LEFT}_") or not any(e.name.startswith(f"{RIGHT}_") for e in one):
        return other if one.name.startswith(f"{RIGHT}_") else one
    edges = tuple(
        b if b.name.startswith(f"{RIGHT}_") else a for a, b in zip(one.edges, other.edges, strict=True)
    )
    for a, b in zip(edges, (*edges[1:], edges[0]), strict=True):
        if a.curve.end.distance(b.curve.start) > SAME_POINT:
            raise GarmentError(
                f"The two halves of '{one.title.lower()}' do not meet at the middle.",
                where=f"piece '{one.name}', edges '{a.name}' and '{b.name}'",
                mend="Change the sides so that their middles stay as long.",
            )
    return replace(
        one,
        edges=edges,
        darts=tuple(_own_half(a, b) for a, b in zip(one.darts, other.darts, strict=True)),
        marks=tuple(_mark_of_two(one, a, b) for a, b in zip(one.marks, other.marks, strict=True)),
    )


def _own_half(one: Named, other: Named) -> Named:
    return other if one.name.startswith(f"{RIGHT}_") else one


def _seam_of_two(one: Seam, other: Seam) -> Seam:
    """Each side's own where it is told apart; one across both sides holds half of the ease, and of
    the fullness, of either."""
    if one.name.startswith(f"{LEFT}_"):
        return one
    if one.name.startswith(f"{RIGHT}_"):
        return other
    mean_ease, mean_ratio = (one.ease + other.ease) / 2, (one.ratio + other.ratio) / 2
    return replace(one, ease=mean_ease, ratio=mean_ratio)


def _mark_of_two(piece: Piece, one: Mark, other: Mark) -> Mark:
    """A line right across the whole piece runs half on one side's height, half on the other's."""
    if one.name.startswith((f"{LEFT}_", f"{RIGHT}_")) or one.curve == other.curve:
        return _own_half(one, other)
    begins = min(piece, key=lambda edge: nearest(edge.curve, one.curve.start).away)
    halves = [mark.curve.split(mark.curve.length() / 2) for mark in (one, other)]
    if begins.name.startswith(f"{RIGHT}_"):
        halves.reverse()
    parts = (halves[0][0], halves[1][1])
    if parts[0].end.distance(parts[1].start) > SAME_POINT:
        raise GarmentError(
            f"The line '{one.name.replace('_', ' ')}' of '{piece.title.lower()}' would break at the middle.",
            where=f"piece '{piece.name}'",
            mend="Let the sides differ in what does not reach the middle: shoulder, underarm, side seam.",
        )
    return replace(one, curve=parts[0].then(parts[1]))
