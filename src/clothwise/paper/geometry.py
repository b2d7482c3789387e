"""The pieces' geometry as JSON for other programs, and read back: edges, notches, darts, marks, control points.

Centimetres, y up, each piece on its own plane. A stroke is a list of points: two for a line, four for a cubic.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from clothwise.curve import Cubic, Curve, Line, Point
from clothwise.errors import PaperError
from clothwise.garment import Dart, Edge, Garment, Mark, Notch, Piece
from clothwise.garment.allowance import cutting_line
from clothwise.paper.piece import chosen_pieces

DIGITS = 6  # decimals of a centimetre: a hundredth of a micrometre


def pattern_json(
    garment: Garment, *, body_name: str = "", made_on: str = "", pieces: Sequence[str] = ()
) -> str:
    """All pieces, or those named. Raises PaperError: an unknown piece, nothing to write."""
    whole = {
        "pattern": garment.name,
        "title": garment.title,
        "body": body_name or garment.body_name,
        "made_on": made_on,
        "unit": "cm",
        "pieces": [_piece(piece) for piece in chosen_pieces(garment, pieces)],
    }
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


def _piece(piece: Piece) -> dict[str, object]:
    return {
        "name": piece.name,
        "title": piece.title,
        "cutting": piece.cutting,
        "copies": piece.copies,
        "layer": piece.layer,
        "bias": piece.bias,
        "interfaced": piece.interfaced,
        "loose": piece.loose,
        "grain": [_point(p) for p in piece.grain],
        "edges": [
            {
                "name": edge.name,
                "kind": edge.kind,
                "allowance": edge.allowance,
                "pressed_open": edge.pressed_open,
                "pointed": edge.pointed,
                "strokes": _strokes(edge.curve),
                "notches": [
                    {"sign": n.sign, "at": round(n.at, DIGITS), "count": n.count} for n in edge.notches
                ],
            }
            for edge in piece.edges
        ],
        "darts": [
            {"name": d.name, "edge": d.edge, "points": [_point(p) for p in d.drawn]} for d in piece.darts
        ],
        "marks": [{"name": m.name, "kind": m.kind, "strokes": _strokes(m.curve)} for m in piece.marks],
        "cutting_line": [_point(p) for p in cutting_line(piece)],
    }


def _point(p: Point) -> list[float]:
    return [round(p.x, DIGITS), round(p.y, DIGITS)]


def _strokes(curve: Curve) -> list[list[list[float]]]:
    return [
        [_point(p) for p in ((s.start, s.first, s.second, s.end) if isinstance(s, Cubic) else (s.start, s.end))]
        for s in curve.strokes
    ]


# ---- read back -------------------------------------------------------------------------------------


def pieces_of_json(text: str | bytes) -> tuple[Piece, ...]:
    """The pieces that `pattern_json` wrote. Raises PaperError: the file is no such thing."""
    try:
        return tuple(_piece_of(found) for found in json.loads(text)["pieces"])
    except (ValueError, KeyError, TypeError, AttributeError, IndexError) as fault:
        raise PaperError(
            "This is not the geometry of a pattern.",
            where="JSON of pieces",
            mend="Give a file that `clothwise draft ... --out FILE.json` wrote.",
        ) from fault


def _piece_of(found: Mapping[str, Any]) -> Piece:
    low, high = (Point(*p) for p in found["grain"])
    return Piece(
        found["name"],
        found["title"],
        tuple(_edge_of(edge) for edge in found["edges"]),
        (low, high),
        cutting=found["cutting"],
        copies=found["copies"],
        layer=found["layer"],
        darts=tuple(_dart_of(dart) for dart in found["darts"]),
        marks=tuple(Mark(m["name"], m["kind"], _curve_of(m["strokes"])) for m in found["marks"]),
        bias=found["bias"],
        interfaced=found["interfaced"],
        loose=found["loose"],
    )


def _edge_of(found: Mapping[str, Any]) -> Edge:
    notches = tuple(Notch(n["sign"], n["at"], n["count"]) for n in found["notches"])
    return Edge(
        found["name"],
        _curve_of(found["strokes"]),
        found["kind"],
        found["allowance"],
        notches,
        found["pressed_open"],
        found["pointed"],
    )


def _dart_of(found: Mapping[str, Any]) -> Dart:
    points = [Point(*p) for p in found["points"]]
    if len(points) == 3:
        first, tip, second = points
        return Dart(found["name"], tip, first, second, found["edge"])
    tip, first, other, second, _ = points
    return Dart(found["name"], tip, first, second, found["edge"], other)


def _curve_of(strokes: Sequence[Sequence[Sequence[float]]]) -> Curve:
    found = [[Point(x, y) for x, y in points] for points in strokes]
    return Curve(tuple(Line(*points) if len(points) == 2 else Cubic(*points) for points in found))
