"""Lines of tops that were not smooth, or too tight for their allowance, on single bodies of the long sweeps."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from clothwise.body import Body, Figure, estimate, sample
from clothwise.curve import Curve
from clothwise.draft import pattern
from clothwise.draft.shift import DARTED_SHIFT as SHIFT
from clothwise.garment import Run
from clothwise.garment.check import check
from tests.real_bodies import real_bodies

ROOMY: dict[str, float | str] = {"sleeve": "long", "arm_ease": 16.0}


@pytest.mark.parametrize(
    ("figure", "number", "of", "wish"),
    [
        ("woman", 42, 700, {"bust_ease": 4.0}),  # an all but straight side, trued beside its dart
        ("woman", 132, 700, ROOMY),  # a deep armhole bent out by half a degree at the back
        ("woman", 286, 700, ROOMY),
        ("boy", 54, 350, ROOMY),
        ("boy", 288, 350, ROOMY),
        ("girl", 38, 350, ROOMY),  # a deep armhole rounded on 0.8 cm under 1 cm of allowance
    ],
)
def test_side_and_armhole_stay_smooth_at_the_ends_of_the_choices(
    figure: Figure, number: int, of: int, wish: dict[str, float | str]
):
    garment = SHIFT.make(sample(figure, of, 2026)[number], wish)
    assert [str(fault) for fault in check(garment)] == []


@pytest.mark.parametrize(("figure", "name"), [("girl", "girl 1200"), ("boy", "boy 232")])
def test_a_child_with_odd_measures_gets_lines_that_take_their_allowance(figure: Figure, name: str):
    """A back as wide as the armhole leaves hardly any room; a hip 2 cm below the waist."""
    found = [body for body in real_bodies(figure) if body.name == name]
    if not found:
        pytest.skip("the public body data are absent")
    garment = SHIFT.make(estimate(found[0]))
    assert [str(fault) for fault in check(garment)] == []


@pytest.mark.parametrize("number", [288, 330])
def test_a_side_whose_underarm_comes_down_to_the_waist_takes_its_allowance(number: int):
    garment = pattern("cut_on_sleeve_tee").make(sample("boy", 350, 2026)[number], {"arm_ease": 20.0})
    assert [str(fault) for fault in check(garment)] == []


def test_front_and_back_side_stay_equal_where_the_side_beside_a_dart_is_bent_sooner():
    body: Body = sample("woman", 700, 2026)[42]
    garment = SHIFT.make(body, {"bust_ease": 4.0})
    seam = garment.seam("side_seam")
    front, back = (garment.length(runs) for runs in (seam.a, seam.b))
    assert front == pytest.approx(back, abs=0.02)
    low = garment.curve(Run("front", "side_lower"))
    assert max(abs(kink) for kink in _kinks(low)) < 0.1


def _kinks(curve: Curve) -> list[float]:
    """Breaks between its strokes. [degrees]"""
    ways = [(stroke.tangent(0.0), stroke.tangent(1.0)) for stroke in curve.strokes]
    return [math.degrees(math.asin(one[1].cross(two[0]))) for one, two in pairwise(ways)]
