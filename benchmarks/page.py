"""The page: from a key press to painted pieces, and the other waits, in a real browser against a real server.

A key press is timed from the browser's own time of the event to the frame after the one in which the new pieces
were drawn. Keys are pressed 120 ms apart, as a quick typist does; every press that paints counts, also one that
had to wait for the answer to the one before it. The tape (slider) is moved by its arrow keys.

    ./run bench page [--quick]
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tests.page_tools import ARGUMENTS, NARROW, WAIT_MS, WIDE, Server, browser_file, serving

from benchmarks.asked import quick_only
from benchmarks.table import Row, print_table
from clothwise.draft import PATTERNS, pattern
from clothwise.store import KeptTicket, open_store, seed_demo
from clothwise.ticket import Ticket, write_ticket
from clothwise.web.files import HERE
from clothwise.web.sheet import slug

PAINTED = 100.0  # ms, p95, from key press to painted pieces
CHECKED = 100.0  # ms, p95, from a piece moved on the cloth to being told whether it may lie there
READY = 3.0  # s from the command to the first page
FIRST_ANSWER = 5.0  # s from asking to the first answer of an evening (a cold memory)
BETWEEN = 120  # ms between key presses
QUICK = ("four_panel_skirt", "darted_shift", "button_front_shirt")
PRESSES, QUICK_PRESSES = 40, 14
WEIGHT = 300.0  # kB that a first visit to a ticket fetches, without the typeface

TIMER = """
() => {
  window.timed = []; let at = 0;
  addEventListener('keydown', (event) => { at = event.timeStamp; }, true);
  document.addEventListener('painted', () => {
    const from = at; if (!from) return; at = 0;
    requestAnimationFrame(() => { const wire = new MessageChannel();
      wire.port1.onmessage = () => timed.push(performance.now() - from); wire.port2.postMessage(0); });
  });
}
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Prints the table; 1 when a target is missed."""
    quick = quick_only(__doc__, "three drafts, fewer presses: within 45 s", arguments)
    from playwright.sync_api import sync_playwright

    program = browser_file()
    with tempfile.TemporaryDirectory() as folder:
        names = tickets(Path(folder) / "store.sqlite", QUICK if quick else tuple(p.name for p in PATTERNS))
        begun = time.monotonic()
        with serving(Path(folder)) as server, sync_playwright() as play:
            ready = time.monotonic() - begun
            browser = play.chromium.launch(executable_path=program, args=ARGUMENTS)
            presses = QUICK_PRESSES if quick else PRESSES
            rows = [Row("seconds from the command to the first page", READY, ready, ready <= READY)]
            rows += painted_rows(browser, server, names, presses)
            rows += hand_rows(browser, server, names[0], presses)
            rows += weight_rows(browser, server, names[0])
            if not quick:
                rows += evening_rows(browser, server)
            browser.close()
    return 0 if print_table("The page", rows, (__doc__ or "").split("\n\n")[1]) else 1


def tickets(place: Path, drafts: Sequence[str]) -> list[str]:
    """A ticket for each draft in a fresh store. Returns their names."""
    names = []
    with open_store(place) as store:
        seed_demo(store)
        cloths = sorted(store.cloths(), key=lambda cloth: -cloth.length)
        for name in drafts:
            draft = pattern(name)
            cloth = next(cloth for cloth in cloths if cloth.make in draft.makes)
            ticket = Ticket(f"Bench {name}", name, body_name="Marit", cloth_name=cloth.name)
            store.keep_ticket(KeptTicket(ticket.name, write_ticket(ticket)))
            names.append(ticket.name)
    return names


def painted_rows(browser: Any, server: Server, names: Sequence[str], presses: int) -> list[Row]:
    rows, everything = [], []
    for number, name in enumerate(names):
        narrow = number % 3 == 2  # every third on a phone's width
        times = typed(browser, server, name, presses, narrow)
        everything += times
        what = f"{name.removeprefix('Bench ').replace('_', ' ')}{', 390 wide' if narrow else ''}"
        rows.append(
            Row(f"  {what}: p50 / p95 of {len(times)}", "", f"{_p(times, 50):.0f} / {_p(times, 95):.0f}")
        )
    late = _p(everything, 95)
    head = [
        Row("key press to painted, p50 [ms]", "", _p(everything, 50)),
        Row("key press to painted, p95 [ms]", PAINTED, late, late <= PAINTED),
    ]
    return head + rows


def typed(browser: Any, server: Server, name: str, presses: int, narrow: bool) -> list[float]:
    """Times of key presses in a measure's field and on its tape. [ms]"""
    width, height = NARROW if narrow else WIDE
    page = browser.new_page(viewport={"width": width, "height": height})
    page.set_default_timeout(WAIT_MS)
    page.goto(server.address + f"/ticket/{slug(name)}")
    page.wait_for_selector(".piece")
    page.wait_for_timeout(1500)  # the second look is over, the page at rest
    path = page.evaluate(
        "[...document.querySelectorAll('[data-path^=\"measure.\"]')].map(f => f.dataset.path)"
        ".find(p => /hip_girth|bust_girth|waist_girth/.test(p))"
    )
    page.evaluate(TIMER)
    page.evaluate(
        "path => { document.querySelector(`[data-path='${path}']`).closest('details').open = true }", path
    )
    field = page.locator(f"[data-path='{path}']")
    value = field.input_value().split(".")[0]
    field.fill(f"{value}.")
    for number in range(presses // 2):
        page.keyboard.press(str(1 + number % 8))
        page.wait_for_timeout(BETWEEN)
        page.keyboard.press("Backspace")
        page.wait_for_timeout(BETWEEN)
    page.locator(f"[data-tape='{path}']").focus()
    for number in range(presses // 2):
        page.keyboard.press("ArrowRight" if number % 4 < 2 else "ArrowLeft")
        page.wait_for_timeout(BETWEEN)
    page.wait_for_timeout(800)
    times = [float(one) for one in page.evaluate("timed")]
    page.close()
    return times


def hand_rows(browser: Any, server: Server, name: str, presses: int) -> list[Row]:
    """From a piece moved by an arrow key to the check's answer."""
    page = browser.new_page(viewport={"width": WIDE[0], "height": WIDE[1]})
    page.set_default_timeout(4 * WAIT_MS)
    page.goto(server.address + f"/ticket/{slug(name)}/cloth")
    page.select_option("[name=effort]", "quick")
    page.click("[data-plan] button")
    page.wait_for_selector(".copy")
    page.wait_for_timeout(1000)
    times: list[float] = []

    def answered(answer: Any) -> None:
        if answer.url.endswith("/hand"):
            times.append(answer.request.timing["responseEnd"])

    page.on("requestfinished", lambda request: answered(request.response()))
    page.locator(".copy").first.focus()
    for number in range(presses):
        page.keyboard.press("ArrowRight" if number % 2 else "ArrowLeft")
        page.wait_for_timeout(BETWEEN)
    page.wait_for_timeout(500)
    page.close()
    late = _p(times, 95)
    return [Row("piece moved by hand to being told, p95 [ms]", CHECKED, late, late <= CHECKED)]


def weight_rows(browser: Any, server: Server, name: str) -> list[Row]:
    page = browser.new_page()
    sizes: list[float] = []
    page.on(
        "requestfinished", lambda request: sizes.append(0 if request.url.endswith(".ttf") else _size(request))
    )
    page.goto(server.address + f"/ticket/{slug(name)}", wait_until="networkidle")
    page.close()
    weight = sum(sizes) / 1000
    lines = sum(file.read_text(encoding="utf-8").count("\n") for file in HERE.glob("*.js"))
    return [
        Row("fetched by a first visit to a ticket [kB]", WEIGHT, weight, weight <= WEIGHT),
        Row("lines of script, all modules", "", lines),
    ]


def _size(request: Any) -> float:
    sizes = request.sizes()
    return float(sizes["responseBodySize"] + sizes["responseHeadersSize"])


def evening_rows(browser: Any, server: Server) -> list[Row]:
    page = browser.new_page()
    page.set_default_timeout(8 * WAIT_MS)
    page.goto(server.address + "/")
    page.select_option("[name=for]", "Marit")
    begun = time.monotonic()
    page.click("text=See what can be made")
    page.wait_for_selector(".answer")
    first = time.monotonic() - begun
    page.wait_for_selector("[data-cancel]", state="hidden")
    whole = time.monotonic() - begun
    page.close()
    return [
        Row("first answer of an evening, cold [s]", FIRST_ANSWER, first, first <= FIRST_ANSWER),
        Row("all answers of an evening, cold [s]", "", whole),
    ]


def _p(times: Sequence[float], share: int) -> float:
    """A percentile. [the unit of the times]"""
    if len(times) < 2:
        return float("inf")  # nothing was painted: every target is missed
    return statistics.quantiles(times, n=100, method="inclusive")[share - 1]


if __name__ == "__main__":
    sys.exit(main())
