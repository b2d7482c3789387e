"""The side seam of an upper garment without a seam at the waist, and the darts that shape its waist.

One curve serves back and front: upright from the underarm to the bust line, in or out to the waist and out to
the hip, then straight to the hem. It is given by how far it departs from upright, so that front and back
departing alike are equally long. Half of the body, side at +x, waist y = 0, y up, cm.

    T     half the girth at the bust    out   departure from the upright through the underarm, outwards positive

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; waist darts by the rules of the
trade I2 (back 2-3.5, front 3-5, side 1-2.5 on each edge).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.curve import Cubic, Curve, Line, Point
from clothwise.draft.pattern import Wish
from clothwise.garment import Dart, Note

SIDE_SHARE = 0.18  # of what the waist is taken in leaves at each side edge,
SIDE_MOST = (3.2, 0.16)  # but at most these: cm, share of the underarm's height over the waist
BACK_SHARE = 0.52  # of the rest goes into the back darts, the other part into the front
DART_MOST = (4.2, 0.2, 0.6)  # one dart at most: cm; share of the underarm's height + cm. Else two
DART_LEAST = 0.8  # cm: a narrower dart is not worth sewing
HOLLOW = 1.2  # cm: a loose side seam is hollowed this much at the waist
HOLLOW_OF_DEPTH = 0.2  # of waist to hip at most: over less it would bend on the spot
HOLLOW_ROOM = 4.0  # cm in the round: but never closer to the waist than this
BACK_AT, BACK_APART = 0.46, 3.4  # of the back's width at the waist; cm between two darts
FRONT_AT, FRONT_APART = 0.44, 3.2  # the same of a front without bust point
BETWEEN = 1.2  # cm of cloth between two darts at the waist, at least
BELOW_LEVEL = 0.5  # cm: waist darts end this much below the bust line
BACK_LOW, FRONT_LOW = 0.75, 0.55  # of waist to hip: where they end below
ADULT_UNDERARM = 17.0  # cm over the waist: a child is hollowed less in proportion
TOLD, SHOWS = 1.0, 3.0  # cm in the round: a wider hip is told
NO_WAVE = 0.36  # of the flare: mean slope from waist to hip; under a third of it the seam would first turn in
NARROWEST_HIP = -1.0  # cm: the side may come in to the hip by this; a garment hangs from the bust


@dataclass(frozen=True, slots=True)
class Shape:
    """Departures of the side seam at waist and hip [cm]; flare of the straight part below (out per cm down);
    widths of the waist darts in one half of back and front [cm], none when it is loose."""

    out_waist: float
    out_hip: float
    flare: float
    back_darts: tuple[float, ...] = ()
    front_darts: tuple[float, ...] = ()


def hip_out(half: float, hip: float, out_waist: float, flare: float, hip_depth: float) -> float:
    """Departure at the hip for that finished half hip; never so little that the seam would wave to its flare.
    [cm]
    """
    return max((hip - half) / 2, NARROWEST_HIP, out_waist + NO_WAVE * flare * hip_depth)


def hip_notes(wish: Wish, wider: float) -> tuple[Note, ...]:
    """A garment hangs from the bust: that it is wider at the hip is told from a little on where hip ease was
    asked, else only when it shows. [cm]"""
    if wider < (TOLD if "hip_ease" in wish else SHOWS):
        return ()
    text = f"At the hip it is {wider:.1f} cm wider than the fit says, so that it hangs straight from the bust."
    return (Note(text, "hip_ease", wider),)


def loose(half: float, underarm: float, bust_level: float, hip_depth: float, hip: float, waist: float) -> float:
    """Departure at the waist where nothing shapes it: from bust to hip, a little hollowed. [cm]"""
    straight = max((hip - half) / 2, NARROWEST_HIP) * bust_level / (bust_level + hip_depth)
    least = ((waist + HOLLOW_ROOM) / 2 - half) / 2
    hollow = min(HOLLOW, HOLLOW * underarm / ADULT_UNDERARM, HOLLOW_OF_DEPTH * hip_depth)
    return max(straight - hollow, least)


def fitted(half: float, underarm: float, waist: float) -> tuple[float, tuple[float, ...], tuple[float, ...]]:
    """Departure at the waist, and widths of the darts of back and front, for that finished half waist. [cm]"""
    need = half - waist
    if need <= 0:
        return -need / 2, (), ()
    side = min(SIDE_MOST[0], SIDE_MOST[1] * underarm, SIDE_SHARE * need)
    rest = need - 2 * side
    if rest < DART_LEAST:
        return -need / 2, (), ()
    back, front = BACK_SHARE * rest, (1 - BACK_SHARE) * rest
    if front < DART_LEAST:
        back, front = rest, 0.0
    most = min(DART_MOST[0], DART_MOST[1] * underarm + DART_MOST[2])
    return -side, _split(back, most), _split(front, most)


def _split(width: float, most: float) -> tuple[float, ...]:
    n = math.ceil(width / most)
    return () if n == 0 else (width / n,) * n


def curve(x: float, underarm: float, bust_level: float, hip_depth: float, shape: Shape, hem: float) -> Curve:
    """The side seam through x at the underarm, from there down to the height of its end at the hem."""
    top, bust = Point(x, underarm), Point(x, bust_level)
    waist, hip = Point(x + shape.out_waist, 0.0), Point(x + shape.out_hip, -hip_depth)
    at_waist = _waist_slope(shape, bust_level, hip_depth)
    end = Point(hip.x + shape.flare * (hip.y - hem), hem)
    return Curve(
        (
            Line(top, bust),
            _down(bust, 0.0, waist, at_waist),
            _down(waist, at_waist, hip, shape.flare),
            Line(hip, end),
        )
    )


def _waist_slope(shape: Shape, bust_level: float, hip_depth: float) -> float:
    """Out per cm down at the waist: upright where it is narrowest or widest, else what lets the seam bend only
    once above and once below (a cubic that starts upright bends one way up to 1.5 times its mean slope).
    """
    above, below = shape.out_waist / bust_level, (shape.out_hip - shape.out_waist) / hip_depth
    return 1.5 * min(above, below, key=abs) if above * below > 0 else 0.0


def _down(p: Point, slope_p: float, q: Point, slope_q: float) -> Cubic:
    third = (p.y - q.y) / 3
    return Cubic(p, Point(p.x + slope_p * third, p.y - third), Point(q.x - slope_q * third, q.y + third), q)


def hem_end(x: float, wider: float, hip_depth: float, shape: Shape, hem: float) -> float:
    """Height at which side seams end so that the hem meets them square: lifted for the wider half. [cm]

    x  of the upright of the half; wider  of the wider of the two halves: both are trimmed alike
    """
    across = max(x, wider) + shape.out_hip + shape.flare * (-hip_depth - hem)
    return hem + across * shape.flare / 2


def waist_darts(
    name: str, widths: tuple[float, ...], middle: float, apart: float, top: float, low: float
) -> tuple[Dart, ...]:
    """Darts pointed at both ends, side by side about `middle`, from `top` to `low`; widest at the waist."""
    step = apart_by(apart, max(widths, default=0.0))
    first = middle - step * (len(widths) - 1) / 2
    return tuple(
        Dart(
            f"{name}_{i + 1}" if len(widths) > 1 else name,
            Point(first + i * step, top),
            Point(first + i * step - width / 2, 0.0),
            Point(first + i * step + width / 2, 0.0),
            "",
            Point(first + i * step, low),
        )
        for i, width in enumerate(widths)
    )


def apart_by(usual: float, width: float) -> float:
    """From the middle of one dart to the next, for darts so wide. [cm]"""
    return max(usual, width + BETWEEN)
