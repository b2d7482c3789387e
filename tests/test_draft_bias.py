"""The bias skirt: smooth from waist to hip, cut on the bias in mirrored halves, shorter by what it drops."""

from __future__ import annotations

import pytest

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.draft.bias import BIAS_SKIRT
from clothwise.errors import ChoiceError
from clothwise.garment.check import check, greatest_move, same
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps
from tests.skirts import GIRLS, PEOPLE, WOMEN, across_cloth, around, seam_sides, tape

WAISTS = ("band with zip", "facing with zip", "elastic")
CREPE = Cloth("Crepe", 140, 300, kind="viscose")


@pytest.mark.parametrize("length", ["mini", "knee", "midi", "maxi"])
def test_every_rule_holds(length: str):
    for n, body in enumerate(PEOPLE[::2]):
        wish = {"length": length, "waist": WAISTS[n % 3], "cloth_width": 180.0}
        assert [str(fault) for fault in check(BIAS_SKIRT.make(body, wish))] == [], (body.name, wish)


@pytest.mark.parametrize("body", PEOPLE[::3], ids=lambda body: body.name)
def test_it_widens_straight_from_waist_to_hip_and_on_to_the_hem(body: Body):
    garment = BIAS_SKIRT.make(body, {"waist": "band with zip"})
    depth, length = body["waist_to_hip"], garment.finished["length"]
    waist, hip, hem = (around(garment, line) for line in ("waist", "hip", "hem"))
    assert waist == pytest.approx(body["waist_girth"] + 2, abs=0.01)
    assert hip >= body["hip_girth"] + 4 - 0.01
    assert hem == pytest.approx(waist + (hip - waist) * length / depth, abs=0.05)
    to_knee = 1.05 * body["waist_to_knee"] - depth
    by_flare, by_step = 4 * 6.0 / to_knee, (0.75 * body["height"] - waist) / length
    by_hip = (body["hip_girth"] + 4 - waist) / depth
    assert (hem - waist) / length == pytest.approx(max(by_hip, by_flare, by_step), abs=1e-3)


def test_panels_are_cut_on_the_bias_as_mirrored_halves_and_never_on_the_fold():
    garment = BIAS_SKIRT.make(WOMEN[0], {"waist": "facing with zip"})
    for piece in garment.pieces:
        if "panel" in piece.name:
            assert (piece.bias, piece.cutting) == (True, "pair")
        else:
            assert not piece.bias  # the facing holds the waist


def test_panels_are_shorter_by_what_they_drop():
    for body in WOMEN:
        garment = BIAS_SKIRT.make(body)
        whole = 1.05 * body["waist_to_knee"]
        assert tape(garment.piece("front_panel").line("centre")) == pytest.approx(0.98 * whole, abs=0.01)
        assert any(
            note.measure == "length" and note.by == pytest.approx(-0.02 * whole) for note in garment.notes
        )


def test_a_panel_lies_across_the_cloth_at_45_degrees_or_is_refused():
    drawn = refused = 0
    for body in PEOPLE[::2]:
        for cloth in (75.0, 90.0, 112.0):
            for length in ("mini", "midi", "maxi"):
                try:
                    garment = BIAS_SKIRT.make(body, {"length": length, "cloth_width": cloth})
                except ChoiceError as no:
                    refused += "cloth_width" in no.where
                    continue
                drawn += 1
                for turn in (45.0, 135.0):
                    assert across_cloth(garment.piece("front_panel"), turn) <= cloth + 0.5
    assert drawn > 50
    assert refused > 10
    assert drawn + refused == len(PEOPLE[::2]) * 9


def test_more_flare_than_the_hips_ask_is_given_and_less_is_told():
    body = WOMEN[0].with_measures(hip_girth=WOMEN[0]["waist_girth"] + 20)
    wide = BIAS_SKIRT.make(body, {"flare": 20.0, "waist": "band with zip"})
    to_knee = 1.05 * body["waist_to_knee"] - body["waist_to_hip"]
    below = wide.finished["length"] - body["waist_to_hip"]
    grown = (around(wide, "hem") - around(wide, "hip")) / below
    assert grown == pytest.approx(4 * 20 / to_knee, abs=1e-3)
    assert not any(note.measure == "hem" for note in wide.notes)
    narrow = BIAS_SKIRT.make(body, {"flare": 4.0, "waist": "band with zip"})
    assert any(note.measure == "hem" and note.by > 0 for note in narrow.notes)


@pytest.mark.parametrize("waist", WAISTS)
def test_the_hips_get_in_and_the_finish_fits_the_waist(waist: str):
    for body in PEOPLE[::4]:
        garment = BIAS_SKIRT.make(body, {"waist": waist})
        one, other = seam_sides(garment, "waist")
        assert one == pytest.approx(other, abs=0.02)
        if waist == "elastic":
            assert other >= body["hip_girth"] + 2.5 - 0.01
        else:
            opening = tape(garment.piece("back_panel").line("zip"))
            assert other + 2 * opening >= body["hip_girth"] + 2 - 0.02


@pytest.mark.parametrize("waist", WAISTS)
def test_it_can_be_sewn_and_hangs_before_the_hem_is_levelled(waist: str):
    garment = BIAS_SKIRT.make(WOMEN[0], {"waist": waist})
    steps = order_of_work(garment, CREPE, Sewer("Marit", "practised", True))
    assert check_steps(garment, steps, CREPE) == ()
    kinds = [step.kind for step in steps]
    hem = next(i for i, step in enumerate(steps) if step.name == "hem")
    assert kinds.index("hang") < hem


def test_a_raised_or_lowered_waist_is_still_as_long_as_its_band():
    for body in WOMEN[:6]:
        garment = BIAS_SKIRT.make(body, {"front_waist": -1.0, "back_waist": 2.0, "waist": "band with zip"})
        assert around(garment, "waist") == pytest.approx(body["waist_girth"] + 2, abs=0.02)
        back = garment.piece("back_panel")
        before = tape(garment.piece("front_panel").line("centre"))
        behind = tape(back.line("zip")) + tape(back.line("centre"))
        assert behind - before == pytest.approx(3.0, abs=0.01)
        sides = seam_sides(garment, "side_seam")
        assert sides[0] == pytest.approx(sides[1], abs=1e-6)
        assert check(garment) == ()


def test_a_child_gets_elastic():
    assert any(n.name == "elastic" for n in BIAS_SKIRT.make(GIRLS[0]).notions)


def test_small_changes_move_little_and_the_same_body_gives_the_same_skirt():
    body = WOMEN[4]
    for name in BIAS_SKIRT.needs:
        moved = body.with_measures(**{name: body[name] + 0.1})
        one, other = BIAS_SKIRT.make(body), BIAS_SKIRT.make(moved)
        zips = [[n.length for n in g.notions if n.name == "zip"] for g in (one, other)]
        if zips[0] == zips[1]:  # else the next longer zip as sold
            assert greatest_move(one, other) < 1.0
    assert same(BIAS_SKIRT.make(body), BIAS_SKIRT.make(body))


def test_why_it_has_no_pockets_is_said():
    with pytest.raises(ChoiceError, match="drag the cloth"):
        BIAS_SKIRT.make(WOMEN[0], {"pockets": "side seam"})
