"""The search for a short lay: build, press, then shrink the cloth and move pieces until they fit again.

It stops on tries, never on time: the same problem at the same effort gives the same lay.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from clothwise.lay.build import MOST_CROSSING_EDGES, build, push, used_length
from clothwise.lay.kernel import Seed, separate
from clothwise.lay.overlap import HIGH_Y, LOW_X, LOW_Y, TRAIL, Floats, Ints, Tables, put_right

SEED = 20_240_229
FIRST_STEP = 0.03  # share of the length taken off at first
STEP_GROW = 1.3  # after a success
FINE_STEP = 0.002  # from here on a failure says little: the lay is nearly as short as it can be
SHAKES, FEW_SHAKES = 4, 2  # starts that may fail before less is taken off; few while the step is coarse
LAST_STEP = 0.0004  # a smaller share is not worth the search
PROVED = 0.01  # cm: a lay this near the least length that can be proved is called optimal
MOST_CROSSINGS = 4e8  # looked at in all builds of one lay
UNBOUND = 1e7  # cm: cloth enough for any lay


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to look. Bounded by tries, so the result does not depend on the machine's load.

    builds   orders in which a first lay is built
    tries    places tried while the lay is shortened
    samples  places sampled each time one piece is moved
    patience sweeps without progress before another start
    rounds   linear programmes each time a lay is pressed together; 0: left as it is built
    slack    how far an outline may be thinned outwards [cm]
    nodes    of each search tree that proves a lay of few moves the shortest; 0: no proof
    """

    name: str
    builds: int
    tries: int
    samples: int
    patience: int
    rounds: int
    slack: float
    nodes: int = 0


BRIEF = Effort("brief", builds=4, tries=0, samples=40, patience=8, rounds=2, slack=0.1)  # many pieces on paper
QUICK = Effort("quick", builds=12, tries=0, samples=40, patience=8, rounds=2, slack=0.1)
BRISK = Effort("brisk", builds=12, tries=40_000, samples=40, patience=8, rounds=3, slack=0.1)
USUAL = Effort("usual", builds=12, tries=400_000, samples=60, patience=25, rounds=12, slack=0.05, nodes=3_000)
THOROUGH = Effort(
    "thorough", builds=30, tries=8_000_000, samples=40, patience=40, rounds=20, slack=0.03, nodes=20_000
)
EFFORTS = {effort.name: effort for effort in (BRIEF, QUICK, BRISK, USUAL, THOROUGH)}


@dataclass(slots=True)
class Lay:
    """A lay without overlap, as arrays. Changed in place only by its owner."""

    places: Floats
    chosen: Ints
    length: float

    def copy(self) -> Lay:
        return Lay(self.places.copy(), self.chosen.copy(), self.length)


def least_length(t: Tables, areas: Floats, width: float) -> float:
    """No lay is shorter: the area must find room, and the longest move must lie somewhere. [cm]"""
    if not t.movable:
        return 0.0
    spans = t.box[:, LOW_X] + t.box[:, TRAIL]
    longest = max(float(spans[t.first_variant[i] : t.first_variant[i + 1]].min()) for i in range(t.movable))
    return max(longest, float(areas.sum()) / width)


def _pressed(t: Tables, lay: Lay, effort: Effort) -> float:
    """Press a lay in place; its length then. [cm]"""
    from clothwise.lay.compact import press  # loads a solver of 22 MB, which quick lays never need

    return press(t, lay.places, lay.chosen, rounds=effort.rounds)


def first_lay(t: Tables, areas: Floats, effort: Effort, enough: float = 0.0) -> Lay:
    """Build in several orders, press the best."""
    best: Lay | None = None
    for order in _orders(t, areas, min(effort.builds, _affordable(t))):
        places = np.zeros((len(t.first_variant) - 1, 2))
        chosen = t.first_variant[:-1].copy()  # the barriers stand where they are
        if not build(t, order, UNBOUND, places, chosen):
            continue
        lay = Lay(places, chosen, float(used_length(t, places, chosen)))
        if best is None or lay.length < best.length:
            best = lay
            if best.length <= enough + PROVED:
                return best
    assert best is not None, "every move has a variant, and the cloth is as long as wanted"
    if effort.rounds:
        best.length = float(push(t, best.length, best.places, best.chosen))
        best.length = _pressed(t, best, effort)
    return best


def _affordable(t: Tables) -> int:
    """Builds that cost no more than a second or so: each asks where the rims of all moves cross each other."""
    rims = min(t.movable * len(t.edge) / max(len(t.bounds), 1), MOST_CROSSING_EDGES)
    return max(2, int(MOST_CROSSINGS / (rims**2 * t.movable + 1)))


def _orders(t: Tables, areas: Floats, count: int) -> Iterator[Ints]:
    """Orders of building: by area, by length along the cloth, by width across, then shaken."""
    first = t.first_variant[: t.movable]
    along = t.box[first, LOW_X] + t.box[first, TRAIL]
    room = t.box[first, HIGH_Y] - t.box[first, LOW_Y]
    keys = [areas, along, -room, along**2 * areas]
    rng = np.random.default_rng(SEED)
    for k in range(count):
        key = keys[k % len(keys)] if k < len(keys) else areas * np.exp(rng.normal(0, 0.5, len(areas)))
        yield np.argsort(-key, kind="stable").astype(np.int64)


def shortened(
    t: Tables,
    best: Lay,
    effort: Effort,
    enough: float,
    heard: Callable[[Lay], bool] | None = None,
    *,
    step: float = FIRST_STEP,
    luck: int = SEED,
) -> Lay:
    """Take a little off the length, let the pieces find room again; on failure shake, then take off less.

    enough  no more search once the lay is at most so long [cm]
    heard   is told the best lay after every start; False ends the search
    step    share of the length taken off at first: less from a lay that is tight already
    luck    another number, another search
    """
    budget = np.array([effort.tries], np.int64)
    seed: Seed = np.array([luck], np.uint64)
    rng = np.random.default_rng(luck)
    failures = 0
    stuck: Lay | None = None
    while budget[0] > 0 and best.length > enough + PROVED and (heard is None or heard(best)):
        length = max(best.length * (1 - step), enough)
        start = _start(t, best, stuck, length, failures, rng)
        weights = np.ones((len(start.chosen), len(start.chosen)))
        left = separate(
            t, length, start.places, start.chosen, weights, effort.samples, effort.patience, budget, seed
        )
        if left == 0.0:
            start.length = _pressed(t, start, effort)
            if start.length < best.length:  # a move longer than `length` stays as long however it lies
                best, stuck, failures = start, None, 0
                step = min(step * STEP_GROW, FIRST_STEP)
                continue
        failures += 1
        budget[0] -= 1  # so that even a start without tries uses the budget up
        stuck = start
        if failures >= (FEW_SHAKES if step > FINE_STEP else SHAKES):
            failures, stuck = 0, None
            step = step / 2 if step > LAST_STEP else FIRST_STEP / 3
    return best


def _start(
    t: Tables, best: Lay, stuck: Lay | None, length: float, failures: int, rng: np.random.Generator
) -> Lay:
    """Where the next separation begins: the best lay squeezed, or the stuck one with two pieces exchanged."""
    start = (best if stuck is None or failures % 2 == 0 else stuck).copy()
    if failures:
        _shake(t, start, length, rng)
    put_right(t, start.places, start.chosen, length)
    return start


def _shake(t: Tables, lay: Lay, length: float, rng: np.random.Generator) -> None:
    """Exchange two moves, or throw one anywhere."""
    n = t.movable
    a, b = rng.integers(n), rng.integers(n)
    if a != b:
        lay.places[[a, b]] = lay.places[[b, a]]
    for i in {int(a), int(b)}:
        v = int(rng.integers(t.first_variant[i], t.first_variant[i + 1]))
        lay.chosen[i] = v
        lay.places[i, 1] = min(max(lay.places[i, 1], t.box[v, LOW_Y]), t.box[v, HIGH_Y])
    if a == b:
        i, v = int(a), int(lay.chosen[a])
        lay.places[i] = (
            rng.uniform(t.box[v, LOW_X], max(length - t.box[v, TRAIL], t.box[v, LOW_X])),
            rng.uniform(t.box[v, LOW_Y], t.box[v, HIGH_Y]),
        )
