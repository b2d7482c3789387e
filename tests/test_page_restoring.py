"""A backup put back at the page, and taken back again with one button, also while long work goes on."""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import Any

import pytest

from clothwise.store import Store, deeds, jobs, open_store
from clothwise.store.export import everything
from clothwise.store.store import BODY
from clothwise.web.jobs import Jobs
from tests.page_tools import Server, ask, axe, errors_of, form
from tests.test_page_hostile import upload


def test_a_restoring_is_taken_back_by_one_button_and_that_too(
    mill_page: Any, mill: Store, tmp_path: Path
) -> None:
    assert "Take the restoring back" not in ask(mill_page, "GET", "/house").text
    refused = form(mill_page, "/house/restore/back")
    assert refused.status == 422
    backup = ask(mill_page, "GET", "/house/backup.sqlite").body
    old = everything(mill)
    deeds.forget(mill, BODY, "Osei", "Osei away")
    now = everything(mill)
    assert upload(mill_page, "/house/restore", backup, "backup").status in (200, 303)
    assert everything(mill) == old
    shown = ask(mill_page, "GET", "/house?restored=yes").text
    assert re.search(r"What was here until \d+ \w+ \d{4}, \d\d:\d\d stands again", shown)
    for stands in (now, old, now):
        assert form(mill_page, "/house/restore/back").headers["location"] == "/house?restored=back"
        assert everything(mill) == stands
    kept = [open_store(one) for one in tmp_path.glob("store-before-restore*.sqlite")]
    assert [everything(one) for one in kept].count(now) == 2, "each made a copy of what it found"
    for one in kept:
        one.close()


def test_only_a_copy_that_a_restoring_made_is_ever_put_back(
    mill_page: Any, mill: Store, tmp_path: Path
) -> None:
    mill.back_up(tmp_path / "store-before-revision-9.sqlite")
    mill.back_up(tmp_path / "store-before-restore-of mine.sqlite")
    mill.back_up(tmp_path / "other-before-restore.sqlite")
    (tmp_path / "store-before-restore.sqlite").mkdir()
    assert form(mill_page, "/house/restore/back", file="../other-before-restore.sqlite").status == 422
    assert "Take the restoring back" not in ask(mill_page, "GET", "/house").text
    before = everything(mill)
    (tmp_path / "store-before-restore-2.sqlite").write_bytes(b"SQLite format 3\0" + b"\1" * 5000)
    assert form(mill_page, "/house/restore/back").status == 422, "a damaged copy is refused"
    assert everything(mill) == before


def test_work_of_the_store_before_ends_and_writes_nothing_into_the_other(mill: Store, tmp_path: Path) -> None:
    mill.back_up(tmp_path / "backup.sqlite")
    asked = {
        "for": "Marit", "hours": 4.0, "skill": "practised", "overlocker": False, "made_on": "2026-11-25",
        "cloths": [cloth.name for cloth in mill.cloths()],
    }  # fmt: skip
    at_work = Jobs(mill)
    try:
        number = at_work.begin("evening", asked)
        begun = time.monotonic()
        while not jobs.news(mill, number):
            assert time.monotonic() - begun < 60
            time.sleep(0.05)
        process = at_work._working[number]
        from clothwise.store.restoring import restore

        restore(mill, tmp_path / "backup.sqlite", at_work.end_all)
        assert not process.is_alive()
        assert jobs.newest(mill, "evening") == ()
        assert jobs.news(mill, number) == ()
    finally:
        at_work.close()


@pytest.mark.page
@pytest.mark.parametrize("narrow", [False, True], ids=["wide", "narrow"])
def test_it_is_put_back_and_taken_back_by_hand(browser: Any, tmp_path: Path, narrow: bool) -> None:
    server = Server(tmp_path).start()
    context = browser.new_context(viewport={"width": 390 if narrow else 1280, "height": 844})
    try:
        page = context.new_page()
        errors = errors_of(page)
        page.goto(f"{server.address}/house")
        with page.expect_download() as saved:
            page.get_by_role("link", name="Save a backup").click()
        saved.value.save_as(tmp_path / "saved.sqlite")
        with open_store(server.store) as store:
            deeds.forget(store, BODY, "Osei", "Osei away")
        page.set_input_files("[name=backup]", tmp_path / "saved.sqlite")
        page.get_by_role("button", name="Put it back").click()
        page.wait_for_selector("[role=status]:has-text('The backup is put back.')")
        page.get_by_role("button", name="Take the restoring back").focus()
        page.keyboard.press("Enter")
        page.wait_for_selector("[role=status]:has-text('The restoring is taken back')")
        assert axe(page) == []
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
        assert errors == []
        with open_store(server.store) as store:
            assert "Osei" not in {body.name for body in store.bodies()}
    finally:
        context.close()
        server.stop()
    assert "Traceback" not in server.log(), server.log()
