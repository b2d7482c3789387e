"""The bias camisole on bodies of the population: darts close, edges run on, straps reach, the drop is met."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from clothwise.body import Body, Figure, sample
from clothwise.cloth import Cloth
from clothwise.curve import Curve, Point
from clothwise.draft.camisole import BIAS_CAMISOLE
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Piece
from clothwise.garment.check import check, greatest_move, same
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps

Wish = dict[str, float | str]
WOMEN = sample("woman", 16, seed=51)
GIRLS = tuple(b for b in sample("girl", 10, seed=52) if (b.age_years or 0) >= 4)
PEOPLE = (*WOMEN, *GIRLS, *sample("man", 4, seed=53))
SATIN = Cloth("Satin", 140, 300, kind="viscose")
WISHES: tuple[Wish, ...] = (
    {},
    {"neckline": "V", "edges": "faced"},
    {"length": "knee slip", "strap_width": 1.2},
    {"length": "midi slip", "edges": "faced", "flare": 12.0, "neck_depth": -1.0},
)


def make(body: Body, wish: Wish | None = None) -> Garment:
    return BIAS_CAMISOLE.make(body, wish or {})


def walked(curve: Curve) -> float:
    points = np.array(curve.flattened(tolerance=1e-5))
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def shape(piece: Piece) -> shapely.Polygon:
    return shapely.Polygon(piece.polygon(tolerance=1e-3))


def width_at(piece: Piece, y: float) -> float:
    left, _, right, _ = shape(piece).bounds
    return float(shape(piece).intersection(shapely.LineString([(left - 1, y), (right + 1, y)])).length)


@pytest.mark.parametrize("wish", WISHES, ids=str)
def test_every_rule_holds(wish: Wish) -> None:
    for body in PEOPLE:
        assert [str(fault) for fault in check(make(body, wish))] == [], body.name


@pytest.mark.parametrize("wish", WISHES[:2], ids=str)
def test_it_can_be_sewn_as_the_order_of_work_says(wish: Wish) -> None:
    garment = make(WOMEN[0], wish)
    steps = order_of_work(garment, SATIN, Sewer("Marit", "practised", True))
    assert check_steps(garment, steps, SATIN) == ()
    titles = [step.title for step in steps]
    assert titles.index("Let it hang") < titles.index("Hem")


def test_nothing_is_cut_on_the_fold_and_all_of_it_on_the_bias() -> None:
    for body in PEOPLE[::3]:
        for wish in WISHES[:2]:
            for piece in make(body, wish).pieces:
                assert piece.cutting == "single"
                assert piece.bias
                assert piece.fold is None


def test_both_halves_are_mirror_images() -> None:
    for body in PEOPLE[::2]:
        for piece in make(body).pieces[:2]:
            whole = shape(piece)
            other = shapely.affinity.scale(whole, xfact=-1, origin=(0, 0))
            assert whole.symmetric_difference(other).area < 1e-3 * whole.area


def test_bust_is_the_body_and_its_ease_and_hips_have_room() -> None:
    for body in PEOPLE:
        garment = make(body, {"bust_ease": 6.0, "hip_ease": 8.0})
        front, back = garment.piece("front"), garment.piece("back")
        y = front.mark("bust").curve.start.y - 1e-6
        assert width_at(front, y) + width_at(back, y) == pytest.approx(body["bust_girth"] + 6, abs=0.02)
        y = front.mark("hip").curve.start.y
        assert y >= -body["waist_to_hip"] - 1e-9
        at_hip = width_at(front, y) + width_at(back, y)
        # who is wider above hangs straight from the bust
        assert at_hip >= min(body["hip_girth"] + 8, body["bust_girth"] + 6) - 0.5


def test_the_dart_follows_the_cup_and_points_at_the_bust() -> None:
    for body in WOMEN:
        front = make(body).piece("front")
        cup = body["bust_girth"] - body["high_bust_girth"]
        angle = math.degrees(cup / 2 / (0.16 * body["bust_girth"]))
        assert len(front.darts) == (2 if angle >= 3.5 else 0)
        for dart in front.darts:
            one, other = dart.tip.distance(dart.first_leg), dart.tip.distance(dart.second_leg)
            assert one == pytest.approx(other, abs=1e-6)
            bust = Point(math.copysign(body["bust_point_distance"] / 2, dart.tip.x), dart.tip.y)
            assert 1.0 < abs(dart.tip.x - bust.x) < 4.0  # it ends short of the bust point
            assert abs(dart.tip.x) > abs(bust.x)
    for body in GIRLS:
        if (body.age_years or 0) < 11:
            assert make(body).piece("front").darts == ()


def test_a_fuller_cup_makes_a_wider_dart_and_a_longer_front() -> None:
    body = WOMEN[3]
    mouths, fronts = [], []
    for cup in (3.0, 6.0, 9.0):
        front = make(body.with_measures(high_bust_girth=body["bust_girth"] - cup)).piece("front")
        mouths.append(front.darts[0].first_leg.distance(front.darts[0].second_leg))
        fronts.append(front.edge("left_armhole").curve.end.y)
    assert mouths == sorted(mouths)
    assert mouths[2] > 2.5 * mouths[0]
    assert fronts == sorted(fronts)


def test_the_side_seams_of_front_and_back_are_equally_long() -> None:
    for body in PEOPLE:
        for wish in WISHES[::2]:
            garment = make(body, wish)
            front, back = garment.piece("front"), garment.piece("back")
            sides = [e for e in front if e.name.startswith("left_side")]
            sewn = sum(walked(edge.curve) for edge in sides)
            assert sewn == pytest.approx(walked(back.edge("left_side").curve), abs=0.02)


def test_bindings_are_as_long_as_the_edges_they_bind() -> None:
    for body in PEOPLE[::2]:
        for style in ("round", "V"):
            garment = make(body, {"neckline": style})
            front, back = garment.piece("front"), garment.piece("back")
            neck = sum(walked(edge.curve) for edge in front if "neck" in edge.name)
            around = 2 * walked(front.edge("left_armhole").curve) + walked(back.edge("top").curve)
            assert walked(garment.piece("neck_binding").edge("outer").curve) == pytest.approx(neck, abs=0.01)
            assert walked(garment.piece("top_binding").edge("outer").curve) == pytest.approx(around, abs=0.01)


def test_facings_lie_on_what_they_face_and_clear_the_dart() -> None:
    for body in PEOPLE:
        for style in ("round", "V"):
            garment = make(body, {"neckline": style, "edges": "faced"})
            for faced in ("front", "back"):
                piece, facing = garment.piece(faced), garment.piece(f"{faced}_facing")
                outside = shape(facing).difference(shape(piece).buffer(0.05)).area
                assert outside < 0.05, (body.name, style, faced)
                for dart in piece.darts:
                    wedge = shapely.Polygon([dart.tip, dart.first_leg, dart.second_leg])
                    assert not shape(facing).intersects(wedge), (body.name, style)


def test_straps_reach_over_the_shoulder_with_some_to_spare() -> None:
    for body in PEOPLE:
        garment = make(body)
        strap = walked(garment.piece("strap").edge("outer").curve)
        front, back = garment.piece("front"), garment.piece("back")
        peak = front.edge("left_armhole").curve.end
        # along the body from waist to waist over the shoulder, less front and back as they are cut
        up_front = body["shoulder_neck_point_to_bust_point"]
        top_back = back.mark("left_strap_place").curve.start.y
        over = up_front + body["back_waist_length"] - top_back
        assert 0.45 * over < strap < over + 3.0
        assert abs(peak.x) >= body["bust_point_distance"] / 2


def test_a_strap_lies_inside_the_peak_and_as_wide_as_asked() -> None:
    for body in PEOPLE[::2]:
        for width in (0.6, 1.2):
            front = make(body, {"strap_width": width}).piece("front")
            place = front.mark("left_strap_place").curve
            assert place.length() == pytest.approx(width)
            room = shapely.LineString(place.flattened(tolerance=1e-3))
            assert shape(front).covers(room.buffer(0.1))
            assert place.start.distance(front.edge("left_armhole").curve.end) < 3.7


def test_lengths_are_cut_shorter_by_what_the_bias_drops() -> None:
    for body in PEOPLE[::2]:
        for word in ("camisole", "knee slip", "midi slip"):
            garment = make(body, {"length": word})
            hung = garment.finished["length from the underarm"]
            back = garment.piece("back")
            cut = back.edge("left_side").curve.start.y - min(p.y for p in back.polygon(tolerance=0.01))
            assert cut == pytest.approx(0.98 * hung, abs=0.01)
            note = next(note for note in garment.notes if note.measure == "length")
            assert note.by == pytest.approx(cut - hung, abs=0.01)
            longer = make(body, {"length": word, "longer": -2.0}).finished["length from the underarm"]
            assert longer == pytest.approx(hung - 2.0)


def test_a_slip_lets_her_step() -> None:
    for body in PEOPLE[::2]:
        garment = make(body, {"length": "midi slip"})
        hem = sum(walked(garment.piece(half).edge("hem").curve) for half in ("front", "back"))
        assert hem >= 0.74 * body["height"]


def test_a_child_is_told_of_nightwear() -> None:
    for body in PEOPLE[::3]:
        assert any("nightwear" in note.text for note in make(body).notes) == body.child


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"longer": 20.0, "length": "midi slip"}, None),
        ({"longer": -20.0}, "no longer reach the hip"),
        ({"neck_depth": 6.0, "neckline": "V"}, "between straps and bust"),
        ({"neck_depth": -4.0, "neckline": "round"}, "between straps and bust"),
        ({"strap_width": 5.0}, "out of range"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(wish: Wish, says: str | None) -> None:
    if says is None:
        assert check(make(WOMEN[0], wish)) == ()
        return
    with pytest.raises(ChoiceError, match=says) as refused:
        make(WOMEN[0], wish)
    assert refused.value.mend


def test_a_millimetre_more_of_a_measure_moves_nothing_by_a_centimetre() -> None:
    for body in (WOMEN[2], GIRLS[0]):
        for name in BIAS_CAMISOLE.needs:
            moved = body.with_measures(**{name: body[name] + 0.1})
            assert greatest_move(make(body), make(moved)) < 1.0, (body.name, name)


def test_the_same_body_gives_the_same_camisole() -> None:
    assert same(make(WOMEN[0]), make(WOMEN[0]))


@pytest.mark.parametrize(
    ("figure", "number", "of"), [("woman", 384, 700), ("man", 170, 600), ("woman", 582, 700)]
)
def test_a_v_ends_above_the_bust_line(figure: Figure, number: int, of: int) -> None:
    front = BIAS_CAMISOLE.make(sample(figure, of, 2026)[number], {"neckline": "V"}).piece("front")
    lowest = min(p.y for edge in front if "neck" in edge.name for p in edge.curve.flattened(tolerance=0.01))
    (bust,) = (mark.curve.start.y for mark in front.marks if mark.name == "bust")
    assert bust < lowest < bust + 3.0
