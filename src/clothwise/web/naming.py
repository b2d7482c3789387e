"""What a download of a named thing is called: its own letters, in any script, and nothing a path is made of."""

from __future__ import annotations

import unicodedata
from urllib.parse import quote

from clothwise.store.versions import JOINERS

LONGEST = 60  # letters: four bytes each at most, so that name and ending stay within the 255 of a file's name
UNNAMED = "clothwise"  # for a name of signs alone


def file_word(name: str) -> str:
    """'Marit's trousers, 2' as 'marit-s-trousers-2'; letters, their marks and figures stay."""
    plain = unicodedata.normalize("NFC", name).lower()
    words = "".join(one if _is_letter(one) else " " for one in plain).split()
    return "-".join(words)[:LONGEST].strip("-" + JOINERS) or UNNAMED


def _is_letter(sign: str) -> bool:
    return unicodedata.category(sign)[0] in "LMN" or sign in JOINERS


def called(name: str) -> str:
    """A header's words for a download of that name: RFC 6266, with plain letters for what reads no others."""
    plain = name.encode("ascii", "ignore").decode()
    plain = UNNAMED + plain if plain.startswith(("-", ".")) else plain
    rest = f"; filename*=UTF-8''{quote(name, safe='')}" if not name.isascii() else ""
    return f'attachment; filename="{plain}"{rest}'
