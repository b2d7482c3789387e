"""The answer of `clothwise size` on a terminal of 80 columns, and for programs."""

from __future__ import annotations

import math
import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from clothwise.cloth import Cloth
from clothwise.shelf.pattern import BoughtPattern
from clothwise.size.advice import Advice, EaseOfSize
from clothwise.size.chart import place_of
from clothwise.size.cloth_need import ClothNeed
from clothwise.size.told import CHILD_CAUTION, TRUST, changes, cloth_told, headline
from clothwise.size.words import Speaker
from clothwise.ticket.figures import plain
from clothwise.tolerance import GIRTH
from clothwise.units import Unit

WIDTH = 78  # columns of a terminal, less a margin
NAME = 14  # columns for the name of a level
LONGEST_LABEL = 9  # letters of a size over its column
MOST_SIZES = 5  # columns of sizes: more do not fit beside the rest
UNBROKEN = "\u00a0"  # stands for a space at which no line is folded
KEPT_TOGETHER = re.compile(r"(?<=\d) (?=\d+/\d|cm\b|in\b|m\b|yd\b)")  # '27 3/4 in'


def lines(
    advice: Advice,
    pattern: BoughtPattern,
    needs: Mapping[str, ClothNeed],
    cloth: Cloth | None,
    unit: Unit,
    *,
    trouble: str = "",
    questions: Sequence[str] = (),
) -> Iterator[str]:
    """All of the answer, folded.

    needs       cloth by kind, the main one of the width asked for; trouble: why none can be told
    questions   about the body: slips of the tape, what could not be estimated
    """
    say = Speaker(unit, chest=pattern.figure != "woman", wearer=advice.person)
    view = f", view {advice.view}" if advice.view else ""
    yield from _folded(
        f"{advice.pattern}{view}, for {advice.person}" + (f", in {advice.cloth}" if advice.cloth else "")
    )
    yield ""
    yield from _folded(headline(advice, say), 2)
    yield from _folded(f"({TRUST[advice.confidence]})", 2)
    if advice.levels and advice.cut != "nothing":
        yield ""
        yield from _table(advice, pattern, say)
    doubted = list(_part("Doubts about the chart", say.doubts(advice.doubts)))
    grave = any(doubt.grave for doubt in advice.doubts)
    if grave:  # before anything that rests on those figures
        yield from doubted
    yield from _part("Why", say.reasons(advice.reasons))
    yield from _part("Change beyond the chart", changes(advice, say))
    inside = [say.passage(one) for one in advice.passages]
    yield from _part("Getting in", [*inside, *([say.elastic(advice.elastic)] if advice.elastic else [])])
    if advice.growing:
        yield from _part("Growing", say.growing(advice.growing))
    bolts = [text for kind, need in needs.items() for text in cloth_told(kind, need, cloth, say)]
    yield from _part("Cloth", [trouble] if trouble else bolts)
    yield from _part("Before you cut", list(questions))
    if not grave:
        yield from doubted
    if pattern.figure in ("girl", "boy"):
        yield from _part("For a child", [CHILD_CAUTION])


def _table(advice: Advice, pattern: BoughtPattern, say: Speaker) -> Iterator[str]:
    """Levels down, sizes across: what each size would give."""
    shown = _shown(advice, pattern)
    short = [_short(size) for size in shown]
    wide = max(8, *(len(word) + 1 for word in short))
    heads = "".join(f"{word:>{wide}}" for word in short)
    drawn_in = {reason.figures["level"] for reason in advice.reasons if reason.kind == "drawn in"}
    free = {one.level: "    by elastic" if one.level in drawn_in else "    hangs free" for one in advice.levels}
    yield f"  {'ease, ' + say.unit:<{NAME}}{'body':>7} {heads}{'meant':>8}{'wanted':>8}"
    for one in advice.levels:
        tail = free.get(one.level, "") if one.free else f"{say.bare(one.intended):>8}{say.bare(one.wanted):>8}"
        cells = _cells(one.eases, shown, one.size, one.floor, wide, say)
        yield f"  {say.level(one.level):<{NAME}}{say.bare(one.body):>7} {cells}{tail}"
    for length in advice.lengths:
        if length.eases:
            cells = _cells(length.eases, shown, length.size, -math.inf, wide, say)
            tail = f"{say.bare(length.intended):>8}{say.bare(length.wanted - length.body):>8}"
            yield f"  {say.level(length.level):<{NAME}}{say.bare(length.body):>7} {cells}{tail}"
    yield "  * the size to cut there   ! too tight to wear"


def _cells(
    eases: tuple[EaseOfSize, ...], shown: list[str], cut: str, floor: float, wide: int, say: Speaker
) -> str:
    by_size = {each.size: each.ease for each in eases}
    cells = []
    for size in shown:
        ease = by_size.get(size)
        mark = "*" if size == cut else "!" if ease is not None and ease < floor - GIRTH else " "
        cells.append("" if ease is None else f"{say.bare(ease)}{mark}")
    return "".join(f"{cell:>{wide}}" for cell in cells)


def _shown(advice: Advice, pattern: BoughtPattern) -> list[str]:
    """At most MOST_SIZES columns about those that are cut; when those lie wider apart, they alone."""
    sizes = sorted(
        {each.size for one in advice.levels for each in one.eases}, key=lambda s: place_of(pattern, s)
    )
    cut = sorted(sizes.index(one.size) for one in advice.levels)
    spare = max(0, MOST_SIZES - (cut[-1] - cut[0] + 1))
    start = max(0, min(cut[0] - spare // 2, len(sizes) - MOST_SIZES))
    near = sizes[start : start + MOST_SIZES]
    return near if cut[-1] < start + MOST_SIZES else [sizes[at] for at in sorted(set(cut))]


def _short(size: str) -> str:
    """'22+2' for '2 sizes beyond 22', so that a column stays narrow."""
    beyond = re.fullmatch(r"(\d+) sizes? (below|beyond) (.+)", size)
    if beyond:
        return f"{beyond[3]}{'-' if beyond[2] == 'below' else '+'}{beyond[1]}"
    return size if len(size) <= LONGEST_LABEL else f"{size[: LONGEST_LABEL - 1]}…"


def _part(title: str, sentences: list[str]) -> Iterator[str]:
    if sentences:
        yield ""
        yield title
        for sentence in sentences:
            yield from _folded(f"- {sentence}", 2, hang=2)


def _folded(text: str, indent: int = 0, hang: int = 0) -> list[str]:
    pad, whole = " " * indent, KEPT_TOGETHER.sub(UNBROKEN, text)
    folded = textwrap.wrap(whole, WIDTH, initial_indent=pad, subsequent_indent=pad + " " * hang)
    return [line.replace(UNBROKEN, " ") for line in folded]


def figures(
    advice: Advice,
    pattern: BoughtPattern,
    needs: Mapping[str, ClothNeed],
    unit: Unit,
    questions: Sequence[str] = (),
) -> dict[str, Any]:
    """The whole answer for programs, its reasons also in words."""
    say = Speaker(unit, chest=pattern.figure != "woman", wearer=advice.person)
    whole = plain(advice)
    whole["sizes"] = dict(advice.sizes)
    whole["questions"] = list(questions)
    whole["headline"] = headline(advice, say)
    for one, reason in zip(whole["reasons"], advice.reasons, strict=True):
        one["words"] = say.reason(reason)
    for one, doubt in zip(whole["doubts"], advice.doubts, strict=True):
        one["words"] = say.doubt(doubt)
    for one, change in zip(whole["alterations"], advice.alterations, strict=True):
        one["words"] = say.alteration(change)
    for one, passage in zip(whole["passages"], advice.passages, strict=True):
        one |= {"goes": passage.goes, "words": say.passage(passage)}
    whole["cloth_needs"] = {kind: plain(replace(need, plan=None)) for kind, need in needs.items()}
    return dict(whole)
