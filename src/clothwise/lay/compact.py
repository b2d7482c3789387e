"""Pressing a lay together: all pieces slide at once, by linear programmes, until it is locally shortest."""

from __future__ import annotations

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

from clothwise.lay.build import used_length
from clothwise.lay.free_space import all_planes
from clothwise.lay.overlap import HIGH_Y, LOW_X, LOW_Y, STEP_X, STEP_Y, TRAIL, Floats, Ints, Tables, measure

REACH = 6.0  # cm: how far two pieces may move against each other in one round
REACH_LEAST = 0.1  # cm: below this the pressing gives up
WORTH = 0.002  # cm: a round that gains less is the last
PULL = 1e-4  # each cm of a piece's own way counts this share of a cm of length: loose pieces close up too


def press(t: Tables, places: Floats, chosen: Ints, *, rounds: int) -> float:
    """Shorten a lay without overlap in place; returns its length. Never longer than before. [cm]"""
    length = float(used_length(t, places, chosen))
    reach, last = REACH, False
    for _ in range(rounds):
        moved = _round(t, places, chosen, length, reach, last)
        if moved is None:
            reach /= 4
            if reach < REACH_LEAST:
                break
            continue
        shorter = float(used_length(t, moved, chosen))
        if shorter > length:
            break
        gained = length - shorter
        places[:] = moved
        length = shorter
        if gained < WORTH:
            if last:
                break
            last = True
        else:
            last = False
    return length


def _round(t: Tables, places: Floats, chosen: Ints, length: float, reach: float, last: bool) -> Floats | None:
    """One linear programme: places x_i, y_i and the length L. None when it does not help."""
    rows, ok = all_planes(t, places, chosen, reach, last)
    if not ok:
        return None
    n = t.movable
    v = chosen[:n]
    matrix, right = _separations(rows, places, n)
    ends = np.arange(n)
    stop = csr_matrix(
        (
            np.concatenate([np.ones(n), -np.ones(n)]),
            (np.tile(ends, 2), np.concatenate([2 * ends, np.full(n, 2 * n)])),
        ),
        shape=(n, 2 * n + 1),
    )
    cost = np.zeros(2 * n + 1)
    cost[0 : 2 * n : 2] = PULL / n
    cost[-1] = 1.0
    half = reach / 2
    low, high = np.full(2 * n + 1, 0.0), np.full(2 * n + 1, length)
    low[0 : 2 * n : 2] = np.maximum(t.box[v, LOW_X], places[:n, 0] - half)
    high[0 : 2 * n : 2] = places[:n, 0] + half
    low[1 : 2 * n : 2] = np.maximum(t.box[v, LOW_Y], places[:n, 1] - half)
    high[1 : 2 * n : 2] = np.minimum(t.box[v, HIGH_Y], places[:n, 1] + half)
    still_x, still_y = t.box[v, STEP_X] > 0, t.box[v, STEP_Y] > 0  # stripes hold them: `push` moves these
    low[0 : 2 * n : 2][still_x] = high[0 : 2 * n : 2][still_x] = places[:n, 0][still_x]
    low[1 : 2 * n : 2][still_y] = high[1 : 2 * n : 2][still_y] = places[:n, 1][still_y]
    result = milp(
        cost,
        constraints=LinearConstraint(
            _stacked(matrix, stop), -np.inf, np.concatenate([right, -t.box[v, TRAIL]])
        ),
        bounds=Bounds(np.minimum(low, high), high),
    )
    if result.status != 0:
        return None
    moved = places.copy()
    moved[:n, 0] = np.maximum(result.x[0 : 2 * n : 2], t.box[v, LOW_X])
    moved[:n, 1] = np.clip(result.x[1 : 2 * n : 2], t.box[v, LOW_Y], t.box[v, HIGH_Y])
    deep = np.zeros((len(chosen), len(chosen)))
    return moved if measure(t, moved, chosen, deep) == 0.0 else None


def _stacked(a: csr_matrix, b: csr_matrix) -> csr_matrix:
    return csr_matrix(
        (
            np.concatenate([a.data, b.data]),
            np.concatenate([a.indices, b.indices]),
            np.concatenate([a.indptr, a.indptr[-1] + b.indptr[1:]]),
        ),
        shape=(a.shape[0] + b.shape[0], a.shape[1]),
    )


def _separations(rows: Floats, places: Floats, n: int) -> tuple[csr_matrix, Floats]:
    """The half-planes as rows of A x <= b; obstacles (moves from n on) stand where they are."""
    m = len(rows)
    i, j = rows[:, 0].astype(np.int64), rows[:, 1].astype(np.int64)
    columns = np.stack([2 * i, 2 * i + 1, 2 * j, 2 * j + 1], axis=1)
    values = -np.stack([rows[:, 2], rows[:, 3], -rows[:, 2], -rows[:, 4]], axis=1)
    right = -rows[:, 5].copy()
    flat = places.reshape(-1)
    fixed = columns >= 2 * n
    right -= np.where(fixed, values * flat[columns], 0.0).sum(axis=1)
    values[fixed] = 0.0
    columns[fixed] = 0
    matrix = csr_matrix(
        (values.reshape(-1), columns.reshape(-1), np.arange(0, 4 * m + 1, 4)), shape=(m, 2 * n + 1)
    )
    return matrix, right
