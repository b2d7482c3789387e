"""The station of cloth: remnant and checks drawn, how it is cut, what is left, cut and taken back, tricks."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from clothwise.errors import ClothError
from clothwise.lay.cutting import cutting_sequence
from clothwise.lay.layering import FOLDED
from clothwise.lay.planning import best_plan, plan
from clothwise.store import KeptTicket, Store, jobs
from clothwise.store.store import HOW_FAR
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.web import ticket_work
from clothwise.web.lay_state import KeptLay, endless, kept_lay, lay_mark, left_wrong, problem_of
from clothwise.web.laying import keep_lay
from clothwise.web.live import exact
from clothwise.web.sheet import slug
from clothwise.web.ticket_state import load
from tests.page_tools import Answer, ask, form

APRON = "Apron of the linen remnant"
SKIRT = "Skirt of the linen"


def begun(store: Store, name: str, pattern: str, cloth: str, body: str = "Juno") -> str:
    """A ticket in the store; the address of its station of cloth."""
    text = write_ticket(Ticket(name=name, pattern=pattern, body_name=body, cloth_name=cloth))
    store.keep_ticket(KeptTicket(name, text, "2026-11-25"))
    return f"/ticket/{slug(name)}/cloth"


def laid(store: Store, name: str) -> list[tuple[str, Any]]:
    """Laid as the worker does it; what it told."""
    told: list[tuple[str, Any]] = []
    ticket_work.lay(
        store,
        {"ticket": name, "effort": "quick", "afresh": False},
        lambda kind, said: told.append((kind, said)),
    )
    return told


def plan_of(store: Store, name: str) -> Any:
    kept = kept_lay(store._one(HOW_FAR, name).said)
    assert kept is not None
    return kept.plan(problem_of(load(store, name).whole))


def data_of(page: Answer) -> Any:
    found = re.search(r'<script type="application/json" id="data">(.*?)</script>', page.text, re.DOTALL)
    assert found
    return json.loads(found[1])


def polygons(path: str) -> Iterator[Polygon]:
    """Closed outlines of SVG path data."""
    for part in path.split("Z"):
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", part)]
        if numbers:
            yield Polygon(list(zip(numbers[::2], numbers[1::2], strict=True)))


def area(path: str) -> float:
    return float(sum(one.area for one in polygons(path)))


# ---- what is drawn -------------------------------------------------------------------------------


def test_a_remnant_is_laid_within_its_own_outline_and_drawn_with_it(mill_page: Any, mill: Store) -> None:
    at = begun(mill, APRON, "apron", "Sand linen remnant")
    laid(mill, APRON)
    lay = data_of(ask(mill_page, "GET", at))["lay"]
    (outline,) = polygons(lay["outline"])
    assert outline.area == pytest.approx(95 * 136 - 37 * 48)  # a corner is missing
    for copy in lay["copies"]:
        for piece in polygons(copy["path"]):
            assert outline.buffer(0.05).contains(piece), copy["title"]
    assert lay["faults"] == []


def test_the_stages_show_every_cut_and_how_the_cloth_lies(mill_page: Any, mill: Store) -> None:
    at = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    laid(mill, SKIRT)
    page, made = ask(mill_page, "GET", at), plan_of(mill, SKIRT)
    for words in cutting_sequence(made):
        assert f"<p>{words}</p>" in page.text.replace("&#39;", "'")
    assert page.text.count('class="cut-out') == made.cuts


def test_what_is_left_lies_on_free_cloth_and_is_told(mill_page: Any, mill: Store) -> None:
    at = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    laid(mill, SKIRT)
    page = ask(mill_page, "GET", at)
    lay = data_of(page)["lay"]
    pieces = unary_union([one for copy in lay["copies"] for one in polygons(copy["path"])])
    kept = [one for path in lay["left"] for one in polygons(path)]
    assert kept
    assert all(one.intersection(pieces).area < 0.5 for one in kept)
    assert sum(one.area for one in kept) > 0.9 * lay["width"] * (lay["have"] - lay["length"])
    assert "What is left" in page.text
    assert re.search(r"<li>[\d.]+ m long, [\d.]+ cm wide", page.text)


def test_checks_are_drawn_where_they_must_fall(mill_page: Any, mill: Store) -> None:
    at = begun(mill, "Checked", "four_panel_skirt", "Quay check brushed cotton")
    laid(mill, "Checked")
    lay = data_of(ask(mill_page, "GET", at))["lay"]
    bars, stripes = lay["stripes"]
    xs = [float(x) for x in re.findall(r"M([\d.]+) 0V", bars)]
    assert {round(b - a, 2) for a, b in pairwise(xs)} == {6.0}
    ys = sorted(float(y) for y in re.findall(r"M0 ([\d.]+)H", stripes))
    assert {round(b - a, 2) for a, b in pairwise(ys)} == {5.0}


# ---- cut -----------------------------------------------------------------------------------------


def test_cutting_leaves_the_remnant_and_the_ticket_its_lay(mill_page: Any, mill: Store) -> None:
    at = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    laid(mill, SKIRT)
    whole, made = mill.cloth("Grey-green linen"), plan_of(mill, SKIRT)
    assert "take it off the cloth" in ask(mill_page, "GET", at).text
    assert form(mill_page, f"{at}/cut").status == 303
    rest = mill.cloth("Grey-green linen")
    assert rest.usable_area_cm2 < whole.usable_area_cm2 - 0.9 * sum(
        Polygon(p.outline_on_cloth(next(q for q in made.problem.pieces if q.name == p.piece))).area
        for p in made.placements
    )
    page = ask(mill_page, "GET", at)
    assert "are off the cloth" in page.text
    assert "changed since it was laid" not in page.text, "the ticket keeps the cloth that it was cut from"
    assert data_of(page)["lay"]["length"] == pytest.approx(made.length)
    assert form(mill_page, f"{at}/cut").status == 422, "no cloth is cut twice"
    assert form(mill_page, f"{at}/plan", effort="quick").status == 422


def test_a_cut_is_taken_back_even_after_work_has_begun(mill_page: Any, mill: Store) -> None:
    at = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    laid(mill, SKIRT)
    whole = mill.cloths()
    form(mill_page, f"{at}/cut")
    assert mill.cloths() != whole
    said = {**mill._one(HOW_FAR, SKIRT).said, "ticks": ["1"]}
    mill._keep(HOW_FAR, type(mill._one(HOW_FAR, SKIRT))(SKIRT, said))
    assert form(mill_page, f"{at}/uncut").status == 303
    assert mill.cloths() == whole
    assert mill._one(HOW_FAR, SKIRT).said["ticks"] == ["1"]
    assert read_ticket(mill.ticket(SKIRT).text).cloth is None, "it follows the cupboard again"
    page = ask(mill_page, "GET", at)
    assert "take it off the cloth" in page.text
    assert "changed since it was laid" not in page.text
    assert form(mill_page, f"{at}/uncut").status == 422


def test_a_second_ticket_on_the_same_cloth_is_told_that_it_was_cut(mill_page: Any, mill: Store) -> None:
    first = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    begun(mill, "Second", "four_panel_skirt", "Grey-green linen", "Marit")
    whole = load(mill, "Second").whole
    mill.keep_ticket(KeptTicket("Second", write_ticket(whole), "2026-11-25"))  # its cloth written on it
    laid(mill, SKIRT)
    laid(mill, "Second")
    form(mill_page, f"{first}/cut")
    page = ask(mill_page, "GET", "/ticket/Second/cloth")
    assert "is not in the cupboard as it stands on this ticket" in page.text
    assert "take it off the cloth" not in page.text
    refused = form(mill_page, "/ticket/Second/cloth/cut")
    assert refused.status == 422
    assert "no longer as it was" in refused.text
    form(mill_page, "/ticket/Second/cloth/afresh")
    assert load(mill, "Second").cloth == mill.cloth("Grey-green linen")


def test_nothing_is_cut_that_was_not_laid_or_does_not_lie_on_the_cloth(mill_page: Any, mill: Store) -> None:
    at = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    assert form(mill_page, f"{at}/cut").status == 422
    short = begun(mill, "Short", "four_panel_skirt", "Fog double gauze", "Pilar")
    mill.keep_cloth(mill.cloth("Fog double gauze").changed(length=70.0))
    before = mill.cloths()
    laid(mill, "Short")
    told = ask(mill_page, "GET", short).text
    assert "data-cut disabled" in told, "told beforehand, not after the click"
    assert "of Fog double gauze; there are 0.70 m. Lay it anew, make it smaller" in told
    assert form(mill_page, f"{short}/cut").status == 422
    assert mill.cloths() == before


# ---- tricks --------------------------------------------------------------------------------------


def test_a_trick_tells_what_it_saves_and_costs_and_one_can_be_taken(mill_page: Any, mill: Store) -> None:
    at = begun(mill, "Shift", "darted_shift", "Grey-green linen", "Marit")
    whole = load(mill, "Shift").whole
    folded = plan(endless(problem_of(whole)), FOLDED, effort="quick")
    keep_lay(mill, "Shift", KeptLay(lay_mark(whole), FOLDED, folded.placements), "Laid")
    number = jobs.ask(mill, "tricks", {"ticket": "Shift"})
    ticket_work.tricks(mill, {"ticket": "Shift"}, lambda kind, told: jobs.tell(mill, number, kind, told))
    offers = {one.told["title"]: one.told for one in jobs.news(mill, number)}
    opened = next(told for title, told in offers.items() if "lay the cloth open" in title)
    joined = next(told for title, told in offers.items() if "with a seam" in title)
    assert opened["saves"] == pytest.approx(folded.length - opened["length"])
    assert opened["saves"] >= 3
    assert "More to cut" in opened["costs"]
    assert "minutes" in joined["costs"]

    def take(told: Any, job: str = str(number)) -> int:
        return form(mill_page, f"{at}/take", job=job, number=str(told["number"])).status

    assert take(joined) == 422, "its pieces are others than the ticket's"
    assert take(opened, job="999") == 422
    assert take(opened) == 303
    assert plan_of(mill, "Shift").length == pytest.approx(opened["length"])
    assert data_of(ask(mill_page, "GET", at))["lay"]["faults"] == []


def test_a_first_look_finds_the_legs_side_by_side(mill: Store) -> None:
    """Fronts and backs one behind the other take 2.03 m; turned against each other, a good deal less."""
    name, told = "Marit's linen trousers", load(mill, "Marit's linen trousers").whole
    laid(mill, name)
    first = plan_of(mill, name).length
    seen = exact(mill.place, write_ticket(told))["cloth"]["length"]
    assert first <= seen <= first + 0.1, "the ticket's head and its cloth tell the same"
    assert first <= 1.05 * best_plan(endless(problem_of(told)), effort="usual").length, "built alone: 1.28"


# ---- as it is wished -----------------------------------------------------------------------------


def wished(mill_page: Any, store: Store, name: str, **form_: str) -> Any:
    """Laid by the form of the page, the worker's part done here; the lay that is kept."""
    told = form(mill_page, f"/ticket/{slug(name)}/cloth/plan", **{"effort": "quick", **form_})
    assert told.status == 303, told.text
    number = int(told.headers["location"].rpartition("=")[2])
    ticket_work.lay(store, jobs.job(store, number).asked, lambda kind, said: None)
    return plan_of(store, name)


def nearest(made: Any) -> float:
    """How close any two pieces lie on the opened cloth. [cm]"""
    pieces = {piece.name: piece for piece in made.problem.pieces}
    shapes = [Polygon(one.outline_on_cloth(pieces[one.piece])) for one in made.placements]
    return float(min(a.distance(b) for n, a in enumerate(shapes) for b in shapes[:n]))


def test_the_gap_for_the_blade_is_left_between_all_pieces_and_stays_with_the_lay(
    mill_page: Any, mill: Store
) -> None:
    at = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    usual = wished(mill_page, mill, SKIRT)
    wide = wished(mill_page, mill, SKIRT, gap="2")
    assert nearest(usual) == pytest.approx(0.3, abs=0.05)
    assert nearest(wide) >= 1.98
    page = ask(mill_page, "GET", at)
    assert 'name="gap" size="4" inputmode="decimal" autocomplete="off" value="2.0"' in page.text
    assert data_of(page)["lay"]["faults"] == []
    assert form(mill_page, f"{at}/cut").status == 303


def test_an_edge_is_turned_in_as_deep_as_is_said(mill_page: Any, mill: Store) -> None:
    at = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    made = wished(mill_page, mill, SKIRT, near="40")
    assert str(made.layering) == "partial fold of 40.0 cm"
    for wrong in ({"near": "200"}, {"near": "40", "folded": "single layer"}, {"far": "-3"}, {"seconds": "0"}):
        assert form(mill_page, f"{at}/plan", effort="quick", **wrong).status == 422, wrong
    for wrong in ({"seconds": "9999"}, {"seconds": "long"}, {"gap": "wide"}, {"effort": "raced"}):
        assert form(mill_page, f"{at}/plan", **wrong).status == 422, wrong


def test_the_first_bar_is_where_it_was_measured(mill_page: Any, mill: Store) -> None:
    at = begun(mill, "Checked", "four_panel_skirt", "Quay check brushed cotton")
    made = wished(mill_page, mill, "Checked", bar="2.5")
    page = ask(mill_page, "GET", at).text
    assert 'value="2.5" placeholder="found"' in page
    assert 'autocomplete="off" value="" placeholder="found"' in page, "found is not measured"
    assert data_of(ask(mill_page, "GET", at))["lay"]["faults"] == []
    made = wished(mill_page, mill, "Checked", bar="2.5", stripe="1", folded="single layer")
    lay = data_of(ask(mill_page, "GET", at))["lay"]
    bars, stripes = lay["stripes"]
    assert {float(x) % 6 for x in re.findall(r"M([\d.]+) 0V", bars)} == {2.5}
    width = made.problem.cloth.width
    assert {round((width - float(y)) % 5, 1) for y in re.findall(r"M0 ([\d.]+)H", stripes)} == {1.0}
    assert lay["faults"] == [], "the pieces match the stripes there"


def test_a_race_by_the_clock_tells_what_is_left_and_keeps_the_shortest(mill: Store) -> None:
    begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    told: list[tuple[str, Any]] = []
    ticket_work.lay(mill, {"ticket": SKIRT, "seconds": 2.0}, lambda kind, said: told.append((kind, said)))
    left = [said["left"] for kind, said in told if kind == "clock"]
    assert left[0] == 2
    assert left == sorted(left, reverse=True)
    lengths = [said["length"] for kind, said in told if kind == "laid"]
    assert lengths == sorted(lengths, reverse=True)
    assert plan_of(mill, SKIRT).length == pytest.approx(lengths[-1])


# ---- what is made of it --------------------------------------------------------------------------


def test_the_kept_lay_is_taken_along_where_no_other_would_be_found(
    mill: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    ticket_work.lay(mill, {"ticket": SKIRT, "effort": "usual"}, lambda kind, said: None)

    def none_found(*_args: Any, **_more: Any) -> None:
        raise AssertionError("a cloth that is laid is not laid again")

    monkeypatch.setattr("clothwise.ticket.made.laid", none_found)
    made, kept = ticket_work.made_of(mill, SKIRT), plan_of(mill, SKIRT)
    assert made.plan.placements == kept.placements
    assert made.cuts == kept.cuts


def test_a_lay_longer_than_its_cloth_is_told_before_anything_is_made_on_it(mill: Store) -> None:
    begun(mill, "Short", "four_panel_skirt", "Fog double gauze", "Pilar")
    mill.keep_cloth(mill.cloth("Fog double gauze").changed(length=70.0))
    laid(mill, "Short")
    wrong = left_wrong(load(mill, "Short").whole, mill._one(HOW_FAR, "Short").said)
    assert wrong is not None
    assert "there are 0.70 m" in wrong.what
    with pytest.raises(ClothError, match=r"there are 0\.70 m"):
        ticket_work.made_of(mill, "Short")


def test_pieces_lean_off_their_grain_and_either_side_serves_only_where_that_is_said(
    mill_page: Any, mill: Store
) -> None:
    at = begun(mill, SKIRT, "four_panel_skirt", "Grey-green linen", "Marit")
    made = wished(mill_page, mill, SKIRT, lean="3", either_side="yes", folded="single layer")
    assert {piece.lean for piece in made.problem.pieces} == {3.0}
    assert made.problem.cloth.two_right_sides
    page = ask(mill_page, "GET", at)
    assert data_of(page)["lay"]["faults"] == []
    assert 'name="either_side" value="yes" checked' in page.text
    assert wished(mill_page, mill, SKIRT, folded="single layer").problem.pieces[0].lean == 0
    for wrong in ("80", "-3", "steep"):
        assert form(mill_page, f"{at}/plan", effort="quick", lean=wrong).status == 422, wrong
