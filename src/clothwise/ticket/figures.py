"""Every figure of a worked-out ticket as plain data for programs: what `packet.json` holds.

Lengths in cm, areas in cm2 unless the name says m2, times in minutes, shares of one. Keys are the words of
the glossary; a reader ignores keys it does not know.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.garment import Garment, Piece
from clothwise.lay.plan import LayPlan
from clothwise.sew import Minutes
from clothwise.ticket.made import Made
from clothwise.ticket.writing import write_ticket

FORMAT = 1  # of packet.json
DIGITS = 4  # of a cm: a micrometre; more would be noise of the last bits


def packet_figures(made: Made, *, sheets: int, files: tuple[str, ...]) -> dict[str, Any]:
    """All figures of the packet."""
    ticket = made.ticket
    return {
        "packet": FORMAT,
        "name": ticket.name,
        "ticket": write_ticket(ticket),
        "made_on": ticket.made_on,
        "pattern": {"name": ticket.pattern, "choices": dict(made.garment.choices)},
        "body": body_figures(made.body),
        "cloth": plain(made.cloth),
        "sewer": plain(ticket.sewer),
        "garment": garment_figures(made.garment),
        "lay": lay_figures(made.plan),
        "other_lays": {layer: lay_figures(plan) for layer, plan in made.others.items()},
        "doubts": list(made.doubts),
        "estimated": list(made.estimated),
        "notions": [plain(notion) for notion in made.notions],
        "steps": [plain(step) for step in made.steps],
        "minutes": minutes_figures(made.minutes),
        "paper": {"sheet": ticket.sheet, "sheets": sheets},
        "files": list(files),
    }


def body_figures(body: Body) -> dict[str, Any]:
    """Measures with their source; an estimate with the interval that holds nine in ten like bodies."""
    return {
        "name": body.name,
        "figure": body.figure,
        "age_years": body.age_years,
        "taken_on": body.taken_on,
        "notes": list(body.notes),
        "measures": {name: plain(measure) for name, measure in sorted(body.measures.items())},
    }


def garment_figures(garment: Garment) -> dict[str, Any]:
    """Pieces, seams with both lengths, levels, passages, finished measures and notes."""
    return {
        "title": garment.title,
        "pieces": [_piece(piece) for piece in garment.pieces],
        "seams": [
            {
                "name": seam.name,
                "title": seam.title,
                "kind": seam.kind,
                "length_a": rounded(garment.length(seam.a)),
                "length_b": rounded(garment.length(seam.b)),
                "ratio": seam.ratio,
                "times": seam.times,
            }
            for seam in garment.seams
        ],
        "free_edges": [
            {
                "name": edge.name,
                "title": edge.title,
                "kind": edge.kind,
                "length": rounded(garment.length(edge.runs)),
                "turn": edge.turn,
                "times": edge.times,
            }
            for edge in garment.free_edges
        ],
        "levels": [
            {
                "name": level.name,
                "title": level.title,
                "body": rounded(level.body),
                "ease": rounded(level.ease),
                "finished": rounded(garment.round(level.runs)),
            }
            for level in garment.levels
        ],
        "finished": plain(garment.finished),
        "notes": [plain(note) for note in garment.notes],
    }


def _piece(piece: Piece) -> dict[str, Any]:
    left, bottom, right, top = piece.outline().bounds()
    return {
        "name": piece.name,
        "title": piece.title,
        "cutting": piece.cutting,
        "copies": piece.copies,
        "layer": piece.layer,
        "width": rounded(right - left),
        "height": rounded(top - bottom),
        "area_cm2": rounded(piece.area_cm2()),
    }


def lay_figures(plan: LayPlan) -> dict[str, Any]:
    """How the cloth is laid, the length it takes, where each copy lies."""
    return {
        "layering": str(plan.layering),
        "width": rounded(plan.problem.cloth.width),
        "length": rounded(plan.length),
        "metres": round(plan.length / 100, 2),
        "waste": rounded(plan.waste),
        "verified": plan.verified,
        "shortest_proved": plan.optimal,
        "placements": [plain(placement) for placement in plan.placements],
    }


def minutes_figures(minutes: Minutes) -> dict[str, Any]:
    """Minutes by part; low to high holds nine in ten such makes."""
    return {key: value for key, value in plain(minutes).items() if key != "rows"}


def cloth_figures(cloth: Cloth) -> dict[str, Any]:
    """One cloth of the cupboard."""
    return {
        **plain(cloth),
        "usable_width": rounded(cloth.usable_width),
        "usable_length": rounded(cloth.usable_length),
    }


def plain(value: Any) -> Any:
    """Frozen values as dictionaries, lists, words and rounded numbers."""
    if is_dataclass(value) and not isinstance(value, type):
        return {part.name: plain(getattr(value, part.name)) for part in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(part) for key, part in value.items()}
    if isinstance(value, tuple | list):
        return [plain(part) for part in value]
    return rounded(value) if isinstance(value, float) else value


def rounded(value: float) -> float:
    """To a micrometre, and never minus nought."""
    return round(value, DIGITS) + 0.0


def as_json(figures: Any) -> str:
    """Indented, keys in their given order, the same text for the same figures."""
    return json.dumps(figures, indent=1, ensure_ascii=False, allow_nan=False) + "\n"
