"""Slips of the tape and the pen: asked about in words that help, mended by one answer, never overruled."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from benchmarks import slipped
from benchmarks.slipped import Slipped

from clothwise.body import Body, Figure, Measure, sample
from clothwise.body.model import CORE
from clothwise.body.slips import slips
from tests.real_bodies import estimable, real_bodies, tune

FIGURES: tuple[Figure, ...] = ("woman", "man", "girl", "boy")
MANY = (
    *CORE,
    "shoulder_length",
    "arm_length",
    "upper_arm_girth",
    "inside_leg",
    "waist_to_floor",
    "thigh_girth",
)
each_figure = pytest.mark.parametrize("figure", FIGURES)


def only(body: Body, names: tuple[str, ...] = CORE) -> Body:
    return replace(body, measures={name: Measure(round(body[name], 1)) for name in names if name in body})


def people(figure: Figure, names: tuple[str, ...], n: int = 80) -> list[Body]:
    """Real bodies nothing was fitted to where the data are at hand, else bodies of the model."""
    real = [body for body in tune(real_bodies(figure)) if estimable(body)]
    return [only(body, names) for body in (real[:n] or sample(figure, n, seed=41))]


def caught(bodies: list[Body], slip: Slipped) -> float:
    """Share of the slips that raise a question about what was changed."""
    chance = np.random.default_rng(43)
    pairs = [(body, wrong) for body in bodies if (wrong := slip(body, chance)) is not None]
    return float(
        np.mean([any(body[n] != wrong[n] for s in slips(wrong) for n in s.measures) for body, wrong in pairs])
    )


@each_figure
@pytest.mark.parametrize("names", [CORE, MANY], ids=["four", "many"])
@pytest.mark.parametrize("slip", [slipped.inches, slipped.times, slipped.half, slipped.transposed_to_nought])
def test_wrong_units_halves_and_leading_noughts_are_always_asked_about(
    figure: Figure, names: tuple[str, ...], slip: Slipped
) -> None:
    assert caught(people(figure, names), slip) == 1.0


@each_figure
@pytest.mark.parametrize(
    ("slip", "least"),
    [
        (slipped.transposed, {4: 0.75, 10: 0.9}),
        (slipped.swapped, {4: 0.6, 10: 0.7}),
        (slipped.one_digit, {4: 0.3, 10: 0.35}),
    ],
    ids=["transposed", "swapped", "one digit"],
)
def test_most_swaps_and_turned_digits_are_asked_about(
    figure: Figure, slip: Slipped, least: dict[int, float]
) -> None:
    for names in (CORE, MANY):
        assert caught(people(figure, names), slip) >= least[len(names)]


@each_figure
def test_true_bodies_are_left_in_peace(figure: Figure) -> None:
    for names in (CORE, MANY):
        bodies = people(figure, names, 250)
        assert sum(bool(slips(body)) for body in bodies) <= max(4, 0.02 * len(bodies))


@pytest.mark.parametrize("figure", ["woman", "man"])
def test_large_bodies_are_left_in_peace_too(figure: Figure) -> None:
    """Soldiers are slim: were they the measure of all, every third large woman would be asked."""
    large = [body for body in sample(figure, 800, seed=47, wide=True) if body["hip_girth"] > 118]
    assert len(large) > 40
    assert sum(bool(slips(only(body))) for body in large) <= 0.03 * len(large)


@pytest.mark.parametrize(
    ("wrong", "kind", "meant"),
    [
        ({"hip_girth": 40.2}, "inches among centimetres", {"hip_girth": 102.1}),
        ({"bust_girth": 47.0}, "half a girth", {"bust_girth": 94.0}),
        ({"waist_girth": 200.7}, "centimetres taken for inches", {"waist_girth": 79.0}),
        ({"waist_girth": 102.0, "hip_girth": 79.0}, "swapped", {"waist_girth": 79.0, "hip_girth": 102.0}),
        ({"height": 618.0}, "digits transposed", {"height": 168.0}),
        ({"waist_girth": 780.0}, "point misplaced", {"waist_girth": 78.0}),
        ({"height": 16.8}, "point misplaced", {"height": 168.0}),
        ({"hip_girth": 12.0}, "digits transposed", {"hip_girth": 102.0}),
    ],
)
def test_the_question_names_the_slip_and_what_was_meant(
    wrong: dict[str, float], kind: str, meant: dict[str, float]
) -> None:
    marit = Body(
        "Marit", "woman", {n: Measure(v) for n, v in zip(CORE, (168.0, 94.0, 79.0, 102.0), strict=True)}
    )
    assert slips(marit) == ()
    (slip,) = slips(marit.with_measures(**wrong))
    assert slip.kind == kind
    assert set(slip.measures) == set(wrong)
    assert dict(slip.suggestion) == pytest.approx(meant, abs=0.1)
    assert slip.sentence.endswith("?")
    for name in wrong:
        assert name.removesuffix("_girth") in slip.sentence.lower()
    assert slips(marit.with_measures(**slip.suggestion)) == ()


@each_figure
def test_what_is_told_to_be_usual_would_not_be_asked_about(figure: Figure) -> None:
    """The range in 'would be usual' is where the entry itself would pass, for small children as well."""
    told = 0
    for body in people(figure, MANY, 40):
        for name, factor in (("hip_girth", 1.45), ("inside_leg", 0.8), ("waist_to_floor", 1.3)):
            questions = slips(body.with_measures(**{name: factor * body[name]})) if name in body else ()
            usual = (
                re.search(r"\((\d+) to (\d+) cm would be usual", questions[0].sentence) if questions else None
            )
            if usual and questions[0].measures == (name,):
                told += 1
                middle = (int(usual[1]) + int(usual[2])) / 2
                again = slips(body.with_measures(**{name: middle}))
                assert not any(name in question.measures for question in again), (body.name, name)
    assert told > 5


@each_figure
def test_a_body_that_is_sure_of_itself_is_asked_nothing_and_never_changed(figure: Figure) -> None:
    for body in people(figure, MANY, 20):
        wrong = body.with_measures(hip_girth=body["hip_girth"] / 2.54)
        before = dict(wrong.measures)
        assert slips(wrong)
        assert dict(wrong.measures) == before
        sure = replace(wrong, measures={n: replace(m, confirmed=True) for n, m in wrong.measures.items()})
        assert slips(sure) == ()


def test_a_card_all_in_inches_is_one_question() -> None:
    marit = {"height": 168.0, "bust_girth": 94.0, "waist_girth": 79.0, "hip_girth": 102.0, "inside_leg": 78.0}
    inches = Body("Marit", "woman", {name: Measure(round(cm / 2.54, 1)) for name, cm in marit.items()})
    (slip,) = slips(inches)
    assert slip.kind == "inches among centimetres"
    assert dict(slip.suggestion) == pytest.approx(marit, abs=0.2)


def test_legs_and_rise_that_do_not_add_up_are_asked_about() -> None:
    marit = {"height": 168.0, "bust_girth": 94.0, "waist_girth": 79.0, "hip_girth": 102.0}
    legs = {"waist_to_floor": 104.0, "inside_leg": 78.0, "body_rise": 26.0}
    true = Body("Marit", "woman", {name: Measure(cm) for name, cm in {**marit, **legs}.items()})
    assert slips(true) == ()
    (slip,) = slips(true.with_measures(body_rise=29.0))
    assert slip.kind == "contradiction"


def test_a_measure_no_survey_holds_is_held_against_its_rule() -> None:
    marit = {
        "height": 168.0,
        "bust_girth": 94.0,
        "waist_girth": 79.0,
        "hip_girth": 102.0,
        "high_bust_girth": 89.0,
    }
    true = Body("Marit", "woman", {name: Measure(cm) for name, cm in marit.items()})
    assert slips(true) == ()
    (slip,) = slips(true.with_measures(high_bust_girth=64.0))
    assert slip.measures == ("high_bust_girth",)


@each_figure
def test_each_measure_is_asked_about_once_and_never_a_figure_of_ours(figure: Figure) -> None:
    """Two slips on one card: a second question about the first answer would speak of what she never wrote."""
    chance = np.random.default_rng(47)
    for body in people(figure, MANY, 40):
        names = [name for name in MANY if name in body]
        wrong = body
        for name in chance.choice(names, 2, replace=False):
            wrong = wrong.with_measures(**{name: round(body[name] * float(chance.choice([0.5, 2.54, 1.3])), 1)})
        asked = slips(wrong)
        told = [name for slip in asked for name in slip.measures]
        assert len(told) == len(set(told))
        for slip in asked:
            before = slip.sentence.split("did you mean")[0] if slip.suggestion else ""
            assert not slip.suggestion or all(f"{wrong[name]:.1f}" in before for name in slip.measures)


def test_a_baby_is_like_nobody_in_the_surveys_and_asked_nothing() -> None:
    """76 cm at a year is a baby; it was taken for inches, and its inches for centimetres, six times over."""
    cm = {"height": 76.0, "bust_girth": 48.0, "waist_girth": 47.0, "hip_girth": 49.0}
    baby = Body("Baby", "boy", {name: Measure(value) for name, value in cm.items()}, age_years=1.0)
    assert slips(baby) == ()
    assert len(slips(replace(baby, age_years=None))) <= 1
