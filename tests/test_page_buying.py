"""The page on buying: the haberdashery box, one list over several tickets, metres for any width."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from clothwise.errors import ClothError
from clothwise.shopping.asked import like_of
from clothwise.shopping.box import SORTS
from clothwise.shopping.cloths import WantedCloth
from clothwise.shopping.together import too_short
from clothwise.store import KeptTicket, Store, jobs, open_store
from clothwise.store.export import exported
from clothwise.web.app import application
from clothwise.web.buying import widths_typed
from clothwise.web.buying_work import metres_wanted, shop
from clothwise.web.guard import Allowed
from clothwise.web.sheet import Reader
from tests.page_tools import Answer, ask, form

LINEN = "Grey-green linen"
TROUSERS = "Marit's linen trousers"


def put(app: Any, name: str, sort: str, much: str, **more: str) -> Answer:
    return form(app, "/box/put", name=name, sort=sort, much=much, **more)


# ---- the box -------------------------------------------------------------------------------------


def test_things_go_in_change_and_come_out_and_all_can_be_undone(mill_page: Any, mill: Store) -> None:
    assert put(mill_page, "White <i>elastic</i>", "elastic", "1,5 m", width="2.5").status == 303
    assert put(mill_page, "Shirt buttons", "button", "12", width="1.1", colour="white").status == 303
    name = "White <i>elastic</i>"
    assert (mill.box_item(name).length, mill.box_item(name).width) == (150, 2.5)
    assert (mill.box_item("Shirt buttons").count, mill.box_item("Shirt buttons").length) == (12, 0)
    page = ask(mill_page, "GET", "/box").text
    assert "<i>" not in page
    assert "150.0 cm" in page
    part = "White+~3Ci~3Eelastic~3C~2Fi~3E"
    assert form(mill_page, f"/box/{part}/much", much="80").status == 303
    assert mill.box_item(name).length == 80
    assert form(mill_page, f"/box/{part}/out").status == 303
    assert [item.name for item in mill.box()] == ["Shirt buttons"]
    for expected in (80, 150):
        form(mill_page, "/undo", scope="thing in the box/", back="/box")
        assert mill.box_item(name).length == expected


def test_an_amount_that_is_only_looked_at_is_not_rounded(mill_page: Any, mill: Store) -> None:
    put(mill_page, "Cord", "cord", "54 3/8 in")
    exact = mill.box_item("Cord").length
    for unit, shown in (("cm", "138.1 cm"), ("inch", "54 3/8 in")):
        assert f'value="{shown}"' in ask(mill_page, "GET", "/box", headers={"cookie": f"units={unit}"}).text
        form(mill_page, "/box/Cord/much", much=shown, cookie=f"units={unit}")
        assert mill.box_item("Cord").length == exact


CANNOT_BE = (
    ("", "elastic", "1 m"), ("Elastic", "string", "1 m"), ("Elastic", "elastic", ""),
    ("Elastic", "elastic", "0"), ("Elastic", "elastic", "long"), ("Buttons", "button", "1.5"),
    ("Buttons", "button", "0"),
    ("Buttons", "button", "-3"), ("Buttons", "button", "9" * 12), ("x" * 200, "button", "3"),
)  # fmt: skip


@pytest.mark.parametrize(("name", "sort", "much"), CANNOT_BE)
def test_what_cannot_be_in_a_box_is_told_and_changes_nothing(
    mill_page: Any, mill: Store, name: str, sort: str, much: str
) -> None:
    assert put(mill_page, name, sort, much).status == 422
    assert mill.box() == ()


def test_a_second_thing_of_one_name_does_not_cover_the_first(mill_page: Any, mill: Store) -> None:
    put(mill_page, "Thread", "thread", "100 m")
    assert put(mill_page, "Thread", "thread", "5 m").status == 422
    assert mill.box_item("Thread").length == 10_000
    assert form(mill_page, "/box/Nothing/much", much="3").status == 422


def test_every_sort_may_be_chosen(mill_page: Any) -> None:
    page = ask(mill_page, "GET", "/box").text
    assert all(f"<option>{sort}</option>" in page for sort in SORTS)


def test_the_box_goes_along_in_backup_and_export(mill_page: Any, mill: Store) -> None:
    put(mill_page, "=Cord", "cord", "2 m", colour="red")
    files = exported(mill)
    assert json.loads(files["everything.json"])["box"][0]["length"] == 200
    (row,) = csv.DictReader(io.StringIO(files["box.csv"].decode()))
    assert (row["colour"], row["name"]) == ("red", "'=Cord")  # no formula in a spreadsheet
    assert "1 thing in the box" in ask(mill_page, "GET", "/house").text


# ---- before anything is there --------------------------------------------------------------------


def test_an_empty_store_tells_everywhere_what_comes_first(tmp_path: Path) -> None:
    with open_store(tmp_path / "empty.sqlite") as mill:
        mill_page = application(mill, Allowed(frozenset({"127.0.0.1:8000"})))
        for path in ("/", "/tickets", "/draft/a_line_skirt", "/draft/a_line_skirt/metres"):
            page = ask(mill_page, "GET", path).text
            assert 'href="/people">' in page.partition("<main")[2], path
            assert "<select" not in page, path  # nothing to choose from is not offered
        assert 'href="/tickets"' in ask(mill_page, "GET", "/shopping").text.partition("<main")[2]


def test_a_cloth_that_came_since_the_last_evening_is_ticked_and_one_left_out_stays_out(
    mill_page: Any, mill: Store
) -> None:
    names = [cloth.name for cloth in mill.cloths()]
    jobs.ask(mill, "evening", {"for": "Marit", "cloths": names[:2], "there": names})
    form(mill_page, "/cupboard/add", name="New poplin", width="140", length="200")
    page = ask(mill_page, "GET", "/").text
    ticked = [
        part.partition('"')[0] for part in page.split('name="cloth" value="')[1:] if "checked" in part[:99]
    ]
    assert ticked == [*names[:2], "New poplin"]


# ---- the shopping list ---------------------------------------------------------------------------


def told(work: Callable[..., None], mill: Store, asked: dict[str, Any]) -> list[tuple[str, Any]]:
    news: list[tuple[str, Any]] = []
    work(mill, asked, lambda kind, what: news.append((kind, what)))
    return news


def begun(app: Any, pattern: str, cloth: str = LINEN, body: str = "Marit") -> str:
    answer = form(app, "/tickets/new", ("for", body), pattern=pattern, cloth=cloth)
    assert answer.status == 303, answer.text
    return answer.headers["location"]


def shopping(mill: Store, *tickets: str, without_cloth: bool = False) -> dict[str, Any]:
    news = told(shop, mill, {"tickets": list(tickets), "without_cloth": without_cloth})
    assert [kind for kind, _ in news] == ["step"] * len(tickets) + ["shopping list"]
    found: dict[str, Any] = news[-1][1]
    return found


def line(found: dict[str, Any], sort: str) -> dict[str, Any]:
    return next(one for one in found["lines"] if one["sort"] == sort)


def test_the_list_adds_up_tickets_takes_off_the_box_and_sees_a_cloth_promised_twice(
    mill_page: Any, mill: Store
) -> None:
    begun(mill_page, "a_line_skirt")
    alone = shopping(mill, TROUSERS)
    assert alone["short"] == []
    assert alone["cloths"][0]["in_cupboard"]
    both = shopping(mill, TROUSERS, "A-line skirt for Marit")
    (short,) = both["short"]
    lays = [one["need"] for one in both["cloths"]]
    assert short["need"] == pytest.approx(sum(lays))
    assert short["have"] < short["need"] <= short["have"] + short["buy"]
    assert line(both, "thread")["wanted"] > line(alone, "thread")["wanted"]
    assert line(both, "needle")["wanted_by"] == (TROUSERS, "A-line skirt for Marit")
    wanted = line(alone, "elastic")
    put(mill_page, "White elastic", "elastic", f"{wanted['wanted'] + 1} cm")
    assert line(shopping(mill, TROUSERS), "elastic")["buy"] == 0
    assert shopping(mill, TROUSERS, without_cloth=True)["cloths"] == []


def test_a_ticket_that_cannot_be_cut_is_told_and_the_others_are_still_counted(
    mill_page: Any, mill: Store
) -> None:
    kept = mill.ticket(TROUSERS)
    mill.keep_ticket(KeptTicket("Impossible", kept.text.replace(LINEN, "No such cloth"), kept.created_on))
    found = shopping(mill, "Impossible", TROUSERS)
    assert [one["ticket"] for one in found["refused"]] == ["Impossible"]
    assert line(found, "thread")["buy"]


def test_a_cloth_suffices_for_two_small_makes(mill: Store) -> None:
    linen = mill.cloth(LINEN)
    half = WantedCloth("A", LINEN, 138, linen.usable_length / 2, True, 0, None)
    other = WantedCloth("B", LINEN, 138, linen.usable_length / 2 + 3, True, 0, None)
    assert too_short([half, half], mill.cloths()) == ()
    (short,) = too_short([half, other], mill.cloths())
    assert (short.wanted_by, short.buy) == (("A", "B"), 10)


def test_a_list_wants_a_ticket_that_is_there(mill_page: Any) -> None:
    assert form(mill_page, "/shopping/ask").status == 422
    assert form(mill_page, "/shopping/ask", ticket="Nothing").status == 422
    assert form(mill_page, "/shopping/ask", *[("ticket", TROUSERS)] * 13).status == 422
    assert ask(mill_page, "GET", "/shopping").status == 200


def test_a_list_of_another_kind_of_work_is_not_shown(mill_page: Any, mill: Store) -> None:
    number = jobs.ask(mill, "packet", {"ticket": TROUSERS})
    assert "data-awaited" not in ask(mill_page, "GET", f"/shopping?job={number}").text


# ---- metres --------------------------------------------------------------------------------------


def asked_metres(**changed: Any) -> dict[str, Any]:
    plain = {"pattern": "a_line_skirt", "for": "Marit", "ticket": "", "like": "", "nap": "", "shrinkage": ""}
    return {**plain, "price": "", "widths": [90.0, 150.0], **changed}


def test_a_kind_nearly_named_is_helped_to() -> None:
    with pytest.raises(ClothError, match="denim, washed"):
        like_of("denim", ())
    assert like_of("linen", ()).shrinkage > 0.03
    assert like_of("", ()).name == "Plain cloth"


def rows(mill: Store, **changed: Any) -> list[dict[str, Any]]:
    return [what for kind, what in told(metres_wanted, mill, asked_metres(**changed)) if kind == "width"]


def test_each_width_is_laid_with_what_the_wash_takes_and_its_price(mill: Store) -> None:
    narrow, wide = rows(mill, price="8")
    assert narrow["buy"] > wide["buy"] >= wide["need"] / 0.95
    assert wide["price"] == pytest.approx(wide["buy"] * 0.08)
    assert wide["lay"]["path"]
    shrinking = rows(mill, shrinkage="12 %", widths=[150.0])[0]
    assert shrinking["buy"] >= shrinking["need"] / 0.88
    (none,) = rows(mill, widths=[20.0])
    assert none["buy"] is None
    assert none["why"]


def test_a_ticket_is_laid_with_all_that_is_settled_on_it(mill_page: Any, mill: Store) -> None:
    place = begun(mill_page, "a_line_skirt")
    body = json.dumps({"set": {"choice.length": "maxi"}}).encode()
    longer = ask(mill_page, "POST", f"{place}/keep", headers={"content-type": "application/json"}, body=body)
    assert "refused" not in longer.json, longer.text
    as_settled = rows(mill, ticket="A-line skirt for Marit", widths=[90.0])[0]
    assert as_settled["need"] > rows(mill, widths=[90.0])[0]["need"] + 3
    page = ask(mill_page, "GET", "/draft/a_line_skirt/metres?ticket=A-line%20skirt%20for%20Marit").text
    assert "with all that is settled on it" in page


@pytest.mark.parametrize(
    ("inches", "text", "cm"),
    [
        (False, "110; 140", [110, 140]),
        (False, "110 140,5 110", [110, 140.5]),
        (True, "43 1/2; 60", [110.49, 152.4]),
        (True, "45 60", [114.3, 152.4]),
        (False, "140, 90", [140, 90]),
        (False, "140,5, 90", [140.5, 90]),
        (True, "43 1/2, 60", [110.49, 152.4]),
    ],
)
def test_widths_are_read_as_they_are_written(inches: bool, text: str, cm: list[float]) -> None:
    assert widths_typed(text, Reader(inches)) == pytest.approx(cm)


@pytest.mark.parametrize("text", ["", ";", "wide", "2", "5000", " ".join(["140"] * 9)])
def test_widths_that_cannot_be_are_told(mill_page: Any, text: str) -> None:
    told = form(mill_page, "/draft/a_line_skirt/metres", ("for", "Marit"), widths=text)
    assert told.status == 422
    assert "Traceback" not in told.text


@pytest.mark.parametrize(
    "wrong", [{"like": "moonlight"}, {"nap": "up"}, {"shrinkage": "all"}, {"price": "dear"}, {"ticket": "None"}]
)
def test_a_cloth_that_cannot_be_is_told_before_work_begins(
    mill_page: Any, mill: Store, wrong: dict[str, str]
) -> None:
    pairs = [("for", "Marit"), ("widths", "140"), *wrong.items()]
    assert form(mill_page, "/draft/a_line_skirt/metres", *pairs).status == 422
    assert jobs.newest(mill, "metres") == ()


# ---- in the browser ------------------------------------------------------------------------------


@pytest.mark.page
def test_a_list_is_written_ticked_off_and_the_ticks_stay(opened: Callable[..., Any]) -> None:
    page = opened("/shopping", narrow=True)
    page.get_by_role("button", name="Write the list").click()
    page.wait_for_selector("[data-done]", state="attached", timeout=120_000)
    first = page.locator(".wanted input").first
    first.check()
    page.reload()
    page.wait_for_selector("[data-done]", state="attached", timeout=120_000)
    assert page.locator(".wanted input").first.is_checked()
    assert page.errors == []


@pytest.mark.page
def test_metres_come_width_by_width(opened: Callable[..., Any]) -> None:
    page = opened("/draft/a_line_skirt/metres?for=Marit")
    page.locator("[name=widths]").fill("110; 150")
    page.get_by_role("button", name="Lay it on these widths").click()
    page.wait_for_selector("[data-done='2']", state="attached", timeout=120_000)
    assert page.locator(".width svg").count() == 2
    assert page.errors == []
