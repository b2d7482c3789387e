"""What a worker process does: waits with everything imported, takes one piece of work, tells its news, ends."""

from __future__ import annotations

import signal
from collections.abc import Callable, Mapping
from multiprocessing.connection import Connection
from typing import Any

from clothwise.errors import WorkroomError
from clothwise.store import Store, jobs, open_store

Tell = Callable[[str, Any], None]
Work = Callable[[Store, dict[str, Any], Tell], None]


def wait_for_work(place: str, wire: Connection) -> None:
    """The whole life of a worker."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, which ends us
    work = kinds()
    try:
        number = wire.recv()
    except EOFError:  # the server is gone
        return
    with open_store(place) as store:
        do_job(store, number, work)


def kinds() -> Mapping[str, Work]:
    """The kinds of work there are; importing them is the slow part of a worker's start."""
    from clothwise.web import buying_work, evening_work, ticket_work

    return {
        "evening": evening_work.find,
        "lay": ticket_work.lay,
        "tricks": ticket_work.tricks,
        "longest": ticket_work.longest,
        "packet": ticket_work.packet,
        "shopping": buying_work.shop,
        "metres": buying_work.metres_wanted,
    }


def do_job(store: Store, number: int, work: Mapping[str, Work]) -> None:
    """One job from waiting to its end. A refusal is told as one; our own bug too, and then it is raised."""
    asked = jobs.job(store, number)
    if not jobs.turn(store, number, "running"):
        return
    try:
        work[asked.kind](store, asked.asked, lambda kind, told: jobs.tell(store, number, kind, told))
    except WorkroomError as no:
        jobs.turn(store, number, "refused", str(no))
    except Exception:
        jobs.turn(store, number, "refused", "Something is wrong in Clothwise itself; the terminal says what.")
        raise
    else:
        jobs.turn(store, number, "done")
