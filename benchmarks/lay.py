"""The lay: cloth used against a general strip packer, proofs, remnants, tables of widths, known instances.

`python -m benchmarks.lay [PART ...] [--quick]`; all parts together take an hour of a quiet machine. Each row is
printed as soon as it is known. Every lay has passed the independent check. Times of our own engine are CPU
seconds of one core, so they hold on a busy machine. The race and the strip packer `spyrrow` (MIT) go by the
clock: each gets the seconds named, times how much slower this machine runs just before (`busy`), so that both
have the time they would have on two quiet cores. The academic instances are read where they lie beside the
project.
"""

from __future__ import annotations

import itertools
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from benchmarks.asked import asker
from benchmarks.lay_pieces import BEST_PUBLISHED, DRESS, GARMENTS, RAGLAN, TROUSERS, strip
from benchmarks.lay_remnants import case, without_lay
from benchmarks.table import Row, print_as_known
from clothwise.lay.layering import FOLDED, SINGLE, TO_CENTRE, Layering
from clothwise.lay.nofit import NoFits
from clothwise.lay.packing import kinds, packable, strip_height
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import Watch, fits, layering_table, plan
from clothwise.lay.problem import LayCloth, LayProblem, Nap
from clothwise.lay.search import EFFORTS
from clothwise.race.packer import packed
from clothwise.race.racing import race

WIDTHS = (90.0, 112.0, 125.0, 140.0, 150.0, 160.0)  # cm
TOUCH = 0.001  # cm: lengths this near are equal
MORE_TRIES = 100  # times the thorough effort's: the clock ends these searches
SMALL = ("trousers (4)", "raglan top (5)", "bodice of the dress (10)")
BODICE = (*DRESS[:2], *DRESS[4:8])  # front, back, sleeve, cuff, collar, front facing
PIECES = GARMENTS | {SMALL[2]: BODICE}
FEW = {  # lays of at most three moves
    "trousers, folded": (TROUSERS, FOLDED, 140.0),
    "raglan top without its band, folded": (RAGLAN[:3], FOLDED, 140.0),
    "raglan sleeves and back, single": (RAGLAN[1:3], SINGLE, 112.0),
    "skirt of the dress, to the centre": (DRESS[2:4], TO_CENTRE, 150.0),
}


# ---- clocks ----------------------------------------------------------------------------------------


def busy() -> float:
    """How many times slower than alone this process runs just now."""
    wall, cpu = time.monotonic(), time.process_time()
    while time.monotonic() - wall < 1.0:
        sum(range(2000))
    return max(1.0, (time.monotonic() - wall) / max(time.process_time() - cpu, 0.01))


def cpu_limit(seconds: float) -> Watch:
    """Ends a search after so many CPU seconds from now."""
    until = time.process_time() + seconds
    return lambda made: time.process_time() < until


# ---- rows ------------------------------------------------------------------------------------------


def asked(name: str, width: float, nap: Nap) -> LayProblem:
    return LayProblem(PIECES[name], LayCloth(width, None, nap))


def settled_row(name: str, width: float, nap: Nap, layering: Layering, long: float) -> Row:
    """What one CPU second reaches, against a long search of the same engine."""
    endless = replace(EFFORTS["thorough"], builds=12, tries=EFFORTS["thorough"].tries * MORE_TRIES)
    begun = time.process_time()
    short = plan(asked(name, width, nap), layering, effort=endless, watch=cpu_limit(1.0))
    spent = time.process_time() - begun
    best = plan(asked(name, width, nap), layering, effort=endless, seeds=[short], watch=cpu_limit(long))
    ratio = short.length / best.length
    proof = ", proved shortest" if best.optimal else ""
    what = f"{name}, {width:.0f} cm, {nap}, {layering}: 1 s CPU / {long:.0f} s"
    return Row(what, "<= 1.005", f"{ratio:.4f} (stopped after {spent:.1f} s{proof})", ratio <= 1.005)


def packer_row(name: str, width: float, nap: Nap, seconds: int, most: float) -> Row:
    """Own length over the strip packer's, the own engine alone, as many seconds for each."""
    question = asked(name, width, nap)
    endless = replace(EFFORTS["thorough"], tries=EFFORTS["thorough"].tries * MORE_TRIES)
    own = plan(question, SINGLE, effort=endless, watch=cpu_limit(seconds)).length
    other = packer_length(question, seconds, busy(), workers=1)
    what = f"{name}, {width:.0f} cm, {nap}: own engine alone / strip packer, {seconds} s, one core each"
    return Row(what, f"<= {most:.3f}", f"{own / other:.4f}", own <= other * most + TOUCH)


def packer_length(question: LayProblem, seconds: int, pace: float, workers: int) -> float:
    """Length that the strip packer alone reaches, its own outlines as they are handed to it. [cm]"""
    asked_kinds = kinds(question, NoFits())
    answer = packed(
        {
            "height": strip_height(question),
            "seconds": round(seconds * pace),
            "seed": 1,
            "workers": workers,
            "kinds": [
                {"name": k.name, "outline": k.outline, "count": k.count, "turns": k.turns} for k in asked_kinds
            ],
        }
    )
    return float(answer["width"])


def race_row(what: str, question: LayProblem, seconds: int, share: float, best: float | None) -> list[Row]:
    """The race on two cores against the strip packer alone on two, and against the best published density."""
    pace = busy()
    made = race(question, seconds=seconds * pace)
    other = packer_length(question, seconds, pace, workers=2)
    ratio = made.length / other
    title = f"{what}, {seconds} s: race / strip packer on two cores"
    rows = [Row(title, "<= 1.000", f"{ratio:.4f}", made.length <= other + TOUCH)]
    if best is not None:
        reached = (1 - made.waste) * 100 / best
        rows.append(
            Row(
                f"{what}, {seconds} s: density / best published",
                f">= {share}",
                f"{reached:.3f}",
                reached >= share,
            )
        )
    return rows


def table_row(name: str, nap: Nap, most: float) -> Row:
    """Six widths, single and folded, at the usual effort; and the order that freedom promises."""
    known = NoFits()
    begun = time.process_time()
    rows = layering_table(asked(name, 140, nap), WIDTHS, layerings=(FOLDED, SINGLE), known=known)
    spent = time.process_time() - begun
    one_way = rows
    if nap != "one-way":
        one_way = layering_table(asked(name, 140, "one-way"), WIDTHS, layerings=(FOLDED, SINGLE), known=known)
    wrong = _out_of_order([row.plans for row in rows], [row.plans for row in one_way])
    what = (
        f"{name}, {nap}: table of {len(WIDTHS)} widths, single and folded, CPU s; never more with more freedom"
    )
    return Row(what, f"<= {most:.0f} s", f"{spent:.1f} s, {wrong} out of order", spent <= most and not wrong)


def _out_of_order(rows: list, one_way: list) -> int:  # type: ignore[type-arg]
    """Pairs where more freedom costs cloth: wider, single, two-way."""
    found = 0
    for plans, stricter in zip(rows, one_way, strict=True):
        length = {p.layering: p.length for p in plans}
        if FOLDED in length:
            found += length[SINGLE] > length[FOLDED] + TOUCH
        found += sum(length[p.layering] > p.length + TOUCH for p in stricter)
    for narrower, wider in itertools.pairwise(rows):
        length = {p.layering: p.length for p in wider}
        found += sum(length[p.layering] > p.length + TOUCH for p in narrower)
    return found


def remnants_row(count: int, densest: float, loosest: float, effort: str, cases: int, most: float) -> Row:
    """Remnants that hold their pieces: how many are found, in CPU seconds with all preparation."""
    solved, times = 0, []
    for seed in range(cases):
        question = without_lay(case(seed, count, densest, loosest))
        begun = time.process_time()
        answer = fits(question, effort=effort, watch=cpu_limit(most))
        times.append(time.process_time() - begun)
        solved += answer.verdict == "yes" and times[-1] <= most
    times.sort()
    share = solved / cases
    what = (
        f"remnants known to hold {count} pieces, {loosest:.0%} to {densest:.0%} covered: yes within {most:g} s"
    )
    said = f"{solved} of {cases}, median {times[cases // 2]:.2f} s, slowest {times[-1]:.1f} s"
    return Row(what, ">= 95%", said, share >= 0.95)


def proof_row(what: str, pieces: tuple[LayPiece, ...], layering: Layering, width: float, nap: Nap) -> Row:
    """Three moves or fewer: the plan must say that none is shorter."""
    begun = time.process_time()
    made = plan(LayProblem(pieces, LayCloth(width, None, nap)), layering, effort="usual", known=NoFits())
    spent = time.process_time() - begun
    said = "proved shortest" if made.optimal else "not proved"
    return Row(f"{what}, {nap}", "proved", f"{said}, {made.length:.1f} cm in {spent:.1f} s", made.optimal)


def first_row(name: str) -> Row:
    """How soon there is a verified lay at all, everything compiled."""
    begun = time.process_time()
    heard: list[float] = []

    def once(made: LayPlan | None) -> bool:
        heard.append(time.process_time() - begun)
        return False

    plan(asked(name, 140, "two-way"), SINGLE, known=NoFits(), watch=once)
    spent = heard[0]
    return Row(f"{name}: a first verified lay, CPU s", "<= 0.1", f"{spent:.3f}", spent <= 0.1)


# ---- the table -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Size:
    """How much of everything is measured."""

    long: float  # CPU seconds of a long search
    widths: tuple[float, ...]
    cases: int
    seconds: tuple[int, ...]  # of the races


FULL = Size(60.0, (112.0, 150.0), 100, (10, 60))
QUICK = Size(2.0, (140.0,), 4, ())


NAPS: tuple[Nap, ...] = ("one-way", "two-way")


def first_rows(size: Size) -> Iterator[Row]:
    """A first lay, and proofs."""
    for name in PIECES:
        yield first_row(name)
    for what, (pieces, layering, width) in FEW.items():
        for nap in NAPS:
            yield proof_row(what, pieces, layering, width, nap)


def settled_rows(size: Size) -> Iterator[Row]:
    """At most eleven moves against a long search."""
    for name in SMALL[1:2] if size == QUICK else SMALL:
        for width, nap, layering in itertools.product(size.widths, NAPS, (SINGLE, FOLDED)):
            yield settled_row(name, width, nap, layering, size.long)


def packer_rows(size: Size) -> Iterator[Row]:
    """At most eleven moves against the strip packer."""
    for name, width, nap in itertools.product(SMALL, size.widths, NAPS) if size != QUICK else ():
        yield packer_row(name, width, nap, 10, 1.0)


def table_rows(size: Size) -> Iterator[Row]:
    """Six widths, single and folded."""
    for name in SMALL[:1] if size == QUICK else SMALL:
        yield table_row(name, "two-way", 5)
    if size != QUICK:
        yield table_row("dress (17)", "two-way", 15)


def remnant_rows(size: Size) -> Iterator[Row]:
    """Remnants that hold their pieces."""
    yield remnants_row(8, 0.75, 0.60, "usual", size.cases, 1.0)
    yield remnants_row(12, 0.85, 0.80, "thorough", size.cases, 10.0)


def dress_rows(size: Size) -> Iterator[Row]:
    """Seventeen pieces, own engine and race, for ten seconds."""
    if size == QUICK:
        return
    for nap in NAPS:
        yield packer_row("dress (17)", 140, nap, 10, 1.01)
        yield from race_row(f"dress (17), 140 cm, {nap}", asked("dress (17)", 140, nap), 10, 0.0, None)


def known_rows(seconds: int) -> Callable[[Size], Iterator[Row]]:
    """The academic instances by the clock."""

    def rows(size: Size) -> Iterator[Row]:
        for name in BEST_PUBLISHED if seconds in size.seconds else ():
            question = strip(name)
            if question is not None and packable(question):
                share = {10: 0.91 if name == "swim" else 0.95, 60: 0.94 if name == "swim" else 0.97}[seconds]
                yield from race_row(name, question, seconds, share, BEST_PUBLISHED[name])

    return rows


PARTS: dict[str, Callable[[Size], Iterator[Row]]] = {
    "first": first_rows,
    "settled": settled_rows,
    "packer": packer_rows,
    "tables": table_rows,
    "remnants": remnant_rows,
    "dress": dress_rows,
    "known10": known_rows(10),
    "known60": known_rows(60),
}


def rows_of(parts: Sequence[str], size: Size) -> Iterator[Row]:
    """Every row of these parts, everything compiled before the first."""
    for nap in NAPS:
        plan(asked(SMALL[1], 140, nap), FOLDED, effort="usual")
    yield Row("this machine is slower than alone by", "-", f"{busy():.1f} times")
    for part in parts:
        yield from PARTS[part](size)


def main(arguments: Sequence[str] | None = None) -> int:
    """Print the table; 1 when a target is missed."""
    words = asker(__doc__, "one garment, one width, few remnants, no races")
    words.add_argument("parts", nargs="*", metavar="PART", help=f"of {', '.join(PARTS)}; else all")
    said = words.parse_args(arguments)
    if unknown := [part for part in said.parts if part not in PARTS]:
        words.error(f"there is no part '{unknown[0]}': say {', '.join(PARTS)}")
    rows = rows_of(said.parts or tuple(PARTS), QUICK if said.quick else FULL)
    return 0 if print_as_known("Lay: cloth used", rows) else 1


if __name__ == "__main__":
    sys.exit(main())
