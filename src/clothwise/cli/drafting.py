"""Pieces and lays into files, by the ending of the file's name."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from clothwise.body import Body, estimate
from clothwise.errors import PaperError
from clothwise.garment import Garment
from clothwise.ticket.made import drawn


def drawn_for(body: Body, pattern: str, choices: Mapping[str, float | str]) -> Garment:
    """The checked garment; missing measures are estimated."""
    return drawn(estimate(body), pattern, dict(choices))


def _ending(file: Path) -> str:
    ending = file.suffix.lower()
    if ending not in (".svg", ".pdf"):
        raise PaperError(
            f"'{ending or file.name}' is not a kind of drawing.",
            where="--out",
            mend="Let the file's name end in .svg or .pdf.",
        )
    return ending
