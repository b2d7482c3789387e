"""The booklet in every language: the same sentences with the same figures, and no word left in another."""

from __future__ import annotations

import io
import re
from contextlib import suppress
from dataclasses import replace
from itertools import product

import pikepdf
import pypdfium2
import pytest

from clothwise.alter import FIGURE_CHANGES, changed, figured
from clothwise.alter.change import change_of
from clothwise.body import Body, estimate, sample
from clothwise.body.slips import slips
from clothwise.body.vocabulary import VOCABULARY
from clothwise.cloth import Cloth
from clothwise.cloth.kinds import kinds
from clothwise.draft import PATTERNS
from clothwise.errors import PaperError, WorkroomError
from clothwise.garment import Garment
from clothwise.garment.haberdashery import haberdashery
from clothwise.sew import Sewer, minutes, order_of_work
from clothwise.sew.booklet import BookletContent, booklet, card
from clothwise.sew.contents import pictures_of, told
from clothwise.sew.language import FILES, NATIVE, language
from clothwise.sew.manners import KINDS
from clothwise.sew.screen import screen
from tests.sewn_by_hand import marit

LINEN = Cloth("Blaues Leinen", 140, 250, kind="linen", fibre="Flachs", grams_per_m2=185, washed=False)
LAWN = Cloth("Batist", 140, 250, kind="cotton lawn", grams_per_m2=80)
JERSEY = Cloth("Trikot", 150, 250, make="knit", kind="single jersey", stretch_across=0.4)
OTHERS = [code for code in FILES if code != NATIVE]
PLACES = re.compile(r"\{(\w+)\}")
# Words that only English has, as whole words of running text. 'in', 'an' and the like are words of both.
ENGLISH = set(
    "the and of with from edge edges seam seams side front back stitch press pin fold lay turn waist "
    "hem sleeve neck piece pieces allowance right wrong cloth needle both each other then cut long "
    "wide notch shoulder facing binding pocket gather dart elastic zip minutes likely measures tools "
    "whole while until which step steps before after open all how what only not is are be it its "
    "this that together stop wash iron".split()
)


def content(garment: Garment, cloth: Cloth = LINEN, code: str = "de", **more: object) -> BookletContent:
    sewer = Sewer("Marit", overlocker=cloth is not LINEN)
    steps = order_of_work(garment, cloth, sewer)
    return BookletContent(
        garment, steps, minutes(garment, steps, cloth, sewer, sheets=20), cloth, sewer,
        title="Probe", for_whom="Marit", made_on="2026-11-25",
        measures=(("hip girth", 104.0, "taped"), ("waist to knee", 58.0, "estimated")),
        notions=haberdashery(garment), language=code, **more,  # type: ignore[arg-type]
    )  # fmt: skip


def drafts(body: Body) -> list[Garment]:
    """Every house draft, and each of its options in turn."""
    found = []
    for pattern in PATTERNS:
        wishes: list[dict[str, str]] = [{}]
        wishes += [{choice.name: str(option)} for choice in pattern.choices for option in choice.options]
        for wish in wishes:
            with suppress(WorkroomError):  # not for this body
                found.append(pattern.make(body, dict(wish)))
    return found


@pytest.mark.parametrize("code", OTHERS)
def test_every_language_says_every_sentence_with_the_same_figures(code: str) -> None:
    native, other = language(NATIVE).sentences, language(code).sentences
    own = {key for key in other if not key.startswith("glossary.")}
    assert own == {key for key in native if not key.startswith("glossary.")}
    for key in own:
        assert sorted(PLACES.findall(native[key])) == sorted(PLACES.findall(other[key])), key
        if len(native[key].split()) > 3:
            assert native[key] != other[key], f"'{key}' is still in English"
    assert language(code).table("glossary")


@pytest.mark.parametrize("code", OTHERS)
def test_all_that_the_drafts_name_has_its_word(code: str) -> None:
    for number, garment in enumerate(drafts(marit())):
        assert told(content(garment, (LINEN, JERSEY)[number % 2], code), {})["steps"]  # refuses a word it lacks


@pytest.mark.parametrize("code", OTHERS)
@pytest.mark.parametrize("figure", ["woman", "man", "girl", "boy"])
def test_notes_and_doubts_of_other_bodies_have_their_words(code: str, figure: str) -> None:
    said = language(code)
    for body in sample(figure, 4, seed=11):  # type: ignore[arg-type]  # one of the figures
        for pattern, wish in product(PATTERNS, ({}, {"fit": "close"}, {"length": "midi"})):
            with suppress(WorkroomError):
                for note in pattern.make(body, wish).notes:
                    assert said.phrase("note", note.text)
        for name, factor in (("waist_girth", 1.5), ("hip_girth", 0.5), ("height", 0.3937), ("body_rise", 1.4)):
            if name in body:
                odd = Body(body.name, body.figure, {**body.measures}).with_measures(
                    **{name: body[name] * factor}
                )
                for slip in slips(odd):
                    assert said.phrase("doubt", slip.sentence)


@pytest.mark.parametrize("code", OTHERS)
def test_an_altered_figure_is_told_too(code: str) -> None:
    said, told_of, body = language(code), set(), estimate(marit())
    for change, pattern in product(FIGURE_CHANGES, PATTERNS):
        for by in (1.0, -1.0):
            try:
                notes = figured(pattern, body, {}, {change.name: by}).notes
            except WorkroomError:  # the draft does not ask for it, or not so much of it
                continue
            told_of.add((change.name, by > 0))
            for note in notes:
                assert said.phrase("note", note.text)
    assert len(told_of) > 1.5 * len(FIGURE_CHANGES)


@pytest.mark.parametrize("code", OTHERS)
def test_measures_and_kinds_of_cloth_have_their_words(code: str) -> None:
    said = language(code)
    for kind in {*KINDS, *(kind.name for kind in kinds())}:
        assert said.word("cloth", kind) != ""
    for definition in VOCABULARY:
        for name in (definition.words, definition.words.replace(" girth", "")):
            assert said.word("measure", name)


def words_of(text: str) -> set[str]:
    """All words, places to fill in left out."""
    return set(re.findall(r"[a-zäöüß]+", PLACES.sub("", text).lower()))


def strings(value: object) -> list[str]:
    """All text of the told data but the names of files."""
    if isinstance(value, str):
        return [] if value.endswith(".svg") else [value]
    if isinstance(value, dict):
        return [text for key, part in value.items() if key not in ("family", "sheet") for text in strings(part)]
    return [text for part in value for text in strings(part)] if isinstance(value, list) else []


def test_no_english_word_is_left_in_a_german_booklet() -> None:
    for number, garment in enumerate(drafts(marit())[::5]):
        made = content(garment, (LINEN, LAWN, JERSEY)[number % 3])
        pictures = pictures_of(made) if number % 6 == 0 else {}
        drawn = [re.sub(r"<[^>]*>", " ", svg) + alt for svg, alt in pictures.values()]
        left = words_of(" ".join([*strings(told(made, pictures)), *drawn])) & ENGLISH
        assert left == set(), (garment.name, left)


def test_the_german_pdf_is_german_throughout_and_breaks_its_long_words() -> None:
    garment = next(p for p in PATTERNS if p.name == "darted_shift").make(marit(), {})
    made = booklet(content(garment))
    with pikepdf.open(io.BytesIO(made)) as pdf:
        assert str(pdf.Root.Lang).startswith("de")
        alts = [str(o.Alt) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and "/Alt" in o]
    pages = pypdfium2.PdfDocument(made)
    raw = "\n".join(page.get_textpage().get_text_range() for page in pages)
    assert words_of(raw + " ".join(alts)) & ENGLISH == set()
    assert re.search(r"[a-zäöüß][\u00ad\ufffe][a-zäöüß]", raw)  # hyphenated at a line's end
    assert "1,5 cm" in raw
    assert not re.search(r"\d\.\d", re.sub(r"\d\.\d\d\.\d\d", "", raw))  # a comma in every figure
    (page,) = pypdfium2.PdfDocument(card(content(garment)))
    assert words_of(page.get_textpage().get_text_range()) & ENGLISH == set()


def test_the_screen_says_its_language() -> None:
    garment = PATTERNS[0].make(marit(), {})
    assert '<html lang="de">' in screen(content(garment))
    assert '<html lang="en">' in screen(content(garment, code="en"))


def test_a_language_the_house_does_not_speak_is_refused_in_a_sentence() -> None:
    with pytest.raises(PaperError, match=r"not written in 'fr'"):
        booklet(content(PATTERNS[0].make(marit(), {}), code="fr"))


def test_a_word_that_is_missing_is_refused_and_never_left_in_english() -> None:
    garment = PATTERNS[0].make(marit(), {})
    strange = replace(garment, title="Hammock")
    with pytest.raises(PaperError, match="Hammock"):
        told(content(strange), {})


@pytest.mark.parametrize(
    ("what", "entries"),
    [
        ("split", {"piece": "back_panel", "share": 0.5}),
        ("face hem", {"hem": "hem", "by": 4.0}),
        ("wedge", {"pieces": "back_panel", "at": "hip", "edge": "centre", "by": 1.0}),
        ("lengthen", {"at": "hip", "by": 2.0}),
        ("flare", {"pieces": "front_panel, back_panel", "by": 6.0}),
        ("flare", {"pieces": "front_panel", "by": -3.0}),
        ("pocket", {"piece": "front_panel", "at": "hip", "by": 14.0}),
        ("yoke", {"piece": "front_panel", "at": "hip", "below": 8.0}),
        ("cut singly", {}),
    ],
)
def test_what_an_alteration_names_anew_has_its_words(what: str, entries: dict[str, float | str]) -> None:
    """Names made of names: 'Left side seam', 'Upper front panel', 'Side seams of the facing'."""
    drawn = next(p for p in PATTERNS if p.name == "four_panel_skirt").make(marit(), {})
    data = told(content(changed(drawn, [change_of(what, entries)])), {})
    assert words_of(" ".join(strings(data))) & ENGLISH == set()


@pytest.mark.parametrize("number", [1.0, 3.0])
def test_growth_tucks_have_their_words(number: float) -> None:
    drawn = next(p for p in PATTERNS if p.name == "gathered_skirt").make(marit(), {})
    data = told(
        content(changed(drawn, [change_of("growth tuck", {"hem": "hem", "number": number, "by": 1.5})])), {}
    )
    assert words_of(" ".join(strings(data))) & ENGLISH == set()


@pytest.mark.parametrize(
    ("draft", "wish"),
    [
        ("jogger", {}),
        ("button_front_shirt", {"sleeve_end": "buttoned cuff"}),
        ("a_line_skirt", {"waist": "facing with zip"}),
        ("tiered_skirt", {"pockets": "side seam"}),
    ],
)
def test_left_and_right_of_limbs_facings_and_pockets_have_their_words(draft: str, wish: dict[str, str]) -> None:
    drawn = next(p for p in PATTERNS if p.name == draft).make(marit(), wish)
    data = told(content(changed(drawn, [change_of("cut singly", {})])), {})
    assert words_of(" ".join(strings(data))) & ENGLISH == set()
