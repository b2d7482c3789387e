"""Set-in sleeves: a sleeve of any length under a solved cap, and a flutter frill that needs no cap.

Drawn for the wearer's left arm, right side up: front on the left, y up, the underarm on y = 0 (of a frill: the
crown below), cm. Every sleeve has the same edges, so the same seams: front_seam, hem, back_seam, back_cap,
front_cap.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; rules of the trade I1 (upper arm
ease), I3 (cap ease), G (sleeve hem 2-3; a flared hem 1.3 at most).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import DOWN, Cubic, Curve, Point, heading, line, sweep
from clothwise.draft import hem
from clothwise.draft.cap import Armhole, Cap
from clothwise.draft.narrow_hem import EASED_AWAY
from clothwise.draft.pattern import Choice
from clothwise.draft.possible import possible
from clothwise.errors import ChoiceError
from clothwise.garment import Corner, Edge, Joint, Mark, Passage, Piece, Run, Seam

PIECE = "sleeve"
SEAM, CAP_SEAM = 1.5, 1.0  # cm allowance
HEM = 2.5  # cm (rule 2-3)
FRILL_HEM = 1.0  # cm: a flared hem (rule 1.3 at most)
ELBOW_OF_ARM = 0.56  # of the arm: shoulder point to elbow
SHORT_OF_ELBOW = 0.74
LEAST_UNDER = 4.0  # cm of underarm seam at least; a shorter one cannot be hemmed
LEAST_UNDER_OF_ARM = 0.07  # or this share of a small child's arm
THREE_QUARTER = 0.5  # of the way from elbow to wrist
BELOW_WRIST = 1.0  # cm: a long sleeve covers the wrist bone when the arm bends
HAND_OF_WRIST = (
    1.38  # the folded hand over the wrist (survey means: hand 1.22 of wrist, and the thumb tucked in)
)
OVER_HAND = 1.5  # cm: a long sleeve's hem over the folded hand
HAND_NEEDS = 0.5  # cm
ELBOW_EASE = 3.0  # cm: the elbow bends
CROWN_MARK = 1.5  # cm
GRAIN_FREE = 0.12
GRAIN_ABOVE_HEM = 0.5  # cm: a wide short sleeve's hem bows up between its seams

LENGTH_WORDS = ("short", "three-quarter", "long")


def longer_choice() -> Choice:
    """The choice that lengthens (+) or shortens (-) the sleeve. [cm]"""
    return Choice(
        "sleeve_longer",
        "Sleeve longer (+) or shorter (-) than its word says.",
        unit="cm",
        low=-10.0,
        high=10.0,
        default=0.0,
        changes="sleeve hem",
    )


def length_from_shoulder(body: Body, word: str, cap_height: float, longer: float) -> float:
    """From the shoulder seam down the middle to the hem. [cm]"""
    arm = body["arm_length"]
    elbow = ELBOW_OF_ARM * arm
    usual = {
        "short": SHORT_OF_ELBOW * elbow,
        "three-quarter": elbow + THREE_QUARTER * (arm - elbow),
        "long": arm + BELOW_WRIST,
    }[word]
    shortest = cap_height + least_under(body)
    usual = max(usual, shortest)
    if usual + longer < shortest:
        raise too_short(longer, shortest - usual)
    return usual + longer


def too_short(longer: float, least: float) -> ChoiceError:
    """The refusal of a sleeve that would end inside its own armhole. [cm]"""
    return ChoiceError(
        f"A sleeve {longer:+g} cm shorter would end where it is sewn in.",
        where="choice 'sleeve_longer'",
        mend=possible(longer, least),
    )


def least_under(body: Body) -> float:
    return min(LEAST_UNDER, LEAST_UNDER_OF_ARM * body["arm_length"])


def hem_girth(body: Body, cap: Cap, length: float) -> float:
    """Round the hem: on the way from the upper arm to a hem that lets the hand through, never tight at the
    elbow.
    [cm]"""
    arm = body["arm_length"]
    share = min((length - cap.height) / (arm - cap.height), 1.0)
    at_elbow = (ELBOW_OF_ARM * arm - cap.height) / (arm - cap.height)
    wrist = HAND_OF_WRIST * body["wrist_girth"] + OVER_HAND
    for_elbow = cap.width - (cap.width - body["elbow_girth"] - ELBOW_EASE) / at_elbow
    return cap.width + share * (min(max(wrist, for_elbow), cap.width) - cap.width)


def piece(cap: Cap, length: float, girth: float, turn: float = HEM, *, cuffed: bool = False) -> Piece:
    """The sleeve under its cap. `length` from the crown to the hem, `girth` round the hem, `turn` of the hem.
    [cm]
    """
    left, right = Point(-cap.front_width, 0.0), Point(cap.back_width, 0.0)
    middle = (left.x + right.x) / 2
    low = cap.height - length - _bow(girth, (cap.width - girth) / 2, length - cap.height)
    front_seam = _under_seam(left, Point(middle - girth / 2, low))
    back_seam = _under_seam(right, Point(middle + girth / 2, low))
    hem_line = hem.hem_line(front_seam, back_seam)
    edges = (
        Edge("front_seam", front_seam, "seam", SEAM),
        Edge("wrist", hem_line, "seam", CAP_SEAM)
        if cuffed
        else Edge("hem", hem_line, "hem", hem.hem_depth(turn, None, hem_line)),
        Edge("back_seam", back_seam.reversed(), "seam", SEAM),
        Edge("back_cap", cap.back_curve().reversed(), "seam", CAP_SEAM),
        Edge("front_cap", cap.front_curve().reversed(), "seam", CAP_SEAM),
    )
    top = cap.height * (1 - GRAIN_FREE) - CROWN_MARK
    foot = max(low + (cap.height - low) * GRAIN_FREE, cap.height - length + GRAIN_ABOVE_HEM)
    return Piece(
        PIECE,
        "Sleeve",
        edges,
        (Point(middle, foot), Point(middle, top)),
        marks=(
            Mark("upper_arm", "level", line(left, right)),
            Mark("shoulder_point", "note", line(Point(0.0, cap.height), Point(0.0, cap.height - CROWN_MARK))),
        ),
    )


def _bow(girth: float, narrower: float, middle: float) -> float:
    """How far the ends of a hem that is square to both seams lie below its middle. [cm]

    The seams lean t = narrower / (middle + bow), and a hem bows by girth x t / 4.
    """
    lean = 2 * narrower / (middle + math.sqrt(max(middle * middle + girth * narrower, 0.0)))
    return girth * lean / 4


def _under_seam(top: Point, low: Point) -> Curve:
    """Leaves the cap square, runs straight out at the hem."""
    return sweep(top, DOWN, low, top.to(low).unit())


# ---- a flutter frill ---------------------------------------------------------------------------------------

FRILL_ROUND = (
    3.6  # radians: how far round a circle the frill goes: falls in soft folds, still lies on a shoulder
)
FRILL_OF_ARM = 0.20  # of the arm: width at the shoulder
FRILL_UNDER = 0.30  # of that: width under the arm, where it must not bunch
FRILL_LEAST_UNDER = 2.5  # cm
FRILL_BENDS = 1.6  # under 2, and the hem of a wide frill swells without a wave
FRILL_ARCS = 6  # cubics along its hem on each half


@dataclass(frozen=True, slots=True)
class Frill:
    """Radius of the edge that is sewn; how far round front and back go [radians]; widths [cm]."""

    radius: float
    front: float
    back: float
    width: float
    under: float


def frill_for(body: Body, armhole: Armhole, longer: float) -> Frill:
    """A frill whose inner edge is exactly as long as the armhole."""
    front, back = armhole.front.length(), armhole.back.length()
    radius = (front + back) / FRILL_ROUND
    usual = FRILL_OF_ARM * body["arm_length"]
    width = usual + longer
    if width < FRILL_LEAST_UNDER:
        raise too_short(longer, FRILL_LEAST_UNDER - usual)
    bends = FRILL_BENDS / (math.pi / (FRILL_ROUND / 2)) ** 2
    under = max(FRILL_UNDER * width, FRILL_LEAST_UNDER, (width - bends * radius) / (1 + bends))
    return Frill(radius, front / radius, back / radius, width, under)


def frill_piece(frill: Frill) -> Piece:
    """The frill, its crown at the bottom, open at the top."""
    front_end, back_end = -math.pi / 2 - frill.front, -math.pi / 2 + frill.back
    inner = [_at(frill.radius, angle) for angle in (front_end, back_end)]
    outer = [_at(frill.radius + frill.under, angle) for angle in (front_end, back_end)]
    front_cap = _arc(frill.radius, -math.pi / 2, front_end)
    hem_line = _frill_hem(frill)
    edges = (
        Edge("front_seam", line(inner[0], outer[0]), "seam", SEAM),
        Edge("hem", hem_line, "hem", min(FRILL_HEM, EASED_AWAY / hem.sharpest(hem_line))),
        Edge("back_seam", line(outer[1], inner[1]), "seam", SEAM),
        Edge("back_cap", _arc(frill.radius, back_end, -math.pi / 2), "seam", CAP_SEAM),
        Edge("front_cap", front_cap, "seam", CAP_SEAM),
    )
    crown = Point(0.0, -frill.radius)
    low, high = crown.down((1 - GRAIN_FREE) * frill.width), crown.down(GRAIN_FREE * frill.width)
    mark = Mark("shoulder_point", "note", line(crown, crown.down(CROWN_MARK)))
    return Piece(PIECE, "Flutter sleeve", edges, (low, high), marks=(mark,))


def _frill_hem(frill: Frill) -> Curve:
    """From the front end round the crown to the back end, swelling evenly from the narrow to the full width."""
    strokes: list[Cubic] = []
    for reach, start in ((frill.front, -math.pi / 2 - frill.front), (frill.back, -math.pi / 2)):
        step = reach / FRILL_ARCS
        for i in range(FRILL_ARCS):
            ends = (start + i * step, start + (i + 1) * step)
            strokes.append(_polar(frill, ends, reach))
    return Curve(tuple(strokes))


def _polar(frill: Frill, ends: tuple[float, float], reach: float) -> Cubic:
    """One cubic of the hem, by its ends and their slopes (Hermite)."""

    def place(angle: float) -> tuple[Point, Point]:
        turn = math.pi * (angle + math.pi / 2) / reach
        swell = (frill.width - frill.under) / 2
        radius = frill.radius + frill.under + swell * (1 + math.cos(turn))
        grows = -swell * math.sin(turn) * math.pi / reach
        c, s = math.cos(angle), math.sin(angle)
        return Point(radius * c, radius * s), Point(grows * c - radius * s, grows * s + radius * c)

    (p, slope_p), (q, slope_q) = place(ends[0]), place(ends[1])
    third = (ends[1] - ends[0]) / 3
    return Cubic(
        p,
        Point(p.x + slope_p.x * third, p.y + slope_p.y * third),
        Point(q.x - slope_q.x * third, q.y - slope_q.y * third),
        q,
    )


def _at(radius: float, angle: float) -> Point:
    return Point(radius * math.cos(angle), radius * math.sin(angle))


def _arc(radius: float, start: float, end: float) -> Curve:
    """An arc about (0, 0) in cubics of at most a quarter circle: within 0.03 % of the circle."""
    n = math.ceil(abs(end - start) / (math.pi / 4))
    step = (end - start) / n
    handle = 4 / 3 * math.tan(step / 4) * radius
    strokes = []
    for i in range(n):
        a, b = start + i * step, start + (i + 1) * step
        p, q = _at(radius, a), _at(radius, b)
        strokes.append(
            Cubic(
                p, p.go(heading(math.degrees(a) + 90), handle), q.go(heading(math.degrees(b) + 90), -handle), q
            )
        )
    return Curve(tuple(strokes))


# ---- how it joins ------------------------------------------------------------------------------------------

CAP_RUNS = (Run(PIECE, "front_cap", backwards=True), Run(PIECE, "back_cap", backwards=True))
UNDERARM = Seam(
    "underarm",
    "Sleeve underarm seams",
    (Run(PIECE, "front_seam"),),
    (Run(PIECE, "back_seam", backwards=True),),
    times=2,
)


def joints(end: str = "hem", back_end: str = "") -> tuple[Joint, ...]:
    """Corners of the sleeve that come together; `end` is its lower edge, `back_end` that beyond a slit."""
    return (
        Joint(
            "cap under the arm",
            (Corner(PIECE, "front_cap", "front_seam"), Corner(PIECE, "back_seam", "back_cap")),
        ),
        Joint("sleeve end", (Corner(PIECE, "front_seam", end), Corner(PIECE, back_end or end, "back_seam"))),
    )


def set_in(armhole: tuple[Run, ...], ease: float) -> Seam:
    """The sleeve sewn into the armhole, from the front underarm over the shoulder to the back underarm."""
    if ease == 0:
        return Seam("sleeve", "Armhole seams", CAP_RUNS, armhole, times=2)
    return Seam("sleeve", "Armhole seams", CAP_RUNS, armhole, "eased", ease=ease, times=2)


def over_hand(body: Body) -> Passage:
    """The hem lets the folded hand through."""
    passes = HAND_OF_WRIST * body["wrist_girth"]
    return Passage("over_hand", "Sleeve hem over the hand", ((PIECE, "hem", 1),), passes, HAND_NEEDS)
