"""The sleeve cap: solved to the armhole, half by half, so that its crown stands at the shoulder seam.

Each half is drawn on its own: x from the underarm inwards, y up, the crown at (width, height). It leaves the
underarm level, turns up to a point M on the chord, and runs out level at the crown. Both parts stay in their
tangent triangles, so there is exactly one reversal in each half. (Free handles gave hidden waves on 84 % of
caps.) Two equations, front and back cap each as long as its armhole and its share of the ease, are solved for
two dimensions that a cutter would move: the height, and how the width is shared between front and back.

    w  width of the half    h  height of the cap    delta  how much steeper than the chords the cap is at M
    phi  how far it stays level at the underarm, as share of the way to where the tangents meet

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; cap ease by the rules of the trade I3.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from clothwise.curve import Cubic, Curve, Point, Vector, solve
from clothwise.draft.hem import sharpest
from clothwise.errors import DraftError
from clothwise.tolerance import SOLVE

FRONT_M, BACK_M = 0.44, 0.42  # of the chord from the underarm: where the cap reverses its bend
FRONT_DIP = 0.02  # of the height: the front is hollowed a little more, the arm swings forward
LOWER_END, UPPER_START = 0.60, 0.52
FRONT_CROWN, BACK_CROWN = 0.74, 0.78  # the back of the crown is fuller
DELTAS_DEG = (16.0, 19.0, 22.0, 25.0)  # less gives a pointed crown, more a square one
PHIS = (0.50, 0.60, 0.70, 0.80)  # less makes too tight a hollow at the underarm
STEEPEST_DEG = 82.0  # degrees at M: beyond it the cap would overhang
LEAST_RADIUS = 1.01  # cm: the hollow under the arm takes its seam allowance of 1 cm
UNDER_SHARE = 0.09  # of the armhole: over this way the sleeve lies in the armhole under the arm
LOOKS_UNDER = (1 / 3, 2 / 3, 1.0)
SAMPLES, SAMPLED = 6, 0.8  # chords along so much of the lower part for the comparison under the arm
ROUGHLY = 0.02  # cm: so closely the size is found while the shape is still sought
PRICE_DELTA, PRICE_PHI, MIDDLE_PHI = 0.6, 0.3, 0.6  # cm per radian and per share: gentle forms cost less
FRONT_EASE_SHARE = 0.45  # of the cap ease lies in front (rule: back 1.3-1.6, front 1.0-1.3)
LOW, HIGH = 0.50, 0.82  # of the armhole's depth: the cap's height; lower it pulls, higher the arm cannot lift
PASSES = 2  # shape and size follow each other; the second pass changes the size by less than a millimetre
STEPS = 40  # of the solution: 5-8 are needed
NARROWEST = 0.1  # of a half's length: no narrower half is looked for

FIRST_DELTA_DEG, FIRST_PHI = 19.0, 0.6


@dataclass(frozen=True, slots=True)
class Armhole:
    """What the sleeve is set into: both halves from the underarm up, and how high shoulder lies over
    underarm.
    """

    front: Curve
    back: Curve
    depth: float

    @staticmethod
    def of(front: Curve, back: Curve) -> Armhole:
        """From the two halves drawn from the shoulder down to the underarm."""
        depth = (front.start.y - front.end.y + back.start.y - back.end.y) / 2
        return Armhole(front.reversed(), back.reversed(), depth)

    @property
    def length(self) -> float:
        return self.front.length() + self.back.length()


@dataclass(frozen=True, slots=True)
class Shape:
    """One half of a cap, but for its size."""

    middle: float
    dip: float
    crown: float
    delta_deg: float = FIRST_DELTA_DEG
    phi: float = FIRST_PHI

    def drawn(self, width: float, height: float) -> Curve:
        """From the underarm (0, 0) to the crown (width, height)."""
        return Curve(self._strokes(width, height))

    def length(self, width: float, height: float, tolerance: float) -> float:
        return sum(stroke.length(tolerance=tolerance) for stroke in self._strokes(width, height))

    def lower(self, width: float, height: float) -> Cubic:
        return self._strokes(width, height)[0]

    def _strokes(self, width: float, height: float) -> tuple[Cubic, Cubic]:
        x, y = self.middle * width, (self.middle - self.dip) * height
        below, above = math.atan2(y, x), math.atan2(height - y, width - x)
        steep = min(max(below, above) + math.radians(self.delta_deg), math.radians(STEEPEST_DEG))
        m, tangent = Point(x, y), math.tan(steep)
        foot, top = Point(x - y / tangent, 0.0), Point(x + (height - y) / tangent, height)
        crown = Point(width, height)
        lower = Cubic(Point(0.0, 0.0), Point(self.phi * foot.x, 0.0), m.between(foot, LOWER_END), m)
        upper = Cubic(m, m.between(top, UPPER_START), crown.between(top, self.crown), crown)
        return lower, upper


@dataclass(frozen=True, slots=True)
class Cap:
    """A solved cap. Widths of the halves from underarm to crown, height; ease over the armhole. [cm]"""

    front: Shape
    back: Shape
    front_width: float
    back_width: float
    height: float
    ease: float

    @property
    def width(self) -> float:
        """All round the upper arm."""
        return self.front_width + self.back_width

    def front_curve(self) -> Curve:
        """From the front underarm (-front width, 0) to the crown (0, height)."""
        return self.front.drawn(self.front_width, self.height).moved(Vector(-self.front_width, 0.0))

    def back_curve(self) -> Curve:
        """From the crown to the back underarm (back width, 0)."""
        half = self.back.drawn(self.back_width, self.height)
        return half.mapped(lambda p: Point(self.back_width - p.x, p.y)).reversed()


FRONT = Shape(FRONT_M, FRONT_DIP, FRONT_CROWN)
BACK = Shape(BACK_M, 0.0, BACK_CROWN)


def cap_for(armhole: Armhole, width: float, ease: float) -> Cap:
    """The cap of that width whose halves fit the armhole's with their share of the ease.

    Raises DraftError when no height does it.
    """
    wanted = _wanted(armhole, ease)
    under = (_under(armhole.front), _under(armhole.back))
    front, back = FRONT, BACK
    half, height = width / 2, 0.68 * armhole.depth
    for _ in range(PASSES):
        half, height = _sized(front, back, width, wanted, (half, height), ROUGHLY)
        front, back = _shaped(front, half, height, under[0]), _shaped(back, width - half, height, under[1])
    half, height = _sized(front, back, width, wanted, (half, height), SOLVE)
    return Cap(front, back, half, width - half, height, ease)


def cap_of_height(armhole: Armhole, height: float, ease: float) -> Cap:
    """The cap of that height; its width is whatever fits the armhole."""
    wanted = _wanted(armhole, ease)
    under = (_under(armhole.front), _under(armhole.back))
    front, back = FRONT, BACK
    for _ in range(PASSES):
        widths = [_width_of(s, height, w, ROUGHLY) for s, w in zip((front, back), wanted, strict=True)]
        front, back = _shaped(front, widths[0], height, under[0]), _shaped(back, widths[1], height, under[1])
    widths = [_width_of(s, height, w, SOLVE) for s, w in zip((front, back), wanted, strict=True)]
    return Cap(front, back, widths[0], widths[1], height, ease)


def _wanted(armhole: Armhole, ease: float) -> tuple[float, float]:
    """How long the front and the back of the cap are to be. [cm]"""
    front = armhole.front.length() + FRONT_EASE_SHARE * ease
    return front, armhole.back.length() + (1 - FRONT_EASE_SHARE) * ease


# ---- size --------------------------------------------------------------------------------------------


def _sized(
    front: Shape,
    back: Shape,
    width: float,
    wanted: tuple[float, float],
    start: tuple[float, float],
    close: float,
) -> tuple[float, float]:
    """Width of the front half and height at which both halves have their lengths. [cm]

    Newton's steps with the slopes of the plain chord, which a cap follows closely.
    """
    half, height = start
    for _ in range(STEPS):
        if not 0 < half < width or height <= 0:
            break
        rest = width - half
        long_front, long_back = front.length(half, height, close), back.length(rest, height, close)
        off_front, off_back = wanted[0] - long_front, wanted[1] - long_back
        if abs(off_front) <= close and abs(off_back) <= close:
            return half, height
        in_front, in_back = long_front / (half**2 + height**2), long_back / (rest**2 + height**2)
        a, b, c, d = in_front * half, in_front * height, -in_back * rest, in_back * height
        whole = a * d - b * c
        half += (off_front * d - b * off_back) / whole
        height += (a * off_back - off_front * c) / whole
    raise DraftError(
        f"No sleeve {width:.1f} cm wide fits an armhole of {sum(wanted):.1f} cm.",
        where="sleeve cap",
        mend="Choose more or less room for the arm, or measure upper arm and armscye depth again.",
    )


def _width_of(shape: Shape, height: float, wanted: float, close: float) -> float:
    """Width at which a half of that height has its length: wider is longer."""
    low, high = NARROWEST * wanted, wanted
    return solve(lambda w: shape.length(w, height, close), wanted, low, high, tolerance=close)


# ---- shape -------------------------------------------------------------------------------------------


def _under(half: Curve) -> list[tuple[float, float, float]]:
    """Places along the armhole under the arm, seen from its underarm point: way along, inwards, up. [cm]"""
    start, way = half.start, half.start_tangent
    whole = half.length()
    found = []
    up = way.left() if way.left().y > 0 else way.right()
    for share in LOOKS_UNDER:
        along = share * UNDER_SHARE * 2 * whole
        to = start.to(half.at_length(along))
        found.append((along, to.dot(way), to.dot(up)))
    return found


def _shaped(shape: Shape, width: float, height: float, under: Sequence[tuple[float, float, float]]) -> Shape:
    """The form of least gap to the armhole under the arm, and among like ones the gentlest."""
    best, least = shape, math.inf
    for delta in DELTAS_DEG:
        for phi in PHIS:
            trial = replace(shape, delta_deg=delta, phi=phi)
            price = PRICE_DELTA * math.radians(delta) + PRICE_PHI * abs(phi - MIDDLE_PHI)
            if price < least:
                lower = trial.lower(width, height)
                price += _gap(lower, under)
            if price < least and sharpest(Curve((lower,)), looks=SAMPLES) * LEAST_RADIUS <= 1.0:
                best, least = trial, price
    return best


def _gap(lower: Cubic, under: Sequence[tuple[float, float, float]]) -> float:
    """How far the sleeve leaves the armhole under the arm, at most. [cm]"""
    place = _by_length(lower)
    return max(math.dist(place(along), (x, y)) for along, x, y in under)


def _by_length(stroke: Cubic) -> Callable[[float], tuple[float, float]]:
    points = [stroke.at(i * SAMPLED / SAMPLES) for i in range(SAMPLES + 1)]
    reached = [0.0]
    for p, q in itertools.pairwise(points):
        reached.append(reached[-1] + p.distance(q))

    def place(along: float) -> tuple[float, float]:
        for i in range(SAMPLES):
            if along <= reached[i + 1] or i == SAMPLES - 1:
                break
        share = (along - reached[i]) / (reached[i + 1] - reached[i])
        return points[i].between(points[i + 1], share)

    return place
