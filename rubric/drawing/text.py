"""Text of strangers, made safe to show: names, titles, comments, lines of a file."""

from __future__ import annotations

import unicodedata
from functools import lru_cache

_JOINERS = "\u200c\u200d"
"""Format characters that Persian and Indic spelling need."""

_MARKS_IN_A_ROW = 2

ISOLATES = "\u2068\u2069"
"""Around a name within our own words: it turns nothing but itself around."""


@lru_cache(2000)
def clean(text: str, most: int = 80, keep: str = "") -> str:
    """``text`` on one line, without control, direction and private characters, cut to ``most``.

    Direction marks go because they could turn the words after a name around; piles of accents
    because they could climb over the lines above.  ``keep``: what our own words may hold beside.
    """
    text = unicodedata.normalize("NFC", text[: 20 * most])
    kept: list[str] = []
    marks = 0
    for character in " ".join(text.split()):
        kind = unicodedata.category(character)
        marks = marks + 1 if kind in ("Mn", "Me") else 0
        if (kind[0] != "C" or character in _JOINERS + keep) and marks <= _MARKS_IN_A_ROW:
            kept.append(character)
    line = " ".join("".join(kept).split())
    return line if len(line) <= most else line[: most - 1].rstrip() + "…"
