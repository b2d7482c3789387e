"""Drawings to SVG, true to scale: width and height in millimetres, one user unit one millimetre.

Each drawing is a group with its name as id, each layer inside it a group ('front_leg-cut-line'). Words stay
words; `textLength` holds them to the length they were given room for, whatever face the reader has.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from clothwise.curve import Cubic, Curve, Point
from clothwise.errors import PaperError
from clothwise.paper import font
from clothwise.paper.drawing import AS_DRAWN, Carry, Drawing, Fill, Item, Words, around
from clothwise.paper.pens import LAYERS, PRINT, Layer, Pen, Pens
from clothwise.units import MM

EDGE = 0.5  # cm: blank rim around what is drawn, wider than half the thickest pen
SECOND_FACES = "sans-serif"  # what a reader without our face falls back to


@dataclass(frozen=True, slots=True)
class Hung:
    """A drawing and where it hangs on the sheet."""

    drawing: Drawing
    carry: Carry = AS_DRAWN


def write_svg(hung: Iterable[Hung], *, title: str, what: str = "", pens: Pens = PRINT, lang: str = "en") -> str:
    """One SVG document that holds all drawings, as large as they need.

    Raises PaperError when there is nothing to draw.
    """
    drawings = [(h.drawing.carried(h.carry)) for h in hung]
    if not any(d.items for d in drawings):
        raise PaperError("There is nothing to draw.", where=f"'{title}'", mend="Choose at least one piece.")
    frame = _framed(drawings)
    width, height = _mm(frame.width), _mm(frame.height)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" xml:lang={quoteattr(lang)}>',
        f"<title>{_words(title)}</title>",
    ]
    lines += [f"<desc>{_words(what)}</desc>"] if what else []
    lines += ["<style>", *style_lines(drawings, pens), "</style>"]
    for drawing in drawings:
        lines += _group(drawing, pens, frame)
    return "\n".join([*lines, "</svg>", ""])


def scaling_svg(drawing: Drawing, *, label: str, pens: Pens) -> str:
    """One drawing as an element for a page, as large as the page lets it be; `style_lines` stand there once."""
    frame = _framed([drawing])
    lines = [
        f'<svg viewBox="0 0 {_mm(frame.width)} {_mm(frame.height)}" role="img" aria-label={quoteattr(label)}>'
    ]
    return "".join([*lines, *_group(drawing, pens, frame), "</svg>"])


def _framed(drawings: Iterable[Drawing]) -> Frame:
    """Everything drawn, with a blank rim."""
    left, bottom, right, top = around(d.bounds() for d in drawings if d.items)
    return Frame(left - EDGE, top + EDGE, right - left + 2 * EDGE, top - bottom + 2 * EDGE)


@dataclass(frozen=True, slots=True)
class Frame:
    """The sheet's upper left corner on the drawing's plane, and its size. [cm]"""

    left: float
    top: float
    width: float
    height: float

    def xy(self, p: Point) -> str:
        """The point in millimetres, y down."""
        return f"{_mm(p.x - self.left)} {_mm(self.top - p.y)}"


def _mm(cm: float) -> str:
    """Millimetres to a tenth of a micrometre."""
    text = f"{cm / MM:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _words(text: str) -> str:
    """All letters, also those that our face lacks: the reader's own may have them."""
    return escape(font.composed(text))


def _pen_class(name: str) -> str:
    return "pen-" + name.replace(" ", "-")


def _grey(pen: Pen) -> str:
    level = round(255 * pen.grey)
    return f"#{level:02x}{level:02x}{level:02x}"


def style_lines(drawings: Iterable[Drawing], pens: Pens) -> Iterator[str]:
    """One class per pen in use; presentation stays out of the paths."""
    used = sorted({item.pen for drawing in drawings for item in drawing if item.pen in pens})
    yield f"text {{ font-family: '{font.FAMILY}', {SECOND_FACES}; }} .bold {{ font-weight: 700; }}"
    for name in used:
        pen = pens[name]
        dashes = " ".join(f"{step:g}" for step in pen.dash_mm) or "none"
        caps = "round" if pen.round_ends else "butt"
        yield (
            f".{_pen_class(name)} {{ fill: none; stroke: {_grey(pen)}; stroke-width: {pen.width_mm:g}; "
            f"stroke-dasharray: {dashes}; stroke-linecap: {caps}; stroke-linejoin: round; }}"
        )
        yield f".{_pen_class(name)}.filled {{ fill: {_grey(pen)}; stroke: none; }}"


def _group(drawing: Drawing, pens: Pens, frame: Frame) -> Iterator[str]:
    # The sheet lies beneath: a lay's hatching and the white behind its words must not cover them.
    beneath = sorted(LAYERS, key=lambda layer: layer != "sheet")
    by_layer: Mapping[Layer, list[Item]] = {layer: [] for layer in beneath}
    for item in drawing:
        if item.pen in pens:
            by_layer[pens[item.pen].layer].append(item)
    name = quoteattr(drawing.name)
    yield f"<g id={name}><title>{_words(drawing.title)}</title>"
    for layer, items in by_layer.items():
        if items:
            yield f"<g id={quoteattr(drawing.name + '-' + layer.replace(' ', '-'))}><title>{layer}</title>"
            yield from (_element(item, frame) for item in items)
            yield "</g>"
    yield "</g>"


def _element(item: Item, frame: Frame) -> str:
    if isinstance(item, Words):
        return _text(item, frame)
    closed = isinstance(item, Fill) or item.closed
    kind = _pen_class(item.pen) + (" filled" if isinstance(item, Fill) else "")
    return f'<path class="{kind}" d="{_path(item.path, frame)}{" Z" if closed else ""}"/>'


def _path(curve: Curve, frame: Frame) -> str:
    parts = [f"M {frame.xy(curve.start)}"]
    for stroke in curve.strokes:
        if isinstance(stroke, Cubic):
            parts.append(f"C {frame.xy(stroke.first)} {frame.xy(stroke.second)} {frame.xy(stroke.end)}")
        else:
            parts.append(f"L {frame.xy(stroke.end)}")
    return " ".join(parts)


def _text(words: Words, frame: Frame) -> str:
    text = _words(words.text)
    x, y = frame.xy(words.start()).split()
    turn = f' transform="rotate({-words.turn_deg:g} {x} {y})"' if words.turn_deg else ""
    kind = _pen_class(words.pen) + " filled" + (" bold" if words.bold else "")
    held = f' textLength="{_mm(words.width)}" lengthAdjust="spacingAndGlyphs"'
    held = "" if font.missing(words.text) else held  # only the face can tell how long they are
    return f'<text class="{kind}" x="{x}" y="{y}" font-size="{_mm(words.size)}"{held}{turn}>{text}</text>'
