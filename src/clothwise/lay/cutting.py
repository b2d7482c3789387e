"""How a lay is cut: the cloth folded, what lies double cut first, then opened out for what is cut once.

A stage shows the cloth as it lies on the table, right sides in: from above one sees the flap's wrong side, and
where nothing covers it the right side of the under layer. The opened cloth lies right side up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from clothwise.lay.layering import SINGLE, Fold, Layering, folds_of
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.tolerance import LAY_FOLD

HAIR = 10 * LAY_FOLD  # cm: a piece that reaches so little under a flap lies beside it


@dataclass(frozen=True, slots=True)
class Table:
    """The part of the opened cloth that is seen from above when the folds are made.

    low, high  across the cloth [cm]; `low_fold`, `high_fold` whether that side is a fold and not a selvedge
    edges      where the selvedges of the flaps come to lie [cm]
    start      from here along the cloth; a fold where it is crosswise, else the cut end [cm]
    flap_ends  where the cut end comes to lie on crosswise folded cloth [cm], or 0
    """

    low: float
    high: float
    low_fold: bool = False
    high_fold: bool = False
    edges: tuple[float, ...] = ()
    start: float = 0.0
    flap_ends: float = 0.0


@dataclass(frozen=True, slots=True)
class Stage:
    """What is cut while the cloth lies so: every outline once, in the order in which it is cut."""

    layering: Layering
    table: Table
    cuts: tuple[Placement, ...]


def table_of(folds: Sequence[Fold], width: float) -> Table:
    """What is seen from above."""
    if folds and folds[0].across:
        line = folds[0].line
        return Table(0.0, width, start=line, flap_ends=2 * line)
    low = next((f for f in folds if f.line - f.depth < LAY_FOLD), None)
    high = next((f for f in folds if f is not low), None)
    edges = [f.line + f.depth for f in (low,) if f] + [f.line - f.depth for f in (high,) if f]
    return Table(
        low.line if low else 0.0,
        high.line if high else width,
        low is not None,
        high is not None,
        tuple(edge for edge in dict.fromkeys(edges) if LAY_FOLD < edge < width - LAY_FOLD),
    )


def stages(plan: LayPlan) -> tuple[Stage, ...]:
    """The folded cloth with what lies double and what nothing covers; then, if need be, the opened cloth."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    width = plan.problem.cloth.width
    folds = folds_of(plan.layering, width)
    if not folds:
        return (Stage(SINGLE, table_of((), width), _ordered(plan.placements, pieces)),)
    table = table_of(folds, width)
    bare = _bare(folds, width, plan.length)
    first: list[Placement] = []
    second: list[Placement] = []
    for placement in plan.placements:
        shape = Polygon(placement.outline_on_cloth(pieces[placement.piece]))
        if placement.fold is None:
            (first if bare.buffer(HAIR).contains(shape) else second).append(placement)
        elif placement.how == "on the fold" or _on_top(shape, table):
            first.append(placement)
    found = [Stage(plan.layering, table, _ordered((_seen(p, pieces, table, folds) for p in first), pieces))]
    if second:
        found.append(Stage(SINGLE, table_of((), width), _ordered(second, pieces)))
    return tuple(stage for stage in found if stage.cuts)


def _bare(folds: Sequence[Fold], width: float, length: float) -> BaseGeometry:
    """Where the cloth lies single on the table."""
    if folds[0].across:
        return box(2 * folds[0].line, 0, max(length, 2 * folds[0].line), width)
    low = max((f.line + f.depth for f in folds if f.line - f.depth < LAY_FOLD), default=0.0)
    high = min((f.line - f.depth for f in folds if f.line - f.depth >= LAY_FOLD), default=width)
    return box(0, low, length, max(low, high))


def _on_top(shape: BaseGeometry, table: Table) -> bool:
    """Of the two copies cut together, is this the one on the table?"""
    middle = shape.centroid
    return bool(table.low <= middle.y <= table.high and middle.x >= table.start)


def _seen(placement: Placement, pieces: dict[str, LayPiece], table: Table, folds: Sequence[Fold]) -> Placement:
    """A half whose drawn side lies on the flap, seen where it comes to lie on the table."""
    shape = Polygon(placement.outline_on_cloth(pieces[placement.piece]))
    if placement.how != "on the fold" or placement.fold is None or _on_top(shape, table):
        return placement
    line = folds[placement.fold].line
    return Placement(
        placement.piece,
        placement.copy,
        not placement.mirrored,
        -placement.angle % 360,
        placement.dx,
        2 * line - placement.dy,
        placement.how,
        placement.fold,
    )


def _ordered(placements: Iterable[Placement], pieces: dict[str, LayPiece]) -> tuple[Placement, ...]:
    """From the cut end on, across from the near side."""

    def place(one: Placement) -> tuple[float, float]:
        outline = one.outline_on_cloth(pieces[one.piece])
        return min(x for x, _ in outline), min(y for _, y in outline)

    return tuple(sorted(placements, key=place))


# ---- in words --------------------------------------------------------------------------------------


def how_to_fold(plan: LayPlan) -> str:
    """One sentence for the table."""
    return fold_words(plan.layering)


def fold_words(layering: Layering) -> str:
    """How the cloth is brought to lie so."""
    near, far = layering.depth or 0.0, layering.far or 0.0
    if layering.name == "folded lengthwise":
        return "Fold the cloth lengthwise, right sides in, selvedge on selvedge."
    if layering.name == "selvedges to the centre":
        return "Fold both selvedges to the centre, right sides in, until they meet."
    if layering.name == "folded crosswise":
        return f"Fold the cut end over, right sides in, until {near:.1f} cm lie double; the rest lies single."
    if layering.name == "partial fold" and near and far:
        return (
            f"Fold both selvedges in, right sides in: the near one until {near:.1f} cm lie double, "
            f"the far one until {far:.1f} cm do; between them the cloth lies single."
        )
    if layering.name == "partial fold":
        side = "near" if near else "far"
        return (
            f"Fold the {side} selvedge in, right sides in, until {near or far:.1f} cm lie double; "
            "the rest lies single, right side up."
        )
    return "Lay the cloth open, right side up."


def cutting_sequence(plan: LayPlan) -> tuple[str, ...]:
    """One sentence for each stage: how the cloth lies, what is cut then."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    found = []
    for number, stage in enumerate(stages(plan)):
        how = "Open the cloth out, right side up." if number else fold_words(stage.layering)
        double = _listed([p for p in stage.cuts if p.fold is not None], pieces)
        single = _listed([p for p in stage.cuts if p.fold is None], pieces)
        cut = [f"cut {double} through both layers"] if double else []
        cut += [f"cut {single}{' through one layer' if double or number else ''}"] if single else []
        found.append(f"{how} {_sentence(cut)}")
    return tuple(found)


def _sentence(parts: Sequence[str]) -> str:
    text = ", then ".join(parts)
    return f"{text[0].upper()}{text[1:]}."


def _listed(placements: Sequence[Placement], pieces: dict[str, LayPiece]) -> str:
    """'Front leg, Back leg and Patch pocket twice', in the order of cutting."""
    by_piece: dict[str, list[Placement]] = {}
    for placement in placements:
        by_piece.setdefault(placement.piece, []).append(placement)
    names = [_how_often(pieces[name], laid) for name, laid in by_piece.items()]
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _how_often(piece: LayPiece, laid: Sequence[Placement]) -> str:
    """'Sleeve 2 times (once with the paper turned over)', 'Front (unfolded to a whole)'."""
    notes = ["unfolded to a whole"] if laid[0].how == "unfolded" else []
    over = sum(one.mirrored for one in laid) if piece.mirrored_pair and laid[0].how == "single" else 0
    if over:
        notes.append(
            "the paper turned over" if over == len(laid) else f"{_times(over)} with the paper turned over"
        )
    return (
        piece.title
        + (f" {_times(len(laid))}" if len(laid) > 1 else "")
        + (f" ({', '.join(notes)})" if notes else "")
    )


def _times(count: int) -> str:
    return "once" if count == 1 else "twice" if count == 2 else f"{count} times"
