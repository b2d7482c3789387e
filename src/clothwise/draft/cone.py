"""Flare as a slice of a cone: the level lines are arcs about one tip, the seams run straight towards it.

So every seam is square to waist and hem, equally long, and a girth grows by the same for each centimetre down.
Drawn with y up, cm: the waist's arc passes through (0, 0), where it runs level; places along it are measured
from there, to the right positive. Without bend it is a rectangle.

    r   from the tip to the waist [cm], 1 / bend    bend   angle turned for each cm of waist [radians / cm]
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.curve import Cubic, Curve, Point, heading, line

WIDEST_STROKE = math.pi / 4  # of one cubic: up to here it leaves the true arc by less than 0.01 mm on a skirt


@dataclass(frozen=True, slots=True)
class Slice:
    """Part of a cone's mantle. inner, outer: its two ends along the waist; length: from waist to hem. [cm]"""

    inner: float
    outer: float
    length: float
    bend: float = 0.0

    @property
    def angle(self) -> float:
        """Between its two seams. [radians]"""
        return self.bend * (self.outer - self.inner)

    @property
    def tip(self) -> float:
        """From the tip of the cone to the waist; infinite without flare. [cm]"""
        return 1 / self.bend if self.bend else math.inf

    def width(self, depth: float) -> float:
        """Along the level line at that depth. [cm]"""
        return (self.outer - self.inner) * (1 + self.bend * depth)

    def at(self, along: float, depth: float) -> Point:
        """The point below that place of the waist. [cm]"""
        if not self.bend:
            return Point(along, -depth)
        turn, radius = self.bend * along, self.tip + depth
        return Point(radius * math.sin(turn), self.tip - radius * math.cos(turn))

    def across(self, depth: float) -> Curve:
        """The level line at that depth, from the inner seam to the outer."""
        if not self.bend:
            return line(self.at(self.inner, depth), self.at(self.outer, depth))
        n = max(math.ceil(self.angle / WIDEST_STROKE), 1)
        step = (self.outer - self.inner) / n
        handle = 4 / 3 * math.tan(self.bend * step / 4) * (self.tip + depth)
        strokes = []
        for i in range(n):
            one, other = self.inner + i * step, self.inner + (i + 1) * step
            start, end = self.at(one, depth), self.at(other, depth)
            leaves, arrives = (heading(math.degrees(self.bend * along)) for along in (one, other))
            strokes.append(Cubic(start, start.go(leaves, handle), end.go(arrives, -handle), end))
        return Curve(tuple(strokes))

    def down(self, along: float, upper: float, lower: float) -> Curve:
        """The straight line down the panel between two depths."""
        return line(self.at(along, upper), self.at(along, lower))

    def across_cloth(self) -> float:
        """How far it reaches to the right of its upright middle line at (0, 0). [cm]"""
        turn = min(self.bend * self.outer, math.pi / 2)
        return self.at(turn / self.bend, self.length).x if self.bend else self.outer
