"""How much cloth to buy for a make: a real lay on each width, what the wash takes, the shop's step, the price.

buy = (length of the lay) / (1 - shrinkage), and the width laid on is what the wash leaves of the width sold
(half the lengthwise loss across, as everywhere in the house). Nap and matching are laid, not added by rule.
Rounded up to the shop's step of 10 cm. Lengths in cm.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from clothwise.cloth import Cloth
from clothwise.errors import ClothError, LayError
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.ticket.made import BLADE_GAP, lay_cloth

WIDTHS = (90.0, 110.0, 115.0, 140.0, 150.0, 160.0)  # as cloth is usually sold (trade)
STEP = 10.0  # cm: cloth is sold by the tenth of a metre
LEAST_WIDTH, MOST_WIDTH = 10.0, 1000.0  # cm: narrower is ribbon, wider is no cloth
UNBOUND = 19_000.0  # cm: any length
Shortest = Callable[[LayProblem], LayPlan]  # the shortest lay for a width; LayError when a piece is too wide


@dataclass(frozen=True, slots=True)
class Metres:
    """One width. `need` after washing and `buy` as sold [cm]; None where a piece is too wide: `why` says so.

    price  of `buy`; None when the cloth has no price
    """

    width: float
    need: float | None
    buy: float | None
    price: float | None
    layering: str = ""
    why: str = ""
    plan: LayPlan | None = None


def metres(
    pieces: Sequence[LayPiece], like: Cloth, shortest: Shortest, widths: Sequence[float] = WIDTHS
) -> tuple[Metres, ...]:
    """A row for each width, for unwashed cloth of the same sort: nap, repeat, shrinkage, price a metre.

    Raises  ClothError: a width is no width
    """
    for width in widths:
        if not LEAST_WIDTH <= width <= MOST_WIDTH:
            raise ClothError(
                f"A width of {width:g} cm is no cloth.", where="widths", mend="Give widths in cm, such as 140."
            )
    return tuple(_row(pieces, like, shortest, width) for width in widths)


def _row(pieces: Sequence[LayPiece], like: Cloth, shortest: Shortest, width: float) -> Metres:
    sold = replace(like, width=width, length=UNBOUND, washed=False, outline=(), flaws=())
    laid = replace(lay_cloth(sold), length=None)
    try:
        plan = shortest(LayProblem(tuple(pieces), laid, gap=BLADE_GAP))
    except LayError as no:
        return Metres(width, None, None, None, why=no.what)
    buy = to_buy(plan.length, like.shrinkage)
    price = None if like.price_per_m is None else round(like.price_per_m * buy / 100, 2)
    return Metres(width, plan.length, buy, price, str(plan.layering), plan=plan)


def to_buy(length: float, shrinkage: float) -> float:
    """What to ask for in the shop when so much is needed after washing. [cm]"""
    exact = length / (1 - shrinkage)
    return math.ceil(round(exact / STEP, 6)) * STEP
