"""What can I make, that will fit, from what I have, in the time I've got?

Every house draft with every option of its main choices is drawn for the body, laid on every cloth and timed.
Where none of a draft's makes can be cut from a cloth, the least shortening that makes it possible is searched.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from clothwise.body import Body, estimate
from clothwise.body.slips import slips
from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS, HouseDraft
from clothwise.errors import WorkroomError
from clothwise.garment import Garment
from clothwise.garment.check import check
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.plan import LayPlan
from clothwise.lay.problem import LayPiece, LayProblem
from clothwise.paper.sheets import sheet, sheets_roughly
from clothwise.sew import Minutes, Sewer, Step, minutes, order_of_work
from clothwise.suggest.answer import Answer, Change, Refusal, Suggestions
from clothwise.suggest.weighing import in_time, notes_of, score, suits, use_of
from clothwise.ticket import Ticket
from clothwise.ticket.made import drawn, lay_problem

NEAR = 12  # cm: a make that must be shortened by more is no near miss but another length of it
SAME_AGAIN = 0.06  # off the score, for ranking only, each time a draft or a cloth already stands above

Wish = dict[str, float | str]
Planner = Callable[[LayProblem, str], LayPlan]
# the shortest lay for a cloth's width, found with an effort of `lay`; LayError when a piece is too wide
FIRST_EFFORT, BETTER_EFFORT = "quick", "brisk"
REFINED = 10  # answers at the top whose lay is sought with the better effort too


@dataclass(frozen=True, slots=True)
class Evening:
    """For whom, by whom, how long."""

    body: Body
    sewer: Sewer
    hours: float
    made_on: str = ""
    sheet: str = "A4"


@dataclass(frozen=True, slots=True)
class Make:
    """A draft with its main choices settled, drawn for the body."""

    draft: HouseDraft
    wish: Wish
    garment: Garment
    pieces: tuple[LayPiece, ...]  # with their cutting lines: worked out once, laid on many cloths

    @property
    def area_cm2(self) -> float:
        return sum(piece.area_cm2 for piece in self.pieces)


Shorten = Callable[[Make, int], Make | None]


def _made(draft: HouseDraft, body: Body, wish: Wish) -> Make:
    """Raises what the draft raises."""
    garment = drawn(body, draft.name, wish)
    return Make(draft, wish, garment, lay_pieces(garment))


def suggest(
    evening: Evening, cloths: Sequence[Cloth], planner: Planner, drafts: Sequence[HouseDraft] = PATTERNS
) -> Suggestions:
    """All that can be made, best first, near misses after."""
    body = estimate(evening.body)
    shorten = _shortening(body)
    answers: list[Answer] = []
    refusals: list[Refusal] = []
    for draft in drafts:
        makes, refused = _makes(draft, body)
        refusals += refused
        for cloth in cloths:
            found, why = _on_cloth(evening, draft, makes, cloth, planner, shorten)
            answers += found
            refusals += why
    doubts = tuple(slip.sentence for slip in slips(evening.body))
    return Suggestions(_refined(_ranked(answers), planner), tuple(refusals), doubts)


def _wishes(draft: HouseDraft) -> Iterator[Wish]:
    """Every option of the main choices, the others left at their defaults."""
    main = [choice for choice in draft.choices if choice.main and choice.options]
    for options in product(*(choice.options for choice in main)):
        yield {choice.name: option for choice, option in zip(main, options, strict=True)}


def _makes(draft: HouseDraft, body: Body) -> tuple[list[Make], list[Refusal]]:
    makes: list[Make] = []
    refused: dict[str, Refusal] = {}
    if body.age_years is not None and body.age_years < draft.least_age:
        why = f"It is meant for {draft.least_age:g} years and older."
        return [], [Refusal(draft.name, "", why)]
    for wish in _wishes(draft):
        try:
            makes.append(_made(draft, body, wish))
        except WorkroomError as refusal:
            refused[refusal.what] = Refusal(draft.name, "", str(refusal))
    return makes, list(refused.values())


def _on_cloth(
    evening: Evening,
    draft: HouseDraft,
    makes: list[Make],
    cloth: Cloth,
    planner: Planner,
    shorten: Shorten,
) -> tuple[list[Answer], list[Refusal]]:
    if cloth.make not in draft.makes:
        why = f"It is drafted for {' or '.join(draft.makes)} cloth; this one is {cloth.make}."
        return [], [Refusal(draft.name, cloth.name, why)]
    answers: list[Answer] = []
    short: list[Make] = []
    for make in makes:
        plan = _plan(make, cloth, planner)
        if plan is None:
            short.append(make)
        else:
            answers.append(_answer(evening, make, cloth, plan))
    if answers or not short:
        return answers, []
    near = _near_miss(evening, short, cloth, planner, shorten)
    if near is not None:
        return [near], []
    return [], [Refusal(draft.name, cloth.name, _why_not(short, cloth))]


def _plan(make: Make, cloth: Cloth, planner: Planner) -> LayPlan | None:
    """A lay that goes onto the cloth, or None. The area alone rules out most without a lay."""
    if make.area_cm2 > cloth.usable_width * cloth.usable_length:
        return None
    problem = lay_problem(make.pieces, cloth)
    for effort in (FIRST_EFFORT, BETTER_EFFORT):
        try:
            plan = planner(problem, effort)
        except WorkroomError:  # a piece is wider than the cloth: the sentence is made by _why_not
            return None
        if plan.length <= cloth.usable_length:
            return plan
    return None


def _near_miss(
    evening: Evening, short: list[Make], cloth: Cloth, planner: Planner, shorten: Shorten
) -> Answer | None:
    """The make that must be shortened least to go onto this cloth, shortened by whole centimetres."""
    best: tuple[int, Make, LayPlan] | None = None
    for make in sorted(short, key=lambda m: m.area_cm2):
        most = best[0] - 1 if best else _most_shorter(make.draft)
        found = _least_shorter(make, cloth, planner, shorten, most)
        if found is not None and not check(found[1].garment):
            best = found
    if best is None:
        return None
    by, make, plan = best
    change = Change(make.draft.shortened_by, float(-by), float(-by))
    return _answer(evening, make, cloth, plan, change)


def _most_shorter(draft: HouseDraft) -> int:
    """How many whole centimetres the draft may be shortened; 0 when it has no such choice."""
    if not draft.shortened_by:
        return 0
    return min(NEAR, int(-draft.choice(draft.shortened_by).low))


def _least_shorter(
    make: Make, cloth: Cloth, planner: Planner, shorten: Shorten, most: int
) -> tuple[int, Make, LayPlan] | None:
    """The most first: where that does not go on, nothing does. Then halving over whole centimetres.

    The make is drawn and laid at just that length; it is not yet checked, for most trials are thrown away.
    """
    low, best = 0, None
    by = most
    while by > low:
        shorter = shorten(make, by)
        plan = _plan(shorter, cloth, planner) if shorter else None
        if shorter and plan:
            best = by, shorter, plan
        elif shorter and best is None:
            return None  # shortened as far as it can be, and still too long
        else:
            low, most = (by, most) if shorter else (low, by - 1)
        by = (low + best[0]) // 2 if best else most
    return best


def _shortening(body: Body) -> Shorten:
    """Shortens a make, unchecked, None where it cannot be drawn so; remembers for the next cloth."""
    drawn_before: dict[tuple[object, ...], Make | None] = {}

    def shorten(make: Make, by: int) -> Make | None:
        key = (make.draft.name, *make.wish.items(), by)
        if key not in drawn_before:
            try:
                wish = {**make.wish, make.draft.shortened_by: float(-by)}
                garment = make.draft.make(body, wish)
                drawn_before[key] = Make(make.draft, wish, garment, lay_pieces(garment))
            except WorkroomError:
                drawn_before[key] = None
        return drawn_before[key]

    return shorten


def _why_not(short: list[Make], cloth: Cloth) -> str:
    least = min(make.area_cm2 for make in short) / 10_000
    have = cloth.usable_width * cloth.usable_length / 10_000
    if least > have:
        return f"Its pieces need {least:.2f} m2 and the cloth has {have:.2f} m2."
    return f"No lay was found on {cloth.usable_width:.0f} x {cloth.usable_length:.0f} cm, even shortened."


def _answer(evening: Evening, make: Make, cloth: Cloth, plan: LayPlan, change: Change | None = None) -> Answer:
    steps = order_of_work(make.garment, cloth, evening.sewer)
    sheets = sheets_roughly((piece.outline for piece in make.pieces), sheet(evening.sheet))
    time = minutes(make.garment, steps, cloth, evening.sewer, sheets=sheets, cuts=plan.cuts)
    reasons = (
        suits(make.draft, cloth),
        in_time(time, evening.hours * 60),
        use_of(cloth, plan),
        *notes_of(make.garment),
    )
    return Answer(
        ticket=Ticket(
            name=f"{make.garment.title} for {evening.body.name}",
            pattern=make.draft.name,
            choices=make.wish,
            body=evening.body,
            cloth=cloth,
            sewer=evening.sewer,
            sheet=evening.sheet,
            made_on=evening.made_on,
            body_name=evening.body.name,
            cloth_name=cloth.name,
        ),
        title=make.garment.title,
        verdict="with a change" if change else "can be made",
        score=score(reasons),
        reasons=reasons,
        plan=plan,
        minutes=time,
        stop_after=_stop(steps, time, evening.hours * 60),
        change=change,
    )


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


def _refined(answers: tuple[Answer, ...], planner: Planner) -> tuple[Answer, ...]:
    """Those at the top with the shorter of two lays."""
    top = []
    for answer in answers[:REFINED]:
        plan = planner(answer.plan.problem, BETTER_EFFORT)
        top.append(_relaid(answer, plan) if plan.length < answer.plan.length else answer)
    return (*top, *answers[REFINED:])


def _relaid(answer: Answer, plan: LayPlan) -> Answer:
    cloth = answer.ticket.cloth
    assert cloth is not None
    reasons = tuple(use_of(cloth, plan) if r.kind == "uses cloth" else r for r in answer.reasons)
    return replace(answer, plan=plan, reasons=reasons)


def _ranked(answers: list[Answer]) -> tuple[Answer, ...]:
    """What can be made before what needs a change; then by score, a draft or cloth seen above giving way."""
    rest = sorted(answers, key=lambda a: (-a.score, a.ticket.name, a.ticket.cloth_name))
    ranked: list[Answer] = []
    seen: dict[str, int] = {}
    while rest:
        best = max(
            rest,
            key=lambda a: (
                a.change is None,
                a.score
                - SAME_AGAIN * (seen.get(a.ticket.pattern, 0) + seen.get("cloth " + a.ticket.cloth_name, 0)),
            ),
        )
        rest.remove(best)
        ranked.append(best)
        for key in (best.ticket.pattern, "cloth " + best.ticket.cloth_name):
            seen[key] = seen.get(key, 0) + 1
    return tuple(ranked)
