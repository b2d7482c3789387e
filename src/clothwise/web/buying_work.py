"""Shopping lists and metres, in a worker: what each ticket wants, how each width is laid."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import asdict
from typing import Any

from clothwise.body import estimate
from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import WorkroomError
from clothwise.garment import Garment
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import best_plan
from clothwise.shopping.cloths import WantedCloth, needs_of_made, wanted_cloths
from clothwise.shopping.lists import shopping_list
from clothwise.shopping.metres import metres
from clothwise.shopping.needs import Need
from clothwise.shopping.together import too_short
from clothwise.shopping.told import need_told
from clothwise.store import Store
from clothwise.ticket.bought_ticket import is_bought
from clothwise.ticket.made import drawn, with_cloth
from clothwise.web.buying import like_cloth
from clothwise.web.lay_drawing import thumbnail
from clothwise.web.on_one_sheet import sheet_of
from clothwise.web.sheet import Reader
from clothwise.web.ticket_state import load
from clothwise.web.ticket_work import made_of
from clothwise.web.work import Tell


def shop(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """Works out each ticket, then tells one list; a ticket that cannot be made so is told with its reason."""
    cloths: list[WantedCloth] = []
    needs: list[Need] = []
    refused: list[dict[str, str]] = []
    cupboard = store.cloths()
    there = {cloth.name for cloth in cupboard}
    for number, name in enumerate(asked["tickets"], start=1):
        tell("step", {"words": f"{name}: laid and counted ({number} of {len(asked['tickets'])}) …"})
        try:
            of_it, wants = _of_ticket(store, name, there)
        except WorkroomError as no:
            refused.append({"ticket": name, "what": no.what, "mend": no.mend})
            continue
        cloths += of_it
        needs += wants
    lines = [asdict(line) for line in shopping_list(needs, store.box())]
    without = asked["without_cloth"]
    told = {
        "cloths": [] if without else [asdict(cloth) for cloth in cloths],
        "short": [] if without else [asdict(shared) for shared in too_short(cloths, cupboard)],
        "lines": lines,
        "refused": refused,
    }
    tell("shopping list", told)


def _of_ticket(store: Store, name: str, there: Collection[str]) -> tuple[Sequence[WantedCloth], Sequence[Need]]:
    """The cloths and all else that one ticket wants; there: the names of the cupboard's cloths."""
    if not is_bought(store.ticket(name).text):
        made = made_of(store, name)
        return wanted_cloths(made, there), needs_of_made(made)
    one = sheet_of(store, name, Reader(False))
    cloth, length = one.state.cloth, one.cloth["length"]
    needs = [need_told(text, name) for text in one.pattern.haberdashery]
    if one.cut or length is None:
        return [], needs
    return [WantedCloth(name, cloth.name, cloth.width, length, cloth.name in there, 0.0, None)], needs


def metres_wanted(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """Lays the make on one width after the other, and tells each at once."""
    like, known = like_cloth(store, asked), NoFits()
    pieces = lay_pieces(_garment(store, asked, like), matched=bool(like.repeat_along or like.repeat_across))
    for number, width in enumerate(asked["widths"], start=1):
        tell("step", {"words": f"Laying on width {number} of {len(asked['widths'])} …"})
        (row,) = metres(pieces, like, lambda problem: best_plan(problem, effort="brisk", known=known), (width,))
        found = None if row.plan is None else thumbnail(row.plan, row.plan.length)
        figures = {key: getattr(row, key) for key in ("width", "need", "buy", "price", "layering", "why")}
        tell("width", {**figures, "lay": found})


def _garment(store: Store, asked: dict[str, Any], like: Cloth) -> Garment:
    """The draft as it comes out for a person, or the ticket as it is written."""
    if asked["ticket"]:
        given = load(store, asked["ticket"]).whole
        assert given.body is not None
        choices = with_cloth(pattern(given.pattern), given.choices, like)
        return drawn(estimate(given.body), given.pattern, choices, given.figure, given.left, given.changes)
    draft = pattern(asked["pattern"])
    return drawn(estimate(store.body(asked["for"])), draft.name, with_cloth(draft, {}, like))
