"""In inches: no cm is left over in a sentence, and what is shown in inches and saved again is as it was."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from clothwise.draft import PATTERNS
from clothwise.store import Store
from clothwise.ticket import read_ticket, write_ticket
from clothwise.units import INCH
from clothwise.web.paper_look import work_told
from clothwise.web.sheet import Reader
from clothwise.web.ticket_state import load
from clothwise.web.words_set import in_inches, number_in_inches, words_set
from tests.page_screens import TICKET
from tests.page_tools import ask, form, keep

INCHES = {"cookie": "units=inch"}
CM = re.compile(r"\d[ \u00a0](cm|m)\b(?! of thread)")
NAMES = "Skirt 60 cm"


def shown(page: Any, path: str) -> str:
    """The words of a page for whoever reads in inches; examples of typing left out."""
    html = ask(page, "GET", path, headers=INCHES).text
    words = re.sub(r"<(script|option|textarea)\b.*?</\1>|<[^>]*>", " ", html, flags=re.DOTALL)
    return words.replace("67,3 cm", "").replace(NAMES, "")


@pytest.mark.parametrize(
    "path",
    [
        *(
            "/",
            "/tickets",
            TICKET,
            f"{TICKET}/cloth",
            f"{TICKET}/work",
            f"{TICKET}/log",
        ),
        *("/people", "/person/Marit", "/person/Juno", "/cupboard", "/cloth/Harbour+twill+remnant", "/box"),
        *("/cloth/Grey-green+linen", "/draft/pull_on_trousers", "/draft/darted_shift", "/shelf", "/makes"),
        *("/bought/Mill+1+swing+dress?for=Marit", "/bought/Mill+5+play+trousers?for=Juno", "/bought"),
        *("/make/First+straight+skirt", "/draft/apron/metres?for=Marit", "/draft/apron/sizes"),
    ],
)
def test_no_centimetre_is_left_over(mill_page: Any, mill: Store, path: str) -> None:
    mill.keep_cloth(replace(mill.cloth("Grey-green linen"), name=NAMES))
    words = shown(mill_page, path)
    found = CM.search(words)
    assert not found, words[max(found.start() - 60, 0) : found.end() + 20] if found else ""


@pytest.mark.parametrize(
    ("said", "read"),
    [
        ("A hem of 108 cm: 20 cm of slit.", "A hem of 42 1/2 in: 7 7/8 in of slit."),
        ("5 to 10 cm", "2 to 3 7/8 in"),
        ("2.5 x 30 cm", "1 x 11 3/4 in"),
        ("1.42 m of 130 cm", "1.55 yd of 51 1/8 in"),
        ("0.31 m²", "0.37 yd²"),
        ("4 cm, stitches of 2.5 mm", "1 5/8 in, stitches of 2.5 mm"),
        ("reels of 100 m, 185 g/m²", "reels of 100 m, 185 g/m²"),
        ("Type 67,3 cm", "Type 67,3 cm"),
    ],
)  # fmt: skip
def test_a_sentence_of_the_house_is_read_in_inches(said: str, read: str) -> None:
    assert in_inches(said) == read


def test_names_and_fields_stay_as_they_are() -> None:
    html = f"<p>{NAMES}: 60 cm</p><textarea>60 cm</textarea><input value='60 cm'>"
    made = words_set(html, lambda: [NAMES], inches=True)
    kept = "</p><textarea>60 cm</textarea><input value='60 cm'>"
    assert made == f"<p>Skirt 60\u00a0cm: 23\u00a05/8\u00a0in{kept}"


def test_what_a_choice_means_has_its_numbers_in_inches() -> None:
    hem = next(c for c in next(p for p in PATTERNS if p.name == "pull_on_trousers").choices if c.name == "hem")
    assert number_in_inches(hem.meaning) == (
        "Depth turned up; if left open 1 5/8, shorts 1 1/8, for a child 5/8 more to let down."
    )
    share = replace(hem, meaning="left open 3 per cent of it, for a child 2.")
    assert Reader(True).meaning(share) == "left open 3 per cent of it, for a child 3/4."
    assert Reader(False).meaning(share) == share.meaning


def test_the_order_of_work_is_told_in_the_readers_unit(mill: Store) -> None:
    text = write_ticket(load(mill, "Marit's linen trousers").whole)
    lines = [*(told := work_told(text, "inch")["told"])["before"], *(d for s in told["steps"] for d in s["do"])]
    assert any('"' in line or " in " in line for line in lines)
    assert not [line for line in lines if re.search(r"\d cm", line)]


# ---- there and back ------------------------------------------------------------------------------


@pytest.mark.parametrize("typed", ["38 1/2", "38½", "38.5", '38 1/2"', "38 1/2 in", "97.79 cm", "977.9 mm"])
def test_every_way_of_typing_an_inch_is_the_same_length(mill_page: Any, mill: Store, typed: str) -> None:
    assert "version" in keep(mill_page, "/person/Marit/keep", {"measure.hip_girth": typed}, **INCHES)
    assert mill.body("Marit").measures["hip_girth"].cm == pytest.approx(38.5 * INCH)


def test_a_card_saved_as_it_is_shown_in_inches_is_as_it_was(mill_page: Any, mill: Store) -> None:
    before = mill.body("Marit")
    html = ask(mill_page, "GET", "/person/Marit", headers=INCHES).text
    fields = dict(re.findall(r'data-path="(measure\.[a-z_]+)" value="([^"]*)"', html))
    assert len([one for one in fields.values() if one]) > 15
    keep(mill_page, "/person/Marit/keep", fields, **INCHES)
    assert mill.body("Marit").measures == before.measures


def test_a_cloth_saved_as_it_is_shown_in_inches_is_as_it_was(mill_page: Any, mill: Store) -> None:
    for name in ("Grey-green linen", "Harbour twill remnant", "Quay check brushed cotton"):
        before, at = mill.cloth(name), f"/cloth/{name.replace(' ', '+')}"
        html = ask(mill_page, "GET", at, headers=INCHES).text
        fields = dict(re.findall(r'data-path="([a-z_]+)" value="([^"]*)"', html))
        assert {"width", "length", "outline", "repeat_along"} <= set(fields)
        told = keep(mill_page, f"{at}/keep", fields, **INCHES)
        assert "refused" not in told, told
        assert mill.cloth(name) == before


def test_a_ticket_saved_as_it_is_shown_in_inches_is_as_it_was(mill_page: Any, mill: Store) -> None:
    keep(mill_page, f"{TICKET}/keep", {"choice.hip_ease": "7.3", "choice.hem": "4", "figure.seat": "1.3"})
    before = mill.tickets()[0]
    html = ask(mill_page, "GET", TICKET, headers=INCHES).text
    found = dict(
        re.findall(r'data-path="((?:choice|measure|figure|left)\.[a-z_]+)" value="([^"]+)" plac', html)
    )
    assert {"choice.hip_ease", "figure.seat", "measure.hip_girth"} <= set(found)
    keep(mill_page, f"{TICKET}/keep", found, **INCHES)
    assert read_ticket(mill.tickets()[0].text) == read_ticket(before.text)


def test_the_box_saved_as_it_is_shown_in_inches_is_as_it_was(mill_page: Any, mill: Store) -> None:
    form(mill_page, "/box/put", name="White elastic", sort="elastic", much="1.5 m", width="2.5")
    before = mill.box_item("White elastic")
    html = ask(mill_page, "GET", "/box", headers=INCHES).text
    much = re.search(r'name="much" value="([^"]+)"', html)
    assert much
    form(mill_page, "/box/White+elastic/much", much=much[1], cookie=INCHES["cookie"])
    assert mill.box_item("White elastic") == before
