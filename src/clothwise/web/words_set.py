"""How words are set on the page: a number stays with its unit, a name that runs from the right is set off.

A line that ends between '102' and 'cm' is read twice, so the space there does not break. A number after a
Hebrew or Arabic name would be drawn on its far side ('for X, 42 cm' as 'for 42 ,X cm'), so such a name stands
in a <bdi> with its own figures and marks; letters from the right that are no name of ours do too.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from markupsafe import Markup, escape

NO_BREAK = "\u00a0"
# '67.3 cm', '26 1/2 in', '4 h 10', '50 %', '9 × A4'; what follows a number and is read with it.
UNIT = r"(?:cm|mm|m|in|yd|ft|oz|min|h|s|g|g/m²|°C|%|×|years?|months?|hours?|minutes?|sheets?)(?![\w/])"
TOGETHER = re.compile(
    rf"(?<=[0-9½¼¾]) (?={UNIT}|[0-9]+/[0-9])|(?<=[0-9][ {NO_BREAK}]h) (?=[0-9])|(?<=×) (?=\w)"
)

# Hebrew to Adlam, by their blocks.
FROM_RIGHT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff\U00010800-\U00010fff\U0001e800-\U0001efff"
LETTER = re.compile(f"[{FROM_RIGHT}]")
RUN = f"[{FROM_RIGHT}](?:[^<>&A-Za-z]*[{FROM_RIGHT}])?"
OPENS, CLOSES = "\u2068", "\u2069"  # first strong isolate, and its end: for plain text

# What is sent or read back, or takes no mark-up; an option, a title, a drawing are lines of their own.
ALONE = re.compile(
    r"(<(?P<of>script|style|textarea|title|option|template|svg|bdi)\b.*?</(?P=of)>|<[^>]*>)", re.DOTALL
)


def words_set(html: str, names: Callable[[], Iterable[str]]) -> Markup:
    """A page with its words so set. `names`: all that may stand in it, asked only where one is needed."""
    known = _longest_first(names()) if LETTER.search(html) else []
    run = re.compile("|".join([*(re.escape(escape(name)) for name in known), RUN]))
    made, at = list[str](), 0
    for left_alone in ALONE.finditer(html):
        made += [_set(html[at : left_alone.start()], run), left_alone[0]]
        at = left_alone.end()
    return Markup("".join([*made, _set(html[at:], run)]))


def _set(words: str, run: re.Pattern[str]) -> str:
    if not words or words.isspace():
        return words
    whole = TOGETHER.sub(NO_BREAK, words)
    return run.sub(lambda found: f"<bdi>{found[0]}</bdi>", whole) if LETTER.search(whole) else whole


def text_set(words: str) -> str:
    """The same of words that a script shows: a name from the right stands between two unseen signs."""
    return re.sub(RUN, lambda found: f"{OPENS}{found[0]}{CLOSES}", TOGETHER.sub(NO_BREAK, words))


def _longest_first(names: Iterable[str]) -> list[str]:
    return sorted({name for name in names if LETTER.search(name)}, key=len, reverse=True)
