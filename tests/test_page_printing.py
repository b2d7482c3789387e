"""The stations of paper and work as a sewer wants them: other papers, pieces and layers, lengths, what changed
since it was printed, the booklet's language, ways of sewing, her pace."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

import pypdfium2
import pytest
from starlette.datastructures import QueryParams

from clothwise.errors import MeasureError, PaperError
from clothwise.sew import alternatives
from clothwise.store import KeptTicket, Store, deeds
from clothwise.store.progress import KeptProgress
from clothwise.store.store import HOW_FAR
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.web.live import drawn, look
from clothwise.web.paper_look import paper_map, printed, work_told
from clothwise.web.print_wish import Wish, fields, wish_of
from clothwise.web.printing_sizes import printed as in_sizes
from clothwise.web.sheet import Reader
from clothwise.web.ticket_state import load
from tests.page_tools import ask, form, keep

CM, INCH = Reader(False), Reader(True)
TROUSERS = "Marit's linen trousers"
AT = "/ticket/Marit~27s+linen+trousers"


def whole(store: Store, name: str = TROUSERS) -> str:
    return write_ticket(load(store, name).whole)


def pages(data: bytes) -> list[tuple[float, float]]:
    """Sizes of all pages, cm."""
    return [(w * 2.54 / 72, h * 2.54 / 72) for w, h in (p.get_size() for p in pypdfium2.PdfDocument(data))]


def words(data: bytes) -> str:
    return " ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(data))


def wish(query: str, who: Reader = CM) -> Wish:
    return wish_of(QueryParams(query), who)


@pytest.mark.parametrize(
    ("query", "size"),
    [("size=A3", (29.7, 42.0)), ("size=30+x+45", (30.0, 45.0)), ("size=A4+and+Letter", (21.0, 27.94))],
)
def test_the_map_shows_what_is_printed_on_any_sheet(mill: Store, query: str, size: tuple[float, float]) -> None:
    text, wanted = whole(mill), wish(query)
    found = paper_map(text, wanted)
    made = pages(printed(text, "sheets", (), wanted))
    assert len(made) == len(found["tiles"]) + 1
    for page in made:
        assert sorted(page) == pytest.approx(sorted(size), abs=0.02)


def test_pieces_layers_lying_margins_are_as_asked(mill: Store) -> None:
    text = whole(mill)
    every = paper_map(text)
    one = wish(f"piece={every['all'][0][0]}&without=seam+line&lying=landscape&margin=2&overlap=0")
    found = paper_map(text, one)
    assert [piece["title"] for piece in found["pieces"]] == [every["all"][0][1]]
    made = pages(printed(text, "sheets", (), one))
    assert len(made) < len(every["tiles"])
    assert all(wide > high for wide, high in made[1:])
    tile = found["tiles"][0]
    assert (tile["w"], tile["h"]) == pytest.approx((25.7, 17.0))
    assert len(printed(text, "svg", (), one)) < len(printed(text, "svg", ()))
    assert wish("margin=1", INCH).margin == pytest.approx(2.54)
    assert dict(fields(QueryParams("margin=2&piece=a&only=B3"))) == {"margin": "2", "piece": "a"}


@pytest.mark.parametrize(
    "query", ["size=a+napkin", "margin=40", "piece=wheel", "without=sheet", "lying=sideways", "size=0+x+9"]
)
def test_a_paper_that_cannot_be_is_refused(mill: Store, query: str) -> None:
    text, wanted = whole(mill), wish(query) if not query.startswith("size=a") else None
    with pytest.raises(PaperError):
        printed(text, "sheets", (), wanted or wish(query))


def test_roll_projector_screen_and_files_follow_the_wish(mill: Store) -> None:
    text = whole(mill)
    roll = pages(printed(text, "roll", (), wish("width=150&longest=300")))
    assert all(abs(wide - 150) < 0.1 and high < 300 for wide, high in roll)
    small, usual = (pages(printed(text, "projector", (), wish(q)))[1] for q in ("table=100+x+50", ""))
    assert small[1] < usual[1]
    assert b"<svg" in printed(text, "screen", ())
    assert b"SECTION" in printed(text, "dxf", ())
    assert len(json.loads(printed(text, "json", ()))["pieces"]) == len(paper_map(text)["all"])


def test_several_lengths_lie_one_inside_the_other(mill: Store) -> None:
    text = write_ticket(Ticket("S", "gathered_skirt", body_name="Marit", cloth_name="Heron chambray"))
    mill.keep_ticket(KeptTicket("S", text))
    lengths = paper_map(whole(mill, "S"))["lengths"]
    assert len(lengths) > 1
    query = "&".join(f"lengths={one}" for one in lengths[:2])
    said = words(printed(whole(mill, "S"), "lengths", (), wish(query)))
    assert all(one in said for one in lengths[:2])
    for wrong in (f"lengths={lengths[0]}", "lengths=to+the+moon&lengths=knee"):
        with pytest.raises(PaperError):
            printed(whole(mill, "S"), "lengths", (), wish(wrong))


def test_only_what_changed_since_it_was_printed(mill_page: Any, mill: Store) -> None:
    assert form(mill_page, f"{AT}/paper/printed", printed="yes").status == 303
    before = mill._one(HOW_FAR, TROUSERS).said["printed_as"]
    assert before == whole(mill)
    with pytest.raises(PaperError):
        printed(whole(mill), "changes", (), Wish(), before)
    keep(mill_page, f"{AT}/keep", {"measure.hip_girth": "106"})
    after = whole(mill)
    changed = pages(printed(after, "changes", (), Wish(), before))
    assert 1 < len(changed) < len(pages(printed(after, "sheets", ())))


def test_the_booklet_speaks_as_the_ticket_says(mill_page: Any, mill: Store) -> None:
    asked = {"booklet.language": "de", "booklet.sheet": "Phone", "booklet.large": "yes", "sewer.units": "inch"}
    assert form(mill_page, f"{AT}/paper/sheet", **asked).status == 303
    ticket = read_ticket(mill.ticket(TROUSERS).text)
    assert (ticket.booklet.language, ticket.booklet.sheet, ticket.booklet.large) == ("de", "Phone", True)
    assert ticket.sewer.units == "inch"
    for wrong in ({"booklet.language": "xx"}, {"booklet.sheet": "Papyrus"}, {"sheet": "B12"}):
        assert form(mill_page, f"{AT}/paper/sheet", **wrong).status == 422
    assert read_ticket(mill.ticket(TROUSERS).text) == ticket


def test_a_seam_is_sewn_the_other_way_and_back(mill_page: Any, mill: Store) -> None:
    text = write_ticket(
        Ticket("Shift", "darted_shift", {"sleeve": "short"}, body_name="Marit", cloth_name="Heron chambray")
    )
    mill.keep_ticket(KeptTicket("Shift", text))
    state = load(mill, "Shift")
    either = alternatives(drawn(state.whole), state.cloth, state.ticket.sewer)
    assert either
    before = [step["title"] for step in work_told(whole(mill, "Shift"), "cm")["told"]["steps"]]
    one = either[0]
    assert form(mill_page, "/ticket/Shift/ways", **{f"way.{one.seam}": one.other}).status == 303
    told = work_told(whole(mill, "Shift"), "cm")
    assert next(row for row in told["ways"] if row["seam"] == one.seam)["chosen"] == one.other
    assert [step["title"] for step in told["told"]["steps"]] != before
    for wrong in ({f"way.{one.seam}": "by magic"}, {"way.no_such_seam": one.other}):
        assert form(mill_page, "/ticket/Shift/ways", **wrong).status == 422
    assert form(mill_page, "/ticket/Shift/ways").status == 303
    assert [step["title"] for step in work_told(whole(mill, "Shift"), "cm")["told"]["steps"]] == before


def test_her_pace_is_on_the_ticket_when_she_wants_it(mill_page: Any, mill: Store) -> None:
    usual = look(load(mill, TROUSERS).whole)["minutes"]["likely"]
    text = write_ticket(Ticket("Slow", "four_panel_skirt", body_name="Marit", cloth_name="Grey-green linen"))
    mill.keep_ticket(KeptTicket("Slow", text))
    deeds.keep(mill, HOW_FAR, KeptProgress("Slow", {"spent": 900.0, "finished_on": "2026-11-20"}), "finished")
    told = keep(mill_page, f"{AT}/keep", {"sewer.pace": "learned"})
    assert re.fullmatch(r"1\d\d % of the usual time, by 1 finished make", told["says"]["sewer.pace"])
    assert look(load(mill, TROUSERS).whole)["minutes"]["likely"] > 1.1 * usual
    assert "refused" in keep(mill_page, f"{AT}/keep", {"sewer.pace": "fast"})
    keep(mill_page, f"{AT}/keep", {"sewer.pace": ""})
    assert look(load(mill, TROUSERS).whole)["minutes"]["likely"] == pytest.approx(usual)
    begun = form(mill_page, "/tickets/new", **{"for": "Marit"}, pattern="apron", cloth="White poplin")
    name = begun.headers["location"].rpartition("/")[2].replace("+", " ")
    assert read_ticket(mill.ticket(name).text).sewer.logged == 1, "a new ticket begins with it"


def test_a_draft_is_printed_in_the_houses_sizes(mill_page: Any) -> None:
    shown = ask(mill_page, "GET", "/draft/four_panel_skirt/sizes?figure=woman")
    assert "In sizes".lower() in shown.text.lower()
    plain: dict[str, Any] = {
        "height": None,
        "settings": (("length", "knee"),),
        "wish": Wish(),
        "made_on": "2026-11-25",
    }
    made = in_sizes("four_panel_skirt", "woman", ("84", "92"), on="sheets", **plain)
    said = words(made)
    assert "84" in said
    assert "92" in said
    assert b"SECTION" in in_sizes("four_panel_skirt", "woman", ("84", "92"), on="dxf", **plain)
    with pytest.raises(PaperError, match="Tick the sizes"):
        in_sizes("four_panel_skirt", "woman", (), on="sheets", **plain)
    with pytest.raises(MeasureError, match="There is no size"):
        in_sizes("four_panel_skirt", "woman", ("85",), on="sheets", **plain)
    assert ask(mill_page, "GET", "/draft/four_panel_skirt/sizes?figure=giant").status == 422
    assert ask(mill_page, "GET", "/draft/four_panel_skirt/sizes/stone").status == 422


@pytest.mark.page
@pytest.mark.parametrize("narrow", [False, True], ids=["1280", "390"])
def test_a_person_lays_it_on_another_paper(opened: Callable[..., Any], narrow: bool) -> None:
    page = opened(f"{AT}/paper", narrow=narrow)
    page.wait_for_selector(".map")
    page.click("text=Another paper, some pieces only, layers left out")
    page.fill("[name=size]", "a napkin")
    page.click("text=Lay it on paper so")
    page.wait_for_selector(".warning:has-text('napkin')")
    page.fill("[name=size]", "A3")
    page.click("text=Lay it on paper so")
    page.wait_for_selector("text=of A3")
    assert "size=A3" in page.url
    with page.expect_download() as got:
        page.click("[data-download]")
    data = got.value.path().read_bytes()
    assert all(sorted(one) == pytest.approx([29.7, 42.0], abs=0.02) for one in pages(data))
    assert page.errors == []
