"""A bought garment made longer or shorter, and its pieces so changed for a lay. [cm]

line    where a piece is cut across and spread, or folded up: a third of its height above its lowest point,
        which lies below crotch, armhole and sleeve head on every piece; the paper has a line of its own there
above   the waist: bodices; below it: skirts and legs; a piece cut through takes both

For a lay only: seams are not trued where a piece was folded up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from clothwise.errors import ShelfError
from clothwise.shelf.pattern import NamedPiece
from clothwise.size.advice import LengthAdvice

Points = tuple[tuple[float, float], ...]

LINE = 1 / 3  # of a piece's height, from below
LEAST_LEFT = 2.0  # cm of a piece: shorter it is none
TALL = 0.6  # share of the tallest piece: what is shorter does not carry the garment's length; house rule
NOT_OF_THE_BODY = (
    *("sleeve", "waistband", "waist band", "belt", "tie", "strap", "collar", "cuff", "pocket", "neckband"),
    *("binding", "yoke"),
)  # words in the names of pieces that keep their height when the garment grows
OFF_THE_LINE = 0.001  # cm: the line is moved off corners, so that each lies above or below it
WHERE = {
    "back_length": "above",
    "sleeve_length": "sleeves",
    **dict.fromkeys(("rise", "inside_leg", "length"), "below"),
}


@dataclass(frozen=True, slots=True)
class Longer:
    """By how much a garment is made longer: above the waist, below it, in the sleeves. Shorter: negative."""

    above: float = 0.0
    below: float = 0.0
    sleeves: float = 0.0

    @property
    def body(self) -> float:
        return self.above + self.below

    def __bool__(self) -> bool:
        return bool(self.above or self.below or self.sleeves)


AS_IT_IS = Longer()


def longer_as_advised(lengths: tuple[LengthAdvice, ...], *, hem: float = 0.0) -> Longer:
    """All length changes advised together, and `hem` that she asks for herself.

    A side length says the same as rise and inside leg once more: it counts only where they are silent.
    """
    by = {one.level: one.by for one in lengths}
    total = {"above": 0.0, "below": hem, "sleeves": 0.0}
    for level, where in WHERE.items():
        total[where] += by.get(level, 0.0)
    if not {"rise", "inside_leg"} & by.keys():
        total["below"] += by.get("side_length", 0.0)
    return Longer(**total)


def lengthened_pieces(
    pieces: tuple[NamedPiece, ...], size: str, longer: Longer
) -> tuple[tuple[NamedPiece, Points], ...]:
    """Each piece with its outline in this size, lengthened by what falls to it."""
    bodies = [piece for piece in pieces if not any(word in piece.name.lower() for word in NOT_OF_THE_BODY)]
    tallest = max((_height(piece.outlines[size]) for piece in bodies), default=0.0)
    return tuple(
        (piece, lengthened(piece.outlines[size], _falls_to(piece, size, longer, tallest, piece in bodies)))
        for piece in pieces
    )


def _falls_to(piece: NamedPiece, size: str, longer: Longer, tallest: float, of_the_body: bool) -> float:
    name = piece.name.lower()
    if "sleeve" in name:
        return longer.sleeves
    if not of_the_body:
        return 0.0
    if "bodice" in name:
        return longer.above
    if "skirt" in name:
        return longer.below
    return longer.body if _height(piece.outlines[size]) >= TALL * tallest else 0.0


def lengthened(outline: Points, by: float) -> Points:
    """The outline cut across at its line and spread by this much, or folded up by it. [cm]

    >>> lengthened(((0.0, 0.0), (10.0, 0.0), (10.0, 30.0), (0.0, 30.0)), 5.0)[2:5]
    ((10.0, 10.0), (10.0, 15.0), (10.0, 35.0))
    """
    if not by:
        return outline
    low, height = min(y for _, y in outline), _height(outline)
    if height + by < LEAST_LEFT:
        raise ShelfError(
            "Shortened by so much, nothing is left of it.",
            where="longer",
            mend="Give a smaller change of length.",
        )
    line = low + LINE * min(height, height + by)
    while by > 0 and any(abs(y - line) < OFF_THE_LINE / 2 for _, y in outline):
        line += OFF_THE_LINE
    return tuple(_spread(outline, line, by) if by > 0 else _folded(outline, line, -by))


def _spread(outline: Points, line: float, by: float) -> Iterator[tuple[float, float]]:
    """What lies above the line moves up; every edge across it gains an upright piece."""
    for (x, y), (u, v) in pairwise((*outline, outline[0])):
        yield x, y + by if y > line else y
        if (y > line) != (v > line):
            at = x + (u - x) * (line - y) / (v - y)
            upright = ((at, line), (at, line + by))
            yield from upright if v > y else upright[::-1]


def _folded(outline: Points, line: float, by: float) -> Iterator[tuple[float, float]]:
    """What lies above the fold comes down to the line; the fold itself is gone."""
    top = line + by
    for (x, y), (u, v) in pairwise((*outline, outline[0])):
        if y <= line or y >= top:
            yield x, y if y <= line else y - by
        for level in (line, top) if v > y else (top, line):
            if min(y, v) < level < max(y, v):
                yield x + (u - x) * (level - y) / (v - y), line


def _height(outline: Points) -> float:
    along = [y for _, y in outline]
    return max(along) - min(along)
