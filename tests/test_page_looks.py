"""Every screen in every state, wide and narrow, by day and by lamp light: nobody stumbles, all is in view.

Magnified four times, or with letters and lines set wider, nothing goes out of view either.

Each state is brought up once and then looked at in four ways. What does not hang on colour is asked for in two
of them, wide by day and narrow by lamp light; what does, in all four.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.page_screens import EMPTY, SCREENS, TICKET, Screen, brought_up
from tests.page_tools import NARROW, WIDE, Server, axe, sideways

pytestmark = pytest.mark.page

WAYS = ((WIDE, "light", True), (WIDE, "dark", False), (NARROW, "light", False), (NARROW, "dark", True))
OF_COLOUR = ("color-contrast", "link-in-text-block")
OWN_REFUSALS = ("404", "422")  # what the browser says of a screen that was meant to be refused
MAGNIFIED = (320, 256)  # what is left of 1280 dots at four times their size (WCAG 1.4.10)
SPACED = """* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important; }
p { margin-bottom: 2em !important; }"""  # as readers may set any page (WCAG 1.4.12)
SETTLES = 60  # ms: to be drawn anew; nothing changes softly where motion is not wanted


def looked_at(page: Any) -> list[str]:
    """Everything wrong with a screen, in all four ways."""
    found = []
    for (width, height), scheme, whole in WAYS:
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        page.wait_for_timeout(SETTLES)
        found += [f"{width} {scheme}: {one}" for one in axe(page, () if whole else OF_COLOUR)]
        if sideways(page) > 0:
            found.append(f"{width} {scheme}: {sideways(page)} dots too wide")
    found += too_wide(page, MAGNIFIED, "magnified")
    page.evaluate(
        """css => { const set = new CSSStyleSheet(); set.replaceSync(css);
            document.adoptedStyleSheets = [set]; }""",
        SPACED,
    )
    found += too_wide(page, NARROW, "spaced")
    page.evaluate("document.adoptedStyleSheets = []")
    return found + [said for said in page.errors if not any(one in said for one in OWN_REFUSALS)]


def too_wide(page: Any, size: tuple[int, int], how: str) -> list[str]:
    """Whether the page must be moved sideways to be read in such a window."""
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.wait_for_timeout(SETTLES)
    return [f"{how}: {sideways(page)} dots too wide"] if sideways(page) > 0 else []


@pytest.mark.parametrize("screen", SCREENS, ids=[screen.name for screen in SCREENS])
def test_nobody_stumbles(opened: Callable[..., Any], server: Server, screen: Screen) -> None:
    page = opened("/house")
    page.errors.clear()
    brought_up(page, server.address, screen)
    assert looked_at(page) == []


def test_nobody_stumbles_over_a_takeaway(opened: Callable[..., Any], tmp_path: Path) -> None:
    page = opened(TICKET + "/paper")
    page.wait_for_selector(".map")
    with page.expect_download(timeout=120_000) as file:
        page.click("a.button:has-text('Takeaway')")
    file.value.save_as(tmp_path / "away.html")
    page.goto((tmp_path / "away.html").as_uri())
    page.wait_for_selector(".step")
    assert looked_at(page) == []


def test_nobody_stumbles_in_an_empty_workroom(opened: Callable[..., Any], server: Server) -> None:
    page = opened("/house")
    page.get_by_role("button", name="Take the demo away").click()
    page.wait_for_selector("text=The demo is put away")
    found = {}
    for screen in EMPTY:
        brought_up(page, server.address, screen)
        found[screen.name] = looked_at(page)
    page.goto(server.address + "/house")
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector("text=Take the demo away")
    assert {name: wrong for name, wrong in found.items() if wrong} == {}


def test_a_stumbling_block_is_seen(opened: Callable[..., Any]) -> None:
    page = opened("/")
    page.evaluate(
        "document.querySelector('[name=hours]').closest('label').replaceWith(...document.querySelectorAll('[name=hours]'))"
    )
    page.evaluate("document.querySelector('h1').style.color = '#ccc'")
    page.evaluate("document.querySelector('h1').style.minWidth = '1000px'")
    found = " ".join(looked_at(page))
    assert "label" in found
    assert "1280 light: color-contrast" in found
    assert "390 light: color-contrast" in found
    assert "too wide" in found
