"""Pictures of the page for its documents, and of every screen for whoever looks them over.

Taken in a real browser of a server on a fresh store with the demo, so only demo people are on them.

    .venv/bin/python -m benchmarks.page_pictures               the few in docs/pictures, drawn anew
    .venv/bin/python -m benchmarks.page_pictures --all DIR     every state of every screen, printed too
"""

from __future__ import annotations

import argparse
import io
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import Error
from tests.page_screens import EMPTY, LONG, SCREENS, Screen, brought_up
from tests.page_tools import ARGUMENTS, NARROW, WIDE, browser_file, errors_of, serving, sideways

PICTURES = Path(__file__).resolve().parents[1] / "docs" / "pictures"
MOST = 150_000  # bytes of one picture in the documents
COLOURS = 96  # of a picture: paper, ink, one red, one blue and their mixtures
A4 = {"format": "A4", "print_background": False}


@dataclass(frozen=True)
class Picture:
    """One picture of the documents: which screen, how seen, and how much of it in height [dots]."""

    file: str
    screen: str
    high: int = 900
    narrow: bool = False
    dark: bool = False


SHOWN = (
    Picture("page-evening.png", "evening-answered", 1050),
    Picture("page-shape.png", "shape", 1000),
    Picture("page-cloth.png", "cloth-laid", 1150),
    Picture("page-work.png", "work-clock", 1000, dark=True),
    Picture("page-person.png", "person-slip", 950),
    Picture("page-phone.png", "one-remnant", 844, narrow=True),
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Takes the pictures; 1 when one is too large for the documents."""
    wanted = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    wanted.add_argument("--all", type=Path, metavar="DIR", help="every screen, into this folder")
    wanted.add_argument("--only", default="", help="screens whose name holds this")
    asked = wanted.parse_args(arguments)
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as server, sync_playwright() as play:
        browser = play.chromium.launch(executable_path=browser_file(), args=ARGUMENTS)
        try:
            if asked.all:
                asked.all.mkdir(parents=True, exist_ok=True)
                return every(browser, server.address, asked.all, asked.only)
            return shown(browser, server.address, asked.only)
        finally:
            browser.close()


def shown(browser: Any, address: str, only: str) -> int:
    """The pictures of the documents."""
    by_name, too_large = {screen.name: screen for screen in SCREENS}, 0
    for picture in SHOWN:
        if only not in picture.screen:
            continue
        wide = NARROW[0] if picture.narrow else WIDE[0]
        page = opened(browser, (wide, picture.high), dark=picture.dark)
        brought_up(page, address, by_name[picture.screen])
        page.wait_for_timeout(600)
        page.evaluate(
            "document.getElementById('kept').textContent = ''; scrollTo(0, 0); document.activeElement?.blur()"
        )
        data = small(page.screenshot())
        (PICTURES / picture.file).write_bytes(data)
        too_large += len(data) > MOST
        print(f"{picture.file}: {len(data) // 1000} kB")
        page.context.close()
    return 1 if too_large else 0


def every(browser: Any, address: str, folder: Path, only: str) -> int:
    """Every state of every screen, wide, narrow, by lamp light, printed; the empty ones last."""
    wrong = 0
    for screen in (*SCREENS, *EMPTY):
        if only not in screen.name:
            continue
        page = opened(browser, WIDE)
        try:
            if screen is EMPTY[0]:
                page.goto(address + "/house")
                page.get_by_role("button", name="Take the demo away").click()
            brought_up(page, address, screen)
            looked_at(page, screen, folder)
        except Error as no:
            wrong += 1
            print(f"{screen.name}: {str(no).splitlines()[0]}")
        page.context.close()
    return 1 if wrong else 0


def looked_at(page: Any, screen: Screen, folder: Path) -> None:
    """One screen in all its ways."""
    for way, size, scheme in (("wide", WIDE, "light"), ("narrow", NARROW, "light"), ("lamp", NARROW, "dark")):
        page.set_viewport_size({"width": size[0], "height": size[1]})
        page.emulate_media(color_scheme=scheme)
        page.wait_for_timeout(400)
        (folder / f"{screen.name}-{way}.png").write_bytes(small(page.screenshot(full_page=True)))
        if sideways(page) > 0:
            print(f"{screen.name} {way}: {sideways(page)} dots too wide")
    page.pdf(path=folder / f"{screen.name}.pdf", **A4)


def opened(browser: Any, size: tuple[int, int], *, dark: bool = False) -> Any:
    """A fresh window."""
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, color_scheme="dark" if dark else "light"
    )
    context.set_default_timeout(LONG)
    page = context.new_page()
    page.errors = errors_of(page)
    return page


def small(data: bytes) -> bytes:
    """The same picture in few colours."""
    made = io.BytesIO()
    picture = Image.open(io.BytesIO(data)).convert("RGB")
    picture.quantize(COLOURS, dither=Image.Dither.NONE).save(made, "PNG", optimize=True)
    return made.getvalue()


if __name__ == "__main__":
    sys.exit(main())
