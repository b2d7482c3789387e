"""Which cautions stand beside an answer, before anything is printed or cut: children, and what is slept in.

Only what belongs to this very make; the booklet has them all. The words are those of the booklet, so that a
sewer reads the same at both places. Local rules and standards go first, and the words say so.
"""

from __future__ import annotations

from clothwise.garment import Garment
from clothwise.sew.cautions import Caution, has_cords, has_small_parts
from clothwise.sew.language import NATIVE, language
from clothwise.shelf.pattern import BoughtPattern
from clothwise.suggest.wants import Wants

SLEEP = "sleep"
CHILDREN = ("girl", "boy")
BUTTONED = ("button", "snap", "popper", "toggle", "eyelet", "bead")  # on an envelope: what may come off
TIED = frozenset(("tie", "ties", "belt", "sash", "cord", "drawstring"))  # words in names of pieces


def cautions_of(garment: Garment, want: Wants, occasion: str = "") -> tuple[Caution, ...]:
    """Of a house draft. Night clothes are those made first of all to sleep in, or asked for to sleep in."""
    asked_for_night = occasion == SLEEP and SLEEP in want.occasions
    night = want.occasions[0] == SLEEP or asked_for_night
    if not garment.for_child:
        return ("nightwear",) if night else ()
    tied = has_cords(garment) or any(TIED & set(piece.name.split("_")) for piece in garment.pieces)
    found: list[Caution] = ["child nightwear"] if night else []
    found += ["child cords"] if tied else []
    found += ["small parts"] if has_small_parts(garment) else []
    return (*found, *_elastic(any(notion.name == "elastic" for notion in garment.notions)))


def cautions_of_bought(pattern: BoughtPattern, occasion: str = "") -> tuple[Caution, ...]:
    """Of a bought pattern, by what stands on its envelope; what it is worn for is not known."""
    if pattern.figure not in CHILDREN:
        return ("nightwear",) if occasion == SLEEP else ()
    told = " ".join((pattern.name, *pattern.haberdashery)).casefold()
    found: list[Caution] = ["child nightwear"] if occasion == SLEEP else []
    found.append("child cords")  # the envelope does not tell of cords cut from its own cloth
    found += ["small parts"] if any(word in told for word in BUTTONED) else []
    return (*found, *_elastic("elastic" in told))


def _elastic(there: bool) -> tuple[Caution, ...]:
    return ("child elastic",) if there else ()


def caution_words(kinds: tuple[Caution, ...]) -> list[str]:
    """'Small parts: Whatever is sewn on for a small child must not come off ...', one sentence each."""
    said = language(NATIVE)
    keys = [kind.replace(" ", "_") for kind in kinds]
    return [f"{said.say(f'caution.{key}.title')}: {said.say(f'caution.{key}.text')}" for key in keys]
