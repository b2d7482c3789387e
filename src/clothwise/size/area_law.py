"""What length a cloth of another width takes: measured on real lays, between no change and the area law.

    change   natural logarithm of the wider width over the narrower: 0.07 is about 7 in a hundred
    factors  length on the narrower cloth over length on the wider: least, likely, most

A garment of few pieces mostly takes the same length until two panels no longer lie side by side; then it
jumps, by a whole panel in the end. On narrower cloth it never takes less, so `least` is 1 and nine in ten
lie under `most`. With more pieces the small ones fill the gaps and the length follows the area; there one
in twenty lies beyond either bound. Set on 108 garments (house drafts on bodies, and made-up ones) laid on
fourteen widths; `./run bench fit` tries the bounds on other bodies.
"""

from __future__ import annotations

import math

import numpy as np

FEW_PIECES = 8  # copies of pieces up to which a garment jumps by panels

_CHANGE = (0.0, 0.016, 0.038, 0.071, 0.113, 0.161, 0.222, 0.277, 0.366, 0.495)
_FEW_LIKELY = (1.0, 1.0, 1.0, 1.01, 1.045, 1.13, 1.17, 1.23, 1.35, 1.48)
_FEW_MOST = (1.0, 1.06, 1.18, 1.36, 1.51, 1.70, 1.90, 2.0, 2.0, 2.0)
_MANY_LEAST = (1.0, 0.99, 0.99, 1.0, 1.0, 1.01, 1.05, 1.08, 1.20, 1.28)
_MANY_LIKELY = (1.0, 1.005, 1.02, 1.06, 1.11, 1.17, 1.235, 1.31, 1.42, 1.60)
_MANY_MOST = (1.0, 1.08, 1.13, 1.185, 1.255, 1.33, 1.40, 1.43, 1.53, 1.86)

OTHER_SIZE = (0.84, 1.38)  # real over foretold by area, up to a quarter larger: 94 in 100 of those learnt,
# since each design there stands on three bodies only
OTHER_LENGTH = (0.85, 1.02)  # real over foretold in proportion, for a garment longer by up to a tenth: 96 in
# 100 of 960 learnt lays (8 bodies a design): those of one design err together, so nine in ten would be too few
ONE_WAY = (0.0, 3.0, 28.0)  # cm more on one-way cloth: low, likely, high; the usual rule says 25


def of_other_width(known: float, wanted: float, *, copies: int) -> tuple[float, float, float]:
    """Low, likely and high of the length on a cloth `wanted` wide, over that on one `known` wide.

    copies   how many pieces are cut; 0: nobody says, taken for few

    >>> of_other_width(140, 140, copies=4)
    (1.0, 1.0, 1.0)
    >>> low, likely, high = of_other_width(150, 140, copies=4)
    >>> low == 1.0 and 1.0 <= likely < 1.05 and high < 1.36
    True
    """
    change = abs(math.log(known / wanted))
    many = copies > FEW_PIECES
    least = _at(change, _MANY_LEAST) if many else 1.0
    likely = _at(change, _MANY_LIKELY if many else _FEW_LIKELY)
    most = _at(change, _MANY_MOST if many else _FEW_MOST)
    return (least, likely, most) if wanted <= known else (1 / most, 1 / likely, 1 / least)


def _at(change: float, factors: tuple[float, ...]) -> float:
    """Along straight lines; beyond the last change measured, by area from there."""
    beyond = max(0.0, change - _CHANGE[-1])
    return float(np.interp(change, _CHANGE, factors)) * math.exp(beyond)
