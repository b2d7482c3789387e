"""Sweatshirt of a thick knit: hooded or with a neckband, cuffs and hem band of rib, a pocket across the front.

Front and back are alike but for the neck and cut on the fold; the sleeve hangs from a dropped or a simple
set-in shoulder under a cap without ease. Half of each is drawn, centre on x = 0, the waist y = 0, y up, cm.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; bands and hems from the rules of the
trade. Not sewn yet. Children get no cord at the hood, whatever their age (EN 14682 forbids it up to 7 years and
limits it up to 14; local rules come first).
"""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.body import Body
from clothwise.curve import Curve, Point, line
from clothwise.draft import front_pocket, hood, knit, level, neck_finish, posture, rib, sleeve, top_length
from clothwise.draft.knit import BAND_PASSES_OF_STRETCH, PASSES_OF_STRETCH
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.sweatshirt_frame import DROPPED, NAME, SET_IN, Frame, frame, hem_quarter
from clothwise.draft.tee_frame import hand
from clothwise.draft.tee_joined import BACK, FRONT, hem_runs
from clothwise.errors import ChoiceError
from clothwise.garment import (
    Corner,
    Edge,
    Garment,
    Joint,
    Level,
    Mark,
    Note,
    Notion,
    Passage,
    Piece,
    Run,
    Seam,
)
from clothwise.garment.notches import notched

STRETCH = 25.0  # %: French terry and fleece give 20 to 30
SEAM = rib.SEAM
TWO_PIECE, THREE_PIECE, NECKBAND = "two-piece hood", "three-piece hood", "neckband"
HOODS = {TWO_PIECE: hood.TWO_PIECE, THREE_PIECE: hood.THREE_PIECE}
NO_POCKET, ACROSS = "none", "across the front"
NO_CORD, CORD = "none", "at the face"
POCKET_ABOVE = 1.5  # cm between the pocket and the seam of the hem band
POCKET_BELOW_BUST = 2.0  # cm between the bust line and the pocket
GRAIN_FREE = 0.15  # of the length left above and below the grain arrow
GRAIN_FROM_FOLD = 0.4  # of the quarter
NOTCH_FREE = 2.5  # cm
FRONT_NOTCH, BACK_NOTCH = 0.45, 0.55  # of the half armhole from the underarm: one in front, two behind
FULL_CUP = 6.0  # cm of bust over high bust from which the missing dart shows

CHOICES = (
    Choice(
        "neck",
        "A hood of two halves, a hood with a strip over the head, or a band of rib round the neck.",
        options=(TWO_PIECE, THREE_PIECE, NECKBAND),
        default=TWO_PIECE,
        changes="neck, hood or neckband",
        main=True,
    ),
    Choice(
        "shoulder",
        "Where the sleeve begins: down the arm under a flat cap, or at the shoulder point.",
        options=(DROPPED, SET_IN),
        default=DROPPED,
        changes="shoulder, armhole and sleeve cap",
        main=True,
    ),
    Choice(
        "pocket",
        "A pocket across the front for both hands.",
        options=(NO_POCKET, ACROSS),
        default=ACROSS,
        changes="a pocket piece, its place on the front",
        main=True,
    ),
    Choice(
        "drawstring",
        "A cord round the face, out at two eyelets; not for children.",
        options=(NO_CORD, CORD),
        default=NO_CORD,
        changes="casing and eyelets of the hood",
    ),
    top_length.length_choice("top", ("top", "tunic")),
    level.longer_choice(20.0),
    sleeve.longer_choice(),
    knit.fit_choice(knit.LOOSE),
    knit.stretch_choice(STRETCH),
    rib.rib_choice(),
    rib.RECOVERY_CHOICE,
    knit.ease_choice("bust", -10.0, 50.0),
    *posture.CHOICES,
)


def draw(body: Body, wish: Wish) -> Garment:
    """The sweatshirt for this body. Raises ChoiceError, MeasureError or DraftError with one sentence."""
    hooded = wish["neck"] != NECKBAND
    found = frame(body, wish, hooded=hooded)
    pocket = _pocket(body, wish, found)
    neck = _hooded(body, wish, found) if hooded else neck_finish.finished(found.necks, found.finish, NAME)
    arm = _sleeve(found)
    around = found.cuff.share * arm.edge("hem").curve.length()
    cuff = rib.band("cuff", "Cuff", around, found.cuff.width, "rib", copies=2)
    band = rib.band("hem_band", "Hem band", found.hem_band.length, found.hem_band.width, "rib")
    garment = Garment(
        name=NAME,
        title="Hooded sweatshirt" if hooded else "Sweatshirt",
        pieces=(
            _body(FRONT, "Front", found, found.necks.front, _places(found, pocket)),
            _body(BACK, "Back", found, found.necks.back, ()),
            arm,
            *neck.pieces,
            cuff,
            band,
            *((front_pocket.piece(pocket),) if pocket else ()),
        ),
        seams=(*_shoulders_after(pocket), *SEAMS, *neck.seams, *_bands(found)),
        free_edges=(*((front_pocket.openings(),) if pocket else ()), *neck.free_edges),
        joints=(*JOINTS, *(hood.joints(_hood(body, wish, found)) if hooded else ())),
        levels=_levels(body, found),
        passages=(*neck.passages, *_passages(body, found)),
        notions=_notions(wish, neck),
        notes=(*found.notes, *_notes(body, wish)),
        choices=wish,
        finished={**_finished(found), **dict(neck.measures), "cuff": around},
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(garment, found)


# ---- pieces --------------------------------------------------------------------------------------


def _body(name: str, title: str, found: Frame, neck: Curve, places: tuple[Mark, ...]) -> Piece:
    """Half of front or back: along the hem, up the side and the armhole, over the shoulder, down the fold."""
    fold = line(neck.end, Point(0.0, -found.depth))
    n = 0 if name == FRONT else 1
    arm, shoulder = found.arms[n], found.shoulders[n]
    upper = line(found.side.start, arm.start)
    side = upper.reversed().then(found.side)
    return Piece(
        name,
        title,
        edges=(
            Edge("hem", hem_quarter(found.side), "seam", SEAM),
            Edge("side_seam", side.reversed(), "seam", SEAM),
            Edge("armhole", arm, "seam", SEAM),
            Edge("shoulder", shoulder, "seam", SEAM),
            Edge("neck", neck, "seam", SEAM),
            Edge("fold", fold, "fold", 0.0),
        ),
        grain=_grain(found, fold),
        cutting="on fold",
        copies=1,
        marks=(*_levels_drawn(found, side), *places),
    )


def _grain(found: Frame, fold: Curve) -> tuple[Point, Point]:
    x, free = GRAIN_FROM_FOLD * found.side.start.x, GRAIN_FREE * fold.length()
    return Point(x, fold.end.y + free), Point(x, fold.start.y - free)


def _levels_drawn(found: Frame, side: Curve) -> tuple[Mark, ...]:
    fold = line(Point(0.0, found.arms[0].start.y), Point(0.0, -found.depth))
    adjust = (found.bust_y - found.depth) / 2
    return (
        Mark("bust", "level", line(Point(0.0, found.bust_y), found.side.start)),
        level.across("adjust_length", "adjust", fold, side, adjust),
    )


def _sleeve(found: Frame) -> Piece:
    """The sleeve under its cap; its lower edge is sewn to the cuff."""
    drawn = sleeve.piece(found.cap, found.sleeve, found.cuff.edge)
    edges = tuple(replace(e, kind="seam", allowance=SEAM) for e in drawn.edges)
    return replace(drawn, edges=edges)


def _pocket(body: Body, wish: Wish, found: Frame) -> front_pocket.FrontPocket | None:
    """The pocket where it is wished. ChoiceError when the front is too short for it."""
    if wish["pocket"] == NO_POCKET:
        return None
    room = found.bust_y - POCKET_BELOW_BUST + found.depth - POCKET_ABOVE
    half = min(found.side.start.x, found.side.end.x)
    pocket = front_pocket.pocket_for(body["hip_girth"], half, room)
    if pocket is None:
        lack = front_pocket.LEAST_OF_HIP * body["hip_girth"] - room
        raise ChoiceError(
            "A pocket for both hands does not fit between bust line and hem band.",
            where=f"pattern '{NAME}', choice 'pocket'",
            mend=f"Choose none, or make the sweatshirt {math.ceil(lack)} cm longer.",
        )
    return pocket


def _places(found: Frame, pocket: front_pocket.FrontPocket | None) -> tuple[Mark, ...]:
    return front_pocket.places(pocket, Point(0.0, POCKET_ABOVE - found.depth)) if pocket else ()


# ---- hood ----------------------------------------------------------------------------------------


def _hood(body: Body, wish: Wish, found: Frame) -> hood.Hood:
    corded = wish["drawstring"] == CORD
    return hood.hood_for(body["head_girth"], found.necks.opening, HOODS[str(wish["neck"])], corded=corded)


def _hooded(body: Body, wish: Wish, found: Frame) -> neck_finish.Finished:
    """What a hood adds. ChoiceError for a cord at a child's hood."""
    if wish["drawstring"] == CORD and body.child:
        raise ChoiceError(
            "A cord at a child's hood can strangle, so none is drafted for children.",
            where=f"pattern '{NAME}', choice 'drawstring'",
            mend="Choose none: the hood stays on by its shape. Local rules on cords come first.",
        )
    made = _hood(body, wish, found)
    neckline = (
        Run(FRONT, "neck", backwards=True),
        Run(BACK, "neck"),
        Run(BACK, "neck", backwards=True, side="mirrored"),
        Run(FRONT, "neck", side="mirrored"),
    )
    return neck_finish.Finished(
        "seam",
        SEAM,
        hood.pieces(made),
        hood.seams(made, neckline),
        (hood.face_edge(made),),
        (neck_finish.over_head(found.necks, found.finish),),
        (("hood, height", made.height + made.strip / 2), ("hood, depth", made.depth + made.strip / 2)),
    )


def _notions(wish: Wish, neck: neck_finish.Finished) -> tuple[Notion, ...]:
    if wish["drawstring"] == NO_CORD or wish["neck"] == NECKBAND:
        return ()
    sides = 2 * neck.pieces[0].edge("face").curve.length()
    strip = sum(piece.edge("face").curve.length() for piece in neck.pieces[1:])
    return (hood.cord(sides + strip),)


def _notes(body: Body, wish: Wish) -> tuple[Note, ...]:
    hooded = wish["neck"] != NECKBAND
    notes = []
    if hooded and body.child:
        notes.append(
            Note(
                "No cord at a child's hood or neck: it can catch and strangle. Local rules and standards "
                "(in Europe EN 14682) come first."
            )
        )
    if hooded and wish["drawstring"] == CORD:
        text = "Back both eyelets with a scrap of interfacing and work them before the face edge is turned; "
        notes.append(Note(text + "knot the ends of the cord, so that it cannot slip in."))
    return tuple(notes)


# ---- the garment ---------------------------------------------------------------------------------


def _shoulders_after(pocket: front_pocket.FrontPocket | None) -> tuple[Seam, ...]:
    """The shoulder seams, after the pocket, which is sewn on the flat front."""
    front, back = (Run(FRONT, "shoulder"),), (Run(BACK, "shoulder"),)
    shoulders = Seam("shoulder_seam", "Shoulder seams", front, back, times=2)
    if pocket is None:
        return (shoulders,)
    sewn = front_pocket.seams(FRONT)
    return (*sewn, replace(shoulders, after=(sewn[-1].name,)))


SEAMS = (
    Seam(
        "armhole",
        "Sleeves into the armholes",
        (Run(sleeve.PIECE, "front_cap", backwards=True), Run(sleeve.PIECE, "back_cap", backwards=True)),
        (Run(FRONT, "armhole"), Run(BACK, "armhole", backwards=True)),
        times=2,
        pressed="to b",
    ),
    Seam("side_seam", "Side seams", (Run(FRONT, "side_seam"),), (Run(BACK, "side_seam"),), times=2),
    Seam(
        "sleeve_seam",
        "Sleeve seams",
        (Run(sleeve.PIECE, "front_seam"),),
        (Run(sleeve.PIECE, "back_seam", backwards=True),),
        times=2,
    ),
)

JOINTS = (
    Joint("neck at the shoulder", (Corner(FRONT, "shoulder", "neck"), Corner(BACK, "shoulder", "neck"))),
    Joint(
        "armhole at the shoulder", (Corner(FRONT, "armhole", "shoulder"), Corner(BACK, "armhole", "shoulder"))
    ),
    Joint(
        "armhole under the arm", (Corner(FRONT, "side_seam", "armhole"), Corner(BACK, "side_seam", "armhole"))
    ),
    Joint("hem at the side", (Corner(FRONT, "hem", "side_seam"), Corner(BACK, "hem", "side_seam"))),
    Joint(
        "sleeve edge at its seam",
        (Corner(sleeve.PIECE, "front_seam", "hem"), Corner(sleeve.PIECE, "hem", "back_seam")),
    ),
)


def _bands(found: Frame) -> tuple[Seam, ...]:
    wrist = (Run(sleeve.PIECE, "hem", backwards=True),)
    return (
        rib.closing("cuff", "Ends of the cuffs", times=2),
        rib.sewn_on("cuff", "cuffs", "Cuffs", wrist, found.cuff.share, times=2),
        rib.closing("hem_band", "Ends of the hem band"),
        rib.sewn_on("hem_band", "hem_band_seam", "Hem band", hem_runs(), found.hem_band.share),
    )


def _levels(body: Body, found: Frame) -> tuple[Level, ...]:
    bust = Level("bust", "Bust", ((FRONT, "bust", 2), (BACK, "bust", 2)), body["bust_girth"], found.bust_ease)
    arm, room = body["upper_arm_girth"], found.arm_least - body["upper_arm_girth"]
    return bust, Level("upper_arm", "Upper arm", ((sleeve.PIECE, "upper_arm", 1),), arm, room, at_least=True)


def _passages(body: Body, found: Frame) -> tuple[Passage, ...]:
    """Hem band over bust and hips, cuffs over the hands."""
    gives = BAND_PASSES_OF_STRETCH * found.rib_stretch
    widest = max(body["bust_girth"], body["hip_girth"], body["waist_girth"])
    cloth = ((FRONT, "hem", 2), (BACK, "hem", 2))
    return (
        Passage("over_body", "Hem band over bust and hips", (("hem_band", "outer", 1),), widest, 0.0, gives),
        Passage("hem_over_body", "Hem over the body", cloth, widest, 0.0, PASSES_OF_STRETCH * found.stretch),
        Passage("hand", "Cuff over the hand", (("cuff", "outer", 1),), hand(body), 0.0, gives),
    )


def _finished(found: Frame) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    return {
        "neck, seam": found.necks.opening,
        "neck point to hem": found.necks.front.start.y + found.depth + found.hem_band.width,
        "neck point to cuff": found.shoulders[0].length() + found.sleeve + found.cuff.width,
        "hem band": found.hem_band.length,
    }


def _with_notches(garment: Garment, found: Frame) -> Garment:
    """Match marks: side seam, armhole (one in front, two behind), shoulder point on the cap."""
    front, back = (arm.length() for arm in found.arms)
    garment = notched(garment, "side_seam", (found.side.length()) / 2, "side")
    garment = notched(garment, "armhole", FRONT_NOTCH * front, "front")
    return notched(garment, "armhole", front + (1 - BACK_NOTCH) * back, "back", 2, 2)


SWEATSHIRT = HouseDraft(
    name=NAME,
    title="Sweatshirt",
    what="A roomy pullover of sweatshirt cloth with rib cuffs and hem, hooded or with a neckband.",
    choices=CHOICES,
    needs=top_length.PULLOVER_MEASURES,
    least_age=2.0,
    draw=draw,
    makes=("knit",),
    lightest=200.0,
    heaviest=450.0,
    shortened_by="longer",
    length_shown="neck point to hem",
    instead=posture.KNIT,
)
