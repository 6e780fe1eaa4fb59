"""Words that the tables keep in English, whoever wrote them, said again in the language of whoever reads.

What is kept was made from one of the texts below.  What a person wrote fits none of them and stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from rubric.language import ENGLISH, _, later, spoken
from rubric.wording import localised

ANOTHER_DUE_DATE = later("another due date")
"""Why there is a new version, where only its due date is another one."""

COMMENT, SECOND_ASKED, SECOND_WITHDRAWN = (
    later("comment"),
    later("second marking asked for"),
    later("second marking withdrawn"),
)
_BY_PEOPLE = (COMMENT, SECOND_ASKED, SECOND_WITHDRAWN)
"""Changes whose before and after are a comment or a name."""

SECOND_DONE = later("second marking done")
MOVES_NOTHING = (*_BY_PEOPLE, SECOND_DONE)
"""Changes that leave the mark as it is, and who may see it."""

_CHANGES = (
    SECOND_DONE,
    later("held back"),
    later("released"),
    later("place settled"),
    later("not settled"),
    later("own points"),
    later("points corrected"),
    later("correction taken back"),
    later("second marking settled"),
    later("due date extended"),
    later("extension taken back"),
    later("taken back"),
    later("waits"),
    later("not asked"),
    later("marked again, version {number}"),
    later("place {place} of {of}"),
    later("{first} first, {second} second"),
    later("waits, of {of}"),
    later("{points} of {of}"),
    later("{points} point"),
    later("{points} points"),
)
"""What the history of a mark says, the first that fits before others."""


_POINTS = ("first", "second")
_NUMBER = r"-?\d+(?:\.\d+)?"
_FITS = {"first": ".+?", "second": ".+?", "most": f"{_NUMBER} N"}
"""What may stand in braces that hold more than a number."""


def change_said(text: str, what: str = "") -> str:
    """What the history of a mark says was changed; with ``what``, from what or to what it was."""
    return text if what in _BY_PEOPLE else said_anew(text, (*_BY_PEOPLE, *_CHANGES))


def why_said(text: str) -> str:
    """Why there is a version."""
    return said_anew(text, (ANOTHER_DUE_DATE,))


def said_anew(text: str, texts: Sequence[str]) -> str:
    """What was made from one of ``texts`` and kept in English, in the language of the moment; else as it is."""
    if spoken() == ENGLISH or not text:
        return text
    for one in texts:
        found = _pattern(one).fullmatch(text)
        if found:
            values = {name: _value(name, value) for name, value in found.groupdict().items()}
            return _(one, **values) if values else _(one)
    return text


@cache
def _pattern(text: str) -> re.Pattern[str]:
    """What fits a text with values in its braces."""
    parts = re.split(r"\{(\w+)\}", text)
    fits = (f"(?P<{part}>{_FITS.get(part, _NUMBER)})" if at % 2 else re.escape(part) for at, part in enumerate(parts))
    return re.compile("".join(fits))


def _value(name: str, text: str) -> str:
    return said_anew(text, _CHANGES) if name in _POINTS else localised(text)
