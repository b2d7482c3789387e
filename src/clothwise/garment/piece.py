"""One flat shape to be cut: a closed outline of named edges, with what is marked on it.

Outline closed, anticlockwise, y up, cm. Pieces are drawn as they are cut once: a piece cut as a pair is
the one for the wearer's left side as drawn, the other is its mirror image; a piece on the fold is drawn
as a half. Edges are the only geometry; corners are derived.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from clothwise.curve import Curve, Point
from clothwise.errors import GarmentError

EdgeKind = Literal["seam", "fold", "hem", "casing", "raw"]
# seam    sewn to another edge or to itself (the pair's other half): allowance outside it
# fold    lies on the fold of the cloth: no allowance, the half is mirrored there
# hem     the finished lower edge; what is turned up lies outside it and is cut as its mirror image
# casing  the finished upper edge; what is turned down lies outside it and is cut as its mirror image
# raw     an edge finished by itself without a turn (overlocked, bound, selvedge)

MarkKind = Literal["placement", "level", "adjust", "button", "buttonhole", "fold line", "centre", "note"]
# placement  where another piece is sewn on; level  bust, waist, hip, knee; adjust  lengthen or shorten here
# button  where one is sewn on; buttonhole  the slot to be cut, also an eyelet for a cord; fold line  pressed
# in half along it: a band, a stand; centre  where a front that overlaps meets the other when it is closed

Cutting = Literal["pair", "single", "on fold"]
Layer = Literal["shell", "lining", "interfacing", "rib", "pocket"]


@dataclass(frozen=True, slots=True)
class Notch:
    """A match mark on an edge. `at` is the distance from the edge's start along the seam line [cm].

    The same `sign` stands on the edge it meets. `count` 1 single (front), 2 double (back) by trade custom.
    """

    sign: str
    at: float
    count: int = 1


@dataclass(frozen=True, slots=True)
class Edge:
    """A named run of the outline, travelled anticlockwise.

    allowance     what is cut outside it [cm]: seam allowance, or the whole turn of a hem or casing
    pressed_open  its seam is sewn and pressed open before its neighbours are sewn across its ends, so at sharp
                  corners its allowance is its neighbour's mirror image (raglan at the neck, a pointed yoke)
    pointed       it meets the fold in a point on purpose (a V neck); any other edge runs square into the fold
    """

    name: str
    curve: Curve
    kind: EdgeKind
    allowance: float
    notches: tuple[Notch, ...] = ()
    pressed_open: bool = False
    pointed: bool = False


@dataclass(frozen=True, slots=True)
class Dart:
    """A dart whose legs run from the outline to the tip. `edge` names the edge between the legs' mouths,
    drawn as sewn shut is not needed: first_leg and second_leg end on the outline at the mouth.

    other_tip  of a dart that lies inside the piece and is pointed at both ends: its legs meet at its widest
               place, first_leg and second_leg, and `edge` is empty
    """

    name: str
    tip: Point
    first_leg: Point
    second_leg: Point
    edge: str
    other_tip: Point | None = None

    @property
    def drawn(self) -> tuple[Point, ...]:
        """The line it is sewn along: leg, tip, leg; of one inside the piece all round."""
        if self.other_tip is None:
            return (self.first_leg, self.tip, self.second_leg)
        return (self.tip, self.first_leg, self.other_tip, self.second_leg, self.tip)

    @property
    def leg_length(self) -> float:
        """How long one of its legs is sewn. [cm]"""
        beyond = self.first_leg.distance(self.other_tip) if self.other_tip else 0.0
        return self.tip.distance(self.first_leg) + beyond


@dataclass(frozen=True, slots=True)
class Mark:
    """A line or point drawn on the piece. A placement is a line another piece's edges are sewn to."""

    name: str
    kind: MarkKind
    curve: Curve


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece to be cut `copies` times in all: a pair counts two, a single or on-fold piece one.

    bias        the grain arrow lies at 45 degrees to the cloth's lengthwise grain: never cut on the fold
    interfaced  backed with interfacing: cut as often again from that, inside the seam lines
    loose       worn with the garment and sewn to none of its other pieces: a belt
    """

    name: str  # one word with underscores, unique in the garment: 'front_leg'
    title: str  # as printed: 'Front leg'
    edges: tuple[Edge, ...]
    grain: tuple[Point, Point]
    cutting: Cutting = "pair"
    copies: int = 2
    layer: Layer = "shell"
    darts: tuple[Dart, ...] = ()
    marks: tuple[Mark, ...] = ()
    bias: bool = False
    interfaced: bool = False
    loose: bool = False

    def __iter__(self) -> Iterator[Edge]:
        return iter(self.edges)

    def edge(self, name: str) -> Edge:
        """The edge of that name. GarmentError when there is none."""
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise GarmentError(
            f"Piece '{self.name}' has no edge '{name}'.",
            where=f"piece '{self.name}'",
            mend=f"Its edges are {', '.join(e.name for e in self.edges)}.",
        )

    def mark(self, name: str) -> Mark:
        """The mark of that name. GarmentError when there is none."""
        for mark in self.marks:
            if mark.name == name:
                return mark
        raise GarmentError(
            f"Piece '{self.name}' has no mark '{name}'.",
            where=f"piece '{self.name}'",
            mend=f"Its marks are {', '.join(m.name for m in self.marks) or 'none'}.",
        )

    def line(self, name: str) -> Curve:
        """The curve of an edge, or of a mark, of that name."""
        for edge in self.edges:
            if edge.name == name:
                return edge.curve
        return self.mark(name).curve

    @property
    def fold(self) -> Edge | None:
        """The edge on the fold, if the piece is cut on it."""
        return next((e for e in self.edges if e.kind == "fold"), None)

    @property
    def shapes(self) -> int:
        """How often the drawn shape lies in the cut pieces: a piece on the fold holds it twice."""
        return self.copies * (2 if self.cutting == "on fold" else 1)

    def outline(self) -> Curve:
        """All edges in one closed curve."""
        return self.edges[0].curve.then(*(e.curve for e in self.edges[1:]))

    def polygon(self, *, tolerance: float) -> list[Point]:
        """The outline's corners, last not repeated; chords leave it by no more than the tolerance."""
        return self.outline().flattened(tolerance=tolerance)[:-1]

    def area_cm2(self) -> float:
        """Area of the drawn shape inside the seam lines; a half if on the fold."""
        return sum(e.curve.area_share() for e in self.edges)
