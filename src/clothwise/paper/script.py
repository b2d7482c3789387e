"""Letters that the printing face lacks, in any living script: shaped by typst, drawn as outlines.

Arabic letters join, Indic vowels move round their consonant, Hebrew runs from the right: this needs a shaper,
which typst holds. It sets a line from the faces of the house alone (fonts/VENDOR.toml), never from those of the
machine, so the same text gives the same outlines everywhere. What rises above or hangs below the room that a
line of the printing face takes is set smaller until it fits, so that boxes kept for words hold all scripts.

em: the size of the type; outlines are in em, y up, from the start of the baseline.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path
from xml.etree import ElementTree

import typst

from clothwise.curve import Cubic, Curve, Line, Point

ASCENT = 0.76  # em above the baseline that letters and figures of the printing face use: ascender of b, d, l
DESCENT = 0.24  # em below the baseline: tail of g, p, y
UNITS = 1000.0  # of typst's picture in one em
NOWHERE = "\ue000"  # of the private use area: no face has it, so it shows what stands for a letter not had
LINE = b"""#set page(width: auto, height: auto, margin: 0pt)
#set text(size: 1000pt, font: "Noto Sans", top-edge: "baseline", bottom-edge: "baseline")
#text(weight: sys.inputs.weight, sys.inputs.words)"""
SVG, HREF = "{http://www.w3.org/2000/svg}", "{http://www.w3.org/1999/xlink}href"
STEP = re.compile(r"([A-Za-z])|(-?\d*\.?\d+)")
TAKES = {"M": 2, "m": 2, "l": 2, "h": 1, "v": 1, "q": 4, "c": 6, "Z": 0}  # all that typst writes


@dataclass(frozen=True, slots=True)
class Shaped:
    """A line of text as it is set, at one em.

    outlines  closed, to be filled together
    whole     no letter of it is lacking
    """

    outlines: tuple[Curve, ...]
    width: float
    whole: bool


@cache
def _compiler() -> typst.Compiler:
    folder = Path(str(files("clothwise.fonts")))
    faces = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])
    return typst.Compiler(LINE, font_paths=faces)


def _picture(text: str, bold: bool) -> ElementTree.Element:
    """What typst draws of the text; it is handed over as data and never read as markup."""
    inputs = {"words": text, "weight": "bold" if bold else "regular"}
    drawn = _compiler().compile(LINE, format="svg", sys_inputs=inputs)
    assert isinstance(drawn, bytes)  # one line is one page
    return ElementTree.fromstring(drawn)


@cache
def _stand_ins() -> frozenset[str]:
    """Names of the glyphs that stand for a letter no face has."""
    return frozenset(use.attrib[HREF] for use in _picture(NOWHERE, False).iter(f"{SVG}use"))


@lru_cache(maxsize=4096)
def can_set(letter: str) -> bool:
    """Does any face of the house have it?"""
    return shaped(letter, False).whole


@lru_cache(maxsize=1024)
def shaped(text: str, bold: bool) -> Shaped:
    """The text as one line, with its letters joined, ordered and placed as its script wants."""
    picture = _picture(text, bold)
    glyphs = {f"#{s.attrib['id']}": s[0].attrib["d"] for s in picture.iter(f"{SVG}symbol")}
    outlines: list[Curve] = []
    whole = True
    for group in picture.iter(f"{SVG}g"):
        x = _shift(group.attrib["transform"])
        for use in group.findall(f"{SVG}use"):
            name = use.attrib[HREF]
            whole = whole and name not in _stand_ins()
            at = Point(x + float(use.attrib["x"]), float(use.attrib["y"]))
            outlines += [_moved(curve, at) for curve in _outlines(glyphs[name])]
    return _fitted(outlines, float(picture.attrib["viewBox"].split()[2]), whole)


def _fitted(outlines: list[Curve], width: float, whole: bool) -> Shaped:
    """In em, and so small that nothing stands out above or below the line."""
    boxes = [curve.bounds() for curve in outlines]
    high = max((top for _, _, _, top in boxes), default=0.0) / UNITS
    low = max((-bottom for _, bottom, _, _ in boxes), default=0.0) / UNITS
    scale = min(ASCENT / max(high, ASCENT), DESCENT / max(low, DESCENT)) / UNITS
    fitted = tuple(curve.mapped(lambda p: Point(p.x * scale, p.y * scale)) for curve in outlines)
    return Shaped(fitted, width * scale, whole)


def _shift(transform: str) -> float:
    """How far right a run of glyphs is moved: 'matrix(1 0 0 -1 4211 0)' or 'scale(1 -1)'."""
    numbers = re.findall(r"-?[\d.]+", transform)
    return float(numbers[4]) if transform.startswith("matrix") else 0.0


def _moved(curve: Curve, by: Point) -> Curve:
    return curve.mapped(lambda p: Point(p.x + by.x, p.y + by.y))


@lru_cache(maxsize=2048)
def _outlines(path: str) -> tuple[Curve, ...]:
    """Closed curves of an SVG path: `M` and `Z` as they are, all else counts from the last point."""
    found: list[Curve] = []
    strokes: list[Line | Cubic] = []
    start = at = Point(0.0, 0.0)
    for command, values in _steps(path):
        if command == "h":
            values = [values[0], 0.0]
        elif command == "v":
            values = [0.0, values[0]]
        base = Point(0.0, 0.0) if command == "M" else at
        points = [Point(base.x + x, base.y + y) for x, y in zip(values[::2], values[1::2], strict=True)]
        if command in "MmZ":
            if strokes:
                found.append(Curve((*strokes, *([Line(at, start)] if at != start else []))))
            strokes = []
            start = at = points[0] if points else start
            continue
        if command == "q":
            strokes.append(_cubic(at, *points))
        elif command == "c":
            strokes.append(Cubic(at, *points))
        elif points[0] != at:
            strokes.append(Line(at, points[0]))
        at = points[-1]
    return tuple(found)


def _cubic(start: Point, control: Point, end: Point) -> Cubic:
    """A quadratic stroke as the cubic that is the same curve."""
    return Cubic(start, start.between(control, 2 / 3), end.between(control, 2 / 3), end)


def _steps(path: str) -> Iterator[tuple[str, list[float]]]:
    """Commands with their numbers; a command may be followed by several sets of them."""
    command, values = "", list[float]()
    for letter, number in STEP.findall(path):
        if letter:
            command, values = letter, []
        else:
            values.append(float(number))
        if len(values) == TAKES[command]:
            yield command, values
            values = []
