"""Sizes nested on the same sheets: each true, each told apart, each to be had alone."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pytest
import shapely
from shapely import MultiLineString

from clothwise.errors import PaperError
from clothwise.garment import Garment
from clothwise.garment.allowance import cutting_line
from clothwise.paper.nest import DASHES_MM, print_nest
from clothwise.paper.sheets import sheet

from . import paper_reading as read
from .paper_pieces import skirt, trousers

SIZES = {str(36 + 2 * i): trousers(wide=26 + 2.0 * i, long=98 + 1.5 * i) for i in range(5)}


@pytest.fixture(scope="module")
def data() -> bytes:
    return print_nest(SIZES, paper=sheet("A0", orientation="portrait"), made_on="2026-11-25").data


def layers(data: bytes) -> set[str]:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return {str(g.Name) for g in pdf.Root.OCProperties.OCGs}


def test_every_size_has_a_layer_and_a_file_of_some_holds_no_others(data: bytes) -> None:
    assert set(SIZES) <= layers(data)
    some = print_nest(SIZES, only_sizes=["38", "40"], paper=sheet("A0")).data
    assert layers(some) & set(SIZES) == {"38", "40"}
    assert print_nest(SIZES, only_sizes=["38", "40"], paper=sheet("A0")).data == some


def test_the_lines_of_every_size_are_as_true_as_alone(data: bytes) -> None:
    """Each size's cutting line, moved as one, lies on a printed line everywhere."""
    page = pdfium.PdfDocument(data)[1]
    printed = [s for s in read.strokes(page, in_forms=True) if len(s) > 20]
    ink = MultiLineString(printed)
    for piece in ("front_leg", "back_leg"):
        outlines = {size: np.array(cutting_line(g.piece(piece))) for size, g in SIZES.items()}
        moves = []
        for turn in (1, -1):  # upright or upside down on the sheet
            for stroke in printed:
                for outline in (next(iter(outlines.values())),):
                    if len(stroke) - 1 == len(outline):
                        moves.append((turn, stroke[0] - turn * outline[0]))
        fits = [
            move
            for move in moves
            if all(
                shapely.dwithin(ink, shapely.points(move[0] * o + move[1]), 0.01).all()
                for o in outlines.values()
            )
        ]
        assert fits, piece


def test_each_size_has_its_own_dashes_and_its_name_on_its_line(data: bytes) -> None:
    assert len(set(DASHES_MM)) == len(DASHES_MM) >= 10
    page = pdfium.PdfDocument(data)[1]
    said = [text for text, _ in read.word_boxes(page)]
    for size in SIZES:
        assert said.count(size) >= 4  # two pieces
    first = pdfium.PdfDocument(data)[0].get_textpage().get_text_range()
    assert "one cut line for each size" in first
    for size in SIZES:
        assert size in first


def test_names_of_sizes_do_not_lie_on_other_sizes_lines_or_each_other(data: bytes) -> None:
    page = pdfium.PdfDocument(data)[1]
    names = [shapely.Polygon(quad) for text, quad in read.word_boxes(page) if text in SIZES]
    lines = [shapely.LineString(s) for s in read.strokes(page, in_forms=True) if len(s) > 20]
    for i, name in enumerate(names):
        assert sum(line.intersects(name) for line in lines) <= 1  # its own, which makes room for it
        assert not any(name.intersects(other) for other in names[i + 1 :])


def test_a_switched_off_size_is_not_drawn(data: bytes) -> None:
    def ink(off: set[str]) -> int:
        with pikepdf.open(io.BytesIO(data)) as pdf:
            groups = list(pdf.Root.OCProperties.OCGs)
            pdf.Root.OCProperties.D.OFF = pikepdf.Array([g for g in groups if str(g.Name) in off])
            pdf.Root.OCProperties.D.ON = pikepdf.Array([g for g in groups if str(g.Name) not in off])
            out = io.BytesIO()
            pdf.save(out)
        page = pdfium.PdfDocument(out.getvalue())[1]
        return int((np.asarray(page.render(scale=0.8, grayscale=True).to_pil()) < 200).sum())

    assert ink({"36"}) < ink(set())
    assert ink(set(SIZES)) < ink({"36", "38", "40", "42"})


def test_sewing_lines_are_there_but_off_until_they_are_switched_on(data: bytes) -> None:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        usual = pdf.Root.OCProperties.D
        assert [str(g.Name) for g in usual.OFF] == ["seam line"]
        assert {"cut line", "marks", "words", *SIZES} <= {str(g.Name) for g in usual.ON}
    page = pdfium.PdfDocument(data)[1]
    drawn = [s for s in read.strokes(page, in_forms=True) if len(s) > 1]
    ink = MultiLineString(drawn)
    for garment in SIZES.values():  # as drafted, wherever they lie: same lengths as the sewing lines
        for edge in garment.piece("front_leg").edges:
            if edge.allowance > 0:
                assert min(abs(line.length - edge.curve.length()) for line in ink.geoms) < 0.02, edge.name


def test_chosen_pieces_keep_the_number_they_have_in_the_whole_nest() -> None:
    printed = print_nest(SIZES, pieces=["back_leg"], paper=sheet("A0"))
    said = [text for text, _ in read.word_boxes(pdfium.PdfDocument(printed.data)[1])]
    assert "2" in said
    assert any("piece 2 of 2" in text for text in said)
    with pytest.raises(PaperError, match="no piece 'hat'"):
        print_nest(SIZES, pieces=["hat"])


def test_nests_that_cannot_be_are_refused() -> None:
    with pytest.raises(PaperError, match="0 sizes"):
        print_nest({})
    with pytest.raises(PaperError, match="13 sizes"):
        print_nest({str(i): trousers() for i in range(13)})
    with pytest.raises(PaperError, match="no size '60'"):
        print_nest(SIZES, only_sizes=["60"])
    with pytest.raises(PaperError, match="same pieces"):
        print_nest({"36": trousers(), "38": skirt()})
    with pytest.raises(PaperError, match="same pieces"):
        print_nest({"36": replace(trousers(), pieces=())})


def test_one_size_alone_can_be_nested_too() -> None:
    only: dict[str, Garment] = {"40": skirt()}
    printed = print_nest(only)
    assert printed.problems == ()
    assert "40" in layers(printed.data)


def test_levels_and_lines_to_lengthen_at_stand_in_the_nest_once_and_pockets_for_each_size() -> None:
    sizes = {"36": skirt(), "38": skirt()}
    pdf = pdfium.PdfDocument(print_nest(SIZES, paper=sheet("A0", orientation="portrait")).data)
    said = [text for text, _ in read.word_boxes(pdf[1])]
    for wanted in (
        "hip",
        "lengthen or shorten here",
        "grain 85\xa0cm: both ends equally far from the cloth’s edge",
    ):
        assert said.count(wanted) == len(next(iter(SIZES.values())).pieces)
    page = pdfium.PdfDocument(print_nest(sizes, paper=sheet("A0", orientation="portrait")).data)[1]
    mouth = [s for s in read.strokes(page) if len(s) == 2 and abs(np.hypot(*(s[1] - s[0])) - 12.0) < 0.001]
    assert len(mouth) == 2  # the pocket's place, once a size


def test_one_garment_in_several_lengths_says_where_to_cut_for_which() -> None:
    lengths = {"knee": trousers(long=80), "full": trousers(long=104)}
    pdf = pdfium.PdfDocument(
        print_nest(lengths, paper=sheet("A0", orientation="portrait"), lengths_for="Osei").data
    )
    said = [text for text, _ in read.word_boxes(pdf[1])]
    for name in lengths:
        assert f"cut here for length {name}" in said
    assert "for Osei" in pdf[0].get_textpage().get_text_range()
