"""The language that people read.  The code speaks English; catalogues beside it hold the same in other languages.

``_("{count} bars are missing", count=3)`` says a text in the language of the moment, which :func:`speaking`
sets.  Values stand in braces, as for ``str.format``.  A text that is written down before anybody reads it, such as
one of a table, is marked by :func:`later` and said with ``_`` when it is read.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from gettext import GNUTranslations, NullTranslations
from importlib.resources import files
from io import BytesIO
from typing import Literal, get_args

Language = Literal["en", "de"]
ENGLISH: Language = "en"
LANGUAGES: dict[Language, str] = {"en": "English", "de": "Deutsch"}
"""Each language by its own name."""

assert set(LANGUAGES) == set(get_args(Language))

_spoken: ContextVar[Language] = ContextVar("spoken", default=ENGLISH)


def spoken() -> Language:
    """The language of the moment."""
    return _spoken.get()


@contextmanager
def speaking(language: Language) -> Iterator[None]:
    """Say everything inside in ``language``."""
    before = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(before)


def speak(language: Language) -> None:
    """Say everything from now on in ``language``: for a request that is told its own each time."""
    _spoken.set(language)


def as_language(code: str | None) -> Language:
    """The language with this code (``de``, ``de-AT``); English for one that nobody has translated to."""
    short = (code or "").lower().partition("-")[0]
    return next((known for known in LANGUAGES if known == short), ENGLISH)


def _(text: str, /, **values: object) -> str:
    """``text`` in the language of the moment, with ``values`` in its braces."""
    said = text if _spoken.get() == ENGLISH or not text else catalogue(_spoken.get()).gettext(text)
    return said.format(**values) if values else said


def counted(one: str, many: str, count: int, /, **values: object) -> str:
    """The form for a count, which stands in the braces as ``{count}``, with ``values`` beside it."""
    return form_for(one, many, count).format(count=count, **values)


def form_for(one: str, many: str, count: int) -> str:
    """The form for ``count`` with its braces."""
    if _spoken.get() == ENGLISH:
        return one if count == 1 else many
    return catalogue(_spoken.get()).ngettext(one, many, count)


def later(text: str) -> str:
    """``text`` itself, marked for translation: ``_`` says it when it is read."""
    return text


@cache
def catalogue(language: Language) -> NullTranslations:
    """All texts in ``language``, read once in a process from ``locale/<language>/*.po``."""
    # Imported here: whoever speaks English alone does without.
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    found = NullTranslations()
    for file in sorted((files("rubric") / "locale" / language).iterdir(), key=lambda each: each.name):
        with file.open("rb") as written:
            compiled = BytesIO()
            write_mo(compiled, read_po(written, locale=language))
            compiled.seek(0)
            part = GNUTranslations(compiled)
            part.add_fallback(found)
            found = part
    return found
