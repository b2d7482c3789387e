"""A darted shift with a seam round its waist: the halves parted there, the garment told anew for four pieces.

Front and back are each joined at the waist while they lie flat; the side seams then run in one from hem to arm.
Source: house rule, 2026-11.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from clothwise.curve import Point, polyline
from clothwise.draft import back_opening, bust_dart, side_seam, top_joined, waist_seam
from clothwise.draft.darts import Part, Ring
from clothwise.draft.shift_parts import NAME, Drawn
from clothwise.draft.top_body import BACK, BUST_MOUTH, FRONT, across, edges_of
from clothwise.draft.waist_seam import Parted, Wedge
from clothwise.errors import ChoiceError, DraftError
from clothwise.garment import Corner, Dart, FreeEdge, Garment, Joint, Level, Mark, Passage, Piece, Run, Seam
from clothwise.garment.piece import Cutting, EdgeKind

SKIRT = {FRONT: "front_skirt", BACK: "back_skirt"}
TITLE = {FRONT: "Front skirt", BACK: "Back skirt"}
AT_ARM = 0.5  # cm below the underarm at least the bust line ends
SHORTEST_DART = 1.5  # cm below the waist; no dart is wider than it is long: its legs would stand out as a peak
GRAIN_AT, GRAIN_FREE = 4.0, 0.2  # cm from the centre; share of the skirt's length free at either end
Girth = tuple[str, str, int]


# ---- the halves ------------------------------------------------------------------------------------------


def front(
    found: Drawn, fisheyes: Sequence[Dart], place: str, split_over: float
) -> tuple[bust_dart.Darted, Parted]:
    """The front bodice with its darts, and both parts of the front."""
    frame, outline = found.frame, found.front
    length = frame.side_front + found.shape.out_waist - sum(found.shape.front_darts)
    above, below = _wedges(fisheyes)
    bust = frame.bust
    if place != bust_dart.WAIST or bust is None:
        elsewhere = bust_dart.SIDE if place == bust_dart.WAIST else place
        darted = bust_dart.darted(frame, outline, elsewhere, split_over)
        halves = waist_seam.parted(darted.ring, above, below, length)
        ring = halves.bodice
        darts = (*darted.darts, *waist_seam.darts_of(ring, halves.bodice_wedges))
        return replace(darted, ring=ring, darts=darts), halves
    width = sum(found.shape.front_darts)
    wide = 2 * bust.point.y * math.tan(math.radians(bust.dart_deg / 2)) + width
    n = 2 if wide > split_over else 1
    aside = (n - 1) * side_seam.apart_by(side_seam.FRONT_APART, width / n) / 2
    about = [Wedge(bust.point, bust.point.x + off, width / n) for off in (-aside, aside)[2 - n :]]
    halves = waist_seam.parted(outline.ring(), about, below, length, least=-bust.point.y)
    ring, darts = waist_seam.with_bust(halves.bodice, BUST_MOUTH, bust.point, bust.dart_deg)
    at_side = min(max(bust.point.y, frame.bust_level), frame.underarm - AT_ARM)
    end = bust.opened(Point(frame.side_front, at_side))
    over = Mark("bust", "level", polyline([Point(0.0, bust.point.y), bust.point, end]))
    return bust_dart.Darted(ring, darts, over, over.curve.length()), halves


def back(found: Drawn, fisheyes: Sequence[Dart], ring: Ring) -> Parted:
    """The back parted at the waist."""
    length = found.frame.side_back + found.shape.out_waist - sum(found.shape.back_darts)
    return waist_seam.parted(ring, *_wedges(fisheyes), length)


def _wedges(fisheyes: Sequence[Dart]) -> tuple[list[Wedge], list[Wedge]]:
    """Of darts pointed at both ends: their upper parts, and their lower."""
    above, below = [], []
    for dart in fisheyes:
        width = dart.first_leg.distance(dart.second_leg)
        if dart.other_tip is None:
            raise DraftError(
                "A dart at the waist has one point only.",
                where=dart.name,
                mend="Choose the waist shaped by darts.",
            )
        if -dart.other_tip.y < max(SHORTEST_DART, width):
            raise ChoiceError(
                f"A dart {width:.1f} cm wide would end {-dart.other_tip.y:.1f} cm below the waist seam.",
                where=f"pattern '{NAME}', choice 'longer'",
                mend="Make it longer, ask for less flare, or leave the waist loose.",
            )
        above.append(Wedge(dart.tip, dart.tip.x, width))
        below.append(Wedge(dart.other_tip, dart.tip.x, width))
    return above, below


def skirt(
    found: Drawn,
    halves: Parted | None,
    kinds: Mapping[str, tuple[EdgeKind, float]],
    half: str,
    cutting: Cutting,
) -> Piece:
    """The skirt below one half."""
    assert halves is not None
    ring = halves.skirt
    hip = across("hip", ring, -found.hip_depth)
    adjust = replace(across("adjust_length", ring, -found.hip_depth / 2), kind="adjust")
    centre = ring[-1].curve
    low, high = ring[0].curve.start.y, (ring[-2] if _opens(ring) else ring[-1]).curve.start.y
    x, free = min(GRAIN_AT, ring[0].curve.end.x / 3), GRAIN_FREE * (high - low)
    grain = centre.end.right(x).up(free), centre.end.right(x).up(high - low - free)
    return Piece(
        SKIRT[half],
        TITLE[half],
        edges_of(ring, kinds),
        grain,
        cutting,
        2 if cutting == "pair" else 1,
        darts=tuple(_skirt_darts(ring, halves)),
        marks=(hip, adjust),
    )


def _opens(ring: Ring) -> bool:
    return ring[-2].name == back_opening.ZIP


def _skirt_darts(ring: Ring, halves: Parted) -> list[Dart]:
    mouths: list[Part] = [part for part in ring if part.mouth]
    return [
        Dart(p.name.removesuffix("_mouth"), wedge.apex, p.curve.start, p.curve.end, p.name)
        for p, wedge in zip(mouths, reversed(halves.skirt_wedges), strict=True)
    ]


# ---- the garment -----------------------------------------------------------------------------------------


def joined(garment: Garment, *, zipped: bool) -> Garment:
    """The garment, its lower edges now those of the skirt, with the seams that join skirt and bodice."""

    def told(seam: Seam) -> Seam:
        if seam.name == "centre_back":
            return replace(seam, a=_low(seam.a), b=_low(seam.b))
        if seam.name == "side_seam":
            low = Run(SKIRT[FRONT], "side"), Run(SKIRT[BACK], "side", backwards=True)
            return replace(seam, a=(low[0], *seam.a), b=(low[1], *seam.b))
        return seam

    seams = (
        *(told(seam) for seam in garment.seams),
        _waist_seam(garment, FRONT, "waist_front", "Front waist seam", parted=False),
        _waist_seam(garment, BACK, "waist_back", "Back waist seam", parted=zipped),
    )
    return replace(
        garment,
        seams=seams,
        free_edges=tuple(_free(free) for free in garment.free_edges),
        joints=tuple(_joint(joint) for joint in garment.joints),
        levels=tuple(_level(level, garment) for level in garment.levels),
        passages=tuple(_passage(passage, garment, zipped=zipped) for passage in garment.passages),
        finished={**garment.finished, "waist": garment.round(_around_waist(garment))},
    )


def _waist_seam(garment: Garment, half: str, name: str, title: str, *, parted: bool) -> Seam:
    """Bodice and skirt of one half; of a back that opens, each side by itself."""
    bodice = tuple(Run(p, line) for p, line in _waist(garment, half))
    below = tuple(Run(p, line, backwards=True) for p, line in _waist(garment, half, SKIRT))
    if half == BACK:  # turned over: its waist runs from the side to the centre
        bodice, below = bodice[::-1], below[::-1]
    else:
        bodice, below = top_joined.backwards(bodice), top_joined.backwards(below)
    if parted:
        return Seam(name, title, below, bodice, times=2, pressed="to b")
    return Seam(name, title, top_joined.both(below), top_joined.both(bodice), pressed="to b")


def _waist(garment: Garment, half: str, names: Mapping[str, str] | None = None) -> list[tuple[str, str]]:
    """The waist edges of a half, from the centre to the side."""
    piece = garment.piece(names[half] if names else half)
    mouths = {dart.edge for dart in piece.darts}
    found = [e.name for e in piece if e.name.split("_")[0] == "waist" and e.name not in mouths]
    return [(piece.name, name) for name in sorted(found)]


def _low(runs: tuple[Run, ...]) -> tuple[Run, ...]:
    return tuple(replace(run, piece=SKIRT[run.piece]) for run in runs)


def _free(free: FreeEdge) -> FreeEdge:
    if free.name == "hem":
        return replace(free, runs=_low(free.runs))
    if free.name == "zip":
        down, up = free.runs
        return replace(free, runs=(down, *_low((down,)), *_low((up,)), up))
    return free


def _joint(joint: Joint) -> Joint:
    if not all("hem" in (corner.before, corner.after) for corner in joint.corners):
        return joint

    def name(edge: str) -> str:
        return "side" if edge.startswith("side") else edge

    if joint.corners[0].piece not in SKIRT:
        return joint
    corners = tuple(Corner(SKIRT[c.piece], name(c.before), name(c.after)) for c in joint.corners)
    return replace(joint, corners=corners)


def _around_waist(garment: Garment) -> tuple[Girth, ...]:
    return tuple((p, name, 2) for half in (FRONT, BACK) for p, name in _waist(garment, half))


def _level(level: Level, garment: Garment) -> Level:
    if level.name == "hip":
        return replace(level, runs=tuple((SKIRT[p], line, n) for p, line, n in level.runs))
    if level.name == "waist":
        found = replace(level, runs=_around_waist(garment))
        return replace(found, ease=garment.round(found.runs) - level.body)
    return level


def _passage(passage: Passage, garment: Garment, *, zipped: bool) -> Passage:
    opened = ((SKIRT[BACK], back_opening.ZIP, 2),) if zipped else ()
    if passage.name == "over_bust":
        kept = tuple(run for run in passage.runs if run[1] != "waist")
        return replace(passage, runs=(*_around_waist(garment), *kept, *opened))
    return replace(passage, runs=(*passage.runs, *opened)) if passage.name == "over_head" else passage
