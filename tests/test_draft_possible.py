"""What a refusal says is possible can be had."""

from __future__ import annotations

import re
from itertools import product

import pytest

from clothwise.body import Body, sample
from clothwise.draft import PATTERNS, HouseDraft, pattern
from clothwise.draft.pattern import Choice
from clothwise.errors import ChoiceError

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


def _refusal(draft: HouseDraft, body: Body, wish: dict[str, float | str]) -> ChoiceError | None:
    try:
        draft.make(body, wish)
    except ChoiceError as refused:
        return refused
    return None


def _about(refused: ChoiceError, choice: Choice) -> bool:
    return f"'{choice.name}'" in refused.where
