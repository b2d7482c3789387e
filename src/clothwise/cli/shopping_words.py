"""Shopping lists, the box and metres in words and figures."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from clothwise.cli.files import read_file
from clothwise.cli.settings import settings_of
from clothwise.cloth import Cloth
from clothwise.cloth.typed import cloth_typed
from clothwise.shopping.asked import like_of
from clothwise.shopping.cloths import WantedCloth, metres_for, needs_of_made, wanted_cloths
from clothwise.shopping.metres import WIDTHS, Metres
from clothwise.shopping.needs import Need
from clothwise.store import Store
from clothwise.ticket import read_ticket


def needs_for(store: Store, files: Sequence[Path]) -> tuple[list[WantedCloth], list[Need]]:
    """The cloth each ticket takes, and all it wants besides."""
    from clothwise.ticket.made import work_out

    cloths: list[WantedCloth] = []
    needs: list[Need] = []
    there = {cloth.name for cloth in store.cloths()}
    for file in files:
        given = read_ticket(read_file(file, "ticket"))
        body = given.body or store.body(given.body_name)
        made = work_out(given.filled(body, given.cloth or store.cloth(given.cloth_name)))
        cloths += wanted_cloths(made, there)
        needs += needs_of_made(made)
    return cloths, needs


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

    cloth = like_of(like, store.cloths())
    typed = {field: text for field, text in (("nap", nap), ("shrinkage", shrinkage)) if text}
    if price is not None:
        typed["price"] = f"{price:g}"
    cloth = cloth_typed(cloth.name, typed, before=cloth)
    rows = metres_for(estimate(store.body(name)), pattern, settings_of(settings), cloth, widths or WIDTHS)
    return rows, cloth
