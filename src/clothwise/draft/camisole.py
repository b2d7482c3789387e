"""Camisole and slip on the bias: front and back cut whole, narrow straps, the upper edges bound or faced.

The bust dart is that of the bodice. Cut singly at 45 degrees, never on the fold, so that both halves stretch
alike; cut shorter by what the bias drops while it hangs. It pulls on over the head: the bias gives.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; rules of the trade D (bindings), G
(hang 24-72 h, narrow hems), I1. Nothing has been sewn from it yet.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.draft import bodice, camisole_parts, camisole_pieces, hem, level, posture, rib
from clothwise.draft.camisole_parts import (
    BINDING,
    BOUND,
    FACED,
    FACING,
    LENGTHS,
    NAME,
    ROUND,
    SPARE,
    Drawn,
    V,
)
from clothwise.draft.camisole_pieces import (
    BACK,
    BACK_FACING,
    FRONT,
    FRONT_FACING,
    NECK_BINDING,
    STRAP,
    TOP_BINDING,
)
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.garment import Corner, FreeEdge, Garment, Joint, Level, Note, Passage, Run, Seam
from clothwise.garment.notches import notched
from clothwise.tolerance import SOLVE

BUST_EASE, HIP_EASE = 4.0, 6.0  # cm in the round: it hangs, and the bias gives besides
STRAP_WIDTH = 0.8  # cm finished
HEM, LEAST_HEM = 1.2, 0.8  # cm: a deep hem on the bias ripples
BIAS_GIVES = 0.10  # how much wider the bias opens when it is pulled on (trade knowledge; try it on the cloth)
LEAST_HIP = 2.0  # cm of ease at the hip, at least

CHOICES = (
    Choice("length", "Where it ends.", options=tuple(LENGTHS), default="camisole", changes="hem", main=True),
    level.longer_choice(20.0),
    Choice("neckline", "Shape of the front.", options=(ROUND, V), default=ROUND, changes="front edge"),
    Choice(
        "neck_depth",
        "Front deeper (+) or higher (-) than usual.",
        unit="cm",
        low=-4.0,
        high=6.0,
        default=0.0,
        changes="front edge",
    ),
    Choice(
        "edges",
        "How the upper edges are finished.",
        options=(BINDING, FACING),
        default=BINDING,
        changes="binding strips or facings",
        main=True,
    ),
    Choice(
        "strap_width",
        "Finished width of the straps.",
        unit="cm",
        low=0.6,
        high=1.2,
        default=STRAP_WIDTH,
        changes="straps",
    ),
    Choice(
        "flare",
        "How much wider each side edge becomes over 50 cm below the hip.",
        unit="cm",
        low=camisole_parts.LEAST_FLARE,
        high=15.0,
        default=4.0,
        changes="side seams, hem",
    ),
    Choice(
        "bust_ease",
        "Room at the bust, in the round.",
        unit="cm",
        low=2.0,
        high=20.0,
        default=BUST_EASE,
        changes="width of all pieces",
    ),
    Choice(
        "hip_ease",
        "Room at the hip, in the round.",
        unit="cm",
        low=2.0,
        high=30.0,
        default=HIP_EASE,
        changes="width at the hip",
    ),
    hem.depth_choice(f"{HEM:g}", least=LEAST_HEM, growth=False),
)


def draw(body: Body, wish: Wish) -> Garment:
    """The camisole for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    found = camisole_parts.drawn(body, wish)
    bound = wish["edges"] == BINDING
    allowance, strap = BOUND if bound else FACED, float(wish["strap_width"])
    turn = hem.hem_depth(
        HEM, float(wish["hem"]) if "hem" in wish else None, found.front[0].curve, found.back[0].curve
    )
    front = camisole_pieces.front(found, allowance, turn, strap)
    finish = camisole_pieces.bindings(found) if bound else camisole_pieces.facings(found)
    pieces = (
        front,
        camisole_pieces.back(found, allowance, turn, strap),
        *finish,
        camisole_pieces.strap(found, strap),
    )
    neck = tuple(edge.name for edge in front if "neck" in edge.name)
    garment = Garment(
        name=NAME,
        title="Bias camisole",
        pieces=pieces,
        seams=(
            *_sides(found),
            *(_bound(neck) if bound else _faced(neck)),
            *_straps(bound=bound),
        ),
        free_edges=(
            *(_bound_edges() if bound else ()),
            hem.hem_edge("Hem", (Run(FRONT, "hem"), Run(BACK, "hem")), turn),
        ),
        joints=_joints(found),
        levels=_levels(body, wish),
        passages=(
            Passage(
                "over_bust",
                "Waist over the bust",
                ((FRONT, "waist", 1), (BACK, "waist", 1)),
                passes=body["bust_girth"],
                needs=0.0,
                stretch=BIAS_GIVES,
            ),
        ),
        notes=_notes(body, found),
        choices=wish,
        finished=_finished(found),
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(garment, found)


# ---- seams -------------------------------------------------------------------------------------------


def _side_names(found: Drawn) -> tuple[str, ...]:
    return ("side_lower", "side_upper") if found.darts else ("side",)


def _sides(found: Drawn) -> tuple[Seam, ...]:
    """Both side seams, walked from the hem."""
    names = _side_names(found)
    return (
        Seam(
            "left_side",
            "Left side seam",
            tuple(Run(FRONT, f"left_{name}") for name in names),
            (Run(BACK, "left_side", backwards=True),),
        ),
        Seam(
            "right_side",
            "Right side seam",
            tuple(Run(FRONT, f"right_{name}", backwards=True) for name in names),
            (Run(BACK, "right_side"),),
        ),
    )


def _around(front: str = FRONT, back: str = BACK) -> tuple[Run, ...]:
    """From the left peak round the back to the right peak."""
    return (
        Run(front, "left_armhole", backwards=True),
        Run(back, "top", backwards=True),
        Run(front, "right_armhole", backwards=True),
    )


def _neck(neck: tuple[str, ...], front: str = FRONT) -> tuple[Run, ...]:
    """From the right peak to the left."""
    return tuple(Run(front, name, backwards=True) for name in reversed(neck))


def _bound(neck: tuple[str, ...]) -> tuple[Seam, ...]:
    return (
        Seam("neck", "Neck binding", (Run(NECK_BINDING, "outer"),), _neck(neck), "applied"),
        Seam(
            "upper_edge",
            "Upper binding",
            (Run(TOP_BINDING, "outer"),),
            _around(),
            "applied",
            after=(f"{NECK_BINDING}_inside", "left_side", "right_side"),
        ),
    )


def _bound_edges() -> tuple[FreeEdge, ...]:
    ends = tuple(
        FreeEdge(
            f"{TOP_BINDING}_{end}",
            "End of the binding",
            (Run(TOP_BINDING, end),),
            "band",
            rib.SEAM,
            rib.SEAM,
            closed=False,
        )
        for end in ("start", "end")
    )
    inside = (
        FreeEdge(f"{piece}_inside", title, (Run(piece, "inner"),), "band", BOUND, BOUND, closed=False)
        for piece, title in ((NECK_BINDING, "Neck binding inside"), (TOP_BINDING, "Upper binding inside"))
    )
    return (*ends, *inside)


def _faced(neck: tuple[str, ...]) -> tuple[Seam, ...]:
    facing = (*_around(FRONT_FACING, BACK_FACING), *_neck(neck, FRONT_FACING))
    return (
        Seam(
            "left_facing",
            "Left side of the facing",
            (Run(FRONT_FACING, "left_side"),),
            (Run(BACK_FACING, "left_side", backwards=True),),
        ),
        Seam(
            "right_facing",
            "Right side of the facing",
            (Run(FRONT_FACING, "right_side", backwards=True),),
            (Run(BACK_FACING, "right_side"),),
        ),
        Seam("upper_edge", "Facing", facing, (*_around(), *_neck(neck)), "applied"),
    )


def _straps(*, bound: bool) -> tuple[Seam, ...]:
    """The straps sewn into tubes; their ends, which lie double, onto their places when the edge is finished."""
    after = ("strap_tubes", f"{TOP_BINDING}_inside") if bound else ("strap_tubes", "upper_edge")
    tubes = Seam(
        "strap_tubes", "Straps", (Run(STRAP, "outer"),), (Run(STRAP, "inner", backwards=True),), times=2
    )
    ends = tuple(
        Seam(
            f"{side}_strap_{end}",
            f"{side.capitalize()} strap {where}",
            (Run(STRAP, f"{end}_end"),),
            (Run(piece, f"{side}_strap_place"),),
            "patch",
            after=after,
            more=((Run(STRAP, f"{end}_end_inside"),),),
        )
        for end, piece, where in (("front", FRONT, "in front"), ("back", BACK, "at the back"))
        for side in ("left", "right")
    )
    return (tubes, *ends)


def _joints(found: Drawn) -> tuple[Joint, ...]:
    names = _side_names(found)
    low, top = names[0], names[-1]
    return (
        Joint("hem at the left side", (Corner(FRONT, "hem", f"left_{low}"), Corner(BACK, "left_side", "hem"))),
        Joint(
            "hem at the right side", (Corner(FRONT, f"right_{low}", "hem"), Corner(BACK, "hem", "right_side"))
        ),
        Joint(
            "upper edge at the left",
            (Corner(FRONT, f"left_{top}", "left_armhole"), Corner(BACK, "top", "left_side")),
        ),
        Joint(
            "upper edge at the right",
            (Corner(FRONT, "right_armhole", f"right_{top}"), Corner(BACK, "right_side", "top")),
        ),
    )


# ---- what is promised --------------------------------------------------------------------------------


def _levels(body: Body, wish: Wish) -> tuple[Level, ...]:
    def around(name: str) -> tuple[tuple[str, str, int], ...]:
        return ((FRONT, name, 1), (BACK, name, 1))

    return (
        Level("bust", "Bust", around("bust"), body["bust_girth"], float(wish["bust_ease"])),
        Level("hip", "Hip", around("hip"), body["hip_girth"], LEAST_HIP, at_least=True),
    )


def _notes(body: Body, found: Drawn) -> tuple[Note, ...]:
    text = f"It is cut {found.dropped:.1f} cm shorter than asked: so much it drops while it hangs on the bias."
    notes = [Note(text, measure="length", by=-found.dropped)]
    if body.child:
        text = "Worn at night, thin cloth catches fire easily: follow the local rules for children's nightwear."
        notes.append(Note(text))
    return tuple(notes)


def _finished(found: Drawn) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    return {
        "length from the underarm": found.frame.underarm + found.depth + found.dropped,
        "straps, with what is left to set": found.strap + SPARE,
    }


def _with_notches(garment: Garment, found: Drawn) -> Garment:
    """The sides are matched at the hip, the front's with one notch, the back's with two."""
    for seam, edge in (("left_side", "left"), ("right_side", "right")):
        side = garment.piece(BACK).edge(f"{edge}_side").curve
        up = side if seam == "right_side" else side.reversed()
        at = level.distance_to(up, -found.hip_depth)
        if at > 1.0 + SOLVE:
            garment = notched(garment, seam, at, "hip", 1, 2)
        garment = notched(garment, seam, level.distance_to(up, 0.0), "waist", 1, 2)
    return garment


BIAS_CAMISOLE = HouseDraft(
    name=NAME,
    title="Bias camisole",
    what="A camisole or slip with narrow straps, cut on the bias and shaped by a bust dart.",
    choices=CHOICES,
    needs=(
        *bodice.MEASURES,
        *bodice.BUST_MEASURES,
        "height",
        "waist_girth",
        "hip_girth",
        "waist_to_hip",
        "waist_to_knee",
        "waist_to_ankle",
        "body_rise",
        "inside_leg",
    ),
    least_age=4.0,
    draw=draw,
    lightest=50.0,
    heaviest=170.0,
    shortened_by="longer",
    length_shown="length from the underarm",
    instead={
        **posture.STRAPS,
        "across_front": "It ends below the arms and has no width across the chest of its own: ask 'bust_ease'.",
    },
)
