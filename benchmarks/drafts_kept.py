"""What a long sweep has found so far, kept in a file beside it, and what tells whether it still stands.

A sweep takes minutes a draft; one that was ended half-way goes on where it was when it is begun again with the
same folder. Garments drawn otherwise since then make it begin anew: the digest at the file's head says so.
"""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from clothwise.body import Body
from clothwise.draft import HouseDraft
from clothwise.errors import WorkroomError

Wish = dict[str, float | str]
DIGITS = 16  # of the digest, in hexadecimal: enough to tell two drafts of a house apart


@dataclass
class Found:
    """What a run over bodies found. `faults` by rule, `refused` by the sentence's first words."""

    drawn: int = 0
    refused: int = 0
    out_of_range: int = 0  # a choice at its end that this body cannot have: said so
    faults: Counter[str] = field(default_factory=Counter)
    worst: dict[str, str] = field(default_factory=dict)
    greatest_move: float = 0.0

    def add(self, other: Found) -> None:
        self.drawn += other.drawn
        self.refused += other.refused
        self.out_of_range += other.out_of_range
        self.faults.update(other.faults)
        self.worst = {**other.worst, **self.worst}
        self.greatest_move = max(self.greatest_move, other.greatest_move)


class Kept:
    """The finished jobs of one draft's sweep, one line of JSON each; without a folder nothing is kept."""

    def __init__(self, folder: Path | None, name: str, digest: str = "") -> None:
        self._file = folder / f"{name}.jsonl" if folder else None
        self._found: dict[str, Found] = {}
        if self._file is None:
            return
        lines = self._file.read_text().splitlines() if self._file.exists() else []
        if lines and json.loads(lines[0]) == digest:
            # a line cut off when the sweep was ended is done again
            whole = [line for line in lines[1:] if line.endswith("}]")]
            for job, found in map(json.loads, whole):
                self._found[job] = Found(**{**found, "faults": Counter(found["faults"])})
        kept = [json.dumps(digest), *(_line(job, found) for job, found in self._found.items())]
        self._file.write_text("".join(f"{line}\n" for line in kept))

    def found(self, job: str) -> Found | None:
        return self._found.get(job)

    def keep(self, job: str, found: Found) -> None:
        if self._file is not None:
            with self._file.open("a") as file:
                file.write(f"{_line(job, found)}\n")


def _line(job: str, found: Found) -> str:
    return json.dumps([job, vars(found)])


def digest(draft: HouseDraft, bodies: Sequence[Body], wished: Sequence[Wish]) -> str:
    """Of the garments of these bodies, to the last digit: each as the draft stands and with two of the wishes
    in turn. Of a refusal it counts that there is one, not how it is worded."""
    seen = hashlib.sha256()
    for number, body in enumerate(bodies):
        for wish in ({}, wished[2 * number % len(wished)], wished[(2 * number + 1) % len(wished)]):
            try:
                drawn = repr(draft.make(body, wish))
            except WorkroomError as no:
                drawn = type(no).__name__
            seen.update(drawn.encode())
    return seen.hexdigest()[:DIGITS]
