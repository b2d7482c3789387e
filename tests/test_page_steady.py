"""What one reads or is about to tap on the page of an evening stays where it is while answers come in.

The news are those of a real search as the server sends them; the test decides when each one comes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any
from urllib.request import urlopen

import pytest

from clothwise.store import jobs, open_store, seed_demo
from clothwise.web import evening_work
from tests.page_tools import WAIT_MS, Server, axe, errors_of

pytestmark = pytest.mark.page
NARROW = pytest.mark.parametrize("narrow", [False, True], ids=["wide", "narrow"])
ASKED = {
    "for": "Marit", "hours": 4.0, "skill": "practised", "overlocker": False, "made_on": "2026-11-25",
    "cloths": ["Grey-green linen", "Fog double gauze"],
}  # fmt: skip
HELD_BACK = """globalThis.EventSource = class extends EventTarget {
  static CLOSED = 2; readyState = 1;
  constructor() { super(); globalThis.wire = this; }
  close() { this.readyState = 2; }
};"""
TELL = "([kind, data]) => wire.dispatchEvent(new MessageEvent(kind, { data }))"


@pytest.fixture(scope="module")
def news(server: Server) -> list[tuple[str, str]]:
    """All that a search told, as the server sends it."""
    with open_store(server.store) as store:
        seed_demo(store)
        number = jobs.ask(store, "evening", ASKED)
        jobs.turn(store, number, "running")
        evening_work.find(store, ASKED, lambda kind, said: jobs.tell(store, number, kind, said))
        jobs.turn(store, number, "done")
    with urlopen(f"{server.address}/jobs/{number}/news", timeout=60) as answer:
        blocks = answer.read().decode().split("\n\n")
    lines = [dict(line.split(": ", 1) for line in block.split("\n") if ": " in line) for block in blocks]
    return [(one["event"], one["data"]) for one in lines if "event" in one]


@dataclass
class Evening:
    """A page that listens to a search, and what it has not been told yet."""

    page: Any
    news: list[tuple[str, str]]
    held: list[str] = field(default_factory=list)

    def tell(self, *kinds: str, most: int = 1000) -> int:
        """Tells the next news of these kinds. Returns how many."""
        due = [one for one in self.news if one[0] in kinds][:most]
        for one in due:
            self.news.remove(one)
            self.page.evaluate(TELL, list(one))
        return len(due)

    def top(self, of: Any) -> float:
        return float(of.bounding_box()["y"])


@pytest.fixture
def listening(browser: Any, server: Server, news: list[tuple[str, str]]) -> Iterator[Callable[[bool], Evening]]:
    contexts = []

    def opened(narrow: bool) -> Evening:
        with open_store(server.store) as store:
            known = next(one for one in jobs.newest(store, "evening", 50) if one.state == "done")
            number = jobs.ask(store, "evening", ASKED)
            jobs.turn(store, number, "running")
            for one in jobs.news(store, known.number):
                if one.kind == "early":  # a ticket can be made of it
                    jobs.tell(store, number, one.kind, one.told)
        size = {"width": 390, "height": 844} if narrow else {"width": 1280, "height": 900}
        context = browser.new_context(viewport=size, has_touch=narrow)
        contexts.append(context)
        context.set_default_timeout(WAIT_MS)
        page = context.new_page()
        page.errors = errors_of(page)
        page.add_init_script(HELD_BACK)
        page.goto(f"{server.address}/?job={number}")
        page.wait_for_selector(".found [data-cancel]")
        page.wait_for_timeout(300)
        return Evening(page, list(news))

    yield opened
    for context in contexts:
        context.close()


@NARROW
def test_an_early_answer_that_is_read_does_not_move_and_can_be_taken(
    listening: Callable[[bool], Evening], narrow: bool
) -> None:
    evening = listening(narrow)
    page = evening.page
    assert evening.tell("pace", "early") >= 2
    read = page.locator(".at-once .answer").nth(1)
    button = read.get_by_role("button")
    button.scroll_into_view_if_needed()
    button.focus()
    before = evening.top(button)
    while evening.tell("answer", "progress", most=5):
        assert evening.top(button) == pytest.approx(before, abs=1), "while the answers come"
    evening.tell("doubt", "fell out", "end")
    assert evening.top(button) == pytest.approx(before, abs=1), "and when all are there"
    assert button.evaluate("b => b === document.activeElement")
    title = read.locator("h3").inner_text()
    assert axe(page) == []
    order = page.get_by_role("button", name="Put all in their order")
    assert order.count() == 1
    page.mouse.click(*_middle(button))
    page.wait_for_url("**/ticket/**")
    assert page.locator("h1").inner_text().startswith(title), "the one under the finger was taken"
    assert page.errors == []


def _middle(of: Any) -> tuple[float, float]:
    box = of.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


@NARROW
def test_all_are_put_in_their_order_when_asked(listening: Callable[[bool], Evening], narrow: bool) -> None:
    evening = listening(narrow)
    page = evening.page
    evening.tell("early")
    page.locator(".at-once .answer").first.scroll_into_view_if_needed()
    count = evening.tell("answer")
    evening.tell("progress", "doubt", "fell out", "end")
    assert page.locator(".at-once .answer").count() > 0
    assert "not sure" not in page.locator("#at-once-head").inner_text()
    page.get_by_role("button", name="Put all in their order").focus()
    page.keyboard.press("Enter")
    assert page.locator(".answer").count() == count
    assert not page.locator(".at-once").is_visible()
    first = page.locator(".in-order .answer").first.get_by_role("button")
    assert first.evaluate("b => b === document.activeElement"), "who works by keys goes on from there"
    assert page.get_by_role("button", name="Put all in their order").count() == 0
    assert axe(page) == []


@NARROW
def test_what_stands_above_leaves_without_moving_what_is_read_below(
    listening: Callable[[bool], Evening], narrow: bool
) -> None:
    evening = listening(narrow)
    page = evening.page
    evening.tell("early")
    evening.tell("answer")
    read = page.locator(".in-order .answer").nth(12)
    read.evaluate("e => scrollBy(0, e.getBoundingClientRect().top - 200)")
    assert page.locator(".at-once").bounding_box()["y"] < -300
    before = evening.top(read)
    evening.tell("progress", "doubt", "fell out", "end")
    assert evening.top(read) == pytest.approx(before, abs=1)
    assert page.locator(".at-once .answer").count() == 0, "nobody looked at them: each stands once"


def test_a_page_made_when_all_is_known_shows_each_once_and_in_order(
    browser: Any, server: Server, news: list[tuple[str, str]]
) -> None:
    with open_store(server.store) as store:
        number = next(one.number for one in jobs.newest(store, "evening", 50) if one.state == "done")
    page = browser.new_page()
    page.goto(f"{server.address}/?job={number}")
    page.wait_for_selector("[data-said]:has-text('makes to choose from')")
    assert page.locator(".answer").count() == sum(kind == "answer" for kind, _ in news)
    assert page.locator(".at-once .answer").count() == 0
    page.close()
