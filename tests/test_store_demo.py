"""The Tide Mill scenario: seeded once, and people and cloths that could be real."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from statistics import NormalDist

import numpy
import pytest
from sqlalchemy import delete

from clothwise.body import Body, Measure
from clothwise.cli.evening import evening_of
from clothwise.cloth.kinds import kinds
from clothwise.errors import StoreError
from clothwise.store import Store, open_store, seed_demo
from clothwise.store.demo import SHELF, clear_demo, scenario
from clothwise.store.tables import FLAGS
from clothwise.ticket import read_ticket

SHARED = Path(__file__).resolve().parents[2] / "shared"
NAVEL = 0.97  # natural waist / girth at the navel, where the public survey took it
SPREADS = 2.0  # of like bodies: as far as an invented measure may lie from the likely one
OUTLIER = 0.001  # share of people further from the middle than an invented body may be

# our word -> the survey's; only measures that both take the same way
SAME_WAY = {
    "waist_to_hip": "waist_to_hip",
    "waist_to_knee": "waist_to_knee",
    "waist_to_floor": "waist_height",
    "inside_leg": "inside_leg",
    "body_rise": "body_rise",
    "crotch_length_total": "crotch_length",
    "thigh_girth": "thigh_girth",
    "neck_base_girth": "neck_base_girth",
    "shoulder_length": "shoulder_length",
    "across_back": "across_back",
    "back_waist_length": "back_waist_length",
    "wrist_girth": "wrist_girth",
    "foot_heel_girth": "heel_girth",
    "knee_girth": "knee_girth",
}
SAME_WAY_CHILD = {
    "thigh_girth": "thigh_girth",
    "wrist_girth": "wrist_girth",
    "upper_arm_girth": "upper_arm_girth",
    "head_girth": "head_girth",
    "ankle_girth": "ankle_girth",
    "foot_length": "foot_length",
}
BODIES, CLOTHS, TICKETS = scenario()


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return open_store(tmp_path / "tide_mill.sqlite")


def everything(store: Store) -> tuple[object, ...]:
    history = [(store.earlier_bodies(b.name)) for b in BODIES] + [
        (store.earlier_cloths(c.name)) for c in CLOTHS
    ]
    return store.bodies(), store.cloths(), store.tickets(), history


def test_seeding_puts_in_the_whole_scenario_once(store: Store) -> None:
    assert seed_demo(store) is True
    assert [body.name for body in store.bodies()] == [
        "Juno",
        "Marit",
        "Osei",
        "Pilar",
    ]
    assert len(store.cloths()) >= 10
    before = everything(store)
    assert seed_demo(store) is False
    assert everything(store) == before


def test_what_was_cleared_is_never_given_back(store: Store) -> None:
    """Not even the shelf, to a store from before there was one."""
    seed_demo(store)
    with store._writing() as connection:
        connection.execute(delete(FLAGS).where(FLAGS.c.name == SHELF))
    assert clear_demo(store) > 20
    assert seed_demo(store) is False
    assert (store.bodies(), store.cloths(), store.tickets(), store.bought_patterns(), store.makes()) == (
        (),
    ) * 5


def test_seeding_leaves_what_the_sewer_changed_or_forgot(store: Store) -> None:
    own = BODIES[0].with_measures(waist_girth=80.5)
    store.keep_body(own)
    seed_demo(store)
    assert store.body(own.name) == own
    assert store.earlier_bodies(own.name) == ()
    store.forget_body("Juno")
    store.keep_cloth(CLOTHS[0])
    seed_demo(store)
    assert "Juno" not in [body.name for body in store.bodies()]


def test_the_ticket_can_be_read_and_names_what_is_there() -> None:
    for kept in TICKETS:
        ticket = read_ticket(kept.text)
        assert ticket.name == kept.name
        assert ticket.made_on == kept.created_on
        assert ticket.body_name in [body.name for body in BODIES]
        assert ticket.cloth_name in [cloth.name for cloth in CLOTHS]


@pytest.mark.parametrize("body", BODIES, ids=lambda body: body.name)
def test_lengths_of_one_body_agree(body: Body) -> None:
    assert body["waist_to_floor"] - body["inside_leg"] == pytest.approx(body["body_rise"], abs=0.5)
    assert body["waist_girth"] < body["hip_girth"]
    assert body["waist_to_hip"] < body["body_rise"]
    assert body["crotch_length_total"] > 2 * body["body_rise"]
    assert all(measure.source == "taped" for measure in body.measures.values())


needs_survey = pytest.mark.skipif(not (SHARED / "bodies").exists(), reason="the public survey is not at hand")


@needs_survey
def test_every_measure_is_a_word_of_the_vocabulary() -> None:
    with (SHARED / "bodies" / "measurements.csv").open(encoding="utf-8", newline="") as opened:
        words = {row["name"] for row in csv.DictReader(opened)} | {"body_rise"}
    for body in BODIES:
        assert set(body) - words == set()


@needs_survey
@pytest.mark.parametrize("body", BODIES, ids=lambda body: body.name)
def test_people_could_be_real(body: Body) -> None:
    """What height, chest, waist and hip foretell of each measure, by the public survey's own spread."""
    whole = json.loads((SHARED / "bodies" / "body_model.json").read_text(encoding="utf-8"))
    model = whole["child" if body.child else "adult"]["F" if body.figure in ("woman", "girl") else "M"]
    names = model["vars"]
    mean, spread = numpy.array(model["mean"]), numpy.zeros((len(names), len(names)))
    spread[numpy.tril_indices(len(names))] = model["cov_lower"]
    spread = numpy.tril(spread) + numpy.tril(spread, -1).T

    core = {"height": body["height"], "hip_girth": body["hip_girth"]}
    if body.child:
        core |= {"chest_girth": body["bust_girth"], "natural_waist_girth": body["waist_girth"]}
    else:
        core |= {"bust_girth": body["bust_girth"], "waist_girth_navel": body["waist_girth"] / NAVEL}
    given = [names.index(name) for name in core]
    away = numpy.log(list(core.values())) - mean[given]
    inverse = numpy.linalg.inv(spread[numpy.ix_(given, given)])
    assert away @ inverse @ away < 2 * NormalDist().inv_cdf(1 - OUTLIER) ** 2, "the whole body is too odd"

    for ours, theirs in (SAME_WAY_CHILD if body.child else SAME_WAY).items():
        if ours not in body:
            continue
        one = names.index(theirs)
        towards = spread[one, given] @ inverse
        likely = mean[one] + towards @ away
        deviation = numpy.sqrt(spread[one, one] - towards @ spread[given, one])
        assert abs(numpy.log(body[ours]) - likely) < SPREADS * deviation, (
            f"{ours}: likely {numpy.exp(likely):.1f}"
        )


def test_kinds_of_cloth_are_known_and_a_cupboard_is_mixed() -> None:
    assert {cloth.kind for cloth in CLOTHS} - {kind.name for kind in kinds()} == set()
    assert {cloth.make for cloth in CLOTHS} == {"woven", "knit"}
    assert {cloth.nap for cloth in CLOTHS} == {"none", "two-way", "one-way"}
    assert all(110 <= cloth.width <= 150 and 80 <= cloth.length <= 320 for cloth in CLOTHS)
    assert {cloth.washed for cloth in CLOTHS} == {True, False}


def test_an_empty_store_of_her_own_says_what_to_do_first(store: Store) -> None:
    seed_demo(store)
    clear_demo(store)
    with pytest.raises(StoreError) as none:
        evening_of(store, "Ada", 3.0, "practised")
    assert "nobody in the store yet, and no cloth" in str(none.value)
    assert "clothwise start" in str(none.value)
    assert "clothwise cupboard add" in str(none.value)
    store.keep_body(Body("Ada", "woman", {"bust_girth": Measure(92.0)}))
    with pytest.raises(StoreError, match="no cloth in the cupboard yet") as no_cloth:
        evening_of(store, "Ada", 3.0, "practised")
    assert "People" not in str(no_cloth.value)
    store.keep_cloth(CLOTHS[0])
    assert evening_of(store, "Ada", 3.0, "practised").body.name == "Ada"
