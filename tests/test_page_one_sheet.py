"""The ticket of a bought pattern: from the evening's answer or the shelf to the finished make, on one sheet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from clothwise.errors import TicketError
from clothwise.lay.verify import faults
from clothwise.size.answering import answered
from clothwise.size.judging import judged
from clothwise.store import Store, deeds
from clothwise.store.log_book import logged_makes
from clothwise.store.store import HOW_FAR
from clothwise.ticket import read_ticket
from clothwise.ticket.bought_ticket import BoughtTicket, is_bought, read_bought_ticket, write_bought_ticket
from clothwise.web.buying_work import shop
from clothwise.web.on_one_sheet import sheet_of, sizes_cut
from clothwise.web.sheet import Reader
from clothwise.web.ticket_state import OnOneSheet, load
from tests.page_tools import ask, axe, form, keep, sideways

CM = Reader(False)


@pytest.fixture
def begun(mill: Store, mill_page: Any) -> str:
    """The address of a ticket begun from the shelf."""
    pattern = next(p for p in mill.bought_patterns() if p.finished)
    cloth = next(c for c in mill.cloths() if c.make == pattern.make and not c.outline and c.length > 200)
    told = form(mill_page, "/tickets/bought", bought=pattern.name, **{"for": "Marit"}, cloth=cloth.name)
    assert told.status == 303
    return told.headers["location"]


def name_of(store: Store) -> str:
    return next(kept.name for kept in store.tickets() if is_bought(kept.text))


def test_the_text_comes_back_and_is_told_from_a_house_ticket(mill: Store) -> None:
    ticket = BoughtTicket("Shirt", "Some pattern", "Marit", "White poplin", "B", made_on="2026-11-25")
    wished = replace(ticket, longer=-3.5, ease={"hip": 6.0, "bust": -2.0})
    assert read_bought_ticket(write_bought_ticket(ticket)) == ticket
    assert read_bought_ticket(write_bought_ticket(wished)) == wished
    assert not is_bought(mill.tickets()[0].text)
    assert not is_bought("no [toml")
    for wrong in ("", "ticket = 1\nname = 'x'", "bought = 3\nname = 'x'", "[["):
        with pytest.raises(TicketError, match="bought pattern"):
            read_bought_ticket(wrong)
    with pytest.raises(TicketError):
        read_ticket(write_bought_ticket(ticket))


def test_the_sheet_tells_the_size_that_the_shelf_tells(mill_page: Any, mill: Store, begun: str) -> None:
    one = sheet_of(mill, name_of(mill), CM)
    wanted = answered(
        mill.body("Marit"), one.pattern, view=one.ticket.view, cloth=one.state.cloth, makes=mill.makes()
    )
    assert one.answer is not None
    assert one.answer.advice.sizes == wanted.advice.sizes
    page = ask(mill_page, "GET", begun).text
    assert f"size {one.size}" in page
    assert "Trace the pieces" in page
    assert form(mill_page, f"{begun}/bought/settle", skill="expert").status == 303
    assert sheet_of(mill, name_of(mill), CM).minutes.likely < one.minutes.likely
    assert form(mill_page, f"{begun}/bought/settle", skill="wizard").status == 422
    assert form(mill_page, f"{begun}/bought/settle", view="Q").status == 422
    assert ask(mill_page, "GET", "/tickets").text.count(begun) >= 1


def test_a_pattern_whose_outlines_are_known_is_laid_on_the_very_cloth(mill_page: Any, mill: Store) -> None:
    """A remnant with a flaw: the table's width alone would not tell."""
    cloth = mill.cloth("Grey-green linen").changed(length=150.0, flaws=(((20, 20), (60, 20), (60, 50)),))
    mill.keep_cloth(cloth)
    asked = {"bought": "Mill 2 straight skirt", "for": "Marit", "cloth": cloth.name}
    at = form(mill_page, "/tickets/bought", **asked).headers["location"]
    one = sheet_of(mill, name_of(mill), CM)
    assert one.lay is not None
    assert faults(one.lay) == ()
    assert one.lay.problem.cloth.flaws == cloth.usable_flaws
    assert {p.title for p in one.lay.problem.pieces} == {
        p.name for p in one.pattern.pieces if p.cloth == "main"
    }
    page = ask(mill_page, "GET", at).text
    assert page.count('class="stage"') >= 1
    assert f"<b>{CM.metres(one.lay.length)}</b> of 1.50 m" in page
    assert one.cloth == {"length": one.lay.length, "have": cloth.usable_length, "exact": True}
    longer = form(mill_page, f"{at}/bought/settle", longer="10").headers["location"]
    assert sheet_of(mill, name_of(mill), CM).lay.length > one.lay.length  # type: ignore[union-attr]
    mill.keep_cloth(cloth.changed(length=40.0))
    short = ask(mill_page, "GET", longer).text
    assert "longer than there is" in short
    assert 'class="stage"' not in short


def test_the_addresses_of_other_stations_lead_to_the_sheet(mill_page: Any, mill: Store, begun: str) -> None:
    for station in ("cloth", "paper", "work", "log", "takeaway"):
        told = ask(mill_page, "GET", f"{begun}/{station}")
        assert (told.status, told.headers["location"]) == (303, begun)
    with pytest.raises(OnOneSheet):
        load(mill, name_of(mill))


def test_what_is_cut_off_leaves_the_cupboard_and_comes_back(mill_page: Any, mill: Store, begun: str) -> None:
    cloth = sheet_of(mill, name_of(mill), CM).state.cloth
    for wrong in ("-5", "9000", "a lot", "0"):
        assert form(mill_page, f"{begun}/bought/cut", length=wrong).status == 422
    assert mill.cloth(cloth.name) == cloth
    assert form(mill_page, f"{begun}/bought/cut", length="120").status == 303
    assert mill.cloth(cloth.name).usable_length == pytest.approx(cloth.usable_length - 120)
    assert form(mill_page, f"{begun}/bought/cut", length="10").status == 422, "it is cut already"
    assert form(mill_page, f"{begun}/bought/settle", **{"for": "Osei"}).status == 422
    assert form(mill_page, f"{begun}/cloth/uncut").status == 303
    assert mill.cloth(cloth.name) == cloth


def test_own_steps_clock_and_judgement_end_among_the_makes(mill_page: Any, mill: Store, begun: str) -> None:
    name = name_of(mill)
    one = sheet_of(mill, name, CM)
    level = next(iter(sizes_cut(one)))
    other = next(size for size in one.pattern.sizes if size != sizes_cut(one)[level])
    said = {"steps": "Darts\n\nSide seams", f"judged.{level}": "loose", f"size.{level}": other}
    told = keep(mill_page, f"{begun}/bought/keep", {**said, "minutes": "4 h 10"})
    assert "version" in told
    for path, text in (("judged.elbow", "tight"), (f"size.{level}", "no size"), ("colour", "red")):
        assert "refused" in keep(mill_page, f"{begun}/bought/keep", {path: text})
    page = ask(mill_page, "GET", begun).text
    assert page.index("Darts") < page.index("Side seams")
    assert form(mill_page, f"{begun}/tick", step="own Darts", done="yes").status == 303
    assert "1 of 5 steps done" in ask(mill_page, "GET", begun).text
    assert form(mill_page, f"{begun}/bought/finish", finished_on="2026-13-01").status == 422
    assert form(mill_page, f"{begun}/bought/finish", finished_on="2026-11-24").status == 303
    made = mill.make(name)
    assert (made.pattern, made.person, made.made_on) == (one.pattern.name, "Marit", "2026-11-24")
    assert [(j.level, j.verdict) for j in made.judgements] == [(level, "loose")]
    assert made.sizes[level] == other
    wanted = judged(mill.body("Marit"), one.pattern, level, "loose", size=other, view=one.ticket.view)
    assert made.judgements == (wanted,), "judged on the size that was cut"
    assert logged_makes(mill, "Marit") == ((), ()), "what an envelope plans teaches no pace, and is no fault"
    assert "leave your pace as it is" in ask(mill_page, "GET", begun).text, "and the page says so"
    assert "Made before" not in ask(mill_page, "GET", begun).text
    asked = {"bought": one.pattern.name, "for": "Marit", "cloth": one.state.cloth.name, "view": one.ticket.view}
    again = form(mill_page, "/tickets/bought", **asked).headers["location"]
    assert "Made before: 4 h 10 on 2026-11-24." in ask(mill_page, "GET", again).text
    elses = form(mill_page, "/tickets/bought", **{**asked, "for": "Pilar"}).headers["location"]
    assert "Made before" not in ask(mill_page, "GET", elses).text, "another sewer's time is not hers"
    assert deeds.undo(mill, f"progress/{name}") is not None
    assert name not in {make.name for make in mill.makes()}


def test_what_it_needs_stands_on_the_shopping_list(mill: Store, begun: str) -> None:
    name, heard = name_of(mill), list[tuple[str, Any]]()
    asked = {"tickets": [name], "without_cloth": False}
    shop(mill, asked, lambda kind, told: heard.append((kind, told)))
    (listed,) = (told for kind, told in heard if kind == "shopping list")
    one = sheet_of(mill, name, CM)
    assert listed["refused"] == []
    assert one.pattern.haberdashery
    assert len(listed["lines"]) == len(one.pattern.haberdashery)
    assert [cloth["cloth"] for cloth in listed["cloths"]] == [one.state.cloth.name]


def test_it_is_named_anew_with_all_that_belongs_to_it(mill_page: Any, mill: Store, begun: str) -> None:
    keep(mill_page, f"{begun}/bought/keep", {"words": "Longer sleeves."})
    assert form(mill_page, f"{begun}/rename", name="Winter one").status == 303
    assert read_bought_ticket(mill.ticket("Winter one").text).name == "Winter one"
    assert mill._one(HOW_FAR, "Winter one").said["words"] == "Longer sleeves."


@pytest.mark.page
@pytest.mark.parametrize("narrow", [False, True], ids=["1280", "390"])
def test_a_person_takes_it_from_the_pile_to_the_end(opened: Callable[..., Any], narrow: bool) -> None:
    page = opened("/tickets", narrow=narrow)
    page.click("form[action='/tickets/bought'] button")
    page.wait_for_selector("#size")
    page.fill("[name=length]", "20")
    page.click("text=Take it off the cloth")
    page.wait_for_selector(".is-cut")
    page.wait_for_load_state("load")
    page.locator(".step [type=checkbox]").first.check()
    page.wait_for_selector("#kept:has-text('Kept')")
    page.locator("[data-path=words]").fill("Sat well.")
    page.locator("[data-path=words]").blur()
    page.wait_for_timeout(1500)
    page.reload()
    assert page.locator("[data-path=words]").input_value() == "Sat well."
    assert page.locator(".step.done").count() == 1
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    assert axe(page) == []
    assert sideways(page) <= 0
    page.click("text=It is finished")
    page.wait_for_selector("text=It stands among the makes.")
    assert page.errors == []
