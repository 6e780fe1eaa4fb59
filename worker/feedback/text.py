"""Text of strangers on a sheet."""

from __future__ import annotations

import re

from rubric.drawing.text import clean as clean

_MEASURED = re.compile(r"(\d) (mm|cm|m|N|kN|MPa|g|kg|%)(?!\w)")


def prose(text: str, most: int = 80) -> str:
    """``text`` cleaned, and no number parted from its unit at the end of a line."""
    return _MEASURED.sub("\\1\u00a0\\2", clean(text, most))
