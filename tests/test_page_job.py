"""The job as a person does it, in a real browser: from the question of an evening to the packet and the log."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from clothwise.store import open_store
from clothwise.store.store import HOW_FAR
from clothwise.ticket import read_ticket
from clothwise.web.laying import set_progress
from tests.page_tools import Server

pytestmark = pytest.mark.page

TROUSERS = "/ticket/Marit~27s+linen+trousers"
LONG = 120_000  # ms: for what is drawn, laid and set on a busy machine
Open = Callable[..., Any]


def number_of(text: str) -> float:
    """The first number in a text."""
    found = re.search(r"-?\d+(?:\.\d+)?", text)
    assert found, text
    return float(found[0])


def ticket_in(server: Server, name: str) -> Any:
    with open_store(server.store) as store:
        return read_ticket(store.ticket(name).text)


def kept(page: Any) -> None:
    """Until the foot of the page says that it is kept."""
    page.wait_for_selector("#kept:has-text('Kept')")


def test_from_the_evening_to_the_packet_with_the_mouse(opened: Open, server: Server) -> None:
    page = opened("/")
    page.select_option("[name=for]", "Marit")
    page.fill("[name=hours]", "4")
    for box in page.locator("[name=cloth]").all()[2:]:
        box.uncheck()
    page.click("text=See what can be made")
    page.wait_for_selector(".answer", timeout=LONG)
    assert "job=" in page.url, "the address tells what was asked"
    first = page.locator(".answer").first
    assert number_of(first.locator(".costs").inner_text()) > 0
    assert first.locator(".lay-small path.cut-out").count() == 1
    assert first.locator(".reasons li").count() >= 2
    page.wait_for_selector("[data-cancel]", state="hidden", timeout=LONG)
    title = first.locator("h3").inner_text()
    first.locator("button").click()
    page.wait_for_selector(".piece")
    name = page.locator("h1").inner_text()
    assert name.startswith(title)

    page.click("text=On to the cloth")
    page.click("text=Lay it on the cloth")
    page.wait_for_selector(".copy", timeout=LONG)
    assert page.locator(".lay-faults li").count() == 0
    page.click("text=On to the paper")
    page.wait_for_selector(".map", timeout=LONG)
    sheets = page.locator(".map .sheet").count()
    page.locator(".map .sheet").first.click()
    with page.expect_download(timeout=LONG) as one:
        page.click("[data-download]")
    assert len(pypdfium2.PdfDocument(one.value.path())) == 1
    page.click("text=Make the packet")
    page.wait_for_selector("[data-ready]:not([hidden])", timeout=LONG)
    with page.expect_download() as whole:
        page.click("[data-ready]")
    packet = zipfile.ZipFile(io.BytesIO(Path(whole.value.path()).read_bytes()))
    assert {"ticket.toml", "pattern.pdf", "booklet.pdf", "lay.pdf", "steps.html"} <= set(packet.namelist())
    assert read_ticket(packet.read("ticket.toml")).name == name
    assert len(pypdfium2.PdfDocument(packet.read("pattern.pdf"))) >= sheets
    assert page.errors == []


def test_a_measure_typed_moves_pieces_levels_cloth_and_is_kept(opened: Open, server: Server) -> None:
    page = opened(TROUSERS)
    page.wait_for_selector(".piece")
    seam = page.locator("[data-piece=front_leg] .ground")
    before, cloth = seam.get_attribute("d"), page.locator("[data-live=cloth]").inner_text()
    page.click("summary:has-text('hip girth')")
    page.fill("[data-path='measure.hip_girth']", "110")
    page.wait_for_selector(".level-figure svg text:has-text('118.0 cm')")
    assert seam.get_attribute("d") != before
    kept(page)
    page.wait_for_timeout(400)
    assert page.locator("[data-live=cloth]").inner_text() != cloth
    assert ticket_in(server, "Marit's linen trousers").body["hip_girth"] == 110
    assert page.locator("[data-says='measure.hip_girth']").inner_text() == "110.0 cm"
    page.keyboard.press("Escape")
    page.locator("body").click(position={"x": 3, "y": 300})
    page.keyboard.press("Control+z")
    page.wait_for_selector("[data-says='measure.hip_girth']:has-text('102.0')")
    assert ticket_in(server, "Marit's linen trousers").body is None
    page.click("text=Redo")
    page.wait_for_selector("[data-says='measure.hip_girth']:has-text('110.0')")
    page.click("text=Undo")
    page.wait_for_selector("[data-says='measure.hip_girth']:has-text('102.0')")


def test_an_edge_pulled_with_the_mouse_moves_its_choice(opened: Open, server: Server) -> None:
    page = opened(f"{TROUSERS}?pieces=large")
    page.wait_for_selector(".hit.pulls[data-edge='front_leg/hem']", state="attached")
    before = ticket_in(server, "Marit's linen trousers").choices.get("longer", 0.0)
    line = page.locator("[data-edge='front_leg/hem'] + .edge")
    line.scroll_into_view_if_needed()
    box = line.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 40, steps=8)
    assert "longer" in page.locator("[data-live=pulling]").inner_text()
    page.mouse.up()
    kept(page)
    after = ticket_in(server, "Marit's linen trousers").choices["longer"]
    assert after < before - 1, "pulled up, it is shorter"
    page.click("text=Undo")
    page.wait_for_selector("[data-says='choice.longer']:has-text('0.0')")


def test_what_cannot_be_is_said_in_its_place_and_the_rest_stands(opened: Open, server: Server) -> None:
    page = opened(TROUSERS)
    page.wait_for_selector(".piece")
    page.click("summary:has-text('hip ease')")
    page.fill("[data-path='choice.hip_ease']", "99")
    page.wait_for_selector("#no-choice-hip-ease:has-text('out of range')")
    assert page.locator("[data-path='choice.hip_ease']").get_attribute("aria-invalid") == "true"
    page.fill("[data-path='choice.hip_ease']", "10")
    page.wait_for_selector("[data-says='choice.hip_ease']:has-text('10.0')")
    assert page.locator("#no-choice-hip-ease").inner_text() == ""
    kept(page)
    assert ticket_in(server, "Marit's linen trousers").choices["hip_ease"] == 10


def test_inches_with_fractions_for_a_reader_who_wants_them(opened: Open, server: Server) -> None:
    page = opened(TROUSERS)
    page.click(".units button")
    page.wait_for_selector("[data-says='measure.hip_girth']:has-text('40 1/8 in')")
    page.click("summary:has-text('waist girth')")
    page.fill("[data-path='measure.waist_girth']", "31 1/2")
    page.wait_for_selector("[data-says='measure.waist_girth']:has-text('31 1/2 in')")
    kept(page)
    assert ticket_in(server, "Marit's linen trousers").body["waist_girth"] == pytest.approx(80.01)
    page.click("text=Undo")
    page.wait_for_selector("[data-says='measure.waist_girth']:has-text('31 1/8 in')")


def test_on_a_phone_with_a_finger(opened: Open, server: Server) -> None:
    page = opened("/tickets", narrow=True, touch=True)
    page.select_option("[name=pattern]", "four_panel_skirt")
    page.select_option(".begin [name=for]", "Juno")
    page.select_option(".begin [name=cloth]", "White poplin")
    page.locator("text=Begin the ticket").tap()
    page.wait_for_selector(".piece")
    page.locator("summary:has-text('length')").first.tap()
    page.locator(".option:has-text('midi')").tap()
    page.wait_for_selector("[data-says='choice.length']:has-text('midi')")
    kept(page)
    page.locator("nav.thread a:has-text('Work')").tap()
    page.wait_for_selector(".step")
    page.locator(".step-head").first.tap()
    page.wait_for_selector(".step.done")
    kept(page)
    page.locator("text=Begin sewing").tap()
    page.wait_for_selector("button:has-text('Stop the clock')")
    page.locator("text=Stop the clock").tap()
    page.wait_for_selector("button:has-text('sewing')")
    with open_store(server.store) as store:
        said = store._one(HOW_FAR, "Four-panel skirt for Juno").said
    assert len(said["ticks"]) == 1
    assert page.errors == []


def test_with_the_keyboard_alone(opened: Open, server: Server) -> None:
    page = opened("/tickets")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the page itself"
    page.goto(server.address + TROUSERS)
    page.wait_for_selector(".piece")

    def tab_to(test: str, most: int = 90) -> None:
        for _ in range(most):
            page.keyboard.press("Tab")
            if page.evaluate(f"(() => {{ const e = document.activeElement; return Boolean({test}); }})()"):
                return
        raise AssertionError(f"the Tab key never reached {test}")

    tab_to("e.matches('summary') && e.textContent.includes('rise')")
    page.keyboard.press("Enter")
    tab_to("e.dataset.path === 'choice.rise'", 4)
    page.keyboard.type("-2")
    page.keyboard.press("Enter")
    page.wait_for_selector("[data-says='choice.rise']:has-text('-2.0')")
    kept(page)
    tab_to("e.dataset.tape === 'choice.rise'", 3)
    page.keyboard.press("ArrowRight")
    page.wait_for_selector("[data-says='choice.rise']:has-text('-1.5')")
    kept(page)
    page.goto(server.address + TROUSERS + "/cloth")
    tab_to("e.matches('[data-plan] button')")
    page.keyboard.press("Enter")
    page.wait_for_selector(".copy", timeout=LONG)
    tab_to("e.matches('.copy')")
    page.keyboard.press("Shift+ArrowRight")
    page.wait_for_selector("#kept:has-text('Kept')")
    with open_store(server.store) as store:
        lay = store._one(HOW_FAR, "Marit's linen trousers").said["lay"]
    assert lay["pinned"], "what was moved by hand is pinned"


def test_a_piece_moved_by_hand_is_told_at_once_and_the_rest_laid_around_it(
    opened: Open, server: Server
) -> None:
    with open_store(server.store) as store:
        set_progress(store, "Marit's linen trousers", {"lay": None}, "Taken up again")  # from other tests
    page = opened(TROUSERS + "/cloth")
    page.select_option("[name=effort]", "quick")
    page.click("[data-plan] button:not([data-cancel])")
    page.wait_for_selector(".copy", timeout=LONG)
    copy = page.locator(".copy").first
    who = (copy.get_attribute("data-piece"), copy.get_attribute("data-copy"))
    box = copy.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 200, steps=6)
    page.wait_for_selector(".lay-faults li")
    assert page.locator(".copy.wrong").count() == 1
    page.keyboard.press("Escape")
    page.mouse.move(x + 8, y, steps=4)
    page.mouse.up()
    page.wait_for_selector("#kept:has-text('Kept')")
    page.select_option("[name=effort]", "quick")
    page.click("text=Lay the rest anew")
    page.wait_for_selector(".pin", timeout=LONG)
    page.wait_for_timeout(500)
    with open_store(server.store) as store:
        lay = store._one(HOW_FAR, "Marit's linen trousers").said["lay"]
    assert [who[0], int(who[1] or 0)] in lay["pinned"]


def test_the_log_takes_judgement_words_photo_and_finishes(opened: Open, server: Server, tmp_path: Path) -> None:
    from PIL import Image

    Image.new("RGB", (2400, 1200), "teal").save(tmp_path / "big.png")
    page = opened(TROUSERS + "/log")
    page.locator(".level-judged:has-text('Hip') .option:has-text('too tight')").click()
    page.fill("textarea", "Took in the waist.\nNext time 1 cm more at the hip.")
    kept(page)
    page.set_input_files("[name=photo]", tmp_path / "big.png")
    page.click("text=Add it")
    page.wait_for_function("() => document.querySelector('.photos img')?.naturalWidth > 0")
    width = page.evaluate("document.querySelector('.photos img').naturalWidth")
    assert width == 1600, "made small before it was sent"
    page.click("text=It is finished")
    page.wait_for_selector("text=It stands among the makes.")
    with open_store(server.store) as store:
        make = store.make("Marit's linen trousers")
    assert [(one.level, one.verdict) for one in make.judgements] == [("hip", "tight")]
    assert make.notes == ("Took in the waist.", "Next time 1 cm more at the hip.")
    page.click("text=Undo")
    page.wait_for_selector("text=Finished?")
    with open_store(server.store) as store:
        assert "Marit's linen trousers" not in {one.name for one in store.makes()}


def test_a_takeaway_works_without_the_server(
    opened: Open, server: Server, browser: Any, tmp_path: Path
) -> None:
    page = opened("/tickets")  # a ticket of its own: what others left on their cloth may not be cut so
    page.get_by_role("button", name="Begin the ticket").click()
    page.wait_for_url("**/ticket/*")
    page.goto(page.url + "/paper")
    page.wait_for_selector(".map", timeout=LONG)
    with page.expect_download(timeout=LONG) as file:
        page.click("a.button:has-text('Takeaway')")
    away = tmp_path / "away.html"
    file.value.save_as(away)
    assert not re.search(r'(?:src|href)="(?!data:|#)', away.read_text()), "nothing is fetched"
    context = browser.new_context(offline=True, viewport={"width": 390, "height": 844})
    alone = context.new_page()
    alone.goto(away.as_uri())
    steps = alone.locator(".step").count()
    assert steps >= 8
    alone.locator(".step input").first.check()
    alone.reload()
    assert alone.locator(".step.done").count() == 1, "ticks are remembered"
    assert alone.locator("img").evaluate_all("all => all.every(one => one.naturalWidth > 0)")
    assert alone.evaluate("document.documentElement.scrollWidth <= innerWidth")
    context.close()
