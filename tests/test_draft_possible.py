"""What a refusal says is possible can be had."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import product

import pytest

from clothwise.body import Body, Measure, sample
from clothwise.draft import PATTERNS, HouseDraft, pattern
from clothwise.draft.pattern import Choice
from clothwise.draft.possible import greatest
from clothwise.draft.trouser_frame import refuse_low_waist
from clothwise.errors import ChoiceError, MeasureError

LENGTHS = ("longer", "sleeve_longer", "neck_width", "neck_depth")
TOLD = re.compile(r"For this body (?:up to )?([+-][\d.]+) cm (?:or more )?is possible")


@pytest.mark.parametrize("draft", PATTERNS, ids=lambda draft: draft.name)
def test_the_bounds_of_a_refused_length_can_be_had(draft: HouseDraft) -> None:
    for choice in (one for one in draft.choices if one.name in LENGTHS):
        for body, end in product((*sample("woman", 2, 41), *sample("man", 2, 41)), (choice.low, choice.high)):
            refused = _refusal(draft, body, {choice.name: end})
            bound = TOLD.search(refused.mend) if refused else None
            if refused is None or bound is None or not _about(refused, choice):
                continue
            again = _refusal(draft, body, {choice.name: float(bound[1])})
            assert again is None or not _about(again, choice), again


def test_a_length_over_the_floor_is_told_how_far_it_may_go() -> None:
    refused = _refusal(pattern("pull_on_trousers"), sample("woman", 1, 41)[0], {"longer": 10.0})
    assert refused is not None
    assert TOLD.search(refused.mend)


@pytest.mark.parametrize("name", ["pyjama_bottoms", "leggings"])
def test_a_crotch_length_that_contradicts_the_rise_is_told_one_that_does_not(name: str) -> None:
    """At the bound told the body is drawn; a millimetre off the bound once told as 'to 71 cm' refused 70.7."""
    draft, told = pattern(name), re.compile(r"crotch length can be ([\d.]+) to ([\d.]+) cm")
    for body in sample("woman", 6, 41):
        for far, bound in ((-25.0, 1), (25.0, 2)):
            with pytest.raises(MeasureError) as refused:
                draft.make(_with_crotch(body, body["crotch_length_total"] + far))
            found = told.search(refused.value.mend)
            assert found, refused.value
            draft.make(_with_crotch(body, float(found[bound])))


def _with_crotch(body: Body, cm: float) -> Body:
    return replace(body, measures={**body.measures, "crotch_length_total": Measure(cm)})


def test_a_waist_at_its_own_height_is_not_told_to_be_lower() -> None:
    with pytest.raises(ChoiceError, match="no higher"):
        refuse_low_waist("pyjama_bottoms", 0.0, -0.5)
    with pytest.raises(ChoiceError, match="2 cm lower"):
        refuse_low_waist("pyjama_bottoms", -2.0, -2.0)


def test_the_greatest_that_fits_is_found_to_the_millimetre_or_to_a_share_of_itself() -> None:
    for limit in (0.1, 0.3, 1.23, 7.0, 19.99):
        found = greatest(lambda cm, most=limit: cm <= most, 0.1, 20.0)
        assert found is not None
        assert limit - 0.1 < found <= limit
        about = greatest(lambda cm, most=limit: cm <= most, 0.1, 20.0, share=16)
        assert about is not None
        assert limit * (1 - 1 / 16) - 0.1 < about <= limit
    assert greatest(lambda cm: False, 0.1, 20.0) is None
    assert greatest(lambda cm: cm <= 5.0, 6.0, 20.0) is None


def _refusal(draft: HouseDraft, body: Body, wish: dict[str, float | str]) -> ChoiceError | None:
    try:
        draft.make(body, wish)
    except ChoiceError as refused:
        return refused
    return None


def _about(refused: ChoiceError, choice: Choice) -> bool:
    return f"'{choice.name}'" in refused.where
