"""What can I make, that will fit, from what I have, in the time I've got?

Every house draft with every option of its main choices, on every cloth: ranked best first, each answer really
drawn, checked, laid and timed. The best is taken from a queue ordered by what each can score at most (see
`candidate`); a candidate comes out when its score is exact and no other can beat it, so the ranking is that of
looking at all of them closely. Where no make of a draft can be cut from a cloth, the least shortening that
makes it possible is searched.
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
from clothwise.sew import Minutes, Step
from clothwise.suggest.answer import Answer, Change, Refusal, Suggestions
from clothwise.suggest.candidate import BETTER_EFFORT, Candidate, Evening, Make, Planner
from clothwise.suggest.near import near_miss, shortening
from clothwise.ticket import Ticket

SAME_AGAIN = 0.06  # off the score, for ranking only, each time a draft or a cloth already stands above
MOST = 24  # answers handed out: more than anybody reads
MOST_NEAR = 6  # near misses besides
NEAR_TRIED = 2  # times as many drafts and cloths are tried for them
REFINED = 10  # answers at the top whose lay is sought with the better effort too
CLOTH_WIDTH_STEP = 10.0  # cm: a draft joined for narrow cloth is drawn for the width rounded down to this

Pair = tuple[str, str]  # draft and cloth
Found = Callable[[Answer], None]
Key = tuple[float, int]  # negative score at most, and a number that keeps equals in order

__all__ = ["Evening", "Memory", "Planner", "suggest"]


class Memory(Protocol):
    """Remembers what came out of a question asked before: which makes and what fell out, never the answers
    themselves, which are drawn, laid and timed again."""

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
    memory: Memory | None = None,
) -> Suggestions:
    """What can be made, best first, near misses after.

    most    answers that can be made as they are; at most so many
    found   told each answer as soon as its place is sure
    memory  what came out of the same question before
    """
    search = _Search(evening, cloths, planner, drafts, found)
    question = repr((evening, list(cloths), [draft.name for draft in drafts], most))
    kept = memory.recalled(question) if memory else None
    if kept is not None:
        return search.again(json.loads(kept))
    suggestions = search.run(most)
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
    ) -> None:
        self.evening, self.planner, self.found = evening, planner, found or (lambda answer: None)
        self.cloths = {cloth.name: cloth for cloth in cloths}
        self.drafts = {draft.name: draft for draft in drafts}
        self.refusals: dict[Pair, str] = {}
        self.short: dict[Pair, list[Make]] = defaultdict(list)
        self.waiting: dict[Pair, list[Candidate]] = defaultdict(list)
        self.seen: dict[str, int] = defaultdict(int)
        self.body = estimate(evening.body)

    # -- what there is to look at --------------------------------------------------------------------
    def _candidates(self) -> Iterator[Candidate]:
        for draft in self.drafts.values():
            if self.body.age_years is not None and self.body.age_years < draft.least_age:
                self.refusals[draft.name, ""] = f"It is meant for {draft.least_age:g} years and older."
                continue
            makes: dict[tuple[object, ...], Make] = {}
            for cloth in self.cloths.values():
                if cloth.make not in draft.makes:
                    why = f"Drafted for {' or '.join(draft.makes)} cloth; this one is {cloth.make}."
                    self.refusals[draft.name, cloth.name] = why
                    continue
                for wish in choices_of(draft, cloth):
                    make = makes.setdefault(tuple(wish.items()), Make(draft, wish, self.body))
                    candidate = Candidate(make, cloth)
                    self.waiting[draft.name, cloth.name].append(candidate)
                    yield candidate

    # -- ranking ----------------------------------------------------------------------------------------
    def run(self, most: int) -> Suggestions:
        answers = list(self._ranked(most))
        near = list(self._near_misses(MOST_NEAR)) if len(answers) < most or self.short else []
        doubts = tuple(slip.sentence for slip in slips(self.evening.body))
        refusals = tuple(Refusal(draft, cloth, why) for (draft, cloth), why in self.refusals.items())
        return Suggestions((*answers, *near), refusals, doubts)

    def again(self, kept: dict[str, Any]) -> Suggestions:
        """The same answers in the same order, each drawn, laid and timed anew."""
        answers = []
        for rank, (pattern, cloth_name, wish, by) in enumerate(kept["answers"]):
            candidate = Candidate(Make(self.drafts[pattern], wish, self.body), self.cloths[cloth_name])
            for _ in range(2):
                candidate.look_closer(self.evening, self.planner)
            if candidate.plan is None:
                continue
            if rank < REFINED:
                self._relaid(candidate)
            change = Change(candidate.make.draft.shortened_by, -by, -by) if by else None
            answers.append(self._answer(candidate, change))
            self.found(answers[-1])
        refusals = tuple(Refusal(*refusal) for refusal in kept["refusals"])
        doubts = tuple(slip.sentence for slip in slips(self.evening.body))
        return Suggestions(tuple(answers), refusals, doubts)

    def _ranked(self, most: int) -> Iterator[Answer]:
        queue = [(self._key(c, n), c) for n, c in enumerate(self._candidates())]
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
            elif candidate.make.sound:
                if given < REFINED:
                    self._relaid(candidate)
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
        make, pair = candidate.make, (candidate.make.draft.name, candidate.cloth.name)
        if make.refusal:
            self.refusals.setdefault((pair[0], ""), make.refusal)
        elif pair in self.waiting:
            self.short[pair].append(make)

    def _relaid(self, candidate: Candidate) -> None:
        """The shorter of two lays for what stands at the top."""
        assert candidate.plan is not None
        plan = self.planner(candidate.plan.problem, BETTER_EFFORT)
        if plan.length < candidate.plan.length:
            candidate.plan = plan

    # -- near misses ------------------------------------------------------------------------------------
    def _near_misses(self, most: int) -> Iterator[Answer]:
        """For drafts of which nothing goes onto a cloth, the best suited first."""
        shorten = shortening()
        pairs = sorted(self.short, key=lambda pair: -max(c.score for c in self.waiting[pair]))
        given: list[tuple[float, Answer]] = []
        for draft, cloth_name in pairs[: NEAR_TRIED * most]:
            cloth = self.cloths[cloth_name]
            if len(given) >= most or self._one_goes_on((draft, cloth_name)):
                continue
            near = near_miss(self.evening, self.short[draft, cloth_name], cloth, self.planner, shorten)
            if near is None:
                self.refusals[draft, cloth_name] = _why_not(self.short[draft, cloth_name], cloth)
                continue
            by, candidate = near
            change = Change(candidate.make.draft.shortened_by, float(-by), float(-by))
            given.append((candidate.score, self._answer(candidate, change)))
        yield from (answer for _, answer in sorted(given, key=lambda g: -g[0]))

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
    def _answer(self, candidate: Candidate, change: Change | None = None) -> Answer:
        evening, garment = self.evening, candidate.make.garment
        candidate.weigh(evening)
        time = candidate.minutes
        assert garment is not None
        assert time is not None
        assert candidate.plan is not None
        return Answer(
            ticket=Ticket(
                name=f"{garment.title} for {evening.body.name}",
                pattern=candidate.make.draft.name,
                choices=candidate.make.wish,
                body=evening.body,
                cloth=candidate.cloth,
                sewer=evening.sewer,
                sheet=evening.sheet,
                made_on=evening.made_on,
                body_name=evening.body.name,
                cloth_name=candidate.cloth.name,
            ),
            title=garment.title,
            verdict="with a change" if change else "can be made",
            score=candidate.score,
            reasons=candidate.reasons,
            plan=candidate.plan,
            minutes=time,
            stop_after=_stop(candidate.steps, time, evening.hours * 60),
            change=change,
        )


def _kept(suggestions: Suggestions) -> str:
    """What is remembered of an answered question."""
    return json.dumps(
        {
            "answers": [
                (a.ticket.pattern, a.ticket.cloth_name, dict(a.ticket.choices), -a.change.by if a.change else 0)
                for a in suggestions.answers
            ],
            "refusals": [(r.pattern, r.cloth, r.why) for r in suggestions.refusals],
        }
    )


def choices_of(draft: HouseDraft, cloth: Cloth) -> Iterator[dict[str, float | str]]:
    """Every option of the main choices, and what the cloth decides; all else at its default."""
    main = [choice for choice in draft.choices if choice.main and choice.options]
    width = cloth.usable_width // CLOTH_WIDTH_STEP * CLOTH_WIDTH_STEP
    of_cloth = {"stretch": round(100 * cloth.stretch_across, 1), "cloth_width": width}
    set_by_cloth = {c.name: of_cloth[c.name] for c in draft.choices if c.name in of_cloth}
    for options in product(*(choice.options for choice in main)):
        wish = {choice.name: option for choice, option in zip(main, options, strict=True)}
        yield {**wish, **set_by_cloth}


def _why_not(short: Sequence[Make], cloth: Cloth) -> str:
    least = min(sum(piece.area_cm2 for piece in make.pieces) for make in short) / 10_000
    have = cloth.usable_width * cloth.usable_length / 10_000
    if least > have:
        return f"Its pieces need {least:.2f} m2 and the cloth has {have:.2f} m2."
    return f"No lay was found on {cloth.usable_width:.0f} x {cloth.usable_length:.0f} cm, even shortened."


def _stop(steps: tuple[Step, ...], time: Minutes, evening: float) -> str:
    """The last good place to leave off within the evening, when it will not suffice."""
    if time.likely <= evening:
        return ""
    spent = time.likely - sum(step.minutes.likely for step in steps)
    last = ""
    for step in steps:
        spent += step.minutes.likely
        if spent > evening:
            break
        if step.stop:
            last = step.title
    return last
