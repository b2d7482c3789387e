"""The house's own size bodies: the population's, evenly stepped, whole, and fit to be drafted for."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from clothwise.body import Figure, estimate, measures_of, sample
from clothwise.body.model import CORE, wide_model
from clothwise.body.sizes import CONTROL, STEPS, size_bodies, size_names
from clothwise.body.slips import slips
from clothwise.draft import pattern
from clothwise.errors import MeasureError
from clothwise.garment.check import check

FIGURES: tuple[Figure, ...] = ("woman", "man", "girl", "boy")
GIRTHS = ("bust_girth", "waist_girth", "hip_girth", "thigh_girth", "upper_arm_girth", "across_back")


@pytest.mark.parametrize("figure", FIGURES)
def test_a_size_is_named_by_its_control_measure_and_holds_every_other(figure: Figure) -> None:
    found = size_bodies(figure)
    assert tuple(body.name for body in found) == size_names(figure)
    for body in found:
        assert body[CONTROL[figure]] == float(body.name)
        assert set(body) == set(measures_of(figure))
        assert {measure.source for measure in body.measures.values()} == {"worked out"}
        assert body["body_rise"] == pytest.approx(body["waist_to_floor"] - body["inside_leg"], abs=0.01)


@pytest.mark.parametrize("figure", FIGURES)
def test_steps_are_about_a_twentieth_and_girths_grow_with_them(figure: Figure) -> None:
    found = size_bodies(figure)
    for small, large in pairwise(found):
        assert 0.03 < float(large.name) / float(small.name) - 1 < 0.07
        for girth in GIRTHS:
            assert large[girth] > small[girth], (small.name, large.name, girth)
        for name in large:
            assert large[name] / small[name] < 1.16, (small.name, large.name, name)
    if figure in ("girl", "boy"):
        ages = [body.age_years for body in found]
        assert ages == sorted(ages)
        assert ages[0] > 2
        assert ages[-1] < 18.5


@pytest.mark.parametrize("figure", FIGURES)
def test_a_size_body_is_a_body_the_tape_could_have_read(figure: Figure) -> None:
    for body in size_bodies(figure):
        assert slips(body) == ()


@pytest.mark.parametrize("figure", ["woman", "man"])
def test_the_sizes_span_the_population_and_no_more(figure: Figure) -> None:
    """Nine in ten bodies lie within half a step of a size; the ends leave the rare ones out."""
    whole = wide_model(figure)
    at = whole.measures.index("bust_girth")
    scatter = math.sqrt(whole.covariance[at, at])
    assert STEPS[figure][0] > math.exp(whole.mean[at] - 2.33 * scatter)
    assert STEPS[figure][-1] < math.exp(whole.mean[at] + 2.33 * scatter)
    busts = [body["bust_girth"] for body in sample(figure, 300, seed=4, wide=True)]
    near = sum(min(abs(bust - size) for size in STEPS[figure]) <= 3.0 for bust in busts)
    assert near / len(busts) >= 0.9


@pytest.mark.parametrize("figure", ["woman", "man"])
def test_waist_and_hip_are_what_drawn_bodies_of_that_size_have(figure: Figure) -> None:
    """Against bodies drawn at random, not against the formula: the mean of those near a size, within 2 cm."""
    drawn = sample(figure, 4000, seed=9, wide=True)
    for body in size_bodies(figure)[3:8]:
        near = [
            b
            for b in drawn
            if abs(b["bust_girth"] - body["bust_girth"]) < 2.5 and abs(b["height"] - body["height"]) < 5
        ]
        assert len(near) > 30
        for girth in ("waist_girth", "hip_girth"):
            assert body[girth] == pytest.approx(sum(b[girth] for b in near) / len(near), abs=2.0)


@pytest.mark.parametrize("figure", FIGURES)
def test_a_size_agrees_with_the_estimate_for_one_who_has_its_measures(figure: Figure) -> None:
    body = size_bodies(figure)[4]
    known = CORE if figure in ("woman", "man") else ("height",)
    taped = estimate(body.__class__("x", figure, {}).with_measures(**{name: body[name] for name in known}))
    for name in body:
        assert body[name] == pytest.approx(taped[name], abs=0.11), name


def test_a_taller_woman_of_a_size_is_longer_everywhere() -> None:
    (usual,), (tall,) = (size_bodies("woman", ["92"], height=height) for height in (None, 172.0))
    for name in ("inside_leg", "waist_to_knee", "arm_length", "back_waist_length"):
        assert tall[name] > usual[name]


@pytest.mark.parametrize(
    ("figure", "sizes", "height", "says"),
    [
        ("woman", ["93"], None, "no size '93' for women"),
        ("girl", ["116"], 120.0, "heights already"),
        ("man", [], 120.0, "not one to make sizes for men"),
    ],
)
def test_sizes_that_cannot_be_are_refused(
    figure: Figure, sizes: list[str], height: float | None, says: str
) -> None:
    with pytest.raises(MeasureError) as refusal:
        size_bodies(figure, sizes, height=height)
    assert says in str(refusal.value)
    assert refusal.value.mend


@pytest.mark.parametrize("figure", FIGURES)
def test_every_size_can_be_drafted_for(figure: Figure) -> None:
    draft = pattern("pull_on_trousers")
    for body in size_bodies(figure):
        assert check(draft.make(body)) == ()
