"""Hems: how deep they are turned, by the rules of the trade for their flare.

Lengths in cm. Sources: rules of the trade G (hem by flare): straight 4-5, A-line 3.8, flared 2.5,
trousers 3-5; house rule, 2026-11, for children: deeper, so that the hem lets down as the child grows.
"""

from __future__ import annotations

import math

from clothwise.curve import Curve, sweep
from clothwise.draft.pattern import Choice
from clothwise.errors import ChoiceError
from clothwise.garment import FreeEdge, Run
from clothwise.tolerance import SOLVE

TROUSER_HEM = 4.0  # cm
SHORTS_HEM = 3.0  # cm: above the knee the leg leans more, a deep turn would not lie flat
STRAIGHT_SKIRT_HEM = 4.0  # cm
FLARED_SKIRT_HEM = 3.0  # cm
GROWTH = 1.5  # cm more for a child
HEM_FOLD_IN = 1.0  # cm: the raw edge folded in first
HEM_BOW = 0.055  # depth over radius: deeper, a curved hem does not lie flat when it is turned (rule: 0.06)
LEAST = 1.0  # cm: a curved hem this narrow is eased flat with the iron
STEP = 0.5  # cm: hems are given in halves, to be marked with a ruler
EVEN = 1 / 3  # of the chord: handles that spread a slight bow most evenly


def depth_choice(usual: str, *, least: float = 1.5, growth: bool = True) -> Choice:
    """The choice of the hem's depth; `usual` says in words what it is when left open."""
    child = f", for a child {GROWTH:g} more to let down" if growth else ""
    return Choice(
        "hem",
        f"Depth turned up; if left open {usual}{child}.",
        unit="cm",
        low=least,
        high=8.0,
        changes="cutting line below the hem",
    )


def hem_edge(
    title: str, runs: tuple[Run, ...], turn: float, *, times: int = 1, closed: bool = True
) -> FreeEdge:
    """The hem turned up twice; of a shallow one half is folded in. [cm]"""
    fold_in = min(HEM_FOLD_IN, turn / 2)
    return FreeEdge("hem", title, runs, "hem", turn=turn, fold_in=fold_in, times=times, closed=closed)


def hem_line(inner: Curve, outer: Curve) -> Curve:
    """The hem from the end of one seam to the end of the other, square to both. Both seams run down."""
    return sweep(inner.end, inner.end_tangent.left(), outer.end, outer.end_tangent.left(), EVEN, EVEN)


def sharpest(*lines: Curve, looks: int = 2) -> float:
    """The sharpest bend of these lines, each stroke looked at so often; a hem bends evenly. [1/cm]"""
    strokes = [stroke for one in lines for stroke in one.strokes]
    return max(abs(stroke.curvature(look / looks)) for stroke in strokes for look in range(looks + 1))


def foldable(*lines: Curve) -> float:
    """How deep these edges can be turned so that they lie flat. [cm]"""
    bend = sharpest(*lines)
    return HEM_BOW / bend if bend > SOLVE else math.inf


def deepest(*hems: Curve) -> float:
    """The same of hems, in steps of STEP. [cm]"""
    most = foldable(*hems)
    return math.floor(most / STEP + SOLVE) * STEP if math.isfinite(most) else most


def hem_depth(usual: float, wished: float | None, *hems: Curve) -> float:
    """Depth turned up: as wished, else as usual, else as deep as the curve allows. [cm]

    Raises ChoiceError when the wish is deeper than the curve allows.
    """
    most = max(deepest(*hems), LEAST)
    if wished is None:
        return min(usual, most)
    if wished > most:
        raise ChoiceError(
            f"A hem of {wished:g} cm does not lie flat on so curved an edge.",
            where="choice 'hem'",
            mend=f"Up to {most:g} cm is possible; a straighter leg or less flare allows more.",
        )
    return wished


def deepened_for_growth(hem: float, child: bool) -> float:
    return hem + GROWTH if child else hem
