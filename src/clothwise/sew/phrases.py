"""The words that sentences are made of: names of edges and finishes, reasons, lengths, times, lists."""

from __future__ import annotations

import math
from collections.abc import Sequence

from clothwise.garment import Garment
from clothwise.sew.sewer import Units
from clothwise.sew.step import Span
from clothwise.units import format_length

SMALL = 1.0  # cm: below, centimetres are said in millimetres
QUARTER, LONG = 15.0, 120.0  # minutes: from so long on, quarters of an hour are enough
HARD = "\u00a0"  # a space that holds a line together
ROUND_TO = 5.0  # minutes: nobody sews by the single minute

# ---- names -------------------------------------------------------------------------------------

EDGE_NAMES = {
    "side": "side",
    "side_seam": "side",
    "inside_leg": "inseam",
    "crotch": "crotch",
    "crotch_curve": "crotch",
    "centre": "centre",
    "centre_front": "centre front",
    "centre_back": "centre back",
    "waist": "waist",
    "hem": "hem",
    "top": "top",
    "base": "base",
}

FINISHES = {
    "overlocked": "overlock",
    "zigzagged": "zigzag",
    "pinked": "pink",
    "enclosed": "close the edges inside the seam",
    "folded in": "fold the edge in",
    "none needed": "leave the edges as they are",
}

STOP = "A good place to stop for today."

WHY = {
    "mark": "Pieces of one make look alike once they are cut, and a left can pass for a right.",
    "stay": "Curves stretch while they wait; a line of stitches holds them to the length of the paper.",
    "neaten flat": "Now every edge is flat and single. Later it would be a tube.",
    "dart": "Pressed over a curve, the dart's tip melts into the cloth.",
    "crotch": "This seam takes all the strain of sitting, so it gets two rows. Sewn last of the seams and in "
    "one go, it crosses the inseams smoothly.",
    "fold in": "Edges pressed first need no holding while you sew.",
    "patch flat": "A pocket is far easier to set while its ground is one flat piece.",
    "pocket top": "The opening takes the wear, and can no longer be reached once the pocket is on.",
    "casing": "",
    "elastic": "Elastic differs. Only on the body do you know how tight it should be.",
    "hem": "",
    "try on": "Until it is hemmed, the length is free.",
    "hang": "Parts cut off the straight grain drop by themselves, some more than others.",
    "press": "Half of what makes a garment look well made is done with the iron.",
}


def edge_name(line: str) -> str:
    """The plain name of an edge or placement line."""
    return EDGE_NAMES.get(line, line.replace("_", " "))


def piece_title(garment: Garment, name: str) -> str:
    """The piece's title in running text: 'front leg'."""
    title = garment.piece(name).title
    return title[:1].lower() + title[1:]


def piece_titles(garment: Garment, name: str) -> str:
    """Several of them: 'front legs'."""
    title = piece_title(garment, name)
    return title if title.endswith("s") else f"{title}s"


def length(cm: float, units: Units) -> str:
    """A length as the sewer reads it: '1.5 cm', '2 mm', '5/8 in'."""
    if units == "inch":
        return format_length(cm, "in")
    if cm < SMALL:
        return format_length(cm, "mm")
    text = format_length(cm, "cm", with_unit=False)
    return f"{text.removesuffix('.0')} cm"


def about(span: Span) -> str:
    """'about 25 minutes', rounded to five; below five to the minute."""
    return f"about {_round(span.likely)} min"


def _round(minutes: float) -> int:
    step = ROUND_TO if minutes >= ROUND_TO else 1.0
    return max(1, round(math.floor(minutes / step + 0.5) * step))


def hours(minutes: float) -> str:
    """'2 h 30 min', '45 min'; long ones to the quarter of an hour."""
    whole = _round(minutes)
    if whole < 60:
        return f"{whole}{HARD}min"
    h, rest = divmod(round(minutes / QUARTER) * round(QUARTER), 60) if minutes > LONG else divmod(whole, 60)
    return f"{h}{HARD}h {rest}{HARD}min" if rest else f"{h}{HARD}h"


def listed(items: Sequence[str]) -> str:
    """'a', 'a and b', 'a, b and c'."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"
