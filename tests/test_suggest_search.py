"""What suggest rules out cannot be had; changes, lengths, remnants and bought patterns are really found."""

from __future__ import annotations

from dataclasses import replace

import pytest
from benchmarks.cupboard_of_forty import forty
from shapely.geometry import Polygon

from clothwise.body import estimate
from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS, pattern
from clothwise.errors import ClothError
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import fits
from clothwise.lay.problem import LayProblem
from clothwise.lay.verify import faults
from clothwise.sew import Sewer
from clothwise.store.demo import bought_scenario, scenario
from clothwise.store.lays import LayMemory
from clothwise.suggest import near as near_module
from clothwise.suggest.bought import bought_answers
from clothwise.suggest.candidate import Evening, Make
from clothwise.suggest.laying import goes_onto, rules_out
from clothwise.suggest.longest import STEP, longest
from clothwise.suggest.near import near_miss
from clothwise.suggest.scraps import from_scraps
from clothwise.suggest.stretching import Stretch
from clothwise.suggest.suggest import choices_of, suggest
from clothwise.suggest.suiting import SUITS, Asked, share_of, suiting
from clothwise.suggest.wants import WANTS
from clothwise.ticket.made import BLADE_GAP, lay_cloth, work_out

BODIES = {body.name: body for body in scenario()[0]}
MARIT = estimate(BODIES["Marit"])
LINEN = Cloth("Linen", 138, 240, grams_per_m2=185, kind="linen")


def evening(name: str = "Marit", hours: float = 3.0, **more: str) -> Evening:
    return Evening(BODIES[name], Sewer(name, "practised"), hours, **more)


# ---- pruning --------------------------------------------------------------------------------------


def test_what_the_bounds_rule_out_no_lay_can_hold():
    """Against the engine at its full effort: nothing ruled out is ever laid, on cloths tight by every bound."""
    known, ruled_out, laid = NoFits(), 0, 0
    for name in ("four_panel_skirt", "raglan_pullover", "circle_skirt", "apron"):
        pieces = Make(pattern(name), {}, MARIT).pieces
        widest = max(_span(piece.whole_outline, 0) for piece in pieces)
        longest_piece = max(_span(piece.whole_outline, 1) for piece in pieces)
        area = sum(piece.area_cm2 for piece in pieces)
        for width, length in (
            (widest * 0.97, 600.0), (widest * 1.01, 600.0), (140.0, longest_piece * 0.98),
            (140.0, longest_piece * 1.02), (140.0, area / 140 * 0.99), (140.0, area / 140 * 1.6),
        ):  # fmt: skip
            cloth = Cloth("A", round(width, 1), round(length, 1), nap="none")
            answer = fits(LayProblem(pieces, lay_cloth(cloth), BLADE_GAP), effort="brisk", known=known)
            if rules_out(pieces, cloth):
                ruled_out += 1
                assert answer.plan is None, (name, width, length)
            laid += answer.plan is not None
    assert ruled_out >= 6
    assert laid >= 6


def _span(outline: tuple[tuple[float, float], ...], axis: int) -> float:
    values = [point[axis] for point in outline]
    return max(values) - min(values)


def test_the_area_without_allowances_never_exceeds_that_of_the_cut_pieces():
    for draft in PATTERNS:
        cloth = Cloth("A", 150, 300, make=draft.makes[0], stretch_across=0.5)
        make = Make(draft, next(choices_of(draft, cloth)), MARIT)
        if make.garment is not None:
            assert make.least_area_cm2() <= sum(piece.area_cm2 for piece in make.pieces) + 1e-6


def test_nothing_that_goes_on_is_called_impossible(memory: LayMemory):
    """Every refusal that names a draft and a cloth is held against a look at each make of the two."""
    cloths = [one for one in forty() if one.usable_length < 130][:6]
    drafts = tuple(pattern(name) for name in ("four_panel_skirt", "gathered_skirt", "leggings"))
    found = suggest(evening(), cloths, memory.plan, drafts, most=60)
    by_name = {cloth.name: cloth for cloth in cloths}
    refused = [(pattern(one.pattern), by_name[one.cloth]) for one in found.refusals if one.cloth]
    assert refused
    for draft, cloth in refused:
        if cloth.make not in draft.makes:
            continue
        for wish in choices_of(draft, cloth):
            make = Make(draft, wish, MARIT)
            assert make.garment is None or goes_onto(make.pieces, cloth, memory.plan) is None


# ---- suiting ---------------------------------------------------------------------------------------


def test_every_draft_has_its_wants():
    assert set(WANTS) == {draft.name for draft in PATTERNS}
    for want in WANTS.values():
        assert 0 < want.drape[0] < want.drape[1] < 1


def test_counts_of_the_reasons_add_up_to_the_share():
    for cloth in forty():
        for draft in PATTERNS:
            asked = Asked("beginner", "summer", "sleep")
            found = suiting(draft, {}, cloth, asked)
            assert sum(reason.counts for reason in found.reasons) == pytest.approx(SUITS * found.share)
            assert found.share == pytest.approx(
                share_of(draft, {}, cloth, Asked("beginner", "summer", "sleep"))
            )
            assert 0 <= found.share <= 1


@pytest.mark.parametrize(
    ("draft", "good", "bad"),
    [
        ("bias_skirt", "viscose challis", "canvas"),
        ("circle_skirt", "lyocell twill", "denim, raw"),
        ("bias_camisole", "silk satin", "calico"),
        ("pull_on_trousers", "linen", "voile"),
        ("a_line_skirt", "cotton twill", "georgette"),
        ("gathered_skirt", "cotton lawn", "corduroy"),
        ("apron", "canvas", "silk satin"),
        ("leggings", "swim tricot", "viscose jersey"),
        ("darted_shift", "linen", "georgette"),
    ],
)
def test_what_the_trade_would_choose_suits_better(draft: str, good: str, bad: str):
    from clothwise.cloth.typed import cloth_typed

    size = {"width": "140", "length": "300"}
    shares = [
        suiting(pattern(draft), {}, cloth_typed(kind, {"kind": kind, **size})).share for kind in (good, bad)
    ]
    assert shares[0] > shares[1]


def test_the_look_follows_the_drape():
    looks = [
        suiting(pattern("circle_skirt"), {}, replace(LINEN, drape=drape)).look
        for drape in (0.15, 0.3, 0.45, 0.62, 0.9)
    ]
    assert looks == ["hangs close", "falls softly", "as drawn", "stands a little", "stands away, wider line"]


def test_season_occasion_and_skill_take_off_and_say_so():
    cord = Cloth("Cord", 140, 200, kind="corduroy", grams_per_m2=290, nap="one-way")
    for asked, kind in (
        (Asked(season="summer"), "out of season"),
        (Asked(occasion="sleep"), "other occasion"),
        (Asked(skill="beginner"), "hard"),
    ):
        found = suiting(pattern("a_line_skirt"), {}, cord, asked)
        assert found.share < suiting(pattern("a_line_skirt"), {}, cord).share, asked
        assert kind in {reason.kind for reason in found.reasons}


# ---- knits -----------------------------------------------------------------------------------------


def test_a_knit_that_cannot_stretch_enough_is_refused_with_the_sum(memory: LayMemory):
    stiff = Cloth("Stiff", 150, 200, make="knit", grams_per_m2=240, stretch_across=0.1)
    found = suggest(evening(), (stiff,), memory.plan, (pattern("leggings"),))
    assert found.answers == ()
    (why,) = [one.why for one in found.refusals]
    assert "must stretch" in why
    assert "This cloth gives 10%: 10 cm pull out to 11.0 cm" in why


def test_the_sum_is_right():
    said = Stretch(0.25, 0.1).sentence("It")
    assert "10 cm must pull out to 12.5 cm" in said
    assert not Stretch(0.25, 0.1).enough
    assert Stretch(0.25, 0.25).enough


# ---- near misses -------------------------------------------------------------------------------------


def tight(make: Make, memory: LayMemory, lacking: float) -> Cloth:
    """A cloth just too short for a make."""
    plan = memory.plan(LayProblem(make.pieces, lay_cloth(LINEN), BLADE_GAP), "quick")
    return Cloth("Tight", LINEN.width, round(plan.length - lacking, 1), grams_per_m2=185)


@pytest.mark.parametrize(
    ("draft", "wish"),
    [("gathered_skirt", {"length": "midi"}), ("raglan_pullover", {"sleeve": "long"})],
)
def test_a_near_miss_really_goes_on_and_no_cheaper_single_change_does(
    draft: str, wish: dict[str, str], memory: LayMemory
):
    make = Make(pattern(draft), wish, MARIT)
    cloth = tight(make, memory, 14)
    near = near_miss(make, cloth, memory.plan)
    assert near is not None
    assert near.changes
    assert faults(near.plan) == ()
    assert near.plan.length <= cloth.usable_length
    whole = make.least_area_cm2()
    for choice in make.draft.choices:  # every other option, one at a time
        for option in choice.options:
            other = Make(make.draft, {**wish, choice.name: option}, MARIT)
            if other.garment is None:
                continue
            lost = 1 - other.least_area_cm2() / whole
            if 0 < lost < near.lost - 0.02:
                assert goes_onto(other.pieces, cloth, memory.plan) is None, (choice.name, option)


@pytest.mark.parametrize(("lacking", "length"), [(4.0, "midi"), (9.0, "maxi")])
def test_a_near_miss_is_told_beside_what_goes_on(lacking: float, length: str, memory: LayMemory):
    """The next shorter skirt goes on as it is: it is still worth hearing how little the longer one lacks."""
    draft = pattern("four_panel_skirt")
    make = Make(draft, {"length": length, "pockets": "none"}, MARIT)
    found = suggest(evening(hours=4.0), (tight(make, memory, lacking),), memory.plan, (draft,), most=60)
    as_it_is = {answer.ticket.choices["length"] for answer in found.answers if not answer.changes}
    assert as_it_is
    assert length not in as_it_is
    (near,) = [answer for answer in found.answers if answer.changes]
    assert near.ticket.choices["length"] == length
    assert near.change.choice == draft.shortened_by
    assert -lacking - 1 <= near.change.by <= -lacking + 1
    assert near.plan.length <= near.cloth.usable_length
    plain = [dict(wish) for wish in choices_of(draft, near.cloth)]
    assert dict(near.ticket.choices) not in plain  # what goes on as it is has a place of its own


def test_unseen_pieces_come_from_another_cloth_and_the_ticket_says_so(memory: LayMemory):
    make = Make(pattern("a_line_skirt"), {"waist": "facing with zip"}, MARIT)
    kept = tuple(piece for piece in make.pieces if "facing" not in piece.name)
    plan = memory.plan(LayProblem(kept, lay_cloth(LINEN), BLADE_GAP), "quick")
    cloth = Cloth("Tight", LINEN.width, round(plan.length + 0.6, 1), grams_per_m2=185)
    assert goes_onto(make.pieces, cloth, memory.plan) is None
    scrap = Cloth("Scrap", 90, 60, grams_per_m2=120)
    near = near_miss(make, cloth, memory.plan, others=(scrap,))
    assert near is not None
    assert near.other_cloth == scrap
    assert near.other_plan is not None
    assert faults(near.other_plan) == ()
    assert {piece.name for piece in near.other} == {p.name for p in make.pieces} - {p.name for p in kept}


def test_no_more_pieces_than_it_takes_come_from_another_cloth(memory: LayMemory):
    """On cloths a little longer each time: what is moved goes back on with its largest piece nowhere."""
    make = Make(pattern("a_line_skirt"), {"waist": "facing with zip"}, MARIT)
    scrap = Cloth("Scrap", 138, 90, grams_per_m2=185)
    whole = memory.plan(LayProblem(make.pieces, lay_cloth(LINEN), BLADE_GAP), "quick").length
    moved = set()
    for lacking in range(2, 30, 3):
        cloth = Cloth("Tight", LINEN.width, round(whole - lacking, 1), grams_per_m2=185)
        near = near_module._moved(make, cloth, (scrap,), memory.plan, 1.0)
        if near is None:
            continue
        moved.add(len(near.other))
        if len(near.other) > 1:
            back = max(near.other, key=lambda piece: (not near_module.hidden(piece), piece.area_cm2))
            kept = tuple(piece for piece in make.pieces if piece not in near.other or piece is back)
            assert goes_onto(kept, cloth, memory.plan) is None, lacking
        else:
            assert goes_onto(make.pieces, cloth, memory.plan) is None, lacking
    assert moved


def test_an_answer_with_two_changes_or_none_can_be_made_as_its_ticket_stands(memory: LayMemory):
    cloths = (Cloth("Short", 112, 70, grams_per_m2=120), Cloth("Scrap", 80, 50, grams_per_m2=120))
    found = suggest(evening(), cloths, memory.plan, (pattern("gathered_skirt"), pattern("apron")), most=4)
    changed = [answer for answer in found.answers if answer.changes]
    for answer in changed[:2]:
        assert work_out(answer.ticket, effort="quick").plan.length <= answer.plan.problem.cloth.length


# ---- the longest, remnants, bought patterns -----------------------------------------------------------


def test_the_longest_goes_on_and_half_a_centimetre_more_does_not():
    make = Make(pattern("four_panel_skirt"), {"length": "knee"}, MARIT)
    cloth = Cloth("Short", 138, 72, grams_per_m2=185)
    found = longest(make, cloth)
    assert faults(found.plan) == ()
    assert not found.capped
    longer = Make(make.draft, {**make.wish, "longer": found.by + STEP}, MARIT)
    answer = fits(LayProblem(longer.pieces, lay_cloth(cloth), BLADE_GAP), effort="quick")
    assert answer.plan is None
    with pytest.raises(ClothError, match="however short"):
        longest(make, Cloth("Scrap", 30, 30))


def test_a_remnant_s_answer_keeps_to_its_shape_and_off_its_flaw(memory: LayMemory):
    outline = ((0.0, 0.0), (118.0, 0.0), (118.0, 140.0), (34.0, 140.0), (0.0, 92.0))
    flaw = ((72.0, 58.0), (79.0, 58.0), (79.0, 63.0), (72.0, 63.0))
    remnant = Cloth("Remnant", 140, 118, grams_per_m2=200, kind="cotton twill", outline=outline, flaws=(flaw,))
    found = suggest(evening(), (remnant,), memory.plan, (pattern("four_panel_skirt"),), most=2)
    assert found.answers
    shape = Polygon(outline).buffer(0.01)
    for answer in found.answers:
        pieces = {piece.name: piece for piece in answer.plan.problem.pieces}
        for placement in answer.plan.placements:
            laid = Polygon(placement.outline_on_cloth(pieces[placement.piece]))
            assert shape.covers(laid)
            assert laid.intersection(Polygon(flaw)).area < 0.01


def test_scraps_together_give_what_none_gives_alone(memory: LayMemory):
    """A cloth that holds the skirt without its band, and a strip that holds the band."""
    draft = pattern("a_line_skirt")
    make = Make(draft, {"length": "mini"}, estimate(BODIES["Juno"]))
    kept = tuple(piece for piece in make.pieces if "band" not in piece.name)
    plan = memory.plan(LayProblem(kept, lay_cloth(Cloth("One", 60, 200)), BLADE_GAP), "quick")
    one = Cloth("One", 60, round(plan.length + 0.6, 1), grams_per_m2=150)
    strip = Cloth("Strip", 20, 75, grams_per_m2=140)
    assert from_scraps(evening("Juno"), (strip,), memory.plan, (draft,)) == ()
    found = from_scraps(evening("Juno"), (one, strip), memory.plan, (draft,))
    assert {part.cloth.name for answer in found for part in answer.parts} == {"One", "Strip"}
    for answer in found:
        laid = [name for part in answer.parts for name in part.pieces]
        assert sorted(laid) == sorted(piece.name for piece in answer.make.pieces)  # all pieces, each once
        for part in answer.parts:
            assert faults(part.plan) == ()
            assert part.plan.length <= part.cloth.usable_length


def test_bought_patterns_answer_with_size_cloth_and_honest_minutes(memory: LayMemory):
    patterns, makes = bought_scenario()
    _, cupboard, _ = scenario()
    answers, refusals = bought_answers(evening(), cupboard, patterns, memory.plan, makes)
    assert {one.pattern for one in answers} >= {"Mill 2 straight skirt"}
    by_name = {cloth.name: cloth for cloth in cupboard}
    for one in answers:
        cloth = by_name[one.cloth.name]
        if one.plan is not None:
            assert faults(one.plan) == ()
            assert one.plan.length <= cloth.usable_length
        else:
            assert one.need.high <= cloth.usable_length
        stated = next(p.minutes for p in patterns if p.name == one.pattern)
        assert one.minutes.low < one.minutes.likely < one.minutes.high
        if stated:
            assert one.minutes.likely > stated  # advertised minutes are never the whole make
    assert all(refusal.why for refusal in refusals)
    assert [one.score for one in answers] == sorted((one.score for one in answers), reverse=True)


def test_progress_comes_to_its_end_and_early_answers_are_whole(memory: LayMemory):
    seen: list[tuple[int, int]] = []
    early = []
    suggest(
        evening(), (LINEN,), memory.plan, (pattern("four_panel_skirt"),), most=3,
        progress=lambda done, of: seen.append((done, of)), early=early.append,
    )  # fmt: skip
    assert seen
    assert seen[-1][0] == seen[-1][1]
    assert early
    assert all(faults(answer.plan) == () for answer in early)
