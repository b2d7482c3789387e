"""How a skirt is finished at the waist, when the waist is not folded down itself: a band, a facing, elastic.

A band or a facing keeps the waist as wide as the body and so wants a zip; a casing strip with elastic is pulled
on over the hips. Each gives pieces, seams, free edges, notions and the proof that the body gets in.
Lengths in cm. Source: house rule, 2026-11; rules of the trade I1 (waist ease of skirts 1.3-2.5).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.body import Body, Figure
from clothwise.draft import skirt_seams, waist, waist_facing, waistband, zip_opening
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.skirt_panels import BACK, FRONT, OVERLAP, STAND, Panel
from clothwise.garment import FreeEdge, Joint, Level, Note, Notion, Passage, Piece, Run, Seam

LEFT_OVER: tuple[Figure, ...] = ("man", "boy")  # men's clothes lap left over right, women's right over left
EASE = 2.0  # cm in the round at the waist: she sits without the band biting
BAND, FACING, ELASTIC, BUTTONS = "band with zip", "facing with zip", "elastic", "band, buttons down the front"

EASE_CHOICE = Choice(
    "waist_ease",
    "Room at the waist, in the round; elastic takes none.",
    unit="cm",
    low=1.0,
    high=6.0,
    default=EASE,
    changes="waist edge, band or facing",
)


def finish_choice(*kinds: str, child: str = "", main: bool = False) -> Choice:
    """The choice between these finishes; the first as usual, for a child the one named; main: `suggest` tries
    each."""
    meaning = "How the waist is finished"
    return Choice(
        "waist",
        f"{meaning}; if left open {kinds[0]}, for a child {child}." if child else f"{meaning}.",
        options=kinds,
        default=None if child else kinds[0],
        changes="waist edge, a band, a facing or a casing; zip, buttons or elastic",
        main=main,
    )


def settled(body: Body, wish: Wish) -> Wish:
    """The wish with the finish filled in where it was left open: elastic for a child, who dresses alone."""
    return {**wish, "waist": wish.get("waist", ELASTIC if body.child else BAND)}


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
) -> Finish:
    """The finish that is wished. zip_length: 0 with elastic; facing: its front and back half."""
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
    return banded(body, wish, front, back, zip_length)


def banded(
    body: Body,
    wish: Wish,
    front: Sequence[Panel],
    back: Sequence[Panel],
    zip_length: float,
    gathered: float = 0.0,
) -> Finish:
    """A band with a lap over a zip at the centre back.

    gathered  length of the skirt's waist over that of the band; 0 where it is not gathered
    """
    girth = edge_girth(body, wish)
    runs = skirt_seams.round_waist(front, back)
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


def grown_on(body: Body, wish: Wish, front: Sequence[Panel], back: Sequence[Panel]) -> Finish:
    """A casing folded down from the skirt itself, with elastic."""
    width = waist.elastic_width(body, wish)
    found = waist.elastic(body, body["waist_girth"], width)
    around = skirt_seams.waist_girth_runs(front, back)
    casing = waist.casing(skirt_seams.round_waist(front, back), waist.casing_turn(width), width)
    return Finish(
        pieces=(),
        seams=(),
        free_edges=(casing,),
        passage=Passage("over_hips", "Waist edge over the hips", around, body["hip_girth"], waist.OVER_HIPS),
        notions=(found.notion("casing"),),
        notes=waist.elastic_notes(found),
        measures=(
            ("waist, elastic relaxed", found.length - waist.LAP),
            ("waist, stretched", 2 * sum(part.length() for panel in (*front, *back) for part in panel.waist)),
        ),
    )


def buttoned(
    body: Body, wish: Wish, front: Sequence[Panel], back: Sequence[Panel], gathered: float, buttons: int
) -> Finish:
    """A band over a front that is open down to the hem and buttoned.

    gathered  length of the skirt's waist over that of the band; buttons: below that of the band
    """
    girth = edge_girth(body, wish)
    runs = skirt_seams.round_waist(front, back, open_front=True)
    band = ((waistband.BAND, "waist", 1),)
    overlap = OVERLAP
    ease = girth - body["waist_girth"]
    passes = Passage(
        "over_hips",
        "Waist and opened front over the hips",
        (*band, (FRONT, STAND, 2)),
        passes=body["hip_girth"],
        needs=zip_opening.OVER_HIPS,
    )
    high, left_over = waistband.width(body, wish), body.figure in LEFT_OVER
    return Finish(
        pieces=(
            waistband.overlapping_band(
                girth + overlap, high, overlap, _ticks(back, front, girth + overlap), left_over=left_over
            ),
        ),
        seams=waistband.band_seams(runs, gathered=gathered, lap=False),
        free_edges=(waistband.band_inside(),),
        passage=passes,
        notions=(waistband.button(1 + buttons),),
        notes=(
            Note(
                f"The {'left' if left_over else 'right'} front laps over and takes the buttonholes, "
                "the other the buttons."
            ),
        ),
        levels=(Level("waist", "Waist, with the overlap", band, body["waist_girth"], ease + overlap),),
        measures=(("waist, buttoned", girth),),
    )


def _ticks(front: Sequence[Panel], back: Sequence[Panel], girth: float) -> dict[str, float]:
    """Where the side seams and what lies between them meet the band, from its wearer's right end. [cm]

    back  the half with the opening in its middle
    """
    behind = sum(part.length() for panel in back for part in panel.waist)
    before = sum(part.length() for panel in front for part in panel.waist)
    share = girth / (2 * (behind + before))
    return {
        "right_side_seam": behind * share,
        "middle": (behind + before) * share,
        "left_side_seam": girth - behind * share,
    }
