"""The cupboard at the page: cloths typed, tested at home, pulled into shape, marked with flaws."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from clothwise.cloth import Cloth
from clothwise.store import Store
from clothwise.web.dye import WORDS, dyed, over
from tests.page_tools import ask, form, keep

LINEN = "Grey-green+linen"


def kept(app: Any, entries: dict[str, str], **headers: str) -> Any:
    return keep(app, f"/cloth/{LINEN}/keep", entries, **headers)


def linen(mill: Store) -> Cloth:
    return mill.cloth("Grey-green linen")


def test_a_ruler_test_is_worked_out(mill_page: Any, mill: Store) -> None:
    told = kept(mill_page, {"stretch_across": "10 to 12.5"})
    assert linen(mill).stretch_across == pytest.approx(0.25)
    assert told["says"]["stretch_across"] == "25 %"
    assert any("pull out to 12.5" in one for one in told["facts"])
    kept(mill_page, {"drape": "edge 4.4"})
    assert linen(mill).drape == pytest.approx(0.60, abs=0.02)
    assert kept(mill_page, {"drape": ""})["says"]["drape"] == ""
    assert linen(mill).drape is None  # not known again, so its kind's figure is shown


def test_a_figure_that_is_only_looked_at_is_not_rounded(mill_page: Any, mill: Store) -> None:
    kept(mill_page, {"width": "54 3/8 in"})
    width = linen(mill).width
    shown = kept(mill_page, {"fibre": "linen"})["says"]["width"]
    kept(mill_page, {"width": shown})
    assert linen(mill).width == width


def test_a_remnant_gets_its_shape_and_its_flaws(mill_page: Any, mill: Store) -> None:
    told = kept(
        mill_page,
        {"outline": "0x0 95x0 95x80 60x136 0x136", "flaws": "40x40 46x40 46x46 40x46;10x10 20x10 10x20"},
    )
    cloth = linen(mill)
    assert (cloth.length, cloth.width, len(cloth.flaws)) == (95, 136, 2)
    assert cloth.usable_area_cm2 == pytest.approx(95 * 136 - 35 * 56 / 2 - 36 - 50)
    assert told["shape"]["remnant"]
    assert "2 flaws" in told["told"]
    kept(mill_page, {"flaws": ""})
    assert linen(mill).flaws == ()
    assert "refused" in kept(mill_page, {"outline": "0x0 95x80 95x0 0x80"})  # it crosses itself
    assert linen(mill).outline == cloth.outline
    kept(mill_page, {"outline": ""})
    assert linen(mill).outline == ()


IMPOSSIBLE = (
    *(("width", ""), ("width", "wide"), ("length", "-3"), ("weight", "heavy"), ("kind", "moonlight")),
    *(("nap", "up"), ("drape", "edge"), ("stretch_across", "10 to 5"), ("washed", "perhaps"), ("tail", "1")),
    *(("season.monsoon", "yes"), ("outline", "x" * 4500)),
)


@pytest.mark.parametrize(("field", "text"), IMPOSSIBLE)
def test_what_cannot_be_is_told_at_its_field_and_changes_nothing(
    mill_page: Any, mill: Store, field: str, text: str
) -> None:
    before = linen(mill)
    told = kept(mill_page, {field: text})
    assert told["refused"]["what"]
    assert told["refused"]["path"] == field
    assert linen(mill) == before


def test_inches_are_inches_and_the_drawing_stays_in_centimetres(mill_page: Any, mill: Store) -> None:
    kept(mill_page, {"length": "2 ft"}, cookie="units=inch")
    assert linen(mill).length == pytest.approx(60.96)
    kept(mill_page, {"outline": "0x0 50x0 50x100 0x138"}, cookie="units=inch")
    assert (linen(mill).length, linen(mill).width) == (50, 138)


def test_every_change_can_be_undone(mill_page: Any, mill: Store) -> None:
    before = linen(mill)
    assert kept(mill_page, {"season.winter": "yes"})["undo"].startswith("winter")
    assert "winter" in linen(mill).seasons
    kept(mill_page, {"kind": "denim"})
    for _ in range(2):
        form(mill_page, "/undo", scope="cloth/Grey-green linen", back="/cupboard")
    assert linen(mill) == before
    assert form(mill_page, f"/cloth/{LINEN}/forget").status == 303
    assert "Grey-green linen" not in {cloth.name for cloth in mill.cloths()}
    form(mill_page, "/undo", scope="cloth/", back="/cupboard")
    assert linen(mill) == before


def test_a_cloth_is_put_in_with_what_is_usual_for_its_kind(mill_page: Any, mill: Store) -> None:
    new = {
        "name": "Wharf <u>stripes</u>",
        "kind": "single jersey",
        "width": "150",
        "length": "1,2 m",
        "colour": "navy",
    }
    put = form(mill_page, "/cupboard/add", **new)
    assert put.status == 303
    cloth = mill.cloth(new["name"])
    assert (cloth.make, cloth.length, cloth.washed) == ("knit", 120, False)
    assert cloth.stretch_across > 0.2
    page = ask(mill_page, "GET", put.headers["location"]).text
    assert "<u>" not in page
    assert "wash it before it is cut" in page
    assert form(mill_page, "/cupboard/add", **new).status == 422
    assert form(mill_page, "/cupboard/add", name="No size").status == 422


def test_a_swatch_is_drawn_in_its_colours_with_its_repeat_or_print(mill_page: Any) -> None:
    def swatch(name: str) -> str:
        page = ask(mill_page, "GET", f"/cloth/{name}").text
        return page[page.index("data-drawing") : page.index("</svg>", page.index("data-drawing"))]

    check = swatch("Quay+check+brushed+cotton")
    assert 'width="6.0" height="5.0"' in check, "the repeat of this very cloth"
    assert WORDS["cream"] in check
    assert WORDS["red"] in check
    assert "<pattern" in swatch("Lawn+with+reeds")
    assert "<pattern" not in swatch("White+poplin")
    assert dyed("cream with upright reeds") == WORDS["cream"]
    assert dyed("dark green") < dyed("green") < dyed("pale green")
    assert over("cream with upright reeds") != WORDS["cream"]


# ---- in the browser ------------------------------------------------------------------------------


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
