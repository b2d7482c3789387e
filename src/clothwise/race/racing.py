"""A lay within so many seconds of the clock, on two cores.

First the strip packer has both cores. By itself it explores for four fifths of its time and compresses for
the rest; here it explores for no less, and pressing by linear programmes takes the place of compressing: in a
tenth of a second it left each of seventeen lays of six instances shorter than compressing did. Then our own
search goes on from that lay, on both cores, each by its own luck. So what the packer alone would find is
found here too.

Bound by the clock, so not the same every time: packets and suggestions use the efforts of `lay`, which are.
The packer plays only where it knows the rules (single layer, straight cloth, no flaws or stripes) and where
it helps (many pieces).
"""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from threading import Lock

from clothwise.errors import LayError
from clothwise.lay.layering import SINGLE, Layering
from clothwise.lay.moves import Setting, set_out
from clothwise.lay.nofit import NoFits
from clothwise.lay.packing import packable
from clothwise.lay.placing import is_apart, lay_of, plan_of
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import Watch, checked, plan
from clothwise.lay.problem import LayProblem
from clothwise.lay.search import EFFORTS, Effort, Lay, shortened
from clothwise.race.packing import Packer

LEAST, MOST = 1.0, 3600.0  # seconds
MANY = 12  # copies: with fewer the own search is never behind (measured, `benchmarks.lay`)
CROWD = 30  # copies: with more the own search gains less on the packer's lay, and the packer has longer
EXPLORING, CROWD_EXPLORING = 0.8, 0.9  # share of the time
OFTEN = 0.1  # seconds between looks at the packer and at who watches
# share of the length taken off a packer's lay at first: it is within a few hundredths of the best
TIGHT = 0.004
LUCKS = (1, 2)  # one for each core
ENDLESS = 10**12  # tries: the clock ends the search
RACED: Effort = replace(EFFORTS["thorough"], name="raced", builds=8, tries=ENDLESS)
CLEARING: Effort = replace(RACED, tries=2_000_000)
OPENING: Effort = replace(RACED, name="opening", builds=1, tries=0, rounds=0, nodes=0)  # briefly


def race(
    problem: LayProblem,
    layering: Layering = SINGLE,
    *,
    seconds: float = 10.0,
    known: NoFits | None = None,
    watch: Watch | None = None,
) -> LayPlan:
    """The shortest verified lay found in about so many seconds.

    watch   hears of progress, and may end the race
    Raises  LayError when a piece fits nowhere, or the time is no time
    """
    if not LEAST <= seconds <= MOST:
        raise LayError(
            f"A race of {seconds:g} seconds cannot be run.",
            where="lay: seconds",
            mend=f"Give {LEAST:g} to {MOST:g} seconds.",
        )
    known = known or NoFits()
    clock = _Clock(watch, time.monotonic() + seconds)
    copies = sum(piece.count for piece in problem.pieces)
    if layering != SINGLE or copies <= MANY or not packable(problem):
        return plan(problem, layering, effort=RACED, known=known, watch=clock)
    until = time.monotonic() + seconds * (CROWD_EXPLORING if copies > CROWD else EXPLORING)
    packer = Packer(problem, known, seconds)
    try:
        best = plan(problem, SINGLE, effort=OPENING, known=known)
        while clock(best) and time.monotonic() < until and not packer.ended():
            time.sleep(OFTEN)
    finally:
        packer.end()
    packers = packer.lay(CLEARING)
    if packers is None and clock.left() <= 0:
        return best
    if packers is None:  # it gave up
        return plan(problem, SINGLE, effort=RACED, known=known, seeds=[best], watch=clock)
    return searched_on(min(best, packers, key=lambda made: made.length), known, clock)


class _Clock:
    """Ends a search when time is up, or when who watches says so."""

    def __init__(self, watch: Watch | None, until: float) -> None:
        self.watch = watch
        self.until = until
        self.ended = False  # by who watches
        self.shortest = float("inf")

    def left(self) -> float:
        """Seconds that are left."""
        return 0.0 if self.ended else self.until - time.monotonic()

    def __call__(self, made: LayPlan | None) -> bool:
        if made is not None and made.length >= self.shortest:
            made = None
        if made is not None:
            self.shortest = made.length
        if self.watch is not None and not self.watch(made):
            self.ended = True
        return self.left() > 0


def searched_on(best: LayPlan, known: NoFits, clock: _Clock) -> LayPlan:
    """Both cores search on from a tight lay in a single layer; the shorter of what they find, verified."""
    setting = set_out(best.problem, SINGLE, known, slack=RACED.slack)
    lay = lay_of(setting, best)
    if not clock(best) or lay is None or not is_apart(setting, lay):
        return best
    talk = Lock()

    def search(luck: int) -> Lay:
        heard = _in_time(setting, clock, talk)
        return shortened(setting.tables, lay.copy(), RACED, 0.0, heard, step=TIGHT, luck=luck)

    with ThreadPoolExecutor(len(LUCKS)) as pool:
        try:
            found = min(pool.map(search, LUCKS), key=lambda one: one.length)
        finally:
            clock.ended = True  # also when interrupted: nobody searches on
    made = plan_of(setting, found)
    return checked(made) if made.length < best.length else best


def _in_time(setting: Setting, clock: _Clock, talk: Lock) -> Callable[[Lay], bool]:
    """Ends a search when another start as long as the longest would come too late."""
    last, longest = time.monotonic(), 0.0

    def heard(lay: Lay) -> bool:
        nonlocal last, longest
        now = time.monotonic()
        last, longest = now, max(longest, now - last)
        with talk:
            shorter = lay.length < clock.shortest
            return clock(checked(plan_of(setting, lay)) if shorter else None) and clock.left() > longest

    return heard
