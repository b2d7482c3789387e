"""What a house draft is: a name, its choices, the measures it wants, and the function that draws it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from clothwise.body import Body
from clothwise.cloth import Make
from clothwise.errors import ChoiceError
from clothwise.garment import Garment

Wish = Mapping[str, float | str]  # choice name -> value, complete and in range

FINISHED = "finished_length"
SHORTEST, LONGEST = 8.0, 170.0  # cm: from a small child's skirt to a robe on the floor
INSIDE_LEG, SHORTEST_LEG = "inside leg", 6.0  # cm: the shorts of summer and of sport end so high
MET = 0.01  # cm: a hem is not turned more exactly
ROUNDS = 5  # drawings until a finished length is met; two or three do


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing the sewer may choose. Either words (`options`) or a number in `unit` between low and high.

    default  a word, a number, or None where the draft works it out from the body
    """

    name: str
    meaning: str
    options: tuple[str, ...] = ()
    unit: str = ""
    low: float = 0.0
    high: float = 0.0
    default: float | str | None = None
    changes: str = ""  # what it changes on the pieces
    main: bool = False  # one of the few that make another garment of it: `suggest` tries every option


@dataclass(frozen=True, slots=True)
class HouseDraft:
    """A pattern drawn to a body."""

    name: str  # 'pull_on_trousers'
    title: str
    what: str  # one sentence for the shelf
    choices: tuple[Choice, ...]
    needs: tuple[str, ...]  # measures of body.vocabulary
    least_age: float  # years: the youngest the draft is meant for
    draw: Callable[[Body, Wish], Garment]
    lightest: float = 90.0  # g/m2 of cloth it is meant for: below, it shows through or will not hang
    heaviest: float = 300.0  # g/m2: above, casings and gathers get too thick
    makes: tuple[Make, ...] = ("woven",)  # of cloth it is drafted for
    shortened_by: str = ""  # the choice, in cm, that makes it longer (+) or shorter (-)
    length_shown: str = ""  # the finished measure that tells its length: it may then be asked for in cm
    lacks: Mapping[str, str] = field(default_factory=dict)  # choices it has not on purpose: why, as a sentence
    instead: Mapping[str, str] = field(default_factory=dict)  # figure changes it is not drawn for: what to do

    def __post_init__(self) -> None:
        if self.length_shown:
            object.__setattr__(self, "choices", (*self.choices, _finished_choice(self.length_shown)))

    def choice(self, name: str) -> Choice:
        for choice in self.choices:
            if choice.name == name:
                return choice
        raise ChoiceError(
            self.lacks.get(name, f"'{name}' is not a choice of this draft."),
            where=f"pattern '{self.name}'",
            mend=f"It has: {', '.join(c.name for c in self.choices)}.",
        )

    def settled(self, wish: Mapping[str, float | str]) -> dict[str, float | str]:
        """All choices with the wished values checked and defaults filled; those left to the body stay out.

        Raises ChoiceError naming the choice, what was asked and what is possible.
        """
        for name in wish:
            self.choice(name)
        settled: dict[str, float | str] = {}
        for choice in self.choices:
            value = wish.get(choice.name, choice.default)
            if value is not None:
                settled[choice.name] = _checked(choice, value, self.name)
        return settled

    def make(self, body: Body, wish: Mapping[str, float | str] | None = None) -> Garment:
        """Draw it. Raises MeasureError, ChoiceError or DraftError with one clear sentence."""
        for need in self.needs:
            body[need]
        settled = self.settled(wish or {})
        if FINISHED in settled:
            return self._finished(body, settled)
        return self.draw(body, settled)

    def _finished(self, body: Body, settled: dict[str, float | str]) -> Garment:
        """Drawn as its length word says, then made so much longer that its finished length is met."""
        asked, more = float(settled.pop(FINISHED)), float(settled[self.shortened_by])
        garment, longer = self.draw(body, {**settled, self.shortened_by: 0.0}), 0.0
        usual = garment.finished[self.length_shown]
        for _ in range(ROUNDS):
            off = asked + more - garment.finished[self.length_shown]
            if abs(off) <= MET:
                break
            longer += off
            try:
                garment = self.draw(body, {**settled, self.shortened_by: longer})
            except ChoiceError as no:
                raise ChoiceError(
                    f"The {self.length_shown} cannot be {asked + more:g} cm: {no.what}",
                    where=f"pattern '{self.name}', choice '{FINISHED}'",
                    mend=f"Ask for a length nearer to {usual:.0f} cm, or choose another length word.",
                ) from no
        choices = {**garment.choices, FINISHED: asked, self.shortened_by: more}
        return replace(garment, choices=choices)


def _finished_choice(shown: str) -> Choice:
    return Choice(
        FINISHED,
        f"The {shown}, finished; left open, as the length says. Longer and shorter are added to it.",
        unit="cm",
        low=SHORTEST_LEG if shown == INSIDE_LEG else SHORTEST,
        high=LONGEST,
        changes="hem",
    )


def _checked(choice: Choice, value: float | str, pattern: str) -> float | str:
    where = f"pattern '{pattern}', choice '{choice.name}'"
    if choice.options:
        if value in choice.options:
            return value
        raise ChoiceError(
            f"'{value}' is not one of the options.",
            where=where,
            mend=f"Choose {', '.join(choice.options)}.",
        )
    if isinstance(value, str):
        raise ChoiceError(f"'{value}' is not a number.", where=where, mend=f"Give a number of {choice.unit}.")
    if not choice.low <= value <= choice.high:
        raise ChoiceError(
            f"{value:g} {choice.unit} is out of range.",
            where=where,
            mend=f"Possible is {choice.low:g} to {choice.high:g} {choice.unit}.",
        )
    return value
