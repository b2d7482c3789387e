"""An answer taken up: its ticket written to a file, from which `clothwise make` goes on."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from clothwise.errors import ChoiceError
from clothwise.suggest import words
from clothwise.suggest.bought import BoughtAnswer
from clothwise.suggest.found import AnyAnswer
from clothwise.ticket import write_ticket


def take_up(answers: Sequence[AnyAnswer], number: int, file: Path) -> str:
    """Writes the ticket of the answer with this number, from 1; says what is next.

    Raises  ChoiceError: there is no such answer, it is a bought pattern, or the file is there already
    """
    if not 1 <= number <= len(answers):
        there = f"There are {len(answers)}, from 1." if answers else "There is none."
        raise ChoiceError(f"There is no answer {number}.", where="--take", mend=there)
    answer = answers[number - 1]
    if isinstance(answer, BoughtAnswer):
        raise ChoiceError(
            f"Answer {number} is a bought pattern, which has paper of its own and no ticket.",
            where="--take",
            mend=f"Ask `clothwise size` what to cut of '{answer.pattern}'.",
        )
    if file.exists():
        raise ChoiceError(f"There is a file {file} already.", where="--to", mend="Name another.")
    file.write_text(write_ticket(answer.ticket), "utf-8")
    return f"{words.headline(answer)}: its ticket is {file}. Next: clothwise make {file}"
