"""Small realistic pieces for the lay tests, drawn by hand: legs, skirt panels, a raglan top. cm, grain up."""

from __future__ import annotations

import math

from clothwise.lay.problem import LayCloth, LayPiece, LayProblem, Nap, Outline


def rectangle(width: float, height: float) -> Outline:
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def leg(fork: float, hollow: float) -> Outline:
    """One leg, hem down, inseam on the right with a crotch curve of this fork and hollow."""
    curve = [
        (30 + fork * (1 - math.sin(k / 8 * math.pi / 2)), 72 + hollow * (1 - math.cos(k / 8 * math.pi / 2)))
        for k in range(9)
    ]
    return ((0.0, 0.0), (25.0, 0.0), (26.0, 50.0), *curve, (28.0, 105.0), (-1.0, 104.0), (-4.0, 80.0))


FRONT_LEG = LayPiece("front_leg", "Front leg", leg(5, 9), 2, mirrored_pair=True)
BACK_LEG = LayPiece("back_leg", "Back leg", leg(11, 15), 2, mirrored_pair=True)
TROUSERS = (FRONT_LEG, BACK_LEG)

SKIRT = (
    LayPiece(
        "front", "Front", ((0, 0), (32, 0), (26, 70), (0, 70)), 1, on_fold=True, fold_edge=((0, 0), (0, 70))
    ),
    LayPiece(
        "back", "Back", ((0, 0), (33, 0), (27, 70), (0, 70)), 1, on_fold=True, fold_edge=((0, 0), (0, 70))
    ),
    LayPiece("pocket", "Pocket", ((0, 0), (18, 0), (18, 20), (9, 23), (0, 20)), 2, mirrored_pair=True),
    LayPiece("tab", "Tab", rectangle(9, 31), 1),
)


def _quarter(x: float, y: float, rx: float, ry: float, start: int, end: int) -> list[tuple[float, float]]:
    """Points on a quarter ellipse, degrees anticlockwise from +x."""
    return [
        (x + rx * math.cos(math.radians(a)), y + ry * math.sin(math.radians(a)))
        for a in range(start, end + (1 if end > start else -1), 10 if end > start else -10)
    ]


TOP = (
    LayPiece(
        "front",
        "Front",
        (
            *((0, 0), (30, 0), (28, 40)),
            *_quarter(28, 62, 14, 20, 260, 180),
            (10, 64),
            *_quarter(0, 64, 8, 9, 0, -90),
        ),
        1,
        on_fold=True,
        fold_edge=((0, 0), (0, 55)),
    ),
    LayPiece(
        "sleeve",
        "Sleeve",
        ((-14, 0), (14, 0), (20, 38), (14, 40), (10, 50), (6, 62), (-5, 60), (-10, 48), (-20, 38)),
        2,
        mirrored_pair=True,
    ),
    LayPiece("band", "Neck band", rectangle(4, 60), 1, either_side_up=True),
)


def problem(
    pieces: tuple[LayPiece, ...],
    width: float = 140,
    nap: Nap = "two-way",
    *,
    length: float | None = None,
    gap: float = 0.0,
) -> LayProblem:
    return LayProblem(pieces, LayCloth(width, length, nap), gap)
