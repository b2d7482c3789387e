"""A ticket that is cut from several cloths: each laid on its own table, moved, and taken off the cupboard."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from clothwise.errors import ClothError
from clothwise.lay.planning import best_plan, fits
from clothwise.store import KeptTicket, Store, deeds
from clothwise.store.store import HOW_FAR
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.web import ticket_work
from clothwise.web.buying_work import shop
from clothwise.web.lay_state import kept_lay, left_wrong, problem_of, standing_lay
from clothwise.web.takeaway import takeaway
from clothwise.web.ticket_state import load
from tests.page_tools import ask, form, keep
from tests.test_page_lay import data_of, laid

SHIFT, FROM, LINING = "Shift", "Grey-green linen", "Fog double gauze"
AT = f"/ticket/{SHIFT}/cloth"


@pytest.fixture
def shift(mill: Store, mill_page: Any) -> str:
    """A shift whose facings come from another cloth; the names of its facings."""
    begin(mill)
    facings = [p.name for p in problem_of(load(mill, SHIFT).whole).pieces if "facing" in p.name]
    assert facings
    assert form(mill_page, f"{AT}/divide", **{f"from.{name}": LINING for name in facings}).status == 303
    return ",".join(facings)


def begin(store: Store) -> None:
    text = write_ticket(Ticket(name=SHIFT, pattern="darted_shift", body_name="Marit", cloth_name=FROM))
    store.keep_ticket(KeptTicket(SHIFT, text, "2026-11-25"))


def said(store: Store) -> Any:
    return store._one(HOW_FAR, SHIFT).said


def test_each_cloth_has_its_own_pieces_and_its_own_lay(mill_page: Any, mill: Store, shift: str) -> None:
    facings = set(shift.split(","))
    told = laid(mill, SHIFT)
    assert {one["cloth"] for kind, one in told if kind == "laid"} == {FROM, LINING}
    main = data_of(ask(mill_page, "GET", AT))["lay"]["copies"]
    other = data_of(ask(mill_page, "GET", f"{AT}?on=Fog+double+gauze"))["lay"]["copies"]
    assert {one["piece"] for one in other} == facings
    assert not facings & {one["piece"] for one in main}
    whole = {p.name for p in problem_of(load(mill, SHIFT).whole).pieces}
    assert {one["piece"] for one in main} == whole


def test_a_hand_on_one_cloth_leaves_the_other_alone(mill_page: Any, mill: Store, shift: str) -> None:
    laid(mill, SHIFT)
    before = kept_lay(said(mill))
    one = data_of(ask(mill_page, "GET", f"{AT}?on=Fog+double+gauze"))["lay"]["copies"][0]
    move = {"piece": one["piece"], "copy": one["copy"], "dx": 5000, "dy": 0, "on": LINING}
    headers = {"content-type": "application/json", "accept": "application/json"}

    def hand(**more: Any) -> Any:
        return ask(mill_page, "POST", f"{AT}/hand", headers=headers, body=json.dumps({**move, **more}).encode())

    assert hand().json["faults"], "off the cloth"
    told = hand(keep=True).json
    assert LINING in told["not_yet"], "told at once why it cannot be cut"
    assert kept_lay(said(mill)) == before
    assert "data-cut disabled" in ask(mill_page, "GET", AT).text
    assert form(mill_page, f"{AT}/cut").status == 422
    wrong = left_wrong(load(mill, SHIFT).whole, said(mill))
    assert wrong is not None
    assert LINING in wrong.what
    with pytest.raises(ClothError, match=LINING):
        takeaway(write_ticket(load(mill, SHIFT).whole), dict(said(mill)), False)
    assert hand(on="").json["refused"]["what"].startswith("There is no such piece"), (
        "it is not on the main cloth"
    )


def test_cutting_takes_from_each_cloth_and_all_of_it_comes_back(
    mill_page: Any, mill: Store, shift: str
) -> None:
    laid(mill, SHIFT)
    before = {cloth.name: cloth for cloth in mill.cloths()}
    assert form(mill_page, f"{AT}/cut").status == 303
    for name in (FROM, LINING):
        now = [c for c in mill.cloths() if c.name.startswith(name)]
        assert sum(c.usable_area_cm2 for c in now) < before[name].usable_area_cm2
    page = ask(mill_page, "GET", AT).text
    assert f"of {FROM}, " in page
    assert f"of {LINING} are off the cloth" in page
    assert form(mill_page, f"{AT}/uncut").status == 303
    assert {cloth.name: cloth for cloth in mill.cloths()} == before


def test_what_cannot_be_divided_so_is_refused_and_nothing_is_kept(mill_page: Any, mill: Store) -> None:
    begin(mill)
    names = [piece.name for piece in problem_of(load(mill, SHIFT).whole).pieces]
    text = mill.ticket(SHIFT).text
    for wrong in (dict.fromkeys(names, LINING), {"wheel": LINING}, {names[0]: "No such cloth"}):
        told = form(mill_page, f"{AT}/divide", **{f"from.{piece}": cloth for piece, cloth in wrong.items()})
        assert told.status in (404, 422)
    assert mill.ticket(SHIFT).text == text


def test_another_cloth_for_one_leaves_the_lay_of_the_other_standing(
    mill_page: Any, mill: Store, shift: str
) -> None:
    laid(mill, SHIFT)
    keep(mill_page, f"/ticket/{SHIFT}/keep", {"cloth": "White poplin"})
    ticket = load(mill, SHIFT).whole
    assert standing_lay(said(mill), ticket) is None
    assert standing_lay(said(mill), ticket, "second_cloth") is not None
    keep(mill_page, f"/ticket/{SHIFT}/keep", {"cloth": LINING})
    assert read_ticket(mill.ticket(SHIFT).text).other_cloths == (), "it is the main cloth now"
    assert deeds.undo(mill, f"ticket/{SHIFT}") is not None
    assert len(read_ticket(mill.ticket(SHIFT).text).other_cloths) == 1


def test_the_takeaway_shows_every_cloth(mill: Store, shift: str) -> None:
    laid(mill, SHIFT)
    text = takeaway(write_ticket(load(mill, SHIFT).whole), dict(said(mill)), False)
    assert text.count('alt="The lay on ') == 2
    made = ticket_work.made_of(mill, SHIFT)
    assert [plan.length for _, plan in made.named] == [
        kept.plan(problem_of(load(mill, SHIFT).whole, place)).length
        for place in ("", "second_cloth")
        if (kept := kept_lay(said(mill), place))
    ]


def test_the_shopping_list_counts_every_cloth(mill: Store, shift: str) -> None:
    heard: list[Any] = []
    shop(mill, {"tickets": [SHIFT], "without_cloth": False}, lambda kind, told: heard.append(told))
    assert {one["cloth"] for one in heard[-1]["cloths"]} == {FROM, LINING}


def test_how_long_it_can_be_is_laid_and_half_a_centimetre_more_is_not(mill_page: Any, mill: Store) -> None:
    text = write_ticket(Ticket("Long", "four_panel_skirt", body_name="Marit", cloth_name="Sand linen remnant"))
    mill.keep_ticket(KeptTicket("Long", text))
    heard: list[Any] = []
    ticket_work.longest(mill, {"ticket": "Long"}, lambda kind, told: heard.append(told))
    (told,) = heard
    assert not told["capped"]
    assert form(mill_page, "/ticket/Long/cloth/length", by=str(told["by"])).status == 303
    assert read_ticket(mill.ticket("Long").text).choices["longer"] == told["by"]
    cloth = load(mill, "Long").cloth
    laid_on = problem_of(load(mill, "Long").whole)
    assert best_plan(laid_on, effort="quick").length <= cloth.usable_length
    keep(mill_page, "/ticket/Long/keep", {"choice.longer": str(told["by"] + 0.5)})
    assert fits(problem_of(load(mill, "Long").whole), effort="quick").plan is None
    assert form(mill_page, "/ticket/Long/cloth/length", by="a mile").status == 422


def test_whether_the_cloth_suits_stands_on_the_ticket(mill_page: Any, mill: Store) -> None:
    begin(mill)
    page = ask(mill_page, "GET", f"/ticket/{SHIFT}").text
    assert f"{FROM} suits it" in page
    keep(mill_page, f"/ticket/{SHIFT}/keep", {"cloth": "Sluice jersey"})
    assert "is drafted for woven cloth; Sluice jersey is knit" in ask(mill_page, "GET", f"/ticket/{SHIFT}").text


@pytest.mark.page
@pytest.mark.parametrize("narrow", [False, True], ids=["1280", "390"])
def test_a_person_divides_lays_and_changes_the_cloth_on_the_table(
    opened: Callable[..., Any], narrow: bool
) -> None:
    page = opened("/ticket/Marit~27s+linen+trousers/cloth", narrow=narrow)
    page.locator(".divided summary").focus()
    if page.locator(".divided[open]").count() == 0:
        page.keyboard.press("Enter")
    piece = page.locator(".divided select").last
    piece.select_option("Fog double gauze")
    page.click("text=Cut them so")
    page.wait_for_selector(".cloths-laid")
    page.select_option("[name=effort]", "quick")
    page.locator("[data-plan] button").first.click()
    page.wait_for_selector(".copy", timeout=120_000)
    page.click(".cloths-laid a >> nth=1")
    page.wait_for_selector(".copy")
    assert "on=Fog+double+gauze" in page.url.replace("%20", "+")
    assert page.locator(".copy").count() >= 1
    assert page.errors == []
