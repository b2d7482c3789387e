"""How the pieces of a robe join: seams, hem from front edge to front edge, band, corners that run on across.

The front is cut as a pair, drawn as the wearer's left; the back on the fold, its side on the right as well.
"""

from __future__ import annotations

from clothwise.garment import Corner, FreeEdge, Joint, Run, Seam

FRONT, BACK, SLEEVE, BAND = "front", "back", "sleeve", "band"


def hem_runs() -> tuple[Run, ...]:
    """From the left front edge round the back to the right one."""
    return (
        Run(FRONT, "hem"),
        Run(BACK, "hem", backwards=True),
        Run(BACK, "hem", side="mirrored"),
        Run(FRONT, "hem", backwards=True, side="mirrored"),
    )


def band_free(allowance: float) -> tuple[FreeEdge, FreeEdge]:
    """The band's inner edge, sewn down, and its lower ends, turned in level with the hem."""
    inner = (Run(BAND, "inner", backwards=True), Run(BAND, "inner", side="mirrored"))
    ends = (Run(BAND, "low_end"),)
    turn = {"turn": allowance, "fold_in": allowance, "closed": False}
    return (
        FreeEdge("band_ends", "Lower ends of the band", ends, "band", times=2, **turn),  # type: ignore[arg-type]
        FreeEdge("band_inside", "Inside of the band", inner, "band", **turn),  # type: ignore[arg-type]
    )


SEAMS = (
    Seam("shoulder_seam", "Shoulder seams", (Run(FRONT, "shoulder"),), (Run(BACK, "shoulder"),), times=2),
    Seam(
        "armhole",
        "Sleeves to the body",
        (Run(SLEEVE, "top", backwards=True),),
        (Run(FRONT, "armhole"), Run(BACK, "armhole", backwards=True)),
        times=2,
    ),
    Seam("side_seam", "Side seams", (Run(FRONT, "side_seam"),), (Run(BACK, "side_seam"),), times=2),
    Seam(
        "sleeve_seam",
        "Sleeve seams",
        (Run(SLEEVE, "front_seam"),),
        (Run(SLEEVE, "back_seam", backwards=True),),
        times=2,
    ),
    Seam(
        "band_centre",
        "Centre back seam of the band",
        (Run(BAND, "centre"),),
        (Run(BAND, "centre", side="mirrored"),),
    ),
    Seam(
        "band",
        "Band to the front edges and the back neck",
        (Run(BAND, "outer"),),
        (Run(FRONT, "front_edge", backwards=True), Run(BACK, "neck")),
        kind="applied",
        times=2,
        after=("hem",),
    ),
)

JOINTS = (
    Joint(
        "front edge and neck at the shoulder",
        (Corner(FRONT, "shoulder", "front_edge"), Corner(BACK, "shoulder", "neck")),
    ),
    Joint(
        "armhole at the shoulder", (Corner(FRONT, "armhole", "shoulder"), Corner(BACK, "armhole", "shoulder"))
    ),
    Joint("hem at the side", (Corner(FRONT, "hem", "side_seam"), Corner(BACK, "hem", "side_seam"))),
    Joint(
        "sleeve hem at its seam",
        (Corner(SLEEVE, "front_seam", "hem"), Corner(SLEEVE, "hem", "back_seam")),
    ),
)
