"""The tables of the search: moves and barriers as arrays, with the no-fit polygon of every pair of shapes.

Signs commute with the Minkowski sum, so one polygon serves a pair of templates in several positions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from clothwise.lay.barriers import Barrier
from clothwise.lay.cells import Measured, joined
from clothwise.lay.nofit import NoFits, Whole
from clothwise.lay.overlap import BOX_COLUMNS, FOLD, Tables
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import How

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Shape:
    """A template seen with signs: as it lies (1, 1), half round (-1, -1), turned over (1, -1) or both."""

    template: int
    sx: float
    sy: float


@dataclass(frozen=True, slots=True)
class Image:
    """One covered part of the opened cloth: q = (x, sign * y + shift)."""

    shape: Shape
    sign: float
    shift: float


@dataclass(frozen=True, slots=True)
class Variant:
    """One way to lay a move. The box of its reference point: x from low_x to length - trail, y between.

    grid_x, grid_y  (start, step): it may only stand at start + k * step; step 0: anywhere [cm]
    """

    images: tuple[Image, ...]
    low_x: float
    trail: float
    low_y: float
    high_y: float
    angle: float
    mirrored: bool
    fold: int = -1
    grid_x: tuple[float, float] = (0.0, 0.0)
    grid_y: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Move:
    """What is placed at once: `copies` of a piece, cut as `how`."""

    piece: LayPiece
    copies: tuple[int, ...]
    how: How
    variants: tuple[Variant, ...]


@dataclass(slots=True)
class Templates:
    """Outlines carried to the cloth at one base angle, with the fold edge (if any) on y = 0.

    points  grown by half the blade's gap; bare: not grown, against edges and flaws; origin: of the
    piece's own axes in the template
    """

    points: list[Whole] = field(default_factory=list)
    bare: list[Whole] = field(default_factory=list)
    bounds: list[tuple[float, float, float, float]] = field(default_factory=list)
    origin: list[tuple[float, float]] = field(default_factory=list)
    index: dict[tuple[str, float, bool], int] = field(default_factory=dict)


def tables(
    moves: Sequence[Move], stops: Sequence[tuple[Barrier, Whole]], templates: Templates, known: NoFits
) -> Tables:
    """Arrays for the search. Barriers, each with its outline in whole steps, stand fixed after the moves."""
    variants = [v for move in moves for v in move.variants]
    images = [image for v in variants for image in v.images]
    shapes: dict[Shape, int] = {}
    for image in images:
        shapes.setdefault(image.shape, len(shapes))
    every = list(shapes) + [Shape(len(templates.points) + s, 1.0, 1.0) for s in range(len(stops))]
    nofit, flip, polygons = _no_fit_table(every, moves, stops, templates, known)
    edge, first_edge, bounds, mesh = joined(polygons)
    n = len(stops)
    fixed = np.zeros((n, BOX_COLUMNS))
    fixed[:, FOLD] = -1.0
    boxes = [(v.low_x, v.trail, v.low_y, v.high_y, float(v.fold), *v.grid_x, *v.grid_y) for v in variants]
    return Tables(
        movable=len(moves),
        first_variant=_starts([len(move.variants) for move in moves] + [1] * n),
        first_image=_starts([len(v.images) for v in variants] + [1] * n),
        box=np.concatenate([np.array(boxes).reshape(-1, BOX_COLUMNS), fixed]),
        shape=np.array([*(shapes[image.shape] for image in images), *range(len(shapes), len(every))], np.int64),
        image=np.array([*((image.sign, image.shift) for image in images), *([(1.0, 0.0)] * n)]),
        nofit=nofit,
        flip=flip,
        first_edge=first_edge,
        bounds=bounds,
        edge=edge,
        mesh=mesh,
    )


def _starts(counts: list[int]) -> NDArray[np.int64]:
    return np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)


def _no_fit_table(
    shapes: list[Shape],
    moves: Sequence[Move],
    stops: Sequence[tuple[Barrier, Whole]],
    templates: Templates,
    known: NoFits,
) -> tuple[NDArray[np.int64], Array, list[Measured]]:
    """Which no-fit polygon serves each pair of shapes, and the signs that carry a difference into it.

    (j, i) needs only the template pair and the signs of i seen from j.
    """
    n, fixed = len(shapes), len(templates.points)
    nofit = np.full((n, n), -1, np.int64)
    flip = np.ones((n, n, 2))
    polygons: list[Measured] = []
    at: dict[tuple[int, int, float, float], int] = {}
    alone = _templates_alone(moves)
    for j, b in enumerate(shapes):
        for i, a in enumerate(shapes):
            if (a.template == b.template and a.template in alone) or min(a.template, b.template) >= fixed:
                continue
            first, second, turn = (b, a, 1.0) if b.template <= a.template else (a, b, -1.0)
            rx, ry = first.sx * second.sx, first.sy * second.sy
            key = (first.template, second.template, rx, ry)
            if key not in at:
                points, other = _pair(first.template, second.template, stops, templates)
                other = other * np.array([int(rx), int(ry)])
                if rx * ry < 0:
                    other = np.ascontiguousarray(other[::-1])
                at[key] = len(polygons)
                polygons.append(known.measured(points, other))
            nofit[j, i] = at[key]
            flip[j, i] = turn * first.sx, turn * first.sy
    return nofit, flip, polygons


def _pair(
    first: int, second: int, stops: Sequence[tuple[Barrier, Whole]], templates: Templates
) -> tuple[Whole, Whole]:
    """The two outlines that must stay apart; the blade needs no room at an edge or a flaw."""
    if second < len(templates.points):
        return templates.points[first], templates.points[second]
    barrier, outline = stops[second - len(templates.points)]
    return (templates.points if barrier.blade else templates.bare)[first], outline


def _templates_alone(moves: Sequence[Move]) -> set[int]:
    """Templates that only one move uses: they never meet themselves."""
    users: dict[int, int] = {}
    for move in moves:
        for template in {image.shape.template for v in move.variants for image in v.images}:
            users[template] = users.get(template, 0) + 1
    return {template for template, count in users.items() if count == 1}
