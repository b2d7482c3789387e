"""A garment's pieces side by side, small: what a draft looks like, drawn to somebody. Lengths in cm, y down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from clothwise.body import Body, Figure, Measure, estimate
from clothwise.draft import pattern
from clothwise.errors import WorkroomError
from clothwise.garment import Garment
from clothwise.tolerance import SAME_POINT
from clothwise.web.live import path

BETWEEN = 5.0  # cm between pieces
RIM = 3.0  # cm round all
WIDE = 1.6  # a card's picture is wider than high: rows are filled to about this shape


@dataclass(frozen=True, slots=True)
class LittlePieces:
    """What a small picture needs: each piece with where it is moved to, and the frame round all."""

    title: str
    view: str  # of an SVG: 'x y width height'
    pieces: tuple[tuple[str, str], ...]  # path and transform


def little_pieces(draft: str, person: Body) -> LittlePieces | WorkroomError:
    """The pieces of a draft as it is usually made, to a person; or why it cannot be drawn to her."""
    return _drawn(draft, person.figure, tuple(sorted(person.measures.items())), person.age_years)


@lru_cache(maxsize=512)
def _drawn(
    draft: str, figure: Figure, measures: tuple[tuple[str, Measure], ...], age: float | None
) -> LittlePieces | WorkroomError:
    try:
        return side_by_side(pattern(draft).make(estimate(Body("", figure, dict(measures), age))))
    except WorkroomError as no:
        return no


def side_by_side(garment: Garment) -> LittlePieces:
    """All pieces in rows that together come nearest to the shape of a card."""
    boxes = [piece.outline().bounds() for piece in garment.pieces]
    sizes = [(right - left + BETWEEN, top - bottom + BETWEEN) for left, bottom, right, top in boxes]
    widest, whole = max(w for w, _ in sizes), sum(w for w, _ in sizes)
    limits = [widest + step * (whole - widest) / 8 for step in range(9)]
    places, wide, high = min(
        (_rows(sizes, limit) for limit in limits), key=lambda found: max(found[1] / WIDE, found[2])
    )
    moved = tuple(
        (path(piece.outline(), closed=True), f"translate({x - left:.1f} {y + top:.1f})")
        for piece, (x, y), (left, _, _, top) in zip(garment.pieces, places, boxes, strict=True)
    )
    view = f"{-RIM} {-RIM} {wide - BETWEEN + 2 * RIM:.1f} {high - BETWEEN + 2 * RIM:.1f}"
    return LittlePieces(garment.title, view, moved)


def _rows(sizes: Sequence[tuple[float, float]], limit: float) -> tuple[list[tuple[float, float]], float, float]:
    """Places from left to right, a new row where the limit is passed; how wide and high all is."""
    x = y = row = wide = 0.0
    places = []
    for width, height in sizes:
        if x and x + width > limit + SAME_POINT:
            x, y, row = 0.0, y + row, 0.0
        places.append((x, y))
        x, row = x + width, max(row, height)
        wide = max(wide, x)
    return places, wide, y + row
