"""Made-up remnants that are known to hold their pieces: cut round a tight lay, with the holes left as flaws.

The answer must be yes; how the pieces lay is thrown away. Every case is drawn from a seed. cm.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

from shapely.affinity import translate
from shapely.geometry import Polygon
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

from benchmarks.lay_pieces import DRESS, RAGLAN, TROUSERS
from clothwise.lay.cloth import Outline, remnant
from clothwise.lay.layering import SINGLE
from clothwise.lay.nofit import NoFits
from clothwise.lay.piece import LayPiece
from clothwise.lay.planning import plan
from clothwise.lay.problem import LayCloth, LayProblem

TIGHTEST, LOOSEST = 0.4, 1.2  # cm of cloth round the pieces of a tight remnant
CLOSING = 3.0  # cm: gaps narrower than twice this belong to the cloth
WIDTHS = (75.0, 90.0, 112.0)
FLAW = 4.0  # cm2: a smaller hole in the lay is cloth


@dataclass(frozen=True, slots=True)
class Case:
    """A problem that has a lay; `density`: share of the cloth that the pieces cover."""

    problem: LayProblem
    density: float


def case(seed: int, count: int, densest: float, loosest: float) -> Case:
    """A remnant for `count` pieces whose density lies between the two."""
    rng = random.Random(seed)
    while True:
        pieces = _pieces(rng, count)
        width = rng.choice(WIDTHS)
        laid = plan(
            LayProblem(pieces, LayCloth(width, None, "one-way")), SINGLE, effort="brisk", known=NoFits()
        )
        shapes = [
            Polygon(p.outline_on_cloth(next(one for one in pieces if one.name == p.piece)))
            for p in laid.placements
        ]
        around = rng.uniform(TIGHTEST, LOOSEST)
        while around < 20:
            made = _cut_round(pieces, shapes, around)
            if made is not None and loosest <= made.density <= densest:
                return made
            if made is not None and made.density < loosest:
                break
            around *= 1.15


def _pieces(rng: random.Random, count: int) -> tuple[LayPiece, ...]:
    """Single pieces of the made-up garments, each in a size of its own."""
    pool = [piece for garment in (TROUSERS, RAGLAN, DRESS) for piece in garment]
    found = []
    for number in range(count):
        piece = rng.choice(pool)
        size = rng.uniform(0.55, 0.9)
        outline: Outline = tuple((x * size, y * size) for x, y in piece.whole_outline)
        found.append(LayPiece(f"p{number}", f"Piece {number}", outline, may_turn=False))
    return tuple(found)


def _cut_round(pieces: tuple[LayPiece, ...], shapes: list[Polygon], around: float) -> Case | None:
    whole = unary_union([shape.buffer(CLOSING + around) for shape in shapes]).buffer(-CLOSING)
    if not isinstance(whole, Polygon):
        return None
    whole = whole.simplify(around / 8)
    outline = Polygon(orient(whole).exterior)
    holes = [Polygon(ring) for ring in whole.interiors if Polygon(ring).area > FLAW]
    x0, y0, _, _ = outline.bounds
    corners = [(x - x0, y - y0) for x, y in outline.exterior.coords[:-1]]
    flaws = [tuple(translate(hole, -x0, -y0).exterior.coords[:-1]) for hole in holes]
    cloth = remnant(corners, flaws=flaws, nap="one-way")
    problem = LayProblem(pieces, cloth)
    return Case(problem, problem.area_cm2 / cloth.area_cm2)


def without_lay(one: Case) -> LayProblem:
    """The question alone, its pieces in another order."""
    return replace(one.problem, pieces=tuple(sorted(one.problem.pieces, key=lambda p: p.outline)))
