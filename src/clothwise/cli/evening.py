"""This evening at the terminal: what can be made, and the packet of the best of it."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import typer

from clothwise.cli.evening_asks import cloths_of
from clothwise.cli.files import write_all
from clothwise.cloth import SEASONS
from clothwise.errors import ChoiceError, StoreError
from clothwise.sew import Minutes, Sewer
from clothwise.sew.log import after
from clothwise.store import Store
from clothwise.store.lays import LayMemory
from clothwise.store.log_book import logged_makes
from clothwise.suggest import words
from clothwise.suggest.answer import Answer
from clothwise.suggest.bought import BoughtAnswer
from clothwise.suggest.cautions import caution_words
from clothwise.suggest.found import AnyAnswer, Suggestions
from clothwise.suggest.suggest import Evening, suggest
from clothwise.suggest.wants import OCCASIONS
from clothwise.ticket import write_ticket
from clothwise.ticket.figures import lay_figures, minutes_figures, plain, rounded
from clothwise.ticket.lists import before_cutting
from clothwise.ticket.made import Made, work_out
from clothwise.ticket.packet import packet
from clothwise.ticket.taped import tape_is_old

MOST_HOURS = 48.0  # a long weekend
WIDTH = 78  # columns of a terminal, less a margin
DEMO, EVENING = "Marit", 3.0  # for whom and how long `start` asks


def evening_of(
    store: Store,
    name: str,
    hours: float,
    skill: str,
    overlocker: bool = False,
    season: str = "",
    occasion: str = "",
) -> Evening:
    """An evening of a person of the store, her logged makes minded. ChoiceError on what cannot be."""
    look_whether_begun(store)
    if not 0 < hours <= MOST_HOURS:
        raise ChoiceError(
            f"An evening of {hours:g} hours is not possible.", where="--hours", mend="Give 0.5 to 48."
        )
    for what, word, known in (("season", season, SEASONS), ("occasion", occasion, OCCASIONS)):
        if word and word not in known:
            raise ChoiceError(
                f"'{word}' is no {what}.", where=f"--{what}", mend=f"Say {', '.join(known)}, or leave it out."
            )
    sewer = Sewer(name=name, skill=skill, overlocker=overlocker)  # type: ignore[arg-type]  # Sewer checks it
    makes, _ = logged_makes(store, name)
    today = date.today().isoformat()
    return Evening(
        store.body(name), after(sewer, makes), hours, made_on=today, season=season, occasion=occasion
    )


def look_whether_begun(store: Store) -> None:
    """What can be made asks for a person and a cloth. Raises StoreError, which says what to do first."""
    nobody, nothing = not store.bodies(), not store.cloths()
    if not nobody and not nothing:
        return
    person = "enter whom you sew for on the page, `clothwise start`, under People"
    cloth = 'keep a cloth: `clothwise cupboard add "Blue linen" kind=linen width=140 length="1.8 m"`'
    first = f"First {person}; then {cloth}" if nobody and nothing else f"First {person if nobody else cloth}"
    lacking = "nobody in the store yet, and no cloth" if nobody and nothing else "nobody in the store yet"
    raise StoreError(
        f"There is {lacking if nobody else 'no cloth in the cupboard yet'}.",
        where="clothwise suggest",
        mend=f"{first}.",
    )


def answers_for(
    store: Store,
    evening: Evening,
    names: Sequence[str] | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Suggestions:
    """All makes of an evening, drafted or bought, from all cloths of the store, or from those named."""
    cloths = cloths_of(store, names)
    with LayMemory.beside(store.place) as memory:
        found = suggest(
            evening,
            cloths,
            memory.plan,
            shelf=store.bought_patterns(),
            makes=store.makes(),
            memory=memory,
            box=store.box(),
            progress=progress,
        )
    return replace(found, doubts=(*tape_is_old(evening.body, evening.made_on), *found.doubts))


def best_packet(open_demo: Callable[[], Store], folder: Path) -> None:
    """Prints what can be made, writes the packet of the best answer, and says where."""
    with open_demo() as store:
        look_whether_begun(store)
        names = [body.name for body in store.bodies()]
        name = DEMO if DEMO in names else names[0]
        found = answers_for(store, evening_of(store, name, EVENING, "practised"))
    print_answers(found, name, EVENING, 5)
    if not found.answers:
        raise typer.Exit(1)
    drafted = next((answer for answer in found.answers if isinstance(answer, Answer)), None)
    if drafted is None:
        raise typer.Exit(1)
    made = work_out(drafted.ticket)
    files = packet(made)
    write_all(files, folder)
    typer.echo("")
    print_made(made, files, folder)


def print_answers(found: Suggestions, name: str, hours: float, most: int) -> None:
    """The best answers with their reasons, then how many more there are and what fell out."""
    if not found.answers:
        typer.echo(f"Nothing can be made for {name} from this cupboard:")
    else:
        typer.echo(f"For {name}, {words.duration(hours * 60)} this evening:")
    for doubt in found.doubts:
        _wrapped(f"Before you trust it: {doubt}")
    shown = found.answers[:most]
    for rank, answer in enumerate(shown, 1):
        typer.echo("")
        for line in _answer_lines(rank, answer):
            typer.echo(line)
    more = len(found.answers) - most
    if more > 0:
        typer.echo(f"\n{more} more can be had; --most {most + more} prints all.")
    print_cautions(shown)
    if found.refusals:
        typer.echo("")
    for line in _refused(found):
        _wrapped(line)


def print_cautions(shown: Sequence[AnyAnswer]) -> None:
    """What to mind, each once, with the numbers of the answers it belongs to."""
    for kind in dict.fromkeys(kind for answer in shown for kind in answer.cautions):
        of = [str(rank) for rank, answer in enumerate(shown, 1) if kind in answer.cautions]
        (said,) = caution_words((kind,))
        typer.echo("")
        _wrapped(f"Mind, with {', '.join(of)}: {said}")


def _refused(found: Suggestions) -> Iterator[str]:
    """What cannot be made and why: makes that fail on a cloth for one reason together, then such cloths."""
    on_cloth: dict[tuple[str, str], list[str]] = {}
    for refusal in found.refusals:
        on_cloth.setdefault((refusal.cloth, refusal.why), []).append(words.pattern_title(refusal.pattern))
    alike: dict[tuple[str, str], list[str]] = {}
    for (cloth, why), titles in on_cloth.items():
        alike.setdefault((", ".join(titles), why), []).append(cloth)
    for (makes, why), cloths in alike.items():
        named = [cloth for cloth in cloths if cloth]
        yield f"- Not {makes}{' from ' + ', '.join(named) if named else ''}: {why}"


def _answer_lines(rank: int, answer: AnyAnswer) -> list[str]:
    time = answer.minutes
    lines = _folded(f"{rank}. {words.headline(answer)}", 3)
    if answer.changes:
        lines += _folded(f"{words.change(answer)}.", 3, first=3)
    span = f"{words.duration(time.likely)} ({words.duration(time.low)} to {words.duration(time.high)})"
    lines += _folded(f"{span}, {words.length_of(answer)}", 3, first=3)
    lines += _folded(_parts(time), 3, first=3)
    signs = {"for": "+", "against": "-", "neither": "."}
    lines += [
        line
        for reason in answer.reasons
        for line in _folded(f"{signs[reason.speaks]} {words.reason(reason)}", 5, first=3)
    ]
    told = [words.look(answer)] if words.look(answer) else []
    told += [f"still to buy: {words.to_buy(answer)}"] if answer.to_buy else []
    told += [f"a good place to stop: after '{answer.stop_after}'"] if answer.stop_after else []
    return lines + [line for one in told for line in _folded(f". {one}", 5, first=3)]


def _parts(time: Minutes) -> str:
    """'paper 25 min, cut 50 min, sew 1 h 10, finish 40 min; 24 h to hang besides'"""
    named = (("ready", time.ready), ("paper", time.print_tape), ("cut", time.cut), ("sew", time.sew),
             ("finish", time.finish))  # fmt: skip
    told = ", ".join(f"{name} {words.duration(minutes)}" for name, minutes in named if minutes)
    return told + (f"; besides it must hang for {time.wait_hours:.0f} h" if time.wait_hours else "")


def _folded(text: str, indent: int, first: int = 0) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=" " * first, subsequent_indent=" " * indent)


def _wrapped(text: str) -> None:
    for line in _folded(text, 2):
        typer.echo(line)


def answer_figures(answer: AnyAnswer) -> dict[str, Any]:
    """One answer for programs; the ticket of a house draft is enough to make it."""
    return {
        "title": answer.title,
        **(_bought_figures(answer) if isinstance(answer, BoughtAnswer) else _drafted_figures(answer)),
        "cloth": answer.cloth.name,
        "verdict": answer.verdict,
        "change": plain(answer.change) if answer.change else None,
        "changes": [plain(change) for change in answer.changes],
        "look": answer.look,
        "to_buy": [plain(line) for line in answer.to_buy],
        "score": round(answer.score, 4),
        "minutes": minutes_figures(answer.minutes),
        "stop_after": answer.stop_after or None,
        "reasons": [
            {**plain(reason), "speaks": reason.speaks, "words": words.reason(reason)}
            for reason in answer.reasons
        ],
        "cautions": words.cautions(answer),
        "lay": lay_figures(answer.plan) if answer.plan else None,
        "other_lay": lay_figures(answer.others[0][1]) if answer.others else None,
        "other_lays": [
            {"cloth": other.cloth.name, "pieces": list(other.pieces), "lay": lay_figures(plan)}
            for other, plan in answer.others
        ],
    }


def _drafted_figures(answer: Answer) -> dict[str, Any]:
    return {
        "made_from": "draft",
        "pattern": answer.ticket.pattern,
        "choices": dict(answer.ticket.choices),
        "ticket": write_ticket(answer.ticket),
    }


def _bought_figures(answer: BoughtAnswer) -> dict[str, Any]:
    need = answer.need
    return {
        "made_from": "bought pattern",
        "pattern": answer.pattern,
        "view": answer.view,
        "sizes": dict(answer.advice.sizes),
        "need": {"low": rounded(need.low), "likely": rounded(need.likely), "high": rounded(need.high)},
        "haberdashery": list(answer.haberdashery),
    }


def print_made(made: Made, files: Mapping[str, bytes], folder: Path) -> None:
    """What the packet is and where it lies."""
    plan, time = made.plan, json.loads(files["packet.json"])["minutes"]  # these count the printing too
    span = f"{words.duration(time['low'])} to {words.duration(time['high'])}"
    typer.echo(
        f"{made.ticket.name}: {plan.length:.0f} cm of {made.cloth.name}, {plan.layering}; "
        f"about {words.duration(time['likely'])} ({span}), printing and taping included."
    )
    for question in before_cutting(made):
        _wrapped(f"- Before you cut: {question}")
    for note in made.garment.notes:
        _wrapped(f"- {note.text}")
    typer.echo(f"The packet is in {folder}/:")
    for name in sorted(files):
        typer.echo(f"  {name}")
