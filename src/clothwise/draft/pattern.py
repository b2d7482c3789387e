"""What a house draft is: a name, its choices, the measures it wants, and the function that draws it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from clothwise.body import Body
from clothwise.cloth import Make
from clothwise.curve import solve
from clothwise.draft.possible import at_least, at_most
from clothwise.errors import ChoiceError
from clothwise.garment import Garment

Wish = Mapping[str, float | str]  # choice name -> value, complete and in range

FINISHED = "finished_length"
SHORTEST, LONGEST = 8.0, 170.0  # cm: from a small child's skirt to a robe on the floor
INSIDE_LEG, SHORTEST_LEG = "inside leg", 6.0  # cm: the shorts of summer and of sport end so high
MET = 0.01  # cm: a hem is not turned more exactly
ROUNDS = 5  # drawings until a finished length is met; two or three do
BEGIN_AT = (0.0, 10.0, -10.0, 20.0, -20.0, 40.0, -40.0)  # cm: how much longer than the word the first may be
NEAR = MET / 2  # cm: so near is the bound found that a refusal tells


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

        def drawn(longer: float) -> Garment:
            return self.draw(body, {**settled, self.shortened_by: longer})

        def length(longer: float) -> float:
            return drawn(longer).finished[self.length_shown]

        garment, longer = _begun(drawn)
        wanted = asked + more
        for _ in range(ROUNDS):
            off = wanted - garment.finished[self.length_shown]
            if abs(off) <= MET:
                break
            try:
                garment, longer = drawn(longer + off), longer + off
            except ChoiceError as no:
                fits = _nearest(drawn, longer, longer + off)
                nearest = length(fits)
                if (wanted - nearest) * off > 0:
                    raise ChoiceError(
                        f"The {self.length_shown} cannot be {wanted:g} cm: {no.what}",
                        where=f"pattern '{self.name}', choice '{FINISHED}'",
                        mend=self._bound(nearest, more, up_to=off > 0),
                    ) from no
                longer = solve(length, wanted, longer, fits, tolerance=MET)  # the step went too far
                garment = drawn(longer)
        choices = {**garment.choices, FINISHED: asked, self.shortened_by: more}
        return replace(garment, choices=choices)

    def _bound(self, nearest: float, more: float, *, up_to: bool) -> str:
        """The finished length that can be had, where `more` is added to what is asked. [cm]"""
        choice = self.choice(FINISHED)
        beside = f", with the {more:+g} cm added to it" if more else ""
        if not choice.low <= nearest - more <= choice.high:
            nearest, beside = nearest + more, f", with '{self.shortened_by}' at 0"
        cm = nearest - more - (MET if up_to else -MET)
        bound = f"up to {at_most(cm)} cm" if up_to else f"{at_least(cm)} cm or more"
        return f"With these choices {bound} is possible{beside}."


def _begun(drawn: Callable[[float], Garment]) -> tuple[Garment, float]:
    """A first drawing, and how much longer it is than the word says: not at all, unless a choice that goes with
    the asked length (a deep pocket, a long slit, four tiers) does not go with that of the word."""
    refused: ChoiceError | None = None
    for longer in BEGIN_AT:
        try:
            return drawn(longer), longer
        except ChoiceError as no:
            refused = refused or no
    assert refused is not None
    raise refused


def _nearest(drawn: Callable[[float], Garment], fits: float, refused: float) -> float:
    """How much longer it may be drawn, between what can be drawn and what is refused. [cm]"""
    while abs(refused - fits) > NEAR:
        middle = (fits + refused) / 2
        try:
            drawn(middle)
            fits = middle
        except ChoiceError:
            refused = middle
    return fits


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
