"""What an envelope asks for in words, 'zip 20 cm', '10 buttons 11 mm', as needs that the box can answer.

Read plainly: the thing by its word, the first number before it as the count, what is given in mm or cm as width
or length by the sort of thing. What is not understood stays as it is printed, to be bought once.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from clothwise.shopping.box import BY_LENGTH, Sort
from clothwise.shopping.needs import Need

WORDS: Mapping[str, Sort] = {  # the first that stands in the text; longer words before those they hold
    "bias binding": "bias binding", "binding": "bias binding", "interfacing": "interfacing",
    "elastic": "elastic", "thread": "thread", "button": "button", "zip": "zip", "hook": "hook",
    "needle": "needle", "lining": "lining", "rib": "rib", "cord": "cord",
}  # fmt: skip
SIZE = re.compile(r"(\d+(?:[.,]\d+)?) ?(mm|cm|m)\b")
LEAD = re.compile(rf"^{SIZE.pattern} ?")  # a length that stands before the thing
COUNT = re.compile(r"^(\d+) (?!mm|cm|m\b)")
IN_CM: Mapping[str, float] = {"mm": 0.1, "cm": 1.0, "m": 100.0}
NARROW = 6.0  # cm: of what is sold by length a smaller figure is its width, a greater one its length


def need_told(text: str, wanted_by: str) -> Need:
    """One line of an envelope."""
    plain = text.strip().casefold()
    sort: Sort = next((sort for word, sort in WORDS.items() if re.search(rf"\b{word}s?\b", plain)), "other")
    sizes = [float(number.replace(",", ".")) * IN_CM[unit] for number, unit in SIZE.findall(plain)]
    counted = COUNT.match(plain)
    count = int(counted[1]) if counted else 1
    title = text.strip()
    if sort in BY_LENGTH:
        long = [size for size in sizes if size > NARROW]
        if not long:  # no length is printed: it can only be bought as it says
            return Need("other", _thing(title, counted), count=count, wanted_by=wanted_by)
        narrow = [size for size in sizes if size <= NARROW]
        width = narrow[0] if narrow else 0.0
        lead = LEAD.match(plain) if sizes[0] == long[0] else None
        return Need(sort, _thing(title, lead), length=long[0], width=width, wanted_by=wanted_by)
    return Need(
        sort, _thing(title, counted), count=count, width=sizes[0] if sizes else 0.0, wanted_by=wanted_by
    )


def _thing(title: str, amount: re.Match[str] | None) -> str:
    """What is wanted, without how much of it, which the list says itself."""
    thing = title[amount.end() :] if amount else title
    return thing[:1].upper() + thing[1:]
