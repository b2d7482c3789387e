"""What is remembered of a question: which makes came out, in which order, and what fell out with its reason.

The answers themselves are not kept. Each is drawn or sized, laid and timed again; the memory only spares the
search. A make that can no longer be had so is left away.
"""

from __future__ import annotations

import json
from typing import Any, Protocol

from clothwise.cloth import Cloth
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.suggest.answer import Change
from clothwise.suggest.bought import BoughtAnswer
from clothwise.suggest.candidate import Candidate
from clothwise.suggest.found import AnyAnswer, Suggestions
from clothwise.suggest.laying import Planner, goes_onto
from clothwise.ticket.ticket import OtherCloth

Moved = tuple[tuple[OtherCloth, LayPlan], ...]


class Memory(Protocol):
    """Remembers lays, and texts by question. `apart`, `news`, `learn`: see `hands.Worker`."""

    def plan(self, problem: LayProblem, effort: str) -> LayPlan: ...

    def apart(self) -> Memory: ...

    def news(self) -> object: ...

    def learn(self, news: object) -> None: ...

    def recalled(self, question: str) -> str | None: ...

    def keep(self, question: str, text: str) -> None: ...


def written(suggestions: Suggestions) -> str:
    """As it is kept."""
    refusals = [(r.pattern, r.cloth, r.why) for r in suggestions.refusals]
    return json.dumps({"answers": [_row(answer) for answer in suggestions.answers], "refusals": refusals})


def _row(answer: AnyAnswer) -> dict[str, Any]:
    row: dict[str, Any] = {"changes": [(c.choice, c.value, c.by, c.was) for c in answer.changes]}
    if isinstance(answer, BoughtAnswer):
        return {"bought": answer.pattern, "view": answer.view, "cloth": answer.cloth.name, **row}
    ticket = answer.ticket
    moved = [(list(other.pieces), other.cloth.name) for other, _ in answer.others]
    return {
        "draft": ticket.pattern,
        "cloth": ticket.cloth_name,
        "wish": dict(ticket.choices),
        "moved": moved,
        **row,
    }


def changes_of(row: dict[str, Any]) -> tuple[Change, ...]:
    """The changes of a row."""
    return tuple(Change(*change) for change in row["changes"])


def laid_again(
    candidate: Candidate, row: dict[str, Any], cloths: dict[str, Cloth], planner: Planner
) -> Moved | None:
    """Lays a near miss as it was found; what lies on other cloths, None when it no longer goes."""
    pieces = candidate.make.pieces_on(candidate.cloth)
    taken = {name for names, _ in row["moved"] for name in names}
    plan = goes_onto(tuple(p for p in pieces if p.name not in taken), candidate.cloth, planner)
    if plan is None:
        return None
    candidate.plan = plan
    others = []
    for names, cloth_name in row["moved"]:
        cloth = cloths[cloth_name]
        laid = goes_onto(tuple(p for p in pieces if p.name in names), cloth, planner)
        if laid is None:
            return None
        others.append((OtherCloth(tuple(names), cloth), laid))
    return tuple(others)
