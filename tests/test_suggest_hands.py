"""Two cores at one evening: what is found is the same as with one, whatever becomes of the second."""

from __future__ import annotations

import os
import signal
import sqlite3
import threading
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from benchmarks.cupboard_of_forty import forty

from clothwise.body import estimate
from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import LayError
from clothwise.lay.problem import LayProblem
from clothwise.sew import Sewer
from clothwise.store.demo import bought_scenario, scenario
from clothwise.store.lays import LayMemory
from clothwise.suggest import hands as hands_module
from clothwise.suggest.candidate import Evening, Make
from clothwise.suggest.found import Suggestions
from clothwise.suggest.hands import Hands
from clothwise.suggest.laying import FIT
from clothwise.suggest.suggest import suggest
from clothwise.ticket.made import BLADE_GAP, lay_cloth

MARIT = scenario()[0][0]
SHELF, MAKES = bought_scenario()
DRAFTS = tuple(pattern(name) for name in ("gathered_skirt", "pyjama_bottoms", "apron"))
CLOTHS = tuple(one for one in forty() if one.make == "woven")[:6]


@pytest.fixture
def two_hands(monkeypatch: pytest.MonkeyPatch) -> None:
    """Forks, though other tests have left threads in this process: the workers here hold no lock."""
    monkeypatch.setattr(hands_module, "_can_fork", lambda: True)


def answered(file: Path, monkeypatch: pytest.MonkeyPatch, *, two: bool) -> Suggestions:
    monkeypatch.setattr(hands_module, "_can_fork", lambda: two)
    evening = Evening(MARIT, Sewer("Marit", "practised"), 3.0)
    with LayMemory(file) as memory:
        return suggest(
            evening, CLOTHS, memory.plan, DRAFTS, shelf=SHELF, makes=MAKES, most=8, memory=memory
        )  # fmt: skip


def test_two_hands_find_what_one_finds_and_remember_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    one = answered(tmp_path / "one", monkeypatch, two=False)
    two = answered(tmp_path / "two", monkeypatch, two=True)
    assert any(answer.changes for answer in one.answers)
    assert any(not answer.changes for answer in one.answers)
    assert two == one  # with every lay, minute and reason, and what fell out
    kept = [rows_of(tmp_path / name) for name in ("one", "two")]
    assert kept[0].items() <= kept[1].items()  # the second hand may have looked at a little more


def rows_of(file: Path) -> dict[str, str]:
    with sqlite3.connect(file) as rows:
        return dict(rows.execute("select key, plan from sealed_lays"))


class Doubling:
    """Doubles numbers; the second hand knows that it is the second."""

    def __init__(self, *, dies: bool = False) -> None:
        self.second, self.dies = False, dies
        self.by_second = 0

    def work(self, question: int) -> int:
        if self.second and self.dies:
            os.kill(os.getpid(), signal.SIGKILL)
        return 2 * question

    def for_second(self, question: int) -> bool:
        return question % 2 == 1

    def set_apart(self) -> None:
        self.second = True

    def news(self) -> Any:
        return 1

    def learn(self, news: Any) -> None:
        self.by_second += news


def all_asked(worker: Doubling, count: int = 40) -> list[int]:
    asked: list[int] = []

    def ahead() -> Iterable[int]:
        return range(len(asked), count)

    with Hands[int](worker, two=True) as hands:
        for number in range(count):
            asked.append(hands.ask(number, ahead))
    return asked


@pytest.mark.usefixtures("two_hands")
def test_the_second_hand_takes_its_share():
    worker = Doubling()
    assert all_asked(worker) == [2 * number for number in range(40)]
    assert worker.by_second > 0


@pytest.mark.usefixtures("two_hands")
def test_when_the_second_hand_dies_the_first_does_all():
    worker = Doubling(dies=True)
    assert all_asked(worker) == [2 * number for number in range(40)]
    assert worker.by_second == 0


@pytest.mark.usefixtures("two_hands")
def test_nobody_is_left_behind():
    with Hands[int](Doubling(), two=True) as hands:
        assert hands._second is not None
        second = hands._second.process
        hands.ask(1, lambda: (1,))
    with pytest.raises(ChildProcessError):
        os.waitpid(second, os.WNOHANG)


def test_a_process_with_other_threads_is_not_doubled():
    ended = threading.Event()
    other = threading.Thread(target=ended.wait)
    other.start()
    try:
        assert not hands_module._can_fork()
    finally:
        ended.set()
        other.join()


# ---- the memory of lays that both share ---------------------------------------------------------


def problem_on(length: float) -> LayProblem:
    pieces = Make(pattern("four_panel_skirt"), {}, estimate(MARIT)).pieces
    return LayProblem(pieces, lay_cloth(Cloth("A", 138, length)), gap=BLADE_GAP)


def test_what_is_asked_before_does_not_change_a_lay():
    lengths = (300.0, 160.0, 220.0, 40.0)
    came = []
    for order in (lengths, lengths[::-1]):
        with LayMemory(None) as memory:
            came.append({length: lay_or_none(memory, length) for length in order})
    assert came[0] == came[1]
    assert came[0][40.0] is None


def lay_or_none(memory: LayMemory, length: float) -> Any:
    try:
        return memory.plan(problem_on(length), FIT)
    except LayError:
        return None


def test_a_shorter_lay_that_was_kept_serves_a_longer_cloth(tmp_path: Path):
    with LayMemory(tmp_path / "lays") as memory:
        short = memory.plan(problem_on(160.0), FIT)
    with LayMemory(tmp_path / "lays") as memory:
        long = memory.plan(problem_on(300.0), FIT)
    assert replace(long, problem=short.problem) == short


def test_a_memory_that_another_writes_is_no_reason_to_refuse(tmp_path: Path):
    file = tmp_path / "lays"
    with LayMemory(file) as memory:
        memory.plan(problem_on(300.0), FIT)
        other = sqlite3.connect(file, isolation_level=None)
        other.execute("begin exclusive")
        memory._rows.execute("pragma busy_timeout = 50")
    other.execute("rollback")
    other.close()
    assert not rows_of(file)
    with LayMemory(file) as memory:
        assert memory.plan(problem_on(300.0), FIT).verified
    assert rows_of(file)
