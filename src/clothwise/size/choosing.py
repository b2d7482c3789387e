"""The best single size and the best blend: least cost over the levels, from the top down.

    cost      grows with the square of how far the ease lies from the wanted, in steps of the grade;
              steeply once half the room between wanted and least is gone, or more than half a size is spare
    weight    how hard the level is to alter once cut: shoulders and armholes hang from the bust
    jump      sizes between one level and the next: held to what the side seam can take in that length;
              a jump that only makes the seam straighter, as over a full waist, is free

Every cost is convex in the ease less the wanted (or does not depend on the wanted), and all eases rise
with the size. So whoever wants more ease, at one level or at all, never gets a smaller size there; the
tests hold it. Dynamic programming over three or four levels: exact.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.tolerance import GIRTH

PULL_TIGHT = 0.33  # cost of one grade too little, and of one too much: between sizes a sewer takes the
PULL_LOOSE = 0.30  # larger in a woven, since cloth can be taken in; the reverse in a knit
TIGHT = 6.0  # more, per grade beyond half the room to the floor; house rule, held to sewers' cases
SPARE = 1.2  # more, per grade beyond half a size of spare ease
ROOM = 0.5  # share of the room between wanted and least that may go before it counts steeply
HALF_SIZE = 0.5  # grades: so much spare ease nobody minds
CHANGE = 0.15  # cost of each size of a blend: a straight cut is preferred when it is nearly as good
BEYOND = 0.35  # cost of each size beyond the chart: the paper does not hold it
UNWEARABLE = 1000.0  # cost of each grade under the floor: a hair under it is rounding, a centimetre never pays
SLOPE = 0.15  # cm sideways per cm of length that a side seam can take without a visible bend (T: 1 in 7)
EDGES = 4  # edges of the two side seams over which a blend is shared


@dataclass(frozen=True, slots=True)
class Held:
    """One level as the choice sees it. `eases`: what each place would give; all lists by place. [cm]

    below     length down to the next level, over which a blend may run; the last level's is not asked
    girths    finished girth at each place, for the width of a jump
    off       how many sizes each place lies beyond the chart
    free      hangs free: only its floor counts
    """

    level: str
    eases: tuple[float, ...]
    wanted: float
    floor: float
    grade: float
    weight: float
    below: float
    girths: tuple[float, ...]
    off: tuple[int, ...]
    free: bool = False
    knit: bool = False


def cost(held: Held, at: int) -> float:
    """What cutting this place costs at this level."""
    ease, grade = held.eases[at], held.grade
    total = BEYOND * held.off[at]
    total += UNWEARABLE * max(0.0, held.floor - ease) / grade
    if held.free:
        return total + _free(held, ease)
    off = (ease - held.wanted) / grade
    pulls = (PULL_LOOSE, PULL_TIGHT) if held.knit else (PULL_TIGHT, PULL_LOOSE)
    steep = max(0.0, (tight_below(held) - ease) / grade)
    spare = max(0.0, (ease - loose_above(held)) / grade)
    return total + held.weight * (pulls[off > 0] * off**2 + TIGHT * steep**2 + SPARE * spare**2)


def _free(held: Held, ease: float) -> float:
    """A free level still has its floor, and near it counts like any other."""
    return held.weight * TIGHT * max(0.0, (held.floor - ease) / held.grade) ** 2


def tight_below(held: Held) -> float:
    """Ease under which more than half the room to the floor is gone. [cm]"""
    return held.floor if held.free else held.wanted - ROOM * max(0.0, held.wanted - held.floor)


def loose_above(held: Held) -> float:
    """Ease over which a sewer would take it in. [cm]"""
    return held.wanted + HALF_SIZE * held.grade


def best_single(levels: Sequence[Held]) -> int:
    """The place that costs least when every level is cut in one size; of equals the smaller."""
    return min(range(len(levels[0].eases)), key=lambda at: sum(cost(held, at) for held in levels))


def best_alone(held: Held) -> int:
    """The place that this level would choose for itself."""
    return min(range(len(held.eases)), key=lambda at: cost(held, at))


def best_blend(levels: Sequence[Held]) -> tuple[int, ...]:
    """The places, one to a level, that cost least together, no jump wider than its length allows."""
    n = len(levels[0].eases)
    totals = [cost(levels[0], at) for at in range(n)]
    origins: list[list[int]] = []
    for above, held in itertools.pairwise(levels):
        came = [
            min(_reachable(above, held, at), key=lambda b: totals[b] + CHANGE * abs(at - b)) for at in range(n)
        ]
        totals = [totals[b] + CHANGE * abs(at - b) + cost(held, at) for at, b in enumerate(came)]
        origins.append(came)
    places = [min(range(n), key=lambda at: totals[at])]
    for came in reversed(origins):
        places.append(came[places[-1]])
    return tuple(reversed(places))


def _reachable(above: Held, held: Held, at: int) -> list[int]:
    """Places of the level above from which the side seams can run to this one."""
    return [
        b
        for b in range(len(held.eases))
        if b == at or seam_takes(above.girths[b], held.girths[b], held.girths[at], above.below)
    ]


def seam_takes(upper: float, own: float, girth: float, length: float) -> bool:
    """Whether the side seams run over this length from `upper` to `girth` without a visible bend. [cm]

    upper   girth of the size that is cut above; own: what that size measures at the level below
    girth   what is wanted there. Between `own` and `upper` the seam only becomes straighter; beyond
            either it bends, as far as `widest_jump` allows
    """
    bend = max(min(own, upper) - girth, girth - max(own, upper))
    return bend <= widest_jump(length) + GIRTH


def widest_jump(length: float) -> float:
    """The change of girth that bent side seams take over this length. [cm]"""
    return EDGES * SLOPE * length
