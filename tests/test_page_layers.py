"""The station of cloth shows what is still to be bought, laid on its usual width, with the list's metres."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from typing import Any

import pytest
from shapely.geometry import Polygon

from clothwise.alter import change_of
from clothwise.lay.from_garment import interfacing_pieces
from clothwise.lay.planning import best_plan
from clothwise.lay.problem import LayCloth, LayProblem
from clothwise.lay.verify import faults
from clothwise.shopping.cloths import needs_of_made
from clothwise.shopping.lists import shopping_list
from clothwise.store import KeptTicket, Store
from clothwise.ticket import Ticket, write_ticket
from clothwise.ticket.made import LAYER_WIDTHS, work_out
from clothwise.web.layers_to_buy import INTERFACING, layers_laid, to_buy_for
from clothwise.web.live import drawn
from clothwise.web.sheet import slug
from clothwise.web.ticket_state import load
from tests.page_screens import to_be_bought
from tests.page_tools import NARROW, Answer, ask, axe, form, sideways

LINE = change_of("line", {"seam": "waist", "by": 2.0})
MAKES = {
    "Lined skirt": ("a_line_skirt", "Marit", "Grey-green linen", (LINE,)),
    "Joggers": ("jogger", "Juno", "Sluice jersey", ()),
    "Shift": ("darted_shift", "Marit", "Grey-green linen", ()),
}
NONE = ("Trousers", ("pull_on_trousers", "Marit", "Grey-green linen", ()))


def begun(store: Store, name: str) -> str:
    """A ticket in the store; the address of its station of cloth."""
    draft, body, cloth, changes = {**MAKES, NONE[0]: NONE[1]}[name]
    ticket = Ticket(name=name, pattern=draft, body_name=body, cloth_name=cloth, changes=changes)
    store.keep_ticket(KeptTicket(name, write_ticket(ticket), "2026-11-25"))
    return f"/ticket/{slug(name)}/cloth"


def shown(page: Answer) -> str:
    return html.unescape(re.sub(r"<[^>]+>", " ", page.text))


@pytest.mark.parametrize("name", MAKES)
def test_each_layer_is_laid_and_the_metres_are_those_of_the_shopping_list(mill: Store, name: str) -> None:
    begun(mill, name)
    whole = load(mill, name).whole
    layers = {one["layer"]: one for one in layers_laid(write_ticket(whole), ())}
    needs = needs_of_made(work_out(whole, effort="quick"))
    on_list = {line.sort.split()[0]: line.buy for line in shopping_list(needs)}
    assert {layer: one["buy"] for layer, one in layers.items()} == {
        layer: on_list[layer] for layer in (*LAYER_WIDTHS, INTERFACING) if layer in on_list
    }
    assert layers
    for one in layers.values():
        assert 0 < one["need"] <= one["buy"]
        cut = sum(len(stage["cuts"]) for stage in one["stages"])
        assert cut >= len(one["pieces"]), "every piece is in the picture"


@pytest.mark.parametrize("draft", ["Shift", "Lined skirt"])
def test_interfacing_is_cut_inside_the_seam_lines_of_what_is_backed(mill: Store, draft: str) -> None:
    begun(mill, draft)
    garment = drawn(load(mill, draft).whole)
    pieces = interfacing_pieces(garment)
    backed = {piece.name: piece for piece in garment.pieces if piece.interfaced}
    assert {piece.name for piece in pieces} == set(backed)
    for piece in pieces:
        assert Polygon(piece.outline).area == pytest.approx(backed[piece.name].area_cm2(), rel=0.001)
        assert piece.count == backed[piece.name].copies
    plan = best_plan(LayProblem(pieces, LayCloth(width=90.0)), effort="quick")
    assert not faults(plan)


def test_what_comes_from_a_cloth_of_the_cupboard_is_not_to_be_bought(mill_page: Any, mill: Store) -> None:
    at = begun(mill, "Lined skirt")
    linings = [piece.name for piece in to_buy_for(load(mill, "Lined skirt").whole)["lining"]]
    assert 'data-layers="' in ask(mill_page, "GET", at).text
    from_one = {f"from.{name}": "Fog double gauze" for name in linings[:1]}
    assert form(mill_page, f"{at}/divide", **from_one).status == 303
    assert [p.name for p in to_buy_for(load(mill, "Lined skirt").whole)["lining"]] == linings[1:]
    from_all = {f"from.{name}": "Fog double gauze" for name in linings}
    assert form(mill_page, f"{at}/divide", **from_all).status == 303
    assert set(to_buy_for(load(mill, "Lined skirt").whole)) == {INTERFACING}
    assert "data-layers" not in ask(mill_page, "GET", begun(mill, NONE[0])).text


def test_a_width_of_her_shop_is_laid_and_a_wrong_one_is_told(mill: Store) -> None:
    begun(mill, "Lined skirt")
    text = write_ticket(load(mill, "Lined skirt").whole)
    usual, narrow, tape = (
        {one["layer"]: one for one in layers_laid(text, width)}["lining"]
        for width in ((), (("lining", 90.0),), (("lining", 12.0),))
    )
    assert (usual["width"], narrow["width"]) == (140.0, 90.0)
    assert narrow["need"] > usual["need"]
    assert tape["why"].endswith(".")
    assert "stages" not in tape


# ---- in a real browser ---------------------------------------------------------------------------


@pytest.mark.page
@pytest.mark.parametrize("narrow", [False, True], ids=["wide", "narrow"])
def test_they_stand_at_the_station_and_take_another_width(opened: Callable[..., Any], narrow: bool) -> None:
    page = opened("/tickets", narrow=narrow, dark=narrow)
    to_be_bought(page, "")
    layers = page.locator(".to-buy h3").all_inner_texts()
    assert layers == ["Ribbing", "Thin firm cloth for the pockets"]
    assert all(re.search(r"buy\s\d\.\d\d\sm", words) for words in page.locator(".to-buy").all_inner_texts())
    if narrow:
        assert page.viewport_size == dict(zip(("width", "height"), NARROW, strict=True))
    assert sideways(page) <= 0
    assert axe(page) == []
    wide = page.get_by_label("Ribbing,")
    wide.fill("60")
    wide.press("Enter")
    page.wait_for_selector(".to-buy:has-text('60.0 cm width')")
    assert "wide.rib=60" in page.url, "its address says which width"
    page.get_by_label("Ribbing,").fill("soon")
    page.get_by_label("Ribbing,").press("Enter")
    page.wait_for_selector("[data-layers] .warning:has-text('Ribbing: This cannot be read as a length.')")
    assert page.locator(".to-buy .stage").count() > 0, "on the usual width then"
    page.wait_for_load_state("load")
    assert page.errors == []
