"""Shopping lists, the box and metres in words, the same at the terminal and on the page."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.cloth import Cloth
from clothwise.shopping.box import BY_LENGTH, BoxItem
from clothwise.shopping.cloths import WantedCloth
from clothwise.shopping.lists import ShoppingLine
from clothwise.shopping.metres import Metres
from clothwise.shopping.together import Shared


def cloth_line(cloth: WantedCloth) -> str:
    """What a make takes of its cloth, and whether it must be bought."""
    need = f"{cloth.cloth}, {cloth.width:g} cm wide, for {cloth.wanted_by}"
    if cloth.in_cupboard:
        return f"[x] {need}: {cloth.need:.0f} cm, in the cupboard"
    price = "" if cloth.price is None else f", {cloth.price:.2f}"
    return f"[ ] {need}: buy {cloth.buy / 100:.1f} m{price}"


def short_line(short: Shared) -> str:
    """A cloth that does not suffice for all makes that want it."""
    return (
        f"[ ] {short.cloth} has {short.have:.0f} cm, and {' and '.join(short.wanted_by)} want "
        f"{short.need:.0f} cm together: buy {short.buy / 100:.1f} m more, or another cloth for one of them"
    )


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
    return [item_line(item) for item in items]


def item_line(item: BoxItem) -> str:
    """One thing in the box."""
    much = f"{item.length:g} cm" if item.sort in BY_LENGTH else f"{item.count}"
    width = f", {item.width:g} cm {'long' if item.sort == 'zip' else 'wide'}" if item.width else ""
    return f"{item.name} ({item.sort}): {much}{width}" + (f", {item.colour}" if item.colour else "")


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
