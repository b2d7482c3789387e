"""Names in a script that runs from the right, set off from the sentence round them.

A number that follows a Hebrew or Arabic name would be drawn on its far side ('for X, 42 cm' as 'for 42 ,X cm').
So each such name stands in a <bdi>, with its own figures and marks; letters that are no name of ours do too.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from markupsafe import Markup, escape

FROM_RIGHT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff\U00010800-\U00010fff\U0001e800-\U0001efff"
LETTER = re.compile(f"[{FROM_RIGHT}]")
RUN = f"[{FROM_RIGHT}](?:[^<>&A-Za-z]*[{FROM_RIGHT}])?"
# What no mark-up may stand in, and tags themselves; an option, a title and a drawing are lines of their own.
LEFT_ALONE = r"<(?P<of>script|style|textarea|title|option|template|svg|bdi)\b.*?</(?P=of)>|<[^>]*>"
OPENS, CLOSES = "\u2068", "\u2069"  # first strong isolate, and its end: for plain text


def isolated(html: str, names: Callable[[], Iterable[str]]) -> Markup:
    """The page with such names set off. `names`: all that may stand in it, asked only where one is needed."""
    if not LETTER.search(html):
        return Markup(html)
    known = "".join(f"{re.escape(escape(name))}|" for name in _longest_first(names()))
    pattern = re.compile(f"(?P<alone>{LEFT_ALONE})|{known}{RUN}", re.DOTALL)
    return Markup(pattern.sub(lambda found: found[0] if found["alone"] else f"<bdi>{found[0]}</bdi>", html))


def isolated_text(words: str) -> str:
    """The same in words that a script shows: such a run between two unseen signs."""
    return re.sub(RUN, lambda found: f"{OPENS}{found[0]}{CLOSES}", words)


def _longest_first(names: Iterable[str]) -> list[str]:
    return sorted({name for name in names if LETTER.search(name)}, key=len, reverse=True)
