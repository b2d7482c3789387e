"""Arc length of a cubic, with a proven bound instead of a hope.

Letters: w(t) = a t^2 + b t + c the derivative of the cubic as one complex number, r1 and r2 its roots.
The speed |w| is analytic but for r1, r2 and their mirror images, so on a span whose ends are the foci of an
ellipse (semi-axes summing to rho half spans) that keeps those roots outside, n Gauss points err by at most
64/15 M half rho^(-2(n-1)) / (1 - rho^-2), M bounding |w| on that ellipse.
Source: L. N. Trefethen, Approximation Theory and Approximation Practice, theorem 19.3.
"""

from __future__ import annotations

import cmath
import math
from functools import lru_cache

from numpy.polynomial.legendre import leggauss

from clothwise.tolerance import PARAMETER

Speed = tuple[complex, complex, complex]  # a, b, c

_RULES = tuple(
    (n, tuple(zip(nodes.tolist(), weights.tolist(), strict=True)))
    for n, (nodes, weights) in ((n, leggauss(n)) for n in (4, 6, 9, 13, 18, 24))
)
_MOST = 24
_FEWEST = _RULES[0][1]
_SAFETY = 0.98  # the roots are known to a few digits less than a double; a little smaller ellipse costs nothing
_WIDEST = 1e3  # rho of a span without any root near: four points are then exact to the last digits
REMEMBERED = 8192  # strokes of some garments: seams, notches, checks and steps ask the same lengths many times
_NEWTON_STEPS = 60  # more than bisection alone would need


@lru_cache(maxsize=REMEMBERED)
def arc_length(speed: Speed, low: float, high: float, tolerance: float) -> float:
    """Length between two parameters, off by no more than the tolerance. [cm]"""
    roots = _roots(speed)
    a, b, c = speed
    total = 0.0
    spans = [(low, high, tolerance)]
    while spans:
        low, high, tolerance = spans.pop()
        half, middle = (high - low) / 2, (high + low) / 2
        rule = _rule(speed, roots, middle, half, tolerance)
        if rule is None:
            cut = _cut(roots, low, high)
            spans.append((cut, high, tolerance / 2))
            spans.append((low, cut, tolerance / 2))
            continue
        part = 0.0
        for node, weight in rule:
            t = middle + half * node
            part += weight * abs((a * t + b) * t + c)
        total += part * half
    return total


def parameter_at(speed: Speed, distance: float, whole: float, tolerance: float) -> float:
    """The t at which that length is reached, by Newton kept inside a bracket; 0 or 1 beyond the ends."""
    if distance <= 0:
        return 0.0
    if distance >= whole:
        return 1.0
    a, b, c = speed
    low, high = 0.0, 1.0
    t = distance / whole
    reached = arc_length(speed, 0.0, t, tolerance / 8)
    for _ in range(_NEWTON_STEPS):
        gap = reached - distance
        if abs(gap) <= tolerance / 2 or high - low <= PARAMETER:
            break
        if gap > 0:
            high = t
        else:
            low = t
        pace = abs((a * t + b) * t + c)
        step = t - gap / pace if pace > PARAMETER else -1.0
        if not low < step < high:
            step = (low + high) / 2
        # only the way between the two guesses is measured anew; its error must not pile up
        share = tolerance / (8 * _NEWTON_STEPS)
        reached += math.copysign(arc_length(speed, min(t, step), max(t, step), share), step - t)
        t = step
    return t


def _roots(speed: Speed) -> tuple[complex, ...]:
    a, b, c = speed
    swing = cmath.sqrt(b * b - 4 * a * c)
    q = -(b + swing) / 2 if abs(b + swing) >= abs(b - swing) else -(b - swing) / 2
    tiny = PARAMETER * (abs(a) + abs(b) + abs(c))
    found = []
    if abs(a) > tiny:
        found.append(q / a)
    if abs(q) > tiny:
        found.append(c / q)
    elif abs(a) > tiny:
        found.append(q / a)
    return tuple(found)


def _rule(
    speed: Speed, roots: tuple[complex, ...], middle: float, half: float, tolerance: float
) -> tuple[tuple[float, float], ...] | None:
    """The fewest Gauss points that surely keep the tolerance on this span; None if it must be cut."""
    a, b, c = speed
    slope, here = 2 * a * middle + b, (a * middle + b) * middle + c
    if 2 * half * (abs(a) * half * half + abs(slope) * half + abs(here)) <= tolerance:
        return _FEWEST  # shorter than the tolerance altogether
    rho = _WIDEST
    for root in roots:
        z = (root - middle) / half
        swing = cmath.sqrt(z * z - 1)
        rho = min(rho, max(abs(z + swing), abs(z - swing)) * _SAFETY)
    if rho <= 1:
        return None
    reach = half * (rho + 1 / rho) / 2
    most = abs(a) * reach * reach + abs(slope) * reach + abs(here)
    bound = 64 / 15 * most * half / (1 - 1 / (rho * rho))
    if bound <= tolerance:
        return _FEWEST
    need = 1 + math.log(bound / tolerance) / (2 * math.log(rho))
    if need > _MOST:
        return None
    return next(rule for n, rule in _RULES if n >= need)


def _cut(roots: tuple[complex, ...], low: float, high: float) -> float:
    """Where to cut a span: at the foot of a root inside it, where the curve all but stops; else halfway."""
    half = (high - low) / 2
    margin = half * PARAMETER
    inside = [r for r in roots if low + margin < r.real < high - margin and abs(r.imag) < half]
    return min(inside, key=lambda r: abs(r.imag)).real if inside else low + half
