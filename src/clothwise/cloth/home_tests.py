"""Stretch, recovery and drape tested at home: what to do, and the figure that follows from what was read.

stretch   a fold away from the selvedge, 10 cm between two pins, pulled along a ruler until it resists. A single
          small layer overstates (trade rule), so the cloth is folded.
edge      a strip pushed over the edge of a table until its end touches a slope of 41.5 degrees; half of what
          hangs over is the bending length (the cantilever method of ISO 9073-7).
disc      a round of cloth on a smaller round stand; the share of its free ring that its shadow covers is the
          drape coefficient (principle of ISO 9073-9; at home a ruler reads how far the edge reaches).

Lengths cm, shares of one. From bending length to drape coefficient: straight lines between the kinds of the
house's table of cloths, which gives both; the kinds lie within 0.02 of the lines.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from clothwise.errors import ClothError

LEAST_MARKED = 5.0  # cm: a shorter stretch of cloth cannot be read well enough on a ruler
READING = 0.2  # cm: a ruler over cloth is not read closer
MOST_PULLED = 4.0  # times its length: no cloth goes further
SLOPE = 0.885  # fall over reach of the slope of 41.5 degrees
DISC_RADIUS, STAND_RADIUS = 15.0, 9.0  # cm: a round 30 across on a tin or plate 18 across
LEAST_READINGS = 4

# bending length [cm] and drape coefficient [share] of the kinds of the house's table
BENT: tuple[tuple[float, float], ...] = (
    (0.8, 0.15), (1.2, 0.28), (1.4, 0.33), (1.6, 0.39), (1.9, 0.49), (2.2, 0.60), (2.6, 0.72), (3.1, 0.82),
    (3.7, 0.90), (5.0, 1.0),
)  # fmt: skip

HOW_TO_STRETCH = (
    "Fold the cloth, well away from the selvedge, and put two pins 10 cm (or 4 in) apart along the fold.",
    "Hold the fold at the first pin on the 0 of a ruler and pull gently at the second until the cloth resists.",
    "Read where the second pin stands: 10 to 15 is 50 %. Let go, wait a minute, read again: that is recovery.",
    "Do it across the cloth and along it.",
)
HOW_TO_SHRINK = (
    "In a corner, mark 50 cm along the selvedge and 50 cm across; wash, dry and press as the garment will be.",
    "Measure both: 50 along that are now 47.5 lose 5 %. Half of that is reckoned with across.",
    "If it lost more across than that, wash all of it before you plan, and type the width it then has.",
)
HOW_TO_SEE_A_NAP = (
    "Lay one end of the cloth beside the other, turned upside down, and look at both from above by daylight.",
    "If one is darker, or a print stands on its head, it has one way: all pieces must point the same way.",
    "Then stroke it along the selvedge: which way it lies smooth is the way of the pile.",
)
HOW_TO_SEE_UNEVEN = (
    "Fold the cloth right sides out along the middle of a bar or stripe and turn one corner back at a right "
    "angle.",
    "Do colours and widths run on over the fold, in bars and in stripes? Then they are even; else uneven.",
    "Measure from the middle of one bar to the middle of the next like it: that is the repeat.",
)
HOW_TO_DRAPE_BY_EDGE = (
    "Cut, or fold out, a strip 2.5 cm wide and 25 cm long; iron it flat and let it rest.",
    "Cut a card to a right angle 10 cm long and 8.9 cm high and stand it against the table's side, its slope "
    "falling away from the edge.",
    "Push the strip over the edge until its end touches the slope, and read how much hangs over. Turn it over "
    "and take the middle of both.",
)
HOW_TO_DRAPE_BY_DISC = (
    "Lay a round of cloth, 30 cm across, in the middle of a tin or plate 18 cm across, on a table.",
    "Look down on it and read with a ruler, from the middle outwards, how far its edge reaches: at eight "
    "places evenly round.",
)


def stretch(marked: float, pulled: float) -> float:
    """How much longer the cloth grows, as a share of one: 10 that pull out to 15 are 0.5."""
    _refuse_small(marked, "stretch across or along")
    if not marked - READING <= pulled <= MOST_PULLED * marked:
        raise ClothError(
            f"{marked:g} cm that pull out to {pulled:g} cm cannot be.",
            where="cloth: stretch",
            mend="Read the ruler again: the second figure is where the pin stands when the cloth is pulled.",
        )
    return max(0.0, pulled / marked - 1)


def recovery(marked: float, pulled: float, after: float) -> float:
    """The share of its stretch that it goes back by itself in a minute."""
    gained = stretch(marked, pulled) * marked
    if gained < READING:
        raise ClothError(
            "A cloth that does not stretch has no recovery to test.",
            where="cloth: recovery",
            mend="Leave the recovery out.",
        )
    if not marked - READING <= after <= pulled + READING:
        raise ClothError(
            f"It cannot lie at {after:g} cm after {marked:g} cm were pulled to {pulled:g} cm.",
            where="cloth: recovery",
            mend="Let go, wait a minute, and read the second pin again.",
        )
    return min(1.0, max(0.0, (pulled - after) / gained))


def drape_by_edge(hangs_over: float) -> float:
    """Drape coefficient from the strip that touches the slope. [share]"""
    bent = hangs_over / 2
    if not BENT[0][0] <= bent <= 2 * BENT[-1][0]:
        raise ClothError(
            f"A strip that hangs over by {hangs_over:g} cm is no cloth for clothes.",
            where="cloth: drape",
            mend="Give what hangs over the edge in cm, usually 2.5 to 8.",
        )
    for (c, low), (d, high) in pairwise(BENT):
        if bent <= d:
            return low + (high - low) * (bent - c) / (d - c)
    return 1.0


def drape_by_disc(reaches: Sequence[float]) -> float:
    """Drape coefficient from how far the edge of the round reaches out, at places evenly round. [share]"""
    if len(reaches) < LEAST_READINGS:
        raise ClothError(
            f"{len(reaches)} readings are too few.",
            where="cloth: drape",
            mend="Read at eight places evenly round.",
        )
    wrong = [r for r in reaches if not STAND_RADIUS - READING <= r <= DISC_RADIUS + READING]
    if wrong:
        raise ClothError(
            f"The edge of the round cannot reach out {wrong[0]:g} cm.",
            where="cloth: drape",
            mend=f"Read from the middle out: {STAND_RADIUS:g} (hangs straight down) to {DISC_RADIUS:g} cm.",
        )
    covered = sum(r * r for r in reaches) / len(reaches) - STAND_RADIUS**2
    return min(1.0, max(0.0, covered / (DISC_RADIUS**2 - STAND_RADIUS**2)))


def _refuse_small(marked: float, what: str) -> None:
    if not marked >= LEAST_MARKED:
        raise ClothError(
            f"{marked:g} cm are too short to test.",
            where=f"cloth: {what}",
            mend="Mark 10 cm, or 4 in, on a fold of the cloth, and write '10 to 12.5' or '4 to 5 in'.",
        )
