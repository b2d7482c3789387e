"""How much cloth of another width, for another size or length: from the envelope's table, or by a real lay.

lay        where the outlines of all pieces are known: really laid, lengthened where that is asked for
area law   else from the nearest row of the table; its bounds are measured, see `area_law`
wider never needs more   what was laid on a narrower cloth lies on a wider one too
span       low to high holds nine in ten of the garments the law was tried on
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal

from clothwise.cloth.cloth import Nap
from clothwise.errors import ClothError, ShelfError
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import best_plan
from clothwise.lay.problem import LayCloth, LayPiece, LayProblem
from clothwise.shelf.pattern import ALL_VIEWS, BoughtPattern, ClothRow, NamedPiece
from clothwise.size.area_law import ONE_WAY, OTHER_LENGTH, OTHER_SIZE, of_other_width
from clothwise.size.chart import graded, place_of
from clothwise.size.lengthening import AS_IT_IS, Longer, Points, lengthened_pieces

Step = Literal[
    "table", "other width", "between widths", "other size", "other length", "one-way", "shrinkage", "lay"
]

SAME_WIDTH = 1.0  # cm: cloths are sold to the centimetre, and tables round
STEP = 5.0  # cm to which a length is rounded up in the shop
BLADE_GAP = 0.3  # cm left between pieces in a real lay: shears wander this much
UNKNOWN_STACK = (1.0, 2.0, 3.0)  # panels above one another where no length is printed: low, likely, high
SLEEVE_SHARE = (0.0, 0.5, 1.0)  # of a longer sleeve: beside the body it costs nothing, above it all


@dataclass(frozen=True, slots=True)
class ClothNeed:
    """Cloth of one width for one make. [cm]

    low, likely, high  the span; all equal when the table itself or a lay says it
    buy                high, rounded up as it is sold
    size               whose row or pieces were taken
    row                the row of the table it was told from; None: by a lay
    longer             what was reckoned with
    steps              what was reckoned, in order
    too_narrow         pieces, opened out, that are wider than the cloth
    """

    width: float
    size: str
    low: float
    likely: float
    high: float
    buy: float
    row: ClothRow | None
    steps: tuple[Step, ...]
    longer: Longer = AS_IT_IS
    too_narrow: tuple[str, ...] = ()
    plan: LayPlan | None = None


def cloth_need(
    pattern: BoughtPattern,
    size: str,
    width: float,
    *,
    view: str = ALL_VIEWS,
    kind: str = "main",
    nap: Nap = "two-way",
    longer: Longer = AS_IT_IS,
    shrinkage: float = 0.0,
) -> ClothNeed:
    """How much cloth of this width one size takes: by a real lay where the pieces are known, else by the table.

    longer     by how much the garment is made longer than the pattern
    shrinkage  share of the length that is lost in the first wash
    Raises     ShelfError: the table says nothing to go by; ClothError: the width is no width
    """
    if not 0 < width <= 1000:
        raise ClothError(
            f"A width of {width:g} cm is no cloth.", where="width", mend="Give it in cm, for example 140."
        )
    narrow = tuple(
        piece.name for piece in pattern.pieces if piece.cloth == kind and (piece.widest or 0) > width
    )
    if not narrow and (pieces := lay_pieces(pattern, size, kind, longer)):
        plan = need_by_lay(pieces, width, nap)
        steps: list[Step] = ["lay", "other length"] if longer else ["lay"]
        need = ClothNeed(width, size, *(plan.length,) * 3, 0.0, None, tuple(steps), longer, narrow, plan)
        return _bought(need, shrinkage)
    row, span, steps = _at_width(pattern, size, view, kind, width, nap)
    if longer:
        span = _longer(pattern, view, size, span, longer)
        steps.append("other length")
    if nap == "one-way" and row.nap != "one-way":
        span = tuple(value + more for value, more in zip(span, ONE_WAY, strict=True))
        steps.append("one-way")
    low, likely, high = span
    return _bought(ClothNeed(width, size, low, likely, high, 0.0, row, tuple(steps), longer, narrow), shrinkage)


def cloth_needs(
    pattern: BoughtPattern,
    size: str,
    width: float | None,
    *,
    view: str = ALL_VIEWS,
    nap: Nap = "two-way",
    longer: Longer = AS_IT_IS,
    shrinkage: float = 0.0,
) -> dict[str, ClothNeed]:
    """The main cloth at this width, or the table's first, and every other kind at the table's own. By kind."""
    need = partial(cloth_need, pattern, size, view=view, longer=longer)
    kinds = dict.fromkeys(row.kind for row in pattern.cloth if row.view in (ALL_VIEWS, view))
    needs = {}
    for kind in ("main", *(kind for kind in kinds if kind != "main")):
        rows = pattern.rows_of_cloth(view, kind)
        if kind == "main" and width is not None:
            needs[kind] = need(width, nap=nap, shrinkage=shrinkage)
        elif rows:
            needs[kind] = need(rows[0].width, kind=kind, shrinkage=shrinkage if kind == "main" else 0.0)
    return needs


def need_by_lay(pieces: tuple[LayPiece, ...], width: float, nap: Nap, *, effort: str = "brisk") -> LayPlan:
    """The shortest lay found of these pieces, verified. Raises LayError when one is wider than the cloth."""
    return best_plan(LayProblem(pieces, LayCloth(width, None, nap), gap=BLADE_GAP), effort=effort)


def lay_pieces(
    pattern: BoughtPattern, size: str, kind: str = "main", longer: Longer = AS_IT_IS
) -> tuple[LayPiece, ...]:
    """The pieces of one size for a lay; nothing unless the outline of every piece of this cloth is known."""
    wanted = tuple(piece for piece in pattern.pieces if piece.cloth == kind)
    if not wanted or any(size not in piece.outlines for piece in wanted):
        return ()
    return tuple(_lay_piece(*each) for each in lengthened_pieces(wanted, size, longer))


def _lay_piece(piece: NamedPiece, outline: Points) -> LayPiece:
    left = min(x for x, _ in outline)
    on_left = [y for x, y in outline if x == left]
    return LayPiece(
        name=piece.name.lower().replace(" ", "_"),
        title=piece.name,
        outline=outline,
        count=piece.count,
        mirrored_pair=not piece.on_fold and piece.count % 2 == 0,
        on_fold=piece.on_fold,
        fold_edge=((left, min(on_left)), (left, max(on_left))) if piece.on_fold else None,
    )


Span3 = tuple[float, ...]  # low, likely, high [cm]


def _bought(need: ClothNeed, shrinkage: float) -> ClothNeed:
    """With what the first wash takes, and rounded up as it is sold."""
    if not 0 <= shrinkage < 1:
        raise ClothError(
            f"A shrinkage of {shrinkage:g} is not possible.",
            where="shrinkage",
            mend="Give 0.05 for 5 in a hundred.",
        )
    low, likely, high = (value / (1 - shrinkage) for value in (need.low, need.likely, need.high))
    steps: tuple[Step, ...] = (*need.steps, "shrinkage") if shrinkage else need.steps
    buy = STEP * math.ceil(high / STEP - 0.01)
    return replace(need, low=low, likely=likely, high=high, buy=buy, steps=steps)


def _at_width(
    pattern: BoughtPattern, size: str, view: str, kind: str, width: float, nap: Nap
) -> tuple[ClothRow, Span3, list[Step]]:
    rows = _known(pattern, size, view, kind, nap)
    near = min(rows, key=lambda row: (abs(math.log(row[0].width / width)), row[0].width))
    row, length, scaled = near
    steps: list[Step] = ["other size"] if scaled else []
    span = tuple(length * f for f in ((OTHER_SIZE[0], 1.0, OTHER_SIZE[1]) if scaled else (1.0, 1.0, 1.0)))
    if abs(row.width - width) <= SAME_WIDTH:
        return row, span, [*steps, *([] if scaled else ["table"])]  # type: ignore[list-item]
    most = min((v for r, v, s in rows if r.width <= width + SAME_WIDTH and not s), default=math.inf)
    least = max((v for r, v, s in rows if r.width >= width - SAME_WIDTH and not s), default=0.0)
    copies = sum(piece.count for piece in pattern.pieces if piece.cloth == kind)
    law = of_other_width(row.width, width, copies=copies)
    span = tuple(min(max(value * f, least), most) for value, f in zip(span, law, strict=True))
    between = least > 0 and most < math.inf
    return row, span, [*steps, "between widths" if between else "other width"]


def _known(
    pattern: BoughtPattern, size: str, view: str, kind: str, nap: Nap
) -> list[tuple[ClothRow, float, bool]]:
    """The rows with their length for this size, and whether it had to be told from another size."""
    rows = pattern.rows_of_cloth(view, kind)
    same = [row for row in rows if row.nap == nap] if nap == "one-way" else []
    found = []
    for row in same or [row for row in rows if nap == "one-way" or row.nap != "one-way"] or rows:
        filled = [(label, cell.middle) for label, cell in zip(pattern.sizes, row.lengths, strict=True) if cell]
        exact = dict(filled).get(size)
        if exact is not None:
            found.append((row, exact, False))
        elif filled:
            found.append((row, _other_size(pattern, view, size, filled), True))
    if not found:
        raise ShelfError(
            "Its cloth table says nothing to go by.",
            where=f"pattern '{pattern.name}': {kind} cloth",
            mend="Add a row of the table with its width, or the outlines of the pieces.",
        )
    return found


def _other_size(pattern: BoughtPattern, view: str, size: str, filled: list[tuple[str, float]]) -> float:
    """By the area law from the nearest size: the lengths of a garment hardly grow, its girths do."""
    place = place_of(pattern, size)
    from_label, length = min(filled, key=lambda one: abs(pattern.sizes.index(one[0]) - place))
    start = pattern.sizes.index(from_label)
    for level in ("hip", "bust", "waist"):
        row = graded(pattern, view, level, 0.0)
        if row is not None and place in row.places:
            return length * row.finished_at(place) / row.finished_at(start)
    return length


def _longer(pattern: BoughtPattern, view: str, size: str, span: Span3, longer: Longer) -> Span3:
    """In proportion to the garment's length where it is printed; else once for each panel in a stack."""
    row = pattern.finished_of(view).get("length")
    place = min(max(place_of(pattern, size), 0), len(pattern.sizes) - 1)
    cell = row[place] if row else None
    by = longer.body
    if cell is None:
        span = tuple(sorted(value + by * n for value, n in zip(span, UNKNOWN_STACK, strict=True)))
    elif by:
        grown = (cell.middle + by) / cell.middle
        least, most = OTHER_LENGTH
        low, likely, high = (value * grown * f for value, f in zip(span, (least, 1.0, most), strict=True))
        span = (max(low, span[0]), likely, high) if by > 0 else (low, likely, min(high, span[2]))
    span = tuple(sorted(value + longer.sleeves * s for value, s in zip(span, SLEEVE_SHARE, strict=True)))
    if span[0] <= 0 or (cell is not None and cell.middle + by <= 0):
        raise ShelfError(
            "Shortened by so much, nothing is left of it.",
            where="longer",
            mend="Give a smaller change of length.",
        )
    return span
