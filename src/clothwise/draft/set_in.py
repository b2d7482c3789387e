"""An armhole and a sleeve cap that agree: where the arm asks too flat a cap the armhole is lowered, where too
high a one the sleeve is widened; both are told with their centimetres.

Source: house rule, 2026-11; rules of the trade I1 (upper arm) and I3 (cap ease, cap height).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import NoSolution, solve
from clothwise.draft.bodice import Frame
from clothwise.draft.cap import Armhole, Cap, cap_for, cap_of_height
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.possible import at_most
from clothwise.errors import ChoiceError, DraftError
from clothwise.garment import Note

CAP_EASE, CHILD_CAP_EASE = 0.03, 0.02  # of the armhole (rule 1.3-1.9 on a blouse)
MOST_LOWERED = 6.0  # cm: an armhole lowered further for the arm would lift the whole garment with it
LOWERED_CLOSE = 0.01  # cm: how closely the lowering is found
WIDER_TOLD = 1.0  # cm: a sleeve that much wider than asked is told

Made = Callable[[float], tuple[Frame, Armhole]]


@dataclass(frozen=True, slots=True)
class Caps:
    """What a family allows: cap height over the armhole's depth; usual cap ease as a share of the armhole."""

    low: float
    high: float
    ease: float
    child_ease: float


def cap_ease_choice(words: str, most: float = 4.0) -> Choice:
    """The choice of the cap's ease; `words` say what it is when left open."""
    return Choice(
        "cap_ease",
        f"What the sleeve cap is longer than the armhole; left open {words}.",
        unit="cm",
        low=0.0,
        high=most,
        changes="sleeve cap",
    )


def fitted(
    body: Body, wish: Wish, room: float, caps: Caps, made: Made, pattern: str
) -> tuple[Frame, Cap, tuple[Note, ...]]:
    """Frame and cap for so much room at the upper arm. [cm]

    made    the frame and its armhole when the underarm lies so many cm lower than usual
    Raises  ChoiceError naming arm_ease and what is possible
    """
    arm = body["upper_arm_girth"]

    def tried(lower: float) -> tuple[Frame, Armhole, float]:
        frame, armhole = made(lower)
        share = caps.child_ease if body.child else caps.ease
        return frame, armhole, float(wish.get("cap_ease", share * armhole.length))

    def widest(lower: float) -> float:
        _, armhole, ease = tried(lower)
        return cap_of_height(armhole, caps.low * armhole.depth, ease).width

    frame, armhole, ease = tried(0.0)
    cap = _solved(armhole, arm + room, ease)
    if cap is None or cap.height < caps.low * armhole.depth:
        lower = _lowered(arm, room, widest, pattern)
        frame, armhole, ease = tried(lower)
        cap = cap_of_height(armhole, caps.low * armhole.depth, ease)
        text = (
            f"The armhole is {lower:.1f} cm lower than usual, so that the sleeve gives the upper arm "
            f"{cap.width - arm:.1f} cm of room; with less room the arm lifts more freely."
        )
        return frame, cap, (Note(text, "armhole_depth", lower),) if lower > LOWERED_CLOSE else ()
    if cap.height <= caps.high * armhole.depth:
        return frame, cap, ()
    cap = cap_of_height(armhole, caps.high * armhole.depth, ease)
    return frame, cap, _wider_notes(wish, cap.width - arm - room)


def _solved(armhole: Armhole, width: float, ease: float) -> Cap | None:
    """The cap of that width; None where the sleeve is wider than the armhole is long."""
    try:
        return cap_for(armhole, width, ease)
    except DraftError:
        return None


def _lowered(arm: float, room: float, widest: Callable[[float], float], pattern: str) -> float:
    """How much lower the underarm must lie for that room under the flattest good cap. [cm]"""
    try:
        return solve(widest, arm + room, 0.0, MOST_LOWERED, tolerance=LOWERED_CLOSE)
    except NoSolution as no:
        most = no.high - arm
        raise ChoiceError(
            f"No armhole holds a sleeve with {room:.1f} cm of room for the arm.",
            where=f"pattern '{pattern}', choice 'arm_ease'",
            mend=f"For this body up to {at_most(most)} cm is possible; a looser fit allows more.",
        ) from None


def _wider_notes(wish: Wish, wider: float) -> tuple[Note, ...]:
    """Room for the arm is a least: that there is more of it is told where it was asked for by itself."""
    if "arm_ease" not in wish or wider < WIDER_TOLD:
        return ()
    text = (
        f"The sleeve is {wider:.1f} cm wider than asked: on so slim an arm a narrower one would need a cap too "
        "high to lift the arm in. A closer fit brings it nearer."
    )
    return (Note(text, "arm_ease", wider),)
