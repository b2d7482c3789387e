"""Growth tucks: drawn, measured, sewn in a proved order, and refused where cloth would not lie in them."""

from __future__ import annotations

import pytest
import shapely

from clothwise.alter import change_of, changed
from clothwise.body import sample
from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import ChoiceError, GarmentError
from clothwise.garment import Garment, Piece
from clothwise.garment.check import check
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.pictures import step_picture
from clothwise.sew.step_check import check_steps
from clothwise.sew.words import step_words

LINEN = Cloth("Linen", 140, 250, kind="linen")
GIRL = next(body for body in sample("girl", 12, seed=33) if 4 <= (body.age_years or 0) <= 12)
WOMAN = sample("woman", 3, seed=32)[2]
# draft, choices, hem, the edges beside it that are sewn
WHERE: tuple[tuple[str, dict[str, float | str], str, str], ...] = (
    ("gathered_skirt", {}, "hem", "side_seam"),
    ("four_panel_skirt", {"flare": 0.0}, "hem", "side_seam"),
    ("pull_on_trousers", {"leg": "straight"}, "hem", "side_seam"),
    ("tiered_skirt", {}, "hem", "tier_3_joins"),
)


def tucked(name: str, wish, hem: str, number: float, depth: float, body=GIRL) -> tuple[Garment, Garment]:
    before = pattern(name).make(body, wish)
    return before, changed(before, [change_of("growth tuck", {"hem": hem, "number": number, "by": depth})])


def rows(piece: Piece) -> dict[str, shapely.LineString]:
    return {
        mark.name.split("_growth_tuck_")[1]: shapely.LineString(mark.curve.flattened(tolerance=0.01))
        for mark in piece.marks
        if "_growth_tuck_" in mark.name
    }


@pytest.mark.parametrize(("name", "wish", "hem", "side"), WHERE, ids=lambda v: v if isinstance(v, str) else "")
@pytest.mark.parametrize(("number", "depth"), [(1, 1.0), (2, 1.5)])
def test_every_piece_is_longer_by_twice_the_depth_of_each_tuck(name, wish, hem, side, number, depth):
    before, after = tucked(name, wish, hem, number, depth)
    assert check(after) == ()
    free = next(f for f in after.free_edges if f.name == hem)
    for piece in {run.piece for run in free.runs}:
        old, new = (shapely.Polygon(g.piece(piece).polygon(tolerance=0.01)).bounds for g in (before, after))
        assert (new[3] - new[1]) - (old[3] - old[1]) == pytest.approx(2 * depth * number, abs=0.05)
    longer = after.length(after.seam(side).a) - before.length(before.seam(side).a)
    assert longer == pytest.approx(2 * depth * number, abs=1e-3)
    said = after.notes[-1].text if hem in after.notes[-1].measure else " ".join(n.text for n in after.notes)
    assert f"let down by {2 * depth * number:g} cm" in said


@pytest.mark.parametrize(("name", "wish", "hem", "side"), WHERE, ids=lambda v: v if isinstance(v, str) else "")
def test_the_lines_lie_beside_the_hem_and_run_on_across_the_seams(name, wish, hem, side):
    _, after = tucked(name, wish, hem, 2, 1.5)
    free = next(f for f in after.free_edges if f.name == hem)
    for run in free.runs:
        piece = after.piece(run.piece)
        line = shapely.LineString(piece.edge(run.line).curve.flattened(tolerance=0.01))
        found = rows(piece)
        assert set(found) == {f"{n}_{what}" for n in (1, 2) for what in ("lower", "fold", "upper")}
        lowest = free.turn + 1.0 + 1.5
        for n, up in ((1, lowest), (2, lowest + 3 * 1.5 + 1.0)):
            for step, what in enumerate(("lower", "fold", "upper")):
                row = found[f"{n}_{what}"]
                for end in (row.coords[0], row.coords[-1]):  # equally far along whatever is sewn there
                    beside = min(
                        shapely.Point(end).distance(shapely.Point(c)) for c in (line.coords[0], line.coords[-1])
                    )
                    assert beside == pytest.approx(up + step * 1.5, abs=0.03)
            sewn = abs(found[f"{n}_lower"].length - found[f"{n}_upper"].length)
            assert sewn <= 0.04 * found[f"{n}_upper"].length
    assert free.turn + 1.0 <= lowest - 1.5, "hanging, the lowest tuck lies clear of the hem's stitching"


def test_both_lengths_are_told_with_the_tucks_sewn_it_is_as_long_as_before():
    before, after = tucked("gathered_skirt", {}, "hem", 2, 1.5)
    assert after.finished["length, tucks sewn"] == pytest.approx(before.finished["length"], abs=0.01)
    assert after.finished["length, let down"] == pytest.approx(before.finished["length"] + 6.0, abs=0.01)


LATER: tuple[tuple[str, dict[str, float | str]] | None, ...] = (
    None,
    ("cut singly", {}),
    ("face hem", {"hem": "hem", "by": 4.0}),
    ("split", {"piece": "front_panel", "share": 0.5}),
)


@pytest.mark.parametrize("later", LATER, ids=lambda later: later[0] if later else "as it is")
def test_tucks_are_sewn_after_the_sides_and_before_the_hem(later):
    _, garment = tucked("gathered_skirt", {}, "hem", 2, 1.5)
    garment = changed(garment, [change_of(*later)]) if later else garment
    steps = order_of_work(garment, LINEN, Sewer())
    assert [str(fault) for fault in check_steps(garment, steps, LINEN)] == []
    names = [step.name for step in steps]
    at = names.index("hem tucks")
    assert all(names.index(name) < at for name in names if name.endswith("side_seam"))
    assert at < names.index("hem")
    step = steps[at]
    assert (step.count, step.turn) == (2, pytest.approx(1.5))
    words = step_words(step, garment)
    assert any("1.5 cm from the fold" in text for text in words.do)
    assert any("gives 3 cm" in text for text in words.do)
    assert step_words(step, garment, code="de").do
    assert step_picture(garment, steps, at).items


def test_an_order_that_forgets_the_tucks_or_hems_first_is_found_out():
    _, garment = tucked("gathered_skirt", {}, "hem", 1, 1.5)
    steps = order_of_work(garment, LINEN, Sewer())
    without = [step for step in steps if step.kind != "tuck"]
    assert any("growth tucks" in fault.what for fault in check_steps(garment, without, LINEN))
    tuck = next(step for step in steps if step.kind == "tuck")
    assert any("before the hem" in fault.what for fault in check_steps(garment, [*without, tuck], LINEN))
    first = [tuck, *without]
    assert any("does not run on" in fault.what for fault in check_steps(garment, first, LINEN))


@pytest.mark.parametrize(
    ("name", "wish", "hem", "body", "says"),
    [
        ("circle_skirt", {}, "hem", WOMAN, "no tuck lies flat along a curve"),
        ("bias_skirt", {}, "hem", WOMAN, "cut on the bias|no tuck lies flat"),
        ("leggings", {}, "hem", WOMAN, "not as wide below|no longer holds"),
        ("robe", {}, "hem", WOMAN, "has no hem 'hem' that goes round|end open"),
        ("jogger", {}, "hem", GIRL, "has no hem 'hem'"),
    ],
)
def test_where_no_tuck_would_lie_is_said(name, wish, hem, body, says):
    with pytest.raises(GarmentError, match=says) as refusal:
        tucked(name, wish, hem, 1, 2.0, body)
    assert refusal.value.mend


def test_tucks_too_deep_too_many_or_twice_are_refused():
    with pytest.raises(GarmentError, match="cannot be laid"):
        tucked("gathered_skirt", {}, "hem", 9, 1.5)
    with pytest.raises(GarmentError, match="cannot be laid") as refusal:
        tucked("gathered_skirt", {}, "hem", 1, 9.0)
    assert "can be had" in refusal.value.mend
    _, once = tucked("gathered_skirt", {}, "hem", 1, 1.5)
    with pytest.raises(GarmentError, match="growth tucks already"):
        changed(once, [change_of("growth tuck", {"hem": "hem", "number": 1.0, "by": 1.0})])
    with pytest.raises(ChoiceError, match="'number' is missing"):
        change_of("growth tuck", {"hem": "hem", "by": 1.0})
