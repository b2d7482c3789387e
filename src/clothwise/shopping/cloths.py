"""What a worked-out ticket takes of its cloth, and all it wants besides. Lengths in cm."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.draft import pattern as house_draft
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import best_plan
from clothwise.shopping.metres import WIDTHS, Metres, metres, to_buy
from clothwise.shopping.needs import Need, needs_of
from clothwise.ticket.made import Made, drawn, with_cloth


@dataclass(frozen=True, slots=True)
class WantedCloth:
    """`need` after washing; `buy` and `price` as sold, nought and None when it is in the cupboard."""

    wanted_by: str
    cloth: str
    width: float
    need: float
    in_cupboard: bool
    buy: float
    price: float | None


def wanted_cloths(made: Made, in_cupboard: Collection[str]) -> tuple[WantedCloth, ...]:
    """Every cloth that the ticket names; `in_cupboard` are the names of those that are there."""
    return tuple(_wanted(made, cloth, plan.length, cloth.name in in_cupboard) for cloth, plan in made.named)


def wanted_cloth(made: Made, in_cupboard: bool) -> WantedCloth:
    """The main cloth of a make."""
    return _wanted(made, made.cloth, made.plan.length, in_cupboard)


def _wanted(made: Made, cloth: Cloth, need: float, in_cupboard: bool) -> WantedCloth:
    buy = 0.0 if in_cupboard else to_buy(need, cloth.shrinkage)
    price = None if in_cupboard or cloth.price_per_m is None else round(cloth.price_per_m * buy / 100, 2)
    return WantedCloth(made.ticket.name, cloth.name, cloth.width, need, in_cupboard, buy, price)


def needs_of_made(made: Made) -> tuple[Need, ...]:
    """Haberdashery, other layers, needles of a make."""
    return needs_of(
        made.garment,
        made.steps,
        wanted_by=made.ticket.name,
        colour=made.cloth.colour,
        overlocker=made.ticket.sewer.overlocker,
        others=made.unnamed,
    )


def metres_for(
    body: Body,
    pattern: str,
    choices: Mapping[str, float | str],
    like: Cloth,
    widths: Sequence[float] = WIDTHS,
    *,
    effort: str = "brisk",
) -> tuple[Metres, ...]:
    """How much cloth to buy for a draft on a body whose measures are filled in, for each width."""
    garment = drawn(body, pattern, with_cloth(house_draft(pattern), choices, like))
    pieces = lay_pieces(garment, matched=bool(like.repeat_along or like.repeat_across))
    known = NoFits()
    return metres(pieces, like, lambda problem: best_plan(problem, effort=effort, known=known), widths)
