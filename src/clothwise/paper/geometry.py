"""The pieces' geometry as JSON for other programs: every edge, notch, dart and mark with its control points.

Centimetres, y up, each piece on its own plane. A stroke is a list of points: two for a line, four for a cubic.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from clothwise.curve import Cubic, Curve, Point
from clothwise.garment import Garment, Piece
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
        "grain": [_point(p) for p in piece.grain],
        "edges": [
            {
                "name": edge.name,
                "kind": edge.kind,
                "allowance": edge.allowance,
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
