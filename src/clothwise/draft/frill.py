"""A frill caught in a seam: a straight strip, gathered, that tapers into the seam at both ends.

Drawn with the gathered edge above on y = 0, y up, cm. Its outer edge bows out to the full width and carries a
narrow hem; at both ends it runs into the seam line, so that no raw end shows. It is gathered onto the garment
along a line on the seam itself, before the seam is sewn over it.
Source: rules of the trade D (gathers 1.5 to 3, 2 usual), G (curved hem to 1.3); drafting method, raglan frill.
"""

from __future__ import annotations

import math
from itertools import accumulate, pairwise

from clothwise.curve import RIGHT, Curve, Point, Vector, corner, line
from clothwise.draft.pattern import Choice
from clothwise.errors import ChoiceError
from clothwise.garment import Edge, FreeEdge, Piece, Run, Seam

FULLNESS = 1.8  # length of the strip over the seam: full, but no bulk in the seam
WIDTH, CHILD_WIDTH = 6.0, 4.0  # cm finished, at the widest
HEM = 0.6  # cm: turned twice, as narrow as a foot rolls it,
HEM_FOLD_IN = 0.3  # of it folded in
TAPER = (0.32, 0.45)  # of the strip at either end runs out into the seam, at least and at most
TAPER_OF_WIDTH = 3.0  # and between these, so many widths: a gentle bow
WIDEST = 0.33  # of the strip's length: wider it is a flap
MOST_BOW = 0.085  # hem over radius: what the iron still eases flat on a narrow turn (the check: 0.1),
BOW_OVER = 5.0  # cm: taken over this length
LOOKS = 24  # chords of the arc
STEP = 0.5  # cm: widths are given in halves where the seam is short

WIDTH_CHOICE = Choice(
    "frill_width",
    f"Finished width of the frill; if left open {WIDTH:g}, for a child {CHILD_WIDTH:g}.",
    unit="cm",
    low=2.5,
    high=12.0,
    changes="frill",
)


def piece(name: str, title: str, along: float, width: float, allowance: float) -> Piece:
    """The frill for a stretch of seam of that length. [cm]"""
    outer = _outer(width, along)
    return Piece(
        name,
        title,
        edges=(
            Edge("hem", outer, "hem", HEM),
            Edge("gathered", line(outer.end, outer.start), "seam", allowance),
        ),
        grain=(Point(0.0, -width), Point(0.0, 0.0)),
    )


def width_for(wished: float | None, usual: float, along: float) -> float:
    """Finished width: as wished, else as usual or as so short a seam takes. ChoiceError otherwise. [cm]"""
    width = usual if wished is None else wished
    if _fits(width, along):
        return width
    most = width
    while most > STEP and not _fits(most, along):
        most -= STEP
    if wished is None:
        return most
    raise ChoiceError(
        f"A frill {width:g} cm wide cannot run out into so short a seam.",
        where="choice 'frill_width'",
        mend=f"For this body up to {most:g} cm is possible.",
    )


def _fits(width: float, along: float) -> bool:
    """Whether its outer edge bows so gently that the hem lies flat: over a few centimetres of its first arc."""
    if width > WIDEST * FULLNESS * along:
        return False
    arc = _outer(width, along).strokes[0]
    places = [arc.at(i / LOOKS) for i in range(LOOKS + 1)]
    ways = [one.to(other) for one, other in pairwise(places)]
    gone = list(accumulate((way.length for way in ways), initial=0.0))
    window = min(BOW_OVER, gone[-1])
    for start in range(LOOKS):
        end = next((i for i in range(start + 1, LOOKS) if gone[i] - gone[start] >= window), LOOKS - 1)
        turned = abs(math.atan2(ways[start].cross(ways[end]), ways[start].dot(ways[end])))
        if HEM * turned / window > MOST_BOW:
            return False
    return True


def _outer(width: float, along: float) -> Curve:
    """From the left end down to the full width, along, and up to the right end."""
    length = FULLNESS * along
    taper = min(max(TAPER[0] * length, TAPER_OF_WIDTH * width), TAPER[1] * length)
    left, right = Point(-length / 2, 0.0), Point(length / 2, 0.0)
    low_left, low_right = Point(left.x + taper, -width), Point(right.x - taper, -width)
    lean = 2 * width / taper  # an even arc
    run_out = corner(left, Vector(1.0, -lean).unit(), low_left, RIGHT)
    run_in = corner(low_right, RIGHT, right, Vector(1.0, lean).unit())
    return run_out.then(line(low_left, low_right), run_in)


def sewn(name: str, title: str, frill: str, ground: str, place: str) -> Seam:
    """The frill gathered onto its line on both halves of the garment."""
    strip, line_there = (Run(frill, "gathered", backwards=True),), (Run(ground, place),)
    return Seam(name, title, strip, line_there, "gathered", ratio=FULLNESS, times=2, pressed="down")


def hem(frill: str, title: str) -> FreeEdge:
    """The narrow hem, sewn before it is gathered."""
    return FreeEdge(f"{frill}_hem", title, (Run(frill, "hem"),), "hem", HEM, HEM_FOLD_IN, closed=False, times=2)
