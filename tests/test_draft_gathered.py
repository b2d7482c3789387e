"""The gathered skirt: as full as asked, over the hips, on any width of cloth, with each of its waists."""

from __future__ import annotations

from itertools import pairwise

import pytest

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.curve import Point
from clothwise.draft.gathered import GATHERED_SKIRT
from clothwise.errors import ChoiceError
from clothwise.garment.check import check, greatest_move, same
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps
from tests.skirts import GIRLS, PEOPLE, WOMEN, across_cloth, around, seam_sides, tape

ELASTIC, BAND, BUTTONS = "elastic", "band with zip", "band, buttons down the front"
WAISTS = (ELASTIC, BAND, BUTTONS)
LINEN = Cloth("Linen", 140, 250, kind="linen")


@pytest.mark.parametrize("waist", WAISTS)
@pytest.mark.parametrize("pockets", ["none", "patch", "side seam"])
def test_every_rule_holds(waist: str, pockets: str):
    for n, body in enumerate(PEOPLE[::3]):
        wish = {
            "waist": waist,
            "pockets": pockets,
            "length": ("knee", "midi", "maxi")[n % 3],
            "cloth_width": (90.0, 140.0)[n % 2],
            "fullness": (1.3, 2.0, 3.0)[n % 3],
        }
        assert [str(fault) for fault in check(GATHERED_SKIRT.make(body, wish))] == [], (body.name, wish)


@pytest.mark.parametrize("body", PEOPLE[::3], ids=lambda body: body.name)
def test_the_cloth_is_as_full_as_asked_or_as_the_hips_and_the_step_need(body: Body):
    for fullness in (1.3, 2.0, 3.0):
        garment = GATHERED_SKIRT.make(body, {"fullness": fullness, "length": "midi"})
        asked = fullness * body["waist_girth"]
        needed = max(body["hip_girth"] + 8, 0.75 * body["height"], body["waist_girth"] + 2)
        assert around(garment, "hem") == pytest.approx(max(asked, needed), abs=0.01)
        wider = sum(note.by for note in garment.notes if note.measure == "fullness")
        assert wider == pytest.approx(max(needed - asked, 0.0), abs=0.01)


@pytest.mark.parametrize("waist", [BAND, BUTTONS])
def test_band_and_waist_are_in_the_ratio_of_the_gathers(waist: str):
    for body in PEOPLE[::3]:
        garment = GATHERED_SKIRT.make(body, {"waist": waist, "fullness": 2.5})
        cloth, band = seam_sides(garment, "waist")
        seam = next(seam for seam in garment.seams if seam.name == "waist")
        overlap = 3.0 if waist == BUTTONS else 0.0
        assert band == pytest.approx(body["waist_girth"] + 2 + overlap, abs=0.01)
        assert cloth == pytest.approx(2.5 * body["waist_girth"] + overlap, abs=0.01)
        assert cloth == pytest.approx(seam.ratio * band, abs=0.01)


@pytest.mark.parametrize("cloth", [72.0, 75.0, 78.0, 90.0, 140.0])
def test_each_panel_fits_the_cloth_and_no_more_are_cut_than_needed(cloth: float):
    for body in PEOPLE[::4]:
        for waist in WAISTS:
            wish = {"cloth_width": cloth, "waist": waist, "fullness": 3.0}
            garment = GATHERED_SKIRT.make(body, wish)
            panels = [piece for piece in garment.pieces if "panel" in piece.name]
            for panel in panels:
                assert across_cloth(panel) <= cloth + 0.01
            per_quarter = len(panels) // 2
            if per_quarter > 1:  # one fewer would not have fitted
                centre = 5.5 if waist == BUTTONS else 2.0  # what is cut beyond the centre
                assert 3 * body["waist_girth"] / 4 / (per_quarter - 1) + 1.5 + centre > cloth
            assert check(garment) == ()


@pytest.mark.parametrize("waist", WAISTS)
def test_the_hips_get_in(waist: str):
    for body in PEOPLE[::2]:
        garment = GATHERED_SKIRT.make(body, {"waist": waist, "fullness": 1.3})
        if waist == ELASTIC:
            assert around(garment, "waist") >= body["hip_girth"] + 2.5
            assert around(garment, "waist") >= body["waist_girth"] + 2
        elif waist == BAND:
            opening = tape(garment.piece("back_panel").line("zip"))
            assert body["waist_girth"] + 2 + 2 * opening >= body["hip_girth"] + 2 - 1e-6
        else:
            assert (
                2 * tape(garment.piece("front_panel").line("stand")) > body["hip_girth"] - body["waist_girth"]
            )


def test_the_front_buttons_from_the_band_to_above_the_hem_along_the_centre():
    for body in (*WOMEN, *GIRLS):
        garment = GATHERED_SKIRT.make(body, {"waist": BUTTONS, "length": "midi"})
        front = garment.piece("front_panel")
        buttons = [m.curve.start.between(m.curve.end) for m in front.marks if m.kind == "button"]
        holes = [m.curve.start.between(m.curve.end) for m in front.marks if m.kind == "buttonhole"]
        assert len(buttons) == len(holes) >= 3
        for button, hole in zip(buttons, holes, strict=True):
            assert button.distance(hole) < 1e-9
            assert button.x == pytest.approx(0.0)
        gaps = [one.y - other.y for one, other in pairwise(buttons)]
        assert max(gaps) - min(gaps) < 1e-9
        assert 6.0 < max(gaps) <= 9.0
        bottom = front.line("hem").start.y
        assert buttons[0].y < front.line("waist").start.y - 5
        assert buttons[-1].y > bottom + front.edge("hem").allowance + 9
        stand = front.line("stand")
        assert stand.start.x == stand.end.x == -1.5  # half of the overlap past the centre
        assert front.edge("stand").allowance == pytest.approx(2 * 1.5 + 1.0)
        bought = next(n.count for n in garment.notions if n.name == "button")
        assert bought == len(buttons) + 1  # and one for the band


def test_the_band_laps_as_womens_or_mens_clothes_do_and_says_so():
    for body, over in ((WOMEN[0], "right"), (PEOPLE[len(WOMEN)], "left")):
        garment = GATHERED_SKIRT.make(body, {"waist": BUTTONS})
        band = garment.piece("waistband")
        length = tape(band.line("waist"))
        hole = band.mark("buttonhole").curve
        # the wearer's right front is sewn to the right end of the band as drawn, her left to the left end
        assert (hole.start.x > length / 2) == (over == "right")
        first = next(seam for seam in garment.seams if seam.name == "waist").a[0]
        assert (first.piece, first.side) == ("front_panel", "mirrored")
        button = band.mark("button").curve
        middle = button.start.between(button.end).x
        closed = middle + length - 3.0 if over == "right" else middle - length + 3.0
        assert min(hole.start.x, hole.end.x) - 0.01 <= closed <= max(hole.start.x, hole.end.x) + 0.01
        assert any(f"The {over} front laps over" in note.text for note in garment.notes)


def test_the_waist_is_raised_in_front_and_lowered_behind_without_a_corner_at_the_side():
    for body in WOMEN[:5]:
        wish = {"front_waist": 1.5, "back_waist": -1.0, "waist": BAND, "cloth_width": 75.0, "fullness": 3.0}
        garment = GATHERED_SKIRT.make(body, wish)
        front = garment.piece("front_panel").line("centre")
        back = garment.piece("back_panel")
        assert tape(front) == pytest.approx(1.05 * body["waist_to_knee"] + 1.5, abs=0.01)
        behind = tape(back.line("zip")) + tape(back.line("centre"))
        assert behind == pytest.approx(1.05 * body["waist_to_knee"] - 1.0, abs=0.01)
        assert check(garment) == ()


def test_a_waist_too_shaped_for_its_casing_is_refused():
    small = min(GIRLS, key=lambda body: body["waist_girth"])
    with pytest.raises(ChoiceError, match="too much for a grown-on casing") as refused:
        GATHERED_SKIRT.make(
            small, {"front_waist": 2.0, "back_waist": 2.0, "elastic_width": 6.0, "fullness": 1.3}
        )
    assert refused.value.mend
    GATHERED_SKIRT.make(small, {"front_waist": 2.0, "back_waist": 2.0, "waist": BAND})


@pytest.mark.parametrize("waist", WAISTS)
def test_it_can_be_sewn_as_the_order_of_work_says(waist: str):
    garment = GATHERED_SKIRT.make(WOMEN[0], {"waist": waist, "pockets": "side seam"})
    steps = order_of_work(garment, LINEN, Sewer("Marit", "practised", True))
    assert check_steps(garment, steps, LINEN) == ()


def test_small_changes_move_little_and_the_same_body_gives_the_same_skirt():
    body = WOMEN[4]
    for name in GATHERED_SKIRT.needs:
        moved = body.with_measures(**{name: body[name] + 0.1})
        assert greatest_move(GATHERED_SKIRT.make(body), GATHERED_SKIRT.make(moved)) < 1.0
    assert same(GATHERED_SKIRT.make(body), GATHERED_SKIRT.make(body))


def test_folds_are_upright():
    fold = GATHERED_SKIRT.make(WOMEN[0]).piece("front_panel").line("fold")
    assert (fold.start, fold.end.x) == (Point(0.0, 0.0), 0.0)
