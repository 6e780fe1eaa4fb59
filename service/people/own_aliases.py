"""An alias in a student's own words: checked here, then looked at by a teacher.  Pure."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from rubric.language import _

SHORTEST, LONGEST = 3, 24

_SHORTEST_WORD = 3
"""Letters: shorter pieces of a name stand in many words by chance."""


_JAPANESE = ("CJK", "HIRAGANA", "KATAKANA", "KATAKANA-HIRAGANA")
"""Written together."""


class AliasRefused(Exception):
    """An alias that cannot be had; the message says why and how to mend it."""


def own_alias(text: str, name: str, others: Iterable[str], classmates: Iterable[str]) -> str:
    """The alias that was typed, in plain spelling.

    Parameters
    ----------
    name
        The student's own, of which an alias must not remind.
    others
        Aliases that are had or asked for.
    classmates
        Names of students that nobody else may carry.

    Raises
    ------
    AliasRefused
        Too short, too long, other signs than letters, somebody's name, or taken.
    """
    alias = " ".join(unicodedata.normalize("NFC", text[:400]).split())
    if not SHORTEST <= len(alias) <= LONGEST:
        raise AliasRefused(
            _(
                "An alias has {least} to {most} letters. Yours has {count}.",
                least=SHORTEST,
                most=LONGEST,
                count=len(alias),
            )
        )
    odd = next((c for c in alias if not (c.isalpha() or c.isdecimal() or c in " -'")), None)
    if odd is not None or not alias[0].isalpha():
        raise AliasRefused(_("Use letters, digits, spaces, hyphens and apostrophes, and begin with a letter."))
    if len({_script(c) for c in alias if c.isalpha()}) > 1:
        raise AliasRefused(_("Use the letters of one alphabet."))
    if _reminds(alias, name):
        raise AliasRefused(_("An alias must not tell your name. Choose something else."))
    plain = _plain(alias)
    if plain in {_plain(one) for one in classmates}:
        raise AliasRefused(_("That is somebody's name. Choose something else."))
    if plain in {_plain(one) for one in others}:
        raise AliasRefused(_("That alias is taken. Choose another one."))
    return alias


def _reminds(alias: str, name: str) -> bool:
    whole = _plain(alias)
    words = [_plain(word) for word in re.split(r"[\s'-]+", alias)]
    for part in (_plain(word) for word in re.split(r"[\W_]+", name)):
        if len(part) >= _SHORTEST_WORD and part in whole:
            return True
        if any(len(word) >= _SHORTEST_WORD and part.startswith(word) for word in words):
            return True
    return bool(whole) and whole in (_plain(name), _plain("".join(reversed(name))))


def _plain(text: str) -> str:
    """Letters and digits alone, without case and accents."""
    bare = unicodedata.normalize("NFKD", text.casefold())
    return "".join(c for c in bare if c.isalnum() and not unicodedata.combining(c))


def _script(letter: str) -> str:
    script = unicodedata.name(letter, "?").split()[0]
    return "JAPANESE" if script in _JAPANESE else script
