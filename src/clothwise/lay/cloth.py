"""The cloth of a lay: a straight length or a remnant of any outline, its flaws, its nap, its stripes or checks.

The cloth runs along +x from 0, its selvedges are y = 0 and y = width, and its right side is up.
Lengths in cm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from clothwise.errors import ClothError, LayError
from clothwise.tolerance import SAME_POINT

Point = tuple[float, float]
Outline = tuple[Point, ...]
Nap = Literal["none", "one-way", "two-way"]

MOST_POINTS = 4000  # points of one outline: a hand-drawn curve flattened far finer than scissors
LONGEST = 20_000.0  # cm: 200 m, a whole roll; beyond it somebody typed the wrong unit
SMALLEST_AREA = 0.01  # cm2: less cannot be cut
MOST_FLAWS = 60  # more than anyone marks on one cloth; each is an obstacle that every piece must clear
LEAST_REPEAT = 0.2  # cm: finer stripes need no matching, no eye sees it
MOST_REPEAT = 200.0  # cm: the longest printed repeats of furnishing cloth stay below (trade knowledge)


@dataclass(frozen=True, slots=True)
class Repeat:
    """Stripes or checks that the pieces must match.

    along    from one bar to the next along the selvedge [cm]; 0: nothing to match along
    across   from one stripe to the next across the cloth [cm]; 0: nothing to match across
    bar      x of the middle of one bar [cm]; None: not measured, the lay says where it must fall
    stripe   y of the middle of one stripe [cm]; None: not measured, the lay says where it must fall
    even     looks the same from both sides of a bar or stripe; an uneven one permits no turning about
    """

    along: float = 0.0
    across: float = 0.0
    bar: float | None = None
    stripe: float | None = None
    even: bool = True

    def __post_init__(self) -> None:
        for what, step in (("along", self.along), ("across", self.across)):
            if step and not LEAST_REPEAT <= step <= MOST_REPEAT:
                raise ClothError(
                    f"A repeat of {step:g} cm {what} the cloth cannot be matched.",
                    where=f"cloth: repeat {what}",
                    mend=f"Measure from stripe to stripe: {LEAST_REPEAT:g} to {MOST_REPEAT:g} cm.",
                )
        if not self.along and not self.across:
            raise ClothError(
                "The repeat has no measure.",
                where="cloth: repeat",
                mend="Give the distance from stripe to stripe along, across, or both.",
            )
        for what, at in (("bar", self.bar), ("stripe", self.stripe)):
            if at is not None and not abs(at) <= LONGEST:
                raise ClothError(
                    f"The first {what} at {at:g} cm is not on the cloth.",
                    where=f"cloth: {what}",
                    mend="Measure it from the cut end, or from the selvedge, in centimetres.",
                )


@dataclass(frozen=True, slots=True)
class LayCloth:
    """One cloth, right side up.

    width    usable, selvedge to selvedge [cm]
    length   [cm]; None: as much as is needed
    nap      'one-way': every piece points the same way; 'two-way' and 'none': up or down;
             'none' also permits pieces that ask for it to lie crosswise
    two_right_sides  either side of the cloth may be worn outside, so pieces need not be mirrored
    outline  of a remnant; it fills length x width from (0, 0), see `remnant`. None: a straight length
    flaws    what no piece may touch: holes, stains, cut-outs inside
    repeat   stripes or checks to be matched
    """

    width: float
    length: float | None = None
    nap: Nap = "two-way"
    two_right_sides: bool = False
    outline: Outline | None = None
    flaws: tuple[Outline, ...] = ()
    repeat: Repeat | None = None

    def __post_init__(self) -> None:
        for what, value in (("width", self.width), ("length", self.length)):
            if value is not None and not 0 < value <= LONGEST:
                raise ClothError(
                    f"A {what} of {value:g} cm is not a cloth.",
                    where=f"cloth: {what}",
                    mend="Give the usable width and the length in centimetres, for example 140 and 200.",
                )
        if self.nap not in ("none", "one-way", "two-way"):
            raise ClothError(
                f"A nap called '{self.nap}' is not known.",
                where="cloth: nap",
                mend="Say none, one-way or two-way.",
            )
        if self.outline is not None:
            self._check_remnant(self.outline)
        self._check_flaws()

    def _check_remnant(self, outline: Outline) -> None:
        checked_outline(outline, "cloth: outline", ClothError)
        x0, y0, x1, y1 = Polygon(outline).bounds
        far = max(abs(x0), abs(y0), abs(x1 - (self.length or 0.0)), abs(y1 - self.width))
        if far > SAME_POINT:
            raise ClothError(
                "The remnant's outline does not fill its length and width.",
                where="cloth: outline",
                mend="Measure its corners from one corner of the rectangle around it.",
            )

    def _check_flaws(self) -> None:
        if len(self.flaws) > MOST_FLAWS:
            raise ClothError(
                f"{len(self.flaws)} flaws are more than one lay can avoid.",
                where="cloth: flaws",
                mend=f"Mark at most {MOST_FLAWS}; draw one line around those that lie close together.",
            )
        for number, flaw in enumerate(self.flaws, 1):
            checked_outline(flaw, f"cloth: flaw {number}", ClothError)
        for number, flaw in enumerate(self.flaws, 1):
            if not Polygon(flaw).intersects(self.shape(LONGEST, whole=True)):
                raise ClothError(
                    f"Flaw {number} lies beside the cloth.",
                    where=f"cloth: flaw {number}",
                    mend="Measure it from the cut end along, and from the selvedge across, in centimetres.",
                )
        if self.length is not None and self.flaws and self.area_cm2 < SMALLEST_AREA:
            raise ClothError(
                "The flaws leave nothing of the cloth.", where="cloth: flaws", mend="Take another."
            )

    def shape(self, length: float, *, whole: bool = False) -> BaseGeometry:
        """The opened cloth without its flaws, with them when `whole`; `length` serves where it has none."""
        end = length if self.length is None else self.length
        edge = self.outline or ((0.0, 0.0), (end, 0.0), (end, self.width), (0.0, self.width))
        cloth = Polygon(edge)
        return (
            cloth
            if whole or not self.flaws
            else cloth.difference(unary_union([Polygon(f) for f in self.flaws]))
        )

    @property
    def area_cm2(self) -> float:
        """Area that can be cut from. [cm2] Infinite where the length is not given."""
        return math.inf if self.length is None else float(self.shape(self.length).area)


def remnant(
    corners: Sequence[Point],
    *,
    flaws: Sequence[Sequence[Point]] = (),
    nap: Nap = "two-way",
    two_right_sides: bool = False,
    repeat: Repeat | None = None,
) -> LayCloth:
    """A cloth of any outline, its lengthwise threads along x; all is measured from one point. [cm]

    Raises  ClothError when the outline crosses itself, falls apart into islands or is no size for a cloth
    """
    checked_outline(tuple(corners), "cloth: outline", ClothError)
    x0, y0, x1, y1 = Polygon(corners).bounds

    def moved(points: Sequence[Point]) -> Outline:
        return tuple((float(x) - x0, float(y) - y0) for x, y in points)

    holes = tuple(moved(flaw) for flaw in flaws)
    return LayCloth(y1 - y0, x1 - x0, nap, two_right_sides, moved(corners), holes, repeat)


def checked_outline(outline: Outline, where: str, error: type[LayError] | type[ClothError]) -> None:
    """Raise unless the outline is a simple closed figure of sensible size."""
    mend = "Draw it again as one closed line that does not cross itself."
    if len(outline) < 3:
        raise error(
            f"An outline of {len(outline)} point{'' if len(outline) == 1 else 's'} encloses nothing.",
            where=where,
            mend=mend,
        )
    if len(outline) > MOST_POINTS:
        raise error(
            f"Its outline has {len(outline)} points.",
            where=where,
            mend=f"Flatten it to at most {MOST_POINTS} points.",
        )
    if any(not math.isfinite(v) for point in outline for v in point):
        raise error("Its outline has a point that is not a number.", where=where, mend=mend)
    if max(abs(v) for point in outline for v in point) > LONGEST:
        raise error("Its outline is longer than a roll of cloth.", where=where, mend="Give centimetres.")
    shape = Polygon(outline)
    if shape.area < SMALLEST_AREA:
        raise error("Its outline encloses no area.", where=where, mend=mend)
    if not shape.is_valid:
        raise error(
            "Its outline crosses itself or touches itself.",
            where=where,
            mend="Draw it again as one closed line that does not cross itself; enter islands one by one."
            if error is ClothError
            else mend,
        )
