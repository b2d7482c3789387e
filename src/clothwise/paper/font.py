"""The one printing face: widths from the real font, a subset to embed, and which letters it lacks.

Noto Sans, regular and bold (fonts/VENDOR.toml): a humanist sans with Latin, Greek and Cyrillic. A line with
letters of another script is set as outlines from its faces (script.py). What no face has is never printed as
boxes: a run of it is left out, three dots stand for it, and `missing` tells which letters they were.

em: the size of the type; 1 em = 1000 units of the font.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from functools import cache, lru_cache
from importlib.resources import files
from io import BytesIO

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from clothwise.paper import script

FAMILY = "Noto Sans"
ASCENT, DESCENT = script.ASCENT, script.DESCENT  # em above and below the baseline that a line uses
CAPITAL = 0.714  # em: height of capitals and figures, from the font's OS/2 table
NO_BREAK = "\u00a0"  # the space that keeps '100 %' on one line
JOINERS = "\u200c\u200d"  # unseen, but Persian and the scripts of India mean something by them
LEFT_OUT = "\u2026"  # three dots in place of what cannot be set
NOTHING = 0  # glyph 0 of every font: the box for a letter it lacks


@lru_cache(maxsize=4096)
def tidy(text: str) -> str:
    """Text as it is set: as `composed`, with every run of letters that no face has as three dots."""
    parts: list[str] = []
    for letter in composed(text):
        if _is_had(letter):
            parts.append(letter)
        elif not parts or parts[-1] != LEFT_OUT:
            parts.append(LEFT_OUT)
    return "".join(parts)


def _is_had(letter: str) -> bool:
    return ord(letter) in _tables(False)[0] or script.can_set(letter)


def is_plain(text: str) -> bool:
    """Can the printing face set it by itself, letter by letter? A loose accent has to be placed."""
    known = _tables(False)[0]
    return all(ord(letter) in known and not unicodedata.combining(letter) for letter in text)


def composed(text: str) -> str:
    """Accents composed, every run of spaces, tabs and line ends one space; a no-break space stays one."""
    kept = "".join(_set_as(letter) for letter in unicodedata.normalize("NFC", text))
    return " ".join(part for part in kept.split(" ") if part)


def _set_as(letter: str) -> str:
    if letter == NO_BREAK:
        return letter
    if letter.isspace():
        return " "
    return letter if _printable(letter) or letter in JOINERS else ""


def _printable(letter: str) -> bool:
    return unicodedata.category(letter) not in ("Cc", "Cf", "Cs", "Co", "Cn")


@cache
def _file(bold: bool) -> bytes:
    name = "NotoSans-Bold.ttf" if bold else "NotoSans-Regular.ttf"
    return (files("clothwise") / "fonts" / name).read_bytes()


def _opened(bold: bool) -> TTFont:
    return TTFont(BytesIO(_file(bold)), lazy=True, recalcTimestamp=False)


@cache
def _tables(bold: bool) -> tuple[dict[int, int], tuple[int, ...]]:
    """Glyph of each letter, and the advance of each glyph. [1000 units an em]"""
    font = _opened(bold)
    number = {name: i for i, name in enumerate(font.getGlyphOrder())}
    advance = tuple(font["hmtx"].metrics[name][0] for name in font.getGlyphOrder())
    return {code: number[name] for code, name in font.getBestCmap().items()}, advance


def glyphs(text: str, *, bold: bool = False) -> list[int]:
    """Numbers of the glyphs that set the text, one a letter."""
    known = _tables(bold)[0]
    return [known.get(ord(letter), NOTHING) for letter in text]


def advances(numbers: Iterable[int], *, bold: bool = False) -> list[int]:
    """How far each glyph carries the pen. [1000 units an em]"""
    table = _tables(bold)[1]
    return [table[n] for n in numbers]


def width(text: str, size: float, *, bold: bool = False) -> float:
    """Length of a line of text set at that size. [cm]"""
    return _em_width(text, bold) * size / 1000


@lru_cache(maxsize=16384)  # the same few hundred words are measured at many sizes and places
def _em_width(text: str, bold: bool) -> float:
    if not is_plain(text):
        return script.shaped(text, bold).width * 1000
    return sum(advances(glyphs(text, bold=bold), bold=bold))


def missing(text: str) -> str:
    """The letters, each once, that no face has."""
    return "".join(dict.fromkeys(letter for letter in composed(text) if not _is_had(letter)))


def subset(numbers: Iterable[int], *, bold: bool = False) -> bytes:
    """A TrueType file with only these glyphs, at their own numbers; the same glyphs give the same bytes."""
    return _subset(frozenset(numbers) | {NOTHING}, bold)


@cache
def _subset(numbers: frozenset[int], bold: bool) -> bytes:
    font = _opened(bold)
    options = Options(retain_gids=True, hinting=False, layout_features=[], notdef_outline=True)
    options.drop_tables += ["GSUB", "GPOS", "GDEF", "DSIG", "gasp", "name", "post", "OS/2", "cmap"]
    subsetter = Subsetter(options)
    subsetter.populate(gids=sorted(numbers))
    subsetter.subset(font)
    out = BytesIO()
    font.save(out, reorderTables=False)
    return out.getvalue()


@cache
def header(bold: bool) -> dict[str, tuple[int, ...]]:
    """What a PDF font descriptor tells of the face. [1000 units an em]"""
    font = _opened(bold)
    head, across, os2 = font["head"], font["hhea"], font["OS/2"]
    return {
        "box": (head.xMin, head.yMin, head.xMax, head.yMax),
        "ascent": (across.ascent,),
        "descent": (across.descent,),
        "capital": (os2.sCapHeight,),
    }
