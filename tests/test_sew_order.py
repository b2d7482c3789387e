"""The order of work: it can be sewn, and the check that says so notices when it cannot."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import product

import pytest

from clothwise.cloth import Cloth
from clothwise.curve import Point, line
from clothwise.draft import pattern
from clothwise.errors import GarmentError
from clothwise.garment import Edge, Garment, Piece, Run, Seam
from clothwise.sew import Sewer, Step, order_of_work
from clothwise.sew.step_check import check_steps
from tests.sewn_by_hand import marit, skirt, trousers

LINEN = Cloth("Linen", 140, 250, kind="linen")
LAWN = Cloth("Lawn", 140, 250, kind="cotton lawn")
CHALLIS = Cloth("Challis", 140, 250, kind="viscose challis")
JERSEY = Cloth("Jersey", 150, 250, make="knit", kind="single jersey", stretch_across=0.4)
UNNAMED = Cloth("Something", 140, 250, grams_per_m2=240)
CLOTHS = (LINEN, LAWN, CHALLIS, JERSEY, UNNAMED)
GARMENTS: tuple[Callable[[], Garment], ...] = (trousers, skirt, lambda: skirt(14.0, False))


def names(steps: tuple[Step, ...]) -> list[str]:
    return [step.name for step in steps]


def told(garment: Garment, steps: list[Step], cloth: Cloth = LINEN) -> str:
    """What the check says of these steps, numbered anew."""
    numbered = [replace(step, number=i) for i, step in enumerate(steps, 1)]
    return "; ".join(f.what for f in check_steps(garment, numbered, cloth))


@pytest.mark.parametrize(("make", "cloth", "overlocker"), list(product(GARMENTS, CLOTHS, (False, True))))
def test_every_order_can_be_sewn_and_ends_in_a_finished_garment(
    make: Callable[[], Garment], cloth: Cloth, overlocker: bool
) -> None:
    garment = make()
    steps = order_of_work(garment, cloth, Sewer(overlocker=overlocker))
    assert check_steps(garment, steps, cloth) == ()


def test_trousers_go_sides_inseams_crotch_waist_elastic_hems() -> None:
    order = names(order_of_work(trousers(), LINEN, Sewer()))
    assert [n for n in order if n not in ("mark", "neaten", "try on", "press")] == [
        "side_seam", "inseam", "crotch_seam", "waist", "waist elastic", "hem",
    ]  # fmt: skip
    assert order.index("neaten") < order.index("side_seam")
    assert order.index("try on") < order.index("hem")


def test_a_skirt_goes_pockets_centres_sides_waist_elastic_hem() -> None:
    order = names(order_of_work(skirt(), LINEN, Sewer()))
    assert [n for n in order if n not in ("mark", "neaten", "try on", "press")] == [
        "pocket_top", "pocket folded in", "pocket", "centre_front", "centre_back", "side_seam",
        "waist", "waist elastic", "hem",
    ]  # fmt: skip


def test_only_a_skirt_cut_off_the_grain_hangs_before_its_hem() -> None:
    straight = order_of_work(skirt(), LINEN, Sewer())
    flared = order_of_work(skirt(30.0, False), LINEN, Sewer())
    assert "hang" not in names(straight)
    assert names(flared).index("hang") < names(flared).index("hem")
    assert next(s for s in flared if s.kind == "hang").wait_hours >= 24


def test_what_is_cut_on_the_bias_hangs_too() -> None:
    garment = skirt()
    bias = replace(garment, pieces=tuple(replace(p, bias=True) for p in garment.pieces))
    assert "hang" in names(order_of_work(bias, LINEN, Sewer()))


def test_a_circle_hangs_and_a_tee_with_cut_on_sleeves_does_not() -> None:
    body = marit()
    assert "hang" in names(order_of_work(pattern("circle_skirt").make(body), LINEN, Sewer()))
    assert "hang" not in names(order_of_work(pattern("cut_on_sleeve_tee").make(body), JERSEY, Sewer()))


def test_what_leaves_the_work_flat_comes_before_what_closes_it() -> None:
    """Three panels in a row: the short seam that stays flat, before the longer one that makes a tube."""

    def panel(name: str, left: float, right: float) -> Piece:
        a, b, c, d = Point(0, 0), Point(50, 0), Point(50, right), Point(0, left)
        edges = (
            Edge("hem", line(a, b), "hem", 4.0),
            Edge("right", line(b, c), "seam", 1.5),
            Edge("waist", line(c, d), "casing", 4.6),
            Edge("left", line(d, a), "seam", 1.5),
        )
        return Piece(name, name, edges, (Point(25, 5), Point(25, 40)), "single", 1)

    def joined(one: str, other: str) -> Seam:
        return Seam(f"{one}_{other}", f"{one} to {other}", (Run(one, "right"),), (Run(other, "left", True),))

    pieces = (panel("a", 60.0, 70.0), panel("b", 70.0, 50.0), panel("c", 50.0, 60.0))
    around = Garment("row", "Row", pieces, (joined("c", "a"), joined("b", "c"), joined("a", "b")), ())
    order = names(order_of_work(around, LINEN, Sewer()))
    assert [n for n in order if "_" in n] == ["a_b", "c_a", "b_c"]  # long before short while all is flat
    tube = replace(around, pieces=pieces[:2], seams=(joined("a", "b"), joined("b", "a")))
    extra = panel("d", 20.0, 20.0)
    apron = replace(tube, pieces=(*pieces[:2], extra), seams=(*tube.seams, _top_to_hem()))
    order = names(order_of_work(apron, LINEN, Sewer()))
    assert [n for n in order if "_" in n] == ["a_b", "frill_on", "b_a"]


def _top_to_hem() -> Seam:
    """A short flat seam: the top of a small panel to the hem of another."""
    return Seam("frill_on", "Frill", (Run("d", "waist"),), (Run("a", "hem"),))


def test_the_crotch_is_sewn_twice_and_the_straight_seams_once() -> None:
    steps = {s.name: s for s in order_of_work(trousers(), LINEN, Sewer())}
    assert (steps["crotch_seam"].rows, steps["side_seam"].rows, steps["inseam"].rows) == (2, 1, 1)
    assert steps["crotch_seam"].crossings == ("Inseams",)


def test_a_knit_is_sewn_with_a_stitch_that_gives() -> None:
    for overlocker, iso in ((False, "304"), (True, "514")):
        steps = order_of_work(trousers(), JERSEY, Sewer(overlocker=overlocker))
        assert {s.stitch.iso for s in steps if s.kind == "seam" and s.stitch} == {iso}
        assert not [s for s in steps if s.kind == "neaten"]


def test_fine_cloth_without_an_overlocker_gets_french_seams_where_they_are_straight() -> None:
    steps = {s.name: s for s in order_of_work(trousers(), LAWN, Sewer())}
    assert steps["side_seam"].neatenings[0].finish == "enclosed"
    assert steps["crotch_seam"].neatenings[0].finish == "zigzagged"
    assert "side_seam" not in {r.line for s in steps.values() if s.kind == "neaten" for r in s.edges}


def test_things_that_wait_for_each_other_are_refused_in_a_sentence() -> None:
    garment = trousers()
    waits = {"inseam": ("side_seam",), "side_seam": ("inseam",)}
    seams = tuple(replace(s, after=waits.get(s.name, ())) for s in garment.seams)
    with pytest.raises(GarmentError, match=r"cannot be sewn in any order.*side seams"):
        order_of_work(replace(garment, seams=seams), LINEN, Sewer())


# ---- the check notices -------------------------------------------------------------------------

DISPENSABLE = {"mark", "stay", "try on", "hang", "press"}


@pytest.mark.parametrize(("make", "overlocker"), list(product(GARMENTS, (False, True))))
def test_a_dropped_or_doubled_step_is_noticed(make: Callable[[], Garment], overlocker: bool) -> None:
    garment = make()
    steps = list(order_of_work(garment, LINEN, Sewer(overlocker=overlocker)))
    for i, step in enumerate(steps):
        if step.kind in DISPENSABLE:
            continue
        assert told(garment, steps[:i] + steps[i + 1 :]), f"dropping '{step.name}' passes"
        if step.kind != "fold in":
            assert told(garment, steps[: i + 1] + steps[i:]), f"doubling '{step.name}' passes"


SWAPS = [
    (trousers, "inseam", "crotch_seam", "not run on"),
    (trousers, "side_seam", "hem", "not run on"),
    (trousers, "waist", "waist elastic", "no casing"),
    (trousers, "neaten", "side_seam", "neatened alone"),
    (trousers, "crotch_seam", "waist", "not run on"),
    (skirt, "pocket_top", "pocket", "still raw"),
    (skirt, "pocket folded in", "pocket", "not folded in"),
    (skirt, "pocket", "side_seam", "is a tube already"),
    (skirt, "centre_front", "waist", "not run on"),
]


@pytest.mark.parametrize(("make", "one", "other", "says"), SWAPS)
def test_two_steps_in_the_wrong_order_are_noticed(
    make: Callable[[], Garment], one: str, other: str, says: str
) -> None:
    garment = make()
    steps = list(order_of_work(garment, LINEN, Sewer()))
    order = [s.name for s in steps]
    i, j = order.index(one), order.index(other)
    steps[i], steps[j] = steps[j], steps[i]
    assert says in told(garment, steps)


def test_the_other_right_order_of_trousers_passes_too() -> None:
    """Crotch first in two runs, then sides, then the inseam from hem to hem: the trade's order B."""
    garment = trousers()
    crotch = next(s for s in garment.seams if s.name == "crotch_seam")
    front = replace(crotch, name="crotch_front", a=crotch.a[:1], b=crotch.b[:1])
    back = replace(crotch, name="crotch_back", a=crotch.a[1:], b=crotch.b[1:])
    inseam = next(s for s in garment.seams if s.name == "inseam")
    left, right = replace(inseam.a[0]), replace(inseam.a[0], side="mirrored")
    other = inseam.b[0]
    whole = replace(
        inseam,
        a=(left, replace(right, backwards=True)),
        b=(other, replace(other, backwards=not other.backwards, side="mirrored")),
        times=1,
    )
    sides = next(s for s in garment.seams if s.name == "side_seam")
    other_way = replace(garment, seams=(front, back, whole, sides))
    steps = order_of_work(other_way, LINEN, Sewer())
    assert check_steps(other_way, steps, LINEN) == ()
    order = names(steps)
    assert order.index("crotch_front") < order.index("inseam")


def test_wrong_figures_in_a_step_are_noticed() -> None:
    garment = trousers()
    steps = list(order_of_work(garment, LINEN, Sewer()))
    at = {s.name: i for i, s in enumerate(steps)}

    def with_step(name: str, step: Step) -> list[Step]:
        return [*steps[: at[name]], step, *steps[at[name] + 1 :]]

    sides = steps[at["side_seam"]]
    assert "times, not 2" in told(garment, with_step("side_seam", replace(sides, joins=sides.joins[:1])))
    twice = replace(sides, joins=(sides.joins[0], sides.joins[0]))
    assert "sewn twice" in told(garment, with_step("side_seam", twice))
    crossed = replace(sides.joins[0], b=sides.joins[1].b)
    assert "other edges" in told(
        garment, with_step("side_seam", replace(sides, joins=(crossed, sides.joins[1])))
    )
    neaten = steps[at["neaten"]]
    fewer = replace(neaten.neatenings[0], edges=neaten.neatenings[0].edges[1:])
    assert "never finished" in told(garment, with_step("neaten", replace(neaten, neatenings=(fewer,))))
    crotch = steps[at["crotch_seam"]]
    raw = replace(crotch.neatenings[0], finish="none needed")
    assert "frays" in told(garment, with_step("crotch_seam", replace(crotch, neatenings=(raw,))))
    waist = steps[at["waist"]]
    assert "no opening" in told(garment, with_step("waist", replace(waist, opening=0.0)))
    unpressed = with_step("inseam", replace(steps[at["inseam"]], pressed=""))
    assert "crossed before" in told(garment, unpressed)


def test_a_bag_sewn_shut_is_noticed() -> None:
    """Two rectangles sewn all round, as a lined thing without a gap would be."""
    garment = skirt(0.0, False)
    front = replace(garment.pieces[0], copies=1, cutting="single")
    back = replace(garment.pieces[1], copies=1, cutting="single")
    whole = tuple(replace(r) for r in garment.seams[0].a)
    runs = [replace(whole[0], line=name) for name in ("waist", "centre", "hem", "side")]
    seams = tuple(
        replace(garment.seams[0], name=r.line, a=(r,), b=(replace(r, piece="back_panel"),), times=1)
        for r in runs
    )
    bag = replace(garment, pieces=(front, back), seams=seams, free_edges=())
    steps = order_of_work(bag, LINEN, Sewer())
    assert "cannot be turned" in "; ".join(f.what for f in check_steps(bag, steps, LINEN))


def test_a_leg_too_narrow_for_the_machine_is_noticed() -> None:
    garment = trousers()
    thin = tuple(
        replace(p, edges=tuple(replace(e, curve=e.curve.scaled(0.1)) for e in p)) for p in garment.pieces
    )
    small = replace(garment, pieces=thin)
    steps = order_of_work(small, LINEN, Sewer())
    assert "too narrow" in "; ".join(f.what for f in check_steps(small, steps, LINEN))
