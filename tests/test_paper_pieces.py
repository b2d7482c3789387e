"""What is on a piece: everything a sewer looks for, in words that lie inside it and touch nothing."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pypdfium2 as pdfium
import pytest
import shapely
from shapely import LineString, Polygon

from clothwise.body import sample
from clothwise.curve import Point, line
from clothwise.draft import PATTERNS
from clothwise.errors import PaperError, WorkroomError
from clothwise.garment import Edge, Garment, Mark, Piece
from clothwise.paper.caption import Caption, how_to_cut
from clothwise.paper.drawing import Carry, Drawing, Stroke
from clothwise.paper.pdf import Book, Page, Placed, write_pdf
from clothwise.paper.piece import DrawnPiece, draw_piece, draw_pieces, notch_numbers

from . import paper_reading as read
from .paper_pieces import leg, panel, pocket, skirt, trousers

CAPTION = Caption("Pull-on trousers", "Pilar", "2026-11-25", "t-4f2a91c0")


def on_one_page(drawn: DrawnPiece) -> tuple[pdfium.PdfPage, Polygon]:
    """The piece alone on a page, read back by pdfium, and its cutting line on that page."""
    left, bottom, right, top = drawn.drawing.bounds()
    carry = Carry(0, 1 - left, 1 - bottom)
    page = Page(right - left + 2, top - bottom + 2, "1", Drawing("none", "", ()), (Placed("p", carry),))
    pdf = pdfium.PdfDocument(write_pdf(Book("piece", (page,), {"p": drawn.drawing})))
    return pdf[0], Polygon([carry(p) for p in drawn.outline])


def faults(drawn: DrawnPiece) -> list[str]:
    """Words outside the piece, on a line, or on other words: measured from the file, not from our own boxes."""
    page, outline = on_one_page(drawn)
    words = [(text, Polygon(quad)) for text, quad in read.word_boxes(page)]
    lines = shapely.MultiLineString([LineString(s) for s in read.strokes(page) if len(s) > 1])
    found = [f"'{text}' leaves the piece" for text, box in words if not outline.contains(box)]
    found += [f"'{text}' lies on a line" for text, box in words if lines.intersects(box)]
    found += [f"'{a}' lies on '{b}'" for (a, p), (b, q) in combinations(words, 2) if p.intersects(q)]
    return found


HAND_MADE = [
    *trousers().pieces,
    *trousers(wide=18, long=50).pieces,
    *trousers(wide=52, long=125).pieces,
    *skirt().pieces,
    pocket(wide=6, high=5),
    pocket(wide=3, high=30),
    pocket(wide=90, high=2.5),
]


@pytest.mark.parametrize("piece", HAND_MADE, ids=lambda p: p.name)
def test_words_lie_inside_the_piece_and_touch_nothing(piece: Piece) -> None:
    assert faults(draw_piece(piece, CAPTION, signs={"hip_side": 3, "knee_side": 11})) == []


STRIP = 2.5  # cm: on a belt loop, narrower than this, some words find no room, and it is said


def narrowest(piece: Piece) -> float:
    left, low, right, high = piece.outline().bounds()
    return min(right - left, high - low)


@pytest.mark.parametrize("draft", PATTERNS, ids=lambda d: d.name)
@pytest.mark.parametrize("figure", ["woman", "man", "girl", "boy"])
def test_words_lie_inside_every_piece_of_sampled_bodies(draft, figure) -> None:  # type: ignore[no-untyped-def]
    drawn = 0
    for body in sample(figure, 2, seed=20261125):  # hundreds more in benchmarks/paper.py
        try:
            garment = draft.make(body, {})
        except WorkroomError:
            continue  # refused with a sentence: the draft's own business
        for piece in draw_pieces(garment, CAPTION):
            assert faults(piece) == [], (body.name, piece.piece.name)
            if narrowest(piece.piece) > STRIP:
                assert piece.problems == (), (body.name, piece.piece.name)
            drawn += 1
    assert drawn > 0 or figure in ("girl", "boy")


def test_a_fault_would_be_seen() -> None:
    """The measure itself: a line through the title and a title pushed off the piece are found."""
    drawn = draw_piece(leg(), CAPTION)
    title = next(w for w in drawn.drawing.words() if w.text == "Front leg")
    x, y = title.place
    crossed = drawn.drawing.with_items([Stroke(line(Point(x - 5, y + 0.1), Point(x + 5, y + 0.1)), "cut")])
    assert any("Front leg" in f for f in faults(replace(drawn, drawing=crossed)))
    outside = drawn.drawing.with_items([replace(title, place=Point(x - 40, y))])
    assert any("leaves" in f for f in faults(replace(drawn, drawing=outside)))


def test_all_that_a_sewer_looks_for_is_said() -> None:
    page, _ = on_one_page(draw_piece(leg(), CAPTION, number=1, of=2, signs=notch_numbers(trousers())))
    said = " | ".join(text for text, _ in read.word_boxes(page)).replace("\xa0", " ")
    for wanted in (
        "Front leg", "Cut 1 pair", "Pull-on trousers · Pilar", "seams 1.5 cm, hem 4 cm, casing 4.5 cm",
        "piece 1 of 2 · 2026-11-25 · ticket t-4f2a91c0", "grain 88 cm", "side seam · 1.5 cm",
        "hem · turn up 4 cm",
        "waist · turn down 4.5 cm", "hip", "lengthen or shorten here",
    ):  # fmt: skip
        assert wanted in said
    on_fold, _ = on_one_page(draw_piece(panel(), CAPTION))
    said = " | ".join(text for text, _ in read.word_boxes(on_fold))
    assert "Cut 1 on the fold" in said
    assert "place on the fold of the cloth" in said
    assert "pocket" in said


def test_how_many_to_cut_is_said_as_cutters_say_it() -> None:
    assert how_to_cut(leg()) == "Cut 1 pair"
    assert how_to_cut(replace(pocket(), copies=4)) == "Cut 2 pairs"
    assert how_to_cut(replace(pocket(), cutting="single", copies=3, layer="lining")) == "Cut 3 from the lining"
    assert (
        how_to_cut(replace(panel(), copies=1, layer="interfacing")) == "Cut 1 on the fold from the interfacing"
    )
    assert how_to_cut(replace(pocket(), cutting="single", copies=1, bias=True)) == "Cut 1, on the bias"


def test_nothing_is_cut_along_the_fold() -> None:
    """The cut line runs from one end of the fold to the other and leaves the fold itself to the fold's pen."""
    drawn = draw_piece(panel(), CAPTION)
    cuts = [item for item in drawn.drawing if isinstance(item, Stroke) and item.pen == "cut"]
    assert len(cuts) == 1
    assert not cuts[0].closed
    run = cuts[0].path
    assert abs(run.start.x) < 1e-6
    assert abs(run.end.x) < 1e-6
    assert {round(run.start.y, 3), round(run.end.y, 3)} == {-3.0, 60.0}
    assert all(p.x > 0.01 for p in run.flattened(tolerance=0.01)[1:-1])


@pytest.mark.parametrize(("count", "ticks"), [(1, 1), (2, 2)])
def test_notches_stand_on_the_cutting_line_square_to_it(count: int, ticks: int) -> None:
    """One tick in front, two in the back, each from the cutting line inwards, short of the seam line."""
    piece = leg(count=count)
    drawn = draw_piece(piece, CAPTION)
    rim = LineString([*drawn.outline, drawn.outline[0]])
    found = [item.path for item in drawn.drawing if isinstance(item, Stroke) and item.pen == "notch"]
    assert len(found) == 4 * ticks
    seams = shapely.MultiLineString([LineString(e.curve.flattened(tolerance=0.001)) for e in piece.edges])
    for tick in found:
        assert rim.distance(shapely.Point(tick.start)) < 0.02
        assert Polygon(drawn.outline).contains(shapely.Point(tick.end))
        assert seams.distance(shapely.Point(tick.end)) > 0.5


def test_the_same_number_stands_at_both_halves_of_a_notch() -> None:
    numbers = notch_numbers(trousers())
    assert numbers == {"knee_side": 1, "hip_side": 2, "crotch": 3, "knee_inside": 4}


def test_the_grain_arrow_is_as_long_as_it_says() -> None:
    page, _ = on_one_page(draw_piece(leg(long=97.3), CAPTION))
    said = next(t for t, _ in read.word_boxes(page) if t.startswith("grain")).split(":")[0]
    arrows = [
        s for s in read.strokes(page) if len(s) == 2 and abs(s[0, 0] - s[1, 0]) < 1e-4 and np.ptp(s[:, 1]) > 50
    ]
    assert [f"grain {np.ptp(arrow[:, 1]):.1f}\xa0cm" for arrow in arrows] == [said]


def test_words_shrink_on_a_small_piece_and_what_is_left_out_is_told() -> None:
    large, small, tiny = (
        draw_piece(pocket(wide=w, high=h), CAPTION) for w, h in ((40, 40), (11, 11), (2.2, 2.2))
    )
    size = {n: max(w.size for w in d.drawing.words()) for n, d in (("large", large), ("small", small))}
    assert size["small"] < size["large"]
    assert large.problems == small.problems == ()
    assert any("too small" in problem for problem in tiny.problems)
    assert min(w.size for d in (large, small, tiny) for w in d.drawing.words()) >= 0.19


def test_letters_the_face_lacks_are_told_with_the_piece() -> None:
    drawn = draw_piece(leg(), replace(CAPTION, body="𒀀 Rose"))
    assert any("𒀀" in problem for problem in drawn.problems)


def test_chosen_pieces_keep_their_numbers() -> None:
    only = draw_pieces(trousers(), CAPTION, ["back_leg"])
    assert [d.number for d in only] == [2]


def test_refusals_say_what_is_there() -> None:
    with pytest.raises(PaperError, match=r"no piece 'sleeve'.*front_leg, back_leg"):
        draw_pieces(trousers(), CAPTION, ["sleeve"])
    with pytest.raises(PaperError, match="no pieces"):
        draw_pieces(Garment("none", "None", (), (), ()), CAPTION)


def test_marks_of_every_kind_are_drawn_and_named() -> None:
    marks = (
        Mark("buttonhole", "button", line(Point(12, 30), Point(14, 30))),
        Mark("press a crease", "note", line(Point(12, 50), Point(20, 50))),
    )
    piece = replace(leg(), marks=(*leg().marks, *marks))
    drawn = draw_piece(piece, CAPTION)
    said = {w.text for w in drawn.drawing.words()}
    assert {"buttonhole", "press a crease"} <= said
    assert faults(drawn) == []


def test_an_edge_without_allowance_says_so() -> None:
    a, b, c, d = Point(0, 0), Point(30, 0), Point(30, 20), Point(0, 20)
    edges = (
        Edge("selvedge", line(a, b), "raw", 0.0), Edge("side", line(b, c), "seam", 1.0),
        Edge("top", line(c, d), "seam", 1.0), Edge("other_side", line(d, a), "seam", 1.0),
    )  # fmt: skip
    drawn = draw_piece(Piece("band", "Band", edges, (Point(3, 10), Point(27, 10)), "single", 1), CAPTION)
    assert "selvedge: no allowance" in {w.text for w in drawn.drawing.words()}
    assert faults(drawn) == []


def test_interfacing_is_said_where_the_piece_is_cut_from_it_too() -> None:
    collar = replace(pocket(), name="collar", title="Collar", interfaced=True, cutting="single", copies=2)
    assert how_to_cut(collar) == "Cut 2; the same from interfacing"
    assert "Cut 2; the same from interfacing" in {w.text for w in draw_piece(collar, CAPTION).drawing.words()}


@pytest.mark.parametrize(("wide", "high"), [(46.0, 2.0), (40.0, 3.2)])
def test_a_band_says_all_in_one_or_two_lines_and_its_grain_beside_the_short_arrow(
    wide: float, high: float
) -> None:
    a, b, c, d = Point(0, 0), Point(wide, 0), Point(wide, high), Point(0, high)
    edges = tuple(
        Edge(name, line(p, q), "seam", 1.0)
        for name, p, q in (("outer", a, b), ("end", b, c), ("inner", c, d), ("start", d, a))
    )
    fold = Mark("fold", "fold line", line(Point(0, high / 2), Point(wide, high / 2)))
    grain = (Point(wide / 2, 0.0), Point(wide / 2, high))
    band = Piece("neckband", "Neckband", edges, grain, "single", 1, marks=(fold,))
    drawn = draw_piece(band, CAPTION)
    said = " ".join(w.text for w in drawn.drawing.words())
    for wanted in ("Neckband", "Cut 1", "Pilar", "2026-11-25", "t-4f2a91c0"):
        assert wanted in said
    assert drawn.problems == ()
    assert (f"grain {high:g}\xa0cm" in said) == (high > 2.5)
    assert faults(drawn) == []


def test_the_arrow_says_how_to_lay_it_and_on_the_bias_never_along_the_edge() -> None:
    """The arrow of a piece on the bias lies at 45 degrees to the cloth; to say otherwise would ruin it."""
    straight = " ".join(w.text for w in draw_piece(leg(), CAPTION).drawing.words())
    assert "grain 88\xa0cm: both ends equally far from the cloth’s edge" in straight
    on_bias = replace(leg(), bias=True, cutting="single", copies=1)
    said = " ".join(w.text for w in draw_piece(on_bias, CAPTION).drawing.words())
    assert "grain, on the bias 88\xa0cm: lay it at 45° to the cloth’s edge" in said
    assert "equally far" not in said
