"""The house drafts: patterns drawn to a body."""

from clothwise.draft.a_line import A_LINE_SKIRT
from clothwise.draft.apron import PINAFORE_APRON
from clothwise.draft.bias import BIAS_SKIRT
from clothwise.draft.camisole import BIAS_CAMISOLE
from clothwise.draft.circle import CIRCLE_SKIRT
from clothwise.draft.gathered import GATHERED_SKIRT
from clothwise.draft.jogger import JOGGER
from clothwise.draft.leggings import LEGGINGS
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.pyjamas import PYJAMA_BOTTOMS
from clothwise.draft.raglan import RAGLAN_PULLOVER
from clothwise.draft.robe import ROBE
from clothwise.draft.shift import DARTED_SHIFT
from clothwise.draft.shirt import BUTTON_FRONT_SHIRT
from clothwise.draft.skirt import FOUR_PANEL_SKIRT
from clothwise.draft.sweatshirt import SWEATSHIRT
from clothwise.draft.tee import CUT_ON_SLEEVE_TEE
from clothwise.draft.tiered import TIERED_SKIRT
from clothwise.draft.trousers import PULL_ON_TROUSERS
from clothwise.errors import ChoiceError

PATTERNS: tuple[HouseDraft, ...] = (
    PULL_ON_TROUSERS,
    JOGGER,
    PYJAMA_BOTTOMS,
    LEGGINGS,
    FOUR_PANEL_SKIRT,
    A_LINE_SKIRT,
    CIRCLE_SKIRT,
    BIAS_SKIRT,
    GATHERED_SKIRT,
    TIERED_SKIRT,
    CUT_ON_SLEEVE_TEE,
    RAGLAN_PULLOVER,
    DARTED_SHIFT,
    BUTTON_FRONT_SHIRT,
    BIAS_CAMISOLE,
    SWEATSHIRT,
    ROBE,
    PINAFORE_APRON,
)


def pattern(name: str) -> HouseDraft:
    """The house draft of that name. ChoiceError when there is none."""
    for draft in PATTERNS:
        if draft.name == name:
            return draft
    raise ChoiceError(
        f"There is no pattern '{name}'.",
        where="patterns of the house",
        mend=f"There are: {', '.join(draft.name for draft in PATTERNS)}.",
    )


__all__ = ["PATTERNS", "Choice", "HouseDraft", "Wish", "pattern"]
