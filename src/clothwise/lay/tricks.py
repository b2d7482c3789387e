"""Trade tricks that save cloth, each tried by a real lay: what it saves, what it costs.

None is taken by itself: it is offered, and the sewer decides. Source: trade knowledge, as cutters teach it;
house rules 2026-11 for the sizes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from shapely.geometry import LineString, Polygon

from clothwise.errors import LayError
from clothwise.lay.dividing import JOIN, across_the_grain, seamed_on_the_fold, with_the_grain
from clothwise.lay.layering import FOLDED, SINGLE, Layering
from clothwise.lay.nofit import NoFits
from clothwise.lay.piece import STRAIGHT, STRAIGHT_OR_CROSSWISE, LayPiece
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import best_plan, plan
from clothwise.lay.problem import LayProblem
from clothwise.tolerance import LAY_FOLD

TrickName = Literal[
    "open out", "nest small pieces", "small pieces crosswise", "join what is hidden", "join a panel"
]

WORTH = 3.0  # cm of cloth: less is not worth another cut or seam
SMALL = 0.25  # share of the largest piece: what is smaller is called small
JOIN_MINUTES = 5  # minutes: pin, sew, press and neaten a short join (house rule)


@dataclass(frozen=True, slots=True)
class Trick:
    """One change of the task. `layering` None: whichever is shortest."""

    name: TrickName
    says: str
    costs: str
    problem: LayProblem
    layering: Layering | None = None


@dataclass(frozen=True, slots=True)
class Offer:
    """A trick that saves cloth, with its verified lay. `saves` [cm]; None: there is no lay without it."""

    trick: Trick
    plan: LayPlan
    saves: float | None

    @property
    def sentence(self) -> str:
        """What to do, what it saves, what it costs."""
        saved = "makes it possible" if self.saves is None else f"saves {self.saves:.0f} cm"
        return f"{self.trick.says}: {saved} ({self.plan.length / 100:.2f} m in all). {self.trick.costs}"


def offers(
    problem: LayProblem,
    against: LayPlan | None,
    *,
    effort: str = "usual",
    known: NoFits | None = None,
    plain: bool = True,
) -> tuple[Offer, ...]:
    """The tricks that save cloth, the best first.

    against  the lay she would make without them; None: there is none. Opening out and nesting are measured
             against it, the others against the shortest lay of the pieces as they are
    plain    the cloth is woven and unpatterned, so small pieces may lie crosswise where it has no nap
    """
    known = known or NoFits()
    shortest = _shortest(problem, against, effort, known)
    found = []
    for trick in tricks(problem, against, plain=plain):
        try:
            if trick.layering is None:
                made = best_plan(trick.problem, effort=effort, known=known)
            else:
                made = plan(trick.problem, trick.layering, effort=effort, known=known)
        except LayError:
            continue  # this trick does not help here
        other = shortest if trick.layering is None else against
        saves = None if other is None else other.length - made.length
        if saves is None or saves >= WORTH:
            found.append(Offer(trick, made, saves))
    best: dict[TrickName, Offer] = {}
    for offer in found:  # of several ways to do the same the best one
        held = best.get(offer.trick.name)
        if held is None or offer.plan.length < held.plan.length:
            best[offer.trick.name] = offer
    return tuple(sorted(best.values(), key=lambda o: (o.plan.length, len(o.trick.costs))))


def _shortest(problem: LayProblem, against: LayPlan | None, effort: str, known: NoFits) -> LayPlan | None:
    try:
        found = best_plan(problem, effort=effort, known=known)
    except LayError:
        return against
    return found if against is None or found.length < against.length else against


def tricks(problem: LayProblem, against: LayPlan | None, *, plain: bool = True) -> Iterator[Trick]:
    """Every trick that could be tried."""
    yield from _open_out(problem, against)
    yield from _nest(problem, against)
    if plain and problem.cloth.nap == "none" and problem.cloth.repeat is None:
        yield from _crosswise(problem)
    yield from _join_hidden(problem)
    yield from _join_panel(problem)


def _open_out(problem: LayProblem, against: LayPlan | None) -> Iterator[Trick]:
    if against is None or against.layering == SINGLE:
        return
    halves = [piece for piece in problem.pieces if piece.on_fold]
    if halves:
        says = f"Unfold {_names(halves)} on paper and lay the cloth open"
    else:
        says = "Lay the cloth open and cut left and right one by one"
    costs = "More to cut, each piece on its own; turn the paper over for the second of a pair."
    yield Trick("open out", says, costs, problem, SINGLE)


def _nest(problem: LayProblem, against: LayPlan | None) -> Iterator[Trick]:
    """On folded cloth small pairs need not lie double: they find room one by one between the large ones."""
    if against is None or against.layering == SINGLE:
        return
    small = [p for p in _small(problem) if p.count > 1 and not p.on_fold and not p.apart]
    if small:
        yield Trick(
            "nest small pieces",
            f"Cut {_names(small)} one by one, nested under and between the large pieces",
            f"{len(small)} more to cut; mark left and right at once.",
            _with(problem, {p.name: (replace(p, apart=True),) for p in small}),
            against.layering if against.layering != SINGLE else FOLDED,
        )


def _crosswise(problem: LayProblem) -> Iterator[Trick]:
    small = [p for p in _small(problem) if p.angles == STRAIGHT and not p.match]
    if small:
        turned = {p.name: (_turnable(p),) for p in small}
        yield Trick(
            "small pieces crosswise",
            f"Cut {_names(small)} crosswise where it helps",
            "The crosswise thread gives a little more: interface what must not stretch.",
            _with(problem, turned),
        )


def _turnable(piece: LayPiece) -> LayPiece:
    """May lie crosswise; unfolded first, since no fold runs crosswise there."""
    if piece.on_fold:
        piece = replace(piece, outline=piece.whole_outline, on_fold=False, fold_edge=None, either_side_up=True)
    return replace(piece, angles=STRAIGHT_OR_CROSSWISE)


def _join_hidden(problem: LayProblem) -> Iterator[Trick]:
    """Facings are not seen: a join in them costs minutes, not looks."""
    hidden = [p for p in problem.pieces if p.hidden]
    joined: dict[str, tuple[LayPiece, ...]] = {}
    for piece in hidden:
        try:
            joined[piece.name] = (seamed_on_the_fold(piece),) if piece.on_fold else _halved(piece)
        except LayError:
            continue  # it would fall apart or is too small to join
    done = [p for p in hidden if p.name in joined]
    if done:
        yield Trick(
            "join what is hidden",
            f"Piece {_names(done)} with a seam",
            f"One more seam in each, inside, about {JOIN_MINUTES * len(done)} minutes in all; press it open.",
            _with(problem, joined),
        )


def _halved(piece: LayPiece) -> tuple[LayPiece, LayPiece]:
    x0, y0, x1, y1 = Polygon(piece.outline).bounds
    if y1 - y0 >= x1 - x0:
        return across_the_grain(piece, (y0 + y1) / 2)
    return with_the_grain(piece, (x0 + x1) / 2)


def _join_panel(problem: LayProblem) -> Iterator[Trick]:
    """The widest piece divided with the grain: where the cloth ends, or in its middle."""
    straight = [p for p in problem.pieces if p.angles == STRAIGHT and not p.hidden]
    if not straight:
        return
    piece = max(straight, key=_whole_width)
    low, high = _bounds(piece)
    width = problem.cloth.width
    if _whole_width(piece) < width / 2:
        return  # it lies beside others: a join saves nothing that a smaller piece would not
    fold_at_low = piece.on_fold and abs(piece.fold_x - low) < abs(piece.fold_x - high)
    from_fold = 1.0 if fold_at_low or not piece.on_fold else -1.0
    start = low if from_fold > 0 else high
    room = (width / 2 if piece.on_fold else width) - problem.gap - JOIN - LAY_FOLD
    for at in (start + from_fold * room, (low + high) / 2):
        try:
            parts = with_the_grain(piece, at)
        except LayError:
            continue  # not there
        yield Trick(
            "join a panel",
            f"Divide '{piece.title}' with the grain and join it, {abs(at - start):.0f} cm from "
            f"{'its fold' if piece.on_fold else 'one side'}",
            f"A seam that shows, {_length(piece, at):.0f} cm long; let it fall where the eye expects one.",
            _with(problem, {piece.name: parts}),
        )


def _length(piece: LayPiece, at: float) -> float:
    """How long the join is. [cm]"""
    _, y0, _, y1 = Polygon(piece.outline).bounds
    return float(Polygon(piece.outline).intersection(LineString([(at, y0 - 1), (at, y1 + 1)])).length)


def _small(problem: LayProblem) -> list[LayPiece]:
    areas = {p.name: Polygon(p.whole_outline).area for p in problem.pieces}
    most = max(areas.values())
    return [p for p in problem.pieces if areas[p.name] <= SMALL * most]


def _bounds(piece: LayPiece) -> tuple[float, float]:
    xs = [x for x, _ in piece.outline]
    return min(xs), max(xs)


def _whole_width(piece: LayPiece) -> float:
    low, high = _bounds(piece)
    return (high - low) * (2 if piece.on_fold else 1)


def _with(problem: LayProblem, changed: Mapping[str, tuple[LayPiece, ...]]) -> LayProblem:
    pieces = [new for piece in problem.pieces for new in changed.get(piece.name, (piece,))]
    return replace(problem, pieces=tuple(pieces))


def _names(pieces: Sequence[LayPiece]) -> str:
    titles = [f"'{piece.title}'" for piece in pieces]
    return titles[0] if len(titles) == 1 else f"{', '.join(titles[:-1])} and {titles[-1]}"
