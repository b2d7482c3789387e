"""A make that is cut takes its cloth off the cupboard and puts the true remnant back; it can all be undone."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from clothwise.body import estimate
from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import ClothError, StoreError
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import best_plan
from clothwise.store import Store, open_store
from clothwise.store.cutting import cut, rests, undo_cut
from clothwise.store.demo import scenario
from clothwise.ticket.made import lay_problem

MARIT = estimate(scenario()[0][0])
STAIN = ((190.0, 20.0), (196.0, 20.0), (196.0, 26.0), (190.0, 26.0))
LINEN = Cloth("Linen", 138, 240, kind="linen", grams_per_m2=185, flaws=(STAIN,), price_per_m=18.5)


@pytest.fixture
def store(tmp_path: Path):
    with open_store(tmp_path / "a.sqlite") as opened:
        yield opened


def laid(cloth: Cloth, draft: str = "four_panel_skirt") -> LayPlan:
    pieces = lay_pieces(pattern(draft).make(MARIT, {}))
    return best_plan(lay_problem(pieces, cloth), effort="quick")


@pytest.fixture(scope="module")
def plan() -> LayPlan:
    return laid(LINEN)


def covered(plan: LayPlan) -> Polygon:
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    return unary_union([Polygon(p.carry(pieces[p.piece].whole_outline)) for p in plan.placements])


def test_what_is_left_covers_no_piece_and_misses_nothing_large(plan: LayPlan):
    parts = rests(LINEN, plan)
    assert parts
    biggest = parts[0]
    assert biggest.name == "Linen"
    assert biggest.usable_area_cm2 > 138 * (240 - plan.length) * 0.95 - 50  # the uncut end is in it
    area = sum(part.usable_area_cm2 for part in parts)
    assert area <= 138 * 240 - covered(plan).area
    assert biggest.price_per_m == 18.5
    assert biggest.washed


def test_the_flaw_stays_on_the_cloth_where_it_is(plan: LayPlan):
    (biggest, *_) = rests(LINEN, plan)
    assert len(biggest.flaws) == 1
    assert Polygon(biggest.flaws[0]).area == pytest.approx(36)
    shape = Polygon(biggest.outline) if biggest.outline else box(0, 0, biggest.length, biggest.width)
    assert shape.contains(Polygon(biggest.flaws[0]).centroid)


def test_cutting_is_one_deed_and_undoing_brings_all_back(store: Store, plan: LayPlan):
    store.keep_cloth(LINEN)
    (done,) = cut(store, "Skirt", {"Linen": plan})
    assert done.before == LINEN
    assert store.cloth("Linen") == done.after[0] != LINEN
    assert {cloth.name for cloth in store.cloths()} == {cloth.name for cloth in done.after}
    assert LINEN in store.earlier_cloths("Linen")
    assert undo_cut(store, "Skirt") is not None
    assert store.cloths() == (LINEN,)
    assert undo_cut(store, "Skirt") is None


def test_the_remnant_can_be_laid_and_cut_again(store: Store, plan: LayPlan):
    """A second, smaller make from what the first left; its lay keeps to the true shape."""
    store.keep_cloth(LINEN)
    cut(store, "Skirt", {"Linen": plan})
    remnant = store.cloth("Linen")
    second = laid(remnant, "apron")
    assert second.length <= remnant.usable_length
    (done,) = cut(store, "Apron", {"Linen": second})
    assert sum(one.usable_area_cm2 for one in done.after) < remnant.usable_area_cm2
    undo_cut(store, "Apron")
    assert store.cloth("Linen") == remnant


def test_a_cloth_that_changed_since_is_not_cut(store: Store, plan: LayPlan):
    store.keep_cloth(replace(LINEN, length=230.0))
    with pytest.raises(ClothError, match="no longer as it was"):
        cut(store, "Skirt", {"Linen": plan})
    assert store.cloth("Linen").length == 230
    with pytest.raises(StoreError):
        cut(store, "Skirt", {"Silk": plan})


def test_a_cloth_that_is_used_up_goes_out(store: Store):
    free = laid(Cloth("Scrap", 138, 240))
    scrap = Cloth("Scrap", 138, round(free.length + 0.2, 1))
    store.keep_cloth(scrap)
    small = replace(free, problem=replace(free.problem, cloth=replace(free.problem.cloth, length=scrap.length)))
    (done,) = cut(store, "Skirt", {"Scrap": small})
    assert sum(one.usable_area_cm2 for one in done.after) < 0.35 * scrap.usable_area_cm2
    undo_cut(store)
    undo_cut(store, "Skirt")
    assert store.cloth("Scrap") == scrap
