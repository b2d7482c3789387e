"""A ticket named anew takes everything along: lay and cut, ticks, photos, its make; undo brings all back."""

from __future__ import annotations

import re
from typing import Any

from clothwise.store import Store, photos
from clothwise.store.store import HOW_FAR
from clothwise.web.sheet import slug
from tests.page_tools import ask, form, keep
from tests.small_photos import PHOTO
from tests.test_page_lay import SKIRT, begun, laid

ANEW = "Skirt for Sunday"


def test_a_ticket_that_was_cut_is_named_anew_with_all_it_has(mill_page: Any, mill: Store) -> None:
    at = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    laid(mill, SKIRT)
    whole = mill.cloths()
    assert form(mill_page, f"{at}/cut").status == 303
    cut = mill.cloths()
    photos.add(mill, f"make/{SKIRT}", PHOTO, "front")
    said = mill._one(HOW_FAR, SKIRT).said
    assert form(mill_page, f"/ticket/{slug(SKIRT)}/rename", name=ANEW).status == 303
    assert SKIRT not in {ticket.name for ticket in mill.tickets()}
    assert mill._one(HOW_FAR, ANEW).said == said
    assert mill.cloths() == cut
    assert [photo.words for photo in photos.of_thing(mill, f"make/{ANEW}")] == ["front"]
    at = f"/ticket/{slug(ANEW)}/cloth"
    assert "are off the cloth" in ask(mill_page, "GET", at).text
    assert form(mill_page, f"{at}/cut").status == 422, "no cloth is cut twice, whatever the ticket is called"
    assert form(mill_page, f"{at}/uncut").status == 303
    assert mill.cloths() == whole
    assert "are off the cloth" not in ask(mill_page, "GET", at).text


def test_a_finished_one_keeps_its_make_and_what_it_taught(mill_page: Any, mill: Store) -> None:
    begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    at = f"/ticket/{slug(SKIRT)}/log"
    assert "version" in keep(mill_page, f"{at}/keep", {"judged.hip": "tight", "words": "More room."})
    assert form(mill_page, f"{at}/finish", finished_on="2026-11-25").status == 303
    before = mill.make(SKIRT)
    photos.add(mill, f"make/{SKIRT}", PHOTO, "front")
    form(mill_page, f"/ticket/{slug(SKIRT)}/rename", name=ANEW)
    after = mill.make(ANEW)
    assert SKIRT not in {make.name for make in mill.makes()}
    assert (after.judgements, after.notes) == (before.judgements, before.notes)
    page = ask(mill_page, "GET", f"/make/{slug(ANEW)}").text
    assert f'href="/ticket/{slug(ANEW)}/log"' in page
    assert 'alt="front"' in page
    form(mill_page, "/undo", scope=f"ticket/{ANEW}", back="/tickets")
    assert mill.make(SKIRT) == before
    assert [photo.words for photo in photos.of_thing(mill, f"make/{SKIRT}")] == ["front"]
    assert photos.of_thing(mill, f"make/{ANEW}") == ()


def test_a_name_that_another_make_has_is_refused(mill_page: Any, mill: Store) -> None:
    begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    refused = form(mill_page, f"/ticket/{slug(SKIRT)}/rename", name="First straight skirt")
    assert refused.status == 422
    assert SKIRT in {ticket.name for ticket in mill.tickets()}


def test_undo_at_the_new_name_leads_to_the_old_one_and_back(mill_page: Any, mill: Store) -> None:
    begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    form(mill_page, f"/ticket/{slug(SKIRT)}/rename", name=ANEW)
    old, new = f"/ticket/{slug(SKIRT)}", f"/ticket/{slug(ANEW)}"
    undone = form(mill_page, "/undo", scope=f"ticket/{ANEW}", back=f"{new}?shown=levels")
    assert undone.headers["location"] == f"{old}?shown=levels"
    assert ask(mill_page, "GET", old).status == 200
    for station in ("", "/cloth", "/log"):
        shown = ask(mill_page, "GET", f"{old}{station}").text
        button = re.search(r'data-turn="redo">.*?<button[^>]*>', shown, re.DOTALL)
        assert button, station
        assert "disabled" not in button[0], "redo stands where the undoing led"
    again = form(mill_page, "/redo", scope=f"ticket/{SKIRT}", back=old)
    assert again.headers["location"] == new
    assert ask(mill_page, "GET", new).status == 200
    assert form(mill_page, "/undo", scope="ticket/", back="/tickets").headers["location"] == "/tickets"
