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
from clothwise.lay.nofit import NoFits
from clothwise.lay.plan import LayPlan, Placement
from clothwise.lay.planning import best_plan
from clothwise.lay.problem import Layering, LayProblem
from clothwise.store.place import file_of

ENDING = ".lays"
TABLE = "sealed_lays"
QUESTIONS = "sealed_questions"


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
        """The shortest lay for the cloth's width. Raises LayError when a piece is wider than the cloth."""
        free = replace(problem, cloth=replace(problem.cloth, length=None))
        key = _key(free, effort)
        plan = self._remembered(key, free)
        if plan is None:
            plan = best_plan(free, effort=effort, known=self._known)
            text = _written(plan)
            self._rows.execute(
                f"insert or replace into {TABLE} values (?, ?, ?)", (key, text, _seal(key, text))
            )
        return replace(plan, problem=problem)

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
        row = self._rows.execute(f"select plan, seal from {TABLE} where key = ?", (key,)).fetchone()
        if row is None or row[1] != _seal(key, row[0]):
            return None
        return _read(row[0], problem)


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
            "layering": [plan.layering.name, plan.layering.depth],
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
