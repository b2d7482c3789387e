"""A bought pattern as it is shown: what was understood of its envelope, and what looks like a slip."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence

from clothwise.shelf.doubts import doubts
from clothwise.shelf.pattern import BoughtPattern, Row, Span
from clothwise.size.words import Speaker
from clothwise.units import Unit

WIDTH = 78  # columns of a terminal, less a margin
NAME = 16  # columns for the name of a row


def pattern_line(pattern: BoughtPattern) -> str:
    """One line of the list."""
    sizes = f"{pattern.sizes[0]} to {pattern.sizes[-1]}" if len(pattern.sizes) > 1 else pattern.sizes[0]
    return f"{pattern.name:<28} {pattern.fit_class} {pattern.garment}, {pattern.make}, {sizes}"[:WIDTH]


def pattern_lines(pattern: BoughtPattern, unit: Unit, problems: Sequence[str] = ()) -> Iterator[str]:
    """All that is known of it, folded to the terminal."""
    say = Speaker(unit)
    yield pattern.name
    yield from _folded(_about(pattern, say))
    yield from _table(f"body chart, {say.unit}", pattern.sizes, pattern.body, say)
    for view, rows in pattern.finished.items():
        title = f"finished{f', view {view}' if view else ''}, {say.unit}"
        yield from _table(title, pattern.sizes, rows, say)
    for view in dict.fromkeys(row.view for row in pattern.cloth):
        cloth = {
            f"{say.cm(row.width)}{'' if row.kind == 'main' else ' ' + row.kind}"
            f"{' one-way' if row.nap == 'one-way' else ''}": row.lengths
            for row in pattern.cloth
            if row.view == view
        }
        yield from _table(f"cloth{f', view {view}' if view else ''}, {say.unit}", pattern.sizes, cloth, say)
    if pattern.pieces:
        yield ""
        named = (f"{one.name} {one.count}{' on the fold' if one.on_fold else ''}" for one in pattern.pieces)
        yield from _folded(f"Pieces: {'; '.join(named)}.")
    for title, words in (("Cloths", pattern.recommended), ("Haberdashery", pattern.haberdashery)):
        if words:
            yield from _folded(f"{title}: {'; '.join(words)}.")
    for note in pattern.notes:
        yield from _folded(f"Note: {note}")
    yield from _told("Not understood", problems)
    yield from _told("Doubts about the chart", say.doubts(doubts(pattern)))


def _about(pattern: BoughtPattern, say: Speaker) -> str:
    parts = [f"{pattern.fit_class} {pattern.garment} for a {pattern.figure}, {pattern.make} cloth"]
    if pattern.least_stretch is not None:
        parts.append(f"stretch of {pattern.least_stretch:.0%} or more")
    if pattern.figure == "woman":
        parts.append(f"drawn for a bust {say.cm(pattern.bust_room)} over the high bust")
    if pattern.skill:
        parts.append(f"level {pattern.skill}")
    if pattern.minutes is not None:
        parts.append(f"said to take {pattern.minutes / 60:.3g} h")
    if pattern.kept:
        parts.append(f"kept: {pattern.kept}")
    return "; ".join(parts).capitalize() + "."


def _table(title: str, sizes: tuple[str, ...], rows: Mapping[str, Row], say: Speaker) -> Iterator[str]:
    """In blocks of as many sizes as the terminal holds."""
    if not rows:
        return
    cells = {name: [_cell(cell, say) for cell in row] for name, row in rows.items()}
    wide = 1 + max(len(text) for row in [*cells.values(), list(sizes)] for text in row)
    fit = max(1, (WIDTH - NAME) // wide)
    for start in range(0, len(sizes), fit):
        yield ""
        yield f"{title:<{NAME}.{WIDTH}}" + "".join(f"{size:>{wide}}" for size in sizes[start : start + fit])
        for name, row in cells.items():
            yield f"  {name.replace('_', ' '):<{NAME - 2}}" + "".join(
                f"{text:>{wide}}" for text in row[start : start + fit]
            )


def _cell(cell: Span | None, say: Speaker) -> str:
    if cell is None:
        return "-"
    if cell.low == cell.high:
        return say.bare(cell.low)
    return f"{say.bare(cell.low)}-{say.bare(cell.high)}"


def _told(title: str, sentences: Sequence[str]) -> Iterator[str]:
    if sentences:
        yield ""
        yield title
        for sentence in sentences:
            yield from textwrap.wrap(f"- {sentence}", WIDTH, subsequent_indent="  ")


def _folded(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent="  ")
