"""What is asked of a bought pattern's size besides who and from what: ease wished for, longer or shorter, and a
cloth that is not in the cupboard, by its width, nap and shrinkage. As typed, and in cm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, get_args

from clothwise.cloth.cloth import Nap
from clothwise.errors import ShelfError
from clothwise.shelf.pattern import BoughtPattern
from clothwise.size.levels_held import NEEDED, ROUND
from clothwise.web.sheet import Reader

NAPS: tuple[Nap, ...] = get_args(Nap)
USUAL_NAP: Nap = "two-way"
MOST_SHRINKAGE = 50.0  # in a hundred: no cloth loses half of itself


@dataclass(frozen=True, slots=True)
class SizeAsked:
    """In cm; shrinkage as a share of one, width None: no cloth is told of."""

    longer: float = 0.0
    ease: Mapping[str, float] = field(default_factory=dict)
    width: float | None = None
    nap: Nap = USUAL_NAP
    shrinkage: float = 0.0

    @property
    def answered_with(self) -> dict[str, Any]:
        """As `size.answered` takes it."""
        cloth = {"width": self.width, "nap": self.nap, "shrinkage": self.shrinkage}
        return {"hem": self.longer, "wishes": self.ease, **cloth}


def wishable(pattern: BoughtPattern) -> tuple[str, ...]:
    """The levels at which ease may be wished for, from the top down: those its charts tell of."""
    known = {*pattern.body, *(name for rows in pattern.finished.values() for name in rows)}
    levels = NEEDED[pattern.garment] if pattern.garment in ("skirt", "trousers") else ROUND
    return tuple(name for name in levels if name in known)


def size_asked(pattern: BoughtPattern, asked: Mapping[str, str], who: Reader) -> SizeAsked:
    """Reads a form's `longer`, `ease.LEVEL`, `width`, `nap`, `shrinks`; what is left empty is not asked.

    Raises  LengthError, ShelfError for what cannot be read
    """
    typed = {key: text.strip() for key, text in asked.items()}
    width = who.typed(typed["width"]) if typed.get("width") else None
    if typed.get("cloth") and (width is not None or typed.get("shrinks")):
        raise ShelfError(
            "A cloth of the cupboard has its own width and shrinkage.",
            where="width, first wash",
            mend="Leave both empty, or choose no cloth of the cupboard.",
        )
    nap = typed.get("nap") or USUAL_NAP
    if nap not in NAPS:
        raise ShelfError(f"{nap[:20]!r} is no nap.", where="nap", mend=f"Choose {', '.join(NAPS)}.")
    return SizeAsked(*_wishes(pattern, typed, who, {}), width, nap, _shrinkage(typed.get("shrinks", "")))


def wished(
    pattern: BoughtPattern,
    asked: Mapping[str, str],
    who: Reader,
    before: Mapping[str, float] = MappingProxyType({}),
) -> SizeAsked:
    """The same without a cloth. `before`: what was wished until now, by the same keys."""
    return SizeAsked(*_wishes(pattern, {key: text.strip() for key, text in asked.items()}, who, before))


def _wishes(
    pattern: BoughtPattern, typed: Mapping[str, str], who: Reader, before: Mapping[str, float]
) -> tuple[float, dict[str, float]]:
    def signed(key: str) -> float:
        return who.typed(typed[key], allow_negative=True, stands=before.get(key))

    ease = {name: signed(f"ease.{name}") for name in wishable(pattern) if typed.get(f"ease.{name}")}
    return signed("longer") if typed.get("longer") else 0.0, ease


def _shrinkage(text: str) -> float:
    plain = text.removesuffix("%").strip().replace(",", ".")
    try:
        lost = float(plain) if plain else 0.0
    except ValueError:
        lost = -1.0
    if not 0 <= lost <= MOST_SHRINKAGE:
        raise ShelfError(
            f"A cloth does not lose {text[:20]!r} in the wash.",
            where="first wash",
            mend="Write what it loses in a hundred, for example 5.",
        )
    return lost / 100
