"""The longest that a make can be on a cloth: drawn for each length asked by `lay.answers`. Lengths in cm."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.cloth import Cloth
from clothwise.errors import ChoiceError, ClothError, DraftError
from clothwise.lay.answers import longer_words
from clothwise.lay.answers import longest as longest_lay
from clothwise.lay.nofit import NoFits
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.suggest.candidate import Make
from clothwise.suggest.near import Redraw
from clothwise.ticket.made import BLADE_GAP, lay_cloth

STEP = 0.5  # cm: nobody hems closer


@dataclass(frozen=True, slots=True)
class Longest:
    """`by`: the draft's own lengthening (+) or shortening (-); `capped`: the draft itself goes no longer.

    why  a step longer is not possible
    """

    make: Make
    by: float
    plan: LayPlan
    capped: bool
    why: str


def longest(make: Make, cloth: Cloth, *, effort: str = "quick", known: NoFits | None = None) -> Longest:
    """The greatest length at which every piece goes onto the cloth, to half a centimetre.

    Raises  ChoiceError: the draft has no length to choose; ClothError: it does not go on however short
    """
    draft, redraw = make.draft, Redraw.new()
    if not draft.shortened_by:
        raise ChoiceError(f"{draft.title} has no length to choose.", where=f"pattern '{draft.name}'")
    choice = draft.choice(draft.shortened_by)

    def drawn(by: float) -> Make:
        other = redraw(make, choice.name, by)
        if other is None or not other.sound:
            raise DraftError(f"It cannot be drawn {abs(by):g} cm {'longer' if by > 0 else 'shorter'}.")
        return other

    def pieces(by: float) -> tuple[LayPiece, ...]:
        return drawn(by).pieces_on(cloth)

    found = longest_lay(
        pieces,
        lay_cloth(cloth),
        shortest=choice.low,
        most=choice.high,
        step=STEP,
        gap=BLADE_GAP,
        effort=effort,
        known=known,
        says=longer_words,
    )
    if found.length is None or found.plan is None:
        raise ClothError(
            f"{draft.title} does not go onto this cloth, however short.",
            where=f"cloth '{cloth.name}', {cloth.usable_width:g} x {cloth.usable_length:g} cm after washing",
            mend="Take another cloth, or ask `clothwise suggest` what does.",
        )
    return Longest(drawn(found.length), found.length, found.plan, found.length >= choice.high, found.reason)
