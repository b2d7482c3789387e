"""One flat piece as it will be cut, and everything that decides how it may lie.

A piece is drawn right side up with its grain pointing to +y. Lengths in cm, angles in degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from clothwise.errors import LayError
from clothwise.lay.cloth import LayCloth, Outline, Point, checked_outline
from clothwise.tolerance import SAME_POINT

FOLD_STRAIGHT = 0.05  # cm: the fold edge may lean this much off the grain before we refuse
CROSSWISE = 90.0  # degrees between the grain of a piece and that of the cloth
MOST_LEAN = 10.0  # degrees: a piece further off the grain twists in wear (trade knowledge; most say 2 to 3)
REMEMBERED = 1024  # outlines whose area and unfolding are asked again and again by the same search
STRAIGHT: tuple[float, ...] = (0.0,)
BIAS: tuple[float, ...] = (45.0, 135.0)
STRAIGHT_OR_CROSSWISE: tuple[float, ...] = (0.0, 90.0)


@dataclass(frozen=True, slots=True)
class MatchPoint:
    """A point of a piece that must meet the same place of the stripes or checks as its group.

    at      in the piece's own axes [cm], on the stitching line: seams are matched there, not at the cut edge
    group   all points of one name are equal modulo the repeat
    along   its bars are matched, those that run across the cloth
    across  its stripes are matched, those that run along the cloth
    """

    at: Point
    group: str
    along: bool = True
    across: bool = True

    def on(self, axis: int) -> bool:
        """Is it matched along (axis 1 of a piece, up its grain) or across (axis 0)?"""
        return self.along if axis == 1 else self.across


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
    lean            may lie off its grain by this much either way; never on a fold [degrees]
    apart           its copies are cut one by one wherever there is room, even where the cloth lies double
    match           points that must meet the stripes or checks as others of their group do
    hidden          inside the garment: a join in it does not show
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
    lean: float = 0.0
    apart: bool = False
    match: tuple[MatchPoint, ...] = ()
    hidden: bool = False

    def __post_init__(self) -> None:
        checked_outline(self.outline, f"piece '{self.title}'", LayError)
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
        if not 0 <= self.lean <= MOST_LEAN:
            raise LayError(
                f"A piece cannot lie {self.lean:g} degrees off its grain.",
                where=self._where,
                mend=f"Allow 0 to {MOST_LEAN:g} degrees.",
            )
        if self.match and (self.lean or self.angles != STRAIGHT):
            raise LayError(
                "A piece that matches stripes must lie straight with its grain.",
                where=self._where,
                mend="Give it no lean and straight grain, or take it out of the matching.",
            )
        if any(not math.isfinite(v) for point in self.match for v in point.at):
            raise LayError(
                "A point to match is not a number.", where=self._where, mend="Give it in centimetres."
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
        return _area(self.outline) * self.count * (2 if self.on_fold else 1)

    def angles_on(self, cloth: LayCloth) -> tuple[float, ...]:
        """All angles worth trying for a copy as drawn, 0 to 360, by grain, lean and nap. [degrees]

        Turned over it takes them the other way round; with its fold edge on a fold only 0 and 180 of them.
        """
        crossed = cloth.nap == "none" or len(self.angles) == 1
        upright = [math.remainder(a, 180) for a in self.angles]  # 135 degrees would point against one way
        grain = [a for a in upright if crossed or abs(math.remainder(a - CROSSWISE, 180)) > SAME_POINT]
        leans = (0.0, self.lean / 2, -self.lean / 2, self.lean, -self.lean) if self.lean else (0.0,)
        turns = (0.0, 180.0) if self.may_turn_on(cloth) else (0.0,)
        return tuple(sorted({(a + lean + turn) % 360 for a in grain for lean in leans for turn in turns}))

    def may_turn_on(self, cloth: LayCloth) -> bool:
        """May it lie upside down on this cloth? Not with one way, nor among uneven stripes it must match."""
        uneven = bool(self.match) and cloth.repeat is not None and not cloth.repeat.even
        return self.may_turn and cloth.nap != "one-way" and not uneven


def unfolded(piece: LayPiece) -> Outline:
    """The whole outline of a piece drawn as a half: the half and its mirror image, anticlockwise.

    Raises  LayError when the two do not hang together
    """
    return _unfolded(piece.outline, piece.fold_x, piece.title)


@lru_cache(maxsize=REMEMBERED)
def _area(outline: Outline) -> float:
    return float(Polygon(outline).area)


@lru_cache(maxsize=REMEMBERED)
def _unfolded(outline: Outline, axis: float, title: str) -> Outline:
    half = Polygon([(axis if abs(x - axis) <= FOLD_STRAIGHT else x, y) for x, y in outline])
    image = Polygon([(2 * axis - x, y) for x, y in half.exterior.coords])
    whole = half.union(image).simplify(0)
    if not isinstance(whole, Polygon):
        raise LayError(
            "The half and its mirror image do not hang together.",
            where=f"piece '{title}'",
            mend="Draw the half right up to its fold edge.",
        )
    return tuple((float(x), float(y)) for x, y in orient(whole).exterior.coords[:-1])
