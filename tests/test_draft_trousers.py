"""Pull-on trousers on bodies of the population: they go on, the seat fits, legs end where asked."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from clothwise.body import Body, Figure, Measure, sample
from clothwise.draft import pattern
from clothwise.errors import ChoiceError, MeasureError, WorkroomError
from clothwise.garment import Garment, Run
from clothwise.garment.check import check, greatest_move, same
from clothwise.garment.check.drawn import seen
from tests.real_bodies import real_adults

TROUSERS = pattern("pull_on_trousers")
FIGURES: tuple[Figure, ...] = ("woman", "man", "girl", "boy")
PEOPLE = tuple(body for n, figure in enumerate(FIGURES) for body in sample(figure, 50, seed=40 + n))
SOME = PEOPLE[::17]
FRONT, BACK = "front_leg", "back_leg"
CROTCH_EASE = 1.5  # cm: what the draft states
BELOW_ANKLE = 2.0  # cm: what the draft states of a full length
FLAT_FRONT = "flat front, elastic at the back"


def each(bodies: tuple[Body, ...]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("body", bodies, ids=lambda body: f"{body.figure}-{body.name}")


def measured(garment: Garment, piece: str, line: str) -> float:
    """Length by the check's own means, not by the kernel that drew it. [cm]"""
    return seen(garment)[piece].lines[line].length


def hem_girth(garment: Garment) -> float:
    return measured(garment, FRONT, "hem") + measured(garment, BACK, "hem")


def depth_of(garment: Garment, piece: str, edge: str) -> float:
    """How deep below the natural waist an edge reaches at its lowest end. [cm]"""
    curve = garment.piece(piece).line(edge)
    return -min(curve.start.y, curve.end.y)


def crotch_seam(garment: Garment) -> float:
    return measured(garment, FRONT, "crotch") + measured(garment, BACK, "crotch")


def told(garment: Garment, word: str) -> bool:
    return any(word in note.text for note in garment.notes)


# ---- every rule -------------------------------------------------------------------------------------


def test_every_rule_holds_on_two_hundred_bodies():
    for body in PEOPLE:
        garment = TROUSERS.make(body)
        assert [str(fault) for fault in check(garment)] == [], body.name


@pytest.mark.parametrize("leg", ["tapered", "straight", "wide"])
@pytest.mark.parametrize("length", ["full", "mid-calf", "above-knee"])
@pytest.mark.parametrize("waist", ["elastic all round", FLAT_FRONT])
def test_every_rule_holds_for_every_main_choice(leg: str, length: str, waist: str):
    refusals: list[ChoiceError] = []
    for body in PEOPLE[::9]:
        try:
            garment = TROUSERS.make(body, {"leg": leg, "length": length, "waist": waist})
        except ChoiceError as refusal:
            refusals.append(refusal)
            continue
        assert [str(fault) for fault in check(garment)] == [], body.name
    assert all(waist == FLAT_FRONT and "flat" in refusal.what for refusal in refusals)
    assert len(refusals) <= 2


@pytest.mark.skipif(not real_adults(), reason="the public body data do not stand beside the repository")
def test_every_rule_holds_on_real_adults():
    for body in real_adults()[7::200]:
        assert [str(fault) for fault in check(TROUSERS.make(body))] == [], body.name


# ---- the seat ----------------------------------------------------------------------------------------


@each(SOME)
def test_a_taped_crotch_length_is_met(body: Body):
    taped = body.with_measures(crotch_length_total=body["crotch_length_total"])
    assert crotch_seam(TROUSERS.make(taped)) == pytest.approx(
        taped["crotch_length_total"] + CROTCH_EASE, abs=0.1
    )


@each(SOME[:4])
def test_a_longer_crotch_length_gives_a_fuller_back(body: Body):
    longer = body.with_measures(crotch_length_total=body["crotch_length_total"] + 2.0)
    before, after = TROUSERS.make(body), TROUSERS.make(longer)
    back = measured(after, BACK, "crotch") - measured(before, BACK, "crotch")
    front = measured(after, FRONT, "crotch") - measured(before, FRONT, "crotch")
    assert front + back == pytest.approx(2.0, abs=0.1)
    if not told(before, "disagree") and not told(after, "disagree"):
        assert back > front


@each(SOME)
def test_a_pair_of_forks_like_the_trade_draws_them(body: Body):
    """The back reaches out 1.7 to 2.4 times as far as the front, both together 0.14 to 0.28 of the hip."""
    garment = TROUSERS.make(body)
    front = -garment.piece(FRONT).line("inseam").start.x
    back = garment.piece(BACK).line("inseam").end.x
    assert 1.7 <= back / front <= 2.4
    assert 0.14 <= (front + back) / body["hip_girth"] <= 0.28


@each(SOME)
def test_the_crotch_curve_is_hollow_all_the_way(body: Body):
    """One arc from waist to crotch point on each piece: no bump."""
    garment = TROUSERS.make(body)
    for piece in (FRONT, BACK):
        line = seen(garment)[piece].lines["crotch"]
        turning_out = float((line.bends * line.steps).clip(min=0.0).sum())
        assert math.degrees(turning_out) < 1.0


@each(SOME[:4])
def test_rise_and_crotch_length_that_disagree_are_told_and_named(body: Body):
    with_note = without = refused = 0
    sentences = []
    for by in range(-14, 31, 2):
        taped = body.with_measures(crotch_length_total=body["crotch_length_total"] + by)
        try:
            garment = TROUSERS.make(taped)
        except MeasureError as refusal:
            refused += 1
            sentences.append(str(refusal))
            continue
        moved = [note for note in garment.notes if note.measure == "crotch_length_total"]
        with_note, without = with_note + bool(moved), without + (not moved)
        assert crotch_seam(garment) == pytest.approx(taped["crotch_length_total"] + CROTCH_EASE, abs=0.1)
        for note in moved:
            assert f"{abs(note.by):.1f} cm" in note.text
            assert ("lowered" in note.text) == (note.by > 0)
    assert min(with_note, without, refused) > 0
    for sentence in sentences:
        assert "Body rise" in sentence
        assert "crotch length" in sentence
        assert "can be" in sentence


@each(SOME[:4])
def test_an_estimated_crotch_length_counts_less_and_is_told(body: Body):
    far = body["crotch_length_total"] + 25.0  # a taped one of this length would be refused
    estimated = replace(body, measures={**body.measures, "crotch_length_total": Measure(far, "estimated")})
    garment = TROUSERS.make(estimated)
    assert told(garment, "estimated")
    assert crotch_seam(garment) < far - 5.0
    assert check(garment) == ()


# ---- going on ----------------------------------------------------------------------------------------


@each(SOME)
@pytest.mark.parametrize("waist", ["elastic all round", FLAT_FRONT])
def test_the_waist_passes_the_hips_and_the_elastic_reaches(body: Body, waist: str):
    garment = TROUSERS.make(body, {"waist": waist})
    edge = 2 * (measured(garment, FRONT, "waist") + measured(garment, BACK, "waist"))
    assert edge >= body["hip_girth"] + 2.5 - 0.01
    assert edge >= body["waist_girth"]
    elastic = garment.notions[0]
    assert elastic.length < body["waist_girth"] + 2.5 + 0.01
    if waist == FLAT_FRONT:
        around = TROUSERS.make(body).notions[0].length
        assert elastic.length < 0.95 * around


@each(SOME)
def test_a_flat_front_leaves_the_side_seams_nearly_at_the_side(body: Body):
    """Worn, half the body in front and half behind, give or take 2.5 cm at each side."""
    garment = TROUSERS.make(body, {"waist": FLAT_FRONT})
    ends = [mark for mark in garment.piece(FRONT).marks if mark.name == "elastic_end"]
    front, back = 2 * measured(garment, FRONT, "waist"), 2 * measured(garment, BACK, "waist")
    waist_line = garment.piece(FRONT).line("waist")
    flat = front if not ends else 2 * waist_line.end.distance(ends[0].curve.start)
    drawn_in = (body["waist_girth"] - flat) / (front + back - flat)
    worn_front = flat + (front - flat) * drawn_in
    assert worn_front <= body["waist_girth"] / 2 + 2 * 2.5
    assert flat > 0.1 * body["waist_girth"]


@each(SOME)
@pytest.mark.parametrize("leg", ["tapered", "straight", "wide"])
def test_heel_calf_and_knee_have_room(body: Body, leg: str):
    garment = TROUSERS.make(body, {"leg": leg})
    assert hem_girth(garment) >= body["foot_heel_girth"] + 1.0
    knee = measured(garment, FRONT, "knee") + measured(garment, BACK, "knee")
    assert knee >= body["knee_girth"] + 4.9


# ---- seams and lengths -------------------------------------------------------------------------------


@each(SOME)
def test_seams_walk_and_hems_are_square(body: Body):
    garment = TROUSERS.make(body, {"leg": "tapered"})
    for edge in ("side_seam", "inseam"):
        assert measured(garment, FRONT, edge) == pytest.approx(measured(garment, BACK, edge), abs=0.01)
    for piece in seen(garment).values():
        for at_end in (False, True):
            assert piece.corner_deg("hem", at_end=at_end) == pytest.approx(90.0, abs=0.5)


@each(SOME)
@pytest.mark.parametrize("leg", ["tapered", "straight", "wide"])
def test_the_inseam_bends_evenly_from_crotch_to_knee(body: Body, leg: str):
    """Nowhere sharper than an arc of four fifths of the thigh: bunched above the knee it shows as a corner."""
    garment = TROUSERS.make(body, {"leg": leg})
    thigh = body["waist_to_knee"] - body["body_rise"]
    for piece in (FRONT, BACK):
        curve = garment.piece(piece).line("inseam")
        places = [curve.at_length(length) for length in steps(curve.length(), 0.25)]
        ways = [a.to(b).angle_deg for a, b in pairwise(places)]
        bend = max(abs(after - before) for before, after in pairwise(ways))
        assert 0.25 / math.radians(bend) > 0.8 * thigh


def steps(length: float, by: float) -> list[float]:
    return [n * by for n in range(int(length / by))]


@each(SOME)
def test_full_length_covers_the_ankle_and_clears_the_floor(body: Body):
    garment = TROUSERS.make(body)
    depth = depth_of(garment, FRONT, "hem")
    floor = body["body_rise"] + body["inside_leg"]
    assert body["waist_to_ankle"] < depth <= body["waist_to_ankle"] + BELOW_ANKLE + 0.01
    assert depth < floor - 1.0


@each(SOME)
def test_lengths_follow_the_body(body: Body):
    short, calf, full = (TROUSERS.make(body, {"length": name}) for name in ("above-knee", "mid-calf", "full"))
    depths = [depth_of(g, FRONT, "hem") for g in (short, calf, full)]
    assert body["body_rise"] < depths[0] < body["waist_to_knee"] < depths[1] < body["waist_to_ankle"]
    assert depths == sorted(depths)
    inside = measured(short, FRONT, "inseam")
    assert 3.0 < inside < body["waist_to_knee"] - body["body_rise"]
    # Shorts are the same trousers cut off: nothing above the hem has changed.
    assert measured(short, FRONT, "crotch") == pytest.approx(measured(full, FRONT, "crotch"), abs=1e-6)
    assert measured(short, BACK, "waist") == pytest.approx(measured(full, BACK, "waist"), abs=1e-6)


@each(SOME[:5])
def test_longer_is_longer_wider_is_wider_and_a_lower_waist_is_lower(body: Body):
    plain = TROUSERS.make(body)
    shorter = TROUSERS.make(body, {"longer": -5.0})
    inside = measured(plain, FRONT, "inseam") - measured(shorter, FRONT, "inseam")
    assert inside == pytest.approx(5.0, abs=0.1)
    hems = [hem_girth(TROUSERS.make(body, {"leg": leg})) for leg in ("tapered", "straight", "wide")]
    assert hems == sorted(hems)
    assert hems[2] > hems[0] + 3.0
    low = TROUSERS.make(body, {"rise": -3.0})
    assert low.piece(FRONT).line("waist").start.y == pytest.approx(-3.0, abs=1e-6)
    assert low.notions[0].length > plain.notions[0].length - 0.01
    easy = TROUSERS.make(body, {"hip_ease": 14.0})
    assert easy.finished["hip"] == pytest.approx(body["hip_girth"] + 14.0)


@each(SOME[:3])
def test_what_cannot_be_is_refused_in_one_sentence_that_names_it(body: Body):
    floor_bound = TROUSERS.make(body)
    assert depth_of(floor_bound, FRONT, "hem") < body["body_rise"] + body["inside_leg"]
    for wish, word in (
        ({"length": "above-knee", "longer": -20.0}, "no leg"),
        ({"longer": 10.0}, "floor"),
        ({"leg": "flared"}, "options"),
        ({"hip_ease": 2.0}, "out of range"),
        ({"cuffs": 3.0}, "not a choice"),
    ):
        with pytest.raises(ChoiceError, match=word):
            TROUSERS.make(body, wish)
    upside_down = body.with_measures(waist_to_knee=body["body_rise"])
    with pytest.raises(MeasureError, match=r"waist to knee .* cannot both be"):
        TROUSERS.make(upside_down)
    bare = replace(body, measures={k: m for k, m in body.measures.items() if k != "hip_girth"})
    with pytest.raises(MeasureError, match="hip girth"):
        TROUSERS.make(bare)


def test_what_is_said_of_legs_too_short_can_be_had():
    said = 0
    for body in sample("woman", 40, seed=3):
        wish = {"length": "above-knee", "longer": -20.0}
        least = least_longer(body, wish)
        if least is not None:
            said += 1
            assert least_longer(body, {**wish, "longer": least}) is None, body.name
    assert said > 3


def least_longer(body: Body, wish: dict[str, float | str]) -> float | None:
    """How long the refusal says the legs may be, against the length; None where they can be had. [cm]"""
    try:
        TROUSERS.make(body, wish)
    except ChoiceError as refusal:
        return float(refusal.mend.split("For this body ")[1].split()[0])
    return None


def test_shorts_as_short_as_they_are_sold_can_be_had():
    """A finished inside leg of 7 cm, some 2 3/4 inches."""
    body = sample("woman", 1, seed=3)[0]
    shorts = TROUSERS.make(body, {"length": "above-knee", "finished_length": 7.0})
    assert measured(shorts, FRONT, "inseam") == pytest.approx(7.0, abs=0.02)
    assert check(shorts) == ()


@pytest.mark.parametrize("number", [192, 408, 642])
def test_the_shortest_legs_have_their_thigh_line_on_the_cloth(number: int):
    """The hem of a wide back bows up as high as the thigh line, or higher."""
    woman = sample("woman", 700, 2026)[number]
    assert [str(fault) for fault in check(TROUSERS.make(woman, {"finished_length": 6.0}))] == []


@each(tuple(body for body in SOME if body.child))
def test_a_childs_elastic_sewn_into_a_ring_is_as_long_as_the_waist(body: Body):
    lap = 2.5
    (elastic,) = (notion for notion in TROUSERS.make(body).notions if notion.name == "elastic")
    assert elastic.length - lap == pytest.approx(body["waist_girth"], abs=0.01)


# ---- steadiness --------------------------------------------------------------------------------------


@each(SOME)
def test_a_millimetre_on_the_tape_moves_nothing_by_a_centimetre(body: Body):
    before = TROUSERS.make(body)
    assert same(before, TROUSERS.make(body))
    for measure in TROUSERS.needs:
        after = TROUSERS.make(body.with_measures(**{measure: body[measure] + 0.1}))
        assert greatest_move(before, after) < 1.0, measure


def test_bad_tapes_never_break_the_draft():
    """Any one measure far off gives a garment that holds, or one clear sentence: nothing else."""
    body = PEOPLE[0]
    refusals: list[WorkroomError] = []
    for measure in TROUSERS.needs:
        for factor in (0.4, 0.7, 1.3, 1.8, 2.54):
            try:
                garment = TROUSERS.make(body.with_measures(**{measure: body[measure] * factor}))
            except WorkroomError as refusal:
                refusals.append(refusal)
                continue
            assert garment.length((Run(FRONT, "waist"),)) > 0
    assert refusals
    for refusal in refusals:
        assert refusal.what.endswith(".")
        assert refusal.mend


def test_left_and_right_are_the_wearers_own():
    """Both pieces are the left half, right side up: front centre on the left, back centre on the right."""
    garment = TROUSERS.make(PEOPLE[0])
    front, back = garment.piece(FRONT), garment.piece(BACK)
    assert front.line("crotch").start.x < front.line("side_seam").end.x
    assert back.line("crotch").end.x > back.line("side_seam").start.x
