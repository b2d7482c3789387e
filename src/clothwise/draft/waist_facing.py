"""A facing at the waist: the top of the skirt cut again, its darts closed, sewn on and turned inside.

The front is cut on the fold, the back as a pair whose ends are sewn down along the zip.
Drawn as the panels are: centre on the left, y up, cm; the back turned over.
Source: rules of the trade D (facing 4-5, ordinary 5-6.5); house rule, 2026-11.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwise.curve import Curve, Point
from clothwise.draft import skirt_panels, zip_opening
from clothwise.draft.cone import Slice
from clothwise.draft.rise import Rise
from clothwise.draft.turned_over import turned_over
from clothwise.garment import Corner, Edge, FreeEdge, Joint, Notion, Piece, Run, Seam

WIDTH = 5.5  # cm: lies flat and does not peep out
SEAM = 1.0  # cm allowance at the waist, which is curved; as the waist of the garment
SIDE_SEAM = 1.5  # cm: as the garment's side seams, so that they lie on one another
NEATEN = 0.5  # cm beyond the lower edge: what neatening takes
GRAIN_FREE = 0.1  # of the facing's width left above and below the grain arrow

FRONT, BACK = "front_facing", "back_facing"


@dataclass(frozen=True, slots=True)
class Half:
    """Half a facing with the centre on its left: waist and lower edge run outwards, the others down."""

    centre: Curve
    side: Curve
    waist: Curve
    lower: Curve


def of_cone(quarter: Slice, rises: tuple[Rise, Rise], count: int = 1) -> tuple[Half, Half]:
    """The facing of a skirt whose quarters, their centre upright, are slices of a cone of so many panels.

    rises  of the waist at front and back; where it is lowered the facing reaches as much deeper
    """
    depth = WIDTH + max(0.0, *(-rise.height(0.0) for rise in rises))
    front, back = (_of_cone(replace(quarter, length=depth), rise, count) for rise in rises)
    return front, back


def _of_cone(quarter: Slice, rise: Rise, count: int) -> Half:
    each = (quarter.outer - quarter.inner) / count
    parts = [
        skirt_panels.of_cone(
            replace(quarter, inner=n * each, outer=(n + 1) * each), quarter.length, rise, out=n * each
        )
        for n in range(count)
    ]
    return Half(
        centre=parts[0].inner,
        side=parts[-1].outer,
        waist=parts[0].waist[0].then(*(part.waist[0] for part in parts[1:])),
        lower=parts[0].hem.then(*(part.hem for part in parts[1:])),
    )


def pieces(front: Half, back: Half) -> tuple[Piece, Piece]:
    """Front on the fold, back as a pair, turned over."""
    return (
        Piece(
            FRONT,
            "Front facing",
            edges=(Edge("fold", front.centre, "fold", 0.0), *_edges(front)),
            grain=_grain(front),
            cutting="on fold",
            copies=1,
            interfaced=True,
        ),
        turned_over(
            Piece(
                BACK,
                "Back facing",
                edges=(Edge("centre", back.centre, "seam", zip_opening.SEAM), *_edges(back)),
                grain=_grain(back),
                interfaced=True,
            )
        ),
    )


def _edges(half: Half) -> tuple[Edge, ...]:
    return (
        Edge("lower", half.lower, "raw", NEATEN),
        Edge("side", half.side.reversed(), "seam", SIDE_SEAM),
        Edge("waist", half.waist.reversed(), "seam", SEAM),
    )


def _grain(half: Half) -> tuple[Point, Point]:
    """Along the centre, a third of the way out."""
    low, way = half.lower.at_length(half.lower.length() / 3), half.centre.end.to(half.centre.start)
    return low.go(way, GRAIN_FREE), low.go(way, 1 - GRAIN_FREE)


def seams(garment: tuple[Run, ...]) -> tuple[Seam, ...]:
    """The facing's sides, and the facing on the waist. The garment's runs begin at the left centre back."""
    left = (Run(BACK, "waist"), Run(FRONT, "waist"))
    right = tuple(Run(r.piece, r.line, backwards=True, side="mirrored") for r in reversed(left))
    return (
        Seam("facing_sides", "Sides of the facing", (Run(FRONT, "side"),), (Run(BACK, "side", True),), times=2),
        Seam("waist", "Waist facing", (*left, *right), garment, "applied"),
    )


def ends() -> FreeEdge:
    """The back ends, folded in and sewn down beside the zip."""
    turn = zip_opening.SEAM
    runs = (Run(BACK, "centre"),)
    return FreeEdge(
        "facing_ends", "Ends of the facing", runs, "band", turn=turn, fold_in=turn, closed=False, times=2
    )


def joint() -> Joint:
    return Joint("facing at the side", (Corner(FRONT, "side", "waist"), Corner(BACK, "waist", "side")))


def hook() -> Notion:
    return Notion("hook", "Hook and eye", place="zip", count=1)
