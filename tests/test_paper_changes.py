"""Trace-saver: a patch shows all that differs and nothing of the rest, laid true; read back by pdfium."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pypdfium2 as pdfium
import pytest
import shapely
from shapely import LineString, MultiLineString, Polygon

from clothwise.body import sample
from clothwise.curve import Point, line
from clothwise.draft import pattern
from clothwise.errors import PaperError
from clothwise.garment import Garment, Mark, Piece
from clothwise.garment.allowance import cutting_line
from clothwise.paper.changes import change_of, print_changes
from clothwise.paper.geometry import pattern_json, pieces_of_json
from clothwise.paper.pattern import print_pattern

from . import paper_reading as read
from .paper_pieces import leg, panel, pocket, skirt, trousers


def moved(piece: Piece, dx: float, dy: float) -> Piece:
    """The same piece drawn elsewhere on its plane."""
    shift = lambda p: Point(p.x + dx, p.y + dy)  # noqa: E731
    return replace(
        piece,
        edges=tuple(replace(e, curve=e.curve.moved(Point(0, 0).to(Point(dx, dy)))) for e in piece.edges),
        grain=(shift(piece.grain[0]), shift(piece.grain[1])),
        marks=tuple(replace(m, curve=m.curve.moved(Point(0, 0).to(Point(dx, dy)))) for m in piece.marks),
        darts=tuple(
            replace(d, tip=shift(d.tip), first_leg=shift(d.first_leg), second_leg=shift(d.second_leg))
            for d in piece.darts
        ),
    )


def longer_hem(by: float) -> Piece:
    """The pocket with its lower edge let down."""
    a, b = Point(0.0, -by), Point(14.0, -by)
    bottom, right, top, left = pocket().edges
    return replace(
        pocket(),
        edges=(
            replace(bottom, curve=line(a, b)),
            replace(right, curve=line(b, right.curve.end)),
            top,
            replace(left, curve=line(left.curve.start, a)),
        ),
    )


@pytest.mark.parametrize("piece", [leg(), panel(), pocket()], ids=lambda p: p.name)
def test_nothing_differs_from_itself_wherever_it_was_drawn(piece: Piece) -> None:
    for dx, dy in ((0.0, 0.0), (3.21, -17.9)):
        change = change_of(piece, moved(piece, dx, dy))
        assert (change.patches, change.whole, change.moved) == ((), False, ())


def test_a_pattern_read_back_from_its_file_differs_in_nothing() -> None:
    for garment in (trousers(), skirt()):
        back = pieces_of_json(pattern_json(garment))
        for piece, again in zip(garment.pieces, back, strict=True):
            assert change_of(piece, again).patches == ()
            assert (again.title, again.cutting, again.copies) == (piece.title, piece.cutting, piece.copies)
            for one, other in zip(cutting_line(piece), cutting_line(again), strict=True):
                assert one.distance(other) < 0.001


def test_no_hairline_is_left_where_a_turned_hem_shares_the_end_of_a_seam() -> None:
    """Pyjama bottoms of a boy, from six digits: the cutting line ran 0.75 cm into the hem and back."""
    (body,) = sample("boy", 1, seed=20261125)
    garment = pattern("pyjama_bottoms").make(body)
    for piece, back in zip(garment.pieces, pieces_of_json(pattern_json(garment)), strict=True):
        one, other = Polygon(cutting_line(piece)), Polygon(cutting_line(back))
        assert one.exterior.hausdorff_distance(other.exterior) < 0.001
        assert change_of(piece, back).patches == ()


@pytest.mark.parametrize("text", ["", "[]", '{"pieces": [{"name": 3}]}', "no json", '{"pieces": 7}'])
def test_a_file_that_holds_no_pieces_is_refused(text: str) -> None:
    with pytest.raises(PaperError, match="not the geometry"):
        pieces_of_json(text)


@pytest.mark.parametrize("by", [-2.0, 0.4, 3.0])
@pytest.mark.parametrize("drawn_at", [(0.0, 0.0), (40.0, 5.0)])
def test_a_patch_holds_every_changed_line_and_enough_of_the_others(
    by: float, drawn_at: tuple[float, float]
) -> None:
    """Independent of the search: everything farther than the tolerance from the old line lies on a patch."""
    new, old = longer_hem(by), moved(pocket(), *drawn_at)
    change = change_of(new, old)
    assert not change.whole
    whole = Polygon(cutting_line(new))
    if drawn_at == (0.0, 0.0):
        assert change.way.length == 0.0  # as drawn: the hem moves, not the rest
    lying = [p.go(change.way) for p in cutting_line(old)]
    before = LineString([*lying, lying[0]])
    patch = shapely.union_all(change.patches)
    for p in shapely.get_coordinates(shapely.segmentize(whole.exterior, 0.1)):
        spot = shapely.Point(p)
        if before.distance(spot) > 0.06:
            assert patch.distance(spot) < 0.06, p
    assert patch.area < 0.6 * whole.area
    kept = whole.exterior.intersection(patch.buffer(0.05)).intersection(before.buffer(0.05))
    assert kept.length > 5.0
    assert max(by for _, by in change.moved) == pytest.approx(abs(by), abs=0.01)


def test_a_dart_that_is_gone_is_a_change_too() -> None:
    change = change_of(replace(panel(), darts=()), panel())
    assert len(change.patches) == 1
    assert change.patches[0].contains(shapely.Point(*panel().darts[0].tip))


def test_what_has_changed_all_over_is_printed_whole_and_so_is_what_is_new() -> None:
    assert change_of(pocket(wide=10, high=22), pocket()).whole
    assert change_of(pocket(), None).whole


def test_the_patch_on_paper_is_true_and_takes_fewer_sheets() -> None:
    """Every point of the changed hem is on the sheets as it is on the piece; unchanged pieces are left out."""
    old, new = trousers(), trousers()
    lower = Mark("knee", "adjust", line(Point(4.6, 40.0), Point(28.0, 40.0)))
    front = replace(new.pieces[0], marks=(new.pieces[0].marks[0], lower))
    printed = print_changes(Garment("trousers", "Trousers", (front, new.pieces[1]), (), ()), old.pieces)
    whole = print_pattern(new)
    assert printed.sheets < whole.sheets
    pdf = pdfium.PdfDocument(printed.data)
    said = pdf[0].get_textpage().get_text_range().replace("\r\n", " ")
    assert "As before: Back leg" in said
    assert "patch 1 of 2, to lay over the earlier print" in said  # the new line, and the old one covered
    lengths = []
    for page in list(pdf)[1:]:
        ink = MultiLineString([s for s in read.strokes(page, in_forms=True) if len(s) > 1])
        lengths += [s.length for s in ink.geoms]
    assert any(abs(length - lower.curve.length()) < 0.05 for length in lengths)


def test_the_length_of_a_changed_edge_is_true_on_the_sheet() -> None:
    garment = Garment("bag", "Bag", (longer_hem(3.0),), (), ())
    printed = print_changes(garment, [pocket()])
    pdf = pdfium.PdfDocument(printed.data)
    wanted = 14.0  # the sewing line of the bottom
    found = [
        float(np.hypot(*(s[-1] - s[0])))
        for page in list(pdf)[1:]
        for s in read.strokes(page, in_forms=True)
        if len(s) == 2
    ]
    assert min(abs(length - wanted) for length in found) < 0.005


def test_an_unchanged_pattern_is_refused_and_so_is_a_sheet_that_is_not_there() -> None:
    with pytest.raises(PaperError, match="Nothing differs"):
        print_changes(skirt(), skirt().pieces)
    garment = Garment("bag", "Bag", (longer_hem(3.0),), (), ())
    with pytest.raises(PaperError, match="no sheet 'C9'"):
        print_changes(garment, [pocket()], only=["C9"])


def test_the_same_change_gives_the_same_bytes() -> None:
    garment = Garment("bag", "Bag", (longer_hem(3.0),), (), ())
    assert print_changes(garment, [pocket()]).data == print_changes(garment, [pocket()]).data
