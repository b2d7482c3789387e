"""How front and back of a knit body with cut-on sleeves join: seams, what runs round, corners that run on.

Both pieces are halves on the fold with the side on the right, so a seam between them walks both alike.
"""

from __future__ import annotations

from clothwise.garment import Corner, Joint, Run, Seam

FRONT, BACK = "front", "back"


def hem_runs() -> tuple[Run, ...]:
    """Once round the body, from the side of the front as drawn."""
    return (
        Run(FRONT, "hem", backwards=True),
        Run(FRONT, "hem", side="mirrored"),
        Run(BACK, "hem", backwards=True, side="mirrored"),
        Run(BACK, "hem"),
    )


def sleeve_runs() -> tuple[Run, ...]:
    """Once round one sleeve's end, from the underarm up the front."""
    return (Run(FRONT, "sleeve_end"), Run(BACK, "sleeve_end", backwards=True))


SEAMS = (
    Seam(
        "shoulder_seam",
        "Shoulder and arm seams",
        (Run(FRONT, "shoulder"),),
        (Run(BACK, "shoulder"),),
        times=2,
        pressed="to b",
    ),
    Seam(
        "side_seam",
        "Side and underarm seams",
        (Run(FRONT, "side_seam"), Run(FRONT, "underarm")),
        (Run(BACK, "side_seam"), Run(BACK, "underarm")),
        times=2,
        pressed="to b",
    ),
)

JOINTS = (
    Joint("neck at the shoulder", (Corner(FRONT, "shoulder", "neck"), Corner(BACK, "shoulder", "neck"))),
    Joint(
        "sleeve end at the shoulder",
        (Corner(FRONT, "sleeve_end", "shoulder"), Corner(BACK, "sleeve_end", "shoulder")),
    ),
    Joint(
        "sleeve end under the arm",
        (Corner(FRONT, "underarm", "sleeve_end"), Corner(BACK, "underarm", "sleeve_end")),
    ),
    Joint("hem at the side", (Corner(FRONT, "hem", "side_seam"), Corner(BACK, "hem", "side_seam"))),
)
