"""Pockets in the side seam: the hand goes in, the bag hangs behind the front and is sewn to both panels."""

from __future__ import annotations

from itertools import pairwise

import pytest
import shapely

from clothwise.body import Body
from clothwise.curve import DOWN, Curve, Point, sweep
from clothwise.draft import in_seam_pocket, pattern
from clothwise.draft.in_seam_pocket import Room, pocket_for
from clothwise.errors import ChoiceError
from clothwise.garment import Garment
from clothwise.garment.check import check
from tests.skirts import GIRLS, PEOPLE, WOMEN, points, ring, seam_sides, tape

DRAFTS = ("four_panel_skirt", "a_line_skirt", "circle_skirt", "gathered_skirt")
CURVED = sweep(Point(22.0, 0.0), Point(0, 0).to(Point(0.25, -1.0)), Point(26.0, -60.0), DOWN)


def made(name: str, body: Body) -> Garment:
    return pattern(name).make(body, {"pockets": "side seam", "length": "midi"})


@pytest.mark.parametrize("name", DRAFTS)
def test_both_panels_and_the_bag_have_one_opening_a_hand_goes_through(name: str):
    for body in PEOPLE[::2]:
        garment = made(name, body)
        opening = tape(garment.piece("pocket_bag").line("opening"))
        assert opening >= min(13.0, 0.15 * body["hip_girth"]) - 0.01
        for side in ("front", "back"):
            bag, panel = seam_sides(garment, f"pocket_{side}")
            assert bag == pytest.approx(opening, abs=1e-3)
            assert panel == pytest.approx(opening, abs=1e-3)
        for seam in ("side_upper", "side_lower"):
            one, other = seam_sides(garment, seam)
            assert one == pytest.approx(other, abs=1e-3)
        assert check(garment) == ()


@pytest.mark.parametrize("name", ["four_panel_skirt", "a_line_skirt"])
def test_the_bag_hangs_behind_the_front_clear_of_hem_and_centre(name: str):
    for body in (*WOMEN, *GIRLS):
        garment = made(name, body)
        front = garment.piece("front_panel")
        bag = ring(garment.piece("pocket_bag"))
        opening = front.line("pocket_opening")
        drawn = garment.piece("pocket_bag").line("opening")
        moved = shapely.affinity.translate(
            bag, opening.start.x - drawn.start.x, opening.start.y - drawn.start.y
        )
        if name == "four_panel_skirt":  # there the bag is drawn upright, the seam may lean
            lean = opening.start.to(opening.end).angle_deg - 90.0
            moved = shapely.affinity.rotate(moved, lean, origin=tuple(opening.start))
        outside = moved.difference(ring(front).buffer(0.05)).area
        assert outside < 0.5, body.name
        hem = front.edge("hem")
        assert moved.bounds[1] > max(hem.curve.start.y, hem.curve.end.y) - 3.0 + hem.allowance
        centre = front.edges[0].curve
        assert moved.bounds[0] > max(centre.start.x, centre.end.x) + 1.5


def test_a_curved_side_seam_gives_a_bag_of_its_own_shape():
    pocket = pocket_for(100.0, 5.0, Room(24.0, 55.0))
    assert pocket is not None
    upper, opening, lower = in_seam_pocket.split(pocket, CURVED)
    assert tape(upper) == pytest.approx(5.0, abs=1e-3)
    assert tape(opening) == pytest.approx(15.0, abs=1e-3)
    assert tape(upper) + tape(opening) + tape(lower) == pytest.approx(tape(CURVED), abs=1e-3)
    bag = in_seam_pocket.bag(pocket, CURVED, 1.5)
    assert abs(points(bag.line("opening").reversed()) - points(opening)).max() < 1e-9
    assert (bag.cutting, bag.copies, bag.layer) == ("pair", 4, "pocket")
    assert ring(bag).is_valid
    assert ring(bag).bounds[1] == pytest.approx(
        opening.end.y - pocket.depth, abs=1.5
    )  # it hangs along the seam


def test_the_edges_run_on_in_either_direction_with_their_notch_at_one_place():
    pocket = pocket_for(100.0, 5.0, Room(24.0, 55.0))
    assert pocket is not None
    down = in_seam_pocket.side_edges(pocket, CURVED, 1.5, upwards=False)
    up = in_seam_pocket.side_edges(pocket, CURVED, 1.5, upwards=True)
    assert (
        [e.name for e in down] == ["side_upper", "pocket_opening", "side_lower"] == [e.name for e in up][::-1]
    )
    for edges in (down, up):
        for one, other in pairwise(edges):
            assert one.curve.end.distance(other.curve.start) < 1e-9
    assert (
        _notch(down[1].curve, down[1].notches[0].at).distance(_notch(up[1].curve, up[1].notches[0].at)) < 1e-4
    )


def _notch(curve: Curve, at: float) -> Point:
    return curve.at_length(at)


def test_marks_show_both_ends_of_the_opening():
    garment = made("gathered_skirt", WOMEN[0])
    front = garment.piece("front_panel")
    opening = front.line("pocket_opening")
    ends = [front.mark(name).curve.start for name in ("pocket_from", "pocket_to")]
    assert ends[0].distance(opening.end) < 1e-6
    assert ends[1].distance(opening.start) < 1e-6


def test_where_it_does_not_fit_it_is_left_out_or_refused():
    assert pocket_for(100.0, 5.0, Room(24.0, 22.0)) is None
    assert pocket_for(100.0, 5.0, Room(7.0, 60.0)) is None
    shallow = pocket_for(100.0, 5.0, Room(24.0, 28.0))
    assert shallow is not None
    assert shallow.lowest == pytest.approx(28.0)
    small = min(GIRLS, key=lambda body: body["height"])
    with pytest.raises(ChoiceError, match="does not fit above the hem") as refused:
        pattern("four_panel_skirt").make(small, {"pockets": "side seam", "length": "mini", "hem": 8.0})
    assert "no pockets" in refused.value.mend
