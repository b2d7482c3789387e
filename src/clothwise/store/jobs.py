"""Long work, in the store: what was asked, how far it is, what came out. Any process may write its news.

waiting -> running -> done          its news tell all that was found
                   -> refused       `said` is the sentence
                   -> cancelled     by the sewer
                   -> interrupted   the program ended meanwhile
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any, Literal

from sqlalchemy import func, insert, select, update

from clothwise.errors import StoreError
from clothwise.store.deeds import now
from clothwise.store.store import Store
from clothwise.store.tables import JOB_NEWS, JOBS

State = Literal["waiting", "running", "done", "refused", "cancelled", "interrupted"]
GOING: tuple[State, ...] = ("waiting", "running")


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of long work."""

    number: int
    kind: str
    asked: dict[str, Any]
    state: State
    begun_at: str
    said: str = ""

    @property
    def going(self) -> bool:
        """Whether more may come."""
        return self.state in GOING


@dataclass(frozen=True, slots=True)
class News:
    """One thing a job told: 'progress', 'found' ..."""

    number: int
    kind: str
    told: Any


def ask(store: Store, kind: str, asked: dict[str, Any]) -> int:
    """Writes down what is wanted. Returns the job's number."""
    row = {"kind": kind, "asked": json.dumps(asked), "state": "waiting", "begun_at": now()}
    with store._writing() as connection:
        return int(connection.execute(insert(JOBS).returning(JOBS.c.id), row).scalar_one())


def job(store: Store, number: int) -> Job:
    """The job of this number. StoreError when there is none."""
    with store._reading() as connection:
        row = connection.execute(select(JOBS).where(JOBS.c.id == number)).one_or_none()
    if row is None:
        raise StoreError(f"There is no work of number {number}.", where="jobs", mend="Ask for it again.")
    return Job(row.id, row.kind, json.loads(row.asked), row.state, row.begun_at, row.said)


def newest(store: Store, kind: str, most: int = 1) -> tuple[Job, ...]:
    """The last jobs of a kind, newest first."""
    with store._reading() as connection:
        rows = connection.execute(
            select(JOBS).where(JOBS.c.kind == kind).order_by(JOBS.c.id.desc()).limit(most)
        ).all()
    return tuple(Job(r.id, r.kind, json.loads(r.asked), r.state, r.begun_at, r.said) for r in rows)


def turn(store: Store, number: int, state: State, said: str = "") -> bool:
    """Moves a job that is still going to another state. Returns whether it was still going."""
    with store._writing() as connection:
        going = (JOBS.c.id == number) & JOBS.c.state.in_(GOING)
        return connection.execute(update(JOBS).where(going).values(state=state, said=said)).rowcount > 0


def tell(store: Store, number: int, kind: str, told: Any) -> None:
    """Adds news to a job."""
    with store._writing() as connection:
        last = connection.scalar(select(func.max(JOB_NEWS.c.number)).where(JOB_NEWS.c.job_id == number)) or 0
        row = {"job_id": number, "number": last + 1, "kind": kind, "text": json.dumps(told)}
        connection.execute(insert(JOB_NEWS).values(row))


def news(store: Store, number: int, after: int = 0) -> tuple[News, ...]:
    """What a job told after its news of that number."""
    with store._reading() as connection:
        rows = connection.execute(
            select(JOB_NEWS)
            .where(JOB_NEWS.c.job_id == number, JOB_NEWS.c.number > after)
            .order_by(JOB_NEWS.c.number)
        ).all()
    return tuple(News(row.number, row.kind, json.loads(row.text)) for row in rows)


def interrupt_all(store: Store) -> int:
    """Says of all that was going that it was interrupted: nobody works on it any more. Returns how many."""
    with store._writing() as connection:
        said = "Clothwise was closed while this was going on; ask again."
        changed = update(JOBS).where(JOBS.c.state.in_(GOING)).values(state="interrupted", said=said)
        return connection.execute(changed).rowcount
