"""Names in any living script: shaped as it wants, inside the room its line is given, found again by search."""

from __future__ import annotations

import io
import shutil
import subprocess
from dataclasses import replace

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pytest
import shapely
from shapely import LineString, MultiPolygon, Polygon

from clothwise.curve import Point
from clothwise.paper import font, script
from clothwise.paper.caption import Caption
from clothwise.paper.drawing import Drawing, Stroke, Words
from clothwise.paper.pattern import print_pattern
from clothwise.paper.pdf import Book, Page, write_pdf
from clothwise.paper.piece import draw_pieces

from .paper_pieces import skirt, trousers

NAMES = (
    "ליאה כהן", "نور الهدى", "李小龍", "さくら", "김민수", "देवी प्रिया", "রূপা", "ਗੁਰਪ੍ਰੀਤ", "ગીતા", "தமிழ்ச்செல்வி",
    "సీత", "ಗೀತಾ", "സീത", "සීතා", "สมหญิง", "ນາງ", "មករា", "မေမေ", "Հասմիկ", "თამარ", "ትዕግስት", "ᓇᓄᖅ", "ᎠᏯᏍᏗ",
    "ⵜⵉⴼⵉⵏⴰⵖ",
)  # fmt: skip


def left(text: str) -> list[float]:
    """Left ends of the outlines of a line, in the order in which they are drawn. [em]"""
    return [curve.bounds()[0] for curve in script.shaped(text, False).outlines]


@pytest.mark.parametrize("name", NAMES)
def test_every_living_script_is_set_whole_and_keeps_within_its_line(name: str) -> None:
    assert font.missing(name) == ""
    assert font.tidy(name) == name
    line = script.shaped(name, False)
    assert line.whole
    assert font.width(name, 2.0) == pytest.approx(2.0 * line.width)
    boxes = np.array([curve.bounds() for curve in line.outlines])
    assert boxes[:, 3].max() <= font.ASCENT + 1e-9
    assert boxes[:, 1].min() >= -font.DESCENT - 1e-9
    assert 0.5 * line.width < boxes[:, 2].max() - boxes[:, 0].min() < 1.1 * line.width + 0.1


def test_letters_are_joined_ordered_and_placed_as_their_script_wants() -> None:
    alone = sum(script.shaped(letter, False).width for letter in "نور")
    assert script.shaped("نور", False).width < 0.95 * alone, "Arabic letters join"
    nun_first = script.shaped("נאאא", False).outlines, script.shaped("אאאנ", False).outlines
    slim = [min(curves, key=lambda c: c.bounds()[2] - c.bounds()[0]).bounds()[0] for curves in nun_first]
    assert slim[0] > slim[1], "Hebrew runs from the right"
    consonant, with_vowel = script.shaped("क", False), script.shaped("कि", False)
    assert min(left("कि")) < 0.1
    assert max(c.bounds()[2] for c in with_vowel.outlines) > consonant.width, (
        "the vowel i stands before its letter"
    )


def test_what_no_face_has_is_not_set() -> None:
    assert not script.can_set("𒀀")
    assert script.can_set("א")
    assert font.missing("אב𒀀") == "𒀀"


@pytest.mark.parametrize("turn_deg", [0.0, 90.0, 37.0])
@pytest.mark.parametrize("name", ["ליאה", "देवी प्रिया", "สมหญิง", "李小龍"])
def test_on_paper_its_ink_fills_the_box_that_words_are_given(name: str, turn_deg: float) -> None:
    words = Words(name, Point(5.0, 5.0), 1.0, turn_deg, "middle")
    page = Page(10.0, 10.0, "1", Drawing("name", "", (words,)))
    shown = pdfium.PdfDocument(write_pdf(Book("name", (page,))))[0]
    scale = 4.0
    ink = np.asarray(shown.render(scale=scale, grayscale=True).to_pil()) < 128
    rows, columns = np.nonzero(ink)
    assert len(rows) > 200
    dot = 2.54 / 72 / scale
    spots = shapely.points((columns + 0.5) * dot, 10.0 - (rows + 0.5) * dot)
    box = Polygon(words.corners(0.02))
    assert shapely.contains(box, spots).all()
    across = LineString([words.start(), Point(10 - words.start().x, 10 - words.start().y)])
    along = shapely.line_locate_point(across, spots)
    assert along.max() - along.min() > 0.85 * words.width


def test_labels_with_such_names_lie_inside_the_piece_and_touch_no_line() -> None:
    caption = Caption("กางเกงเอวยางยืด", "نور الهدى देवी", "2026-11-25", "t-4f2a91c0")
    seen = 0
    for drawn in [*draw_pieces(trousers(), caption), *draw_pieces(skirt(), caption)]:
        assert drawn.problems == ()
        outline = Polygon(drawn.outline)
        lines = shapely.MultiLineString(
            [item.path.flattened(tolerance=0.01) for item in drawn.drawing if isinstance(item, Stroke)]
        )
        for words in drawn.drawing.words():
            if font.is_plain(words.text):
                continue
            seen += 1
            letters = MultiPolygon(
                [
                    Polygon([place(words, p) for p in curve.flattened(tolerance=0.001)])
                    for curve in script.shaped(font.tidy(words.text), words.bold).outlines
                ]
            )
            assert outline.contains(letters.envelope if words.turn_deg == 0 else letters.convex_hull)
            assert not lines.intersects(letters.convex_hull)
    assert seen >= 4


def place(words: Words, p: Point) -> Point:
    start = words.start()
    return Point(start.x + p.x * words.size, start.y + p.y * words.size).rotated(start, words.turn_deg)


def test_the_name_is_in_the_file_for_search_and_the_file_is_the_same_each_time() -> None:
    data = print_pattern(skirt(), body_name="김민수", made_on="2026-11-25").data
    assert print_pattern(skirt(), body_name="김민수", made_on="2026-11-25").data == data
    with pikepdf.open(io.BytesIO(data)) as pdf:
        content = pdf.pages[0].Contents.read_bytes()
    assert b"/ActualText <FEFF" in content
    assert "김민수".encode("utf-16-be").hex().upper().encode() in content
    if shutil.which("pdftotext"):
        told = subprocess.run(["pdftotext", "-l", "1", "-", "-"], input=data, capture_output=True, check=True)
        assert "김민수" in told.stdout.decode()


def test_text_that_tries_to_break_out_of_the_setting_stays_text() -> None:
    nasty = '李 #panic() $x$ *b* \\ ] " `'
    assert script.shaped(nasty, False).whole
    assert script.shaped(nasty, False).width > script.shaped("李", False).width + 5
    printed = print_pattern(skirt(), body_name=nasty)
    assert printed.problems == ()


def test_a_bold_title_in_another_script_is_set_too() -> None:
    drawn = draw_pieces(replace(skirt(), title="裙子"), Caption("裙子"))
    assert all(piece.problems == () for piece in drawn)
