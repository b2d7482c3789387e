"""A language of the booklet: its sentences, and its words for what the drafts name. One file for each.

`wording/english.toml` says everything once, key by key; another language's file has the same keys, and besides
the tables of `[word]`, which give its words for the pieces, seams, edges and choices that the drafts name in
English. A word that is missing is refused, so that no page comes out half in one language, half in another.
Languages are named by their ISO 639-1 code.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from clothwise.errors import PaperError

FILES: Mapping[str, str] = {"en": "english.toml", "de": "german.toml"}
NATIVE = "en"  # what the drafts speak: its words need no table
FIGURE = r"[-+]?\d+(?:\.\d+)?"  # a number within a note

LISTING: Mapping[str, str] = {", ": ", ", " and ": " {and} "}  # what stands between words in a phrase

KINDS: Mapping[str, str] = {"measured": "measure", "figured": "figure"}  # names in phrases that share a table

Word = str | list[str]


@dataclass(frozen=True, slots=True, eq=False)
class Language:
    """One language.

    code       ISO 639-1
    sentences  by key, with places for what is put in
    words      by kind and English word
    """

    code: str
    sentences: Mapping[str, str]
    words: Mapping[str, Mapping[str, Word]]

    def say(self, key: str, **parts: object) -> str:
        return _begun(self.sentences[key], self.sentences[key].format(**parts))

    def table(self, name: str) -> dict[str, str]:
        """All sentences below a key, by the rest of their keys."""
        start = f"{name}."
        return {key.removeprefix(start): text for key, text in self.sentences.items() if key.startswith(start)}

    def word(self, kind: str, english: str) -> str:
        """The word for what a draft names, or the first of its forms.

        Raises  PaperError: there is none in this language
        """
        return self.forms(kind, english)[0]

    def forms(self, kind: str, english: str) -> tuple[str, ...]:
        """All forms of a word: one, several, and for an edge what it is called by itself."""
        if self.code == NATIVE or not english:
            return (english,)
        found = self._found(kind, english)
        if found is None:
            return (self._made(kind, english),)
        return (found,) if isinstance(found, str) else tuple(found)

    def _made(self, kind: str, english: str) -> str:
        """A name that an alteration has made of others: 'Hem facing of the front leg'."""
        for name in (english, english[:1].upper() + english[1:]):
            with suppress(PaperError):
                return self.phrase(f"{KINDS.get(kind, kind)}_made", name)
        raise _missing(self, english)

    def _found(self, kind: str, english: str) -> Word | None:
        """The word, written large or small, a girth also by its short name."""
        table = self.words.get(KINDS.get(kind, kind), {})
        small, large = english[:1].lower() + english[1:], english[:1].upper() + english[1:]
        return next((table[w] for w in (english, small, large, f"{small} girth") if w in table), None)

    def knows(self, kind: str, english: str) -> bool:
        if self.code == NATIVE or self._found(kind, english) is not None:
            return True
        with suppress(PaperError):  # made of words that are themselves missing
            return bool(self._made(kind, english))
        return False

    def phrase(self, kind: str, english: str) -> str:
        """What was said with figures in it: a note of a draft, what is bought, a doubt. The figures are kept.

        Raises  PaperError: it is not said in this language
        """
        if self.code == NATIVE or not english:
            return english
        for pattern, text in _phrases(self, kind):
            found = pattern.fullmatch(english)
            if found:
                parts = {name: self._within(name, got) for name, got in found.groupdict().items()}
                return _begun(text, text.format(**parts))
        raise _missing(self, english)

    def _within(self, name: str, got: str) -> str:
        """A figure of a phrase with the language's own decimal sign, or its words in the language."""
        if re.fullmatch(FIGURE, got):
            return self.number(got)
        kind = name.rstrip("0123456789")
        if self.knows(kind, got):
            return self.word(kind, got)
        parts = re.split(f"({'|'.join(LISTING)})", got)
        return "".join(
            LISTING[part].format(**self.sentences) if part in LISTING else self._word_with_figure(kind, part)
            for part in parts
        )

    def _word_with_figure(self, kind: str, part: str) -> str:
        """One word of a list, a figure round it kept: 'hem 1.2', '68.0 cm'."""
        found = re.fullmatch(rf"(.*?)(\s?{FIGURE}(?: (?:cm|longer|shorter))?)?", part)
        assert found is not None  # everything matches
        word, figure = found.group(1), found.group(2) or ""
        for english in ("longer", "shorter"):
            figure = figure.replace(english, self.sentences[english])
        return f"{self.word(kind, word)}{self.number(figure)}"

    def number(self, text: str) -> str:
        """A figure with the language's decimal sign."""
        return text.replace(".", self.sentences["decimal"])


def _begun(template: str, text: str) -> str:
    """A sentence that begins with a name put in begins with a capital."""
    return text[:1].upper() + text[1:] if template.startswith("{") and template[-1] in ".?" else text


def language(code: str) -> Language:
    """The language of an ISO 639-1 code. Raises PaperError for one the house does not speak."""
    if code not in FILES:
        raise PaperError(
            f"The booklet is not written in '{code}'.",
            where="booklet: language",
            mend=f"Choose {' or '.join(FILES)}.",
        )
    return _read(code)


@cache
def _read(code: str) -> Language:
    whole = tomllib.loads((files("clothwise.sew.wording") / FILES[code]).read_text(encoding="utf-8"))
    words = whole.pop("word", {})
    return Language(code, dict(_flat(whole)), words)


def _flat(table: Mapping[str, Any], before: str = "") -> Iterator[tuple[str, str]]:
    for name, value in table.items():
        if isinstance(value, Mapping):
            yield from _flat(value, f"{before}{name}.")
        else:
            yield f"{before}{name}", value


@cache
def _phrases(of: Language, kind: str) -> tuple[tuple[re.Pattern[str], str], ...]:
    """The phrases as patterns: {figure} stands for a number, every other name for words of that kind."""
    return tuple((_pattern(english), str(text)) for english, text in of.words.get(kind, {}).items())


def _pattern(english: str) -> re.Pattern[str]:
    parts = re.split(r"\{(\w+)\}", english)
    numbers = {name for name in parts[1::2] if name.rstrip("0123456789") == "figure"}
    places = [f"(?P<{name}>{FIGURE if name in numbers else '.+?'})" for name in parts[1::2]]
    texts = [re.escape(text) for text in parts[::2]]
    return re.compile("".join(text + place for text, place in zip(texts, [*places, ""], strict=True)))


def _missing(of: Language, english: str) -> PaperError:
    return PaperError(
        f"There is no word in '{of.code}' for: {english}",
        where=f"booklet: language '{of.code}'",
        mend="Set the booklet in 'en', and please tell the makers of Clothwise which word is missing.",
    )
