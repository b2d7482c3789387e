"""Everything can be reached and done by keys, by single taps, and in colours of the reader's own.

What has the focus is never beneath what stays at the window's rim (WCAG 2.4.11) and shows that it has it; what
can be dragged can be moved by taps too (2.5.7); arrows go the way they point, also where the cloth hangs down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from clothwise.store import open_store
from clothwise.store.store import HOW_FAR
from tests.page_hands import TABS
from tests.page_screens import SCREENS, TICKET, brought_up, kept, laid
from tests.page_tools import NARROW, WIDE, Server, axe

pytestmark = pytest.mark.page

Open = Callable[..., Any]
STICKY = ("shape-opened", "cloth-laid", "paper", "work", "log", "person", "one-remnant", "bought-sized")
STOP = """() => {
    const e = document.activeElement;
    if (!e || e === document.body) return null;
    const { left, top, right, bottom } = e.getBoundingClientRect(), shown = [];
    for (const x of [.1, .3, .5, .7, .9]) for (const y of [.15, .5, .85]) {
        const at = document.elementFromPoint(left + (right - left) * x, top + (bottom - top) * y);
        if (at && (e.contains(at) || [...e.labels ?? []].some((one) => one.contains(at)))) shown.push(at);
    }
    const own = getComputedStyle(e), rim = own.opacity === '0' ? getComputedStyle(e.nextElementSibling) : own;
    const seen = rim.outlineStyle !== 'none' || (e.ownerSVGElement && e.matches(':focus-visible'));
    return { what: e.outerHTML.slice(0, 120), hidden: !shown.length, seen };
}"""


def stops(page: Any) -> Iterator[dict[str, Any]]:
    """What the Tab key comes to, from the head of the page to its foot."""
    page.evaluate("scrollTo(0, 0); document.querySelector('.skip').focus()")
    for _ in range(TABS):
        page.keyboard.press("Tab")
        stop = page.evaluate(STOP)
        if stop is None or "skip" in stop["what"]:
            return
        yield stop
    raise AssertionError("the Tab key never came to the end")


@pytest.mark.parametrize("name", STICKY)
def test_what_has_the_focus_is_seen_and_shows_it(opened: Open, server: Server, name: str) -> None:
    page = opened("/house")
    brought_up(page, server.address, next(one for one in SCREENS if one.name == name))
    for width, height in (WIDE, NARROW):
        page.set_viewport_size({"width": width, "height": height})
        wrong = [stop for stop in stops(page) if stop["hidden"] or not stop["seen"]]
        assert wrong == [], width


def test_words_at_the_foot_cover_nothing_that_is_gone_to(opened: Open) -> None:
    page = opened("/person/Pilar", narrow=True)
    page.locator("#m-thigh_girth").focus()
    page.evaluate("document.activeElement.scrollIntoView({ block: 'end' })")
    page.evaluate(
        "import('/static/say.js').then(({ say }) => say('Not kept yet. '.repeat(12), { stays: true }))"
    )
    page.wait_for_selector("#kept:has-text('Not kept')")
    page.wait_for_timeout(100)
    assert not page.evaluate(STOP)["hidden"]
    for _ in range(5):
        page.keyboard.press("Tab")
        assert not page.evaluate(STOP)["hidden"]


def test_a_piece_is_moved_turned_and_let_go_by_taps_alone(opened: Open, server: Server) -> None:
    page = opened(f"{TICKET}/cloth", narrow=True, touch=True)
    laid(page)
    page.locator(".copy text").first.tap()
    assert page.locator(".copy.chosen").count() == 1
    chosen = page.locator("[data-whose]").input_value()
    page.select_option("[data-by]", "1")
    page.locator("[data-hand=down]").tap()
    kept(page)
    page.wait_for_selector("[data-whose] option:checked:has-text('pinned')", state="attached")
    assert page.locator("[data-whose]").input_value() == chosen
    assert page.locator(".copy.chosen").count() == 1, "it can be moved on"
    page.locator("[data-hand=turn]").tap()
    page.locator("[data-hand=free]").tap()
    page.wait_for_selector("[data-whose] option:checked:not(:has-text('pinned'))", state="attached")
    with open_store(server.store) as store:
        assert not store._one(HOW_FAR, "Marit's linen trousers").said["lay"]["pinned"]


def lies(piece: Any) -> dict[str, float]:
    """Where it lies on the drawing, wherever that is scrolled to."""
    return dict(
        piece.evaluate(
            """e => { const own = e.getBoundingClientRect(), all = e.ownerSVGElement.getBoundingClientRect();
            return { x: own.left - all.left, y: own.top - all.top }; }"""
        )
    )


@pytest.mark.parametrize("narrow", [False, True])
def test_arrows_move_a_piece_the_way_they_point(opened: Open, narrow: bool) -> None:
    page = opened(f"{TICKET}/cloth", narrow=narrow)
    laid(page)
    piece = page.locator(".copy").last
    piece.focus()
    for key, axis, sign in (
        ("ArrowLeft", "x", -1),
        ("ArrowDown", "y", 1),
        ("ArrowUp", "y", -1),
        ("ArrowRight", "x", 1),
    ):
        before = lies(piece)
        page.keyboard.press(f"Shift+{key}")
        after = lies(piece)
        assert (after[axis] - before[axis]) * sign > 1, key
        assert after["xy".replace(axis, "")] == pytest.approx(before["xy".replace(axis, "")], abs=0.5)


def test_a_cut_lay_offers_nothing_to_move(opened: Open, server: Server) -> None:
    page = opened("/tickets")
    brought_up(page, server.address, next(one for one in SCREENS if one.name == "cloth-cut"))
    assert page.locator(".copy[tabindex]").count() == 0
    assert page.locator("[data-by-hand]").count() == 0
    assert axe(page) == []


def test_colours_of_the_readers_own_lose_nothing(opened: Open) -> None:
    ground = "e => getComputedStyle(e, {}).backgroundColor"
    page = opened("/tickets")
    page.emulate_media(forced_colors="active")
    colours = {
        kind: page.locator(f".little-thread .{kind}").first.evaluate(ground.format("null"))
        for kind in ("settled", "open")
    }
    assert colours["settled"] != colours["open"]
    rims = [
        one.evaluate("e => getComputedStyle(e).borderBottomColor")
        for one in page.locator(".selvedge nav a").all()
    ]
    assert rims.count(rims[1]) == 1, "where one is shows in the strip"
    page.goto(page.url.replace("/tickets", TICKET))
    page.wait_for_selector(".piece")
    assert (
        page.locator(".key-body").first.evaluate("e => getComputedStyle(e, '::before').backgroundColor")
        != "rgba(0, 0, 0, 0)"
    )


def test_nothing_moves_for_whoever_wants_no_motion(opened: Open) -> None:
    page = opened(TICKET)
    page.wait_for_selector(".piece")
    page.emulate_media(reduced_motion="reduce")
    moving = page.evaluate(
        """[...document.querySelectorAll('*')]
            .filter((e) => getComputedStyle(e).transitionDuration !== '0s').length"""
    )
    assert moving == 0
    assert page.evaluate("document.getAnimations().length") == 0
    assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"


def test_what_is_told_comes_into_a_line_that_was_there_before(opened: Open) -> None:
    page = opened("/people")
    assert page.locator("#kept").evaluate("e => getComputedStyle(e).display") != "none"
    assert page.locator("#kept").evaluate("e => e.textContent") == ""
    assert page.locator("#kept").bounding_box()["height"] < 1


def test_flaws_are_marked_by_typing_too(opened: Open) -> None:
    page = opened("/cloth/Sand+linen+remnant")
    page.wait_for_selector(".corner")
    flaws = page.get_by_label("flaws")
    flaws.fill("10x10 20x10 20x20; 30x30 40x30 40x44 30x44")
    flaws.press("Tab")
    page.wait_for_selector("[data-told]:has-text('2 flaws')")
    assert page.locator(".flaw").count() == 2
    flaws.fill("10x10 20")
    flaws.press("Tab")
    page.wait_for_selector("#n-flaws:has-text('not a point')")
    assert flaws.get_attribute("aria-invalid") == "true"
    flaws.fill("")
    flaws.press("Tab")
    page.wait_for_selector("[data-told]:not(:has-text('flaw'))")
    assert flaws.get_attribute("aria-invalid") is None


def test_a_tape_tells_where_it_stands_and_escape_shuts_its_blank(opened: Open) -> None:
    page = opened(TICKET)
    page.wait_for_selector(".piece")
    assert page.get_by_role("button", name="cm inch").count() == 1, "called as it is written"
    blank = page.locator("[data-blank='choice.rise']")
    blank.locator("summary").focus()
    page.keyboard.press("Enter")
    blank.locator("[data-tape]").focus()
    page.keyboard.press("ArrowRight")
    assert blank.locator("[data-tape]").get_attribute("aria-valuetext") == "0.5 cm"
    kept(page)
    page.keyboard.press("Escape")
    assert not blank.evaluate("e => e.open")
    assert page.evaluate("document.activeElement.textContent").split() == ["rise", "0.5", "cm"]
