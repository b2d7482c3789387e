"""Do the house drafts hold on everybody: every rule of the check, refusals, jumps, and how quick they are.

Sampled bodies come from the population model (2,000, a fixed seed), real ones from the public data beside the
repository where they are present: all adults and children, the estimate filling what was not measured on
them. Each body is drawn as the draft stands; a sixth of them also with every other option and number at its
ends, and with several choices at once by lot. Time is drawing alone, on one core, after a warm-up.

    ./run bench drafts [NAME ...] [--quick]     all of the shelf, or those named
    ./run bench drafts [NAME ...] --kept=FOLDER each job's finding is kept there; ended, the sweep goes on there
    ./run bench drafts [NAME ...] --digest      what tells whether the garments of a sweep are still the same
"""

from __future__ import annotations

import math
import statistics
import sys
import time
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from itertools import islice
from pathlib import Path

from tests.real_bodies import real_adults, real_bodies

from benchmarks.asked import asker
from benchmarks.draft_combinations import combinations
from benchmarks.drafts_kept import Found, Kept, Wish, digest
from benchmarks.house import asked_for, chosen, draft_named
from benchmarks.table import Row, print_table
from clothwise.body import Body, Figure, Measure, estimate, sample
from clothwise.draft import HouseDraft
from clothwise.errors import ChoiceError, WorkroomError
from clothwise.garment import Garment
from clothwise.garment.check import check, greatest_move

SAMPLED: dict[Figure, int] = {"woman": 700, "man": 600, "girl": 350, "boy": 350}
SEED = 2026
MEDIAN_MS, SOLVED_MS = 10.0, 25.0  # targets: one garment; one whose sleeve head or crotch is solved
SOLVED = ("jogger", "pyjama_bottoms", "raglan_pullover", "darted_shift", "button_front_shirt", "sweatshirt")
REFUSED, STRICT_REFUSED = 0.01, 0.005  # targets: share of real adults; of the first two drafts
STRICT = ("pull_on_trousers", "four_panel_skirt")
JUMP = 1.0  # target: cm that a point moves for 1 mm of a measure
QUICK_BODIES = 12  # times fewer bodies in a quick run
QUICK_SHARE = 8  # and of the choices' ends each body gets an eighth
AT_ONCE = 3  # wishes of several choices at once that each of these bodies is drawn with
ONE_MM = 0.1  # cm
CHUNK = 8  # bodies handed to a worker at once
ELDEST = 18.5  # years: where children end in the data
DIGEST_BODIES = 70  # of each of the three kinds

Job = tuple[Sequence[Body], Sequence[Wish]]


def main(arguments: Sequence[str] | None = None) -> int:
    """Prints one table a draft. Returns 1 when a target is missed."""
    words = asker(__doc__, "a twelfth of the bodies")
    words.add_argument("names", nargs="*", metavar="NAME", help="a draft of the shelf; else all")
    words.add_argument("--kept", type=Path, metavar="FOLDER", help="a sweep that was ended goes on there")
    words.add_argument("--digest", action="store_true", help="tells whether garments are still the same")
    wanted = words.parse_args(arguments)
    names = asked_for(wanted.names, words)
    if wanted.digest:
        for name in names:
            print(f"{name:20} {_digest(name)}", flush=True)
        return 0
    met = True
    with ProcessPoolExecutor(max_workers=2) as pool:
        for name in names:
            title = f"Drafts: {draft_named(name).title}"
            met &= print_table(title, list(_rows(name, wanted.quick, wanted.kept, pool)))
    return 0 if met else 1


def _rows(name: str, quick: bool, folder: Path | None, pool: ProcessPoolExecutor) -> Iterator[Row]:
    draft = draft_named(name)
    sweep = partial(_checked, name, pool, Kept(folder, name, _digest(name) if folder else ""))
    refused = STRICT_REFUSED if draft.name in STRICT else REFUSED
    sampled = _sampled(draft, QUICK_BODIES if quick else 1)
    yield from sweep("sampled bodies", _spread(sampled[:: 4 if quick else 1]), None)
    adults = _adults(draft, 500 if quick else 1)
    children = _children(draft, 300 if quick else 1)
    if adults:
        yield from sweep("real adults", _spread(adults), refused)
        yield from sweep("real children", _spread(children), refused)
    some = (*sampled[::6], *adults[::60], *children[::60])
    ends = list(wishes(draft))
    jobs = _spread(some, ends)
    if quick:  # every wish still comes, on two of the bodies each
        jobs = [
            ((body,), ends[n % QUICK_SHARE :: QUICK_SHARE]) for n, body in enumerate(some[: 2 * QUICK_SHARE])
        ]
    yield from sweep("each choice at its ends", jobs, None)
    yield from sweep("several choices at once", _mixed(draft, some[: 2 * QUICK_SHARE] if quick else some), None)
    yield from _jumps(name, sampled[:: 50 if quick else 40], pool)
    yield from _times(draft, sampled[: 40 if quick else 200])


def wishes(draft: HouseDraft) -> Iterator[Wish]:
    """Every option of the main choices with each other, and every other choice at both its ends."""
    mains: list[Wish] = [{}]
    for choice in draft.choices:
        if choice.main:
            mains = [{**wish, choice.name: option} for wish in mains for option in choice.options]
    yield from mains
    for choice in draft.choices:
        if not choice.main:
            ends: Sequence[float | str] = choice.options or (choice.low, choice.high)
            yield from (chosen(draft, choice.name, end) for end in ends)


def _mixed(draft: HouseDraft, bodies: Sequence[Body]) -> list[Job]:
    """Each body with some wishes of its own."""
    drawn = combinations(draft, AT_ONCE * len(bodies), SEED)
    return [((body,), list(islice(drawn, AT_ONCE))) for body in bodies]


def _digest(name: str) -> str:
    """Of some two hundred bodies of all kinds."""
    draft = draft_named(name)
    kinds = (_sampled(draft, 1), _adults(draft, 1), _children(draft, 1))
    bodies = [body for kind in kinds for body in kind[:: max(len(kind) // DIGEST_BODIES, 1)]]
    return digest(draft, bodies, list(wishes(draft)))


def _sampled(draft: HouseDraft, every: int) -> tuple[Body, ...]:
    """Bodies of the population, taped: the sampled figures count as measured."""
    found: list[Body] = []
    for figure, n in SAMPLED.items():
        found += sample(figure, n // every, SEED)
    return tuple(b for b in found if b.age_years is None or b.age_years >= draft.least_age or not b.child)


def _adults(draft: HouseDraft, every: int) -> tuple[Body, ...]:
    """Real adults as taped; what the draft needs and the survey did not take is estimated."""
    adults = real_adults()[::every]
    return tuple(b if all(need in b for need in draft.needs) else estimate(b) for b in adults)


def _children(draft: HouseDraft, every: int) -> tuple[Body, ...]:
    """Real children of the draft's age; what was not measured on them is estimated."""
    found = [
        body
        for body in (*real_bodies("girl"), *real_bodies("boy"))
        if body.age_years is not None and draft.least_age <= body.age_years < ELDEST
    ]
    return tuple(estimate(body) for body in found[::every])


# ---- every rule ---------------------------------------------------------------------------------


def _checked(
    name: str,
    pool: ProcessPoolExecutor,
    kept: Kept,
    who: str,
    jobs: Sequence[Job],
    most_refused: float | None,
) -> Iterator[Row]:
    found, todo = Found(), dict[str, Job]()
    for number, job in enumerate(jobs):
        part = kept.found(f"{who} {number}")
        if part is None:
            todo[f"{who} {number}"] = job
        else:
            found.add(part)
    names = [name] * len(todo)
    for key, part in zip(todo, pool.map(_check_some, names, *zip(*todo.values(), strict=True)), strict=True):
        kept.keep(key, part)
        found.add(part)
    for text in found.worst.values():
        print("   ", text, file=sys.stderr)
    faults = sum(found.faults.values())
    yield Row(f"{who}: garments drawn", "-", found.drawn)
    yield Row(f"{who}: rules broken", 0, f"{faults} {dict(found.faults) or ''}".strip(), faults == 0)
    share = found.refused / max(found.drawn + found.refused, 1)
    target = "-" if most_refused is None else f"<= {most_refused:.1%}"
    met = None if most_refused is None else share <= most_refused
    yield Row(f"{who}: bodies refused", target, f"{found.refused} ({share:.2%})", met)
    if found.out_of_range:
        yield Row(f"{who}: choices this body cannot have, said so", "-", found.out_of_range)


def _spread(bodies: Sequence[Body], wished: Sequence[Wish] = ({},)) -> list[Job]:
    """The bodies in chunks for the workers, each with all the wishes."""
    return [(bodies[i : i + CHUNK], wished) for i in range(0, len(bodies), CHUNK)]


def _check_some(name: str, bodies: Sequence[Body], wished: Sequence[Wish]) -> Found:
    draft, found = draft_named(name), Found()
    for body in bodies:
        for wish in wished:
            try:
                garment = draft.make(body, wish)
            except WorkroomError as no:
                if wish and isinstance(no, ChoiceError):  # as it stands, any refusal is one of the body
                    found.out_of_range += 1
                    found.worst.setdefault("choice", f"said: {wish} {no}")
                    continue
                found.refused += 1
                found.worst.setdefault("refused", f"refused: {no}")
                continue
            found.drawn += 1
            for fault in check(garment):
                found.faults[fault.rule] += 1
                found.worst.setdefault(fault.rule, f"broken: {body.name} {wish} {fault}")
    return found


# ---- jumps and time -------------------------------------------------------------------------------


def _jumps(name: str, bodies: Sequence[Body], pool: ProcessPoolExecutor) -> Iterator[Row]:
    found = Found()
    for part in pool.map(_move_some, [name] * len(bodies), [(body,) for body in bodies]):
        found.add(part)
    what = f"1 mm on one measure moves a point by, cm ({found.drawn} trials)"
    yield Row(what, f"<= {JUMP:g}", round(found.greatest_move, 3), found.greatest_move <= JUMP)
    if found.out_of_range:
        yield Row("trials at a threshold: a dart, panel, tier or zip more or less", "-", found.out_of_range)


def _move_some(name: str, bodies: Sequence[Body]) -> Found:
    draft, found = draft_named(name), Found()
    for body in bodies:
        try:
            before = draft.make(body)
        except WorkroomError:
            continue
        for measure in draft.needs:
            try:
                after = draft.make(_nudged(body, measure))
            except WorkroomError:
                continue  # at the edge of what can be drawn: a refusal, not a jump
            found.drawn += 1
            move = greatest_move(before, after)
            # other lines: a dart, panel or tier came or went, as it must somewhere; or the next zip sold
            if math.isinf(move) or _zips(before) != _zips(after):
                found.out_of_range += 1
            elif move > found.greatest_move:
                found.greatest_move = move
                found.worst["move"] = f"{body.name} {measure}"
    return found


def _zips(garment: Garment) -> list[float]:
    """Lengths of its zips, which are sold in steps of 2 to 5 cm; the opening is made as long. [cm]"""
    return [notion.length for notion in garment.notions if notion.name == "zip"]


def _nudged(body: Body, measure: str) -> Body:
    old = body.measures[measure]
    new = Measure(old.cm + ONE_MM, old.source, old.low, old.high)
    return Body(body.name, body.figure, {**body.measures, measure: new}, body.age_years)


def _times(draft: HouseDraft, bodies: Iterable[Body]) -> Iterator[Row]:
    taken: list[float] = []
    for number, body in enumerate((*bodies,)):
        start = time.perf_counter()
        try:
            draft.make(body)
        except WorkroomError:
            continue
        if number >= 5:
            taken.append((time.perf_counter() - start) * 1000)
    median = statistics.median(taken)
    most = SOLVED_MS if draft.name in SOLVED else MEDIAN_MS
    yield Row("one garment, median ms", f"<= {most:g}", round(median, 1), median <= most)
    yield Row("one garment, slowest of 100, ms", "-", round(sorted(taken)[math.floor(0.99 * len(taken))], 1))
    yield Row("one garment, slowest, ms", "-", round(max(taken), 1))


if __name__ == "__main__":
    sys.exit(main())
