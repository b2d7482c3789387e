"""What the check lets pass on narrow strips and loose pieces, and what it still names."""

from __future__ import annotations

from dataclasses import replace

from clothwise.curve import Point, line
from clothwise.garment import Edge, Garment, Piece
from clothwise.garment.check import check
from tests.hand_made import bag


def strip(width: float, arrow: tuple[Point, Point], *, loose: bool) -> Piece:
    corners = [Point(0, 0), Point(40, 0), Point(40, width), Point(0, width)]
    edges = tuple(
        Edge(f"side_{i}", line(a, b), "raw", 0.0)
        for i, (a, b) in enumerate(zip(corners, (*corners[1:], corners[0]), strict=True))
    )
    return Piece("belt", "Belt", edges, arrow, "single", 1, loose=loose)


def rules(piece: Piece) -> set[str]:
    garment: Garment = bag()
    return {fault.rule for fault in check(replace(garment, pieces=(*garment.pieces, piece)))}


def test_a_strip_carries_its_grain_over_its_whole_width() -> None:
    assert rules(strip(2.0, (Point(20, 0), Point(20, 2)), loose=True)) == set()


def test_an_arrow_too_short_to_be_laid_by_is_still_named() -> None:
    assert "grain" in rules(strip(2.0, (Point(20, 0.2), Point(20, 1.8)), loose=True))
    assert "grain" in rules(strip(2.0, (Point(10, 0), Point(11, 2)), loose=True))
    assert "grain" in rules(strip(6.0, (Point(20, 1), Point(20, 3)), loose=True))
    assert "grain" in rules(strip(2.0, (Point(20, 1), Point(20, 1)), loose=True))


def test_only_a_belt_that_says_so_may_hang_loose() -> None:
    assert rules(strip(4.0, (Point(5, 2), Point(35, 2)), loose=True)) == set()
    assert rules(strip(4.0, (Point(5, 2), Point(35, 2)), loose=False)) == {"attached"}


def test_a_loose_piece_is_sewn_to_no_other() -> None:
    garment = bag()
    said = replace(garment.pieces[0], loose=True)
    faults = check(replace(garment, pieces=(said, *garment.pieces[1:])))
    assert "attached" in {fault.rule for fault in faults}
