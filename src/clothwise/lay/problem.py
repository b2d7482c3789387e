"""What is asked of a lay: the pieces, the cloth, and how the cloth is laid out for cutting.

A piece is drawn right side up with its grain pointing to +y. The cloth runs along +x from 0,
its selvedges are y = 0 and y = width, and its right side is up. Lengths in cm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from clothwise.errors import ClothError, LayError
from clothwise.tolerance import SAME_POINT

Point = tuple[float, float]
Outline = tuple[Point, ...]
Nap = Literal["none", "one-way", "two-way"]

MOST_COPIES = 150  # copies in one lay: more than any garment with its lining, few enough to stay quick
MOST_POINTS = 4000  # points of one outline: a hand-drawn curve flattened far finer than scissors
LONGEST = 20_000.0  # cm: 200 m, a whole roll; beyond it somebody typed the wrong unit
SMALLEST_AREA = 0.01  # cm2: less cannot be cut
FOLD_STRAIGHT = 0.05  # cm: the fold edge may lean this much off the grain before we refuse
CROSSWISE = 90.0  # degrees between the grain of a piece and that of the cloth
STRAIGHT: tuple[float, ...] = (0.0,)
BIAS: tuple[float, ...] = (45.0, 135.0)
STRAIGHT_OR_CROSSWISE: tuple[float, ...] = (0.0, 90.0)


@dataclass(frozen=True, slots=True)
class LayPiece:
    """One flat piece as it will be cut, allowances included.

    outline         cut outline, closed by itself (first point not repeated), grain to +y, right side up
    count           how many are cut; a piece on the fold counts whole pieces
    mirrored_pair   half of the count as drawn, half turned over: left and right
    on_fold         the outline is one half; its fold edge lies on a fold, or the half is unfolded
    fold_edge       the two ends of that edge, running with the grain
    layer           the cloth it is cut from: shell, lining, interfacing...
    angles          angles to the cloth's grain that are allowed, 180 degrees apart not counted:
                    (0,) straight; (45, 135) bias; (0, 90) crosswise too where the cloth has no nap.
                    A copy turned over takes them the other way round, so left and right hang alike
    may_turn        may lie upside down where the nap permits
    either_side_up  the piece turned over serves as well (a symmetric piece)
    number          what stands on its paper; 0 where there is none, its place in the problem serves then
    """

    name: str
    title: str
    outline: Outline
    count: int = 1
    mirrored_pair: bool = False
    on_fold: bool = False
    fold_edge: tuple[Point, Point] | None = None
    layer: str = "shell"
    angles: tuple[float, ...] = STRAIGHT
    may_turn: bool = True
    either_side_up: bool = False
    number: int = 0

    def __post_init__(self) -> None:
        _check_outline(self.outline, f"piece '{self.title}'", LayError)
        if self.count < 1:
            raise LayError(
                f"{self.count} copies cannot be cut.",
                where=self._where,
                mend="Cut one at least, or leave it out.",
            )
        if self.mirrored_pair and self.on_fold:
            raise LayError(
                "A piece cannot be cut on the fold and as a mirrored pair.",
                where=self._where,
                mend="A half on the fold gives one whole piece: count the whole pieces.",
            )
        if self.mirrored_pair and self.count % 2:
            raise LayError(
                f"{self.count} copies do not make pairs.",
                where=self._where,
                mend="Give an even count: left and right.",
            )
        if not self.angles or any(not math.isfinite(a) for a in self.angles):
            raise LayError(
                "No angle to the grain is allowed.", where=self._where, mend="Give 0 for straight grain."
            )
        if self.on_fold:
            self._check_fold_edge()

    def _check_fold_edge(self) -> None:
        if self.fold_edge is None:
            raise LayError(
                "Its fold edge is not named.",
                where=self._where,
                mend="Name the two ends of the edge on the fold.",
            )
        (x0, y0), (x1, y1) = self.fold_edge
        if abs(x0 - x1) > FOLD_STRAIGHT or abs(y0 - y1) < SAME_POINT or self.angles != STRAIGHT:
            raise LayError(
                "A fold edge must run with the grain.",
                where=self._where,
                mend="Turn the grain along the fold edge, or cut the piece as a whole.",
            )
        left = [x for x, _ in self.outline if x < self.fold_x - FOLD_STRAIGHT]
        right = [x for x, _ in self.outline if x > self.fold_x + FOLD_STRAIGHT]
        if left and right:
            raise LayError(
                "The piece lies on both sides of its fold edge.",
                where=self._where,
                mend="Draw only one half, with the whole of it beside the fold edge.",
            )

    @property
    def _where(self) -> str:
        return f"piece '{self.title}'"

    @property
    def fold_x(self) -> float:
        """Where across the piece its fold edge lies. [cm]"""
        assert self.fold_edge is not None
        return (self.fold_edge[0][0] + self.fold_edge[1][0]) / 2

    @property
    def whole_outline(self) -> Outline:
        """The outline of one whole piece: unfolded when it is drawn as a half."""
        return unfolded(self) if self.on_fold else self.outline

    @property
    def area_cm2(self) -> float:
        """Area of all copies together, whole pieces. [cm2]"""
        return float(Polygon(self.outline).area) * self.count * (2 if self.on_fold else 1)


@dataclass(frozen=True, slots=True)
class LayCloth:
    """A straight length of cloth, right side up.

    width   usable, selvedge to selvedge [cm]
    length  [cm]; None: as much as is needed
    nap     'one-way': every piece points the same way; 'two-way' and 'none': up or down;
            'none' also permits pieces that ask for it to lie crosswise
    two_right_sides  either side of the cloth may be worn outside, so pieces need not be mirrored
    """

    width: float
    length: float | None = None
    nap: Nap = "two-way"
    two_right_sides: bool = False

    def __post_init__(self) -> None:
        for what, value in (("width", self.width), ("length", self.length)):
            if value is not None and not 0 < value <= LONGEST:
                raise ClothError(
                    f"A {what} of {value:g} cm is not a cloth.",
                    where=f"cloth: {what}",
                    mend="Give the usable width and the length in centimetres, for example 140 and 200.",
                )
        if self.nap not in ("none", "one-way", "two-way"):
            raise ClothError(
                f"A nap called '{self.nap}' is not known.",
                where="cloth: nap",
                mend="Say none, one-way or two-way.",
            )


@dataclass(frozen=True, slots=True)
class Layering:
    """How the cloth lies on the table. `depth` is how far a partial fold is turned in [cm]."""

    name: Literal["single layer", "folded lengthwise", "selvedges to the centre", "partial fold"]
    depth: float | None = None

    def __str__(self) -> str:
        return self.name if self.depth is None else f"{self.name} of {self.depth:.1f} cm"


SINGLE = Layering("single layer")
FOLDED = Layering("folded lengthwise")
TO_CENTRE = Layering("selvedges to the centre")


def partial_fold(depth: float) -> Layering:
    """One selvedge turned in so far that the doubled part is `depth` cm deep; the rest lies single."""
    return Layering("partial fold", depth)


@dataclass(frozen=True, slots=True)
class Fold:
    """On the opened cloth: fold line y = line; the bands of `depth` on its two sides lie on each other. [cm]"""

    line: float
    depth: float


def folds_of(layering: Layering, width: float) -> tuple[Fold, ...]:
    """Fold lines on the opened cloth, right sides together."""
    if layering.name == "folded lengthwise":
        return (Fold(width / 2, width / 2),)
    if layering.name == "selvedges to the centre":
        return (Fold(width / 4, width / 4), Fold(3 * width / 4, width / 4))
    if layering.name == "partial fold":
        depth = layering.depth or 0.0
        if not 0 < depth <= width / 2:
            raise LayError(
                f"A fold {depth:g} cm deep cannot be made in cloth {width:g} cm wide.",
                where="layering",
                mend=f"Fold between 0 and {width / 2:g} cm deep.",
            )
        return (Fold(depth, depth),)
    return ()


@dataclass(frozen=True, slots=True)
class LayProblem:
    """Pieces to be cut from one cloth. `gap` is left between pieces for the blade [cm]."""

    pieces: tuple[LayPiece, ...]
    cloth: LayCloth
    gap: float = 0.0

    def __post_init__(self) -> None:
        if not self.pieces:
            raise LayError("There is nothing to lay.", where="lay: pieces", mend="Give one piece at least.")
        if not 0 <= self.gap <= 10:
            raise LayError(
                f"A gap of {self.gap:g} cm between pieces cannot be kept.",
                where="lay: gap",
                mend="Give 0 to 10 cm.",
            )
        names = [piece.name for piece in self.pieces]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise LayError(
                f"Two pieces are called '{twice[0]}'.",
                where="lay: pieces",
                mend="Give every piece a name of its own.",
            )
        copies = sum(piece.count for piece in self.pieces)
        if copies > MOST_COPIES:
            raise LayError(
                f"{copies} copies are more than one lay can hold.",
                where="lay: pieces",
                mend=f"Lay at most {MOST_COPIES} copies at a time, for example one garment after the other.",
            )

    @property
    def area_cm2(self) -> float:
        """Area of everything that must be cut. [cm2]"""
        return sum(piece.area_cm2 for piece in self.pieces)


def of_layer(pieces: Sequence[LayPiece], layer: str) -> tuple[LayPiece, ...]:
    """The pieces cut from one layer: shell, lining, interfacing..."""
    return tuple(piece for piece in pieces if piece.layer == layer)


def unfolded(piece: LayPiece) -> Outline:
    """The whole outline of a piece drawn as a half: the half and its mirror image, anticlockwise.

    Raises  LayError when the two do not hang together
    """
    axis = piece.fold_x
    half = Polygon([(axis if abs(x - axis) <= FOLD_STRAIGHT else x, y) for x, y in piece.outline])
    image = Polygon([(2 * axis - x, y) for x, y in half.exterior.coords])
    whole = half.union(image).simplify(0)
    if not isinstance(whole, Polygon):
        raise LayError(
            "The half and its mirror image do not hang together.",
            where=f"piece '{piece.title}'",
            mend="Draw the half right up to its fold edge.",
        )
    return tuple((float(x), float(y)) for x, y in orient(whole).exterior.coords[:-1])


def _check_outline(outline: Outline, where: str, error: type[LayError] | type[ClothError]) -> None:
    """Raise unless the outline is a simple closed figure of sensible size."""
    mend = "Draw it again as one closed line that does not cross itself."
    if len(outline) < 3:
        raise error(f"An outline of {len(outline)} points encloses nothing.", where=where, mend=mend)
    if len(outline) > MOST_POINTS:
        raise error(
            f"Its outline has {len(outline)} points.",
            where=where,
            mend=f"Flatten it to at most {MOST_POINTS} points.",
        )
    if any(not math.isfinite(v) for point in outline for v in point):
        raise error("Its outline has a point that is not a number.", where=where, mend=mend)
    if max(abs(v) for point in outline for v in point) > LONGEST:
        raise error("Its outline is longer than a roll of cloth.", where=where, mend="Give centimetres.")
    shape = Polygon(outline)
    if shape.area < SMALLEST_AREA:
        raise error("Its outline encloses no area.", where=where, mend=mend)
    if not shape.is_valid:
        raise error("Its outline crosses itself.", where=where, mend=mend)
