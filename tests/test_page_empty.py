"""From an emptied store to a downloaded packet, in a real browser: nothing of the demo is needed."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from clothwise.store import open_store
from tests.page_tools import Server

pytestmark = pytest.mark.page

LONG = 120_000  # ms: for what is searched, laid and set on a busy machine
MEASURES = {"waist_girth": "74", "hip_girth": "99", "bust_girth": "92", "height": "166"}


def test_from_nothing_to_a_packet(opened: Callable[..., Any], server: Server) -> None:
    page = opened("/house")
    page.click("text=Take the demo away")
    page.wait_for_selector("text=The demo is put away")
    page.goto(server.address + "/")
    assert page.locator(".first-steps .open").count() == 3
    page.click("text=Measure somebody")
    page.fill("[name=name]", "Ida")
    page.press("[name=name]", "Enter")
    page.wait_for_selector("h1:has-text('Ida')")
    page.wait_for_load_state("load")
    for name, cm in MEASURES.items():
        page.fill(f"[data-path='measure.{name}']", cm)
        page.press(f"[data-path='measure.{name}']", "Tab")
    page.wait_for_selector("#kept:has-text('Kept')")
    page.wait_for_timeout(2000)
    page.goto(server.address + "/cupboard")
    page.fill("[name=name]", "Blue linen")
    page.select_option("[name=kind]", "linen")
    page.fill("[name=width]", "140")
    page.fill("[name=length]", "220")
    page.check("[name=washed]")
    page.press("[name=length]", "Enter")
    page.wait_for_selector("h1:has-text('Blue linen')")
    page.goto(server.address + "/")
    assert page.locator(".first-steps").count() == 0
    page.fill("[name=hours]", "6")
    page.click("text=See what can be made")
    page.wait_for_selector(".answer", timeout=LONG)
    page.wait_for_selector("[data-cancel]", state="hidden", timeout=LONG)
    page.locator(".answer button").first.click()
    page.wait_for_selector(".piece")
    page.click("text=On to the cloth")
    page.select_option("[name=effort]", "quick")
    page.click("[data-plan] button:not([data-cancel])")
    page.wait_for_selector(".copy", timeout=LONG)
    page.wait_for_selector(".stage")
    page.click("text=On to the paper")
    page.wait_for_selector(".map", timeout=LONG)
    page.click("text=Make the packet")
    page.wait_for_selector("[data-ready]:not([hidden])", timeout=LONG)
    with page.expect_download(timeout=LONG) as packet:
        page.click("[data-ready]")
    files = zipfile.ZipFile(io.BytesIO(Path(packet.value.path()).read_bytes())).namelist()
    assert {"pattern.pdf", "lay.pdf", "booklet.pdf", "ticket.toml"} <= set(files)
    with open_store(server.store) as store:
        assert [body.name for body in store.bodies()] == ["Ida"]
        assert {name: store.body("Ida")[name] for name in MEASURES} == {
            n: float(v) for n, v in MEASURES.items()
        }
    assert page.errors == []
