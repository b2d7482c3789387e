"""From pieces, cloth and layering to moves with exact domains, and on to the tables of the search.

Fold and nap are nothing but different domains and variants, so they hold exactly:
a pair on double cloth is one move with a mirror image across the fold line; a piece on the fold is a
whole piece whose reference point may only slide along the fold; a single ranges over the opened cloth.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from clothwise.errors import LayError
from clothwise.lay.cells import mesh
from clothwise.lay.nofit import NoFits, Whole, whole
from clothwise.lay.outline import prepared
from clothwise.lay.overlap import Tables
from clothwise.lay.plan import How, Placement
from clothwise.lay.problem import CROSSWISE, Fold, Layering, LayPiece, LayProblem, Outline, folds_of
from clothwise.tolerance import LAY_FOLD, LAY_TOUCH

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
    """One way to lay a move. The box of its reference point: x from low_x to length - trail, y between."""

    images: tuple[Image, ...]
    low_x: float
    trail: float
    low_y: float
    high_y: float
    angle: float
    mirrored: bool
    fold: int = -1


@dataclass(frozen=True, slots=True)
class Move:
    """What is placed at once: `copies` of a piece, cut as `how`."""

    piece: LayPiece
    copies: tuple[int, ...]
    how: How
    variants: tuple[Variant, ...]


@dataclass(slots=True)
class Templates:
    """Outlines carried to the cloth at one base angle, with the fold edge (if any) on y = 0."""

    points: list[Whole] = field(default_factory=list)
    bounds: list[tuple[float, float, float, float]] = field(default_factory=list)
    origin: list[tuple[float, float]] = field(default_factory=list)  # of the piece's own axes in the template
    index: dict[tuple[str, float, bool], int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Setting:
    """A problem in one layering, ready for the search."""

    problem: LayProblem
    layering: Layering
    moves: tuple[Move, ...]
    tables: Tables
    templates: Templates


def set_out(problem: LayProblem, layering: Layering, known: NoFits, *, slack: float) -> Setting:
    """Moves and tables of a problem. LayError when a piece fits nowhere on this cloth, laid out so."""
    folds = folds_of(layering, problem.cloth.width)
    templates = Templates()
    moves: list[Move] = []
    for piece in problem.pieces:
        moves += _moves_of(piece, problem, folds, templates, known, slack)
    for move in moves:
        if not move.variants:
            raise _no_room(move, problem, layering)
    if folds and all(move.how == "single" for move in moves):
        raise LayError(
            f"No piece lies double when the cloth is laid with {layering}.",
            where="lay: layering",
            mend="Lay it in a single layer.",
        )
    return Setting(problem, layering, tuple(moves), _tables(moves, templates, known), templates)


def _no_room(move: Move, problem: LayProblem, layering: Layering) -> LayError:
    piece, width = move.piece, problem.cloth.width
    folds = folds_of(layering, width)
    xs = [x for x, _ in (piece.outline if move.how in ("double", "on the fold") else piece.whole_outline)]
    room = (
        max((fold.depth for fold in folds), default=width) if move.how in ("double", "on the fold") else width
    )
    return LayError(
        f"Piece '{piece.title}' is {max(xs) - min(xs):.1f} cm wide; cloth {width:.1f} cm wide, {layering}, "
        f"gives it only {room:.1f} cm.",
        where=f"lay: piece '{piece.title}'",
        mend="Take wider cloth, lay it in a single layer, or divide the piece.",
    )


def _moves_of(
    piece: LayPiece,
    problem: LayProblem,
    folds: tuple[Fold, ...],
    templates: Templates,
    known: NoFits,
    slack: float,
) -> list[Move]:
    angles = _angles(piece, problem)
    make = _Maker(piece, problem, folds, templates, known, slack)
    if piece.on_fold and folds:
        return [Move(piece, (c,), "on the fold", make.on_fold(angles)) for c in range(piece.count)]
    if piece.on_fold:
        return [Move(piece, (c,), "unfolded", make.single(angles, (False,))) for c in range(piece.count)]
    either = piece.either_side_up or problem.cloth.two_right_sides
    whole_width = len(folds) == 1 and folds[0].depth * 2 >= problem.cloth.width
    doubles = folds and (whole_width or make.double(angles))  # else they wait until the cloth is opened out
    if doubles and (piece.mirrored_pair or (either and piece.count >= 2)):
        pairs = [
            Move(piece, (c, c + 1), "double", make.double(angles))
            for c in range(0, piece.count - piece.count % 2, 2)
        ]
        if piece.count % 2:
            pairs.append(Move(piece, (piece.count - 1,), "single", make.single(angles, (False, True))))
        return pairs
    moves = []
    for c in range(piece.count):
        over = (False, True) if either else ((c % 2 == 1,) if piece.mirrored_pair else (False,))
        moves.append(Move(piece, (c,), "single", make.single(angles, over)))
    return moves


def _angles(piece: LayPiece, problem: LayProblem) -> list[float]:
    """All angles that grain and nap allow a copy as drawn, 0 to 360. A mirrored one takes them reversed."""
    nap = problem.cloth.nap
    straight = [
        a
        for a in piece.angles
        if nap == "none" or len(piece.angles) == 1 or abs(math.remainder(a - CROSSWISE, 180))
    ]
    turned = [a + 180 for a in straight] if piece.may_turn and nap != "one-way" else []
    return sorted({a % 360 for a in straight + turned})


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the variants of one piece."""

    piece: LayPiece
    problem: LayProblem
    folds: tuple[Fold, ...]
    templates: Templates
    known: NoFits
    slack: float

    def single(self, angles: list[float], over: tuple[bool, ...]) -> tuple[Variant, ...]:
        """Anywhere on the opened cloth."""
        return self._variants(angles, over, 0.0, self.problem.cloth.width, -1)

    def double(self, angles: list[float]) -> tuple[Variant, ...]:
        """In the lower band of a fold; the mirror image follows in the upper one. Turning over is free."""
        found: list[Variant] = []
        # where two folds' bands meet the under layer runs on, so the blade needs its gap there too
        far = self.problem.gap / 2 if len(self.folds) > 1 else 0.0
        for index, fold in enumerate(self.folds):
            near = fold.line - self.problem.gap / 2
            found += self._variants(angles, (False, True), fold.line - fold.depth + far, near, index)
        return tuple(found)

    def on_fold(self, angles: list[float]) -> tuple[Variant, ...]:
        """The whole piece, its fold edge on the line: the reference point slides along the fold only."""
        found = []
        far = self.problem.gap / 2 if len(self.folds) > 1 else 0.0
        for index, fold in enumerate(self.folds):
            for angle in angles:
                shape = self._shape(angle, False, whole_piece=True)
                x0, y0, x1, y1 = _bounds(self.templates, shape)
                if max(-y0, y1) <= fold.depth - far + LAY_FOLD / 2:
                    image = Image(shape, 1.0, 0.0)
                    found.append(Variant((image,), -x0, x1, fold.line, fold.line, angle, False, index))
        return tuple(found)

    def _variants(
        self, angles: list[float], over: tuple[bool, ...], low: float, high: float, fold: int
    ) -> tuple[Variant, ...]:
        found = []
        for drawn_angle in angles:
            for mirrored in over:
                angle = -drawn_angle % 360 if mirrored else drawn_angle
                shape = self._shape(angle, mirrored, whole_piece=self.piece.on_fold)
                x0, y0, x1, y1 = _bounds(self.templates, shape)
                low_y, high_y = low - y0, high - y1
                if high_y < low_y - LAY_FOLD / 2:
                    continue
                high_y = max(high_y, low_y)
                images = [Image(shape, 1.0, 0.0)]
                if fold >= 0:
                    flipped = Shape(shape.template, shape.sx, -shape.sy)
                    images.append(Image(flipped, -1.0, 2 * self.folds[fold].line))
                found.append(Variant(tuple(images), -x0, x1, low_y, high_y, angle, mirrored, fold))
        return tuple(found)

    def _shape(self, angle: float, mirrored: bool, *, whole_piece: bool) -> Shape:
        """The template at this angle with its signs; angles 180 degrees apart share one."""
        base = angle % 180
        straight = base in (0.0, 90.0)
        key = (self.piece.name, base, mirrored and not straight)
        template = self.templates.index.get(key)
        if template is None:
            template = self._add(key, whole_piece)
        half_turn = -1.0 if angle >= 180 else 1.0
        if not (mirrored and straight):
            return Shape(template, half_turn, half_turn)
        # turned over across the grain: at 0 degrees that flips y, at 90 it flips x
        return Shape(
            template, half_turn * (1.0 if base == 0 else -1.0), half_turn * (-1.0 if base == 0 else 1.0)
        )

    def _add(self, key: tuple[str, float, bool], whole_piece: bool) -> int:
        outline: Outline = self.piece.whole_outline if whole_piece else self.piece.outline
        across = self.piece.fold_x if whole_piece else 0.0
        laid = Placement(self.piece.name, 0, key[2], key[1], 0.0, 0.0).carry(
            tuple((x - across, y) for x, y in outline)
        )
        (ox, oy) = Placement(self.piece.name, 0, key[2], key[1], 0.0, 0.0).carry(((-across, 0.0),))[0]
        memo = (laid, self.problem.gap, self.slack)
        points = self.known.prepared.get(memo)
        if points is None:
            points = self.known.prepared[memo] = whole(prepared(laid, gap=self.problem.gap, slack=self.slack))
        xs, ys = [x for x, _ in laid], [y for _, y in laid]
        self.templates.points.append(points)
        self.templates.bounds.append((min(xs), min(ys), max(xs), max(ys)))
        self.templates.origin.append((ox, oy))
        self.templates.index[key] = len(self.templates.points) - 1
        return self.templates.index[key]


def _bounds(templates: Templates, shape: Shape) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = templates.bounds[shape.template]
    if shape.sx < 0:
        x0, x1 = -x1, -x0
    if shape.sy < 0:
        y0, y1 = -y1, -y0
    return x0, y0, x1, y1


def _tables(moves: list[Move], templates: Templates, known: NoFits) -> Tables:
    variants = [v for move in moves for v in move.variants]
    images = [image for v in variants for image in v.images]
    shapes: dict[Shape, int] = {}
    for image in images:
        shapes.setdefault(image.shape, len(shapes))
    nofit, flip, rings = _no_fit_table(list(shapes), moves, templates, known)
    edges, first_edge, bounds = _edge_table(rings)
    return Tables(
        movable=len(moves),
        first_variant=_starts([len(move.variants) for move in moves]),
        first_image=_starts([len(v.images) for v in variants]),
        box=np.array([(v.low_x, v.trail, v.low_y, v.high_y, float(v.fold)) for v in variants]),
        shape=np.array([shapes[image.shape] for image in images], np.int64),
        image=np.array([(image.sign, image.shift) for image in images]),
        nofit=nofit,
        flip=flip,
        first_edge=first_edge,
        bounds=bounds,
        edge=edges,
        mesh=mesh(edges, first_edge, bounds),
    )


def _starts(counts: list[int]) -> NDArray[np.int64]:
    return np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)


def _no_fit_table(
    shapes: list[Shape], moves: list[Move], templates: Templates, known: NoFits
) -> tuple[NDArray[np.int64], Array, list[tuple[Array, ...]]]:
    """Which no-fit polygon serves each pair of shapes, and the signs that carry a difference into it.

    Signs commute with the Minkowski sum, so (j, i) needs only the template pair and the signs of i seen from j.
    """
    n = len(shapes)
    nofit = np.full((n, n), -1, np.int64)
    flip = np.ones((n, n, 2))
    rings: list[tuple[Array, ...]] = []
    at: dict[tuple[int, int, float, float], int] = {}
    alone = _templates_alone(moves)
    for j, b in enumerate(shapes):
        for i, a in enumerate(shapes):
            if a.template == b.template and a.template in alone:
                continue
            first, second, turn = (b, a, 1.0) if b.template <= a.template else (a, b, -1.0)
            rx, ry = first.sx * second.sx, first.sy * second.sy
            key = (first.template, second.template, rx, ry)
            if key not in at:
                other = templates.points[second.template] * np.array([int(rx), int(ry)])
                if rx * ry < 0:
                    other = np.ascontiguousarray(other[::-1])
                at[key] = len(rings)
                rings.append(known.rings(templates.points[first.template], other))
            nofit[j, i] = at[key]
            flip[j, i] = turn * first.sx, turn * first.sy
    return nofit, flip, rings


def _templates_alone(moves: list[Move]) -> set[int]:
    """Templates that only one move uses: they never meet themselves."""
    users: dict[int, int] = {}
    for move in moves:
        for template in {image.shape.template for v in move.variants for image in v.images}:
            users[template] = users.get(template, 0) + 1
    return {template for template, count in users.items() if count == 1}


def _edge_table(rings: list[tuple[Array, ...]]) -> tuple[Array, NDArray[np.int64], Array]:
    starts, ends, counts = [], [], []
    bounds = np.zeros((max(len(rings), 1), 4))
    for k, group in enumerate(rings):
        counts.append(sum(len(ring) for ring in group))
        for ring in group:
            starts.append(ring)
            ends.append(np.roll(ring, -1, axis=0))
        every = np.concatenate(group) if group else np.zeros((1, 2))
        bounds[k] = [*every.min(axis=0), *every.max(axis=0)]
    a = np.concatenate(starts) if starts else np.zeros((0, 2))
    b = np.concatenate(ends) if ends else np.zeros((0, 2))
    v = b - a
    square = np.maximum((v**2).sum(axis=1), LAY_TOUCH**2)
    return np.column_stack([a[:, 0], a[:, 1], b[:, 1], v[:, 0], v[:, 1], 1.0 / square]), _starts(counts), bounds
