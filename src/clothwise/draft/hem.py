"""Hems: how deep they are turned, by the rules of the trade for their flare.

Lengths in cm. Sources: rules of the trade G (hem by flare): straight 4-5, A-line 3.8, flared 2.5,
trousers 3-5; house rule, 2026-11, for children: deeper, so that the hem lets down as the child grows.
"""

from __future__ import annotations

TROUSER_HEM = 4.0  # cm
SHORTS_HEM = 3.0  # cm: above the knee the leg leans more, a deep turn would not lie flat
STRAIGHT_SKIRT_HEM = 4.0  # cm
FLARED_SKIRT_HEM = 3.0  # cm
GROWTH = 1.5  # cm more for a child
HEM_FOLD_IN = 1.0  # cm: the raw edge folded in first


def deepened_for_growth(hem: float, child: bool) -> float:
    return hem + GROWTH if child else hem
