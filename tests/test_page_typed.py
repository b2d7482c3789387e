"""What is typed outlives a hasty hand, a refusal and a cut line, on every card and in every form."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from clothwise.store import open_store
from tests.page_screens import CHART, TICKET, opened_out
from tests.page_tools import Server

pytestmark = pytest.mark.page
Open = Callable[..., Any]

CARDS = {  # the script of a card -> where it is, what is typed there, and what
    "person.js": ("/person/Osei", "#m-knee_girth", "41.5"),
    "one_cloth.js": ("/cloth/White+poplin", "[data-path=fibre]", "cotton and hemp"),
    "shape.js": (TICKET, "[data-path='choice.longer']", "2.5"),
    "log.js": (f"{TICKET}/log", "textarea", "The waistband first."),
    "make.js": ("/make/First+straight+skirt", "textarea", "A longer zip."),
}


@pytest.mark.parametrize("script", CARDS)
def test_what_is_typed_before_the_script_is_there_is_kept(opened: Open, server: Server, script: str) -> None:
    path, where, text = CARDS[script]
    page = opened("/house")
    waiting: list[Any] = []
    page.route(f"**/static/{script}", lambda route: waiting.append(route))
    page.goto(server.address + path, wait_until="commit")
    page.wait_for_selector(where, state="attached")
    opened_out(page)
    page.fill(where, text)
    waiting[0].continue_()
    page.wait_for_selector("#kept:has-text('Kept')")
    page.unroute(f"**/static/{script}")
    page.reload()
    page.wait_for_load_state("load")
    assert page.input_value(where) == text
    assert page.errors == []


@pytest.mark.parametrize("script", CARDS)
def test_what_is_typed_and_left_in_one_breath_is_kept(opened: Open, server: Server, script: str) -> None:
    path, where, text = CARDS[script]
    text = {"41.5": "42.5", "2.5": "1.5"}.get(text, text + " Again")
    page = opened(path)
    page.wait_for_load_state("load")
    opened_out(page)
    page.fill(where, text)
    page.goto(server.address + "/house")
    page.goto(server.address + path)
    page.wait_for_load_state("load")
    page.wait_for_timeout(1000)
    page.reload()
    assert page.input_value(where) == text


def test_a_refused_form_says_so_in_its_place_and_loses_nothing(opened: Open, server: Server) -> None:
    page = opened("/bought")
    page.get_by_label("Called").fill("Mill 4 work shirt")
    page.get_by_label("Its body chart").fill(CHART)
    page.get_by_role("button", name="Put it on the shelf").first.click()
    page.wait_for_selector(".says-no:has-text('on the shelf already')")
    page.reload()
    assert page.get_by_label("Its body chart").input_value() == CHART
    page.get_by_label("Called").fill("Mill 6 dress")
    page.get_by_role("button", name="Put it on the shelf").first.click()
    page.wait_for_selector("h1:has-text('Mill 6 dress')")
    page.goto(server.address + "/bought")
    page.wait_for_load_state("load")
    assert page.get_by_label("Its body chart").input_value() == "", "what was taken is not offered again"


def test_a_form_sent_into_a_cut_line_is_sent_when_it_is_back(opened: Open, server: Server) -> None:
    page = opened("/people")
    page.wait_for_load_state("load")
    page.fill("[name=name]", "Ida")
    page.select_option("[name=figure]", "girl")
    page.context.set_offline(True)
    page.get_by_role("button", name="Begin a card").click()
    page.wait_for_selector("#kept:has-text('safe in this browser')")
    page.context.set_offline(False)
    page.reload()
    page.wait_for_selector("#kept:has-text('What you had filled in is back')")
    assert page.input_value("[name=name]") == "Ida"
    page.get_by_role("button", name="Begin a card").click()
    page.wait_for_selector("h1:has-text('Ida')")
    with open_store(server.store) as store:
        assert store.body("Ida").figure == "girl"


def test_a_form_filled_before_the_script_is_there_is_not_covered_by_an_older_draft(
    opened: Open, server: Server
) -> None:
    page = opened("/people")
    page.wait_for_load_state("load")
    page.fill("[name=name]", "Old draft")
    page.fill("[name=age]", "9")
    waiting: list[Any] = []
    page.route("**/static/page.js", lambda route: waiting.append(route))
    page.goto(server.address + "/people", wait_until="commit")
    page.wait_for_selector("[name=name]")
    page.fill("[name=name]", "Ada")
    waiting[0].continue_()
    page.wait_for_load_state("load")
    page.wait_for_selector("#kept:has-text('What you had filled in is back')")
    assert (page.input_value("[name=name]"), page.input_value("[name=age]")) == ("Ada", "9")


def test_a_form_pressed_twice_is_sent_once(opened: Open, server: Server) -> None:
    page = opened("/cupboard")
    page.wait_for_load_state("load")
    page.fill("[name=name]", "Ferry stripe")
    page.fill("[name=width]", "140")
    page.fill("[name=length]", "200")
    page.get_by_role("button", name="Put it in").dblclick()
    page.wait_for_selector("h1:has-text('Ferry stripe')")
    assert page.errors == []


def test_a_refusal_on_a_page_of_its_own_leads_back(opened: Open, server: Server) -> None:
    page = opened("/house")
    page.set_input_files("[name=backup]", {"name": "holiday.txt", "mimeType": "text/plain", "buffer": b"no"})
    page.get_by_role("button", name="Put it back").click()
    page.get_by_role("link", name="Back to where you were").click()
    page.wait_for_url("**/house")


def test_what_is_typed_is_kept_before_the_button_that_is_pressed_next(opened: Open, server: Server) -> None:
    page = opened(f"{TICKET}/log")
    page.wait_for_load_state("load")
    page.fill("textarea", "The hem by hand next time.")
    page.get_by_role("button", name="It is finished").click()
    page.wait_for_selector("text=It stands among the makes.")
    with open_store(server.store) as store:
        assert store.make("Marit's linen trousers").notes == ("The hem by hand next time.",)
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector("text=Finished?")


def test_a_button_pressed_while_the_line_is_cut_waits_for_what_was_typed(opened: Open) -> None:
    page = opened(f"{TICKET}/log")
    page.wait_for_load_state("load")
    page.context.set_offline(True)
    page.fill("textarea", "Written in the dark.")
    page.get_by_role("button", name="It is finished").click()
    page.wait_for_selector("#kept:has-text('Not kept yet')")
    assert "/log" in page.url, "it has not gone to a page that nobody serves"
    page.context.set_offline(False)
    page.wait_for_selector("#kept:has-text('Kept')")
