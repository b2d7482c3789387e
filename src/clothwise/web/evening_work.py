"""The search of an evening, in a worker: every answer is told as soon as its place is sure."""

from __future__ import annotations

from typing import Any

from clothwise.draft import pattern
from clothwise.errors import StoreError
from clothwise.sew import Sewer
from clothwise.store import Store
from clothwise.store.lays import LayMemory
from clothwise.suggest import words
from clothwise.suggest.answer import Answer, Refusal
from clothwise.suggest.suggest import Evening, suggest
from clothwise.ticket.writing import write_ticket
from clothwise.web.lay_drawing import thumbnail
from clothwise.web.work import Tell

AGAINST = (
    "over time",
    "may run over",
    "too light",
    "too heavy",
    "draft note",
)  # shown as such, however they count


def find(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """Tells doubts, then answers best first, then near misses, then what fell out and why."""
    body = store.body(asked["for"])
    cloths = [cloth for cloth in store.cloths() if cloth.name in asked["cloths"]]
    if not cloths:
        raise StoreError(
            "None of these cloths is in the cupboard.", where="this evening", mend="Tick another, or keep one."
        )
    sewer = Sewer(name=asked["for"], skill=asked["skill"], overlocker=asked["overlocker"])
    evening = Evening(body, sewer, asked["hours"], made_on=asked["made_on"])
    told: list[Answer] = []

    def found(answer: Answer) -> None:
        told.append(answer)
        tell("answer", told_of(answer, len(told)))

    with LayMemory.beside(store.place) as memory:
        suggestions = suggest(evening, cloths, memory.plan, found=found, memory=memory)
    for answer in suggestions.answers[len(told) :]:
        found(answer)
    for doubt in suggestions.doubts:
        tell("doubt", {"text": doubt})
    tell("fell out", {"rows": fell_out(suggestions.refusals)})


def told_of(answer: Answer, rank: int) -> dict[str, Any]:
    """An answer as plain data for the page; its ticket is enough to make it."""
    time, ticket = answer.minutes, answer.ticket
    assert ticket.cloth is not None
    changed = dict(ticket.choices)
    return {
        "rank": rank,
        "title": answer.title,
        "pattern": ticket.pattern,
        "choices": words.choices(answer),
        "settled": changed,
        "cloth": ticket.cloth_name,
        "colour": ticket.cloth.colour,
        "verdict": answer.verdict,
        "change": words.change(answer),
        "minutes": {"low": time.low, "likely": time.likely, "high": time.high, "wait": time.wait_hours},
        "length": answer.plan.length,
        "width": answer.plan.problem.cloth.width,
        "have": ticket.cloth.usable_length,
        "layering": str(answer.plan.layering),
        "reasons": [
            {"words": words.reason(r), "for_it": r.counts >= 0 and r.kind not in AGAINST}
            for r in answer.reasons
        ],
        "stop_after": answer.stop_after,
        "lay": thumbnail(answer.plan, ticket.cloth.usable_length),
        "ticket_name": ticket.name,
        "ticket": write_ticket(ticket),
    }


def fell_out(refusals: tuple[Refusal, ...]) -> list[dict[str, str]]:
    """What cannot be made and why, makes that fail for one reason together."""
    alike: dict[tuple[str, str], list[str]] = {}
    for one in refusals:
        alike.setdefault((one.cloth, one.why), []).append(pattern(one.pattern).title)
    return [{"cloth": cloth, "why": why, "makes": ", ".join(makes)} for (cloth, why), makes in alike.items()]
