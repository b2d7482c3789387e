"""Alterations at the station of shape: what applies, added, taken away, refused kindly; the left side alone."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest

from clothwise.alter import change_of, changed
from clothwise.garment.check import check
from clothwise.store import KeptTicket, Store
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.web.altering import _entries, offered, words_of_change
from clothwise.web.live import drawn
from clothwise.web.sheet import Reader
from clothwise.web.ticket_state import load
from tests.page_tools import ask, form, keep

AT = "/ticket/Shift"
CM = Reader(False)


@pytest.fixture
def shift(mill: Store) -> Store:
    text = write_ticket(
        Ticket(name="Shift", pattern="darted_shift", body_name="Marit", cloth_name="Grey-green linen")
    )
    mill.keep_ticket(KeptTicket("Shift", text, "2026-11-25"))
    return mill


def asked(store: Store) -> list[Any]:
    return list(read_ticket(store.ticket("Shift").text).changes)


def shown(page: Any) -> str:
    return unescape(ask(page, "GET", AT).text)


def test_what_is_offered_can_be_done(shift: Store) -> None:
    """Every place of the kinds tried at the page bears a small amount; a lining is not offered for a shift."""
    whole = load(shift, "Shift").whole
    found = {one.what: one for one in offered(write_ticket(whole))}
    assert {"lengthen", "wedge", "flare", "let dart out", "move seam", "yoke", "pocket", "button"} <= set(found)
    assert "line" not in found
    garment = drawn(whole)
    amounts = {
        "move seam": {"by": 0.5},
        "button": {},
        "let dart out": {},
        "wedge": {"by": 0.5},
        "flare": {"by": 6.0},
    }
    for what, by in amounts.items():
        for place, words in found[what].places:
            altered = changed(garment, [change_of(what, {**_entries(place), **by})])
            assert list(check(altered)) == [], words


def test_an_alteration_is_added_drawn_told_and_taken_away(mill_page: Any, shift: Store) -> None:
    before = drawn(load(shift, "Shift").whole)
    told = form(mill_page, f"{AT}/altering", what="lengthen", place="at=waist side=below", by="6,5")
    assert told.status == 303
    after = drawn(load(shift, "Shift").whole)

    def tall(garment: Any) -> float:
        _, low, _, high = garment.piece("front").outline().bounds()
        return float(high - low)

    assert tall(after) - tall(before) == pytest.approx(6.5, abs=0.05)
    assert "6.5 cm longer below the waist" in shown(mill_page)
    form(mill_page, f"{AT}/altering", what="yoke", place="piece=back at=bust", below="-6")
    assert "back cut across at the bust, 6.0 cm above it" in shown(mill_page)
    assert "upper_back" in {piece.name for piece in drawn(load(shift, "Shift").whole).pieces}
    form(mill_page, f"{AT}/altering/1/away")
    assert [one.what for one in asked(shift)] == ["yoke"]
    form(mill_page, "/undo", scope="ticket/Shift", back=AT)
    assert [one.what for one in asked(shift)] == ["lengthen", "yoke"]


def test_inches_are_read_as_inches(mill_page: Any, shift: Store) -> None:
    headers = {"content-type": "application/x-www-form-urlencoded", "cookie": "units=inch"}
    body = b"what=lengthen&place=at%3Dwaist+side%3Dbelow&by=2+1%2F2"
    assert ask(mill_page, "POST", f"{AT}/altering", headers=headers, body=body).status == 303
    assert asked(shift)[0].entries["by"] == pytest.approx(6.35)


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"what": "lengthen", "place": "at=hip side=below", "by": "many"}, "length"),
        ({"what": "lengthen", "place": "at=hip side=below", "by": ""}, "'by' is missing"),
        ({"what": "lengthen", "place": "at=moon", "by": "2"}, "has a line 'moon'"),
        ({"what": "lengthen", "place": "at=hip side=below", "by": "-90"}, "free of corners"),
        ({"what": "fly", "place": "", "by": "2"}, "is no change"),
        ({"what": "yoke", "place": "at bust", "below": ""}, "is missing"),
        ({"what": "line", "place": "seam=neck", "by": "2"}, ""),
        ({}, "is no change"),
    ],
)
def test_what_cannot_be_done_is_said_and_nothing_changed(
    mill_page: Any, shift: Store, fields: dict[str, str], says: str
) -> None:
    answer = form(mill_page, f"{AT}/altering", **fields)
    assert answer.status == 422
    assert says in unescape(answer.text)
    assert asked(shift) == []


def test_the_first_of_two_that_belong_together_is_held(mill_page: Any, shift: Store) -> None:
    form(mill_page, f"{AT}/altering", what="yoke", place="piece=back at=bust", below="-6")
    form(mill_page, f"{AT}/altering", what="pocket", place="piece=lower_back at=waist", by="14")
    assert len(asked(shift)) == 2
    refused = form(mill_page, f"{AT}/altering/1/away")
    assert refused.status == 422, "the pocket sits on a piece of the yoke"
    assert "lower_back" in refused.text
    assert form(mill_page, f"{AT}/altering/9/away").status == 422
    assert len(asked(shift)) == 2


def test_each_kind_has_words(shift: Store) -> None:
    said = set()
    for one in offered(write_ticket(load(shift, "Shift").whole)):
        amounts = {name: 3.0 for name, *_ in one.amounts}
        place = one.places[0][0] if one.places else ""
        words = words_of_change(change_of(one.what, {**_entries(place), **amounts}), CM)
        assert "_" not in words
        assert words[0].islower() or words[0].isdigit()
        said.add(words)
    assert len(said) >= 9


def test_the_blanks_come_when_they_are_asked_for(mill_page: Any, shift: Store) -> None:
    from clothwise.web.bench import Bench

    page = shown(mill_page)
    assert f'data-altering="{AT}/altering"' in page
    assert "Alter it so" not in page, "trying what applies takes time"
    bench = Bench(shift.place)
    mill_page.state.bench = bench
    text = write_ticket(load(shift, "Shift").whole)
    bench._remember(repr(("offered", (text,))), offered(text))
    blanks = unescape(ask(mill_page, "GET", f"{AT}/altering").text)
    assert len(re.findall("Alter it so", blanks)) >= 9
    assert '<option value="piece=front at=bust">front, at the bust</option>' in blanks


def _halves(points: Any, middle: float) -> tuple[list[Any], list[Any]]:
    """The outer thirds of a piece, where its shoulders end."""
    far = max(abs(p.x - middle) for p in points) * 0.5
    return [p for p in points if p.x < middle - far], [p for p in points if p.x > middle + far]


# ---- the left side -------------------------------------------------------------------------------


def test_the_left_side_differs_by_itself(mill_page: Any, shift: Store) -> None:
    told = keep(mill_page, f"{AT}/keep", {"left.low_shoulder": "1"})
    assert told["says"]["left.low_shoulder"] == "left side 1.0 cm"
    assert told["undo"] == "low shoulder left open to left side 1.0 cm"
    front = drawn(load(shift, "Shift").whole).piece("front")
    middle = sum(front.outline().bounds()[0::2]) / 2
    tops = [max(p.y for p in half) for half in _halves(front.polygon(tolerance=0.05), middle)]
    assert tops[0] != pytest.approx(tops[1], abs=0.2), "one shoulder is lower than the other"
    keep(mill_page, f"{AT}/keep", {"figure.low_shoulder": "1", "left.low_shoulder": "0"})
    ticket = read_ticket(shift.ticket("Shift").text)
    assert (ticket.figure["low_shoulder"], ticket.left["low_shoulder"]) == (1.0, 0.0)
    assert "left side 0.0 cm" in shown(mill_page)
    keep(mill_page, f"{AT}/keep", {"left.low_shoulder": ""})
    assert "low_shoulder" not in read_ticket(shift.ticket("Shift").text).left
    assert keep(mill_page, f"{AT}/keep", {"left.wing": "1"})["refused"]["path"] == "left.wing"
