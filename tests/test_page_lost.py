"""Nothing typed is ever lost: the line is cut, two tabs are open, the server is killed while it saves."""

from __future__ import annotations

import json
import os
import random
import signal
import sqlite3
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from typing import Any

import pytest

from clothwise.store import open_store
from clothwise.store.store import HOW_FAR
from clothwise.ticket import read_ticket
from tests.page_tools import WAIT_MS, Server, errors_of, serving

NAME = "Marit's linen trousers"
PATH = "/ticket/Marit~27s+linen+trousers"


def choice(server: Server, name: str) -> Any:
    with open_store(server.store) as store:
        return read_ticket(store.ticket(NAME).text).choices.get(name)


@pytest.fixture
def own(tmp_path: Path) -> Iterator[Server]:
    """A server that this test may kill."""
    server = Server(tmp_path).start()
    yield server
    server.stop()


def window(browser: Any, server: Server) -> Any:
    context = browser.new_context()
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.errors = errors_of(page)
    page.goto(server.address + PATH)
    page.wait_for_selector(".piece")
    return page


def fill(page: Any, name: str, text: str) -> None:
    page.evaluate(
        "path => { document.querySelector(`[data-path='${path}']`).closest('details').open = true }", name
    )
    page.fill(f"[data-path='{name}']", text)


@pytest.mark.page
def test_what_is_typed_while_the_line_is_cut_is_kept_when_it_is_back(browser: Any, own: Server) -> None:
    page = window(browser, own)
    page.context.set_offline(True)
    fill(page, "choice.longer", "3")
    page.wait_for_selector("#kept:has-text('Not kept yet')")
    assert choice(own, "longer") is None
    page.context.set_offline(False)
    page.wait_for_selector("#kept:has-text('Kept.')")
    assert choice(own, "longer") == 3
    page.context.close()


@pytest.mark.page
def test_what_was_typed_outlives_a_killed_server_and_a_closed_tab(browser: Any, own: Server) -> None:
    page = window(browser, own)
    context = page.context
    own.kill()
    fill(page, "choice.longer", "4")
    page.wait_for_selector("#kept:has-text('Not kept yet')")
    page.close()
    own.start()
    again = context.new_page()
    again.goto(own.address + PATH)
    again.wait_for_selector("#kept:has-text('Kept.')")
    assert choice(own, "longer") == 4
    assert again.input_value("[data-path='choice.longer']") in ("4", "4.0")
    context.close()


@pytest.mark.page
def test_two_tabs_lose_nothing_and_follow_each_other(browser: Any, own: Server) -> None:
    one = window(browser, own)
    two = one.context.new_page()
    two.goto(own.address + PATH)
    two.wait_for_selector(".piece")
    fill(one, "choice.longer", "2")
    one.wait_for_selector("#kept:has-text('Kept.')")
    two.wait_for_selector("[data-says='choice.longer']:has-text('2.0')", state="attached")
    fill(two, "choice.hip_ease", "11")
    two.wait_for_selector("#kept:has-text('Kept.')")
    one.wait_for_selector("[data-says='choice.hip_ease']:has-text('11.0')", state="attached")
    assert (choice(own, "longer"), choice(own, "hip_ease")) == (2, 11)
    one.context.close()


@pytest.mark.page
def test_a_form_half_filled_is_there_again(browser: Any, own: Server) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(own.address)
    page.fill("[name=hours]", "2.5")
    page.uncheck("[name=cloth][value='White poplin']")
    page.close()
    again = context.new_page()
    again.goto(own.address)
    assert again.input_value("[name=hours]") == "2.5"
    assert not again.is_checked("[name=cloth][value='White poplin']")
    context.close()


def post(server: Server, path: str, entries: dict[str, str]) -> dict[str, Any]:
    wire = HTTPConnection("127.0.0.1", server.port, timeout=20)
    with closing(wire):
        headers = {
            "Content-Type": "application/json",
            "Accept": "application/json",
            "Sec-Fetch-Site": "same-origin",
        }
        wire.request("POST", path, json.dumps({"set": entries}), headers)
        told: dict[str, Any] = json.loads(wire.getresponse().read())
        return told


def test_killed_while_it_saves_the_store_is_whole_and_holds_all_that_was_confirmed(own: Server) -> None:
    """Three hands save different things at once; the server is killed at a moment nobody chose."""
    chance = random.Random(7)
    confirmed: list[tuple[str, float | str]] = []

    def save(hand: int, first: int) -> None:
        for number in range(first, first + 400):
            length, words = number % 90 / 10, f"note {number}"
            path, entry, sure = (
                (f"{PATH}/keep", {"choice.longer": f"{length}"}, ("longer", length)),
                (f"{PATH}/log/keep", {"words": words}, ("words", words)),
                ("/cloth/White+poplin/keep", {"colour": words}, ("colour", words)),
            )[hand]
            try:
                if "version" in post(own, path, entry):
                    confirmed.append(sure)
            except (OSError, HTTPException, ValueError):  # killed before or while it answered
                return

    for kill in range(3):
        before = len(confirmed)
        hands = [threading.Thread(target=save, args=(hand, 400 * kill)) for hand in range(3)]
        for hand in hands:
            hand.start()
        while len(confirmed) < before + 5:
            time.sleep(0.005)
        time.sleep(chance.random() / 5)
        own.kill()
        for hand in hands:
            hand.join()
        with closing(sqlite3.connect(own.store)) as raw:
            assert raw.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        with open_store(own.store) as store:
            texts = [ticket.text for ticket in (*store.earlier_tickets(NAME), store.ticket(NAME))]
            cloths = [*store.earlier_cloths("White poplin"), store.cloth("White poplin")]
            said = [one.said for one in (*store._earlier(HOW_FAR, NAME), *store._all(HOW_FAR))]
        kept: set[tuple[str, Any]] = {("longer", read_ticket(text).choices.get("longer")) for text in texts}
        kept |= {("colour", cloth.colour) for cloth in cloths}
        kept |= {("words", one.get("words")) for one in said}
        assert set(confirmed) <= kept
        own.start()


def test_ctrl_c_ends_the_server_soon_though_somebody_listens(tmp_path: Path) -> None:
    with serving(tmp_path) as server:
        wire = HTTPConnection("127.0.0.1", server.port, timeout=20)
        headers = {"Sec-Fetch-Site": "same-origin", "Content-Type": "application/x-www-form-urlencoded"}
        wire.request("POST", "/evening/ask", "for=Marit&hours=3&skill=practised&cloth=White+poplin", headers)
        job = wire.getresponse().headers["Location"].rpartition("=")[2]
        listening = HTTPConnection("127.0.0.1", server.port, timeout=20)
        listening.request("GET", f"/jobs/{job}/news")
        begun = time.monotonic()
        assert server.stop() == 0
        assert time.monotonic() - begun < 12
        listening.close()
        wire.close()
        with open_store(server.store) as store:
            from clothwise.store import jobs

            assert jobs.job(store, int(job)).state == "interrupted"


@pytest.mark.parametrize("seconds", [0.0, 4.0])
def test_ctrl_c_at_the_terminal_ends_it_quietly(tmp_path: Path, seconds: float) -> None:
    """There it reaches every process that was started, some of them still on their way."""
    server = Server(tmp_path).start()
    assert server.process is not None
    time.sleep(seconds)
    assert server.process.stdout is not None
    os.killpg(server.process.pid, signal.SIGINT)
    assert server.process.wait(timeout=12) == 0
    server.process.stdout.close()
    assert server.log() == ""


TYPED = {  # where it is typed, its path, what is typed in the one tab and in the other
    "/person/Marit": ("measure.thigh_girth", "58", "measure.wrist_girth", "16"),
    "/cloth/White+poplin": ("colour", "cream", "fibre", "cotton"),
    f"{PATH}/log": ("words", "More room.", "minutes", "4 h 10"),
    "/make/First+straight+skirt": ("notes", "Lined it.", "notes", "Lined it.\nHem by hand."),
}


@pytest.mark.page
@pytest.mark.parametrize("path", TYPED)
def test_another_tab_follows_on_every_page_that_is_typed_into(browser: Any, server: Server, path: str) -> None:
    """What it does not show it could write over."""
    first, text, second, more = TYPED[path]
    context = browser.new_context()
    context.set_default_timeout(WAIT_MS)
    one, two = context.new_page(), context.new_page()
    for page in (one, two):
        page.goto(server.address + path)
        page.wait_for_load_state("load")
    one.locator(f"[data-path='{first}']").fill(text)
    _holds(two, first, text)
    two.locator(f"[data-path='{second}']").fill(more)
    _holds(one, second, more)
    _holds(one, first, text)
    context.close()


def _holds(page: Any, path: str, text: str) -> None:
    """Waits until a field begins with that text, whichever page comes meanwhile."""
    begun = time.monotonic()
    while not str(page.locator(f"[data-path='{path}']").input_value()).startswith(text):
        assert time.monotonic() - begun < WAIT_MS / 1000, path
        page.wait_for_timeout(200)
