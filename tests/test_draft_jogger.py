"""Joggers and pyjama bottoms: the trousers' legs with rib cuffs, and with much ease, to be slept in."""

from __future__ import annotations

import pytest

from clothwise.body import Body, Figure, sample
from clothwise.draft import pattern
from clothwise.errors import ChoiceError
from clothwise.garment import Garment
from clothwise.garment.check import check
from clothwise.garment.check.drawn import seen

JOGGER, PYJAMAS, TROUSERS = (pattern(name) for name in ("jogger", "pyjama_bottoms", "pull_on_trousers"))
FIGURES: tuple[Figure, ...] = ("woman", "man", "girl", "boy")
PEOPLE = tuple(body for n, figure in enumerate(FIGURES) for body in sample(figure, 12, seed=70 + n))
SOME = PEOPLE[::8]
FRONT, BACK, CUFF = "front_leg", "back_leg", "ankle_cuff"
RIB_USED = 0.9  # of its stretch when a heel passes
KNIT_USED = 0.8


def each(bodies: tuple[Body, ...]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("body", bodies, ids=lambda body: f"{body.figure}-{body.name}")


def measured(garment: Garment, piece: str, line: str) -> float:
    return seen(garment)[piece].lines[line].length


def leg_end(garment: Garment) -> float:
    return measured(garment, FRONT, "hem") + measured(garment, BACK, "hem")


# ---- joggers -----------------------------------------------------------------------------------------


def test_every_rule_holds_for_joggers():
    for body in PEOPLE:
        for wish in ({}, {"pockets": "patch on the seat", "cuff": 10.0, "rib_stretch": 30.0}):
            assert [str(fault) for fault in check(JOGGER.make(body, wish))] == [], (body.name, wish)


@each(SOME)
def test_the_cuff_is_shorter_than_the_leg_passes_the_heel_and_holds_the_ankle(body: Body):
    garment = JOGGER.make(body)
    cuff = measured(garment, CUFF, "outer")
    assert 0.7 * leg_end(garment) <= cuff < leg_end(garment)
    assert cuff * (1 + RIB_USED * 0.70) >= body["foot_heel_girth"]
    assert cuff * (1 + RIB_USED * 0.70) >= leg_end(garment), "the rib reaches the leg it is sewn to"
    assert leg_end(garment) * (1 + KNIT_USED * 0.25) >= body["foot_heel_girth"] + 1.0
    wider = [note for note in garment.notes if note.measure == "ankle_girth"]
    if not wider:
        assert cuff <= body["ankle_girth"] + 2.1


@each(SOME)
def test_the_cuff_is_a_folded_pair_of_rib_and_ends_at_the_ankle(body: Body):
    garment = JOGGER.make(body, {"cuff": 7.0})
    strip = garment.piece(CUFF)
    assert (strip.layer, strip.copies) == ("rib", 2)
    left, low, right, high = strip.outline().bounds()
    assert (high - low, right - left) == pytest.approx((14.0, measured(garment, CUFF, "outer")))
    fold = strip.mark("fold").curve
    assert fold.start.y == pytest.approx((low + high) / 2)
    along = strip.grain[0].to(strip.grain[1])
    assert abs(along.x) < 1e-9  # the ribs run across the strip: it gives along its length
    seam = next(s for s in garment.seams if s.name == "cuffs")
    assert [run.line for run in seam.more[0]] == ["inner"]
    leg = garment.piece(FRONT).line("hem")
    blouse = -min(leg.start.y, leg.end.y) + 7.0 - body["waist_to_ankle"]
    assert 1.5 <= blouse <= (4.6 if body.child else 2.6)


@each(SOME[:3])
def test_a_rib_that_gives_more_makes_a_snugger_cuff_and_the_side_mark_meets_the_side_seam(body: Body):
    firm, soft = (JOGGER.make(body, {"rib_stretch": stretch}) for stretch in (40.0, 110.0))
    assert measured(soft, CUFF, "outer") <= measured(firm, CUFF, "outer") + 1e-9
    at = soft.piece(CUFF).mark("side").curve.start.x
    share = measured(soft, BACK, "hem") / leg_end(soft)
    assert at / measured(soft, CUFF, "outer") == pytest.approx(share, abs=1e-6)


def test_a_loose_cuff_says_so():
    told = [n for body in PEOPLE for n in JOGGER.make(body, {"rib_stretch": 30.0}).notes if "cuff" in n.text]
    assert told
    assert all(note.by > 0 and f"{note.by:.1f} cm wider" in note.text for note in told)


@each(SOME[:4])
def test_a_higher_cuff_shortens_the_leg_by_as_much(body: Body):
    low, high = (JOGGER.make(body, {"cuff": cuff}) for cuff in (4.0, 9.0))
    shorter = measured(low, FRONT, "inseam") - measured(high, FRONT, "inseam")
    assert shorter == pytest.approx(5.0, abs=0.2)


def test_joggers_have_pockets_elastic_and_no_hem():
    garment = JOGGER.make(PEOPLE[0])
    assert garment.piece("pocket_bag").copies == 4
    assert {free.kind for free in garment.free_edges} == {"casing"}
    assert JOGGER.makes == ("knit",)
    corded = JOGGER.make(PEOPLE[0], {"drawstring": "tied in front"})
    assert "drawstring" in {notion.name for notion in corded.notions}
    with pytest.raises(ChoiceError, match=r"child"):
        JOGGER.make(next(b for b in PEOPLE if b.child), {"drawstring": "tied in front"})


# ---- pyjama bottoms ----------------------------------------------------------------------------------


def test_every_rule_holds_for_pyjama_bottoms():
    for body in PEOPLE:
        for wish in ({}, {"length": "above-knee", "pockets": "in-seam"}):
            assert [str(fault) for fault in check(PYJAMAS.make(body, wish))] == [], (body.name, wish)


@each(SOME)
def test_pyjama_bottoms_are_roomy_but_closer_on_a_child(body: Body):
    pyjamas, trousers = PYJAMAS.make(body), TROUSERS.make(body)
    if body.child:
        assert pyjamas.finished["hip"] == pytest.approx(trousers.finished["hip"])
        assert leg_end(pyjamas) < leg_end(trousers) + 0.1  # a heel needs what it needs
    else:
        assert pyjamas.finished["hip"] >= trousers.finished["hip"] + 6.0
        assert leg_end(pyjamas) > leg_end(trousers)


def test_the_caution_against_fire_stands_on_a_childs_and_defers_to_local_rules():
    for body in PEOPLE[::5]:
        said = [note.text for note in PYJAMAS.make(body).notes if "fire" in note.text]
        assert len(said) == (1 if body.child else 0)
        assert all("look up yours" in text for text in said)
        if body.child:
            with pytest.raises(ChoiceError, match=r"child"):
                PYJAMAS.make(body, {"drawstring": "tied in front"})
