"""The order of work that is handed out: sewn on paper by the independent check first."""

from __future__ import annotations

from clothwise.cloth import Cloth
from clothwise.errors import GarmentError
from clothwise.garment import Garment
from clothwise.sew.needs import Preferring
from clothwise.sew.order import order_of_work
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import Step
from clothwise.sew.step_check import check_steps


def proved_order(
    garment: Garment, cloth: Cloth, sewer: Sewer, *, preferring: Preferring | None = None
) -> tuple[Step, ...]:
    """As `order_of_work`. Raises GarmentError too when a step cannot be done as written."""
    steps = order_of_work(garment, cloth, sewer, preferring=preferring)
    faults = check_steps(garment, steps, cloth)
    if faults:
        raise GarmentError(
            f"No order of work is known that sews this: {faults[0].what}.",
            where=f"garment '{garment.title}', step {faults[0].step}",
            mend="Leave out the last alteration or the pocket, or choose another finish; please also tell the "
            "makers of Clothwise.",
        )
    return steps
