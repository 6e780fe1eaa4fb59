"""Aliases: the names on boards.  Drawn from our own words, never from a person's name."""

from __future__ import annotations

import re
import secrets

from sqlalchemy import select
from sqlalchemy.orm import Session

from service.records.models import Person
from service.words import ALIAS_ADJECTIVES, ALIAS_NOUNS

LONGEST_WHY = 200
"""Letters of a teacher's reason."""


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
    match = re.fullmatch(r"([A-Z][a-z]+) ([A-Z][a-z]+)(?: ([2-9]|[1-9][0-9]{1,3}))?", text)
    return match is not None and match[1].lower() in ALIAS_ADJECTIVES and match[2].lower() in ALIAS_NOUNS


def refuse(student: Person, alias: str, why: str) -> None:
    """Keep for the student to read that a teacher did not allow ``alias``, and why."""
    student.alias_refused, student.alias_why = alias, " ".join(why.split())[:LONGEST_WHY]


def settle(student: Person) -> None:
    """The student has chosen again: a refusal of before is told no more."""
    student.alias_refused, student.alias_why = None, ""


def _drawn(numbered: bool) -> str:
    alias = f"{secrets.choice(ALIAS_ADJECTIVES)} {secrets.choice(ALIAS_NOUNS)}".title()
    return f"{alias} {secrets.randbelow(9998) + 2}" if numbered else alias
