"""The page for a screen in a real browser, as wide as a phone: it fits, fetches nothing, boxes hide layers."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from clothwise.paper.pens import PRINT, without
from clothwise.paper.screen import SHOWN, pattern_screen

from .paper_pieces import trousers

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no chromium on this machine")
PHONE = {"width": 390, "height": 844}  # dots of a common phone


@pytest.fixture(scope="module")
def browser() -> Iterator[playwright.Browser]:
    with playwright.sync_playwright() as started:
        found = started.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield found
        found.close()


def opened(browser: playwright.Browser, text: str, place: Path) -> tuple[playwright.Page, list[str]]:
    """The page as it comes up on a phone, and everything it asked for or complained of."""
    file = place / "pattern.html"
    file.write_text(text, encoding="utf-8")
    page = browser.new_page(viewport=PHONE)
    heard: list[str] = []
    page.on("request", lambda request: heard.append(request.url))
    page.on("console", lambda message: heard.append(message.text))
    page.on("pageerror", lambda error: heard.append(str(error)))
    page.goto(file.as_uri())
    heard.remove(file.as_uri())
    return page, heard


def test_it_fits_a_phone_shows_every_piece_whole_and_fetches_nothing(
    browser: playwright.Browser, tmp_path: Path
) -> None:
    page, heard = opened(browser, pattern_screen(trousers(), body_name="Marit"), tmp_path)
    assert heard == []
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    pictures = page.locator("section svg")
    assert pictures.count() == 2
    for k in range(2):
        box = pictures.nth(k).bounding_box()
        assert box is not None
        assert 0 < box["height"] <= PHONE["height"]
        assert 0 <= box["x"] <= box["x"] + box["width"] <= PHONE["width"]
    for box in (label.bounding_box() for label in page.locator("label").all()):
        assert box is not None
        assert box["height"] >= 40, "large enough for a thumb"


def test_a_box_hides_its_layer_alone_and_shows_it_again(browser: playwright.Browser, tmp_path: Path) -> None:
    page, _ = opened(browser, pattern_screen(trousers()), tmp_path)

    def seen() -> set[str]:
        ids = {layer: layer.replace(" ", "-") for layer in SHOWN}
        return {layer for layer, name in ids.items() if page.locator(f'g[id$="-{name}"]').first.is_visible()}

    assert seen() == set(SHOWN)
    for layer in SHOWN:
        page.get_by_label(layer, exact=True).uncheck()
        assert seen() == set(SHOWN) - {layer}
        page.get_by_label(layer, exact=True).check()
    assert seen() == set(SHOWN)


def test_lines_stay_thin_when_zoomed(browser: playwright.Browser, tmp_path: Path) -> None:
    page, _ = opened(browser, pattern_screen(trousers()), tmp_path)
    path = page.locator("path.pen-cut").first
    assert path.evaluate("line => getComputedStyle(line).vectorEffect") == "non-scaling-stroke"
    assert float(path.evaluate("line => parseFloat(getComputedStyle(line).strokeWidth)")) <= 2.0


def test_a_layer_left_out_has_no_box(browser: playwright.Browser, tmp_path: Path) -> None:
    page, _ = opened(browser, pattern_screen(trousers(), pens=without(PRINT, ["words"])), tmp_path)
    assert page.get_by_role("checkbox").count() == len(SHOWN) - 1
    assert page.locator("svg text").count() == 0
