"""A candidate that was laid becomes an answer: ticket, minutes, reasons, where to stop, what must be bought."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.lay.layering import SINGLE
from clothwise.lay.plan import LayPlan
from clothwise.shopping.box import BoxItem
from clothwise.shopping.lists import shopping_list, still_to_buy
from clothwise.shopping.needs import needs_of
from clothwise.suggest.answer import Answer, Change
from clothwise.suggest.candidate import Candidate, Evening
from clothwise.suggest.cautions import cautions_of
from clothwise.suggest.stages import last_stage, stages_of
from clothwise.suggest.suiting import suiting
from clothwise.suggest.wants import wants
from clothwise.ticket import Ticket
from clothwise.ticket.made import other_layers
from clothwise.ticket.ticket import OtherCloth


def answer_of(
    candidate: Candidate,
    evening: Evening,
    *,
    changes: tuple[Change, ...] = (),
    others: tuple[tuple[OtherCloth, LayPlan], ...] = (),
    box: Sequence[BoxItem] = (),
) -> Answer:
    """The answer of a laid candidate.

    changes  with which it goes on
    others   what is cut from other cloths, and its lays
    """
    candidate.weigh(evening, [other for _, other in others])
    garment, time, plan, cloth = candidate.make.garment, candidate.minutes, candidate.plan, candidate.cloth
    assert garment is not None
    assert time is not None
    assert plan is not None
    draft, wish = candidate.make.draft, candidate.make.wish
    name = f"{garment.title} for {evening.body.name}"
    needs = needs_of(
        garment,
        candidate.steps,
        wanted_by=name,
        colour=cloth.colour,
        overlocker=evening.sewer.overlocker,
        others=other_layers(garment, without=[name for other, _ in others for name in other.pieces]),
    )
    return Answer(
        ticket=Ticket(
            name=name,
            pattern=draft.name,
            choices=wish,
            body=evening.body,
            cloth=cloth,
            sewer=evening.sewer,
            sheet=evening.sheet,
            made_on=evening.made_on,
            body_name=evening.body.name,
            cloth_name=cloth.name,
            other_cloths=tuple(other for other, _ in others),
        ),
        title=garment.title,
        verdict="with a change" if changes else "can be made",
        score=candidate.score,
        reasons=candidate.reasons,
        plan=plan,
        minutes=time,
        stop_after=last_stage(stages_of(candidate.steps, time), time, evening.hours * 60),
        changes=changes,
        look=suiting(draft, wish, cloth, candidate.asked).look,
        to_buy=still_to_buy(shopping_list(needs, box)),
        others=others,
        opened_out=plan.layering == SINGLE,
        cautions=cautions_of(garment, cloth, wants(draft.name, wish), evening.occasion),
    )
