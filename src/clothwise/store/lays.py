"""Lays found before, and which makes came out of a question, kept beside the store: the same question is
answered at once.

Only a memory: deleting the file loses nothing but time. Every lay passed the independent verifier before it
was kept; a seal over the question and the lay tells whether it is still the very same, and one whose seal does
not match is planned anew, so a damaged memory can never reach the scissors.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import sqlite3
from dataclasses import astuple, dataclass, field, replace
from functools import cache
from pathlib import Path
from types import TracebackType

import clothwise
from clothwise import __version__
from clothwise.errors import LayError
from clothwise.lay.layering import Layering
from clothwise.lay.nofit import NoFits
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import best_plan, goes_on
from clothwise.lay.problem import LayProblem
from clothwise.store.place import file_of
from clothwise.suggest.laying import FIT

ENDING = ".lays"
TABLE = "sealed_lays"
QUESTIONS = "sealed_questions"


class LayMemory:
    """Plans lays and remembers them. Without a file (a store that is not one) it remembers while it lives.

    What it answers rests on what was kept when it was opened, and on the question: never on what else was asked
    meanwhile, so that it is the same in whatever order, and by however many hands, the questions are asked.
    What is new is written when it is closed, in one go: nobody else waits for it.
    """

    def __init__(self, file: Path | None) -> None:
        self._file = file
        self._known = NoFits()
        self._rows = _opened(file)
        self._lays = _Kept()
        self._questions: dict[str, str] = {}
        self._asked: dict[tuple[LayProblem, str], LayPlan | None] = {}  # None: no lay was found

    @classmethod
    def beside(cls, place: str) -> LayMemory:
        """The memory that belongs to the store at this place."""
        store = file_of(place)
        return cls(None if store is None else store.with_name(store.name + ENDING))

    def __enter__(self) -> LayMemory:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, wrong: BaseException | None, trace: TracebackType | None
    ) -> None:
        with contextlib.suppress(sqlite3.Error):  # another process writes: a memory is never worth a refusal
            self._write_down()
        self._rows.close()

    def plan(self, problem: LayProblem, effort: str) -> LayPlan:
        """The shortest lay for the cloth's width, or with FIT one that goes onto the cloth as it is.

        Raises  LayError: a piece is wider than the cloth; with FIT, none was found
        """
        question = problem, effort
        if question not in self._asked:
            self._asked[question] = self._fit(problem) if effort == FIT else self._shortest(problem, effort)
        plan = self._asked[question]
        if plan is None:
            raise _none_found(problem)
        return plan

    def _shortest(self, problem: LayProblem, effort: str) -> LayPlan:
        free = _of_any_length(problem)
        key = _key(free, effort)
        plan = self._remembered(key, free)
        if plan is None:
            plan = best_plan(free, effort=effort, known=self._known)
            self._lays.keep(key, plan)
        return replace(plan, problem=problem)

    def _fit(self, problem: LayProblem) -> LayPlan | None:
        """A lay found for a shorter cloth of the width serves; so does the knowledge that a longer had none."""
        length = problem.cloth.length
        assert length is not None
        asked = _of_any_length(problem)
        key = _key(asked, FIT)
        before = self._remembered(key, asked)
        if before is not None and before.length <= length:
            return replace(before, problem=problem)
        none_up_to = self._read(_hash(key, "none"))
        if none_up_to is not None and length <= float(none_up_to):
            return None
        plan = goes_on(problem, known=self._known)
        if plan is None:
            self._lays.keep_none(_hash(key, "none"), length)
        else:
            self._lays.keep(key, plan)
        return plan

    # -- by several hands -------------------------------------------------------------------------------
    def apart(self) -> LayMemory:
        """The same memory for another process, which opens it itself."""
        return LayMemory(self._file)

    def news(self) -> object:
        """What came to be known since it was last asked, for `learn`."""
        news, self._lays = self._lays, _Kept()
        return news

    def learn(self, news: object) -> None:
        """Takes over what another found out."""
        assert isinstance(news, _Kept)
        self._lays.take_over(news)

    # -- questions ----------------------------------------------------------------------------------------
    def recalled(self, question: str) -> str | None:
        """What was kept of a question asked before; None when nothing was, or it is no longer the same."""
        key = _hash(_code(), question)
        if key in self._questions:
            return self._questions[key]
        row = self._rows.execute(f"select text, seal from {QUESTIONS} where key = ?", (key,)).fetchone()
        return row[0] if row is not None and row[1] == _seal(key, row[0]) else None

    def keep(self, question: str, text: str) -> None:
        """Keeps what came out of a question."""
        self._questions[_hash(_code(), question)] = text

    def _remembered(self, key: str, problem: LayProblem) -> LayPlan | None:
        text = self._read(key)
        return None if text is None else _read(text, problem)

    def _read(self, key: str) -> str | None:
        row = self._rows.execute(f"select plan, seal from {TABLE} where key = ?", (key,)).fetchone()
        return str(row[0]) if row is not None and row[1] == _seal(key, row[0]) else None

    def _write_down(self) -> None:
        for table, rows in ((TABLE, self._lays.rows()), (QUESTIONS, self._questions)):
            sealed = [(key, text, _seal(key, text)) for key, text in rows.items()]
            self._rows.executemany(f"insert or replace into {table} values (?, ?, ?)", sealed)
        self._rows.commit()


@dataclass(slots=True)
class _Kept:
    """Lays found, by question: the shortest; and up to which length of cloth none was found, the greatest."""

    plans: dict[str, tuple[float, str]] = field(default_factory=dict)
    none_up_to: dict[str, float] = field(default_factory=dict)

    def keep(self, key: str, plan: LayPlan) -> None:
        self._shorter(key, (plan.length, _written(plan)))

    def keep_none(self, key: str, length: float) -> None:
        self.none_up_to[key] = max(length, self.none_up_to.get(key, 0.0))

    def take_over(self, other: _Kept) -> None:
        for key, one in other.plans.items():
            self._shorter(key, one)
        for key, length in other.none_up_to.items():
            self.keep_none(key, length)

    def rows(self) -> dict[str, str]:
        """As they are written."""
        plans = {key: text for key, (_, text) in self.plans.items()}
        return {**plans, **{key: repr(length) for key, length in self.none_up_to.items()}}

    def _shorter(self, key: str, one: tuple[float, str]) -> None:
        self.plans[key] = min(one, self.plans.get(key, one))


def _of_any_length(problem: LayProblem) -> LayProblem:
    """The question without the cloth's length; a remnant's shape and flaws cannot be asked without it."""
    cloth = problem.cloth
    if cloth.outline is not None or cloth.flaws:
        return problem
    return replace(problem, cloth=replace(cloth, length=None))


def _none_found(problem: LayProblem) -> LayError:
    return LayError(
        f"No lay was found on {problem.cloth.length:g} cm.",
        where="lay",
        mend="Take a longer or wider cloth, or change the make.",
    )


def _opened(file: Path | None) -> sqlite3.Connection:
    if file is not None:
        try:
            return _with_table(sqlite3.connect(file, timeout=5))
        except sqlite3.Error:
            pass  # not writable or damaged: a memory is never worth a refusal
    return _with_table(sqlite3.connect(":memory:"))


def _with_table(rows: sqlite3.Connection) -> sqlite3.Connection:
    rows.execute(f"create table if not exists {TABLE} (key text primary key, plan text, seal text)")
    rows.execute(f"create table if not exists {QUESTIONS} (key text primary key, text text, seal text)")
    return rows


def _key(problem: LayProblem, effort: str) -> str:
    """All that decides the lay: pieces, cloth, gap, effort, and the version of the engine."""
    return _hash(__version__, effort, repr(problem))


def _seal(key: str, text: str) -> str:
    return _hash(key, text)


def _hash(*parts: str) -> str:
    return hashlib.sha256(" ".join(parts).encode()).hexdigest()


@cache
def _code() -> str:
    """Tells this very installation: another draft or rule might answer otherwise."""
    home = Path(clothwise.__file__).parent
    files = sorted(
        (str(f.relative_to(home)), f.stat().st_size, f.stat().st_mtime_ns) for f in home.rglob("*.py")
    )
    return _hash(__version__, repr(files))


def _written(plan: LayPlan) -> str:
    return json.dumps(
        {
            "layering": astuple(plan.layering),
            "placements": [astuple(placement) for placement in plan.placements],
            "length": plan.length,
            "optimal": plan.optimal,
        }
    )


def _read(text: str, problem: LayProblem) -> LayPlan:
    kept = json.loads(text)
    return LayPlan(
        problem=problem,
        layering=Layering(*kept["layering"]),
        placements=tuple(Placement(*placement) for placement in kept["placements"]),
        length=float(kept["length"]),
        verified=True,
        optimal=bool(kept["optimal"]),
    )
