"""A waist that is not level: higher over a belly, lower in a hollow back, the same at the side seams.

From the centre, where it is level, the waist runs in one bow to the side seam, which it crosses at the slope at
which front and back bow most evenly. Lengths in cm, along the waist from the centre outwards.
Source: drafting method, skirts (limits: up to 2 at centre front and back); house rule, 2026-11.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from clothwise.draft.equal import trued
from clothwise.draft.pattern import Choice

MOST = 2.0  # cm: more would be another waistline, not a truer one

CHOICES = tuple(
    Choice(
        f"{half}_waist",
        f"Waist higher (+) or lower (-) at the centre {half}: {why}.",
        unit="cm",
        low=-MOST,
        high=MOST,
        default=0.0,
        changes=f"upper edge of the {half}",
    )
    for half, why in (("front", "higher over a belly"), ("back", "lower in a hollow back"))
)


@dataclass(frozen=True, slots=True)
class Rise:
    """centre: how much higher than level at the centre; slope: how it climbs outwards at the side, cm for a cm;
    quarter: from centre to side; sunk: how much lower the whole lies. [cm]"""

    centre: float
    slope: float
    quarter: float
    sunk: float = 0.0

    @property
    def level(self) -> bool:
        return not (self.centre or self.slope or self.sunk)

    def height(self, out: float) -> float:
        """Over the level waist, so far out. [cm]"""
        s = min(max(out / self.quarter, 0.0), 1.0)
        even = self.centre * (1 + s * s * (2 * s - 3))
        return even + self.slope * self.quarter * s * s * (s - 1) - self.sunk

    def climb(self, out: float) -> float:
        """How steeply it climbs there, outwards. [cm for a cm]"""
        s = min(max(out / self.quarter, 0.0), 1.0)
        return 6 * self.centre / self.quarter * s * (s - 1) + self.slope * s * (3 * s - 2)


def rises(front: float, back: float, quarter: float) -> tuple[Rise, Rise]:
    """The waist of front and back, raised by so much at their centres. [cm]"""
    slope = (front - back) / quarter
    return Rise(front, -slope, quarter), Rise(back, slope, quarter)


def as_long(
    pair: tuple[Rise, Rise], wanted: float, length: Callable[[tuple[Rise, Rise]], float]
) -> tuple[Rise, Rise]:
    """Both sunk, or lifted, on a flared skirt until its waist is as long as wanted. [cm]

    length  of the whole waist with such rises
    """
    if pair[0].level and pair[1].level:
        return pair

    def sunk(by: float) -> tuple[Rise, Rise]:
        return replace(pair[0], sunk=by), replace(pair[1], sunk=by)

    return sunk(trued(lambda by: length(sunk(by)), wanted, 1.0, MOST))
