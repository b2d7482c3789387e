"""What fits on the remnants that lie about: one make on one of them, or on several together by layer.

A make's pieces stay together by what they are: the main pieces on one cloth, and facings, pockets, bindings,
bands, collars and cuffs each, when the main cloth does not hold them, on another of the same make and about the
same weight. What is seen least is moved first, and no more than is needed. Pocket bags, which want a thin firm
cloth of their own, come from a remnant that is one. Every lay is verified, and each answer is a ticket that
names all its cloths.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from clothwise.body import estimate
from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS, HouseDraft
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.lay.verify import faults
from clothwise.shopping.box import BoxItem
from clothwise.suggest.answer import Answer
from clothwise.suggest.answering import answer_of
from clothwise.suggest.candidate import Candidate, Evening, Make
from clothwise.suggest.choosing import choices_of
from clothwise.suggest.laying import Planner, goes_onto
from clothwise.suggest.suiting import share_of
from clothwise.ticket.made import PLACES
from clothwise.ticket.ticket import OtherCloth

PARTS: tuple[tuple[str, ...], ...] = (  # words in the names of pieces, what is seen least first
    ("facing", "stand"),
    ("pocket", "bag"),
    ("binding", "loop", "strap"),
    ("waistband", "band", "belt", "tie"),
    ("collar", "cuff", "hood"),
    ("frill", "peplum", "tier"),
)
LEAST_SUITS = 0.35  # of one: a remnant that suits less is left lying
WEIGHTS = (0.5, 1.5)  # g/m2 of a second cloth over those of the first: between these it hangs along
MOST = 12
BAGS = "pocket"  # the layer of pocket bags
BAGS_UP_TO = 160.0  # g/m2: a heavier cloth shows through as a ridge (trade sense)


@dataclass(frozen=True, slots=True)
class Part:
    """What is cut from one remnant."""

    cloth: Cloth
    pieces: tuple[str, ...]
    plan: LayPlan


@dataclass(frozen=True, slots=True)
class FromScraps:
    """One make from remnants. `used`: share of their area that goes into it; `score` ranks.

    answer  the same as an answer of the evening: ticket with every cloth, minutes, what is still to buy
    """

    make: Make
    title: str
    parts: tuple[Part, ...]
    used: float
    score: float
    answer: Answer


def from_scraps(
    evening: Evening,
    remnants: Sequence[Cloth],
    planner: Planner,
    drafts: Sequence[HouseDraft] = PATTERNS,
    *,
    most: int = MOST,
    box: Sequence[BoxItem] = (),
) -> tuple[FromScraps, ...]:
    """The best that the remnants give, one make of a draft at most for each set of cloths; best first."""
    heap = [(-one.most, n, one) for n, one in enumerate(_trials(evening, remnants, drafts))]
    heapify(heap)
    found: dict[tuple[str, ...], _Trial] = {}
    while heap and len(found) < most:
        _, number, one = heappop(heap)
        if one.parts:
            found.setdefault((one.make.draft.name, *(part.cloth.name for part in one.parts)), one)
        elif one.look_closer(remnants, planner):
            heappush(heap, (-one.most, number, one))
    return tuple(_answered(one, evening, box) for one in found.values())


def _trials(evening: Evening, remnants: Sequence[Cloth], drafts: Sequence[HouseDraft]) -> Iterator[_Trial]:
    """Every make on every remnant that it suits as its main cloth."""
    body = estimate(evening.body)
    for draft in drafts:
        if body.age_years is not None and body.age_years < draft.least_age:
            continue
        makes: dict[tuple[object, ...], Make] = {}
        for first in remnants:
            if first.make not in draft.makes:
                continue
            for wish in choices_of(draft, first):
                suits = share_of(draft, wish, first, evening.asked)
                if suits >= LEAST_SUITS:
                    yield _Trial(makes.setdefault(tuple(wish.items()), Make(draft, wish, body)), first, suits)


@dataclass(slots=True)
class _Trial:
    """A make with its main cloth. `most`: the most it can score, exact once it is laid.

    Score: how it suits times the share of the remnants' area that its shell uses. Further remnants only make
    that share smaller, so the share of the first bounds it. The first part is the main cloth's.
    """

    make: Make
    first: Cloth
    suits: float
    most: float = 1.0
    drawn: bool = False
    parts: tuple[Part, ...] = ()
    used: float = 0.0

    def __post_init__(self) -> None:
        self.most = self.suits

    def look_closer(self, remnants: Sequence[Cloth], planner: Planner) -> bool:
        """Drawn first, laid then; False when it falls out."""
        if self.drawn:
            return self._lay(remnants, planner)
        self.drawn = True
        if self.make.garment is None:
            return False
        area = sum(piece.area_cm2 for piece in self.make.pieces)
        together = sum(one.usable_area_cm2 for one in remnants if one.make == self.first.make)
        self.most = self.suits * min(1.0, area / self.first.usable_area_cm2)
        return area <= together

    def _lay(self, remnants: Sequence[Cloth], planner: Planner) -> bool:
        parts = _parts(self.make, self.first, remnants, planner)
        if not parts or not self.make.sound:
            return False
        for part in parts:
            wrong = faults(part.plan)
            assert not wrong, f"A lay from remnants fails its check: {' '.join(wrong)}"
        have = sum(part.cloth.usable_area_cm2 for part in parts)
        self.used = sum(part.plan.used_cm2 for part in parts) / have
        self.most = self.suits * self.used
        self.parts = (*parts, *_bags(self.make, parts, remnants, planner))
        return True


def _answered(one: _Trial, evening: Evening, box: Sequence[BoxItem]) -> FromScraps:
    """With all that is told of an answer; its ticket names every cloth."""
    main, *rest = one.parts
    candidate = Candidate(one.make, main.cloth, evening.asked)
    candidate.draw(evening)
    candidate.plan = main.plan
    others = tuple((OtherCloth(part.pieces, part.cloth), part.plan) for part in rest)
    answer = answer_of(candidate, evening, others=others, box=box)
    return FromScraps(one.make, answer.title, one.parts, one.used, one.most, answer)


def _parts(make: Make, first: Cloth, remnants: Sequence[Cloth], planner: Planner) -> tuple[Part, ...]:
    """The main pieces on the first remnant, the fewest parts on others; nothing when it does not go."""
    for kept, moved in _divided(make.pieces_on(first)):
        if sum(piece.area_cm2 for piece in kept) > first.usable_area_cm2:
            continue
        plan = goes_onto(kept, first, planner)
        if plan is None:
            continue
        others = _placed(moved, first, remnants, planner)
        if others is not None and len(others) <= len(PLACES):
            return (Part(first, tuple(piece.name for piece in kept), plan), *others)
    return ()


def _bags(make: Make, parts: Sequence[Part], remnants: Sequence[Cloth], planner: Planner) -> tuple[Part, ...]:
    """Pocket bags on the smallest thin remnant that is free; nothing where none holds them: it is bought."""
    assert make.garment is not None
    bags = lay_pieces(make.garment, BAGS)
    if not bags or len(parts) > len(PLACES):
        return ()
    taken = {part.cloth.name for part in parts}
    thin = [
        one for one in remnants
        if one.make == "woven" and one.grams_per_m2 <= BAGS_UP_TO and one.name not in taken
    ]  # fmt: skip
    for cloth in sorted(thin, key=lambda one: one.usable_area_cm2):
        plan = goes_onto(bags, cloth, planner)
        if plan is not None:
            return (Part(cloth, tuple(piece.name for piece in bags), plan),)
    return ()


def _divided(
    pieces: tuple[LayPiece, ...],
) -> Iterator[tuple[tuple[LayPiece, ...], tuple[tuple[LayPiece, ...], ...]]]:
    """All together first; then one part more taken away each time."""
    moved: tuple[tuple[LayPiece, ...], ...] = ()
    kept = pieces
    yield kept, moved
    for words in PARTS:
        part = tuple(piece for piece in kept if any(word in piece.name for word in words))
        if part and len(part) < len(kept):
            kept = tuple(piece for piece in kept if piece not in part)
            moved = (*moved, part)
            yield kept, moved


def _placed(
    moved: Sequence[tuple[LayPiece, ...]], first: Cloth, remnants: Sequence[Cloth], planner: Planner
) -> tuple[Part, ...] | None:
    """Each part on the smallest other remnant that holds it with what lies there already."""
    laid: dict[str, tuple[LayPiece, ...]] = {}
    plans: dict[str, Part] = {}
    low, high = (factor * first.grams_per_m2 for factor in WEIGHTS)
    fit = [
        one for one in remnants
        if one.name != first.name and one.make == first.make and low <= one.grams_per_m2 <= high
    ]  # fmt: skip
    for part in moved:
        for cloth in sorted(fit, key=lambda one: (one.name not in laid, one.usable_area_cm2)):
            together = (*laid.get(cloth.name, ()), *part)
            plan = goes_onto(together, cloth, planner)
            if plan is not None:
                laid[cloth.name] = together
                plans[cloth.name] = Part(cloth, tuple(piece.name for piece in together), plan)
                break
        else:
            return None
    return tuple(plans.values())
