"""The whole job as a person does it, from an empty store to packet, log and makes.

One script, by mouse, by finger and by keys alone, on a laptop's width and on a phone's. Nothing of the demo
is needed.
"""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Any

import pytest

from clothwise.store import open_store
from clothwise.store.store import HOW_FAR
from clothwise.ticket import read_ticket
from tests.page_hands import HANDS, Hand, Keys
from tests.page_screens import LONG, kept
from tests.page_tools import NARROW, WAIT_MS, WIDE, Server, errors_of, serving, sideways

pytestmark = pytest.mark.page

MEASURES = {"height": 166.0, "bust_girth": 92.0, "waist_girth": 74.0, "hip_girth": 99.0}


class Job:
    """The stages of the job, each by whatever hand it is given."""

    def __init__(self, page: Any, hand: Hand, server: Server) -> None:
        self.page, self.hand, self.server = page, hand, server

    def button(self, words: str) -> Any:
        return self.page.get_by_role("button", name=words).first

    def go(self, words: str, shows: str) -> None:
        """Along a link of the page."""
        self.hand.press(self.page.get_by_role("link", name=words).first)
        self.page.wait_for_selector(shows, timeout=LONG)
        self.page.wait_for_load_state("load")
        assert sideways(self.page) <= 0

    def the_demo_is_put_away(self) -> None:
        self.go("Keeping", "h1:has-text('Keeping')")
        self.hand.press(self.button("Take the demo away"))
        self.page.wait_for_selector("text=The demo is put away")

    def somebody_is_measured(self) -> None:
        self.go("This evening", ".first-steps")
        assert self.page.locator(".first-steps .open").count() == 3
        self.go("Measure somebody", "[name=name]")
        self.hand.type(self.page.locator("[name=name]"), "Ida")
        self.hand.press(self.button("Begin a card"))
        self.page.wait_for_selector("h1:has-text('Ida')")
        self.page.wait_for_load_state("load")
        for name, cm in MEASURES.items():
            self.hand.type(self.page.locator(f"[data-path='measure.{name}']"), f"{cm:g}")
        self.page.keyboard.press("Tab")
        self.page.wait_for_selector("[data-guess=thigh_girth]:has-text('nine in ten')")
        kept(self.page)

    def a_cloth_is_put_in_and_pulled_into_shape(self) -> None:
        self.go("Cupboard", "[name=kind]")
        fill = {"name": "Blue linen", "width": "140", "length": "220", "colour": "blue"}
        self.hand.type(self.page.locator("[name=name]"), fill["name"])
        self.hand.choose(self.page.locator("[name=kind]"), "linen")
        for name in ("width", "length", "colour"):
            self.hand.type(self.page.locator(f"[name={name}]"), fill[name])
        self.hand.press(self.page.locator("label:has([name=washed])"))
        self.hand.press(self.button("Put it in"))
        self.page.wait_for_selector("h1:has-text('Blue linen')")
        self.page.wait_for_selector("[data-corner='0.2']")
        self.hand.pull(self.page.locator("[data-corner='0.2']"), -40, -20, "ArrowLeft")
        self.page.wait_for_selector("[data-told]:has-text('a remnant')")
        self.hand.press(self.button("Undo"))
        self.page.wait_for_selector("[data-told]:not(:has-text('a remnant'))")

    def an_answer_of_the_evening_becomes_a_ticket(self) -> None:
        self.go("This evening", "[name=hours]")
        self.hand.type(self.page.locator("[name=hours]"), "6")
        self.hand.press(self.button("See what can be made"))
        self.page.wait_for_selector(".answer", timeout=LONG)
        self.page.wait_for_selector("[data-cancel]", state="hidden", timeout=LONG)
        self.hand.press(self.page.locator(".answer button").first)
        self.page.wait_for_selector(".piece")
        self.page.wait_for_load_state("load")

    def a_length_is_pulled(self) -> None:
        before = read_ticket(self._ticket().text)
        if isinstance(self.hand, Keys):
            blank = self.page.locator("details.blank:has([data-tape])").first
            self.hand.press(blank.locator("summary"))
            self.hand.pull(blank.locator("[data-tape]"), 0, 0, "ArrowRight", times=2)
        else:
            edge = self.page.locator(".hit.pulls[data-edge$='/hem']").first
            edge.wait_for(state="attached")
            name = edge.get_attribute("data-edge")
            line = self.page.locator(f"[data-edge='{name}'] + .edge")
            box = line.bounding_box()
            flat = box["width"] > box["height"]
            self.hand.pull(line, 0 if flat else 30, 30 if flat else 0, "")
        kept(self.page)
        assert read_ticket(self._ticket().text) != before
        self.hand.press(self.button("Undo"))
        self.page.wait_for_selector(".piece")
        self.page.wait_for_load_state("load")
        assert read_ticket(self._ticket().text) == before

    def it_is_laid_and_a_piece_is_moved(self) -> None:
        self.go("On to the cloth", "[data-plan]")
        self.hand.choose(self.page.locator("[name=effort]"), "quick")
        self.hand.press(self.page.locator("[data-plan] button:not([data-cancel])"))
        self.page.wait_for_selector(".cutting .stage", timeout=LONG)
        self.page.wait_for_load_state("load")
        self.hand.pull(self.page.locator(".copy").first, 0, 40, "ArrowDown")
        kept(self.page)
        assert self._progress()["lay"]["pinned"]
        self.hand.press(self.button("Undo"))
        self.page.wait_for_selector(".copy")
        self.page.wait_for_load_state("load")
        assert not self._progress()["lay"]["pinned"]

    def the_packet_is_taken(self) -> set[str]:
        self.go("On to the paper", ".map")
        self.hand.press(self.button("Make the packet"))
        self.page.wait_for_selector("[data-ready]:not([hidden])", timeout=LONG)
        self.page.wait_for_load_state("load")
        with self.page.expect_download(timeout=LONG) as packet:
            self.hand.press(self.page.locator("[data-ready]"))
        return set(zipfile.ZipFile(io.BytesIO(Path(packet.value.path()).read_bytes())).namelist())

    def it_is_sewn(self) -> None:
        self.go("On to the work", ".step")
        self.hand.press(self.page.locator(".step-head").first)
        self.page.wait_for_selector(".step.done")
        kept(self.page)
        self.hand.press(self.button("Begin sewing"))
        self.page.wait_for_selector("button:has-text('Stop the clock')")
        self.page.wait_for_load_state("load")
        self.hand.press(self.button("Stop the clock"))
        self.page.wait_for_selector("button:has-text('sewing')")
        self.page.wait_for_load_state("load")

    def it_is_judged_and_finished(self) -> str:
        self.go("On to the log", ".judge, textarea")
        verdict = self.page.locator("label:has([value=tight])")
        if verdict.count():
            self.hand.press(verdict.first)
        self.hand.type(self.page.locator("textarea"), "The hem by hand next time.")
        self.hand.press(self.button("It is finished"))  # at once, before it can have been kept
        self.page.wait_for_selector("text=It stands among the makes.")
        return str(self.page.locator("h1").inner_text())

    def _ticket(self) -> Any:
        with open_store(self.server.store) as store:
            return store.tickets()[0]

    def _progress(self) -> Any:
        with open_store(self.server.store) as store:
            return store._one(HOW_FAR, store.tickets()[0].name).said


@pytest.mark.parametrize("means", HANDS)
@pytest.mark.parametrize("size", [WIDE, NARROW], ids=["1280", "390"])
def test_from_nothing_to_the_makes(browser: Any, tmp_path: Path, means: str, size: tuple[int, int]) -> None:
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, has_touch=means == "touch", accept_downloads=True
    )
    context.set_default_timeout(WAIT_MS)
    with serving(tmp_path) as server:
        page = context.new_page()
        page.errors = errors_of(page)
        page.goto(server.address)
        job = Job(page, HANDS[means](page), server)
        job.the_demo_is_put_away()
        job.somebody_is_measured()
        job.a_cloth_is_put_in_and_pulled_into_shape()
        job.an_answer_of_the_evening_becomes_a_ticket()
        job.a_length_is_pulled()
        job.it_is_laid_and_a_piece_is_moved()
        packet = job.the_packet_is_taken()
        job.it_is_sewn()
        name = job.it_is_judged_and_finished()
        with open_store(server.store) as store:
            (ida,), (cloth,), (make,) = store.bodies(), store.cloths(), store.makes()
        assert {one: ida[one] for one in MEASURES} == MEASURES
        assert (cloth.kind, cloth.width, cloth.length, cloth.washed) == ("linen", 140, 220, True)
        assert (make.name, make.person, make.notes) == (name, "Ida", ("The hem by hand next time.",))
        assert {"pattern.pdf", "lay.pdf", "booklet.pdf", "ticket.toml"} <= packet
        assert page.errors == []
    context.close()
