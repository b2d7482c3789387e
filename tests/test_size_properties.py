"""What must hold of every advice, whatever chart and body: hypothesis draws both."""

from __future__ import annotations

from contextlib import suppress
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.body import Body, Measure
from clothwise.errors import WorkroomError
from clothwise.shelf.doubts import doubts
from clothwise.shelf.pasting import with_table
from clothwise.shelf.pattern import BoughtPattern, Judgement, Row, Span
from clothwise.size.advice import Advice
from clothwise.size.advising import advise
from clothwise.size.chart import graded, place_of
from clothwise.size.choosing import CHANGE, cost, widest_jump
from clothwise.size.levels_held import as_held, asked_levels, length_between
from clothwise.size.liking import liking
from clothwise.units import INCH
from tests.bought_by_hand import bought, row, someone

LEVELS = ("bust", "waist", "hip")
START = {"bust": 76.0, "waist": 60.0, "hip": 84.0}


@st.composite
def charts(draw: st.DrawFn, garment: str | None = None) -> BoughtPattern:
    """A chart that rises, with its own grades and eases."""
    n = draw(st.integers(3, 9))
    body, finished = {}, {}
    for level in LEVELS:
        steps = draw(st.lists(st.floats(2.0, 7.0), min_size=n, max_size=n))
        smallest = START[level] + draw(st.floats(0, 6))
        values = [smallest + sum(steps[:k]) for k in range(n)]
        ease = draw(st.integers(2, 60)) / 2
        body[level] = row(*values)
        finished[level] = row(*(value + ease for value in values))
    kind = garment or draw(st.sampled_from(["top", "dress", "skirt", "trousers", "coat"]))
    return bought(kind, sizes=tuple(str(8 + 2 * k) for k in range(n)), body=body, finished=finished)


@st.composite
def bodies(draw: st.DrawFn) -> Body:
    waist = draw(st.floats(58, 110))
    hip = waist + draw(st.floats(-5, 40))
    bust = waist + draw(st.floats(0, 35))
    return someone(
        bust=bust, waist=waist, hip=hip, back_waist_length=draw(st.floats(35, 48)), armscye_depth=20.0,
        waist_to_hip=draw(st.floats(14, 26)),
    )  # fmt: skip


def place_at(advice: Advice, pattern: BoughtPattern, level: str) -> int:
    return place_of(pattern, advice.sizes[level])


@settings(max_examples=80, deadline=None)
@given(
    pattern=charts(),
    body=bodies(),
    eases=st.fixed_dictionaries({level: st.floats(0, 20) for level in LEVELS}),
    extra=st.fixed_dictionaries({level: st.floats(0, 12) for level in LEVELS}),
)
def test_more_ease_wanted_never_gives_a_smaller_size(
    pattern: BoughtPattern, body: Body, eases: dict[str, float], extra: dict[str, float]
) -> None:
    less = advise(body, pattern, wishes=eases)
    more = advise(body, pattern, wishes={level: eases[level] + extra[level] for level in LEVELS})
    if less.cut == "nothing" or more.cut == "nothing":
        return
    assert place_of(pattern, more.single) >= place_of(pattern, less.single)
    for one in less.levels:
        assert place_at(more, pattern, one.level) >= place_at(less, pattern, one.level)


@settings(max_examples=80, deadline=None)
@given(pattern=charts(), at=st.integers(0, 8))
def test_a_body_equal_to_a_chart_row_gets_that_size_when_the_ease_suits(
    pattern: BoughtPattern, at: int
) -> None:
    size = pattern.sizes[at % len(pattern.sizes)]
    measures = {}
    for level in LEVELS:
        cell = pattern.body[level][at % len(pattern.sizes)]
        assert cell is not None
        measures[level] = cell.middle
    advice = advise(someone(**measures), pattern)
    suits = all(one.intended >= one.floor for one in advice.levels)
    assert suits
    assert advice.single == size
    assert set(advice.sizes.values()) == {size}


@settings(max_examples=80, deadline=None)
@given(pattern=charts(garment="dress"), body=bodies())
def test_a_blend_never_jumps_more_than_a_side_seam_takes(pattern: BoughtPattern, body: Body) -> None:
    advice = advise(body, pattern)
    if advice.cut == "nothing":
        return
    girths = {
        one.level: {each.size: each.finished for each in one.eases} | {one.size: one.body + one.ease}
        for one in advice.levels
    }
    for upper, lower in pairwise(one.level for one in advice.levels):
        above, here = advice.sizes[upper], advice.sizes[lower]
        found = graded(pattern, "", lower, None)
        assert found is not None
        own = found.finished_at(place_of(pattern, above))
        start, end = girths[upper][above], girths[lower][here]
        most = widest_jump(length_between(upper, lower, body)) + 0.11
        drafted_bend = abs(end - own)  # how far the seam leaves the line of the size cut above
        straighter = min(own, start) - 0.11 <= end <= max(own, start) + 0.11
        assert straighter or drafted_bend <= most or abs(end - start) <= most


@settings(max_examples=80, deadline=None)
@given(pattern=charts(), body=bodies())
def test_a_size_that_cannot_be_worn_is_never_handed_out_in_silence(pattern: BoughtPattern, body: Body) -> None:
    advice = advise(body, pattern)
    if advice.cut == "nothing":
        return
    for one in advice.levels:
        if one.ease < one.floor - 0.11:
            assert advice.confidence == "a guess"
            assert advice.reason("unwearable") is not None
            assert any(change.level == one.level for change in advice.alterations)


@settings(max_examples=40, deadline=None)
@given(pattern=charts(), body=bodies())
def test_the_unit_changes_nothing(pattern: BoughtPattern, body: Body) -> None:
    """The same chart pasted in inches, to a hundredth, and read back, tells the same sizes."""

    def pasted(unit: float) -> BoughtPattern:
        made = pattern
        for kind, rows in (("body", pattern.body), ("finished", pattern.finished[""])):
            lines = ["size\t" + "\t".join(pattern.sizes)]
            for name, cells in rows.items():
                lines.append(name + "\t" + "\t".join(f"{cell.middle / unit:.4f}" for cell in cells if cell))
            made = with_table(made, "\n".join(lines), kind, unit="in" if unit == INCH else "cm").pattern  # type: ignore[arg-type]
        return made

    in_cm, in_inches = advise(body, pasted(1.0)), advise(body, pasted(INCH))
    assert in_cm.cut == in_inches.cut
    if in_cm.cut != "nothing":
        assert in_inches.sizes == in_cm.sizes or cost_of(in_inches, pattern, body) == pytest.approx(
            cost_of(in_cm, pattern, body), abs=0.02
        ), "only a ten-thousandth of an inch may tip a choice between two that suit equally"


def cost_of(advice: Advice, pattern: BoughtPattern, body: Body) -> float:
    """What the advised sizes cost together, by the rule of the choice."""
    held = as_held(asked_levels(body, pattern, "", 0.0, (), {}), body, pattern)
    places = [place_of(pattern, size) - min(graded_places(pattern)) for size in advice.sizes.values()]
    jumps = sum(abs(a - b) for a, b in pairwise(places))
    return sum(cost(one, at) for one, at in zip(held, places, strict=True)) + CHANGE * jumps


def graded_places(pattern: BoughtPattern) -> range:
    row = graded(pattern, "", "waist", None)
    assert row is not None
    return row.places


cells = st.one_of(
    st.none(),
    st.floats(0.5, 400).map(lambda v: Span(v, v)),
    st.floats(30, 200).map(lambda v: Span(v, v + 5)),
)
ANY_LEVEL = [*LEVELS, "back_length", "height", "upper_arm", "rise", "neck_opening", "length"]


@st.composite
def broken_charts(draw: st.DrawFn) -> BoughtPattern:
    """Anything at all: gaps, falling rows, missing rows, nonsense."""
    n = draw(st.integers(1, 6))

    def rows() -> dict[str, Row]:
        names = draw(st.lists(st.sampled_from(ANY_LEVEL), unique=True))
        return {name: tuple(draw(st.lists(cells, min_size=n, max_size=n))) for name in names}

    return BoughtPattern(
        "Broken", tuple(str(k) for k in range(n)),
        garment=draw(st.sampled_from(["top", "dress", "skirt", "trousers", "one-piece"])),
        make=draw(st.sampled_from(["woven", "knit"])),
        figure=draw(st.sampled_from(["woman", "girl"])),
        fit_class=draw(st.sampled_from(["close", "fitted", "loose", "very loose"])),
        body=rows(), finished={"": rows()}, pull_on=draw(st.booleans()),
    )  # fmt: skip


@settings(max_examples=120, deadline=None)
@given(pattern=broken_charts(), body=bodies(), child=st.booleans())
def test_a_wrong_or_partial_chart_never_crashes_and_is_never_trusted(
    pattern: BoughtPattern, body: Body, child: bool
) -> None:
    if child:
        body = Body("Child", "girl", {**body.measures, "height": Measure(130.0)}, age_years=8)
    advice = advise(body, pattern)
    rows = [*pattern.body.values(), *pattern.finished[""].values()]
    used = [one.level for one in advice.levels if not one.free]
    partial = any(
        None in pattern.body.get(name, (None,)) or None in pattern.finished[""].get(name, (None,))
        for name in used
    )
    if advice.confidence == "sure":
        assert rows
        assert not partial
        assert doubts(pattern) == ()


@settings(max_examples=120, deadline=None)
@given(text=st.text(alphabet=st.sampled_from('size bust waist hip\t,;|\n0123456789/-.½"cmin '), max_size=200))
def test_any_pasted_text_is_read_or_refused(text: str) -> None:
    with suppress(WorkroomError):
        reading = with_table(bought(), text, "body")
        assert advise(someone(bust=88, waist=70, hip=96), reading.pattern).confidence != ""


@settings(max_examples=80, deadline=None)
@given(
    judged=st.lists(st.tuples(st.floats(-10, 30), st.sampled_from(["tight", "right", "loose"])), max_size=8),
    intended=st.floats(-10, 20),
    by=st.floats(-20, 20),
)
def test_liking_moves_with_its_figures_and_stays_within_reason(
    judged: list[tuple[float, str]], intended: float, by: float
) -> None:
    """Eases and intention shifted alike shift the liking alike; it stays near what was worn and meant."""
    told = [Judgement("hip", ease, verdict) for ease, verdict in judged]  # type: ignore[arg-type]
    moved = [Judgement("hip", one.ease + by, one.verdict) for one in told]
    here = liking(told, intended=intended, spread=2.5)
    there = liking(moved, intended=intended + by, spread=2.5)
    assert there.mean == pytest.approx(here.mean + by, abs=0.02)
    lowest = min([intended, *(one.ease - 8 for one in told)])
    highest = max([intended, *(one.ease + 8 for one in told)])
    assert lowest - 8 <= here.mean <= highest + 8


@given(ease=st.floats(-5, 25))
def test_verdicts_pull_the_way_they_say(ease: float) -> None:
    neutral = liking((), intended=8, spread=2.5).mean
    tight, loose = (
        liking([Judgement("hip", ease, verdict)], intended=8, spread=2.5).mean for verdict in ("tight", "loose")
    )
    right = liking([Judgement("hip", ease, "right")], intended=8, spread=2.5).mean
    assert loose <= neutral + 0.01
    assert neutral - 0.01 <= tight
    assert min(neutral, ease) - 0.1 <= right <= max(neutral, ease) + 0.1
