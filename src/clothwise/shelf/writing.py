"""A bought pattern back into TOML: reading it again gives the same pattern. Everything in cm."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import tomli_w

from clothwise.shelf.pattern import ALL_VIEWS, BoughtPattern, ClothRow, NamedPiece, Row, Span
from clothwise.shelf.reading import FORMAT


def write_pattern(pattern: BoughtPattern) -> str:
    """The pattern as TOML text, entries in a fixed order."""
    whole: dict[str, Any] = {"pattern": FORMAT, "name": pattern.name, "sizes": list(pattern.sizes)}
    whole |= {name: getattr(pattern, name) for name in ("figure", "garment", "fit_class", "make")}
    whole |= {name: value for name in ("skill", "kept") if (value := getattr(pattern, name))}
    whole["bust_room"] = pattern.bust_room
    for name in ("least_stretch", "minutes"):
        if getattr(pattern, name) is not None:
            whole[name] = getattr(pattern, name)
    if pattern.pull_on:
        whole["pull_on"] = True
    for name in ("free", "elastic", "recommended", "haberdashery", "notes"):
        if getattr(pattern, name):
            whole[name] = list(getattr(pattern, name))
    whole["slits"] = dict(pattern.slits)
    whole["body"] = _rows(pattern.body)
    finished = {view: _rows(rows) for view, rows in pattern.finished.items()}
    whole["finished"] = finished.pop(ALL_VIEWS, {}) | finished
    whole["cloth"] = [_cloth(row) for row in pattern.cloth]
    whole["piece"] = [_piece(piece) for piece in pattern.pieces]
    return tomli_w.dumps(whole)


def _rows(rows: Mapping[str, Row]) -> dict[str, list[Any]]:
    return {name: [_cell(cell) for cell in row] for name, row in rows.items()}


def _cell(cell: Span | None) -> float | str:
    if cell is None:
        return "-"
    return cell.low if cell.low == cell.high else f"{cell.low!r} - {cell.high!r}"


def _cloth(row: ClothRow) -> dict[str, Any]:
    table: dict[str, Any] = {"width": row.width, "lengths": [_cell(cell) for cell in row.lengths]}
    return table | {"nap": row.nap, "kind": row.kind} | ({"view": row.view} if row.view else {})


def _piece(piece: NamedPiece) -> dict[str, Any]:
    table: dict[str, Any] = {"name": piece.name, "count": piece.count, "on_fold": piece.on_fold}
    table["cloth"] = piece.cloth
    if piece.widest is not None:
        table["widest"] = piece.widest
    if piece.outlines:
        table["outlines"] = {size: [list(p) for p in points] for size, points in piece.outlines.items()}
    return table
