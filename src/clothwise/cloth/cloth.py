"""One length of cloth in the cupboard."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clothwise.errors import ClothError

Nap = Literal["none", "one-way", "two-way"]
Make = Literal["woven", "knit"]


@dataclass(frozen=True, slots=True)
class Cloth:
    """A whole length with straight ends. Lengths in cm, shares as fractions of one.

    width           usable, selvedge to selvedge less what cannot be used
    length          along the selvedge
    stretch_across  how much longer the cloth grows across when pulled by hand: 0.25 = 25 %
    shrinkage       expected loss of length in the first wash; 0 once washed
    nap             'one-way': all pieces point one way; 'two-way': up or down; 'none': any side up too
    """

    name: str
    width: float
    length: float
    make: Make = "woven"
    kind: str = ""  # a kind of cloth.kinds, for example 'linen'
    fibre: str = ""
    grams_per_m2: float = 150.0
    stretch_across: float = 0.0
    stretch_along: float = 0.0
    nap: Nap = "two-way"
    shrinkage: float = 0.0
    washed: bool = True
    colour: str = ""
    price_per_m: float | None = None

    def __post_init__(self) -> None:
        for what, value in (("width", self.width), ("length", self.length)):
            if not 0 < value < 100_000:
                raise ClothError(
                    f"A {what} of {value:g} cm is not a cloth.",
                    where=f"cloth '{self.name}': {what}",
                    mend="Give the usable width and the length in centimetres, for example 140 and 200.",
                )
        for what, share in (
            ("stretch across", self.stretch_across),
            ("stretch along", self.stretch_along),
            ("shrinkage", self.shrinkage),
        ):
            if not 0 <= share <= 3:
                raise ClothError(
                    f"A {what} of {share:g} is not possible.",
                    where=f"cloth '{self.name}': {what}",
                    mend="Give it as a share of one: 0.25 when 10 cm pull out to 12.5 cm.",
                )

    @property
    def usable_length(self) -> float:
        """What is left after the first wash. [cm]"""
        return self.length * (1 - (0 if self.washed else self.shrinkage))

    @property
    def usable_width(self) -> float:
        """What is left after the first wash, taking half the lengthwise loss across (trade knowledge). [cm]"""
        return self.width * (1 - (0 if self.washed else self.shrinkage / 2))
