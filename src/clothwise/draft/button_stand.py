"""A button-front: the stand beyond the centre, turned back along the front edge, and the buttons on the centre
line.

The front edge lies as far beyond the centre as half the stand is wide, so that closed, centre lies on
centre. One button lies at the bust line, where a front gapes; the others follow evenly above and below it.
Lengths in cm. Source: house rule, 2026-11; trade knowledge: shirt buttons 11 mm, 7 to 10 apart; buttonhole
is the button and its thickness.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import Curve, Point, line
from clothwise.draft.darts import Part, Ring
from clothwise.garment import Mark, Note, Notion

HALF, CHILD_HALF = 1.5, 1.25  # cm: half of the stand's width; a button and its thickness over
FOLD_IN = 1.0  # cm of the turned stand are folded in first
BUTTON, CHILD_BUTTON = 1.1, 1.0  # cm across
THICK = 0.3  # cm: a buttonhole is longer than its button by its thickness
STITCH = 0.3  # cm: the stroke that marks where a button is sewn on
APART, CHILD_APART = 8.5, 6.5  # cm: usual distance between buttons
FIRST = 0.75  # of that distance lies between the neck and the first button below it
ABOVE_HEM = 0.9  # of it at least between the last button and the hem

SMALL_PARTS = Note(
    "Buttons are small parts that a small child can swallow: sew them on with doubled thread and a shank, try "
    "each with a firm pull, and keep to the rules for children's clothing where you live."
)


@dataclass(frozen=True, slots=True)
class Stand:
    """Half width of the stand; button across; heights of the buttons over the waist, from the top. [cm]"""

    half: float
    button: float
    heights: tuple[float, ...]

    @property
    def turn(self) -> float:
        """What is turned back along the front edge."""
        return 2 * self.half + FOLD_IN

    @property
    def buttonhole(self) -> float:
        return self.button + THICK


def stand_for(body: Body, neck_y: float, bust_y: float, hem_y: float) -> Stand:
    """The stand and its buttons, one of them at the bust line."""
    return stand_of(body.child, neck_y, bust_y, hem_y)


def stand_of(child: bool, neck_y: float, bust_y: float, hem_y: float) -> Stand:
    """The same for a child or a grown wearer."""
    half, button, apart = (CHILD_HALF, CHILD_BUTTON, CHILD_APART) if child else (HALF, BUTTON, APART)
    return Stand(half, button, heights(neck_y, bust_y, hem_y, apart))


def heights(neck_y: float, bust_y: float, hem_y: float, apart: float) -> tuple[float, ...]:
    """Heights of the buttons: the gap between neck and bust line is parted so that it comes near to `apart`."""
    way = neck_y - bust_y
    n = min(range(1, 8), key=lambda n: abs(way / (n + FIRST) - apart))
    gap = way / (n + FIRST)
    first = neck_y - FIRST * gap
    below = int((first - hem_y - ABOVE_HEM * gap) / gap)
    return tuple(first - i * gap for i in range(below + 1))


def with_stand(ring: Ring, half: float, *, lapel: bool) -> Ring:
    """A front ring with its centre moved out to the front edge: hem and neck run on level over the stand.

    lapel  the neck beyond the centre is an edge of its own, 'lapel'; else it belongs to the neck
    """
    hem, neck, centre = ring[0], ring[-2], ring[-1]
    top, foot = neck.curve.end, hem.curve.start
    out_top, out_foot = top.left(half), foot.left(half)
    over, under = line(top, out_top), line(out_foot, foot)
    necks = (neck, Part("lapel", over)) if lapel else (replace(neck, curve=neck.curve.then(over)),)
    edge = Part("front_edge", line(out_top, out_foot))
    assert centre.name == "centre"
    return (replace(hem, curve=under.then(hem.curve)), *ring[1:-2], *necks, edge)


def marks(stand: Stand, neck_y: float, hem_y: float, roll_line: Curve | None = None) -> tuple[Mark, ...]:
    """The centre line, and on it each button with the buttonhole of the other front."""
    found = [Mark("centre_front", "centre", line(Point(0.0, neck_y), Point(0.0, hem_y)))]
    for number, y in enumerate(stand.heights, 1):
        at = Point(0.0, y)
        found.append(Mark(f"button_{number}", "button", line(at.left(STITCH / 2), at.right(STITCH / 2))))
        hole = line(at.up(stand.buttonhole / 2), at.down(stand.buttonhole / 2))
        found.append(Mark(f"buttonhole_{number}", "buttonhole", hole))
    if roll_line:
        found.append(Mark("roll_line", "note", roll_line))
    return tuple(found)


def notion(stand: Stand, more: int, place: str) -> Notion:
    """All buttons, `more` of them elsewhere."""
    title = f"Buttons {stand.button * 10:g} mm"
    return Notion("button", title, place, width=stand.button, count=len(stand.heights) + more)


def notes(body: Body, stand: Stand) -> tuple[Note, ...]:
    side, other = ("left", "right") if body.figure in ("man", "boy") else ("right", "left")
    found = [
        Note(
            f"Buttonholes, {stand.buttonhole:.1f} cm long, are worked in the wearer's {side} front, the "
            f"buttons sewn to the {other}; try one buttonhole on a scrap, with its interfacing, first."
        )
    ]
    return (*found, SMALL_PARTS) if body.child else tuple(found)
