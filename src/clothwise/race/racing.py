"""A lay within so many seconds of the clock, on two cores.

Nearly all of the time the strip packer works in its own process while the own search works in this one; then
the packer's lay is put right, pressed together and searched on, if it is the shorter. Bound by the clock, so
not the same every time: packets and suggestions use the efforts of `lay`, which are. The packer plays only
where it knows the rules (single layer, straight cloth, no flaws or stripes) and where it helps (many pieces).
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from dataclasses import replace

from clothwise.errors import LayError
from clothwise.lay.layering import SINGLE, Layering
from clothwise.lay.nofit import NoFits
from clothwise.lay.packing import Kind, Packed, kinds, packable, proposed, strip_height
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import Watch, checked, plan
from clothwise.lay.problem import LayProblem
from clothwise.lay.search import EFFORTS, Effort

LEAST, MOST = 1.0, 3600.0  # seconds
CROWD = (
    30  # copies: with more the strip packer is ahead for the first minute; then it has both cores (measured)
)
MANY = 12  # copies: with fewer the own search is never behind (measured, `benchmarks.lay`)
PACKING, CROWD_PACKING = 0.8, 0.9  # share of the time for the packer; the rest makes use of what it found
OFTEN = 0.2  # seconds between looks at who watches
BRIEFLY = 1.0  # seconds: a packer that should be done is waited for so long beyond the end, then ended
SEED = 1
ENDLESS = 10**12  # tries: the clock ends the search
RACED: Effort = replace(EFFORTS["thorough"], name="raced", builds=8, tries=ENDLESS)
CLEARING: Effort = replace(RACED, tries=2_000_000)


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
    begun = time.monotonic()
    known = known or NoFits()
    clock = _Clock(watch)
    crowd = sum(piece.count for piece in problem.pieces) > CROWD
    share = CROWD_PACKING if crowd else PACKING
    packer = None
    if _helps(problem, layering):
        packer = _Packer(problem, known, int(seconds * share), workers=2 if crowd else 1)
    try:
        clock.until = begun + (seconds * share if packer else seconds)
        own = "brief" if packer and crowd else RACED
        best = plan(problem, layering, effort=own, known=known, watch=clock)
        if packer is None:
            return best
        other = None if clock.ended else packer.lay(problem, known, begun + seconds, clock)
    finally:
        if packer is not None:
            packer.end()
    if other is not None and other.length < best.length:
        best = other
    clock.until = begun + seconds
    return (
        best if clock.late() else plan(problem, layering, effort=RACED, known=known, seeds=[best], watch=clock)
    )


def _helps(problem: LayProblem, layering: Layering) -> bool:
    copies = sum(piece.count for piece in problem.pieces)
    return layering == SINGLE and copies > MANY and packable(problem)


class _Clock:
    """Ends a search when time is up, or when who watches says so."""

    def __init__(self, watch: Watch | None) -> None:
        self.watch = watch
        self.until = 0.0
        self.ended = False  # by who watches
        self.shortest = float("inf")

    def late(self) -> bool:
        return self.ended or time.monotonic() >= self.until

    def __call__(self, made: LayPlan | None) -> bool:
        if made is not None and made.length >= self.shortest:
            made = None
        if made is not None:
            self.shortest = made.length
        if self.watch is not None and not self.watch(made):
            self.ended = True
        return not self.late()


class _Packer:
    """The strip packer at work in its own process."""

    def __init__(self, problem: LayProblem, known: NoFits, seconds: int, workers: int) -> None:
        self.kinds: tuple[Kind, ...] = kinds(problem, known)
        question = {
            "height": strip_height(problem),
            "seconds": max(seconds, 1),
            "seed": SEED,
            "workers": workers,
            "kinds": [
                {"name": kind.name, "outline": kind.outline, "count": kind.count, "turns": kind.turns}
                for kind in self.kinds
            ],
        }
        self.process = subprocess.Popen(
            [sys.executable, "-m", "clothwise.race.packer"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        assert self.process.stdin is not None
        self.process.stdin.write(json.dumps(question))
        self.process.stdin.close()
        self.process.stdin = None

    def lay(self, problem: LayProblem, known: NoFits, until: float, clock: _Clock) -> LayPlan | None:
        """Its proposal put right and verified; None when it has none in time, or gave up."""
        while True:
            try:
                text, _ = self.process.communicate(timeout=OFTEN)
            except subprocess.TimeoutExpired:
                clock(None)
                if clock.ended or time.monotonic() > until + BRIEFLY:
                    return None
            else:
                break
        placed = json.loads(text).get("placed") if self.process.returncode == 0 else None
        if placed is None:
            return None
        made = proposed(problem, self.kinds, [Packed(*one) for one in placed], known, CLEARING)
        return None if made is None else checked(made)

    def end(self) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait()
        if self.process.stdout is not None:
            self.process.stdout.close()
