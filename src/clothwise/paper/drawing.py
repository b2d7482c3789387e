"""One drawing, many pens: strokes, fills and words on a plane. Centimetres, y up.

A drawing knows no paper. The writers (PDF, SVG, ...) decide what each pen looks like.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

import shapely
from shapely import Polygon

from clothwise.curve import Curve, Line, Point, Vector, heading
from clothwise.paper import font
from clothwise.paper.pens import PenName

Anchor = Literal["start", "middle", "end"]
Turn = Literal[0, 90, 180, 270]
Box = tuple[float, float, float, float]  # left, bottom, right, top [cm]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line drawn with a pen."""

    path: Curve
    pen: PenName
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Fill:
    """A closed shape filled with a pen's grey, without a rim."""

    path: Curve
    pen: PenName


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text.

    place     where the baseline starts, has its middle, or ends, by `anchor`
    size      of the type: one em [cm]
    turn_deg  direction of reading, anticlockwise from the right [degrees]
    """

    text: str
    place: Point
    size: float
    turn_deg: float = 0.0
    anchor: Anchor = "start"
    pen: PenName = "words"
    bold: bool = False

    @property
    def width(self) -> float:
        return font.width(font.tidy(self.text), self.size, bold=self.bold)

    def start(self) -> Point:
        """Where the baseline begins."""
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * self.width
        return self.place.go(Vector(-back, 0.0).turned(self.turn_deg))

    def corners(self, spare: float = 0.0) -> list[Point]:
        """The four corners of the box that holds its letters, `spare` wider all round. [cm]"""
        low, high = -font.DESCENT * self.size - spare, font.ASCENT * self.size + spare
        left, right = -spare, self.width + spare
        start, way = self.start(), heading(self.turn_deg)
        return [
            Point(start.x + x * way.x - y * way.y, start.y + x * way.y + y * way.x)
            for x, y in ((left, low), (right, low), (right, high), (left, high))
        ]


Item = Stroke | Fill | Words


@dataclass(frozen=True, slots=True)
class Carry:
    """A quarter turn about the origin, then a move: how a drawing lies on the paper."""

    turn: Turn = 0
    dx: float = 0.0
    dy: float = 0.0

    @property
    def cos_sin(self) -> tuple[int, int]:
        return {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}[self.turn]

    def __call__(self, p: Point) -> Point:
        c, s = self.cos_sin
        return Point(c * p.x - s * p.y + self.dx, s * p.x + c * p.y + self.dy)

    def shape(self, polygon: Polygon) -> Polygon:
        """A whole shape at once."""
        c, s = self.cos_sin
        return shapely.transform(polygon, lambda xy: xy @ [[c, s], [-s, c]] + (self.dx, self.dy))


AS_DRAWN = Carry()


@dataclass(frozen=True, slots=True)
class Drawing:
    """Items drawn in order, the later ones over the earlier."""

    name: str  # one word with underscores: an id in the files
    title: str
    items: tuple[Item, ...]

    def __iter__(self) -> Iterator[Item]:
        return iter(self.items)

    def words(self) -> Iterator[Words]:
        return (item for item in self.items if isinstance(item, Words))

    def bounds(self) -> Box:
        """Of everything drawn, words included, without the thickness of pens."""
        return around(box for item in self.items for box in _boxes(item))

    def carried(self, carry: Carry) -> Drawing:
        """Turned and moved."""
        return replace(self, items=tuple(_carried(item, carry) for item in self.items))

    def moved(self, dx: float, dy: float) -> Drawing:
        return self.carried(Carry(0, dx, dy))

    def rotated(self, turn: Turn) -> Drawing:
        """About the origin."""
        return self.carried(Carry(turn))

    def with_items(self, items: Iterable[Item]) -> Drawing:
        return replace(self, items=(*self.items, *items))


def around(boxes: Iterable[Box]) -> Box:
    """The box around boxes; empty space is the point at the origin."""
    found = list(boxes)
    if not found:
        return 0.0, 0.0, 0.0, 0.0
    left, bottom, right, top = zip(*found, strict=True)
    return min(left), min(bottom), max(right), max(top)


def box_of(points: Iterable[Point]) -> Box:
    return around((p.x, p.y, p.x, p.y) for p in points)


def _boxes(item: Item) -> Iterator[Box]:
    yield box_of(item.corners()) if isinstance(item, Words) else item.path.bounds()


def _carried(item: Item, carry: Carry) -> Item:
    if isinstance(item, Words):
        turn = math.fmod(item.turn_deg + carry.turn, 360.0)
        return replace(item, place=carry(item.place), turn_deg=turn)
    return replace(item, path=item.path.mapped(carry))


# ---- small shapes ----------------------------------------------------------------------------------


def rectangle(left: float, bottom: float, right: float, top: float) -> Curve:
    """A closed rectangle, anticlockwise from its lower left corner."""
    a, b = Point(left, bottom), Point(right, bottom)
    c, d = Point(right, top), Point(left, top)
    return Curve((Line(a, b), Line(b, c), Line(c, d), Line(d, a)))


def polygon(*points: Point) -> Curve:
    """A closed figure through the points."""
    ring = (*points, points[0])
    return Curve(tuple(Line(a, b) for a, b in pairwise(ring)))


def arrow_head(tip: Point, way: Vector, size: float) -> Fill:
    """A slim filled head whose tip lies at `tip`, pointing along `way`. [cm]"""
    back, side = way.unit().times(-size), way.unit().left().times(size * 0.24)
    return Fill(polygon(tip, tip.go(back).go(side), tip.go(back).go(side.back())), "grain")
