"""Slips made on purpose: a body with one entry as a hurried hand would have typed it.

Each maker takes a body and a source of chance and returns the body with the slip, or None when this
slip would change nothing on it. Values are in cm and read to the millimetre.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from clothwise.body import Body

Slipped = Callable[[Body, np.random.Generator], Body | None]


def inches(body: Body, chance: np.random.Generator) -> Body:
    """One value read in inches, typed as if it were centimetres."""
    name = _any(body, chance)
    return body.with_measures(**{name: round(body[name] / 2.54, 1)})


def times(body: Body, chance: np.random.Generator) -> Body:
    """One value turned into centimetres that were centimetres already."""
    name = _any(body, chance)
    return body.with_measures(**{name: round(body[name] * 2.54, 1)})


def half(body: Body, chance: np.random.Generator) -> Body:
    """One girth measured flat and not doubled."""
    name = _any(body, chance, girths=True)
    return body.with_measures(**{name: body[name] / 2})


def swapped(body: Body, chance: np.random.Generator) -> Body | None:
    """Waist and hip in each other's place."""
    if body["waist_girth"] == body["hip_girth"]:
        return None
    return body.with_measures(waist_girth=body["hip_girth"], hip_girth=body["waist_girth"])


def transposed(body: Body, chance: np.random.Generator) -> Body | None:
    """Two neighbouring digits before the point the other way round; never so that a nought leads."""
    name, digits = _turned(body, chance)
    return None if digits.startswith("0") else _typed(body, name, digits)


def transposed_to_nought(body: Body, chance: np.random.Generator) -> Body | None:
    """The same where a nought comes to lead: 102 typed 012."""
    name, digits = _turned(body, chance)
    return _typed(body, name, digits) if digits.startswith("0") else None


def one_digit(body: Body, chance: np.random.Generator) -> Body | None:
    """One digit before the point is another."""
    name = _any(body, chance)
    digits = list(str(int(body[name])))
    at = int(chance.integers(len(digits)))
    digits[at] = str((int(digits[at]) + int(chance.integers(1, 10))) % 10)
    return _typed(body, name, "".join(digits))


def _any(body: Body, chance: np.random.Generator, girths: bool = False) -> str:
    names = [name for name in body if name.endswith("_girth") or not girths]
    return names[int(chance.integers(len(names)))]


def _turned(body: Body, chance: np.random.Generator) -> tuple[str, str]:
    """One measure and its digits before the point, two neighbours the other way round."""
    name = _any(body, chance)
    digits = list(str(int(body[name])))
    if len(digits) > 1:
        at = int(chance.integers(len(digits) - 1))
        digits[at], digits[at + 1] = digits[at + 1], digits[at]
    return name, "".join(digits)


def _typed(body: Body, name: str, digits: str) -> Body | None:
    """The body with these digits before the point; None when that is no change or nothing."""
    value = int(digits) + round(body[name] % 1, 1)
    changed = int(digits) != int(body[name]) and value > 0
    return body.with_measures(**{name: value}) if changed else None
