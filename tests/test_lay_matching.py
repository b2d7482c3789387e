"""Stripes and checks: what the grids allow passes the independent check, and a hair beside it does not."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from clothwise.body import estimate
from clothwise.errors import ClothError, LayError
from clothwise.lay.cloth import LayCloth, Repeat
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.layering import FOLDED, SINGLE, TO_CENTRE, Layering, folds_of, partial_fold
from clothwise.lay.layering_choice import layerings_for
from clothwise.lay.matching import Grid, grids, phased
from clothwise.lay.piece import STRAIGHT, LayPiece, MatchPoint
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import plan
from clothwise.lay.problem import LayProblem
from clothwise.lay.verify_matching import match_faults
from clothwise.store.demo import scenario
from clothwise.ticket.made import drawn

from .laid_by_hand import rectangle

FRONT = LayPiece(
    "front",
    "Front",
    ((0, 0), (32, 0), (26, 70), (0, 70)),
    on_fold=True,
    fold_edge=((0, 0), (0, 70)),
    match=(MatchPoint((30.0, 4.0), "side", across=False), MatchPoint((0.0, 35.0), "centre", along=False)),
)
BACK = LayPiece(
    "back", "Back", rectangle(33, 71), 2, mirrored_pair=True, match=(MatchPoint((31, 5), "side", across=False),)
)
POCKET = LayPiece(
    "pocket", "Pocket", rectangle(16, 18), 2, mirrored_pair=True, match=(MatchPoint((8, 9), "pocket"),)
)
PATCH = LayPiece(
    "patch", "Patch", rectangle(9, 9), 1, match=(MatchPoint((4, 4), "pocket"), MatchPoint((4, 4), "side"))
)
PIECES = (FRONT, BACK, POCKET, PATCH)


def asked(repeat: Repeat, pieces=PIECES, width: float = 140.0, nap="two-way") -> LayProblem:
    return LayProblem(pieces, LayCloth(width, nap=nap, repeat=repeat))


def on_grid(grid: Grid, chance: random.Random) -> float:
    return grid.start + grid.step * chance.randint(-3, 8) if grid.step else chance.uniform(0, 200)


def thrown(problem: LayProblem, chance: random.Random) -> LayPlan:
    """Every copy somewhere on its grid, up or down; they may overlap."""
    placements = []
    for piece in problem.pieces:
        for copy in range(piece.count):
            mirrored = piece.mirrored_pair and copy % 2 == 1
            angle = chance.choice(piece.angles_on(problem.cloth))
            x, y = grids(problem, piece, angle, mirrored)
            how = "unfolded" if piece.on_fold else "single"
            placements.append(
                Placement(piece.name, copy, mirrored, angle, on_grid(x, chance), on_grid(y, chance), how)
            )
    return LayPlan(problem, SINGLE, tuple(placements), 0.0)


@pytest.mark.parametrize(
    "repeat",
    [
        Repeat(along=7.3),
        Repeat(across=4.1),
        Repeat(6.0, 9.0, bar=2.2, stripe=1.7),
        Repeat(6.0, 9.0),
        Repeat(along=11.0, bar=0.4, even=False),
        Repeat(6.4, 5.0, even=False),
    ],
    ids=str,
)
def test_every_place_on_the_grid_matches_and_half_a_millimetre_more_does_not(repeat):
    chance = random.Random(4)
    for settled in phased(asked(repeat)):
        plan = thrown(settled, chance)
        assert match_faults(plan) == []
        unknown = replace(plan, problem=asked(repeat))  # the check finds by itself where the stripes may lie
        assert match_faults(unknown) == []
        for k, one in enumerate(plan.placements):
            for move in ({"dx": one.dx + 0.06}, {"dy": one.dy + 0.06}):
                moved = (*plan.placements[:k], replace(one, **move), *plan.placements[k + 1 :])
                wrong = match_faults(replace(plan, placements=moved))
                piece = next(p for p in settled.pieces if p.name == one.piece)
                step, along = (repeat.along, True) if "dx" in move else (repeat.across, False)
                matched = step and any(m.along if along else m.across for m in piece.match)
                if piece is FRONT and not along and not repeat.even:
                    matched = False  # nothing else is in its group, and uneven stripes have no middle
                assert bool(wrong) == bool(matched), (one, move)


def test_turning_or_flipping_in_place_is_caught():
    chance = random.Random(9)
    (settled, *_) = phased(asked(Repeat(7.3, 4.1, bar=1.3, stripe=0.7)))
    plan = thrown(settled, chance)
    for k, one in enumerate(plan.placements):
        for change in ({"mirrored": not one.mirrored}, {"angle": (one.angle + 180) % 360}):
            if one.piece in ("front", "back") and "mirrored" in change:
                continue  # a whole front is its own mirror image; the back matches along only
            moved = (*plan.placements[:k], replace(one, **change), *plan.placements[k + 1 :])
            assert match_faults(replace(plan, placements=moved)), (one.piece, change)


def test_left_is_the_mirror_image_of_right_and_sees_the_stripe_from_its_own_side():
    (settled, *_) = phased(asked(Repeat(across=5.0, stripe=2.0), (POCKET,)))
    right, left = (grids(settled, POCKET, 0.0, over)[1].start for over in (False, True))
    assert (right - 8 - 2.0 + left + 8 - 2.0) % 5.0 == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("layering", [FOLDED, TO_CENTRE, partial_fold(40.0)], ids=str)
def test_a_pair_across_the_fold_matches_when_the_fold_lies_on_a_stripe(layering: Layering):
    repeat = Repeat(6.0, 10.0, stripe=folds_of(layering, 140)[0].line % 10)
    for settled in phased(asked(repeat, (POCKET,)), layering):
        for index, fold in enumerate(folds_of(layering, 140)):
            x, y = grids(settled, POCKET, 0.0, False)
            one = Placement("pocket", 0, False, 0.0, x.start, y.start, "double", index)
            two = replace(one, copy=1, mirrored=True, dy=2 * fold.line - one.dy)
            assert match_faults(LayPlan(settled, layering, (one, two), 0.0)) == []


def test_a_fold_beside_the_stripe_is_refused_and_a_better_one_offered():
    problem = asked(Repeat(across=10.0, stripe=3.0))
    with pytest.raises(LayError, match="off the middle of a stripe"):
        phased(problem, FOLDED)
    for layering in layerings_for(problem):
        phased(problem, layering)  # none of those worth a search is refused
    folds = [fold for layering in layerings_for(problem) for fold in folds_of(layering, 140)]
    assert any(fold.line == 68.0 for fold in folds)  # the stripe next to the middle


def test_uneven_stripes_are_never_folded_nor_turned():
    problem = asked(Repeat(across=10.0, even=False))
    with pytest.raises(LayError, match="under layer"):
        phased(problem, FOLDED)
    assert BACK.angles_on(problem.cloth) == (0.0,)
    assert BACK.angles_on(replace(problem.cloth, repeat=Repeat(across=10.0))) == (0.0, 180.0)


def test_points_that_cannot_all_match_are_named():
    one = LayPiece("a", "A", rectangle(10, 40), match=(MatchPoint((0, 5), "low"), MatchPoint((0, 35), "high")))
    two = LayPiece("b", "B", rectangle(10, 40), match=(MatchPoint((0, 5), "low"), MatchPoint((0, 33), "high")))
    with pytest.raises(LayError, match="out of step") as caught:
        phased(asked(Repeat(along=7.0), (one, two)))
    assert "2.0 cm" in caught.value.what
    assert phased(asked(Repeat(along=2.0), (one, two)))


@pytest.mark.parametrize(
    ("figures", "said"),
    [
        ({}, "no measure"),
        ({"along": 0.1}, "0.1 cm along"),
        ({"across": 900}, "900 cm"),
        ({"along": 5, "bar": 1e9}, "bar"),
    ],
)
def test_a_repeat_nobody_can_match_is_refused(figures, said):
    with pytest.raises(ClothError, match=said):
        Repeat(**figures)


def test_without_a_repeat_or_a_point_nothing_is_settled():
    problem = asked(Repeat(along=7.0), (LayPiece("a", "A", rectangle(10, 40)),))
    assert phased(problem) == (problem,)
    assert phased(LayProblem(PIECES, LayCloth(140))) == (LayProblem(PIECES, LayCloth(140)),)


@pytest.mark.parametrize("name", ["pull_on_trousers", "raglan_pullover", "robe", "sweatshirt"])
def test_a_house_draft_tells_where_its_pieces_meet_the_stripes(name):
    (body, *_), _, _ = scenario()
    pieces = lay_pieces(drawn(estimate(body), name, {}), matched=True)
    problem = LayProblem(pieces, LayCloth(140, repeat=Repeat(8.0, 6.0)))
    tied = {m.group for piece in pieces for m in piece.match if m.along}
    assert any(group.startswith("side") for group in tied)
    for group in tied:
        assert len([p for p in pieces if group in {m.group for m in p.match}]) >= 2
    chance = random.Random(1)
    for settled in phased(problem):
        assert match_faults(thrown(settled, chance)) == []
    for layering in layerings_for(problem):
        assert phased(problem, layering)


def test_left_and_right_cut_on_the_bias_hang_alike():
    (body, *_), _, _ = scenario()
    pieces = lay_pieces(drawn(estimate(body), "bias_skirt", {}))
    crossed = [p.name for p in pieces if p.mirrored_pair and p.angles != STRAIGHT]
    assert crossed
    made = plan(LayProblem(pieces, LayCloth(150, nap="two-way")), SINGLE, effort="quick")
    for one in (p for p in made.placements if p.piece in crossed):
        assert one.angle % 180 == (135 if one.mirrored else 45)  # mirror images, else the garment twists


def test_the_side_seams_of_trousers_meet_at_the_hem():
    (body, *_), _, _ = scenario()
    front, back = lay_pieces(drawn(estimate(body), "pull_on_trousers", {}), matched=True)
    at = [next(m.at for m in piece.match if m.group == "side_seam") for piece in (front, back)]
    assert at[0][1] == pytest.approx(at[1][1], abs=0.01)  # both at the finished hem, above the allowance
    for piece, point in zip((front, back), at, strict=True):
        assert min(y for _, y in piece.outline) < point[1] - 1
