"""A bought pattern from TOML, as a person types it off the envelope; see docs/bought-patterns.md.

Lengths are numbers in the file's `unit` (cm unless said) or text ('36 1/2 in', '92-96'). A row is a list,
a cell to each size; a whole table may be pasted as text instead. What cannot be read is told, not guessed.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, get_args

from clothwise.cloth.cloth import Nap
from clothwise.errors import LengthError, ShelfError
from clothwise.shelf.cells import read_row
from clothwise.shelf.levels import find_level
from clothwise.shelf.pattern import (
    ALL_VIEWS,
    USUAL_BUST_ROOM,
    BoughtPattern,
    ClothRow,
    NamedPiece,
    Row,
    Span,
)
from clothwise.shelf.table import read_chart, read_cloth_table
from clothwise.units import Unit, parse_length

FORMAT = 1  # of the file; a reader refuses what is newer

_WORDS = ("figure", "garment", "fit_class", "make", "skill", "kept")
_LISTS = ("free", "elastic", "recommended", "haberdashery", "notes")
_TOP = (
    *("pattern", "name", "unit", "sizes", "body", "finished", "cloth", "piece", "slits", "pull_on"),
    *("bust_room", "least_stretch", "minutes", *_WORDS, *_LISTS),
)
_CLOTH = ("width", "lengths", "nap", "kind", "view", "table", "unit")
_PIECE = ("name", "count", "on_fold", "cloth", "widest", "outlines")


@dataclass(frozen=True, slots=True)
class Reading:
    """The pattern as understood, and what could not be read of it, each as a sentence."""

    pattern: BoughtPattern
    problems: tuple[str, ...] = ()


def read_pattern(text: str | bytes) -> Reading:
    """The pattern in a TOML text. Raises ShelfError: what, at which entry, how to mend it."""
    try:
        whole = tomllib.loads(text.decode("utf-8") if isinstance(text, bytes) else text)
    except UnicodeDecodeError:
        raise _wrong("file", "This is not a text file.", "Save it as plain text in UTF-8.") from None
    except tomllib.TOMLDecodeError as fault:
        raise _wrong(
            "file", f"It cannot be read: {fault}.", "Mend that line; words stand in quotes, numbers without."
        ) from None
    return _Reader(whole).read()


class _Reader:
    """Holds the sizes and the unit of one file while it is read, and collects what it could not read."""

    def __init__(self, whole: dict[str, Any]) -> None:
        self.whole = whole
        self.problems: list[str] = []
        self.sizes: tuple[str, ...] = ()
        self.unit: Unit = "cm"

    def read(self) -> Reading:
        whole = self.whole
        _known(whole, _TOP, "")
        if whole.get("pattern", FORMAT) != FORMAT:
            raise _wrong(
                "pattern", f"This is no pattern of format {FORMAT}.", f"Begin with 'pattern = {FORMAT}'."
            )
        self.unit = self._unit()
        self.sizes = tuple(str(size) for size in self._list(whole, "sizes"))
        body = self._rows(whole.get("body", {}), "body")
        finished = self._finished(whole.get("finished", {}))
        cloth = self._cloth_rows()
        words: dict[str, Any] = {name: self._word(whole, name) for name in _WORDS if name in whole}
        lists: dict[str, Any] = {name: tuple(str(v) for v in self._list(whole, name)) for name in _LISTS}
        for name in ("free", "elastic"):
            lists[name] = tuple(self._level(word, name) for word in lists[name])
        pattern = BoughtPattern(
            name=self._word(whole, "name"),
            sizes=self.sizes,
            body=body,
            finished=finished,
            cloth=cloth,
            pieces=tuple(self._piece(entry) for entry in _tables(whole, "piece")),
            bust_room=self._length(whole, "bust_room", USUAL_BUST_ROOM) or USUAL_BUST_ROOM,
            least_stretch=self._share("least_stretch"),
            pull_on=self._yes(whole, "pull_on"),
            slits={
                self._level(name, "slits"): self._length(whole["slits"], name, 0.0) or 0.0
                for name in _table(whole, "slits")
            },
            minutes=self._number("minutes"),
            **words,
            **lists,
        )
        return Reading(pattern, tuple(self.problems))

    # ---- tables ------------------------------------------------------------------------------

    def _rows(self, given: Any, place: str) -> dict[str, Row]:
        """Rows by level: from lists, or from a pasted table."""
        if isinstance(given, str):
            given = {"table": given}
        if not isinstance(given, dict):
            raise _wrong(place, "This is no table.", f"Write '[{place}]' with a row for each measure.")
        rows: dict[str, Row] = {}
        for name, value in given.items():
            if name == "table":
                rows |= self._pasted(value, place)
            else:
                rows[self._level(name, place)] = self._row(value, f"{place}.{name}")
        return rows

    def _pasted(self, text: Any, place: str) -> dict[str, Row]:
        if not isinstance(text, str):
            raise _wrong(f"{place}.table", "This is no pasted table.", "Put the text between three quotes.")
        chart = read_chart(text, unit=self.unit)
        self.problems += [f"{place}: {problem}" for problem in chart.problems]
        if not self.sizes:
            self.sizes = chart.sizes
        return {name: self.by_size(chart.sizes, row, place) for name, row in chart.rows.items()}

    def by_size(self, sizes: tuple[str, ...], row: Row, place: str) -> Row:
        """The cells put under this pattern's own sizes; a stray size is told."""
        stray = [size for size in sizes if size not in self.sizes]
        told = f"{place}: there is no size {', '.join(stray)}; its figures are left out."
        if stray and told not in self.problems:
            self.problems.append(told)
        cells = dict(zip(sizes, row, strict=True))
        return tuple(cells.get(size) for size in self.sizes)

    def _finished(self, given: Any) -> dict[str, dict[str, Row]]:
        if isinstance(given, str):
            return {ALL_VIEWS: self._rows(given, "finished")}
        if not isinstance(given, dict):
            raise _wrong("finished", "This is no table.", "Write '[finished]' with a row for each measure.")
        views = {name: rows for name, rows in given.items() if isinstance(rows, dict)}
        plain = {name: row for name, row in given.items() if name not in views}
        read = {ALL_VIEWS: self._rows(plain, "finished")} if plain else {}
        return read | {name: self._rows(rows, f"finished.{name}") for name, rows in views.items()}

    def _cloth_rows(self) -> tuple[ClothRow, ...]:
        rows: list[ClothRow] = []
        for entry in _tables(self.whole, "cloth"):
            _known(entry, _CLOTH, "cloth")
            view = str(entry.get("view", ALL_VIEWS))
            if "table" in entry:
                sizes, pasted, problems = read_cloth_table(str(entry["table"]), unit=self.unit)
                self.problems += [f"cloth: {problem}" for problem in problems]
                rows += [
                    ClothRow(r.width, self.by_size(sizes, r.lengths, "cloth"), r.nap, r.kind, view)
                    for r in pasted
                ]
                continue
            nap = str(entry.get("nap", "two-way"))
            if nap not in get_args(Nap):
                raise _wrong("cloth.nap", f"'{nap}' is no nap.", f"Say {', '.join(get_args(Nap))}.")
            width = self._length(entry, "width")
            if width is None:
                raise _wrong("cloth.width", "A row of the cloth table has no width.", "Add 'width = 140'.")
            lengths = self._row(entry.get("lengths", []), "cloth.lengths")
            rows.append(ClothRow(width, lengths, nap, str(entry.get("kind", "main")), view))  # type: ignore[arg-type]
        return tuple(rows)

    def _row(self, value: Any, place: str) -> Row:
        cells = value if isinstance(value, list) else [value] * len(self.sizes)
        row, unread = read_row([_cell(cell, place) for cell in cells], self.unit)
        self.problems += [f"{place}: {what}" for what in unread]
        return row

    def _piece(self, entry: dict[str, Any]) -> NamedPiece:
        _known(entry, _PIECE, "piece")
        count = entry.get("count", 1)
        if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= 100:
            raise _wrong("piece.count", f"{count!r} is no count of pieces.", "Give a whole number from 1 up.")
        return NamedPiece(
            name=self._word(entry, "name"),
            count=count,
            on_fold=self._yes(entry, "on_fold"),
            cloth=str(entry.get("cloth", "main")),
            widest=self._length(entry, "widest"),
            outlines={size: self._outline(points) for size, points in _table(entry, "outlines").items()},
        )

    def _outline(self, points: Any) -> tuple[tuple[float, float], ...]:
        try:
            factor = parse_length("1", unit=self.unit)
            return tuple((float(x) * factor, float(y) * factor) for x, y in points)
        except (TypeError, ValueError):
            raise _wrong(
                "piece.outlines", "An outline is not a list of points.", "Write it as [[0, 0], [30, 0], ...]."
            ) from None

    # ---- entries -----------------------------------------------------------------------------

    def _unit(self) -> Unit:
        said = {"cm": "cm", "mm": "mm", "in": "in", "inch": "in"}.get(str(self.whole.get("unit", "cm")))
        if said is None:
            raise _wrong("unit", f"'{self.whole['unit']}' is no unit of a chart.", "Say cm, mm or inch.")
        return said  # type: ignore[return-value]

    def _level(self, word: str, place: str) -> str:
        found = find_level(word.replace("_", " "))
        if found is None:
            raise _wrong(
                f"{place}.{word}", f"'{word}' names no level.", "Say bust, waist, hip, back length ..."
            )
        return found.name

    def _word(self, table: Mapping[str, Any], name: str) -> str:
        value = table.get(name)
        if not isinstance(value, str) or not value.strip():
            raise _wrong(name, f"'{name}' is missing or no word.", f"Add '{name} = \"...\"'.")
        return value.strip()

    def _list(self, table: Mapping[str, Any], name: str) -> list[Any]:
        value = table.get(name, [])
        if isinstance(value, str):
            return [value]
        if not isinstance(value, list):
            raise _wrong(name, f"'{name}' is no list.", f'Write {name} = ["...", "..."].')
        return value

    def _yes(self, table: Mapping[str, Any], name: str) -> bool:
        value = table.get(name, False)
        if not isinstance(value, bool):
            raise _wrong(name, f"'{name}' is neither true nor false.", f"Write {name} = true.")
        return value

    def _length(self, table: Mapping[str, Any], name: str, default: float | None = None) -> float | None:
        if name not in table:
            return default
        try:
            return parse_length(_cell(table[name], name), unit=self.unit)
        except LengthError as fault:
            raise _wrong(name, f"'{table[name]}' is no length. {fault.what}", fault.mend) from fault

    def _number(self, name: str) -> float | None:
        value = self.whole.get(name)
        if value is not None and (isinstance(value, bool) or not isinstance(value, int | float) or value < 0):
            raise _wrong(name, f"{value!r} is no number.", f"Write {name} = 120.")
        return None if value is None else float(value)

    def _share(self, name: str) -> float | None:
        value = self._number(name)
        if value is not None and value > 3:
            raise _wrong(name, f"A share of {value:g} is not possible.", "Write 0.25 for 25 %.")
        return value


def _cell(value: Any, place: str) -> str:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise _wrong(
            place, f"{value!r} is no length.", "Give a number, or text such as '36 1/2 in' or '92-96'."
        )
    return value if isinstance(value, str) else repr(value)


def _tables(whole: Mapping[str, Any], name: str) -> list[dict[str, Any]]:
    found = whole.get(name, [])
    if not isinstance(found, list) or not all(isinstance(entry, dict) for entry in found):
        raise _wrong(name, f"'{name}' is not written as entries.", f"Begin each with '[[{name}]]'.")
    return found


def _table(whole: Mapping[str, Any], name: str) -> dict[str, Any]:
    found = whole.get(name, {})
    if not isinstance(found, dict):
        raise _wrong(name, f"'{name}' is no table.", f"Write '[{name}]' with its entries below.")
    return found


def _known(table: Mapping[str, Any], names: tuple[str, ...], place: str) -> None:
    for name in table:
        if name not in names:
            near = get_close_matches(name, names, 1)
            raise _wrong(
                f"{place}.{name}" if place else name,
                f"'{name}' is not an entry of a bought pattern.",
                f"Did you mean '{near[0]}'?" if near else f"Possible here: {', '.join(names)}.",
            )


def _wrong(place: str, what: str, mend: str) -> ShelfError:
    return ShelfError(what, where=f"pattern file, {place}", mend=mend)


def point(value: float) -> Span:
    """A cell that is one length."""
    return Span(value, value)
