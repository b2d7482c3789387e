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


def dyed(colour: str) -> str:
    """A colour in hexadecimal for a colour in words."""
    text = colour.lower().strip()
    if text in WORDS:
        return WORDS[text]
    for word in reversed(re.findall(r"[a-z]+", text)):
        if word in WORDS:
            return WORDS[word]
    return UNBLEACHED
