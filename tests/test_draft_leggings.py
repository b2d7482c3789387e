"""Leggings on bodies of the population: smaller than the body by what the knit gives, and yet they go on."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely

from clothwise.body import Body, Figure, Measure, sample
from clothwise.draft import pattern
from clothwise.errors import ChoiceError, MeasureError
from clothwise.garment import Garment
from clothwise.garment.check import check, greatest_move, same
from clothwise.garment.check.drawn import seen

LEGGINGS = pattern("leggings")
FIGURES: tuple[Figure, ...] = ("woman", "man", "girl", "boy")
PEOPLE = tuple(body for n, figure in enumerate(FIGURES) for body in sample(figure, 20, seed=80 + n))
SOME = PEOPLE[::11]
LEG = "leg"
USED = 0.8  # of the stretch, when the cloth is pulled over hips or heel


def each(bodies: tuple[Body, ...]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("body", bodies, ids=lambda body: f"{body.figure}-{body.name}")


def less(stretch: float) -> float:
    """The negative ease the draft states: 0.28 of the stretch, never more than 0.22."""
    return min(0.22, 0.28 * stretch / 100)


def measured(garment: Garment, line: str) -> float:
    return seen(garment)[LEG].lines[line].length


def drawn(garment: Garment, line: str) -> shapely.LineString:
    return shapely.LineString(garment.piece(LEG).line(line).flattened(tolerance=0.005))


def test_every_rule_holds():
    for body in PEOPLE:
        assert [str(fault) for fault in check(LEGGINGS.make(body))] == [], body.name


@pytest.mark.parametrize(
    "wish",
    [
        {"length": "mid-calf", "rise": -3.0},
        {"length": "above-knee", "stretch": 25.0},
        {"stretch": 120.0, "rise": 3.0},
    ],
    ids=str,
)
def test_every_rule_holds_with_other_choices(wish: dict[str, float | str]):
    for body in PEOPLE[::4]:
        try:
            garment = LEGGINGS.make(body, wish)
        except ChoiceError:
            continue
        assert [str(fault) for fault in check(garment)] == [], body.name


@each(SOME)
@pytest.mark.parametrize("stretch", [25.0, 50.0, 90.0])
def test_girths_are_smaller_than_the_body_by_what_the_knit_gives(body: Body, stretch: float):
    garment = LEGGINGS.make(body, {"stretch": stretch})
    kept = 1 - less(stretch)
    assert 2 * measured(garment, "hip") == pytest.approx(kept * body["hip_girth"], abs=0.1)
    for line in ("thigh", "knee", "calf"):
        girth = body[f"{line}_girth"]
        most = (
            1.2 if line == "thigh" else 1.12
        )  # just below the crotch the fork still reaches between slim thighs
        assert kept * girth - 0.05 <= measured(garment, line) <= most * girth, line
        # never beyond half of what the cloth gives (rule of the trade)
        assert measured(garment, line) >= girth * (1 - 0.5 * (1 - 1 / (1 + stretch / 100))) - 0.05


@pytest.mark.parametrize("stretch", [25.0, 50.0, 90.0])
def test_a_slim_knee_under_a_stout_thigh_keeps_its_ease(stretch: float):
    stout = [body for body in PEOPLE if body["thigh_girth"] > 1.55 * body["knee_girth"]]
    assert len(stout) >= 5
    for body in stout:
        body = body.with_measures(knee_girth=0.97 * body["knee_girth"])
        assert measured(LEGGINGS.make(body, {"stretch": stretch}), "knee") <= 1.101 * body["knee_girth"]


@each(SOME)
def test_they_go_on_over_hips_and_heel(body: Body):
    for stretch in (25.0, 60.0):
        garment = LEGGINGS.make(body, {"stretch": stretch})
        gives = 1 + USED * stretch / 100
        assert 2 * measured(garment, "waist") * gives >= body["hip_girth"] - 0.05
        assert measured(garment, "hem") * gives >= body["foot_heel_girth"] - 0.05
        elastic = garment.notions[0]
        assert elastic.length <= 2 * measured(garment, "waist") + 0.01
        assert elastic.length < body["waist_girth"] + 2.5 + 0.01  # and its lap, for a child


@each(SOME)
def test_the_inseams_are_mirror_images_and_there_is_no_side_seam(body: Body):
    garment = LEGGINGS.make(body)
    front, back = drawn(garment, "inseam_front"), drawn(garment, "inseam_back")
    image = shapely.LineString([(-x, y) for x, y in front.coords])
    assert image.hausdorff_distance(back) < 0.02
    assert {seam.name for seam in garment.seams} == {"inseam", "crotch"}
    assert [(piece.name, piece.copies) for piece in garment.pieces] == [(LEG, 2)]


@each(SOME)
def test_the_crotch_seam_is_as_much_shorter_than_the_body_as_the_cloth_gives_along(body: Body):
    body = body.with_measures(crotch_length_total=body["crotch_length_total"])
    garment = LEGGINGS.make(body)
    share = (measured(garment, "crotch_front") + measured(garment, "crotch_back")) / body["crotch_length_total"]
    assert 1 - 0.01 - 0.90 * less(50) - 0.002 <= share <= 1 - 0.01 - 0.42 * less(50) + 0.002


@each(SOME)
def test_the_back_is_higher_and_reaches_further_than_the_front(body: Body):
    garment = LEGGINGS.make(body)
    leg = garment.piece(LEG)
    front, back = leg.line("crotch_front"), leg.line("crotch_back")
    assert back.end.y > front.start.y + 0.4
    assert measured(garment, "crotch_back") > measured(garment, "crotch_front") + 2.0
    turn = front.strokes[-1].end.x, back.strokes[0].start.x
    reach = [abs(turn[0] - front.strokes[0].end.x), abs(turn[1] - back.strokes[-1].start.x)]
    assert 1.5 < reach[1] / reach[0] < 2.8


@each(SOME)
def test_lengths_follow_the_body_and_leave_the_seat_alone(body: Body):
    full, calf, short = (LEGGINGS.make(body, {"length": name}) for name in ("full", "mid-calf", "above-knee"))
    depths = [-made.piece(LEG).line("hem").start.y for made in (short, calf, full)]
    assert body["body_rise"] < depths[0] < body["waist_to_knee"] < depths[1] < depths[2]
    assert depths[2] == pytest.approx(body["waist_to_ankle"], abs=0.01)
    for line in ("waist", "crotch_front", "crotch_back"):
        assert measured(short, line) == pytest.approx(measured(full, line), abs=1e-6)
    for made in (full, calf, short):
        for at_end in (False, True):
            assert seen(made)[LEG].corner_deg("hem", at_end=at_end) == pytest.approx(90.0, abs=0.5)


@each(SOME[:4])
def test_less_stretch_is_drawn_wider_and_a_lower_waist_is_lower(body: Body):
    wide, close = (LEGGINGS.make(body, {"stretch": stretch}) for stretch in (30.0, 80.0))
    for line in ("hip", "thigh", "knee", "calf", "hem"):
        assert measured(wide, line) > measured(close, line), line
    low, natural = LEGGINGS.make(body, {"rise": -2.0}), LEGGINGS.make(body)
    for line in ("crotch_front", "crotch_back"):
        assert measured(low, line) < measured(natural, line) - 1.0


def test_cloth_without_stretch_and_a_waist_on_the_hip_are_refused():
    body = PEOPLE[0]
    with pytest.raises(ChoiceError, match=r"stretch"):
        LEGGINGS.make(body, {"stretch": 10.0})
    child = next(b for b in PEOPLE if b.child).with_measures(waist_to_hip=9.0)
    with pytest.raises(ChoiceError, match=r"would lie on the hip"):
        LEGGINGS.make(child, {"rise": -8.0})
    with pytest.raises(ChoiceError, match=r"floor"):
        LEGGINGS.make(PEOPLE[-1], {"longer": 6.0})


def test_rise_and_crotch_length_that_disagree_are_told_or_refused():
    body = PEOPLE[0]
    told = refused = 0
    for by in range(-24, 25, 3):
        taped = body.with_measures(crotch_length_total=body["crotch_length_total"] + by)
        try:
            garment = LEGGINGS.make(taped)
        except MeasureError as refusal:
            refused += 1
            low, high = _range(refusal.mend)
            assert not low <= taped["crotch_length_total"] <= high
            continue
        told += any("disagree" in note.text for note in garment.notes)
        assert check(garment) == ()
    assert min(told, refused) > 0
    guessed = {**body.measures, "crotch_length_total": Measure(body["crotch_length_total"] + 20, "estimated")}
    garment = LEGGINGS.make(replace(body, measures=guessed))
    assert any("estimated" in note.text for note in garment.notes)
    assert check(garment) == ()


def _range(words: str) -> tuple[float, float]:
    low, high = (float(number) for number in re.findall(r"[\d.]*\d", words))
    return low, high


@each(SOME[:5])
def test_a_millimetre_on_the_tape_moves_nothing_by_a_centimetre(body: Body):
    before = LEGGINGS.make(body)
    assert same(before, LEGGINGS.make(body))
    for measure in LEGGINGS.needs:
        after = LEGGINGS.make(body.with_measures(**{measure: body[measure] + 0.1}))
        assert greatest_move(before, after) < 1.0, measure


@each(SOME)
def test_the_leg_narrows_all_the_way_down_in_one_hollow_and_one_shin(body: Body):
    """No knee that juts, no wave: the inseam nears the axis down to the ankle and its lean changes gently."""
    line = LEGGINGS.make(body).piece(LEG).line("inseam_front")
    points = [line.at_length(share / 60 * line.length()) for share in range(61)]
    leans = [math.degrees(math.atan2(b.x - a.x, a.y - b.y)) for a, b in pairwise(points)]
    assert min(leans) > -3.0
    assert max(abs(b - a) for a, b in pairwise(leans)) < 4.0
