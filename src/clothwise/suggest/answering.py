"""A candidate that was laid becomes an answer: ticket, minutes, reasons, where to stop, what must be bought."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.lay.layering import SINGLE
from clothwise.sew import Minutes, Step
from clothwise.shopping.box import BoxItem
from clothwise.shopping.lists import shopping_list, still_to_buy
from clothwise.shopping.needs import needs_of
from clothwise.suggest.answer import Answer
from clothwise.suggest.candidate import Candidate, Evening
from clothwise.suggest.near import Near
from clothwise.suggest.suiting import suiting
from clothwise.ticket import Ticket
from clothwise.ticket.made import other_layers
from clothwise.ticket.ticket import OtherCloth


def answer_of(
    candidate: Candidate, evening: Evening, near: Near | None = None, box: Sequence[BoxItem] = ()
) -> Answer:
    """The answer of a laid candidate; of a near miss with its changes."""
    candidate.weigh(evening)
    garment, time, plan, cloth = candidate.make.garment, candidate.minutes, candidate.plan, candidate.cloth
    assert garment is not None
    assert time is not None
    assert plan is not None
    name = f"{garment.title} for {evening.body.name}"
    needs = needs_of(
        garment,
        candidate.steps,
        wanted_by=name,
        colour=cloth.colour,
        overlocker=evening.sewer.overlocker,
        others=other_layers(garment),
    )
    return Answer(
        ticket=Ticket(
            name=name,
            pattern=candidate.make.draft.name,
            choices=candidate.make.wish,
            body=evening.body,
            cloth=cloth,
            sewer=evening.sewer,
            sheet=evening.sheet,
            made_on=evening.made_on,
            body_name=evening.body.name,
            cloth_name=cloth.name,
            other_cloths=(OtherCloth(tuple(piece.name for piece in near.other), near.other_cloth),)
            if near and near.other_cloth
            else (),
        ),
        title=garment.title,
        verdict="with a change" if near else "can be made",
        score=candidate.score,
        reasons=candidate.reasons,
        plan=plan,
        minutes=time,
        stop_after=stop_after(candidate.steps, time, evening.hours * 60),
        changes=near.changes if near else (),
        look=suiting(candidate.make.draft, candidate.make.wish, cloth, candidate.asked).look,
        to_buy=still_to_buy(shopping_list(needs, box)),
        other_plan=near.other_plan if near else None,
        opened_out=plan.layering == SINGLE,
    )


def stop_after(steps: tuple[Step, ...], time: Minutes, evening: float) -> str:
    """The last good place to leave off within the evening, when it will not suffice."""
    if time.likely <= evening:
        return ""
    spent = time.likely - sum(step.minutes.likely for step in steps)
    last = ""
    for step in steps:
        spent += step.minutes.likely
        if spent > evening:
            break
        if step.stop:
            last = step.title
    return last
