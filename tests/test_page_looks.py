"""Every page, wide and narrow, by day and by lamp light: nothing to stumble over, nothing sideways."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.page_tools import axe, sideways

pytestmark = pytest.mark.page

TICKET = "/ticket/Marit~27s+linen+trousers"
PAGES = {
    "/": "h1",
    "/tickets": ".pile",
    TICKET: ".piece",
    f"{TICKET}?pieces=large": ".piece",
    f"{TICKET}/cloth": "[data-plan]",
    f"{TICKET}/paper": ".map",
    f"{TICKET}/work": ".step",
    f"{TICKET}/log": ".judge",
    "/house": "h1",
    "/ticket/Nobody": ".warning",
    "/nowhere": ".warning",
}


@pytest.mark.parametrize("dark", [False, True], ids=["day", "lamp"])
@pytest.mark.parametrize("narrow", [False, True], ids=["1280", "390"])
@pytest.mark.parametrize("path", PAGES)
def test_nobody_stumbles(opened: Callable[..., Any], path: str, narrow: bool, dark: bool) -> None:
    page = opened(path, narrow=narrow, dark=dark)
    page.wait_for_selector(PAGES[path])
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    page.wait_for_timeout(300)
    assert axe(page) == []
    assert sideways(page) <= 0
    assert [said for said in page.errors if "404" not in said] == []


def test_a_stumbling_block_is_seen(opened: Callable[..., Any]) -> None:
    page = opened("/")
    page.evaluate(
        "document.querySelector('[name=hours]').closest('label').replaceWith(...document.querySelectorAll('[name=hours]'))"
    )
    page.evaluate("document.querySelector('h1').style.color = '#ccc'")
    found = " ".join(axe(page))
    assert "label" in found
    assert "color-contrast" in found
