"""The garment graph: pieces, seams, free edges, and what follows from them."""

from clothwise.garment.garment import (
    Corner,
    FreeEdge,
    Garment,
    Joint,
    Level,
    Note,
    Notion,
    Passage,
    Run,
    Seam,
)
from clothwise.garment.piece import Dart, Edge, Mark, Notch, Piece

__all__ = [
    "Corner",
    "Dart",
    "Edge",
    "FreeEdge",
    "Garment",
    "Joint",
    "Level",
    "Mark",
    "Notch",
    "Note",
    "Notion",
    "Passage",
    "Piece",
    "Run",
    "Seam",
]
