"""A grown-on casing with elastic: how wide the cloth must be to pass the hips, and what the elastic does.

The waist edge is the finished upper edge; the casing is turned down from it.
Lengths in cm. Sources: rules of the trade D (elastic, casings, passing the hips), read on the pages
counted there; house rule, 2026-11, where nothing is said.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import Curve, Point, Vector, sweep
from clothwise.draft.pattern import Choice, Wish
from clothwise.garment import FreeEdge, Note, Notion, Run

OVER_HIPS = 2.5  # cm: the cloth's edge is at least the hip and this (rule: 2.5-5)
OVER_WAIST = 2.0  # cm: and at least the waist and this, for those whose waist is the wider
CASING_ROOM = 0.6  # cm: the elastic slides in a casing this much wider (rule: 0.6 usual, 0.3 least)
TURN_IN = 1.0  # cm: the raw edge folded in below the casing
ELASTIC_SHORTER = 5.0  # cm: ordinary waist elastic is the waist less 5, lap included (rule: 2 of 2 pages)
ELASTIC_WIDTH = 3.0  # cm: lies flat on an adult waist
CHILD_ELASTIC_WIDTH = 2.0  # cm: a child's waist bends more sharply
LAP = 2.5  # cm: the ends of the elastic lie over each other this much
CHILD_ELASTIC_SHORTER = -LAP  # cm: soft for a child: the waist, and the lap besides (rule: 3 pages)
EVEN = 1 / 3  # of the chord: handles that spread a slight bow most evenly, so that it folds down flat
ONE_BOW = 0.02  # of the width: a second bow shorter than this is none
STRONG_STRETCH = 1.6  # elastic that must stretch further than this is named to the sewer
GIRTH_GROWS_OVER = 0.8  # of waist to hip: over this depth the girth grows evenly from waist to hip.
# (A high hip at half the way then takes 0.6 of the difference: rule of thumb of the measures.)


def edge_needed(body: Body) -> float:
    """The least girth of the cloth's waist edge: it passes the hips, and is never tighter than the waist."""
    return max(body["hip_girth"] + OVER_HIPS, body["waist_girth"] + OVER_WAIST)


def girth_below_waist(body: Body, depth: float) -> float:
    """Girth of the body where a lowered waist sits; above the waist it is taken as the waist. [cm]"""
    share = min(max(depth / (GIRTH_GROWS_OVER * body["waist_to_hip"]), 0.0), 1.0)
    return body["waist_girth"] + share * (body["hip_girth"] - body["waist_girth"])


WIDTH_CHOICE = Choice(
    "elastic_width",
    f"Width of the elastic; else {ELASTIC_WIDTH:g}, for a child {CHILD_ELASTIC_WIDTH:g}.",
    unit="cm",
    low=1.0,
    high=6.0,
    changes="casing",
)


def elastic_width(body: Body, wish: Wish) -> float:
    """Width of the elastic, as wished or as usual. [cm]"""
    return float(wish.get("elastic_width", CHILD_ELASTIC_WIDTH if body.child else ELASTIC_WIDTH))


def casing_turn(width: float) -> float:
    """Whole depth turned down for an elastic of that width. [cm]"""
    return width + CASING_ROOM + TURN_IN


def casing(runs: tuple[Run, ...], turn: float, width: float) -> FreeEdge:
    """The casing round the waist: turned down `turn`, for an elastic of that width. [cm]"""
    return FreeEdge("casing", "Casing at the waist", runs, "casing", turn=turn, fold_in=TURN_IN, elastic=width)


def waist_line(centre: Point, along: Vector, side: Point, slope: Vector) -> Curve:
    """The waist from the centre, which it leaves `along`, to the side, where it arrives along `slope`."""
    return sweep(centre, along, side, slope, EVEN, EVEN)


def climbing_line(centre: Point, along: Vector, side: Point, slope: Vector) -> Curve:
    """The same where the side is raised, so that the waist first turns up and then out: two bows that bend
    alike. They climb half as far again as one S could before its ends bend too sharply.

    Slopes against the chord: a at the centre, b at the side, m where the bows meet, a share t of the way out.
    Each bow climbs the mean of its end slopes, together nothing, and they bend alike: |m - a| / t =
    |m - b| / (1 - t). Hence m.
    """
    chord = centre.to(side)
    a, b = (way.dot(chord.left()) / way.dot(chord) for way in (along, slope))
    m = -math.copysign(math.hypot(a, b) / math.sqrt(2), a + b)
    t = (m - a) / (2 * m - a - b) if m else 1.0
    if not ONE_BOW < t < 1 - ONE_BOW:
        return waist_line(centre, along, side, slope)
    middle = centre.go(chord, t).go(chord.left(), t * (a + m) / 2)
    way = chord.turned(math.degrees(math.atan(m)))
    return waist_line(centre, along, middle, way).then(waist_line(middle, way, side, slope))


@dataclass(frozen=True, slots=True)
class Elastic:
    """flat: cloth of the edge that stays flat [cm]; length: elastic to cut, lap included [cm];
    stretch: how many times its length it reaches when the edge passes the hips."""

    width: float
    flat: float
    length: float
    stretch: float

    def notion(self, place: str) -> Notion:
        return Notion(
            "elastic", f"Elastic {self.width:g} cm wide", place=place, length=self.length, width=self.width
        )


def elastic(body: Body, girth: float, width: float, flat: float = 0.0) -> Elastic:
    """The elastic for a waist of that girth of which `flat` stays without. [cm]"""
    shorter = CHILD_ELASTIC_SHORTER if body.child else ELASTIC_SHORTER
    length = (girth - shorter) * (1 - flat / girth)
    return Elastic(width, flat, length, (body["hip_girth"] - flat) / length)


def elastic_notes(found: Elastic) -> tuple[Note, ...]:
    if found.stretch <= STRONG_STRETCH:
        return ()
    return (
        Note(
            f"To pass the hips the elastic must stretch to {found.stretch:.1f} times its length: "
            "pull a piece of it against the tape before you buy.",
        ),
    )
