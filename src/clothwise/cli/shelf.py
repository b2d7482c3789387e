"""What stands on the shelf and in the cupboard, for reading."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rich.console import Console
from rich.table import Table

from clothwise.body import Body
from clothwise.body.slips import slips
from clothwise.draft import PATTERNS, Choice
from clothwise.ticket.figures import plain

MAIN = ("height", "bust_girth", "waist_girth", "hip_girth", "inside_leg")  # what tells one body from another


def pattern_figures() -> list[dict[str, Any]]:
    """The house drafts with their choices, for programs."""
    return [
        {
            "name": draft.name,
            "title": draft.title,
            "what": draft.what,
            "least_age": draft.least_age,
            "needs": list(draft.needs),
            "choices": [plain(choice) for choice in draft.choices],
        }
        for draft in PATTERNS
    ]


def print_patterns() -> None:
    """Each draft, then its choices, one a line."""
    console = Console(highlight=False)
    for draft in PATTERNS:
        console.print(f"\n[bold]{draft.title}[/bold]  ({draft.name})")
        console.print(draft.what)
        table = Table(show_header=False, box=None, padding=(0, 2, 0, 2))
        for choice in draft.choices:
            table.add_row(choice.name, f"{choice.meaning} {_possible(choice)}")
        console.print(table)


def _possible(choice: Choice) -> str:
    if choice.options:
        return f"One of: {' / '.join(choice.options)}. Left open: {choice.default}."
    span = f"{choice.low:g} to {choice.high:g} {choice.unit}."
    return span if choice.default is None else f"{span} Left open: {choice.default:g}."


def print_bodies(bodies: Sequence[Body]) -> None:
    """Main measures of each, and what looks like a slip of the tape."""
    console = Console(highlight=False)
    table = Table("name", "figure", *(name.replace("_", " ") for name in MAIN), box=None, padding=(0, 2, 0, 0))
    for body in bodies:
        table.add_row(body.name, body.figure, *(f"{body[m]:g}" if m in body else "" for m in MAIN))
    console.print(table)
    for body in bodies:
        for slip in slips(body):
            console.print(f"{body.name}: {slip.sentence}", soft_wrap=True)
