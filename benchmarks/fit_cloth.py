"""How far the area law of cloth errs: against real lays of house drafts and made-up garments.

A garment is laid at every width; then each width is foretold from each other one, a larger size from a
smaller, a longer garment from a shorter, by the law of `clothwise.size.cloth_need`. Ratios are real over
foretold.
The bounds in `cloth_need` were set on the bodies of seed LEARNT; `benchmarks.fit` tries them on others.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from benchmarks.lay_pieces import GARMENTS, problem
from clothwise.body import sample
from clothwise.draft import pattern
from clothwise.errors import LayError
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import best_plan
from clothwise.lay.problem import LayCloth, LayPiece, LayProblem, Nap

LEARNT, HELD_OUT = 1, 2  # seeds
WIDTHS = (90.0, 112.0, 125.0, 140.0, 150.0, 160.0)  # cm
GAP = 0.3  # cm between pieces
LONGER = 10.0  # cm


@dataclass(frozen=True)
class Laid:
    """One garment: what it is, its pieces, its length and girth, and the cloth it takes. [cm]"""

    name: str
    copies: int
    girth: float
    length: float
    metres: dict[tuple[Nap, float], float]


def garments(seed: int, each: int) -> Iterator[tuple[str, str, float, float, tuple[LayPiece, ...]]]:
    """Name, family, girth and length of garments with their pieces. A family differs only in its bodies."""
    for figure in ("woman", "man", "girl"):
        for n, body in enumerate(sample(figure, each, seed)):  # type: ignore[arg-type]
            for leg in ("tapered", "wide"):
                for longer in (0.0, -LONGER):
                    family = f"trousers {leg} {figure} {longer:+.0f}"
                    made = pattern("pull_on_trousers").make(body, {"leg": leg, "longer": longer})
                    length = body["waist_to_ankle"] + longer
                    yield f"{family} {n}", family, body["hip_girth"], length, lay_pieces(made)
            for name, pocket in (("knee", "patch"), ("maxi", "none")):
                family = f"skirt {name} {figure}"
                made = pattern("four_panel_skirt").make(body, {"length": name, "pockets": pocket, "flare": 3.0})
                length = max(y for p in lay_pieces(made) for _, y in p.outline) - min(
                    y for p in lay_pieces(made) for _, y in p.outline
                )
                yield f"{family} {n}", family, body["hip_girth"], length, lay_pieces(made)
    scale = np.random.default_rng(seed)
    for name in GARMENTS:
        for n in range(2 * each):
            wide, long = scale.uniform(0.75, 1.3), scale.uniform(0.8, 1.2)
            pieces = tuple(_scaled(piece, wide, long) for piece in problem(name, 140, "two-way").pieces)
            yield f"made-up {name} {n}", f"made-up {name}", 100 * wide, 100 * long, pieces


def _scaled(piece: LayPiece, wide: float, long: float) -> LayPiece:
    def grow(points):  # type: ignore[no-untyped-def]
        return tuple((x * wide, y * long) for x, y in points)

    return replace(piece, outline=grow(piece.outline), fold_edge=piece.fold_edge and grow(piece.fold_edge))


def laid(seed: int, each: int, effort: str = "brisk") -> dict[str, list[Laid]]:
    """Every garment really laid, by family."""
    naps: tuple[Nap, ...] = ("two-way", "one-way")
    families: dict[str, list[Laid]] = {}
    for name, family, girth, length, pieces in garments(seed, each):
        known, metres = NoFits(), {}
        for nap in naps:
            for width in WIDTHS:
                try:
                    asked = LayProblem(pieces, LayCloth(width, None, nap), gap=GAP)
                    metres[nap, width] = best_plan(asked, effort=effort, known=known).length
                except LayError:
                    continue  # a piece is wider than the cloth: no such row in a cloth table either
        copies = sum(piece.count for piece in pieces)
        families.setdefault(family, []).append(Laid(name, copies, girth, length, metres))
    return families


def width_ratios(found: dict[str, list[Laid]], *, many: bool, wider: bool) -> list[tuple[float, float]]:
    """Change of width, and real over foretold length, for every pair of widths."""
    ratios = []
    for one in itertools.chain.from_iterable(found.values()):
        if (one.copies > MANY) != many:
            continue
        for (nap, a), length in one.metres.items():
            for b in WIDTHS:
                if (nap, b) in one.metres and b != a and (b > a) == wider:
                    ratios.append((b / a, one.metres[nap, b] / (length * a / b)))
    return ratios


MANY = 8  # copies of pieces: beyond it the small ones fill the gaps and the law errs less


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
    all_laid = laid(LEARNT, 6)
    print(f"{sum(map(len, all_laid.values()))} garments, {time.time() - start:.0f} s")
    for many in (False, True):
        for wider in (False, True):
            got = width_ratios(all_laid, many=many, wider=wider)
            for low, high in ((1.0, 1.13), (1.13, 1.3), (1.3, 2.0)):
                near = [r for f, r in got if low <= max(f, 1 / f) < high]
                print(many, wider, low, len(near), np.round(np.quantile(near, [0.05, 0.5, 0.9, 0.95]), 3))
    print("size", np.round(np.quantile(size_ratios(all_laid), [0.05, 0.5, 0.9, 0.95]), 3))
    print("length", np.round(np.quantile(length_ratios(all_laid), [0.05, 0.5, 0.9, 0.95]), 3))
    print("one-way", np.round(np.quantile(one_way_more(all_laid), [0.05, 0.5, 0.9, 0.95]), 1))
