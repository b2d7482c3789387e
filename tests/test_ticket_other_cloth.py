"""A ticket whose unseen pieces come from another cloth: laid there, listed there, read back."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.cli.cutting import cut_ticket, undo_ticket
from clothwise.cloth import Cloth
from clothwise.errors import ClothError, LayError, TicketError
from clothwise.lay.verify import faults
from clothwise.shopping.cloths import needs_of_made, wanted_cloths
from clothwise.store import open_store, seed_demo
from clothwise.store.demo import scenario
from clothwise.ticket import Ticket, read_ticket
from clothwise.ticket.made import work_out
from clothwise.ticket.packet import packet
from clothwise.ticket.ticket import OtherCloth
from clothwise.ticket.writing import write_ticket

LINEN = Cloth("Linen", 138, 240, grams_per_m2=185, kind="linen")
SCRAP = Cloth("Lawn scrap", 90, 60, kind="cotton lawn", grams_per_m2=75)
MARIT = scenario()[0][0]
WHOLE = Ticket("Skirt", "a_line_skirt", {"waist": "facing with zip"}, body=MARIT, cloth=LINEN)


def facings() -> tuple[str, ...]:
    names = [piece.name for piece in work_out(WHOLE, effort="quick").plan.problem.pieces]
    return tuple(name for name in names if "facing" in name)


@pytest.fixture(scope="module")
def divided() -> Ticket:
    return replace(WHOLE, other_cloths=(OtherCloth(facings(), SCRAP),))


def test_the_facings_lie_on_the_other_cloth_and_on_no_other(divided: Ticket):
    made = work_out(divided, effort="quick")
    assert set(facings()) == {placement.piece for placement in made.others["second_cloth"].placements}
    assert not set(facings()) & {placement.piece for placement in made.plan.placements}
    assert faults(made.plan) == () == faults(made.others["second_cloth"])
    assert made.others["second_cloth"].length <= SCRAP.length


def test_the_packet_lists_and_draws_both_cloths(divided: Ticket):
    files = packet(work_out(divided, effort="quick"))
    assert {"lay.svg", "lay_second_cloth.svg"} <= set(files)
    text = files["list.txt"].decode()
    main, other = text.index("CUT FROM LINEN"), text.index("CUT FROM LAWN SCRAP")
    for name in facings():
        title = name.replace("_", " ").capitalize()
        assert title not in text[main:other]
    assert "second_cloth" in json.loads(files["packet.json"])["other_lays"]


def test_it_is_read_back_as_it_was_written(divided: Ticket):
    again = read_ticket(write_ticket(divided))
    assert again.other_cloths == divided.other_cloths


@pytest.mark.parametrize("pieces", [("nothing_of_the_kind",), ("front_facing", "front_facing")])
def test_pieces_that_are_none_or_named_twice_are_refused(pieces: tuple[str, ...]):
    with pytest.raises(TicketError) as no:
        work_out(replace(WHOLE, other_cloths=(OtherCloth(pieces, SCRAP),)), effort="quick")
    assert no.value.mend


def test_another_cloth_that_is_too_small_is_refused(divided: Ticket):
    small = replace(divided, other_cloths=(OtherCloth(facings(), Cloth("Tiny", 10, 10)),))
    with pytest.raises((ClothError, LayError), match="cm"):
        work_out(small, effort="quick")


@pytest.mark.parametrize(
    "text", ["other_cloths = 3", "[[other_cloths]]\npieces = []\nname='A'\nwidth=3\nlength=3"]
)
def test_what_is_no_other_cloth_is_refused_in_a_sentence(text: str):
    ticket = f'ticket = 1\n{text if text.startswith("other_cloths =") else ""}\n[body]\nname="Marit"\n'
    ticket += '[pattern]\nname="a_line_skirt"\n[cloth]\nname="Linen"\n'
    ticket += "" if text.startswith("other_cloths =") else text
    with pytest.raises(TicketError, match="other_cloths"):
        read_ticket(ticket)


def test_pocket_bags_may_come_from_a_cloth_that_is_there_and_is_then_not_bought():
    skirt = replace(WHOLE, pattern="four_panel_skirt", choices={"pockets": "side seam"})
    plain = work_out(skirt, effort="quick")
    (bags,) = plain.unnamed.values()
    names = tuple(piece.name for piece in bags.problem.pieces)
    made = work_out(
        replace(skirt, other_cloths=(OtherCloth(names, Cloth("Thin", 110, 80, grams_per_m2=75)),)),
        effort="quick",
    )
    assert made.unnamed == {}
    assert [cloth.name for cloth, _ in made.named] == ["Linen", "Thin"]
    assert faults(made.named[1][1]) == ()
    assert not [need for need in needs_of_made(made) if need.sort == "pocket cloth"]
    assert {one.cloth for one in wanted_cloths(made, ())} == {"Linen", "Thin"}


def test_the_second_cloth_is_no_haberdashery(divided: Ticket):
    made = work_out(divided, effort="quick")
    assert not [need for need in needs_of_made(made) if need.sort == "other"]


def test_one_cloth_named_twice_is_refused():
    with pytest.raises(TicketError, match="divided"):
        work_out(replace(WHOLE, other_cloths=(OtherCloth(facings(), LINEN),)), effort="quick")


def test_cutting_takes_every_cloth_of_the_ticket_off_the_cupboard_and_undo_brings_all_back(
    divided: Ticket, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    place, file = tmp_path / "a.sqlite", tmp_path / "ticket.toml"
    monkeypatch.setenv("CLOTHWISE_STORE", str(place))
    with open_store(place) as store:
        store.keep_cloth(LINEN)
        store.keep_cloth(SCRAP)
        store.keep_body(MARIT)
        seed_demo(store)
        before = store.cloths()
    file.write_text(write_ticket(divided), "utf-8")
    lines, figures = cut_ticket(file)
    assert [row["cloth"] for row in figures["cloths"]] == ["Linen", "Lawn scrap"]
    assert any("Lawn scrap are taken off" in line for line in lines)
    with open_store(place) as store:
        areas = {cloth.name: cloth.usable_area_cm2 for cloth in store.cloths()}
    assert areas["Linen"] < LINEN.usable_area_cm2
    assert areas["Lawn scrap"] < SCRAP.usable_area_cm2
    undo_ticket(file)
    with open_store(place) as store:
        assert store.cloths() == before
