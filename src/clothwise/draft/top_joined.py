"""How front and back of an upper garment join: seams, what runs round the body, corners that run on across.

A front may have its dart in any edge, so its edges are given by their names in the order of its ring, from the
hem up; the back is turned over, so its edges run the other way.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.draft.bodice import BACK_SHOULDER_EASE
from clothwise.draft.cap import Armhole
from clothwise.draft.darts import Ring
from clothwise.draft.top_body import BACK, FRONT, names_of
from clothwise.garment import Corner, Garment, Joint, Run, Seam
from clothwise.garment.notches import notched

Runs = tuple[Run, ...]
FRONT_NOTCH, BACK_NOTCH = (0.33, 8.0), (0.36, 9.0)  # share of the half armhole from the underarm, at most cm


def runs(piece: str, names: tuple[str, ...]) -> Runs:
    return tuple(Run(piece, name) for name in names)


def backwards(walk: Runs) -> Runs:
    """The same runs walked from the other end."""
    return tuple(replace(run, backwards=not run.backwards) for run in reversed(walk))


def mirrored(walk: Runs) -> Runs:
    """The same runs on the other half."""
    return tuple(replace(run, side="mirrored") for run in walk)


def both(walk: Runs) -> Runs:
    """A walk to the centre line and on along its mirror image."""
    return (*walk, *backwards(mirrored(walk)))


def round_the_back(half: Runs) -> Runs:
    """From the left front over the centre back to the right; `half` goes from the centre back to the front."""
    return (*backwards(half), *mirrored(half))


def shoulder_seam(front: Ring, *, name: str = "shoulder", pieces: tuple[str, str] = (FRONT, BACK)) -> Seam:
    """Back shoulder eased onto the front's, from the neck out."""
    return Seam(
        name,
        "Shoulder seams",
        (Run(pieces[1], "shoulder"),),
        backwards(runs(pieces[0], names_of(front, "shoulder"))),
        "eased",
        ease=BACK_SHOULDER_EASE,
        times=2,
    )


def side_seams(front: Ring) -> Seam:
    """From the hem up."""
    side = runs(FRONT, names_of(front, "side"))
    return Seam("side_seam", "Side seams", side, (Run(BACK, "side", backwards=True),), times=2)


def armhole_walk(front: Ring, back: Ring, pieces: tuple[str, str] = (FRONT, BACK)) -> Runs:
    """Round the armhole from the front underarm over the shoulder to the back underarm."""
    return (*runs(pieces[0], names_of(front, "armhole")), *runs(pieces[1], names_of(back, "armhole")[::-1]))


def neck_half(front: Ring, pieces: tuple[str, str] = (FRONT, BACK)) -> Runs:
    """Half the neck, from the centre back to the centre front."""
    return (Run(pieces[1], "neck"), *runs(pieces[0], names_of(front, "neck")))


def hem_round() -> Runs:
    """Once round the hem, from the centre front."""
    half = (Run(FRONT, "hem"), Run(BACK, "hem"))
    return both(half)


def joints(front: Ring, back: Ring) -> tuple[Joint, ...]:
    """Corners of front and back that come together."""
    back_armhole = names_of(back, "armhole")
    side, armhole = names_of(front, "side"), names_of(front, "armhole")
    shoulder, neck = names_of(front, "shoulder"), names_of(front, "neck")
    low, high = armhole[0], armhole[-1]
    return (
        Joint("neck at the shoulder", (Corner(FRONT, shoulder[-1], neck[0]), Corner(BACK, "neck", "shoulder"))),
        Joint(
            "armhole at the shoulder",
            (Corner(FRONT, high, shoulder[0]), Corner(BACK, "shoulder", back_armhole[-1])),
        ),
        Joint("armhole under the arm", (Corner(FRONT, side[-1], low), Corner(BACK, back_armhole[0], "side"))),
        Joint("hem at the side", (Corner(FRONT, "hem", side[0]), Corner(BACK, "side", "hem"))),
    )


def armhole_notched(garment: Garment, seam: str, armhole: Armhole) -> Garment:
    """Front single and back double notch of the armhole, with no ease below them on either side."""
    front, back = armhole.front.length(), armhole.back.length()
    whole = garment.length(next(s.a for s in garment.seams if s.name == seam))
    at = min(FRONT_NOTCH[0] * front, FRONT_NOTCH[1])
    garment = notched(garment, seam, at, "front", at_b=at)
    at = min(BACK_NOTCH[0] * back, BACK_NOTCH[1])
    return notched(garment, seam, whole - at, "back", 2, 2, at_b=front + back - at)
