"""Can she get into it, how long children wear it, how much cloth: closed forms and real figures as oracles."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from clothwise.body import estimate
from clothwise.shelf.pattern import BoughtPattern
from clothwise.size.advising import advise
from clothwise.size.getting_in import elastic_waist, passage, slit_length, slit_span, trunk_needed
from clothwise.size.growth import LONGEST, age_of_height, months_until
from clothwise.size.words import Speaker
from clothwise.store.demo import bought_scenario, scenario
from clothwise.units import INCH
from tests.bought_by_hand import bought, row, someone
from tests.real_bodies import available, real_bodies

YARD = 36 * INCH

# ---- getting in -----------------------------------------------------------------------------------


def test_a_head_of_56_through_a_round_neck_of_40_wants_a_slit_of_9_to_10() -> None:
    """A19."""
    head = passage("neck_opening", "head", 56, 40)
    assert not head.goes
    assert slit_span(head) == pytest.approx((9, 10))
    assert passage("neck_opening", "head", 56, 40, slit=9.5).goes
    assert not passage("neck_opening", "head", 56, 40, slit=7).goes


@pytest.mark.parametrize(("stretch", "goes"), [(0.40, True), (0.39, False), (0.6, True)])
def test_a_knit_neck_must_just_reach_the_head(stretch: float, goes: bool) -> None:
    """A19: 40 x 1.4 = 56 just passes."""
    assert passage("neck_opening", "head", 56, 40, stretch=stretch).goes is goes


def test_elastic_of_a_pull_on_waist() -> None:
    """A20: waist 71, hip 104: elastic 66 must reach 158 %; the cloth edge 106.5."""
    elastic = elastic_waist(71, 104)
    assert elastic.length == 66
    assert 1 + elastic.stretch == pytest.approx(1.58, abs=0.005)
    assert elastic.edge == pytest.approx(106.5)


def test_a_waist_tapered_to_the_waist_cannot_be_pulled_on() -> None:
    """A20: woven, edge 74, hip 104: it needs a zip of 16 cm or so."""
    hips = passage("waist_opening", "hips", 104, 74)
    assert not hips.goes
    assert hips.slit == pytest.approx(16.5)
    assert passage("waist_opening", "hips", 104, 107).goes


def test_a_nappy_adds_ten_to_the_trunk() -> None:
    """A23."""
    assert trunk_needed(78, nappy=True) - trunk_needed(78, nappy=False) == 10


@pytest.mark.parametrize("part", ["head", "hips", "hand", "foot", "shoulders"])
@pytest.mark.parametrize("edge", [20.0, 40.0, 57.0, 80.0])
@pytest.mark.parametrize("stretch", [0.0, 0.3])
def test_the_slit_that_is_asked_for_is_enough(part: str, edge: float, stretch: float) -> None:
    shut = passage("x", part, 58.0, edge, stretch=stretch)  # type: ignore[arg-type]
    if not shut.goes:
        assert passage("x", part, 58.0, edge, stretch=stretch, slit=shut.slit).goes  # type: ignore[arg-type]
        assert shut.slit >= slit_length(58.0, edge, stretch=stretch)


def test_hand_and_foot_through_narrow_hems() -> None:
    body = estimate(someone(height=168, bust=92, waist=74, hip=100, wrist_girth=16, foot_heel_girth=32))
    blouse = bought("top", finished={"sleeve_hem": row(*[20.0] * 7), "neck_opening": row(*[60.0] * 7)})
    (head, hand) = advise(body, blouse).passages
    assert head.goes
    assert (hand.part, hand.goes) == ("hand", False)
    assert 1 < hand.slit < 4
    legs = bought("trousers", ease={"waist": 2.5, "hip": 5}, finished={"leg_hem": row(*[30.0] * 7)})
    assert [one.goes for one in advise(body, legs).passages if one.part == "foot"] == [False]


def test_a_dress_without_any_opening_must_pass_the_shoulders() -> None:
    body = someone(bust=92, waist=74, hip=100)
    fitted = bought(pull_on=True)
    (waist,) = advise(body, fitted).passages
    assert (waist.part, waist.goes) == ("shoulders", False)
    wide = bought(pull_on=True, ease={"bust": 6, "waist": 30, "hip": 30})
    assert [one.goes for one in advise(body, wide).passages] == [True]


# ---- growing --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("figure", "age", "now", "limit", "least", "most"),
    [
        ("girl", 7, 120.0, 126.0, 10, 16),  # about 6 cm a year at seven
        ("boy", 4, 102.0, 109.0, 9, 15),  # about 7 cm a year at four
        ("boy", 13, 154.0, 161.0, 9, 16),  # the spurt
        ("girl", 17, 163.0, 167.0, LONGEST, LONGEST),  # grown
        ("girl", 7, 130.0, 126.0, 0, 0),  # outgrown already
    ],
)
def test_months_of_wear_follow_the_growth_of_children(
    figure: str, age: float, now: float, limit: float, least: float, most: float
) -> None:
    wear = months_until(figure, age, "height", now, limit)  # type: ignore[arg-type]
    assert least <= wear.likely <= most
    assert wear.low <= wear.likely <= wear.high


def test_more_room_lasts_longer_and_the_interval_widens() -> None:
    wears = [months_until("girl", 7, "bust_girth", 60, 60 + room) for room in (1, 2, 4, 6, 8)]
    assert [w.likely for w in wears] == sorted(w.likely for w in wears)
    assert all(one.high - one.low <= more.high - more.low for one, more in pairwise(wears[:3]))


@pytest.mark.skipif(not available(), reason="the public survey is not at hand")
@pytest.mark.parametrize("figure", ["girl", "boy"])
def test_the_growth_figures_are_those_of_the_children(figure: str) -> None:
    """Medians of real children at a birthday, give or take half a year, against the committed curve."""
    children = [child for child in real_bodies(figure) if child.age_years is not None]  # type: ignore[arg-type]
    for age in (5, 8, 11, 14):
        heights = [child["height"] for child in children if abs((child.age_years or 0) - age) < 0.5]
        assert age_of_height(figure, float(np.median(heights))) == pytest.approx(age, abs=0.45)  # type: ignore[arg-type]


def test_without_an_age_it_is_told_from_the_height_and_said() -> None:
    pattern = bought_scenario()[0][4]
    juno = next(body for body in scenario()[0] if body.name == "Juno")
    growing = advise(replace(juno, age_years=None), pattern).growing
    assert growing is not None
    assert growing.age_guessed
    assert growing.age_years == pytest.approx(7.6, abs=0.5)


def test_months_of_wear_are_not_told_for_a_baby() -> None:
    """A baby of 76 cm leaves size 74 within weeks; the curves begin at two years and would say a year."""
    pattern = bought(
        "one-piece",
        sizes=("74", "80", "86"),
        figure="boy",
        body={
            "height": row(74, 80, 86),
            "bust": row(48, 50, 52),
            "waist": row(47, 49, 50),
            "hip": row(49, 51, 53),
        },
    )
    baby = someone("boy", 1.0, height=76, bust=48, waist=47, hip=49)
    for body in (baby, replace(baby, age_years=None)):
        growing = advise(body, pattern).growing
        assert growing is not None
        assert growing.wear == ()
        assert growing.roomy_size == "80"
        assert "cannot be told" in " ".join(Speaker().growing(growing))
    toddler = replace(baby, age_years=2.5).with_measures(height=90.0)
    older = advise(toddler, pattern).growing
    assert older is not None
    assert older.wear


# ---- elastic --------------------------------------------------------------------------------------


def pull_on(**finished: float) -> BoughtPattern:
    rows = {name: row(cm, cm + 4, cm + 8) for name, cm in finished.items()}
    return bought(
        "trousers",
        sizes=("12", "14", "16"),
        body={"waist": row(70, 74, 79), "hip": row(96, 100, 105)},
        finished={"hip": row(104, 108, 113), **rows},
        pull_on=True,
        elastic=("waist",),
    )


def test_an_elastic_waist_that_does_not_pass_the_hips_is_cut_wider_not_slit() -> None:
    body = someone(waist=70, hip=104)
    (hips,) = advise(body, pull_on(waist_opening=84)).passages
    assert not hips.goes
    assert hips.edge + hips.wider == pytest.approx(104 + 2.5)
    said = Speaker().passage(hips)
    assert "slit" not in said
    assert "14.5 cm wider" in said
    zipped = replace(pull_on(waist_opening=84), elastic=(), slits={"waist_opening": 5})
    assert "slit" in Speaker().passage(advise(body, zipped).passages[0])


@pytest.mark.parametrize(("waist", "hip"), [(66, 110.5), (70, 104), (90, 105), (62, 96)])
def test_an_elastic_waist_is_cut_in_the_size_of_the_hip(waist: float, hip: float) -> None:
    """Its edge must pass the hips; in a smaller size than the hip it would not."""
    advice = advise(someone(waist=waist, hip=hip), pull_on())
    assert advice.sizes["waist"] == advice.sizes["hip"]
    assert advice.reason("drawn in") is not None
    assert advice.reason("hangs free") is advice.reason("no finished measure") is None


def test_a_childs_elastic_is_soft() -> None:
    """Grown: the waist less 5; a child's the whole waist (three sources), or it marks the skin."""
    assert elastic_waist(54, 65, child=True).length == 54
    assert elastic_waist(79, 102).length == 74
    assert elastic_waist(110, 104).edge == pytest.approx(112.5)  # a waist fuller than the hips must pass too


def test_elastic_of_another_width_changes_the_fold_at_the_waist_and_not_the_hem() -> None:
    """She had 1 in for a pattern of 1/2 in, and added the half inch at the hem: an hour lost."""
    elastic = advise(someone(waist=70, hip=104), pull_on()).elastic
    assert elastic is not None
    assert "fold at the waist edge" in Speaker().elastic(elastic)
