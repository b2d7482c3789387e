"""A bought pattern as plain values, and a finished make with what its wearer says of it.

size       a label of the chart ('14', '12/14', 'M'), smallest first
body chart what the maker means by a size: body measures
finished   what the garment itself measures, printed on the envelope or the pieces
view       one of the garments in an envelope ('A'); '' stands for all of them
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal, get_args

from clothwise.body import Figure
from clothwise.cloth.cloth import Make, Nap
from clothwise.errors import ShelfError

GarmentKind = Literal["top", "shirt", "dress", "skirt", "trousers", "jacket", "coat", "one-piece"]
FitClass = Literal["close", "fitted", "semi-fitted", "loose", "very loose"]
Verdict = Literal["tight", "right", "loose"]  # of a length: tight is too short, loose too long

ALL_VIEWS = ""
USUAL_BUST_ROOM = 5.0  # cm from high bust to bust that most patterns are drawn for; two inches


@dataclass(frozen=True, slots=True)
class Span:
    """One cell: a length, or a range when `low` and `high` differ. [cm]"""

    low: float
    high: float

    @property
    def middle(self) -> float:
        return (self.low + self.high) / 2


Row = tuple[Span | None, ...]  # one cell to a size; None: the chart does not say


@dataclass(frozen=True, slots=True)
class ClothRow:
    """One row of the cloth table: how much of a cloth of this width, for each size. [cm]

    nap      'one-way' where the row is for cloth with a nap or a print that stands
    kind     as printed: 'main', 'lining', 'contrast'
    """

    width: float
    lengths: Row
    nap: Nap = "two-way"
    kind: str = "main"
    view: str = ALL_VIEWS


@dataclass(frozen=True, slots=True)
class NamedPiece:
    """One piece as listed. `widest`: the least width of cloth that holds it, opened out. [cm]

    outlines   cut outlines by size where they are known: closed, cm, grain upwards; half when on the fold,
               its fold edge where x is least
    """

    name: str
    count: int = 1
    on_fold: bool = False
    cloth: str = "main"
    widest: float | None = None
    outlines: Mapping[str, tuple[tuple[float, float], ...]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "outlines", MappingProxyType(dict(self.outlines)))


@dataclass(frozen=True, slots=True)
class BoughtPattern:
    """What is known of one bought pattern. Every table may have gaps.

    bust_room      bust less high bust that it is drawn for [cm]
    least_stretch  of the cloth it asks for, as a share of one: 0.25
    free           levels that hang free of the body and must not decide the size
    pull_on        no opening at all: it goes on over the head or the hips
    slits          length of the slit, placket or zip at an opening [cm], by opening
    elastic        level names drawn in by elastic
    minutes        sewing time as the maker states it
    """

    name: str
    sizes: tuple[str, ...]
    figure: Figure = "woman"
    garment: GarmentKind = "dress"
    fit_class: FitClass = "semi-fitted"
    make: Make = "woven"
    body: Mapping[str, Row] = field(default_factory=dict)
    finished: Mapping[str, Mapping[str, Row]] = field(default_factory=dict)  # by view, then by level
    cloth: tuple[ClothRow, ...] = ()
    pieces: tuple[NamedPiece, ...] = ()
    bust_room: float = USUAL_BUST_ROOM
    least_stretch: float | None = None
    free: tuple[str, ...] = ()
    pull_on: bool = False
    slits: Mapping[str, float] = field(default_factory=dict)
    elastic: tuple[str, ...] = ()
    recommended: tuple[str, ...] = ()  # cloths, as printed
    haberdashery: tuple[str, ...] = ()
    minutes: float | None = None
    skill: str = ""
    kept: str = ""
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for name in ("body", "slits"):
            object.__setattr__(self, name, MappingProxyType(dict(getattr(self, name))))
        views = {view: MappingProxyType(dict(rows)) for view, rows in self.finished.items()}
        object.__setattr__(self, "finished", MappingProxyType(views))
        self._refuse_nonsense()

    @property
    def views(self) -> tuple[str, ...]:
        """The views that have figures of their own, in order."""
        named = [*self.finished, *(row.view for row in self.cloth)]
        return tuple(dict.fromkeys(view for view in named if view != ALL_VIEWS))

    def finished_of(self, view: str) -> Mapping[str, Row]:
        """Finished measures of one view; what is given for all views stands where the view is silent."""
        return {**self.finished.get(ALL_VIEWS, {}), **self.finished.get(view, {})}

    def rows_of_cloth(self, view: str, kind: str = "main") -> tuple[ClothRow, ...]:
        """The rows of the cloth table that hold for a view."""
        return tuple(row for row in self.cloth if row.kind == kind and row.view in (ALL_VIEWS, view))

    def _refuse_nonsense(self) -> None:
        where = f"pattern '{self.name}'"
        if not self.sizes or len(set(self.sizes)) != len(self.sizes):
            raise ShelfError(
                "It has no sizes." if not self.sizes else "Two of its sizes have the same label.",
                where=f"{where}: sizes",
                mend="Name each size once, smallest first; a pattern of one size has one, 'one size'.",
            )
        rows = [("body chart", name, row) for name, row in self.body.items()]
        rows += [("finished", name, row) for view in self.finished.values() for name, row in view.items()]
        rows += [("cloth", f"{row.width:g} cm wide", row.lengths) for row in self.cloth]
        for table, name, row in rows:
            if len(row) != len(self.sizes):
                raise ShelfError(
                    f"There are {len(row)} figures for {len(self.sizes)} sizes.",
                    where=f"{where}: {table}, {name.replace('_', ' ')}",
                    mend="Give one figure to each size, and '-' where there is none.",
                )
        for what, value, known in (
            ("garment", self.garment, get_args(GarmentKind)),
            ("fit class", self.fit_class, get_args(FitClass)),
            ("figure", self.figure, get_args(Figure)),
            ("make", self.make, get_args(Make)),
        ):
            if value not in known:
                raise ShelfError(
                    f"'{value}' is no {what}.", where=f"{where}: {what}", mend=f"Say {', '.join(known)}."
                )


@dataclass(frozen=True, slots=True)
class Judgement:
    """What the wearer says of one level of a finished make.

    ease   of the make at this level, as worn: finished less body, in the round or along the length [cm]
    """

    level: str
    ease: float
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class FinishedMake:
    """A garment that was made and worn. `name` tells it from others; `sizes` says which size was cut where."""

    name: str
    person: str
    pattern: str
    fit_class: FitClass
    make: Make = "woven"  # of its cloth: what one likes in a knit tells nothing of a woven
    sizes: Mapping[str, str] = field(default_factory=dict)
    judgements: tuple[Judgement, ...] = ()
    made_on: str = ""  # ISO date
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "sizes", MappingProxyType(dict(self.sizes)))
