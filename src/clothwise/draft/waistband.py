"""A straight band at the waist: with a lap and a button over a zip, or a casing of its own with elastic.

The buttoned band is one strip folded in half along its length. Its outer edge is sewn to the waist, its inner
edge folded in and sewn down inside; at one end it reaches past the opening as a lap, so that button and
buttonhole lie over one another. The casing strip serves where the waist curves too much to be folded down
itself: sewn on as a ring, folded down over the seam, with elastic in it.

Drawn lying along, the edge that meets the garment below, y up, cm; the waist from the wearer's right at (0, 0)
to her left, the lap to the left of it. The grain runs along the strip, which must not give.
Source: rules of the trade D (casing), drafting method, skirts; lap and button are trade knowledge.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.curve import Point, line
from clothwise.draft import waist
from clothwise.draft.pattern import Choice, Wish
from clothwise.garment import Edge, FreeEdge, Mark, Notion, Passage, Piece, Run, Seam

SEAM = 1.0  # cm allowance at the waist: the curved edge lies flat with no more
WIDTH, CHILD_WIDTH = 3.5, 3.0  # cm finished: stands without rolling
LAP = 3.0  # cm: holds a button and its edge
BUTTON = 1.8  # cm across
BUTTONHOLE_LONGER = 0.3  # cm: the button's thickness
STITCH = 0.4  # cm: how long a button's place is drawn
GRAIN_FREE = 0.2  # of the length left at either end of the grain arrow
TICK = 1.0  # cm: a short line where a seam of the garment meets the band

BAND, STRIP = "waistband", "casing_strip"
ORIGIN = Point(0.0, 0.0)

WIDTH_CHOICE = Choice(
    "band_width",
    f"Finished width of the band; if left open {WIDTH:g}, for a child {CHILD_WIDTH:g}.",
    unit="cm",
    low=2.0,
    high=6.0,
    changes="waistband",
)


def width(body: Body, wish: Wish) -> float:
    """Finished width of the band, as wished or as usual. [cm]"""
    return float(wish.get("band_width", CHILD_WIDTH if body.child else WIDTH))


# ---- a band with a lap ---------------------------------------------------------------------------


def band(around: float, high: float, ticks: dict[str, float]) -> Piece:
    """The buttoned band for a waist of that length, `high` when finished. [cm]

    ticks  what meets the band, and how far from the wearer's right end of the waist
    """
    right, start = ORIGIN.right(around), ORIGIN.left(LAP)
    folded, top = high, 2 * high
    return Piece(
        BAND,
        "Waistband",
        edges=(
            Edge("lap", line(start, ORIGIN), "seam", SEAM),
            Edge("waist", line(ORIGIN, right), "seam", SEAM),
            Edge("end", line(right, right.up(folded)), "seam", SEAM),
            Edge("end_inside", line(right.up(folded), right.up(top)), "seam", SEAM),
            Edge("inner", line(right.up(top), ORIGIN.up(top)), "seam", SEAM),
            Edge("lap_inside", line(ORIGIN.up(top), start.up(top)), "seam", SEAM),
            Edge("lap_end_inside", line(start.up(top), start.up(folded)), "seam", SEAM),
            Edge("lap_end", line(start.up(folded), start), "seam", SEAM),
        ),
        grain=_grain(around, high),
        cutting="single",
        copies=1,
        marks=(
            Mark("fold", "fold line", line(start.up(folded), right.up(folded))),
            *_closing(around, high),
            *(_tick(name, at) for name, at in ticks.items()),
        ),
        interfaced=True,
    )


def _closing(around: float, high: float) -> tuple[Mark, Mark]:
    """The button on the lap, the buttonhole over it at the other end: half a lap from the opening's edge."""
    at = Point(-LAP / 2, high / 2)
    hole = BUTTON + BUTTONHOLE_LONGER
    end = Point(around - LAP / 2 + BUTTONHOLE_LONGER, high / 2)  # it pulls to the outer end of the hole
    return (
        Mark("button", "button", line(at.left(STITCH / 2), at.right(STITCH / 2))),
        Mark("buttonhole", "buttonhole", line(end.left(hole), end)),
    )


def band_seams(garment: tuple[Run, ...], *, gathered: float = 0.0) -> tuple[Seam, ...]:
    """The band on the waist, and its two ends. The runs of the garment begin at the wearer's left.

    gathered  length of the garment's waist over that of the band, where it is gathered to it; else 0
    """
    ours = (Run(BAND, "waist", backwards=True),)
    on = (
        Seam("waist", "Waist to the band", garment, ours, "gathered", ratio=gathered, pressed="to b")
        if gathered
        else Seam("waist", "Waistband", ours, garment, pressed="to a")
    )
    return (
        on,
        Seam("band_end", "End of the band", (Run(BAND, "end"),), (Run(BAND, "end_inside", backwards=True),)),
        Seam(
            "band_lap",
            "Lap of the band",
            (Run(BAND, "lap_end"), Run(BAND, "lap")),
            (Run(BAND, "lap_end_inside", backwards=True), Run(BAND, "lap_inside", backwards=True)),
        ),
    )


def band_inside() -> FreeEdge:
    """The inner edge, folded in and sewn down over the seam."""
    edge = (Run(BAND, "inner"),)
    return FreeEdge("band", "Inner edge of the waistband", edge, "band", turn=SEAM, fold_in=SEAM, closed=False)


def button() -> Notion:
    return Notion("button", f"Button {BUTTON * 10:g} mm", place="band", width=BUTTON, count=1)


# ---- a casing of its own -------------------------------------------------------------------------


def strip(around: float, elastic: float, ticks: dict[str, float]) -> Piece:
    """The casing strip for a waist edge of that length and an elastic of that width. [cm]"""
    high = elastic + waist.CASING_ROOM
    right, top = ORIGIN.right(around), ORIGIN.up(high)
    return Piece(
        STRIP,
        "Casing strip",
        edges=(
            Edge("waist", line(ORIGIN, right), "seam", SEAM),
            Edge("end", line(right, right.up(high)), "seam", SEAM),
            Edge("top", line(right.up(high), top), "casing", waist.casing_turn(elastic)),
            Edge("other_end", line(top, ORIGIN), "seam", SEAM),
        ),
        grain=_grain(around, high / 2),
        cutting="single",
        copies=1,
        marks=tuple(_tick(name, at) for name, at in ticks.items()),
    )


def strip_seams(garment: tuple[Run, ...]) -> tuple[Seam, ...]:
    """The strip joined into a ring and sewn on. The runs of the garment begin at the wearer's left back."""
    ring = (Run(STRIP, "end"),), (Run(STRIP, "other_end", backwards=True),)
    return (
        Seam("casing_ring", "Ends of the casing strip", *ring),
        Seam("waist", "Casing strip", (Run(STRIP, "waist", backwards=True),), garment, pressed="to a"),
    )


def strip_casing(elastic: float) -> FreeEdge:
    return waist.casing((Run(STRIP, "top"),), waist.casing_turn(elastic), elastic)


def strip_passage(body: Body) -> Passage:
    around = ((STRIP, "top", 1),)
    return Passage("over_hips", "Waist edge over the hips", around, body["hip_girth"], waist.OVER_HIPS)


# ---- both ----------------------------------------------------------------------------------------


def _grain(around: float, middle: float) -> tuple[Point, Point]:
    return Point(GRAIN_FREE * around, middle), Point((1 - GRAIN_FREE) * around, middle)


def _tick(name: str, at: float) -> Mark:
    return Mark(name, "note", line(ORIGIN.right(at), ORIGIN.right(at).up(TICK)))
