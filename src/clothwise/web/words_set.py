"""How words are set on the page: in the reader's unit, a number with its unit, a name from the right set off.

The house speaks in cm (drafts, checks, reasons, refusals), so a sentence is turned into inches for whoever
reads in inches here, at the last moment and in one place. Stitches and allowances in mm stay as the trade has
them. What is typed into fields, and names, stay as they are.

A line that ends between '102' and 'cm' is read twice, so the space there does not break. A number after a
Hebrew or Arabic name would be drawn on its far side ('for X, 42 cm' as 'for 42 ,X cm'), so such a name stands
in a <bdi> with its own figures and marks; letters from the right that are no name of ours do too.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from markupsafe import Markup, escape

from clothwise.units import YARD, format_length

NO_BREAK = "\u00a0"
# '67.3 cm', '26 1/2 in', '4 h 10', '50 %', '9 × A4'; what follows a number and is read with it.
UNIT = r"(?:cm|mm|m|in|yd|ft|oz|min|h|s|g|g/m²|°C|%|×|years?|months?|hours?|minutes?|sheets?)(?![\w/])"
TOGETHER = re.compile(
    rf"(?<=[0-9½¼¾]) (?={UNIT}|[0-9]+/[0-9])|(?<=[0-9][ {NO_BREAK}]h) (?=[0-9])|(?<=×) (?=\w)"
)

# '12.5 cm', '10 to 15 cm', '2.5 x 30 cm', '1.42 m', '0.31 m²' in a sentence; '67,3 cm' is an example of typing.
MEASURED = re.compile(
    rf"(?<![\w.,/×])(?:(?P<first>\d+(?:\.\d+)?)(?P<between> to | x | by ))?"
    rf"(?P<number>\d+(?:\.\d+)?)[ {NO_BREAK}]"
    rf"(?P<unit>cm|(?:(?<=\.\d[ {NO_BREAK}])|(?<=\.\d\d[ {NO_BREAK}]))m²?)(?![\w²])"
)
# A number of cm alone; no share of something, and none of a length that is told in inches already.
BARE = re.compile(r"(?<![\w./])\d+(?:\.\d+)?(?!\d|\.\d|/| per cent| of it| \d+/| in\b)")
SQUARE_YARD = 0.9144**2  # m²
PER_CENT = re.compile(r"(?<=[0-9])%(?!\w)")

# Hebrew to Adlam, by their blocks.
FROM_RIGHT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff\U00010800-\U00010fff\U0001e800-\U0001efff"
LETTER = re.compile(f"[{FROM_RIGHT}]")
RUN = f"[{FROM_RIGHT}](?:[^<>&A-Za-z]*[{FROM_RIGHT}])?"
OPENS, CLOSES = "\u2068", "\u2069"  # first strong isolate, and its end: for plain text

# What is sent or read back, or takes no mark-up; an option, a title, a drawing are lines of their own.
ALONE = re.compile(
    r"(<(?P<of>script|style|textarea|title|option|template|svg|bdi)\b.*?</(?P=of)>|<[^>]*>)", re.DOTALL
)


def words_set(html: str, names: Callable[[], Iterable[str]], *, inches: bool = False) -> Markup:
    """A page with its words so set. `names`: all that may stand in it, asked only where one is needed."""
    inches = inches and MEASURED.search(html) is not None
    known = [escape(name) for name in names()] if inches or LETTER.search(html) else []
    run = _any_of([*filter(LETTER.search, known)], RUN)
    kept = _any_of([*filter(MEASURED.search, known)], MEASURED.pattern) if inches else None
    made, at = list[str](), 0
    for left_alone in ALONE.finditer(html):
        made += [_set(html[at : left_alone.start()], run, kept), left_alone[0]]
        at = left_alone.end()
    return Markup("".join([*made, _set(html[at:], run, kept)]))


def _any_of(names: list[Markup], pattern: str) -> re.Pattern[str]:
    """A name, the longest first, or else what is looked for."""
    ordered = sorted(names, key=len, reverse=True)
    return re.compile("|".join([*(re.escape(name) for name in ordered), pattern]))


def _set(words: str, run: re.Pattern[str], measured: re.Pattern[str] | None) -> str:
    if not words or words.isspace():
        return words
    read = measured.sub(_in_inches, words) if measured else words
    whole = together(read)
    return run.sub(lambda found: f"<bdi>{found[0]}</bdi>", whole) if LETTER.search(whole) else whole


def text_set(words: str) -> str:
    """The same of words that a script shows: a name from the right stands between two unseen signs."""
    return re.sub(RUN, lambda found: f"{OPENS}{found[0]}{CLOSES}", together(words))


def together(words: str) -> str:
    """A number and what is read with it on one line; a sign of per cent stands off its number."""
    return TOGETHER.sub(NO_BREAK, PER_CENT.sub(f"{NO_BREAK}%", words))


def in_inches(words: str) -> str:
    """A sentence of the house, its centimetres as inches and its metres as yards."""
    return MEASURED.sub(_in_inches, words)


def _in_inches(found: re.Match[str]) -> str:
    if not found["unit"]:
        return found[0]  # a name
    if found["unit"] == "cm":
        said = [
            format_length(float(found[one]), "in", with_unit=False) for one in ("first", "number") if found[one]
        ]
        return f"{(found['between'] or '').join(said)} in"
    if found["unit"] == "m":
        return yards(100 * float(found["number"]))
    return f"{float(found['number']) / SQUARE_YARD:.2f} yd²"


def yards(cm: float) -> str:
    """A length of cloth: '1.55 yd'"""
    return f"{cm / YARD:.2f} yd"


def number_in_inches(words: str) -> str:
    """What a choice of so many cm means, its bare numbers in inches: 'if left open 4, for a child 1.5 more'."""
    return BARE.sub(lambda found: format_length(float(found[0]), "in", with_unit=False), in_inches(words))
