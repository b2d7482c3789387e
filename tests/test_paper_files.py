"""The files themselves: layers that toggle, fonts inside, words to copy, same bytes; SVG true to scale."""

from __future__ import annotations

import io
import re
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pytest
import shapely
from fontTools.ttLib import TTFont
from shapely import LineString

from clothwise.curve import Point
from clothwise.errors import PaperError
from clothwise.paper.drawing import Carry, Drawing, Stroke, Words, rectangle
from clothwise.paper.pattern import pattern_pdf, pattern_svg, print_pattern
from clothwise.paper.pdf import Book, Page, Placed, write_pdf
from clothwise.paper.pens import PRINT, heavier
from clothwise.paper.sheets import sheet
from clothwise.tolerance import FLATTEN

from . import paper_reading as read
from .paper_pieces import skirt, trousers

MADE = {"body_name": "Pilar", "made_on": "2026-11-25", "ticket_id": "t-4f2a91c0"}


@pytest.fixture(scope="module")
def data() -> bytes:
    return pattern_pdf(trousers(), **MADE)


# ---- PDF -------------------------------------------------------------------------------------------


def test_the_same_garment_gives_the_same_bytes(data: bytes) -> None:
    assert pattern_pdf(trousers(), **MADE) == data
    assert pattern_pdf(trousers(), **{**MADE, "body_name": "Osei"}) != data


def test_every_font_is_embedded_with_a_way_back_to_text(data: bytes) -> None:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        fonts = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Subtype") == "/Type0"]
        assert len(fonts) == 2
        for font in fonts:
            assert "/ToUnicode" in font
            descendant = font.DescendantFonts[0]
            TTFont(io.BytesIO(descendant.FontDescriptor.FontFile2.read_bytes()))["glyf"]
            assert descendant.CIDToGIDMap == "/Identity"
        no_others = [
            o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Subtype") == "/Type1"
        ]
        assert no_others == []


def test_words_can_be_copied_out(data: bytes) -> None:
    said = " ".join(page.get_textpage().get_text_range() for page in pdfium.PdfDocument(data)).replace(
        "\xa0", " "
    )
    for wanted in (
        "Pull-on trousers",
        "for Pilar · 2026-11-25 · ticket t-4f2a91c0",
        "Front leg",
        "5 cm",
        "2 in",
    ):
        assert wanted in said
    assert "print at 100 %" in said


def test_greek_and_cyrillic_names_come_back_as_typed() -> None:
    for name in ("Ελένη", "Соломія", "Žaneta Łucja"):
        said = pdfium.PdfDocument(pattern_pdf(skirt(), body_name=name))[0].get_textpage().get_text_range()
        assert name in said


def test_a_name_the_face_cannot_set_is_left_out_and_told_on_screen_and_on_paper() -> None:
    printed = print_pattern(skirt(), body_name="𒀀 Rose")
    assert any("𒀀" in problem for problem in printed.problems)
    said = pdfium.PdfDocument(printed.data)[0].get_textpage().get_text_range()
    assert "… Rose" in said
    assert "letters that no printing face of the house has" in said
    assert "𒀀 Rose" in pattern_svg(skirt(), body_name="𒀀 Rose")  # there the reader's own face may have it


def test_text_that_tries_to_break_out_stays_text(data: bytes) -> None:
    nasty = "a) Tj ET Q <script>&amp; \\( \n\0 <</x>>"
    said = pdfium.PdfDocument(pattern_pdf(skirt(), body_name=nasty))[0].get_textpage().get_text_range()
    assert "a) Tj ET Q <script>&amp; \\( <</x>>" in said.replace("\r\n", " ")
    assert read.svg_root(pattern_svg(skirt(), body_name=nasty)) is not None


def test_the_catalog_asks_for_true_size_and_names_things(data: bytes) -> None:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        assert pdf.Root.Lang == "en"
        assert pdf.docinfo["/Title"] == "Pull-on trousers for Pilar"
        assert pdf.docinfo["/CreationDate"] == "D:20261125000000Z"
        assert not any("/UserUnit" in page.obj for page in pdf.pages)
        assert pdf.check_pdf_syntax() == [] if hasattr(pdf, "check_pdf_syntax") else True
    pages = pdfium.PdfDocument(data)
    labels = [pages.get_page_label(i) for i in range(len(pages))]
    assert labels[:3] == ["Map", "A1", "A2"]
    titles = [mark.get_title() for mark in pages.get_toc()]
    assert titles[0] == "First sheet: scale and page map"
    assert titles[1].startswith("Row A: A1 to A")


LAYER_PIXELS = ("cut line", "seam line", "marks", "words", "sheet")


@pytest.mark.parametrize("layer", LAYER_PIXELS)
def test_each_layer_can_be_switched_off_by_itself(data: bytes, layer: str) -> None:
    """With one layer off by default the page shows less ink; with all off it is blank."""
    assert ink(data, {layer}) < ink(data, set())
    assert ink(data, set(LAYER_PIXELS)) == 0


def ink(data: bytes, off: set[str]) -> int:
    """Dark pixels of all pages, drawn by pdfium with these layers off."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        groups = list(pdf.Root.OCProperties.OCGs)
        assert {str(g.Name) for g in groups} == set(LAYER_PIXELS)
        hidden = [g for g in groups if str(g.Name) in off]
        pdf.Root.OCProperties.D.OFF = pikepdf.Array(hidden)
        pdf.Root.OCProperties.D.ON = pikepdf.Array([g for g in groups if str(g.Name) not in off])
        out = io.BytesIO()
        pdf.save(out)
    pages = pdfium.PdfDocument(out.getvalue())
    return sum(
        int((np.asarray(pages[i].render(scale=0.6, grayscale=True).to_pil()) < 250).sum()) for i in (1, 2, 3)
    )


def test_the_layer_that_proves_the_scale_is_locked_on(data: bytes) -> None:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        view = pdf.Root.OCProperties.D
        assert [str(g.Name) for g in view.Locked] == ["sheet"]
        assert len(view.ON) == 5
        assert len(view.OFF) == 0


def test_sizes_get_a_layer_each() -> None:
    """The seam for a graded nest: a form that belongs to a size lies in that size's layer."""
    forms = {n: Drawing(n, n, (Stroke(rectangle(0, 0, 5, 5), "cut", True),)) for n in ("s38", "s40")}
    page = Page(
        10, 10, "1", Drawing("p", "", ()), (Placed("s38", Carry(0, 1, 1)), Placed("s40", Carry(0, 3, 3)))
    )
    made = write_pdf(Book("nest", (page,), forms, sizes={"s38": "38", "s40": "40"}))
    with pikepdf.open(io.BytesIO(made)) as pdf:
        assert {str(g.Name) for g in pdf.Root.OCProperties.OCGs} == {"cut line", "38", "40"}
        assert sorted(str(x.OC.Name) for x in pdf.pages[0].Resources.XObject.values()) == ["38", "40"]


def test_a_page_longer_than_a_pdf_can_hold_is_refused() -> None:
    with pytest.raises(PaperError, match=r"508 cm.*shorter"):
        write_pdf(Book("roll", (Page(90, 600, "1", Drawing("p", "", ())),)))
    with pytest.raises(PaperError, match="no sheet"):
        write_pdf(Book("nothing", ()))


def test_a_heavier_box_of_pens_draws_heavier_lines() -> None:
    dark = []
    for pens in (PRINT, heavier(PRINT, 4)):
        page = pdfium.PdfDocument(pattern_pdf(skirt(), pens=pens))[2]
        dark.append(int((np.asarray(page.render(scale=2, grayscale=True).to_pil()) < 128).sum()))
    assert dark[1] > 1.5 * dark[0]


# ---- only what is wanted ---------------------------------------------------------------------------


def test_a_torn_sheet_can_be_printed_again_alone() -> None:
    whole = print_pattern(trousers(), **MADE)
    again = print_pattern(trousers(), only=["b2", "A1"], **MADE)
    assert again.tiles == ("A1", "B2")
    assert again.sheets == 2
    one, other = pdfium.PdfDocument(whole.data), pdfium.PdfDocument(again.data)
    for number, label in enumerate(again.tiles):
        place = whole.tiles.index(label) + 1
        pictures = [np.asarray(p.render(scale=0.7).to_pil()) for p in (one[place], other[number])]
        assert (pictures[0] == pictures[1]).all()


def test_wanting_what_is_not_there_is_refused() -> None:
    with pytest.raises(PaperError, match=r"no sheet 'Z9'.*A1"):
        pattern_pdf(trousers(), only=["Z9"])
    with pytest.raises(PaperError, match="no piece 'hat'"):
        pattern_svg(trousers(), pieces=["hat"])


def test_one_piece_needs_fewer_sheets() -> None:
    both, one = (print_pattern(trousers(), pieces=p) for p in ((), ("back_leg",)))
    assert one.sheets < both.sheets
    text = " ".join(p.get_textpage().get_text_range() for p in pdfium.PdfDocument(one.data))
    assert "Back leg" in text
    assert "Front leg" not in text


# ---- SVG -------------------------------------------------------------------------------------------


def test_the_svg_is_in_millimetres_and_true(tmp_path: Path) -> None:
    """Read by another XML reader and our own path reader: each line of each piece where the draft put it."""
    garment = trousers()
    root = read.svg_root(pattern_svg(garment, **MADE))
    width, height = (float(root.get(k).removesuffix("mm")) for k in ("width", "height"))
    assert [float(v) for v in root.get("viewBox").split()] == [0, 0, width, height]
    for piece in garment.pieces:
        lines = [
            read.svg_path(p.get("d"))
            for p in root.findall(f".//{read.SVG}g[@id='{piece.name}']//{read.SVG}path")
        ]
        ink = shapely.MultiLineString([LineString(p) for p in lines])
        left = min(p[:, 0].min() for p in lines)
        for points in lines:
            assert points.min() >= 0
            assert points[:, 0].max() <= width / 10
            assert points[:, 1].max() <= height / 10
        own = shapely.MultiLineString([LineString(e.curve.flattened(tolerance=1e-5)) for e in piece.edges])
        # the sheet's own place is found from the piece's grain arrow, then every edge must lie on a drawn line
        grain = next(
            p for p in lines if len(p) == 2 and abs(p[0, 0] - p[1, 0]) < 1e-6 and abs(p[0, 1] - p[1, 1]) > 50
        )
        low = grain[grain[:, 1].argmax()]
        moved = shapely.transform(own, lambda xy, g=piece.grain[0], low=low: (xy - g) * (1, -1) + low)
        points = shapely.points(shapely.get_coordinates(shapely.segmentize(moved, 0.5)))
        assert shapely.dwithin(ink, points, FLATTEN).all()
        assert left >= 0


def test_the_svg_names_every_piece_and_layer() -> None:
    root = read.svg_root(pattern_svg(skirt(), **MADE))
    groups = {g.get("id"): [t.text for t in g.findall(f"{read.SVG}title")] for g in root.iter(f"{read.SVG}g")}
    assert groups["skirt_front"] == ["Skirt front"]
    for layer in ("cut-line", "seam-line", "marks", "words"):
        assert groups[f"skirt_front-{layer}"] == [layer.replace("-", " ")]
        assert f"patch_pocket-{layer}" in groups
    assert len(groups) == len(list(root.iter(f"{read.SVG}g")))


def test_svg_words_are_text_held_to_their_length() -> None:
    root = read.svg_root(pattern_svg(skirt(), **MADE))
    texts = {t.text: t for t in root.iter(f"{read.SVG}text")}
    assert "Skirt front" in texts
    for text in texts.values():
        assert float(text.get("textLength")) > 0
    assert pattern_svg(skirt(), **MADE) == pattern_svg(skirt(), **MADE)


def test_a_ten_centimetre_square_is_a_hundred_units_in_svg() -> None:
    from clothwise.paper.svg import Hung, write_svg

    drawing = Drawing(
        "square", "Square", (Stroke(rectangle(3, 4, 13, 14), "square", True), Words("x", Point(5, 5), 1))
    )
    root = read.svg_root(write_svg([Hung(drawing, Carry(90, 50, -20))], title="t"))
    ring = read.svg_path(root.find(f".//{read.SVG}path").get("d"))
    assert np.ptp(ring[:, 0]) == pytest.approx(10.0, abs=1e-4)
    assert np.ptp(ring[:, 1]) == pytest.approx(10.0, abs=1e-4)
    assert re.search(r"rotate\(-90 ", write_svg([Hung(drawing, Carry(90, 50, -20))], title="t"))
    with pytest.raises(PaperError, match="nothing to draw"):
        write_svg([], title="t")


def test_sheets_hold_the_same_pieces_whatever_the_paper() -> None:
    for paper in (sheet("Letter", overlap=0), sheet("A3", orientation="landscape"), sheet("Legal")):
        printed = print_pattern(skirt(), paper=paper)
        assert printed.sheets == len(printed.tiles) + 1
        first = pdfium.PdfDocument(printed.data)[0].get_size()
        way = sorted((paper.width, paper.height))
        assert sorted(v / read.CM for v in first) == pytest.approx(way, abs=0.001)


def test_on_a_copy_shops_paper_the_first_sheet_is_small() -> None:
    pages = pdfium.PdfDocument(pattern_pdf(trousers(), paper=sheet("A0")))
    sizes = [tuple(round(v / read.CM, 1) for v in pages[i].get_size()) for i in range(len(pages))]
    assert sizes[0] == (21.0, 29.7)
    assert len(sizes) == 2
    assert sorted(sizes[1]) == [84.1, 118.9]


@pytest.mark.parametrize(
    "paper", [sheet("A5"), sheet((15, 17), margin=1.2), sheet("A5", orientation="landscape")]
)
def test_small_sheets_say_all_the_same_and_nothing_lies_on_the_squares(paper) -> None:  # type: ignore[no-untyped-def]
    """What has no room beside the squares follows on a sheet of its own; long names push them down."""
    name = "Aleksandra-Konstantina von der Wassermühle am Mündungsarm"
    printed = print_pattern(trousers(), paper=paper, body_name=name)
    pdf = pdfium.PdfDocument(printed.data)
    extra = printed.sheets - len(printed.tiles)
    said = " ".join(pdf[i].get_textpage().get_text_range() for i in range(extra))
    for wanted in ("First prove the scale.", "In this order:", "Back leg", "sew here"):
        assert wanted in said
    width, height = (v / read.CM for v in pdf[0].get_size())
    boxes = [(t, shapely.Polygon(q)) for i in range(extra) for t, q in read.word_boxes(pdf[i])]
    window = shapely.box(paper.margin, paper.margin, width - paper.margin, height - paper.margin)
    assert [t for t, b in boxes if not window.contains(b)] == []
    rims = [shapely.LineString(r) for r in read.strokes(pdf[0], in_forms=False) if len(r) == 5]
    squares = [r for r in rims if abs(r.length - 20) < 0.1 or abs(r.length - 4 * 5.08) < 0.1]
    first = [(t, shapely.Polygon(q)) for t, q in read.word_boxes(pdf[0])]
    assert [t for t, b in first if any(r.intersects(b) for r in squares)] == []
