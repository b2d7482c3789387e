"""The steps beside the machine in a real browser, as wide as a phone: boxes remember, nothing is fetched."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from clothwise.cloth import Cloth
from clothwise.sew import Sewer, minutes, order_of_work
from clothwise.sew.contents import BookletContent
from clothwise.sew.screen import screen
from tests.sewn_by_hand import skirt

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no chromium on this machine")
PHONE = {"width": 390, "height": 844}  # dots of a common phone
LINEN = Cloth("Linen", 140, 250, kind="linen")


@pytest.fixture
def page(browser: Any) -> Iterator[Any]:
    context = browser.new_context(viewport=PHONE)
    yield context.new_page()
    context.close()


def content() -> BookletContent:
    garment, sewer = skirt(), Sewer("Marit")
    steps = order_of_work(garment, LINEN, sewer)
    return BookletContent(
        garment, steps, minutes(garment, steps, LINEN, sewer), LINEN, sewer, title="Tide skirt", ident="abc"
    )


def written(made: BookletContent, folder: Path) -> str:
    file = folder / f"{made.ident}.html"
    file.write_text(screen(made), encoding="utf-8")
    return file.as_uri()


def test_a_tick_is_still_there_when_the_file_is_opened_again(page: Any, tmp_path: Path) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("pageerror", lambda error: asked.append(str(error)))
    uri = written(content(), tmp_path)
    page.goto(uri)
    page.locator("#step2").check()
    assert page.locator(".step").nth(1).locator(".inside").is_hidden()
    page.goto("about:blank")
    page.goto(uri)
    assert page.locator("#step2").is_checked()
    assert page.locator(".step").nth(1).locator(".inside").is_hidden()
    assert not page.locator("#step1").is_checked()
    page.locator("#step2").uncheck()
    page.reload()
    assert not page.locator("#step2").is_checked()
    assert set(asked) <= {uri, "about:blank"}  # nothing is fetched, no script complains


def test_another_ticket_has_boxes_of_its_own(page: Any, tmp_path: Path) -> None:
    first, second = content(), replace(content(), ident="xyz")
    page.goto(written(first, tmp_path))
    page.locator("#step1").check()
    page.goto(written(second, tmp_path))
    assert not page.locator("#step1").is_checked()


def test_it_is_no_wider_than_the_phone(page: Any, tmp_path: Path) -> None:
    page.goto(written(content(), tmp_path))
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    heights = [box.bounding_box()["height"] for box in page.locator(".step label").all()]
    assert min(heights) >= 44  # a thumb finds it
