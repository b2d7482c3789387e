"""What follows from a ticket: the garment drawn and checked, laid on the cloth, timed and put in order.

Pure. Every garment handed on has passed `garment.check`, every lay the independent verifier of `lay`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass

from clothwise.alter import Change, changed, figured, of_two
from clothwise.body import Body, estimate
from clothwise.body.slips import slips
from clothwise.cloth import Cloth
from clothwise.draft import HouseDraft, pattern
from clothwise.errors import ClothError, DraftError, LayError, TicketError
from clothwise.garment import Garment, Notion
from clothwise.garment.check import check
from clothwise.garment.haberdashery import haberdashery
from clothwise.lay.cloth import LayCloth, Repeat
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.nofit import NoFits
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import best_plan, fits, goes_on
from clothwise.lay.problem import LayPiece, LayProblem
from clothwise.paper.sheets import sheet, sheets_roughly
from clothwise.sew import Minutes, Step, minutes, proved_order
from clothwise.ticket.ticket import Ticket

OTHER_EFFORTS = ("brisk", "quick")  # those that `suggest` plans with
LAYER_WIDTHS = {
    "rib": 140.0,
    "pocket": 110.0,
    "lining": 140.0,
}  # cm, as usually sold; a tube of rib opened flat (T)
PLACES = ("second_cloth", "third_cloth", "fourth_cloth", "fifth_cloth")
# by these names the lays of other cloths are found in a packet
BLADE_GAP = 0.3  # cm left between pieces: shears wander this much


@dataclass(frozen=True, slots=True)
class Made:
    """A ticket worked out. Cloth lengths in cm after washing, minutes as spans."""

    ticket: Ticket
    body: Body  # with the estimated measures filled in
    cloth: Cloth
    garment: Garment
    plan: LayPlan
    notions: tuple[Notion, ...]
    steps: tuple[Step, ...]
    doubts: tuple[
        str, ...
    ]  # measures that look like slips of the tape, each a question: asked, never overruled
    estimated: tuple[str, ...]  # measures the draft was drawn to that nobody taped
    others: Mapping[str, LayPlan]  # layer, or one of PLACES -> lay of what is cut from other cloth
    minutes: Minutes  # with printing, for about as many sheets as it will take; the packet counts them

    @property
    def cuts(self) -> int:
        """Outlines to cut, those from other cloth too."""
        return _cuts(self.plan, self.others)

    @property
    def named(self) -> tuple[tuple[Cloth, LayPlan], ...]:
        """Each cloth that the ticket names with its lay, the main one first."""
        others = zip(self.ticket.other_cloths, PLACES, strict=False)
        return ((self.cloth, self.plan), *((one.cloth, self.others[place]) for one, place in others))

    @property
    def unnamed(self) -> dict[str, LayPlan]:
        """Lays of layers, by layer, for which the ticket names no cloth: that cloth is bought."""
        return {layer: plan for layer, plan in self.others.items() if layer not in PLACES}


def work_out(
    ticket: Ticket,
    *,
    effort: str = "usual",
    known: NoFits | None = None,
    plans: Mapping[str, LayPlan] | None = None,
) -> Made:
    """Everything a ticket yields but the files.

    plans   verified lays that are there already, by place ('' the main cloth): they are not looked for again
    Raises  TicketError: body or cloth has only a name; MeasureError, ChoiceError, DraftError from the
            draft; ClothError: it does not fit on the cloth, with the length that would do
    """
    if ticket.body is None or ticket.cloth is None:
        raise TicketError(
            f"The ticket names {'a body' if ticket.body is None else 'a cloth'} but holds no figures for it.",
            where=f"ticket '{ticket.name}'",
            mend="Keep it in the store under that name, or write its figures into the ticket.",
        )
    body = estimate(ticket.body)
    choices = with_cloth(pattern(ticket.pattern), ticket.choices, ticket.cloth)
    garment = drawn(body, ticket.pattern, choices, ticket.figure, ticket.left, ticket.changes)
    pieces = lay_pieces(garment, matched=lay_cloth(ticket.cloth).repeat is not None)
    kept, moved = divided(pieces, garment, ticket)
    there = plans or {}
    plan = there.get("") or laid(kept, ticket.cloth, effort=effort, known=known)
    others = other_layers(garment, known, without=[name for one in ticket.other_cloths for name in one.pieces])
    for place, (other, part) in zip(PLACES, moved, strict=False):
        others[place] = there.get(place) or laid(part, other, effort=effort, known=known)
    steps = proved_order(garment, ticket.cloth, ticket.sewer, preferring=ticket.ways)
    return Made(
        ticket=ticket,
        body=body,
        cloth=ticket.cloth,
        garment=garment,
        plan=plan,
        others=others,
        notions=haberdashery(garment, neaten="504" if ticket.sewer.overlocker else "304"),
        steps=steps,
        doubts=tuple(slip.sentence for slip in slips(ticket.body)),
        estimated=tuple(
            need for need in pattern(ticket.pattern).needs if body.measures[need].source == "estimated"
        ),
        minutes=minutes(
            garment,
            steps,
            ticket.cloth,
            ticket.sewer,
            sheets=sheets_roughly((piece.outline for piece in pieces), sheet(ticket.sheet)),
            cuts=_cuts(plan, others),
        ),
    )


def divided(
    shell: tuple[LayPiece, ...], garment: Garment, ticket: Ticket
) -> tuple[tuple[LayPiece, ...], list[tuple[Cloth, tuple[LayPiece, ...]]]]:
    """The pieces of the main cloth, and those of any layer that the ticket wants from another."""
    layers = (piece for layer in LAYER_WIDTHS for piece in lay_pieces(garment, layer))
    there = {piece.name: piece for piece in (*shell, *layers)}
    taken = [name for one in ticket.other_cloths for name in one.pieces]
    where = f"ticket '{ticket.name}': other_cloths"
    if strange := [name for name in taken if name not in there]:
        raise TicketError(
            f"'{strange[0]}' is no piece of it.", where=where, mend=f"There are {', '.join(sorted(there))}."
        )
    kept = tuple(piece for piece in shell if piece.name not in taken)
    cloths = [ticket.cloth.name if ticket.cloth else "", *(one.cloth.name for one in ticket.other_cloths)]
    twice = len(set(taken)) < len(taken) or len(set(cloths)) < len(cloths)
    if twice or not kept or len(ticket.other_cloths) > len(PLACES):
        raise TicketError(
            "Its pieces cannot be divided so.",
            where=where,
            mend=f"Name each piece and cloth once, at most {len(PLACES)} cloths; leave some for the main one.",
        )
    return kept, [(one.cloth, tuple(there[name] for name in one.pieces)) for one in ticket.other_cloths]


def with_cloth(draft: HouseDraft, choices: Mapping[str, float | str], cloth: Cloth) -> dict[str, float | str]:
    """The choices, with what the cloth itself decides where the sewer said nothing: its stretch, its width."""
    of_cloth = {"stretch": 100 * cloth.stretch_across, "cloth_width": cloth.usable_width}
    names = {choice.name for choice in draft.choices}
    return {**{name: value for name, value in of_cloth.items() if name in names}, **choices}


def _cuts(plan: LayPlan, others: Mapping[str, LayPlan]) -> int:
    """Outlines to cut in all."""
    return plan.cuts + sum(other.cuts for other in others.values())


def drawn(
    body: Body,
    name: str,
    choices: Mapping[str, float | str],
    figure: Mapping[str, float] | None = None,
    left: Mapping[str, float] | None = None,
    changes: Sequence[Change] = (),
) -> Garment:
    """The garment, altered where asked, and checked by rules independent of the draft.

    figure, left, changes  as in Ticket
    Raises  what the draft and the alterations raise; DraftError when the check finds a fault, our own slip then
    """
    garment = drawn_unchecked(body, name, choices, figure, left, changes)
    faults = check(garment)
    if faults:
        raise DraftError(
            f"The draft does not pass its check: {faults[0]}",
            where=f"pattern '{name}' for '{body.name}'",
            mend="Measure again what stands out, or change a choice; please also tell the makers of Clothwise.",
        )
    return garment


def drawn_unchecked(
    body: Body,
    name: str,
    choices: Mapping[str, float | str],
    figure: Mapping[str, float] | None = None,
    left: Mapping[str, float] | None = None,
    changes: Sequence[Change] = (),
) -> Garment:
    """As `drawn`, but the check is still to come: to look at while a finger moves, never to cut from."""
    draft, figure = pattern(name), dict(figure or {})
    garment = figured(draft, body, choices, figure) if figure else draft.make(body, choices)
    if left:
        garment = of_two(figured(draft, body, choices, {**figure, **left}), garment)
    return changed(garment, changes)


def lay_problem(pieces: tuple[LayPiece, ...], cloth: Cloth) -> LayProblem:
    """The pieces of the shell on the cloth as it is after washing."""
    return LayProblem(pieces, lay_cloth(cloth), gap=BLADE_GAP)


def lay_cloth(cloth: Cloth) -> LayCloth:
    """The cloth as the lay sees it, after washing: its shape and flaws, its nap, what must be matched."""
    repeat = (
        Repeat(cloth.repeat_along, cloth.repeat_across, even=cloth.repeat_even)
        if cloth.repeat_along or cloth.repeat_across
        else None
    )
    return LayCloth(
        width=cloth.usable_width,
        length=cloth.usable_length,
        nap=cloth.laid_nap,
        outline=cloth.usable_outline or None,
        flaws=cloth.usable_flaws,
        repeat=repeat,
    )


def other_layers(
    garment: Garment, known: NoFits | None = None, without: Collection[str] = ()
) -> dict[str, LayPlan]:
    """The shortest quick lay of each layer that is cut from another cloth, on the width it is usually sold in.

    without  names of pieces that come from a cloth that is there
    Interfacing is not laid: it is fused to pieces that are cut already, see `haberdashery`.
    """
    found: dict[str, LayPlan] = {}
    for layer, width in LAYER_WIDTHS.items():
        pieces = tuple(piece for piece in lay_pieces(garment, layer) if piece.name not in without)
        if pieces:
            found[layer] = shortest_layer(pieces, width, known)
    return found


def shortest_layer(pieces: tuple[LayPiece, ...], width: float, known: NoFits | None = None) -> LayPlan:
    """The shortest quick lay of a layer on cloth still to be bought. Raises LayError: it is too narrow."""
    problem = LayProblem(pieces, LayCloth(width=width), gap=BLADE_GAP)
    return best_plan(problem, effort="quick", known=known or NoFits())


def laid(pieces: tuple[LayPiece, ...], cloth: Cloth, *, effort: str, known: NoFits | None = None) -> LayPlan:
    """A verified lay on this cloth. ClothError when there is none, with what would do."""
    problem = lay_problem(pieces, cloth)
    known = known or NoFits()
    shortest = best_plan(problem, effort=effort, known=known)
    if shortest.length <= cloth.usable_length:
        return shortest
    answer = fits(problem, effort=effort, known=known)
    if answer.plan is not None:
        return answer.plan
    for plan in _as_suggested(problem, known):
        if plan is not None and plan.length <= cloth.usable_length:
            return plan
    need = f" The shortest lay found needs {answer.shortest.length:.0f} cm." if answer.shortest else ""
    raise ClothError(
        f"It cannot be cut from this cloth: {answer.reason}{need}",
        where=f"cloth '{cloth.name}', {cloth.usable_width:g} x {cloth.usable_length:g} cm after washing",
        mend="Take a longer or wider cloth, or make the garment shorter or narrower.",
    )


def _as_suggested(problem: LayProblem, known: NoFits) -> Iterator[LayPlan | None]:
    """Every look that `suggest` has, one after the other: a search is not ordered by effort, and what an answer
    promised can always be taken up."""
    yield from (best_plan(problem, effort=effort, known=known) for effort in OTHER_EFFORTS)
    with suppress(LayError):  # a piece fits nowhere: the caller says so in its own words
        yield goes_on(problem, known=known)
    yield fits(problem, effort=OTHER_EFFORTS[0], known=known).plan
