"""Pictures for the booklet: faces of cloth, lines and labels on a plane in cm, y up; written as SVG in true mm.

The look carries no meaning by colour alone: right side hatched, wrong side plain, joined parts grey, this
seam a heavy dashed line. Line weights and type are in printed mm whatever the scale of the picture.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal
from xml.sax.saxutils import escape

import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.paper import font

XY = tuple[float, float]

Face = Literal["right", "wrong", "joined right", "joined wrong", "shade", "paper", "elastic"]
Line = Literal["outline", "seam", "bold", "bold_ink", "done", "fold", "hidden", "hair", "arrow"]
Anchor = Literal["start", "middle", "end"]
Naming = Literal["", "edge", "sign", "phrase"]

HATCH = 1.5  # mm between hatch lines
HATCH_DEG = 45.0
THIN = 0.02  # cm: outlines are thinned to this before they are written; far finer than a drawn line
RIM = 1.2  # mm of white round a picture

FILLS: dict[Face, str] = {
    "right": "#f6f1e7",
    "wrong": "#ffffff",
    "joined right": "#dcdad5",
    "joined wrong": "#e9e9e9",
    "shade": "#efefef",
    "paper": "#ffffff",
    "elastic": "#c9c4ba",
}
HATCHED: tuple[Face, ...] = ("right", "joined right")
INK, QUIET, ACCENT = "#1f1f1f", "#7d7d7d", "#a3352b"

# stroke, width mm, dashes mm
STROKES: dict[Line, tuple[str, float, str]] = {
    "outline": (INK, 0.28, ""),
    "seam": (ACCENT, 0.85, "2.1 0.9"),
    "bold": (ACCENT, 0.95, ""),
    "bold_ink": (INK, 0.6, ""),
    "done": (QUIET, 0.22, "1.2 0.8"),
    "fold": (INK, 0.2, "2.2 0.7 0.5 0.7"),
    "hidden": (QUIET, 0.2, "0.5 0.8"),
    "hair": (QUIET, 0.15, ""),
    "arrow": (INK, 0.3, ""),
}


@dataclass(frozen=True, slots=True)
class Area:
    """A face of cloth, outlined."""

    shape: BaseGeometry
    face: Face
    line: Line | None = "outline"


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points."""

    points: tuple[XY, ...]
    line: Line


@dataclass(frozen=True, slots=True)
class Label:
    """A word or two; size in mm of type.

    kind  what the text names, where it is not yet a word of a language: an edge, a notch, a phrase of the house
    """

    text: str
    at: XY
    size: float = 2.7
    anchor: Anchor = "middle"
    bold: bool = False
    accent: bool = False
    kind: Naming = ""


Item = Area | Path | Label


@dataclass(frozen=True, slots=True)
class Picture:
    """Items in the order they are drawn.

    alt  what it shows, for those who cannot see it; until it is `spoken`, the key of that sentence
    """

    items: tuple[Item, ...]
    alt: str = ""

    def bounds(self) -> tuple[float, float, float, float]:
        """left, bottom, right, top of everything but the words. [cm]"""
        boxes = [item.shape.bounds for item in self.items if isinstance(item, Area) and not item.shape.is_empty]
        boxes += [LineString(item.points).bounds for item in self.items if isinstance(item, Path)]
        left, bottom, right, top = zip(*boxes, strict=True)
        return min(left), min(bottom), max(right), max(top)


def beside(pictures: Sequence[Picture], gap: float, alt: str = "") -> Picture:
    """Pictures in a row, feet on one line, `gap` cm between."""
    items: list[Item] = []
    x = 0.0
    for picture in pictures:
        left, bottom, right, _ = picture.bounds()
        items += [moved(item, x - left, -bottom) for item in picture.items]
        x += right - left + gap
    return Picture(tuple(items), alt or " ".join(p.alt for p in pictures))


def moved(item: Item, dx: float, dy: float) -> Item:
    if isinstance(item, Area):
        return Area(affinity.translate(item.shape, dx, dy), item.face, item.line)
    if isinstance(item, Path):
        return Path(tuple((x + dx, y + dy) for x, y in item.points), item.line)
    return replace(item, at=(item.at[0] + dx, item.at[1] + dy))


def with_letters(picture: Picture, times: float) -> Picture:
    """The same picture with its words so many times as large."""
    items = tuple(
        replace(item, size=item.size * times) if isinstance(item, Label) else item for item in picture.items
    )
    return Picture(items, picture.alt)


def cropped(picture: Picture, low: float, high: float) -> Picture:
    """Only what lies between two heights; cut edges of cloth are left without outline."""
    left, _, right, _ = picture.bounds()
    window = shapely.box(left - 1, low, right + 1, high)
    items: list[Item] = []
    for item in picture.items:
        if isinstance(item, Area):
            items += _cropped_area(item, window)
        elif isinstance(item, Path):
            for part in _lines(LineString(item.points).intersection(window)):
                items.append(Path(part, item.line))
        elif low <= item.at[1] <= high:
            items.append(item)
    return Picture(tuple(items), picture.alt)


def _cropped_area(area: Area, window: Polygon) -> list[Item]:
    """The part inside; its rim is drawn only where it was a rim before."""
    inside = area.shape.intersection(window)
    if inside.is_empty:
        return []
    rim = area.shape.boundary.intersection(window)
    found: list[Item] = [Area(inside, area.face, None)]
    return found + ([Path(part, area.line) for part in _lines(rim)] if area.line else [])


def _lines(shape: BaseGeometry) -> list[tuple[XY, ...]]:
    if shape.is_empty:
        return []
    merged = shapely.line_merge(shape) if shape.geom_type == "MultiLineString" else shape
    parts = getattr(merged, "geoms", [merged])
    return [tuple((x, y) for x, y in p.coords) for p in parts if p.geom_type == "LineString" and p.length > 0]


# ---- writing -----------------------------------------------------------------------------------


def svg(
    picture: Picture, width_mm: float, height_mm: float, most_scale: float = 10.0, letters: float = 1.0
) -> str:
    """The picture as SVG, as large as fits in that room; `most_scale` mm of paper for a cm at most.

    letters  how many times their own size words are set
    """
    picture = with_letters(picture, letters)
    left, bottom, right, top = picture.bounds()
    labels = [item for item in picture.items if isinstance(item, Label)]
    room_w, room_h = width_mm - 2 * RIM, height_mm - 2 * RIM
    scale = min(room_w / max(right - left, 0.1), room_h / max(top - bottom, 0.1), most_scale)
    for _ in range(2):  # words reach out of the drawing: once to see by how much, once more to settle
        out = [_label_box(label, scale) for label in labels]
        reach = (
            max([left * scale - b[0] for b in out] + [0.0]), max([b[2] - right * scale for b in out] + [0.0]),
            max([bottom * scale - b[1] for b in out] + [0.0]), max([b[3] - top * scale for b in out] + [0.0]),
        )  # fmt: skip
        scale = min(
            (room_w - reach[0] - reach[1]) / max(right - left, 0.1),
            (room_h - reach[2] - reach[3]) / max(top - bottom, 0.1),
            most_scale,
        )
    x0, y0 = left * scale - reach[0] - RIM, top * scale + reach[3] + RIM
    w = (right - left) * scale + reach[0] + reach[1] + 2 * RIM
    h = (top - bottom) * scale + reach[2] + reach[3] + 2 * RIM
    body = "".join(_item(item, scale, x0, y0) for item in picture.items)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w:.2f}mm" height="{h:.2f}mm" '
        f'viewBox="0 0 {w:.2f} {h:.2f}"><title>{escape(picture.alt)}</title>'
        f'<g fill="none" stroke-linejoin="round" stroke-linecap="round">{body}</g></svg>'
    )


def _label_box(label: Label, scale: float) -> tuple[float, float, float, float]:
    """The box of its letters in mm on the scaled plane."""
    width = font.width(label.text, label.size, bold=label.bold)
    x = label.at[0] * scale - {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor] * width
    y = label.at[1] * scale
    return x, y - 0.3 * label.size, x + width, y + 0.8 * label.size


def _item(item: Item, scale: float, x0: float, y0: float) -> str:
    def place(points: Iterable[XY]) -> str:
        return "L".join(f"{x * scale - x0:.2f} {y0 - y * scale:.2f}" for x, y in points)

    if isinstance(item, Label):
        x, y = item.at[0] * scale - x0, y0 - item.at[1] * scale
        weight = ' font-weight="700"' if item.bold else ""
        common = (
            f'x="{x:.2f}" y="{y:.2f}" font-size="{item.size:g}" font-family="{font.FAMILY}"{weight} '
            f'text-anchor="{item.anchor}"'
        )
        text = escape(font.tidy(item.text))
        colour = ACCENT if item.accent else INK
        halo = f'<text {common} stroke="#ffffff" stroke-width="0.9" fill="#ffffff">{text}</text>'
        return f'{halo}<text {common} fill="{colour}">{text}</text>'
    if isinstance(item, Path):
        return f'<path d="M{place(item.points)}" {_stroke(item.line)}/>'
    shape = item.shape.simplify(THIN)
    rings = [ring for part in _polygons(shape) for ring in (part.exterior, *part.interiors)]
    if not rings:
        return ""
    d = "".join(f"M{place(ring.coords[:-1])}Z" for ring in rings)
    stroke = _stroke(item.line) if item.line else ""
    face = f'<path d="{d}" fill="{FILLS[item.face]}" fill-rule="evenodd"/>'
    if item.face in HATCHED:
        lines = _hatch(shape, HATCH / scale)
        face += (
            f'<path d="{"".join(f"M{place(line)}" for line in lines)}" stroke="#9a927f" stroke-width="0.13"/>'
        )
    return face + (f'<path d="{d}" {stroke}/>' if stroke else "")


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    parts = getattr(shape, "geoms", [shape])
    return [p for p in parts if isinstance(p, Polygon) and not p.is_empty]


def _stroke(line: Line) -> str:
    colour, width, dashes = STROKES[line]
    dash = f' stroke-dasharray="{dashes}" stroke-linecap="butt"' if dashes else ""
    return f'fill="none" stroke="{colour}" stroke-width="{width:g}"{dash}'


def _hatch(shape: BaseGeometry, spacing: float) -> list[tuple[XY, ...]]:
    """Parallel lines that fill a shape. They hang on one grid, so neighbours run on into each other."""
    left, bottom, right, top = shape.bounds
    c, s = math.cos(math.radians(HATCH_DEG)), math.sin(math.radians(HATCH_DEG))
    corners = [(-s * x + c * y) for x in (left, right) for y in (bottom, top)]
    reach = math.hypot(right - left, top - bottom) + abs(left) + abs(right) + abs(bottom) + abs(top)
    first, last = math.ceil(min(corners) / spacing), math.floor(max(corners) / spacing)
    lines = [
        LineString([(-s * k * spacing - c * reach, c * k * spacing - s * reach),
                    (-s * k * spacing + c * reach, c * k * spacing + s * reach)])
        for k in range(first, last + 1)
    ]  # fmt: skip
    cut = shapely.intersection(shapely.multilinestrings(lines), shape) if lines else shapely.MultiLineString()
    return _lines(cut)
