"""The nearest right spelling of a word that is not known."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from rubric.language import _
from rubric.problems import quoted


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that ``word`` probably means, or None."""
    by_folded = {name.casefold(): name for name in known}
    hits = get_close_matches(word[:60].casefold(), by_folded, n=1, cutoff=0.6)
    return by_folded[hits[0]] if hits else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """How to mend an unknown word: the nearest spelling, else the words there are."""
    names = list(known)
    near = nearest(word, names)
    if near is not None:
        return _("did you mean {word}?", word=quoted(near))
    listed = ", ".join(quoted(name) for name in names[:20])
    if not names:
        return _("take it out.")
    if len(names) > 20:
        return _("use one of {words} and so on.", words=listed)
    return _("use one of {words}.", words=listed)
