"""The answer to 'which size?': values with reasons, no sentences. Lengths in cm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from clothwise.shelf.doubts import ChartDoubt
from clothwise.size.getting_in import Elastic, Passage
from clothwise.size.growth import Growing

Confidence = Literal["sure", "likely", "a guess", "cannot say"]
AlterationKind = Literal["bust room", "let out", "take in", "lengthen", "shorten", "redraw beyond the chart"]
ReasonKind = Literal[
    "base by high bust", "high bust not taped", "equals the chart", "between sizes", "off the chart",
    "too far off", "hangs free", "unwearable below", "straight serves", "likes", "wish", "no finished measure",
    "no chart", "level missing", "not measured", "estimated", "tape is old", "cloth stretches less",
    "cloth does not stretch", "knit for a woven", "stretch unknown", "intends little", "drop is large",
    "jump too wide", "gap filled", "no level at all", "one size", "size by height", "unwearable",
    "other figure", "cloth stretches more", "wish too far", "one size unmeasured",
    "drawn in",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason as data. Which figures it holds depends on its kind."""

    kind: ReasonKind
    figures: Mapping[str, float | str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "figures", MappingProxyType(dict(self.figures)))


@dataclass(frozen=True, slots=True)
class EaseOfSize:
    """What one size gives at one level. `printed`: from finished measures of the envelope, not assumed."""

    size: str
    ease: float
    finished: float
    chart: float
    on_chart: bool
    printed: bool


@dataclass(frozen=True, slots=True)
class LevelAdvice:
    """One level: what she measures, what each size gives, and the one to cut there.

    measured   how the body's measure is known; body: for the bust, what the size was told by
    wanted     intended and liked brought together; judged: finished makes that it rests on
    between    how far along from `size` to the next its chart would put her; 0: just on it
    free       hangs free of the body: it did not take part but for its floor
    """

    level: str
    body: float
    measured: str
    intended: float
    wanted: float
    floor: float
    judged: int
    eases: tuple[EaseOfSize, ...]
    size: str
    ease: float
    free: bool
    between: float
    printed: bool
    charted: bool


@dataclass(frozen=True, slots=True)
class BlendStep:
    """From one size to the next: between which levels, over what length, by how much in the round. [cm]"""

    upper: str
    lower: str
    from_size: str
    to_size: str
    over: float
    by: float


@dataclass(frozen=True, slots=True)
class Alteration:
    """A change beyond the chart: `by` in all, shared over `places` of `each`. [cm]"""

    kind: AlterationKind
    level: str
    by: float
    places: int = 1
    each: float = 0.0
    figures: Mapping[str, float | str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "figures", MappingProxyType(dict(self.figures)))


@dataclass(frozen=True, slots=True)
class LengthAdvice:
    """One length: the paper's against hers. [cm]

    body      hers; 0 for the garment's own length, which no measure tells
    garment   finished or charted length of the size that is cut; wanted: what it should be
    by        lengthen when above nothing, shorten when below; 0 where it is not worth a change
    intended  finished less chart; eases: what each size has over her measure
    """

    level: str
    body: float
    size: str
    garment: float
    wanted: float
    by: float
    printed: bool
    judged: int
    intended: float = 0.0
    eases: tuple[EaseOfSize, ...] = ()


@dataclass(frozen=True, slots=True)
class Advice:
    """Which size to cut, and why.

    single      the best when all is cut in one size; '' when none can be told
    blend       size by level, top down; equal to `single` throughout when no blend is better
    cut         what is recommended of the two
    """

    person: str
    pattern: str
    view: str
    cloth: str
    single: str
    single_wearable: bool
    blend: Mapping[str, str]
    steps: tuple[BlendStep, ...]
    cut: Literal["single", "blend", "nothing"]
    levels: tuple[LevelAdvice, ...]
    lengths: tuple[LengthAdvice, ...]
    alterations: tuple[Alteration, ...]
    passages: tuple[Passage, ...]
    elastic: Elastic | None  # of a waist drawn in by elastic
    growing: Growing | None
    reasons: tuple[Reason, ...]
    doubts: tuple[ChartDoubt, ...]
    confidence: Confidence

    def __post_init__(self) -> None:
        object.__setattr__(self, "blend", MappingProxyType(dict(self.blend)))

    @property
    def sizes(self) -> Mapping[str, str]:
        """Size to cut by level, as recommended; empty when nothing can be told."""
        if self.cut == "blend":
            return self.blend
        return {one.level: self.single for one in self.levels} if self.cut == "single" else {}

    def level(self, name: str) -> LevelAdvice:
        """The advice of one level; KeyError when it took no part."""
        return {one.level: one for one in self.levels}[name]

    def reason(self, kind: ReasonKind) -> Reason | None:
        """The first reason of a kind."""
        return next((reason for reason in self.reasons if reason.kind == kind), None)
