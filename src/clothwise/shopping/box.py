"""One thing in the haberdashery box. Lengths in cm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from clothwise.errors import WorkroomError

Sort = Literal[
    "elastic", "thread", "interfacing", "lining", "rib", "pocket cloth", "bias binding", "cord", "button",
    "zip", "needle", "hook", "other",
]  # fmt: skip
SORTS: tuple[str, ...] = get_args(Sort)
BY_LENGTH = ("elastic", "thread", "interfacing", "lining", "rib", "pocket cloth", "bias binding", "cord")
MOST_LENGTH = 10_000_000.0  # cm: a hundred kilometres of thread; more is a slip
MOST_COUNT = 100_000
NARROW = 0.5  # of the width asked: a zip, button or elastic this far off serves no more


@dataclass(frozen=True, slots=True)
class BoxItem:
    """What lies in the box. `length` of what is sold by length, `count` of the rest.

    width   of elastic, cord, binding, button; for a zip its length; 0: not told, any serves
    colour  empty: any serves
    """

    name: str
    sort: Sort
    length: float = 0.0
    count: int = 0
    width: float = 0.0
    colour: str = ""

    def __post_init__(self) -> None:
        where = f"box: '{self.name}'"
        if self.sort not in SORTS:
            raise WorkroomError(
                f"'{self.sort}' is no sort of haberdashery.", where=where, mend=f"Say {', '.join(SORTS)}."
            )
        if not (0 <= self.length <= MOST_LENGTH and 0 <= self.count <= MOST_COUNT and 0 <= self.width <= 1000):
            raise WorkroomError(
                "So much of it cannot be in a box.",
                where=where,
                mend="Give its length, width and count from nought up.",
            )
        if self.sort in BY_LENGTH and not self.length:
            raise WorkroomError(
                f"How long is the {self.sort}?",
                where=where,
                mend="Give its length, for example 150 or '1.5 m'.",
            )
        if self.sort not in BY_LENGTH and not self.count:
            raise WorkroomError("How many are there?", where=where, mend="Give a count from 1 up.")
