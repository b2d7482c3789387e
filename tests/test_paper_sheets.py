"""Sheets, the grid they make, and how pieces are laid on them."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint
from shapely import Polygon, box

from clothwise.curve import Point
from clothwise.errors import PaperError
from clothwise.garment.allowance import cutting_line
from clothwise.paper.arrange import Arrangement, arranged
from clothwise.paper.caption import Caption
from clothwise.paper.cover import how_to, page_map
from clothwise.paper.drawing import Fill, Words
from clothwise.paper.grid import Grid, Tile, grown, needed, row_letters
from clothwise.paper.piece import draw_piece, draw_pieces
from clothwise.paper.room import ground, room_inside
from clothwise.paper.sheets import SIZES, Sheet, sheet
from clothwise.paper.squares import CELL as SQUARES_CELL
from clothwise.paper.squares import InkMap, square_places
from clothwise.paper.tiles import joins

from .paper_pieces import leg, panel, pocket, trousers


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"size": "A44"}, "no sheet size 'A44'"),
        ({"size": (3.0, 4.0)}, "leave 1.0 x 2.0 cm"),
        ({"size": (-3.0, 40.0)}, "width of -3"),
        ({"size": (float("nan"), 40.0)}, "width of nan"),
        ({"size": (50.0, 900.0)}, "too large"),
        ({"margin": 12.0}, "leave 0.0 x 5.7 cm"),
        ({"margin": -1.0}, "margin of -1"),
        ({"overlap": 8.0}, "more than a third"),
        ({"overlap": float("inf")}, "overlap of inf"),
        ({"orientation": "sideways"}, "'sideways'"),
    ],
)
def test_sheets_that_cannot_be_are_refused_with_a_reason(wish: dict[str, object], says: str) -> None:
    with pytest.raises(PaperError) as refusal:
        sheet(**{"size": "A4", **wish})  # type: ignore[arg-type]
    assert says in str(refusal.value)
    assert refusal.value.mend


def test_every_named_size_can_be_printed_both_ways() -> None:
    for name in SIZES:
        ways = sheet(name.lower()).orientations()
        assert [w.width <= w.height for w in ways] == [True, False]


def test_the_area_that_fits_a4_and_letter_fits_both() -> None:
    both = sheet("A4 and Letter").window
    for name in ("A4", "Letter"):
        assert both[0] <= sheet(name).window[0] + 1e-9
        assert both[1] <= sheet(name).window[1] + 1e-9
    assert both == pytest.approx((19.0, 25.94))


def test_rows_are_lettered_on_and_on() -> None:
    assert [row_letters(n) for n in (0, 25, 26, 27, 52, 701, 702)] == ["A", "Z", "AA", "AB", "BA", "ZZ", "AAA"]


def ring(*corners: tuple[float, float]) -> list[Point]:
    return [Point(*c) for c in corners]


def test_a_sheet_whose_share_a_neighbour_shows_is_left_out() -> None:
    """A piece that ends inside the strip both sheets show needs one of them only."""
    paper = sheet("A4", orientation="portrait")
    for reach, tiles in ((18.5, ["A1"]), (19.5, ["A1", "A2"])):
        grid = needed(Grid(paper, 1, 2), [grown(ring((0.2, 1), (reach, 1), (reach, 20), (0.2, 20)))])
        assert [t.label for t in grid.tiles] == tiles


def test_blank_sheets_are_skipped() -> None:
    paper = sheet("A4", orientation="portrait", overlap=0)
    elbow = ring((0.5, 0.5), (50, 0.5), (50, 5), (5, 5), (5, 50), (0.5, 50))
    grid = needed(Grid(paper, 2, 3), [grown(elbow)])
    assert [t.label for t in grid.tiles] == ["A1", "B1", "B2", "B3"]


def checked(arrangement: Arrangement, outlines: list[tuple[Point, ...]], paper: Sheet) -> None:
    """Pieces lie apart, whole, on printed sheets, on quarter turns."""
    lying = [Polygon([c(p) for p in o]) for c, o in zip(arrangement.carries, outlines, strict=True)]
    shown = shapely.union_all([box(*arrangement.grid.window(t)) for t in arrangement.grid.tiles])
    for i, one in enumerate(lying):
        assert one.difference(shown).area < 1e-4
        assert one.area == pytest.approx(Polygon(outlines[i]).area)
        for other in lying[i + 1 :]:
            assert one.distance(other) >= 0.15
    assert len(arrangement.grid.tiles) <= arrangement.plain


@pytest.mark.parametrize("paper", [sheet("A4"), sheet("Letter", overlap=0), sheet("A3"), sheet("A0")])
def test_arranged_pieces_lie_apart_and_whole_on_printed_sheets(paper: Sheet) -> None:
    pieces = [leg(), leg("back_leg", wide=36), panel(), pocket(), pocket(wide=9, high=11)]
    outlines = [cutting_line(p) for p in pieces]
    found = arranged(outlines, paper)
    checked(found, outlines, paper)
    assert arranged(outlines, paper) == found


sides = st.floats(2.0, 70.0)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(sides, sides), min_size=1, max_size=6))
def test_any_boxes_are_arranged_without_loss(boxes: list[tuple[float, float]]) -> None:
    outlines = [tuple(ring((0, 0), (w, 0), (w, h), (0, h))) for w, h in boxes]
    paper = sheet("A4")
    checked(arranged(outlines, paper, tries=4), outlines, paper)


def test_turning_saves_sheets_where_side_by_side_would_waste_them() -> None:
    """Two long strips and small squares: laid as drawn they need more than when turned and filled in."""
    strips = [tuple(ring((0, 0), (8.0, 0), (8.0, 70), (0, 70))) for _ in range(2)]
    small = [tuple(ring((0, 0), (9, 0), (9, 9), (0, 9))) for _ in range(4)]
    found = arranged([*strips, *small], sheet("A4"))
    assert len(found.grid.tiles) < found.plain
    assert len(found.grid.tiles) >= math.ceil(sum(Polygon(o).area for o in [*strips, *small]) / (19 * 27.7))


def test_joins_carry_one_number_each_and_lie_on_the_trimmed_edge_in_both_windows() -> None:
    paper = sheet("A4", orientation="portrait")
    grid = Grid(paper, 2, 3, tuple(Tile(r, c) for r in range(2) for c in range(3) if (r, c) != (1, 2)))
    found = joins(grid, InkMap(np.zeros((300, 300))))
    assert [j.number for j in found] == list(range(1, len(found) + 1))
    assert len(found) == 3 + 2  # A1-A2, A2-A3, B1-B2 beside each other; A1-B1, A2-B2 above each other
    sideways = [(j.earlier.label, j.later.label) for j in found if j.sideways]
    assert sideways == [("A1", "A2"), ("A2", "A3"), ("B1", "B2")]
    assert [j.sideways for j in found] == [True] * 3 + [False] * 2, "rows are taped first, then to each other"
    for join in found:
        left, _, _, top = grid.window(join.later)
        assert (join.at.x == left) if join.sideways else (join.at.y == top)
        for tile in (join.earlier, join.later):
            a, b, c, d = grid.window(tile)
            assert a <= join.at.x <= c
            assert b <= join.at.y <= d


def test_squares_may_stand_at_an_edge_that_meets_no_other_sheet() -> None:
    ink = np.zeros((120, 80))
    ink[:96] = 0.2  # a little printed all over but for a band 6 cm high along the upper edge
    window = (0.0, 0.0, 20.0, 30.0)
    alone = square_places(InkMap(ink).of(window, 1.0, frozenset({"below"})))
    assert all(place.y >= 96 * SQUARES_CELL for place in alone)
    below_marks = square_places(InkMap(ink).of(window, 1.0, frozenset({"below", "above"})))
    assert all(place.y < 96 * SQUARES_CELL for place in below_marks), "away from the edge where marks stand"
    empty = square_places(InkMap(np.zeros((120, 80))).of((0.0, 0.0, 20.0, 30.0), 1.0, frozenset()))
    assert all(place.x > 0 and place.y > 0 for place in empty), "never flush with the frame without need"
    joined = square_places(InkMap(np.zeros((120, 80))).of((0.0, 0.0, 20.0, 30.0), 1.0))
    assert all(place.x >= 0.5 and place.y >= 1.5 for place in joined), "away from edges where marks stand"


def test_each_piece_has_its_number_on_the_map_inside_itself_even_a_narrow_one() -> None:
    pieces = [pocket(wide=4, high=95), panel(wide=40, long=70), pocket(wide=70, high=3.5)]
    drawn = [draw_piece(piece, Caption("x"), number=k, of=3) for k, piece in enumerate(pieces, 1)]
    arrangement = arranged([d.outline for d in drawn], sheet("A4"))
    items = page_map(arrangement.grid, drawn, arrangement.carries, (0.0, 0.0, 12.0, 15.0))
    numbers = {item.text: item.place for item in items if isinstance(item, Words) and item.bold}
    rings = [item.path for item in items if isinstance(item, Fill)]
    for k, ring in enumerate(rings, 1):
        place = numbers[str(k)]
        assert Polygon(ring.flattened(tolerance=0.01)).contains(shapely.Point(place.x, place.y + 0.175)), k


def test_the_first_sheet_says_what_the_drawing_does() -> None:
    drawn = draw_pieces(trousers(), Caption("Trousers"))
    found = arranged([d.outline for d in drawn], sheet("A4"))
    said = " ".join(p.text for p in how_to(found, drawn, 10.0))
    labels = [t.label for t in found.grid.tiles]
    assert f"{len(labels)} more sheets" in said
    for label in labels:
        assert label in said
    assert "9.6 cm" in said
    assert "104.2 %" in said
    assert f"would need {found.plain}" in said or found.plain == len(labels)


# ---- room for words --------------------------------------------------------------------------------


def test_the_best_room_is_free_and_none_is_found_where_none_is() -> None:
    outline = [Point(*p) for p in ((0, 0), (20, 0), (20, 12), (8, 12), (8, 30), (0, 30))]
    lines = [[Point(0, 6), Point(20, 6)], [Point(4, 0), Point(4, 30)]]
    free = room_inside(outline, lines)
    shape, ink = Polygon(outline), shapely.MultiLineString([[*map(tuple, line)] for line in lines])
    for width, height in ((10.0, 4.0), (3.0, 20.0), (15.0, 5.0), (3.4, 3.4)):
        corner = free.best(width, height)
        assert corner is not None
        held = box(corner.x, corner.y, corner.x + width, corner.y + height)
        assert shape.contains(held)
        assert held.distance(shape.exterior) >= 0.1
        assert held.distance(ink) >= 0.1
    for width, height in ((16.5, 2.0), (2.0, 30.5), (15.0, 6.5), (100.0, 1.0)):
        assert free.best(width, height) is None


def test_ground_keeps_words_apart_exactly() -> None:
    land = ground([Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10)], [])
    corners = [Point(2, 2), Point(5, 2), Point(5, 3), Point(2, 3)]
    assert land.clear(corners)
    taken = land.taking([corners])
    assert not taken.clear([p.up(1.05) for p in corners])
    assert taken.clear([p.up(1.15) for p in corners])
    assert not land.clear([p.left(1.95) for p in corners])


# ---- test squares ----------------------------------------------------------------------------------


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 2**32 - 1), st.tuples(st.integers(46, 120), st.integers(24, 90)))
def test_both_squares_stay_inside_the_window_and_apart(seed: int, shape: tuple[int, int]) -> None:
    ink = (np.random.default_rng(seed).random(shape) < 0.2).astype(float)
    one, other = square_places(ink)
    first, second = (
        box(one.x, one.y, one.x + 5, one.y + 5),
        box(other.x, other.y, other.x + 5.08, other.y + 5.08),
    )
    window = box(0, 0, shape[1] * 0.25, shape[0] * 0.25)
    assert window.contains(first)
    assert window.contains(second)
    assert first.distance(second) > 0.2
    assert ShapelyPoint(one).distance(ShapelyPoint(other)) > 5


def test_every_sheet_is_proved_not_the_first_alone() -> None:
    """A line of 2 in read 1 7/8 on one sheet of a file; all others were right."""
    drawn = draw_pieces(trousers(), Caption("Trousers"))
    laid = arranged([one.outline for one in drawn], sheet("A4"))
    said = {paragraph.lead: paragraph.text for paragraph in how_to(laid, drawn, 10.0)}
    assert len(laid.grid.tiles) > 1
    assert "squares of each" in said["Then print the rest."]
    assert "1 mm off is printed again" in said["Then print the rest."]
