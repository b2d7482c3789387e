"""One row of answers, drafted or bought: its order, its memory, cautions, where to stop, what is to buy."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from clothwise.body import estimate
from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS, pattern
from clothwise.errors import ChoiceError
from clothwise.lay.problem import LayProblem
from clothwise.lay.verify import faults
from clothwise.sew import Minutes, Sewer
from clothwise.sew.cautions import cautions
from clothwise.shopping.box import BoxItem
from clothwise.shopping.told import need_told
from clothwise.store.demo import bought_scenario, scenario
from clothwise.store.lays import LayMemory
from clothwise.suggest import words
from clothwise.suggest.answer import Answer, Reason
from clothwise.suggest.bought import BoughtAnswer, BoughtCandidate
from clothwise.suggest.candidate import Evening, Make
from clothwise.suggest.cautions import caution_words, cautions_of
from clothwise.suggest.found import Suggestions
from clothwise.suggest.scraps import from_scraps
from clothwise.suggest.stages import CUT_OUT, PAPER, last_stage
from clothwise.suggest.suggest import SAME_AGAIN, AnyCandidate, _Search, suggest
from clothwise.suggest.suiting import Asked
from clothwise.suggest.wants import wants
from clothwise.suggest.weighing import NOTES
from clothwise.ticket import made, read_ticket, write_ticket
from clothwise.ticket.made import work_out

BODIES = {body.name: body for body in scenario()[0]}
CLOTHS = {cloth.name: cloth for cloth in scenario()[1]}
SHELF, MAKES = bought_scenario()
DRAFTS = (pattern("gathered_skirt"), pattern("apron"))
LINEN = CLOTHS["Grey-green linen"]
SHORT = replace(LINEN, name="Short linen", length=80.0)


def evening(name: str = "Marit", hours: float = 4.0, **more: str) -> Evening:
    return Evening(BODIES[name], Sewer(name, "practised"), hours, **more)


@pytest.fixture(scope="module")
def row(memory: LayMemory) -> Suggestions:
    return suggest(
        evening(),
        (LINEN, SHORT, CLOTHS["Sluice jersey"]),
        memory.plan,
        DRAFTS,
        shelf=SHELF,
        makes=MAKES,
        most=40,
    )


def test_bought_patterns_stand_in_the_one_row_by_their_score(row: Suggestions, memory: LayMemory):
    """Against a look at every make on every cloth, variety reckoned with."""
    cloths = (LINEN, SHORT, CLOTHS["Sluice jersey"])
    every = list(_Search(evening(), cloths, memory.plan, DRAFTS, None, None, (), SHELF, MAKES)._candidates())
    every = [c for c in every if all(c.look_closer(evening(), memory.plan) for _ in range(2)) and c.sound]
    expected, seen = [], dict[str, int]()
    while every:
        best = max(every, key=lambda c: c.score - SAME_AGAIN * _again(c, seen))
        every.remove(best)
        expected.append((best.score, isinstance(best, BoughtCandidate)))
        for key in (best.name, best.cloth.name):
            seen[key] = seen.get(key, 0) + 1
    got = [(one.score, isinstance(one, BoughtAnswer)) for one in row.answers if not one.changes]
    assert [score for score, _ in got] == pytest.approx([score for score, _ in expected[: len(got)]])
    assert {bought for _, bought in got} == {True, False}
    places = [bought for _, bought in got]
    assert places != sorted(places)  # not the drafts first and the bought ones after


def _again(one: AnyCandidate, seen: dict[str, int]) -> int:
    return seen.get(one.name, 0) + seen.get(one.cloth.name, 0)


def test_both_kinds_tell_the_same_things(row: Suggestions):
    for one in row.answers:
        assert one.title in words.headline(one)
        assert one.cloth.name in words.headline(one)
        assert one.minutes.low < one.minutes.likely < one.minutes.high
        parts = one.minutes
        whole = parts.ready + parts.print_tape + parts.cut + parts.sew + parts.finish
        assert whole == pytest.approx(parts.likely)
        assert words.length_of(one)
        assert all(words.reason(reason) for reason in one.reasons)
        assert one.plan is None or faults(one.plan) == ()
        assert isinstance(one, BoughtAnswer) or one.plan is not None
        recommended = {pattern.name: pattern.recommended for pattern in SHELF}
        if isinstance(one, Answer) or one.cloth.kind in recommended[one.pattern]:
            assert one.score == pytest.approx(NOTES + sum(reason.counts for reason in one.reasons))


def test_the_row_is_recalled_as_it_was(row: Suggestions, tmp_path):
    ask = {"drafts": DRAFTS[:1], "shelf": SHELF, "makes": MAKES, "most": 6}
    cloths = (LINEN, SHORT)
    with LayMemory(tmp_path / "lays") as first:
        before = suggest(evening(), cloths, first.plan, memory=first, **ask)
    with LayMemory(tmp_path / "lays") as second:
        after = suggest(evening(), cloths, second.plan, memory=second, **ask)
    assert [words.headline(one) for one in after.answers] == [words.headline(one) for one in before.answers]
    assert [one.changes for one in after.answers] == [one.changes for one in before.answers]
    assert [one.plan for one in after.answers] == [one.plan for one in before.answers]
    assert any(isinstance(one, BoughtAnswer) for one in before.answers)
    assert any(one.changes for one in before.answers)


def test_a_bought_pattern_too_long_for_a_cloth_is_shortened_by_the_least_that_helps(memory: LayMemory):
    skirt = next(one for one in SHELF if one.name == "Mill 2 straight skirt")
    narrow = replace(LINEN, width=70.0)  # front and back lie one above the other
    whole = suggest(evening(), (narrow,), memory.plan, (), shelf=(skirt,)).answers[0]
    assert whole.plan is not None
    cloth = replace(narrow, name="Tight", length=round(whole.plan.length - 14.0, 1))
    (near,) = suggest(evening(), (cloth,), memory.plan, (), shelf=(skirt,)).answers
    assert isinstance(near, BoughtAnswer)
    assert near.verdict == "with a change"
    assert near.plan is not None
    assert near.plan.length <= cloth.usable_length
    (change,) = near.changes
    assert -12 <= change.by < 0
    assert words.change(near) == f"{-change.by:.0f} cm shorter at the hem, and it fits"
    assert near.need.high == pytest.approx(near.plan.length)


def test_what_the_box_holds_is_not_bought_for_a_bought_pattern_either(memory: LayMemory):
    skirt = next(one for one in SHELF if one.name == "Mill 2 straight skirt")
    box = (BoxItem("Black zip", "zip", count=1, width=22.0),)
    without, having = (
        suggest(evening(), (LINEN,), memory.plan, (), shelf=(skirt,), box=there).answers[0]
        for there in ((), box)
    )
    assert "zip" in {line.sort for line in without.to_buy}
    assert "zip" not in {line.sort for line in having.to_buy}
    assert "lining" in {line.sort for line in having.to_buy}  # its table asks for it


@pytest.mark.parametrize(
    ("text", "title", "sort", "length", "count", "width"),
    [
        ("zip 20 cm", "Zip 20 cm", "zip", 0, 1, 20),
        ("10 buttons 11 mm", "Buttons 11 mm", "button", 0, 10, 1.1),
        ("80 cm waistband interfacing", "Waistband interfacing", "interfacing", 80, 0, 0),
        ("1.5 m elastic 2.5 cm", "Elastic 2.5 cm", "elastic", 150, 0, 2.5),
        ("30 cm narrow bias binding", "Narrow bias binding", "bias binding", 30, 0, 0),
        ("hook and bar", "Hook and bar", "hook", 0, 1, 0),
        ("ballpoint needle 80", "Ballpoint needle 80", "needle", 0, 1, 0),
        ("a pompom", "A pompom", "other", 0, 1, 0),
        ("thread", "Thread", "other", 0, 1, 0),
    ],
)
def test_an_envelope_s_haberdashery_is_read(
    text: str, title: str, sort: str, length: float, count: int, width: float
):
    need = need_told(text, "Skirt")
    assert (need.sort, need.length, need.count, need.width) == (sort, length, count, pytest.approx(width))
    assert need.title == title


# ---- cautions ------------------------------------------------------------------------------------------


def test_what_is_slept_in_and_what_a_child_wears_bears_its_cautions():
    found = {}
    for name in ("Marit", "Juno"):
        body = estimate(BODIES[name])
        for draft in ("pyjama_bottoms", "robe", "gathered_skirt", "button_front_shirt"):
            garment = pattern(draft).make(body, {})
            found[name, draft] = set(cautions_of(garment, LINEN, wants(draft, {})))
    assert found["Marit", "gathered_skirt"] == set()
    assert found["Marit", "pyjama_bottoms"] == found["Marit", "robe"] == {"nightwear"}
    assert "child nightwear" in found["Juno", "pyjama_bottoms"] & found["Juno", "robe"]
    assert "child nightwear" not in found["Juno", "gathered_skirt"]
    assert "child cords" in found["Juno", "robe"]  # its belt
    assert "small parts" in found["Juno", "button_front_shirt"]
    shirt = pattern("button_front_shirt").make(estimate(BODIES["Juno"]), {})
    assert "child nightwear" in cautions_of(shirt, LINEN, wants("button_front_shirt", {}), "sleep")


def test_answer_and_booklet_give_the_same_cautions():
    """A grown-up's answer says all that the booklet says, but of tools; a child's nothing besides."""
    for cloth in (LINEN, replace(LINEN, kind="fleece")):
        for draft in PATTERNS:
            knit = {"stretch": 50.0} if any(choice.name == "stretch" for choice in draft.choices) else {}
            for name in ("Osei", "Juno"):
                garment = pattern(draft.name).make(estimate(BODIES[name]), knit)
                beside = cautions_of(garment, cloth, wants(draft.name, {}))
                booklet = [one for one in cautions(garment, cloth) if one not in ("iron", "needle", "blade")]
                assert set(beside) <= set(booklet)
                assert name == "Juno" or list(beside) == booklet


def test_cautions_are_told_in_words_and_name_the_local_rules(memory: LayMemory):
    found = suggest(evening("Juno"), (LINEN,), memory.plan, (pattern("pyjama_bottoms"),), most=1)
    said = words.cautions(found.answers[0])
    assert any("fire" in one and "your local rules" in one for one in said)
    (cords,) = caution_words(("child cords",))
    assert "EN 14682" in cords


# ---- where to stop, and what a reason says ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("evening_minutes", "stop"),
    [
        (30, ""),
        (60, PAPER),
        (100, CUT_OUT),
        (135, CUT_OUT),
        (150, "Side seams"),
        (230, CUT_OUT),
        (260, "Side seams"),
        (500, ""),
    ],
)
def test_the_last_good_place_within_the_evening_is_told(evening_minutes: float, stop: str):
    time = Minutes(10, 40, 50, 60, 40, 120, 200, 340)
    stages = ((PAPER, 50.0), (CUT_OUT, 50.0), ("", 30.0), ("Side seams", 20.0), ("Hem", 50.0))
    assert last_stage(stages, time, evening_minutes) == stop


def test_more_than_the_evening_speaks_against_and_what_only_may_be_for_neither():
    assert Reason("over time", 0.1, {"over": 55.0}).speaks == "against"
    assert Reason("may run over", 0.28, {"over": 55.0}).speaks == "neither"
    assert Reason("in time", 0.35, {"spare": 55.0}).speaks == "for"
    assert Reason("too heavy", 0.2, {"grams": 300.0, "wanted": 200.0}).speaks == "against"
    assert Reason("out of season", -0.1, {"season": "summer", "worn": "winter"}).speaks == "against"


@pytest.mark.parametrize(
    "words_asked", [{"skill": "godlike"}, {"season": "monsoon"}, {"occasion": "coronation"}]
)
def test_what_is_no_skill_season_or_occasion_is_refused_with_those_there_are(words_asked: dict[str, str]):
    with pytest.raises(ChoiceError, match="is no") as no:
        Asked(**words_asked)
    assert no.value.mend.startswith("Say ")


# ---- taking it up ---------------------------------------------------------------------------------------


def test_an_answer_from_scraps_is_a_ticket_that_can_be_worked_out(memory: LayMemory):
    """The skirt on one remnant, its pocket bags on a thin one: all on the ticket, nothing of it to buy."""
    skirt = replace(LINEN, name="Remnant", length=95.0)
    thin = Cloth("Thin", 110.0, 45.0, grams_per_m2=80.0)
    found = from_scraps(evening("Juno"), (skirt, thin), memory.plan, (pattern("four_panel_skirt"),))
    bagged = [one for one in found if len(one.parts) > 1]
    assert bagged
    for one in (found[0], bagged[0]):
        ticket = read_ticket(write_ticket(one.answer.ticket))
        worked = work_out(ticket, effort="quick")
        assert {cloth.name for cloth, _ in worked.named} == {part.cloth.name for part in one.parts}
        assert worked.unnamed.keys() <= {line.sort for line in one.answer.to_buy} | {"rib"}
    assert "pocket cloth" not in {line.sort for line in bagged[0].answer.to_buy}


def test_the_best_of_the_scraps_are_those_of_looking_at_all(memory: LayMemory):
    remnants = (replace(LINEN, name="One", length=70.0), replace(LINEN, name="Two", length=50.0))
    drafts = (pattern("gathered_skirt"), pattern("apron"), pattern("four_panel_skirt"))
    every = from_scraps(evening("Juno"), remnants, memory.plan, drafts, most=1000)
    few = from_scraps(evening("Juno"), remnants, memory.plan, drafts, most=3)
    assert [one.score for one in every] == sorted((one.score for one in every), reverse=True)
    assert [(one.title, one.score) for one in few] == [(one.title, one.score) for one in every[:3]]


def test_an_answer_is_taken_up_once_and_a_bought_one_is_not(row: Suggestions, tmp_path):
    from clothwise.cli.taking import take_up

    drafted = next(n for n, one in enumerate(row.answers, 1) if isinstance(one, Answer))
    bought = next(n for n, one in enumerate(row.answers, 1) if isinstance(one, BoughtAnswer))
    file = tmp_path / "ticket.toml"
    assert "clothwise make" in take_up(row.answers, drafted, file)
    taken = row.answers[drafted - 1]
    assert isinstance(taken, Answer)
    assert read_ticket(file.read_text("utf-8")).choices == taken.ticket.choices
    for number, where in ((drafted, file), (bought, tmp_path / "b"), (0, file), (10_000, file)):
        with pytest.raises(ChoiceError) as no:
            take_up(row.answers, number, where)
        assert no.value.mend


@pytest.mark.parametrize("finder", ["goes_on", "fits"])
def test_a_lay_that_only_one_look_finds_is_taken_up(
    finder: str, monkeypatch: pytest.MonkeyPatch, memory: LayMemory
):
    pieces = Make(pattern("apron"), {}, estimate(BODIES["Marit"])).pieces
    plan = memory.plan(made.lay_problem(pieces, LINEN), "quick")

    def only_brisk(problem: LayProblem, effort: str, **_: object) -> SimpleNamespace:
        found = plan if effort == "brisk" and finder == "fits" else None
        return SimpleNamespace(plan=found, reason="none", shortest=None)

    monkeypatch.setattr(made, "best_plan", lambda *_, **__: replace(plan, length=999.0))
    monkeypatch.setattr(made, "goes_on", lambda *_, **__: plan if finder == "goes_on" else None)
    monkeypatch.setattr(made, "fits", only_brisk)
    assert made.laid(pieces, LINEN, effort="quick") is plan
