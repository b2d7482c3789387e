"""Numbers in an address: of a job, a photo, an alteration. What no store could have given out is none of them.

`NUMBER` in a route, `counted(text)` for what stands after a question mark or in a header.
"""

from __future__ import annotations

import re

from starlette.convertors import Convertor, register_url_convertor

DIGITS = "[0-9]{1,18}"  # all that SQLite counts to
NUMBER = "{number:counted}"  # a part of a route


class Counted(Convertor[int]):
    """A number as a part of an address; a longer one is an address that is not there."""

    regex = DIGITS

    def convert(self, value: str) -> int:
        """As it is meant."""
        return int(value)

    def to_string(self, value: int) -> str:
        """As it is written."""
        return str(value)


register_url_convertor("counted", Counted())


def counted(text: str) -> int | None:
    """The number in a text; None for anything else, also for digits of other scripts and raised ones."""
    return int(text) if re.fullmatch(DIGITS, text) else None
