"""Solving for one dimension: met as promised, refused with the reachable range, in few looks."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.curve import NoSolution, solve


def counted(f: Callable[[float], float]) -> tuple[Callable[[float], float], list[float]]:
    looks: list[float] = []

    def g(x: float) -> float:
        looks.append(x)
        return f(x)

    return g, looks


@pytest.mark.parametrize("tolerance", [1e-1, 1e-3, 1e-5, 1e-7, 1e-9])
@pytest.mark.parametrize(
    ("f", "wanted", "low", "high"),
    [
        (math.exp, 3.0, -5.0, 5.0),
        (lambda x: x**3, 0.001, -1.0, 2.0),
        (lambda x: (x - 1) ** 2, 0.25, -1.0, 3.2),
        (lambda x: math.atan(50 * (x - 0.3)), 0.2, -4.0, 9.0),
        (lambda x: math.hypot(30.0, x) + 0.2 * x, 35.0, 0.0, 40.0),
    ],
)
def test_the_value_is_met_within_the_tolerance(
    f: Callable[[float], float], wanted: float, low: float, high: float, tolerance: float
) -> None:
    g, looks = counted(f)
    x = solve(g, wanted, low, high, tolerance=tolerance)
    assert low <= x <= high
    assert abs(f(x) - wanted) <= tolerance
    assert len(looks) <= 30


def test_a_gentle_relation_takes_few_looks() -> None:
    g, looks = counted(lambda x: math.hypot(30.0, x) + 0.2 * x)
    solve(g, 35.0, 0.0, 40.0, tolerance=1e-7)
    assert len(looks) <= 9


@given(st.floats(-3, 3), st.floats(0.2, 5), st.floats(-20, 20))
def test_straight_relations_are_solved_at_once(shift: float, slope: float, wanted: float) -> None:
    g, looks = counted(lambda x: shift + slope * x)
    x = solve(g, wanted, -200.0, 200.0, tolerance=1e-7)
    assert abs(shift + slope * x - wanted) <= 1e-7
    assert len(looks) <= 6


def test_what_cannot_be_reached_is_refused_with_what_can() -> None:
    with pytest.raises(NoSolution) as refusal:
        solve(lambda x: x * x + 1, 0.0, -3.0, 2.0, tolerance=1e-7)
    assert refusal.value.low == pytest.approx(1.0)
    assert refusal.value.high == pytest.approx(10.0)


def test_a_jump_over_the_value_is_no_solution() -> None:
    with pytest.raises(NoSolution):
        solve(lambda x: -1.0 if x < 0.5 else 1.0, 0.0, 0.0, 1.0, tolerance=1e-7)


def test_a_dip_between_equal_ends_is_found_by_looking_over_the_range() -> None:
    assert abs(solve(lambda x: (x - 0.4) ** 2, 0.01, 0.0, 1.0, tolerance=1e-7) - 0.3) < 1e-6
