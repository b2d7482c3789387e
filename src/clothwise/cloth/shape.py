"""The shape of a remnant: corner points, cut-outs, flaws. Lengths in cm; x along the selvedge, y across it.

A remnant is told as people can measure it, with two rulers laid along its longest straight edges:

    corner points   '0x0 95x0 95x80 60x136 0x136'         one after the other, along x across
    cut-outs        '40x25 at 0x0'                        a whole length, less a rectangle at its low corner
    flaws           '6x4 at 50x30', or corner points      where nothing may be cut
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from shapely.geometry import Polygon, box
from shapely.geometry.polygon import orient

from clothwise.errors import ClothError, LengthError
from clothwise.tolerance import SAME_POINT
from clothwise.units import Unit, parse_length

Corner = tuple[float, float]
Outline = tuple[Corner, ...]

MOST_CORNERS = 400  # a remnant left by a lay has some hundred; by hand nobody gives more than twenty
SMALLEST_CM2 = 1.0  # cm2: less is no cloth and no flaw
SHOW = "Give corner points one after the other, along x across in cm: '0x0 95x0 95x80 60x136 0x136'."
RECTANGLE = "Write a rectangle as '40x25 at 0x0': its size, then its corner nearest to 0x0."


def check_outline(outline: Outline, length: float, width: float, where: str) -> None:
    """Raises ClothError unless the outline is one simple figure whose extent is length and width."""
    _refuse_bad(outline, where)
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    if max(abs(min(xs)), abs(min(ys))) > SAME_POINT:
        raise ClothError(
            "The outline does not begin at 0x0.",
            where=where,
            mend="Measure from the corner of the smallest rectangle that holds the remnant.",
        )
    if abs(max(xs) - length) > SAME_POINT or abs(max(ys) - width) > SAME_POINT:
        raise ClothError(
            f"The outline is {max(xs):g} x {max(ys):g} cm, the cloth is said to be {length:g} x {width:g} cm.",
            where=where,
            mend="Leave length and width out: the outline tells them.",
        )


def check_flaw(flaw: Outline, length: float, width: float, where: str) -> None:
    """Raises ClothError unless the flaw is one simple figure that lies on the cloth, at least in part."""
    _refuse_bad(flaw, where)
    if not Polygon(flaw).intersects(box(0, 0, length, width)):
        raise ClothError(
            "A flaw lies beside the cloth.",
            where=where,
            mend=f"The cloth is {length:g} cm along and {width:g} cm across; give the flaw within it.",
        )


def _refuse_bad(outline: Outline, where: str) -> None:
    if len(outline) < 3:
        raise ClothError(f"{len(outline)} corner points enclose nothing.", where=where, mend=SHOW)
    if len(outline) > MOST_CORNERS:
        raise ClothError(
            f"{len(outline)} corner points are too many.", where=where, mend=f"Give at most {MOST_CORNERS}."
        )
    if not all(math.isfinite(value) for corner in outline for value in corner):
        raise ClothError("A corner point is not a number.", where=where, mend=SHOW)
    shape = Polygon(outline)
    if not shape.is_valid:
        raise ClothError(
            "The outline crosses itself.", where=where, mend="Give the corners in order round the cloth."
        )
    if shape.area < SMALLEST_CM2:
        raise ClothError("The outline encloses no area.", where=where, mend=SHOW)


def scaled(outline: Outline, along: float, across: float) -> Outline:
    """The outline shrunk by these factors."""
    if along == across == 1:
        return outline
    return tuple((x * along, y * across) for x, y in outline)


def area_of(outline: Outline, flaws: Sequence[Outline], length: float, width: float) -> float:
    """What is left of the shape without its flaws. [cm2]"""
    shape = Polygon(outline) if outline else box(0, 0, length, width)
    for flaw in flaws:
        shape = shape.difference(Polygon(flaw))
    return float(shape.area)


def without(length: float, width: float, cut_outs: Sequence[Outline], where: str) -> Outline:
    """The outline of a whole length from which these parts are gone, moved so that it begins at 0, 0.

    Raises  ClothError: nothing is left, or more than one part
    """
    shape = box(0, 0, length, width)
    for part in cut_outs:
        shape = shape.difference(Polygon(part))
    if shape.is_empty or shape.geom_type != "Polygon" or shape.interiors:
        what = "Nothing is left of it." if shape.is_empty else "It falls into parts, or has a hole."
        raise ClothError(
            what, where=where, mend="Keep each part as a cloth of its own; give a hole as a flaw instead."
        )
    return settled([(float(x), float(y)) for x, y in orient(shape).exterior.coords[:-1]])


def settled(corners: Sequence[Corner]) -> Outline:
    """Moved so that the outline begins at 0, 0."""
    left, low = min(x for x, _ in corners), min(y for _, y in corners)
    return tuple((x - left + 0.0, y - low + 0.0) for x, y in corners)


def read_outline(text: str, where: str, unit: Unit = "cm") -> Outline:
    """Corner points as typed, or one rectangle 'ALONGxACROSS at ALONGxACROSS'. Raises ClothError."""
    if re.search(r"\bat\b", text):
        size, at = (_corner(part, where, unit, RECTANGLE) for part in re.split(r"\bat\b", text, maxsplit=1))
        if min(size) <= SAME_POINT:
            raise ClothError(f"'{text.strip()}' has no area.", where=where, mend=RECTANGLE)
        (x, y), (along, across) = at, size
        return ((x, y), (x + along, y), (x + along, y + across), (x, y + across))
    corners = tuple(_corner(part, where, unit, SHOW) for part in re.split(r"[;\s]+", text.strip()) if part)
    _refuse_bad(corners, where)
    return corners


def _corner(text: str, where: str, unit: Unit, mend: str) -> Corner:
    parts = re.split(r"\s*[x×]\s*", text.strip())
    if len(parts) != 2:
        raise ClothError(f"'{text.strip()}' is not a point along x across.", where=where, mend=mend)
    try:
        along, across = (0.0 if part == "0" else parse_length(part, unit=unit) for part in parts)
    except LengthError as no:
        raise ClothError(f"'{text.strip()}' is not a point: {no.what}", where=where, mend=mend) from no
    return along, across


def written(outline: Outline) -> str:
    """An outline as it may be typed again."""
    return " ".join(f"{round(x, 2):g}x{round(y, 2):g}" for x, y in outline)
