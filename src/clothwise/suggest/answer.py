"""What `suggest` hands out. Reasons are data; the words are made at the faces."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from clothwise.cloth import Cloth
from clothwise.lay.plan import LayPlan
from clothwise.sew import Minutes
from clothwise.sew.cautions import Caution
from clothwise.shopping.lists import ShoppingLine
from clothwise.ticket import Ticket
from clothwise.ticket.ticket import OtherCloth

ReasonKind = Literal[
    "suits",  # grams: the cloth's weight lies in what the draft is meant for
    "too light",  # grams, wanted: below what the draft is meant for
    "too heavy",  # grams, wanted
    "stands away",  # drape, wanted: stiffer than drawn for; known: measured, kind or weight
    "hangs close",  # drape, wanted, known
    "slack",  # recovery, wanted: it will bag where it is stretched
    "shows through",  # how
    "pile",  # gathered: 1 when the make is gathered
    "on the bias",  # how: grows or steady
    "washing",  # how: hand or dry clean
    "out of season",  # season, worn
    "other occasion",  # asked, for
    "hard",  # steps above the sewer; cloth: 1 when the cloth makes it so
    "in time",  # spare: minutes left of the evening, likely
    "over time",  # over: minutes beyond the evening, likely
    "may run over",  # over: minutes beyond the evening if it goes slowly
    "uses cloth",  # share: of the length, left: cm
    "uses remnant",  # share: of its area
    "draft note",  # text: what the draft changed
]
Speaks = Literal["for", "against", "neither"]
Verdict = Literal["can be made", "with a change", "cannot be made"]


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason with its figures, and how much it counts towards the score (-1 to 1)."""

    kind: ReasonKind
    counts: float
    figures: Mapping[str, float | str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "figures", MappingProxyType(dict(self.figures)))

    @property
    def speaks(self) -> Speaks:
        """For the make, against it, or neither: what only may be is neither, and so is mere advice."""
        if self.kind in ("too light", "too heavy", "over time") or self.counts < 0:
            return "against"
        return "neither" if self.kind in ("may run over", "draft note") else "for"


@dataclass(frozen=True, slots=True)
class Change:
    """The least change of one choice that makes it possible. `by` in the choice's unit, negative is less.

    choice 'from another cloth': value names the pieces, `was` the cloth they are cut from instead
    """

    choice: str
    value: float | str
    by: float
    was: float | str | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """One make that was really drafted, really laid and timed."""

    ticket: Ticket
    title: str
    verdict: Verdict
    score: float  # 0 to 1
    reasons: tuple[Reason, ...]
    plan: LayPlan
    minutes: Minutes
    stop_after: str = ""  # where to leave off if the evening ends first
    changes: tuple[Change, ...] = ()
    look: str = "as drawn"  # how it will hang beside what was drawn, see `suiting.Look`
    to_buy: tuple[ShoppingLine, ...] = ()  # what is not in the haberdashery box
    others: tuple[tuple[OtherCloth, LayPlan], ...] = ()  # what is cut from other cloths, and its lays
    opened_out: bool = False  # the cloth is laid in a single layer
    cautions: tuple[Caution, ...] = ()  # of children and of what is slept in

    @property
    def cloth(self) -> Cloth:
        """What it is cut from, but for `others`."""
        assert self.ticket.cloth is not None
        return self.ticket.cloth

    @property
    def other_plan(self) -> LayPlan | None:
        """The lay of what is cut from another cloth, the first where there are several."""
        return self.others[0][1] if self.others else None

    @property
    def change(self) -> Change | None:
        """The first change, None when it can be made as it is."""
        return self.changes[0] if self.changes else None


@dataclass(frozen=True, slots=True)
class Refusal:
    """Something that cannot be made, and the sentence that says why."""

    pattern: str
    cloth: str
    why: str
