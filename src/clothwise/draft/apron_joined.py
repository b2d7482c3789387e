"""How the pieces of an apron or pinafore join: band and its inside round bib and ties, skirt, straps, hems.

Band and inside are two whole strips, laid right sides together: what is left on one is right on the other.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.draft import hem, pocket, tie
from clothwise.garment import Corner, FreeEdge, Joint, Run, Seam

BIB, SKIRT, BAND, FACING, STRAP, TIE = "bib", "skirt", "waistband", "band_facing", "strap", "waist_tie"


def band_seams(*, tied: bool) -> tuple[Seam, ...]:
    """Upper edge with the bib in between, ends with the ties in between where there are any."""
    tie_end = ((Run(TIE, "start"),), (Run(TIE, "start_inside", backwards=True),)) if tied else ()
    bib = (Run(BIB, "bottom", backwards=True), Run(BIB, "bottom", side="mirrored"))
    return (
        Seam(
            "bib",
            "Bib between the bands",
            (Run(FACING, "upper_bib", backwards=True),),
            (Run(BAND, "upper_bib"),),
            pressed="up",
            after=("bib_sides", "bib_top"),
            more=(bib,),
        ),
        _edge("band_right", "Upper edge of the band, right of the bib", "upper_left", "upper_right"),
        _edge("band_left", "Upper edge of the band, left of the bib", "upper_right", "upper_left"),
        replace(_edge("end_right", "Right end of the band", "start", "end"), more=tie_end),
        replace(_edge("end_left", "Left end of the band", "end", "start"), more=tie_end),
    )


def _edge(name: str, title: str, inside: str, outside: str) -> Seam:
    return Seam(name, title, (Run(FACING, inside, backwards=True),), (Run(BAND, outside),))


def skirt_seam(ratio: float) -> Seam:
    """The skirt gathered on to the lower edge of the band, from one end to the other."""
    top = (Run(SKIRT, "top", side="mirrored"), Run(SKIRT, "top", backwards=True))
    return Seam(
        "skirt",
        "Skirt to the waistband",
        top,
        (Run(BAND, "lower"),),
        kind="gathered",
        ratio=ratio,
        pressed="up",
        after=("back_edges",),
    )


def strap_seams(*, crossed: bool, tied: bool) -> tuple[Seam, ...]:
    """Straps made and set on; the ties at the back made."""
    word = "straps" if crossed else "neck ties"
    on_bib = tie.set_on(
        STRAP, "start", "straps_front", f"{word.capitalize()} on the bib", Run(BIB, "strap_place"), 2
    )
    on_bib = replace(on_bib, after=("bib_top",))
    ties = (tie.shut_at_end(TIE, "Waist ties", 2),) if tied else ()
    if not crossed:
        return tie.shut_at_end(STRAP, "Neck ties", 2), on_bib, *ties
    back = tuple(
        tie.set_on(
            STRAP,
            "end",
            f"strap_{side}",
            f"Strap crossing to the {side} of the band",
            Run(FACING, f"{side}_strap_place"),
            1,
        )
        for side in ("left", "right")
    )
    return tie.sewn_along(STRAP, "Straps", 2), on_bib, *back, *ties


def free_edges(
    hem_turn: float, turn: float, fold_in: float, top: float, seam: float, *, pockets: bool
) -> tuple[FreeEdge, ...]:
    """Hems of bib and skirt, and the inside of the band, sewn down over the gathers. [cm]"""
    hem_runs = (Run(SKIRT, "hem", backwards=True, side="mirrored"), Run(SKIRT, "hem"))
    top_runs = (Run(BIB, "top"), Run(BIB, "top", backwards=True, side="mirrored"))
    sides = FreeEdge(
        "bib_sides",
        "Sides of the bib",
        (Run(BIB, "side"),),
        "hem",
        turn=turn,
        fold_in=fold_in,
        closed=False,
        times=2,
    )
    return (
        *((pocket.top(),) if pockets else ()),
        sides,
        FreeEdge("bib_top", "Top of the bib", top_runs, "hem", turn=top, fold_in=fold_in, closed=False),
        replace(sides, name="back_edges", title="Back edges of the skirt", runs=(Run(SKIRT, "back_edge"),)),
        hem.hem_edge("Hem", hem_runs, hem_turn, closed=False),
        FreeEdge(
            "band_inside",
            "Inside of the waistband",
            (Run(FACING, "lower"),),
            "band",
            turn=seam,
            fold_in=seam,
            closed=False,
            after=("skirt",),
        ),
    )


JOINTS = (Joint("hem at the back edge", (Corner(SKIRT, "hem", "back_edge"),) * 2),)
