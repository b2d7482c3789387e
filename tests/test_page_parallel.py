"""Many changes of one thing in the same moment, over real HTTP: each is kept, or whoever made it is told."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from http.client import HTTPConnection
from typing import Any
from urllib.parse import urlencode

import pytest

from clothwise.draft import pattern
from clothwise.store import deeds, open_store
from clothwise.store.store import HOW_FAR
from clothwise.ticket import read_ticket
from clothwise.web.sheet import slug
from tests.page_tools import Server

NAME, PATH = "Marit's linen trousers", "/ticket/Marit~27s+linen+trousers"
AT_ONCE = 20  # hands
JSON = {"Content-Type": "application/json", "Accept": "application/json", "Sec-Fetch-Site": "same-origin"}
FORM = {**JSON, "Content-Type": "application/x-www-form-urlencoded"}


def post(server: Server, path: str, body: str, headers: Mapping[str, str]) -> tuple[int, Any]:
    with closing(HTTPConnection("127.0.0.1", server.port, timeout=60)) as wire:
        wire.request("POST", path, body.encode(), dict(headers))
        answer = wire.getresponse()
        text = answer.read()
        return answer.status, json.loads(text) if text.startswith((b"{", b"[")) else text


def all_at_once(do: Callable[[Any], tuple[int, Any]], what: list[Any]) -> list[tuple[int, Any]]:
    with ThreadPoolExecutor(AT_ONCE) as hands:
        return list(hands.map(do, what))


def test_forty_entries_of_a_ticket_set_at_once_are_all_kept(server: Server) -> None:
    with open_store(server.store) as store:
        ticket = read_ticket(store.ticket(NAME).text)
        measures = list(store.body("Marit"))
    taped = {f"measure.{name}": "" for name in measures}
    choices = {f"choice.{one.name}": one.options[-1] for one in pattern(ticket.pattern).choices if one.options}
    figures = {"figure.seat": "1.5", "choice.longer": "2", "sheet": "A3", "sewer.skill": "expert"}
    with open_store(server.store) as store:
        body = store.body("Marit")
    for path in taped:
        taped[path] = f"{body[path.partition('.')[2]] + 0.5:.2f}"
    wanted = {**taped, **choices, **figures}
    assert len(wanted) >= 20
    told = all_at_once(
        lambda one: post(server, f"{PATH}/keep", json.dumps({"set": {one[0]: one[1]}}), JSON),
        list(wanted.items()),
    )
    assert [status for status, _ in told] == [200] * len(wanted)
    kept = {path for path, (_, said) in zip(wanted, told, strict=True) if "version" in said}
    assert len(kept) > 0.9 * len(wanted), [said for _, said in told if "version" not in said]
    with open_store(server.store) as store:
        after = read_ticket(store.ticket(NAME).text)
        assert after.body is not None
        for path in kept & set(taped):
            assert after.body[path.partition(".")[2]] == pytest.approx(float(taped[path])), path
        assert {p: after.choices[p.partition(".")[2]] for p in kept & set(choices)} == {
            p: choices[p] for p in kept & set(choices)
        }
        assert (after.figure.get("seat"), after.sheet, after.sewer.skill) == (1.5, "A3", "expert")
        taken_back = 0
        while deeds.undo(store, f"ticket/{NAME}") is not None:
            taken_back += 1
        assert taken_back == len(kept), "each is a deed of its own"
        assert read_ticket(store.ticket(NAME).text) == ticket


def test_forty_steps_ticked_at_once_are_all_ticked(server: Server) -> None:
    steps = [f"step {number}" for number in range(40)]
    told = all_at_once(
        lambda step: post(server, f"{PATH}/tick", urlencode({"step": step, "done": "yes"}), FORM), steps
    )
    assert {status for status, _ in told} == {200}
    with open_store(server.store) as store:
        assert set(store._one(HOW_FAR, NAME).said["ticks"]) == set(steps)


def test_a_piece_altered_twice_in_one_moment_is_kept_or_refused_and_never_lost(server: Server) -> None:
    new = {"pattern": "a_line_skirt", "for": "Marit", "cloth": "Grey-green linen"}
    assert post(server, "/tickets/new", urlencode(new), FORM)[0] == 303
    with open_store(server.store) as store:
        name = next(one.name for one in store.tickets() if "A-line" in one.name)
    at = f"/ticket/{slug(name)}/altering"
    told = all_at_once(
        lambda by: post(server, at, urlencode({"what": "line", "place": "seam=waist", "by": by}), FORM),
        ["0.5", "1", "1.5", "2"],
    )
    kept = [said for status, said in told if status == 200]
    assert kept
    for status, said in told:
        assert status == 200 or said["refused"]["what"].endswith("."), said
    with open_store(server.store) as store:
        assert len(read_ticket(store.ticket(name).text).changes) == len(kept)
