"""Text of strangers on a sheet."""

from __future__ import annotations

import re
import unicodedata

from rubric.drawing.text import ISOLATES
from rubric.drawing.text import clean as clean

_MEASURED = re.compile(r"(\d) (mm|cm|m|N|kN|MPa|g|kg|%)(?!\w)")


def prose(text: str, most: int = 80) -> str:
    """``text`` cleaned, and no number parted from its unit at the end of a line."""
    return with_units(clean(text, most))


def with_units(text: str) -> str:
    """Words of our own, with no number parted from its unit at the end of a line."""
    return _MEASURED.sub("\\1\u00a0\\2", text)


def isolated(text: str, most: int = 20) -> str:
    """A name within a sentence: one that is written from the right does not turn the numbers after it around."""
    name = clean(text, most)
    turns = any(unicodedata.bidirectional(character) in ("R", "AL") for character in name)
    return f"{ISOLATES[0]}{name}{ISOLATES[1]}" if turns else name
