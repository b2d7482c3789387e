"""Side slits of shift, tee and shirt: as long as asked, all else as it was, front and back hemmed apart."""

from __future__ import annotations

import pytest
import shapely

from clothwise.body import Body, sample
from clothwise.cloth import Cloth
from clothwise.draft import HouseDraft
from clothwise.draft.shift import DARTED_SHIFT as SHIFT
from clothwise.draft.shirt import BUTTON_FRONT_SHIRT as SHIRT
from clothwise.draft.tee import CUT_ON_SLEEVE_TEE as TEE
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Run
from clothwise.garment.allowance import cutting_line
from clothwise.garment.check import check
from clothwise.garment.check.drawn import measured
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps

Wish = dict[str, float | str]
PEOPLE = (*sample("woman", 5, seed=71), *sample("man", 3, seed=72), *sample("girl", 4, seed=73))
BODIES = tuple(body for body in PEOPLE if not body.child or (body.age_years or 0) >= 2)
COTTON = Cloth("Cotton", 140, 300, kind="cotton")
LAWN = Cloth("Lawn", 140, 300, kind="cotton lawn")
JERSEY = Cloth("Jersey", 150, 300, kind="single jersey")
SEAMED = "shaped, with a waist seam"
MAKES: list[tuple[HouseDraft, Wish, tuple[str, str]]] = [
    (SHIFT, {"length": "tunic"}, ("front", "back")),
    (SHIFT, {"length": "midi", "dart": "French", "sleeve": "short"}, ("front", "back")),
    (SHIFT, {"length": "dress", "waist": SEAMED, "back_opening": "zip"}, ("front_skirt", "back_skirt")),
    (TEE, {"length": "tunic"}, ("front", "back")),
    (TEE, {"length": "dress", "sleeve": "long"}, ("front", "back")),
    (SHIRT, {"length": "tunic", "hem_shape": "straight"}, ("front", "back")),
]


def tape(garment: Garment, *runs: Run) -> float:
    return sum(line.length for line in measured([garment.curve(run) for run in runs]))


@pytest.mark.parametrize(("draft", "wish", "halves"), MAKES, ids=lambda part: getattr(part, "name", ""))
@pytest.mark.parametrize("long", [6.0, 9.0])
def test_the_side_seam_ends_so_far_above_the_hem_and_nothing_else_moves(
    draft: HouseDraft, wish: Wish, halves: tuple[str, str], long: float
):
    for body in BODIES[::3]:
        plain, slit = draft.make(body, wish), draft.make(body, {**wish, "side_slit": long})
        assert [str(fault) for fault in check(slit)] == []
        for name in halves:
            assert tape(slit, Run(name, "slit")) == pytest.approx(long, abs=1e-3)
            ours, theirs = (shapely.Polygon(g.piece(name).polygon(tolerance=0.001)) for g in (slit, plain))
            assert ours.symmetric_difference(theirs).area < 0.01
        before, after = (tape(g, *g.seam("side_seam").a) for g in (plain, slit))
        assert before - after == pytest.approx(long, abs=1e-3)
        rounds = [
            sum(tape(g, *free.runs) * free.times for free in g.free_edges if free.name in names)
            for g, names in ((plain, ("hem",)), (slit, ("front_hem", "back_hem")))
        ]
        assert rounds[0] == pytest.approx(rounds[1], abs=1e-6), "all of the hem is still turned up"


@pytest.mark.parametrize(("draft", "wish", "halves"), MAKES, ids=lambda part: getattr(part, "name", ""))
def test_slits_are_turned_when_the_side_seams_are_sewn_and_before_the_hems(
    draft: HouseDraft, wish: Wish, halves: tuple[str, str]
):
    garment = draft.make(BODIES[0], {**wish, "side_slit": 8.0})
    for cloth in (JERSEY,) if draft is TEE else (COTTON, LAWN):
        for sewer in (Sewer(), Sewer(overlocker=True)):
            steps = order_of_work(garment, cloth, sewer)
            assert check_steps(garment, steps, cloth) == ()
            names = [step.name for step in steps]
            side = next(i for i, s in enumerate(steps) if any(j.seam == "side_seam" for j in s.joins))
            for half, hem in zip(halves, ("front_hem", "back_hem"), strict=True):
                assert side < names.index(f"{half}_slit") < names.index(hem)
            assert steps[side].pressed == "open", "allowances that part at the slit lie apart above it"
            assert all(neatening.how == "alone" for neatening in steps[side].neatenings)


@pytest.mark.parametrize(("draft", "wish", "halves"), MAKES, ids=lambda part: getattr(part, "name", ""))
def test_there_is_cloth_to_turn_beside_the_slit(draft: HouseDraft, wish: Wish, halves: tuple[str, str]):
    garment = draft.make(BODIES[0], {**wish, "side_slit": 8.0})
    for half in halves:
        cut = shapely.Polygon(cutting_line(garment.piece(half)))
        edge = garment.piece(half).edge("slit")
        for at in (0.5, 4.0, 7.5):
            out = edge.curve.at_length(at).go(edge.curve.tangent_at_length(at).right(), edge.allowance - 0.05)
            assert cut.covers(shapely.Point(*out))


def test_a_slit_leaves_the_waist_and_the_dart_alone():
    woman: Body = BODIES[0]
    for draft, wish, most in ((SHIFT, {"length": "top"}, "Up to"), (TEE, {"length": "crop"}, "Choose none")):
        with pytest.raises(ChoiceError, match="too near to the waist") as refusal:
            draft.make(woman, {**wish, "side_slit": 40.0})
        assert most in refusal.value.mend
    low = SHIFT.make(woman, {"length": "midi", "side_slit": 40.0})
    assert low.curve(Run("front", "slit")).end.y < -5.0
