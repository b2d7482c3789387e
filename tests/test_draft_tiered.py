"""The tiered skirt: heights and widths in their ratios, strips that fit the cloth and meet evenly."""

from __future__ import annotations

from itertools import pairwise

import pytest

from clothwise.body import Body, sample
from clothwise.cloth import Cloth
from clothwise.draft.tiered import TIERED_SKIRT
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Piece
from clothwise.garment.check import check, greatest_move, same
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps
from tests.skirts import GIRLS, PEOPLE, WOMEN, across_cloth, seam_sides, tape

COTTON = Cloth("Cotton", 140, 400, kind="cotton lawn")


def height(tier: Piece) -> float:
    return tape(tier.line("fold"))


def round_of(tier: Piece) -> float:
    return 2 * tier.copies * tape(tier.line("bottom"))


@pytest.mark.parametrize("tiers", ["two", "three", "four"])
def test_every_rule_holds(tiers: str):
    for n, body in enumerate(PEOPLE[::3]):
        wish = {"tiers": tiers, "cloth_width": (90.0, 112.0, 140.0)[n % 3], "length": ("midi", "maxi")[n % 2]}
        assert [str(fault) for fault in check(TIERED_SKIRT.make(body, wish))] == [], (body.name, wish)


@pytest.mark.parametrize("body", PEOPLE[::3], ids=lambda body: body.name)
def test_tiers_grow_in_their_ratios_and_make_up_the_length(body: Body):
    for fullness in (1.3, 1.6, 2.0):
        garment = TIERED_SKIRT.make(body, {"fullness": fullness})
        tiers = garment.pieces
        for above, below in pairwise(tiers):
            assert height(below) / height(above) == pytest.approx(1.18, abs=1e-6)
            assert round_of(below) / round_of(above) == pytest.approx(fullness, abs=1e-6)
        assert sum(height(tier) for tier in tiers) == pytest.approx(1.05 * body["waist_to_knee"], abs=1e-6)
        first = max(body["hip_girth"] + 8, body["waist_girth"] + 2)
        assert round_of(tiers[0]) == pytest.approx(first, abs=0.01)
        assert garment.finished["hem"] == pytest.approx(first * fullness**2, abs=0.05)


def test_gathers_have_the_ratio_of_the_tiers():
    garment = TIERED_SKIRT.make(WOMEN[0], {"fullness": 1.8, "tiers": "four"})
    gathers = [seam for seam in garment.seams if seam.kind == "gathered"]
    assert len(gathers) == 3
    for seam in gathers:
        below, above = seam_sides(garment, seam.name)
        assert seam.ratio == pytest.approx(1.8)
        assert below == pytest.approx(1.8 * above, abs=0.01)


@pytest.mark.parametrize("cloth", [75.0, 112.0, 140.0])
def test_strips_fit_the_cloth_and_a_whole_number_hangs_on_each_strip_above(cloth: float):
    for body in PEOPLE[::4]:
        garment = TIERED_SKIRT.make(body, {"cloth_width": cloth, "fullness": 2.0, "length": "midi"})
        for tier in garment.pieces:
            assert across_cloth(tier) <= cloth + 0.01
        for above, below in pairwise(garment.pieces):
            assert below.copies % above.copies == 0
            _ticks_stand_where_joins_meet(above, below)


def _ticks_stand_where_joins_meet(above: Piece, below: Piece) -> None:
    each, half = below.copies // above.copies, tape(above.line("bottom"))
    joins = {round(2 * half * n / each - half, 4) for n in range(1, each)}
    ticks = {round(mark.curve.start.x, 4) for mark in above.marks if mark.kind == "note"}
    assert ticks == {x for x in joins if x > 1.0}
    assert all(
        mark.curve.start.y == pytest.approx(-height(above)) for mark in above.marks if mark.kind == "note"
    )


def test_the_tier_over_the_hip_is_the_one_proved_to_pass_it():
    for body in PEOPLE[::3]:
        garment = TIERED_SKIRT.make(body)
        (level,) = garment.levels
        down = 0.0
        for tier in garment.pieces:
            down += height(tier)
            if down >= body["waist_to_hip"]:
                break
        assert level.runs == ((tier.name, "bottom", 2 * tier.copies),)
        assert round_of(garment.pieces[0]) >= body["hip_girth"] + 2.5


@pytest.mark.parametrize("cloth", [80.0, 140.0])
def test_it_can_be_sewn_as_the_order_of_work_says(cloth: float):
    garment = TIERED_SKIRT.make(WOMEN[0], {"cloth_width": cloth})
    steps = order_of_work(garment, COTTON, Sewer("Marit", "practised", True))
    assert check_steps(garment, steps, COTTON) == ()


def test_a_small_child_gets_two_tiers_where_three_would_be_too_low():
    toddler = min(sample("girl", 40, seed=33), key=lambda body: body["height"])
    assert len(TIERED_SKIRT.make(toddler).pieces) == 2
    for body in (toddler, *GIRLS):
        tiers = TIERED_SKIRT.make(body).pieces
        assert height(tiers[0]) >= 8.0
        assert len(tiers) == (
            3 if height(tiers[0]) * (1 + 1.18 + 1.18**2) <= 1.06 * body["waist_to_knee"] else 2
        )


def test_tiers_too_low_to_sew_are_refused():
    small = min(GIRLS, key=lambda body: body["height"])
    with pytest.raises(ChoiceError, match="only") as refused:
        TIERED_SKIRT.make(small, {"tiers": "four", "length": "mini"})
    assert "fewer tiers" in refused.value.mend


def test_small_changes_move_little_and_the_same_body_gives_the_same_skirt():
    body = WOMEN[4]
    for name in TIERED_SKIRT.needs:
        moved = body.with_measures(**{name: body[name] + 0.1})
        one, other = TIERED_SKIRT.make(body), TIERED_SKIRT.make(moved)
        if _strips(one) == _strips(other):  # else the cloth is just too narrow for two
            assert greatest_move(one, other) < 1.0
    assert same(TIERED_SKIRT.make(body), TIERED_SKIRT.make(body))


def _strips(garment: Garment) -> list[int]:
    return [piece.copies for piece in garment.pieces]


# ---- pockets -----------------------------------------------------------------------------------------

POCKETS: dict[str, float | str] = {"pockets": "side seam"}


@pytest.mark.parametrize("body", [*WOMEN[::2], *GIRLS[::2]], ids=lambda body: body.name)
def test_a_pocket_lies_in_the_side_of_the_top_tier_and_its_bag_hangs_loose(body: Body):
    garment = TIERED_SKIRT.make(body, {**POCKETS, "length": "maxi", "tiers": "two"})
    assert [str(fault) for fault in check(garment)] == []
    front, back, bag = (garment.piece(n) for n in ("tier_1_front", "tier_1_back", "pocket_bag"))
    casing = garment.free_edges[0].turn
    opening = tape(front.line("pocket_opening"))
    assert opening == pytest.approx(min(max(0.15 * body["hip_girth"], 10.0), 16.5))
    assert (
        opening == pytest.approx(tape(back.line("pocket_opening"))) == pytest.approx(tape(bag.line("opening")))
    )
    assert tape(front.line("side_upper")) > casing + 1, "below the stitching of the casing"
    assert tape(front.line("side_lower")) >= 1.5, "above the gathers"
    used = {(run.piece, run.line) for seam in garment.seams for run in seam.runs if run.piece == bag.name}
    assert used == {(bag.name, "opening"), (bag.name, "round")}, "not caught between the tiers"
    plain = TIERED_SKIRT.make(body, {"length": "maxi", "tiers": "two"})
    assert garment.finished == pytest.approx(dict(plain.finished))
    steps = order_of_work(garment, COTTON, Sewer())
    assert check_steps(garment, steps, COTTON) == ()


def test_a_pocket_makes_do_with_fewer_tiers_or_is_refused_with_the_reason():
    body = WOMEN[0]
    names = [piece.name for piece in TIERED_SKIRT.make(body, POCKETS).pieces]
    assert names == ["tier_1_front", "tier_1_back", "pocket_bag", "tier_2"]
    with pytest.raises(ChoiceError, match=r"too low for a pocket between casing and gathers"):
        TIERED_SKIRT.make(body, {**POCKETS, "tiers": "three"})
    with pytest.raises(ChoiceError, match="no seam just at the side"):
        TIERED_SKIRT.make(
            body, {**POCKETS, "tiers": "two", "length": "maxi", "cloth_width": 70.0, "hip_ease": 40.0}
        )
