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

from dataclasses import replace

from clothwise.body import Body
from clothwise.curve import UP, Point, line
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


# ---- a band with a lap, or one whose ends overlap --------------------------------------------------


def band(around: float, high: float, ticks: dict[str, float]) -> Piece:
    """The band with a lap for a waist of that length, `high` when finished. [cm]

    ticks  what meets the band, and how far from the wearer's right end of the waist
    """
    right, start = ORIGIN.right(around), ORIGIN.left(LAP)
    edges = (
        Edge("lap", line(start, ORIGIN), "seam", SEAM),
        Edge("waist", line(ORIGIN, right), "seam", SEAM),
        *_end(right, high),
        Edge("inner", line(right.up(2 * high), ORIGIN.up(2 * high)), "seam", SEAM),
        Edge("lap_inside", line(ORIGIN.up(2 * high), start.up(2 * high)), "seam", SEAM),
        *_other_end(start, high),
    )
    return _band(edges, start, right, high, LAP / 2, ticks)


def overlapping_band(
    around: float, high: float, overlap: float, ticks: dict[str, float], *, left_over: bool
) -> Piece:
    """A band sewn on over its whole length, overlap included, for a skirt open all the way down. [cm]

    left_over  the wearer's left laps over her right and has the buttonhole, as men's clothes do
    """
    right = ORIGIN.right(around)
    edges = (
        Edge("waist", line(ORIGIN, right), "seam", SEAM),
        *_end(right, high),
        Edge("inner", line(right.up(2 * high), ORIGIN.up(2 * high)), "seam", SEAM),
        *_other_end(ORIGIN, high),
    )
    band = _band(edges, ORIGIN, right, high, overlap / 2, ticks)
    return _ends_changed(band, around) if left_over else band


def _end(foot: Point, high: float) -> tuple[Edge, Edge]:
    """The end at the wearer's left of a back opening: outer half, inner half."""
    middle, top = foot.up(high), foot.up(2 * high)
    return Edge("end", line(foot, middle), "seam", SEAM), Edge("end_inside", line(middle, top), "seam", SEAM)


def _other_end(foot: Point, high: float) -> tuple[Edge, Edge]:
    middle, top = foot.up(high), foot.up(2 * high)
    return (
        Edge("other_end_inside", line(top, middle), "seam", SEAM),
        Edge("other_end", line(middle, foot), "seam", SEAM),
    )


def _band(
    edges: tuple[Edge, ...], left: Point, right: Point, high: float, button_in: float, ticks: dict[str, float]
) -> Piece:
    """The strip with its fold, and button and buttonhole so far in from its ends. [cm]"""
    hole = BUTTON + BUTTONHOLE_LONGER
    at = left.right(button_in).up(high / 2)
    end = right.left(button_in - BUTTONHOLE_LONGER).up(high / 2)  # it pulls to the outer end of the hole
    return Piece(
        BAND,
        "Waistband",
        edges=edges,
        grain=_grain(right.x, high),
        cutting="single",
        copies=1,
        marks=(
            Mark("fold", "fold line", line(left.up(high), right.up(high))),
            Mark("button", "button", line(at.left(STITCH / 2), at.right(STITCH / 2))),
            Mark("buttonhole", "buttonhole", line(end.left(hole), end)),
            *(_tick(name, at) for name, at in ticks.items()),
        ),
        interfaced=True,
    )


def _ends_changed(band: Piece, around: float) -> Piece:
    """Button and buttonhole at the other ends."""
    middle = ORIGIN.right(around / 2)
    marks = tuple(
        replace(mark, curve=mark.curve.mirrored(middle, UP)) if mark.kind in ("button", "buttonhole") else mark
        for mark in band.marks
    )
    return replace(band, marks=marks)


def band_seams(garment: tuple[Run, ...], *, gathered: float = 0.0, lap: bool = True) -> tuple[Seam, ...]:
    """The band on the waist, and its two ends.

    garment   its waist, walked from the end that meets the band's right end as drawn
    gathered  length of the garment's waist over that of the band, where it is gathered to it; else 0
    lap       whether the band goes on past the opening
    """
    ours = (Run(BAND, "waist", backwards=True),)
    on = (
        Seam("waist", "Waist to the band", garment, ours, "gathered", ratio=gathered, pressed="to b")
        if gathered
        else Seam("waist", "Waistband", ours, garment, pressed="to a")
    )
    outer, inner = [Run(BAND, "other_end")], [Run(BAND, "other_end_inside", backwards=True)]
    if lap:
        outer.append(Run(BAND, "lap"))
        inner.append(Run(BAND, "lap_inside", backwards=True))
    return (
        on,
        Seam("band_end", "End of the band", (Run(BAND, "end"),), (Run(BAND, "end_inside", backwards=True),)),
        Seam("band_lap", "Lap of the band" if lap else "Other end of the band", tuple(outer), tuple(inner)),
    )


def band_inside() -> FreeEdge:
    """The inner edge, folded in and sewn down over the seam."""
    edge = (Run(BAND, "inner"),)
    return FreeEdge("band", "Inner edge of the waistband", edge, "band", turn=SEAM, fold_in=SEAM, closed=False)


def button(count: int = 1) -> Notion:
    title = f"Button{'s' if count > 1 else ''} {BUTTON * 10:g} mm"
    return Notion("button", title, place="band", width=BUTTON, count=count)


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
