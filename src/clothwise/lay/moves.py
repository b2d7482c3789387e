"""From pieces, cloth and layering to moves with exact domains, and on to the tables of the search.

Fold and nap are nothing but different domains and variants, so they hold exactly:
a pair on double cloth is one move with a mirror image across the fold line; a piece on the fold is a
whole piece whose reference point may only slide along the fold; a single ranges over the opened cloth.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.errors import LayError
from clothwise.lay.barriers import barriers
from clothwise.lay.cloth import Outline
from clothwise.lay.layering import Fold, Layering, folds_of
from clothwise.lay.matching import grids
from clothwise.lay.nofit import NoFits
from clothwise.lay.overlap import Tables
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.problem import LayProblem
from clothwise.lay.tables import Image, Move, Shape, Templates, Variant, tables
from clothwise.tolerance import LAY_FOLD, LAY_TOUCH


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
    if any(fold.across for fold in folds):
        raise LayError(
            "A crosswise fold is laid by way of the single layer.",
            where="lay: layering",
            mend="Ask `crosswise`.",
        )
    templates = Templates()
    moves: list[Move] = []
    for piece in problem.pieces:
        moves += _moves_of(piece, problem, folds, templates, known, slack)
    for move in moves:
        if not move.variants:
            raise _no_room(move, problem, layering)
    hows = {move.how for move in moves} | {pin.how for pin in problem.pinned}
    if folds and not hows & {"double", "on the fold"}:
        raise LayError(
            f"No piece lies double when the cloth is laid with {layering}.",
            where="lay: layering",
            mend="Lay it in a single layer.",
        )
    stops = [
        (one, known.outline(one.outline, problem.gap if one.blade else 0.0, 0.0)) for one in barriers(problem)
    ]
    return Setting(problem, layering, tuple(moves), tables(moves, stops, templates, known), templates)


def _no_room(move: Move, problem: LayProblem, layering: Layering) -> LayError:
    """Why a move has no variant: too wide for its part of the cloth, or no stripe in reach."""
    piece, width = move.piece, problem.cloth.width
    folds = folds_of(layering, width)
    folded = bool(folds) and move.how in ("double", "on the fold")
    room = max(fold.depth for fold in folds) if folded else width
    whole = _narrowest(piece, piece.whole_outline, problem)
    wide = _narrowest(piece, piece.outline, problem) if folded else whole
    if wide <= room and problem.phases:
        return LayError(
            f"Piece '{piece.title}' fits, but at no place where it would match the stripes.",
            where=f"lay: piece '{piece.title}'",
            mend="Take wider cloth, or match fewer points.",
        )
    open_out = ", lay it in a single layer," if folded and whole <= width else ""
    return LayError(
        f"As its grain lies, piece '{piece.title}' is {wide:.1f} cm wide; "
        f"cloth {width:.1f} cm wide, {layering}, gives it only {room:.1f} cm.",
        where=f"lay: piece '{piece.title}'",
        mend=f"Take wider cloth{open_out} or divide the piece.",
    )


def _narrowest(piece: LayPiece, outline: Outline, problem: LayProblem) -> float:
    """Of all ways the grain may lie, the least width across the cloth. [cm]"""
    widths = []
    for angle in piece.angles_on(problem.cloth):
        ys = [y for _, y in Placement(piece.name, 0, False, angle, 0.0, 0.0).carry(outline)]
        widths.append(max(ys) - min(ys))
    return min(widths)


def _moves_of(
    piece: LayPiece,
    problem: LayProblem,
    folds: tuple[Fold, ...],
    templates: Templates,
    known: NoFits,
    slack: float,
) -> list[Move]:
    angles = list(piece.angles_on(problem.cloth))
    make = _Maker(piece, problem, folds, templates, known, slack)
    free = problem.free_copies(piece)
    if piece.on_fold and folds:
        return [Move(piece, (c,), "on the fold", make.on_fold(angles)) for c in free]
    if piece.on_fold:
        return [Move(piece, (c,), "unfolded", make.single(angles, (False,))) for c in free]
    either = piece.either_side_up or problem.cloth.two_right_sides
    pairs = [] if piece.apart or not folds else _pairs(piece, free, either)
    whole_width = len(folds) == 1 and folds[0].depth * 2 >= problem.cloth.width
    if pairs and not whole_width and not make.double(angles):
        pairs = []  # they wait until the cloth is opened out
    moves = [Move(piece, pair, "double", make.double(angles)) for pair in pairs]
    paired = {c for pair in pairs for c in pair}
    for c in free:
        if c not in paired:
            over = (False, True) if either else (piece.mirrored_pair and c % 2 == 1,)
            moves.append(Move(piece, (c,), "single", make.single(angles, over)))
    return moves


def _pairs(piece: LayPiece, free: tuple[int, ...], either: bool) -> list[tuple[int, int]]:
    """Copies that can be cut together through both layers."""
    if either:
        return [(free[k], free[k + 1]) for k in range(0, len(free) - 1, 2)]
    return [(c, c + 1) for c in free if piece.mirrored_pair and c % 2 == 0 and c + 1 in free]


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
        found: list[Variant] = []
        far = self.problem.gap / 2 if len(self.folds) > 1 else 0.0
        for index, fold in enumerate(self.folds):
            for angle in angles:
                if math.remainder(angle, 180) != 0:
                    continue  # a fold edge that leans is no fold edge
                shape = self._shape(angle, False, whole_piece=True)
                x0, y0, x1, y1 = _bounds(self.templates, shape)
                if max(-y0, y1) <= fold.depth - far + LAY_FOLD / 2:
                    image = Image(shape, 1.0, 0.0)
                    one = Variant((image,), -x0, x1, fold.line, fold.line, angle, False, index)
                    found += self._on_grid(one, on_fold=True)
        return tuple(found)

    def _on_grid(self, one: Variant, *, on_fold: bool = False) -> tuple[Variant, ...]:
        """The variant held to stripes, where the piece must match them; none when no stripe is in reach."""
        if not self.problem.phases:
            return (one,)
        shape = one.images[0].shape
        ox, oy = self.templates.origin[shape.template]
        near = LAY_FOLD if on_fold else LAY_TOUCH
        along, across = grids(self.problem, self.piece, one.angle, one.mirrored)
        start_y = across.start - shape.sy * oy
        if across.step:
            k = math.ceil((one.low_y - near - start_y) / across.step)
            if start_y + k * across.step > one.high_y + near:
                return ()
        grid_y = (0.0, 0.0) if on_fold else (start_y, across.step)
        return (replace(one, grid_x=(along.start - shape.sx * ox, along.step), grid_y=grid_y),)

    def _variants(
        self, angles: list[float], over: tuple[bool, ...], low: float, high: float, fold: int
    ) -> tuple[Variant, ...]:
        found: list[Variant] = []
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
                one = Variant(tuple(images), -x0, x1, low_y, high_y, angle, mirrored, fold)
                found += self._on_grid(one)
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
        gap = self.problem.gap
        xs, ys = [x for x, _ in laid], [y for _, y in laid]
        self.templates.points.append(self.known.outline(laid, gap, self.slack))
        self.templates.bare.append(
            self.known.outline(laid, 0.0, self.slack) if gap else self.templates.points[-1]
        )
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
