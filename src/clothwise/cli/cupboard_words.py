"""Cloths in words and figures, for people at a terminal and for programs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rich.console import Console
from rich.table import Table

from clothwise.cloth import Cloth
from clothwise.cloth.entries import entries
from clothwise.cloth.kinds import facts
from clothwise.cloth.kinds import kinds as all_kinds
from clothwise.ticket.figures import plain, rounded


def cloth_figures(cloth: Cloth) -> dict[str, Any]:
    """One cloth for programs: what was told, what is left after washing, what is known of it."""
    return {
        **plain(cloth),
        "usable_width": rounded(cloth.usable_width),
        "usable_length": rounded(cloth.usable_length),
        "usable_area_m2": rounded(cloth.usable_area_cm2 / 10_000),
        "known": plain(facts(cloth)),
        "told": plain(entries(cloth)),
    }


def print_cloths(cloths: Sequence[Cloth]) -> None:
    """Each cloth with what decides whether it suits and suffices."""
    console = Console(highlight=False)
    head = ("cloth", "kind", "cm wide", "cm long", "g/m²", "nap", "")
    table = Table(*head, box=None, padding=(0, 2, 0, 0))
    for cloth in cloths:
        extra = ["remnant"] if cloth.outline else []
        extra += [f"{len(cloth.flaws)} flaw{'s' * (len(cloth.flaws) > 1)}"] if cloth.flaws else []
        extra += [] if cloth.washed else ["not washed"]
        table.add_row(
            cloth.name,
            cloth.kind or cloth.make,
            f"{cloth.width:.4g}",
            f"{cloth.length:.4g}",
            f"{cloth.grams_per_m2:g}",
            "one-way" if cloth.laid_nap == "one-way" else cloth.nap,
            ", ".join(extra),
        )
    console.print(table)


def print_kinds() -> None:
    """The table of kinds in a few columns."""
    head = ("kind", "g/m²", "drape %", "stretch %", "shrinks %", "needle", "finish")
    table = Table(*head, box=None, padding=(0, 2, 0, 0))
    for kind in all_kinds():
        table.add_row(
            kind.name, f"{kind.grams:g}", f"{100 * kind.drape:g}", f"{100 * kind.stretch_across:g}",
            f"{100 * kind.shrinkage:g}", kind.needle, kind.finish,
        )  # fmt: skip
    Console(highlight=False).print(table)
