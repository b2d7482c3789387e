"""The live view of a ticket: what follows from it at once, as plain data for the page.

Two looks. `look` draws the pieces and reads levels, minutes and cloth from them in a few milliseconds, so that
it can follow a key press; its metres are the pieces' area over what a lay of this garment was found to waste
last, and say so. `exact`, in another process, adds cutting lines, the independent check and a real lay.
Paths have y down, cm, two decimals.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from clothwise.body import estimate
from clothwise.body.slips import slips
from clothwise.curve import Cubic, Curve, Point
from clothwise.draft import pattern
from clothwise.errors import WorkroomError
from clothwise.garment import Garment, Piece
from clothwise.garment.allowance import cutting_line
from clothwise.garment.check import check
from clothwise.lay.from_garment import lay_pieces
from clothwise.paper.caption import how_to_cut
from clothwise.paper.sheets import sheet, sheets_roughly
from clothwise.sew import minutes, order_of_work
from clothwise.ticket import Ticket, read_ticket
from clothwise.ticket.made import divided, drawn_unchecked, lay_problem, with_cloth

USUAL_WASTE = 0.25  # share of the used length that falls away, until a lay of this garment is known (T)
FIRST_EFFORTS = ("quick", "brisk")  # either may miss a lay half a metre shorter; both take tenths of a second
CHORD = 1.0  # cm: how roughly pieces are outlined to count sheets


def drawn(ticket: Ticket) -> Garment:
    """The garment, not yet checked. Raises what the draft and the alterations raise."""
    assert ticket.body is not None
    assert ticket.cloth is not None
    choices = with_cloth(pattern(ticket.pattern), ticket.choices, ticket.cloth)
    body = estimate(ticket.body)
    return drawn_unchecked(body, ticket.pattern, choices, ticket.figure, ticket.left, ticket.changes)


def look(ticket: Ticket, waste: float | None = None) -> dict[str, Any]:
    """The first look. `ticket` is whole; `waste` of its last known lay, if any."""
    garment = drawn(ticket)
    cloth, body = ticket.cloth, ticket.body
    assert cloth is not None
    assert body is not None
    steps = order_of_work(garment, cloth, ticket.sewer)
    sheets = sheets_roughly((piece.polygon(tolerance=CHORD) for piece in garment.pieces), sheet(ticket.sheet))
    time = minutes(garment, steps, cloth, ticket.sewer, sheets=sheets)
    needs = pattern(ticket.pattern).needs
    return {
        "title": garment.title,
        "pieces": [piece_drawing(piece, number) for number, piece in enumerate(garment.pieces, start=1)],
        "levels": levels(garment),
        "notes": [note.text for note in garment.notes],
        "doubts": [{"text": slip.sentence, "measures": slip.measures} for slip in slips(body)],
        "estimated": [need for need in needs if not body.taped(need)],
        "minutes": {"low": time.low, "likely": time.likely, "high": time.high},
        "steps": len(steps),
        "sheets": sheets,
        "cloth": {
            "length": about_length(garment, ticket, waste),
            "have": cloth.usable_length,
            "width": cloth.usable_width,
            "exact": False,
        },
    }


def about_length(garment: Garment, ticket: Ticket, waste: float | None) -> float:
    """Length of the main cloth by area alone, allowances taken as a rim round each piece. [cm]"""
    assert ticket.cloth is not None
    elsewhere = {name for one in ticket.other_cloths for name in one.pieces}
    area = 0.0
    for piece in garment.pieces:
        if piece.layer == "shell" and piece.name not in elsewhere:
            rim = sum(e.curve.length() * e.allowance for e in piece)
            area += (piece.area_cm2() + rim) * piece.shapes
    return area / ticket.cloth.usable_width / (1 - (USUAL_WASTE if waste is None else waste))


def levels(garment: Garment) -> list[dict[str, Any]]:
    """Body, ease and finished girth, top to bottom as the draft names them. [cm]"""
    return [
        {
            "name": level.name,
            "title": level.title,
            "body": level.body,
            "ease": garment.round(level.runs) - level.body,
            "wanted": level.ease,
            "finished": garment.round(level.runs),
            "free": level.at_least,
        }
        for level in garment.levels
    ]


# ---- pieces as paths -----------------------------------------------------------------------------


def piece_drawing(piece: Piece, number: int) -> dict[str, Any]:
    """One piece as drawn, inside its seam lines."""
    left, bottom, right, top = piece.outline().bounds()
    low, high = piece.grain
    return {
        "name": piece.name,
        "title": piece.title,
        "number": number,
        "cut": how_to_cut(piece),
        "layer": piece.layer,
        "box": [round(left, 2), round(-top, 2), round(right, 2), round(-bottom, 2)],
        "seam": path(piece.outline(), closed=True),
        "edges": [{"name": edge.name, "kind": edge.kind, "d": path(edge.curve)} for edge in piece],
        "grain": f"M{xy(low)}L{xy(high)}",
        "darts": "".join("M" + "L".join(xy(p) for p in dart.drawn) for dart in piece.darts),
        "marks": "".join(path(mark.curve) for mark in piece.marks),
        "notches": "".join(_notch(piece)),
    }


def _notch(piece: Piece) -> list[str]:
    found = []
    for edge in piece:
        for notch in edge.notches:
            at = edge.curve.at_length(notch.at)
            inward = edge.curve.tangent_at_length(notch.at).left()
            found.append(f"M{xy(at)}L{xy(at.go(inward, 0.9))}")
    return found


def path(curve: Curve, *, closed: bool = False) -> str:
    """A curve as SVG path data."""
    parts = [f"M{xy(curve.start)}"]
    for stroke in curve.strokes:
        if isinstance(stroke, Cubic):
            parts.append(f"C{xy(stroke.first)} {xy(stroke.second)} {xy(stroke.end)}")
        else:
            parts.append(f"L{xy(stroke.end)}")
    return "".join(parts) + ("Z" if closed else "")


def xy(point: Point) -> str:
    return f"{point.x:.2f} {-point.y:.2f}"


def ring(points: Sequence[Point]) -> str:
    """A closed polygon as path data."""
    return "M" + "L".join(xy(p) for p in points) + "Z"


# ---- the second look, in another process ---------------------------------------------------------


def exact(place: str, text: str) -> dict[str, Any]:
    """Cutting lines, the check, a verified lay with its true minutes; a refusal in words where there is one.

    place  of the store, beside which lays are remembered; text  of a whole ticket
    """
    ticket = read_ticket(text)
    try:
        return _exact(place, ticket)
    except WorkroomError as no:
        return {"refused": {"what": no.what, "mend": no.mend}}


def _exact(place: str, ticket: Ticket) -> dict[str, Any]:
    from clothwise.store.lays import LayMemory

    garment, cloth = drawn(ticket), ticket.cloth
    assert cloth is not None
    faults = [str(fault) for fault in check(garment)]
    told: dict[str, Any] = {
        "cuts": {piece.name: ring(cutting_line(piece)) for piece in garment.pieces},
        "faults": faults,
    }
    pieces = lay_pieces(garment)
    kept, _ = divided(pieces, garment, ticket)
    problem = lay_problem(kept, cloth)
    try:
        with LayMemory.beside(place) as memory:
            plan = min((memory.plan(problem, one) for one in FIRST_EFFORTS), key=lambda made: made.length)
    except WorkroomError as no:  # a piece wider than the cloth: there is no lay, and the sentence says so
        return {**told, "no_lay": str(no)}
    steps = order_of_work(garment, cloth, ticket.sewer)
    sheets = sheets_roughly((piece.outline for piece in pieces), sheet(ticket.sheet))
    time = minutes(garment, steps, cloth, ticket.sewer, sheets=sheets, cuts=plan.cuts)
    return {
        **told,
        "minutes": {"low": time.low, "likely": time.likely, "high": time.high},
        "sheets": sheets,
        "cloth": {
            "length": math.ceil(plan.length * 10) / 10,
            "have": cloth.usable_length,
            "width": cloth.usable_width,
            "exact": True,
            "waste": plan.waste,
            "layering": str(plan.layering),
        },
    }


# ---- which edge moves with which choice ----------------------------------------------------------


def pulls(text: str) -> dict[str, list[dict[str, Any]]]:
    """For each edge 'piece/edge': how far its middle moves for one unit of each numeric choice.

    Found by drawing the garment again with each choice a little larger: so what is pulled on the page is what
    the draft itself would move. `text` is that of a whole ticket.
    """
    ticket = read_ticket(text)
    plain = drawn(ticket)
    middles = _middles(plain)
    found: dict[str, list[dict[str, Any]]] = {}
    for choice in pattern(ticket.pattern).choices:
        if choice.options or choice.unit != "cm":
            continue
        now = _value(ticket, plain, choice.name)
        if now is None:
            continue
        step = 1.0 if now + 1.0 <= choice.high else -1.0
        try:
            other = drawn(_wished(ticket, choice.name, now + step))
        except WorkroomError:
            continue  # it cannot be pulled that way now; typing it says why
        for key, middle in _middles(other).items():
            if key in middles:
                dx, dy = (middle.x - middles[key].x) / step, -(middle.y - middles[key].y) / step
                if math.hypot(dx, dy) > LEAST_PULL:
                    row = {"choice": choice.name, "dx": dx, "dy": dy, "now": now}
                    found.setdefault(key, []).append({**row, "low": choice.low, "high": choice.high})
    return found


EASE_AT = {
    "bust_ease": "bust",
    "waist_ease": "waist",
    "hip_ease": "hip",
    "arm_ease": "upper_arm",
    "thigh_ease": "thigh",
}
LEAST_PULL = 0.08  # cm an edge must move for one cm of a choice, to be a handle for it


def _middles(garment: Garment) -> dict[str, Point]:
    return {
        f"{piece.name}/{edge.name}": edge.curve.at_length(edge.curve.length() / 2)
        for piece in garment.pieces
        for edge in piece
        if edge.kind != "fold"
    }


def _value(ticket: Ticket, garment: Garment, name: str) -> float | None:
    """What a choice stands at: asked for, else as the draft settled it, else the ease found at its level."""
    value = ticket.choices.get(name, garment.choices.get(name))
    if isinstance(value, int | float):
        return float(value)
    return next((level.ease for level in garment.levels if EASE_AT.get(name) == level.name), None)


def _wished(ticket: Ticket, name: str, value: float) -> Ticket:
    return replace(ticket, choices={**ticket.choices, name: value})
