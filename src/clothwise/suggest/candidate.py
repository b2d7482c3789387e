"""One make that might be had: a draft with its choices, on one cloth; looked at no closer than its rank asks.

Three looks, each dearer than the one before: does the cloth suit; its form drawn, and timed as on a plain
cloth; drawn for this cloth and laid. The first bounds the score from above, the second fixes it, the third only
says whether it goes onto the cloth. So what ranks low is never drawn or laid, and nothing that could have
ranked high is missed.

    form   a draft with its main choices for one body, drawn once, for the cloth that stretches furthest and is
           widest. Makes of one form differ only in what the cloth decides (stretch, width), which hardly moves
           their minutes and areas: they are ranked by their form's, and told by their own
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.draft import HouseDraft
from clothwise.errors import WorkroomError
from clothwise.garment import Garment, Piece
from clothwise.garment.check import check
from clothwise.lay.from_garment import lay_piece, lay_pieces
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.paper.sheets import sheet, sheets_roughly
from clothwise.sew import Minutes, Sewer, Step, minutes, order_of_work
from clothwise.sew.manners import manners
from clothwise.suggest.answer import Reason
from clothwise.suggest.laying import Planner, goes_onto, shortest_of
from clothwise.suggest.suiting import SUITS, Asked, share_of, suiting
from clothwise.suggest.weighing import NOTES, TIME, USE, in_time, notes_of, time_counts, use_counts, use_of

Wish = Mapping[str, float | str]
PLAIN = Cloth("Plain cloth", 140.0, 300.0, kind="poplin")  # well-behaved: what all minutes are compared with
KNIT_GIVES = 0.3  # stretch of a plain knit
NOTHING_ASKED = Asked()
ROUGH = 1.0  # cm: outlines flattened so coarsely still tell how many sheets they take


@dataclass(frozen=True, slots=True)
class Evening:
    """For whom, by whom, how long; season and occasion when the answer should heed them."""

    body: Body
    sewer: Sewer
    hours: float
    made_on: str = ""
    sheet: str = "A4"
    season: str = ""
    occasion: str = ""

    @property
    def asked(self) -> Asked:
        """What bears on whether a cloth suits."""
        return Asked(self.sewer.skill, self.season, self.occasion)


@dataclass(frozen=True, slots=True)
class Figures:
    """What ranks the makes of a form.

    area          of the shell, without allowances: no lay needs less [cm2]
    likely, high  minutes on a well-behaved cloth of its sort, printing included
    notes         what counts against it because the draft had to change it, 0 or less
    """

    area: float
    likely: float
    high: float
    notes: float


@dataclass(slots=True)
class Make:
    """A draft with its choices settled. Drawn when first asked for, its cutting lines when first laid."""

    draft: HouseDraft
    wish: Wish
    body: Body
    _garment: Garment | None = None
    _pieces: tuple[LayPiece, ...] | None = None
    _figures: Figures | None = None
    _area: float | None = None
    refusal: str = ""  # the draft's sentence, once it has refused
    _sound: bool | None = None
    form: Make | None = None  # None: it is a form itself

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
            numbered = enumerate(self.garment.pieces, start=1)
            self._pieces = tuple(_cut_out(piece, n) for n, piece in numbered if piece.layer == "shell")
        return self._pieces

    def pieces_on(self, cloth: Cloth) -> tuple[LayPiece, ...]:
        """The pieces as this cloth wants them: with their match points where stripes must meet."""
        if not (cloth.repeat_along or cloth.repeat_across):
            return self.pieces
        assert self.garment is not None
        return lay_pieces(self.garment, matched=True)

    @property
    def sound(self) -> bool:
        """Whether it passes every rule of the check; asked of what is handed out."""
        if self._sound is None:
            self._sound = self.garment is not None and not check(self.garment)
        return self._sound

    def least_area_cm2(self) -> float:
        """Of the shell, without allowances: no lay needs less."""
        if self._area is None:
            assert self.garment is not None
            shell = (piece for piece in self.garment.pieces if piece.layer == "shell")
            self._area = sum(p.area_cm2() * p.shapes for p in shell)
        return self._area

    def steps(self, cloth: Cloth, sewer: Sewer) -> tuple[Step, ...]:
        """The order of work on a cloth."""
        assert self.garment is not None
        return order_of_work(self.garment, cloth, sewer)

    def figures(self, evening: Evening) -> Figures | None:
        """What ranks it, worked out once; None when the draft refuses."""
        if self._figures is None and self.garment is not None:
            likely, high = self._plain_minutes(evening)
            notes = sum(reason.counts for reason in notes_of(self.garment))
            self._figures = Figures(self.least_area_cm2(), likely, high, notes)
        return self._figures

    def told(self, figures: Figures | None, refusal: str) -> None:
        """Its figures, or the draft's sentence, as another hand found them."""
        self._figures, self.refusal = figures, refusal

    def _plain_minutes(self, evening: Evening) -> tuple[float, float]:
        assert self.garment is not None
        stretch = KNIT_GIVES if "woven" not in self.draft.makes else 0.0
        plain = replace(PLAIN, make=self.draft.makes[0], stretch_across=stretch)
        steps = self.steps(plain, evening.sewer)
        outlines = (piece.polygon(tolerance=ROUGH) for piece in self.garment.pieces)
        sheets = sheets_roughly(outlines, sheet(evening.sheet))
        found = minutes(self.garment, steps, PLAIN, evening.sewer, sheets=sheets, cuts=len(self.garment.pieces))
        return found.likely, found.high


@lru_cache(maxsize=4096)
def _cut_out(piece: Piece, number: int) -> LayPiece:
    """Makes of one draft share most of their pieces: each cutting line is worked out once."""
    return lay_piece(piece, number)


@dataclass(frozen=True, slots=True)
class Laid:
    """What came of laying: a plan; or why not, the draft's sentence, '' where none was found.

    shortest  the plan was searched with the care for what is handed out
    """

    plan: LayPlan | None
    refusal: str = ""
    shortest: bool = False


@dataclass(slots=True)
class Candidate:
    """A make on a cloth. `score` is the most it can be, and exact once it is drawn."""

    make: Make
    cloth: Cloth
    asked: Asked = NOTHING_ASKED
    score: float = 1.0
    suits: float = SUITS
    area: float = 0.0  # of its form, once that is drawn [cm2]
    look: int = 0  # 0 weighed, 1 drawn and timed, 2 laid
    time_counts: float = TIME
    use_counts: float = USE
    minutes: Minutes | None = None
    plan: LayPlan | None = None
    shortest: bool = False  # the plan is that which is handed out
    reasons: tuple[Reason, ...] = ()
    too_long: bool = False  # it does not go onto this cloth
    steps: tuple[Step, ...] = ()

    def __post_init__(self) -> None:
        self.suits = SUITS * share_of(self.make.draft, self.make.wish, self.cloth, self.asked)
        self.score = min(1.0, NOTES + self.suits + TIME + USE)

    @property
    def name(self) -> str:
        """By which variety is reckoned and refusals are told."""
        return self.make.draft.name

    @property
    def sound(self) -> bool:
        """Whether it passes every rule of the check."""
        return self.make.sound

    def look_closer(self, evening: Evening, planner: Planner) -> bool:
        """One look more. False when it falls out: refused by its draft, or not to be cut from this cloth."""
        if self.look == 0:
            return self.draw(evening)
        return self.take(self.laid(planner))

    def draw(self, evening: Evening) -> bool:
        """Its form drawn and timed: the score is exact from here on. A form that refuses is not asked."""
        self.look = 1
        form = self.make.form or self.make
        figures = form.figures(evening)
        if figures is None:
            form, figures = self.make, self.make.figures(evening)
        if figures is None:
            return False
        self.area = figures.area
        if form is self.make and figures.area > self.cloth.usable_area_cm2:
            self.too_long = True
            return False
        factor = manners(self.cloth).factor
        self.time_counts = time_counts(figures.likely * factor, figures.high * factor, 60 * evening.hours)
        self.use_counts = use_counts(self.cloth, figures.area)
        counts = self.suits + self.time_counts + self.use_counts
        self.score = min(self.score, max(0.0, NOTES + counts + figures.notes))
        return True

    def laid(self, planner: Planner, *, shortest: bool = False) -> Laid:
        """Whether it goes onto its cloth. Says so and changes nothing, so that any hand may look."""
        make, cloth = self.make, self.cloth
        if make.garment is None:
            return Laid(None, make.refusal)
        if make.least_area_cm2() > cloth.usable_area_cm2:
            return Laid(None)
        plan = goes_onto(make.pieces_on(cloth), cloth, planner)
        if plan is None or not shortest:
            return Laid(plan)
        return Laid(shortest_of(plan, cloth, planner), shortest=True)

    def take(self, laid: Laid) -> bool:
        """Goes by what a look found. False when it falls out."""
        self.look = 2
        self.plan, self.make.refusal, self.shortest = laid.plan, laid.refusal, laid.shortest
        self.too_long = laid.plan is None and not laid.refusal
        return laid.plan is not None

    def weigh(self, evening: Evening, others: Sequence[LayPlan] = ()) -> None:
        """Minutes and reasons of the make as laid on its own cloth, and some of it on `others`."""
        garment, plan = self.make.garment, self.plan
        assert garment is not None
        assert plan is not None
        sheets = sheets_roughly((piece.outline for piece in self.make.pieces), sheet(evening.sheet))
        self.steps = self.make.steps(self.cloth, evening.sewer)
        cuts = plan.cuts + sum(other.cuts for other in others)
        self.minutes = minutes(garment, self.steps, self.cloth, evening.sewer, sheets=sheets, cuts=cuts)
        self.reasons = (
            *suiting(self.make.draft, self.make.wish, self.cloth, self.asked).reasons,
            in_time(self.minutes, 60 * evening.hours, self.time_counts),
            use_of(self.cloth, plan, self.use_counts),
            *notes_of(garment),
        )
