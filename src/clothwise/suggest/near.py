"""Near misses: the least change with which a make goes onto a cloth that is too small for it.

Nothing is looked up: every choice of the draft is tried. An option is exchanged for each of the others; a
number is brought down step by step; pieces may be cut from another cloth of the cupboard, those that are not
seen before those that are, as many as it takes. (A single layer changes nothing: every lay tries it.)
What a change costs is the share of the make's cloth that is given up by it, so the least change is the one
after which the garment is most like what was asked. Single changes first, then each with a shortening.

    changed make   drawn, and its area known: no cloth smaller than that area holds it, so its least
                   amount, found on areas alone, bounds the cost from below and decides the order of trying
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from clothwise.cloth import Cloth
from clothwise.draft import Choice
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.suggest.answer import Change
from clothwise.suggest.candidate import Make
from clothwise.suggest.laying import Planner, goes_onto

NEAR = 12  # cm: a make that must be shortened by more is no near miss but another length of it
MOST_LOST = 0.30  # share of its cloth: a make that gives up more is another make
EACH_CHANGE = 0.01  # share: of two changes that cost alike the single one is nearer
UNSEEN, SEEN = 0.25, 0.8  # of their area counts when pieces come from another cloth: it changes no line
WEIGHTS = (0.6, 1.6)  # of the cloth's weight: between these another cloth hangs along where it is seen
FILLS = 0.93  # of a cloth's area: no garment's lay was ever found that filled it more
STEPS = 8  # amounts tried between a number as it stands and its least
OF_CLOTH = ("stretch", "cloth_width", "rib_stretch", "recovery")  # choices that the cloth decides
SAME_AS_SHORTER = ("finished_length",)  # another way to say how long: shortening is tried already
BODILY = ("waist", "bust", "hip", "arm", "crotch", "rise", "shoulder", "back", "neck", "front", "cap", "room")
# first words of choices that are about the body or the fit, not about how much cloth is wanted
HIDDEN = ("facing", "pocket", "bag", "under", "binding", "stand")  # in names of pieces that are not seen
MOST_MOVED = 0.35  # share of the pieces' area: from more on it is made of two cloths, not of one


@dataclass(frozen=True, slots=True)
class Near:
    """A make changed so that it goes on: its changes, and its lay. `lost`: the share of its cloth given up."""

    make: Make
    changes: tuple[Change, ...]
    plan: LayPlan
    lost: float
    other: tuple[LayPiece, ...] = ()  # pieces to be cut from another cloth
    other_cloth: Cloth | None = None
    other_plan: LayPlan | None = None


@dataclass(slots=True)
class Redraw:
    """Draws makes with a choice changed, each once; None where it cannot be drawn so."""

    _made: dict[tuple[object, ...], Make | None]

    @classmethod
    def new(cls) -> Redraw:
        return cls({})

    def __call__(self, make: Make, choice: str, value: float | str) -> Make | None:
        wish = {**make.wish, choice: value}
        key = (make.draft.name, *sorted(wish.items()))
        if key not in self._made:
            other = Make(make.draft, wish, make.body)
            self._made[key] = other if other.garment is not None else None
        return self._made[key]


def near_miss(
    make: Make,
    cloth: Cloth,
    planner: Planner,
    *,
    redraw: Redraw | None = None,
    others: Sequence[Cloth] = (),
    below: float = MOST_LOST,
    known: Callable[[Mapping[str, float | str]], bool] = lambda wish: False,
) -> Near | None:
    """The least change with which the make goes onto the cloth, or None.

    others   cloths from which unseen pieces may be cut
    below    a change that costs as much or more is not wanted
    known    whether a wish is known not to go on; it is not tried again
    """
    redraw = redraw or Redraw.new()
    best: Near | None = None
    tried = sorted(_single(make, cloth, redraw, known), key=lambda one: one.least_cost)
    for one in tried:
        if one.least_cost >= (best.lost if best else below):
            break
        best = _better(best, one.solved(cloth, planner))
    best = _better(best, _moved(make, cloth, others, planner, below if best is None else best.lost))
    if best is None and make.draft.shortened_by:
        best = _two_changes(make, cloth, planner, redraw, tried, below)
    return best


def _better(one: Near | None, other: Near | None) -> Near | None:
    return other if other is not None and (one is None or other.lost < one.lost) else one


@dataclass(frozen=True, slots=True)
class _Way:
    """One choice brought down: values from the least change that the area permits to the greatest."""

    make: Make
    before: tuple[Change, ...]
    choice: str
    was: float | str | None
    values: tuple[float | str, ...]
    whole: float  # area of the make as it was asked [cm2]
    redraw: Redraw
    least_cost: float

    def last(self) -> Make | None:
        """Brought down as far as it goes."""
        return self.redraw(self.make, self.choice, self.values[-1])

    def changes(self, value: float | str) -> tuple[Change, ...]:
        by = value - self.was if isinstance(value, float) and isinstance(self.was, float) else 0.0
        return (*self.before, Change(self.choice, value, by, was=self.was))

    def solved(self, cloth: Cloth, planner: Planner) -> Near | None:
        """The first of them that goes on, by halving: a smaller garment goes on wherever a greater one does."""
        low, high, best = 0, len(self.values) - 1, None
        at = high
        while low <= high:
            make = self.redraw(self.make, self.choice, self.values[at])
            plan = goes_onto(make.pieces_on(cloth), cloth, planner) if make else None
            if plan is None and at == len(self.values) - 1:
                return None  # brought down as far as it can be, and still too much
            if make is not None and plan is not None and make.sound:
                cost = _cost(make, self.whole, 1 + len(self.before))
                best = Near(make, self.changes(self.values[at]), plan, cost)
                high = at - 1
            else:
                low = at + 1
            at = (low + high) // 2
        return best


def _cost(make: Make, whole: float, changes: int) -> float:
    """The share of the cloth given up, and a little for each change."""
    return 1 - make.least_area_cm2() / whole + EACH_CHANGE * changes


def _single(
    make: Make, cloth: Cloth, redraw: Redraw, known: Callable[[Mapping[str, float | str]], bool]
) -> Iterator[_Way]:
    """Every choice that makes the garment take less cloth, as far as the area does not rule it out."""
    for choice in make.draft.choices:
        if choice.name in OF_CLOTH or choice.name in SAME_AS_SHORTER:
            continue
        if choice.options:
            for option in choice.options:
                was = make.wish.get(choice.name, choice.default)
                wish = {**make.wish, choice.name: option}
                if option != was and not known(wish):
                    yield from _ways(make, cloth, choice, [option], redraw, was)
        elif choice.name == make.draft.shortened_by or choice.name.split("_")[0] not in BODILY:
            yield from _lower(make, cloth, choice, redraw)


def _lower(make: Make, cloth: Cloth, choice: Choice, redraw: Redraw) -> Iterator[_Way]:
    """A number brought down: a length by whole centimetres, another in equal steps to its least."""
    was = make.wish.get(choice.name, choice.default)
    if not isinstance(was, float | int):
        was = None
    if choice.name == make.draft.shortened_by:
        start = float(was or 0.0)
        most = min(NEAR, int(start - choice.low))
        values: list[float | str] = [start - by for by in range(1, most + 1)]
    else:
        start = choice.high if was is None else float(was)
        values = [start + (choice.low - start) * n / STEPS for n in range(1, STEPS + 1)]
        values = [round(float(value), 1) for value in values]
    yield from _ways(make, cloth, choice, list(dict.fromkeys(values)), redraw, was if was is None else start)


def _ways(
    make: Make,
    cloth: Cloth,
    choice: Choice,
    values: Sequence[float | str],
    redraw: Redraw,
    was: float | str | None,
    before: tuple[Change, ...] = (),
    whole: float | None = None,
) -> Iterator[_Way]:
    """The values that take less cloth; those that the area rules out are left away, found by halving."""
    last = redraw(make, choice.name, values[-1]) if values else None
    if last is None or last.least_area_cm2() >= make.least_area_cm2() or _too_big(last, cloth):
        return
    low, high = 0, len(values) - 1
    while low < high:
        at = (low + high) // 2
        other = redraw(make, choice.name, values[at])
        more = other is None or other.least_area_cm2() >= make.least_area_cm2() or _too_big(other, cloth)
        low, high = (at + 1, high) if more else (low, at)
    first, area = redraw(make, choice.name, values[high]), whole or make.least_area_cm2()
    if first is not None:
        least = max(_cost(first, area, 1 + len(before)), 0.0)
        yield _Way(make, before, choice.name, was, tuple(values[high:]), area, redraw, least)


def _too_big(make: Make, cloth: Cloth) -> bool:
    return make.least_area_cm2() > FILLS * cloth.usable_area_cm2


def _two_changes(
    make: Make, cloth: Cloth, planner: Planner, redraw: Redraw, tried: Sequence[_Way], below: float
) -> Near | None:
    """One change as far as it goes, and a shortening besides; the cheapest first."""
    best: Near | None = None
    shorten = make.draft.choice(make.draft.shortened_by)
    for one in [way for way in tried if way.choice != shorten.name]:
        changed, first = one.last(), one.changes(one.values[-1])
        if changed is None or _cost(changed, make.least_area_cm2(), 2) >= (best.lost if best else below):
            continue
        most = min(NEAR, int(-shorten.low))
        values: list[float | str] = [float(-n) for n in range(1, most + 1)]
        for way in _ways(changed, cloth, shorten, values, redraw, 0.0, first, make.least_area_cm2()):
            if way.least_cost < (best.lost if best else below):
                best = _better(best, way.solved(cloth, planner))
    return best if best is None or best.lost < below else None


# ---- pieces from another cloth -------------------------------------------------------------------


def hidden(piece: LayPiece) -> bool:
    """Whether a piece is not seen when worn, so that another cloth may serve for it."""
    return any(word in piece.name for word in HIDDEN)


def _moved(make: Make, cloth: Cloth, others: Sequence[Cloth], planner: Planner, below: float) -> Near | None:
    """The fewest pieces cut from another cloth, by halving: the rest goes on wherever more of it did."""
    pieces = make.pieces_on(cloth)
    whole = sum(piece.area_cm2 for piece in pieces)
    ordered = sorted(pieces, key=lambda piece: (not hidden(piece), piece.area_cm2))
    best: Near | None = None
    low, high = 1, len(ordered) - 1
    while low <= high:
        many = (low + high) // 2
        moved = tuple(ordered[:many])
        cost = _cost_of_moving(moved, whole)
        if cost >= below or sum(piece.area_cm2 for piece in moved) > MOST_MOVED * whole:
            high = many - 1
            continue
        kept = tuple(piece for piece in pieces if piece not in moved)
        plan = goes_onto(kept, cloth, planner)
        if plan is None:
            low = many + 1
            continue
        best = _on_another(make, cloth, moved, others, planner, plan, cost) or best
        high = many - 1
    return best if best is not None and make.sound else None


def _cost_of_moving(moved: Sequence[LayPiece], whole: float) -> float:
    counted = sum((UNSEEN if hidden(piece) else SEEN) * piece.area_cm2 for piece in moved)
    return counted / whole + EACH_CHANGE


def _on_another(
    make: Make,
    cloth: Cloth,
    moved: tuple[LayPiece, ...],
    others: Sequence[Cloth],
    planner: Planner,
    plan: LayPlan,
    cost: float,
) -> Near | None:
    """The smallest cloth that holds the moved pieces and hangs along where they are seen."""
    unseen = all(hidden(piece) for piece in moved)
    light, heavy = (factor * cloth.grams_per_m2 for factor in WEIGHTS)
    for other in sorted(others, key=lambda one: one.usable_area_cm2):
        along = unseen or light <= other.grams_per_m2 <= heavy
        if other.name == cloth.name or other.make != cloth.make or not along:
            continue
        laid = goes_onto(moved, other, planner)
        if laid is not None:
            titles = ", ".join(piece.title.lower() for piece in moved)
            change = Change("from another cloth", titles, 0.0, other.name)
            return Near(make, (change,), plan, cost, moved, other, laid)
    return None
