"""The shopping and cutting list of a make, as plain text for a pocket."""

from __future__ import annotations

import math

from clothwise.cloth import Cloth
from clothwise.garment import Notion, Piece
from clothwise.ticket.made import PLACES, Made
from clothwise.ticket.taped import tape_is_old

SHOP_STEP = 10.0  # cm: cloth is sold by the tenth of a metre
LAYERS = {"rib": "Ribbing", "pocket": "Thin firm cloth for the pockets", "lining": "Lining"}
REEL = 100.0  # m of thread on an ordinary small reel
ELASTIC_SPARE = 5.0  # cm bought beyond the elastic's length: to try it on and to overlap


def shopping_and_cutting(made: Made) -> str:
    """What must be there before the first cut, then what is cut out of what."""
    ticket = made.ticket
    lines = [ticket.name, f"for {made.body.name}" + (f", {ticket.made_on}" if ticket.made_on else ""), ""]
    asked = before_cutting(made)
    if asked:
        lines += ["BEFORE THE FIRST CUT", "", *(f"[ ] {question}" for question in asked), ""]
    lines += ["WHAT IS NEEDED", ""]
    lines += [f"[ ] {line}" for line in _needed(made)]
    lines += ["", f"CUT FROM {made.cloth.name.upper()}", ""]
    lines += [_laid(made), ""]
    mine = {piece.name for piece in made.plan.problem.pieces}
    lines += [f"[ ] {_cut(piece)}" for piece in made.garment.pieces if piece.name in mine]
    for layer, plan in made.others.items():
        lines += [
            "",
            f"CUT FROM {layer_title(made, layer).upper()}",
            "",
            f"Lay: {plan.layering}, {plan.length:.0f} cm.",
            "",
        ]
        laid = {piece.name for piece in plan.problem.pieces}
        lines += [f"[ ] {_cut(piece)}" for piece in made.garment.pieces if piece.name in laid]
    backed = [piece for piece in made.garment.pieces if piece.interfaced or piece.layer == "interfacing"]
    if backed:
        lines += ["", "CUT FROM INTERFACING, WITHOUT THE ALLOWANCES", ""]
        lines += [f"[ ] {_cut(piece)}" for piece in backed]
    lines += [
        "",
        "Mark the wrong side of every piece as it is cut, and its notches. Close the blade of a rotary",
        "cutter each time it is laid down; keep shears and pins away from children.",
    ]
    return "\n".join(lines) + "\n"


def layer_title(made: Made, layer: str) -> str:
    """What a layer is cut from, in words."""
    if layer in PLACES:
        return made.ticket.other_cloths[PLACES.index(layer)].cloth.name
    return LAYERS[layer]


def before_cutting(made: Made) -> tuple[str, ...]:
    """What to make sure of with the tape: measures that are old, doubtful, or only estimated."""
    asked = (*tape_is_old(made.body, made.ticket.made_on), *made.doubts)
    if not made.estimated:
        return asked
    names = ", ".join(name.replace("_", " ") for name in made.estimated)
    return (*asked, f"Estimated, not taped: {names}. Tape them for a sure fit.")


def _needed(made: Made) -> list[str]:
    cloth, length = made.cloth, made.plan.length
    lines = []
    for there, plan in made.named:
        lines.append(
            f"{there.name}: {plan.length:.0f} cm of {plan.problem.cloth.width:.0f} cm width; "
            f"{there.usable_length:.0f} cm are in the cupboard"
        )
        if not there.washed:
            lines.append("wash and press it before cutting")
    for layer, plan in made.unnamed.items():
        metres = math.ceil(plan.length / SHOP_STEP) * SHOP_STEP / 100
        lines.append(
            f"{layer_title(made, layer)}: {metres:.1f} m of {plan.problem.cloth.width:.0f} cm width, "
            "or a remnant"
        )
    lines += [_bought(notion) for notion in made.notions]
    lines += [f"a new {needle} machine needle" for needle in sorted({s.needle for s in made.steps if s.needle})]
    lines.append(f"if bought anew: {_to_buy(cloth, length):.1f} m of cloth {cloth.width:.0f} cm wide")
    return lines


def _to_buy(cloth: Cloth, length: float) -> float:
    """Metres to ask for in the shop, the loss in the first wash included. [m]"""
    before_wash = length / (1 - cloth.shrinkage)
    return math.ceil(before_wash / SHOP_STEP) * SHOP_STEP / 100


def _bought(notion: Notion) -> str:
    if notion.name == "thread":
        metres = notion.length / 100
        return f"{notion.title}: about {metres:.0f} m ({math.ceil(metres / REEL)} x {REEL:.0f} m)"
    if notion.name == "elastic":
        return f"{notion.title}: {notion.length:.0f} cm, buy {notion.length + ELASTIC_SPARE:.0f} cm"
    if notion.length:
        return f"{notion.title}: {notion.length:.0f} cm"
    return f"{notion.title}: {notion.count}"


def _laid(made: Made) -> str:
    plan = made.plan
    return (
        f"Lay: {plan.layering}, {plan.length:.0f} cm; {plan.cuts} outlines to cut, {plan.waste:.0%} falls away."
    )


def _cut(piece: Piece) -> str:
    how = {"pair": f"{piece.copies} as a pair, left and right", "single": f"{piece.copies}"}
    return f"{piece.title}: {how.get(piece.cutting, f'{piece.copies} on the fold')}"
