"""How the panels of a skirt join: what runs round the body, seams, free edges, corners and match marks.

The panels stand in `skirt_panels`. Lengths in cm. Source: house rule, 2026-11.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.draft import hem, in_seam_pocket, pocket, zip_opening
from clothwise.draft.skirt_panels import (
    BACK,
    CENTRE,
    FRONT,
    INNER,
    OUTER,
    SIDE,
    SLIT_FOLD_IN,
    SLIT_TURN,
    STAND,
    STAND_FOLD_IN,
    Panel,
    Plan,
    back_name,
    front_name,
)
from clothwise.garment import Corner, FreeEdge, Garment, Joint, Run, Seam
from clothwise.garment.notches import notched

NOTCH_FREE = 4.0  # cm: a notch is set no nearer to an end of its seam

# ---- what runs round the body --------------------------------------------------------------------


def waist_names(panel: Panel) -> tuple[str, ...]:
    """Its waist edges from the centre outwards."""
    n = len(panel.waist)
    return ("waist",) if n == 1 else tuple(f"waist_{i + 1}" for i in range(n))


def round_waist(front: Sequence[Panel], back: Sequence[Panel], *, open_front: bool = False) -> tuple[Run, ...]:
    """Once round the waist from the centre back, over the wearer's left side first; or, where the front is
    open, from the centre front over her right side."""
    behind = [Run(back_name(n), edge) for n, panel in enumerate(back) for edge in waist_names(panel)]
    before = [Run(front_name(n), edge) for n, panel in enumerate(front) for edge in waist_names(panel)]
    left = (*behind, *reversed(before))
    right = tuple(replace(run, backwards=True, side="mirrored") for run in reversed(left))
    return (*right, *left) if open_front else (*left, *right)


def round_hem(front: int, back: int, *, open_front: bool = False) -> tuple[Run, ...]:
    """Once round the hem of so many panels a quarter, from the centre back, or from an open front."""
    behind = [Run(back_name(n), "hem", backwards=True) for n in range(back)]
    before = [Run(front_name(n), "hem", backwards=True) for n in range(front)]
    left = (*behind, *reversed(before))
    right = tuple(replace(run, backwards=False, side="mirrored") for run in reversed(left))
    return (*right, *left) if open_front else (*left, *right)


def girth_runs(front: int, back: int, mark: str) -> tuple[tuple[str, str, int], ...]:
    """A level line on every panel, once round the body."""
    names = (*(front_name(n) for n in range(front)), *(back_name(n) for n in range(back)))
    return tuple((name, mark, 2) for name in names)


def waist_girth_runs(front: Sequence[Panel], back: Sequence[Panel]) -> tuple[tuple[str, str, int], ...]:
    return tuple((run.piece, run.line, 2) for run in round_waist(front, back) if run.side == "as drawn")


# ---- seams, free edges, joints -------------------------------------------------------------------


def seams(front: int, back: int, plan: Plan) -> tuple[Seam, ...]:
    """All seams below the waist of so many panels a quarter."""
    found: list[Seam] = []
    if plan.patch:
        found.append(pocket.seam(front_name(front - 1)))
    if not plan.fold_front and not plan.stand:
        ours = (Run(FRONT, CENTRE),)
        found.append(Seam("centre_front", "Centre front seam", ours, _mirrored(ours)))
    if not plan.fold_back:
        ours = (Run(BACK, CENTRE, backwards=True),)
        found.append(Seam("centre_back", "Centre back seam", ours, _mirrored(ours)))
    for count, name_of, out_up, word in ((front, front_name, True, "front"), (back, back_name, False, "back")):
        found += [
            Seam(
                f"{word}_join_{n + 1}",
                f"Joins of the {word} panels",
                (Run(name_of(n), OUTER, backwards=out_up),),
                (Run(name_of(n + 1), INNER, backwards=not out_up),),
                times=2,
            )
            for n in range(count - 1)
        ]
    outermost = front_name(front - 1), back_name(back - 1)
    if plan.bag:
        return (*found, *in_seam_pocket.seams(*outermost))
    side = Seam(
        "side_seam",
        "Side seams",
        (Run(outermost[0], SIDE, backwards=True),),
        (Run(outermost[1], SIDE),),
        times=2,
    )
    return (*found, side)


def _mirrored(runs: tuple[Run, ...]) -> tuple[Run, ...]:
    return tuple(replace(run, side="mirrored") for run in runs)


def free_edges(front: int, back: int, plan: Plan) -> tuple[FreeEdge, ...]:
    """Pocket tops, zip, slit and hem."""
    found: list[FreeEdge] = [pocket.top()] if plan.patch else []
    if plan.zip:
        found.append(zip_opening.free_edge(BACK))
    if plan.slit:
        edges = (Run(BACK, "slit"),)
        found.append(
            FreeEdge(
                "slit",
                "Edges of the slit",
                edges,
                "hem",
                turn=SLIT_TURN,
                fold_in=SLIT_FOLD_IN,
                closed=False,
                times=2,
            )
        )
    if plan.stand:
        stand = (Run(FRONT, STAND),)
        found.append(
            FreeEdge(
                "stand",
                "Button stands",
                stand,
                "stand",
                turn=plan.stand,
                fold_in=STAND_FOLD_IN,
                closed=False,
                times=2,
            )
        )
    around = round_hem(front, back, open_front=plan.stand > 0)
    closed = not plan.slit and not plan.stand
    return (*found, hem.hem_edge("Hem", around, plan.hem, closed=closed))


def joints(front: Sequence[Panel], back: Sequence[Panel], plan: Plan) -> tuple[Joint, ...]:
    """Where waist and hem run on across the seams."""
    one, other = front_name(len(front) - 1), back_name(len(back) - 1)
    upper = in_seam_pocket.UPPER if plan.bag else SIDE
    lower = in_seam_pocket.LOWER if plan.bag else SIDE
    found = [
        Joint(
            "waist at the side",
            (Corner(one, upper, waist_names(front[-1])[-1]), Corner(other, waist_names(back[-1])[-1], upper)),
        ),
        Joint("hem at the side", (Corner(one, "hem", lower), Corner(other, lower, "hem"))),
    ]
    if not plan.fold_front and not plan.stand:
        found.append(Joint("waist at centre front", (Corner(FRONT, waist_names(front[0])[0], CENTRE),) * 2))
        found.append(Joint("hem at centre front", (Corner(FRONT, CENTRE, "hem"),) * 2))
    if not plan.fold_back:
        top = zip_opening.EDGE if plan.zip else CENTRE
        found.append(Joint("waist at centre back", (Corner(BACK, top, waist_names(back[0])[0]),) * 2))
        if not plan.slit:
            found.append(Joint("hem at centre back", (Corner(BACK, "hem", CENTRE),) * 2))
    return tuple(found)


def with_notches(garment: Garment, plan: Plan, hip_depth: float, side_raised: float) -> Garment:
    """Match marks: hip at the side, one single at the front seams, doubles at the back ones."""
    for seam in garment.seams:
        length = garment.length(seam.a)
        if seam.name == "side_seam":
            garment = notched(garment, seam.name, min(hip_depth + side_raised, length - NOTCH_FREE), "hip")
        elif seam.name == "side_lower":
            garment = notched(garment, seam.name, length / 2, "side")
        elif seam.name == "centre_front":
            garment = notched(garment, seam.name, length / 2, "front")
        elif seam.name == "centre_back":
            at = min(max(hip_depth - plan.zip, NOTCH_FREE), length - NOTCH_FREE)
            garment = notched(garment, seam.name, at, "back", 2, 2)
        elif "_join_" in seam.name:
            count = 1 if seam.name.startswith("front") else 2
            garment = notched(garment, seam.name, length / 2, seam.name, count, count)
    return garment
