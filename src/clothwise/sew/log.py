"""What a log of finished makes says of a sewer: her pace, and how often she has made a pattern.

Minutes are hers at the machine and the table, pauses left out. How far one make moves the pace: see `sewer`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from clothwise.sew.sewer import Sewer, learned


@dataclass(frozen=True, slots=True)
class Logged:
    """One finished make.

    planned  likely minutes of it at the pace of the plan: hers divided by her pace then
    taken    minutes she took; made_on ISO date, by which makes are put in order
    """

    pattern: str
    planned: float
    taken: float
    made_on: str = ""


def after(sewer: Sewer, makes: Iterable[Logged], pattern: str = "") -> Sewer:
    """The sewer as these makes have shown her, earliest first; with a pattern, how often she has made that one.

    Raises  TicketError: a log that cannot be minutes
    """
    ordered = sorted(makes, key=lambda make: make.made_on)
    for make in ordered:
        sewer = learned(sewer, make.planned * sewer.pace, make.taken)
    return replace(sewer, times_made=sewer.times_made + sum(make.pattern == pattern for make in ordered))
