"""Which makes a draft gives on a cloth: every option of its main choices, and what the cloth decides."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from clothwise.cloth import Cloth
from clothwise.draft import HouseDraft
from clothwise.suggest.stretching import drawn_for

CLOTH_WIDTH_STEP = 10.0  # cm: a draft joined for narrow cloth is drawn for the width rounded down to this


def choices_of(draft: HouseDraft, cloth: Cloth) -> Iterator[dict[str, float | str]]:
    """Every option of the main choices, and what the cloth decides; all else at its default."""
    main = [choice for choice in draft.choices if choice.main and choice.options]
    width = cloth.usable_width // CLOTH_WIDTH_STEP * CLOTH_WIDTH_STEP
    of_cloth = {"stretch": drawn_for(cloth), "cloth_width": width}
    set_by_cloth = {c.name: of_cloth[c.name] for c in draft.choices if c.name in of_cloth}
    for options in product(*(choice.options for choice in main)):
        wish = {choice.name: option for choice, option in zip(main, options, strict=True)}
        yield {**wish, **set_by_cloth}
