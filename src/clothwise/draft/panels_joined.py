"""How the four panels of a skirt join: seams, what runs round the body, and the corners that run on across.

Front and back panel are drawn for the wearer's left, the right side up.
"""

from __future__ import annotations

from clothwise.garment import Corner, Joint, Run, Seam

FRONT, BACK = "front_panel", "back_panel"


def round_body(edge: str) -> tuple[Run, ...]:
    """Once round the body, beginning at the side of the front panel as drawn."""
    out = edge == "hem"
    return (
        Run(FRONT, edge, backwards=out),
        Run(FRONT, edge, backwards=not out, side="mirrored"),
        Run(BACK, edge, backwards=not out, side="mirrored"),
        Run(BACK, edge, backwards=out),
    )


def open_hem() -> tuple[Run, ...]:
    """Along the hem from one edge of the slit to the other."""
    return (
        Run(BACK, "hem", backwards=True),
        Run(FRONT, "hem", backwards=True),
        Run(FRONT, "hem", side="mirrored"),
        Run(BACK, "hem", side="mirrored"),
    )


SEAMS = (
    Seam(
        "centre_front",
        "Centre front seam",
        (Run(FRONT, "centre"),),
        (Run(FRONT, "centre", side="mirrored"),),
    ),
    Seam(
        "centre_back",
        "Centre back seam",
        (Run(BACK, "centre", backwards=True),),
        (Run(BACK, "centre", backwards=True, side="mirrored"),),
    ),
    Seam(
        "side_seam",
        "Side seams",
        (Run(FRONT, "side_seam", backwards=True),),
        (Run(BACK, "side_seam"),),
        times=2,
    ),
)

JOINTS = (
    Joint("waist at the side", (Corner(FRONT, "side_seam", "waist"), Corner(BACK, "waist", "side_seam"))),
    Joint("hem at the side", (Corner(FRONT, "hem", "side_seam"), Corner(BACK, "side_seam", "hem"))),
    Joint("waist at centre front", (Corner(FRONT, "waist", "centre"),) * 2),
    Joint("waist at centre back", (Corner(BACK, "centre", "waist"),) * 2),
    Joint("hem at centre front", (Corner(FRONT, "centre", "hem"),) * 2),
)
HEM_AT_CENTRE_BACK = Joint("hem at centre back", (Corner(BACK, "hem", "centre"),) * 2)
