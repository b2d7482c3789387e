"""What each level asks of the choice: her measure, the ease intended, liked and wanted, the floor.

base      the measure the size is told by; for a full bust over a narrow frame, the high bust and the
          room the pattern is drawn for
free      hangs free of the body: intended so loose, or said so on the envelope
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.shelf.levels import level as level_of
from clothwise.shelf.pattern import BoughtPattern, FinishedMake, GarmentKind, Judgement
from clothwise.size.chart import Graded, graded
from clothwise.size.choosing import Held
from clothwise.size.ease import least_ease, spread, usual_ease
from clothwise.size.liking import Liking, judgements_of, liking
from clothwise.tolerance import GIRTH

ROUND = ("bust", "waist", "hip")  # from the top down
NEEDED: dict[GarmentKind, tuple[str, ...]] = {
    "top": ("bust",),
    "shirt": ("bust",),
    "dress": ROUND,
    "skirt": ("waist", "hip"),
    "trousers": ("waist", "hip"),
    "jacket": ("bust",),
    "coat": ("bust",),
    "one-piece": ROUND,
}
WEIGHT_HANGER = 3.0  # shoulders and armholes hang from the bust, and are the hardest to alter
WEIGHT_HIP_BELOW = 2.0  # a skirt is taken from the hip, and its waist brought in by darts
FREE_FROM = {
    "bust": 20.0,
    "waist": 12.0,
    "hip": 15.0,
}  # cm of intended ease: it hangs free (n = 1: very loose 15+)
FULL_BUST = 5.0  # cm from high bust to bust: from here on the high bust tells the size
UNDERARM_TO_WAIST = 19.0  # cm: an adult's, when the body does not tell (survey mean: women 19, men 21)
WAIST_TO_HIP = 20.0  # cm: the same


@dataclass(frozen=True, slots=True)
class Asked:
    """One level with all that was found out about it. [cm]"""

    level: str
    body: float
    base: float
    by_high_bust: bool
    source: str
    grading: Graded
    intended: float
    liked: Liking
    wished: float | None
    wanted: float
    floor: float
    free: bool

    def ease(self, place: int) -> float:
        """What a size gives, over the measure it is told by."""
        return self.grading.finished_at(place) - self.base

    def wearable(self, place: int) -> bool:
        """Whether a size gives the floor, to the millimetre the tape reads."""
        return self.ease(place) >= self.floor - GIRTH


def asked_levels(
    body: Body,
    pattern: BoughtPattern,
    view: str,
    stretch: float | None,
    makes: tuple[FinishedMake, ...],
    wishes: Mapping[str, float],
) -> tuple[Asked, ...]:
    """The levels of the round that can be judged, from the top down; the topmost is held if all hang free."""
    wanted = NEEDED[pattern.garment]
    levels = wanted if pattern.garment in ("skirt", "trousers") else ROUND
    found = [
        one
        for name in levels
        if level_of(name).body in body
        and (one := _asked(body, pattern, view, name, stretch, makes, wishes)) is not None
    ]
    if found and all(one.free for one in found):
        found[0] = replace(found[0], free=False)
    return tuple(found)


def _asked(
    body: Body,
    pattern: BoughtPattern,
    view: str,
    name: str,
    stretch: float | None,
    makes: tuple[FinishedMake, ...],
    wishes: Mapping[str, float],
) -> Asked | None:
    measure = level_of(name).body
    cm = body[measure]
    base, by_high_bust = told_by(body, pattern) if name == "bust" else (cm, False)
    usual = usual_ease(
        name, pattern.fit_class, pattern.garment, pattern.figure, knit=pattern.make == "knit", body=base
    )
    row = graded(pattern, view, name, usual)
    if row is None:
        return None
    near = min(row.places, key=lambda place: abs(row.chart_at(place) - base))
    intended = row.intended_at(min(max(near, 0), len(pattern.sizes) - 1))
    loose = intended >= FREE_FROM[name] - GIRTH or name in pattern.free or name in pattern.elastic
    told = () if loose else _of_fitted(judgements_of(makes, body.name, pattern, name), name)
    liked = liking(told, intended=intended, spread=spread(name, pattern.fit_class))
    floor = least_ease(name, pattern.garment, pattern.figure, stretch=stretch, body=base)
    if pattern.make == "woven":  # a maker may mean a closer fit than is usual, but not closer than the body
        floor = min(floor, max(intended, 0.0))
    elif stretch is None:
        floor = min(floor, intended)
    wished = wishes.get(name)
    if (
        name in pattern.elastic and wished is None
    ):  # relaxed it is smaller than the body; `getting_in` tells its edge
        floor = -cm
    return Asked(
        name,
        cm,
        base,
        by_high_bust,
        body.measures[measure].source,
        row,
        intended,
        liked,
        wished,
        wanted=max(liked.mean if wished is None else wished, floor),
        floor=floor,
        free=loose and wished is None,
    )


def _of_fitted(told: tuple[Judgement, ...], level: str) -> tuple[Judgement, ...]:
    """Only what was said of makes that fit here: a swing dress worn with joy tells nothing of a skirt."""
    return tuple(one for one in told if one.ease < FREE_FROM[level])


def told_by(body: Body, pattern: BoughtPattern) -> tuple[float, bool]:
    """The measure a bust size is told by, and whether the high bust told it. Only a taped high bust may."""
    bust = body["bust_girth"]
    if pattern.figure != "woman" or not body.taped("high_bust_girth"):
        return bust, False
    if bust - body["high_bust_girth"] < FULL_BUST:
        return bust, False
    return min(bust, body["high_bust_girth"] + pattern.bust_room), True


def as_held(asked: tuple[Asked, ...], body: Body, pattern: BoughtPattern) -> tuple[Held, ...]:
    """The same levels as the choice sees them."""
    last = len(pattern.sizes) - 1
    held = []
    for at, one in enumerate(asked):
        row = one.grading
        below = asked[at + 1].level if at + 1 < len(asked) else ""
        drawn_in = one.free and one.level in pattern.elastic  # cut as wide as what it must pass: it follows it
        held.append(
            Held(
                level=one.level,
                eases=tuple(one.ease(place) for place in row.places),
                wanted=one.wanted,
                floor=one.floor,
                grade=row.grade,
                weight=_weight(one.level, pattern.garment),
                below=length_between(one.level, below, body) if below else 0.0,
                girths=row.finished,
                off=tuple(0 if drawn_in else max(0, -place, place - last) for place in row.places),
                free=one.free,
                knit=pattern.make == "knit",
            )
        )
    return tuple(held)


def length_between(upper: str, lower: str, body: Body) -> float:
    """Along the side from one level to another below it. [cm]"""
    bodice = UNDERARM_TO_WAIST
    if "back_waist_length" in body and "armscye_depth" in body:
        bodice = max(5.0, body["back_waist_length"] - body["armscye_depth"])
    known = body.measures.get("waist_to_hip")
    hip = known.cm if known else WAIST_TO_HIP
    if upper == "bust":
        return bodice if lower == "waist" else bodice + hip
    return hip


def _weight(level: str, garment: GarmentKind) -> float:
    if level == "bust":
        return WEIGHT_HANGER
    return WEIGHT_HIP_BELOW if level == "hip" and garment in ("skirt", "trousers") else 1.0


def stretch_of(pattern: BoughtPattern, cloth: Cloth | None) -> float | None:
    """The stretch to reckon with, a share: of the cloth when it is known, else the least the pattern asks for.

    None: a knit of which nobody says how far it stretches. A woven cloth counts as 0.
    """
    if cloth is not None:
        return cloth.stretch_across if cloth.make == "knit" else 0.0
    return pattern.least_stretch if pattern.make == "knit" else 0.0
