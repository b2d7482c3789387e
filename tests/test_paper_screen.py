"""The page for a screen: whole, self-contained, with every piece, its measures and boxes for its layers."""

from __future__ import annotations

import pytest
from lxml import html

from clothwise.errors import PaperError
from clothwise.paper.screen import SHOWN, pattern_screen

from .paper_pieces import skirt, trousers


def test_every_piece_stands_on_the_page_with_its_size_and_how_to_cut_it() -> None:
    page = html.fromstring(pattern_screen(trousers(), body_name="Marit <b>"))
    sections = page.findall(".//section")
    assert [s.find("h2").text for s in sections] == ["1 Front leg", "2 Back leg"]
    assert "Cut 1 pair" in sections[0].text_content()
    assert "up, as cut" in sections[0].text_content()
    assert "half, " in html.fromstring(pattern_screen(skirt())).findall(".//section")[0].text_content()
    assert page.find(".//title").text == "Pull-on trousers for Marit <b>"


def test_each_layer_has_a_box_that_hides_it_and_lines_keep_their_thickness() -> None:
    text = pattern_screen(trousers())
    page = html.fromstring(text)
    boxes = [box.get("id") for box in page.findall(".//input")]
    assert len(boxes) == len(SHOWN) == 4
    ids = [group.get("id") for group in page.iter("g")]
    for box in boxes:
        layer = box.removeprefix("show-")
        assert f'body:has(#{box}:not(:checked)) g[id$="-{layer}"]' in text
        assert any(name.endswith(f"-{layer}") for name in ids if name)
    assert "non-scaling-stroke" in text


def test_the_page_fetches_nothing_and_is_the_same_each_time() -> None:
    text = pattern_screen(skirt())
    assert text == pattern_screen(skirt())
    assert "://" not in text
    assert "<script" not in text
    assert html.fromstring(text).find(".//svg").get("width") is None


def test_an_unknown_piece_is_refused() -> None:
    with pytest.raises(PaperError, match="no piece 'cape'"):
        pattern_screen(skirt(), pieces=["cape"])
