"""The independent check catches every way a lay could be wrong: shifted, flipped, turned, dropped, swapped."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.lay import planning
from clothwise.lay.plan import LayPlan, Placement
from clothwise.lay.planning import plan
from clothwise.lay.problem import FOLDED, SINGLE, Layering
from clothwise.lay.verify import faults

from .laid_by_hand import SKIRT, TOP, TROUSERS, problem

LAYS: dict[str, LayPlan] = {}


def lay(name: str) -> LayPlan:
    if name not in LAYS:
        garment, layering = {
            "trousers folded": (TROUSERS, FOLDED),
            "trousers single": (TROUSERS, SINGLE),
            "skirt folded": (SKIRT, FOLDED),
            "top single": (TOP, SINGLE),
        }[name]
        LAYS[name] = plan(problem(garment, 140, "one-way"), layering, effort="quick")
    return LAYS[name]


def changed(made: LayPlan, index: int, **change: object) -> LayPlan:
    placements = list(made.placements)
    placements[index] = replace(placements[index], **change)  # type: ignore[arg-type]
    return replace(made, placements=tuple(placements))


EVERY = ["trousers folded", "trousers single", "skirt folded", "top single"]


@pytest.mark.parametrize("name", EVERY)
def test_the_lay_itself_is_sound(name):
    assert faults(lay(name)) == ()


@pytest.mark.parametrize("name", EVERY)
@pytest.mark.parametrize(("dx", "dy"), [(3, 0), (-3, 0), (0, 3), (0, -3)])
def test_a_shifted_piece_is_caught_unless_it_still_lies_free(name, dx, dy):
    made = lay(name)
    caught = 0
    for i, placement in enumerate(made.placements):
        wrong = faults(changed(made, i, dx=placement.dx + dx, dy=placement.dy + dy))
        caught += bool(wrong)
    assert caught >= len(made.placements) - 2


@pytest.mark.parametrize("name", EVERY)
def test_a_piece_moved_by_a_fifth_of_a_millimetre_into_its_neighbour_is_caught(name):
    made = lay(name)
    assert any(
        faults(changed(made, i, dx=p.dx + dx, dy=p.dy + dy))
        for i, p in enumerate(made.placements)
        for dx, dy in ((0.02, 0), (-0.02, 0), (0, 0.02), (0, -0.02))
    )


@pytest.mark.parametrize("name", ["trousers folded", "trousers single"])
def test_a_flipped_piece_is_caught(name):
    made = lay(name)
    for i, placement in enumerate(made.placements):
        wrong = faults(changed(made, i, mirrored=not placement.mirrored))
        assert any("turned over" in fault for fault in wrong)


@pytest.mark.parametrize("name", EVERY)
@pytest.mark.parametrize("angle", [180.0, 90.0, 3.0])
def test_a_turned_piece_is_caught(name, angle):
    made = lay(name)
    for i in range(len(made.placements)):
        assert any("nap forbids" in fault for fault in faults(changed(made, i, angle=angle)))


@pytest.mark.parametrize("name", EVERY)
def test_a_dropped_or_doubled_piece_is_caught(name):
    made = lay(name)
    for i in range(len(made.placements)):
        rest = made.placements[:i] + made.placements[i + 1 :]
        assert any("wanted" in fault for fault in faults(replace(made, placements=rest)))
        twice = (*made.placements, made.placements[i])
        assert faults(replace(made, placements=twice))


@pytest.mark.parametrize("name", EVERY)
def test_swapped_pieces_are_caught(name):
    made = lay(name)
    a, b = made.placements[0], made.placements[-1]
    swapped = (
        replace(b, dx=a.dx, dy=a.dy, fold=a.fold, how=a.how),
        *made.placements[1:-1],
        replace(a, dx=b.dx, dy=b.dy, fold=b.fold, how=b.how),
    )
    assert faults(replace(made, placements=swapped))


def test_a_half_that_leaves_the_fold_is_caught():
    made = lay("skirt folded")
    (i,) = [k for k, p in enumerate(made.placements) if p.piece == "front"]
    wrong = faults(changed(made, i, dy=made.placements[i].dy - 0.01))
    assert any("from the fold" in fault for fault in wrong)
    assert any("names a fold" in f or "drawn as a half" in f for f in faults(changed(made, i, how="single")))


def test_a_pair_whose_halves_slide_apart_is_caught():
    made = lay("trousers folded")
    wrong = faults(changed(made, 1, dx=made.placements[1].dx + 0.05))
    assert any("mirror image" in fault for fault in wrong)


def test_a_wrong_length_or_a_short_cloth_is_caught():
    made = lay("trousers folded")
    assert any("furthest point" in f for f in faults(replace(made, length=made.length + 1)))
    assert faults(replace(made, length=made.length - 1))
    short = replace(made.problem, cloth=replace(made.problem.cloth, length=made.length - 1))
    assert any("cm long" in f for f in faults(replace(made, problem=short)))


def test_an_unknown_piece_and_a_missing_fold_are_caught():
    made = lay("trousers folded")
    assert faults(replace(made, placements=(Placement("sleeve", 0, False, 0, 0, 0),)))
    assert any("no such fold" in f for f in faults(replace(made, layering=Layering("single layer"))))


def test_a_plan_that_fails_its_check_is_never_handed_out():
    made = lay("trousers folded")
    broken = changed(made, 0, dx=made.placements[0].dx + 5)
    with pytest.raises(AssertionError, match="failed its check"):
        planning.checked(broken)
