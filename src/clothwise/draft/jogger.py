"""Joggers: pull-on trousers of sweatshirt knit whose tapered legs end in cuffs of rib.

The legs are those of the pull-on trousers, drawn with ease and not smaller than the body: the knit only helps
where a heel must pass. Each leg is a little longer than the leg, so that it falls over its cuff; the cuff is a
folded band of rib, shorter than the leg's end and stretched on to it. Lengths in cm, stretch in per cent in the
choices and as a share of one in the code.

Source: rules of the trade D (rib 67-75 % of the edge), I5 (trousers); house rule, 2026-11, for the rest. No
pair has been sewn from it yet.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.draft import drawstring, knit, level, pull_on, rib, rise, trouser_pockets, waist
from clothwise.draft.leg_pieces import BACK, FRONT
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.pull_on import Design, Made, casing_for
from clothwise.draft.trouser_frame import Cut, hem_depth
from clothwise.garment import Garment, Note, Passage, Piece, Run

NAME, TITLE = "jogger", "Joggers"
HIP_EASE = 10.0  # cm in the round: for running and sitting on the floor
LEG = (0.42, 0.42)  # hem girth of the leg's width at the crotch; knee between hem and crotch
USUAL_STRETCH = 25.0  # per cent: sweatshirt knit
CUFF_HEIGHT = 6.0  # cm, folded
CHILD_CUFF_HEIGHT = 5.0
BLOUSE = 2.0  # cm: the leg falls over its cuff by half of it
GROWTH_BLOUSE = 2.0  # cm more for a child: let out as the child grows
CUFF_EASE = 1.0  # cm in the round over the ankle: it holds without marking
CUFF = "ankle_cuff"
LEG_END = (Run(BACK, "hem", backwards=True), Run(FRONT, "hem", backwards=True))  # from the inseam round to it

CHOICES = (
    level.longer_choice(8.0, "leg above the cuff"),
    pull_on.RISE_CHOICE,
    pull_on.hip_ease_choice(HIP_EASE, 6.0, 24.0),
    trouser_pockets.choice(trouser_pockets.IN_SEAM),
    drawstring.CHOICE,
    waist.WIDTH_CHOICE,
    Choice(
        "cuff",
        f"Height of the folded cuff; if left open {CUFF_HEIGHT:g}, for a child {CHILD_CUFF_HEIGHT:g}.",
        unit="cm",
        low=3.0,
        high=10.0,
        changes="cuff; the leg is shorter by as much",
    ),
    knit.stretch_choice(USUAL_STRETCH),
    rib.rib_choice(),
    pull_on.FRONT_CROTCH_CHOICE,
    rise.SIDE_CHOICE,
)


def draw(body: Body, wish: Wish) -> Garment:
    """The joggers for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    corded = drawstring.wished(body, wish, NAME)
    elastic = waist.elastic_width(body, wish)
    height = float(wish.get("cuff", CHILD_CUFF_HEIGHT if body.child else CUFF_HEIGHT))
    hem_share, knee_share = LEG
    design = Design(
        name=NAME,
        title=TITLE,
        cut=Cut(
            pattern=NAME,
            hem_share=hem_share,
            knee_share=knee_share,
            hip_ease=float(wish["hip_ease"]),
            waist=float(wish["rise"]),
            casing=casing_for(elastic, corded=corded),
            length="full",
            depth=hem_depth(body, NAME, "full", _leg_end(body, height), float(wish["longer"])),
            longer=float(wish["longer"]),
            front_crotch=pull_on.front_crotch(wish),
            side_raised=float(wish["side_waist"]),
            gives=knit.PASSES_OF_STRETCH * float(wish["stretch"]) / 100,
        ),
        usual_hem=0.0,
        hem=None,
        elastic=elastic,
        elastic_wished="elastic_width" in wish,
        drawstring=corded,
        pockets=str(wish["pockets"]),
        cuff_seam=rib.SEAM,
    )
    made = pull_on.made(body, design)
    cuff = _cuff(body, made, height, float(wish["rib_stretch"]) / 100)
    return _with_cuffs(pull_on.garment(body, design, made, wish), body, made, cuff)


def _leg_end(body: Body, height: float) -> float:
    """Depth of the seam to the cuff: the cuff ends at the ankle bone, the leg falls over it. [cm]"""
    blouse = BLOUSE + (GROWTH_BLOUSE if body.child else 0.0)
    return body["waist_to_ankle"] - height + blouse


# ---- cuffs ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Cuff:
    """length: of the ring; height: folded [cm]; share: its length over the leg's end; stretch of the rib."""

    length: float
    height: float
    share: float
    stretch: float


def _cuff(body: Body, made: Made, height: float, stretch: float) -> Cuff:
    """As snug as the ankle asks and the rib allows, and wide enough for the heel."""
    leg_end = made.front.hem.length() + made.back.hem.length()
    heel = body["foot_heel_girth"] / (1 + knit.BAND_PASSES_OF_STRETCH * stretch)
    share = rib.straight_share(leg_end, max(body["ankle_girth"] + CUFF_EASE, heel), stretch)
    return Cuff(share * leg_end, height, share, stretch)


def _piece(cuff: Cuff, made: Made) -> Piece:
    """The strip, its ends meeting at the inseam, marked where the side seam comes."""
    strip = rib.band(CUFF, "Leg cuff", cuff.length, cuff.height, "rib", copies=2)
    return rib.with_matches(strip, (("side", cuff.share * made.back.hem.length()),))


def _with_cuffs(garment: Garment, body: Body, made: Made, cuff: Cuff) -> Garment:
    seams = (
        rib.closing(CUFF, "Ends of the cuffs", times=2),
        rib.sewn_on(CUFF, "cuffs", "Leg cuffs", LEG_END, cuff.share, times=2),
    )
    passes = Passage(
        "cuff_over_heel",
        "Cuff over the heel",
        ((CUFF, "outer", 1),),
        passes=body["foot_heel_girth"],
        needs=0.0,
        stretch=knit.BAND_PASSES_OF_STRETCH * cuff.stretch,
    )
    finished = {name: cm for name, cm in garment.finished.items() if name != "hem"}
    return replace(
        garment,
        pieces=(*garment.pieces, _piece(cuff, made)),
        seams=(*garment.seams, *seams),
        passages=(*garment.passages, passes),
        finished={**finished, "cuff": cuff.length},
        notes=(*garment.notes, *_loose(body, cuff)),
    )


def _loose(body: Body, cuff: Cuff) -> tuple[Note, ...]:
    by = cuff.length - body["ankle_girth"] - CUFF_EASE
    if by < 1.0:
        return ()
    text = (
        f"A cuff as snug as the ankle would pucker the leg or stop the heel: it is {by:.1f} cm wider. "
        "A rib that stretches further lets it be snugger."
    )
    return (Note(text, measure="ankle_girth", by=by),)


JOGGER = HouseDraft(
    name=NAME,
    title=TITLE,
    what="Sweatshirt trousers with an elastic waist, pockets and rib cuffs at the ankles.",
    choices=CHOICES,
    needs=(*pull_on.NEEDS, "ankle_girth"),
    least_age=2.0,
    draw=draw,
    lightest=180.0,
    heaviest=400.0,
    makes=("knit",),
    shortened_by="longer",
    length_shown="inside leg",
)
