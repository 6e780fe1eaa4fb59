"""Aliases: the names on boards.  Drawn from our own words, never from a person's name."""

from __future__ import annotations

import secrets

from sqlalchemy import select
from sqlalchemy.orm import Session

from service.records.models import Person
from service.words import ALIAS_ADJECTIVES, ALIAS_NOUNS


def free_aliases(session: Session, count: int, taken: set[str] | None = None) -> list[str]:
    """``count`` different aliases that nobody has; with a number where the words run out."""
    used = set(session.scalars(select(Person.alias).where(Person.alias.is_not(None)))) | (taken or set())
    found: list[str] = []
    while len(found) < count:
        alias = _drawn(numbered=len(used) > len(ALIAS_ADJECTIVES) * len(ALIAS_NOUNS) // 2)
        if alias not in used:
            used.add(alias)
            found.append(alias)
    return found


def is_alias(text: str) -> bool:
    """Whether ``text`` is one that :func:`free_aliases` may have offered."""
    words = text.split(" ")
    known = len(words) >= 2 and words[0].lower() in ALIAS_ADJECTIVES and words[1].lower() in ALIAS_NOUNS
    number = words[2] if len(words) == 3 else "2"
    return (
        known and len(words) <= 3 and number.isascii() and number.isdigit() and text == f"{text[:1].upper()}{text[1:]}"
    )


def _drawn(numbered: bool) -> str:
    alias = f"{secrets.choice(ALIAS_ADJECTIVES)} {secrets.choice(ALIAS_NOUNS)}".title()
    return f"{alias} {secrets.randbelow(9998) + 2}" if numbered else alias
