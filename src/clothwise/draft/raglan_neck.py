"""The neck of a raglan pullover: bound, gathered into a binding, or drawn in by elastic; how wide it is cut.

Lengths in cm. Source: rules of the trade D (head test, bindings, elastic, gathers); house rule, 2026-11. Of a
child the neck is drawn in by elastic, never by a cord, or the back buttons.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.body import Body
from clothwise.draft import binding, rib, waist
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.possible import at_least, between
from clothwise.errors import ChoiceError, MeasureError, WorkroomError
from clothwise.garment import FreeEdge, Notion, Passage, Piece, Run, Seam

NAME = "raglan_pullover"
BOUND, GATHERED, ELASTIC = "bound", "gathered and bound", "elastic"
PLAIN, BUTTONS = "closed", "buttons"
OVER_HEAD = 2.0  # cm: the opening is at least the head and this (rule 2-3)
CLOSE_NECK = 6.0  # cm more than the base of the neck: a finished neck that lies close, with buttons
ELASTIC_NECK = 1.2  # of the base of the neck: the neck drawn in by elastic, relaxed
FULLNESS = 1.1  # of the girth that passes the head, of grown people: gathers that show
GATHERED_FULLNESS = 1.35  # length of the neck edge over its binding
ELASTIC_WIDTH = 1.0  # cm: soft round the neck
BINDING, CASING = "neck_binding", "neck_strip"

NECK_CHOICE = Choice(
    "neck",
    "Neck edge: bound round, gathered into a binding (buttons at the back), or drawn in by elastic; if left "
    "open bound, for a child elastic.",
    options=(BOUND, GATHERED, ELASTIC),
    changes="neck, binding or casing strip",
)
GIRTH_CHOICE = Choice(
    "neck_girth",
    "Finished neck, relaxed; if left open as wide as the head needs, or close with buttons.",
    unit="cm",
    low=25.0,
    high=90.0,
    changes="neck of all pieces",
)
BACK_CHOICE = Choice(
    "back",
    "Whether the back is closed or buttons all the way down.",
    options=(PLAIN, BUTTONS),
    default=PLAIN,
    changes="centre back, neck",
)


@dataclass(frozen=True, slots=True)
class Neck:
    """finish; girth of the edge as cut and of the finished neck, relaxed; length of the strip; width of the
    binding; whether the back buttons. [cm]"""

    finish: str
    edge: float
    finished: float
    strip: float
    binding: float
    buttons: bool

    @property
    def allowance(self) -> float:
        return binding.SEAM if self.finish == ELASTIC else self.binding


def binding_width(body: Body) -> float:
    """Finished width of a binding, where the neck is not too small for it. [cm]"""
    return binding.CHILD_WIDTH if body.child else binding.WIDTH


def neck_of(body: Body, wish: Wish, wide: float) -> Neck:
    """The neck; a binding is so wide. Raises ChoiceError where the head would not pass, or a choice goes with
    no other. [cm]"""
    buttons = wish["back"] == BUTTONS
    usual = ELASTIC if body.child and not buttons else BOUND
    finish = str(wish.get("neck", usual))
    _refuse_neck(body, finish, buttons=buttons)
    passes = body["head_girth"] + OVER_HEAD
    if finish == ELASTIC:
        finished = float(wish.get("neck_girth", ELASTIC_NECK * body["neck_base_girth"]))
        edge = max(passes * (1.0 if body.child else FULLNESS), finished)
        return Neck(finish, edge, finished, edge, 0.0, buttons)
    close = body["neck_base_girth"] + CLOSE_NECK
    finished = float(wish.get("neck_girth", close if buttons else max(passes, close)))
    if not buttons and finished < passes:
        raise ChoiceError(
            f"A finished neck of {finished:.1f} cm does not pass the head.",
            where=f"pattern '{NAME}', choice 'neck_girth'",
            mend=f"{at_least(passes)} cm or more is possible, or choose elastic, or buttons at the back.",
        )
    strip = finished + binding.drawn_in(wide)
    fullness = GATHERED_FULLNESS if finish == GATHERED else 1.0
    return Neck(finish, fullness * strip, finished, strip, wide, buttons)


def impossible(body: Body, wish: Wish, neck: Neck, least: float, most: float) -> WorkroomError:
    """The refusal when only edges from `least` to `most` lie between this neck and these shoulders. [cm]"""
    what = f"A neck of {neck.finished:.1f} cm does not lie between the wearer's neck and shoulder points."
    passes = 0.0 if neck.buttons or neck.finish == ELASTIC else body["head_girth"] + OVER_HEAD
    low, high = max(_finished(neck, least), GIRTH_CHOICE.low, passes), _finished(neck, most)
    high = min(high, GIRTH_CHOICE.high)
    possible = f"From {between(low, high)} is possible"
    if "neck_girth" in wish:
        mend = f"For this body: {possible[0].lower()}{possible[1:]}."
        return ChoiceError(what, where=f"pattern '{NAME}', choice 'neck_girth'", mend=mend)
    where = f"body '{body.name}': neck base girth, head girth, shoulder length"
    return MeasureError(
        what, where=where, mend=f"{possible}: measure them again, or choose buttons at the back."
    )


def _finished(neck: Neck, edge: float) -> float:
    """The finished neck of an edge of that girth. [cm]"""
    return edge * neck.strip / neck.edge - binding.drawn_in(neck.binding)


def _refuse_neck(body: Body, finish: str, *, buttons: bool) -> None:
    if finish == ELASTIC and buttons:
        what = "A neck drawn in by elastic passes the head and wants no buttons."
        mend = "Choose a closed back, or a bound neck."
    elif finish == GATHERED and not buttons:
        what = "A gathered neck bound so wide that the head passes slips off the shoulders."
        mend = "Choose buttons at the back, or a neck drawn in by elastic."
    elif body.child and finish == BOUND and not buttons:
        what = "A child's head is large for its shoulders: a bound neck that passes it slips off them."
        mend = "Choose elastic, or buttons at the back."
    else:
        return
    raise ChoiceError(what, where=f"pattern '{NAME}', choice 'neck'", mend=mend)


# ---- strip, seam, finish ---------------------------------------------------------------------------


def strip(neck: Neck, lap: float) -> Piece:
    """The strip that finishes the neck; `lap` reaches over the button stand at either end. [cm]"""
    if neck.finish == ELASTIC:
        return binding.casing(CASING, "Neck casing", neck.strip, ELASTIC_WIDTH)
    return binding.binding(BINDING, "Neck binding", neck.strip + 2 * lap, neck.binding)


def seams(neck: Neck, edge: tuple[Run, ...], lap: float) -> tuple[Seam, ...]:
    """The strip joined to a ring, unless the back opens, and sewn to the neck edge."""
    if neck.finish == ELASTIC:
        on = Seam("neck", "Neck casing", (Run(CASING, "outer"),), edge, "plain", pressed="to a")
        return rib.closing(CASING, "Ends of the neck casing"), on
    gathered = (neck.edge + 2 * lap) / (neck.strip + 2 * lap) if neck.finish == GATHERED else 1.0
    on = binding.bound("neck", BINDING, "Neck binding", edge, gathered)
    return (on,) if neck.buttons else (rib.closing(BINDING, "Ends of the neck binding"), on)


def free_edges(neck: Neck) -> tuple[FreeEdge, ...]:
    """The strip folded over and sewn down."""
    if neck.finish == ELASTIC:
        turn, edge = waist.casing_turn(ELASTIC_WIDTH), (Run(CASING, "top"),)
        title = "Casing at the neck"
        return (FreeEdge("neck_casing", title, edge, "casing", turn, waist.TURN_IN, elastic=ELASTIC_WIDTH),)
    return binding.sewn_down(BINDING, "Neck binding inside", neck.binding, closed=not neck.buttons)


def passages(body: Body, neck: Neck, edge: tuple[Run, ...]) -> tuple[Passage, ...]:
    """The head through the neck, unless the back opens."""
    if neck.buttons:
        return ()
    runs = tuple(dict.fromkeys((run.piece, run.line, 2) for run in edge))
    if neck.finish == ELASTIC:
        runs = ((CASING, "top", 1),)
    needs = OVER_HEAD + binding.drawn_in(neck.binding)
    return (Passage("over_head", "Neck over the head", runs, body["head_girth"], needs),)


def notions(neck: Neck) -> tuple[Notion, ...]:
    """Elastic of the neck, its ends lapped."""
    if neck.finish != ELASTIC:
        return ()
    title = f"Elastic {ELASTIC_WIDTH:g} cm wide"
    return (Notion("elastic", title, "neck_casing", neck.finished + waist.LAP, ELASTIC_WIDTH),)
