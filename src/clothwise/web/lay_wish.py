"""How the sewer wants a cloth laid: how long to look, how folded, the gap for the blade, where stripes lie.

Lengths in cm. A wish travels to the worker as plain JSON.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
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
class Placing:
    """What decides where pieces may lie, besides cloth and fold; it stays with a lay. [cm, degrees]

    gap           left between pieces for the blade
    bar, stripe   middle of the first one from the cut end, from the near selvedge; None: the lay finds them
    lean          that pieces may lie off their grain, those that match stripes excepted
    either_side   of the cloth may be worn outside
    """

    gap: float = BLADE_GAP
    bar: float | None = None
    stripe: float | None = None
    lean: float = 0.0
    either_side: bool = False

    def on(self, problem: LayProblem) -> LayProblem:
        """The problem as it is wished."""
        cloth, repeat = problem.cloth, problem.cloth.repeat
        if repeat is not None:
            repeat = replace(repeat, bar=self.bar, stripe=self.stripe)
        pieces = tuple(one if one.match else replace(one, lean=self.lean) for one in problem.pieces)
        cloth = replace(cloth, repeat=repeat, two_right_sides=self.either_side)
        return replace(problem, pieces=pieces, gap=self.gap, cloth=cloth)


AS_USUAL = Placing()


@dataclass(frozen=True, slots=True)
class LayWish:
    """What is wished for.

    seconds   to look for by the clock, in place of an effort
    folded    a word of FOLDS; '' with no edge turned in: whichever takes least
    near, far   how deep the cloth lies double along the two selvedges, where an edge is turned in
    afresh    take the pins out first
    """

    effort: str = "usual"
    seconds: float | None = None
    folded: str = ""
    near: float | None = None
    far: float | None = None
    afresh: bool = False
    placing: Placing = AS_USUAL

    @property
    def layering(self) -> Layering | None:
        """The way of folding that is asked for; None: whichever takes least."""
        if self.near is not None or self.far is not None:
            return partial_fold(self.near, self.far)
        return FOLDS.get(self.folded)


def wish_told(asked: Mapping[str, Any]) -> LayWish:
    """The wish in what a worker is asked, as `asdict` told it; what is left out is as usual."""
    said = {one.name: asked[one.name] for one in fields(LayWish) if one.name in asked}
    return LayWish(**{**said, "placing": Placing(**asked.get("placing", {}))})


def wish_typed(
    form: Mapping[str, Any], who: Reader, problem: LayProblem, stands: Placing = AS_USUAL
) -> LayWish:
    """The wish of a form; `stands`: how the lay was placed that it was filled in from.

    Raises  LayError, LengthError, ClothError for what cannot be done on this cloth
    """
    said = {key: str(text).strip() for key, text in form.items()}
    effort, folded = said.get("effort", "usual"), said.get("folded", "")
    if effort not in EFFORTS:
        raise LayError(f"{effort[:20]!r} is no way to lay.", where="lay", mend=f"Choose {', '.join(EFFORTS)}.")
    if folded and folded not in FOLDS:
        raise LayError(f"{folded[:30]!r} is no way to fold.", where="lay", mend=f"Choose {', '.join(FOLDS)}.")

    def length(key: str) -> float | None:
        return who.typed(said[key], stands=getattr(stands, key, None)) if said.get(key) else None

    gap = length("gap")
    placing = Placing(
        BLADE_GAP if gap is None else gap, length("bar"), length("stripe"), _lean(said.get("lean", "")),
        said.get("either_side") == "yes",
    )  # fmt: skip
    afresh, seconds = said.get("afresh") == "yes", _seconds(said.get("seconds", ""))
    wish = LayWish(effort, seconds, folded, length("near"), length("far"), afresh, placing)
    if folded and wish.layering != FOLDS[folded]:
        raise LayError(
            f"Either {folded}, or an edge turned in.", where="lay: fold", mend="Leave one of them out."
        )
    if wish.layering is not None and wish.layering.name == "partial fold":
        folds_of(wish.layering, problem.cloth.width)  # it refuses a depth that cannot be folded
    placing.on(problem)  # it refuses what no piece may do
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


def _lean(text: str) -> float:
    try:
        return float(text.removesuffix("°").replace(",", ".")) if text else 0.0
    except ValueError:
        raise LayError(
            f"{text[:20]!r} is no angle.", where="lay: lean", mend="Give it in degrees, for example 2."
        ) from None
