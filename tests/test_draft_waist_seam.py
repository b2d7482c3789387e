"""A shift with a waist seam: what a cutter would measure on bodice and skirt; and lengths asked for in cm."""

from __future__ import annotations

import math
import re

import pytest

from clothwise.alter.true import waves
from clothwise.body import sample
from clothwise.curve import Vector
from clothwise.draft import PATTERNS, HouseDraft, pattern
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Piece
from clothwise.garment.check import check

SHIFT = pattern("darted_shift")
SEAMED = {"waist": "shaped, with a waist seam"}
BODIES = (*sample("woman", 8, seed=51), *sample("man", 2, seed=52), *sample("girl", 3, seed=53))
FULL = [body for body in BODIES if SHIFT.make(body).piece("front").darts]


def name_of(body) -> str:
    return body.name


def waist(piece: Piece) -> float:
    mouths = {dart.edge for dart in piece.darts}
    return sum(e.curve.length() for e in piece if e.name.startswith("waist") and e.name not in mouths)


def bust_dart_deg(garment: Garment) -> float:
    """Angles of all darts of the front bodice that point to the bust, at the bust point."""
    front = garment.piece("front")
    at = front.mark("bust_point").curve
    point = at.start.between(at.end)

    def angle(dart) -> float:
        one, other = point.to(dart.first_leg), point.to(dart.second_leg)
        return abs(math.degrees(math.atan2(one.cross(other), one.dot(other))))

    return sum(angle(dart) for dart in front.darts)


@pytest.mark.parametrize("body", BODIES, ids=name_of)
@pytest.mark.parametrize("dart", ["side", "waist"])
def test_bodice_and_skirt_meet_at_the_waist_that_was_asked_and_every_rule_holds(body, dart: str):
    garment = SHIFT.make(body, {**SEAMED, "dart": dart})
    assert [str(fault) for fault in check(garment)] == []
    for half in ("front", "back"):
        assert waist(garment.piece(half)) == pytest.approx(waist(garment.piece(f"{half}_skirt")), abs=0.03)
    whole = 2 * (waist(garment.piece("front")) + waist(garment.piece("back")))
    shaped = SHIFT.make(body, {"waist": "shaped by darts"})
    assert whole == pytest.approx(shaped.finished["waist"], abs=0.1)


@pytest.mark.parametrize("body", BODIES, ids=name_of)
def test_the_waist_meets_every_dart_leg_square(body):
    garment = SHIFT.make(body, SEAMED)
    for name in ("back", "front_skirt", "back_skirt"):
        piece = garment.piece(name)
        for dart in piece.darts:
            edges = list(piece.edges)
            here = next(i for i, e in enumerate(edges) if e.name == dart.edge)
            before, after = (
                edges[here - 1].curve.end_tangent,
                edges[(here + 1) % len(edges)].curve.start_tangent,
            )
            for leg, way in ((dart.first_leg, before), (dart.second_leg, after)):
                assert abs(dart.tip.to(leg).unit().dot(Vector(way.x, way.y))) < math.sin(math.radians(1.0))


@pytest.mark.parametrize("body", BODIES, ids=name_of)
def test_no_part_of_the_waist_bends_both_ways(body):
    garment = SHIFT.make(body, SEAMED)
    for name in ("front", "back", "front_skirt", "back_skirt"):
        piece = garment.piece(name)
        mouths = {dart.edge for dart in piece.darts}
        parts = [e for e in piece if e.name.startswith("waist") and e.name not in mouths]
        assert [waves(part.curve) for part in parts] == [0] * len(parts)


@pytest.mark.parametrize("body", FULL, ids=name_of)
def test_at_the_waist_the_bust_dart_keeps_its_angle_and_the_side_seam_its_length(body):
    wish = {**SEAMED, "dart_split": 12.0}
    side, at_waist = (SHIFT.make(body, {**wish, "dart": place}) for place in ("side", "waist"))
    lengths = [
        sum(e.curve.length() for e in g.piece("front") if e.name.startswith("side") and "mouth" not in e.name)
        for g in (side, at_waist)
    ]
    assert lengths[0] == pytest.approx(lengths[1], abs=0.02)
    back = sum(e.curve.length() for e in at_waist.piece("back") if e.name.startswith("side"))
    assert lengths[1] == pytest.approx(back, abs=0.02)
    assert not any("side" in dart.edge or "bust" in dart.edge for dart in at_waist.piece("front").darts)
    assert bust_dart_deg(at_waist) > bust_dart_deg(side) - 4.0  # the bust's and the waist's in one


@pytest.mark.parametrize("body", FULL[:3], ids=name_of)
def test_a_wide_dart_at_the_waist_is_made_as_two(body):
    one = SHIFT.make(body, {**SEAMED, "dart": "waist", "dart_split": 12.0}).piece("front").darts
    two = SHIFT.make(body, {**SEAMED, "dart": "waist", "dart_split": 3.0}).piece("front").darts
    assert (len(one), len(two)) == (1, 2)
    for dart in two:
        assert dart.tip.distance(dart.first_leg) == pytest.approx(dart.tip.distance(dart.second_leg), abs=0.1)


def test_a_dart_at_the_waist_without_a_seam_is_refused():
    with pytest.raises(ChoiceError, match="needs a seam"):
        SHIFT.make(BODIES[0], {"dart": "waist"})


# ---- finished lengths --------------------------------------------------------------------------------


@pytest.mark.parametrize("draft", PATTERNS, ids=lambda draft: draft.name)
def test_a_length_asked_for_in_centimetres_is_the_finished_length(draft: HouseDraft):
    for body in BODIES[:2]:
        usual = draft.make(body).finished[draft.length_shown]
        asked = round(usual - 3.0, 1)
        garment = draft.make(body, {"finished_length": asked})
        assert garment.finished[draft.length_shown] == pytest.approx(asked, abs=0.02)
        assert check(garment) == ()
        more = draft.make(body, {"finished_length": asked, "longer": 1.0})
        assert more.finished[draft.length_shown] == pytest.approx(asked + 1.0, abs=0.02)
        again = draft.make(body, garment.choices)
        assert again.finished == pytest.approx(garment.finished)


SHORTEST = min((body for body in BODIES if not body.child), key=lambda body: body["height"])
LEGGED = ("pull_on_trousers", "leggings")
FINISHED_BOUND = re.compile(r"(up to )?([\d.]+) cm (or more )?is possible")


@pytest.mark.parametrize("name", ["pull_on_trousers", "leggings", "tiered_skirt", "robe"])
@pytest.mark.parametrize("longer", [0.0, -7.0, 5.0])
def test_a_length_nobody_can_wear_is_refused_with_one_that_can_be_had(name: str, longer: float):
    """What is added beside counts: it was once told as if that were nought, and only 'nearer to 59 cm'."""
    for asked in (165.0,) if name in LEGGED else (10.0, 165.0):  # a leg may end 6 cm below the crotch
        wish = {"finished_length": asked, "longer": longer}
        with pytest.raises(ChoiceError, match=rf"cannot be {asked + longer:g} cm") as refused:
            pattern(name).make(BODIES[0], wish)
        told = FINISHED_BOUND.search(refused.value.mend)
        assert told, refused.value
        assert bool(told[1]) == (asked > 100)
        garment = pattern(name).make(BODIES[0], {**wish, "finished_length": float(told[2])})
        length = garment.finished[pattern(name).length_shown]
        assert length == pytest.approx(float(told[2]) + longer, abs=0.02)


def test_a_length_in_centimetres_stands_above_what_the_word_would_not_hold():
    """Four tiers, or a deep slit, do not go into a mini; at the length asked for they do."""
    tiers = {"length": "mini", "tiers": "four", "finished_length": 75.0}
    slit = {"length": "mini", "side_slit": 40.0, "finished_length": 75.0}
    for name, wish in (("tiered_skirt", tiers), ("four_panel_skirt", slit)):
        without = {choice: value for choice, value in wish.items() if choice != "finished_length"}
        with pytest.raises(ChoiceError):
            pattern(name).make(SHORTEST, without)
        garment = pattern(name).make(SHORTEST, wish)
        assert garment.finished["length"] == pytest.approx(wish["finished_length"], abs=0.02)
        assert check(garment) == ()


@pytest.mark.parametrize("name", ["leggings"])
def test_a_step_that_goes_too_far_is_taken_back(name: str):
    """A leg grows by less than what is asked; just under the floor it was refused, though it could be drawn."""
    for body in sample("man", 6, seed=54):
        wish = {"length": "above-knee", "finished_length": 165.0}
        with pytest.raises(ChoiceError) as refused:
            pattern(name).make(body, wish)
        told = FINISHED_BOUND.search(refused.value.mend)
        assert told
        garment = pattern(name).make(body, {**wish, "finished_length": float(told[2])})
        assert garment.finished["inside leg"] == pytest.approx(float(told[2]), abs=0.02)


def test_no_dart_below_the_waist_seam_is_wider_than_long():
    """A skirt of a few flared centimetres once had darts that stood out as peaks, and on one man no end."""
    wish = {"neck_depth": -4.6, "waist": "shaped, with a waist seam", "sleeve": "long", "flare": 13.3}
    made = refused = 0
    for figure in ("woman", "man", "boy"):
        for body in sample(figure, 12, 4):
            for longer in (-10.0, -9.0, -8.0, -6.0):
                try:
                    garment = SHIFT.make(body, {**wish, "longer": longer})
                except ChoiceError as no:
                    refused += "below the waist seam" in str(no)
                    continue
                made += 1
                for name in ("front_skirt", "back_skirt"):
                    for dart in garment.piece(name).darts:
                        middle = dart.first_leg.between(dart.second_leg)
                        assert middle.distance(dart.tip) > 0.9 * dart.first_leg.distance(dart.second_leg)
    assert made > 10
    assert refused > 5
