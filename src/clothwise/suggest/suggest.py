"""What can I make, that will fit, from what I have, in the time I've got?

Every house draft with every option of its main choices and every view of every bought pattern, on every cloth:
one row, ranked best first, each answer really drawn or sized, laid and timed. The best is taken from a queue
ordered by what each can score at most (see `candidate`, `bought`); a candidate comes out when its score is
exact and no other can beat it, so the ranking is that of looking at all of them closely. Of what would stand
among them but does not go onto its cloth, the least change that makes it possible is searched (see `missing`).
Drawing and laying is shared between two cores (see `hands`): whoever looks, what is found is the same.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from heapq import heapify, heappop, heappush
from itertools import islice
from typing import Any

from clothwise.body import estimate
from clothwise.body.slips import slips
from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS, HouseDraft
from clothwise.lay.plan import LayPlan
from clothwise.lay.verify import faults
from clothwise.shelf.pattern import BoughtPattern, FinishedMake
from clothwise.shopping.box import BoxItem
from clothwise.suggest.answer import Change, Refusal
from clothwise.suggest.answering import answer_of
from clothwise.suggest.bought import BoughtCandidate, Sized, bought_candidates
from clothwise.suggest.candidate import Candidate, Evening, Make
from clothwise.suggest.choosing import choices_of
from clothwise.suggest.found import AnyAnswer, Suggestions
from clothwise.suggest.hands import Hands
from clothwise.suggest.laying import Planner, shortest_of
from clothwise.suggest.missing import Missing, NearAsked, Pair, named
from clothwise.suggest.near import Redraw
from clothwise.suggest.remembering import Memory, changes_of, laid_again, written
from clothwise.suggest.stretching import Stretch, asks_stretch, drawn_for, least_stretch
from clothwise.ticket.ticket import OtherCloth

SAME_AGAIN = 0.06  # off the score, for ranking only, each time a pattern or a cloth already stands above
MOST = 24  # answers handed out: more than anybody reads
MOST_NEAR = 8  # near misses besides
# pairs of a pattern and a cloth searched for them, the likeliest first: an ordinary cupboard's all
NEAR_TRIED = 24
EARLY = 3  # answers told at once, before their rank is known
AT_FIRST = 24  # forms the second hand draws while those are looked for
NEXT = 40  # places of the queue looked at for what will be laid next
GOES_ON = 0.45  # of a cloth, without allowances: what takes less mostly goes onto it
GENERAL = ""  # in place of a cloth: it cannot be made for this person at all

AnyCandidate = Candidate | BoughtCandidate
Found = Callable[[Any], None]  # told an AnyAnswer
Progress = Callable[[int, int], None]  # looked at, of how many
Key = tuple[float, int]  # negative score at most, and a number that keeps equals in order
Queue = list[tuple[Key, AnyCandidate]]


@dataclass(frozen=True, slots=True)
class FormAsked:
    """What ranks a form, by its number; answered with its figures and the draft's refusal."""

    number: int


@dataclass(frozen=True, slots=True)
class LayAsked:
    """Whether a candidate goes onto its cloth, by its number."""

    number: int


Asked = FormAsked | LayAsked | NearAsked

__all__ = ["Evening", "Memory", "Planner", "choices_of", "suggest"]


def suggest(
    evening: Evening,
    cloths: Sequence[Cloth],
    planner: Planner,
    drafts: Sequence[HouseDraft] = PATTERNS,
    *,
    shelf: Sequence[BoughtPattern] = (),
    makes: Sequence[FinishedMake] = (),
    most: int = MOST,
    found: Found | None = None,
    early: Found | None = None,
    progress: Progress | None = None,
    memory: Memory | None = None,
    box: Sequence[BoxItem] = (),
) -> Suggestions:
    """What can be made, best first, near misses after.

    shelf     bought patterns; makes: finished makes, which teach what ease she likes
    most      answers that can be made as they are; at most so many
    found     told each answer as soon as its place is sure
    early     told a few good answers at once, before their places are known; they may not stand in the end
    progress  told how many of all makes on all cloths have been decided
    memory    what came out of the same question before
    box       haberdashery that is there already
    """
    search = _Search(evening, cloths, planner, drafts, found, progress, box, shelf, makes, memory)
    names = [draft.name for draft in drafts]
    question = repr((evening, list(cloths), names, most, list(shelf), list(makes) if shelf else []))
    kept = memory.recalled(question) if memory else None
    if kept is not None:
        return search.again(json.loads(kept))
    suggestions = search.run(most, early)
    if memory:
        memory.keep(question, written(suggestions))
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
        shelf: Sequence[BoughtPattern] = (),
        makes: Sequence[FinishedMake] = (),
        memory: Memory | None = None,
    ) -> None:
        self.memory = memory
        self.evening, self.planner, self.box = evening, planner, box
        self.found, self.progress = found or (lambda answer: None), progress or (lambda done, of: None)
        self.cloths = {cloth.name: cloth for cloth in cloths}
        self.drafts = {draft.name: draft for draft in drafts}
        self.shelf, self.makes = {pattern.name: pattern for pattern in shelf}, tuple(makes)
        self.refusals: dict[Pair, str] = {}
        self.body = estimate(evening.body)
        self.missing = Missing(self.body, self.cloths, self.drafts)
        self.candidates: list[AnyCandidate] = []
        self.forms: dict[int, Make] = {}  # not yet told, by number
        self.numbers: dict[int, int] = {}  # of forms, by identity
        self.draft_of_form: list[str] = []
        self.others_drafts = frozenset(list(self.drafts)[1::2])  # rather for the second hand
        self.seen: dict[str, int] = defaultdict(int)
        self.stretch_needed: dict[str, float | None] = {}

    # -- what there is to look at --------------------------------------------------------------------
    def _candidates(self) -> Iterator[AnyCandidate]:
        for draft in self.drafts.values():
            if self.body.age_years is not None and self.body.age_years < draft.least_age:
                self.refusals[draft.name, GENERAL] = f"It is meant for {draft.least_age:g} years and older."
                continue
            fit_for = []
            for cloth in self.cloths.values():
                why = self._refused(draft, cloth)
                if why:
                    self.refusals[draft.name, cloth.name] = why
                else:
                    fit_for.append(cloth)
            yield from self._of_draft(draft, fit_for)
        shelf, cloths = list(self.shelf.values()), list(self.cloths.values())
        bought, refusals = bought_candidates(self.evening, cloths, shelf, self.makes)
        for one in refusals:
            self.refusals[one.pattern, one.cloth] = one.why
        yield from bought

    def _of_draft(self, draft: HouseDraft, cloths: Sequence[Cloth]) -> Iterator[Candidate]:
        makes: dict[tuple[object, ...], Make] = {}
        forms = self._forms(draft, cloths)
        asked = self.evening.asked
        for cloth in cloths:
            for number, wish in enumerate(choices_of(draft, cloth)):
                form = forms[number]
                one = form if form.wish == wish else Make(draft, wish, self.body, form=form)
                make = makes.setdefault(tuple(wish.items()), one)
                yield Candidate(make, cloth, asked)

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
        candidates = self.candidates = list(self._candidates())
        self._number_forms()
        with Hands[Asked](self, two=self.memory is not None) as hands:
            hands.give(self._forms_ahead, many=AT_FIRST)
            if early:
                self._tell_early(candidates, early)
            answers: list[AnyAnswer] = list(self._ranked(candidates, most, hands))
            near = list(self._near_misses(MOST_NEAR, hands))
        for answer in near:
            self.found(answer)
        self.progress(len(candidates), len(candidates))
        return self._suggestions((*answers, *near), [(*pair, why) for pair, why in self.refusals.items()])

    def _number_forms(self) -> None:
        """Forms by what their best make can score at most: in this order they will be asked for."""
        best: dict[int, tuple[float, Make]] = {}
        for one in self.candidates:
            if isinstance(one, Candidate):
                form = one.make.form or one.make
                best[id(form)] = max((one.score, form), best.get(id(form), (0.0, form)), key=lambda row: row[0])
        ordered = sorted(best.values(), key=lambda row: -row[0])
        self.forms = {number: form for number, (_, form) in enumerate(ordered)}
        self.numbers = {id(form): number for number, form in self.forms.items()}
        self.draft_of_form = [form.draft.name for form in self.forms.values()]

    # -- by both hands, see `hands.Worker` --------------------------------------------------------------
    def work(self, question: Asked) -> Any:
        """The answer to a question; it rests on nothing else."""
        if isinstance(question, FormAsked):
            form = self.forms[question.number]
            return form.figures(self.evening), form.refusal
        if isinstance(question, LayAsked):
            candidate = self.candidates[question.number]
            assert isinstance(candidate, Candidate)
            return candidate.laid(self.planner, shortest=True)
        return self.missing.nearest(question, self.planner)

    def for_second(self, question: Asked) -> bool:
        """Every other draft: makes of one draft share garments, cutting lines and no-fit polygons."""
        if isinstance(question, NearAsked):
            return False  # few and long: whoever is free
        if isinstance(question, FormAsked):
            draft = self.draft_of_form[question.number]
        else:
            draft = self.candidates[question.number].name
        return draft in self.others_drafts

    def set_apart(self) -> None:
        """In the second hand: a memory of its own."""
        assert self.memory is not None
        self.memory = self.memory.apart()
        self.planner = self.memory.plan

    def news(self) -> object:
        """Lays found meanwhile."""
        assert self.memory is not None
        return self.memory.news()

    def learn(self, news: object) -> None:
        """Lays found by the second hand."""
        assert self.memory is not None
        self.memory.learn(news)

    def _forms_ahead(self) -> Iterator[Asked]:
        return (FormAsked(number) for number in self.forms)

    def _lays_ahead(self, queue: Queue, asked: Candidate) -> Iterator[Asked]:
        """What will be laid next, if what probably goes onto its cloth does, and the rest does not."""
        queue, seen = list(queue), dict(self.seen)

        def told(candidate: AnyCandidate) -> None:
            if candidate.area < GOES_ON * candidate.cloth.usable_area_cm2:
                for name in named((candidate.name, candidate.cloth.name)):
                    seen[name] = seen.get(name, 0) + 1

        told(asked)
        for _ in range(min(NEXT, len(queue))):
            key, candidate = heappop(queue)
            now = _key(candidate, key[1], seen)
            if now > key:
                heappush(queue, (now, candidate))
                continue
            told(candidate)
            if isinstance(candidate, Candidate) and candidate.look == 1:
                yield LayAsked(key[1])

    def _suggestions(
        self, answers: Sequence[AnyAnswer], refusals: Sequence[tuple[str, str, str]]
    ) -> Suggestions:
        doubts = tuple(slip.sentence for slip in slips(self.evening.body))
        return Suggestions(tuple(answers), tuple(Refusal(*refusal) for refusal in refusals), doubts)

    def again(self, kept: dict[str, Any]) -> Suggestions:
        """The same answers in the same order, each drawn, laid and timed anew."""
        answers: list[AnyAnswer] = []
        for row in kept["answers"]:
            answer = self._bought_again(row) if "bought" in row else self._drawn_again(row)
            if answer is not None:
                answers.append(answer)
                self.found(answer)
        return self._suggestions(answers, kept["refusals"])

    def _bought_again(self, row: dict[str, Any]) -> AnyAnswer | None:
        sized = Sized(self.shelf[row["bought"]], row["view"], self.body, self.makes)
        candidate = BoughtCandidate(sized, self.cloths[row["cloth"]], self.evening)
        goes = all(candidate.look_closer(self.evening, self.planner) for _ in range(1 if row["changes"] else 2))
        if not goes or (row["changes"] and not candidate.shortened(self.planner)):
            return None
        return candidate.answer(self.planner, self.box)

    def _drawn_again(self, row: dict[str, Any]) -> AnyAnswer | None:
        make = Make(self.drafts[row["draft"]], row["wish"], self.body)
        candidate = Candidate(make, self.cloths[row["cloth"]], self.evening.asked)
        changes = changes_of(row)
        if not changes:
            goes = all(candidate.look_closer(self.evening, self.planner) for _ in range(2))
            return self._answer(candidate) if goes else None
        if not candidate.draw(self.evening):
            return None
        others = laid_again(candidate, row, self.cloths, self.planner)
        return None if others is None else self._answer(candidate, changes, others)

    def _tell_early(self, candidates: Sequence[AnyCandidate], early: Found) -> None:
        """Good answers at once: the first make of the patterns that suit best, each on its best cloth."""
        told: set[str] = set()
        for one in sorted(candidates, key=lambda c: -c.score):
            if one.name in told or "cloth " + one.cloth.name in told:
                continue
            trial = self._trial(one)
            if all(trial.look_closer(self.evening, self.planner) for _ in range(2)) and trial.sound:
                early(self._answer(trial))
                told |= {one.name, "cloth " + one.cloth.name}
            if len(told) >= 2 * EARLY:
                return

    def _trial(self, one: AnyCandidate) -> AnyCandidate:
        """The same once more, so that an early look takes nothing from the queue."""
        if isinstance(one, BoughtCandidate):
            return BoughtCandidate(one.sized, one.cloth, self.evening)
        return Candidate(one.make, one.cloth, self.evening.asked)

    def _ranked(
        self, candidates: Sequence[AnyCandidate], most: int, hands: Hands[Asked]
    ) -> Iterator[AnyAnswer]:
        queue: Queue = [(_key(c, n, self.seen), c) for n, c in enumerate(candidates)]
        heapify(queue)
        given = 0
        while queue and given < most:
            key, candidate = heappop(queue)
            now = _key(candidate, key[1], self.seen)
            if now > key:  # its pattern or cloth was given meanwhile
                heappush(queue, (now, candidate))
            elif candidate.look < 2:
                if self._look_closer(candidate, key[1], queue, hands):
                    heappush(queue, (_key(candidate, key[1], self.seen), candidate))
                else:
                    self._fell_out(candidate)
                self.progress(len(candidates) - len(queue), len(candidates))
            elif candidate.sound:
                answer = self._answer(candidate)
                self._count(candidate)
                self.found(answer)
                given += 1
                yield answer

    def _look_closer(self, candidate: AnyCandidate, number: int, queue: Queue, hands: Hands[Asked]) -> bool:
        if isinstance(candidate, BoughtCandidate):
            return candidate.look_closer(self.evening, self.planner)
        if candidate.look == 1:
            return candidate.take(hands.ask(LayAsked(number), lambda: self._lays_ahead(queue, candidate)))
        form = candidate.make.form or candidate.make
        of_form = self.numbers[id(form)]
        if of_form in self.forms:
            form.told(*hands.ask(FormAsked(of_form), self._forms_ahead))
            del self.forms[of_form]
        return candidate.draw(self.evening)

    def _count(self, candidate: AnyCandidate) -> None:
        pair = candidate.name, candidate.cloth.name
        for name in named(pair):
            self.seen[name] += 1
        self.missing.going.add(pair)
        self.refusals.pop(pair, None)  # another view of it did not go on

    def _fell_out(self, candidate: AnyCandidate) -> None:
        pair = candidate.name, candidate.cloth.name
        if isinstance(candidate, BoughtCandidate):
            self.refusals.setdefault(pair, candidate.refusal)
            if candidate.too_long:
                self.missing.bought[pair].append(candidate)
            return
        make, cloth = candidate.make, candidate.cloth
        if make.refusal and asks_stretch(make.draft):
            self.refusals.setdefault(pair, self._stretch_refusal(make.draft, cloth, make.refusal))
        elif make.refusal:
            self.refusals.setdefault((pair[0], GENERAL), make.refusal)
        else:
            self.missing.short[pair].append(candidate)

    # -- near misses ------------------------------------------------------------------------------------
    def _near_misses(self, most: int, hands: Hands[Asked]) -> Iterator[AnyAnswer]:
        """The best first, each worth its score less what is given up of it."""
        given: list[tuple[float, AnyAnswer]] = []
        questions = self.missing.questions(NEAR_TRIED, self.seen, SAME_AGAIN)
        for number, question in enumerate(questions, 1):
            wanted = number + most - len(given)
            near = hands.ask(question, partial(islice, questions, number, wanted), many=2)
            pair = question.draft, question.cloth
            if isinstance(near, str):
                if near:
                    self.refusals[pair] = near
                continue
            candidate = Candidate(
                Make(self.drafts[pair[0]], near.wish, self.body), self.cloths[pair[1]], self.evening.asked
            )
            candidate.draw(self.evening)
            candidate.plan = near.plan
            given.append((candidate.score - near.lost, self._answer(candidate, near.changes, near.others)))
            if len(given) >= most:
                break
        for one in islice(self.missing.bought_near(self.planner), most):
            self.refusals.pop((one.name, one.cloth.name), None)
            given.append((one.score - one.lost, self._answer(one)))
        yield from (answer for _, answer in sorted(given, key=lambda g: -g[0])[:most])

    # -- answers ------------------------------------------------------------------------------------------
    def _answer(
        self,
        candidate: AnyCandidate,
        changes: tuple[Change, ...] = (),
        others: tuple[tuple[OtherCloth, LayPlan], ...] = (),
    ) -> AnyAnswer:
        if isinstance(candidate, BoughtCandidate):
            return candidate.answer(self.planner, self.box)
        assert candidate.plan is not None
        if not changes and not candidate.shortest:
            candidate.plan = shortest_of(candidate.plan, candidate.cloth, self.planner)
        for plan in (candidate.plan, *(plan for _, plan in others)):
            wrong = faults(plan)
            assert not wrong, f"A lay to be suggested fails its check: {' '.join(wrong)}"
        return answer_of(candidate, self.evening, changes=changes, others=others, box=self.box)


def _key(candidate: AnyCandidate, number: int, seen: Mapping[str, int]) -> Key:
    again = sum(seen.get(name, 0) for name in named((candidate.name, candidate.cloth.name)))
    return -(candidate.score - SAME_AGAIN * again), number
