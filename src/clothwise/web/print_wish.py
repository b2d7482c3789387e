"""How a pattern is to be printed, as it stands in an address of the station of paper. Lengths in cm.

Everything may be left out: then it is a ticket's own sheet, a usual margin and overlap, all pieces, all layers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import cast

from starlette.datastructures import QueryParams

from clothwise.errors import PaperError
from clothwise.paper.pens import LAYERS, PRINT, Pens
from clothwise.paper.pens import without as box_without
from clothwise.paper.projector import TABLE
from clothwise.paper.roll import LONGEST, WIDTH
from clothwise.paper.sheets import MARGIN, OVERLAP, SIZES, Orientation, Sheet
from clothwise.paper.sheets import sheet as sheet_of
from clothwise.web.sheet import Reader

SIDES = re.compile(r"(.+?)\s*(?:x|×|by)\s*(.+)", re.IGNORECASE)  # '30 x 45', '12in x 18in'
WAYS = ("either", "portrait", "landscape")
MAY_GO = tuple(layer for layer in LAYERS if layer != "sheet")  # layers that may be left out
MOST_NAMED = 400  # sheets or pieces named in one address
PLAIN = ("size", "lying", "margin", "overlap", "width", "longest", "table", "ground")
SEVERAL = ("piece", "without", "lengths")


@dataclass(frozen=True, slots=True)
class Wish:
    """See the module. `size` '' is the ticket's; `lengths` of the draft, one inside the other."""

    size: str | tuple[float, float] = ""
    lying: Orientation = "either"
    margin: float = MARGIN
    overlap: float = OVERLAP
    pieces: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    lengths: tuple[str, ...] = ()
    width: float = WIDTH  # of a roll
    longest: float = LONGEST  # page of a roll
    table: tuple[float, float] = TABLE  # what a projector shows
    dark: bool = True

    def sheet(self, usual: str) -> Sheet:
        """The sheet to print on; `usual` is the ticket's. Raises PaperError."""
        return sheet_of(self.size or usual, margin=self.margin, overlap=self.overlap, orientation=self.lying)

    @property
    def pens(self) -> Pens:
        """The pens without the layers left out. Raises PaperError."""
        return box_without(PRINT, self.without)


def wish_of(asked: QueryParams, who: Reader) -> Wish:
    """The wish in an address. Raises LengthError, PaperError for what cannot be read."""

    def cm(name: str, usual: float) -> float:
        text = asked.get(name, "").strip()
        return usual if not text else typed(text, who)

    size = asked.get("size", "").strip()
    named = size.casefold() in (known.casefold() for known in SIZES)
    lying = asked.get("lying") or "either"
    table = asked.get("table", "").strip()
    return Wish(
        size=size if named or not size else sides(size, who),
        lying=cast("Orientation", lying),
        margin=cm("margin", MARGIN),
        overlap=cm("overlap", OVERLAP),
        pieces=tuple(asked.getlist("piece"))[:MOST_NAMED],
        without=tuple(asked.getlist("without"))[:MOST_NAMED],
        lengths=tuple(asked.getlist("lengths"))[:MOST_NAMED],
        width=cm("width", WIDTH),
        longest=cm("longest", LONGEST),
        table=sides(table, who) if table else TABLE,
        dark=asked.get("ground") != "light",
    )


def sides(text: str, who: Reader) -> tuple[float, float]:
    """'30 x 45', in the reader's unit where none is given. Raises PaperError, LengthError."""
    found = SIDES.fullmatch(text)
    if found is None:
        raise PaperError(
            f"'{text[:30]}' is no sheet we know, and not two lengths.",
            where="paper",
            mend=f"Write it as 30 x 45, or choose {', '.join(SIZES)}.",
        )
    return typed(found[1], who), typed(found[2], who)


def typed(text: str, who: Reader) -> float:
    """A length; nought is one here, since sheets may be butted."""
    return 0.0 if text.strip() == "0" else who.typed(text)


def fields(asked: QueryParams) -> list[tuple[str, str]]:
    """The entries of an address that make the wish, to be carried on in a form."""
    plain = [(name, asked[name]) for name in PLAIN if asked.get(name)]
    return plain + [(name, value) for name in SEVERAL for value in asked.getlist(name)[:MOST_NAMED]]
