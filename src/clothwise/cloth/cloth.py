"""One length of cloth in the cupboard: a whole length with straight ends, or a remnant of any shape."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, Literal, get_args

from clothwise.cloth.shape import Outline, area_of, check_flaw, check_outline, scaled
from clothwise.errors import ClothError

Nap = Literal["none", "one-way", "two-way"]
Make = Literal["woven", "knit"]
SeeThrough = Literal["", "opaque", "shows against light", "sheer"]
Season = Literal["spring", "summer", "autumn", "winter"]
SEASONS: tuple[str, ...] = get_args(Season)

MOST_GRAMS = 3000.0  # g/m2: a heavy carpet; beyond it somebody typed the wrong unit
LONGEST = 100_000.0  # cm
MOST_SHARE = 3.0  # of one: a cloth that pulls out to four times its length; none does


@dataclass(frozen=True, slots=True)
class Cloth:
    """Lengths in cm, shares as fractions of one. What is None or empty was not told: `kinds.facts` fills it in.

    width           usable, selvedge to selvedge less what cannot be used
    length          along the selvedge
    stretch_across  how much longer the cloth grows across when pulled by hand: 0.25 = 25 %
    recovery        share of that stretch it goes back by itself
    drape           drape coefficient: 0.3 falls softly, 0.9 stands like card
    shrinkage       expected loss of length in the first wash; 0 once washed
    nap             'one-way': all pieces point one way; 'two-way': up or down; 'none': any side up too
    print_one_way   a print that stands upright: laid like a nap
    repeat_along, repeat_across  of a pattern that is matched; 0: none
    repeat_even     the pattern looks the same turned upside down
    seasons         when it is worn; empty: as its kind
    outline         of a remnant, washed or not as the cloth is: x along the selvedge, y across, from 0, 0.
                    Its extent is length and width
    flaws           outlines of stains, holes, fades: nothing is cut there
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
    recovery: float | None = None
    drape: float | None = None
    see_through: SeeThrough = ""
    print_one_way: bool = False
    repeat_along: float = 0.0
    repeat_across: float = 0.0
    repeat_even: bool = True
    seasons: tuple[str, ...] = ()
    outline: Outline = ()
    flaws: tuple[Outline, ...] = ()

    def __post_init__(self) -> None:
        for what, value in (("width", self.width), ("length", self.length)):
            if not 0 < value < LONGEST:
                raise ClothError(
                    f"A {what} of {value:g} cm is not a cloth.",
                    where=self._at(what),
                    mend="Give the usable width and the length in centimetres, for example 140 and 200.",
                )
        for what, share, most in (
            ("stretch across", self.stretch_across, MOST_SHARE),
            ("stretch along", self.stretch_along, MOST_SHARE),
            ("shrinkage", self.shrinkage, 0.5),
        ):
            if not 0 <= share <= most:
                raise ClothError(
                    f"A {what} of {share:g} is not possible.",
                    where=self._at(what),
                    mend="Give it as a share of one: 0.25 when 10 cm pull out to 12.5 cm.",
                )
        self._check_words_and_amounts()
        if self.outline:
            check_outline(self.outline, self.length, self.width, self._at("outline"))
        for flaw in self.flaws:
            check_flaw(flaw, self.length, self.width, self._at("flaws"))

    def _check_words_and_amounts(self) -> None:
        for what, amount, most, unit in (
            ("weight", self.grams_per_m2, MOST_GRAMS, " g/m2"),
            ("price", self.price_per_m, LONGEST, " a metre"),
            ("recovery", self.recovery, 1.0, ""),
            ("drape", self.drape, 1.0, ""),
            ("repeat along", self.repeat_along, LONGEST, " cm"),
            ("repeat across", self.repeat_across, LONGEST, " cm"),
        ):
            if amount is not None and not 0 <= amount <= most:
                raise ClothError(
                    f"A {what} of {amount:g}{unit} is not possible.",
                    where=self._at(what),
                    mend=f"Give 0 to {most:g}{unit}, or leave it out.",
                )
        for what, word, known in (
            ("make", self.make, get_args(Make)),
            ("nap", self.nap, get_args(Nap)),
            ("see through", self.see_through, get_args(SeeThrough)),
            *(("season", season, SEASONS) for season in self.seasons),
        ):
            if word not in known:
                raise ClothError(
                    f"'{word}' is no {what}.",
                    where=self._at(what),
                    mend=f"Say {', '.join(word for word in known if word)}.",
                )

    def _at(self, what: str) -> str:
        return f"cloth '{self.name}': {what}"

    @property
    def usable_length(self) -> float:
        """What is left after the first wash. [cm]"""
        return self.length * self._kept_along

    @property
    def usable_width(self) -> float:
        """What is left after the first wash, taking half the lengthwise loss across (trade knowledge). [cm]"""
        return self.width * self._kept_across

    @property
    def usable_outline(self) -> Outline:
        """The remnant's outline after the first wash; empty for a whole length. [cm]"""
        return scaled(self.outline, self._kept_along, self._kept_across)

    @property
    def usable_flaws(self) -> tuple[Outline, ...]:
        """The flaws where they lie after the first wash. [cm]"""
        return tuple(scaled(flaw, self._kept_along, self._kept_across) for flaw in self.flaws)

    @property
    def usable_area_cm2(self) -> float:
        """What can be cut from at most, after the first wash. [cm2]"""
        if not self.outline and not self.flaws:
            return self.usable_length * self.usable_width
        return area_of(self.outline, self.flaws, self.length, self.width) * self._kept_along * self._kept_across

    @property
    def laid_nap(self) -> Nap:
        """The nap as the lay must keep it: a print or a pattern that stands upright counts as one-way."""
        uneven = (self.repeat_along or self.repeat_across) and not self.repeat_even
        return "one-way" if self.print_one_way or uneven else self.nap

    @property
    def remnant(self) -> bool:
        """Whether it has a shape of its own or flaws to keep clear of."""
        return bool(self.outline or self.flaws)

    @property
    def _kept_along(self) -> float:
        return 1 - (0 if self.washed else self.shrinkage)

    @property
    def _kept_across(self) -> float:
        return 1 - (0 if self.washed else self.shrinkage / 2)

    def after_wash(self) -> Cloth:
        """The same cloth washed: it has its usable size, and shrinks no more."""
        if self.washed:
            return self
        return replace(
            self,
            washed=True,
            width=self.usable_width,
            length=self.usable_length,
            outline=self.usable_outline,
            flaws=self.usable_flaws,
        )

    def changed(self, **changes: Any) -> Cloth:
        """With these fields changed; the outline's extent leads length and width."""
        return replace(self, **changes)
