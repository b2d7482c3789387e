"""Pieces and lays into files, by the ending of the file's name."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from clothwise.alter import Change, change_of
from clothwise.body import Body, estimate
from clothwise.cli.files import write_one
from clothwise.errors import ChoiceError, PaperError
from clothwise.garment import Garment
from clothwise.lay.plan import LayPlan
from clothwise.paper.dxf import pattern_dxf
from clothwise.paper.geometry import pattern_json
from clothwise.paper.lay import lay_pdf, lay_svg
from clothwise.paper.pattern import pattern_pdf, pattern_svg
from clothwise.paper.sheets import sheet
from clothwise.ticket.made import drawn

ENTRY = re.compile(r"(\w+)=(.*?)(?=\s+\w+=|$)")  # KEY=VALUE, up to the next KEY=


def drawn_for(
    body: Body,
    pattern: str,
    choices: Mapping[str, float | str],
    figure: Mapping[str, float | str],
    longer: Mapping[str, float | str],
    left: Mapping[str, float | str] | None = None,
    asked: Sequence[str] = (),
) -> Garment:
    """The checked garment, altered where asked; missing measures are estimated.

    figure  how the figure differs, see alter.FIGURE_CHANGES; longer  level -> cm
    left    how its left side differs besides; asked  changes as they are typed, see `change_typed`
    """
    by = {name: _number(amount, f"--figure {name}") for name, amount in figure.items()}
    one_side = {name: _number(amount, f"--left {name}") for name, amount in (left or {}).items()}
    changes = [change_of("lengthen", {"at": level, "by": cm}) for level, cm in longer.items()]
    changes += [change_typed(text) for text in asked]
    return drawn(estimate(body), pattern, choices, by, one_side, changes)


def change_typed(text: str) -> Change:
    """A change in one line, its name and its entries: 'yoke piece=back at=bust below=-6'."""
    entries = {name: _value(value.strip()) for name, value in ENTRY.findall(text)}
    what = ENTRY.split(text, maxsplit=1)[0].strip()
    return change_of(what, entries)


def _value(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text


def _number(value: float | str, where: str) -> float:
    if isinstance(value, str):
        raise ChoiceError(f"'{value}' is not a number.", where=where, mend="Give a number: 2 or -1.5.")
    return value


def piece_file(garment: Garment, name: str, out: Path, size: str) -> None:
    """The pieces in true size: side by side (.svg), on sheets (.pdf), or for other programs (.dxf, .json)."""
    ending = _ending(out, ".svg", ".pdf", ".dxf", ".json")
    if ending == ".svg":
        content = pattern_svg(garment, body_name=name).encode()
    elif ending == ".dxf":
        content = pattern_dxf(garment, body_name=name).encode("ascii")
    elif ending == ".json":
        content = pattern_json(garment, body_name=name).encode()
    else:
        content = pattern_pdf(garment, paper=sheet(size), body_name=name)
    write_one(content, out)


def lay_file(plan: LayPlan, title: str, out: Path) -> None:
    """The lay plan."""
    write_one(
        lay_svg(plan, title).encode() if _ending(out, ".svg", ".pdf") == ".svg" else lay_pdf(plan, title), out
    )


def _ending(file: Path, *known: str) -> str:
    ending = file.suffix.lower()
    if ending not in known:
        raise PaperError(
            f"'{ending or file.name}' is not a kind of drawing.",
            where="--out",
            mend=f"Let the file's name end in {', '.join(known[:-1])} or {known[-1]}.",
        )
    return ending
