"""One plain table for every benchmark: what was measured, the target, the result, and whether it is met."""

from __future__ import annotations

import os
import platform
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

Cell = str | int | float


@dataclass(frozen=True, slots=True)
class Row:
    """One figure of a benchmark. `met` None: shown for information, no target to miss."""

    what: str
    target: Cell
    result: Cell
    met: bool | None = None


def print_table(title: str, rows: Sequence[Row], preface: str = "") -> bool:
    """Print the rows with the machine and the date. Returns whether every target is met."""
    print(f"\n{title}")
    print(_machine())
    if preface:
        print(preface)
    cells = [("what", "target", "result", "")]
    cells += [(row.what, _text(row.target), _text(row.result), _verdict(row.met)) for row in rows]
    widths = [max(len(line[column]) for line in cells) for column in range(4)]
    for number, line in enumerate(cells):
        print(f"  {line[0]:<{widths[0]}}  {line[1]:>{widths[1]}}  {line[2]:>{widths[2]}}  {line[3]}".rstrip())
        if number == 0:
            print("  " + "-" * (sum(widths) + 6))
    missed = sum(row.met is not None and not row.met for row in rows)
    asked = sum(row.met is not None for row in rows)
    print(f"  {asked - missed} of {asked} targets met.")
    return missed == 0


def print_as_known(title: str, rows: Iterable[Row]) -> bool:
    """Print each row as soon as it is known, for what takes long. Returns whether every target is met."""
    print(f"\n{title}\n{_machine()}", flush=True)
    asked = missed = 0
    for row in rows:
        asked += row.met is not None
        missed += row.met is not None and not row.met
        target = f"target {_text(row.target)}" if row.met is not None else ""
        print(f"  {row.what}\n      {_text(row.result)}  {target}  {_verdict(row.met)}".rstrip(), flush=True)
    print(f"  {asked - missed} of {asked} targets met.")
    return missed == 0


def _machine() -> str:
    now = datetime.now(UTC).strftime("%Y-%m-%d %H:%M UTC")
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return f"{now}, {platform.system()} {platform.machine()}, {cores} cores, Python {platform.python_version()}"


def _text(cell: Cell) -> str:
    return f"{cell:.4g}" if isinstance(cell, float) else str(cell)


def _verdict(met: bool | None) -> str:
    return "" if met is None else ("met" if met else "MISSED")
