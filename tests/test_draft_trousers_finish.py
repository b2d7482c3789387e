"""Pockets, darts, drawstring and front crotch length of pull-on trousers: where a cutter lays the ruler."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely

from clothwise.body import Body, Figure, sample
from clothwise.curve import Point
from clothwise.draft import pattern
from clothwise.errors import ChoiceError, MeasureError, WorkroomError
from clothwise.garment import Garment
from clothwise.garment.allowance import cutting_line
from clothwise.garment.check import check, greatest_move
from clothwise.garment.check.drawn import seen

TROUSERS = pattern("pull_on_trousers")
FIGURES: tuple[Figure, ...] = ("woman", "man", "girl", "boy")
PEOPLE = tuple(body for n, figure in enumerate(FIGURES) for body in sample(figure, 9, seed=60 + n))
SOME = PEOPLE[::6]
ADULTS = tuple(body for body in SOME if not body.child)
FRONT, BACK, BAG = "front_leg", "back_leg", "pocket_bag"
FLAT_FRONT = "flat front, elastic at the back"
DARTS = {"front_darts": "one each side"}
TOE = 0.75  # cm: the front's share of the crotch ease


def each(bodies: tuple[Body, ...]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("body", bodies, ids=lambda body: f"{body.figure}-{body.name}")


def measured(garment: Garment, piece: str, line: str) -> float:
    return seen(garment)[piece].lines[line].length


def shape(garment: Garment, piece: str) -> shapely.Polygon:
    found = seen(garment)[piece].shape
    assert found is not None
    return found


def cut_shape(garment: Garment, piece: str) -> shapely.Polygon:
    return shapely.Polygon(cutting_line(garment.piece(piece)))


def casing_turn(garment: Garment) -> float:
    return next(free.turn for free in garment.free_edges if free.name == "casing")


@pytest.mark.parametrize(
    "wish",
    [
        {"pockets": "in-seam", "leg": "wide"},
        {"pockets": "in-seam", "length": "above-knee", "rise": -2.0},
        {"pockets": "patch in front", "leg": "tapered"},
        {"pockets": "patch on the seat", **DARTS, "waist": FLAT_FRONT},
        {"pockets": "in-seam", **DARTS},
        {"drawstring": "tied in front", "pockets": "in-seam"},
    ],
    ids=str,
)
def test_every_rule_holds_with_each_finish(wish: dict[str, float | str]):
    drawn = 0
    for body in PEOPLE:
        try:
            garment = TROUSERS.make(body, wish)
        except ChoiceError:
            continue
        drawn += 1
        assert [str(fault) for fault in check(garment)] == [], body.name
    assert drawn >= (0.4 if wish.get("drawstring") else 0.8) * len(PEOPLE)


# ---- pockets -----------------------------------------------------------------------------------------


@each(SOME)
def test_a_pocket_in_the_seam_takes_the_hand_and_hangs_behind_the_front(body: Body):
    plain, garment = TROUSERS.make(body), TROUSERS.make(body, {"pockets": "in-seam"})
    parts = ("side_upper", "pocket_opening", "side_lower")
    for piece in (FRONT, BACK):
        walked = sum(measured(garment, piece, part) for part in parts)
        assert walked == pytest.approx(measured(plain, piece, "side_seam"), abs=0.01)
        assert measured(garment, piece, "pocket_opening") == pytest.approx(measured(garment, BAG, "opening"))
    assert 9.99 <= measured(garment, BAG, "opening") <= 17.0
    assert measured(garment, FRONT, "side_upper") > casing_turn(garment) + 1.0
    bag, front = shape(garment, BAG), shape(garment, FRONT)
    assert bag.difference(front.buffer(0.3)).area < 0.5
    assert garment.piece(BAG).copies == 4


@each(SOME)
def test_a_pocket_on_the_front_lies_between_casing_and_hem_clear_of_the_seams(body: Body):
    garment = TROUSERS.make(body, {"pockets": "patch in front"})
    place = shapely.LineString(garment.piece(FRONT).line("pocket_place").flattened(tolerance=0.01))
    front = garment.piece(FRONT)
    assert shape(garment, FRONT).contains(place)
    for edge in ("crotch", "side_seam"):
        assert place.distance(shapely.LineString(front.line(edge).flattened(tolerance=0.01))) > 1.2
    waist = shapely.LineString(front.line("waist").flattened(tolerance=0.01))
    assert place.distance(waist) > casing_turn(garment) + 1.0
    assert place.length == pytest.approx(
        sum(measured(garment, "patch_pocket", side) for side in ("left_side", "base", "right_side")), abs=0.02
    )


@each(SOME)
def test_a_pocket_on_the_seat_runs_along_with_the_waist(body: Body):
    garment = TROUSERS.make(body, {"pockets": "patch on the seat"})
    back = garment.piece(BACK)
    place = back.line("pocket_place")
    top = place.start.to(place.end)
    waist = back.line("waist").end.to(back.line("waist").start)
    assert math.degrees(math.atan2(top.cross(waist), top.dot(waist))) == pytest.approx(0.0, abs=0.5)
    assert shape(garment, BACK).contains(shapely.LineString(place.flattened(tolerance=0.01)))
    assert place.bounds()[1] > back.line("crotch").start.y  # it ends above the crotch


def test_where_no_pocket_fits_the_sewer_is_told():
    child = min((b for b in PEOPLE if b.child), key=lambda b: b["height"])
    found: list[str] = []
    for shorter in range(20):
        wish: dict[str, float | str] = {"length": "above-knee", "longer": -float(shorter) / 4}
        try:
            TROUSERS.make(child, wish)
        except ChoiceError:
            break  # shorter there is no leg at all
        try:
            TROUSERS.make(child, {**wish, "pockets": "patch in front"})
        except ChoiceError as refusal:
            found.append(str(refusal))
    assert found, "shorts too short for a pocket were never refused"
    assert all("pocket" in sentence and "cm longer" in sentence for sentence in found)


# ---- front darts -------------------------------------------------------------------------------------


def darted(body: Body, **more: float | str) -> Garment:
    try:
        return TROUSERS.make(body, {**DARTS, **more})
    except ChoiceError as refusal:
        pytest.skip(f"no darts for this body: {refusal.what}")


@each(SOME)
def test_a_sewn_dart_leaves_one_even_waist_square_to_its_legs(body: Body):
    garment = darted(body)
    front = garment.piece(FRONT)
    (dart,) = front.darts
    side, centre = front.line("waist_side"), front.line("waist_centre")
    for leg_end, way in ((dart.first_leg, side.end_tangent), (dart.second_leg, centre.start_tangent)):
        leg = dart.tip.to(leg_end).unit()
        assert abs(leg.dot(way)) < math.sin(math.radians(0.1))
    assert dart.tip.distance(dart.first_leg) == pytest.approx(dart.tip.distance(dart.second_leg), abs=1e-6)
    # shut: the side part turned about the tip until its leg lies on the other runs on into the centre part
    turn = math.degrees(
        math.atan2(
            dart.tip.to(dart.first_leg).cross(dart.tip.to(dart.second_leg)),
            dart.tip.to(dart.first_leg).dot(dart.tip.to(dart.second_leg)),
        )
    )
    shut = side.rotated(dart.tip, turn)
    assert shut.end.distance(centre.start) < 1e-6
    assert abs(shut.end_tangent.cross(centre.start_tangent)) < 1e-3
    assert 0.9 <= dart.first_leg.distance(dart.second_leg) <= 2.4


@each(SOME)
def test_darts_end_over_the_belly_and_the_waist_still_passes_the_hips(body: Body):
    garment, plain = darted(body), TROUSERS.make(body)
    front = garment.piece(FRONT)
    (dart,) = front.darts
    assert dart.tip.y > front.line("hip").start.y + 1.0
    sewn = 2 * sum(
        measured(garment, piece, line)
        for piece, line in ((FRONT, "waist_side"), (FRONT, "waist_centre"), (BACK, "waist"))
    )
    assert sewn >= body["hip_girth"] + 2.5 - 0.01
    assert garment.finished["waist, stretched"] == pytest.approx(sewn, abs=0.01)
    assert measured(garment, FRONT, "waist_side") + measured(garment, FRONT, "waist_centre") < measured(
        plain, FRONT, "waist"
    )


@each(SOME)
def test_a_dart_can_be_sewn_straight_on_to_the_raw_edge_of_the_casing(body: Body):
    garment = darted(body)
    (dart,) = garment.piece(FRONT).darts
    cut, turn = cut_shape(garment, FRONT), casing_turn(garment)
    for leg in (dart.first_leg, dart.second_leg):
        raw = leg.go(dart.tip.to(leg).unit(), turn)
        assert cut.exterior.distance(shapely.Point(raw)) < 0.1, "the raw edge lies where the casing ends"
        assert cut.buffer(0.01).covers(shapely.LineString([leg, leg.go(dart.tip.to(leg).unit(), turn - 0.1)]))


@each(ADULTS)
def test_darts_let_more_of_a_flat_front_lie_flat(body: Body):
    without, garment = TROUSERS.make(body, {"waist": FLAT_FRONT}), darted(body, waist=FLAT_FRONT)

    def past(made: Garment) -> float:
        """How far the elastic runs past each side seam on the front."""
        ends = [mark for mark in made.piece(FRONT).marks if mark.name == "elastic_end"]
        if not ends:
            return 0.0
        side = next(e.curve for e in made.piece(FRONT) if e.name in ("waist", "waist_side"))
        return side.start.distance(ends[0].curve.start)

    assert past(garment) <= past(without) + 0.01


def test_darts_that_would_take_out_nothing_are_refused_with_the_reason():
    stout = next(b for b in PEOPLE if b.figure == "man").with_measures(waist_girth=118.0, hip_girth=112.0)
    with pytest.raises(ChoiceError, match=r"darts can take out only .* pass the body"):
        TROUSERS.make(stout, DARTS)


# ---- drawstring --------------------------------------------------------------------------------------


@each(ADULTS)
def test_a_drawstring_comes_out_in_front_and_is_not_drawn_in(body: Body):
    plain, garment = TROUSERS.make(body), TROUSERS.make(body, {"drawstring": "tied in front"})
    cord = next(notion for notion in garment.notions if notion.name == "drawstring")
    assert cord.place == "casing"
    assert cord.length >= garment.finished["waist, stretched"] + 30.0
    assert casing_turn(garment) == pytest.approx(casing_turn(plain) + 0.6)
    front = garment.piece(FRONT)
    slot = front.mark("eyelet")
    assert slot.kind == "buttonhole"
    assert slot.curve.length() > cord.width
    middle = shapely.Point(slot.curve.start.between(slot.curve.end))
    centre = shapely.LineString(front.line("crotch").flattened(tolerance=0.01))
    waist = shapely.LineString(front.line("waist").flattened(tolerance=0.01))
    assert middle.distance(centre) == pytest.approx(2.0, abs=0.05)
    assert slot.curve.length() / 2 < middle.distance(waist) < casing_turn(garment) - 1.0
    assert {notion.name for notion in plain.notions} == {"elastic"}


def test_no_cord_for_a_child_and_none_through_a_flat_front():
    child = next(body for body in PEOPLE if body.child)
    with pytest.raises(ChoiceError, match=r"child's waist catches"):
        TROUSERS.make(child, {"drawstring": "tied in front"})
    with pytest.raises(ChoiceError, match=r"gather the front"):
        TROUSERS.make(ADULTS[0], {"drawstring": "tied in front", "waist": FLAT_FRONT})


# ---- crotch ------------------------------------------------------------------------------------------


def front_of(garment: Garment) -> float:
    return measured(garment, FRONT, "crotch")


@each(SOME)
@pytest.mark.parametrize("more", [1.2, -1.2])
def test_a_taped_front_crotch_length_turns_the_waist_about_the_side(body: Body, more: float):
    plain = TROUSERS.make(body)
    taped = round(front_of(plain) - TOE + more, 1)
    garment = TROUSERS.make(body, {"front_crotch": taped})
    assert front_of(garment) == pytest.approx(taped + TOE, abs=0.01)
    whole = front_of(garment) + measured(garment, BACK, "crotch")
    assert whole == pytest.approx(front_of(plain) + measured(plain, BACK, "crotch"), abs=0.1)
    rise = [
        made.piece(FRONT).line("crotch").start.y - plain.piece(FRONT).line("crotch").start.y
        for made in (plain, garment)
    ]
    fall = garment.piece(BACK).line("crotch").end.y - plain.piece(BACK).line("crotch").end.y
    assert (rise[1] - rise[0]) * more > 0
    assert fall * more < 0
    assert [str(fault) for fault in check(garment)] == []


def test_a_front_crotch_length_that_cannot_be_names_what_is_possible():
    with pytest.raises(ChoiceError, match=r"front crotch length of 58 cm .* is possible") as found:
        TROUSERS.make(ADULTS[0], {"front_crotch": 58.0})
    low, high = (float(word) for word in found.value.mend.split() if word.replace(".", "").isdigit())
    assert low < front_of(TROUSERS.make(ADULTS[0])) - TOE < high
    for edge in (low + 0.1, high - 0.1):
        assert check(TROUSERS.make(ADULTS[0], {"front_crotch": round(edge, 1)})) == ()


@each(SOME)
@pytest.mark.parametrize("rise", [0.0, -2.0])
def test_the_crotch_length_is_promised_and_the_check_holds_it(body: Body, rise: float):
    body = body.with_measures(crotch_length_total=body["crotch_length_total"])
    garment = TROUSERS.make(body, {"rise": rise})
    level = next(level for level in garment.levels if level.name == "crotch_length_total")
    assert level.wanted == pytest.approx(
        garment.finished["front rise"] + garment.finished["back rise"], abs=0.01
    )
    if rise == 0:
        assert level.ease == pytest.approx(1.5)
    else:
        assert level.ease < 1.5 - 3.5  # both centre lines lose the lowered waist
    broken = replace(
        garment, levels=tuple(replace(lv, body=lv.body + 0.5) if lv is level else lv for lv in garment.levels)
    )
    assert "girth" in {fault.rule for fault in check(broken)}


# ---- stout small children ----------------------------------------------------------------------------


def test_stout_small_children_get_a_crotch_their_allowance_lies_in():
    """Thighs of 0.62 of the hip and a short crotch length: wide forks on a low rise."""
    drawn = 0
    for figure in ("girl", "boy"):
        for body in sample(figure, 80, seed=95):
            if body.age_years is None or not 2.0 <= body.age_years < 5.0:
                continue
            stout = body.with_measures(
                thigh_girth=0.62 * body["hip_girth"],
                crotch_length_total=0.96 * body["crotch_length_total"],
            )
            for wish in ({}, {"hip_ease": 5.0, "leg": "wide"}, {"leg": "tapered", "length": "above-knee"}):
                try:
                    garment = TROUSERS.make(stout, wish)
                except (ChoiceError, MeasureError):
                    continue
                drawn += 1
                assert [str(fault) for fault in check(garment)] == [], (body.name, wish)
    assert drawn > 30


def test_a_waist_on_the_hip_is_refused_with_how_low_it_may_be():
    child = min((b for b in PEOPLE if b.child), key=lambda b: b["waist_to_hip"]).with_measures(waist_to_hip=9.0)
    with pytest.raises(ChoiceError, match=r"would lie on the hip.*or more is possible"):
        TROUSERS.make(child, {"rise": -6.0})


@each(SOME[:4])
def test_a_millimetre_moves_no_dart_pocket_or_turned_waist_far(body: Body):
    plain = TROUSERS.make(body)
    wish: dict[str, float | str] = {"pockets": "in-seam", "front_crotch": round(front_of(plain) - TOE + 1.0, 1)}
    try:
        before = TROUSERS.make(body, {**wish, **DARTS})
        wish |= DARTS
    except ChoiceError:
        before = TROUSERS.make(body, wish)
    for measure in ("hip_girth", "waist_girth", "body_rise", "crotch_length_total", "thigh_girth"):
        try:
            after = TROUSERS.make(body.with_measures(**{measure: body[measure] + 0.1}), wish)
        except WorkroomError:
            continue
        assert greatest_move(before, after) < 1.0, measure


def test_left_stays_left_with_a_pocket():
    """The bag hangs to the inside of the front, whose side seam is on its right."""
    garment = TROUSERS.make(ADULTS[0], {"pockets": "in-seam"})
    bag = garment.piece(BAG)
    side = bag.line("opening").start
    assert all(p.x < side.x + 1.0 for p in bag.polygon(tolerance=0.05))
    assert isinstance(side, Point)


def test_the_line_to_lengthen_a_very_short_leg_lies_on_it() -> None:
    """Square to a sloping inseam of 8 cm the back hem bows up 4 cm, over the line on one body in 80."""
    body = sample("woman", 700, 2026)[192]
    assert check(pattern("pyjama_bottoms").make(body, {"finished_length": 8.0})) == ()
