"""Tiered skirt: rings of straight strips, each gathered to the one above, with elastic in the top one.

Every tier is longer and wider than the one above it. A tier is made of equal strips as wide as the cloth
allows, always so many that they meet the strips above evenly. Each strip is drawn as a half on the fold. With
pockets the top tier is a front and a back, and they are in its side seams; the bag hangs loose below its seam.

    h  height of the top tier; the next is GROWS times as high    T  width of a tier in the round

Source: drafting method, skirts (tiers: heights grow by 1.18, widths by 1.6, strips by cloth width, top passes
the hips); rules of the trade D (gathers); house rule, 2026-11. Not sewn yet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import Point, line
from clothwise.draft import hem, in_seam_pocket, rise, skirt_length, skirt_panels, waist
from clothwise.draft.in_seam_pocket import InSeamPocket, Room
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.skirt_panels import CLOTH_WIDTH_CHOICE, IN_SEAM, POCKET_ABOVE_HEM, POCKET_ROOM, SEAM
from clothwise.draft.turned_over import turned_over
from clothwise.errors import ChoiceError
from clothwise.garment import Corner, Edge, Garment, Joint, Level, Mark, Passage, Piece, Run, Seam
from clothwise.garment.notches import notched

NAME = "tiered_skirt"
GROWS = 1.18  # each tier over the one above in height: so they look even on the body
FULLNESS = 1.6  # each tier over the one above in width
HIP_EASE = 8.0  # cm in the round of the top tier at least: the elastic still gathers it
GATHER_SEAM = 1.0  # cm allowance between tiers: gathers lie thick
HEM = 2.5  # cm: a light hem, for the last tier is long
POCKET_FROM = 1.5  # cm from the stitching of the casing to a pocket's opening, and from its end to the gathers
LEAST_HEIGHT = 8.0  # cm: of the top tier, whose casing takes the upper part of it
GRAIN_FREE = 0.15  # of the height left above and below the grain arrow
GRAIN_AT = 0.1  # of the half strip, from its fold
TICK = 1.0  # cm: the short line where a join of the tier below belongs
TIERS = {"two": 2, "three": 3, "four": 4}
ORDINAL = ("First", "Second", "Third", "Fourth")

CHOICES = (
    skirt_length.LENGTH_CHOICE,
    skirt_length.LONGER_CHOICE,
    Choice(
        "tiers",
        "How many rings it is made of; if left open three, two where the top one would be too low, also for "
        "a pocket.",
        options=tuple(TIERS),
        changes="number and height of the tiers",
    ),
    Choice(
        "fullness",
        "How many times as wide as the one above each tier is.",
        unit="times",
        low=1.3,
        high=2.0,
        default=FULLNESS,
        changes="width of all tiers but the top",
    ),
    skirt_panels.pocket_choice(IN_SEAM),
    CLOTH_WIDTH_CHOICE,
    Choice(
        "hip_ease",
        "Room of the top tier at the hip, in the round.",
        unit="cm",
        low=6.0,
        high=40.0,
        default=HIP_EASE,
        changes="width of all tiers",
    ),
    waist.WIDTH_CHOICE,
    hem.depth_choice(f"{HEM:g}"),
)


@dataclass(frozen=True, slots=True)
class Tier:
    """One ring. around: its width; top: depth of its upper edge below the waist; height; strips: how many;
    pocket: in its two side seams, then front and back are pieces of their own. [cm]"""

    number: int
    around: float
    top: float
    height: float
    strips: int
    pocket: InSeamPocket | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """Of its pieces, the front before the back."""
        return (f"{self.name}_front", f"{self.name}_back") if self.pocket else (self.name,)

    def girth(self, edge: str) -> tuple[tuple[str, str, int], ...]:
        """Once round along an edge, for levels and passages."""
        return tuple((name, edge, 2 * self.strips // len(self.names)) for name in self.names)

    @property
    def name(self) -> str:
        return f"tier_{self.number + 1}"

    @property
    def half(self) -> float:
        """Half a strip, as drawn on the fold. [cm]"""
        return self.around / self.strips / 2


def draw(body: Body, wish: Wish) -> Garment:
    """The skirt for this body. Raises ChoiceError with one sentence."""
    tiers = _tiers(body, wish)
    width = waist.elastic_width(body, wish)
    casing = waist.casing_turn(width)
    turn = hem.deepened_for_growth(HEM, body.child)
    turn = float(wish["hem"]) if "hem" in wish else turn
    if wish["pockets"] == IN_SEAM:
        tiers = _pocketed(body, wish, casing, turn)
    first, last = tiers[0], tiers[-1]
    found = waist.elastic(body, body["waist_girth"], width)
    at_hip = next(tier for tier in tiers if body["waist_to_hip"] <= tier.top + tier.height)
    garment = Garment(
        name=NAME,
        title="Tiered skirt",
        pieces=tuple(piece for tier in tiers for piece in _pieces(tier, tiers, casing, turn)),
        seams=tuple(seam for tier in tiers for seam in _seams(tier, tiers)),
        free_edges=(
            waist.casing(_round(first, "top"), casing, width),
            hem.hem_edge("Hem", _round(last, "bottom"), turn),
        ),
        joints=(
            _waist_joint(first),
            Joint("hem at the joins", (Corner(last.name, "bottom", "end"),) * 2),
        ),
        levels=(
            Level(
                "hip",
                "Hip",
                at_hip.girth("bottom"),
                body["hip_girth"],
                waist.OVER_HIPS,
                at_least=True,
            ),
        ),
        passages=(
            Passage(
                "over_hips",
                "Waist edge over the hips",
                first.girth("top"),
                body["hip_girth"],
                waist.OVER_HIPS,
            ),
        ),
        notions=(found.notion("casing"),),
        notes=waist.elastic_notes(found),
        choices=wish,
        finished={
            "waist, elastic relaxed": found.length - waist.LAP,
            "waist, stretched": first.around,
            "hem": last.around,
            "length": last.top + last.height,
        },
        for_child=body.child,
        body_name=body.name,
    )
    for tier in tiers[1:] if first.pocket else tiers:
        garment = notched(garment, f"{tier.name}_joins", tier.height / 2, tier.name)
    return garment


def _tiers(body: Body, wish: Wish) -> tuple[Tier, ...]:
    """All rings from the top down. ChoiceError when the top one would be too low."""
    length = skirt_length.skirt_length(NAME, body, wish)
    n = TIERS[str(wish.get("tiers", "three" if _top_height(length, 3) >= LEAST_HEIGHT else "two"))]
    height = _top_height(length, n)
    if height < LEAST_HEIGHT:
        raise ChoiceError(
            f"Of {n} tiers the top one would be only {height:.1f} cm high.",
            where=f"pattern '{NAME}', choice 'tiers'",
            mend="Choose fewer tiers, or make the skirt longer.",
        )
    around = max(waist.edge_needed(body), body["hip_girth"] + float(wish["hip_ease"]))
    usable = float(wish["cloth_width"]) - 2 * SEAM
    tiers: list[Tier] = []
    strips, top = 2, 0.0
    for number in range(n):
        # a whole number of strips to each strip above
        strips *= max(math.ceil(around / strips / usable), 1)
        tiers.append(Tier(number, around, top, height, strips))
        around, top, height = around * float(wish["fullness"]), top + height, height * GROWS
    return tuple(tiers)


def _top_height(length: float, n: int) -> float:
    """Height of the top one of n tiers that make up that length. [cm]"""
    return length * (GROWS - 1) / (GROWS**n - 1)


def _pocketed(body: Body, wish: Wish, casing: float, turn: float) -> tuple[Tier, ...]:
    """The rings with pockets in the top one; fewer of them where their number is open and it is too low."""
    tiers = _tiers(body, wish)
    try:
        made = _pocket(body, tiers, casing, turn)
    except ChoiceError:
        if "tiers" in wish or len(tiers) == 2:
            raise
        return _pocketed(body, {**wish, "tiers": "two"}, casing, turn)
    return (replace(tiers[0], pocket=made), *tiers[1:])


def _pocket(body: Body, tiers: Sequence[Tier], casing: float, turn: float) -> InSeamPocket:
    """In the side seam of the top tier, between casing and gathers. ChoiceError where it has no place."""
    first, where = tiers[0], f"pattern '{NAME}', choice 'pockets'"
    if first.strips > 2:
        raise ChoiceError(
            f"The top tier is joined of {first.strips} strips: it has no seam just at the side for a pocket.",
            where=where,
            mend="Take wider cloth, or choose no pockets.",
        )
    start = casing + POCKET_FROM
    down = sum(tier.height for tier in tiers) - turn - POCKET_ABOVE_HEM
    made = in_seam_pocket.pocket_for(body["hip_girth"], start, Room(first.half - POCKET_ROOM, down))
    lack = 0.0 if made is None else start + made.opening + POCKET_FROM - first.height
    if made is None or lack > 0:
        much = f"{lack:.0f} cm too low" if lack >= 1 else "too low"
        raise ChoiceError(
            f"The top tier, {first.height:.0f} cm high, is {much} for a pocket between casing and gathers.",
            where=where,
            mend="Choose fewer tiers, make the skirt longer, or choose no pockets.",
        )
    return made


def _waist_joint(first: Tier) -> Joint:
    if first.pocket is None:
        return Joint("waist at the joins", (Corner(first.name, "end", "top"),) * 2)
    front, back = first.names
    upper = in_seam_pocket.UPPER
    return Joint("waist at the side", (Corner(front, upper, "top"), Corner(back, "top", upper)))


# ---- pieces --------------------------------------------------------------------------------------


def _pieces(tier: Tier, tiers: Sequence[Tier], casing: float, turn: float) -> tuple[Piece, ...]:
    """One drawing for all strips; with pockets a front, a back and the bag."""
    strip = _piece(tier, tiers, casing, turn)
    if tier.pocket is None:
        return (strip,)
    side = strip.edge("end").curve.reversed()
    ends = in_seam_pocket.side_edges(tier.pocket, side, SEAM, upwards=True)
    edges = tuple(part for edge in strip for part in (ends if edge.name == "end" else (edge,)))
    both = replace(strip, edges=edges, copies=1)
    marks = (*strip.marks, *in_seam_pocket.opening_marks(tier.pocket, side))
    front = replace(both, name=tier.names[0], title="First tier, front", marks=marks)
    back = replace(both, name=tier.names[1], title="First tier, back")
    return front, turned_over(back), in_seam_pocket.bag(tier.pocket, side, SEAM)


def _piece(tier: Tier, tiers: Sequence[Tier], casing: float, turn: float) -> Piece:
    """Half a strip, the fold on its left."""
    start, low = Point(0.0, 0.0), Point(0.0, -tier.height)
    out, low_out = start.right(tier.half), low.right(tier.half)
    last = tier.number == len(tiers) - 1
    at, free = GRAIN_AT * tier.half, GRAIN_FREE * tier.height
    middle = line(start.down(tier.height / 2), out.down(tier.height / 2))
    marks = [Mark("adjust_length", "adjust", middle)]
    if not last:
        marks += _ticks(tier, tiers[tier.number + 1])
    return Piece(
        tier.name,
        f"{ORDINAL[tier.number]} tier",
        edges=(
            Edge("fold", line(start, low), "fold", 0.0),
            Edge("bottom", line(low, low_out), *(("hem", turn) if last else ("seam", GATHER_SEAM))),
            Edge("end", line(low_out, out), "seam", SEAM),
            Edge("top", line(out, start), *(("seam", GATHER_SEAM) if tier.number else ("casing", casing))),
        ),
        grain=(Point(at, free - tier.height), Point(at, -free)),
        cutting="on fold",
        copies=tier.strips,
        marks=tuple(marks),
    )


def _ticks(tier: Tier, below: Tier) -> list[Mark]:
    """Where the joins of the tier below meet the lower edge, right of the fold."""
    each = below.strips // tier.strips
    places = [2 * tier.half * n / each - tier.half for n in range(1, each)]
    return [
        Mark(f"join_{n}", "note", line(foot := Point(x, -tier.height), foot.up(TICK)))
        for n, x in enumerate((x for x in places if x > TICK), 1)
    ]


# ---- seams ---------------------------------------------------------------------------------------


def _round(tier: Tier, edge: str) -> tuple[Run, ...]:
    """Once round the ring, strip after strip, each from its end over its fold to its other end."""
    low = edge == "bottom"
    if tier.pocket:
        front, back = tier.names
        return (
            *(Run(front, edge, backwards=low), Run(front, edge, backwards=not low, side="mirrored")),
            *(Run(back, edge, backwards=not low, side="mirrored"), Run(back, edge, backwards=low)),
        )
    strip = (Run(tier.name, edge, backwards=low), Run(tier.name, edge, backwards=not low, side="mirrored"))
    return strip * tier.strips


def _seams(tier: Tier, tiers: Sequence[Tier]) -> list[Seam]:
    """The joins of its strips, and the gathers that hang it on the tier above."""
    if tier.pocket:
        return list(in_seam_pocket.seams(*tier.names))
    word = ORDINAL[tier.number].lower()
    joins = Seam(
        f"{tier.name}_joins",
        f"Joins of the {word} tier",
        (Run(tier.name, "end"),),
        (Run(tier.name, "end", side="mirrored"),),
        times=tier.strips,
    )
    if not tier.number:
        return [joins]
    above = tiers[tier.number - 1]
    gathers = Seam(
        f"{tier.name}_gathers",
        f"{ORDINAL[tier.number]} tier to the {ORDINAL[above.number].lower()}",
        _round(tier, "top"),
        _round(above, "bottom"),
        "gathered",
        ratio=tier.around / above.around,
        pressed="to b",
    )
    return [joins, gathers]


TIERED_SKIRT = HouseDraft(
    name=NAME,
    title="Tiered skirt",
    what="Rings of straight strips, each gathered to the one above, with elastic at the waist.",
    choices=CHOICES,
    needs=skirt_length.NEEDS,
    least_age=2.0,
    draw=draw,
    heaviest=180.0,
    shortened_by="longer",
    length_shown="length",
    instead=rise.LEVELLED,
)
