"""A zip at the top of a seam: how long it must be for the hips to pass, and the edges it is set in.

The waist edge and both edges of the opening together go over the hips; the zip also reaches near the hip line,
so that it opens easily. Zips are bought in set lengths; the opening is made as long as the zip.
Lengths in cm. Source: drafting method, skirts (waist and twice the zip at least the hip and 2); rules of the
trade G (centre back and zip 1.9 allowance); the set lengths are ordinary trade knowledge, not looked up.
"""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.body import Body
from clothwise.errors import ChoiceError
from clothwise.garment import FreeEdge, Notion, Passage, Run

OVER_HIPS = 2.0  # cm: the open edge is at least the hip and this
OF_HIP_DEPTH = 0.75  # of waist to hip: a zip that ends higher strains when she steps in
LENGTHS = (10.0, 12.0, 15.0, 18.0, 20.0, 22.0, 25.0, 30.0, 35.0, 40.0)  # cm: as they are sold
BELOW = 8.0  # cm of seam at least below the zip: less would tear
SEAM = 2.0  # cm allowance along the seam with the zip
EDGE = "zip"  # the name of the open part of the seam


def zip_length(body: Body, waist: float, room: float, where: str) -> float:
    """The shortest zip as sold that lets the hips pass a waist edge of that girth. [cm]

    room  length of the seam it may take. ChoiceError when none is long enough.
    """
    needed = max((body["hip_girth"] + OVER_HIPS - waist) / 2, OF_HIP_DEPTH * body["waist_to_hip"])
    for length in LENGTHS:
        if needed <= length <= room - BELOW:
            return length
    raise ChoiceError(
        f"To pass the hips the zip must be {needed:.0f} cm long; there is room for {room - BELOW:.0f} cm.",
        where=where,
        mend="Make the skirt longer, or choose a waist with elastic.",
    )


def free_edge(piece: str) -> FreeEdge:
    """Both edges of the opening, left and right."""
    return FreeEdge("zip", "Zip", (Run(piece, EDGE),), "zip", turn=SEAM, closed=False, times=2)


def notion(length: float) -> Notion:
    return Notion("zip", f"Zip {length:g} cm", place="zip", length=length)


def passage(body: Body, waist: Sequence[tuple[str, str, int]], piece: str) -> Passage:
    """The waist edge and the opened zip over the hips."""
    return Passage(
        "over_hips",
        "Waist and opened zip over the hips",
        (*waist, (piece, EDGE, 2)),
        passes=body["hip_girth"],
        needs=OVER_HIPS,
    )
