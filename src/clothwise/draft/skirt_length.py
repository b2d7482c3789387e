"""How long a skirt is, and whether it lets her step: a slit, or more flare, where the hem would hold the leg.

Lengths in cm, from the natural waist down. Source: house rule, 2026-11, proved on the bodies of
`benchmarks.drafts`; walking room is a rule of the trade.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.draft import level
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.possible import at_least, possible
from clothwise.errors import ChoiceError
from clothwise.garment import Note
from clothwise.tolerance import SOLVE

LEAST_BELOW_HIP = 8.0  # cm: shorter, it no longer covers the seat when she bends
LEAST_TO_KNEE = 0.42  # or this share of the way from hip to knee: a small child is soon at the knee
LEAST_CLEAR = 3.0  # cm from the floor at least: it must not be trodden on
LONGER = 20.0  # cm: the most that the choice adds
STRIDE_OF_HEIGHT = 0.75  # hem girth over body height that lets her take a full step (rule of the trade)
STRIDE_FROM = 0.9  # of waist to knee: a skirt that ends higher than this does not hold the step
SLIT_ABOVE_KNEE = 0.28  # of waist to knee: the slit ends two hands above the knee, below the seat
WIDER_TOLD = 1.0  # cm in the round
SLIT_LEAST = 12.0  # cm: a shorter slit frees no step

LENGTHS = {"mini": level.mini, "knee": level.knee, "midi": level.mid_calf, "maxi": level.maxi}
NEEDS = (
    "height",
    "hip_girth",
    "waist_girth",
    "waist_to_hip",
    "waist_to_knee",
    "waist_to_ankle",
    "body_rise",
    "inside_leg",
)
SLIT, MORE_FLARE = "slit", "more flare"

LENGTH_CHOICE = Choice(
    "length", "Where the skirt ends.", options=tuple(LENGTHS), default="knee", changes="hem", main=True
)
LONGER_CHOICE = level.longer_choice(LONGER)


AT_THE_SIDES = " They free the step in place of one at the centre back."


def walking_room_choice(usual: str = "a slit, for a child more flare") -> Choice:
    """The choice of what frees the step; `usual` says in words what it is when left open."""
    return Choice(
        "walking_room",
        f"What frees the step where the hem would hold it; if left open {usual}.",
        options=(SLIT, MORE_FLARE),
        changes="slit at the centre back, or the hem's width",
    )


def skirt_length(pattern: str, body: Body, wish: Wish) -> float:
    """From the waist down to the hem. ChoiceError when it drags or leaves no skirt. [cm]"""
    depth, longer = LENGTHS[str(wish["length"])](body), float(wish["longer"])
    hip, knee = body["waist_to_hip"], body["waist_to_knee"]
    shortest = hip + min(LEAST_BELOW_HIP, LEAST_TO_KNEE * (knee - hip)) - depth
    longest = body["body_rise"] + body["inside_leg"] - LEAST_CLEAR - depth
    if not shortest <= longer <= longest:
        raise ChoiceError(
            f"{longer:+.1f} cm on a {wish['length']} skirt would "
            f"{'drag on the floor' if longer > longest else 'no longer cover the seat'}.",
            where=f"pattern '{pattern}', choice 'longer'",
            mend=possible(longer, shortest, longest),
        )
    return depth + longer


def stride(body: Body, length: float) -> float:
    """The least hem girth in which she takes a full step; 0 where the hem ends above the knee. [cm]"""
    return STRIDE_OF_HEIGHT * body["height"] if length >= STRIDE_FROM * body["waist_to_knee"] else 0.0


def wants_flare(body: Body, wish: Wish, usual: str = SLIT) -> bool:
    """Whether a hem that holds the step is made wider instead of slit; for a child it is, unless asked."""
    return wish.get("walking_room", MORE_FLARE if body.child else usual) == MORE_FLARE


def slit_behind(body: Body, wish: Wish, length: float, hem_girth: float) -> tuple[float, tuple[Note, ...]]:
    """Length of the slit at the centre back that frees the step, and what is said of it; 0 where none is
    needed, it would be too short to help, or slits at the sides are asked in its place. [cm]"""
    slit = length - (1 - SLIT_ABOVE_KNEE) * body["waist_to_knee"]
    if hem_girth >= stride(body, length) - SOLVE or slit < SLIT_LEAST:
        return 0.0, ()
    if "side_slit" not in wish:
        round_it = f"The hem is {hem_girth:.0f} cm round"
        return slit, (Note(f"{round_it}: a slit of {slit:.0f} cm at the centre back frees the step."),)
    sides = float(wish["side_slit"])
    if sides >= slit:
        return 0.0, ()
    return 0.0, (Note(f"Side slits of {sides:g} cm leave the step held: {at_least(slit)} cm would free it."),)


def wider_notes(more: float) -> tuple[Note, ...]:
    """That the hem is wider than asked, from a centimetre on. [cm]"""
    if more < WIDER_TOLD:
        return ()
    text = f"So that the hem leaves room to step it is {more:.0f} cm wider than asked."
    return (Note(text, measure="hem", by=more),)
