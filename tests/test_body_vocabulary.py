"""Every measure can be found, understood, taken alone, and told from a slip of the tape."""

from __future__ import annotations

import re
from itertools import combinations

import pytest

from clothwise.body import (
    VOCABULARY,
    Body,
    Definition,
    Figure,
    Measure,
    definition,
    estimate,
    measures_of,
    sample,
)
from clothwise.body.model import CORE, model
from clothwise.body.rules import rules
from clothwise.errors import MeasureError
from clothwise.units import INCH
from tests.real_bodies import real_bodies

FIGURES: tuple[Figure, ...] = ("woman", "man", "girl", "boy")
each_measure = pytest.mark.parametrize("measure", VOCABULARY, ids=lambda measure: measure.name)
each_figure = pytest.mark.parametrize("figure", FIGURES)


@each_measure
def test_a_sewer_is_told_where_the_tape_runs_and_how_to_do_it_with_nobody_to_help(measure: Definition) -> None:
    for text in (measure.says, measure.alone):
        assert re.match(r"[A-Z].{20,}\.$", text), text
        assert "  " not in text
    assert measure.says != measure.alone


def test_no_two_measures_share_a_name_or_an_explanation() -> None:
    for one, other in combinations(VOCABULARY, 2):
        assert one.name != other.name
        assert one.words != other.words
        assert one.says != other.says
        assert one.alone != other.alone


@each_measure
def test_names_are_whole_words_and_say_when_the_tape_goes_round(measure: Definition) -> None:
    assert re.fullmatch(r"[a-z]+(_[a-z]+)*", measure.name)
    assert measure.words == measure.words.lower().strip()
    round_the_body = re.search(r"\b[Rr]ound the|\bLevel (above the brows|and round)", measure.says) is not None
    assert measure.girth == round_the_body or measure.name in ROUND_IN_PASSING
    assert (measure.unit == "degrees") == measure.name.endswith("_deg")


# The tape passes something on its way, or goes round more than the words 'round the' say.
ROUND_IN_PASSING = {"armscye_girth"}


@each_measure
def test_ranges_are_wide_enough_for_people_and_too_narrow_for_nonsense(measure: Definition) -> None:
    for figure in measure.figures:
        least, most = measure.plausible(figure)
        assert 0 < least < most
        assert most <= 8 * least
    assert measure.child[0] <= measure.adult[0]
    assert measure.child[1] <= measure.adult[1]


@each_figure
def test_every_body_drawn_from_the_population_lies_within_the_ranges(figure: Figure) -> None:
    for body in sample(figure, 200, seed=31):
        assert set(body) == set(measures_of(figure))
        for name in body:
            least, most = definition(name).plausible(figure)
            assert least <= body[name] <= most, name


@each_figure
def test_every_real_body_but_the_survey_s_own_slips_lies_within_the_ranges(figure: Figure) -> None:
    bodies = real_bodies(figure)
    if not bodies:
        pytest.skip("the public body data are not there")
    entries = [(name, body[name]) for body in bodies if not body.child or body["height"] >= 80 for name in body]
    outside = [
        (name, cm)
        for name, cm in entries
        for least, most in (definition(name).plausible(figure),)
        if not least <= cm <= most
    ]
    assert len(outside) <= len(entries) / 5000, outside[:20]


@pytest.mark.parametrize("figure", ["woman", "man"])
def test_a_usual_adult_s_measure_in_inches_lies_outside_its_range(figure: Figure) -> None:
    """So that even one entry by itself, with nothing to compare it with, is asked about."""
    bodies = sample(figure, 99, seed=5)
    for name in measures_of(figure):
        middle = sorted(body[name] for body in bodies)[len(bodies) // 2]
        least, _ = definition(name).plausible(figure)
        assert definition(name).unit != "cm" or middle / INCH < least, name


def test_four_measures_are_enough_and_they_are_the_ones_always_asked() -> None:
    assert tuple(measure.name for measure in VOCABULARY if measure.asked == "always") == CORE
    assert {measure.asked for measure in VOCABULARY} == {"always", "tape it", "may be estimated"}


@each_figure
def test_what_is_not_asked_is_estimated_whoever_it_is(figure: Figure) -> None:
    body = sample(figure, 1, seed=2)[0]
    told = estimate(Body("Juno", figure, {name: Measure(body[name]) for name in CORE}))
    assert tuple(told) == measures_of(figure)
    for name in set(told) - set(CORE):
        assert not told.taped(name)
        measure = told.measures[name]
        assert measure.low is not None
        assert measure.high is not None
        assert measure.low < measure.cm <= measure.high


@each_figure
def test_every_measure_has_its_survey_or_its_rule_of_thumb_with_a_source(figure: Figure) -> None:
    by_rule = {rule.measure: rule for rule in rules(figure)}
    for name in measures_of(figure):
        assert name in model(figure).measures or by_rule[name].source, name
    assert not {rule.measure for rule in rules(figure)} - set(measures_of(figure))


@each_figure
def test_measures_that_size_says_little_of_have_the_wider_intervals(figure: Figure) -> None:
    """'tape it' must mean something: on the whole they are known less well than what may be estimated."""
    body = sample(figure, 1, seed=2)[0]
    told = estimate(Body("Juno", figure, {name: Measure(body[name]) for name in CORE}))

    def middle_reach(asked: str) -> float:
        named = [n for n in told if definition(n).asked == asked and definition(n).unit == "cm"]
        reach = sorted((told.measures[n].high or 0) / told[n] for n in named)
        return reach[len(reach) // 2]

    assert middle_reach("tape it") > middle_reach("may be estimated")


def test_a_name_nobody_knows_is_refused_with_a_way_out() -> None:
    with pytest.raises(MeasureError, match="no measure called 'waste_girth'") as refusal:
        definition("waste_girth")
    assert refusal.value.mend


def test_what_only_women_and_girls_wear_is_not_asked_of_men_and_boys() -> None:
    assert "under_bust_girth" in measures_of("woman")
    assert "under_bust_girth" in measures_of("girl")
    assert set(measures_of("woman")) - set(measures_of("man")) == {"under_bust_girth"}
    assert set(measures_of("girl")) - set(measures_of("boy")) == {"under_bust_girth"}
