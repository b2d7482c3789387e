"""The booklet of one make, and its card to pin up.

Title, measures, what is needed, cutting, lay, steps with her own pieces, cautions.

Typeset by typst from templates packaged beside this file. Whatever a person typed goes in as data, never as
markup. Same content, same bytes: no clock, no system fonts, packaged faces only.
"""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

import typst

from clothwise.errors import PaperError
from clothwise.sew.contents import SHEETS, BookletContent, Pictures, Sheet, pictures_of, told

__all__ = ["BookletContent", "Sheet", "booklet", "card"]


PINNED = ("A4", "Letter")  # sheets of the card: it is read from where the machine stands


def booklet(content: BookletContent) -> bytes:
    """The booklet as PDF, tagged, with bookmarks and alternative text.

    Raises PaperError for a sheet it does not know, or when typst cannot set it (with typst's own words).
    """
    return _typeset("booklet.typ", content, sheets=tuple(SHEETS))


def card(content: BookletContent) -> bytes:
    """One page to pin up beside the machine: every step with its picture, minutes and a box to tick.

    Raises PaperError as the booklet does.
    """
    return _typeset("card.typ", content, sheets=PINNED)


def _typeset(template: str, content: BookletContent, *, sheets: tuple[str, ...]) -> bytes:
    if content.sheet not in sheets:
        what = template.partition(".")[0]
        raise PaperError(
            f"A {what} is not set on '{content.sheet}'.",
            where=f"{what}: sheet",
            mend=f"Choose {' or '.join(sheets)}.",
        )
    pictures = pictures_of(content)
    try:
        made: bytes = typst.compile(
            _papers(template, content, pictures),  # type: ignore[call-overload]  # a folder of files in memory
            font_paths=[Path(str(files("clothwise.fonts")))],
            ignore_system_fonts=True,
            format="pdf",
            timestamp=0,
        )
    except typst.TypstError as error:
        where = f"booklet '{content.title}'"
        raise PaperError("The booklet could not be set.", where=where, mend=str(error)) from error
    return made


def _papers(template: str, content: BookletContent, pictures: Pictures) -> dict[str, bytes]:
    """The folder that typst works in: template, words, pictures."""
    papers = {name: text.encode() for name, (text, _) in pictures.items()}
    papers["main.typ"] = (files("clothwise.sew.templates") / template).read_bytes()
    papers["content.json"] = json.dumps(told(content, pictures), ensure_ascii=False).encode()
    return papers
