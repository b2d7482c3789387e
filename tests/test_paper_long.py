"""Rolls and projectors: true size, whole pieces, lines and type that can be seen."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pypdfium2 as pdfium
import pytest
import shapely
from shapely import LineString, Polygon

from clothwise.errors import PaperError
from clothwise.paper.projector import print_projector
from clothwise.paper.roll import print_roll

from . import paper_reading as read
from .paper_pieces import leg, skirt, trousers


def pages_of(data: bytes) -> list[pdfium.PdfPage]:
    pdf = pdfium.PdfDocument(data)
    return [pdf[i] for i in range(len(pdf))]


def cut_lines(page: pdfium.PdfPage) -> list[Polygon]:
    """The closed outlines inside forms, as polygons on the page. [cm]"""
    rings = [r for r in read.strokes(page, in_forms=True) if len(r) > 6 and np.allclose(r[0], r[-1])]
    return [Polygon(r) for r in rings if Polygon(r).area > 20]


@pytest.mark.parametrize("width", [60.0, 90.0, 91.4])
def test_a_roll_is_one_page_as_wide_as_the_roll_with_whole_pieces_apart(width: float) -> None:
    printed = print_roll(trousers(), width=width, body_name="Osei")
    (page,) = pages_of(printed.data)
    across, along = (v / read.CM for v in page.get_size())
    assert across == pytest.approx(width, abs=1e-3)
    pieces = cut_lines(page)
    assert len(pieces) == 2
    window = shapely.box(1.0, 1.0, across - 1.0, along - 1.0)
    assert all(window.contains(piece) for piece in pieces)
    assert pieces[0].distance(pieces[1]) > 0.2
    squares = read.squares(page)
    for side in (5.0, 5.08):
        assert min(max(abs(a - side), abs(b - side)) for a, b in squares) <= 0.005


def test_a_metre_on_the_roll_is_a_metre() -> None:
    (page,) = pages_of(print_roll(trousers()).data)
    lines = [s for s in read.strokes(page, in_forms=False) if len(s) == 2]
    assert min(abs(np.ptp(s[:, 1]) - 100.0) for s in lines) < 0.005
    assert "100 cm" in page.get_textpage().get_text_range()


def test_a_wider_roll_needs_no_longer_paper() -> None:
    lengths = [pages_of(print_roll(trousers(), width=w).data)[0].get_height() for w in (60.0, 91.4, 120.0)]
    assert lengths[0] >= lengths[1] >= lengths[2]


def test_a_long_roll_is_split_between_pieces() -> None:
    printed = print_roll(trousers(), width=60.0, longest=130.0)
    pages = pages_of(printed.data)
    assert len(pages) == printed.sheets == 2
    assert [len(cut_lines(page)) for page in pages] == [1, 1]
    assert all(page.get_height() / read.CM <= 130.01 for page in pages)


def test_rolls_that_cannot_hold_a_piece_are_refused() -> None:
    with pytest.raises(PaperError, match=r"Front leg is wider.*wider roll"):
        print_roll(trousers(wide=60), width=40.0)
    with pytest.raises(PaperError, match="too short for the longest piece"):
        print_roll(trousers(), longest=50.0)
    for width, margin in ((10.0, 1.0), (float("nan"), 1.0), (91.4, 40.0), (900.0, 1.0)):
        with pytest.raises(PaperError, match="cannot be used"):
            print_roll(trousers(), width=width, margin=margin)


@pytest.mark.parametrize("dark", [True, False])
def test_a_projector_page_is_true_and_readable(dark: bool) -> None:
    printed = print_projector(skirt(), dark=dark, body_name="Juno")
    calibration, wide = pages_of(printed.data)
    lines = [LineString(s) for s in read.strokes(calibration, in_forms=False) if len(s) == 2]
    diagonals = sorted(line.length for line in lines)[-2:]
    assert diagonals == pytest.approx([111.8034, 111.8034], abs=0.005)
    assert any(
        a == pytest.approx(100, abs=1e-3) and b == pytest.approx(50, abs=1e-3)
        for a, b in read.squares(calibration)
    )
    said = wide.get_textpage()
    sizes = [np.ptp(quad[:, 1]) for text, quad in read.word_boxes(wide) if text.startswith("Skirt front")]
    assert said.count_chars() > 100
    assert sizes
    picture = np.asarray(wide.render(scale=0.5, grayscale=True).to_pil())
    assert (np.median(picture) < 20) == dark
    assert picture.max() > 200
    assert picture.min() < 60


def test_projected_pieces_lie_whole_on_the_page_and_the_table_is_deep_enough() -> None:
    wide = pages_of(print_projector(trousers(), table=(120.0, 67.5)).data)[1]
    across, up = (v / read.CM for v in wide.get_size())
    assert up <= 67.6
    for piece in cut_lines(wide):
        assert shapely.box(0, 0, across, up).contains(piece)


def test_a_garment_too_wide_for_the_projector_is_refused() -> None:
    garment = replace(trousers(), pieces=(leg(wide=70, long=100),))
    with pytest.raises(PaperError, match="twice as wide"):
        print_projector(garment, table=(40.0, 22.0))
    with pytest.raises(PaperError, match="cannot be used"):
        print_projector(garment, table=(4.0, 2.0))
