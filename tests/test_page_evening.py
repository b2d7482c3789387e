"""This evening: answers found at once and in order, bought patterns among them, remnants, her own pace."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from clothwise.errors import StoreError
from clothwise.store import KeptTicket, Store, deeds, jobs
from clothwise.store.progress import KeptProgress
from clothwise.store.store import HOW_FAR
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.ticket.bought_ticket import is_bought, read_bought_ticket
from clothwise.ticket.taped import tape_is_old
from clothwise.web import evening_work
from tests.page_tools import ask, form

ASKED = {
    "for": "Marit", "hours": 4.0, "skill": "practised", "overlocker": False, "made_on": "2026-11-25",
    "cloths": ["Grey-green linen", "Fog double gauze"],
}  # fmt: skip


def told(store: Store, **asked: Any) -> list[tuple[str, Any]]:
    """All that a search tells, as it tells it."""
    heard: list[tuple[str, Any]] = []
    evening_work.find(store, {**ASKED, **asked}, lambda kind, said: heard.append((kind, said)))
    return heard


def of_kind(heard: list[tuple[str, Any]], kind: str) -> list[Any]:
    return [said for one, said in heard if one == kind]


@pytest.fixture(scope="module")
def searched(tmp_path_factory: pytest.TempPathFactory) -> tuple[Store, list[tuple[str, Any]]]:
    from clothwise.store import open_store, seed_demo

    store = open_store(tmp_path_factory.mktemp("evening") / "store.sqlite")
    seed_demo(store)
    return store, told(store)


def test_a_few_are_told_at_once_and_the_way_gone_is_told_truly(searched: Any) -> None:
    _, heard = searched
    kinds = [kind for kind, _ in heard]
    assert kinds.index("early") < kinds.index("answer")
    gone = [(one["done"], one["of"]) for one in of_kind(heard, "progress")]
    assert gone == sorted(gone), "it never goes back"
    assert gone[-1][0] == gone[-1][1], "in the end all was looked at"


def test_bought_patterns_stand_in_the_same_row_and_each_answer_is_a_ticket(searched: Any) -> None:
    store, heard = searched
    answers = of_kind(heard, "answer")
    assert [one["rank"] for one in answers] == [str(n) for n in range(1, len(answers) + 1)]
    bought = [one for one in answers if one["bought"]]
    assert bought
    assert len(bought) < len(answers)
    for one in answers:
        assert is_bought(one["ticket"]) == one["bought"]
        if one["bought"]:
            ticket = read_bought_ticket(one["ticket"])
            assert ticket.pattern in {p.name for p in store.bought_patterns()}
            assert (ticket.body_name, ticket.cloth_name) == ("Marit", one["cloth"])
        else:
            assert read_ticket(one["ticket"]).whole


def test_remnants_give_makes_of_several_cloths(mill: Store) -> None:
    names = [cloth.name for cloth in mill.cloths()]
    heard = told(mill, of="remnants", cloths=names)
    answers = of_kind(heard, "answer")
    assert answers
    small = {c.name for c in mill.cloths() if c.remnant or c.usable_length <= evening_work.SHORT}
    for one in answers:
        assert {one["cloth"], *one["others"]} <= small
        assert len(one["lays"]) == 1 + len(one["others"])
        assert len(read_ticket(one["ticket"]).other_cloths) == len(one["others"])
    with pytest.raises(StoreError, match="remnant"):
        told(mill, of="remnants", cloths=["Heron chambray"])


def test_her_finished_makes_set_the_pace_of_all_times(mill: Store) -> None:
    few = {"cloths": ["Lawn with reeds"]}
    usual = {one["ticket_name"]: one for one in of_kind(told(mill, **few), "answer")}
    text = write_ticket(
        Ticket("Slow skirt", "four_panel_skirt", body_name="Marit", cloth_name="Grey-green linen")
    )
    mill.keep_ticket(KeptTicket("Slow skirt", text))
    said = {"spent": 900.0, "finished_on": "2026-11-20"}
    deeds.keep(mill, HOW_FAR, KeptProgress("Slow skirt", said), "finished")
    heard = told(mill, **few)
    (pace,) = of_kind(heard, "pace")
    assert pace["logged"] == 1
    assert pace["pace"] > 1.2
    slow = [one for one in of_kind(heard, "answer") if one["ticket_name"] in usual]
    assert slow
    sewn = [(one, usual[one["ticket_name"]]) for one in slow if not one["bought"]]
    assert any(one["minutes"]["likely"] > 1.1 * before["minutes"]["likely"] for one, before in sewn)


def test_a_ticket_is_made_of_an_answer_found_at_once(mill_page: Any, mill: Store, searched: Any) -> None:
    _, heard = searched
    number = jobs.ask(mill, "evening", ASKED)
    early = of_kind(heard, "early")[0]
    jobs.tell(mill, number, "early", early)
    assert form(mill_page, "/evening/take", job=str(number), rank=early["rank"]).status == 303
    assert form(mill_page, "/evening/take", job=str(number), rank="early 9").status == 422
    assert early["ticket_name"] in {ticket.name for ticket in mill.tickets()}


@pytest.mark.parametrize(("what", "word"), [("season", "monsoon"), ("occasion", "a wedding")])
def test_a_word_that_is_none_is_refused(mill_page: Any, what: str, word: str) -> None:
    asked = {"for": "Marit", "hours": "3", "skill": "practised", "cloth": "White poplin", what: word}
    refused = form(mill_page, "/evening/ask", **asked)
    assert refused.status == 422
    assert word[:10] in refused.text
    assert ask(mill_page, "GET", "/").status == 200


def test_an_old_tape_is_told_first_as_at_the_terminal(mill: Store) -> None:
    asked = {"of": "remnants", "cloths": ["Harbour twill remnant"]}
    assert not [one for one in of_kind(told(mill, **asked), "doubt") if "months old" in one["text"]]
    mill.keep_body(replace(mill.body("Marit"), taken_on="2024-01-10"))
    kind, said = told(mill, **asked)[0]
    assert (kind, said["text"]) == ("doubt", tape_is_old(mill.body("Marit"), ASKED["made_on"])[0])
