"""Knit tee and dress with cut-on sleeves: front and back alike but for the neck, cut on the fold.

The cloth's stretch does the shaping: widths are the body's with the ease of the fit, which may be negative; the
neck opens over the head and its band is shortened by what stretch and recovery allow.
Half of each is drawn, centre on x = 0, the natural waist y = 0, y up, cm.

Source: drafting method 5; ease, bands and hems from the rules of the trade; house rule, 2026-11, where nothing
is said; proved on the bodies of the benchmarks. Not sewn yet. Not drawn: shaping for a full bust (the cloth
stretches over it, a note says so), a belly, unlike sides.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.curve import Curve, Point, line, solve
from clothwise.draft import knit, knit_side, level, neck_finish, posture, rib, side_slit, top_length
from clothwise.draft.bodice import cup_of
from clothwise.draft.hem import LEAST, hem_depth, hem_line
from clothwise.draft.knit import ARM_PASSES_OF_STRETCH, BAND_PASSES_OF_STRETCH, PASSES_OF_STRETCH
from clothwise.draft.narrow_hem import narrow_turn
from clothwise.draft.neckline import DEEPER, WIDER, neckline_choice
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.possible import at_most
from clothwise.draft.tee_frame import BAND, HEM, NAME, Frame, frame, hand
from clothwise.draft.tee_joined import BACK, FRONT, JOINTS, SEAMS, hem_runs, sleeve_runs
from clothwise.errors import ChoiceError
from clothwise.garment import Edge, FreeEdge, Garment, Level, Mark, Note, Passage, Piece, Seam
from clothwise.garment.notches import notched
from clothwise.garment.piece import EdgeKind
from clothwise.tolerance import SOLVE

STRETCH = 40.0  # %: single jersey and interlock give 35 to 45
SEAM = rib.SEAM
KNIT_HEM = 2.5  # cm turned once, the edge overlocked (rule: knit 2-2.5)
MOST_LEAN = 0.5  # cm a cm: above the hip a side leans out no more, or its hem is a wave
ABOVE_HEM = 0.5  # cm: the line to lengthen at lies so far above the hem at least
LEANS = 0.06  # cm a cm: so much each edge of a tunic or dress leans out at the hem
SKIRTED = ("tunic", "dress")
FULL_CUP = 6.0  # cm of bust over high bust from which the missing shaping shows: the front hem rises
GRAIN_FREE = 0.15  # of the length left above and below the grain arrow
GRAIN_FROM_FOLD = 0.4  # of the quarter
NOTCH_FREE = 2.5  # cm

CHOICES = (
    top_length.length_choice(),
    Choice(
        "sleeve",
        "A cap over the shoulder, or a sleeve in one with the body, short or long.",
        options=("cap", "short", "long"),
        default="short",
        changes="shoulder line, underarm and sleeve end",
        main=True,
    ),
    neckline_choice("round", ("round", "scoop", "V")),
    knit.fit_choice(),
    knit.stretch_choice(STRETCH),
    level.longer_choice(30.0),
    *neck_finish.CHOICES,
    Choice(
        "sleeve_end",
        "A turned hem or a band at the sleeve's end; if left open a hem where it lies flat.",
        options=(HEM, BAND),
        changes="sleeve end, a strip",
    ),
    WIDER,
    DEEPER,
    side_slit.choice(side_slit.LONGEST_OF_DRESS),
    knit.ease_choice("bust", -30.0, 40.0),
    knit.ease_choice("hip", -30.0, 40.0),
    knit.ease_choice("upper arm", -6.0, 20.0),
    *posture.CHOICES,
)


def draw(body: Body, wish: Wish) -> Garment:
    """The tee for this body. Raises ChoiceError or MeasureError with one sentence."""
    found = frame(body, wish)
    done = neck_finish.finished(found.necks, found.finish, NAME)
    lean = LEANS if wish["length"] in SKIRTED else 0.0
    side = knit_side.side(found.widths, found.bust_y, found.hip_depth, found.depth, lean)
    _refuse_cape(body, wish, found, side)
    turn = _turn(_hem(found, side))
    front = _piece(FRONT, "Front", found, side, turn, found.necks.front, done)
    back = _piece(BACK, "Back", found, side, turn, found.necks.back, done)
    band_pieces, band_seams = _sleeve_bands(found)
    garment = Garment(
        name=NAME,
        title="Dress with cut-on sleeves" if wish["length"] == "dress" else "Tee with cut-on sleeves",
        pieces=(front, back, *done.pieces, *band_pieces),
        seams=(*SEAMS, *done.seams, *band_seams),
        free_edges=(*done.free_edges, *_hems(found, turn)),
        joints=JOINTS,
        levels=_levels(body, found),
        passages=(*done.passages, *_passages(body, found)),
        notes=(*found.notes, *_cup_notes(body)),
        choices=wish,
        finished=_finished(found, side, done),
        for_child=body.child,
        body_name=body.name,
    )
    garment = _with_notches(garment, found, side)
    return side_slit.slitted(garment, wish)


# ---- pieces --------------------------------------------------------------------------------------


def _piece(
    name: str,
    title: str,
    found: Frame,
    side: Curve,
    turn: float,
    neck: Curve,
    done: neck_finish.Finished,
) -> Piece:
    """Half of front or back: along the hem, up the side, round the sleeve, over the shoulder, down the fold."""
    fold = line(neck.end, Point(0.0, -found.depth))
    cut = found.front if name == FRONT else found.back
    under = line(side.start, cut.under.start).then(cut.under)
    end_kind: EdgeKind = "seam" if found.end.band else "hem"
    end_allowance = SEAM if found.end.band else found.end.turn
    return Piece(
        name,
        title,
        edges=(
            Edge("hem", _hem(found, side), "hem", turn),
            Edge("side_seam", side.reversed(), "seam", SEAM),
            Edge("underarm", under, "seam", SEAM),
            Edge("sleeve_end", cut.end, end_kind, end_allowance),
            Edge("shoulder", cut.over, "seam", SEAM),
            Edge("neck", neck, done.kind, done.allowance, pointed=found.necks.pointed and name == FRONT),
            Edge("fold", fold, "fold", 0.0),
        ),
        grain=_grain(found, fold),
        cutting="on fold",
        copies=1,
        marks=_marks(found, side),
    )


def _hem(found: Frame, side: Curve) -> Curve:
    """From the fold to the side, square to both."""
    return hem_line(line(Point(0.0, found.bust_y), Point(0.0, -found.depth)), side)


def _refuse_cape(body: Body, wish: Wish, found: Frame, side: Curve) -> None:
    """Over a short tee room at the hip makes the sides stand out: ChoiceError where its hem no longer lies."""

    def leans(ease: float) -> float:
        widths = knit_side.quarters(body, wish, found.bust_ease, ease, found.stretch, found.bust_y)
        return _lean(knit_side.side(widths, found.bust_y, found.hip_depth, found.depth, 0.0))

    if found.depth >= found.hip_depth or _lean(side) <= MOST_LEAN + SOLVE:
        return
    least = knit.least_ease(body["hip_girth"], found.stretch)
    most = solve(leans, MOST_LEAN, least, found.hip_ease, tolerance=SOLVE)
    raise ChoiceError(
        f"{found.hip_ease:+g} cm of room at the hip make the sides of so short a tee stand out like a cape.",
        where=f"pattern '{NAME}', choice 'hip_ease'",
        mend=f"At this length up to {at_most(most)} cm is possible; longer, it may be wider.",
    )


def _lean(side: Curve) -> float:
    """How far the side stands out where it ends, cm a cm."""
    return side.end_tangent.x / -side.end_tangent.y


def _turn(hem: Curve) -> float:
    """How deep the hem is turned: as usual, less as it bends. [cm]"""
    usual = hem_depth(KNIT_HEM, None, hem)
    narrow = narrow_turn(hem) if usual <= LEAST else None
    return usual if narrow is None else min(usual, narrow)


def _grain(found: Frame, fold: Curve) -> tuple[Point, Point]:
    x, free = GRAIN_FROM_FOLD * found.widths.waist, GRAIN_FREE * fold.length()
    return Point(x, fold.end.y + free), Point(x, fold.start.y - free)


def _marks(found: Frame, side: Curve) -> tuple[Mark, ...]:
    """Level lines from the fold to the side, and where the body is lengthened."""
    fold = line(Point(0.0, found.bust_y), Point(0.0, -found.depth))
    levels = [("bust", found.bust_y)]
    if found.covers_waist:
        levels.append(("waist", 0.0))
    if found.covers_hip:
        levels.append(("hip", -found.hip_depth))
    middle = (found.bust_y + max(-found.hip_depth, -found.depth)) / 2
    adjust = max(middle - NOTCH_FREE, _hem(found, side).bounds()[3] + ABOVE_HEM)  # a high hem bows up
    return (
        Mark("bust", "level", line(fold.start, side.start)),
        *(level.across(name, "level", fold, side, y) for name, y in levels[1:]),
        level.across("adjust_length", "adjust", fold, side, adjust),
    )


def _sleeve_edge(found: Frame) -> float:
    """Round the sleeve where it ends. [cm]"""
    return found.front.end.length() + found.back.end.length()


def _sleeve_bands(found: Frame) -> tuple[tuple[Piece, ...], tuple[Seam, ...]]:
    if not found.end.band:
        return (), ()
    title = "Cuff" if found.sleeve == "long" else "Sleeve band"
    length = found.end.share * _sleeve_edge(found)
    piece = rib.band("sleeve_band", title, length, found.end.band, found.finish.layer, copies=2)
    ends = rib.closing("sleeve_band", f"Ends of the {title.lower()}s", times=2)
    sewn = rib.sewn_on("sleeve_band", "sleeve_bands", f"{title}s", sleeve_runs(), found.end.share, times=2)
    return (piece,), (ends, sewn)


# ---- the garment ---------------------------------------------------------------------------------


def _hems(found: Frame, turn: float) -> tuple[FreeEdge, ...]:
    hem = FreeEdge("hem", "Hem", hem_runs(), "hem", turn=turn)
    if found.end.band:
        return (hem,)
    return (FreeEdge("sleeve_hem", "Sleeve hems", sleeve_runs(), "hem", turn=found.end.turn, times=2), hem)


def _both(name: str) -> tuple[tuple[str, str, int], ...]:
    return ((FRONT, name, 2), (BACK, name, 2))


def _levels(body: Body, found: Frame) -> tuple[Level, ...]:
    bust = Level("bust", "Bust", _both("bust"), body["bust_girth"], found.bust_ease)
    if not found.covers_hip:
        return (bust,)
    return (bust, Level("hip", "Hip", _both("hip"), body["hip_girth"], found.hip_ease))


def _passages(body: Body, found: Frame) -> tuple[Passage, ...]:
    """The waist goes over the bust; a long sleeve's end lets the hand through."""
    ways = []
    if found.covers_waist:
        around, stretch = max(body["bust_girth"], body["waist_girth"]), PASSES_OF_STRETCH * found.stretch
        ways.append(Passage("over_bust", "Waist over the bust", _both("waist"), around, 0.0, stretch))
    if found.sleeve == "long":
        gives = ARM_PASSES_OF_STRETCH * found.stretch
        runs = ((FRONT, "sleeve_end", 1), (BACK, "sleeve_end", 1))
        ways.append(Passage("hand", "Sleeve end over the hand", runs, hand(body), 0.0, gives))
        if found.end.band:
            gives = BAND_PASSES_OF_STRETCH * found.finish.stretch
            cuff = (("sleeve_band", "outer", 1),)
            ways.append(Passage("hand_cuff", "Cuff over the hand", cuff, hand(body), 0.0, gives))
    return tuple(ways)


def _cup_notes(body: Body) -> tuple[Note, ...]:
    cup = cup_of(body)
    if cup < FULL_CUP:
        return ()
    text = (
        f"The bust is {cup:.0f} cm fuller than the high bust and the tee has no dart: the cloth stretches over "
        "it and the front hem rises a little."
    )
    return (Note(text),)


def _finished(found: Frame, side: Curve, done: neck_finish.Finished) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    shoulder_to_hem = found.cut.over.end.y + found.depth
    sleeve = found.cut.over.length()
    return {
        "neck, seam": found.necks.opening,
        **dict(done.measures),
        "neck point to hem": shoulder_to_hem,
        "neck point to sleeve end": sleeve + found.end.band,
        "sleeve end": _sleeve_edge(found) * (found.end.share if found.end.band else 1.0),
        "hem": 4 * _hem(found, side).length(),
    }


def _with_notches(garment: Garment, found: Frame, side: Curve) -> Garment:
    """Match marks: one at the waist of the side, two under the arm, one at the shoulder."""
    up = side.length() / 2 if not found.covers_waist else side.length() - level.distance_to(side, 0.0)
    free = min(NOTCH_FREE, side.length() / 2)
    up = min(max(up, free), side.length() - free)
    garment = notched(garment, "side_seam", up, "side")
    if found.sleeve != "cap":
        under = side.length() + garment.piece(FRONT).edge("underarm").curve.length() / 2
        garment = notched(garment, "side_seam", under, "underarm", 2, 2)
    return notched(garment, "shoulder_seam", found.cut.over.length() / 2, "shoulder")


CUT_ON_SLEEVE_TEE = HouseDraft(
    name=NAME,
    title="Tee with cut-on sleeves",
    what="Front, back and neckband of a knit, sleeves in one with the body: a tee, tunic or dress to pull on.",
    choices=CHOICES,
    needs=(*top_length.PULLOVER_MEASURES, "high_bust_girth"),
    least_age=2.0,
    draw=draw,
    makes=("knit",),
    lightest=120.0,
    heaviest=320.0,
    shortened_by="longer",
    length_shown="neck point to hem",
    instead=posture.KNIT,
)
