"""A waist that is not level: higher over a belly, lower in a hollow back, higher at the side over a high hip.

From the centre, where it is level, the waist runs in one bow to the side seam, which it crosses at the slope at
which front and back bow most evenly. Lengths in cm, along the waist from the centre outwards.
Source: drafting method, skirts (limits: up to 2 at centre front and back); house rule, 2026-11.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from clothwise.draft.equal import trued
from clothwise.draft.pattern import Choice, Wish
from clothwise.errors import ChoiceError

MOST = 2.0  # cm: more would be another waistline, not a truer one
APART = 3.0  # cm: a side so much higher than a centre still leaves a line that runs smoothly

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
SIDE_CHOICE = Choice(
    "side_waist",
    "Waist higher at the side, over a hip that comes higher; for one hip, ask it of that side only.",
    unit="cm",
    low=0.0,
    high=MOST,
    default=0.0,
    changes="side seam, upper edge",
)
LEVELLED: Mapping[str, str] = {
    "hip_height": "Let it hang for a day, then level its hem on the figure: that takes up a hip that is higher."
}


@dataclass(frozen=True, slots=True)
class Rise:
    """centre: how much higher than level at the centre; slope: how it climbs outwards at the side, cm for a cm;
    quarter: from centre to side; sunk: how much lower the whole lies; side: how much higher it is there. [cm]
    """

    centre: float
    slope: float
    quarter: float
    sunk: float = 0.0
    side: float = 0.0

    @property
    def level(self) -> bool:
        return not (self.centre or self.slope or self.sunk or self.side)

    def height(self, out: float) -> float:
        """Over the level waist, so far out. [cm]"""
        s = min(max(out / self.quarter, 0.0), 1.0)
        even = self.centre + (self.side - self.centre) * s * s * (3 - 2 * s)
        return even + self.slope * self.quarter * s * s * (s - 1) - self.sunk

    def climb(self, out: float) -> float:
        """How steeply it climbs there, outwards. [cm for a cm]"""
        s = min(max(out / self.quarter, 0.0), 1.0)
        return 6 * (self.centre - self.side) / self.quarter * s * (s - 1) + self.slope * s * (3 * s - 2)


def side_raised(wish: Wish, pattern: str) -> float:
    """How much higher the waist is at the side. ChoiceError where a centre would lie too far below. [cm]"""
    side, lowest = float(wish["side_waist"]), min(float(wish["front_waist"]), float(wish["back_waist"]))
    if side and side > lowest + APART:
        raise ChoiceError(
            f"The waist would climb {side - lowest:.1f} cm from its lowest centre to the side.",
            where=f"pattern '{pattern}', choice 'side_waist'",
            mend=f"Up to {lowest + APART:g} cm is possible here, or lower the centre less.",
        )
    return side


def rises(front: float, back: float, quarter: float, side: float = 0.0) -> tuple[Rise, Rise]:
    """The waist of front and back, raised by so much at their centres and where they meet at the side. [cm]"""
    slope = (front - back) / quarter
    return Rise(front, -slope, quarter, side=side), Rise(back, slope, quarter, side=side)


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
