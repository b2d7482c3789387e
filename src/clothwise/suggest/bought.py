"""Bought patterns on the cloths of the cupboard: which size, does the cloth suffice, how long will it take.

Looked at as house drafts are (see `candidate`): weighed by cloth and minutes; sized for her body, with the
lengths that are advised; then laid where the outlines are known, and the lay is verified, else held against the
envelope's table: a cloth counts as enough only when it holds the high end of the table's span. Where it is too
short, the least shortening of the hem with which it suffices is searched. Lengths in cm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from clothwise.body import Body, estimate
from clothwise.cloth import Cloth
from clothwise.errors import WorkroomError
from clothwise.lay.layering import SINGLE
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.lay.verify import faults
from clothwise.sew import Minutes
from clothwise.sew.cautions import Caution
from clothwise.shelf.pattern import ALL_VIEWS, BoughtPattern, FinishedMake
from clothwise.shopping.box import BoxItem, Sort
from clothwise.shopping.lists import ShoppingLine, shopping_list, still_to_buy
from clothwise.shopping.needs import Need
from clothwise.shopping.told import need_told
from clothwise.size.advice import Advice
from clothwise.size.advising import advise
from clothwise.size.chart import place_of
from clothwise.size.cloth_need import ClothNeed, cloth_need, cloth_needs, lay_pieces
from clothwise.size.lengthening import AS_IT_IS, Longer, longer_as_advised
from clothwise.suggest.answer import Change, Reason, Refusal, Verdict
from clothwise.suggest.bought_weighing import minutes_of, suits
from clothwise.suggest.candidate import Evening
from clothwise.suggest.cautions import cautions_of_bought
from clothwise.suggest.laying import Planner, goes_onto, shortest_of
from clothwise.suggest.near import EACH_CHANGE, NEAR
from clothwise.suggest.stages import CUT_OUT, TRACED, last_stage
from clothwise.suggest.stretching import Stretch
from clothwise.suggest.suiting import SUITS, Look
from clothwise.suggest.weighing import NOTES, TIME, USE, in_time, time_counts, use_counts
from clothwise.ticket.ticket import OtherCloth

FILLED = 0.75  # share of the cloth's area that pieces fill in a table's length (envelopes, see `area_law`)
LAYER_OF: dict[str, Sort] = {"lining": "lining", "interfacing": "interfacing", "rib": "rib"}


@dataclass(frozen=True, slots=True)
class BoughtAnswer:
    """One bought pattern that goes onto one cloth. Its fields mean what they mean in `Answer`.

    view    '' where the envelope has one garment
    plan    None: told by the envelope's table alone, see `need`
    longer  how its lengths are changed, as advised for her body and as `changes` say
    """

    pattern: str
    view: str
    cloth: Cloth
    advice: Advice
    need: ClothNeed
    longer: Longer
    plan: LayPlan | None
    minutes: Minutes
    score: float
    reasons: tuple[Reason, ...]
    haberdashery: tuple[str, ...]
    stop_after: str = ""
    changes: tuple[Change, ...] = ()
    look: Look = "as drawn"
    to_buy: tuple[ShoppingLine, ...] = ()
    cautions: tuple[Caution, ...] = ()
    others: tuple[tuple[OtherCloth, LayPlan], ...] = ()  # no piece of it comes from another cloth yet

    @property
    def title(self) -> str:
        """As it stands on the shelf, with its view."""
        return f"{self.pattern}, view {self.view}" if self.view else self.pattern

    @property
    def sizes(self) -> str:
        """'16', or 'M to L' where it is blended."""
        return " to ".join(dict.fromkeys(self.advice.sizes.values())) or self.advice.single

    @property
    def verdict(self) -> Verdict:
        return "with a change" if self.changes else "can be made"

    @property
    def change(self) -> Change | None:
        return self.changes[0] if self.changes else None

    @property
    def opened_out(self) -> bool:
        """The cloth is laid in a single layer."""
        return self.plan is not None and self.plan.layering == SINGLE


@dataclass(slots=True)
class Sized:
    """A view of a bought pattern for her body: the sizes to cut, once for each stretch of cloth."""

    pattern: BoughtPattern
    view: str
    body: Body
    makes: tuple[FinishedMake, ...]
    _advised: dict[float, Advice] = field(default_factory=dict)

    def advice(self, cloth: Cloth) -> Advice:
        """Raises what `advise` raises."""
        stretch = cloth.stretch_across
        if stretch not in self._advised:
            self._advised[stretch] = advise(
                self.body, self.pattern, view=self.view, cloth=cloth, makes=self.makes
            )
        return self._advised[stretch]


@dataclass(slots=True)
class BoughtCandidate:
    """A bought pattern on a cloth. `score` is the most it can be, and exact once it is sized."""

    sized: Sized
    cloth: Cloth
    evening: Evening
    score: float = 1.0
    look: int = 0  # 0 weighed, 1 sized, 2 laid or held against the table
    refusal: str = ""
    too_long: bool = False  # it does not go onto this cloth
    share: float = 0.0
    reasons: tuple[Reason, ...] = ()
    hangs: Look = "as drawn"
    minutes: Minutes = field(init=False)
    time_counts: float = 0.0
    use_counts: float = USE
    size: str = ""
    area: float = 0.0  # once it is sized [cm2]
    longer: Longer = AS_IT_IS
    pieces: tuple[LayPiece, ...] = ()
    plan: LayPlan | None = None
    need: ClothNeed | None = None
    changes: tuple[Change, ...] = ()
    lost: float = 0.0  # share of its cloth given up by them

    def __post_init__(self) -> None:
        pattern = self.sized.pattern
        self.share, self.reasons, self.hangs = suits(pattern, self.cloth, self.evening.season)
        self.minutes = minutes_of(pattern, self.cloth, self.evening.sewer)
        hours = 60 * self.evening.hours
        self.time_counts = time_counts(self.minutes.likely, self.minutes.high, hours)
        self._weigh()

    def _weigh(self) -> None:
        self.score = min(1.0, NOTES + SUITS * self.share + min(self.time_counts, TIME) + self.use_counts)

    @property
    def name(self) -> str:
        """By which variety is reckoned and refusals are told."""
        return self.sized.pattern.name

    @property
    def sound(self) -> bool:
        """Whether it passes the check of drawn garments; what is bought is not ours to check."""
        return True

    def look_closer(self, evening: Evening, planner: Planner) -> bool:
        """One look more. False when it falls out."""
        self.look += 1
        try:
            return self._size() if self.look == 1 else self.lay(planner, self.longer)
        except WorkroomError as no:
            self.refusal = no.what
            return False

    def _size(self) -> bool:
        pattern, advice = self.sized.pattern, self.sized.advice(self.cloth)
        if advice.cut == "nothing":
            self.refusal = "None of its sizes is near enough to her measures."
            return False
        self.size = max(advice.sizes.values(), key=lambda one: place_of(pattern, one))
        self.longer = longer_as_advised(advice.lengths)
        self.pieces = lay_pieces(pattern, self.size, "main", self.longer)
        if self.pieces:
            area = sum(piece.area_cm2 for piece in self.pieces)
        else:
            need = self._by_table(self.longer)
            area = need.likely * self.cloth.usable_width * FILLED
        self.area, self.use_counts = area, use_counts(self.cloth, area)
        self._weigh()
        return True

    def lay(self, planner: Planner, longer: Longer) -> bool:
        """Whether the cloth suffices at these lengths: by a verified lay, or by the table's high end."""
        pieces = lay_pieces(self.sized.pattern, self.size, "main", longer)
        if pieces:
            plan = goes_onto(pieces, self.cloth, planner)
            if plan is None:
                self.refusal = f"No lay was found on {self.cloth.usable_length:.0f} cm."
                self.too_long = True
                return False
            self.plan, self.pieces = plan, pieces
            self.need = ClothNeed(plan.problem.cloth.width, self.size, *(plan.length,) * 3, 0.0, None, ("lay",))
        else:
            need = self._by_table(longer)
            if need.too_narrow:
                self.refusal = f"{need.too_narrow[0]} is wider than {self.cloth.usable_width:.0f} cm."
                return False
            if self.cloth.remnant or need.high > self.cloth.usable_length:
                self.refusal = (
                    f"It needs {need.low:.0f} to {need.high:.0f} cm of {self.cloth.usable_width:.0f} cm width."
                    if not self.cloth.remnant
                    else "Its envelope tells of whole lengths only; this is a remnant with a shape of its own."
                )
                self.too_long = not self.cloth.remnant
                return False
            self.need = need
        self.longer = longer
        return True

    def _by_table(self, longer: Longer) -> ClothNeed:
        return cloth_need(
            self.sized.pattern,
            self.size,
            self.cloth.usable_width,
            view=self.sized.view,
            nap=self.cloth.laid_nap,
            longer=longer,
        )

    def shortened(self, planner: Planner) -> bool:
        """The least shortening of the hem, in whole centimetres, with which the cloth suffices; by halving."""
        advised, whole, low, high = self.longer, self._takes(), 1, NEAR
        if not self._with_hem(planner, advised, high):
            return False
        while low < high:
            middle = (low + high) // 2
            if self._with_hem(planner, advised, middle):
                high = middle
            else:
                low = middle + 1
        self.changes = (Change("hem", float(-high), float(-high)),)
        goes_on = self._with_hem(planner, advised, high)
        self.lost = max(0.0, 1 - self._takes() / whole) + EACH_CHANGE
        return goes_on

    def _takes(self) -> float:
        """Cloth it takes at the lengths it has now. [cm2]"""
        if self.pieces:
            return sum(piece.area_cm2 for piece in self.pieces)
        return self._by_table(self.longer).likely * self.cloth.usable_width

    def _with_hem(self, planner: Planner, advised: Longer, by: int) -> bool:
        try:
            return self.lay(planner, Longer(advised.above, advised.below - by, advised.sleeves))
        except WorkroomError as no:  # cannot be shortened so far, or the envelope does not say
            self.refusal = no.what
            return False

    def answer(self, planner: Planner, box: Sequence[BoxItem]) -> BoughtAnswer:
        """As laid. Its lay is put to the independent check once more."""
        assert self.need is not None
        plan, pattern = self.plan, self.sized.pattern
        if plan is not None:
            plan = plan if self.changes else shortest_of(plan, self.cloth, planner)
            wrong = faults(plan)
            assert not wrong, f"A lay to be suggested fails its check: {' '.join(wrong)}"
        hours = 60 * self.evening.hours
        length = plan.length if plan else self.need.likely
        return BoughtAnswer(
            pattern=pattern.name,
            view=self.sized.view,
            cloth=self.cloth,
            advice=self.sized.advice(self.cloth),
            need=self.need,
            longer=self.longer,
            plan=plan,
            minutes=self.minutes,
            score=self.score,
            reasons=(
                *self.reasons,
                in_time(self.minutes, hours, self.time_counts),
                _use(self.cloth, length, plan, self.use_counts),
            ),
            haberdashery=pattern.haberdashery,
            stop_after=last_stage(self._stages(), self.minutes, hours),
            changes=self.changes,
            look=self.hangs,
            to_buy=still_to_buy(shopping_list(self._needs(), box)),
            cautions=cautions_of_bought(pattern, self.cloth, self.evening.occasion),
        )

    def _stages(self) -> tuple[tuple[str, float], ...]:
        return ((TRACED, self.minutes.print_tape), (CUT_OUT, self.minutes.cut))

    def _needs(self) -> tuple[Need, ...]:
        """Haberdashery as printed, and the other cloths of its table."""
        pattern, view = self.sized.pattern, self.sized.view
        found = [need_told(text, pattern.name) for text in pattern.haberdashery]
        others = {row.kind for row in pattern.cloth if row.kind != "main" and row.view in (ALL_VIEWS, view)}
        if others:
            for kind, need in cloth_needs(pattern, self.size, None, view=view, longer=self.longer).items():
                if kind in others:
                    title = f"{kind.capitalize()}, {need.width:.0f} cm wide: {need.buy / 100:.2f} m"
                    sort = LAYER_OF.get(kind, "other")
                    length, count = (need.buy, 0) if kind in LAYER_OF else (0.0, 1)
                    found.append(Need(sort, title, length, count, wanted_by=pattern.name))
        return tuple(found)


def _use(cloth: Cloth, length: float, plan: LayPlan | None, counts: float) -> Reason:
    if cloth.remnant and plan is not None:
        return Reason("uses remnant", counts, {"share": min(1.0, plan.used_cm2 / cloth.usable_area_cm2)})
    left = max(0.0, cloth.usable_length - length)
    return Reason("uses cloth", counts, {"share": min(1.0, length / cloth.usable_length), "left": left})


def cannot_be(pattern: BoughtPattern, cloth: Cloth) -> str:
    """Why a cloth is nothing for a pattern, before her size is asked; '' when it may be."""
    if cloth.make != pattern.make:
        return f"It is meant for {pattern.make} cloth; this one is {cloth.make}."
    if pattern.least_stretch is not None and cloth.stretch_across < pattern.least_stretch:
        return Stretch(pattern.least_stretch, cloth.stretch_across).sentence("It")
    return ""


def bought_candidates(
    evening: Evening, cloths: Sequence[Cloth], patterns: Sequence[BoughtPattern], makes: Sequence[FinishedMake]
) -> tuple[list[BoughtCandidate], list[Refusal]]:
    """Every view of every pattern on every cloth that may be, and why the others cannot."""
    body = estimate(evening.body)
    found, refusals = [], []
    for pattern in patterns:
        on = []
        for cloth in cloths:
            why = cannot_be(pattern, cloth)
            if why:
                refusals.append(Refusal(pattern.name, cloth.name, why))
            else:
                on.append(cloth)
        for view in pattern.views or (ALL_VIEWS,):
            sized = Sized(pattern, view, body, tuple(makes))
            found += [BoughtCandidate(sized, cloth, evening) for cloth in on]
    return found, refusals


def bought_answers(
    evening: Evening,
    cloths: Sequence[Cloth],
    patterns: Sequence[BoughtPattern],
    planner: Planner,
    makes: tuple[FinishedMake, ...] = (),
) -> tuple[tuple[BoughtAnswer, ...], tuple[Refusal, ...]]:
    """All that can be made of the bought patterns as they are, best first, and what cannot with its reason."""
    candidates, refusals = bought_candidates(evening, cloths, patterns, makes)
    answers: list[BoughtAnswer] = []
    for one in candidates:
        if all(one.look_closer(evening, planner) for _ in range(2)):
            answers.append(one.answer(planner, ()))
        else:
            refusals.append(Refusal(one.name, one.cloth.name, one.refusal))
    return tuple(sorted(answers, key=lambda one: -one.score)), tuple(dict.fromkeys(refusals))
