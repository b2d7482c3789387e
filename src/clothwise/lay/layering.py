"""How the cloth lies on the table for cutting, and where that puts its folds.

Right sides lie together. Lengthwise folds run along x; the crosswise fold lies across, at x = line.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clothwise.errors import LayError
from clothwise.tolerance import SAME_POINT

LayeringName = Literal[
    "single layer", "folded lengthwise", "selvedges to the centre", "partial fold", "folded crosswise"
]


@dataclass(frozen=True, slots=True)
class Layering:
    """How the cloth lies on the table.

    depth  partial fold: how deep the cloth lies double along the near selvedge, y = 0 [cm];
           folded crosswise: how long it lies double from the cut end [cm]
    far    partial fold: how deep it lies double along the far selvedge [cm]
    """

    name: LayeringName
    depth: float | None = None
    far: float | None = None

    def __str__(self) -> str:
        depths = [f"{depth:.1f} cm" for depth in (self.depth, self.far) if depth is not None]
        if self.name == "folded crosswise" and depths:
            return f"{self.name}, {depths[0]} double"
        if self.name == "partial fold" and len(depths) == 2:
            return f"both selvedges folded in, {depths[0]} and {depths[1]} double"
        return f"{self.name} of {depths[0]}" if depths else self.name


SINGLE = Layering("single layer")
FOLDED = Layering("folded lengthwise")
TO_CENTRE = Layering("selvedges to the centre")
ACROSS = Layering("folded crosswise")  # asked for; where the fold lies is found


def partial_fold(depth: float | None = None, far: float | None = None) -> Layering:
    """One selvedge, or both, turned in so far that the doubled part is so deep; the rest lies single. [cm]"""
    return Layering("partial fold", depth, far)


def crosswise(line: float) -> Layering:
    """The cut end folded over, so that the first `line` cm lie double; the rest lies single."""
    return Layering("folded crosswise", line)


@dataclass(frozen=True, slots=True)
class Fold:
    """On the opened cloth: the bands of `depth` on the two sides of the fold line lie on each other. [cm]

    line   y of the fold; x of it when it is `across` the cloth
    """

    line: float
    depth: float
    across: bool = False


def folds_of(layering: Layering, width: float) -> tuple[Fold, ...]:
    """Fold lines on the opened cloth, right sides together.

    Raises  LayError when the cloth cannot be folded so
    """
    if layering.name == "folded lengthwise":
        return (Fold(width / 2, width / 2),)
    if layering.name == "selvedges to the centre":
        return (Fold(width / 4, width / 4), Fold(3 * width / 4, width / 4))
    if layering.name == "partial fold":
        return _partial(layering, width)
    if layering.name == "folded crosswise":
        line = layering.depth or 0.0
        if line <= 0:
            raise LayError(
                "A crosswise fold needs a place.", where="layering", mend="Give how much lies double."
            )
        return (Fold(line, line, across=True),)
    return ()


def _partial(layering: Layering, width: float) -> tuple[Fold, ...]:
    given = [depth for depth in (layering.depth, layering.far) if depth is not None]
    near, far = layering.depth or 0.0, layering.far or 0.0
    if not given or any(not depth > 0 for depth in given) or 2 * (near + far) > width + SAME_POINT:
        deep = " and ".join(f"{depth:g} cm" for depth in given) or "0 cm"
        raise LayError(
            f"A fold {deep} deep cannot be made in cloth {width:g} cm wide.",
            where="layering",
            mend=f"Fold between 0 and {width / 2:g} cm deep, both folds together.",
        )
    folds = (Fold(near, near),) if near else ()
    return (*folds, Fold(width - far, far)) if far else folds
