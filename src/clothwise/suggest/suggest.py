"""What can I make, that will fit, from what I have, in the time I've got?

Every house draft with every option of its main choices, on every cloth: ranked best first, each answer really
drawn, checked, laid and timed. The best is taken from a queue ordered by what each can score at most (see
`candidate`); a candidate comes out when its score is exact and no other can beat it, so the ranking is that of
looking at all of them closely. Where no make of a draft can be cut from a cloth, the least change that makes it
possible is searched (see `near`).
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from heapq import heapify, heappop, heappush
from itertools import product
from typing import Any, Protocol

from clothwise.body import estimate
from clothwise.body.slips import slips
from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS, HouseDraft
from clothwise.lay.verify import faults
from clothwise.shopping.box import BoxItem
from clothwise.suggest.answer import Answer, Change, Refusal, Suggestions
from clothwise.suggest.answering import answer_of
from clothwise.suggest.candidate import Candidate, Evening, Make
from clothwise.suggest.laying import Planner, goes_onto, rules_out, shortest_of
from clothwise.suggest.near import Near, Redraw, near_miss
from clothwise.suggest.stretching import Stretch, asks_stretch, drawn_for, least_stretch

SAME_AGAIN = 0.06  # off the score, for ranking only, each time a draft or a cloth already stands above
MOST = 24  # answers handed out: more than anybody reads
MOST_NEAR = 6  # near misses besides
NEAR_TRIED = 9  # drafts and cloths tried for them, the least lacking first
EARLY = 3  # answers told at once, before their rank is known
CLOTH_WIDTH_STEP = 10.0  # cm: a draft joined for narrow cloth is drawn for the width rounded down to this
GENERAL = ""  # in place of a cloth: it cannot be made for this person at all

Pair = tuple[str, str]  # draft and cloth
Found = Callable[[Answer], None]
Progress = Callable[[int, int], None]  # looked at, of how many
Key = tuple[float, int]  # negative score at most, and a number that keeps equals in order

__all__ = ["Evening", "Memory", "Planner", "choices_of", "suggest"]


class Memory(Protocol):
    """Remembers what came out of a question asked before: which makes, and what fell out with its reason. The
    answers themselves are drawn, laid and timed again."""

    def recalled(self, question: str) -> str | None: ...

    def keep(self, question: str, text: str) -> None: ...


def suggest(
    evening: Evening,
    cloths: Sequence[Cloth],
    planner: Planner,
    drafts: Sequence[HouseDraft] = PATTERNS,
    *,
    most: int = MOST,
    found: Found | None = None,
    early: Found | None = None,
    progress: Progress | None = None,
    memory: Memory | None = None,
    box: Sequence[BoxItem] = (),
) -> Suggestions:
    """What can be made, best first, near misses after.

    most      answers that can be made as they are; at most so many
    found     told each answer as soon as its place is sure
    early     told a few good answers at once, before their places are known; they may not stand in the end
    progress  told how many of all makes on all cloths have been decided
    memory    what came out of the same question before
    box       haberdashery that is there already
    """
    search = _Search(evening, cloths, planner, drafts, found, progress, box)
    question = repr((evening, list(cloths), [draft.name for draft in drafts], most))
    kept = memory.recalled(question) if memory else None
    if kept is not None:
        return search.again(json.loads(kept))
    suggestions = search.run(most, early)
    if memory:
        memory.keep(question, _kept(suggestions))
    return suggestions


class _Search:
    def __init__(
        self,
        evening: Evening,
        cloths: Sequence[Cloth],
        planner: Planner,
        drafts: Sequence[HouseDraft],
        found: Found | None,
        progress: Progress | None,
        box: Sequence[BoxItem],
    ) -> None:
        self.evening, self.planner, self.box = evening, planner, box
        self.found, self.progress = found or (lambda answer: None), progress or (lambda done, of: None)
        self.cloths = {cloth.name: cloth for cloth in cloths}
        self.drafts = {draft.name: draft for draft in drafts}
        self.refusals: dict[Pair, str] = {}
        self.short: dict[Pair, list[Make]] = defaultdict(list)
        self.waiting: dict[Pair, list[Candidate]] = defaultdict(list)
        self.seen: dict[str, int] = defaultdict(int)
        self.stretch_needed: dict[str, float | None] = {}
        self.body = estimate(evening.body)

    # -- what there is to look at --------------------------------------------------------------------
    def _candidates(self) -> Iterator[Candidate]:
        asked = self.evening.asked
        for draft in self.drafts.values():
            if self.body.age_years is not None and self.body.age_years < draft.least_age:
                self.refusals[draft.name, GENERAL] = f"It is meant for {draft.least_age:g} years and older."
                continue
            makes: dict[tuple[object, ...], Make] = {}
            fit_for = []
            for cloth in self.cloths.values():
                why = self._refused(draft, cloth)
                if why:
                    self.refusals[draft.name, cloth.name] = why
                else:
                    fit_for.append(cloth)
            forms = self._forms(draft, fit_for)
            for cloth in fit_for:
                for number, wish in enumerate(choices_of(draft, cloth)):
                    form = forms[number]
                    one = form if form.wish == wish else Make(draft, wish, self.body, form=form)
                    make = makes.setdefault(tuple(wish.items()), one)
                    candidate = Candidate(make, cloth, asked)
                    self.waiting[draft.name, cloth.name].append(candidate)
                    yield candidate

    def _forms(self, draft: HouseDraft, cloths: Sequence[Cloth]) -> list[Make]:
        """One form to each wish of `choices_of`: for the greatest stretch, and the width, among the cloths."""
        if not cloths:
            return []
        ideal = max(cloths, key=lambda one: (drawn_for(one), one.usable_width))
        return [Make(draft, wish, self.body) for wish in choices_of(draft, ideal)]

    def _refused(self, draft: HouseDraft, cloth: Cloth) -> str:
        """Why a cloth is nothing for a draft, before anything is drawn."""
        if cloth.make not in draft.makes:
            return f"Drafted for {' or '.join(draft.makes)} cloth; this one is {cloth.make}."
        if asks_stretch(draft) and drawn_for(cloth) < draft.choice("stretch").low:
            return self._stretch_refusal(draft, cloth, str(draft.choice("stretch").low))
        return ""

    def _stretch_refusal(self, draft: HouseDraft, cloth: Cloth, otherwise: str) -> str:
        """The arithmetic, where a cloth that stretches further would do; else the sentence given."""
        if draft.name not in self.stretch_needed:
            redraw = Redraw.new()
            plain = Make(draft, next(choices_of(draft, cloth)), self.body)
            self.stretch_needed[draft.name] = least_stretch(
                draft, plain.wish, lambda wish: redraw(plain, "stretch", wish["stretch"]) is not None
            )
        needs = self.stretch_needed[draft.name]
        if needs is None or needs <= cloth.stretch_across:
            return otherwise
        return Stretch(needs, cloth.stretch_across).sentence(draft.title)

    # -- ranking ----------------------------------------------------------------------------------------
    def run(self, most: int, early: Found | None) -> Suggestions:
        candidates = list(self._candidates())
        if early:
            self._tell_early(candidates, early)
        answers = list(self._ranked(candidates, most))
        near = list(self._near_misses(MOST_NEAR))
        self.progress(len(candidates), len(candidates))
        doubts = tuple(slip.sentence for slip in slips(self.evening.body))
        refusals = tuple(Refusal(draft, cloth, why) for (draft, cloth), why in self.refusals.items())
        return Suggestions((*answers, *near), refusals, doubts)

    def again(self, kept: dict[str, Any]) -> Suggestions:
        """The same answers in the same order, each drawn, laid and timed anew."""
        answers = []
        for pattern, cloth_name, wish, changes, others in kept["answers"]:
            candidate = Candidate(
                Make(self.drafts[pattern], wish, self.body), self.cloths[cloth_name], self.evening.asked
            )
            near = self._near_again(candidate, changes, others)
            if near is None and not all(candidate.look_closer(self.evening, self.planner) for _ in range(2)):
                continue
            answers.append(self._answer(candidate, near))
            self.found(answers[-1])
        refusals = tuple(Refusal(*refusal) for refusal in kept["refusals"])
        doubts = tuple(slip.sentence for slip in slips(self.evening.body))
        return Suggestions(tuple(answers), refusals, doubts)

    def _near_again(self, candidate: Candidate, changes: list[Any], others: list[str]) -> Near | None:
        """A near miss as it was found, laid again."""
        if not changes:
            return None
        make, cloth = candidate.make, candidate.cloth
        made = tuple(Change(*change) for change in changes)
        moved = tuple(piece for piece in make.pieces if piece.name in others)
        kept = tuple(piece for piece in make.pieces_on(cloth) if piece.name not in others)
        plan = goes_onto(kept, cloth, self.planner)
        other = self.cloths.get(str(made[0].was)) if moved else None
        other_plan = goes_onto(moved, other, self.planner) if other else None
        if plan is None or (moved and other_plan is None):
            return None
        candidate.draw(self.evening)
        candidate.plan = plan
        return Near(make, made, plan, 0.0, moved, other, other_plan)

    def _tell_early(self, candidates: Sequence[Candidate], early: Found) -> None:
        """Good answers at once: the first make of the drafts that suit best, each on its best cloth."""
        told: set[str] = set()
        for one in sorted(candidates, key=lambda c: -c.score):
            key = one.make.draft.name
            if key in told or one.cloth.name in told:
                continue
            trial = Candidate(one.make, one.cloth, self.evening.asked)
            if all(trial.look_closer(self.evening, self.planner) for _ in range(2)) and trial.make.sound:
                early(self._answer(trial))
                told |= {key, one.cloth.name}
            if len(told) >= 2 * EARLY:
                return

    def _ranked(self, candidates: Sequence[Candidate], most: int) -> Iterator[Answer]:
        queue = [(self._key(c, n), c) for n, c in enumerate(candidates)]
        heapify(queue)
        given = 0
        while queue and given < most:
            key, candidate = heappop(queue)
            now = self._key(candidate, key[1])
            if now > key:  # its draft or cloth was given meanwhile
                heappush(queue, (now, candidate))
            elif candidate.look < 2:
                if candidate.look_closer(self.evening, self.planner):
                    heappush(queue, (self._key(candidate, key[1]), candidate))
                else:
                    self._fell_out(candidate)
                self.progress(len(candidates) - len(queue), len(candidates))
            elif candidate.make.sound:
                answer = self._answer(candidate)
                self._count(candidate)
                self.found(answer)
                given += 1
                yield answer

    def _key(self, candidate: Candidate, number: int) -> Key:
        pattern, cloth = candidate.make.draft.name, candidate.cloth.name
        again = self.seen[pattern] + self.seen["cloth " + cloth]
        return -(candidate.score - SAME_AGAIN * again), number

    def _count(self, candidate: Candidate) -> None:
        pair = candidate.make.draft.name, candidate.cloth.name
        self.seen[pair[0]] += 1
        self.seen["cloth " + pair[1]] += 1
        self.waiting.pop(pair, None)  # something of this draft can be cut from this cloth
        self.short.pop(pair, None)

    def _fell_out(self, candidate: Candidate) -> None:
        make, cloth = candidate.make, candidate.cloth
        pair = make.draft.name, cloth.name
        if make.refusal and asks_stretch(make.draft):
            self.refusals.setdefault(pair, self._stretch_refusal(make.draft, cloth, make.refusal))
        elif make.refusal:
            self.refusals.setdefault((pair[0], GENERAL), make.refusal)
        elif pair in self.waiting:
            self.short[pair].append(make)

    # -- near misses ------------------------------------------------------------------------------------
    def _near_misses(self, most: int) -> Iterator[Answer]:
        """For drafts of which nothing goes onto a cloth, the best suited first."""
        redraw, given = Redraw.new(), list[tuple[float, Answer]]()
        pairs = sorted(self.short, key=self._far_off)
        for draft, cloth_name in pairs[:NEAR_TRIED]:
            cloth = self.cloths[cloth_name]
            if len(given) >= most or self._one_goes_on((draft, cloth_name)):
                continue
            near = self._nearest(self.short[draft, cloth_name], cloth, redraw)
            if near is None:
                self.refusals[draft, cloth_name] = _why_not(self.short[draft, cloth_name], cloth)
                continue
            candidate = Candidate(near.make, cloth, self.evening.asked)
            candidate.draw(self.evening)
            candidate.plan = near.plan
            given.append((candidate.score, self._answer(candidate, near)))
        yield from (answer for _, answer in sorted(given, key=lambda g: -g[0]))

    def _far_off(self, pair: Pair) -> float:
        """How little a near miss would be worth, and how far the cloth is too small for it."""
        least = min(make.least_area_cm2() for make in self.short[pair])
        lacking = max(0.0, least / self.cloths[pair[1]].usable_area_cm2 - 1)
        return lacking - max(candidate.score for candidate in self.waiting[pair])

    def _nearest(self, short: Sequence[Make], cloth: Cloth, redraw: Redraw) -> Near | None:
        """The least change of the make that takes least: where it cannot be had, no other can either."""
        others = [one for one in self.cloths.values() if one.name != cloth.name]
        make = min(short, key=lambda one: one.least_area_cm2())
        wishes = {tuple(sorted(one.wish.items())) for one in short}

        def known(wish: Any) -> bool:
            return tuple(sorted(wish.items())) in wishes

        return near_miss(make, cloth, self.planner, redraw=redraw, others=others, known=known)

    def _one_goes_on(self, pair: Pair) -> bool:
        """Whether a make that nobody looked at yet can be cut from this cloth as it is."""
        for candidate in self.waiting[pair]:
            while candidate.look < 2 and not candidate.too_long:
                if not candidate.look_closer(self.evening, self.planner):
                    if candidate.too_long:
                        self.short[pair].append(candidate.make)
                    break
            if candidate.plan is not None:
                return True
        return False

    # -- answers ------------------------------------------------------------------------------------------
    def _answer(self, candidate: Candidate, near: Near | None = None) -> Answer:
        assert candidate.plan is not None
        if near is None:
            candidate.plan = shortest_of(candidate.plan, candidate.cloth, self.planner)
        for plan in (candidate.plan, near.other_plan if near else None):
            wrong = faults(plan) if plan is not None else ()
            assert not wrong, f"A lay to be suggested fails its check: {' '.join(wrong)}"
        return answer_of(candidate, self.evening, near, self.box)


def _kept(suggestions: Suggestions) -> str:
    """What is remembered of an answered question."""
    rows = [
        (
            a.ticket.pattern,
            a.ticket.cloth_name,
            dict(a.ticket.choices),
            [(c.choice, c.value, c.by, c.was) for c in a.changes],
            [piece.name for piece in a.other_plan.problem.pieces] if a.other_plan else [],
        )
        for a in suggestions.answers
    ]
    refusals = [(r.pattern, r.cloth, r.why) for r in suggestions.refusals]
    return json.dumps({"answers": rows, "refusals": refusals})


def choices_of(draft: HouseDraft, cloth: Cloth) -> Iterator[dict[str, float | str]]:
    """Every option of the main choices, and what the cloth decides; all else at its default."""
    main = [choice for choice in draft.choices if choice.main and choice.options]
    width = cloth.usable_width // CLOTH_WIDTH_STEP * CLOTH_WIDTH_STEP
    of_cloth = {"stretch": drawn_for(cloth), "cloth_width": width}
    set_by_cloth = {c.name: of_cloth[c.name] for c in draft.choices if c.name in of_cloth}
    for options in product(*(choice.options for choice in main)):
        wish = {choice.name: option for choice, option in zip(main, options, strict=True)}
        yield {**wish, **set_by_cloth}


def _why_not(short: Sequence[Make], cloth: Cloth) -> str:
    """The proof where there is one; else that no lay was found."""
    least = min(short, key=lambda make: sum(piece.area_cm2 for piece in make.pieces))
    need = sum(piece.area_cm2 for piece in least.pieces) / 10_000
    have = cloth.usable_area_cm2 / 10_000
    match rules_out(least.pieces, cloth):
        case "area":
            return f"Its pieces need {need:.2f} m2 and the cloth has {have:.2f} m2."
        case "width":
            return f"A piece is wider than {cloth.usable_width:.0f} cm."
        case "length":
            return f"A piece is longer than {cloth.usable_length:.0f} cm."
        case _:
            return f"No lay was found on {cloth.usable_width:.0f} x {cloth.usable_length:.0f} cm, even changed."
