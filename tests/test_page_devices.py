"""Two devices at one thing: a change on one shows on the other, and is told before it is written over."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from clothwise.store import KeptTicket, Store, deeds, open_store, photos
from clothwise.store.restoring import restore, take_back
from clothwise.store.standing import Watch, since, stands
from clothwise.store.store import CLOTH, HOW_FAR, TICKET
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.web.sheet import Reader
from clothwise.web.ticket_state import keep
from tests.page_tools import WAIT_MS, Server, ask, axe, errors_of
from tests.page_tools import keep as sent
from tests.small_photos import PHOTO

NAME, PATH = "Marit's linen trousers", "/ticket/Marit~27s+linen+trousers"
SCOPES = (f"progress/{NAME}", f"ticket/{NAME}", f"make/{NAME}")
CM = Reader()


def test_how_a_thing_stands_never_reads_the_same_for_two_states(mill: Store) -> None:
    seen = [stands(mill, SCOPES)]

    def step(do: Callable[[], Any], like: int | None = None) -> None:
        do()
        now = stands(mill, SCOPES)
        assert now == seen[like] if like is not None else now not in seen
        seen.append(now)

    step(lambda: keep(mill, NAME, {"choice.longer": "2"}, CM))
    step(lambda: deeds.undo(mill, SCOPES), like=0)
    step(lambda: keep(mill, NAME, {"choice.longer": "3"}, CM))
    step(lambda: photos.add(mill, f"make/{NAME}", PHOTO, ""))
    step(lambda: deeds.undo(mill, SCOPES), like=3)
    step(lambda: photos.add(mill, f"make/{NAME}", PHOTO, ""))
    step(lambda: deeds.keep(mill, CLOTH, mill.cloth("White poplin").changed(colour="x"), "x"), like=-1)
    step(lambda: deeds.forget(mill, TICKET, NAME, "away"))


def test_a_store_that_is_put_back_stands_otherwise_though_its_versions_count_alike(mill: Store) -> None:
    copy = mill.place + "-copy"
    mill.back_up(copy)
    keep(mill, NAME, {"choice.longer": "2"}, CM)
    before = stands(mill, SCOPES)
    restore(mill, Path(copy))
    keep(mill, NAME, {"choice.longer": "5"}, CM)
    assert stands(mill, SCOPES) != before
    take_back(mill)
    assert stands(mill, SCOPES) != before


def test_what_was_done_elsewhere_is_told_in_its_words_and_no_more(mill: Store) -> None:
    keep(mill, NAME, {"choice.longer": "1"}, CM)
    on = stands(mill, SCOPES)
    keep(mill, NAME, {"choice.longer": "2"}, CM)
    keep(mill, NAME, {"choice.hip_ease": "9"}, CM)
    watch = Watch(mill, SCOPES)
    keep(mill, NAME, {"choice.longer": "4"}, CM, watch)
    assert watch.stands == stands(mill, SCOPES)
    assert [one.split()[0] for one in since(mill, SCOPES, on, watch.stood)] == ["longer", "hip"]
    assert since(mill, SCOPES, on, watch.stood)[0] == "longer 1.0 cm to 2.0 cm"
    assert len(since(mill, SCOPES, on)) == 3
    deeds.undo(mill, SCOPES)
    deeds.undo(mill, SCOPES)
    assert since(mill, SCOPES, watch.stands) == (), "taken back: told by nothing"
    for wrong in ("", "x", "0:", "0:1", "0:1.2.3.4", "0:1.2.-3", ":" * 9000, "0:9.9.9" + "9" * 9000):
        assert since(mill, SCOPES, wrong) == ()


def test_an_answer_tells_how_it_stood_and_stands(mill_page: Any, mill: Store) -> None:
    on = stands(mill, SCOPES)
    told = sent(mill_page, f"{PATH}/keep", {"choice.longer": "2"})
    assert told["stood"] == on
    assert told["stands"] == stands(mill, SCOPES)
    assert f'data-stands="{told["stands"]}"' in ask(mill_page, "GET", PATH).text
    asked = "/stands?scope=ticket/Marit%27s+linen+trousers&on=0:1"
    assert ask(mill_page, "GET", asked).json == {"stands": "0:2", "since": ["longer left open to 2.0 cm"]}
    assert ask(mill_page, "GET", "/stands").json == {"stands": "", "since": []}
    assert ask(mill_page, "GET", "/stands?scope=house/x&scope=../..&scope=ticket/&on=%00").status == 200


# ---- two browsers --------------------------------------------------------------------------------

page_only = pytest.mark.page
TYPED = {  # a page that is typed into, and what is typed on the one device and on the other
    PATH: ("choice.longer", "2", "choice.hip_ease", "11"),
    "/person/Marit": ("measure.thigh_girth", "58", "measure.wrist_girth", "16"),
    "/cloth/White+poplin": ("colour", "cream", "fibre", "cotton"),
    f"{PATH}/log": ("words", "More room.", "minutes", "4 h 10"),
}


@pytest.fixture
def devices(browser: Any, server: Server) -> Iterator[Callable[[str], list[Any]]]:
    """Two browsers that know nothing of each other, a wide and a narrow one, at the same address."""
    contexts = [browser.new_context(viewport={"width": width, "height": 844}) for width in (1280, 390)]

    def opened(path: str) -> list[Any]:
        pages = []
        for context in contexts:
            context.set_default_timeout(WAIT_MS)
            page = context.new_page()
            page.errors = errors_of(page)
            page.goto(server.address + path)
            page.wait_for_load_state("load")
            pages.append(page)
        return pages

    yield opened
    for context in contexts:
        context.close()


def opens(page: Any, path: str) -> Any:
    field = page.locator(f"[data-path='{path}']").first
    field.evaluate("f => { const fold = f.closest('details'); if (fold) fold.open = true; }")
    return field


def shows(page: Any, path: str, text: str) -> None:
    begun = time.monotonic()
    while not str(page.locator(f"[data-path='{path}']").first.input_value()).startswith(text):
        assert time.monotonic() - begun < WAIT_MS / 1000, (path, page.inner_text("#kept"))
        page.wait_for_timeout(200)


@page_only
@pytest.mark.parametrize("path", TYPED)
def test_a_change_on_one_device_shows_on_the_other(devices: Any, path: str) -> None:
    first, text, second, more = TYPED[path]
    laptop, phone = devices(path)
    opens(laptop, first).fill(text)
    laptop.wait_for_selector("#kept:has-text('Kept')")
    shows(phone, first, text)
    phone.wait_for_selector("#kept:has-text('Changed elsewhere: ')")  # said once the page has come
    opens(phone, second).fill(more)
    phone.wait_for_selector("#kept:has-text('Kept')")
    shows(laptop, second, more)
    shows(laptop, first, text)
    assert axe(phone) == []
    assert [*laptop.errors, *phone.errors] == []


@page_only
def test_who_is_typing_is_told_and_loses_nothing(devices: Any, server: Server) -> None:
    laptop, phone = devices(PATH)
    field = opens(
        phone, "choice.hem_ease" if phone.locator("[data-path='choice.hem_ease']").count() else "choice.longer"
    )
    path = field.get_attribute("data-path")
    phone.route("**/keep", lambda route: route.abort())  # what she types cannot be sent for a while
    field.fill("3")
    phone.wait_for_selector("#kept:has-text('Not kept yet')")
    opens(laptop, path).fill("4")
    laptop.wait_for_selector("#kept:has-text('Kept')")
    phone.wait_for_selector("#kept:has-text('Changed elsewhere: ')")
    assert "What you fill in here is kept as well." in phone.inner_text("#kept")
    assert field.input_value() == "3", "nothing is taken from under her hand"
    phone.unroute("**/keep")
    shows(laptop, path, "3")
    with open_store(server.store) as store:
        assert read_ticket(store.ticket(NAME).text).choices[path.partition(".")[2]] == 3
        told = deeds.can(store, SCOPES).undo
        assert told is not None
        assert "4.0 cm to 3.0 cm" in told.words, "undo brings the other back"
        deeds.undo(store, SCOPES)
    shows(phone, path, "4")


@page_only
def test_ticks_of_two_devices_come_together_and_no_page_blinks_at_its_own(devices: Any, server: Server) -> None:
    with open_store(server.store) as store:
        apron = Ticket("Apron", "apron", body_name="Marit", cloth_name="White poplin")
        store.keep_ticket(KeptTicket("Apron", write_ticket(apron)))
    laptop, phone = devices("/ticket/Apron/work?wait=1")
    for page in (laptop, phone):
        page.wait_for_selector(".step")
    laptop.evaluate("globalThis.here = true")
    boxes = [page.locator(".step [type=checkbox]") for page in (laptop, phone)]
    boxes[0].nth(0).check()
    boxes[0].nth(1).check()
    laptop.wait_for_timeout(6000)
    assert laptop.evaluate("globalThis.here"), "its own ticks do not make it come anew"
    phone.wait_for_selector(".step:nth-child(2).done")
    boxes[1].nth(2).check()
    laptop.wait_for_selector(".step:nth-child(3).done")
    with open_store(server.store) as store:
        assert len(store._one(HOW_FAR, "Apron").said["ticks"]) == 3


@page_only
def test_a_form_half_filled_stays_and_is_told(devices: Any, server: Server) -> None:
    laptop, phone = devices(PATH)
    rename = phone.locator("form[action$='/rename'] [name=name]")
    rename.evaluate("f => { const fold = f.closest('details'); if (fold) fold.open = true; }")
    rename.fill("Another na")
    opens(laptop, "choice.longer").fill("7")
    phone.wait_for_selector("#kept:has-text('Changed elsewhere: ')")
    phone.wait_for_timeout(4000)
    assert rename.input_value() == "Another na"
