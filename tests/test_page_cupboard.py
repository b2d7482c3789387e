"""The cupboard at the page: cloths typed, tested at home, pulled into shape, marked with flaws."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from clothwise.cloth import Cloth
from clothwise.store import Store, open_store, seed_demo
from clothwise.web.app import application
from clothwise.web.guard import Allowed
from tests.page_tools import Answer, ask, axe, sideways

LINEN = "Grey-green+linen"


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with open_store(tmp_path / "store.sqlite") as opened_store:
        seed_demo(opened_store)
        yield opened_store


@pytest.fixture
def app(store: Store) -> Any:
    return application(store, Allowed(frozenset({"127.0.0.1:8000"})))


def sent(app: Any, path: str, **fields: str) -> Answer:
    headers = {"content-type": "application/x-www-form-urlencoded"}
    return ask(app, "POST", path, headers=headers, body=urlencode(fields).encode())


def kept(app: Any, entries: dict[str, str], cloth: str = LINEN, **headers: str) -> Any:
    sent_as = {"content-type": "application/json", "accept": "application/json", **headers}
    return ask(
        app, "POST", f"/cloth/{cloth}/keep", headers=sent_as, body=json.dumps({"set": entries}).encode()
    ).json


def linen(store: Store) -> Cloth:
    return store.cloth("Grey-green linen")


def test_a_ruler_test_is_worked_out(app: Any, store: Store) -> None:
    told = kept(app, {"stretch_across": "10 to 12.5"})
    assert linen(store).stretch_across == pytest.approx(0.25)
    assert told["says"]["stretch_across"] == "25 %"
    assert any("pull out to 12.5" in one for one in told["facts"])
    kept(app, {"drape": "edge 4.4"})
    assert linen(store).drape == pytest.approx(0.60, abs=0.02)
    assert kept(app, {"drape": ""})["says"]["drape"] == ""
    assert linen(store).drape is None  # not known again, so its kind's figure is shown


def test_a_figure_that_is_only_looked_at_is_not_rounded(app: Any, store: Store) -> None:
    kept(app, {"width": "54 3/8 in"})
    width = linen(store).width
    shown = kept(app, {"fibre": "linen"})["says"]["width"]
    kept(app, {"width": shown})
    assert linen(store).width == width


def test_a_remnant_gets_its_shape_and_its_flaws(app: Any, store: Store) -> None:
    told = kept(
        app, {"outline": "0x0 95x0 95x80 60x136 0x136", "flaws": "40x40 46x40 46x46 40x46;10x10 20x10 10x20"}
    )
    cloth = linen(store)
    assert (cloth.length, cloth.width, len(cloth.flaws)) == (95, 136, 2)
    assert cloth.usable_area_cm2 == pytest.approx(95 * 136 - 35 * 56 / 2 - 36 - 50)
    assert told["shape"]["remnant"]
    assert "2 flaws" in told["told"]
    kept(app, {"flaws": ""})
    assert linen(store).flaws == ()
    assert "refused" in kept(app, {"outline": "0x0 95x80 95x0 0x80"})  # it crosses itself
    assert linen(store).outline == cloth.outline
    kept(app, {"outline": ""})
    assert linen(store).outline == ()


IMPOSSIBLE = (
    *(("width", ""), ("width", "wide"), ("length", "-3"), ("weight", "heavy"), ("kind", "moonlight")),
    *(("nap", "up"), ("drape", "edge"), ("stretch_across", "10 to 5"), ("washed", "perhaps"), ("tail", "1")),
    *(("season.monsoon", "yes"), ("outline", "x" * 4500)),
)


@pytest.mark.parametrize(("field", "text"), IMPOSSIBLE)
def test_what_cannot_be_is_told_at_its_field_and_changes_nothing(
    app: Any, store: Store, field: str, text: str
) -> None:
    before = linen(store)
    told = kept(app, {field: text})
    assert told["refused"]["what"]
    assert told["refused"]["path"] == field
    assert linen(store) == before


def test_inches_are_inches_and_the_drawing_stays_in_centimetres(app: Any, store: Store) -> None:
    kept(app, {"length": "2 ft"}, cookie="units=inch")
    assert linen(store).length == pytest.approx(60.96)
    kept(app, {"outline": "0x0 50x0 50x100 0x138"}, cookie="units=inch")
    assert (linen(store).length, linen(store).width) == (50, 138)


def test_every_change_can_be_undone(app: Any, store: Store) -> None:
    before = linen(store)
    assert kept(app, {"season.winter": "yes"})["undo"].startswith("winter")
    assert "winter" in linen(store).seasons
    kept(app, {"kind": "denim"})
    for _ in range(2):
        sent(app, "/undo", scope="cloth/Grey-green linen", back="/cupboard")
    assert linen(store) == before
    assert sent(app, f"/cloth/{LINEN}/forget").status == 303
    assert "Grey-green linen" not in {cloth.name for cloth in store.cloths()}
    sent(app, "/undo", scope="cloth/", back="/cupboard")
    assert linen(store) == before


def test_a_cloth_is_put_in_with_what_is_usual_for_its_kind(app: Any, store: Store) -> None:
    new = {
        "name": "Wharf <u>stripes</u>",
        "kind": "single jersey",
        "width": "150",
        "length": "1,2 m",
        "colour": "navy",
    }
    put = sent(app, "/cupboard/add", **new)
    assert put.status == 303
    cloth = store.cloth(new["name"])
    assert (cloth.make, cloth.length, cloth.washed) == ("knit", 120, False)
    assert cloth.stretch_across > 0.2
    page = ask(app, "GET", put.headers["location"]).text
    assert "<u>" not in page
    assert "wash it before it is cut" in page
    assert sent(app, "/cupboard/add", **new).status == 422
    assert sent(app, "/cupboard/add", name="No size").status == 422


# ---- in the browser ------------------------------------------------------------------------------


@pytest.mark.page
@pytest.mark.parametrize("path", ["/cupboard", f"/cloth/{LINEN}"])
@pytest.mark.parametrize(("narrow", "dark"), [(False, False), (True, True)])
def test_the_screens_read_well(opened: Callable[..., Any], path: str, narrow: bool, dark: bool) -> None:
    page = opened(path, narrow=narrow, dark=dark)
    page.wait_for_selector("h1")
    assert axe(page) == []
    assert sideways(page) <= 0
    assert page.errors == []


@pytest.mark.page
def test_a_corner_is_pulled_by_hand_and_by_key(opened: Callable[..., Any]) -> None:
    page = opened("/cloth/White+poplin")
    corners = page.get_by_label("corners, along x across, cm")
    box = page.locator("[data-corner='0.2']").bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] - 60, box["y"] - 40, steps=4)
    page.mouse.up()
    page.wait_for_function("() => document.querySelector('[data-path=outline]').value.includes('x')")
    pulled = corners.input_value()
    assert pulled.split()[0] == "0x0"
    assert pulled.split()[2] != "260x148"
    page.locator("[data-corner='0.1']").focus()
    page.keyboard.press("ArrowLeft")
    page.wait_for_function("old => document.querySelector('[data-path=outline]').value !== old", arg=pulled)
    page.get_by_role("button", name="Mark a flaw").click()
    page.wait_for_function("() => document.querySelector('[data-told]').textContent.includes('1 flaw')")
    page.reload()
    assert page.locator(".flaw").count() == 1
    page.get_by_role("button", name="Undo").click()
    page.wait_for_load_state()
    assert page.locator(".flaw").count() == 0
    assert page.errors == []
