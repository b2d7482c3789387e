"""The robe on bodies of the population: it laps over, band and sleeves fit, no child draws out its belt."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import pytest
import shapely

from clothwise.body import Body, sample
from clothwise.draft.robe import ROBE
from clothwise.errors import ChoiceError
from clothwise.garment import Garment
from clothwise.garment.check import check, greatest_move, same

WOMEN = sample("woman", 14, seed=70)
MEN = sample("man", 8, seed=71)
GIRLS = tuple(b for b in sample("girl", 10, seed=72) if (b.age_years or 0) >= 2)
BOYS = tuple(b for b in sample("boy", 8, seed=73) if (b.age_years or 0) >= 2)
CHILDREN = (*GIRLS, *BOYS)
PEOPLE = (*WOMEN, *MEN, *CHILDREN)
SOME = PEOPLE[::4]
Wish = dict[str, float | str]
WISHES: tuple[Wish, ...] = (
    {},
    {"length": "hip", "sleeve": "long"},
    {"length": "ankle", "belt": "none", "overlap": 10.0},
    {"length": "knee", "pockets": "none", "room": 12.0},
    {"length": "hip", "belt": "tied", "overlap": -4.0, "pockets": "none", "band_width": 3.0},
)


def length(garment: Garment, piece: str, line: str) -> float:
    """By chords, not by the kernel's own length."""
    points = garment.piece(piece).line(line).flattened(tolerance=0.0005)
    return sum(math.dist(a, b) for a, b in pairwise(points))


def made(wish: Wish, people: tuple[Body, ...] = SOME) -> Iterator[tuple[Body, Garment]]:
    for body in people:
        yield body, ROBE.make(body, wish)


@pytest.mark.parametrize("turn", range(2))
def test_every_rule_holds_or_the_refusal_names_the_choice(turn: int) -> None:
    refused: list[ChoiceError] = []
    for number, body in enumerate(PEOPLE):
        wish = WISHES[(number + 2 * turn) % len(WISHES)]
        try:
            garment = ROBE.make(body, wish)
        except ChoiceError as refusal:
            refused.append(refusal)
            continue
        assert [str(fault) for fault in check(garment)] == [], (body.name, wish)
    assert all("pockets" in no.where for no in refused)
    assert len(refused) <= 1


def test_the_band_is_as_long_as_front_edge_and_half_back_neck() -> None:
    for wish in WISHES:
        for _, garment in made(wish, PEOPLE[::9]):
            edge = length(garment, "front", "front_edge") + length(garment, "back", "neck")
            assert length(garment, "band", "outer") == pytest.approx(edge, abs=0.01)


def test_the_sleeve_is_as_wide_as_both_armholes_and_roomy() -> None:
    for body, garment in made({}):
        armholes = length(garment, "front", "armhole") + length(garment, "back", "armhole")
        assert length(garment, "sleeve", "top") == pytest.approx(armholes, abs=0.01)
        assert armholes > 1.1 * body["upper_arm_girth"] + 5
        underarm = garment.piece("front").edge("armhole").curve.start.y
        assert underarm >= 0.14 * body["back_waist_length"] - 0.01


def test_a_stout_arm_flattens_the_shoulder_before_the_underarm_nears_the_waist() -> None:
    body = WOMEN[0]
    stout = body.with_measures(
        upper_arm_girth=body["upper_arm_girth"] + 15,
        bust_girth=body["bust_girth"] + 40,
        shoulder_slope_deg=28.0,
    )
    garment = ROBE.make(stout)
    front = garment.piece("front")
    underarm = front.edge("armhole").curve.start.y
    assert underarm == pytest.approx(0.14 * body["back_waist_length"], abs=0.01)
    falls = -front.edge("shoulder").curve.start_tangent.back().angle_deg
    assert 2 < falls < 0.75 * 28
    assert check(garment) == ()


def test_it_goes_round_with_the_room_asked_and_laps_over() -> None:
    for body, garment in made({"room": 24.0, "overlap": 5.0}):
        y = -body["waist_to_hip"]
        across = {}
        for name in ("front", "back"):
            shape = shapely.Polygon(garment.piece(name).polygon(tolerance=0.001))
            across[name] = shape.intersection(shapely.LineString([(-200, y), (200, y)])).length
        fuller = max(body["bust_girth"], body["hip_girth"], body["waist_girth"])
        assert 4 * across["back"] == pytest.approx(fuller + 24, abs=0.05)
        assert across["front"] - across["back"] == pytest.approx(5, abs=0.01)
        assert garment.finished["round the body, closed"] == pytest.approx(fuller + 24)


def test_the_sleeve_ends_where_its_word_says() -> None:
    for body, garment in made({"sleeve": "long"}):
        front = garment.piece("front")
        shoulder = front.edge("shoulder").curve
        reach = shoulder.length() + length(garment, "sleeve", "front_seam")
        cut_off = 0.14 * body["shoulder_length"]
        assert reach + cut_off == pytest.approx(body["shoulder_length"] + body["arm_length"] + 1, abs=0.05)
        three = ROBE.make(body, {"sleeve": "three-quarter"})
        assert 0.15 < (reach - three.finished["neck point to sleeve end"]) / body["arm_length"] < 0.3


def test_lengths_follow_the_body() -> None:
    for body in SOME:
        hems = [
            -ROBE.make(body, {"length": word, "pockets": "none"}).piece("back").edge("hem").curve.start.y
            for word in ("hip", "knee", "calf", "ankle")
        ]
        assert hems == sorted(hems)
        hip, knee, calf, ankle = hems
        assert body["waist_to_hip"] <= hip < body["waist_to_knee"]
        assert body["waist_to_knee"] < knee < calf < ankle < body["waist_to_ankle"]


def test_a_childs_belt_is_sewn_fast_and_what_hangs_is_short() -> None:
    for body, garment in made({}, CHILDREN):
        belt = garment.piece("belt")
        assert not belt.loose
        fast = next(seam for seam in garment.seams if seam.name == "belt_fast")
        assert {run.piece for run in fast.runs} == {"belt", "back"}
        assert belt.mark("middle").curve.start.x == pytest.approx(length(garment, "belt", "outer") / 2)
        assert garment.piece("back").mark("belt_middle").curve.start.x == 0
        ends = (length(garment, "belt", "outer") - body["waist_girth"]) / 2
        assert ends > 24  # and of that, what the robe's room and the knot leave:
        assert any("24 cm hang" in note.text and "Local rules" in note.text for note in garment.notes)
        assert any("nightwear" in note.text and "local" in note.text for note in garment.notes)


def test_an_adults_belt_is_loose_long_enough_to_tie_and_slides_through_its_loops() -> None:
    for body, garment in made({}, (*WOMEN, *MEN)):
        belt, loop, back = (garment.piece(name) for name in ("belt", "belt_loop", "back"))
        assert belt.loose
        assert belt.edge("outer").curve.length() >= body["waist_girth"] + 100
        low, high = back.mark("loop_low").curve, back.mark("loop_high").curve
        width = belt.edge("end").curve.length()
        assert high.start.y - low.start.y == pytest.approx(loop.edge("outer").curve.length())
        assert high.start.y - low.start.y > width + 0.5
        assert (high.start.y + low.start.y) / 2 == pytest.approx(0)


def test_a_jacket_has_no_belt_unless_it_is_wished() -> None:
    assert "belt" not in {piece.name for piece in ROBE.make(WOMEN[0], {"length": "hip"}).pieces}
    assert "belt" in {piece.name for piece in ROBE.make(WOMEN[0], {"length": "hip", "belt": "tied"}).pieces}


def test_a_hand_goes_into_the_pocket_and_it_clears_edges() -> None:
    for wish in ({}, {"length": "hip"}):
        for _, garment in made(wish):
            front = garment.piece("front")
            left, low, right, _ = front.mark("pocket_place").curve.bounds()
            assert right - left >= 8.5
            assert low > front.edge("hem").curve.start.y + 5.9
            assert right < front.edge("side_seam").curve.start.x - 1.4
            assert left > front.edge("hem").curve.start.x + 2.9


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"longer": 20.0, "length": "ankle"}, "trodden on"),
        ({"longer": -20.0, "length": "hip"}, "end at the waist"),
        ({"sleeve": "short", "room": 50.0}, "shoulder seam of this robe"),
        ({"overlap": 20.0}, "out of range"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(wish: Wish, says: str) -> None:
    with pytest.raises(ChoiceError, match=says) as refused:
        ROBE.make(WOMEN[0], wish)
    assert refused.value.mend


def test_a_millimetre_more_of_a_measure_moves_nothing_by_a_centimetre() -> None:
    body = WOMEN[3]
    for name in ROBE.needs:
        moved = body.with_measures(**{name: body[name] + 0.1})
        for wish in ({}, {"length": "hip", "sleeve": "long"}):
            assert greatest_move(ROBE.make(body, wish), ROBE.make(moved, wish)) < 1.0, name


def test_the_same_body_gives_the_same_robe() -> None:
    assert same(ROBE.make(WOMEN[0]), ROBE.make(WOMEN[0]))
