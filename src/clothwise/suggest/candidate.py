"""One make that might be had: a draft with its choices, on one cloth; looked at no closer than its rank asks.

Three looks, each dearer than the one before: the cloth's weight alone; drawn, and timed as on a plain cloth;
laid. The first bounds the score from above, the second fixes it, the third only says whether it goes onto the
cloth. So what ranks low is never drawn or laid, and nothing that could have ranked high is missed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.draft import HouseDraft
from clothwise.errors import WorkroomError
from clothwise.garment import Garment
from clothwise.garment.check import check
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayPiece, LayProblem
from clothwise.paper.sheets import sheet, sheets_roughly
from clothwise.sew import Minutes, Sewer, Step, minutes, order_of_work
from clothwise.sew.manners import manners
from clothwise.suggest.answer import Reason
from clothwise.suggest.weighing import (
    NOTES,
    TIME,
    USE,
    in_time,
    notes_of,
    suits,
    time_counts,
    use_counts,
    use_of,
)
from clothwise.ticket.made import lay_problem

Wish = Mapping[str, float | str]
Planner = Callable[[LayProblem, str], LayPlan]
# the shortest lay for a cloth's width, found with an effort of `lay`; LayError when a piece is too wide
FIRST_EFFORT, BETTER_EFFORT = "quick", "brisk"
PLAIN = Cloth("Plain cloth", 140.0, 300.0, kind="poplin")  # well-behaved: what all minutes are compared with
KNIT_GIVES = 0.3  # stretch of a plain knit


@dataclass(frozen=True, slots=True)
class Evening:
    """For whom, by whom, how long."""

    body: Body
    sewer: Sewer
    hours: float
    made_on: str = ""
    sheet: str = "A4"


@dataclass(slots=True)
class Make:
    """A draft with its choices settled. Drawn when first asked for, its cutting lines when first laid."""

    draft: HouseDraft
    wish: Wish
    body: Body
    _garment: Garment | None = None
    _pieces: tuple[LayPiece, ...] | None = None
    _plain: tuple[Step, ...] | None = None
    refusal: str = ""  # the draft's sentence, once it has refused
    _sound: bool | None = None

    @property
    def garment(self) -> Garment | None:
        """None when the draft refuses this body or these choices."""
        if self._garment is None and not self.refusal:
            try:
                self._garment = self.draft.make(self.body, self.wish)
            except WorkroomError as no:
                self.refusal = str(no)
        return self._garment

    @property
    def pieces(self) -> tuple[LayPiece, ...]:
        """With their cutting lines: worked out once, laid on many cloths. Of the shell alone."""
        if self._pieces is None:
            assert self.garment is not None
            self._pieces = lay_pieces(self.garment)
        return self._pieces

    @property
    def sound(self) -> bool:
        """Whether it passes every rule of the check; asked of what is handed out."""
        if self._sound is None:
            self._sound = self.garment is not None and not check(self.garment)
        return self._sound

    def least_area_cm2(self) -> float:
        """Of the shell, without allowances: no lay needs less."""
        assert self.garment is not None
        shell = (piece for piece in self.garment.pieces if piece.layer == "shell")
        return sum(p.area_cm2() * p.copies * (2 if p.cutting == "on fold" else 1) for p in shell)

    def steps(self, cloth: Cloth, sewer: Sewer) -> tuple[Step, ...]:
        """The order of work on a cloth."""
        assert self.garment is not None
        return order_of_work(self.garment, cloth, sewer)

    def plain_steps(self, sewer: Sewer) -> tuple[Step, ...]:
        """The order of work on a well-behaved cloth of its sort, worked out once: enough to rank by."""
        if self._plain is None:
            stretch = KNIT_GIVES if "woven" not in self.draft.makes else 0.0
            self._plain = self.steps(replace(PLAIN, make=self.draft.makes[0], stretch_across=stretch), sewer)
        return self._plain


@dataclass(slots=True)
class Candidate:
    """A make on a cloth. `score` is the most it can be, and exact once it is drawn."""

    make: Make
    cloth: Cloth
    score: float = 1.0
    look: int = 0  # 0 weighed, 1 drawn and timed, 2 laid
    time_counts: float = TIME
    use_counts: float = USE
    minutes: Minutes | None = None
    plan: LayPlan | None = None
    reasons: tuple[Reason, ...] = ()
    too_long: bool = False  # it does not go onto this cloth
    steps: tuple[Step, ...] = ()

    def __post_init__(self) -> None:
        self.score = min(1.0, NOTES + suits(self.make.draft, self.cloth).counts + TIME + USE)

    def look_closer(self, evening: Evening, planner: Planner) -> bool:
        """One look more. False when it falls out: refused by its draft, or not to be cut from this cloth."""
        self.look += 1
        return self.draw(evening) if self.look == 1 else self._lay(planner)

    def draw(self, evening: Evening) -> bool:
        """Drawn and timed: the score is exact from here on."""
        garment = self.make.garment
        if garment is None:
            return False
        area = self.make.least_area_cm2()
        if area > self.cloth.usable_width * self.cloth.usable_length:
            self.too_long = True
            return False
        likely, high = self._about(evening)
        self.time_counts = time_counts(likely, high, 60 * evening.hours)
        self.use_counts = use_counts(self.cloth, area)
        counts = suits(self.make.draft, self.cloth).counts + self.time_counts + self.use_counts
        self.score = min(self.score, max(0.0, NOTES + counts + sum(r.counts for r in notes_of(garment))))
        return True

    def _about(self, evening: Evening) -> tuple[float, float]:
        """Likely and slow minutes on this cloth: those of a plain one times what it adds. [minutes]"""
        garment = self.make.garment
        assert garment is not None
        steps = self.make.plain_steps(evening.sewer)
        sheets = sheets_roughly(
            (piece.polygon(tolerance=1.0) for piece in garment.pieces), sheet(evening.sheet)
        )
        found = minutes(garment, steps, PLAIN, evening.sewer, sheets=sheets, cuts=len(garment.pieces))
        factor = manners(self.cloth).factor
        return found.likely * factor, found.high * factor

    def _lay(self, planner: Planner) -> bool:
        self.plan = planned(self.make, self.cloth, planner)
        self.too_long = self.plan is None
        return not self.too_long

    def weigh(self, evening: Evening) -> None:
        """Minutes and reasons of the make as laid on its own cloth."""
        garment, plan = self.make.garment, self.plan
        assert garment is not None
        assert plan is not None
        sheets = sheets_roughly((piece.outline for piece in self.make.pieces), sheet(evening.sheet))
        self.steps = self.make.steps(self.cloth, evening.sewer)
        self.minutes = minutes(garment, self.steps, self.cloth, evening.sewer, sheets=sheets, cuts=plan.cuts)
        self.reasons = (
            suits(self.make.draft, self.cloth),
            in_time(self.minutes, 60 * evening.hours, self.time_counts),
            use_of(self.cloth, plan, self.use_counts),
            *notes_of(garment),
        )


def planned(make: Make, cloth: Cloth, planner: Planner) -> LayPlan | None:
    """A lay that goes onto the cloth, or None. The area alone rules out most without a lay."""
    if sum(piece.area_cm2 for piece in make.pieces) > cloth.usable_width * cloth.usable_length:
        return None
    problem = lay_problem(make.pieces, cloth)
    for effort in (FIRST_EFFORT, BETTER_EFFORT):
        try:
            plan = planner(problem, effort)
        except WorkroomError:  # a piece is wider than the cloth: the sentence is made where it is refused
            return None
        if plan.length <= cloth.usable_length:
            return plan
    return None
