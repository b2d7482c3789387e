"""The way in: a lay problem becomes a verified plan.

plan(problem, layering)   least length of this layering
best_plan(problem)        the best layering is found, not asked
every_way(problem)        that, and what would take more cloth for fewer cuts
fits(problem)             yes with a plan, proved impossible with the reason, or not found
layering_table(...)       every layering for several widths of cloth
width_table(...)          metres for several widths of cloth

More freedom never costs cloth, because what is found with less is where the search with more begins: a lay
for one way on cloth that permits two, a folded lay cut open, a lay for narrower cloth.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from clothwise.errors import ClothError, LayError
from clothwise.lay.barriers import off_the_cloth
from clothwise.lay.cloth import LayCloth, Nap
from clothwise.lay.crosswise import crosswise_plan
from clothwise.lay.exact import MOST_MOVES, SLACK, provable, proved
from clothwise.lay.impossible import why_impossible
from clothwise.lay.layering import ACROSS, SINGLE, Layering
from clothwise.lay.layering_choice import layerings_for
from clothwise.lay.matching import phased
from clothwise.lay.moves import Setting, set_out
from clothwise.lay.nofit import NoFits
from clothwise.lay.overlap import Floats
from clothwise.lay.pins import check_pins
from clothwise.lay.placing import is_apart, lay_of, opened, plan_of
from clothwise.lay.plan import LayAnswer, LayPlan
from clothwise.lay.problem import LayProblem
from clothwise.lay.search import EFFORTS, PROVED, Effort, Lay, first_lay, least_length, shortened
from clothwise.lay.verify import faults
from clothwise.tolerance import LAY_TOUCH

MOST_PHASES = 3  # ways to lie among the stripes that are searched to the end, of all that are begun
SIMPLER_WORTH = 1.0  # cm of cloth: so much longer may a lay be that needs fewer cuts, and still be preferred
ROUGH = replace(EFFORTS["brief"], name="rough", builds=1)
FIRST = replace(ROUGH, name="first", rounds=0)  # for who watches: within a tenth of a second
FIRST_LOOK, SECOND_LOOK = "quick", "brisk"  # efforts that ask whether a make goes on,
CAME_NEAR = 1.04  # times the cloth's length: the second is given where the first came so near
HOPELESS = 1.08  # a layering whose first lay is this many times the shortest first lay is not searched further


Watch = Callable[[LayPlan | None], bool]
"""Told of each better, verified plan, and with None now and then in between; False ends the search."""


def plan(
    problem: LayProblem,
    layering: Layering = SINGLE,
    *,
    effort: str | Effort = "usual",
    known: NoFits | None = None,
    seeds: Sequence[LayPlan] = (),
    watch: Watch | None = None,
) -> LayPlan:
    """The shortest lay found for this cloth width and layering, verified. The cloth's length is not asked.

    effort  'quick' (some 10 ms for a garment of few pieces), 'usual' (about a second), 'thorough'
    known   no-fit polygons found before; hand the same one in again to save their making
    seeds   plans of the same pieces: folded, one-way or on narrower cloth. None is shorter than the answer
    watch   hears of progress, and may end the search; then the best so far is handed out
    Raises  LayError when a piece fits nowhere
    """
    search = _Search(_effort(effort), known or NoFits(), 0.0, watch)
    if layering.name == ACROSS.name:
        check_pins(problem, layering)
        return search.crosswise(problem, seeds, layering.depth if problem.pinned else None)
    return search.finished(search.begun(problem, layering, seeds), seeds)


def best_plan(
    problem: LayProblem,
    *,
    effort: str | Effort = "usual",
    known: NoFits | None = None,
    layerings: Sequence[Layering] | None = None,
    watch: Watch | None = None,
) -> LayPlan:
    """The shortest of all layerings worth a search; of nearly equal ones that with the fewest cuts.

    On a remnant the cloth's length is not asked: beyond its end lies free cloth.
    Raises  LayError when no layering holds every piece
    """
    return every_way(problem, effort=effort, known=known, layerings=layerings, watch=watch)[0]


def every_way(
    problem: LayProblem,
    *,
    effort: str | Effort = "usual",
    known: NoFits | None = None,
    layerings: Sequence[Layering] | None = None,
    watch: Watch | None = None,
) -> tuple[LayPlan, ...]:
    """The best plan first, then those that take more cloth for ever fewer cuts: the sewer may choose."""
    search = _Search(_effort(effort), known or NoFits(), 0.0, watch)
    found, most, refused = search.all_ways(problem, layerings)
    chosen = [_chosen(found, most, refused)]
    for other in sorted(found, key=lambda p: (p.length, p.cuts)):
        if other.cuts < chosen[-1].cuts:
            chosen.append(other)
    return tuple(chosen)


def fits(
    problem: LayProblem, *, effort: str = "usual", known: NoFits | None = None, watch: Watch | None = None
) -> LayAnswer:
    """Can everything be cut from this length of cloth?

    Raises  ClothError when the cloth's length is not given
    """
    cloth = problem.cloth
    if cloth.length is None:
        raise ClothError(
            "The cloth has no length.", where="cloth: length", mend="Give the length in centimetres."
        )
    known = known or NoFits()
    reason = why_impossible(problem, known)
    if reason:
        return LayAnswer("impossible", reason)
    found, _, refused = _Search(_effort(effort), known, cloth.length, watch).all_ways(problem, None)
    fitting = [p for p in found if p.length <= cloth.length]
    if fitting:
        best = min(fitting, key=lambda p: (p.cuts, p.length))
        return LayAnswer("yes", f"It fits, {best.layering}, on {best.length:.1f} cm.", best, best)
    if not found:
        return LayAnswer("impossible", refused[-1].what)
    least = min(found, key=lambda p: p.length)
    return LayAnswer(
        "not found",
        f"The shortest lay found at effort '{effort}' needs {least.length:.1f} cm, "
        f"{least.length - cloth.length:.1f} cm more than there is.",
        None,
        least,
    )


def goes_on(problem: LayProblem, *, known: NoFits | None = None) -> LayPlan | None:
    """A verified lay that goes onto the cloth in a single layer, or None where none was soon found.

    For asking of many cloths whether a make goes on: building stops at the first lay that is short enough, and
    only where the first lays came near it is searched further. Every folded lay is a single one, so where this
    is far too long the others are.

    Raises  LayError when a piece fits nowhere; ClothError when the cloth's length is not given
    """
    length = problem.cloth.length
    if length is None:
        raise ClothError(
            "The cloth has no length.", where="cloth: length", mend="Give the length in centimetres."
        )
    known = known or NoFits()
    for effort, on in ((FIRST_LOOK, False), (SECOND_LOOK, True)):
        search = _Search(EFFORTS[effort], known, length, None)
        made = search.best(search.begun(problem, SINGLE, ()), on=on)
        if made.length <= length:
            return checked(made)
        if made.length > CAME_NEAR * length:
            return None
    return None


@dataclass(frozen=True, slots=True)
class WidthRow:
    """What one width of cloth needs: a plan for each layering that holds the pieces, and the one to take."""

    width: float
    plans: tuple[LayPlan, ...]
    best: LayPlan | None
    reason: str = ""  # why there is none


def layering_table(
    problem: LayProblem,
    widths: Sequence[float],
    *,
    layerings: Sequence[Layering] | None = None,
    effort: str | Effort = "usual",
    known: NoFits | None = None,
    watch: Watch | None = None,
) -> tuple[WidthRow, ...]:
    """Every layering for every width, in the order asked. Wider never needs more length than narrower."""
    search = _Search(_effort(effort), known or NoFits(), 0.0, watch)
    rows = search.table(problem, sorted(set(widths)), layerings)
    return tuple(rows[width] for width in widths)


def width_table(
    problem: LayProblem, widths: Sequence[float], *, effort: str = "usual", known: NoFits | None = None
) -> tuple[tuple[float, LayPlan | None], ...]:
    """The best plan for each width of cloth, None where a piece is too wide."""
    return tuple((row.width, row.best) for row in layering_table(problem, widths, effort=effort, known=known))


def checked(made: LayPlan) -> LayPlan:
    """The plan marked as verified; a fault here is our own bug."""
    wrong = faults(_on_free_cloth(made))
    if wrong:
        raise AssertionError(f"The lay failed its check: {' '.join(wrong)}")
    return replace(made, verified=True)


def _on_free_cloth(made: LayPlan) -> LayPlan:
    """The plan on cloth that does not end too soon: beyond a remnant's end, what is missing is a flaw."""
    cloth = made.problem.cloth
    if cloth.length is None or cloth.outline is None:
        free = replace(cloth, length=None)
    elif made.length > cloth.length:
        missing = tuple(tuple(part.exterior.coords[:-1]) for part in off_the_cloth(cloth))
        free = replace(cloth, length=None, outline=None, flaws=missing)
    else:
        free = cloth
    return replace(made, problem=replace(made.problem, cloth=free))


def _effort(name: str | Effort) -> Effort:
    if isinstance(name, Effort):
        return name
    if name not in EFFORTS:
        raise LayError(
            f"An effort called '{name}' is not known.", where="lay: effort", mend=f"Say {', '.join(EFFORTS)}."
        )
    return EFFORTS[name]


def _chosen(found: list[LayPlan], most: float, refused: list[LayError]) -> LayPlan:
    """Of plans nearly as short as the shortest, none longer than `most`, that with the fewest cuts."""
    if not found:
        raise refused[-1]
    least = min(p.length for p in found)
    near = [p for p in found if p.length <= max(least, min(least + SIMPLER_WORTH, most))]
    return min(near, key=lambda p: (p.cuts, p.length))


def _instead(seed: LayPlan, made: LayPlan) -> LayPlan | None:
    """The shorter seed as an answer to the same question, or None where it is none."""
    same = seed.layering == made.layering and seed.problem.cloth.width == made.problem.cloth.width
    if made.layering == SINGLE:
        seed, same = opened(seed), True
    other = replace(seed, problem=made.problem, optimal=False)
    return other if same and not faults(_on_free_cloth(other)) else None


def _as_wide(cloth: LayCloth, width: float) -> LayCloth:
    """A straight length of the same cloth, so wide."""
    return replace(cloth, width=width, length=None, outline=None, flaws=())


def _less_free(problem: LayProblem) -> LayProblem | None:
    """The same pieces with less freedom to turn, or None when that changes nothing."""
    pieces, cloth = problem.pieces, problem.cloth
    order: tuple[Nap, ...] = ("none", "two-way", "one-way")
    for nap in order[order.index(cloth.nap) + 1 :]:
        less = replace(cloth, nap=nap)
        if any(piece.angles_on(less) != piece.angles_on(cloth) for piece in pieces):
            return replace(problem, cloth=less)
    return None


@dataclass(frozen=True, slots=True)
class _Begun:
    """A first lay in one setting."""

    setting: Setting
    areas: Floats
    lay: Lay
    seeded: bool = False

    def begun_with(self, seeds: Sequence[LayPlan]) -> _Begun:
        """The shortest of this lay and the seeds that are lays in this setting."""
        best = self
        for seed in seeds:
            known = lay_of(self.setting, seed)
            if known is not None and known.length < best.lay.length and is_apart(self.setting, known):
                best = replace(self, lay=known, seeded=True)
        return best


@dataclass(frozen=True, slots=True)
class _Search:
    """How hard to look, what is known, how short is short enough, and who watches."""

    effort: Effort
    known: NoFits
    enough: float
    watch: Watch | None
    told: list[float] = field(default_factory=list)  # lengths told to who watches, each shorter

    def all_ways(
        self,
        problem: LayProblem,
        layerings: Sequence[Layering] | None,
        seeds: Sequence[LayPlan] = (),
        *,
        stricter: bool = True,
    ) -> tuple[list[LayPlan], float, list[LayError]]:
        """A plan for each layering that holds every piece, the length not to be exceeded, and the refusals.

        The single layer comes last and begins with the best of the others. `stricter`: what can be had with
        less freedom to turn is found first, unless it is among the seeds already.
        """
        ways = layerings_for(problem) if layerings is None else layerings
        if layerings is None and not self.effort.tries:
            ways = [way for way in ways if way.name != "partial fold"]
        most = np.inf
        less = _less_free(problem) if stricter and self.effort.tries else None
        if less is not None:
            plans, bound, _ = replace(self, watch=self._hearing(problem)).all_ways(less, ways, seeds)
            if plans:
                most = _chosen(plans, bound, []).length
                seeds = [*seeds, *(replace(p, problem=problem) for p in plans)]
            if min((p.length for p in plans), default=np.inf) <= self.enough:
                return [checked(replace(p, problem=problem)) for p in plans], most, []
        begun: list[tuple[Layering, list[_Begun]]] = []
        refused: list[LayError] = []
        for way in sorted(ways, key=lambda one: (one == SINGLE, one.name == ACROSS.name)):
            try:
                begun.append((way, [] if way.name == ACROSS.name else self.begun(problem, way, seeds)))
            except LayError as error:
                refused.append(error)
        hopeless = HOPELESS * min((first[0].lay.length for _, first in begun if first), default=np.inf)
        found: list[LayPlan] = []
        for way, first in begun:
            if not first:
                found += self._across(problem, seeds, found, hopeless, refused)
                continue
            on = way == SINGLE or (first[0].lay.length <= hopeless and not self._enough(found))
            found.append(self.finished(first, [*seeds, *found], on=on))
        return found, most, refused

    def _across(
        self,
        problem: LayProblem,
        seeds: Sequence[LayPlan],
        folded: Sequence[LayPlan],
        hopeless: float,
        refused: list[LayError],
    ) -> list[LayPlan]:
        """The lay on a crosswise fold, where it may spare cuts that no lengthwise fold spares."""
        if self._enough(folded) or (folded and not self.effort.tries):
            return []
        try:
            first = replace(self, effort=ROUGH).crosswise(problem, seeds)
            return [self.crosswise(problem, [*seeds, first]) if first.length <= hopeless else first]
        except LayError as error:
            refused.append(error)
            return []

    def crosswise(
        self, problem: LayProblem, seeds: Sequence[LayPlan] = (), line: float | None = None
    ) -> LayPlan:
        """The cloth folded across, its parts each a single layer; a seed folded so where that is shorter.

        Raises  LayError when the cloth or the pieces do not permit it
        """
        watch = self.watch
        quiet = None if watch is None else lambda made: watch(None)  # a part is no plan to be told of
        part = replace(self, watch=quiet, enough=0.0, told=[])
        found = checked(crosswise_plan(problem, lambda one: part.finished(part.begun(one, SINGLE, ())), line))
        for seed in seeds:
            if seed.layering.name == ACROSS.name and seed.length < found.length - LAY_TOUCH:
                other = replace(seed, problem=problem)
                found = found if faults(_on_free_cloth(other)) else checked(other)
        return found

    def table(
        self, problem: LayProblem, widths: Sequence[float], layerings: Sequence[Layering] | None
    ) -> dict[float, WidthRow]:
        """Rows by width, narrow ones first; each begins with the narrower and with the stricter."""
        less = _less_free(problem) if self.effort.tries else None
        strict: dict[float, WidthRow] = {}
        if less is not None:
            strict = replace(self, watch=self._hearing(problem)).table(less, widths, layerings)
        rows: dict[float, WidthRow] = {}
        narrower: tuple[LayPlan, ...] = ()
        shortest = np.inf
        for width in widths:
            asked = replace(problem, cloth=_as_wide(problem.cloth, width))
            known = strict.get(width)
            seeds = [replace(p, problem=asked) for p in known.plans] if known else []
            found, _, refused = self.all_ways(asked, layerings, [*narrower, *seeds], stricter=False)
            if not found:
                rows[width] = WidthRow(width, (), None, refused[-1].what)
                continue
            narrower = tuple(found)
            shortest = min(shortest, known.best.length if known and known.best else np.inf)
            best = _chosen(found, shortest, refused)
            shortest = min(shortest, best.length)
            rows[width] = WidthRow(width, tuple(found), best)
        return rows

    def _enough(self, found: Sequence[LayPlan]) -> bool:
        return any(p.length <= self.enough for p in found)

    def begun(self, problem: LayProblem, layering: Layering, seeds: Sequence[LayPlan]) -> list[_Begun]:
        """First lays, the shortest first; several where stripes may lie in several ways.

        Raises  LayError when the layering does not hold every piece
        """
        check_pins(problem, layering)
        found: list[_Begun] = []
        refused: list[LayError] = []
        for settled in phased(problem, layering):
            try:
                setting = set_out(settled, layering, self.known, slack=self.effort.slack)
            except LayError as error:
                refused.append(error)
                continue
            areas = np.array([m.piece.area_cm2 / m.piece.count * len(m.copies) for m in setting.moves])
            heard = self._heard(setting)
            if heard is not None:  # something to show at once
                heard(first_lay(setting.tables, areas, FIRST))
            lay = first_lay(setting.tables, areas, self.effort, self._bound(setting, areas))
            found.append(_Begun(setting, areas, lay).begun_with(seeds))
        if not found:
            raise refused[-1]
        return sorted(found, key=lambda one: one.lay.length)

    def finished(self, begun: Sequence[_Begun], seeds: Sequence[LayPlan] = (), *, on: bool = True) -> LayPlan:
        """The best of the first lays searched on, verified; a seed where that is shorter."""
        return checked(self.best(begun, seeds, on=on))

    def best(self, begun: Sequence[_Begun], seeds: Sequence[LayPlan] = (), *, on: bool = True) -> LayPlan:
        """The same before it is verified."""
        plans = [self._searched(one, seeds, on=on) for one in begun[:MOST_PHASES]]
        made = min(plans, key=lambda p: p.length)
        for seed in seeds:  # what the search cannot begin with, for its outlines are thinned otherwise
            if seed.length < made.length - LAY_TOUCH:
                made = _instead(seed, made) or made
        return made

    def _searched(self, begun: _Begun, seeds: Sequence[LayPlan], *, on: bool) -> LayPlan:
        begun = begun.begun_with(seeds)
        setting, lay = begun.setting, begun.lay
        effort = replace(self.effort, tries=self.effort.tries // 2) if begun.seeded else self.effort
        bound = self._bound(setting, begun.areas)
        if on and len(setting.moves):
            lay = shortened(setting.tables, lay, effort, bound, self._heard(setting))
        made = plan_of(setting, lay)
        least = least_length(setting.tables, begun.areas, setting.problem.cloth.width)
        made = replace(made, optimal=made.length <= least + PROVED)
        few = 0 < len(setting.moves) <= MOST_MOVES
        if on and few and self.effort.nodes and not made.optimal and made.length > self.enough:
            made = self._proved(made, least)
        return made

    def _proved(self, made: LayPlan, least: float) -> LayPlan:
        """The shortest lay of few moves, said to be so; any other as it is."""
        setting = set_out(made.problem, made.layering, self.known, slack=SLACK)
        if not provable(setting.tables):
            return made
        watch = self.watch
        on = None if watch is None else lambda: watch(None)
        shorter, optimal = proved(setting.tables, made.length, least, self.effort.nodes, on)
        return replace(made if shorter is None else plan_of(setting, shorter), optimal=optimal)

    def _bound(self, setting: Setting, areas: Floats) -> float:
        """Shorter than this is not worth a search. [cm]"""
        return max(self.enough, least_length(setting.tables, areas, setting.problem.cloth.width))

    def _heard(self, setting: Setting) -> Callable[[Lay], bool] | None:
        """Passes what the search says on to who watches."""
        watch = self.watch
        if watch is None:
            return None

        def heard(lay: Lay) -> bool:
            if self.told and lay.length >= self.told[-1]:
                return watch(None)
            self.told.append(lay.length)
            return watch(checked(plan_of(setting, lay)))

        return heard

    def _hearing(self, problem: LayProblem) -> Watch | None:
        """Who watches hears of a stricter problem's plans as plans of the one asked."""
        watch = self.watch
        if watch is None:
            return None
        return lambda made: watch(made if made is None else replace(made, problem=problem))
