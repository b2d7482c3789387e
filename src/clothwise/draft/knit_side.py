"""The side seam of a knit body: from the bust down over waist and hip to the hem, alike on front and back.

Drawn downwards, centre on x = 0, the waist y = 0, y up, cm. The seam leaves the bust straight down; at the
waist it is hollowed towards the body as far as the fit allows, at the hip it runs on into the skirt's lean.

    Q  quarter widths at bust, waist, hip

Source: drafting method 5.6 (a hip hardly wider than the bust: one nearly straight curve); the most that a side
may be hollowed is a house rule, 2026-11: beyond it the cloth drags.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import DOWN, Curve, Point, Vector, solve, sweep
from clothwise.draft.knit import CLOSE, EASY, LOOSE, PASSES_OF_STRETCH, VERY_LOOSE, ease_of
from clothwise.draft.level import distance_to
from clothwise.draft.pattern import Wish
from clothwise.tolerance import SOLVE

HOLLOW = {
    CLOSE: 3.5,
    EASY: 1.8,
    LOOSE: 0.6,
    VERY_LOOSE: 0.0,
}  # cm on each edge inside the line from bust to hip
HOLLOW_OF_WAIST = 0.17  # of the quarter's waist at most: a child's hollow is smaller
HOLLOW_OF_HEIGHT = 0.22  # of the way from bust to waist at most: steeper, the cloth drags under the arm
HOLLOW_OF_SQUARE = 0.14  # of that way's square [1/cm]: over so short a way it bends tighter than 1 cm allowance
ARC, STEEPEST_ARC = 1.75, 3.0  # times a chord's lean, at the end of an arc that begins upright
ON_OVER_HIP = 1.5  # times the lean from waist to hip: so the seam runs on over the hip, up to the skirt's own
HANDLE = 1 / 3  # of the chord: an even bow
LIFT_MOST = 0.25  # of the side below the bust line: a hem that ends above the hip is lifted so much at most,
BELOW_WAIST = 1.0  # cm: and still ends below the waist where it does so at the fold


@dataclass(frozen=True, slots=True)
class Quarters:
    """Quarter widths of the garment at bust, waist and hip. [cm]"""

    bust: float
    waist: float
    hip: float


def quarters(
    body: Body, wish: Wish, bust_ease: float, hip_ease: float, stretch: float, bust_y: float
) -> Quarters:
    """Widths for this fit; the waist lies on the line from bust to hip but for what the fit takes in. [cm]"""
    fit = str(wish["fit"])
    bust = (body["bust_girth"] + bust_ease) / 4
    hip = (body["hip_girth"] + hip_ease) / 4
    straight = bust + (hip - bust) * bust_y / (bust_y + body["waist_to_hip"])
    wanted = (body["waist_girth"] + ease_of(fit, body["waist_girth"], stretch)) / 4
    flat = min(HOLLOW_OF_HEIGHT * bust_y, HOLLOW_OF_SQUARE * bust_y**2)
    hollow = min(HOLLOW[fit], HOLLOW_OF_WAIST * straight, flat)
    over_bust = body["bust_girth"] / (1 + PASSES_OF_STRETCH * stretch) / 4  # it is pulled on over the bust
    return Quarters(bust, max(wanted, straight - hollow, over_bust), hip)


def side(found: Quarters, bust_y: float, hip_depth: float, depth: float, lean: float) -> Curve:
    """From the bust down to the hem at that depth; a skirt leans out at its hem by `lean` cm a cm. Above the
    hip it ends where the hem is one bow."""
    bust, waist, hip = Point(found.bust, bust_y), Point(found.waist, 0.0), Point(found.hip, -hip_depth)
    above, below = (waist.x - bust.x) / bust_y, (hip.x - waist.x) / hip_depth
    at_waist, at_hip = _lean(above, below), min(max(ON_OVER_HIP * below, 0.0), lean)
    upper = sweep(bust, DOWN, waist, _down(at_waist), HANDLE, HANDLE)
    whole = upper.then(sweep(waist, _down(at_waist), hip, _down(at_hip), HANDLE, HANDLE))
    if depth > hip_depth:
        skirt = depth - hip_depth
        hem = Point(hip.x + (at_hip + lean) / 2 * skirt, -depth)
        return whole.then(sweep(hip, _down(at_hip), hem, _down(lean), HANDLE, HANDLE))
    return whole.part(0.0, distance_to(whole, _end(whole, bust_y, hip_depth, depth)))


def _end(whole: Curve, bust_y: float, hip_depth: float, depth: float) -> float:
    """The height at which a side ends whose hem lies so deep at the fold: higher where it leans out, lower
    where it leans in, so that the hem, square to both, is one bow and no wave. [cm]"""

    def over(y: float) -> float:
        at = distance_to(whole, y)
        way = whole.tangent_at_length(at)
        return y + depth - whole.at_length(at).x * math.tan(math.atan2(way.x, -way.y) / 2)

    at_depth = over(-depth)
    if abs(at_depth) <= SOLVE:
        return -depth
    if at_depth > 0:
        return solve(over, 0.0, -hip_depth, -depth, tolerance=SOLVE)
    highest = LIFT_MOST * (bust_y + depth) - depth
    if depth >= BELOW_WAIST:
        highest = min(highest, -BELOW_WAIST)
    return highest if over(highest) < 0 else solve(over, 0.0, -depth, highest, tolerance=SOLVE)


def _down(lean: float) -> Vector:
    """Downwards, leaning outwards by so many cm a cm."""
    return Vector(lean, -1.0).unit()


def _lean(above: float, below: float) -> float:
    """How the seam leans at the waist, from the leans of its chords above and below, cm a cm outwards.

    At a waist that is the narrowest or widest place it is upright. Else both runs are single arcs: from an
    upright end that takes one and a half to three times the chord's lean.
    """
    if above * below <= 0:
        return 0.0
    one, other = sorted((abs(above), abs(below)))
    return math.copysign(min(ARC * other, STEEPEST_ARC * one), above)
