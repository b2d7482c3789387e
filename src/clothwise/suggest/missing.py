"""Near misses of an evening: for a pattern of which nothing goes onto a cloth, the least change.

The pair that could rank highest comes first; each is searched (see `near`) until enough are found. What no
change mends is refused with the proof where there is one, else with the sentence that no lay was found.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from clothwise.cloth import Cloth
from clothwise.suggest.bought import BoughtCandidate
from clothwise.suggest.candidate import Candidate, Evening, Make
from clothwise.suggest.laying import Planner, rules_out
from clothwise.suggest.near import Near, Redraw, near_miss

Pair = tuple[str, str]  # pattern and cloth
GOES_ON = 0.6  # of a cloth, without allowances: of more a lay is seldom found; only the order rests on it


@dataclass(slots=True)
class Missing:
    """Makes that did not go onto their cloth, and those nobody looked at yet, by pattern and cloth."""

    evening: Evening
    planner: Planner
    cloths: Mapping[str, Cloth]
    short: dict[Pair, list[Make]] = field(default_factory=lambda: defaultdict(list))
    waiting: dict[Pair, list[Candidate]] = field(default_factory=lambda: defaultdict(list))
    bought: dict[Pair, list[BoughtCandidate]] = field(default_factory=lambda: defaultdict(list))
    redraw: Redraw = field(default_factory=Redraw.new)

    def goes_on(self, pair: Pair) -> None:
        """Something of this pattern can be cut from this cloth: there is nothing near to miss."""
        for rows in (self.waiting, self.short, self.bought):
            rows.pop(pair, None)

    def pairs(self) -> list[Pair]:
        """House drafts whose makes were too much for a cloth, the likeliest to be had first."""
        return sorted(self.short, key=self._far_off)

    def _far_off(self, pair: Pair) -> float:
        """How little a near miss would be worth, and how far the cloth is too small for it."""
        least = min(make.least_area_cm2() for make in self.short[pair])
        lacking = max(0.0, least / (GOES_ON * self.cloths[pair[1]].usable_area_cm2) - 1)
        return lacking - max(candidate.score for candidate in self.waiting[pair])

    def one_goes_on(self, pair: Pair) -> bool:
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

    def nearest(self, pair: Pair) -> Near | None:
        """The least change of the make that takes least: where it cannot be had, no other can either."""
        short, cloth = self.short[pair], self.cloths[pair[1]]
        others = [one for one in self.cloths.values() if one.name != cloth.name]
        make = min(short, key=lambda one: one.least_area_cm2())
        wishes = {tuple(sorted(one.wish.items())) for one in short}

        def known(wish: Any) -> bool:
            return tuple(sorted(wish.items())) in wishes

        return near_miss(make, cloth, self.planner, redraw=self.redraw, others=others, known=known)

    def why_not(self, pair: Pair) -> str:
        """The proof where there is one; else that no lay was found."""
        return _why_not(self.short[pair], self.cloths[pair[1]])

    def bought_near(self) -> Iterator[BoughtCandidate]:
        """Bought patterns that suffice when their hem is shortened, the best first."""
        rows = [row for rows in self.bought.values() for row in rows]
        for row in sorted(rows, key=lambda one: -one.score):
            if row.shortened(self.planner):
                yield row


def _why_not(short: Sequence[Make], cloth: Cloth) -> str:
    least = min(short, key=lambda make: sum(piece.area_cm2 for piece in make.pieces))
    need = sum(piece.area_cm2 for piece in least.pieces) / 10_000
    have = cloth.usable_area_cm2 / 10_000
    match rules_out(least.pieces, cloth):
        case "area":
            return f"Its pieces need {need:.2f} m² and the cloth has {have:.2f} m²."
        case "width":
            return f"A piece is wider than {cloth.usable_width:.0f} cm."
        case "length":
            return f"A piece is longer than {cloth.usable_length:.0f} cm."
        case _:
            return f"No lay was found on {cloth.usable_width:.0f} x {cloth.usable_length:.0f} cm, even changed."
