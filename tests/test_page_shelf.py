"""The shelf and the makes at the page: drafts as they come out, charts pasted, sizes told, makes judged."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from clothwise.draft import PATTERNS
from clothwise.store import Store, open_store, seed_demo
from clothwise.web.app import application
from clothwise.web.guard import Allowed
from clothwise.web.shelf import grouped
from tests.page_tools import Answer, ask, axe, sideways

CHART = "size\t10\t12\t14\nbust\t83\t88\t92\nwaist\t65\t70\t75\nhip\t90\t95\t100\n"
DRESS = {"text": CHART, "garment": "dress", "figure": "woman", "fit_class": "fitted", "unit": "cm"}
SKIRT = "/bought/Mill+2+straight+skirt"


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with open_store(tmp_path / "store.sqlite") as opened_store:
        seed_demo(opened_store)
        yield opened_store


@pytest.fixture
def app(store: Store) -> Any:
    return application(store, Allowed(frozenset({"127.0.0.1:8000"})))


def sent(app: Any, path: str, **fields: str) -> Answer:
    """A form as the page sends it."""
    headers = {"content-type": "application/x-www-form-urlencoded"}
    return ask(app, "POST", path, headers=headers, body=urlencode(fields).encode())


# ---- drafts --------------------------------------------------------------------------------------


def test_every_draft_hangs_on_the_shelf_once_with_its_pieces(app: Any) -> None:
    shelf = ask(app, "GET", "/shelf?for=Pilar").text
    assert sorted(d.name for _, drafts in grouped() for d in drafts) == sorted(d.name for d in PATTERNS)
    assert all(f'href="/draft/{draft.name}?for=Pilar"' in shelf for draft in PATTERNS)
    assert shelf.count('class="little"') == len(PATTERNS)


def test_a_draft_that_cannot_be_drawn_for_somebody_says_why(app: Any, store: Store) -> None:
    marit = store.body("Marit")
    store.keep_body(marit.with_measures(hip_girth=60.0))
    shelf = ask(app, "GET", "/shelf?for=Marit").text
    assert "Not for Marit:" in shelf
    assert shelf.count('class="little"') < len(PATTERNS)


def test_the_pieces_follow_the_person(app: Any) -> None:
    def pieces(name: str) -> str:
        page = ask(app, "GET", f"/draft/pull_on_trousers?for={name}").text
        return page[page.index("<svg class=") : page.index("</figure>")]

    assert pieces("Juno") != pieces("Pilar")
    assert pieces("Pilar") == pieces("Pilar")


def test_a_draft_leads_to_a_ticket(app: Any, store: Store) -> None:
    begun = sent(app, "/tickets/new", pattern="circle_skirt", **{"for": "Pilar", "cloth": "Heron chambray"})
    assert begun.status == 303
    assert "Circle skirt for Pilar" in {ticket.name for ticket in store.tickets()}


# ---- bought patterns -----------------------------------------------------------------------------


def test_a_pasted_chart_is_read_before_it_is_kept(app: Any, store: Store) -> None:
    mixed, swapped = CHART.replace("70", "27.5 in"), CHART.replace("\t95", "\t59")
    told = sent(app, "/shelf/check", name="New dress", text=mixed, kind="body").json["html"]
    assert "Body chart" in told
    assert "69.9" in told  # 27.5 inches, told as what was understood
    slipped = sent(app, "/shelf/check", text=swapped, kind="body").json["html"]
    assert "Look again" in slipped
    assert len(store.bought_patterns()) == 5  # nothing was kept


@pytest.mark.parametrize(
    "text", ["hip 90 95 100", "\x00\x01", "size\nbust", "<script>alert(1)</script>\t3\n", "-"]
)
def test_what_is_no_chart_is_told_in_a_sentence(app: Any, text: str) -> None:
    answer = sent(app, "/shelf/check", text=text, kind="body")
    assert answer.status == 200
    assert "<script>" not in answer.json["html"]


def test_a_pattern_is_put_on_the_shelf_taken_off_and_brought_back(app: Any, store: Store) -> None:
    name = "Tuesday <b>dress</b> 50%/2"
    kept = sent(
        app, "/bought", name=name, text=CHART, garment="dress", figure="woman", fit_class="fitted", unit="cm"
    )
    assert kept.status == 303
    page = ask(app, "GET", kept.headers["location"])
    assert page.status == 200
    assert "<b>dress</b>" not in page.text
    assert store.bought_pattern(name).body["waist"][1].middle == 70  # type: ignore[union-attr]
    again = sent(app, "/bought", name=name, text=CHART)
    assert again.status == 422
    assert "on the shelf already" in again.text
    assert sent(app, kept.headers["location"] + "/forget").status == 303
    assert ask(app, "GET", kept.headers["location"]).status == 404
    assert sent(app, "/undo", scope="bought pattern/", back="/shelf").status == 303
    assert ask(app, "GET", kept.headers["location"]).status == 200


def test_finished_measures_go_in_by_view_and_change_the_advice(app: Any, store: Store) -> None:
    sent(
        app, "/bought", name="Plain", text=CHART, garment="dress", figure="woman", fit_class="fitted", unit="cm"
    )
    before = ask(app, "GET", "/bought/Plain?for=Marit").text
    finished = "size\t10\t12\t14\nbust\t89\t94\t98\nwaist\t70\t75\t80\nhip\t98\t103\t108\n"
    assert sent(app, "/bought/Plain/table", text=finished, kind="finished", unit="cm").status == 303
    after = ask(app, "GET", "/bought/Plain?for=Marit").text
    assert store.bought_pattern("Plain").finished[""]["bust"][2].middle == 98  # type: ignore[union-attr]
    assert "no finished" in before.lower()
    assert "no finished" not in after.lower()


def test_the_same_size_is_told_as_at_the_terminal(
    app: Any, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    from typer.testing import CliRunner

    from clothwise.cli.app import app as commands

    monkeypatch.setenv("CLOTHWISE_STORE", store.place)
    said = CliRunner().invoke(commands, ["size", "Mill 2 straight skirt", "--for", "Marit"]).output
    headline = said[said.index("Cut ") : said.index("(")]
    page = ask(app, "GET", "/bought/Mill+2+straight+skirt?for=Marit").text
    told = page[page.index('class="headline">') + 17 :]
    assert told[: told.index("</p>")].split() == headline.split()


def test_a_pattern_too_long_or_broken_is_refused(app: Any) -> None:
    assert sent(app, "/bought", name="Long", text="x" * 70_000).status == 422
    assert sent(app, "/bought", name="", text=CHART).status == 422
    assert sent(app, "/bought", name="Odd", text=CHART, garment="tent").status == 422
    assert sent(app, "/bought", name="Odd", text=CHART, stretch="much").status == 422
    assert sent(app, "/bought/Mill+2+straight+skirt/whole", whole="not = [toml").status == 422


# ---- makes ---------------------------------------------------------------------------------------


def test_what_is_said_of_a_make_teaches_what_is_liked(app: Any, store: Store) -> None:
    def told(**said: str) -> Answer:
        return sent(app, f"{SKIRT}/sewn", **{"for": "Marit", "on": "2026-11-20", "size.hip": "16", **said})

    first = told(**{"say.hip": "tight"})
    assert first.status == 303
    makes = ask(app, "GET", "/makes").text
    assert "Told by First straight skirt, Mill 2 straight skirt for Marit, 2026-11-20" in makes
    second = told(**{"say.hip": "right"})
    assert second.headers["location"] != first.headers["location"]  # the first is not written over
    assert told().status == 422
    assert told(**{"say.hip": "right", "on": "soon"}).status == 422


def test_a_verdict_can_be_changed_and_undone(app: Any, store: Store) -> None:
    def keep(text: str) -> Answer:
        body = json.dumps({"set": {"judged.hip": text}}).encode()
        headers = {"content-type": "application/json", "accept": "application/json"}
        return ask(app, "POST", "/make/First+straight+skirt/keep", headers=headers, body=body)

    def verdict() -> str:
        return {one.level: one.verdict for one in store.make("First straight skirt").judgements}["hip"]

    liked = ask(app, "GET", "/makes").text
    assert keep("right").json["undo"] == "hip: right"
    assert verdict() == "right"
    assert ask(app, "GET", "/makes").text != liked
    assert "refused" in keep("enormous").json
    sent(app, "/undo", scope="make/First straight skirt", back="/makes")
    assert verdict() == "loose"


# ---- in the browser ------------------------------------------------------------------------------

SCREENS = {
    "/shelf": ".hung",
    "/shelf?for=Juno": ".hung",
    "/draft/darted_shift": ".choices",
    "/bought": "[data-paste]",
    "/bought/Mill+1+swing+dress?for=Marit&cloth=Grey-green+linen": ".headline",
    "/makes": ".rail",
    "/make/First+straight+skirt": ".judge",
}


@pytest.mark.page
@pytest.mark.parametrize("path", SCREENS)
@pytest.mark.parametrize(("narrow", "dark"), [(False, False), (True, True)])
def test_the_screens_read_well(opened: Callable[..., Any], path: str, narrow: bool, dark: bool) -> None:
    page = opened(path, narrow=narrow, dark=dark)
    page.wait_for_selector(SCREENS[path])
    assert axe(page) == []
    assert sideways(page) <= 0
    assert page.errors == []


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
