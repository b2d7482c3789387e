"""What stands at the head of every station of a ticket: who, what, from which cloth; cloth, minutes and fit;
and the thread with a knot for each station: what is settled there and what is still open."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request

from clothwise.errors import StoreError, WorkroomError
from clothwise.store import Store
from clothwise.store.store import HOW_FAR, MAKE, TICKET
from clothwise.suggest.words import duration
from clothwise.ticket import read_ticket, write_ticket
from clothwise.web.bench import Bench
from clothwise.web.lay_state import (
    MAIN,
    all_faults,
    cloth_at,
    places_of,
    problem_of,
    standing_lay,
)
from clothwise.web.live import look
from clothwise.web.sheet import Reader, named, reader, slug, store_of
from clothwise.web.ticket_state import State, load

STATIONS = (("shape", "Shape"), ("cloth", "Cloth"), ("paper", "Paper"), ("work", "Work"), ("log", "Log"))


@dataclass(frozen=True)
class Knot:
    """One station on the thread."""

    key: str
    title: str
    path: str
    settled: bool
    words: str


@dataclass(frozen=True)
class Head:
    """A ticket with what follows from it, for the templates. `seen` is None when it cannot be drawn (`no`)."""

    state: State
    text: str
    seen: dict[str, Any] | None
    no: WorkroomError | None
    exact: dict[str, Any] | None
    said: Mapping[str, Any]
    knots: tuple[Knot, ...]
    path: str
    laid: float | None  # cm: length of the kept lay, while it holds

    @property
    def cloth(self) -> dict[str, Any]:
        """Length of cloth: of the lay that is kept, else exact where a quick one is known."""
        if self.laid is not None:
            whole = {"have": self.state.cloth.usable_length, "width": self.state.cloth.usable_width}
            return {**whole, "length": self.laid, "exact": True}
        if self.exact and "cloth" in self.exact:
            found: dict[str, Any] = self.exact["cloth"]
            return found
        have = {"have": self.state.cloth.usable_length, "width": self.state.cloth.usable_width}
        return self.seen["cloth"] if self.seen else {**have, "length": None, "exact": False}

    @property
    def minutes(self) -> dict[str, float] | None:
        """Low, likely, high."""
        if self.exact and "minutes" in self.exact:
            found: dict[str, float] = self.exact["minutes"]
            return found
        return self.seen["minutes"] if self.seen else None


def bench_of(request: Request) -> Bench:
    """The warm process beside the page."""
    bench: Bench = request.app.state.bench
    return bench


def scopes_of(name: str) -> tuple[str, ...]:
    """What undo looks at, at each station: all done to the ticket, how far it is, its make and its photos."""
    return f"{HOW_FAR.word}/{name}", f"{TICKET.word}/{name}", f"{MAKE.word}/{name}"


def progress(store: Store, name: str) -> Mapping[str, Any]:
    """How far the ticket has come; nothing when it was not begun."""
    try:
        return store._one(HOW_FAR, name).said
    except StoreError:
        return {}


@lru_cache(maxsize=64)
def _look(text: str, waste: float | None) -> dict[str, Any] | WorkroomError:
    try:
        return look(read_ticket(text), waste)
    except WorkroomError as no:
        return no


def head_of(request: Request, name: str) -> Head:
    """All that the head of the ticket shows."""
    store = store_of(request)
    state = load(store, name)
    text = write_ticket(state.whole)
    seen = _look(text, bench_of(request).waste.get(state.ticket.pattern))
    no = seen if isinstance(seen, WorkroomError) else None
    drawn = None if isinstance(seen, WorkroomError) else seen
    exact = bench_of(request).known(text)
    said = progress(store, name)
    path = f"/ticket/{slug(name)}"
    laid, sound = kept_length(state, said) if drawn else (None, False)
    knots = _knots(path, state, drawn, exact, said, reader(request), laid if sound else None, laid is not None)
    return Head(state, text, drawn, no, exact, said, knots, path, laid)


async def looked_at(
    request: Request, work: Callable[..., dict[str, Any]], *how: Any
) -> tuple[str, Head, dict[str, Any] | None, bool]:
    """A ticket's name and head, what the process beside the page works out of it, and whether that is awaited.

    how  it is to be worked out
    Where it is not known yet the page comes at once, says so, and asks again with `wait`.
    """
    name = named(request.path_params["name"])
    head = await run_in_threadpool(head_of, request, name)
    bench = bench_of(request)
    waits = not head.no and not bench.has(work, head.text, *how) and "wait" not in request.query_params
    return name, head, None if head.no or waits else await bench.ask(work, head.text, *how), waits


def _knots(
    path: str,
    state: State,
    seen: dict[str, Any] | None,
    exact: dict[str, Any] | None,
    said: Mapping[str, Any],
    who: Reader,
    laid: float | None,
    lies: bool,
) -> tuple[Knot, ...]:
    told = {
        "shape": _shape(seen),
        "cloth": _cloth(state, exact, who, laid, lies),
        "paper": _paper(state, seen, exact, said),
        "work": _work(seen, said),
        "log": _log(said),
    }
    return tuple(
        Knot(key, title, path if key == "shape" else f"{path}/{key}", *told[key]) for key, title in STATIONS
    )


def _shape(seen: dict[str, Any] | None) -> tuple[bool, str]:
    if seen is None:
        return False, "cannot be drawn so"
    if seen["doubts"]:
        return False, f"{len(seen['doubts'])} to ask about"
    guessed = len(seen["estimated"])
    return (False, f"{guessed} estimated") if guessed else (True, "all taped")


def _cloth(
    state: State, exact: dict[str, Any] | None, who: Reader, laid: float | None, lies: bool
) -> tuple[bool, str]:
    have = state.cloth.usable_length
    others = len(state.ticket.other_cloths)
    besides = f" and {others} other cloth{'' if others == 1 else 's'}" if others else ""
    if laid is not None:
        washed = all(cloth_at(state.whole, place).washed for place in places_of(state.whole))
        words = f"{who.metres(laid)} of {who.metres(have)}{besides}"
        return washed, words + ("" if washed else ", wash it first")
    if lies:
        return False, "not all cloths laid yet" if others else "cannot be cut so yet"
    if exact is None:
        return False, "not laid yet"
    if "cloth" not in exact:
        return False, "does not fit"
    found = exact["cloth"]
    if found["length"] > found["have"]:
        return False, f"{who.metres(found['length'] - found['have'])} short"
    return False, "fits; not laid yet"


def _paper(
    state: State, seen: dict[str, Any] | None, exact: dict[str, Any] | None, said: Mapping[str, Any]
) -> tuple[bool, str]:
    if said.get("printed"):
        return True, f"printed on {state.ticket.sheet}"
    count = (exact or {}).get("sheets") or (seen or {}).get("sheets")
    return False, f"about {count} × {state.ticket.sheet}" if count else "no sheets"


def _work(seen: dict[str, Any] | None, said: Mapping[str, Any]) -> tuple[bool, str]:
    steps = seen["steps"] if seen else 0
    done = min(len(said.get("ticks", [])), steps)
    if not steps:
        return False, "no order yet"
    return done == steps, f"{done} of {steps} steps done"


def _log(said: Mapping[str, Any]) -> tuple[bool, str]:
    if said.get("finished_on"):
        return True, f"finished {said['finished_on']}"
    spent = spent_minutes(said)
    return False, f"{duration(spent)} so far" if spent else "not begun"


def kept_length(state: State, said: Mapping[str, Any]) -> tuple[float | None, bool]:
    """Length of the main cloth's lay while it is of this very ticket; whether all cloths may be cut. [cm]"""
    ticket = state.whole
    lays = {place: standing_lay(said, ticket, place) for place in places_of(ticket)}
    main = lays[MAIN]
    length = main.plan(problem_of(ticket)).length if main else None
    sound = all(
        lay is not None and not all_faults(lay, problem_of(ticket, place)) for place, lay in lays.items()
    )
    return length, sound


def spent_minutes(said: Mapping[str, Any]) -> float:
    """Minutes on the clock, stretches that are over."""
    return float(said.get("spent", 0.0))
