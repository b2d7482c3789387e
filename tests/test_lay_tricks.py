"""Tricks of the trade: each a real lay of pieces that sew together, and it says what it saves and costs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.affinity import translate
from shapely.geometry import Polygon

from clothwise.errors import LayError
from clothwise.lay.dividing import JOIN, across_the_grain, seamed_on_the_fold, with_the_grain
from clothwise.lay.layering import FOLDED, SINGLE
from clothwise.lay.piece import LayPiece, MatchPoint
from clothwise.lay.planning import best_plan, plan
from clothwise.lay.problem import LayProblem
from clothwise.lay.tricks import Offer, offers
from clothwise.lay.verify import faults

from .laid_by_hand import SKIRT, TROUSERS, problem, rectangle

FACING = LayPiece("facing", "Facing", rectangle(8, 120), 1, hidden=True)
HALF = LayPiece("half", "Half", rectangle(60, 70), on_fold=True, fold_edge=((0, 0), (0, 70)))


def offered(asked: LayProblem, layering=FOLDED, **more: bool) -> dict[str, Offer]:
    try:
        against = plan(asked, layering, effort="quick")
    except LayError:
        against = None
    found = offers(asked, against, effort="quick", **more)
    for offer in found:
        assert faults(offer.plan) == ()
        assert offer.saves is None or offer.saves >= 3
        assert offer.trick.says in offer.sentence
        assert offer.trick.costs in offer.sentence
    return {offer.trick.name: offer for offer in found}


# ---- divided pieces --------------------------------------------------------------------------------


@pytest.mark.parametrize("divide", [with_the_grain, across_the_grain])
def test_a_divided_piece_sews_back_to_the_whole(divide):
    whole = Polygon(TROUSERS[0].outline)
    at = 15.0 if divide is with_the_grain else 50.0
    low, high = divide(TROUSERS[0], at)
    one, two = Polygon(low.outline), Polygon(high.outline)
    assert one.union(two).symmetric_difference(whole).area < 1e-6
    assert (low.count, low.mirrored_pair, high.count) == (2, True, 2)
    both = one.intersection(two).bounds  # both allowances lie on the other part's side of the join
    axis = 0 if divide is with_the_grain else 1
    assert both[axis] == pytest.approx(at - JOIN)
    assert both[axis + 2] == pytest.approx(at + JOIN)


def test_of_a_half_on_the_fold_the_inner_part_stays_on_it_and_the_outer_becomes_a_pair():
    inner, outer = with_the_grain(HALF, 40.0)
    assert inner.on_fold
    assert (outer.on_fold, outer.count, outer.mirrored_pair) == (False, 2, True)
    assert inner.area_cm2 + outer.area_cm2 == pytest.approx(HALF.area_cm2 + 2 * 2 * JOIN * 70)
    low, high = across_the_grain(HALF, 30.0)
    assert low.on_fold
    assert high.on_fold
    assert high.fold_edge == ((0, 30.0 - JOIN), (0, 70))


def test_a_seam_on_the_fold_adds_its_allowance_all_along():
    pair = seamed_on_the_fold(HALF)
    assert (pair.count, pair.mirrored_pair, pair.on_fold) == (2, True, False)
    assert pair.area_cm2 == pytest.approx(HALF.area_cm2 + 2 * JOIN * 70)
    sewn = [translate(Polygon(pair.outline), 0), Polygon([(-x, y) for x, y in pair.outline])]
    assert sewn[0].intersection(sewn[1]).area == pytest.approx(2 * JOIN * 70)
    with pytest.raises(LayError, match="no fold"):
        seamed_on_the_fold(FACING)


def test_a_join_too_near_an_edge_or_through_a_hollow_is_refused():
    with pytest.raises(LayError, match="less than 4 cm"):
        with_the_grain(HALF, 58.0)
    horseshoe = ((0, 0), (60, 0), (60, 50), (40, 50), (40, 10), (20, 10), (20, 50), (0, 50))
    with pytest.raises(LayError, match="more than two"):
        across_the_grain(LayPiece("u", "U", horseshoe), 30.0)


def test_match_points_stay_with_the_part_that_carries_them():
    piece = replace(HALF, match=(MatchPoint((55.0, 5.0), "side"),))
    inner, outer = with_the_grain(piece, 40.0)
    assert (len(inner.match), len(outer.match)) == (0, 1)


# ---- offers ----------------------------------------------------------------------------------------


def test_opening_out_is_offered_where_the_folded_lay_wastes():
    half = LayPiece("front", "Front", rectangle(33, 70), on_fold=True, fold_edge=((0, 0), (0, 70)))
    offer = offered(problem((half, replace(half, name="back", title="Back")), 140, "one-way"))["open out"]
    assert offer.saves == pytest.approx(70, abs=0.1)
    assert offer.trick.says.startswith("Unfold 'Front' and 'Back'")
    assert offer.plan.layering == SINGLE


def test_small_pairs_are_nested_one_by_one_between_the_large_ones():
    large = LayPiece("leg", "Leg", rectangle(66, 100), 2, mirrored_pair=True)
    small = LayPiece(
        "pocket", "Pocket", rectangle(7, 40), 2, mirrored_pair=True
    )  # the fold runs down their middle
    found = offered(problem((large, small), 140, "one-way"))
    offer = found["nest small pieces"]
    assert offer.saves == pytest.approx(40, abs=0.1)
    assert offer.plan.layering == FOLDED
    assert {p.how for p in offer.plan.placements if p.piece == "pocket"} == {"single"}
    assert {p.how for p in offer.plan.placements if p.piece == "leg"} == {"double"}


def test_small_pieces_lie_crosswise_only_on_plain_cloth_without_nap():
    belt = LayPiece("belt", "Belt", rectangle(10, 130))
    bag = LayPiece("bag", "Bag", rectangle(130, 50))
    asked = problem((bag, belt), 140, "none")
    assert offered(asked)["small pieces crosswise"].saves == pytest.approx(70, abs=0.1)
    assert "small pieces crosswise" not in offered(asked, plain=False)
    assert "small pieces crosswise" not in offered(problem((bag, belt), 140, "two-way"))


def test_a_hidden_facing_is_pieced_and_a_visible_band_never():
    body = LayPiece("body", "Body", rectangle(100, 60), 1)
    found = offered(problem((body, FACING), 116, "one-way"))
    offer = found["join what is hidden"]
    assert offer.saves == pytest.approx(59, abs=0.1)  # 120 alone, or 61 beside the body
    assert "seam" in offer.trick.costs
    seen = replace(FACING, hidden=False)
    assert "join what is hidden" not in offered(problem((body, seen), 116, "one-way"))


def test_a_panel_wider_than_the_cloth_is_made_possible_by_a_join():
    found = offered(problem((HALF,), 112, "one-way"))
    offer = found["join a panel"]
    assert offer.saves is None
    assert "makes it possible" in offer.sentence
    assert sum(p.area_cm2 for p in offer.plan.problem.pieces) == pytest.approx(HALF.area_cm2 + 4 * JOIN * 70)
    with pytest.raises(LayError):
        best_plan(problem((HALF,), 112))


def test_nothing_is_offered_that_saves_nothing():
    assert offered(problem((LayPiece("a", "A", rectangle(140, 50)),), 140, "one-way")) == {}
    folded = plan(problem(SKIRT, 150, "none"), FOLDED, effort="quick").length
    for offer in offered(problem(SKIRT, 150, "none")).values():
        assert offer.plan.length + (offer.saves or 0) <= folded + 0.01
