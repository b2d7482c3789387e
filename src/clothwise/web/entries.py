"""Entries sent while somebody types, kept as one deed on the thing as it stands, whoever changed it last."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from clothwise.errors import WorkroomError
from clothwise.store import Store, deeds
from clothwise.store.store import Kind, Thing
from clothwise.web.sheet import as_refusal


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
        after = change(before)
    except WorkroomError as no:
        return {"refused": {**as_refusal(no), "path": getattr(no, "path", "")}}

    def done(hand: deeds.Hand) -> None:
        stands = hand.find(kind, name)
        hand.keep(kind, change(before if stands is None else stands))

    deeds.do(store, scope, words(before, after), done)
    told = deeds.can(store, scope)
    return {"version": deeds.version(store, kind, name), "undo": told.undo.words if told.undo else ""}
