"""Pyjama bottoms: pull-on trousers with much ease, of light cloth, to be slept in.

The legs are those of the pull-on trousers. Loose cotton burns fast, so for a child they are drawn closer, and
what the house says to it stands on the garment: rules for children's nightwear are a country's own.
Lengths in cm. Source: rules of the trade I5 (trousers), D (soft elastic); house rule, 2026-11, for the ease. No
pair has been sewn from it yet.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.draft import drawstring, hem, level, pull_on, rise, trouser_pockets, waist
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.pull_on import Design, casing_for
from clothwise.draft.trouser_frame import Cut, hem_depth
from clothwise.garment import Garment, Note

NAME, TITLE = "pyjama_bottoms", "Pyjama bottoms"
HIP_EASE = 16.0  # cm in the round: to turn over in
CHILD_HIP_EASE = 8.0  # cm: close to the body, but a woven cloth must still let her sit
STRAIGHT, TAPERED = "straight", "tapered"
LEGS = {STRAIGHT: (0.60, 0.35), TAPERED: (0.43, 0.40)}  # hem girth and knee as shares of the leg's width
LENGTHS = {"full": level.full, "mid-calf": level.mid_calf, "above-knee": level.above_knee}

CHOICES = (
    Choice(
        "leg",
        "How wide the leg falls; if left open straight, for a child tapered.",
        options=tuple(LEGS),
        changes="knee and hem",
    ),
    level.leg_length_choice(LENGTHS),
    level.longer_choice(10.0),
    pull_on.RISE_CHOICE,
    pull_on.hip_ease_choice(None, 6.0, 24.0, f"{HIP_EASE:g}, for a child {CHILD_HIP_EASE:g}"),
    trouser_pockets.choice(trouser_pockets.NONE),
    drawstring.CHOICE,
    waist.WIDTH_CHOICE,
    hem.depth_choice(f"{hem.TROUSER_HEM:g}, short legs {hem.SHORTS_HEM:g}"),
    pull_on.FRONT_CROTCH_CHOICE,
    rise.SIDE_CHOICE,
)


def draw(body: Body, wish: Wish) -> Garment:
    """The pyjama bottoms for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    corded = drawstring.wished(body, wish, NAME)
    elastic = waist.elastic_width(body, wish)
    length = str(wish["length"])
    hem_share, knee_share = LEGS[str(wish.get("leg", TAPERED if body.child else STRAIGHT))]
    design = Design(
        name=NAME,
        title=TITLE,
        cut=Cut(
            pattern=NAME,
            hem_share=hem_share,
            knee_share=knee_share,
            hip_ease=float(wish.get("hip_ease", CHILD_HIP_EASE if body.child else HIP_EASE)),
            waist=float(wish["rise"]),
            casing=casing_for(elastic, corded=corded),
            length=length,
            depth=hem_depth(body, NAME, length, LENGTHS[length](body), float(wish["longer"])),
            longer=float(wish["longer"]),
            front_crotch=pull_on.front_crotch(wish),
            side_raised=float(wish["side_waist"]),
        ),
        usual_hem=hem.SHORTS_HEM if length == "above-knee" else hem.TROUSER_HEM,
        hem=float(wish["hem"]) if "hem" in wish else None,
        elastic=elastic,
        elastic_wished="elastic_width" in wish,
        drawstring=corded,
        pockets=str(wish["pockets"]),
    )
    return pull_on.garment(body, design, pull_on.made(body, design), wish, _nightwear(body))


def _nightwear(body: Body) -> tuple[Note, ...]:
    """The usual caution, where it is cut."""
    if not body.child:
        return ()
    text = (
        "Children's nightwear has rules of its own against fire in most countries, for cloth, fit and labels: "
        "look up yours before you cut. Keep it close-fitting, of a cloth that is made for it, and away from "
        "flames, stoves and heaters."
    )
    return (Note(text),)


PYJAMA_BOTTOMS = HouseDraft(
    name=NAME,
    title=TITLE,
    what="Roomy pull-on trousers of light cloth to sleep in, long or short.",
    choices=CHOICES,
    needs=pull_on.NEEDS,
    least_age=2.0,
    draw=draw,
    lightest=80.0,
    heaviest=220.0,
    shortened_by="longer",
    length_shown="inside leg",
)
