"""Solving for the one free dimension a cutter would also move."""

from __future__ import annotations

from collections.abc import Callable

from scipy.optimize import brentq

from clothwise.tolerance import PARAMETER

SCAN = 10  # looks over the range before bracketing: enough for the gently bent relations of drafts


class NoSolution(Exception):
    """The wanted value is not reached in the range; `low` and `high` are what it can reach."""

    def __init__(self, low: float, high: float) -> None:
        self.low, self.high = low, high
        super().__init__(f"reaches only {low:.3f} to {high:.3f}")


def solve(
    value: Callable[[float], float], wanted: float, low: float, high: float, *, tolerance: float
) -> float:
    """The x in [low, high] nearest to `low`'s side at which value(x) = wanted.

    Scans, then Brent. Raises NoSolution with the reachable range; the draft turns it into a sentence.
    Never clamps.
    """
    at_ends = value(low) - wanted, value(high) - wanted
    if at_ends[0] * at_ends[1] <= 0:
        return _between(value, wanted, low, high, tolerance)
    xs = [low + (high - low) * i / SCAN for i in range(SCAN + 1)]
    gaps = [value(x) - wanted for x in xs]
    for i in range(SCAN):
        if gaps[i] * gaps[i + 1] <= 0:
            return _between(value, wanted, xs[i], xs[i + 1], tolerance)
    raise NoSolution(wanted + min(gaps), wanted + max(gaps))


def _between(
    value: Callable[[float], float], wanted: float, low: float, high: float, tolerance: float
) -> float:
    """Brent to the last digits of x, then checked against the promise."""
    x = float(brentq(lambda x: value(x) - wanted, low, high, xtol=PARAMETER, rtol=4 * PARAMETER))
    if abs(value(x) - wanted) > max(tolerance, PARAMETER):
        raise NoSolution(value(low), value(high))  # a jump, not a crossing
    return x
