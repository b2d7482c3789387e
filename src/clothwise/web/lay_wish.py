"""How the sewer wants a cloth laid: how long to look, how folded, the gap for the blade, where stripes lie.

Lengths in cm. A wish travels to the worker as plain JSON.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from clothwise.errors import LayError
from clothwise.lay.layering import ACROSS, FOLDED, SINGLE, TO_CENTRE, Layering, folds_of, partial_fold
from clothwise.lay.problem import LayProblem
from clothwise.race.racing import LEAST, MOST
from clothwise.ticket.made import BLADE_GAP
from clothwise.web.sheet import Reader

EFFORTS = ("quick", "usual", "thorough")
FOLDS: dict[str, Layering] = {
    "single layer": SINGLE,
    "folded lengthwise": FOLDED,
    "selvedges to the centre": TO_CENTRE,
    "folded crosswise": ACROSS,
}  # asked for by these words; none, and no edge turned in: whichever takes least


@dataclass(frozen=True, slots=True)
class LayWish:
    """What is wished for.

    seconds   to look for by the clock, in place of an effort
    folded    a word of FOLDS; '' with no edge turned in: whichever takes least
    near, far   how deep the cloth lies double along the two selvedges, where an edge is turned in
    bar, stripe   middle of the first one from the cut end, from the near selvedge; None: the lay finds them
    afresh    take the pins out first
    """

    effort: str = "usual"
    seconds: float | None = None
    folded: str = ""
    near: float | None = None
    far: float | None = None
    gap: float = BLADE_GAP
    bar: float | None = None
    stripe: float | None = None
    afresh: bool = False

    @property
    def layering(self) -> Layering | None:
        """The way of folding that is asked for; None: whichever takes least."""
        if self.near is not None or self.far is not None:
            return partial_fold(self.near, self.far)
        return FOLDS.get(self.folded)

    def on(self, problem: LayProblem) -> LayProblem:
        """The problem as it is wished."""
        return placed_on(problem, self.gap, self.bar, self.stripe)


def placed_on(problem: LayProblem, gap: float, bar: float | None, stripe: float | None) -> LayProblem:
    """The problem with that gap for the blade, and its first bar and stripe there."""
    repeat = problem.cloth.repeat
    if repeat is None:
        return replace(problem, gap=gap)
    cloth = replace(problem.cloth, repeat=replace(repeat, bar=bar, stripe=stripe))
    return replace(problem, gap=gap, cloth=cloth)


def wish_typed(form: Mapping[str, Any], who: Reader, problem: LayProblem) -> LayWish:
    """The wish of a form. Raises LayError, LengthError, ClothError for what cannot be done on this cloth."""
    said = {key: str(text).strip() for key, text in form.items()}
    effort, folded = said.get("effort", "usual"), said.get("folded", "")
    if effort not in EFFORTS:
        raise LayError(f"{effort[:20]!r} is no way to lay.", where="lay", mend=f"Choose {', '.join(EFFORTS)}.")
    if folded and folded not in FOLDS:
        raise LayError(f"{folded[:30]!r} is no way to fold.", where="lay", mend=f"Choose {', '.join(FOLDS)}.")

    def length(key: str) -> float | None:
        return who.typed(said[key]) if said.get(key) else None

    gap = length("gap")
    wish = LayWish(
        effort, _seconds(said.get("seconds", "")), folded, length("near"), length("far"),
        BLADE_GAP if gap is None else gap, length("bar"), length("stripe"), said.get("afresh") == "yes",
    )  # fmt: skip
    if folded and wish.layering != FOLDS[folded]:
        raise LayError(
            f"Either {folded}, or an edge turned in.", where="lay: fold", mend="Leave one of them out."
        )
    if wish.layering is not None and wish.layering.name == "partial fold":
        folds_of(wish.layering, problem.cloth.width)  # it refuses a depth that cannot be folded
    wish.on(problem)
    return wish


def _seconds(text: str) -> float | None:
    if not text:
        return None
    try:
        seconds = float(text.removesuffix("s").replace(",", "."))
    except ValueError:
        seconds = 0.0
    if not LEAST <= seconds <= MOST:
        raise LayError(
            f"{text[:20]!r} seconds cannot be looked for.",
            where="lay: seconds",
            mend=f"Give {LEAST:g} to {MOST:g} seconds, or leave it empty.",
        )
    return seconds
