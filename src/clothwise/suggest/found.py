"""What came out of an evening's question: one ranked row of answers, whatever they are made from."""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.suggest.answer import Answer, Refusal
from clothwise.suggest.bought import BoughtAnswer

AnyAnswer = Answer | BoughtAnswer


@dataclass(frozen=True, slots=True)
class Suggestions:
    """All answers, best first, near misses after; and what fell out with its reason.

    doubts  measures of the body that look like slips of the tape, each a question
    """

    answers: tuple[AnyAnswer, ...]
    refusals: tuple[Refusal, ...]
    doubts: tuple[str, ...] = ()
