"""Which column of a class list holds what: told by its heading, else by its cells."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from rubric.language import later
from service.people.lists.tables import Row

Role = Literal["name", "given name", "family name", "class", "number", "left out"]

ROLES: tuple[Role, ...] = ("name", "given name", "family name", "class", "number", "left out")
"""``number`` is the school's own for a pupil: it finds a pupil again whose name was spelt anew."""

_SAID = (later("name"), later("given name"), later("family name"), later("class"), later("number"), later("left out"))
"""The same, for the page to say."""

HEADINGS: Mapping[Role, tuple[str, ...]] = {
    "name": (
        *("name", "full name", "student", "pupil", "student name", "pupil name", "learner", "display name"),
        *("schuler", "schulerin", "schulername"),
    ),
    "given name": (
        *("given name", "givenname", "first name", "firstname", "forename", "preferred name", "first"),
        *("vorname", "rufname"),
    ),
    "family name": (
        "family name",
        "familyname",
        "last name",
        "lastname",
        "surname",
        "last",
        "nachname",
        "familienname",
    ),
    "class": (
        *("class", "class code", "classcode", "group", "form", "class name", "set", "tutor group", "section"),
        *("klasse", "klassencode", "gruppe"),
    ),
    "number": (
        *("number", "student id", "pupil id", "student number", "pupil number", "id", "sourcedid", "no", "upn"),
        *("nummer", "nr", "schulernummer"),
    ),
}
"""English and German, without capitals and accents."""


@dataclass(frozen=True)
class Columns:
    """What each column holds, and whether the first row is headings."""

    headed: bool
    roles: tuple[Role, ...]

    @property
    def names_pupils(self) -> bool:
        """Whether a name can be made of it."""
        return "name" in self.roles or {"given name", "family name"} & set(self.roles) != set()


def recognised(rows: Sequence[Row]) -> Columns:
    """The best guess, to be shown and confirmed: headings first; without any, the first column of words is the name."""
    width = max(len(row.cells) for row in rows)
    roles = [_by_heading(cell) for cell in rows[0].cells] + ["left out"] * (width - len(rows[0].cells))
    if any(role != "left out" for role in roles):
        return Columns(True, _each_once(roles))
    return Columns(False, _by_cells(rows, width))


def _by_heading(cell: str) -> Role:
    plain = _plain(cell)
    return next((role for role, words in HEADINGS.items() if plain in words), "left out")


def _plain(text: str) -> str:
    bare = "".join(c for c in unicodedata.normalize("NFKD", text.casefold()) if not unicodedata.combining(c))
    return " ".join("".join(c if c.isalnum() else " " for c in bare).split())


def _each_once(roles: Sequence[Role]) -> tuple[Role, ...]:
    """The first column of each role; a second one is left out.  Given and family name make a full name needless."""
    parts = {"given name", "family name"} <= set(roles)
    seen: set[Role] = {"name"} if parts else set()
    kept: list[Role] = []
    for role in roles:
        kept.append("left out" if role in seen else role)
        seen.add(role)
    return tuple(kept)


def _by_cells(rows: Sequence[Row], width: int) -> tuple[Role, ...]:
    """Columns of words are names, two beside each other family and given name; a column of digits is the number."""
    words = [_share(rows, column, _is_word) > 0.9 for column in range(width)]
    digits = [_share(rows, column, str.isdigit) > 0.9 for column in range(width)]
    same = [len({row.cells[column] for row in rows if column < len(row.cells)}) == 1 for column in range(width)]
    roles: list[Role] = ["left out"] * width
    named = [column for column in range(width) if words[column] and not (same[column] and len(rows) > 1)]
    if named:
        spaced = _share(rows, named[0], lambda cell: " " in cell) > 0.5
        roles[named[0]] = "name" if spaced or len(named) == 1 else "family name"
        if roles[named[0]] == "family name":
            roles[named[1]] = "given name"
    if True in digits:
        roles[digits.index(True)] = "number"
    return tuple(roles)


def _share(rows: Sequence[Row], column: int, holds: Callable[[str], bool]) -> float:
    cells = [row.cells[column] for row in rows if column < len(row.cells) and row.cells[column]]
    return sum(map(holds, cells)) / len(cells) if cells else 0.0


def _is_word(cell: str) -> bool:
    return sum(c.isalpha() for c in cell) >= 2 and not any(c.isdigit() or c == "@" for c in cell)
