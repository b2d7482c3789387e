"""Who sews, and on what: the skill, the machine, how often she has made this pattern."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal, get_args

from clothwise.errors import TicketError

Skill = Literal["beginner", "practised", "expert"]
Units = Literal["cm", "inch"]

SKILLS: tuple[str, ...] = get_args(Skill)
PRIOR = 2.0  # makes that the plan is worth against her own log: one slow evening does not make her slow
LEAST_PACE, MOST_PACE = 0.2, 5.0  # her minutes over the model's: outside this a log has been misread


@dataclass(frozen=True, slots=True)
class Sewer:
    """One sewer.

    times_made  how often she has made this very pattern before; 0 = a first make
    pace        her own minutes over the model's, learned from logged makes; 1 = as the model
    logged      how many logged makes the pace rests on
    """

    name: str = ""
    skill: Skill = "beginner"
    overlocker: bool = False
    times_made: int = 0
    units: Units = "cm"
    pace: float = 1.0
    logged: int = 0

    def __post_init__(self) -> None:
        if self.skill not in SKILLS:
            raise TicketError(
                f"'{self.skill}' is not a skill.",
                where=f"sewer '{self.name}': skill",
                mend=f"Choose {', '.join(SKILLS)}.",
            )
        if self.units not in get_args(Units):
            raise TicketError(
                f"'{self.units}' is not a unit of length here.",
                where=f"sewer '{self.name}': units",
                mend="Choose cm or inch.",
            )
        if self.times_made < 0 or self.logged < 0:
            raise TicketError(
                "A number of makes below nought is not possible.",
                where=f"sewer '{self.name}': times_made, logged",
                mend="Give 0 for a first make.",
            )
        if not LEAST_PACE <= self.pace <= MOST_PACE:
            raise TicketError(
                f"A pace of {self.pace:g} is not believable.",
                where=f"sewer '{self.name}': pace",
                mend=f"It is her minutes over the planned ones, {LEAST_PACE:g} to {MOST_PACE:g}.",
            )


def learned(sewer: Sewer, planned: float, taken: float) -> Sewer:
    """The sewer after one more logged make: her pace drawn towards what she took over what was planned.

    planned  likely minutes planned for her; taken  minutes she logged, both above nought
    Raises   TicketError: a log that cannot be minutes
    """
    if not (0 < planned < math.inf and 0 < taken < math.inf):
        raise TicketError(
            f"{taken:g} minutes against {planned:g} planned cannot be learned from.",
            where=f"sewer '{sewer.name}': log",
            mend="Log the whole make in minutes, without pauses.",
        )
    weight = 1.0 / (PRIOR + sewer.logged + 1.0)
    pace = sewer.pace * (taken / planned) ** weight
    return replace(sewer, pace=min(max(pace, LEAST_PACE), MOST_PACE), logged=sewer.logged + 1)
