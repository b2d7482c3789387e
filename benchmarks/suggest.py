"""How long `suggest` takes for one body, all drafts with their main choices, the bought patterns of the mill's
shelf, and forty cloths; and whether what it hands out holds.

Cold: nothing is remembered. First: until the first answer, drawn, laid, verified and timed, is told. Warm: the
same question in a new memory opened on the same file. Every lay handed out is then put to the independent
verifier, outside the time; in the full run every answer's ticket is taken up and worked out. The ranking is
held against a look at every make on every cloth, for some drafts, the whole shelf and some cloths. Imports and
compiled code are warmed by a small question first; what a new process takes and its imports alone are printed
besides. Times are by the clock; the processor's own seconds, of both cores together, stand beside them: other
work on the machine lengthens the first more than the second.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from benchmarks.asked import quick_only
from benchmarks.cupboard_of_forty import forty
from benchmarks.table import Row, print_table
from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS, HouseDraft, pattern
from clothwise.errors import WorkroomError
from clothwise.lay.verify import faults
from clothwise.sew import Sewer
from clothwise.store import open_store, seed_demo
from clothwise.store.demo import bought_scenario, scenario
from clothwise.store.lays import LayMemory
from clothwise.suggest.answer import Answer
from clothwise.suggest.bought import BoughtAnswer, BoughtCandidate
from clothwise.suggest.found import AnyAnswer, Suggestions
from clothwise.suggest.scraps import from_scraps
from clothwise.suggest.suggest import SAME_AGAIN, Evening, _Search, choices_of, suggest
from clothwise.ticket import read_ticket, write_ticket
from clothwise.ticket.made import work_out

MAKES, FIRST, COLD, WARM = 120, 1.0, 10.0, 1.0  # makes at least; seconds, the targets
HELD = ("four_panel_skirt", "gathered_skirt", "pull_on_trousers", "leggings")  # drafts looked at in full
SHELF, MADE = bought_scenario()
RANKS = 10  # places held against a look at everything


@dataclass(slots=True)
class Run:
    """One question: what came, and after how many seconds."""

    found: Suggestions
    clock: float
    processor: float
    first: float
    sure: float


def main(arguments: Sequence[str] | None = None) -> int:
    """Prints the table. Returns 1 when a target is missed."""
    quick = quick_only(__doc__, "one person", arguments)
    bodies = scenario()[0]
    cloths = forty()
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        _ask(bodies[0], cloths[:2], place / "small.lays")
        makes = sum(1 for draft in PATTERNS for _ in choices_of(draft, _plain(draft)))
        pairs = sum(sum(1 for _ in choices_of(d, c)) for d in PATTERNS for c in cloths if c.make in d.makes)
        rows = [
            Row("makes: drafts x main choices", f">= {MAKES}", makes, makes >= MAKES),
            Row("cloths", 40, len(cloths), len(cloths) == 40),
            Row("makes on cloths of their sort", "-", pairs),
        ]
        for body in bodies[:1] if quick else bodies:
            rows += _timed(body, cloths, place / f"{body.name}.lays", not quick)
        rows += _ranked_as_by_looking_at_all(
            bodies[0], cloths[:6] if quick else cloths[:14], place / "all.lays"
        )
        if not quick:
            rows += _others(bodies[0], cloths, place / "others.lays")
            rows += _new_process(place)
    return 0 if print_table("Suggest: all drafts on forty cloths", rows) else 1


def _plain(draft: HouseDraft) -> Cloth:
    return Cloth("Plain", 140, 300, make=draft.makes[0], stretch_across=0.5)


def _ask(body: Body, cloths: tuple[Cloth, ...], memory: Path) -> Run:
    begun, worked = time.perf_counter(), _processor()
    told: list[float] = []
    sure: list[float] = []
    with LayMemory(memory) as lays:
        found = suggest(
            Evening(body, Sewer(body.name, "practised"), 3.0),
            cloths,
            lays.plan,
            shelf=SHELF,
            makes=MADE,
            memory=lays,
            early=lambda answer: told.append(time.perf_counter() - begun),
            found=lambda answer: sure.append(time.perf_counter() - begun),
        )
    clock, processor = time.perf_counter() - begun, _processor() - worked
    first = min([*told, *sure], default=clock)
    return Run(found, clock, processor, first, min(sure, default=clock))


def _processor() -> float:
    """Seconds of this process, and of second hands that have ended."""
    spent = os.times()
    return spent.user + spent.system + spent.children_user + spent.children_system


def _timed(body: Body, cloths: tuple[Cloth, ...], memory: Path, taken_up: bool) -> list[Row]:
    cold, warm = _ask(body, cloths, memory), _ask(body, cloths, memory)
    answers = cold.found.answers
    wrong = sum(_wrong(answer) for answer in answers)
    same = [_what(a) for a in answers] == [_what(a) for a in warm.found.answers]
    near = sum(bool(answer.changes) for answer in answers)
    bought = sum(isinstance(answer, BoughtAnswer) for answer in answers)
    who = body.name
    return [
        Row(f"{who}: answers", "> 0", len(answers), len(answers) > 0),
        Row(f"{who}: near misses among them", "-", near),
        Row(f"{who}: bought patterns among them", "> 0", bought, bought > 0),
        Row(f"{who}: lays that fail the verifier or overrun the cloth", 0, wrong, wrong == 0),
        Row(f"{who}: first answer, s", f"<= {FIRST:g}", cold.first, cold.first <= FIRST),
        Row(f"{who}: first answer whose rank is sure, s", "-", cold.sure),
        Row(f"{who}: all, cold, s", f"<= {COLD:g}", cold.clock, cold.clock <= COLD),
        Row(f"{who}: all, cold, processor's s", "-", cold.processor),
        Row(f"{who}: all, warm, s", f"<= {WARM:g}", warm.clock, warm.clock <= WARM),
        Row(f"{who}: all, warm, processor's s", "-", warm.processor),
        Row(f"{who}: warm gives the same answers", "yes", "yes" if same else "no", same),
        *_taken_up(who, answers if taken_up else ()),
    ]


def _taken_up(who: str, answers: tuple[AnyAnswer, ...]) -> list[Row]:
    if not answers:
        return []
    refused = _not_to_be_had(answers)
    return [Row(f"{who}: tickets of answers that cannot be worked out", 0, refused, refused == 0)]


def _what(answer: AnyAnswer) -> object:
    """What tells one answer from another."""
    if isinstance(answer, BoughtAnswer):
        return answer.title, answer.cloth, answer.sizes, answer.changes
    return answer.ticket


def _not_to_be_had(answers: tuple[AnyAnswer, ...]) -> int:
    """Answers whose ticket, written and read again, cannot be worked out."""
    wrong = 0
    for answer in answers:
        if isinstance(answer, Answer):
            try:
                work_out(read_ticket(write_ticket(answer.ticket)), effort="quick")
            except WorkroomError as no:
                print(f"  {answer.title}, {answer.cloth.name}: {no}")
                wrong += 1
    return wrong


def _wrong(answer: AnyAnswer) -> int:
    if answer.plan is None:
        return int(isinstance(answer, BoughtAnswer) and answer.need.high > answer.cloth.usable_length)
    plans = [answer.plan, *(plan for _, plan in answer.others)]
    return sum(bool(faults(plan)) or plan.length > (plan.problem.cloth.length or 0) for plan in plans)


def _ranked_as_by_looking_at_all(body: Body, cloths: tuple[Cloth, ...], memory: Path) -> list[Row]:
    """Places that differ from a look at every make on every cloth."""
    drafts = tuple(pattern(name) for name in HELD)
    evening = Evening(body, Sewer(body.name, "practised"), 3.0)
    with LayMemory(memory) as lays:
        found = suggest(evening, cloths, lays.plan, drafts, most=RANKS, shelf=SHELF, makes=MADE)
        search = _Search(evening, cloths, lays.plan, drafts, None, None, (), SHELF, MADE)
        every = [
            c for c in search._candidates()
            if all(c.look_closer(evening, lays.plan) for _ in range(2)) and c.sound
        ]  # fmt: skip
    bought = sum(isinstance(c, BoughtCandidate) for c in every)
    looked = len(every)
    expected: list[float] = []
    seen: dict[str, int] = {}
    while every and len(expected) < RANKS:
        best = max(
            every,
            key=lambda c: c.score - SAME_AGAIN * (seen.get(c.name, 0) + seen.get(c.cloth.name, 0)),
        )
        every.remove(best)
        expected.append(best.score)
        for key in (best.name, best.cloth.name):
            seen[key] = seen.get(key, 0) + 1
    got = [answer.score for answer in found.answers if not answer.changes]
    differ = sum(abs(a - b) > 1e-4 for a, b in zip(got, expected, strict=False)) + abs(len(got) - len(expected))
    return [
        Row(f"places unlike a look at all {looked}, {bought} bought", 0, differ, differ == 0),
    ]


def _others(body: Body, cloths: tuple[Cloth, ...], memory: Path) -> list[Row]:
    evening = Evening(body, Sewer(body.name, "practised"), 3.0)
    with LayMemory(memory) as lays:
        begun = time.perf_counter()
        remnants = tuple(cloth for cloth in cloths if cloth.remnant)
        scraps = from_scraps(evening, remnants, lays.plan)
        end = time.perf_counter()
    return [
        Row(f"{len(remnants)} remnants alone: answers", "> 0", len(scraps), len(scraps) > 0),
        Row(f"{len(remnants)} remnants alone, s", "-", end - begun),
        *_taken_up(f"{len(remnants)} remnants", tuple(one.answer for one in scraps)),
    ]


def _new_process(folder: Path) -> list[Row]:
    """Seconds of `clothwise suggest` as a person types it, the second time; and of its imports alone."""
    store = folder / "demo.sqlite"
    with open_store(store) as opened:
        seed_demo(opened)
    seconds = []
    for code in (
        "import clothwise.suggest.suggest, clothwise.store.lays",
        "from clothwise.cli import main; main()",
        "from clothwise.cli import main; main()",
    ):
        words = ["suggest", "--for", "Marit", "--hours", "3", "--json"] if "main" in code else []
        begun = time.perf_counter()
        subprocess.run(
            [sys.executable, "-c", code, *words],
            check=True,
            capture_output=True,
            env={"CLOTHWISE_STORE": str(store), "PATH": ""},
        )
        seconds.append(time.perf_counter() - begun)
    return [
        Row("a new process: imports alone, s", "-", seconds[0]),
        Row("a new process, the mill's cupboard, cold, s", "-", seconds[1]),
        Row("a new process, the mill's cupboard, all remembered, s", "-", seconds[2]),
    ]


if __name__ == "__main__":
    sys.exit(main())
