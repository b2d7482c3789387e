"""Can she get into it: head, shoulders, hips, hand and foot against the openings of a garment.

    woven opening    the girth of the edge, and twice the slit when it is opened
    knit opening     the edge pulled out by the cloth's stretch; it may close on the part without ease
    elastic          must stretch to what it passes over, and so must the cloth edge it draws in

Hand and shoulders are seldom taped; they follow from wrist and bust by ratios of the adult survey
(6,068 adults), and the hand passes with the thumb laid in.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clothwise.body import Body
from clothwise.errors import MeasureError
from clothwise.shelf.pattern import BoughtPattern

Part = Literal["head", "shoulders", "hips", "hand", "foot"]

HEAD_EASE = 2.5  # cm: an edge that does not stretch passes the head with 2 to 3 cm (T)
HIPS_EASE = 2.5  # cm: the least met for a pull-on edge (2.5 to 5)
SHOULDERS_EASE = 2.5  # cm: as the hips; house rule
HAND_EASE = 1.5  # cm; brings a wrist of 16 cm to 25 cm, inside the 24 to 28 cm met for a fist (T)
FOOT_EASE = 1.0  # cm: the foot points and slides; house rule
SLIT_MORE = 1.5  # cm beyond the bare arithmetic, so that the slit's end is not torn (1 to 2 met)
SLIT_SPREAD = 0.5  # cm: and this much either way

HAND_OF_WRIST = 1.206  # hand girth without the thumb over wrist girth: survey, scatter 0.04
THUMB = 1.20  # passing girth with the thumb laid in over hand girth; house rule
SHOULDERS_OF_BUST = {"woman": 1.09, "man": 1.117, "girl": 1.10, "boy": 1.11}  # adults: survey; children between
ONE_ARM_FIRST = 0.92  # shoulders with one arm raised through first, over arms hanging; house rule
ELASTIC_LESS = 5.0  # cm: waist elastic is cut to the waist less this (n = 2)
CHILD_ELASTIC_LESS = 0.0  # cm: a child's is soft, and the lap is added to the waist (n = 3)
TRUNK_EASE = 5.0  # cm: a one-piece round the trunk (n = 2)
NAPPY = 10.0  # cm more round the trunk over a nappy (n = 2)


@dataclass(frozen=True, slots=True)
class Passage:
    """One part through one opening. [cm]

    part_girth   of the body's part; estimated: nobody taped it
    edge         girth of the opening as sewn, not stretched, slit closed
    opened       the most it gives: stretched, slit or zip open
    needed       what the part asks for, ease included
    slit         total length of slit that would let it pass, 0 when it passes; the given one included
    drawn_in     elastic draws it in: it is cut wider, not slit
    """

    opening: str
    part: Part
    part_girth: float
    estimated: bool
    edge: float
    opened: float
    needed: float
    slit: float
    drawn_in: bool = False

    @property
    def wider(self) -> float:
        """How much wider the edge must be cut for the part to pass. [cm]"""
        return max(0.0, self.needed - self.opened)

    @property
    def goes(self) -> bool:
        return self.opened >= self.needed


@dataclass(frozen=True, slots=True)
class Elastic:
    """What an elastic waist must do: its cut length, how far it stretches (share), the cloth edge it needs."""

    length: float
    stretch: float
    edge: float


def passage(
    opening: str,
    part: Part,
    part_girth: float,
    edge: float,
    *,
    stretch: float = 0.0,
    slit: float = 0.0,
    estimated: bool = False,
    drawn_in: bool = False,
) -> Passage:
    """One part of the body against one opening."""
    knit = stretch > 0
    needed = part_girth if knit else part_girth + EASE[part]
    opened = edge * (1 + stretch) + 2 * slit
    return Passage(
        opening,
        part,
        part_girth,
        estimated,
        edge,
        opened,
        needed,
        0.0 if opened >= needed else max(slit_length(part_girth, edge, stretch=stretch), SLIT_MORE),
        drawn_in,
    )


EASE: dict[Part, float] = {
    "head": HEAD_EASE,
    "shoulders": SHOULDERS_EASE,
    "hips": HIPS_EASE,
    "hand": HAND_EASE,
    "foot": FOOT_EASE,
}


AS_LEVEL = {"waist_opening": "waist", "neck_opening": "neck"}  # the other name an envelope has for an edge


def slit_length(part_girth: float, edge: float, *, stretch: float = 0.0) -> float:
    """How long a slit, placket or zip must be for the part to pass: half of what is missing, and a little. [cm]

    >>> slit_length(56, 40)
    9.5
    """
    missing = part_girth - edge * (1 + stretch)
    return missing / 2 + SLIT_MORE if missing > 0 else 0.0


def elastic_waist(waist: float, hip: float, *, child: bool = False) -> Elastic:
    """The elastic of a pull-on waist: its usual length, and what it must stretch to. [cm]"""
    length = waist - (CHILD_ELASTIC_LESS if child else ELASTIC_LESS)
    most = max(waist, hip)  # of a full waist the hips are not the widest that must pass
    return Elastic(length, most / length - 1, most + HIPS_EASE)


def trunk_needed(trunk_girth: float, *, nappy: bool) -> float:
    """What a one-piece must measure round the trunk, through the legs. [cm]"""
    return trunk_girth + TRUNK_EASE + (NAPPY if nappy else 0.0)


def trunk_of(body: Body) -> float | None:
    """Round the trunk, over one shoulder and through the legs; None when one of its parts is missing. [cm]"""
    parts = ("front_waist_length_over_bust", "back_waist_length", "crotch_length_total")
    return sum(body[part] for part in parts) if all(part in body for part in parts) else None


def part_of(body: Body, part: Part) -> tuple[float, bool] | None:
    """Girth of a part, and whether it is estimated; None when nothing tells it. [cm]"""
    if part in ("head", "hips", "foot"):
        name = {"head": "head_girth", "hips": "hip_girth", "foot": "foot_heel_girth"}[part]
        return (body[name], not body.taped(name)) if name in body else None
    if part == "hand":
        return (body["wrist_girth"] * HAND_OF_WRIST * THUMB, True) if "wrist_girth" in body else None
    if "bust_girth" not in body:
        return None
    shoulders = body["bust_girth"] * SHOULDERS_OF_BUST[body.figure] * ONE_ARM_FIRST
    return max(shoulders, body["bust_girth"]), True


def passages(
    body: Body, pattern: BoughtPattern, edges: dict[str, float], stretch: float
) -> tuple[Passage, ...]:
    """Every opening of the size that is cut, against what must pass it.

    edges     girth of each opening as sewn [cm]; stretch: of the cloth, a share, 0 for a woven
    """
    found = []
    for opening, edge in edges.items():
        part = _part_through(opening, pattern)
        girth = part_of(body, part) if part else None
        if part and girth:
            found.append(
                passage(
                    opening,
                    part,
                    girth[0],
                    edge,
                    stretch=stretch,
                    slit=pattern.slits.get(opening, 0.0),
                    estimated=girth[1],
                    drawn_in=not pattern.slits.get(opening)
                    and bool({opening, AS_LEVEL.get(opening)} & set(pattern.elastic)),
                )
            )
    return tuple(found)


def _part_through(opening: str, pattern: BoughtPattern) -> Part | None:
    if opening in ("waist_opening", "waist"):
        return "hips" if pattern.garment in ("skirt", "trousers") else "shoulders"
    parts: dict[str, Part] = {"neck_opening": "head", "sleeve_hem": "hand", "leg_hem": "foot"}
    return parts.get(opening)


def slit_span(passes: Passage) -> tuple[float, float]:
    """The slit from just enough to easy. [cm]"""
    if passes.slit <= 0:
        raise MeasureError("It passes without a slit.", where=passes.opening, mend="Leave it closed.")
    return passes.slit - SLIT_SPREAD, passes.slit + SLIT_SPREAD
