"""The circle skirt against the closed formulas of a circle, on sampled bodies and any width of cloth."""

from __future__ import annotations

import math

import pytest
import shapely

from clothwise.body import Body
from clothwise.curve import meeting
from clothwise.draft.circle import CIRCLE_SKIRT, PARTS
from clothwise.draft.cone import Slice
from clothwise.garment import Garment, Piece
from clothwise.garment.allowance import unfolded_cutting_line
from clothwise.garment.check import check, greatest_move, same
from tests.skirts import GIRLS, PEOPLE, WOMEN, across_cloth, angle_deg, around, seam_sides, tape, walked

WAISTS = ("band with zip", "facing with zip", "elastic")
BAND = {"waist": "band with zip"}


def panels(garment: Garment) -> list[Piece]:
    return [piece for piece in garment.pieces if "panel" in piece.name]


def seams_of(panel: Piece) -> tuple:
    """The two long sides of a panel: from the ends of its waist to the ends of its hem."""
    waist, hem = panel.line("waist"), panel.line("hem")
    return (waist.start, hem.end), (waist.end, hem.start)


@pytest.mark.parametrize("sweep", PARTS)
def test_every_rule_holds(sweep: str):
    for n, body in enumerate(PEOPLE[::2]):
        wish = {"sweep": sweep, "waist": WAISTS[n % 3], "length": ("mini", "knee", "midi", "maxi")[n % 4]}
        assert [str(fault) for fault in check(CIRCLE_SKIRT.make(body, wish))] == [], (body.name, wish)


@pytest.mark.parametrize("sweep", PARTS)
@pytest.mark.parametrize("waist", WAISTS)
def test_the_panels_are_slices_of_one_circle(sweep: str, waist: str):
    for body in PEOPLE[::3]:
        garment = CIRCLE_SKIRT.make(body, {"sweep": sweep, "waist": waist})
        girth = (
            body["waist_girth"] + 2
            if waist != "elastic"
            else max(body["hip_girth"] + 2.5, body["waist_girth"] + 2)
        )
        part = max(PARTS[sweep], (body["hip_girth"] + 5 - girth) / (2 * math.pi * body["waist_to_hip"]))
        radius, length = girth / (2 * math.pi * part), garment.finished["length"]
        turn = 0.0
        for panel in panels(garment):
            (a, b), (c, d) = seams_of(panel)
            tip = meeting(a, a.to(b), c, c.to(d))
            assert tip is not None
            for edge, wanted in (("waist", radius), ("hem", radius + length)):
                for p in panel.line(edge).flattened(tolerance=0.01):
                    assert tip.distance(p) == pytest.approx(wanted, abs=0.02)
            turn += 2 * angle_deg(a, tip, c)
        assert turn == pytest.approx(360 * part, abs=0.01)
        assert around(garment, "hem") == pytest.approx(girth + 2 * math.pi * part * length, abs=0.05)
        assert around(garment, "waist") == pytest.approx(girth, abs=0.02)


def test_a_slice_keeps_the_formulas_of_the_cone_down_to_a_rectangle():
    for bend in (0.0, 1e-3, 0.02, 0.1):
        piece = Slice(-4.0, 11.0, 60.0, bend)
        for depth in (0.0, 20.0, 60.0):
            assert tape(piece.across(depth)) == pytest.approx(15.0 * (1 + bend * depth), abs=2e-3)
            assert piece.width(depth) == pytest.approx(15.0 * (1 + bend * depth))
        for along in (-4.0, 0.0, 11.0):
            assert tape(piece.down(along, 0, 60)) == pytest.approx(60.0, abs=1e-9)
        level = piece.across(60.0)
        assert level.start_tangent.dot(piece.down(-4.0, 0, 60).end_tangent) == pytest.approx(0, abs=1e-9)
        assert level.end_tangent.dot(piece.down(11.0, 0, 60).end_tangent) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("cloth", [90.0, 112.0, 150.0])
def test_each_panel_fits_the_cloth_and_the_joins_change_nothing(cloth: float):
    for body in PEOPLE[::6]:
        for sweep in ("half", "full"):
            for length in ("knee", "maxi"):
                wish = {"sweep": sweep, "length": length, **BAND}
                joined = CIRCLE_SKIRT.make(body, {**wish, "cloth_width": cloth})
                whole = CIRCLE_SKIRT.make(body, {**wish, "cloth_width": 320.0})
                for panel in panels(joined):
                    assert across_cloth(panel) <= cloth + 0.01, (body.name, wish, panel.name)
                area = sum(panel.area_cm2() for panel in panels(joined))
                assert area == pytest.approx(sum(panel.area_cm2() for panel in panels(whole)), rel=1e-4)
                assert len(panels(joined)) >= len(panels(whole))
                assert check(joined) == ()


def test_narrow_cloth_gives_joins_that_are_sewn_and_marked():
    tall = max(PEOPLE, key=lambda body: body["height"])
    wish = {"sweep": "full", "length": "maxi", **BAND}
    counts = [
        len(panels(CIRCLE_SKIRT.make(tall, {**wish, "cloth_width": w}))) for w in (70.0, 90.0, 150.0, 320.0)
    ]
    assert counts[0] >= counts[1] > counts[2] >= counts[3] == 2
    joined = CIRCLE_SKIRT.make(tall, {**wish, "cloth_width": 90.0})
    joins = [seam for seam in joined.seams if "join" in seam.name]
    assert len(joins) == counts[1] - 2
    for seam in joins:
        assert walked(joined, seam.a) == pytest.approx(walked(joined, seam.b))
        run = seam.a[0]
        assert joined.piece(run.piece).edge(run.line).notches


def test_a_quarter_too_tight_for_the_hips_is_drawn_wider_and_says_so():
    body = WOMEN[0].with_measures(hip_girth=WOMEN[0]["waist_girth"] + 44.0)
    garment = CIRCLE_SKIRT.make(body, {"sweep": "quarter"})
    assert around(garment, "hip") == pytest.approx(body["hip_girth"] + 5, abs=0.1)
    assert any("too tight at the hip" in note.text for note in garment.notes)
    loose = CIRCLE_SKIRT.make(body, {"sweep": "half"})
    assert around(loose, "hip") > body["hip_girth"] + 5
    assert not loose.notes


@pytest.mark.parametrize("body", PEOPLE[::5], ids=lambda body: body.name)
def test_the_hips_pass_the_opened_zip_or_the_elastic(body: Body):
    zipped = CIRCLE_SKIRT.make(body, BAND)
    opening = tape(zipped.piece("back_panel").line("zip"))
    assert body["waist_girth"] + 2 + 2 * opening >= body["hip_girth"] + 2 - 1e-6
    assert opening == pytest.approx(next(n.length for n in zipped.notions if n.name == "zip"))
    stretched = CIRCLE_SKIRT.make(body, {"waist": "elastic"})
    assert tape(stretched.piece("casing_strip").line("top")) >= body["hip_girth"] + 2.5 - 1e-6
    assert not any(n.name == "zip" for n in stretched.notions)


def test_band_strip_and_facing_are_as_long_as_the_waist():
    for body in PEOPLE[::3]:
        for waist in WAISTS:
            garment = CIRCLE_SKIRT.make(body, {"waist": waist, "sweep": "three quarters"})
            one, other = seam_sides(garment, "waist")
            assert one == pytest.approx(other, abs=0.02)
        lower = CIRCLE_SKIRT.make(body, {"waist": "facing with zip"}).piece("front_facing").line("lower")
        radius = (body["waist_girth"] + 2) / math.pi
        assert tape(lower) == pytest.approx((radius + 5.5) * math.pi / 4, abs=0.05)


def test_the_band_is_lapped_and_buttoned_through():
    garment = CIRCLE_SKIRT.make(WOMEN[1], {**BAND, "band_width": 4.0})
    band = garment.piece("waistband")
    button, hole = band.mark("button").curve, band.mark("buttonhole").curve
    left, bottom, right, top = band.outline().bounds()
    assert (top - bottom, band.interfaced) == (pytest.approx(8.0), True)
    assert right - left == pytest.approx(WOMEN[1]["waist_girth"] + 2 + 3.0)
    # closed, the end of the band comes to lie where the lap begins: the button lies in its hole
    shift = tape(band.line("waist"))
    place = button.start.between(button.end).right(shift)
    assert hole.start.x - 0.01 <= place.x <= hole.end.x + 0.01
    assert place.y == pytest.approx(hole.start.y)
    assert [n.count for n in garment.notions if n.name == "button"] == [1]


def test_hems_are_narrow_where_the_flare_is_wide():
    depths = [
        CIRCLE_SKIRT.make(WOMEN[2], {"sweep": sweep}).piece("front_panel").edge("hem").allowance
        for sweep in ("quarter", "half", "three quarters", "full")
    ]
    assert depths == sorted(depths, reverse=True)
    assert depths[1] == 2.5
    assert depths[3] <= 1.3


def test_half_a_circle_on_the_fold_is_cut_in_one_line_with_its_hem():
    """The half round is a trap for what is mirrored in it: one end lies square to the other."""
    body = GIRLS[0]
    garment = CIRCLE_SKIRT.make(body, {"sweep": "full", "length": "mini", "waist": "elastic"})
    front = garment.piece("front_panel")
    assert front.cutting == "on fold"
    cut = shapely.Polygon(unfolded_cutting_line(front))
    inner, length = (body["hip_girth"] + 2.5) / (2 * math.pi), garment.finished["length"]
    hem, seam = front.edge("hem").allowance, 1.5
    outer = inner + length + hem
    ring = math.pi / 2 * (outer**2 - (inner - 1.0) ** 2) + 2 * seam * (length + hem + 1.0)
    assert cut.area == pytest.approx(ring, rel=0.003)
    assert cut.bounds[2] - cut.bounds[0] == pytest.approx(2 * outer, abs=0.1)


def test_a_child_gets_elastic_unless_a_band_is_wished():
    assert any(n.name == "elastic" for n in CIRCLE_SKIRT.make(GIRLS[0]).notions)
    assert any(n.name == "zip" for n in CIRCLE_SKIRT.make(GIRLS[0], BAND).notions)
    assert any(n.name == "zip" for n in CIRCLE_SKIRT.make(WOMEN[0]).notions)


@pytest.mark.parametrize("sweep", ["quarter", "half", "full"])
@pytest.mark.parametrize("cloth", [80.0, 140.0])
def test_a_raised_or_lowered_waist_is_still_as_long_as_its_band_or_facing(sweep: str, cloth: float):
    for body in (*WOMEN[:3], *GIRLS[:2]):
        for waist in ("band with zip", "facing with zip"):
            wish = {"sweep": sweep, "waist": waist, "cloth_width": cloth}
            garment = CIRCLE_SKIRT.make(body, {**wish, "front_waist": 2.0, "back_waist": -1.5})
            assert around(garment, "waist") == pytest.approx(body["waist_girth"] + 2, abs=0.02)
            one, other = seam_sides(garment, "waist")
            assert one == pytest.approx(other, abs=0.02)
            front, back = panels(garment)[0], garment.piece("back_panel")
            before = tape(front.edges[0].curve)
            behind = sum(tape(edge.curve) for edge in back if edge.name in ("zip", "centre"))
            assert before - behind == pytest.approx(3.5, abs=0.01)
            assert check(garment) == ()
            if waist == "facing with zip":
                facing = garment.piece("back_facing")
                assert tape(facing.line("centre")) >= 5.5 - 0.01


def test_small_changes_move_little_and_the_same_body_gives_the_same_skirt():
    body = WOMEN[4]
    for name in CIRCLE_SKIRT.needs:
        moved = body.with_measures(**{name: body[name] + 0.1})
        for wish in ({"sweep": "full"}, {"waist": "facing with zip"}):
            one, other = CIRCLE_SKIRT.make(body, wish), CIRCLE_SKIRT.make(moved, wish)
            zips = [[n.length for n in g.notions if n.name == "zip"] for g in (one, other)]
            if zips[0] == zips[1]:  # else the next longer zip as sold
                assert greatest_move(one, other) < 1.0
    assert same(CIRCLE_SKIRT.make(body), CIRCLE_SKIRT.make(body))
