"""How far the area law of cloth errs: against real lays of house drafts and made-up garments.

A garment is laid at every width; then each width is foretold from each other one, a larger size from a
smaller, a longer garment from a shorter, by `clothwise.size.area_law`. The bounds there were set on the
bodies of seed LEARNT; `benchmarks.fit` tries them on others.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from benchmarks.lay_pieces import GARMENTS, problem
from clothwise.body import Figure, sample
from clothwise.draft import pattern
from clothwise.errors import LayError
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import best_plan
from clothwise.lay.problem import LayCloth, LayPiece, LayProblem, Nap
from clothwise.size.area_law import FEW_PIECES, of_other_width

LEARNT, HELD_OUT = 1, 2  # seeds
WIDTHS = (90.0, 110.0, 112.0, 115.0, 125.0, 137.0, 140.0, 145.0, 150.0, 160.0)  # cm: as cloth is sold
FEWER = (90.0, 112.0, 115.0, 140.0, 150.0)  # for a quick look
ROUNDED = 0.002  # share of a length by which two lays of the same panels may differ
GAP = 0.3  # cm between pieces
LONGER = 10.0  # cm
DRAFTS: tuple[tuple[str, str, dict[str, str | float]], ...] = (
    ("trousers +0", "pull_on_trousers", {}),
    (f"trousers -{LONGER:.0f}", "pull_on_trousers", {"longer": -LONGER}),
    ("wide trousers", "pull_on_trousers", {"leg": "wide"}),
    ("skirt", "four_panel_skirt", {"pockets": "patch", "flare": 3.0}),
    ("long skirt", "four_panel_skirt", {"length": "maxi", "flare": 3.0}),
    ("shift", "darted_shift", {"sleeve": "short", "length": "dress"}),
    ("raglan top", "raglan_pullover", {"sleeve": "long", "pockets": "patch"}),
    ("shirt +0", "button_front_shirt", {"length": "tunic", "sleeve": "long"}),
    (f"shirt -{LONGER:.0f}", "button_front_shirt", {"length": "tunic", "sleeve": "long", "longer": -LONGER}),
    ("robe", "robe", {"length": "knee", "sleeve": "long"}),
)


@dataclass(frozen=True)
class Laid:
    """One garment: what it is, its pieces, its length and girth, and the cloth it takes. [cm]"""

    name: str
    copies: int
    girth: float
    length: float
    metres: dict[tuple[Nap, float], float]


def garments(
    seed: int, each: int, figures: tuple[Figure, ...] = ("woman", "man", "girl")
) -> Iterator[tuple[str, str, float, float, tuple[LayPiece, ...]]]:
    """Name, family, girth and length of garments with their pieces. A family differs only in its bodies."""
    for figure in figures:
        for n, body in enumerate(sample(figure, each, seed)):
            for words, draft, choices in DRAFTS:
                family = f"{words} {figure}"
                pieces = lay_pieces(pattern(draft).make(body, choices))
                length = max(_height(piece) for piece in pieces)
                yield f"{family} {n}", family, body["hip_girth"], length, pieces
    scale = np.random.default_rng(seed)
    for name in GARMENTS:
        for n in range(2 * each):
            wide, long = scale.uniform(0.75, 1.3), scale.uniform(0.8, 1.2)
            pieces = tuple(_scaled(piece, wide, long) for piece in problem(name, 140, "two-way").pieces)
            yield f"made-up {name} {n}", f"made-up {name}", 100 * wide, 100 * long, pieces


def _height(piece: LayPiece) -> float:
    along = [y for _, y in piece.outline]
    return max(along) - min(along)


def _scaled(piece: LayPiece, wide: float, long: float) -> LayPiece:
    def grow(points):  # type: ignore[no-untyped-def]
        return tuple((x * wide, y * long) for x, y in points)

    return replace(piece, outline=grow(piece.outline), fold_edge=piece.fold_edge and grow(piece.fold_edge))


def laid(
    seed: int,
    each: int,
    effort: str = "quick",
    *,
    figures: tuple[Figure, ...] = ("woman", "man", "girl"),
    widths: tuple[float, ...] = WIDTHS,
) -> dict[str, list[Laid]]:
    """Every garment really laid, by family."""
    naps: tuple[Nap, ...] = ("two-way", "one-way")
    families: dict[str, list[Laid]] = {}
    for name, family, girth, length, pieces in garments(seed, each, figures):
        known, metres = NoFits(), {}
        for nap in naps:
            for width in widths:
                try:
                    asked = LayProblem(pieces, LayCloth(width, None, nap), gap=GAP)
                    metres[nap, width] = best_plan(asked, effort=effort, known=known).length
                except LayError:
                    continue  # a piece is wider than the cloth: no such row in a cloth table either
        copies = sum(piece.count for piece in pieces)
        families.setdefault(family, []).append(Laid(name, copies, girth, length, metres))
    return families


@dataclass(frozen=True)
class Pair:
    """One garment on two widths: change of width as in `area_law`, copies of pieces, real over known length."""

    known: float
    wanted: float
    copies: int
    ratio: float

    @property
    def change(self) -> float:
        return abs(math.log(self.known / self.wanted))

    @property
    def inside(self) -> bool:
        """Whether the law's span holds it, to the millimetre in a metre that a lay is rounded to."""
        low, _, high = of_other_width(self.known, self.wanted, copies=self.copies)
        return low - ROUNDED <= self.ratio <= high + ROUNDED


def width_pairs(found: dict[str, list[Laid]]) -> list[Pair]:
    """Every garment from each width to each other one."""
    return [
        Pair(a, b, one.copies, one.metres[nap, b] / length)
        for one in itertools.chain.from_iterable(found.values())
        for (nap, a), length in one.metres.items()
        for same, b in one.metres
        if same == nap and b != a
    ]


def size_ratios(found: dict[str, list[Laid]]) -> list[float]:
    """Real over foretold when the same design is laid for a body up to a fifth larger."""
    ratios = []
    for family in found.values():
        for a, b in itertools.permutations(family, 2):
            grown = b.girth * b.length / (a.girth * a.length)
            if 1.0 < grown < 1.25:
                ratios += [b.metres[k] / (a.metres[k] * grown) for k in a.metres if k in b.metres]
    return ratios


def length_ratios(found: dict[str, list[Laid]]) -> list[float]:
    """Real over foretold when the same trousers are made longer."""
    short = {one.name.replace(f" -{LONGER:.0f} ", " +0 "): one for family in found.values() for one in family
             if f" -{LONGER:.0f} " in one.name}  # fmt: skip
    long = {one.name: one for family in found.values() for one in family}
    return [
        long[name].metres[k] / (one.metres[k] * long[name].length / one.length)
        for name, one in short.items()
        for k in one.metres
        if k in long[name].metres
    ]


def one_way_more(found: dict[str, list[Laid]]) -> list[float]:
    """How much more one-way cloth takes. [cm]"""
    return [
        one.metres["one-way", width] - one.metres["two-way", width]
        for one in itertools.chain.from_iterable(found.values())
        for width in WIDTHS
        if ("one-way", width) in one.metres and ("two-way", width) in one.metres
    ]


if __name__ == "__main__":
    import time

    start = time.time()
    all_laid = laid(LEARNT, 3)
    print(f"{sum(map(len, all_laid.values()))} garments, {time.time() - start:.0f} s")
    pairs = width_pairs(all_laid)
    for many in (False, True):
        for low, high in itertools.pairwise((0.005, 0.03, 0.05, 0.09, 0.14, 0.2, 0.25, 0.32, 0.42, 0.6)):
            near = [p for p in pairs if (p.copies > FEW_PIECES) == many and low <= p.change < high]
            longer = [p.ratio for p in near if p.wanted < p.known]
            inside = sum(p.inside for p in near) / max(1, len(near))
            cut = np.round(np.quantile(longer, [0.05, 0.5, 0.9, 0.95]), 3)
            print("many" if many else "few", f"{low:.3f} to {high:.3f}", len(near), cut, f"inside {inside:.3f}")
    for what, ratios in (
        ("size", size_ratios(all_laid)),
        ("length", length_ratios(all_laid)),
        ("one-way", one_way_more(all_laid)),
    ):
        print(what, len(ratios), np.round(np.quantile(ratios, [0.05, 0.5, 0.9, 0.95]), 3))
