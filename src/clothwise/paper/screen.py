"""The pieces for a screen or a phone: one self-contained page, to look at and to read beside the cutting table.

Not true to scale: each piece is as large as the screen lets it be, its measures stand in words. Lines keep
their thickness however far they are zoomed; layers are switched by boxes, with no script; nothing is fetched.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from clothwise.garment import Garment
from clothwise.paper.caption import Caption, allowances, how_to_cut, short_cm
from clothwise.paper.drawing import box_of
from clothwise.paper.pattern import made_title
from clothwise.paper.pens import LAYERS, PRINT, Layer, Pens, heavier
from clothwise.paper.piece import DrawnPiece, draw_pieces
from clothwise.paper.svg import scaling_svg, style_lines

LARGER = 2.0  # times the type of print: a piece of one metre is a hand wide on a phone
HEAVIER = 4.0  # times the pens of print: lines keep this in dots, a cutting line of 1.4
SHOWN = tuple(layer for layer in LAYERS if layer != "sheet")

STYLE = """
:root { color-scheme: light dark; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 60rem; padding: 1rem; font: 1.05rem/1.45 system-ui, sans-serif; }
h1 { font-size: 1.5rem; margin: .3rem 0; } h2 { font-size: 1.15rem; margin: 0 0 .2rem; }
p { margin: .1rem 0; } .quiet { opacity: .75; }
.boxes label { display: inline-flex; align-items: center; gap: .5rem; min-height: 2.75rem;
  margin-right: 1.2rem; }
.boxes input { width: 1.4rem; height: 1.4rem; }
section { border-top: 1px solid #8888; padding: 1rem 0; }
svg { display: block; background: #fff; width: 100%; max-height: 88vh; margin-top: .5rem; }
svg path { vector-effect: non-scaling-stroke; }
"""


def pattern_screen(
    garment: Garment,
    *,
    body_name: str = "",
    made_on: str = "",
    ticket_id: str = "",
    size: str = "",
    pieces: Sequence[str] = (),
    pens: Pens = PRINT,
) -> str:
    """The page as HTML text. Raises PaperError: an unknown piece, nothing to show."""
    caption = Caption(garment.title, body_name or garment.body_name, made_on, ticket_id, size, LARGER)
    drawn = draw_pieces(garment, caption, pieces)
    title = escape(made_title(caption))
    made = " · ".join(escape(part) for part in (f"size {size}" if size else "", made_on, ticket_id) if part)
    heavy = heavier(pens, HEAVIER)
    style = "\n".join(style_lines((piece.drawing for piece in drawn), heavy))
    return (
        "<!doctype html>\n"
        f'<html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<style>{STYLE}{style}\n{_switches(heavy)}</style></head><body>"
        f'<h1>{title}</h1><p class="quiet">{made}</p>'
        "<p>To look at, not to cut from: a screen is not true to scale. Sheets and rolls are.</p>"
        f'<div class="boxes">{"".join(_boxes(heavy))}</div>'
        f"<main>{''.join(_section(piece, heavy) for piece in drawn)}</main></body></html>\n"
    )


def _id(layer: str) -> str:
    return "show-" + layer.replace(" ", "-")


def _layers(pens: Pens) -> list[Layer]:
    """Those that can be switched, of these pens."""
    drawn = {pen.layer for pen in pens.values()}
    return [layer for layer in SHOWN if layer in drawn]


def _boxes(pens: Pens) -> Iterator[str]:
    for layer in _layers(pens):
        yield f'<label><input type="checkbox" id="{_id(layer)}" checked>{layer}</label>'


def _switches(pens: Pens) -> str:
    """An unticked box hides its layer."""
    return "\n".join(
        f'body:has(#{_id(layer)}:not(:checked)) g[id$="-{layer.replace(" ", "-")}"] {{ display: none; }}'
        for layer in _layers(pens)
    )


def _section(drawn: DrawnPiece, pens: Pens) -> str:
    piece = drawn.piece
    left, bottom, right, top = box_of(drawn.outline)
    title = escape(f"{drawn.number} {piece.title}")
    half = "half, " if piece.fold is not None else ""
    size = f"{half}{short_cm(right - left)} across, {short_cm(top - bottom)} up, as cut"
    picture = scaling_svg(drawn.drawing, label=f"{piece.title}: {how_to_cut(piece)}", pens=pens)
    return (
        f"<section><h2>{title}</h2><p>{escape(how_to_cut(piece))}: {escape(size)}.</p>"
        f'<p class="quiet">{escape(allowances(piece))}</p>{picture}</section>'
    )
