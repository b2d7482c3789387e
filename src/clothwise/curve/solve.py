"""Solving for the one free dimension a cutter would also move."""

from __future__ import annotations

from collections.abc import Callable

from clothwise.tolerance import PARAMETER

SCAN = 10  # looks over the range before bracketing: enough for the gently bent relations of drafts
_STEPS = 200  # bisection alone would need about 50 to the last digit of a double; more means no crossing


class NoSolution(Exception):
    """The wanted value is not reached in the range; `low` and `high` are what it can reach."""

    def __init__(self, low: float, high: float) -> None:
        self.low, self.high = low, high
        super().__init__(f"reaches only {low:.3f} to {high:.3f}")


def solve(
    value: Callable[[float], float], wanted: float, low: float, high: float, *, tolerance: float
) -> float:
    """An x in [low, high] at which value(x) = wanted, met within the tolerance.

    If the ends lie on both sides of the wanted value that is the bracket; else the range is scanned from
    `low` and the first bracket taken. Raises NoSolution with the reachable range (the draft turns it into
    a sentence), also when the value jumps over what is wanted. Never clamps.
    """
    at_low, at_high = value(low) - wanted, value(high) - wanted
    if at_low * at_high <= 0:
        return _between(value, wanted, (low, at_low), (high, at_high), tolerance)
    before = (low, at_low)
    reached = [at_low, at_high]
    for i in range(1, SCAN):
        x = low + (high - low) * i / SCAN
        here = (x, value(x) - wanted)
        if before[1] * here[1] <= 0:
            return _between(value, wanted, before, here, tolerance)
        reached.append(here[1])
        before = here
    if before[1] * at_high <= 0:
        return _between(value, wanted, before, (high, at_high), tolerance)
    raise NoSolution(wanted + min(reached), wanted + max(reached))


def _between(
    value: Callable[[float], float],
    wanted: float,
    one: tuple[float, float],
    other: tuple[float, float],
    tolerance: float,
) -> float:
    """Inverse quadratic steps where they are safe, halving where not; ends as soon as the promise is met.

    Source: T. R. Chandrupatla, Advances in Engineering Software 28 (1997) 145-149.
    a is the newest point, b the other end of the bracket, c the point before.
    """
    (b, fb), (a, fa) = one, other
    ends = (fb, fa)
    share = 0.5
    for _ in range(_STEPS):
        if abs(fa) <= tolerance or abs(fb) <= tolerance:
            return a if abs(fa) <= abs(fb) else b
        if abs(b - a) <= PARAMETER * (1 + abs(a)):
            break
        x = a + share * (b - a)
        fx = value(x) - wanted
        if fx * fa > 0:
            c, fc = a, fa
        else:
            c, fc, b, fb = b, fb, a, fa
        a, fa = x, fx
        share = _share(a, fa, b, fb, c, fc)
    raise NoSolution(wanted + min(ends), wanted + max(ends))  # a jump, not a crossing


def _share(a: float, fa: float, b: float, fb: float, c: float, fc: float) -> float:
    """The share of the way from a to b at which to look next."""
    xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
    if not (phi * phi < xi and (1 - phi) * (1 - phi) < 1 - xi):
        return 0.5
    share = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
    least = PARAMETER / abs(b - a)
    return min(max(share, least), 1 - least)
