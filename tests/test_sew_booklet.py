"""The booklet, read back: every step is in it, in real words, with its picture; what she typed is no markup."""

from __future__ import annotations

import ctypes
import io
import re
from contextlib import suppress
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from itertools import product
from typing import Literal

import pikepdf
import pypdfium2
import pytest

from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS
from clothwise.errors import ChoiceError, PaperError
from clothwise.garment import Garment
from clothwise.garment.haberdashery import haberdashery
from clothwise.sew import Sewer, minutes, order_of_work
from clothwise.sew.booklet import BookletContent, booklet, card
from clothwise.sew.cautions import cautions
from clothwise.sew.phrases import length
from clothwise.sew.pictures import step_picture
from clothwise.sew.screen import screen
from clothwise.sew.step_check import check_steps
from clothwise.sew.words import step_words
from tests.sewn_by_hand import marit, skirt, trousers
from tests.sewn_garments import shirt

LINEN = Cloth("Blue linen", 140, 250, kind="linen", grams_per_m2=185, washed=False)
LAWN = Cloth("Lawn", 140, 250, kind="cotton lawn", grams_per_m2=80)
JERSEY = Cloth("Jersey", 150, 250, make="knit", kind="single jersey", stretch_across=0.4)
LAY = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="9mm">'
    '<path d="M1 1H19V8H1Z" stroke="red"/></svg>'
)


def content(
    garment: Garment, cloth: Cloth = LINEN, sewer: Sewer | None = None, **more: object
) -> BookletContent:
    sewer = sewer or Sewer("Marit")
    steps = order_of_work(garment, cloth, sewer)
    measures = (("Hip girth", 104.0, "taped"), ("Knee", 38.0, "estimated"))
    return BookletContent(
        garment,
        steps,
        minutes(garment, steps, cloth, sewer, sheets=20),
        cloth,
        sewer,
        for_whom="Marit",
        made_on="2026-11-25",
        measures=measures,
        notions=haberdashery(garment),
        lay_svg=LAY,
        lay_note="140 cm wide: 1.85 m.",
        **more,  # type: ignore[arg-type]
    )


def squeezed(text: str) -> str:
    return re.sub(r"\s+", " ", text.replace("\u00a0", " ")).strip()


def read(pdf: bytes) -> list[str]:
    """Text of each page, by an independent reader."""
    document = pypdfium2.PdfDocument(pdf)
    return [squeezed(page.get_textpage().get_text_range()) for page in document]


@cache
def house_drafts() -> tuple[Garment, ...]:
    """Every house draft, and each of its options in turn; the sweep over all together is `./run bench sew`."""
    body = marit()
    found = []
    for pattern in PATTERNS:
        wishes: list[dict[str, str]] = [{}]
        wishes += [{choice.name: str(option)} for choice in pattern.choices for option in choice.options]
        for wish in wishes:
            with suppress(ChoiceError):  # options that want another beside them
                found.append(pattern.make(body, wish))
    return tuple(found)


@pytest.mark.parametrize("overlocker", [False, True])
@pytest.mark.parametrize("cloth", [LINEN, LAWN, JERSEY], ids=lambda c: c.name)
def test_every_house_draft_can_be_sewn_as_written(cloth: Cloth, overlocker: bool) -> None:
    turn = (LINEN, LAWN, JERSEY).index(cloth) + 3 * overlocker
    for garment in house_drafts()[turn::6]:  # each draft in one cloth; the bench tries every one in all
        steps = order_of_work(garment, cloth, Sewer(overlocker=overlocker))
        assert check_steps(garment, steps, cloth) == (), (garment.name, dict(garment.choices))


def test_every_step_of_every_house_draft_has_words_and_a_picture() -> None:
    for garment in house_drafts()[::8]:
        steps = order_of_work(garment, LINEN, Sewer())
        for step in steps:
            words = step_words(step, garment)
            said = [words.title, *words.do, words.why, *(f"{a} {b}" for a, b in words.facts)]
            text = " ".join(part for part in said if part)
            assert not re.search(r"[{}_]|None|\bnan\b|  ", text), text
            assert words.do, step.name
            picture = step_picture(garment, steps, step.number)
            left, bottom, right, top = picture.bounds()
            assert right - left > 2, step.name  # a belt loop is short
            assert top - bottom > 1, step.name  # a strap is narrow
            assert picture.alt


@pytest.mark.parametrize("units", ["cm", "inch"])
def test_every_sewn_step_says_where_to_stitch(units: Literal["cm", "inch"]) -> None:
    for garment, cloth in product((trousers(), skirt()), (LINEN, LAWN, JERSEY)):
        for step in order_of_work(garment, cloth, Sewer()):
            said = " ".join(step_words(step, garment, units).do)
            if step.kind in ("seam", "patch", "turn"):
                assert "titch" in said, said
                french = step.seam_type is not None and step.seam_type.name == "French seam"
                figure = length(0.8 if french else step.allowance, units)
                assert figure in said, (figure, said)
            if step.kind == "turn":
                assert length(step.turn - step.fold_in, units) in said


def test_all_steps_and_figures_can_be_read_back_from_the_pdf() -> None:
    told = content(trousers())
    pages = read(booklet(told))
    whole = " ".join(pages)
    for step in told.steps:
        words = step_words(step, told.garment)
        assert squeezed(words.title) in whole
        for sentence in words.do:
            assert squeezed(sentence)[:40] in whole, sentence
    for text in (
        "Pull-on trousers",
        "for Marit",
        "Hip girth",
        "104 cm",
        "estimated",
        "Blue linen",
        "1.85 m",
        "70 cm",
    ):
        assert text in whole
    assert 6 <= len(pages) <= 16


def test_the_booklet_has_bookmarks_pictures_alt_text_and_its_sheet() -> None:
    told = content(skirt(), sheet="Letter")
    made = booklet(told)
    with pikepdf.open(io.BytesIO(made)) as pdf:
        with pdf.open_outline() as outline:
            titles = [item.title for top in outline.root for item in (top, *top.children)]
        assert {step_words(s, told.garment).title for s in told.steps} <= set(titles)
        assert [float(v) for v in pdf.pages[0].MediaBox] == pytest.approx([0, 0, 612, 792], abs=0.5)
        alts = [str(o.Alt) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and "/Alt" in o]
        assert len(alts) >= len(told.steps)
        assert "/Lang" in pdf.Root


def test_every_picture_leaves_ink_on_its_page() -> None:
    """Dark dots of each page, against the same booklet with its pictures painted white."""
    document = pypdfium2.PdfDocument(booklet(content(skirt())))
    inked = [int((page.render(scale=0.5).to_numpy()[..., 0] < 128).sum()) for page in document]
    assert inked[0] > 400  # the title page is all but picture
    reds = 0
    for page in document:
        shown = page.render(scale=1.0).to_numpy().astype(int)
        blue, green, red = shown[..., 0], shown[..., 1], shown[..., 2]
        reds += int(((red - green > 80) & (red - blue > 80)).sum() > 300)
    assert reds >= 5  # pages with heavy stitching drawn


def test_the_same_make_gives_the_same_bytes() -> None:
    assert booklet(content(trousers())) == booklet(content(trousers()))


def test_what_a_person_typed_is_data_and_never_markup() -> None:
    wild = '#panic("x") *bold* $x$ = Head \\ ]'
    told = content(replace(trousers(), title="Pull-on trousers"), replace(LINEN, name=wild), title=wild)
    assert "*bold*" in " ".join(read(booklet(told)))
    assert '#panic("x")' in " ".join(read(booklet(told)))


def test_inches_all_through_where_she_thinks_in_inches() -> None:
    told = content(trousers(), sewer=Sewer("Pilar", units="inch"))
    whole = " ".join(read(booklet(told)))
    assert re.search(r"\d in\b", whole)
    assert not re.search(r"\d cm\b", whole.replace("140 cm wide", "")), re.findall(r".{20}\d cm\b", whole)


def test_a_sheet_it_does_not_know_is_refused() -> None:
    with pytest.raises(PaperError, match="A4 or Letter"):
        booklet(content(trousers(), sheet="Napkin"))


def test_a_childs_garment_carries_the_childrens_cautions() -> None:
    grown, small = trousers(), replace(trousers(), for_child=True)
    assert "child cords" not in cautions(grown, LINEN)
    assert {"child cords", "child nightwear", "small parts"} <= set(cautions(small, LINEN))
    whole = " ".join(read(booklet(content(small))))
    for text in ("EN 14682", "local rules", "Iron", "Needle", "Blade"):
        assert text in whole
    assert "EN 14682" not in " ".join(read(booklet(content(grown))))


def test_elastic_in_the_back_only_is_told_as_such() -> None:
    flat = replace(trousers(), choices={"waist": "flat front, elastic at the back"})
    steps = {s.name: s for s in order_of_work(flat, LINEN, Sewer())}
    said = " ".join(step_words(steps["waist elastic"], flat).do)
    assert "side seam" in said
    assert "The front stays flat" in said
    round_ = trousers()
    steps = {s.name: s for s in order_of_work(round_, LINEN, Sewer())}
    assert "all round" in " ".join(step_words(steps["waist elastic"], round_).do)


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
def test_the_card_is_one_page_with_every_step(sheet: str) -> None:
    for garment in (trousers(), skirt(30.0)):
        told = content(garment, sheet=sheet)
        (page,) = read(card(told))
        for step in told.steps:
            assert squeezed(step_words(step, garment).title) in page
        assert "1 cm + 3 cm" in page  # the hem's folds, to be looked up with the work in hand


class Outline(HTMLParser):
    """Boxes, pictures and text of a page; fails on tags that do not close."""

    EMPTY = frozenset({"meta", "input", "path"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.boxes: list[str] = []
        self.pictures = 0
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in self.EMPTY:
            self.open.append(tag)
        if tag == "input":
            self.boxes.append(str(dict(attrs)["id"]))
        self.pictures += tag == "svg"

    def handle_endtag(self, tag: str) -> None:
        if tag not in self.EMPTY:
            assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def test_the_phone_page_has_a_box_and_a_picture_for_each_step_and_fetches_nothing() -> None:
    wild = "<script>alert(1)</script>"
    told = content(skirt(), title=wild)
    made = screen(told)
    page = Outline()
    page.feed(made)
    page.close()
    assert page.open == []
    assert page.boxes == [f"step{step.number}" for step in told.steps]
    assert page.pictures >= len(told.steps)
    whole = squeezed(" ".join(page.text))
    for step in told.steps:
        for sentence in step_words(step, told.garment).do:
            assert squeezed(sentence) in whole
    assert wild not in made
    assert wild in whole
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)|src=|href=|@import|url\(", made)
    assert made == screen(told)


def letters(pdf: bytes) -> list[float]:
    """Size of every run of text. [pt]"""
    sizes: list[float] = []
    for page in pypdfium2.PdfDocument(pdf):
        for run in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT]):
            size = ctypes.c_float()
            pypdfium2.raw.FPDFTextObj_GetFontSize(run.raw, size)
            a, b = run.get_matrix().get()[:2]
            sizes.append(size.value * (a * a + b * b) ** 0.5)
    return sizes


def test_large_print_is_large_in_text_and_pictures() -> None:
    usual, large = letters(booklet(content(trousers()))), letters(booklet(content(trousers(), large=True)))
    assert min(usual) >= 5.5
    assert min(large) >= 9.0
    assert sorted(large)[len(large) // 2] >= 1.35 * sorted(usual)[len(usual) // 2]


@pytest.mark.parametrize("large", [False, True])
def test_nothing_runs_into_the_foot_of_a_page(large: bool) -> None:
    """No step is longer than a page: above the page number there is a strip without ink."""
    for garment in (trousers(), skirt(14.0)):
        for sheet in ("A4", "Letter"):
            for page in pypdfium2.PdfDocument(booklet(content(garment, LAWN, large=large, sheet=sheet))):
                shown = page.render(scale=1.0).to_numpy()
                foot = shown[-62:-48, :, 0]  # rows of 1 pt: bottom margin is 62 pt
                assert foot.min() > 200


def test_on_a_phone_every_step_begins_a_page_of_its_own_no_wider_than_the_screen() -> None:
    told = content(skirt(), sheet="Phone")
    document = pypdfium2.PdfDocument(booklet(told))
    assert {tuple(round(v / 72 * 25.4) for v in page.get_size()) for page in document} == {(90, 160)}
    pages = [squeezed(page.get_textpage().get_text_range()) for page in document]
    first = [next(i for i, text in enumerate(pages) if text.startswith(_heading(told, n))) for n in (2, 5)]
    assert first[0] < first[1]
    for page in document:
        edge = page.render(scale=1.0).to_numpy()[:, -8:, 0]  # nothing runs off at the right
        assert edge.min() > 200


def _heading(told: BookletContent, number: int) -> str:
    return f"{number} {squeezed(step_words(told.steps[number - 1], told.garment).title)}"


def test_bought_bindings_are_named_beside_what_is_cut() -> None:
    whole = " ".join(read(booklet(content(shirt()))))
    assert "instead of cutting the strip" in whole
