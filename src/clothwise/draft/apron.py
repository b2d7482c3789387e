"""Apron and pinafore: a bib and a gathered skirt on a waistband, held by straps that cross at the back.

An apron leaves the back open and ties there; a pinafore goes all the way round, laps and buttons at the back.
All pieces are rectangles, drawn from the front; bib and skirt as halves, centre on x = 0, the natural waist
y = 0 in the middle of the band, y up, cm.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; gathers, hems and bands from the rules
of the trade. Not sewn yet. Children: nothing is tied at their neck, and nothing behind their back (EN 14682, up
to 14 years, limits both; local rules come first); theirs is the pinafore.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import Point, line
from clothwise.draft import hem, level, pocket, posture, tie
from clothwise.draft.apron_joined import (
    BAND,
    BIB,
    FACING,
    JOINTS,
    SKIRT,
    STRAP,
    TIE,
    band_seams,
    free_edges,
    skirt_seam,
    strap_seams,
)
from clothwise.draft.neckline import close_neck
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.possible import at_most, possible, within
from clothwise.errors import ChoiceError
from clothwise.garment import Edge, Garment, Level, Mark, Note, Notion, Piece

NAME = "apron"
APRON, PINAFORE = "apron", "pinafore"
CROSSED, AT_NECK = "crossed", "tied at the neck"
NO_POCKETS, PATCH = "none", "patch"
ROUND_APRON = 0.72  # of waist and hip: an apron reaches a hand's width round to the back at each side
WAIST_EASE, HIP_EASE = 5.0, 10.0  # cm in the round: worn over clothes
LAP = 5.0  # cm: the ends of a pinafore's band lie over each other, for one button
LEAST_GATHER = 1.2  # the skirt's edge over the band's: less looks like a mistake
BAND_WIDTH, CHILD_BAND_WIDTH = 4.0, 3.0  # cm finished
BIB_OF_WAIST_LENGTH = 0.60  # height of the bib over the back waist length: to above the bust
BIB_OF_FRONT = 0.36  # half the bib's width over the width across the front
STRAP_WIDTH, CHILD_STRAP_WIDTH = 4.0, 3.0  # cm finished
BIB_OF_BAND = 0.75  # of half the band at most
STRAP_IN = 0.5  # cm between the strap and the side of the bib
STRAP_DOWN = 1.5  # cm below the bib's top: on its hem
SHOULDER_AT = 0.45  # of the shoulder's length: where the strap lies on it
BACK_AT = 0.09  # of the waist from the centre back: where a strap meets the band
APRON_STRAP_IN = 2.0  # cm from the end of an apron's band
SPARE = 4.0  # cm of strap to be set when it is tried on
NECK_TIE = 62.0  # cm: each tie from the bib to its end behind the neck and a bow
WAIST_TIE, TIE_MORE = 0.5, 45.0  # share of the waist and cm: each tie at the back of an apron
SEAM = 1.0  # cm
TURN, FOLD_IN = 2.0, 1.0  # cm turned at the open back edges of the skirt and the sides of the bib
TOP_TURN = 3.0  # cm turned at the bib's top
HEM = 4.0  # cm
POCKET_BELOW = 0.07  # of the hip girth: the pocket's top below the waist
POCKET_FROM_CENTRE = 0.05  # of the hip girth: the pocket from the centre front
POCKET_ABOVE_HEM = 3.0  # cm
ABOVE_KNEE = 0.45  # of the way from crotch to knee: where a short one ends
LEAST_BELOW_HIP = 6.0  # cm: the shortest skirt
QUARTER = 2.0  # cm: length of the mark at the quarter of the gathers
BUTTON = 2.0  # cm across
HIGHEST_BIB = 0.82  # of the back waist length
GRAIN_FREE = 0.15

CHOICES = (
    Choice(
        "style",
        "An apron, open at the back and tied, or a pinafore, that goes round and buttons; left open, for an "
        "adult an apron, for a child a pinafore.",
        options=(APRON, PINAFORE),
        changes="width of skirt and band, ties or a button",
        main=True,
    ),
    Choice(
        "length",
        "Where the skirt ends.",
        options=("short", "knee", "calf"),
        default="knee",
        changes="hem",
        main=True,
    ),
    level.longer_choice(20.0),
    Choice(
        "straps",
        "Straps over the shoulders that cross at the back, or ties knotted behind the neck (not for children).",
        options=(CROSSED, AT_NECK),
        default=CROSSED,
        changes="straps and where they are sewn on",
    ),
    Choice(
        "pockets",
        "Patch pockets on the skirt.",
        options=(NO_POCKETS, PATCH),
        default=PATCH,
        changes="a pocket piece, its place on the skirt",
    ),
    Choice(
        "fullness",
        "The skirt's upper edge over the band; left open as much as the hips need.",
        unit="times",
        low=1.2,
        high=2.5,
        changes="width of the skirt",
    ),
    Choice(
        "bib_height",
        "Height of the bib above the waist; left open to above the bust.",
        unit="cm",
        low=8.0,
        high=35.0,
        changes="bib, straps",
    ),
)


@dataclass(frozen=True, slots=True)
class Frame:
    """Measures of the pieces. [cm]

    half      of the band, and of what is sewn to it; skirt: half width of the skirt
    depth     of the hem below the waist; bib: height of the bib's top above the waist; bib_half: half its width
    strap     finished length without spare, or of a neck tie; strap_at: its middle from the band's middle
    tie       length of a waist tie; 0 = none
    """

    pinafore: bool
    half: float
    skirt: float
    band: float
    depth: float
    bib: float
    bib_half: float
    strap: float
    strap_width: float
    strap_at: float
    crossed: bool
    tie: float
    turn: float
    pocket: pocket.Pocket | None


def draw(body: Body, wish: Wish) -> Garment:
    """The apron or pinafore for this body. Raises ChoiceError or MeasureError with one sentence."""
    frame = _frame(body, wish)
    pockets = (pocket.piece(frame.pocket),) if frame.pocket else ()
    return Garment(
        name=NAME,
        title="Pinafore" if frame.pinafore else "Apron",
        pieces=(
            _bib(frame),
            _skirt(frame, body),
            _band(frame, BAND, "Waistband"),
            _band(frame, FACING, "Inside of the waistband"),
            *_strips(frame),
            *pockets,
        ),
        seams=(
            *((pocket.seam(SKIRT),) if frame.pocket else ()),
            *band_seams(tied=frame.tie > 0),
            skirt_seam(frame.skirt / frame.half),
            *strap_seams(crossed=frame.crossed, tied=frame.tie > 0),
        ),
        free_edges=free_edges(frame.turn, TURN, FOLD_IN, TOP_TURN, SEAM, pockets=bool(frame.pocket)),
        joints=JOINTS,
        levels=_levels(body, frame),
        notions=(Notion("button", f"Button {BUTTON:g} cm", place="waistband", count=1),)
        if frame.pinafore
        else (),
        notes=_notes(body, frame),
        choices=wish,
        finished=_finished(frame),
        for_child=body.child,
        body_name=body.name,
    )


# ---- the frame -----------------------------------------------------------------------------------


def _frame(body: Body, wish: Wish) -> Frame:
    pinafore = _pinafore(body, wish)
    crossed = _crossed(body, wish)
    waist, hip = body["waist_girth"] + WAIST_EASE, body["hip_girth"] + HIP_EASE
    half = (waist + LAP) / 2 if pinafore else ROUND_APRON * waist / 2
    cover = (hip + LAP) / 2 if pinafore else ROUND_APRON * hip / 2
    fullness = float(wish["fullness"]) if "fullness" in wish else max(cover / half, LEAST_GATHER)
    strap_width = CHILD_STRAP_WIDTH if body.child else STRAP_WIDTH
    bib = float(wish.get("bib_height", BIB_OF_WAIST_LENGTH * body["back_waist_length"]))
    bib_half = min(BIB_OF_FRONT * body["across_front"], BIB_OF_BAND * half)
    _refuse_high_bib(body, bib)
    at = half - APRON_STRAP_IN - strap_width / 2
    if pinafore:
        at = half - LAP / 2 - BACK_AT * waist
    made = Frame(
        pinafore=pinafore,
        half=half,
        skirt=fullness * half,
        band=CHILD_BAND_WIDTH if body.child else BAND_WIDTH,
        depth=_depth(body, wish),
        bib=bib,
        bib_half=bib_half,
        strap=_strap(body, bib, bib_half - STRAP_IN - strap_width / 2) if crossed else NECK_TIE,
        strap_width=strap_width,
        strap_at=at,
        crossed=crossed,
        tie=0.0 if pinafore else WAIST_TIE * body["waist_girth"] + TIE_MORE,
        turn=hem.deepened_for_growth(HEM, body.child),
        pocket=None,
    )
    return replace(made, pocket=_pocket(body, made)) if wish["pockets"] == PATCH else made


def _pinafore(body: Body, wish: Wish) -> bool:
    style = wish.get("style", PINAFORE if body.child else APRON)
    if style == APRON and body.child:
        raise ChoiceError(
            "Ties behind a child's back catch where it cannot see them, so no apron with ties is drafted for "
            "children.",
            where=f"pattern '{NAME}', choice 'style'",
            mend="Choose the pinafore, which buttons. Local rules on cords and ties come first.",
        )
    return style == PINAFORE


def _crossed(body: Body, wish: Wish) -> bool:
    if wish["straps"] == AT_NECK and body.child:
        raise ChoiceError(
            "Ties knotted behind a child's neck can strangle, so none are drafted for children.",
            where=f"pattern '{NAME}', choice 'straps'",
            mend="Choose the crossed straps. Local rules on cords and ties come first.",
        )
    return wish["straps"] == CROSSED


def _depth(body: Body, wish: Wish) -> float:
    """The hem below the waist. ChoiceError when it drags or leaves no skirt. [cm]"""
    rise, knee, longer = body["body_rise"], body["waist_to_knee"], float(wish["longer"])
    usual = {
        "short": rise + ABOVE_KNEE * (knee - rise),
        "knee": level.knee(body),
        "calf": level.mid_calf(body),
    }[str(wish["length"])]
    least, most = body["waist_to_hip"] + LEAST_BELOW_HIP, rise + body["inside_leg"] - level.LEAST_CLEAR
    if not within(usual + longer, least, most):
        raise ChoiceError(
            f"{longer:+.1f} cm on the length '{wish['length']}' would "
            f"{'drag on the floor' if usual + longer > most else 'leave no skirt'}.",
            where=f"pattern '{NAME}', choice 'longer'",
            mend=possible(longer, least - usual, most - usual),
        )
    return usual + longer


def _refuse_high_bib(body: Body, bib: float) -> None:
    most = HIGHEST_BIB * body["back_waist_length"]
    if bib > most:
        raise ChoiceError(
            f"A bib {bib:g} cm high would reach the throat.",
            where=f"pattern '{NAME}', choice 'bib_height'",
            mend=f"For this body up to {at_most(most)} cm is possible.",
        )


def _strap(body: Body, bib: float, out: float) -> float:
    """From the bib's top over the shoulder, across the back to the other side of the band. [cm]

    out  its middle from the centre front at the bib. Two straight ways, which bend with the body: hence the
         spare.
    """
    slope = math.radians(body["shoulder_slope_deg"])
    neck = close_neck(body["neck_base_girth"], body["shoulder_slope_deg"], body["shoulder_slope_deg"])
    along = SHOULDER_AT * body["shoulder_length"]
    over = Point(
        neck.width + along * math.cos(slope), body["back_waist_length"] + neck.rise - along * math.sin(slope)
    )
    down = Point(-BACK_AT * body["waist_girth"], 0.0)
    return over.distance(Point(out, bib)) + over.distance(down)


def _pocket(body: Body, frame: Frame) -> pocket.Pocket:
    """The patch pocket. ChoiceError when the skirt is too short for it."""
    at = _pocket_corner(body)
    made = pocket.pocket_for(body["hip_girth"], frame.skirt - at.x - TURN - POCKET_ABOVE_HEM)
    lack = made.height - at.y + POCKET_ABOVE_HEM + frame.turn - frame.depth
    if lack > 0:
        raise ChoiceError(
            "A pocket does not fit above the hem of so short a skirt.",
            where=f"pattern '{NAME}', choice 'pockets'",
            mend=f"Choose no pockets, or make it {math.ceil(lack)} cm longer.",
        )
    return made


def _pocket_corner(body: Body) -> Point:
    """The pocket's upper left corner."""
    return Point(POCKET_FROM_CENTRE * body["hip_girth"], -POCKET_BELOW * body["hip_girth"])


# ---- pieces --------------------------------------------------------------------------------------


def _bib(frame: Frame) -> Piece:
    """Half the bib: along the band, up the side, along the top, down the fold."""
    y = frame.band / 2
    low, high = Point(frame.bib_half, y), Point(frame.bib_half, frame.bib)
    bottom, top = line(Point(0.0, y), low), line(high, Point(0.0, frame.bib))
    middle = frame.bib_half - STRAP_IN - frame.strap_width / 2
    place = Point(middle, frame.bib - STRAP_DOWN)
    return Piece(
        BIB,
        "Bib",
        edges=(
            Edge("bottom", bottom, "seam", SEAM),
            Edge("side", line(low, high), "hem", TURN),
            Edge("top", top, "hem", TOP_TURN),
            Edge("fold", line(top.end, bottom.start), "fold", 0.0),
        ),
        grain=(
            Point(frame.bib_half / 2, y + GRAIN_FREE * frame.bib),
            Point(frame.bib_half / 2, (1 - GRAIN_FREE) * frame.bib),
        ),
        cutting="on fold",
        copies=1,
        marks=(
            Mark(
                "strap_place",
                "placement",
                line(place.left(frame.strap_width / 2), place.right(frame.strap_width / 2)),
            ),
        ),
    )


def _skirt(frame: Frame, body: Body) -> Piece:
    """Half the skirt, a rectangle."""
    top, low = -frame.band / 2, -frame.depth
    marks = [
        Mark(
            "hip", "level", line(Point(0.0, -body["waist_to_hip"]), Point(frame.skirt, -body["waist_to_hip"]))
        ),
        Mark(
            "adjust_length",
            "adjust",
            line(
                Point(0.0, (low - body["waist_to_hip"]) / 2),
                Point(frame.skirt, (low - body["waist_to_hip"]) / 2),
            ),
        ),
    ]
    marks.append(
        Mark("quarter", "note", line(Point(frame.skirt / 2, top), Point(frame.skirt / 2, top - QUARTER)))
    )
    if frame.pocket:
        marks.append(pocket.place(frame.pocket, _pocket_corner(body)))
    right = Point(frame.skirt, low)
    return Piece(
        SKIRT,
        "Skirt",
        edges=(
            Edge("hem", line(Point(0.0, low), right), "hem", frame.turn),
            Edge("back_edge", line(right, Point(frame.skirt, top)), "hem", TURN),
            Edge("top", line(Point(frame.skirt, top), Point(0.0, top)), "seam", SEAM),
            Edge("fold", line(Point(0.0, top), Point(0.0, low)), "fold", 0.0),
        ),
        grain=(
            Point(frame.skirt / 2, low + GRAIN_FREE * frame.depth),
            Point(frame.skirt / 2, top - GRAIN_FREE * frame.depth),
        ),
        cutting="on fold",
        copies=1,
        marks=tuple(marks),
    )


def _band(frame: Frame, name: str, title: str) -> Piece:
    """The whole band or its inside; the bib is caught in the middle of its upper edge."""
    h, b, y = frame.half, frame.bib_half, frame.band / 2
    corners = (Point(-h, -y), Point(h, -y), Point(h, y), Point(b, y), Point(-b, y), Point(-h, y))
    names = ("lower", "end", "upper_right", "upper_bib", "upper_left", "start")
    sides = zip(names, corners, (*corners[1:], corners[0]), strict=True)
    return Piece(
        name,
        title,
        edges=tuple(Edge(edge, line(p, q), "seam", SEAM) for edge, p, q in sides),
        grain=(Point(-0.8 * h, 0.0), Point(0.8 * h, 0.0)),
        cutting="single",
        copies=1,
        marks=_band_marks(frame, outside=name == BAND),
        interfaced=name == BAND,
    )


def _band_marks(frame: Frame, *, outside: bool) -> tuple[Mark, ...]:
    """Outside the quarters for the gathers, the button and its hole; inside where the straps are sewn on."""
    if outside:
        low = -frame.band / 2
        quarters = tuple(
            Mark(name, "note", line(Point(x, low), Point(x, 0.0)))
            for name, x in (
                ("left_quarter", -frame.half / 2),
                ("centre", 0.0),
                ("right_quarter", frame.half / 2),
            )
        )
        if not frame.pinafore:
            return quarters
        at, size = frame.half - LAP / 2, BUTTON / 2
        return (
            *quarters,
            Mark("button", "button", line(Point(at - size / 4, 0.0), Point(at + size / 4, 0.0))),
            Mark("buttonhole", "buttonhole", line(Point(-at - size, 0.0), Point(-at + size, 0.0))),
        )
    if not frame.crossed:
        return ()
    w = frame.strap_width / 2
    return tuple(
        Mark(f"{side}_strap_place", "placement", line(Point(x - w, 0.0), Point(x + w, 0.0)))
        for side, x in (("left", -frame.strap_at), ("right", frame.strap_at))
    )


def _strips(frame: Frame) -> tuple[Piece, ...]:
    """Straps or neck ties, and the ties at the back."""
    if frame.crossed:
        strap = tie.strip(STRAP, "Strap", frame.strap + SPARE, frame.strap_width, copies=2)
    else:
        strap = tie.strip(STRAP, "Neck tie", frame.strap, frame.strap_width, copies=2)
    if not frame.tie:
        return (strap,)
    return strap, tie.strip(TIE, "Waist tie", frame.tie, frame.band, copies=2)


# ---- the garment ---------------------------------------------------------------------------------


def _levels(body: Body, frame: Frame) -> tuple[Level, ...]:
    """Along the band and across the skirt; an apron leaves the back open, its 'ease' is what is left open."""
    waist = body["waist_girth"]
    band = Level("waist", "Waistband", ((BAND, "lower", 1),), waist, 2 * frame.half - waist)
    hip = Level(
        "hip", "Skirt at the hip", ((SKIRT, "hip", 2),), body["hip_girth"], 2 * frame.skirt - body["hip_girth"]
    )
    return band, hip


def _notes(body: Body, frame: Frame) -> tuple[Note, ...]:
    notes = [Note("Sew the back ends of the straps on when it is tried on.")] if frame.crossed else []
    if body.child:
        text = (
            "Nothing of it is tied: cords and ties at neck and back are not for children. Sew the button on so "
            "that it stands a strong pull; local rules and standards on cords and small parts come first."
        )
        notes.append(Note(text))
    return tuple(notes)


def _finished(frame: Frame) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    found = {
        "waistband": 2 * frame.half,
        "bib, height": frame.bib - frame.band / 2,
        "bib, width": 2 * frame.bib_half,
        "waist to hem": frame.depth,
        "skirt width": 2 * frame.skirt,
        "strap": frame.strap,
    }
    return {**found, "waist tie": frame.tie} if frame.tie else found


NEEDS = (
    "waist_girth", "hip_girth", "neck_base_girth", "shoulder_length", "shoulder_slope_deg",
    "back_waist_length", "across_front", "waist_to_hip", "waist_to_knee", "waist_to_ankle", "body_rise",
    "inside_leg",
)  # fmt: skip

PINAFORE_APRON = HouseDraft(
    name=NAME,
    title="Apron and pinafore",
    what="A bib and a gathered skirt on a waistband, with straps that cross at the back.",
    choices=CHOICES,
    needs=NEEDS,
    least_age=2.0,
    draw=draw,
    lightest=100.0,
    heaviest=320.0,
    shortened_by="longer",
    length_shown="waist to hem",
    instead=posture.STRAPS,
)
