"""Pull-on trousers: a front leg and a back leg, each cut as a pair, with a grown-on casing at the waist.

Drawn from the natural waist (y = 0) down, centre line on the left, side seam on the right, y up, cm; the back
leg is turned over at the end, so that both pieces are the wearer's left half with the right side up.
Cloth without stretch. The waist edge passes the hips; elastic draws it in.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; ease and widths from the rules of the
trade (trousers, elastic, hems); other sources stand at their line. No pair has been sewn from it yet.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.draft import drawstring, hem, level, pull_on, rise, trouser_pockets, waist
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.pull_on import Design, casing_for
from clothwise.draft.trouser_frame import Cut, hem_depth
from clothwise.garment import Garment

NAME = "pull_on_trousers"
HIP_EASE = 8.0  # cm in the round: sits and squats without a stretch in the cloth (fitted 5)

LEGS = {  # hem girth and knee as shares of the leg's width at the crotch: hem; knee between hem and crotch
    "tapered": (0.43, 0.40),
    "straight": (0.58, 0.30),
    "wide": (0.76, 0.25),
}
LENGTHS = {"full": level.full, "mid-calf": level.mid_calf, "above-knee": level.above_knee}
ALL_ROUND, AT_THE_BACK = "elastic all round", "flat front, elastic at the back"
NO_DARTS, DARTS = "none", "one each side"

CHOICES = (
    Choice(
        "leg",
        "How wide the leg falls.",
        options=tuple(LEGS),
        default="straight",
        changes="knee and hem",
        main=True,
    ),
    level.leg_length_choice(LENGTHS),
    level.longer_choice(10.0),
    Choice(
        "waist",
        "Where the elastic runs.",
        options=(ALL_ROUND, AT_THE_BACK),
        default=ALL_ROUND,
        changes="elastic, marks on the front waist",
        main=True,
    ),
    pull_on.RISE_CHOICE,
    pull_on.hip_ease_choice(HIP_EASE, 5.0, 20.0),
    waist.WIDTH_CHOICE,
    hem.depth_choice(f"{hem.TROUSER_HEM:g}, shorts {hem.SHORTS_HEM:g}"),
    trouser_pockets.choice(trouser_pockets.NONE),
    Choice(
        "front_darts",
        "A dart over the belly in each front: less to gather, or more of the front that lies flat.",
        options=(NO_DARTS, DARTS),
        default=NO_DARTS,
        changes="front waist",
    ),
    drawstring.CHOICE,
    pull_on.FRONT_CROTCH_CHOICE,
    rise.SIDE_CHOICE,
)


def draw(body: Body, wish: Wish) -> Garment:
    """The trousers for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    flat = wish["waist"] == AT_THE_BACK
    corded = drawstring.wished(body, wish, NAME, flat_front=flat)
    elastic = waist.elastic_width(body, wish)
    length = str(wish["length"])
    hem_share, knee_share = LEGS[str(wish["leg"])]
    cut = Cut(
        pattern=NAME,
        hem_share=hem_share,
        knee_share=knee_share,
        hip_ease=float(wish["hip_ease"]),
        waist=float(wish["rise"]),
        casing=casing_for(elastic, corded=corded),
        length=length,
        depth=hem_depth(body, NAME, length, LENGTHS[length](body), float(wish["longer"])),
        longer=float(wish["longer"]),
        darts=wish["front_darts"] == DARTS,
        front_crotch=pull_on.front_crotch(wish),
        side_raised=float(wish["side_waist"]),
    )
    design = Design(
        name=NAME,
        title="Pull-on trousers",
        cut=cut,
        usual_hem=hem.SHORTS_HEM if length == "above-knee" else hem.TROUSER_HEM,
        hem=float(wish["hem"]) if "hem" in wish else None,
        elastic=elastic,
        elastic_wished="elastic_width" in wish,
        flat=flat,
        drawstring=corded,
        pockets=str(wish["pockets"]),
    )
    return pull_on.garment(body, design, pull_on.made(body, design), wish)


PULL_ON_TROUSERS = HouseDraft(
    name=NAME,
    title="Pull-on trousers",
    what="Two pieces and an elastic: trousers or shorts that pull on over the hips.",
    choices=CHOICES,
    needs=pull_on.NEEDS,
    least_age=2.0,
    draw=draw,
    shortened_by="longer",
    length_shown="inside leg",
)
