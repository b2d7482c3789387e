"""A narrow turned hem on a curved edge of a knit: as deep as the curve lets it lie flat.

A turn on a bow is eased by depth over radius; up to a tenth of it the iron eases away on a narrow turn.
Lengths in cm. Source: rules of the trade G (curved hem 1-1.5, full circle 1.3 at most); house rule, 2026-11.
"""

from __future__ import annotations

import math

from clothwise.curve import Curve

EASED_AWAY = 0.095  # depth over radius: what the iron eases flat, a little under the check's limit
NARROWEST = 0.5  # cm: a narrower turn rolls out again
WIDEST = 1.5  # cm: what is deeper is no narrow hem and must bend less
WINDOW = 5.0  # cm: the bow is taken over this length; a shorter one is pressed away
STEP = 0.1  # cm: depths are given in millimetres
LOOKS = 10  # headings taken along a curve for each window


def narrow_turn(*edges: Curve) -> float | None:
    """How deep these edges can be turned, up to WIDEST; None where not even the narrowest lies flat. [cm]"""
    bow = max(_bow(edge) for edge in edges)
    depth = min(WIDEST, EASED_AWAY / bow) if bow > 0 else WIDEST
    depth = math.floor(depth / STEP) * STEP
    return depth if depth >= NARROWEST else None


def _bow(edge: Curve) -> float:
    """Greatest mean bend over the window. [1/cm]"""
    whole = edge.length()
    window = min(WINDOW, whole)
    step = window / LOOKS
    ways = [edge.tangent_at_length(min(i * step, whole)) for i in range(math.floor(whole / step) + 2)]
    turns = [math.degrees(math.atan2(a.cross(b), a.dot(b))) for a, b in zip(ways, ways[LOOKS:], strict=False)]
    return max((abs(math.radians(turn)) for turn in turns), default=0.0) / window
