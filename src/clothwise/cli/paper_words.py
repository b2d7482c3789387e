"""What is typed after `clothwise print` as the values of the paper: kinds, sheets, lengths, sizes. cm."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Literal, cast

from clothwise.errors import PaperError
from clothwise.units import parse_length

if TYPE_CHECKING:
    from clothwise.body import Figure
    from clothwise.paper.sheets import Orientation, Sheet

Kind = Literal["sheets", "roll", "projector", "screen", "file"]
KINDS: tuple[Kind, ...] = ("sheets", "roll", "projector", "screen")
FIGURES = {"women": "woman", "men": "man", "girls": "girl", "boys": "boy"}
SIDES = re.compile(r"(.+?)\s*(?:x|×|by)\s*(.+)", re.IGNORECASE)  # '30 x 45', '12in x 18in'
SPAN = re.compile(r"(\w+)\s*(?:[-–]|to)\s*(\w+)")  # '84-104'


def kind_of(on: str, out: Path, *, nested: bool) -> Kind:
    """What to print on, by the file's ending when nothing is said; `file` is a nest for other programs."""
    ending = out.suffix.lower()
    kind = on or {".html": "screen", ".dxf": "file" if nested else "sheets"}.get(ending, "sheets")
    if kind == "file" and not on:
        return "file"
    if kind not in KINDS:
        raise PaperError(
            f"Nothing can be printed on '{kind}'.",
            where="--on",
            mend=f"Say {', '.join(KINDS[:-1])} or {KINDS[-1]}.",
        )
    wanted = ".html" if kind == "screen" else ".pdf"
    if ending != wanted:
        raise PaperError(
            f"'{out.name}' is no file for {'a' if kind != 'sheets' else 'the'} {kind}.",
            where="--out",
            mend=f"Let its name end in {wanted}; `clothwise draft` writes .svg, .dxf and .json.",
        )
    return kind


def check_agree(kind: Kind, **asked: object) -> None:
    """Some things are for sheets only; a nest, lengths and changes are each a print of their own."""
    wanted = [option for option, value in asked.items() if value]
    goes_with: dict[Kind, tuple[str, ...]] = {"file": ("nest", "lengths"), "sheets": tuple(asked)}
    for option in wanted:
        if option not in goes_with.get(kind, ("without",)):
            raise PaperError(
                f"--{option} goes with {'paper' if option == 'without' else 'sheets'}, not with the {kind}.",
                where=f"--{option}, --on",
                mend="Leave one of them out.",
            )
    apart = [option for option in wanted if option not in ("only", "without")]
    if len(apart) > 1:
        raise PaperError(
            f"--{apart[0]} and --{apart[1]} do not go together.",
            where=f"--{apart[0]}, --{apart[1]}",
            mend="Leave one of them out; single sheets are chosen by --only.",
        )


def paper_of(size: str, lying: str, margin: str, overlap: str) -> Sheet:
    from clothwise.paper.sheets import SIZES, sheet

    named = size.strip().casefold() in (known.casefold() for known in SIZES)
    wanted = size if named or not SIDES.fullmatch(size.strip()) else sides_of(size, "--sheet")
    return sheet(
        wanted,
        margin=length_of(margin, "--margin"),
        overlap=length_of(overlap, "--overlap"),
        orientation=cast("Orientation", lying),
    )


def sides_of(text: str, option: str) -> tuple[float, float]:
    """'30 x 45' in cm, or with units: '12in x 18in'."""
    found = SIDES.fullmatch(text.strip())
    if found is None:
        raise PaperError(f"'{text}' is not two lengths.", where=option, mend="Write it as 30 x 45.")
    return length_of(found[1], option), length_of(found[2], option)


def length_of(text: str, option: str = "") -> float:
    """Zero is a length here: sheets may be butted."""
    return 0.0 if text.strip() in ("0", "0 cm") else parse_length(text)


def figure_of(word: str) -> Figure:
    if word not in FIGURES:
        raise PaperError(f"There are no sizes of '{word}'.", where="sizes", mend=f"Say {', '.join(FIGURES)}.")
    return cast("Figure", FIGURES[word])


def sizes_asked(text: str, figure: Figure) -> tuple[str, ...]:
    """The names of sizes in '84-104' or '84, 92'; all when nothing is said."""
    from clothwise.body.sizes import size_names

    span = SPAN.fullmatch(text.strip())
    if span is None:
        return tuple(part for part in re.split(r"[,\s]+", text.strip()) if part)
    low, high = span.groups()
    names = size_names(figure)
    if low not in names or high not in names or names.index(low) > names.index(high):
        raise PaperError(
            f"There are no sizes from {low} to {high}.",
            where="--sizes",
            mend=f"The sizes are {', '.join(names)}.",
        )
    return names[names.index(low) : names.index(high) + 1]
