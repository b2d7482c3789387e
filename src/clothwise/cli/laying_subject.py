"""What `clothwise lay` lays: a draft for a body, or a ticket, drawn anew for every length asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from clothwise.errors import ChoiceError, LayError

if TYPE_CHECKING:
    from clothwise.body import Body
    from clothwise.cloth import Cloth
    from clothwise.garment import Garment
    from clothwise.lay.cloth import LayCloth
    from clothwise.lay.piece import LayPiece
    from clothwise.lay.problem import LayProblem
    from clothwise.ticket import Ticket

Wish = Mapping[str, float | str]


@dataclass(frozen=True, slots=True)
class Subject:
    """What is laid: drawn anew for every length asked."""

    title: str
    whom: str
    pattern: str
    choices: Wish
    cloth: Cloth | None
    body: Body | None = None
    ticket: Ticket | None = None
    lean: float = 0.0  # degrees that its pieces may lie off their grain

    @property
    def altered(self) -> bool:
        """Are its pieces changed by hand after they are drawn?"""
        given = self.ticket
        return given is not None and bool(given.figure or given.left or given.changes)

    @property
    def elsewhere(self) -> dict[str, str]:
        """Pieces that the ticket cuts from other cloths, and their cloths."""
        others = self.ticket.other_cloths if self.ticket is not None else ()
        return {name: one.cloth.name for one in others for name in one.pieces}

    def wish(self, longer: Wish | None = None) -> Wish:
        """All choices, those that the cloth decides among them."""
        from clothwise.draft import pattern
        from clothwise.ticket.made import with_cloth

        wish: Wish = {**self.choices, **(longer or {})}
        return wish if self.cloth is None else with_cloth(pattern(self.pattern), wish, self.cloth)

    def garment(self, longer: Wish | None = None) -> Garment:
        from clothwise.body import estimate
        from clothwise.ticket.made import drawn

        wish = self.wish(longer)
        assert self.body is not None
        if self.ticket is None:
            return drawn(estimate(self.body), self.pattern, wish)
        given = self.ticket
        return drawn(estimate(self.body), self.pattern, wish, given.figure, given.left, given.changes)


def subject_of(what: str, name: str, choices: Wish, cloth: str) -> Subject:
    """A draft by its name, or a ticket by its file; the cloth is one of the cupboard."""
    from clothwise.cli.bought import opened
    from clothwise.cli.sewing import _whole
    from clothwise.draft import pattern

    if what.lower().endswith(".toml"):
        if name or choices:
            raise ChoiceError(
                "A ticket says by itself for whom and with which choices.",
                where="--for, --set",
                mend="Leave them out, or name a draft instead of the ticket.",
            )
        ticket = _whole(Path(what))
        held = ticket.cloth
        if cloth:
            with opened() as store:
                held = store.cloth(cloth)
        whom = ticket.body.name if ticket.body else ""
        return Subject(ticket.name, whom, ticket.pattern, ticket.choices, held, ticket.body, ticket)
    draft = pattern(what)
    if not name:
        raise ChoiceError("For whom?", where="--for", mend="Name a body of `clothwise bodies`.")
    with opened() as store:
        body = store.body(name)
        held = store.cloth(cloth) if cloth else None
    return Subject(draft.title, body.name, draft.name, choices, held, body)


def problem_of(subject: Subject, cloth: LayCloth, layer: str, gap: float) -> LayProblem:
    """Its pieces of one layer, on this cloth."""
    from clothwise.lay.problem import LayProblem

    return LayProblem(pieces_of(subject, cloth, layer), cloth, gap)


def pieces_of(
    subject: Subject, cloth: LayCloth, layer: str, longer: Wish | None = None
) -> tuple[LayPiece, ...]:
    """The pieces of one layer, less those that the ticket cuts from another cloth."""
    from clothwise.lay.from_garment import lay_pieces

    garment = subject.garment(longer)
    drawn = lay_pieces(garment, layer, matched=cloth.repeat is not None)
    pieces = tuple(piece for piece in drawn if piece.name not in subject.elsewhere)
    if not pieces:
        layers = sorted({piece.layer for piece in garment.pieces})
        raise LayError(
            f"Nothing of it is cut from '{layer}'.", where="--layer", mend=f"It has {', '.join(layers)}."
        )
    return tuple(piece if piece.match else replace(piece, lean=subject.lean) for piece in pieces)


def other_layers(subject: Subject, laid: str) -> dict[str, list[str]]:
    """What is cut from other cloths than this one: titles of pieces by layer, or by the ticket's cloth."""
    found: dict[str, list[str]] = {}
    for piece in subject.garment().pieces:
        cloth = subject.elsewhere.get(piece.name, "")
        if cloth or piece.layer != laid:
            found.setdefault(cloth or piece.layer, []).append(piece.title)
    return found
