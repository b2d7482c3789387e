"""Every rule of the cloth held by a whole lay, and its independent check catching every way to break it."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import replace
from functools import cache, partial

import pytest
from shapely.geometry import Polygon

from clothwise.errors import LayError
from clothwise.lay.answers import longest, plan_around
from clothwise.lay.cloth import LayCloth, Outline, Repeat, remnant
from clothwise.lay.crosswise import crosswise_plan
from clothwise.lay.cutting import cutting_sequence
from clothwise.lay.layering import FOLDED, SINGLE, crosswise, partial_fold
from clothwise.lay.piece import LayPiece, MatchPoint
from clothwise.lay.pins import check_pins, check_placement, twin
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import best_plan, checked, fits, plan
from clothwise.lay.problem import LayProblem
from clothwise.lay.verify import faults
from clothwise.store.lays import LayMemory

from .laid_by_hand import SKIRT, TOP, TROUSERS, problem, rectangle

CORNERS: Outline = ((0, 0), (230, 0), (230, 70), (200, 78), (180, 130), (0, 140))
FLAWS: tuple[Outline, ...] = (
    ((50, 50), (60, 48), (62, 60), (52, 61)),
    ((150, 20), (155, 20), (155, 26), (150, 26)),
)
STRIPED = tuple(
    replace(
        piece,
        match=(MatchPoint((12.0 if k else 20.0, 3.0), "side"), MatchPoint((0.0, 9.0), piece.name, along=False)),
    )
    for k, piece in enumerate(TROUSERS)
)


@cache
def lay(name: str) -> LayPlan:
    quick: Callable[..., LayPlan] = partial(plan, effort="quick")
    trousers = problem(TROUSERS, gap=0.3)
    cases: dict[str, Callable[[], LayPlan]] = {
        "remnant": lambda: fits(LayProblem(TOP, remnant(CORNERS, flaws=FLAWS), 0.3), effort="quick").plan,  # type: ignore[dict-item,return-value]
        "flaws folded": lambda: quick(replace(trousers, cloth=LayCloth(140, flaws=FLAWS)), FOLDED),
        "deep fold": lambda: quick(problem(SKIRT, 150, gap=0.3), partial_fold(33.5)),
        "two folds": lambda: quick(problem(SKIRT, 150), partial_fold(33.5, 33.5)),
        "crosswise": lambda: checked(crosswise_plan(trousers, quick)),
        "checks": lambda: quick(LayProblem(STRIPED, LayCloth(150, repeat=Repeat(8.0, 6.0)), 0.3), SINGLE),
        "checks folded": lambda: quick(
            LayProblem(STRIPED, LayCloth(150, repeat=Repeat(8.0, 6.0)), 0.3), FOLDED
        ),
        "leaning": lambda: quick(problem(tuple(replace(p, lean=2.0) for p in TROUSERS), nap="one-way")),
        "pinned": lambda: quick(
            replace(trousers, pinned=(Placement("back_leg", 0, False, 0.0, 40.0, 80.0),)), SINGLE
        ),
    }
    return cases[name]()


EVERY = [
    "remnant", "flaws folded", "deep fold", "two folds", "crosswise", "checks", "checks folded", "leaning",
    "pinned",
]  # fmt: skip


def changed(made: LayPlan, index: int, **change: object) -> LayPlan:
    placements = list(made.placements)
    placements[index] = replace(placements[index], **change)  # type: ignore[arg-type]
    return replace(made, placements=tuple(placements))


@pytest.mark.parametrize("name", EVERY)
def test_the_lay_is_sound_and_every_way_to_break_it_is_caught(name):
    made = lay(name)
    assert made.verified
    assert faults(made) == ()
    pieces = {piece.name: piece for piece in made.problem.pieces}
    for k, one in enumerate(made.placements):
        far = Polygon(one.outline_on_cloth(pieces[one.piece])).bounds
        assert faults(changed(made, k, dy=one.dy - far[1] - 0.1)), "shifted over the selvedge"
        assert faults(changed(made, k, dx=one.dx - far[0] - 0.1)), "shifted over the cut end"
        assert faults(changed(made, k, angle=one.angle + 11.0)), "turned"
        rest = made.placements[:k] + made.placements[k + 1 :]
        assert faults(replace(made, placements=rest)), "dropped"
        if not pieces[one.piece].either_side_up and not pieces[one.piece].on_fold:
            assert faults(changed(made, k, mirrored=not one.mirrored)), "flipped"
    one, other = made.placements[0], made.placements[-1]
    swapped = (
        replace(other, dx=one.dx, dy=one.dy),
        *made.placements[1:-1],
        replace(one, dx=other.dx, dy=other.dy),
    )
    assert faults(replace(made, placements=swapped)), "swapped"


@pytest.mark.parametrize("name", ["checks", "checks folded"])
def test_a_piece_half_a_millimetre_out_of_step_is_caught(name):
    made = lay(name)
    for k, one in enumerate(made.placements):
        assert any("misses" in fault for fault in faults(changed(made, k, dx=one.dx + 0.06)))
        assert any("misses" in fault for fault in faults(changed(made, k, dy=one.dy + 0.06)))


def test_a_flaw_moved_under_a_piece_is_caught():
    made = lay("remnant")
    middle = Polygon(made.placements[0].outline_on_cloth(made.problem.pieces[0])).representative_point()
    x, y = middle.x, middle.y
    stain = ((x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1))
    cloth = replace(made.problem.cloth, flaws=(*made.problem.cloth.flaws, stain))
    assert any("flaw" in f for f in faults(replace(made, problem=replace(made.problem, cloth=cloth))))


def test_a_lean_is_allowed_to_its_last_tenth_and_no_further():
    made = lay("leaning")
    one = made.placements[0]
    free = replace(made, problem=replace(made.problem, cloth=LayCloth(400, nap="one-way")))
    for angle, allowed in ((2.0, True), (-2.0, True), (2.1, False), (-2.1, False)):
        lies = -angle if one.mirrored else angle
        wrong = [f for f in faults(changed(free, 0, angle=lies % 360)) if "nap forbids" in f]
        assert (wrong == []) == allowed


def test_a_piece_that_may_lean_does_so_where_that_saves_cloth():
    strip = LayPiece("strip", "Strip", rectangle(2, 100), lean=8.0)
    made = plan(problem((strip,), 60, "one-way"), effort="quick")
    assert made.length == pytest.approx(
        100 * math.cos(math.radians(8)) + 2 * math.sin(math.radians(8)), abs=0.05
    )
    assert strip.angles_on(LayCloth(60, nap="one-way")) == (0.0, 4.0, 8.0, 352.0, 356.0)


# ---- remnants --------------------------------------------------------------------------------------


def test_a_remnant_says_yes_no_or_not_found():
    cloth = remnant(CORNERS, flaws=FLAWS)
    yes = fits(LayProblem(TROUSERS, cloth, 0.3), effort="brisk")
    assert yes.verdict == "yes"
    assert yes.plan is not None
    assert faults(yes.plan) == ()
    assert fits(LayProblem((LayPiece("sheet", "Sheet", rectangle(135, 220)),), cloth)).verdict == "impossible"
    tight = LayProblem((LayPiece("a", "A", rectangle(69, 110), 3),), remnant(CORNERS))
    answer = fits(tight, effort="quick")
    assert answer.verdict == "not found"
    assert answer.plan is None


@pytest.mark.parametrize("scale", [1.0, 1.6])
def test_no_lay_on_a_remnant_leaves_it(scale):
    cloth = remnant([(x * scale, y * scale) for x, y in CORNERS], flaws=FLAWS)
    for pieces in (TROUSERS, SKIRT, TOP):
        answer = fits(LayProblem(pieces, cloth, 0.3), effort="quick")
        assert answer.plan is None or faults(answer.plan) == ()
        assert answer.plan is not None or scale == 1.0


# ---- folds -----------------------------------------------------------------------------------------


def test_a_partial_fold_leaves_the_rest_for_single_pieces():
    wide = LayPiece("cape", "Cape", rectangle(80, 60))
    half = LayPiece("yoke", "Yoke", rectangle(20, 60), on_fold=True, fold_edge=((0, 0), (0, 60)))
    asked = problem((wide, half), 125)
    assert plan(asked, partial_fold(20.0)).length == pytest.approx(60, abs=0.05)
    assert plan(asked, FOLDED).length > 60
    best = best_plan(asked)
    assert best.length == pytest.approx(60, abs=0.05)
    assert best.layering == partial_fold(20.0)  # as short as the single layer, and the half needs no unfolding
    assert "until 20.0 cm lie double" in cutting_sequence(best)[0]


def test_front_and_back_on_two_edge_folds_with_the_sleeves_between():
    half = LayPiece("front", "Front", rectangle(28, 70), on_fold=True, fold_edge=((0, 0), (0, 70)))
    other = replace(half, name="back", title="Back")
    sleeve = LayPiece("sleeve", "Sleeve", rectangle(36, 60))
    best = best_plan(problem((half, other, sleeve), 150))
    assert best.layering == partial_fold(28.0, 28.0)
    assert best.length == pytest.approx(70, abs=0.05)
    with LayMemory(None) as memory:  # both depths are remembered with the lay
        asked = problem((half, other, sleeve), 150)
        assert memory.plan(asked, "usual") == memory.plan(asked, "usual") == best


def test_pairs_too_wide_for_half_the_cloth_go_on_a_crosswise_fold():
    pair = (LayPiece("panel", "Panel", rectangle(80, 60), 2, mirrored_pair=True),)
    made = plan(problem(pair, 90), crosswise(1.0), effort="quick")
    assert made.cuts == 1
    assert made.length == pytest.approx(120, abs=0.05)
    assert faults(made) == ()
    with pytest.raises(LayError, match="point the other way"):
        plan(problem(pair, 90, "one-way"), crosswise(1.0))
    with pytest.raises(LayError, match="plain cloth"):
        plan(LayProblem(pair, LayCloth(90, flaws=FLAWS[:1])), crosswise(1.0))


PANELS = (
    LayPiece("panel", "Panel", rectangle(80, 60), 2, mirrored_pair=True),
    LayPiece("strip", "Strip", rectangle(15, 40)),
)


def test_a_crosswise_fold_is_found_where_no_lengthwise_one_holds_the_pairs():
    made = best_plan(problem(PANELS, 100), effort="quick")
    assert made.layering.name == "folded crosswise"
    assert made.cuts == 2
    assert made.length == pytest.approx(120, abs=0.05)  # the strip lies beside the panels, on the opened cloth
    assert len(cutting_sequence(made)) == 2
    for other in (
        problem(PANELS, 100, "one-way"),
        problem(PANELS, 200),  # folded lengthwise it takes half
        LayProblem(PANELS, LayCloth(100, flaws=FLAWS[:1])),
        LayProblem((replace(PANELS[0], may_turn=False), PANELS[1]), LayCloth(100)),
    ):
        assert best_plan(other, effort="brisk").layering.name != "folded crosswise"


def test_a_crosswise_fold_is_never_taken_where_it_costs_cloth_or_saves_no_cut():
    for garment in (TROUSERS, SKIRT, TOP):
        for width in (90, 140):
            asked = problem(garment, width)
            made = best_plan(asked, effort="brisk")
            single = plan(asked, SINGLE, effort="brisk", seeds=(made,))
            assert made.length <= single.length + 1.0
            if made.layering.name == "folded crosswise":
                assert made.cuts < single.cuts


def test_a_piece_of_a_crosswise_lay_is_moved_by_hand_and_the_rest_goes_round_it():
    made = best_plan(problem(PANELS, 100), effort="quick")
    panels = tuple(p for p in made.placements if p.piece == "panel")
    (strip,) = (p for p in made.placements if p.piece == "strip")
    for pins in (panels, (replace(strip, dx=strip.dx + 3),), (*panels, strip)):
        again = plan(replace(made.problem, pinned=pins), made.layering, effort="quick")
        assert set(pins) <= set(again.placements)
        assert again.layering == made.layering
        assert faults(again) == ()
    in_the_way = replace(strip, dy=strip.dy - 40)
    with pytest.raises(LayError, match="the fold is pinned at 60"):
        plan(replace(made.problem, pinned=(in_the_way,)), made.layering, effort="quick")


# ---- pinned ----------------------------------------------------------------------------------------


def test_what_is_pinned_stays_and_the_rest_goes_round_it():
    made = lay("pinned")
    (pin,) = [p for p in made.placements if (p.piece, p.copy) == ("back_leg", 0)]
    assert (pin.dx, pin.dy, pin.angle) == (40.0, 80.0, 0.0)
    moved = made.placements.index(pin)
    assert any("pinned" in fault for fault in faults(changed(made, moved, dx=300.0)))


def test_the_check_tells_at_once_whether_a_piece_may_lie_there():
    asked = problem(TROUSERS, 140, "one-way", length=200, gap=0.3)
    held = [Placement("back_leg", 0, False, 0.0, 0.0, 45.0)]
    free = Placement("front_leg", 0, False, 0.0, 0.0, 100.0)
    assert check_placement(asked, SINGLE, held, free) == ()
    assert (
        check_placement(asked, SINGLE, [*held, free], replace(free, dx=1.0)) == ()
    )  # not against its own last place
    for change, said in (
        ({"dy": 60.0}, "overlap"),
        ({"dx": 120.0}, "edge"),
        ({"angle": 180.0}, "nap forbids"),
        ({"dx": float("nan")}, "not a number"),
    ):
        assert said in " ".join(check_placement(asked, SINGLE, held, replace(free, **change)))
    start = time.process_time()
    for _ in range(20):
        check_placement(asked, SINGLE, held, free)
    assert (time.process_time() - start) / 20 < 0.02  # a few milliseconds, also while the machine is busy


def test_a_dragged_pair_takes_its_mirror_image_along():
    asked = problem(TROUSERS, 140)
    leg = Placement("front_leg", 0, False, 0.0, 0.0, 40.0, "double", 0)
    other = twin(leg, FOLDED, 140)
    assert (other.copy, other.mirrored, other.dy) == (1, True, 100.0)
    check_pins(replace(asked, pinned=(leg, other)), FOLDED)
    made = plan_around(asked, FOLDED, (leg, other), effort="quick")
    assert leg in made.placements
    assert other in made.placements
    with pytest.raises(LayError, match="mirror image"):
        plan_around(asked, FOLDED, (leg,), effort="quick")
    with pytest.raises(LayError, match="wrong side up"):
        plan_around(asked, SINGLE, (replace(leg, how="single", fold=None, mirrored=True),), effort="quick")
    with pytest.raises(LayError, match="cannot stay"):
        plan_around(asked, SINGLE, (replace(leg, how="single", fold=None, dy=0.0),), effort="quick")
    with pytest.raises(LayError, match="copy 3"):
        plan_around(asked, SINGLE, (replace(leg, how="single", fold=None, copy=2),), effort="quick")


# ---- the longest -----------------------------------------------------------------------------------


def test_the_longest_garment_is_found_to_the_step_and_says_why_no_longer():
    def skirt(long: float) -> tuple[LayPiece, ...]:
        if long > 95:
            raise LayError("No longer.", where="", mend="")
        return (LayPiece("panel", "Panel", rectangle(35, long), 4),)

    found = longest(skirt, LayCloth(140, 71.4), shortest=40, most=90, step=0.5, effort="quick")
    assert found.length == 71.0
    assert found.plan is not None
    assert faults(found.plan) == ()
    assert "71.5 cm long" in found.reason
    roomy = longest(skirt, LayCloth(140, 300), shortest=40, most=90, effort="quick")
    assert (roomy.length, "longest asked" in roomy.reason) == (90, True)
    assert longest(skirt, LayCloth(140, 300), shortest=90, most=120, effort="quick").length == 95
    assert longest(skirt, LayCloth(30, 300), shortest=40, most=90, effort="quick").length is None
    for wrong in ({"most": 40.0}, {"most": math.nan}, {"most": math.inf}, {"most": 95.0, "step": 0.0}):
        with pytest.raises(LayError, match="no lengths"):
            longest(skirt, LayCloth(140, 300), shortest=90, **wrong)
