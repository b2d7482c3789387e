"""The search of an evening, in a worker: answers are told as soon as their places are sure, a few sooner."""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import Any

from clothwise.cloth import Cloth
from clothwise.errors import StoreError
from clothwise.lay.plan import LayPlan
from clothwise.sew import Sewer
from clothwise.sew.log import after
from clothwise.store import Store
from clothwise.store.lays import LayMemory
from clothwise.store.log_book import logged_makes
from clothwise.suggest import words
from clothwise.suggest.answer import Refusal
from clothwise.suggest.bought import BoughtAnswer
from clothwise.suggest.found import AnyAnswer
from clothwise.suggest.scraps import from_scraps
from clothwise.suggest.suggest import Evening, suggest
from clothwise.ticket.bought_ticket import BoughtTicket, write_bought_ticket
from clothwise.ticket.taped import tape_is_old
from clothwise.ticket.writing import write_ticket
from clothwise.web.lay_drawing import thumbnail
from clothwise.web.work import Tell

SHORT = 120.0  # cm: a whole length so short counts as a remnant, as at the terminal
MOST_FROM_SCRAPS = 12
BETWEEN = 0.4  # s between two words of how far it is: more would only wear out the disk


def find(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """What was asked: all that can be made of the cloths, or what remnants give, several together."""
    cloths = [cloth for cloth in store.cloths() if cloth.name in asked["cloths"]]
    if not cloths:
        raise StoreError(
            "None of these cloths is in the cupboard.", where="this evening", mend="Tick another, or keep one."
        )
    evening = evening_of(store, asked)
    if evening.sewer.logged:
        tell("pace", {"logged": evening.sewer.logged, "pace": evening.sewer.pace})
    for words_of_age in tape_is_old(evening.body, evening.made_on):
        tell("doubt", {"text": words_of_age})
    if asked.get("of") == "remnants":
        _from_remnants(store, evening, cloths, tell)
    else:
        _from_all(store, evening, cloths, tell)


def evening_of(store: Store, asked: dict[str, Any]) -> Evening:
    """The evening asked about, at the pace that her finished makes have shown."""
    sewer = Sewer(
        name=asked["for"], skill=asked["skill"], overlocker=asked["overlocker"], units=asked.get("units", "cm")
    )
    makes, _ = logged_makes(store, asked["for"])
    return Evening(
        store.body(asked["for"]),
        after(sewer, makes),
        asked["hours"],
        made_on=asked["made_on"],
        season=asked.get("season", ""),
        occasion=asked.get("occasion", ""),
    )


def _from_all(store: Store, evening: Evening, cloths: list[Cloth], tell: Tell) -> None:
    """Tells a few at once, then answers best first, then near misses, doubts, and what fell out and why."""
    told: list[AnyAnswer] = []
    at_once: list[AnyAnswer] = []
    last = 0.0

    def found(answer: AnyAnswer) -> None:
        told.append(answer)
        tell("answer", told_of(answer, str(len(told)), evening))

    def early(answer: AnyAnswer) -> None:
        at_once.append(answer)
        tell("early", told_of(answer, f"early {len(at_once)}", evening))

    def progress(done: int, of: int) -> None:
        nonlocal last
        if time.monotonic() - last > BETWEEN or done == of:
            last = time.monotonic()
            tell("progress", {"done": done, "of": of})

    with LayMemory.beside(store.place) as memory:
        suggestions = suggest(
            evening,
            cloths,
            memory.plan,
            shelf=store.bought_patterns(),
            makes=store.makes(),
            box=store.box(),
            found=found,
            early=early,
            progress=progress,
            memory=memory,
        )
    for answer in suggestions.answers[len(told) :]:
        found(answer)
    for doubt in suggestions.doubts:
        tell("doubt", {"text": doubt})
    tell("fell out", {"rows": fell_out(suggestions.refusals)})


def _from_remnants(store: Store, evening: Evening, cloths: list[Cloth], tell: Tell) -> None:
    """Tells what fits on the remnants among the cloths, several of them together by layer."""
    remnants = [cloth for cloth in cloths if cloth.remnant or cloth.usable_length <= SHORT]
    if not remnants:
        raise StoreError(
            "None of these cloths is a remnant.",
            where="this evening",
            mend=f"Tick remnants, or lengths of up to {SHORT:.0f} cm.",
        )
    with LayMemory.beside(store.place) as memory:
        found = from_scraps(evening, remnants, memory.plan, most=MOST_FROM_SCRAPS)
    for number, one in enumerate(found, 1):
        used = f"uses {one.used:.0%} of what it is cut from"
        tell("answer", told_of(one.answer, str(number), evening, (used,)))


# ---- as plain data -------------------------------------------------------------------------------


def told_of(answer: AnyAnswer, rank: str, evening: Evening, besides: tuple[str, ...] = ()) -> dict[str, Any]:
    """An answer as plain data for the page; its ticket is enough to make it. `besides`: more in its favour."""
    minutes = answer.minutes
    reasons = [{"words": words.reason(r), "speaks": r.speaks} for r in answer.reasons]
    name, text = _ticket_of(answer, evening)
    return {
        "rank": rank,
        "title": answer.title,
        "bought": isinstance(answer, BoughtAnswer),
        "choices": words.choices(answer),
        "cloth": answer.cloth.name,
        "others": [one.cloth.name for one, _ in answer.others],
        "verdict": answer.verdict,
        "change": words.change(answer),
        "minutes": {
            "low": minutes.low, "likely": minutes.likely, "high": minutes.high, "wait": minutes.wait_hours
        },
        **_length_of(answer),
        "reasons": [*({"words": one, "speaks": "for"} for one in besides), *reasons],
        "look": words.look(answer),
        "to_buy": words.to_buy(answer),
        "cautions": words.cautions(answer),
        "stop_after": answer.stop_after,
        "lays": list(_lays(answer)),
        "ticket_name": name,
        "ticket": text,
    }  # fmt: skip


def _length_of(answer: AnyAnswer) -> dict[str, Any]:
    """What of the cloth it takes: laid, else by the table of the envelope. [cm]"""
    have = answer.cloth.usable_length
    if answer.plan is not None:
        plan = answer.plan
        width, how = plan.problem.cloth.width, str(plan.layering)
        return {"length": plan.length, "width": width, "have": have, "how": how}
    assert isinstance(answer, BoughtAnswer)
    return {
        "length": answer.need.high,
        "width": answer.need.width,
        "have": have,
        "how": "at most, by the table on its envelope",
    }


def _lays(answer: AnyAnswer) -> Iterator[dict[str, Any]]:
    """Its lays, small: the main cloth first."""
    plans: list[tuple[Cloth, LayPlan]] = [(answer.cloth, answer.plan)] if answer.plan else []
    for cloth, plan in (*plans, *((one.cloth, plan) for one, plan in answer.others)):
        drawn = thumbnail(plan, cloth.usable_length)
        yield {**drawn, "cloth": cloth.name, "layering": str(plan.layering), "all": cloth.usable_length}


def _ticket_of(answer: AnyAnswer, evening: Evening) -> tuple[str, str]:
    """The name and the text of the ticket that an answer becomes."""
    if not isinstance(answer, BoughtAnswer):
        return answer.ticket.name, write_ticket(answer.ticket)
    name = f"{answer.title} for {evening.body.name}"
    ticket = BoughtTicket(
        name=name,
        pattern=answer.pattern,
        view=answer.view,
        body_name=evening.body.name,
        cloth_name=answer.cloth.name,
        sewer=evening.sewer,
        made_on=evening.made_on,
    )
    return name, write_bought_ticket(ticket)


def fell_out(refusals: tuple[Refusal, ...]) -> list[dict[str, str]]:
    """What cannot be made and why, makes that fail for one reason together."""
    alike: dict[tuple[str, str], dict[str, None]] = {}
    for one in refusals:
        alike.setdefault((one.cloth, one.why), {})[words.pattern_title(one.pattern)] = None
    return [
        {"cloth": cloth, "why": why, "makes": _sentence(", ".join(makes))}
        for (cloth, why), makes in alike.items()
    ]


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]
