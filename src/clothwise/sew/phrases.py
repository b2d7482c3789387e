"""The words that sentences are made of, in one language: names of pieces and edges, lengths, times, lists."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from clothwise.garment import Garment, Run
from clothwise.sew.language import NATIVE, Language, language
from clothwise.sew.sewer import Units
from clothwise.sew.step import Span, Step
from clothwise.units import format_length

SMALL = 1.0  # cm: below, centimetres are said in millimetres
QUARTER, LONG = 15.0, 120.0  # minutes: from so long on, quarters of an hour are enough
HARD = "\u00a0"  # a space that holds a line together
ROUND_TO = 5.0  # minutes: nobody sews by the single minute
NOT_AN_EDGE = ("_inside",)  # endings of edge names that say on which layer the edge lies


def length(cm: float, units: Units, said: Language | None = None) -> str:
    """A length as the sewer reads it: '1.5 cm', '2 mm', '5/8 in'."""
    if units == "inch":
        text = format_length(cm, "in")
        return text if said is None else text.replace(" in", f" {said.sentences['inch']}")
    if cm < SMALL:
        return format_length(cm, "mm")
    text = f"{format_length(cm, 'cm', with_unit=False).removesuffix('.0')} cm"
    return text if said is None else said.number(text)


def edge_name(line: str, said: Language) -> str:
    """The plain name of an edge or placement line."""
    key = line.replace("_", " ").rstrip("0123456789 ")
    if said.code == NATIVE:
        return said.sentences.get(f"edge.{line}", key)
    return said.word("edge", key)


def lower(title: str, said: Language) -> str:
    """A title in running text."""
    return title[:1].lower() + title[1:] if said.code == NATIVE else title


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def hours(minutes: float) -> str:
    """'2 h 30 min', '45 min'; long ones to the quarter of an hour."""
    whole = round_minutes(minutes)
    if whole < 60:
        return f"{whole}{HARD}min"
    h, rest = divmod(round(minutes / QUARTER) * round(QUARTER), 60) if minutes > LONG else divmod(whole, 60)
    return f"{h}{HARD}h {rest}{HARD}min" if rest else f"{h}{HARD}h"


def round_minutes(minutes: float) -> int:
    """Rounded to five; below five to the minute."""
    step = ROUND_TO if minutes >= ROUND_TO else 1.0
    return max(1, round(math.floor(minutes / step + 0.5) * step))


@dataclass(frozen=True, slots=True)
class Telling:
    """One garment told in one language: `tell("hem.fold", ...)` is a sentence, the rest are its parts."""

    garment: Garment
    units: Units = "cm"
    said: Language = field(default_factory=lambda: language(NATIVE))

    def __call__(self, key: str, **parts: object) -> str:
        return self.said.say(key, **parts)

    def length(self, cm: float) -> str:
        return length(cm, self.units, self.said)

    def number(self, value: float, form: str = "g") -> str:
        return self.said.number(format(value, form))

    def about(self, span: Span) -> str:
        return self("about", minutes=round_minutes(span.likely))

    # ---- lists

    def listed(self, items: Sequence[str]) -> str:
        """'a', 'a and b', 'a, b and c'."""
        if len(items) < 2:
            return "".join(items)
        return f"{', '.join(items[:-1])} {self('and')} {items[-1]}"

    def once(self, items: Iterable[str]) -> str:
        """Each once, listed."""
        return self.listed(list(dict.fromkeys(items)))

    def signs(self, signs: Sequence[str]) -> str:
        """Notches by their signs, in quotes."""
        return self.listed([self("quoted", what=self.sign(sign)) for sign in signs])

    def sign(self, sign: str) -> str:
        return self.said.word("sign", sign.replace("_", " "))

    # ---- pieces

    def piece(self, name: str) -> str:
        """The piece's title in running text: 'front leg'."""
        return lower(self.said.word("piece", self.garment.piece(name).title), self.said)

    def pieces(self, name: str) -> str:
        """Several of them: 'front legs'."""
        title = self.garment.piece(name).title
        if self.said.code != NATIVE:
            return self.said.forms("piece", title)[-1]
        one = self.piece(name)
        return one if one.endswith("s") else f"{one}s"

    def these(self, name: str) -> str:
        """'fronts' where several are cut, else 'front'."""
        return self.pieces(name) if self.several_of(name) else self.piece(name)

    def several_of(self, name: str) -> bool:
        """Whether more than one of the piece is cut."""
        return self.garment.piece(name).copies > 1

    def the(self, what: str) -> str:
        return self("the", what=what)

    def named(self, runs: Iterable[Run]) -> str:
        """'front' or 'front and back', each once."""
        return self.once(self.piece(run.piece) for run in runs)

    def several(self, runs: Iterable[Run]) -> bool:
        """Whether the runs lie on more than one piece."""
        return len({self.garment.piece(run.piece).title for run in runs}) > 1

    # ---- edges

    def edge(self, line: str) -> str:
        return edge_name(line, self.said)

    def edges(self, runs: Iterable[Run], *, several: bool = False) -> str:
        """'side edge', 'neck and slit edges', 'front edge'."""
        lines = list(dict.fromkeys(run.line for run in runs))
        names = list(dict.fromkeys(self.edge(line) for line in lines))
        if self.said.code != NATIVE:
            kind = 2 if several else 1
            keys = dict.fromkeys(line.replace("_", " ").rstrip("0123456789 ") for line in lines)
            forms = (self.said.forms("edge", key) for key in keys)
            return self.once(found[min(kind, len(found) - 1)] for found in forms)
        word = "edges" if several or len(names) > 1 else "edge"
        return f"{self.listed([name.removesuffix(' edge') for name in names])} {word}"

    def edges_of_pieces(self, runs: Sequence[Run]) -> str:
        """'the crotch edges of the front leg and back leg' or 'the side edge of the front leg'."""
        return self("edges_of", edges=self.edges(runs, several=len(runs) > 1), pieces=self.named(runs))

    def edges_by_piece(self, runs: Sequence[Run]) -> list[str]:
        """'front leg: side, inside leg' for every piece, each edge once."""
        found: dict[str, list[str]] = {}
        for run in runs:
            lines = found.setdefault(run.piece, [])
            if self.edge(run.line) not in lines:
                lines.append(self.edge(run.line))
        return [f"{self.piece(piece)}: {', '.join(lines)}" for piece, lines in found.items()]

    # ---- titles

    def title(self, english: str) -> str:
        """A seam or free edge as a heading."""
        return self.said.word("title", english)

    def inside(self, english: str) -> str:
        """A title in running text."""
        return lower(self.title(english), self.said)

    def crossed(self, step: Step) -> str:
        """The seams a step is sewn across."""
        return self.listed([title.lower() if self.said.code == NATIVE else self.title(title)
                            for title in step.crossings])  # fmt: skip
