"""What the page says and what it prints: numbers with their words, a refusal said once, sheets of A4 filled."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pypdfium2
import pytest

from clothwise.body import Body
from clothwise.store import Store
from clothwise.ticket import write_ticket
from clothwise.ticket.made import work_out
from clothwise.web.cutting_out import cutting_told
from clothwise.web.sheet import Reader, slug
from clothwise.web.takeaway import takeaway
from clothwise.web.ticket_state import load
from clothwise.web.words_set import NO_BREAK
from tests.page_screens import TICKET, brought_up, clock_runs, laid, own_ticket
from tests.page_screens import Screen as PageScreen
from tests.page_tools import ask, form

RIM = 35  # pt: what a home printer leaves blank
LEAST_PICTURE = 40  # dots: a picture of a step that is there, not the mark of one that is missing


def told(page: Any, path: str) -> str:
    """The words of a page, marks of HTML taken out."""
    words = re.sub(r"<[^>]+>", "", ask(page, "GET", path).text)
    return re.sub(r"\s+", " ", words)


def test_one_thing_is_not_told_as_many(mill_page: Any, mill: Store) -> None:
    assert "1 piece, as it comes out for" in told(mill_page, "/draft/leggings?for=Marit")
    mill.keep_body(replace(mill.body("Marit"), taken_on="2026-11-20").with_measures(hip_girth=103.0))
    assert "1 measure has changed since" in told(mill_page, "/person/Marit")
    mill.keep_body(Body("Ida", "girl", {}).with_measures(height=120.0))
    assert "girl; 1 measure taped" in told(mill_page, "/people")


def test_a_house_tells_what_is_in_it_and_not_what_is_not(mill_page: Any, mill: Store) -> None:
    assert "Kept here: 4 people, 13 cloths, 1 ticket, 5 bought patterns and 1 make," in told(
        mill_page, "/house"
    )
    form(mill_page, "/house/demo/clear")
    assert "Nothing is kept here yet." in told(mill_page, "/house")


def test_a_card_with_nothing_taped_is_not_settled(mill_page: Any, mill: Store) -> None:
    form(mill_page, "/house/demo/clear")
    mill.keep_body(Body("Ida", "girl", {}))
    assert "girl; nothing taped yet" in told(mill_page, "/people")
    assert "Tape Ida" in told(mill_page, "/")
    shelf = told(mill_page, "/shelf")
    assert shelf.count("There is too little to estimate") == 1
    mill.keep_body(Body("Ida", "girl", {}).with_measures(height=120.0, waist_girth=55.0))
    assert "Somebody is measured." in told(mill_page, "/")


def test_a_childs_growth_is_in_years_and_months(mill_page: Any) -> None:
    juno = told(mill_page, "/person/Juno")
    assert "At 7 years, as children grow" in juno
    assert re.search(r"height [\d.]+ cm\d+ months\d+ to \d+ months", juno)


@pytest.mark.parametrize(
    ("name", "pattern"),
    [("Juno", "Mill 5 play trousers"), ("Osei", "Mill 4 work shirt"), ("Pilar", "Mill 2 straight skirt")],
)
def test_a_size_is_told_of_whoever_wears_it(mill_page: Any, name: str, pattern: str) -> None:
    words = told(mill_page, f"/bought/{slug(pattern)}?for={name}")
    answered = words[words.index("Which size to cut") : words.index("What it says")]
    assert re.search(rf"\b{name}('s| (is|lies|likes|measures))\b", answered)
    assert not re.search(r"\b([Yy]our|[Yy]ou (are|lie|like|measure|asked))\b", answered)
    for one in ("Why", "body", "Ease that each size gives"):
        assert one in answered, one


def test_cautions_stand_where_the_work_is(mill_page: Any, mill: Store) -> None:
    """Fire beside what is slept in, cords and small parts beside a child's, the blade where it is cut."""
    assert "keep it away from stoves" in told(mill_page, "/draft/pyjama_bottoms?for=Marit")
    assert "keep it away from stoves" not in told(mill_page, "/draft/leggings?for=Marit")
    child = told(mill_page, "/draft/robe?for=Juno")
    for words in ("look up your local rules", "no cord, drawstring or tie", "must not come off"):
        assert words in child, words
    whole = load(mill, "Marit's linen trousers").whole
    made = work_out(whole, effort="quick")
    cut = cutting_told(made.plan, made.cloth, Reader(False))
    assert "cut away from the other hand" in cut["cautions"][0]
    carried = takeaway(write_ticket(whole), {}, inches=False)
    assert carried.index("Steam scalds") < carried.index('aria-label="Step 1"'), "before the iron is hot"


@pytest.mark.page
def test_the_head_counts_the_sheets_that_are_printed(opened: Callable[..., Any]) -> None:
    page = opened(f"{TICKET}/paper")
    page.wait_for_selector(".map")
    sheets = page.locator(".map .sheet").count()
    words = page.inner_text("[data-knot=paper]").replace(NO_BREAK, " ")
    assert words.startswith(f"{sheets + 1} × A4"), "the first has the test squares"


@pytest.mark.page
def test_what_is_printed_of_a_ticket_fills_its_sheets(opened: Callable[..., Any]) -> None:
    """In ink on A4: nothing beside the sheet, no empty sheet, every picture of a step there."""
    page = opened(TICKET)
    page.wait_for_selector(".piece")
    most = {"": 2, "/cloth": 2, "/paper": 1, "/log": 1}
    for station, sheets in most.items():
        page.goto(page.url.split("/ticket/")[0] + TICKET + station)
        page.wait_for_load_state("networkidle")
        printed = pypdfium2.PdfDocument(page.pdf(format="A4"))
        assert len(printed) <= sheets, station
        for sheet in printed:
            text = sheet.get_textpage()
            spans = [text.get_charbox(n) for n in range(text.count_chars())]
            inked = [span for span in spans if span[2] > span[0]]
            assert inked, f"{station}: a sheet with nothing on it"
            assert min(left for left, *_ in inked) > RIM, station
            assert max(right for _, _, right, _ in inked) < sheet.get_width() - RIM, station


@pytest.mark.page
def test_pictures_of_steps_are_there_before_they_are_scrolled_to(opened: Callable[..., Any]) -> None:
    page = opened("/")
    brought_up(page, page.url.rstrip("/"), PageScreen("work", f"{TICKET}/work", ".step", clock_runs))
    page.wait_for_load_state("networkidle")
    wide = page.evaluate("[...document.querySelectorAll('.step-picture')].map((one) => one.naturalWidth)")
    assert len(wide) > 5
    assert min(wide) > LEAST_PICTURE


@pytest.mark.page
@pytest.mark.parametrize("narrow", [False, True], ids=["1280", "390"])
def test_nothing_gone_to_lies_beneath_what_stays_at_the_head(opened: Callable[..., Any], narrow: bool) -> None:
    page = opened(TICKET, narrow=narrow)
    page.wait_for_selector(".piece")
    page.evaluate("scrollTo(0, 700)")
    page.wait_for_timeout(200)
    head, bench = (page.locator(one).bounding_box() for one in (".running", ".bench"))
    assert abs(head["y"] + head["height"] - bench["y"]) <= 1, "one ends where the other begins"
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    page.locator("text=On to the cloth").focus()
    for _ in range(14):
        page.keyboard.press("Shift+Tab")
    at = page.evaluate("document.activeElement.getBoundingClientRect().top")
    assert bench["y"] + bench["height"] - 1 <= at < page.viewport_size["height"]


@pytest.mark.page
def test_an_edge_can_be_pulled_on_before_it_is_learned_anew(opened: Callable[..., Any]) -> None:
    page = opened(f"{TICKET}?pieces=large")
    hem = ".hit.pulls[data-edge='front_leg/hem']"
    page.wait_for_selector(hem, state="attached")
    page.route("**/pulls", lambda _route: None)  # never answered
    said = []
    for _ in range(2):
        line = page.locator(f"{hem} + .edge")
        line.scroll_into_view_if_needed()
        box = line.bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x, y - 30, steps=6)
        said.append(float(re.search(r"-?[\d.]+", page.locator("[data-live=pulling]").inner_text()).group()))  # type: ignore[union-attr]
        page.mouse.up()
        page.wait_for_timeout(700)
    assert said[0] < -1
    assert said[1] < said[0] - 1, "pulled on from where it was left"


@pytest.mark.page
def test_a_lay_and_its_cut_are_in_sight_on_a_phone(opened: Callable[..., Any]) -> None:
    page = opened("/tickets", narrow=True)
    page.wait_for_selector(".pile")
    own_ticket(page)
    laid(page)
    page.evaluate("scrollTo(0, 0)")
    high = page.viewport_size["height"]
    assert page.locator(".copy").first.bounding_box()["y"] < high, "the lay comes before how it is laid anew"
    page.get_by_role("button", name="take it off").click()
    page.wait_for_selector(".is-cut")
    page.wait_for_load_state("networkidle")
    assert 0 < page.locator(".is-cut").bounding_box()["y"] < high
