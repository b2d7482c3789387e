"""Set-in sleeves on bodies of the population: the cap fits its armhole, and the arm fits the sleeve."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from clothwise.body import Body, sample
from clothwise.curve import Curve
from clothwise.draft.bodice import Room, back_armhole, frame, front_armhole
from clothwise.draft.cap import HIGH, LOW, Armhole, Cap, cap_for, cap_of_height
from clothwise.draft.shift import DARTED_SHIFT as SHIFT
from clothwise.draft.shirt import BUTTON_FRONT_SHIRT as SHIRT
from clothwise.draft.sleeve import frill_for, frill_piece
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Run
from clothwise.garment.check.drawn import drawn, measured

PEOPLE = (*sample("woman", 40, seed=81), *sample("man", 16, seed=82), *sample("girl", 8, seed=83))
ROOM = 5.5


def armhole_of(body: Body) -> Armhole:
    base = frame(body, Room(8.0, 4.0 if body.figure == "man" else 2.5))
    return Armhole.of(front_armhole(base.front), back_armhole(base.back))


def cap_of(body: Body, ease: float = 1.4) -> tuple[Armhole, Cap]:
    """The cap as the drafts make it: of the wished width, within the heights that let the arm move."""
    armhole = armhole_of(body)
    low, high = (cap_of_height(armhole, share * armhole.depth, ease) for share in (LOW, HIGH))
    wished = body["upper_arm_girth"] + ROOM
    if wished > low.width or wished < high.width:
        return armhole, low if wished > low.width else high
    return armhole, cap_for(armhole, wished, ease)


CAPS = [(body, *cap_of(body)) for body in PEOPLE]


def test_the_cap_is_the_armhole_and_its_ease_to_a_hundredth_of_a_millimetre():
    for _, armhole, cap in CAPS:
        front, back, over, under = measured([cap.front_curve(), cap.back_curve(), armhole.front, armhole.back])
        assert front.length + back.length == pytest.approx(over.length + under.length + 1.4, abs=1e-3)
        assert front.length - over.length == pytest.approx(0.45 * 1.4, abs=1e-3)  # so the crown is the shoulder


@pytest.mark.parametrize("ease", [0.0, 0.6, 2.5, 4.0])
def test_any_ease_that_is_asked_is_met(ease: float):
    for body in PEOPLE[::4]:
        armhole, cap = cap_of(body, ease)
        cap_length = drawn(cap.front_curve().then(cap.back_curve())).length
        assert cap_length - armhole.length == pytest.approx(ease, abs=1e-3)


def test_the_cap_bends_back_exactly_twice_and_is_level_at_crown_and_underarm():
    for _, _, cap in CAPS:
        whole = cap.front_curve().then(cap.back_curve())
        assert drawn(whole).waves(0.2) == 2
        for curve in (cap.front_curve(), cap.back_curve()):
            assert curve.start_tangent.y == pytest.approx(0, abs=1e-9)
            assert curve.end_tangent.y == pytest.approx(0, abs=1e-9)
            assert min(curve.start_tangent.x, curve.end_tangent.x) > 0
        assert max(drawn(whole).kinks) < 0.01


def test_the_crown_is_the_highest_point_and_neither_flat_nor_pointed():
    for _, _, cap in CAPS:
        assert cap.front_curve().end == pytest.approx((0.0, cap.height))
        near = [cap.front_curve().reversed().at_length(2.0), cap.back_curve().at_length(2.0)]
        for p in near:
            assert 0.05 < cap.height - p.y < 0.9


def test_the_cap_lets_the_arm_lift_and_the_sleeve_holds_it():
    for body, armhole, cap in CAPS:
        assert 0.499 < cap.height / armhole.depth < 0.821
        if cap.height > LOW * armhole.depth + 0.01:
            assert cap.width >= body["upper_arm_girth"] + ROOM - 1e-3
        assert 0.43 < cap.front_width / cap.width < 0.58


def gap_under_the_arm(armhole: Armhole, cap: Cap) -> float:
    """How far sleeve and armhole part when laid together at the underarm, over 9 % of the armhole. [cm]"""
    found = 0.0
    for half, curve in ((armhole.front, cap.front_curve()), (armhole.back, cap.back_curve().reversed())):
        reach = 0.09 * armhole.length
        found = max(found, shapely.hausdorff_distance(_from_end(half, reach), _from_end(curve, reach)))
    return found


def _from_end(curve: Curve, reach: float) -> shapely.LineString:
    """The first part of a curve, moved to leave (0, 0) to the right and bend up."""
    points = np.array(curve.part(0.0, reach).flattened(tolerance=0.002)) - np.array(curve.start)
    way = np.array(curve.start_tangent)
    along, up = points @ way, points @ np.array([-way[1], way[0]])
    return shapely.LineString(np.column_stack([along, up if up[-1] > 0 else -up]))


def test_under_the_arm_sleeve_and_armhole_lie_on_each_other():
    gaps = sorted(gap_under_the_arm(armhole, cap) for _, armhole, cap in CAPS)
    assert gaps[len(gaps) // 2] < 0.4
    assert gaps[int(0.95 * len(gaps))] < 1.2
    assert gaps[-1] < 2.0


# ---- the sleeve in a garment --------------------------------------------------------------------------------


def notch(garment: Garment, piece: str, sign: str) -> tuple[float, float]:
    """Distance of a notch from both ends of its edge."""
    for edge in garment.piece(piece):
        for one in edge.notches:
            if one.sign == sign:
                return one.at, edge.curve.length() - one.at
    raise AssertionError(sign)


def test_below_the_notches_there_is_no_ease():
    for body in PEOPLE[::6]:
        garment = SHIFT.make(body, {"sleeve": "long", "dart": "side"})
        # the front cap ends at the underarm, the front armhole begins there
        assert notch(garment, "sleeve", "front")[1] == pytest.approx(
            notch(garment, "front", "front")[0], abs=1e-4
        )
        assert notch(garment, "sleeve", "back")[0] == pytest.approx(notch(garment, "back", "back")[1], abs=1e-4)


def test_both_underarm_seams_are_equal_and_lengths_are_as_named():
    for body in PEOPLE[::6]:
        lengths = []
        for word in ("short", "three-quarter", "long"):
            garment = SHIFT.make(body, {"sleeve": word})
            sleeve = garment.piece("sleeve")
            front, back = measured([sleeve.edge("front_seam").curve, sleeve.edge("back_seam").curve])
            assert front.length == pytest.approx(back.length, abs=1e-6)
            middle = sleeve.edge("hem").curve.at_length(sleeve.edge("hem").curve.length() / 2)
            crown = sleeve.edge("front_cap").curve.start
            assert crown.y - middle.y == pytest.approx(garment.finished["sleeve length"], abs=0.15)
            lengths.append(garment.finished["sleeve length"])
        assert lengths == sorted(lengths)
        assert lengths[2] == pytest.approx(body["arm_length"] + 1)
        longer = SHIFT.make(body, {"sleeve": "long", "sleeve_longer": 3.0})
        assert longer.finished["sleeve length"] == pytest.approx(lengths[2] + 3)


def test_room_for_the_arm_that_no_armhole_holds_is_refused_or_told():
    strong = PEOPLE[0].with_measures(upper_arm_girth=42.0)
    with pytest.raises(ChoiceError) as refused:
        SHIFT.make(strong, {"sleeve": "long", "fit": "close", "arm_ease": 16.0})
    assert "arm_ease" in str(refused.value)
    assert "is possible" in refused.value.mend
    firm = PEOPLE[0].with_measures(upper_arm_girth=39.0)
    notes = SHIFT.make(firm, {"sleeve": "long", "fit": "close", "arm_ease": 6.0}).notes
    lowered = [n for n in notes if n.measure == "armhole_depth"]
    assert [n.by > 0 and "room" in n.text for n in lowered] == [True]


def test_a_shirts_cap_is_flatter_and_smoother_than_a_blouses():
    for body in PEOPLE[::8]:
        shift, shirt = SHIFT.make(body, {"sleeve": "long"}), SHIRT.make(body)
        heights = [g.piece("sleeve").edge("front_cap").curve.start.y for g in (shift, shirt)]
        assert shirt.finished["upper_arm"] > shift.finished["upper_arm"]
        assert heights[1] < heights[0] + 1.0  # the armhole it is set into is deeper
        eases = [next(s.ease for s in g.seams if s.name == "sleeve") for g in (shift, shirt)]
        assert 0 < eases[1] < eases[0]
        assert eases[1] <= 1.3


def test_a_flutter_frill_is_as_long_as_its_armhole_and_swells_evenly():
    for body in PEOPLE[::6]:
        armhole = armhole_of(body)
        for longer in (-2.0, 0.0, 10.0):
            made = frill_piece(frill_for(body, armhole, longer))
            front, back = measured([made.edge("front_cap").curve, made.edge("back_cap").curve])
            assert front.length == pytest.approx(armhole.front.length(), abs=0.01)
            assert back.length == pytest.approx(armhole.back.length(), abs=0.01)
            hem = made.edge("hem").curve
            assert drawn(hem).waves(0.2) == 0
            assert hem.length() > 1.3 * armhole.length
            assert math.isclose(made.edge("front_seam").curve.length(), made.edge("back_seam").curve.length())


def test_a_cap_sleeve_lies_between_armhole_and_facing_with_both_its_edges():
    for body in PEOPLE[::8]:
        garment = SHIFT.make(body, {"sleeve": "cap", "dart": "armhole"})
        seam = next(s for s in garment.seams if s.more)
        lengths = [garment.length(runs) for runs in (seam.a, seam.b, *seam.more)]
        assert max(lengths) - min(lengths) < 0.05
        piece = garment.piece("cap_sleeve")
        assert piece.area_cm2() > 0
        fold = piece.mark("fold").curve
        assert fold.start.y == fold.end.y == pytest.approx(0)
        assert isinstance(seam.more[0][0], Run)


def test_the_hollow_under_the_arm_takes_its_seam_allowance_on_the_smallest():
    """A boy of two with a narrow sleeve had a hollow of 0.94 cm under an allowance of 1 cm."""
    smallest = sorted(
        (
            b
            for b in (*sample("boy", 350, seed=2026), *sample("girl", 350, seed=2026))
            if (b.age_years or 0) >= 2
        ),
        key=lambda b: b["height"],
    )
    for body in smallest[:40]:
        for narrow in (3.0, 5.0):
            piece = SHIFT.make(body, {"sleeve": "long", "arm_ease": narrow}).piece("sleeve")
            for edge in ("front_cap", "back_cap"):
                line = piece.edge(edge)
                assert -drawn(line.curve).bends.min() * line.allowance < 1.0, (body.name, edge)
