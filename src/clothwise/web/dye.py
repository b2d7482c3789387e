"""A colour as it is written on a cloth ('grey-green', 'rust') as a colour of the page.

Plain colour words and the trade's; words are read from the last to the first ('light grey-green' is a green).
A word nobody knows gives the grey of unbleached cloth.
"""

from __future__ import annotations

import re

UNBLEACHED = "#d8cdb8"

WORDS = {
    "white": "#f4f1ea", "cream": "#efe5cd", "ecru": "#e3d6ba", "natural": UNBLEACHED, "sand": "#d9c29a",
    "beige": "#d6c4a5", "camel": "#b98f5b", "brown": "#6f4b33", "rust": "#a34d26", "brick": "#96402f",
    "terracotta": "#b8613f", "orange": "#d97a2b", "apricot": "#eab98a", "ochre": "#b98a2e",
    "mustard": "#b9952f",
    "yellow": "#e3c24a", "gold": "#c29b3a", "lemon": "#efe08a", "olive": "#6d6b3a", "green": "#4f7a4f",
    "moss": "#65703f", "sage": "#9caa8b", "grey-green": "#8b9a86", "teal": "#2f6c6c", "turquoise": "#3c9a9a",
    "blue": "#3f6493", "navy": "#22304f", "indigo": "#2f3d63", "denim": "#4a5f80", "sky": "#9dbfd6",
    "chambray": "#8ba3ba", "lilac": "#b9a3c7", "lavender": "#b3a6cc", "purple": "#6a4a7c", "plum": "#5d3148",
    "violet": "#6a4f93", "pink": "#d99aa5", "rose": "#c77a86", "red": "#a8322d", "madder": "#98301f",
    "wine": "#6b2232", "burgundy": "#6b2232", "black": "#26231f", "tar": "#2c2a28", "charcoal": "#43413e",
    "grey": "#8f8b84", "fog": "#c9cbc8", "silver": "#bfc0be", "mud": "#7a6a55", "taupe": "#8d7b6a",
}  # fmt: skip


SHADES = {  # word -> what is mixed in, and how much of it
    "pale": ("#ffffff", 0.45), "light": ("#ffffff", 0.3), "soft": ("#ffffff", 0.2), "mid": ("#ffffff", 0.0),
    "deep": ("#000000", 0.2), "dark": ("#000000", 0.35), "faded": ("#d8cdb8", 0.35),
}  # fmt: skip
PRINTED = re.compile(r"\bwith\b|\bprint|\bdots?\b|\bspots?\b|\bflowers?\b|\bleaves\b|\bpattern")


def dyed(colour: str) -> str:
    """A colour in hexadecimal for a colour in words: of the ground, where there is a print."""
    text = colour.lower().strip().partition(" with ")[0]
    if text in WORDS:
        return WORDS[text]
    words = re.findall(r"[a-z]+", text)
    found = next((WORDS[word] for word in reversed(words) if word in WORDS), UNBLEACHED)
    shade = next((SHADES[word] for word in words if word in SHADES), None)
    return _mixed(found, *shade) if shade else found


def over(colour: str) -> str:
    """The colour of checks, stripes or a print: the other one named, else one that shows on the ground."""
    ground, words = dyed(colour), re.findall(r"[a-z]+", colour.lower())
    named = next((WORDS[word] for word in words if word in WORDS and WORDS[word] != ground), None)
    if named and not re.search(r"[a-z]-[a-z]", colour):
        return named
    light = sum(int(ground[n : n + 2], 16) for n in (1, 3, 5)) > 3 * 128
    return _mixed(ground, "#000000", 0.45) if light else _mixed(ground, "#ffffff", 0.5)


def printed(colour: str) -> bool:
    """Whether the words tell of a print on a ground: 'cream with upright reeds'."""
    return bool(PRINTED.search(colour.lower()))


def _mixed(one: str, other: str, share: float) -> str:
    """So much of the other colour in the one."""
    parts = [(int(one[n : n + 2], 16), int(other[n : n + 2], 16)) for n in (1, 3, 5)]
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in parts)
