"""Undo and redo on the page where a thing was done take it back and do it again, whatever it was."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from typing import Any

import pytest

from clothwise.store import Store, deeds
from clothwise.store.cutting import cut
from clothwise.store.export import everything
from clothwise.store.store import HOW_FAR
from clothwise.web.app import SCREENS
from clothwise.web.cut_now import plans_of
from clothwise.web.lay_state import kept_lay
from clothwise.web.laying import set_progress
from clothwise.web.sheet import Reader, slug
from clothwise.web.ticket_state import load
from tests.page_tools import ask, axe, form, keep
from tests.small_photos import PHOTO
from tests.test_page_hostile import upload
from tests.test_page_lay import begun, laid

SKIRT, AT = "Skirt", "/ticket/Skirt"
BOUGHT = "/ticket/Mill+2+straight+skirt+for+Marit"
BORDER = "Border"
Do = Callable[[Any, Store], Any]
CHART = "Size\t10\t12\nBust\t85\t90\nWaist\t67\t72\nHip\t92\t97"
GIVEN = """ticket = 1
name = "Given"
[pattern]
name = "apron"
[body]
name = "Marit"
[cloth]
name = "White poplin"
"""
MAKE, MILL, CLOTH = "/make/First+straight+skirt", "/bought/Mill+2+straight+skirt", "/cloth/White+poplin"


def nothing(_page: Any, _store: Store) -> None:
    """Nothing must be there before."""


def skirt(page: Any, store: Store) -> None:
    begun(store, SKIRT, "a_line_skirt", "Grey-green linen", "Marit")


def skirt_laid(page: Any, store: Store) -> None:
    skirt(page, store)
    laid(store, SKIRT)


def bought(page: Any, store: Store) -> None:
    form(page, "/tickets/bought", bought="Mill 2 straight skirt", **{"for": "Marit"}, cloth="White poplin")


def hand(page: Any, store: Store) -> None:
    lay = kept_lay(store._one(HOW_FAR, SKIRT).said)
    assert lay is not None
    one = lay.placements[0]
    headers = {"content-type": "application/json", "accept": "application/json"}
    move = {"piece": one.piece, "copy": one.copy, "dx": 1, "dy": 0, "keep": True, "on": ""}
    ask(
        page,
        "POST",
        f"{AT}/cloth/hand",
        headers=headers,
        body=str(move).replace("'", '"').replace("True", "true").encode(),
    )


def posts(path: str, **fields: str) -> Do:
    return lambda page, _store: form(page, path, **fields)


def keeps(path: str, **entries: str) -> Do:
    said = {name.replace("__", "."): text for name, text in entries.items()}
    return lambda page, _store: keep(page, path, said)


def with_photo(path: str) -> Do:
    return lambda page, _store: upload(page, path, PHOTO, "photo")


def after(*dos: Do) -> Do:
    def all_of_them(page: Any, store: Store) -> None:
        for do in dos:
            do(page, store)

    return all_of_them


LEARNED = after(skirt, keeps(f"{AT}/keep", measure__hip_girth="103"))
ALTERED = after(skirt, posts(f"{AT}/altering", what="line", place="seam=waist", by="2"))
SKIRT_CUT = after(skirt_laid, posts(f"{AT}/cloth/cut"))
PHOTOGRAPHED = after(skirt, with_photo(f"{AT}/log/photo"))
SHELVED = posts("/bought", name=BORDER, text=CHART, unit="cm")
SEWN = {"for": "Marit", "on": "2026-11-25", "size": "14", "say.hip": "right"}
BOXED = posts("/box/put", name="Elastic", sort="elastic", much="150", width="2")
# what is posted: (what must be there before, the deed, the page on which it is then taken back)
DEEDS: dict[str, tuple[Do, Do, str]] = {
    "/tickets/new": (
        nothing,
        posts("/tickets/new", pattern="apron", cloth="White poplin", **{"for": "Marit"}),
        "/tickets",
    ),
    "/tickets/open": (
        nothing,
        lambda page, _: upload(page, "/tickets/open", GIVEN.encode(), "open"),
        "/ticket/Given",
    ),
    "/ticket/{name}/rename": (skirt, posts(f"{AT}/rename", name="Other"), "/ticket/Other"),
    "/ticket/{name}/forget": (skirt, posts(f"{AT}/forget"), "/tickets"),
    "/ticket/{name}/keep": (skirt, keeps(f"{AT}/keep", choice__longer="2"), AT),
    "/ticket/{name}/to-card": (LEARNED, posts(f"{AT}/to-card"), AT),
    "/ticket/{name}/altering": (skirt, posts(f"{AT}/altering", what="line", place="seam=waist", by="2"), AT),
    "/ticket/{name}/altering/{number:counted}/away": (ALTERED, posts(f"{AT}/altering/1/away"), AT),
    "/tickets/bought": (nothing, bought, BOUGHT),
    "/ticket/{name}/bought/settle": (bought, posts(f"{BOUGHT}/bought/settle", cloth="Washed denim"), BOUGHT),
    "/ticket/{name}/bought/keep": (bought, keeps(f"{BOUGHT}/bought/keep", words="Took in."), BOUGHT),
    "/ticket/{name}/bought/finish": (
        bought,
        posts(f"{BOUGHT}/bought/finish", finished_on="2026-11-25"),
        BOUGHT,
    ),
    "/ticket/{name}/cloth/plan": (skirt, lambda _, store: laid(store, SKIRT), f"{AT}/cloth"),
    "/ticket/{name}/cloth/hand": (skirt_laid, hand, f"{AT}/cloth"),
    "/ticket/{name}/cloth/divide": (
        skirt_laid,
        posts(f"{AT}/cloth/divide", **{"from.waistband": "White poplin"}),
        f"{AT}/cloth",
    ),
    "/ticket/{name}/cloth/length": (skirt, posts(f"{AT}/cloth/length", by="2"), f"{AT}/cloth"),
    "/ticket/{name}/cloth/cut": (skirt_laid, posts(f"{AT}/cloth/cut"), f"{AT}/cloth"),
    "/ticket/{name}/cloth/uncut": (SKIRT_CUT, posts(f"{AT}/cloth/uncut"), f"{AT}/cloth"),
    "/ticket/{name}/bought/cut": (bought, posts(f"{BOUGHT}/bought/cut", length="60"), BOUGHT),
    "/ticket/{name}/paper/sheet": (skirt_laid, posts(f"{AT}/paper/sheet", sheet="A3"), f"{AT}/paper"),
    "/ticket/{name}/paper/printed": (skirt, posts(f"{AT}/paper/printed", printed="yes"), f"{AT}/paper"),
    "/ticket/{name}/tick": (skirt, posts(f"{AT}/tick", step="sew side_seam", done="yes"), f"{AT}/work"),
    "/ticket/{name}/clock": (skirt, posts(f"{AT}/clock", run="yes"), f"{AT}/work"),
    "/ticket/{name}/log/keep": (skirt, keeps(f"{AT}/log/keep", judged__hip="tight"), f"{AT}/log"),
    "/ticket/{name}/log/finish": (skirt, posts(f"{AT}/log/finish", finished_on="2026-11-25"), f"{AT}/log"),
    "/ticket/{name}/log/photo": (skirt, with_photo(f"{AT}/log/photo"), f"{AT}/log"),
    "/ticket/{name}/log/photo/{number:counted}/away": (
        PHOTOGRAPHED,
        posts(f"{AT}/log/photo/1/away"),
        f"{AT}/log",
    ),
    "/bought": (nothing, SHELVED, f"/bought/{BORDER}"),
    "/bought/{name}/table": (
        SHELVED,
        posts(f"/bought/{BORDER}/table", kind="body", text=CHART.replace("92", "93"), unit="cm"),
        f"/bought/{BORDER}",
    ),
    "/bought/{name}/sewn": (nothing, posts(f"{MILL}/sewn", **SEWN), "/makes"),
    "/bought/{name}/forget": (nothing, posts(f"{MILL}/forget"), "/shelf"),
    "/make/{name}/forget": (nothing, posts(f"{MAKE}/forget"), "/makes"),
    "/make/{name}/photo": (nothing, with_photo(f"{MAKE}/photo"), MAKE),
    "/make/{name}/photo/{number:counted}/away": (
        with_photo(f"{MAKE}/photo"),
        posts(f"{MAKE}/photo/1/away"),
        MAKE,
    ),
    "/people/add": (nothing, posts("/people/add", name="Nils", figure="man", age="40"), "/person/Nils"),
    "/person/{name}/keep": (nothing, keeps("/person/Marit/keep", measure__hip_girth="103"), "/person/Marit"),
    "/person/{name}/forget": (nothing, posts("/person/Marit/forget"), "/people"),
    "/cupboard/add": (
        nothing,
        posts("/cupboard/add", name="Drill", width="140", length="200", colour="sand"),
        "/cloth/Drill",
    ),
    "/cloth/{name}/keep": (nothing, keeps(f"{CLOTH}/keep", colour="cream"), CLOTH),
    "/cloth/{name}/forget": (nothing, posts(f"{CLOTH}/forget"), "/cupboard"),
    "/cloth/{name}/photo": (nothing, with_photo(f"{CLOTH}/photo"), CLOTH),
    "/cloth/{name}/photo/{number:counted}/away": (
        with_photo(f"{CLOTH}/photo"),
        posts(f"{CLOTH}/photo/1/away"),
        CLOTH,
    ),
    "/box/put": (nothing, BOXED, "/box"),
    "/box/{name}/much": (BOXED, posts("/box/Elastic/much", much="20"), "/box"),
    "/box/{name}/out": (BOXED, posts("/box/Elastic/out"), "/box"),
    "/house/demo/clear": (nothing, posts("/house/demo/clear"), "/house"),
}
ASKED_ONLY = {  # they change nothing that is kept, or only begin long work
    *("/undo", "/redo", "/units", "/evening/ask", "/shelf/check", "/shopping/ask", "/draft/{name}/metres"),
    *("/ticket/{name}/look", "/ticket/{name}/exact", "/ticket/{name}/pulls", "/ticket/{name}/paper/packet"),
    *("/ticket/{name}/cloth/tricks", "/ticket/{name}/cloth/longest"),
    *("/jobs/{number:counted}/cancel", "/jobs/{number:counted}/again"),
}
BY_ITS_OWN = {
    "/house/restore",
    "/house/restore/back",
}  # taken back by a button of its own: what was there lies beside the store
AS_ANOTHER = {  # they keep what another of these keeps, and are tried in their own tests
    "/evening/take": "/tickets/new",
    "/ticket/{name}/cloth/take": "/ticket/{name}/cloth/plan",
    "/ticket/{name}/cloth/afresh": "/ticket/{name}/keep",
    "/ticket/{name}/ways": "/ticket/{name}/paper/sheet",
    "/bought/{name}/whole": "/bought/{name}/table",
    "/make/{name}/keep": "/cloth/{name}/keep",
}


def test_no_way_to_change_anything_is_forgotten_here() -> None:
    ways = {route.path for screen in SCREENS for route in screen.ROUTES if "POST" in (route.methods or ())}
    assert ways == {*DEEDS, *ASKED_ONLY, *BY_ITS_OWN, *AS_ANOTHER}


def turned(page: Any, at: str, way: str) -> str:
    """Undo or redo pressed where it stands on a page; the page that comes then."""
    shown = ask(page, "GET", at)
    assert shown.status == 200, at
    found = re.search(rf'<form [^>]*data-turn="{way}">(.*?)</form>', shown.text, re.DOTALL)
    assert found, f"no {way} on {at}"
    assert "disabled" not in found[1], f"{way} is not offered on {at}"
    fields = [
        (name, html.unescape(value)) for name, value in re.findall(r'name="(\w+)" value="([^"]*)"', found[1])
    ]
    answer = form(page, f"/{way}", *fields)
    assert answer.status == 303
    there = answer.headers["location"]
    assert ask(page, "GET", there).status == 200, "it leads to a page that is there"
    return there


@pytest.mark.parametrize("way", DEEDS)
def test_a_deed_is_taken_back_and_done_again_where_it_stands(mill_page: Any, mill: Store, way: str) -> None:
    prepare, do, at = DEEDS[way]
    prepare(mill_page, mill)
    before = everything(mill)
    do(mill_page, mill)
    done = everything(mill)
    assert done != before, "something was done"
    there = turned(mill_page, at, "undo")
    assert everything(mill) == before
    turned(mill_page, there, "redo")
    assert everything(mill) == done


WHERE = (AT, f"{AT}/cloth", f"{AT}/paper", f"{AT}/work", f"{AT}/log", "/tickets", "/cupboard", "/cloth/{}")


@pytest.mark.parametrize("where", WHERE)
def test_a_cut_is_taken_back_whole_wherever_it_shows(mill_page: Any, mill: Store, where: str) -> None:
    skirt_laid(mill_page, mill)
    before = everything(mill)
    cloth = mill.cloth("Grey-green linen")
    assert form(mill_page, f"{AT}/cloth/cut").status == 303
    cut = everything(mill)
    assert cut["cloths"] != before["cloths"]
    where = where.format(slug(cloth.name))
    turned(mill_page, where, "undo")
    assert everything(mill) == before, "cloth, ticket and mark together"
    turned(mill_page, where, "redo")
    assert everything(mill) == cut
    assert "are off the cloth" in ask(mill_page, "GET", f"{AT}/cloth").text


def test_what_was_sewn_since_stays_when_the_cloth_is_put_back(mill_page: Any, mill: Store) -> None:
    skirt_laid(mill_page, mill)
    whole = mill.cloths()
    form(mill_page, f"{AT}/cloth/cut")
    cut = mill.cloths()
    form(mill_page, f"{AT}/tick", step="sew side_seam", done="yes")
    assert form(mill_page, f"{AT}/cloth/uncut").status == 303
    assert mill.cloths() == whole
    assert mill._one(HOW_FAR, SKIRT).said["ticks"] == ["sew side_seam"]
    turned(mill_page, f"{AT}/cloth", "undo")
    assert mill.cloths() == cut
    turned(mill_page, f"{AT}/work", "undo")
    turned(mill_page, AT, "undo")
    assert mill.cloths() == whole


def test_a_rest_that_was_used_since_is_told_and_nothing_is_given_back_by_halves(
    mill_page: Any, mill: Store
) -> None:
    skirt_laid(mill_page, mill)
    form(mill_page, f"{AT}/cloth/cut")
    keep(mill_page, "/cloth/Grey-green+linen/keep", {"colour": "moss"})
    since = everything(mill)
    for way in ((f"{AT}/cloth/uncut", {}), ("/undo", {"scope": f"progress/{SKIRT}", "back": AT})):
        refused = form(mill_page, way[0], **way[1])
        assert refused.status == 422
        assert "Grey-green linen" in refused.text
        assert everything(mill) == since
    assert "grey-green to moss" in html.unescape(refused.text), "what must be taken back first is said"
    turned(mill_page, "/cloth/Grey-green+linen", "undo")
    turned(mill_page, f"{AT}/cloth", "undo")
    assert "are off the cloth" not in ask(mill_page, "GET", f"{AT}/cloth").text


def test_a_cut_marked_by_an_older_clothwise_still_counts_and_can_be_put_back(
    mill_page: Any, mill: Store
) -> None:
    skirt_laid(mill_page, mill)
    whole = mill.cloths()
    plan = plans_of(load(mill, SKIRT).whole, mill._one(HOW_FAR, SKIRT).said, Reader())
    (done,) = cut(mill, SKIRT, plan)
    number = deeds.can(mill, f"cut/{SKIRT}").undo
    assert number is not None
    mark = {
        "deed": number.number, "scope": f"cut/{SKIRT}", "cloth": done.before.name, "used": done.used_cm,
        "left": [one.name for one in done.after], "on": "2026-11-01", "wrote": False,
    }  # fmt: skip
    set_progress(mill, SKIRT, {"cut": mark}, "cut")
    assert "Cut on 2026-11-01" in ask(mill_page, "GET", f"{AT}/cloth").text
    assert form(mill_page, f"{AT}/cloth/cut").status == 422
    assert form(mill_page, f"{AT}/cloth/uncut").status == 303
    assert mill.cloths() == whole
    assert "Cut on" not in ask(mill_page, "GET", f"{AT}/cloth").text


# ---- in a real browser ---------------------------------------------------------------------------


@pytest.mark.page
@pytest.mark.parametrize("narrow", [False, True], ids=["wide", "narrow"])
def test_what_was_taken_back_is_said(opened: Callable[..., Any], narrow: bool) -> None:
    page = opened("/cloth/White+poplin", narrow=narrow)
    colour = page.locator("[data-path=colour]")
    before = colour.input_value()
    colour.fill(f"cream {narrow}")
    colour.press("Tab")
    page.wait_for_selector("#kept:has-text('Kept')")
    page.locator("h1").first.click()
    page.keyboard.press("Control+z")
    page.wait_for_selector("#kept:has-text('Taken back: ')")
    assert colour.input_value() == before
    page.keyboard.press("Control+Shift+z")
    page.wait_for_selector("#kept:has-text('Done again: ')")
    assert colour.input_value() == f"cream {narrow}"
    page.keyboard.press("Control+z")
    page.wait_for_selector("#kept:has-text('Taken back: ')")
    assert axe(page) == []
    assert page.errors == []
