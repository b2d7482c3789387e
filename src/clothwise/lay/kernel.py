"""The search's inner loop, compiled: pieces move until none overlap.

It lowers the weighted sum of overlaps, raising the weight of pairs that stay stuck (guided local search;
the idea of weighted overlap minimisation is described in arXiv 2509.13329). Letters as in `overlap`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from clothwise.lay.overlap import (
    AX,
    AY,
    BIG,
    HIGH_Y,
    LOW_X,
    LOW_Y,
    SHIFT,
    SIGN,
    STEP_X,
    STEP_Y,
    TOUCH,
    TRAIL,
    VX,
    VY,
    Floats,
    Ints,
    Tables,
    allowed,
    compiled,
    measure,
    spread,
)

Seed = NDArray[np.uint64]

WEIGHT_LEAST, WEIGHT_MOST = 1.2, 2.0  # growth of a stuck pair's weight in a sweep, with its depth
WEIGHT_FADE = 0.95  # fading of a free pair's weight
IMPROVED = 0.98  # the overlap must fall below this share of the best to count as progress
STEP_GROW, STEP_SHRINK = 1.1, 0.5  # of the refining walk
STEP_LEAST = 0.002  # cm: the refining walk ends below this step
SMALLEST_START = 1e-3  # cm
FINISHERS = 3  # candidates that are refined


@compiled
def next_random(seed: Seed) -> float:
    """Uniform in [0, 1): xorshift64* (Vigna 2016). Own state: the same seed gives the same lay."""
    s = seed[0]
    s ^= s >> np.uint64(12)
    s ^= s << np.uint64(25)
    s ^= s >> np.uint64(27)
    seed[0] = s
    scaled: float = float((s * np.uint64(2685821657736338717)) >> np.uint64(11)) / 9007199254740992.0
    return scaled


@compiled
def _below(n: int, seed: Seed) -> int:
    return min(int(next_random(seed) * n), n - 1)


@compiled
def _candidate(
    t: Tables, i: int, v: int, high_x: float, places: Floats, chosen: Ints, kind: float, seed: Seed
) -> tuple[float, float]:
    """A place to try: anywhere, at a corner of a no-fit polygon, or where its rim meets the edge of the box."""
    low_x, low_y, high_y = t.box[v, LOW_X], t.box[v, LOW_Y], t.box[v, HIGH_Y]
    x = low_x + next_random(seed) * (high_x - low_x)
    y = low_y + next_random(seed) * (high_y - low_y)
    n = len(chosen)
    if kind < 0.3 or n < 2:
        return x, y
    j = _below(n, seed)
    if j == i or chosen[j] < 0:
        return x, y
    i0, j0 = t.first_image[v], t.first_image[chosen[j]]
    a = i0 + _below(t.first_image[v + 1] - i0, seed)
    b = j0 + _below(t.first_image[chosen[j] + 1] - j0, seed)
    sa, sb = t.shape[a], t.shape[b]
    k = t.nofit[sb, sa]
    if k < 0:
        return x, y
    e = t.first_edge[k] + _below(t.first_edge[k + 1] - t.first_edge[k], seed)
    qx, qy = places[j, 0], t.image[b, SIGN] * places[j, 1] + t.image[b, SHIFT]
    fx, fy = t.flip[sb, sa, 0], t.flip[sb, sa, 1]
    cx = qx + fx * t.edge[e, AX]
    cy = (qy + fy * t.edge[e, AY] - t.image[a, SHIFT]) * t.image[a, SIGN]
    ux, uy = fx * t.edge[e, VX], fy * t.edge[e, VY] * t.image[a, SIGN]
    if kind < 0.65 and high_y - low_y > TOUCH:
        return min(max(cx, low_x), high_x), min(max(cy, low_y), high_y)
    edge_y = low_y if next_random(seed) < 0.5 else high_y
    if uy != 0.0 and 0.0 <= (edge_y - cy) / uy <= 1.0:
        return min(max(cx + (edge_y - cy) / uy * ux, low_x), high_x), edge_y
    edge_x = low_x if next_random(seed) < 0.5 else high_x
    if ux != 0.0 and 0.0 <= (edge_x - cx) / ux <= 1.0:
        return edge_x, min(max(cy + (edge_x - cx) / ux * uy, low_y), high_y)
    return min(max(cx, low_x), high_x), min(max(cy, low_y), high_y)


@compiled
def _refine(
    t: Tables,
    i: int,
    v: int,
    high_x: float,
    x: float,
    y: float,
    value: float,
    places: Floats,
    chosen: Ints,
    weight: Floats,
    step: float,
    seed: Seed,
    row: Floats,
) -> tuple[float, float, float, int]:
    """Walk downhill: steps along, across or slanting, longer after success, shorter after failure."""
    sx, sy = step, step if t.box[v, HIGH_Y] > t.box[v, LOW_Y] else 0.0
    tries = 0
    while value > 0.0 and (sx > STEP_LEAST or sy > STEP_LEAST):
        axis = next_random(seed)
        mx = axis < 0.35 or axis > 0.7
        my = axis >= 0.35 and sy > 0.0
        best_x, best_y, best = x, y, value
        side = 1.0 if next_random(seed) < 0.5 else -1.0
        for way in range(2):
            turn = 1.0 if way == 0 else -1.0
            cx = x + turn * max(sx, t.box[v, STEP_X]) if mx else x
            cy = y + turn * side * max(sy, t.box[v, STEP_Y]) if my else y
            cx, cy = allowed(t, v, high_x, cx, cy)
            tries += 1
            found = spread(t, i, v, cx, cy, places, chosen, 0, weight, best, row)
            if found < best:
                best_x, best_y, best = cx, cy, found
        factor = STEP_GROW if best < value else STEP_SHRINK
        if mx:
            sx *= factor
        if my or sy == 0.0:
            sy *= factor
        x, y, value = best_x, best_y, best
    return x, y, value, tries


@compiled
def relocate(
    t: Tables,
    i: int,
    length: float,
    places: Floats,
    chosen: Ints,
    weights: Floats,
    samples: int,
    seed: Seed,
) -> tuple[float, int]:
    """Put move i where its weighted overlap is least among sampled places; returns it and the tries made."""
    v_now = chosen[i]
    weight, row = weights[i], np.empty(len(chosen))
    now = spread(t, i, v_now, places[i, 0], places[i, 1], places, chosen, 0, weight, BIG, row)
    found_v = np.full(FINISHERS, -1, np.int64)
    found_x = np.zeros(FINISHERS)
    found_y = np.zeros(FINISHERS)
    found = np.full(FINISHERS, BIG)
    found_v[0], found_x[0], found_y[0], found[0] = v_now, places[i, 0], places[i, 1], now
    tries = 1
    v0, v1 = t.first_variant[i], t.first_variant[i + 1]
    for v in range(v0, v1):
        high_x = length - t.box[v, TRAIL]
        if high_x < t.box[v, LOW_X] - TOUCH:
            continue
        high_x = max(high_x, t.box[v, LOW_X])
        for _ in range(samples):
            kind = next_random(seed)
            if kind > 0.9 and v == v_now:
                x = places[i, 0] + (next_random(seed) - 0.5) * 10.0
                y = places[i, 1] + (next_random(seed) - 0.5) * 10.0
            else:
                x, y = _candidate(t, i, v, high_x, places, chosen, kind, seed)
            x, y = allowed(t, v, high_x, x, y)
            if x >= BIG:
                break  # no bar within this length
            tries += 1
            value = spread(t, i, v, x, y, places, chosen, 0, weight, found[FINISHERS - 1], row)
            if value < found[FINISHERS - 1]:
                at = FINISHERS - 1
                while at > 0 and found[at - 1] > value:
                    found[at], found_v[at] = found[at - 1], found_v[at - 1]
                    found_x[at], found_y[at] = found_x[at - 1], found_y[at - 1]
                    at -= 1
                found[at], found_v[at], found_x[at], found_y[at] = value, v, x, y
    best, bx, by, bv = now, places[i, 0], places[i, 1], v_now
    for f in range(FINISHERS):
        v = found_v[f]
        if v < 0 or best == 0.0:
            break
        high_x = max(length - t.box[v, TRAIL], t.box[v, LOW_X])
        step = max(min(found[f] / 2, 2.0), SMALLEST_START) if found[f] > 0 else SMALLEST_START
        x, y, value, more = _refine(
            t, i, v, high_x, found_x[f], found_y[f], found[f], places, chosen, weight, step, seed, row
        )
        tries += more
        if value < best:
            best, bx, by, bv = value, x, y, v
    places[i, 0], places[i, 1], chosen[i] = bx, by, bv
    return best, tries


@compiled
def _copy(places: Floats, chosen: Ints, to_places: Floats, to_chosen: Ints) -> None:
    for i in range(len(chosen)):
        to_places[i, 0], to_places[i, 1], to_chosen[i] = places[i, 0], places[i, 1], chosen[i]


@compiled
def separate(
    t: Tables,
    length: float,
    places: Floats,
    chosen: Ints,
    weights: Floats,
    samples: int,
    patience: int,
    budget: Ints,
    seed: Seed,
) -> float:
    """Move pieces until none overlap, or no progress for `patience` sweeps. Returns the least overlap reached.

    `places` and `chosen` end as the state of least overlap. `budget[0]` counts down the tries.
    """
    n = len(chosen)
    deep = np.zeros((n, n))
    total = measure(t, places, chosen, deep)
    best, best_places, best_chosen = total, places.copy(), chosen.copy()
    idle = 0
    order, even = np.arange(t.movable), np.ones(n)
    while total > 0.0 and idle < patience and budget[0] > 0:
        for m in range(t.movable - 1, 0, -1):
            r = _below(m + 1, seed)
            order[m], order[r] = order[r], order[m]
        for m in range(t.movable):
            i = order[m]
            stuck = 0.0
            for j in range(n):
                stuck += deep[i, j]
            if stuck == 0.0:
                continue
            _, tries = relocate(t, i, length, places, chosen, weights, samples, seed)
            budget[0] -= tries
            spread(t, i, chosen[i], places[i, 0], places[i, 1], places, chosen, 0, even, BIG, deep[i])
            for j in range(n):
                deep[j, i] = deep[i, j]
        total = 0.0
        worst = 0.0
        for i in range(n):
            for j in range(i):
                total += deep[i, j]
                worst = max(worst, deep[i, j])
        idle += 1
        if total < best:
            if total < IMPROVED * best:
                idle = 0
            best = total
            _copy(places, chosen, best_places, best_chosen)
        for i in range(n):
            for j in range(n):
                if deep[i, j] > 0.0:
                    weights[i, j] *= WEIGHT_LEAST + (WEIGHT_MOST - WEIGHT_LEAST) * deep[i, j] / worst
                else:
                    weights[i, j] = max(1.0, weights[i, j] * WEIGHT_FADE)
    _copy(best_places, best_chosen, places, chosen)
    return best
