"""What the check says when something is wrong."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One rule broken in one place.

    rule   its name, as in the list at the head of `check`
    where  piece, edge, seam or level
    what   one sentence with the figures that were measured
    value  what was measured, limit what is allowed; their unit stands in the sentence (cm or degrees)
    """

    rule: str
    where: str
    what: str
    value: float = 0.0
    limit: float = 0.0

    def __str__(self) -> str:
        return f"{self.what} Where: {self.where}. Rule: {self.rule}."


def on_piece(piece: str, line: str = "") -> str:
    """How a place on a piece is named in a fault."""
    return f"piece '{piece}', line '{line}'" if line else f"piece '{piece}'"
