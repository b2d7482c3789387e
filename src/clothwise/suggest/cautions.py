"""Cautions beside the answers of an evening. What decides, and every word, is that of the booklet, so that a
sewer reads the same at both places. Local rules and standards go first, and the words say so.
"""

from __future__ import annotations

from clothwise.cloth import Cloth
from clothwise.garment import Garment
from clothwise.sew.cautions import Caution, burns, foremost
from clothwise.sew.language import NATIVE, language
from clothwise.shelf.pattern import BoughtPattern
from clothwise.suggest.wants import Wants

SLEEP = "sleep"
CHILDREN = ("girl", "boy")
BUTTONED = ("button", "snap", "popper", "toggle", "eyelet", "bead")  # on an envelope: what may come off


def cautions_of(garment: Garment, cloth: Cloth, want: Wants, occasion: str = "") -> tuple[Caution, ...]:
    """Of a house draft; for the night too where it is asked for to sleep in, and may be."""
    return foremost(garment, cloth, slept_in=occasion == SLEEP and SLEEP in want.occasions)


def cautions_of_bought(pattern: BoughtPattern, cloth: Cloth, occasion: str = "") -> tuple[Caution, ...]:
    """Of a bought pattern, by what stands on its envelope; what it is worn for is not known."""
    if pattern.figure not in CHILDREN:
        return ("nightwear",) if occasion == SLEEP or burns("", cloth) else ()
    told = " ".join((pattern.name, *pattern.haberdashery)).casefold()
    found: list[Caution] = ["child nightwear"] if occasion == SLEEP else []
    found.append("child cords")  # the envelope does not tell of cords cut from its own cloth
    found += ["small parts"] if any(word in told for word in BUTTONED) else []
    found += ["child elastic"] if "elastic" in told else []
    return tuple(found)


def caution_words(kinds: tuple[Caution, ...]) -> list[str]:
    """'Small parts: Whatever is sewn on for a small child must not come off ...', one sentence each."""
    said = language(NATIVE)
    keys = [kind.replace(" ", "_") for kind in kinds]
    return [f"{said.say(f'caution.{key}.title')}: {said.say(f'caution.{key}.text')}" for key in keys]
