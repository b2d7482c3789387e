"""The shelf and the makes at the page: drafts as they come out, charts pasted, sizes told, makes judged."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from clothwise.draft import PATTERNS
from clothwise.store import Store
from clothwise.ticket.bought_ticket import is_bought, read_bought_ticket
from clothwise.web.shelf import grouped
from tests.page_tools import Answer, ask, form, keep

CHART = "size\t10\t12\t14\nbust\t83\t88\t92\nwaist\t65\t70\t75\nhip\t90\t95\t100\n"
DRESS = {"text": CHART, "garment": "dress", "figure": "woman", "fit_class": "fitted", "unit": "cm"}
SKIRT = "/bought/Mill+2+straight+skirt"


# ---- drafts --------------------------------------------------------------------------------------


def test_every_draft_hangs_on_the_shelf_once_with_its_pieces(mill_page: Any) -> None:
    shelf = ask(mill_page, "GET", "/shelf?for=Pilar").text
    assert sorted(d.name for _, drafts in grouped() for d in drafts) == sorted(d.name for d in PATTERNS)
    assert all(f'href="/draft/{draft.name}?for=Pilar"' in shelf for draft in PATTERNS)
    assert shelf.count('class="little"') == len(PATTERNS)


def test_a_draft_that_cannot_be_drawn_for_somebody_says_why(mill_page: Any, mill: Store) -> None:
    mill.keep_body(mill.body("Marit").with_measures(body_rise=45.0))
    shelf = ask(mill_page, "GET", "/shelf?for=Marit").text
    assert "Not for Marit:" in shelf
    assert 0 < shelf.count('class="little"') < len(PATTERNS), "skirts and tops are still drawn"


def test_what_every_draft_would_say_is_said_once(mill_page: Any, mill: Store) -> None:
    mill.keep_body(mill.body("Marit").with_measures(hip_girth=60.0))
    shelf = ask(mill_page, "GET", "/shelf?for=Marit").text
    assert shelf.count("Nothing can be drawn for Marit yet.") == 1
    assert "Not for Marit:" not in shelf


def test_the_pieces_follow_the_person(mill_page: Any) -> None:
    def pieces(name: str) -> str:
        page = ask(mill_page, "GET", f"/draft/pull_on_trousers?for={name}").text
        return page[page.index("<svg class=") : page.index("</figure>")]

    assert pieces("Juno") != pieces("Pilar")
    assert pieces("Pilar") == pieces("Pilar")


def test_a_draft_leads_to_a_ticket(mill_page: Any, mill: Store) -> None:
    begun = form(
        mill_page, "/tickets/new", pattern="circle_skirt", **{"for": "Pilar", "cloth": "Heron chambray"}
    )
    assert begun.status == 303
    assert "Circle skirt for Pilar" in {ticket.name for ticket in mill.tickets()}


# ---- bought patterns -----------------------------------------------------------------------------


def test_a_pasted_chart_is_read_before_it_is_kept(mill_page: Any, mill: Store) -> None:
    mixed, swapped = CHART.replace("70", "27.5 in"), CHART.replace("\t95", "\t59")
    told = form(mill_page, "/shelf/check", name="New dress", text=mixed, kind="body").json["html"]
    assert "Body chart" in told
    assert "69.9" in told  # 27.5 inches, told as what was understood
    slipped = form(mill_page, "/shelf/check", text=swapped, kind="body").json["html"]
    assert "Look again" in slipped
    assert len(mill.bought_patterns()) == 5  # nothing was kept


@pytest.mark.parametrize(
    "text", ["hip 90 95 100", "\x00\x01", "size\nbust", "<script>alert(1)</script>\t3\n", "-"]
)
def test_what_is_no_chart_is_told_in_a_sentence(mill_page: Any, text: str) -> None:
    answer = form(mill_page, "/shelf/check", text=text, kind="body")
    assert answer.status == 200
    assert "<script>" not in answer.json["html"]


def test_a_pattern_is_put_on_the_shelf_taken_off_and_brought_back(mill_page: Any, mill: Store) -> None:
    name = "Tuesday <b>dress</b> 50%/2"
    kept = form(mill_page, "/bought", name=name, **DRESS)
    assert kept.status == 303
    page = ask(mill_page, "GET", kept.headers["location"])
    assert page.status == 200
    assert "<b>dress</b>" not in page.text
    assert mill.bought_pattern(name).body["waist"][1].middle == 70  # type: ignore[union-attr]
    again = form(mill_page, "/bought", name=name, text=CHART)
    assert again.status == 422
    assert "on the shelf already" in again.text
    assert form(mill_page, kept.headers["location"] + "/forget").status == 303
    assert ask(mill_page, "GET", kept.headers["location"]).status == 404
    assert form(mill_page, "/undo", scope="bought pattern/", back="/shelf").status == 303
    assert ask(mill_page, "GET", kept.headers["location"]).status == 200


def test_finished_measures_go_in_by_view_and_change_the_advice(mill_page: Any, mill: Store) -> None:
    form(mill_page, "/bought", name="Plain", **DRESS)
    before = ask(mill_page, "GET", "/bought/Plain?for=Marit").text
    finished = "size\t10\t12\t14\nbust\t89\t94\t98\nwaist\t70\t75\t80\nhip\t98\t103\t108\n"
    assert form(mill_page, "/bought/Plain/table", text=finished, kind="finished", unit="cm").status == 303
    after = ask(mill_page, "GET", "/bought/Plain?for=Marit").text
    assert mill.bought_pattern("Plain").finished[""]["bust"][2].middle == 98  # type: ignore[union-attr]
    assert "no finished" in before.lower()
    assert "no finished" not in after.lower()


def test_the_same_size_is_told_as_at_the_terminal(
    mill_page: Any, mill: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    from typer.testing import CliRunner

    from clothwise.cli.app import app as commands

    monkeypatch.setenv("CLOTHWISE_STORE", mill.place)
    said = CliRunner().invoke(commands, ["size", "Mill 2 straight skirt", "--for", "Marit"]).output
    headline = said[said.index("Cut ") : said.index("(")]
    page = ask(mill_page, "GET", "/bought/Mill+2+straight+skirt?for=Marit").text
    told = page[page.index('class="headline">') + 17 :]
    assert told[: told.index("</p>")].split() == headline.split()


def told_size(page: str) -> str:
    """All that is told of the size, as words."""
    told = page[page.index('class="told"') :]
    return " ".join(told[: told.index("<section")].split())


def test_ease_and_length_wished_for_change_what_is_told(mill_page: Any) -> None:
    as_usual = told_size(ask(mill_page, "GET", f"{SKIRT}?for=Marit").text)
    roomy = ask(mill_page, "GET", f"{SKIRT}?for=Marit&ease.hip=20&longer=").text
    assert "20" in told_size(roomy)
    assert told_size(roomy) != as_usual
    assert 'name="ease.hip" value="20"' in roomy
    assert 'name="ease.bust"' not in roomy, "a skirt has no bust"
    cloth = "cloth=Grey-green+linen"
    for wrong in (f"{cloth}&width=140", f"{cloth}&shrinks=5"):
        page = ask(mill_page, "GET", f"{SKIRT}?for=Marit&{wrong}").text
        assert "has its own width and shrinkage" in page
        assert 'name="width"' in page, "it can be emptied"
    for wrong in ("ease.hip=lots", "longer=much", "width=wide", "nap=up", "shrinks=90", "shrinks=x"):
        page = ask(mill_page, "GET", f"{SKIRT}?for=Marit&{wrong}")
        assert page.status == 200
        assert 'class="warning" role="alert"' in page.text, wrong
        assert 'class="told"' not in page.text


def test_a_cloth_still_to_be_bought_is_told_as_at_the_terminal(
    mill_page: Any, mill: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    from typer.testing import CliRunner

    from clothwise.cli.app import app as commands

    monkeypatch.setenv("CLOTHWISE_STORE", mill.place)
    asked = ["--width", "140", "--nap", "one-way", "--shrinks", "5", "--longer", "12", "--ease", "waist=4"]
    said = CliRunner().invoke(commands, ["size", "Mill 2 straight skirt", "--for", "Marit", *asked]).output
    bought = re.findall(r"[Bb]uy [\d.]+ m", " ".join(said.split()))[0]  # main cloth; then any lining
    query = "for=Marit&width=140&nap=one-way&shrinks=5&longer=12&ease.waist=4"
    page = ask(mill_page, "GET", f"{SKIRT}?{query}").text
    assert bought in told_size(page)
    plain = told_size(ask(mill_page, "GET", f"{SKIRT}?for=Marit&width=140").text)
    assert bought not in plain, "one way, shrinking and longer takes more"


def test_what_was_wished_for_goes_onto_the_ticket_and_is_changed_there(mill_page: Any, mill: Store) -> None:
    cloth = next(c for c in mill.cloths() if c.make == "woven" and not c.outline)
    wish = {"longer": "5", "ease.hip": "20", "ease.waist": ""}
    begun = form(
        mill_page,
        "/tickets/bought",
        bought="Mill 2 straight skirt",
        cloth=cloth.name,
        **{"for": "Marit"},
        **wish,
    )
    at = begun.headers["location"]
    assert 'name="ease.hip" value="20' in ask(mill_page, "GET", at).text
    wished = next(read_bought_ticket(t.text) for t in mill.tickets() if is_bought(t.text))
    assert (wished.longer, dict(wished.ease)) == (5, {"hip": 20})
    roomy = told_size(ask(mill_page, "GET", at).text)
    assert form(mill_page, f"{at}/bought/settle", skill="beginner").status == 303  # says nothing of wishes
    assert told_size(ask(mill_page, "GET", at).text) == roomy
    assert form(mill_page, f"{at}/bought/settle", **{**wish, "longer": "", "ease.hip": ""}).status == 303
    assert told_size(ask(mill_page, "GET", at).text) != roomy
    assert form(mill_page, f"{at}/bought/settle", longer="far").status == 422


def test_a_pattern_too_long_or_broken_is_refused(mill_page: Any) -> None:
    assert form(mill_page, "/bought", name="Long", text="x" * 70_000).status == 422
    assert form(mill_page, "/bought", name="", text=CHART).status == 422
    assert form(mill_page, "/bought", name="Odd", text=CHART, garment="tent").status == 422
    assert form(mill_page, "/bought", name="Odd", text=CHART, stretch="much").status == 422
    assert form(mill_page, "/bought/Mill+2+straight+skirt/whole", whole="not = [toml").status == 422


# ---- makes ---------------------------------------------------------------------------------------


def test_what_is_said_of_a_make_teaches_what_is_liked(mill_page: Any, mill: Store) -> None:
    def told(**said: str) -> Answer:
        return form(
            mill_page, f"{SKIRT}/sewn", **{"for": "Marit", "on": "2026-11-20", "size.hip": "16", **said}
        )

    first = told(**{"say.hip": "tight"})
    assert first.status == 303
    makes = ask(mill_page, "GET", "/makes").text
    assert "Told by First straight skirt, Mill 2 straight skirt for Marit, 2026-11-20" in makes
    second = told(**{"say.hip": "right"})
    assert second.headers["location"] != first.headers["location"]  # the first is not written over
    assert told().status == 422
    assert told(**{"say.hip": "right", "on": "soon"}).status == 422


def test_a_verdict_can_be_changed_and_undone(mill_page: Any, mill: Store) -> None:
    def judge(text: str) -> Any:
        return keep(mill_page, "/make/First+straight+skirt/keep", {"judged.hip": text})

    def verdict() -> str:
        return {one.level: one.verdict for one in mill.make("First straight skirt").judgements}["hip"]

    liked = ask(mill_page, "GET", "/makes").text
    assert judge("right")["undo"] == "hip: right"
    assert verdict() == "right"
    assert ask(mill_page, "GET", "/makes").text != liked
    assert "refused" in judge("enormous")
    form(mill_page, "/undo", scope="make/First straight skirt", back="/makes")
    assert verdict() == "loose"


# ---- in the browser ------------------------------------------------------------------------------


@pytest.mark.page
def test_a_chart_is_pasted_checked_and_kept_by_keyboard(opened: Callable[..., Any]) -> None:
    page = opened("/bought", narrow=True)
    page.get_by_label("Called").fill("Keyboard dress")
    page.get_by_label("Its body chart").fill(CHART.replace("\t95", "\t59"))
    page.wait_for_selector("[data-read] .note")
    page.reload()  # as if the window had been closed
    assert page.get_by_label("Called").input_value() == "Keyboard dress"
    page.get_by_label("Its body chart").fill(CHART)
    page.wait_for_selector("[data-read] table")
    page.get_by_role("button", name="Put it on the shelf").first.press("Enter")
    page.wait_for_selector("h1:has-text('Keyboard dress')")
    page.locator("select[name=for]").first.select_option("Marit")
    page.get_by_role("button", name="Which size to cut").press("Enter")
    page.wait_for_selector(".headline")
    assert "Cut" in page.locator(".headline").inner_text()
    assert page.errors == []


@pytest.mark.page
@pytest.mark.parametrize("pattern", ["Mill+1+swing+dress", "Mill+2+straight+skirt"])
def test_the_ringed_size_of_a_wide_table_is_in_sight_on_a_phone(opened: Any, pattern: str) -> None:
    page = opened(f"/bought/{pattern}?for=Marit", narrow=True)
    page.wait_for_load_state("load")
    page.wait_for_timeout(200)
    chart = page.locator(".told .chart").bounding_box()
    names = page.locator(".told .chart tbody th").first.bounding_box()
    assert page.evaluate("(c => c.scrollWidth > c.clientWidth)(document.querySelector('.told .chart'))")
    assert abs(names["x"] - chart["x"]) <= 1, "the names of the rows stay"
    for ring in page.locator(".told .cut-here").all():
        box = ring.bounding_box()
        assert names["x"] + names["width"] - 1 <= box["x"]
        assert box["x"] + box["width"] <= chart["x"] + chart["width"] + 1
