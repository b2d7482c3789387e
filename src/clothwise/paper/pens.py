"""Pens: how thick, how dark and how broken each kind of line is drawn.

A drawing names its pens; a box of pens says what they look like. One drawing, many boxes: thin greys for
home printers, heavy lines for a projector, and so on; a pen that is not in the box draws nothing. Every kind of
line is told apart by its dashes and its weight, never by colour, so a grey copy or a colour-blind reader loses
nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from clothwise.errors import PaperError

Layer = Literal["cut line", "seam line", "marks", "words", "sheet"]
LAYERS: tuple[Layer, ...] = ("cut line", "seam line", "marks", "words", "sheet")
# sheet   joins, test squares and sheet names: always on, for without them the scale cannot be proved

PenName = Literal[
    "cut", "seam", "fold", "grain", "notch", "dart", "level", "adjust", "placement", "button", "earlier",
    "words", "quiet", "join", "trim", "square", "map", "map fill", "cloth", "selvedge", "hatch", "piece fill",
    "paper",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Pen:
    """One pen.

    width_mm  thickness of the line
    grey      0 black to 1 white; also the colour of what is filled with it
    dash_mm   line, gap, line, gap...; empty: unbroken
    """

    layer: Layer
    width_mm: float
    grey: float = 0.0
    dash_mm: tuple[float, ...] = ()
    round_ends: bool = False


Pens = Mapping[PenName, Pen]

# House rule, 2026-11: thin enough to save ink and cut to the middle of, thick enough for a 300 dpi printer
# (one dot is 0.085 mm); the cut line is the heaviest line of a piece, the seam line is always dashed.
PRINT: Pens = {
    "cut": Pen("cut line", 0.35),
    "seam": Pen("seam line", 0.20, 0.25, (4.0, 1.6)),
    "fold": Pen("marks", 0.30, 0.0, (8.0, 1.4, 1.4, 1.4)),
    "grain": Pen("marks", 0.25),
    "notch": Pen("marks", 0.35),
    "dart": Pen("marks", 0.22, 0.1),
    "level": Pen("marks", 0.15, 0.4, (1.4, 1.4)),
    "adjust": Pen("marks", 0.18, 0.2),
    "placement": Pen("marks", 0.22, 0.1, (0.1, 1.3), round_ends=True),
    "button": Pen("marks", 0.25),
    "earlier": Pen("marks", 0.18, 0.45, (9.0, 1.6, 0.1, 1.6), round_ends=True),
    "words": Pen("words", 0.15),
    "quiet": Pen("words", 0.15, 0.35),
    "join": Pen("sheet", 0.18, 0.35),
    "trim": Pen("sheet", 0.10, 0.55),
    "square": Pen("sheet", 0.18, 0.1),
    "map": Pen("sheet", 0.15, 0.3),
    "map fill": Pen("sheet", 0.0, 0.9),
    "cloth": Pen("sheet", 0.25),
    "selvedge": Pen("sheet", 0.70),
    "hatch": Pen("sheet", 0.10, 0.6),
    "piece fill": Pen("sheet", 0.0, 0.92),
    "paper": Pen("sheet", 0.0, 1.0),
}


def without(pens: Pens, left_out: Iterable[str]) -> Pens:
    """The box without the pens of these layers: what they would draw is not drawn.

    Raises PaperError: an unknown layer, or the one that proves the scale
    """
    unwanted = {name.strip().casefold() for name in left_out}
    may = [layer for layer in LAYERS if layer != "sheet"]
    for name in unwanted:
        if name not in may:
            raise PaperError(
                f"The layer '{name}' cannot be left out.",
                where="layers",
                mend=f"Choose among {', '.join(may)}.",
            )
    return {name: pen for name, pen in pens.items() if pen.layer not in unwanted}


def heavier(pens: Pens, times: float, least_mm: float = 0.0) -> Pens:
    """The same box with every line that much thicker, none thinner than `least_mm`. [mm]"""
    return {
        name: replace(
            pen,
            width_mm=max(pen.width_mm * times, least_mm) if pen.width_mm else 0.0,
            dash_mm=tuple(step * times for step in pen.dash_mm),
        )
        for name, pen in pens.items()
    }


def light_on_dark(pens: Pens) -> Pens:
    """The same box for a black ground: black turns white, and no line is darker than half grey."""
    return {name: replace(pen, grey=max(1.0 - pen.grey, 0.5)) for name, pen in pens.items()}
