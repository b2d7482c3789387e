"""Shopping lists, the box and metres in words and figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from clothwise.cli.files import read_file
from clothwise.cli.settings import settings_of
from clothwise.cloth import Cloth
from clothwise.cloth.kinds import find_kind
from clothwise.cloth.typed import cloth_typed
from clothwise.errors import StoreError
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import best_plan
from clothwise.shopping.box import BY_LENGTH, BoxItem
from clothwise.shopping.lists import ShoppingLine
from clothwise.shopping.metres import WIDTHS, Metres, metres, to_buy
from clothwise.shopping.needs import Need, needs_of
from clothwise.store import Store
from clothwise.ticket import read_ticket
from clothwise.ticket.figures import rounded

PLAIN_SHRINKAGE = 0.05  # of a cloth of which nothing is known: cottons lose 3 to 5 % (house rules C)


def needs_for(store: Store, files: Sequence[Path]) -> tuple[list[dict[str, Any]], list[Need]]:
    """The cloth each ticket takes, and all it wants besides."""
    from clothwise.ticket.made import work_out

    cloths: list[dict[str, Any]] = []
    needs: list[Need] = []
    for file in files:
        given = read_ticket(read_file(file, "ticket"))
        body = given.body or store.body(given.body_name)
        made = work_out(given.filled(body, given.cloth or store.cloth(given.cloth_name)))
        there = any(cloth.name == made.cloth.name for cloth in store.cloths())
        buy = to_buy(made.plan.length, made.cloth.shrinkage)
        price = None if made.cloth.price_per_m is None else made.cloth.price_per_m * buy / 100
        cloths.append(
            {
                "wanted_by": given.name,
                "cloth": made.cloth.name,
                "width": rounded(made.cloth.width),
                "need": rounded(made.plan.length),
                "in_cupboard": there,
                "buy": 0.0 if there else buy,
                "price": None if there or price is None else round(price, 2),
            }
        )
        needs += needs_of(
            made.garment,
            made.steps,
            wanted_by=given.name,
            colour=made.cloth.colour,
            overlocker=given.sewer.overlocker,
            others=made.others,
        )
    return cloths, needs


def lines_of(cloths: Sequence[dict[str, Any]], lines: Sequence[str]) -> list[str]:
    """The list for people."""
    said = []
    for cloth in cloths:
        need = f"{cloth['cloth']}, {cloth['width']:g} cm wide, for {cloth['wanted_by']}"
        if cloth["in_cupboard"]:
            said.append(f"[x] {need}: {cloth['need']:.0f} cm, in the cupboard")
        else:
            price = "" if cloth["price"] is None else f", {cloth['price']:.2f}"
            said.append(f"[ ] {need}: buy {cloth['buy'] / 100:.1f} m{price}")
    return [*said, *lines]


def line_of(line: ShoppingLine) -> str:
    """One line: what to buy, what the box gives."""
    wanted = f"{line.wanted:.0f} cm" if line.sort in BY_LENGTH else f"{line.wanted:.0f}"
    if line.sort == "thread":
        wanted = f"{line.wanted / 100:.0f} m"
    colour = f", {line.colour}" if line.colour else ""
    title = f"{line.title}{colour}: {wanted}"
    given = f" ({', '.join(line.from_box)} in the box)" if line.from_box else ""
    if not line.buy:
        return f"[x] {title}{given}"
    if line.unit == "reels":
        buy = f"{line.buy:.0f} reel{'s' * (line.buy > 1)} of 100 m"
    else:
        buy = f"{line.buy:.0f} cm" if line.unit == "cm" else f"{line.buy:.0f}"
    instead = f", {line.instead}" if line.instead else ""
    mark = "( )" if line.instead else "[ ]"
    return f"{mark} {title}: {'or ' if line.instead else ''}buy {buy}{instead}{given}"


def box_lines(items: Sequence[BoxItem]) -> list[str]:
    """What is in the box."""
    if not items:
        return ["The box is empty: clothwise box put NAME --sort elastic --length '1.5 m' --width 2.5"]
    return [_item(item) for item in items]


def _item(item: BoxItem) -> str:
    much = f"{item.length:g} cm" if item.sort in BY_LENGTH else f"{item.count}"
    width = f", {item.width:g} cm {'long' if item.sort == 'zip' else 'wide'}" if item.width else ""
    return f"{item.name} ({item.sort}): {much}{width}" + (f", {item.colour}" if item.colour else "")


def metres_of(
    store: Store,
    name: str,
    pattern: str,
    settings: list[str] | None,
    like: str,
    nap: str,
    shrinkage: str,
    price: float | None,
    widths: tuple[float, ...],
) -> tuple[tuple[Metres, ...], Cloth]:
    """The rows for one draft and person, and the cloth they are for."""
    from clothwise.body import estimate
    from clothwise.draft import pattern as house_draft
    from clothwise.ticket.made import drawn, with_cloth

    cloth = _like(store, like)
    typed = {field: text for field, text in (("nap", nap), ("shrinkage", shrinkage)) if text}
    if price is not None:
        typed["price"] = f"{price:g}"
    cloth = cloth_typed(cloth.name, typed, before=cloth)
    choices = with_cloth(house_draft(pattern), settings_of(settings), cloth)
    garment = drawn(estimate(store.body(name)), pattern, choices)
    known = NoFits()
    rows = metres(
        lay_pieces(garment),
        cloth,
        lambda problem: best_plan(problem, effort="brisk", known=known),
        widths or WIDTHS,
    )
    return rows, cloth


def _like(store: Store, like: str) -> Cloth:
    """A cloth of the cupboard, else one of a kind, else a plain one."""
    if not like:
        return Cloth("Plain cloth", 140.0, 300.0, shrinkage=PLAIN_SHRINKAGE, washed=False)
    kind = find_kind(like)
    if kind is None:
        try:
            return replace(store.cloth(like), outline=(), flaws=())
        except StoreError as no:
            raise StoreError(
                f"'{like}' is neither a cloth of the cupboard nor a kind of cloth.",
                where="--like",
                mend=no.mend,
            ) from no
    return cloth_typed(
        kind.name.capitalize(), {"kind": kind.name, "width": "140", "length": "300", "washed": "no"}
    )


def metres_lines(rows: Sequence[Metres], like: Cloth) -> list[str]:
    """The table for people."""
    nap = f"{like.laid_nap} nap" if like.laid_nap != "none" else "no nap"
    said = [f"{like.name}: {nap}, loses {like.shrinkage:.0%} in the first wash; in steps of 10 cm:"]
    for row in rows:
        if row.buy is None or row.need is None:
            said.append(f"  {row.width:5.0f} cm wide: too narrow. {row.why}")
            continue
        price = "" if row.price is None else f", {row.price:.2f}"
        said.append(
            f"  {row.width:5.0f} cm wide: buy {row.buy / 100:.1f} m{price}  "
            f"({row.need:.0f} cm after washing, {row.layering})"
        )
    return said
