"""The proved shortest lay of up to three moves: mixed-integer programmes on sliced no-fit polygons.

What lies outside a no-fit polygon is cut at the height of every corner into trapezia; each is convex, and
two images are apart when their difference lies in one of them. One yes-or-no number chooses the trapezium;
so a programme finds the shortest lay for one way to turn every move, or proves that none is shorter than the
best one known (horizontal slicing: Alvarez-Valdes, Martinez and Tamarit, 'A branch & bound algorithm for
cutting and packing irregularly shaped pieces', 2013). HiGHS solves it. Bounded by nodes, never by time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise, product

import numpy as np
from numpy.typing import NDArray

from clothwise.lay.overlap import (
    AX,
    AY,
    BY,
    FOLD,
    HIGH_Y,
    LOW_X,
    LOW_Y,
    SHIFT,
    SIGN,
    STEP_X,
    STEP_Y,
    TRAIL,
    VX,
    VY,
    Floats,
    Tables,
    measure,
)
from clothwise.lay.search import Lay
from clothwise.tolerance import LAY_TOUCH

MOST_MOVES = 3  # with more the proof takes minutes
MOST_TURNS = 300  # ways to turn all moves; each may ask for a programme
SLACK = 0.02  # cm: outlines may be thinned outwards by so much; the proof is as fine as twice that
SHORTER = 0.01  # cm: a lay must gain so much to count as shorter
WIDE = 1e5  # cm: beyond any cloth

OPTIMAL, LIMIT, INFEASIBLE = 0, 1, 2  # status of `milp`


@dataclass(frozen=True, slots=True)
class Room:
    """A trapezium of free differences d: low <= d_y <= high, right of one edge, left of another (-1: none)."""

    low: float
    high: float
    left: int
    right: int


def provable(t: Tables) -> bool:
    """Few enough free moves, nothing fixed on the cloth, no stripes to meet."""
    turns = np.prod(np.diff(t.first_variant), dtype=np.float64)
    free = len(t.first_variant) - 1 == t.movable and not t.box[:, [STEP_X, STEP_Y]].any()
    return bool(free and 0 < t.movable <= MOST_MOVES and turns <= MOST_TURNS)


def proved(
    t: Tables, length: float, floor: float, nodes: int, on: Callable[[], bool] | None = None
) -> tuple[Lay | None, bool]:
    """A lay shorter than `length`, None when none was found; and whether no lay at all is shorter still.

    length  of a lay that is known [cm]
    floor   no lay is shorter, proved otherwise [cm]
    nodes   of the search tree of each programme
    on      False ends the search
    """
    best: Lay | None = None
    rooms: dict[int, list[Room]] = {}
    complete = True
    spans = t.box[:, LOW_X] + t.box[:, TRAIL]
    ranges = [range(t.first_variant[i], t.first_variant[i + 1]) for i in range(t.movable)]
    for turned in sorted(product(*ranges), key=lambda vs: float(spans[list(vs)].sum())):
        if length <= floor + SHORTER:
            return best, True
        if spans[list(turned)].max() > length - SHORTER:
            continue
        if on is not None and not on():
            return best, False
        found, status = _solved(t, turned, length - SHORTER, nodes, rooms)
        if found is not None:
            best, length = found, found.length
        complete &= status == INFEASIBLE or (status == OPTIMAL and found is not None)
    return best, complete


def _solved(
    t: Tables, turned: tuple[int, ...], most: float, nodes: int, rooms: dict[int, list[Room]]
) -> tuple[Lay | None, int]:
    """The shortest lay at most so long, with the moves turned so. None when there is none or none was found."""
    n = t.movable
    v = np.array(turned, np.int64)
    low = np.concatenate([np.stack([t.box[v, LOW_X], t.box[v, LOW_Y]], 1).ravel(), [0.0]])
    high = np.concatenate([np.stack([most - t.box[v, TRAIL], t.box[v, HIGH_Y]], 1).ravel(), [most]])
    if (low > high + LAY_TOUCH).any():
        return None, INFEASIBLE
    programme = _Programme(low, np.maximum(low, high))
    for i in range(n):
        programme.add({2 * n: 1.0, 2 * i: -1.0}, float(t.box[v[i], TRAIL]))
    for i, j in combinations(range(n), 2):
        for a, b in _image_pairs(t, turned[i], turned[j]):
            if not _keep_apart(t, programme, (i, j), (a, b), rooms):
                return None, INFEASIBLE
    result = programme.solve(2 * n, nodes)
    if result.x is None:
        return None, int(result.status)
    places = np.clip(result.x[: 2 * n], programme.low[: 2 * n], programme.high[: 2 * n]).reshape(n, 2)
    lay = Lay(np.ascontiguousarray(places), v, float((places[:, 0] + t.box[v, TRAIL]).max()))
    if measure(t, lay.places, lay.chosen, np.zeros((n, n))) > 0.0:
        return None, LIMIT  # rounding: better no proof than a wrong lay
    return lay, int(result.status)


def _image_pairs(t: Tables, vi: int, vj: int) -> Iterator[tuple[int, int]]:
    """Images that could meet; of two moves on one fold only the first ones, the others mirror them."""
    fi, fj = t.box[vi, FOLD], t.box[vj, FOLD]
    if fi >= 0 and fj >= 0:
        if fi == fj:
            yield int(t.first_image[vi]), int(t.first_image[vj])
        return
    yield from product(
        range(t.first_image[vi], t.first_image[vi + 1]), range(t.first_image[vj], t.first_image[vj + 1])
    )


@dataclass(slots=True)
class _Linear:
    """A sum of variables with factors, plus a constant."""

    factors: dict[int, float]
    constant: float

    def range(self, low: list[float], high: list[float]) -> tuple[float, float]:
        least = sum(f * (low[c] if f > 0 else high[c]) for c, f in self.factors.items())
        most = sum(f * (high[c] if f > 0 else low[c]) for c, f in self.factors.items())
        return least + self.constant, most + self.constant


class _Programme:
    """Rows of A x >= b, grown piece by piece; variables beyond the first are yes or no."""

    def __init__(self, low: Floats, high: Floats) -> None:
        self.low, self.high = list(low), list(high)
        self.first_choice = len(low)
        self.rows: list[dict[int, float]] = []
        self.right: list[float] = []

    def choice(self) -> int:
        self.low.append(0.0)
        self.high.append(1.0)
        return len(self.low) - 1

    def add(self, factors: dict[int, float], at_least: float) -> None:
        self.rows.append(factors)
        self.right.append(at_least)

    def solve(self, least: int, nodes: int) -> _Result:
        """Make one variable least."""
        from scipy.optimize import Bounds, LinearConstraint, milp  # heavy, and few lays ask for a proof
        from scipy.sparse import csr_matrix

        count = len(self.low)
        starts = np.concatenate([[0], np.cumsum([len(row) for row in self.rows])])
        columns = np.array([c for row in self.rows for c in row])
        values = np.array([f for row in self.rows for f in row.values()])
        matrix = csr_matrix((values, columns, starts), shape=(len(self.rows), count))
        cost = np.zeros(count)
        cost[least] = 1.0
        result = milp(
            cost,
            integrality=(np.arange(count) >= self.first_choice).astype(np.int64),
            constraints=LinearConstraint(matrix, np.array(self.right), np.inf),
            bounds=Bounds(np.array(self.low), np.array(self.high)),
            options={"node_limit": nodes},
        )
        return _Result(result.x, int(result.status))


@dataclass(frozen=True, slots=True)
class _Result:
    x: NDArray[np.float64] | None
    status: int


def _keep_apart(
    t: Tables,
    programme: _Programme,
    moves: tuple[int, int],
    images: tuple[int, int],
    rooms: dict[int, list[Room]],
) -> bool:
    """Add: the difference of two images lies in one of the rooms. False when no room is within reach."""
    (i, j), (a, b) = moves, images
    k = int(t.nofit[t.shape[b], t.shape[a]])
    if k < 0:
        return True
    fx, fy = (float(f) for f in t.flip[t.shape[b], t.shape[a]])
    dx = _Linear({2 * i: fx, 2 * j: -fx}, 0.0)
    dy = _Linear(
        {2 * i + 1: fy * float(t.image[a, SIGN]), 2 * j + 1: -fy * float(t.image[b, SIGN])},
        fy * float(t.image[a, SHIFT] - t.image[b, SHIFT]),
    )
    x_range, y_range = dx.range(programme.low, programme.high), dy.range(programme.low, programme.high)
    if k not in rooms:
        rooms[k] = _rooms(t, k)
    choices: list[tuple[int, tuple[float, float, float, float]]] = []
    for room in rooms[k]:
        extent = _extent(t, room, x_range, y_range)
        if extent is not None:
            choice = programme.choice()
            choices.append((choice, extent))
            for edge, side in ((room.left, 1.0), (room.right, -1.0)):
                if edge >= 0:
                    _beside(t, programme, edge, side, choice, (dx, dy), (x_range, y_range))
    if not choices:
        return False
    programme.add({c: 1.0 for c, _ in choices}, 1.0)
    for linear, at in ((dx, 0), (dy, 2)):  # the choice bounds the difference by itself, without a large factor
        programme.add(linear.factors | {c: -e[at] for c, e in choices}, -linear.constant)
        flipped = {column: -factor for column, factor in linear.factors.items()}
        programme.add(flipped | {c: e[at + 1] for c, e in choices}, linear.constant)
    programme.add({c: -1.0 for c, _ in choices}, -1.0)
    return True


def _beside(
    t: Tables,
    programme: _Programme,
    edge: int,
    side: float,
    choice: int,
    difference: tuple[_Linear, _Linear],
    ranges: tuple[tuple[float, float], tuple[float, float]],
) -> None:
    """Add: when chosen, d lies right (side 1) or left (side -1) of the line through an edge."""
    lean = float(t.edge[edge, VX] / t.edge[edge, VY])
    start = float(t.edge[edge, AX]) - lean * float(t.edge[edge, AY])
    dx, dy = difference
    factors = {c: side * f for c, f in dx.factors.items()}
    for c, f in dy.factors.items():
        factors[c] = factors.get(c, 0.0) - side * lean * f
    (x0, x1), (y0, y1) = ranges
    least = min(side * (x - lean * y) for x in (x0, x1) for y in (y0, y1))
    constant = side * (dx.constant - lean * dy.constant)
    slack = side * start - least  # so much the row gives way when not chosen
    if slack > 0:
        programme.add(factors | {choice: -slack}, side * start - slack - constant)


def _extent(
    t: Tables, room: Room, x_range: tuple[float, float], y_range: tuple[float, float]
) -> tuple[float, float, float, float] | None:
    """Bounds of what of a room is in reach, or None."""
    low, high = max(room.low, y_range[0]), min(room.high, y_range[1])
    if low > high + LAY_TOUCH:
        return None
    high = max(low, high)
    x0, x1 = x_range
    if room.left >= 0:
        x0 = max(x0, min(_at(t, room.left, low), _at(t, room.left, high)))
    if room.right >= 0:
        x1 = min(x1, max(_at(t, room.right, low), _at(t, room.right, high)))
    return (x0, max(x0, x1), low, high) if x0 <= x1 + LAY_TOUCH else None


def _at(t: Tables, edge: int, y: float) -> float:
    return float(t.edge[edge, AX] + (y - t.edge[edge, AY]) * t.edge[edge, VX] / t.edge[edge, VY])


def _rooms(t: Tables, k: int) -> list[Room]:
    """What lies outside a no-fit polygon, as trapezia; neighbours between the same edges are one."""
    first, end = int(t.first_edge[k]), int(t.first_edge[k + 1])
    start_y = t.edge[first:end, AY]
    end_y = t.edge[first:end, BY]
    levels = np.unique(np.concatenate([start_y, end_y]))
    found = [Room(-WIDE, float(levels[0]), -1, -1), Room(float(levels[-1]), WIDE, -1, -1)]
    open_rooms: dict[tuple[int, int], float] = {}
    for low, high in pairwise(levels):
        across = (
            np.flatnonzero((np.minimum(start_y, end_y) <= low) & (np.maximum(start_y, end_y) >= high)) + first
        )
        middle = (low + high) / 2
        order = sorted(
            (int(e) for e in across if t.edge[e, AY] != t.edge[e, BY]), key=lambda e: _at(t, e, middle)
        )
        rims = [-1, *order, -1]
        now = {(rims[m], rims[m + 1]) for m in range(0, len(rims), 2)}
        for sides in [sides for sides in open_rooms if sides not in now]:
            found.append(Room(open_rooms.pop(sides), float(low), *sides))
        for sides in now:
            open_rooms.setdefault(sides, float(low))
    found += [Room(low, float(levels[-1]), *sides) for sides, low in open_rooms.items()]
    return sorted(found, key=lambda room: (room.low, room.high, room.left, room.right))
