"""Whoever works by keys stays where she was: a deed leaves the focus where it was, or on what is next to it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.page_hands import Keys
from tests.page_screens import LONG, TICKET, kept
from tests.page_tools import WAIT_MS, Server

pytestmark = pytest.mark.page

Open = Callable[..., Any]
ASKS_NOTHING = 250  # ms of looking: it is a thing that must not come


def held(page: Any) -> str:
    """What has the focus, by its words or its path; '' where it was put back to the page's head."""
    return str(
        page.evaluate(
            """(() => { const e = document.activeElement; if (!e || e === document.body) return '';
            return e.dataset.path || e.getAttribute('aria-label') || e.name || e.textContent.trim(); })()"""
        )
    )


def comes_to(page: Any, *words: str) -> None:
    """The focus comes to one of these, and can be seen there."""
    for _ in range(WAIT_MS // 100):
        if any(one in held(page) for one in words):
            break
        page.wait_for_timeout(50)
    assert any(one in held(page) for one in words), f"the focus is on {held(page) or 'nothing'!r}"
    assert page.evaluate("document.activeElement.matches(':focus-visible')")
    where = page.evaluate("document.activeElement.getBoundingClientRect().toJSON()")
    assert 0 <= where["top"] < page.viewport_size["height"], "it is in sight"


def hands(page: Any) -> tuple[Keys, Callable[..., Any]]:
    """The keys, and the button of these words."""
    return Keys(page), lambda words, n=0: page.get_by_role("button", name=words).nth(n)


def test_undo_and_redo_stay_under_the_key(opened: Open) -> None:
    page = opened("/person/Marit")
    keys, button = hands(page)
    keys.type(page.locator("#m-neck_girth"), "37.5")
    kept(page)
    keys.press(button("Undo"))
    page.wait_for_selector("#kept:has-text('Taken back')")
    comes_to(page, "Redo")  # nothing is left to undo
    keys.press(button("cm"))
    page.wait_for_selector(".units .on:has-text('inch')")
    comes_to(page, "units")


def test_a_blank_that_brings_the_page_anew_is_open_again(opened: Open) -> None:
    page = opened(TICKET)
    page.wait_for_selector(".piece")
    keys, _ = hands(page)
    keys.press(page.locator("summary:has-text('from')").first)
    keys.choose(page.locator("[data-path=cloth]"), "Heron chambray")
    page.wait_for_selector("[data-says=cloth]:has-text('Heron chambray')")
    comes_to(page, "cloth")
    assert page.locator("details[open] [data-path=cloth]").count() == 1


def test_what_is_taken_out_leaves_the_focus_on_what_came_next(opened: Open) -> None:
    page = opened("/box")
    keys, button = hands(page)
    for name in ("Blue zip", "Green zip", "Red zip"):
        keys.type(page.locator("form[action='/box/put'] [name=name]"), name)
        keys.type(page.locator("form[action='/box/put'] [name=much]"), "1")
        keys.press(button("Put it in"))
        page.wait_for_selector(f"text={name}")
        comes_to(page, "Put it in")
    keys.press(page.locator("li:has-text('Green zip')").get_by_role("button", name="Take out"))
    page.wait_for_selector("text=Green zip", state="detached")
    comes_to(page, "much", "Take out")
    assert "Red zip" in page.evaluate("document.activeElement.closest('li').textContent")


def test_a_lay_is_asked_for_and_tricks_are_looked_for_without_losing_ones_place(opened: Open) -> None:
    page = opened(f"{TICKET}/cloth")
    keys, button = hands(page)
    keys.choose(page.locator("[name=effort]"), "quick")
    keys.press(page.locator("[data-plan] button:not([data-cancel])"))
    page.wait_for_selector("[data-plan] [aria-disabled]")
    assert "Lay" in held(page), "the button rests, and keeps the focus"
    page.wait_for_selector(".copy", timeout=LONG)
    comes_to(page, "Lay the rest anew")
    keys.press(button("Would a trick"))
    page.wait_for_selector("[data-live=looking]:visible")
    comes_to(page, "Would a trick")
    page.wait_for_selector("[data-live=tricks] li", timeout=LONG)
    page.wait_for_selector("[data-live=looking]", state="hidden", timeout=LONG)
    comes_to(page, "Would a trick")


def test_a_question_that_is_answered_leads_to_its_measure(opened: Open) -> None:
    page = opened("/person/Pilar")
    keys, button = hands(page)
    keys.type(page.locator("#m-waist_girth"), "38")
    page.keyboard.press("Tab")
    page.wait_for_selector(".doubt button")
    keys.press(button("It is right as it stands"))
    page.wait_for_selector(".doubt", state="detached")
    comes_to(page, "measure.")


def test_corners_are_added_and_taken_out_one_after_the_other(opened: Open) -> None:
    page = opened("/cloth/Sand+linen+remnant")
    page.wait_for_selector(".corner")
    keys, button = hands(page)
    keys.press(button("Mark a flaw"))
    comes_to(page, "flaw 1, corner 1")
    page.keyboard.press("ArrowRight")
    kept(page)
    comes_to(page, "flaw 1, corner 1")
    for left in ("corner 1", "Mark a flaw"):  # from four corners to three, then it is gone
        page.keyboard.press("Delete")
        comes_to(page, left)
    page.wait_for_selector("[data-told]:not(:has-text('flaw'))")
    keys.reach(page.locator(".corner").last)
    page.keyboard.press("Delete")
    page.wait_for_timeout(ASKS_NOTHING)
    comes_to(page, "corner")


def test_a_search_that_is_left_hands_the_focus_on(opened: Open) -> None:
    page = opened("/")
    keys, button = hands(page)
    keys.type(page.locator("[name=hours]"), "9")
    keys.press(button("See what can be made"))
    page.wait_for_selector("[data-cancel]:visible")
    keys.press(button("Leave it at that"))
    comes_to(page, "Go on with it")
    keys.press(button("Go on with it"))
    page.wait_for_selector("[data-cancel]:visible")
    comes_to(page, "Leave it at that")
    keys.press(button("Leave it at that"))
    comes_to(page, "Go on with it")


def test_a_page_that_is_gone_to_begins_at_its_head(opened: Open, server: Server) -> None:
    page = opened("/person/Marit")
    keys, _ = hands(page)
    keys.reach(page.locator("#m-thigh_girth"))
    keys.press(page.get_by_role("link", name="People"))
    page.wait_for_selector(".cards")
    keys.press(page.get_by_role("link", name="Marit", exact=True))
    page.wait_for_selector(".person")
    page.wait_for_timeout(ASKS_NOTHING)
    assert held(page) == ""
    assert page.evaluate("scrollY") == 0
    keys.reach(page.locator("#m-thigh_girth"))
    page.reload()
    comes_to(page, "measure.thigh_girth")
