"""Building a lay piece by piece: each goes where it ends soonest without overlap. Compiled.

Candidate places are where a best place must lie: corners of the no-fit polygons, their crossings with
each other and with the edges of the box, and the corners of the box.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from clothwise.lay.overlap import (
    AX,
    AY,
    BIG,
    FOLD,
    HIGH_Y,
    LOW_X,
    LOW_Y,
    SHIFT,
    SIGN,
    START_X,
    START_Y,
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
    on_grid,
    spread,
)

ACROSS_COUNTS = 1e-4  # a cm across counts as a micrometre along: among equal ends the lower selvedge wins
MOST_CROSSING_EDGES = 1500  # beyond this many edges their crossings with each other are left out
Edges = Floats


@compiled
def _rims(t: Tables, v: int, i: int, high_x: float, places: Floats, chosen: Ints) -> Edges:
    """Rims of all no-fit polygons of the placed moves, in terms of the place of move i. Rows x, y, dx, dy."""
    room = 0
    for j in range(len(chosen)):
        if j != i and chosen[j] >= 0:
            for a in range(t.first_image[v], t.first_image[v + 1]):
                for b in range(t.first_image[chosen[j]], t.first_image[chosen[j] + 1]):
                    k = t.nofit[t.shape[b], t.shape[a]]
                    if k >= 0:
                        room += t.first_edge[k + 1] - t.first_edge[k]
    rims = np.empty((room, 4))
    n = 0
    for j in range(len(chosen)):
        if j == i or chosen[j] < 0:
            continue
        vj = chosen[j]
        a0, a1 = t.first_image[v], t.first_image[v + 1]
        b0, b1 = t.first_image[vj], t.first_image[vj + 1]
        if t.box[v, FOLD] >= 0 and t.box[vj, FOLD] >= 0:
            if t.box[v, FOLD] != t.box[vj, FOLD]:
                continue
            a1, b1 = a0 + 1, b0 + 1
        for a in range(a0, a1):
            for b in range(b0, b1):
                sa, sb = t.shape[a], t.shape[b]
                k = t.nofit[sb, sa]
                if k < 0:
                    continue
                fx, fy = t.flip[sb, sa, 0], t.flip[sb, sa, 1]
                qx, qy = places[j, 0], t.image[b, SIGN] * places[j, 1] + t.image[b, SHIFT]
                for e in range(t.first_edge[k], t.first_edge[k + 1]):
                    x = qx + fx * t.edge[e, AX]
                    y = (qy + fy * t.edge[e, AY] - t.image[a, SHIFT]) * t.image[a, SIGN]
                    ux, uy = fx * t.edge[e, VX], fy * t.edge[e, VY] * t.image[a, SIGN]
                    if max(x, x + ux) < t.box[v, LOW_X] - TOUCH or min(x, x + ux) > high_x + TOUCH:
                        continue
                    if max(y, y + uy) < t.box[v, LOW_Y] - TOUCH or min(y, y + uy) > t.box[v, HIGH_Y] + TOUCH:
                        continue
                    rims[n, 0], rims[n, 1], rims[n, 2], rims[n, 3] = x, y, ux, uy
                    n += 1
    return rims[:n]


@compiled
def _corners_and_crossings(t: Tables, v: int, high_x: float, rims: Edges, latest: float) -> Floats:
    """Places where a best place may lie, rows x, y: corners of the box, of the rims, and crossings of both.

    Crossings that would end after `latest` are left out.
    """
    low_x, low_y, high_y = t.box[v, LOW_X], t.box[v, LOW_Y], t.box[v, HIGH_Y]
    n = len(rims)
    out = np.empty((4 * n + 64, 2))
    out[0, 0], out[0, 1] = low_x, low_y
    out[1, 0], out[1, 1] = low_x, high_y
    count = 2
    for e in range(n):
        x, y, ux, uy = rims[e, 0], rims[e, 1], rims[e, 2], rims[e, 3]
        out[count, 0], out[count, 1] = x, y
        count += 1
        for side in range(3):
            s = -1.0
            if side < 2 and uy != 0.0:
                s = ((low_y if side == 0 else high_y) - y) / uy
            elif side == 2 and ux != 0.0:
                s = (low_x - x) / ux
            if 0.0 <= s <= 1.0:
                out[count, 0], out[count, 1] = x + s * ux, y + s * uy
                count += 1
    if n > MOST_CROSSING_EDGES or high_y - low_y < TOUCH:
        return out[:count]
    for e in range(n):
        x, y, ux, uy = rims[e, 0], rims[e, 1], rims[e, 2], rims[e, 3]
        if min(x, x + ux) > latest:
            continue
        for f in range(e):
            wx, wy = rims[f, 2], rims[f, 3]
            across = ux * wy - uy * wx
            px, py = rims[f, 0] - x, rims[f, 1] - y
            if across == 0.0:
                continue
            s = (px * wy - py * wx) / across
            r = (px * uy - py * ux) / across
            if 0.0 <= s <= 1.0 and 0.0 <= r <= 1.0:
                if count == len(out):
                    out = np.concatenate((out, np.empty_like(out)))
                out[count, 0], out[count, 1] = x + s * ux, y + s * uy
                count += 1
    return out[:count]


@compiled
def _on_the_grid(t: Tables, v: int, high_x: float, rims: Edges, latest: float) -> Floats:
    """Places where a best place may lie when stripes hold the move: ends and crossings of its lines.

    The grid's lines along the cloth are followed; where there are none, those across it, up to the first
    beyond all rims.
    """
    low_x, low_y, high_y = t.box[v, LOW_X], t.box[v, LOW_Y], t.box[v, HIGH_Y]
    step_x, step_y = t.box[v, STEP_X], t.box[v, STEP_Y]
    axis = 1 if step_y > 0.0 else 0
    low, high, step, start = low_x, min(high_x, latest), step_x, t.box[v, START_X]
    if axis == 1:
        low, high, step, start = low_y, high_y, step_y, t.box[v, START_Y]
    else:
        furthest = low_x
        for e in range(len(rims)):
            furthest = max(furthest, rims[e, 0])
        high = min(high, furthest + step)
    out = np.empty((64, 2))
    count = 0
    line = on_grid(low, low, high, start, step)
    if line < low - TOUCH:
        line += step
    while line <= high + TOUCH:
        if count + 2 * len(rims) + 2 > len(out):
            out = np.concatenate((out, np.empty((len(out) + 2 * len(rims) + 2, 2))))
        if axis == 1:
            out[count, 0], out[count, 1] = low_x, line
            count += 1
        else:
            out[count, 0], out[count, 1] = line, low_y
            out[count + 1, 0], out[count + 1, 1] = line, high_y
            count += 2
        for e in range(len(rims)):
            at, along = rims[e, axis], rims[e, 2 + axis]
            if along == 0.0 or not 0.0 <= (line - at) / along <= 1.0:
                continue
            other = rims[e, 1 - axis] + (line - at) / along * rims[e, 3 - axis]
            if axis == 1:
                if step_x > 0.0:  # both ways: the next point of the grid behind the crossing
                    other = t.box[v, START_X] + np.ceil((other - TOUCH - t.box[v, START_X]) / step_x) * step_x
                out[count, 0], out[count, 1] = other, line
            else:
                out[count, 0], out[count, 1] = line, other
            count += 1
        line += step
    if axis == 1 and step_x > 0.0:
        first = on_grid(low_x, low_x, BIG, t.box[v, START_X], step_x)
        for c in range(count):
            out[c, 0] = max(out[c, 0], first)
    return out[:count]


@compiled
def settle(t: Tables, i: int, length: float, places: Floats, chosen: Ints, even: Floats, row: Floats) -> bool:
    """Put move i where it ends soonest, clear of all placed moves. False when it finds no room."""
    best, best_v, best_x, best_y = BIG, -1, 0.0, 0.0
    for v in range(t.first_variant[i], t.first_variant[i + 1]):
        low_x, low_y, high_y, trail = t.box[v, LOW_X], t.box[v, LOW_Y], t.box[v, HIGH_Y], t.box[v, TRAIL]
        high_x = length - trail
        if high_x < low_x - TOUCH:
            continue
        high_x = max(high_x, low_x)
        rims = _rims(t, v, i, high_x, places, chosen)
        if t.box[v, STEP_X] > 0.0 or t.box[v, STEP_Y] > 0.0:
            tries = _on_the_grid(t, v, high_x, rims, best - trail)
        else:
            tries = _corners_and_crossings(t, v, high_x, rims, best - trail)
        for c in range(len(tries)):
            x, y = tries[c, 0], tries[c, 1]
            if x < low_x - TOUCH or x > high_x + TOUCH or y < low_y - TOUCH or y > high_y + TOUCH:
                continue
            x, y = allowed(t, v, high_x, x, y)
            end = x + trail + ACROSS_COUNTS * y
            if end < best and spread(t, i, v, x, y, places, chosen, 0, even, TOUCH / 2, row) == 0.0:
                best, best_v, best_x, best_y = end, v, x, y
    if best_v < 0:
        return False
    chosen[i], places[i, 0], places[i, 1] = best_v, best_x, best_y
    return True


@compiled
def build(t: Tables, order: Ints, length: float, places: Floats, chosen: Ints) -> bool:
    """Settle the moves in the order given. False when one finds no room."""
    n = len(chosen)
    even, row = np.ones(n), np.empty(n)
    for i in range(t.movable):
        chosen[i] = -1
    room = True
    for i in order:
        room = room and settle(t, i, length, places, chosen, even, row)
    return room


@compiled
def _soonest(t: Tables, places: Floats, chosen: Ints, done: Any) -> int:
    """The move not yet done that ends soonest."""
    best, at = BIG, 0
    for i in range(t.movable):
        end = places[i, 0] + t.box[chosen[i], TRAIL]
        if not done[i] and end < best:
            best, at = end, i
    return at


@compiled
def push(t: Tables, length: float, places: Floats, chosen: Ints) -> Any:
    """Let the moves settle again, one after the other from the start of the cloth, until none ends sooner."""
    n = len(chosen)
    even, row = np.ones(n), np.empty(n)
    for _ in range(3):
        moved = False
        done = np.zeros(t.movable, np.bool_)
        for _ in range(t.movable):
            i = _soonest(t, places, chosen, done)
            done[i] = True
            x, y, v = places[i, 0], places[i, 1], chosen[i]
            ok = settle(t, i, length, places, chosen, even, row)
            if not ok or places[i, 0] + t.box[chosen[i], TRAIL] > x + t.box[v, TRAIL] - TOUCH:
                places[i, 0], places[i, 1], chosen[i] = x, y, v
            else:
                moved = True
        if not moved:
            break
    return used_length(t, places, chosen)


@compiled
def used_length(t: Tables, places: Floats, chosen: Ints) -> float:
    """Where the last move ends. [cm]"""
    most = 0.0
    for i in range(t.movable):
        most = max(most, places[i, 0] + t.box[chosen[i], TRAIL])
    return most
