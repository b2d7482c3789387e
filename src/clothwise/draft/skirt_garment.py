"""A skirt of panels put together: panels, their seams, what the waist adds. For all but the tiered skirt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from clothwise.body import Body
from clothwise.draft import skirt_panels, skirt_seams
from clothwise.draft.pattern import Wish
from clothwise.draft.skirt_panels import Panel, Plan
from clothwise.draft.skirt_waist import Finish
from clothwise.garment import Garment, Level, Note


def skirt(
    body: Body,
    wish: Wish,
    called: tuple[str, str],
    front: Sequence[Panel],
    back: Sequence[Panel],
    plan: Plan,
    waist: Finish,
    *,
    hip_ease: float,
    hip_at_least: bool = False,
    measures: Mapping[str, float],
    notes: tuple[Note, ...],
    hip_notch: float,
    side_raised: float = 0.0,
) -> Garment:
    """The garment.

    called        name of the pattern, title of the garment
    front, back   panels of a quarter, from the centre outwards
    hip_ease      finished girth at the hip over the body's [cm]; hip_at_least: it may be more
    measures      finished measures besides those of the waist [cm]
    hip_notch     how far below the waist the hip's match marks stand [cm]
    side_raised   and how much farther at the side, where the waist is raised [cm]
    """
    name, title = called
    before, behind = len(front), len(back)
    around = skirt_seams.girth_runs(before, behind, "hip")
    garment = Garment(
        name=name,
        title=title,
        pieces=(*skirt_panels.pieces(front, back, plan), *waist.pieces),
        seams=(*skirt_seams.seams(before, behind, plan), *waist.seams),
        free_edges=(*waist.free_edges, *skirt_seams.free_edges(before, behind, plan)),
        joints=(*skirt_seams.joints(front, back, plan), *waist.joints),
        levels=(*waist.levels, Level("hip", "Hip", around, body["hip_girth"], hip_ease, at_least=hip_at_least)),
        passages=(waist.passage,),
        notions=waist.notions,
        notes=(*notes, *waist.notes),
        choices=wish,
        finished={**dict(waist.measures), **measures},
        for_child=body.child,
        body_name=body.name,
    )
    return skirt_seams.with_notches(garment, plan, hip_notch, side_raised)
