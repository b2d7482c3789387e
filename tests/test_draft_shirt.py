"""The button-front shirt on bodies of the population: it closes, its collar fits, a button sits at the bust."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
import shapely.affinity

from clothwise.alter import apart
from clothwise.body import Body, sample
from clothwise.cloth import Cloth
from clothwise.curve import Point
from clothwise.draft.button_stand import heights
from clothwise.draft.shirt import BUTTON_FRONT_SHIRT as SHIRT
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Level, Mark, Run
from clothwise.garment.allowance import cutting_line
from clothwise.garment.check import check, greatest_move, same
from clothwise.garment.check.drawn import measured
from clothwise.garment.piece import Piece
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps

WOMEN = sample("woman", 16, seed=91)
PEOPLE = (*WOMEN, *sample("man", 12, seed=92), *sample("girl", 6, seed=93), *sample("boy", 6, seed=94))
BODIES = tuple(body for body in PEOPLE if not body.child or (body.age_years or 0) >= 2)
BAND, CAMP = SHIRT.choice("collar").options
COTTON = Cloth("Cotton", 140, 300, kind="cotton")


def tape(garment: Garment, *runs: Run) -> float:
    return sum(line.length for line in measured([garment.curve(run) for run in runs]))


@pytest.mark.parametrize("number", range(len(BODIES)))
def test_every_rule_holds_with_both_collars_and_all_ends(number: int):
    body = BODIES[number]
    sleeves, darts = SHIRT.choice("sleeve").options, SHIRT.choice("dart").options
    for i, collar in enumerate((BAND, CAMP)):
        for k, shape in enumerate(("straight", "shirt tail")):
            n = number + 2 * i + k
            wish: dict[str, float | str] = {
                "collar": collar,
                "hem_shape": shape,
                "sleeve": sleeves[n % 3],
                "sleeve_end": SHIRT.choice("sleeve_end").options[(n // 3) % 3],
                "dart": darts[n % len(darts)],
                "length": SHIRT.choice("length").options[n % 4],
                "fit": SHIRT.choice("fit").options[(n // 2) % 4],
            }
            assert [str(fault) for fault in check(SHIRT.make(body, wish))] == [], (body.name, wish)


def test_closed_it_measures_the_body_and_its_ease():
    for body in BODIES:
        finished = SHIRT.make(body, {"bust_ease": 14.0, "hip_ease": 12.0, "dart_split": 12.0}).finished
        assert finished["bust"] == pytest.approx(body["bust_girth"] + 14, abs=0.1)
        assert finished["hip"] >= body["hip_girth"] + 12 - 0.1


def test_the_fit_word_gives_the_ease_of_the_trade():
    for body in WOMEN[:4]:
        finished = [
            SHIRT.make(body, {"fit": fit, "dart": "none"}).finished for fit in SHIRT.choice("fit").options
        ]
        eases = [one["bust"] - body["bust_girth"] for one in finished]
        assert eases == pytest.approx([9, 12, 16, 20], abs=0.1)


def test_centre_lies_on_centre_when_it_is_buttoned():
    for body in BODIES[::3]:
        front = SHIRT.make(body).piece("front")
        edge = front.edge("front_edge").curve
        half = 1.25 if body.child else 1.5
        assert edge.start.x == edge.end.x == pytest.approx(-half)
        for mark in buttons(front):
            assert (mark.curve.start.x + mark.curve.end.x) / 2 == pytest.approx(0)
        assert front.edge("front_edge").allowance == pytest.approx(2 * half + 1)


def buttons(front: Piece) -> list[Mark]:
    return [mark for mark in front.marks if mark.kind == "button"]


def test_the_collar_is_as_long_as_the_neck_it_is_sewn_to():
    for body in BODIES:
        for kind in (BAND, CAMP):
            garment = SHIRT.make(body, {"collar": kind})
            front, back = garment.piece("front"), garment.piece("back")
            neck = 2 * (tape(garment, Run("front", "neck")) + tape(garment, Run("back", "neck")))
            assert tape(garment, Run("collar", "neck")) == pytest.approx(neck, abs=1e-3)
            assert body["neck_base_girth"] + 1 < garment.finished["collar"] < body["neck_base_girth"] + 8
            # a band goes on over the stand, a camp collar ends at the centre
            end = front.edge("neck").curve.end.x
            assert (end < -1) == (kind == BAND)
            assert (abs(end) < 1e-9) == (kind == CAMP)
            assert back.edge("neck")


def test_the_collars_shoulder_mark_meets_the_shoulder_seam():
    for body in BODIES[::4]:
        garment = SHIRT.make(body)
        collar = garment.piece("collar")
        neck, at = collar.edge("neck").curve, collar.mark("right_shoulder").curve.start
        behind = neck.length() / 2 + tape(garment, Run("back", "neck"))
        assert neck.at_length(behind).distance(at) < 1e-4


# ---- buttons -------------------------------------------------------------------------------------------------


def test_one_button_sits_at_the_bust_and_all_are_evenly_apart():
    for body in BODIES:
        garment = SHIRT.make(body)
        front = garment.piece("front")
        ys = [mark.curve.start.y for mark in buttons(front)]
        gaps = [a - b for a, b in pairwise(ys)]
        assert max(gaps) - min(gaps) < 1e-6
        assert (4.0 if body.child else 5.5) < gaps[0] < 11.5
        for bust in (m.curve.start.y for m in front.marks if m.name == "bust_point"):
            assert min(abs(y - bust) for y in ys) < 1e-6
        neck, hem = front.edge("neck").curve.end.y, front.edge("hem").curve.start.y
        assert 0 < neck - ys[0] < gaps[0]
        assert ys[-1] - hem > 0.85 * gaps[0]


def test_heights_by_hand():
    """From neck to bust 20: two and three quarters of a gap, so each is 7.27; then down to above the hem."""
    gap = 20 / 2.75
    wanted = [20 + 2 * gap, 20 + gap, 20.0, *(20 - i * gap for i in range(1, 6))]
    assert heights(40.0, 20.0, -30.0, 8.0) == pytest.approx(wanted)


def test_buttonholes_fit_the_buttons_and_as_many_are_bought_as_are_marked():
    for body in BODIES[::3]:
        for kind, more in ((BAND, 1), (CAMP, 0)):
            garment = SHIRT.make(body, {"collar": kind})
            (bought,) = (n for n in garment.notions if n.name == "button")
            holes = [m for m in garment.piece("front").marks if m.kind == "buttonhole"]
            assert bought.count == len(holes) + more == len(buttons(garment.piece("front"))) + more
            assert all(m.curve.length() == pytest.approx(bought.width + 0.3) for m in holes)
            on_collar = [m for m in garment.piece("collar").marks if m.kind in ("button", "buttonhole")]
            assert len(on_collar) == 2 * more


def test_buttonholes_are_worked_on_the_side_of_the_trade():
    for body in BODIES[::5]:
        garment = SHIRT.make(body)
        text = next(n.text for n in garment.notes if n.text.startswith("Buttonholes"))
        men = body.figure in ("man", "boy")
        assert ("wearer's left front" in text) == men
        hole = garment.piece("collar").mark("collar_buttonhole").curve
        assert (hole.start.x < 0) == men  # the collar is drawn from behind: the wearer's left is on the left


def test_small_parts_are_cautioned_for_children_and_left_to_local_rules():
    for body in BODIES:
        said = [n for n in SHIRT.make(body).notes if "small parts" in n.text]
        assert bool(said) == body.child
        assert all("rules" in n.text for n in said)


# ---- sleeve ends, hem, refusals ----------------------------------------------------------------------


def test_the_hand_passes_the_cuff_and_the_sleeve_is_gathered_onto_it():
    for body in BODIES[::3]:
        garment = SHIRT.make(body)
        cuff = tape(garment, Run("cuff", "outer"))
        assert cuff >= 1.38 * body["wrist_girth"] + 0.5
        seam = next(s for s in garment.seams if s.name == "cuff")
        assert 1.0 <= seam.ratio <= 1.26
        hemmed = SHIRT.make(body, {"sleeve_end": "hem"})
        assert hemmed.finished["sleeve length"] == pytest.approx(garment.finished["sleeve length"])
        assert not any(piece.name == "cuff" for piece in hemmed.pieces)


@pytest.mark.parametrize("body", BODIES[::3], ids=lambda body: body.name)
def test_a_buttoned_cuff_fits_the_wrist_and_opens_for_the_hand(body: Body):
    garment = SHIRT.make(body, {"sleeve_end": "buttoned cuff"})
    cuff, sleeve = garment.piece("cuff"), garment.piece("sleeve")
    (button,) = (mark.curve for mark in cuff.marks if mark.kind == "button")
    (hole,) = (mark.curve for mark in cuff.marks if mark.kind == "buttonhole")
    closed = button.start.between(button.end).x - hole.start.between(hole.end).x  # button in its hole
    assert 2.4 <= closed - body["wrist_girth"] <= 3.1
    fold = cuff.mark("fold").curve.start.y
    assert 0 < button.start.y < fold, "on the half that is seen, beside the sleeve"
    slit = sleeve.edge("slit").curve
    opened = tape(garment, Run("cuff", "outer"), Run("sleeve", "slit"))
    assert opened >= 1.38 * body["wrist_girth"] + 3, "with the slit open the hand passes easily"
    assert slit.bounds()[3] - slit.start.y >= 4.4
    back, front = sleeve.edge("wrist_back").curve.length(), sleeve.edge("wrist_front").curve.length()
    assert 0.2 < back / (back + front) < 0.3, "at the back of the wrist"
    plain = SHIRT.make(body)
    assert garment.finished["sleeve length"] == pytest.approx(plain.finished["sleeve length"])
    buttons = [sum(n.count for n in g.notions if n.name == "button") for g in (garment, plain)]
    assert buttons[0] == buttons[1] + 2


def test_a_slit_is_faced_and_cut_before_its_cuff_goes_on():
    garment = SHIRT.make(WOMEN[0], {"sleeve_end": "buttoned cuff"})
    steps = order_of_work(garment, COTTON, Sewer())
    assert check_steps(garment, steps, COTTON) == ()
    names = [step.name for step in steps]
    assert names.index("slit") < names.index("sleeve"), "while the sleeve lies flat"
    assert names.index("slit") < names.index("cuff") < names.index("cuff_inside")
    facing, sleeve = (
        shapely.Polygon(garment.piece(n).polygon(tolerance=0.01)) for n in ("slit_facing", "sleeve")
    )
    assert facing.difference(sleeve.buffer(0.02)).area < 0.01, "the facing lies on the sleeve"


@pytest.mark.parametrize("body", BODIES[::4], ids=lambda body: body.name)
def test_side_slits_end_the_side_seams_so_far_above_a_straight_hem(body: Body):
    wish: dict[str, float | str] = {"hem_shape": "straight", "length": "tunic"}
    plain, slit = SHIRT.make(body, wish), SHIRT.make(body, {**wish, "side_slit": 8.0})
    assert [str(fault) for fault in check(slit)] == []
    for name in ("front", "back"):
        edge = slit.piece(name).edge("slit")
        assert tape(slit, Run(name, "slit")) == pytest.approx(8, abs=1e-3)
        assert edge.kind == "hem"
        ours, theirs = (shapely.Polygon(g.piece(name).polygon(tolerance=0.001)) for g in (slit, plain))
        assert ours.symmetric_difference(theirs).area < 0.01, "the shirt itself stays as it is"
    seams = [sum(tape(g, run) for run in g.seam("side_seam").a) for g in (plain, slit)]
    assert seams[0] - seams[1] == pytest.approx(8, abs=1e-3)
    steps = order_of_work(slit, COTTON, Sewer())
    assert check_steps(slit, steps, COTTON) == ()


@pytest.mark.parametrize(("length", "long"), [("shirt", 5.0), ("shirt", 12.0), ("dress", 20.0)])
def test_where_two_turns_meet_the_cutting_line_runs_round_in_one(length: str, long: float):
    """No slit of a hair is left between the images of stand, hem and slits, left and right alike."""
    for body in BODIES[::9]:
        for wish in ({}, {"hem_shape": "straight", "length": length, "side_slit": long}):
            garment = apart(SHIRT.make(body, wish))
            for piece in garment.pieces:
                assert sharpest_deg(cutting_line(piece)) <= 135, (body.name, piece.name)
            left, right = (
                shapely.Polygon(cutting_line(garment.piece(f"{s}_front"))) for s in ("left", "right")
            )
            assert left.symmetric_difference(shapely.affinity.scale(right, -1.0, origin=(0, 0))).area < 0.05


def sharpest_deg(ring: Sequence[Point]) -> float:
    """How much a closed line turns at its sharpest corner; 180: it runs back the way it came."""
    corners = zip((ring[-1], *ring), ring, (*ring[1:], ring[0]), strict=False)
    ways = [(a.to(b), b.to(c)) for a, b, c in corners]
    return max(math.degrees(math.acos(max(-1.0, min(1.0, u.unit().dot(v.unit()))))) for u, v in ways)


def test_side_slits_are_refused_on_a_shirt_tail_and_up_to_the_waist():
    with pytest.raises(ChoiceError, match="belong to a straight hem"):
        SHIRT.make(WOMEN[0], {"side_slit": 8.0})
    with pytest.raises(ChoiceError, match="too near to the waist"):
        SHIRT.make(WOMEN[0], {"side_slit": 20.0, "hem_shape": "straight", "length": "top"})


def test_a_shirt_tail_rises_to_the_side_seams():
    for body in BODIES[::3]:
        rises = []
        for shape in ("straight", "shirt tail"):
            hem = SHIRT.make(body, {"hem_shape": shape}).piece("front").edge("hem").curve
            rises.append(hem.end.y - hem.start.y)
        assert rises[1] > rises[0] + 2.0


def test_a_girth_counts_to_the_centre_of_a_front_that_overlaps_and_no_further():
    """Without its centre line the bust line ends in the middle of the front, and the check says so."""
    garment = SHIRT.make(WOMEN[0])
    front = garment.piece("front")
    bare = replace(front, marks=tuple(m for m in front.marks if m.kind != "centre"))
    broken = replace(garment, pieces=tuple(bare if p.name == "front" else p for p in garment.pieces))
    assert any(f.rule == "level across" for f in check(broken))
    short = replace(garment, levels=tuple(replace(v, ease=v.ease + 1) for v in garment.levels))
    assert isinstance(garment.levels[0], Level)
    assert any(f.rule == "girth" for f in check(short))


@pytest.mark.parametrize("overlocker", [True, False])
@pytest.mark.parametrize("collar", [BAND, CAMP])
def test_it_can_be_sewn_as_the_order_of_work_says(collar: str, overlocker: bool):
    garment = SHIRT.make(WOMEN[0], {"collar": collar})
    steps = order_of_work(garment, COTTON, Sewer("Marit", "practised", overlocker))
    assert check_steps(garment, steps, COTTON) == ()


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"hem": 3.0}, "shirt tail"),
        ({"longer": -20.0, "length": "top"}, "end too high"),
        ({"sleeve": "short", "sleeve_longer": -10.0}, "where it is sewn in"),
        ({"collar": "ruff"}, "not one of the options"),
        ({"bust_ease": 2.0}, "out of range"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(wish: dict[str, float | str], says: str):
    with pytest.raises(ChoiceError) as refused:
        SHIRT.make(WOMEN[0], wish)
    assert says in str(refused.value)
    assert refused.value.mend


def test_a_millimetre_more_of_a_measure_moves_nothing_by_a_centimetre():
    for body in (BODIES[2], BODIES[-2]):
        before = SHIRT.make(body)
        for name in SHIRT.needs:
            after = SHIRT.make(body.with_measures(**{name: body[name] + 0.1}))
            assert greatest_move(before, after) < 1.0 or _changed(before, after), name


def _changed(before: Garment, after: Garment) -> bool:
    """A dart or a button came or went."""
    counts = [(len(g.piece("front").darts), len(g.piece("front").marks)) for g in (before, after)]
    return counts[0] != counts[1]


def test_the_same_body_gives_the_same_shirt():
    one: Body = WOMEN[0]
    assert same(SHIRT.make(one), SHIRT.make(one))
