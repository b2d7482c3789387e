"""A pasted table put into a pattern that is on the shelf already, or that begins with it."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from clothwise.shelf.pattern import BoughtPattern, Row
from clothwise.shelf.reading import Reading
from clothwise.shelf.table import read_chart, read_cloth_table
from clothwise.units import Unit

TableKind = Literal["body", "finished", "cloth"]


def sizes_of(text: str, kind: TableKind, unit: Unit = "cm") -> tuple[str, ...]:
    """The sizes a pasted table names. Raises ShelfError when it names none."""
    return read_cloth_table(text, unit=unit)[0] if kind == "cloth" else read_chart(text, unit=unit).sizes


def with_table(
    pattern: BoughtPattern, text: str, kind: TableKind, *, view: str = "", unit: Unit = "cm"
) -> Reading:
    """The pattern with the table's figures in the place of its own; a cloth table is replaced whole.

    What it leaves empty, or what cannot be read in it, stays as it stood: a slip in pasting loses nothing.
    """
    if kind == "cloth":
        sizes, rows, problems = read_cloth_table(text, unit=unit)
        mine = tuple(replace(r, lengths=_by_size(pattern, sizes, r.lengths), view=view) for r in rows)
        if not any(length is not None for row in mine for length in row.lengths):
            return Reading(pattern, (*problems, *_stray(pattern, sizes)))
        others = tuple(row for row in pattern.cloth if row.view != view)
        return Reading(replace(pattern, cloth=others + mine), (*problems, *_stray(pattern, sizes)))
    chart = read_chart(text, unit=unit)
    told = (*chart.problems, *_stray(pattern, chart.sizes))
    before = pattern.body if kind == "body" else pattern.finished.get(view, {})
    read = {
        name: _over(before.get(name), _by_size(pattern, chart.sizes, row)) for name, row in chart.rows.items()
    }
    if kind == "body":
        return Reading(replace(pattern, body={**before, **read}), told)
    return Reading(replace(pattern, finished={**pattern.finished, view: {**before, **read}}), told)


def _over(before: Row | None, read: Row) -> Row:
    """The row read, with what stood before where nothing was read."""
    return (
        read
        if before is None
        else tuple(old if new is None else new for old, new in zip(before, read, strict=True))
    )


def _by_size(pattern: BoughtPattern, sizes: tuple[str, ...], row: Row) -> Row:
    cells = dict(zip(sizes, row, strict=True))
    return tuple(cells.get(size) for size in pattern.sizes)


def _stray(pattern: BoughtPattern, sizes: tuple[str, ...]) -> tuple[str, ...]:
    stray = [size for size in sizes if size not in pattern.sizes]
    return (f"This pattern has no size {', '.join(stray)}: its figures are left out.",) if stray else ()
