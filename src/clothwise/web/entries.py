"""What every card of the page does alike: entries kept while somebody types, and the whole taken away.

Entries are kept as one deed on the thing as it stands, whoever changed it last.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.errors import WorkroomError
from clothwise.store import Store, deeds
from clothwise.store.standing import Watch
from clothwise.store.store import Kind, Thing
from clothwise.web.sheet import as_refusal, go_to, named, store_of

State = TypeVar("State")


class Refused(WorkroomError):
    """One entry cannot be as typed. `path` tells which."""

    def __init__(self, no: WorkroomError, path: str) -> None:
        super().__init__(no.what, where=no.where, mend=no.mend)
        self.path = path


async def json_said(request: Request) -> Any:
    """The JSON in a request. ValueError for what is none, is nested without end, or holds half a letter."""
    try:
        told = json.loads((await request.body()).decode())
        json.dumps(told, ensure_ascii=False).encode()  # a surrogate alone can be kept nowhere
    except RecursionError:
        raise ValueError("nested without end") from None
    return told


def with_each(state: State, entries: Mapping[str, str], put: Callable[[State, str, str], State]) -> State:
    """The state with every entry set, one after another: put(state, path, text). Raises Refused."""
    for path, text in entries.items():
        try:
            state = put(state, path, text.strip())
        except WorkroomError as no:
            raise Refused(no, path) from no
    return state


def keep_entries(
    store: Store,
    kind: Kind[Thing],
    name: str,
    change: Callable[[Thing], Thing],
    words: Callable[[Thing, Thing], str],
) -> dict[str, Any]:
    """Keeps a change of one thing. Returns its version and what undo would do, or the refusal, for the scripts.

    change  the thing with the entries set; a refusal may carry `path`, the entry that cannot be
    words   what was done, from the thing before and after: undo shows them
    Raises  StoreError when there is nothing of that name
    """
    before, scope = store._one(kind, name), f"{kind.word}/{name}"
    try:
        change(before)
    except WorkroomError as no:
        return {"refused": {**as_refusal(no), "path": getattr(no, "path", "")}}

    def done(hand: deeds.Hand) -> None:
        stands = hand.find(kind, name) or before
        now = change(stands)
        hand.words = words(stands, now)
        hand.keep(kind, now)

    watch = Watch(store, (scope,))
    deeds.do(store, scope, "", done, watch)
    told = deeds.can(store, scope)
    return {
        "version": deeds.version(store, kind, name),
        "undo": told.undo.words if told.undo else "",
        **watch.told,
    }


def forget_route(path: str, kind: Kind[Any], words: str, back: str) -> Route:
    """Taking a thing away, as a deed that undo brings back.

    path, back  of the thing's page, '/cloth/{name}', and where to look after; words  '{name} taken off'
    """

    async def forget(request: Request) -> Response:
        """Takes the thing away."""
        name = named(request.path_params["name"])
        await run_in_threadpool(deeds.forget, store_of(request), kind, name, words.replace("{name}", name))
        return go_to(back)

    return Route(f"{path}/forget", forget, methods=["POST"])
