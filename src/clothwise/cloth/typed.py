"""A cloth from what a person typed, field by field: at the command line and on the page.

What is not said is taken from the kind, where a kind is named. Lengths may carry a unit ('1.8 m', '58 in');
shares are per cent ('25 %'), or the reading of a ruler ('10 to 12.5').
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from clothwise.cloth.cloth import SEASONS, Cloth
from clothwise.cloth.home_tests import drape_by_disc, drape_by_edge, recovery, stretch
from clothwise.cloth.kinds import Kind, kind_named
from clothwise.cloth.shape import read_outline, settled, without
from clothwise.errors import ClothError, LengthError
from clothwise.units import INCH, Unit, parse_length

INCHES = ("in", "inch", "inches")
OUNCE = 33.9  # g/m2 in an ounce per square yard
YES, NO = ("yes", "true", "1"), ("no", "false", "0")
WORDS = ("fibre", "colour", "make", "nap", "see_through")
FIELDS = (
    "kind", "width", "length", "outline", "cut_outs", "flaws", *WORDS, "weight", "stretch_across",
    "stretch_along", "recovery", "drape", "one_way_print", "repeat_along", "repeat_across", "uneven_repeat",
    "shrinkage", "washed", "price", "seasons",
)  # fmt: skip
LISTS = ("cut_outs", "flaws", "seasons")
_NUMBER = re.compile(r"\s*([0-9]+(?:[.,][0-9]+)?)\s*([a-z/²2%]*(?: ?m2| ?m²)?)\s*$")
NO_WORD = "none"  # typed to take a thing back: no outline, no price


def cloth_typed(
    name: str, typed: Mapping[str, str | Sequence[str]], *, unit: Unit = "cm", before: Cloth | None = None
) -> Cloth:
    """The cloth of these fields; a changed one keeps what is not typed anew.

    Raises  ClothError, LengthError: which field, what is wrong with it, how to write it
    """
    where = f"cloth '{name}'"
    for field in typed:
        if field not in FIELDS:
            raise ClothError(f"A cloth has no '{field}'.", where=where, mend=f"It has: {', '.join(FIELDS)}.")
    one = {field: value for field, value in typed.items() if isinstance(value, str) and value.strip()}
    many = {field: _several(typed.get(field, ())) for field in LISTS}
    kind = kind_named(one["kind"]) if "kind" in one else None
    given = {
        **_usual(kind, before),
        **_plain(one, where),
        **_lengths(one, unit, where),
        **_shares(one, unit, where),
    }
    if many["seasons"]:
        given["seasons"] = tuple(SEASONS) if many["seasons"] == ["all"] else tuple(many["seasons"])
    given.update(_shape(one, many, given, before, unit, where))
    if before is not None:
        return replace(before, **given)
    for field in ("width", "length"):
        if field not in given:
            raise ClothError(
                f"How {'wide' if field == 'width' else 'long'} is it?",
                where=f"{where}: {field}",
                mend=f"Give --{field} in cm, or --outline with the corner points of a remnant.",
            )
    return Cloth(name=name, **given)


def _several(value: str | Sequence[str]) -> list[str]:
    parts = re.split(r"[,;]", value) if isinstance(value, str) else list(value)
    return [part.strip() for part in parts if part.strip()]


def _usual(kind: Kind | None, before: Cloth | None) -> dict[str, Any]:
    """What the kind tells; of a cloth that is changed, only when its kind changes."""
    if kind is None or (before is not None and before.kind == kind.name):
        return {}
    usual: dict[str, Any] = {
        "kind": kind.name, "make": kind.make, "fibre": kind.fibre, "grams_per_m2": kind.grams,
        "shrinkage": kind.shrinkage, "nap": "one-way" if kind.surface == "pile" else "two-way",
    }  # fmt: skip
    if kind.make == "knit":
        usual |= {"stretch_across": kind.stretch_across, "stretch_along": kind.stretch_along}
    return usual


def _plain(one: Mapping[str, str], where: str) -> dict[str, Any]:
    found: dict[str, Any] = {field: one[field].strip() for field in WORDS if field in one}
    for field, into, turned in (
        ("washed", "washed", False),
        ("one_way_print", "print_one_way", False),
        ("uneven_repeat", "repeat_even", True),
    ):
        if field in one:
            found[into] = _yes(one[field], f"{where}: {field}") != turned
    if "weight" in one:
        found["grams_per_m2"] = _weight(one["weight"], f"{where}: weight")
    if "price" in one:
        at = f"{where}: price"
        found["price_per_m"] = (
            None if one["price"].strip() == NO_WORD else _number(one["price"], at, "12.50")[0]
        )
    return found


def _lengths(one: Mapping[str, str], unit: Unit, where: str) -> dict[str, float]:
    found = {}
    for field in ("width", "length", "repeat_along", "repeat_across"):
        if field in one:
            nothing = field.startswith("repeat") and one[field].strip() in ("0", NO_WORD)
            found[field] = 0.0 if nothing else _length(one[field], unit, f"{where}: {field}")
    return found


def _shares(one: Mapping[str, str], unit: Unit, where: str) -> dict[str, float]:
    found = {}
    for field in ("stretch_across", "stretch_along", "shrinkage", "recovery"):
        if field in one:
            found[field] = _share(one[field], field, f"{where}: {field.replace('_', ' ')}", unit)
    if "drape" in one:
        found["drape"] = _drape(one["drape"], f"{where}: drape")
    return found


def _shape(
    one: Mapping[str, str],
    many: Mapping[str, list[str]],
    given: Mapping[str, Any],
    before: Cloth | None,
    unit: Unit,
    where: str,
) -> dict[str, Any]:
    """Outline, cut-outs and flaws, with the length and width they tell."""
    found: dict[str, Any] = {}
    length = given.get("length", before.length if before else None)
    width = given.get("width", before.width if before else None)
    if one.get("outline", "").strip() == NO_WORD:
        found["outline"] = ()
    elif "outline" in one:
        found["outline"] = settled(read_outline(one["outline"], f"{where}: outline", unit))
    elif many["cut_outs"]:
        if length is None or width is None:
            raise ClothError(
                "Cut-outs are taken from a whole length.",
                where=f"{where}: cut-outs",
                mend="Give its width and length as well.",
            )
        parts = [read_outline(text, f"{where}: cut-outs", unit) for text in many["cut_outs"]]
        found["outline"] = without(length, width, parts, f"{where}: cut-outs")
    elif before is not None and before.outline and ({"length", "width"} & set(given)):
        found["outline"] = ()  # measured anew as a whole length
    if found.get("outline"):
        found["length"] = max(x for x, _ in found["outline"])
        found["width"] = max(y for _, y in found["outline"])
    if many["flaws"] == [NO_WORD]:
        found["flaws"] = ()
    elif many["flaws"]:
        found["flaws"] = tuple(read_outline(text, f"{where}: flaws", unit) for text in many["flaws"])
    return found


# ---- single figures -------------------------------------------------------------------------------


def _length(text: str, unit: Unit, where: str) -> float:
    try:
        return parse_length(text, unit=unit)
    except LengthError as no:
        raise LengthError(no.what, where=where, mend=no.mend) from no


def _number(text: str, where: str, such_as: str) -> tuple[float, str]:
    found = _NUMBER.match(text.lower())
    if found is None:
        raise ClothError(f"'{text}' is not a number.", where=where, mend=f"Write it like '{such_as}'.")
    return float(found[1].replace(",", ".")), found[2].replace(" ", "")


def _weight(text: str, where: str) -> float:
    value, unit = _number(text, where, "185 g/m²")
    if unit in ("oz", "oz/yd2", "oz/yd²"):
        return value * OUNCE
    if unit not in ("", "g", "g/m2", "g/m²", "gsm"):
        raise ClothError(
            f"'{unit}' is no weight of cloth.", where=where, mend="Give g/m², or oz a square yard."
        )
    return value


def _share(text: str, field: str, where: str, unit: Unit = "cm") -> float:
    """Per cent, or the ruler's readings: '10 to 15', '4 to 5 in', and for recovery '10 to 15 to 10.5'."""
    parts = [_number(part, where, "10 to 12.5") for part in re.split(r"\bto\b|->|→", text.replace('"', " in"))]
    read = [figure for figure, _ in parts]
    if len(read) > 1:  # a gauge of 4 in is as long as one of 10 cm
        told = {name for _, name in parts if name}
        inches = bool(told & set(INCHES)) or (not told and unit == "in")
        read = [figure * INCH if inches else figure for figure in read]
    if len(read) == 3 and field == "recovery":
        return recovery(*read)
    if len(read) == 2 and field.startswith("stretch"):
        return stretch(*read)
    if len(read) == 2 and field == "shrinkage" and 0 < read[1] <= read[0]:
        return 1 - read[1] / read[0]
    if len(read) != 1:
        raise ClothError(
            f"'{text}' cannot be read as {field.replace('_', ' ')}.",
            where=where,
            mend="Write per cent, such as '25 %', or what the ruler says, such as '10 to 12.5'.",
        )
    if 0 < read[0] < 1 and "%" not in text:
        raise ClothError(
            f"'{text}' could mean {read[0]:g} % or {100 * read[0]:g} %.",
            where=where,
            mend=f"Write '{100 * read[0]:g} %'.",
        )
    return read[0] / 100


def _drape(text: str, where: str) -> float:
    """'edge 4.2' by the table's edge, 'disc 12 13 12 ...' by the tin, or a coefficient in per cent."""
    word, _, rest = text.strip().partition(" ")
    if word in ("edge", "disc"):
        read = [_number(part, where, f"{word} 12.5")[0] for part in rest.split()]
        if word == "edge" and len(read) == 1:
            return drape_by_edge(read[0])
        if word == "disc":
            return drape_by_disc(read)
        raise ClothError("The edge test reads one length.", where=where, mend="Write 'edge 4.2'.")
    return _share(text, "drape", where)


def _yes(text: str, where: str) -> bool:
    word = text.strip().casefold()
    if word not in (*YES, *NO):
        raise ClothError(f"'{text}' is neither yes nor no.", where=where, mend="Say yes or no.")
    return word in YES
