"""What cannot be done is told at its button, before it is pressed; a photo too large when it is sent."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.page_tools import axe
from tests.small_photos import bomb

pytestmark = pytest.mark.page
LONG = 120_000  # ms: for what is laid and drawn on a busy machine
NARROW = pytest.mark.parametrize("narrow", [False, True], ids=["wide", "narrow"])


def moved_off_the_cloth(page: Any) -> None:
    """The first piece pushed over the cut end by an arrow key, and left there."""
    page.locator(".copy").first.focus()
    hangs = page.viewport_size["width"] < 600  # its length runs downwards then, and the cut end lies above
    for _ in range(30):
        page.keyboard.press("Shift+ArrowUp" if hangs else "Shift+ArrowLeft")
    page.wait_for_selector(".lay-faults li")
    page.wait_for_selector("[data-cut]:disabled")


@NARROW
def test_a_lay_left_wrong_is_told_at_packet_and_takeaway(opened: Callable[..., Any], narrow: bool) -> None:
    page = opened("/tickets", narrow=narrow)
    page.select_option("[action='/tickets/new'] [name=pattern]", "a_line_skirt")
    page.get_by_role("button", name="Begin the ticket").click()
    page.wait_for_selector(".piece")
    ticket = page.url.split("?")[0]
    page.goto(f"{ticket}/cloth")
    page.get_by_role("button", name="Lay it on the cloth").click()
    page.wait_for_selector("button:has-text('Lay the rest anew')", timeout=LONG)
    page.wait_for_selector(".copy")
    moved_off_the_cloth(page)
    page.goto(f"{ticket}/paper")
    page.wait_for_selector(".map", timeout=LONG)
    for name in ("Make the packet", "Takeaway"):
        button = page.get_by_role("button", name=name)
        assert button.is_disabled()
        said = page.locator(f"#{button.get_attribute('aria-describedby')}").inner_text()
        assert "cannot be cut" in said
        assert "Move that piece, or lay the rest anew." in said
    assert axe(page) == []
    page.get_by_role("link", name="Move that piece, or lay the rest anew.").click()
    page.wait_for_selector(".lay-faults li")
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector("[data-cut]:enabled")
    page.goto(f"{ticket}/paper")
    page.wait_for_selector(".map", timeout=LONG)
    assert page.get_by_role("button", name="Make the packet").is_enabled()
    assert page.get_by_role("link", name="Takeaway").count() == 1
    assert page.errors == []


@NARROW
def test_a_small_file_that_would_unpack_to_gigapixels_is_told(opened: Callable[..., Any], narrow: bool) -> None:
    page = opened("/make/First+straight+skirt", narrow=narrow)
    page.set_input_files("[name=photo]", {"name": "a.png", "mimeType": "image/png", "buffer": bomb()})
    page.get_by_label("What it shows").fill("The selvedge")
    page.get_by_role("button", name="Add it").click()
    page.wait_for_selector("[data-live=photo]:has-text('has 50000 by 25000 dots, more than can be shown.')")
    assert page.locator(".photos img").count() == 0
    assert page.get_by_label("What it shows").input_value() == "The selvedge", "nothing typed is lost"
