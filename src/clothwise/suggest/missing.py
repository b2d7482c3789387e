"""Near misses of an evening: makes that would stand among the answers, were their cloth a little larger.

Of a pattern and a cloth the make that takes least is changed: where it cannot be had, no greater one can.
Whether something else of the pattern goes onto the cloth as it is does not matter: of a skirt that goes on
knee-long it is still worth hearing that the long one wants 3 cm. But a change that only leads to a make which
goes on as it is is no news, that make has a place of its own; then the next greater one is tried.

The pairs that would rank best and lack least are searched first (see `near`), patterns and cloths that are told
of already later. What no change mends is refused with the proof where there is one, else with the sentence that
no lay was found.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.draft import HouseDraft
from clothwise.lay.plan import LayPlan
from clothwise.suggest.answer import Change
from clothwise.suggest.bought import BoughtCandidate
from clothwise.suggest.candidate import Candidate, Make, Wish
from clothwise.suggest.choosing import choices_of
from clothwise.suggest.laying import Planner, rules_out
from clothwise.suggest.near import Near, Redraw, near_miss
from clothwise.ticket.ticket import OtherCloth

Pair = tuple[str, str]  # pattern and cloth
Chosen = tuple[tuple[str, float | str], ...]  # a wish that may be a key
MAKES = 4  # of a pattern tried on a cloth
GOES_ON = 0.6  # of a cloth, without allowances: of more a lay is seldom found; only the order rests on it


@dataclass(frozen=True, slots=True)
class NearAsked:
    """What is the least change with which one of these makes goes onto the cloth?

    wishes     of the makes, that which takes least first
    short      wishes that are known not to go on
    something  of the pattern is known to go on
    """

    draft: str
    cloth: str
    wishes: tuple[Chosen, ...]
    short: frozenset[Chosen]
    something: bool


@dataclass(frozen=True, slots=True)
class NearFound:
    """A changed make that goes on. `lost`: share of its cloth given up; `others`: what else it is cut from."""

    wish: Wish
    changes: tuple[Change, ...]
    plan: LayPlan
    lost: float
    others: tuple[tuple[OtherCloth, LayPlan], ...]


@dataclass(slots=True)
class Missing:
    """Makes that did not go onto their cloth, by pattern and cloth."""

    body: Body
    cloths: Mapping[str, Cloth]
    drafts: Mapping[str, HouseDraft]
    short: dict[Pair, list[Candidate]] = field(default_factory=lambda: defaultdict(list))
    bought: dict[Pair, list[BoughtCandidate]] = field(default_factory=lambda: defaultdict(list))
    going: set[Pair] = field(default_factory=set)  # of which something goes on as it is
    redraw: Redraw = field(default_factory=Redraw.new)

    def questions(self, most: int, told: Mapping[str, int], again: float) -> list[NearAsked]:
        """What is worth a search, the likeliest first.

        told   how often a pattern or a cloth was told of; each time takes `again` off what it is worth
        """
        worth = {pair: self._worth(pair) for pair in self.short}
        times, chosen = dict(told), list[Pair]()
        while worth and len(chosen) < most:
            pair = max(worth, key=lambda one: worth[one] - again * sum(times.get(n, 0) for n in named(one)))
            del worth[pair]
            chosen.append(pair)
            for name in named(pair):
                times[name] = times.get(name, 0) + 1
        return [self._question(pair) for pair in chosen]

    def _least(self, pair: Pair) -> Candidate:
        return min(self.short[pair], key=lambda one: one.area)

    def _worth(self, pair: Pair) -> float:
        """Its score, less the share of cloth that it lacks."""
        least = self._least(pair)
        return least.score - max(0.0, least.area / (GOES_ON * least.cloth.usable_area_cm2) - 1)

    def _question(self, pair: Pair) -> NearAsked:
        ordered = sorted(self.short[pair], key=lambda one: one.area)
        wishes = tuple(tuple(one.make.wish.items()) for one in ordered[:MAKES])
        short = frozenset(_chosen(one.make.wish) for one in ordered)
        return NearAsked(*pair, wishes, short, pair in self.going)

    def nearest(self, asked: NearAsked, planner: Planner) -> NearFound | str:
        """The least change; else why there is none, '' where something of the pattern goes on as it is."""
        draft, cloth = self.drafts[asked.draft], self.cloths[asked.cloth]
        plain = [wish for wish in choices_of(draft, cloth) if _chosen(wish) not in asked.short]
        something = asked.something
        for wish in asked.wishes:
            near = self._near(Make(draft, dict(wish), self.body), cloth, planner, asked.short)
            if near is None:
                break
            if near.make.wish not in plain or near.other_cloth is not None:
                return NearFound(near.make.wish, near.changes, near.plan, near.lost, _others(near))
            something = True
        makes = (Make(draft, wish, self.body) for wish in plain)
        if something or any(Candidate(one, cloth).laid(planner).plan for one in makes):
            return ""
        return _why_not(Make(draft, dict(asked.wishes[0]), self.body), cloth)

    def _near(self, make: Make, cloth: Cloth, planner: Planner, short: frozenset[Chosen]) -> Near | None:
        others = [one for one in self.cloths.values() if one.name != cloth.name]
        return near_miss(
            make,
            cloth,
            planner,
            redraw=self.redraw,
            others=others,
            known=lambda wish: _chosen(wish) in short,
        )

    def bought_near(self, planner: Planner) -> Iterator[BoughtCandidate]:
        """Bought patterns that suffice when their hem is shortened, the best first."""
        rows = [row for rows in self.bought.values() for row in rows]
        for row in sorted(rows, key=lambda one: -one.score):
            if row.shortened(planner):
                yield row


def named(pair: Pair) -> tuple[str, str]:
    """Pattern and cloth, by which variety is reckoned."""
    return pair[0], f"cloth {pair[1]}"


def _chosen(wish: Wish) -> Chosen:
    return tuple(sorted(wish.items()))


def _others(near: Near) -> tuple[tuple[OtherCloth, LayPlan], ...]:
    """What a near miss is cut from besides."""
    if near.other_cloth is None or near.other_plan is None:
        return ()
    return ((OtherCloth(tuple(piece.name for piece in near.other), near.other_cloth), near.other_plan),)


def _why_not(make: Make, cloth: Cloth) -> str:
    """The proof where there is one; else that no lay was found."""
    need = sum(piece.area_cm2 for piece in make.pieces) / 10_000
    have = cloth.usable_area_cm2 / 10_000
    match rules_out(make.pieces, cloth):
        case "area":
            return f"Its pieces need {need:.2f} m² and the cloth has {have:.2f} m²."
        case "width":
            return f"A piece is wider than {cloth.usable_width:.0f} cm."
        case "length":
            return f"A piece is longer than {cloth.usable_length:.0f} cm."
        case _:
            return f"No lay was found on {cloth.usable_width:.0f} x {cloth.usable_length:.0f} cm, even changed."
