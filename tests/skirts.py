"""What the tests of all skirts share: bodies, and a tape that reads control points without the curve kernel."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import shapely

from clothwise.body import Body, sample
from clothwise.curve import Cubic, Curve, Point
from clothwise.garment import Garment, Piece, Run
from clothwise.garment.allowance import unfolded_cutting_line

WOMEN = sample("woman", 14, seed=30)
MEN = sample("man", 6, seed=31)
GIRLS = tuple(body for body in sample("girl", 14, seed=32) if (body.age_years or 0) >= 4)[:8]
PEOPLE: tuple[Body, ...] = (*WOMEN, *MEN, *GIRLS)
STEPS = 200  # chords of a cubic

_T = np.linspace(0.0, 1.0, STEPS + 1)[:, None]


def points(curve: Curve) -> np.ndarray:
    """Dense points along a curve."""
    parts = []
    for stroke in curve.strokes:
        if isinstance(stroke, Cubic):
            a, b, c, d = (np.array(p) for p in (stroke.start, stroke.first, stroke.second, stroke.end))
            u = 1 - _T
            parts.append(u**3 * a + 3 * u * u * _T * b + 3 * u * _T * _T * c + _T**3 * d)
        else:
            parts.append(np.array([stroke.start, stroke.end]))
    return np.concatenate(parts)


def tape(curve: Curve) -> float:
    """Length by chords. [cm]"""
    way = np.diff(points(curve), axis=0)
    return float(np.hypot(way[:, 0], way[:, 1]).sum())


def walked(garment: Garment, runs: Iterable[Run]) -> float:
    """Length of runs one after another. [cm]"""
    return sum(tape(garment.piece(run.piece).line(run.line)) for run in runs)


def seam_sides(garment: Garment, name: str) -> tuple[float, float]:
    """Lengths of both sides of a seam. [cm]"""
    seam = next(seam for seam in garment.seams if seam.name == name)
    return walked(garment, seam.a), walked(garment, seam.b)


def around(garment: Garment, line: str) -> float:
    """A line of all panels, once round the body. [cm]"""
    there = [p for p in garment.pieces if "panel" in p.name]
    return sum(2 * tape(p.line(line)) for p in there)


def across_cloth(piece: Piece, turned_deg: float = 0.0) -> float:
    """How wide the whole piece lies on the cloth, its grain arrow along the cloth or so far off it. [cm]"""
    along = piece.grain[0].to(piece.grain[1]).angle_deg - 90.0 + turned_deg
    origin = Point(0.0, 0.0)
    xs = [p.rotated(origin, -along).x for p in unfolded_cutting_line(piece)]
    return max(xs) - min(xs)


def ring(piece: Piece) -> shapely.Polygon:
    return shapely.Polygon(np.concatenate([points(edge.curve)[:-1] for edge in piece.edges]))


def angle_deg(one: Point, corner: Point, other: Point) -> float:
    """The angle at a corner between two ways."""
    a, b = corner.to(one), corner.to(other)
    return abs(math.degrees(math.atan2(a.cross(b), a.dot(b))))
