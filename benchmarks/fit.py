"""Size and fit: advice on many bodies and charts, liking learned from simulated wearers, cloth against lays.

`python -m benchmarks.fit [--quick]`. Bodies are drawn from the population (and real ones where the data stand
beside the repository); charts are drawn from a seed. Each row has a target; exit 1 when one is missed.

    size      on a chart of their own measures, people get the size of the chart; no size is ever advised
              in silence that cannot be worn
    liking    invented wearers with a hidden liking judge makes, with the slack the rule assumes: it proves the
              arithmetic, not that people are so
    growth    the median child of one age must reach the median of the next within the span of a year
    cloth     the share of real lays inside the spans of the area law, on bodies it was not set on
"""

from __future__ import annotations

import math
import statistics
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

import numpy as np
from tests.real_bodies import available, real_bodies

from benchmarks import fit_cloth
from benchmarks.asked import quick_only
from benchmarks.table import Row, print_table
from clothwise.body import Body, Measure, sample
from clothwise.shelf.doubts import doubts
from clothwise.shelf.pattern import BoughtPattern, Judgement, Span
from clothwise.size import growth
from clothwise.size.advice import Advice
from clothwise.size.advising import advise
from clothwise.size.area_law import FEW_PIECES, ONE_WAY, OTHER_LENGTH, OTHER_SIZE
from clothwise.size.chart import graded, place_of
from clothwise.size.choosing import widest_jump
from clothwise.size.levels_held import length_between
from clothwise.size.liking import HALF, SLACK, liking

LEVELS = ("bust", "waist", "hip")
SIZES = tuple(str(size) for size in range(6, 26, 2))
EASES = {"bust": (5, 12), "waist": (2, 8), "hip": (5, 13)}  # cm: between fitted and loose
SPREAD = 2.5  # cm: how far hidden likings lie about the intention


def main(arguments: Sequence[str] | None = None) -> int:
    """Prints the table. Returns 1 when a target is missed."""
    quick = quick_only(__doc__, "a tenth of the bodies", arguments)
    rows = [
        *size_rows(150 if quick else 1500),
        *slip_rows(200 if quick else 2000),
        *liking_rows(300 if quick else 3000),
        *growth_rows(),
        *cloth_rows(quick),
    ]
    return 0 if print_table("Size and fit", rows) else 1


# ---- the size -------------------------------------------------------------------------------------


def chart(seed: int, garment: str = "dress") -> BoughtPattern:
    """A chart with grades and eases of its own, rising, its finished measures printed."""
    chance = np.random.default_rng(seed)
    start = {"bust": 76.0, "waist": 60.0, "hip": 84.0}
    body, made = {}, {}
    for level in LEVELS:
        steps = np.round(np.linspace(chance.uniform(3, 4.5), chance.uniform(4.5, 7), len(SIZES) - 1) * 2) / 2
        values = start[level] + chance.uniform(-3, 3) + np.concatenate([[0], np.cumsum(steps)])
        ease = {"bust": chance.uniform(5, 12), "waist": chance.uniform(2, 8), "hip": chance.uniform(5, 13)}[
            level
        ]
        body[level] = tuple(Span(float(v), float(v)) for v in values)
        made[level] = tuple(Span(float(v) + ease, float(v) + ease) for v in values)
    return BoughtPattern(f"chart {seed}", SIZES, garment=garment, body=body, finished={"": made})  # type: ignore[arg-type]


def size_rows(n: int) -> Iterator[Row]:
    bodies = real_bodies("woman")[:: max(1, 1986 // n)] if available() else sample("woman", n, 3, wide=True)
    patterns = [chart(seed) for seed in range(20)]
    asked = [(body, patterns[k % len(patterns)]) for k, body in enumerate(bodies)]
    spent, answers = [], []
    for body, pattern in asked:
        start = time.perf_counter()
        answers.append(advise(body, pattern))
        spent.append(time.perf_counter() - start)
    told = [(a, p, b) for a, (b, p) in zip(answers, asked, strict=True) if a.cut != "nothing"]
    silent = sum(_silent(advice) for advice, _, _ in told)
    wide = sum(_too_wide(advice, pattern, body) for advice, pattern, body in told)
    worn = sum(all(one.ease >= one.floor - 0.1 for one in advice.levels) for advice, _, _ in told)
    yield _at_least("a size is told, of women of the survey", len(told) / len(asked), 0.97)
    yield _at_least("wearable at every level without letting out", worn / len(told), 0.97)
    yield Row("unwearable size handed out in silence", 0, silent, silent == 0)
    yield Row("blends wider than the side seam takes", 0, wide, wide == 0)
    blended = sum(advice.cut == "blend" for advice, _, _ in told)
    yield Row("of these blended", "-", blended / len(told))
    off = [abs(one.ease - one.wanted) for advice, _, _ in told for one in advice.levels if not one.free]
    middle = statistics.median(off)
    yield Row("ease at a held level off the wanted, median cm", "<= 2", middle, middle <= 2)
    own = sum(_own_size(pattern, place) for pattern in patterns for place in range(len(SIZES)))
    yield Row(
        "a body equal to a chart row gets that size", "200 of 200", f"{own} of {20 * len(SIZES)}", own == 200
    )
    ms = 1000 * statistics.median(spent)
    yield Row("an advice, median ms", "<= 5", ms, ms <= 5)
    down = sum(_goes_down(body, pattern) for body, pattern in asked[: max(100, n // 5)])
    yield Row("more ease wanted, smaller size given", 0, down, down == 0)


def _silent(advice: Advice) -> bool:
    tight = [one for one in advice.levels if one.ease < one.floor - 0.1]
    return bool(tight) and (advice.confidence != "a guess" or not advice.alterations)


def _too_wide(advice: Advice, pattern: BoughtPattern, body: Body) -> bool:
    for upper, lower in pairwise(advice.levels):
        row = graded(pattern, "", lower.level, None)
        assert row is not None
        own, girth = (
            row.finished_at(place_of(pattern, upper.size)),
            row.finished_at(place_of(pattern, lower.size)),
        )
        bend = max(min(own, upper.body + upper.ease) - girth, girth - max(own, upper.body + upper.ease))
        if bend > widest_jump(length_between(upper.level, lower.level, body)) + 0.11:
            return True
    return False


def _own_size(pattern: BoughtPattern, place: int) -> bool:
    measures = {f"{level}_girth": Measure(pattern.body[level][place].middle) for level in LEVELS}  # type: ignore[union-attr]
    advice = advise(Body("Row", "woman", measures), pattern)
    return set(advice.sizes.values()) == {SIZES[place]}


def _goes_down(body: Body, pattern: BoughtPattern) -> bool:
    places: list[list[int]] = []
    for more in (0.0, 2.0, 5.0):
        advice = advise(body, pattern, wishes={"bust": 6 + more, "waist": 4 + more, "hip": 6 + more})
        if advice.cut == "nothing":
            return False
        places.append([place_of(pattern, size) for size in advice.sizes.values()])
    return any(b < a for less, more_ in pairwise(places) for a, b in zip(less, more_, strict=True))


# ---- slips in charts ------------------------------------------------------------------------------


def slip_rows(n: int) -> Iterator[Row]:
    """One cell of a clean chart spoilt in the usual ways: is it asked about, and the size then not 'sure'?"""
    chance = np.random.default_rng(7)
    ways = ("inches typed as cm", "digits turned", "a row down", "finished below the body")
    caught, sure = dict.fromkeys(ways, 0), 0
    for k in range(n):
        pattern, way = chart(int(chance.integers(10_000))), ways[k % len(ways)]
        spoilt = _spoilt(pattern, way, str(chance.choice(LEVELS)), int(chance.integers(1, len(SIZES) - 1)))
        if spoilt is None:
            caught[way] += 1  # turning its digits changed nothing
            continue
        caught[way] += bool(doubts(spoilt))
        measures = {f"{level}_girth": Measure(pattern.body[level][4].middle) for level in LEVELS}  # type: ignore[union-attr]
        sure += bool(doubts(spoilt)) and advise(Body("Row", "woman", measures), spoilt).confidence == "sure"
    for way in ways:
        share = caught[way] / (n / len(ways))
        yield _at_least(f"slips asked about: {way}", share, 0.85 if way == "digits turned" else 0.99)
    yield Row("'sure' in spite of a doubted chart", 0, sure, sure == 0)
    false = sum(bool(doubts(chart(seed))) for seed in range(n))
    yield Row("clean charts doubted", "<= 0.01", false / n, false / n <= 0.01)


def _spoilt(pattern: BoughtPattern, way: str, level: str, at: int) -> BoughtPattern | None:
    table = dict(pattern.body if way != "finished below the body" else pattern.finished[""])
    value = table[level][at].middle  # type: ignore[union-attr]
    wrong = {
        "inches typed as cm": value / 2.54,
        "a row down": table[level][at - 1].middle - 0.5,  # type: ignore[union-attr]
        "finished below the body": pattern.body[level][at].middle - 1,  # type: ignore[union-attr]
        "digits turned": _turned(value),
    }[way]
    if abs(wrong - value) < 2:
        return None
    cells = list(table[level])
    cells[at] = Span(wrong, wrong)
    table[level] = tuple(cells)
    return replace(pattern, finished={"": table}) if "finished" in way else replace(pattern, body=table)


def _turned(value: float) -> float:
    whole, rest = divmod(value, 1)
    text = f"{whole:.0f}"
    return float(text[:-2] + text[-1] + text[-2]) + rest


# ---- liking ---------------------------------------------------------------------------------------


def liking_rows(n: int) -> Iterator[Row]:
    """Wearers whose liking is hidden: how near is the learned ease, and does its spread tell the truth?"""
    chance = np.random.default_rng(11)
    off: dict[int, list[float]] = {makes: [] for makes in (0, 1, 3, 6)}
    inside = total = 0
    for _ in range(n):
        intended = float(chance.uniform(2, 14))
        liked = intended + SPREAD * float(chance.standard_normal())
        eases = intended + chance.uniform(-4, 4, 6)
        told = [Judgement("hip", float(e), _verdict(float(e), liked, chance)) for e in eases]
        for makes, errors in off.items():
            found = liking(told[:makes], intended=intended, spread=SPREAD)
            errors.append(abs(found.mean - liked))
            if makes:
                inside += abs(found.mean - liked) <= 1.645 * found.spread
                total += 1
    error = {makes: statistics.mean(errors) for makes, errors in off.items()}
    yield Row("liking, mean error before any make, cm", "-", error[0])
    yield Row("after 1 make", f"< {error[0]:.2f}", error[1], error[1] < error[0])
    yield Row("after 3 makes", "<= 1.5", error[3], error[3] <= 1.5)
    yield Row("after 6 makes", "<= 1.2", error[6], error[6] <= 1.2)
    yield Row(
        "hidden liking inside the stated 90 %", "0.86 to 0.96", inside / total, 0.86 <= inside / total <= 0.96
    )


def _verdict(ease: float, liked: float, chance: np.random.Generator) -> str:  # type: ignore[return]
    felt = ease - liked + SLACK * float(chance.standard_normal())
    return "tight" if felt < -HALF else "loose" if felt > HALF else "right"


# ---- growth ---------------------------------------------------------------------------------------


def growth_rows() -> Iterator[Row]:
    """Real children of one age against the next: the median child must grow as foretold."""
    if not available():
        yield Row("growth against real children", "-", "data not at hand")
        return
    worst = max(
        _off_a_year(figure, measure, age)
        for figure in ("girl", "boy")
        for measure in ("height", "bust_girth", "hip_girth")
        for age in range(4, 14)
    )
    yield Row("a median child's year outside its span, worst, months", "<= 3", worst, worst <= 3)


@lru_cache
def _children(figure: str) -> tuple[Body, ...]:
    return real_bodies(figure)  # type: ignore[arg-type]


def _off_a_year(figure: str, measure: str, age: int) -> float:
    """How far twelve months lie outside the span for the median child of this age. [months]"""
    children = [c for c in _children(figure) if measure in c]
    now, later = (
        statistics.median(c[measure] for c in children if abs((c.age_years or 0) - year) < 0.5)
        for year in (age, age + 1)
    )
    wear = growth.months_until(figure, age, measure, now, later)  # type: ignore[arg-type]
    return max(0.0, wear.low - 12, 12 - wear.high) if later > now else 0.0


# ---- cloth ----------------------------------------------------------------------------------------


def cloth_rows(quick: bool) -> Iterator[Row]:
    """The spans of the area law on bodies of another seed, every lay real and verified."""
    held = fit_cloth.HELD_OUT
    found = (
        fit_cloth.laid(held, 1, figures=("woman",), widths=fit_cloth.FEWER)
        if quick
        else fit_cloth.laid(held, 3)
    )
    pairs = fit_cloth.width_pairs(found)
    for words, many in (("up to 8 pieces", False), ("more pieces", True)):
        mine = [pair for pair in pairs if (pair.copies > FEW_PIECES) == many]
        yield _covered(f"cloth, {words}, another width: lays inside the span", [p.inside for p in mine])
        for below, part in ((0.0, "width changed by up to 5 %"), (0.05, "5 to 15 %"), (0.14, "more")):
            above = {0.0: 0.05, 0.05: 0.14, 0.14: math.inf}[below]
            near = [p.inside for p in mine if below <= p.change < above]
            yield Row(f"  {part} ({len(near)})", "-", sum(near) / max(1, len(near)))
    yield _covered(
        "cloth, another size", [OTHER_SIZE[0] <= r <= OTHER_SIZE[1] for r in fit_cloth.size_ratios(found)]
    )
    longer = fit_cloth.length_ratios(found)
    yield _covered("cloth, another length", [OTHER_LENGTH[0] <= r <= OTHER_LENGTH[1] for r in longer])
    more = fit_cloth.one_way_more(found)
    yield _covered("cloth, one-way: takes no more than said", [r <= ONE_WAY[2] for r in more])


def _covered(what: str, inside: list[bool]) -> Row:
    return _at_least(f"{what} ({len(inside)})", sum(inside) / max(1, len(inside)), 0.9)


def _at_least(what: str, share: float, target: float) -> Row:
    return Row(what, f">= {target}", share, share >= target)


if __name__ == "__main__":
    sys.exit(main())
