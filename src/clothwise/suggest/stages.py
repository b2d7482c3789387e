"""Where to stop if the evening ends first: the last good place to leave the work lying."""

from __future__ import annotations

from collections.abc import Iterable

from clothwise.sew import Minutes, Step

PAPER, TRACED, CUT_OUT = "Printing and taping the paper", "Tracing the pieces", "Cutting out"
# before the first stitch there are two such places: the paper rolled up, the cut pieces in a flat pile


def stages_of(steps: Iterable[Step], time: Minutes) -> tuple[tuple[str, float], ...]:
    """All that is done in turn with its likely minutes; where one must not stop, the name is ''."""
    before = (("", time.ready), (PAPER, time.print_tape), (CUT_OUT, time.cut))
    return (*before, *((step.title if step.stop else "", step.minutes.likely) for step in steps))


def last_stage(stages: Iterable[tuple[str, float]], time: Minutes, evening: float) -> str:
    """The last good place within the evening [minutes]; '' when even a slow make is done in it.

    Where it may but need not run over, it is told for the evening that goes slowly.
    """
    if time.high <= evening:
        return ""
    slowly = time.high / time.likely if time.likely <= evening else 1.0
    spent, last = 0.0, ""
    for name, minutes in stages:
        spent += slowly * minutes
        if spent > evening:
            break
        last = name or last
    return last
