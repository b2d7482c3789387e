"""All roots in [0, 1] of a polynomial given by its Bernstein coefficients: none missed, none invented."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from clothwise.tolerance import PARAMETER

_DEEPEST = 60  # halvings before two roots count as one; a double holds no more


def bernstein_roots(coefficients: Sequence[float]) -> list[float]:
    """Ascending parameters at which the polynomial is zero; a double root may come once or twice.

    A polynomial that is zero throughout gives the two ends. Splits where the signs of the coefficients change
    more than once, closes in where they change once (Descartes' rule in the Bernstein basis).
    """
    size = max(abs(c) for c in coefficients)
    if size == 0:
        return [0.0, 1.0]
    found: list[float] = []
    stack = [(0.0, 1.0, tuple(coefficients), 0)]
    while stack:
        low, high, row, depth = stack.pop()
        if row[0] == 0:
            found.append(low)
        if row[-1] == 0 and high == 1.0:
            found.append(high)
        changes = _sign_changes(row)
        if changes == 0:
            continue
        if changes == 1 and row[0] * row[-1] < 0:
            found.append(low + (high - low) * _closed_in(row))
        elif depth >= _DEEPEST or high - low <= PARAMETER:
            found.append((low + high) / 2)
        else:
            left, right = _halves(row)
            middle = (low + high) / 2
            stack.append((middle, high, right, depth + 1))
            stack.append((low, middle, left, depth + 1))
    return sorted(found)


def bernstein_value(row: Sequence[float], t: float) -> float:
    """The polynomial at t, by de Casteljau."""
    values = list(row)
    u = 1 - t
    for n in range(len(values) - 1, 0, -1):
        for i in range(n):
            values[i] = u * values[i] + t * values[i + 1]
    return values[0]


def _sign_changes(row: Sequence[float]) -> int:
    changes = 0
    last = 0.0
    for value in row:
        if value != 0:
            if last * value < 0:
                changes += 1
            last = 1.0 if value > 0 else -1.0
    return changes


def _halves(row: Sequence[float]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    left, right = [row[0]], [row[-1]]
    values = list(row)
    while len(values) > 1:
        values = [(a + b) / 2 for a, b in pairwise(values)]
        left.append(values[0])
        right.append(values[-1])
    return tuple(left), tuple(reversed(right))


def _closed_in(row: Sequence[float]) -> float:
    """The single root between ends of different sign: false position, each end's weight halved when it
    stays twice, and halving when even that is slow."""
    low, high, at_low, at_high = 0.0, 1.0, row[0], row[-1]
    stayed = 0
    for turn in range(2 * _DEEPEST):
        t = (low * at_high - high * at_low) / (at_high - at_low)
        if turn % 3 == 2 or not low < t < high:
            t = (low + high) / 2
        value = bernstein_value(row, t)
        if value == 0 or high - low <= PARAMETER / 8:
            return t
        if (value > 0) == (at_high > 0):
            high, at_high = t, value
            at_low = at_low / 2 if stayed == 1 else at_low
            stayed = 1
        else:
            low, at_low = t, value
            at_high = at_high / 2 if stayed == -1 else at_high
            stayed = -1
    return (low + high) / 2
