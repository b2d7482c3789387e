"""The printing face: the files are the ones we vouch for, widths are the font's own, nothing crashes."""

from __future__ import annotations

import hashlib
import io
import tomllib
from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont

from clothwise.paper import font

FOLDER = files("clothwise") / "fonts"


def test_every_vendored_file_is_listed_and_has_its_hash() -> None:
    listed = tomllib.loads((FOLDER / "VENDOR.toml").read_text(encoding="utf-8"))["file"]
    for entry in listed:
        found = hashlib.sha256((FOLDER / entry["path"]).read_bytes()).hexdigest()
        assert found == entry["sha256"], entry["path"]
        assert (FOLDER / entry["licence_text"]).is_file()
        assert entry["version"]
        assert entry["licence"] in ("OFL-1.1", "Apache-2.0")
    present = {f.name for f in FOLDER.iterdir() if f.is_file() and not f.name.endswith((".py", ".pyc"))}
    assert present - {"VENDOR.toml"} == {entry["path"] for entry in listed}


@pytest.mark.parametrize("text", ["Front leg", "Größe Ærø Łódź", "Μπροστινό", "Передня частина", "½ × 2 – 3"])
def test_latin_greek_and_cyrillic_are_all_there(text: str) -> None:
    assert font.missing(text) == ""


def test_letters_the_face_lacks_are_left_out_and_told_never_set_as_boxes() -> None:
    assert font.missing("Ann 𒀀 Rose 𒀀𒁀") == "𒀀𒁀"
    assert font.tidy("Ann 𒀀𒁀 Rose") == "Ann … Rose"
    assert font.NOTHING not in font.glyphs(font.tidy("Ann 𒀀 Rose"))


def test_loose_accents_are_composed_and_line_ends_become_spaces() -> None:
    assert font.tidy("Rene\u0301\n\tof  the\x00 mill\u200b") == "René of the mill"


@pytest.mark.parametrize("bold", [False, True])
def test_a_subset_keeps_shapes_and_widths_at_their_own_numbers(bold: bool) -> None:
    numbers = font.glyphs("Back leg, ½ É", bold=bold)
    small = TTFont(io.BytesIO(font.subset(numbers, bold=bold)))
    name = "NotoSans-Bold.ttf" if bold else "NotoSans-Regular.ttf"
    whole = TTFont(io.BytesIO((FOLDER / name).read_bytes()))
    order = whole.getGlyphOrder()
    for number, advance in zip(numbers, font.advances(numbers, bold=bold), strict=True):
        original = whole["glyf"][order[number]].getCoordinates(whole["glyf"])[0]
        kept = small["glyf"][small.getGlyphOrder()[number]].getCoordinates(small["glyf"])[0]
        assert list(original) == list(kept)
        assert small["hmtx"].metrics[small.getGlyphOrder()[number]][0] == advance
    assert len(font.subset(numbers, bold=bold)) < 20_000


def test_an_accent_that_no_letter_takes_in_is_placed_by_the_shaper() -> None:
    assert font.is_plain(font.composed("Zoe\u0308"))
    assert not font.is_plain(font.composed("Z\u0303oe"))
    assert font.width("Z\u0303oe", 1.0) == pytest.approx(font.width("Zoe", 1.0), abs=0.02), "it takes no width"
