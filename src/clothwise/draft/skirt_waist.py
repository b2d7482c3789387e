"""How a skirt is finished at the waist, when the waist is not folded down itself: a band, a facing, elastic.

A band or a facing keeps the waist as wide as the body and so wants a zip; a casing strip with elastic is pulled
on over the hips. Each gives pieces, seams, free edges, notions and the proof that the body gets in.
Lengths in cm. Source: house rule, 2026-11; rules of the trade I1 (waist ease of skirts 1.3-2.5).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.draft import skirt_seams, waist, waist_facing, waistband, zip_opening
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.skirt_panels import BACK, Panel
from clothwise.garment import FreeEdge, Joint, Level, Note, Notion, Passage, Piece, Run, Seam

EASE = 2.0  # cm in the round at the waist: she sits without the band biting
BAND, FACING, ELASTIC = "band with zip", "facing with zip", "elastic"

EASE_CHOICE = Choice(
    "waist_ease",
    "Room at the waist, in the round; elastic takes none.",
    unit="cm",
    low=1.0,
    high=6.0,
    default=EASE,
    changes="waist edge, band or facing",
)


def finish_choice(*kinds: str) -> Choice:
    """The choice between these finishes, the first as usual."""
    return Choice(
        "waist",
        "How the waist is finished.",
        options=kinds,
        default=kinds[0],
        changes="waist edge, a band, a facing or a casing strip; zip or elastic",
        main=True,
    )


def edge_girth(body: Body, wish: Wish) -> float:
    """The length of the waist edge: with elastic it passes the hips, else it is the waist and its ease. [cm]"""
    if wish["waist"] == ELASTIC:
        return waist.edge_needed(body)
    return body["waist_girth"] + float(wish["waist_ease"])


@dataclass(frozen=True, slots=True)
class Finish:
    """What the waist adds to the skirt."""

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    free_edges: tuple[FreeEdge, ...]
    passage: Passage
    notions: tuple[Notion, ...]
    levels: tuple[Level, ...] = ()
    joints: tuple[Joint, ...] = ()
    notes: tuple[Note, ...] = ()
    measures: tuple[tuple[str, float], ...] = ()


def finish(
    body: Body,
    wish: Wish,
    front: Sequence[Panel],
    back: Sequence[Panel],
    zip_length: float,
    facing: tuple[waist_facing.Half, waist_facing.Half],
    gathered: float = 0.0,
) -> Finish:
    """The finish that is wished.

    zip_length  0 with elastic; facing: front and back half of the facing
    gathered    length of the skirt's waist over that of the band; 0 where it is not gathered
    """
    runs = skirt_seams.round_waist(front, back)
    if wish["waist"] == ELASTIC:
        return _elastic(body, wish, front, back, runs)
    girth = edge_girth(body, wish)
    around = skirt_seams.waist_girth_runs(front, back)
    level = Level("waist", "Waist", around, body["waist_girth"], girth - body["waist_girth"])
    if wish["waist"] == FACING:
        return Finish(
            pieces=waist_facing.pieces(*facing),
            seams=waist_facing.seams(runs),
            free_edges=(waist_facing.ends(),),
            passage=zip_opening.passage(body, around, BACK),
            notions=(zip_opening.notion(zip_length), waist_facing.hook()),
            levels=(level,),
            joints=(waist_facing.joint(),),
            measures=(("waist", girth),),
        )
    band = ((waistband.BAND, "waist", 1),)
    return Finish(
        pieces=(waistband.band(girth, waistband.width(body, wish), _ticks(front, back, girth)),),
        seams=waistband.band_seams(runs, gathered=gathered),
        free_edges=(waistband.band_inside(),),
        passage=zip_opening.passage(body, band, BACK),
        notions=(zip_opening.notion(zip_length), waistband.button()),
        levels=(Level("waist", "Waist", band, body["waist_girth"], girth - body["waist_girth"]),),
        measures=(("waist", girth),),
    )


def _elastic(
    body: Body, wish: Wish, front: Sequence[Panel], back: Sequence[Panel], runs: tuple[Run, ...]
) -> Finish:
    width = waist.elastic_width(body, wish)
    girth = edge_girth(body, wish)
    found = waist.elastic(body, body["waist_girth"], width)
    return Finish(
        pieces=(waistband.strip(girth, width, _ticks(front, back, girth)),),
        seams=waistband.strip_seams(runs),
        free_edges=(waistband.strip_casing(width),),
        passage=waistband.strip_passage(body),
        notions=(found.notion("casing"),),
        notes=waist.elastic_notes(found),
        measures=(("waist, elastic relaxed", found.length - waist.LAP), ("waist, stretched", girth)),
    )


def _ticks(front: Sequence[Panel], back: Sequence[Panel], girth: float) -> dict[str, float]:
    """Where centre front and side seams meet the band, from its right end. [cm]"""
    behind = sum(part.length() for panel in back for part in panel.waist)
    before = sum(part.length() for panel in front for part in panel.waist)
    share = girth / (2 * (behind + before))
    return {
        "right_side_seam": behind * share,
        "centre_front": (behind + before) * share,
        "left_side_seam": girth - behind * share,
    }
