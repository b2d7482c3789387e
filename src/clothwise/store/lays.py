"""Lays found before, and which makes came out of a question, kept beside the store: the same question is
answered at once.

Only a memory: deleting the file loses nothing but time. Every lay passed the independent verifier before it
was kept; a seal over the question and the lay tells whether it is still the very same, and one whose seal does
not match is planned anew, so a damaged memory can never reach the scissors.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from dataclasses import astuple, replace
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
from clothwise.lay.planning import best_plan, fits, goes_on
from clothwise.lay.problem import LayProblem
from clothwise.store.place import file_of
from clothwise.suggest.laying import FIT

ENDING = ".lays"
TABLE = "sealed_lays"
QUESTIONS = "sealed_questions"
BETTER_EFFORT = "brisk"  # where the first lay came near
CAME_NEAR = 1.04  # times the cloth's length; the better effort hardly ever takes off more


class LayMemory:
    """Plans lays and remembers them. Without a file (a store that is not one) it remembers while it lives."""

    def __init__(self, file: Path | None) -> None:
        self._known = NoFits()
        self._rows = _opened(file)

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
        self._rows.commit()
        self._rows.close()

    def plan(self, problem: LayProblem, effort: str) -> LayPlan:
        """The shortest lay for the cloth's width, or with FIT one that goes onto the cloth as it is.

        Raises  LayError: a piece is wider than the cloth; with FIT, none was found
        """
        if effort == FIT:
            return self._fit(problem)
        free = _of_any_length(problem)
        key = _key(free, effort)
        plan = self._remembered(key, free)
        if plan is None:
            plan = best_plan(free, effort=effort, known=self._known)
            self._write(key, _written(plan))
        return replace(plan, problem=problem)

    def _fit(self, problem: LayProblem) -> LayPlan:
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
            raise _none_found(length)
        plan = self._found(problem, length)
        if plan is not None:
            self._write(key, _written(plan))
            return plan
        self._write(_hash(key, "none"), repr(length))
        raise _none_found(length)

    def _found(self, problem: LayProblem, length: float) -> LayPlan | None:
        plan = goes_on(problem, known=self._known)
        if plan.length <= length:
            return plan
        if plan.length > CAME_NEAR * length:
            return None
        return fits(problem, effort=BETTER_EFFORT, known=self._known).plan

    def recalled(self, question: str) -> str | None:
        """What was kept of a question asked before; None when nothing was, or it is no longer the same."""
        key = _hash(_code(), question)
        row = self._rows.execute(f"select text, seal from {QUESTIONS} where key = ?", (key,)).fetchone()
        return row[0] if row is not None and row[1] == _seal(key, row[0]) else None

    def keep(self, question: str, text: str) -> None:
        """Keeps what came out of a question."""
        key = _hash(_code(), question)
        row = (key, text, _seal(key, text))
        self._rows.execute(f"insert or replace into {QUESTIONS} values (?, ?, ?)", row)

    def _remembered(self, key: str, problem: LayProblem) -> LayPlan | None:
        text = self._read(key)
        return None if text is None else _read(text, problem)

    def _read(self, key: str) -> str | None:
        row = self._rows.execute(f"select plan, seal from {TABLE} where key = ?", (key,)).fetchone()
        return str(row[0]) if row is not None and row[1] == _seal(key, row[0]) else None

    def _write(self, key: str, text: str) -> None:
        self._rows.execute(f"insert or replace into {TABLE} values (?, ?, ?)", (key, text, _seal(key, text)))


def _of_any_length(problem: LayProblem) -> LayProblem:
    """The question without the cloth's length; a remnant's shape and flaws cannot be asked without it."""
    cloth = problem.cloth
    if cloth.outline is not None or cloth.flaws:
        return problem
    return replace(problem, cloth=replace(cloth, length=None))


def _none_found(length: float) -> LayError:
    return LayError(
        f"No lay was found on {length:g} cm.",
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
