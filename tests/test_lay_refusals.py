"""Bad input to the lay gets one clear sentence with where and how to mend, never a hang or a wrong lay."""

from __future__ import annotations

import math
import time

import pytest

from clothwise.errors import ClothError, LayError, WorkroomError
from clothwise.lay.cloth import remnant
from clothwise.lay.planning import best_plan, fits, plan
from clothwise.lay.problem import (
    BIAS,
    FOLDED,
    SINGLE,
    LayCloth,
    LayPiece,
    LayProblem,
    MatchPoint,
    Repeat,
    partial_fold,
)
from clothwise.lay.verify import faults

from .laid_by_hand import TROUSERS, problem, rectangle

BAD_OUTLINES = {
    "crosses itself": ((0, 0), (10, 10), (10, 0), (0, 10.5)),
    "encloses no area": ((0, 0), (10, 0), (20, 0)),
    "points encloses nothing": ((0, 0), (10, 0)),
    "not a number": ((0, 0), (10, 0), (math.nan, 10)),
    "not a number ": ((0, 0), (10, 0), (math.inf, 10)),
    "longer than a roll": ((0, 0), (1e6, 0), (0, 10)),
    "has 5000 points": tuple((math.cos(k / 795.8), math.sin(k / 795.8)) for k in range(5000)),
}


@pytest.mark.parametrize("said", BAD_OUTLINES)
def test_a_bad_outline_is_refused_with_its_name(said):
    with pytest.raises(LayError, match=said.strip()) as caught:
        LayPiece("cuff", "Cuff", BAD_OUTLINES[said])
    assert "Cuff" in caught.value.where
    assert caught.value.mend


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"count": 0}, "0 copies"),
        ({"count": 3, "mirrored_pair": True}, "do not make pairs"),
        ({"on_fold": True}, "fold edge is not named"),
        ({"on_fold": True, "fold_edge": ((0, 0), (10, 0))}, "must run with the grain"),
        ({"on_fold": True, "fold_edge": ((5, 0), (5, 20))}, "both sides"),
        ({"count": 2, "on_fold": True, "mirrored_pair": True}, "on the fold and as a mirrored pair"),
        ({"angles": ()}, "No angle"),
    ],
)
def test_contradictions_of_a_piece_are_refused(change, said):
    with pytest.raises(LayError, match=said):
        LayPiece("cuff", "Cuff", rectangle(10, 20), **change)


@pytest.mark.parametrize("width", [0, -140, math.nan, math.inf, 1e9])
def test_an_impossible_cloth_is_refused(width):
    with pytest.raises(ClothError, match="not a cloth"):
        LayCloth(width)


def test_nothing_and_five_hundred_pieces_are_refused():
    with pytest.raises(LayError, match="nothing to lay"):
        LayProblem((), LayCloth(140))
    with pytest.raises(LayError, match="500 copies"):
        LayProblem((LayPiece("dot", "Dot", rectangle(5, 5), 500),), LayCloth(140))
    with pytest.raises(LayError, match="Two pieces are called"):
        LayProblem((TROUSERS[0], TROUSERS[0]), LayCloth(140))
    with pytest.raises(LayError, match="gap"):
        LayProblem(TROUSERS, LayCloth(140), gap=-1)


def curled(points: int, radius: float, x: float = 0.0, y: float = 0.0) -> tuple[tuple[float, float], ...]:
    """A round outline with five lobes, as a hand-drawn line is flattened by a careless program."""
    turns = [2 * math.pi * k / points for k in range(points)]
    return tuple(
        (x + radius * (1 + 0.2 * math.sin(5 * a)) * math.cos(a), y + radius * math.sin(a)) for a in turns
    )


def test_outlines_of_thousands_of_points_are_laid_on_a_remnant_of_thousands():
    begun = time.process_time()
    pieces = tuple(LayPiece(f"p{k}", f"P{k}", curled(4000, 12.0 + k)) for k in range(2))
    cloth = remnant(curled(4000, 50.0, 70.0, 55.0))
    answer = fits(LayProblem(pieces, cloth, 0.3), effort="quick")
    assert answer.verdict == "yes"
    too_small = fits(LayProblem(pieces, remnant(curled(4000, 15.0, 30.0, 30.0)), 0.3), effort="quick")
    assert too_small.verdict == "impossible"
    assert time.process_time() - begun < 20  # a few seconds; without thinning it would be an hour


@pytest.mark.parametrize(
    "outline",
    [
        ((0, 0), (0, 0), (10, 0), (10, 0), (10, 10), (0, 10)),  # points twice
        ((0, 0), (10, 0), (10, 10), (0, 10), (0, 0)),  # closed
        ((0, 10), (10, 10), (10, 0), (0, 0)),  # clockwise
        (*((k / 10, 0) for k in range(101)), (10, 10), (0, 10)),  # many points on one edge
        ((19990, 19990), (20000, 19990), (20000, 20000), (19990, 20000)),  # far from its origin
    ],
)
def test_a_square_told_clumsily_is_still_a_square(outline):
    made = plan(problem((LayPiece("square", "Square", outline, 6),), 30.5), SINGLE)
    assert made.length == pytest.approx(20, abs=0.05)


@pytest.mark.parametrize(
    "flaws",
    [
        (((100, -5), (104, -5), (104, 150), (100, 150)),),  # cuts the cloth in two
        (((100, 10), (140, 10), (140, 50), (100, 50)), ((120, 30), (150, 30), (150, 60), (120, 60))),
        (  # two that close a ring
            ((100, 10), (140, 10), (140, 50), (100, 50), (100, 45), (135, 45), (135, 15), (100, 15)),
            ((98, 8), (106, 8), (106, 52), (98, 52)),
        ),
    ],
)
def test_flaws_that_overlap_or_split_the_cloth_are_kept_clear_of(flaws):
    answer = fits(LayProblem(TROUSERS, LayCloth(140, 300, flaws=flaws)), effort="quick")
    assert answer.plan is not None
    assert faults(answer.plan) == ()


def test_a_piece_wider_than_the_cloth_is_refused_with_both_widths():
    wide = LayPiece("cape", "Cape", rectangle(160, 80))
    with pytest.raises(LayError, match=r"'Cape' is 160.0 cm wide; .* only 140.0 cm") as caught:
        plan(problem((wide,), 140), SINGLE)
    assert "single layer" not in caught.value.mend, "it lies in a single layer already"
    with pytest.raises(LayError, match="Cape"):
        best_plan(problem((wide,), 140))
    assert fits(problem((wide,), 140, length=500)).verdict == "impossible"


def test_a_pair_too_wide_for_the_folded_half_is_refused_only_folded():
    pair = (LayPiece("panel", "Panel", rectangle(80, 60), 2, mirrored_pair=True),)
    with pytest.raises(LayError, match=r"80.0 cm wide; .* folded lengthwise, gives it only 70.0 cm") as caught:
        plan(problem(pair, 140), FOLDED)
    assert "single layer" in caught.value.mend
    assert plan(problem(pair, 140), SINGLE).length == pytest.approx(120, abs=0.05)


def test_a_half_on_the_fold_is_sent_to_a_single_layer_only_where_its_whole_goes_there():
    half = LayPiece("back", "Back", rectangle(80, 60), on_fold=True, fold_edge=((0, 0), (0, 60)))
    with pytest.raises(LayError, match=r"80.0 cm wide; .* only 70.0 cm") as caught:
        plan(problem((half,), 140), FOLDED)
    assert "single layer" not in caught.value.mend, "unfolded it is 160 cm wide"
    with pytest.raises(LayError, match=r"160.0 cm wide; .* only 140.0 cm"):
        plan(problem((half,), 140), SINGLE)


def test_a_bias_piece_is_as_wide_as_it_lies():
    strip = LayPiece("binding", "Binding", rectangle(10, 200), angles=BIAS)
    with pytest.raises(LayError, match=r"As its grain lies, piece 'Binding' is 148.5 cm wide"):
        plan(problem((strip,), 140), SINGLE)


def test_a_piece_that_no_stripe_lets_lie_is_not_called_too_wide():
    cloth = LayCloth(140, None, "one-way", repeat=Repeat(across=100.0))
    front = LayPiece("front", "Front", rectangle(120, 80), match=(MatchPoint((15.0, 20.0), "side"),))
    back = LayPiece("back", "Back", rectangle(120, 80), match=(MatchPoint((65.0, 20.0), "side"),))
    with pytest.raises(LayError, match="fits, but at no place where it would match the stripes"):
        plan(LayProblem((front, back), cloth), SINGLE)


def test_unknown_effort_fold_and_missing_length_are_refused():
    with pytest.raises(LayError, match="effort"):
        plan(problem(TROUSERS), SINGLE, effort="heroic")
    with pytest.raises(LayError, match="cannot be made"):
        plan(problem(TROUSERS), partial_fold(90))
    with pytest.raises(ClothError, match="no length"):
        fits(problem(TROUSERS))


def test_refusals_are_of_the_one_family_and_one_sentence_long():
    with pytest.raises(WorkroomError) as caught:
        plan(problem(TROUSERS, 30), FOLDED)
    assert caught.value.what.count(". ") == 0
    assert caught.value.where
    assert caught.value.mend
