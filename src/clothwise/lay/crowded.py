"""Proof that long pieces cannot all lie side by side on a cloth of this length.

A piece that is long for the cloth reaches across the middle of it wherever it lies. There it takes at least the
least width of the part that may come to lie there; all such widths together must find room. What is called
impossible so can be had by no folding either, since every folded lay opens to a single one.

Letters: c place along the cloth; u place along a laid piece, from its own end. cm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from clothwise.lay.cloth import LayCloth
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.problem import LayProblem
from clothwise.tolerance import LAY_GAP, SAME_POINT

STATIONS = 15  # places along the cloth looked at; legs and sleeves widen slowly, more find nothing new
SMALLER = LAY_GAP  # cm all round, a tenth of a millimetre: one that just fits is never refused

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Laid:
    """One way a piece may lie: how long it is, and how wide at each place along it."""

    long: float
    places: Floats
    widths: Floats

    def least(self, c: float, length: float) -> float:
        """The least width that covers place c of a cloth so long, wherever along it the piece lies."""
        low, high = c - (length - self.long), min(self.long, c)
        if low <= 0 or c >= self.long:
            return 0.0  # it may lie wholly before or behind
        ends = np.interp((low, high), self.places, self.widths)
        between = self.widths[(self.places >= low) & (self.places <= high)]
        return float(min(ends.min(), between.min(initial=np.inf)))


def why_crowded(problem: LayProblem) -> str:
    """One sentence why the pieces have no room side by side, or nothing where that is not proved."""
    cloth = problem.cloth
    if cloth.length is None:
        return ""
    ways = [(piece.title, laid) for piece in problem.pieces for laid in _ways(piece, problem) if laid]
    if not ways:
        return ""
    for c in np.linspace(0.0, cloth.length, STATIONS + 2)[1:-1]:
        widths = [(title, min(one.least(c, cloth.length) for one in laid)) for title, laid in ways]
        there = [title for title, width in widths if width > 0]
        blades = max(0, len(there) - 1) * max(0.0, problem.gap - LAY_GAP)
        over = sum(width for _, width in widths) + blades - _across(cloth, float(c))
        if over > SMALLER:
            names = ", ".join(dict.fromkeys(f"'{title}'" for title in there))
            return (
                f"{len(there)} pieces ({names}) must lie side by side {c:.0f} cm from the cut end, and the "
                f"cloth is at least {over:.1f} cm too narrow for them."
            )
    return ""


def _ways(piece: LayPiece, problem: LayProblem) -> Iterator[tuple[_Laid, ...]]:
    """For each copy still to be laid, the ways it may lie; none where it is too short to matter."""
    cloth = problem.cloth
    assert cloth.length is not None
    either = piece.either_side_up or cloth.two_right_sides
    drawn: dict[bool, tuple[_Laid, ...]] = {}
    for copy in problem.free_copies(piece):
        over = piece.mirrored_pair and copy % 2 == 1
        sides = (False, True) if either else (over,)
        if over not in drawn:
            laid = [_laid(piece, angle, side) for side in sides for angle in piece.angles_on(cloth)]
            short = piece.lean or any(one is None or one.long < cloth.length / 2 for one in laid)
            drawn[over] = () if short else tuple(one for one in laid if one is not None)
        yield drawn[over]


def _laid(piece: LayPiece, drawn_angle: float, over: bool) -> _Laid | None:
    """The piece a little smaller, as it lies; None where nothing of it is left."""
    angle = -drawn_angle % 360 if over else drawn_angle
    outline = Placement(piece.name, 0, over, angle, 0.0, 0.0).carry(piece.whole_outline)
    shape = smaller(Polygon(outline))
    if shape is None:
        return None
    x0, y0, x1, y1 = shape.bounds
    corners = np.unique([x for x, _ in shape.exterior.coords])
    places = np.unique(np.clip(np.concatenate([corners - SAME_POINT, corners + SAME_POINT]), x0, x1))
    lines = shapely.linestrings([[(x, y0 - 1), (x, y1 + 1)] for x in places])
    return _Laid(x1 - x0, places - x0, shapely.length(shapely.intersection(lines, shape)))


def smaller(shape: Polygon) -> Polygon | None:
    """A piece a little smaller, and with few points; it stays half of SMALLER inside. None: nothing is left."""
    parts = shapely.get_parts(shape.buffer(-SMALLER, join_style="mitre").simplify(SMALLER / 2))
    polygons = [part for part in parts if isinstance(part, Polygon) and not part.is_empty]
    return max(polygons, key=lambda part: part.area, default=None)


def _across(cloth: LayCloth, c: float) -> float:
    """How wide the cloth is there, without its flaws."""
    return float(cloth.shape(0.0).intersection(LineString([(c, -1.0), (c, cloth.width + 1.0)])).length)
