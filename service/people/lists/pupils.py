"""Pupils from the rows of a list, and every row that cannot be one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rubric.language import _
from rubric.problems import quoted
from service.people.lists.columns import Columns, Role
from service.people.lists.tables import Row

LONGEST_NAME = 100
LONGEST_NUMBER = 100


@dataclass(frozen=True)
class Pupil:
    """One pupil of a list.  ``class_code`` and ``number`` are empty where the list has none."""

    name: str
    class_code: str = ""
    number: str = ""
    line: int = 0


@dataclass(frozen=True)
class Read:
    """What a list holds: pupils in its order, and sentences on rows that were left out."""

    pupils: tuple[Pupil, ...]
    problems: tuple[str, ...]


def pupils(rows: Sequence[Row], columns: Columns) -> Read:
    """Pupils by the columns as confirmed; the same pupil twice in a class counts once and is told."""
    body = rows[1:] if columns.headed else rows
    found: list[Pupil] = []
    problems: list[str] = []
    seen: dict[tuple[str, str], int] = {}
    for row in body:
        pupil = _pupil(row, columns.roles)
        fault = _fault(pupil)
        key = (pupil.class_code, pupil.number or pupil.name.casefold())
        if not fault and key in seen:
            fault = _("{name} stands in line {line} already.", name=quoted(pupil.name), line=seen[key])
        if fault:
            problems.append(_("Line {line}: {fault}", line=row.line, fault=fault))
        else:
            seen[key] = row.line
            found.append(pupil)
    return Read(tuple(found), (*problems, *_same_names(found)))


def _pupil(row: Row, roles: Sequence[Role]) -> Pupil:
    cells = dict(zip(roles, row.cells, strict=False))
    name = cells.get("name", "")
    if "," in name and "given name" not in cells:  # 'Reed, Nell', as registers write it
        family, __, given = name.partition(",")
        name = f"{given.strip()} {family.strip()}"
    if not name:
        name = f"{cells.get('given name', '')} {cells.get('family name', '')}"
    return Pupil(" ".join(name.split()), cells.get("class", ""), cells.get("number", ""), row.line)


def _fault(pupil: Pupil) -> str:
    if not pupil.name:
        return _("no name. Write one, or take the line out.")
    if len(pupil.name) > LONGEST_NAME:
        return _("a name of {count} letters. Shorten it to {most}.", count=len(pupil.name), most=LONGEST_NAME)
    if not pupil.name.isprintable():
        name = quoted(pupil.name)
        return _("the name {name} holds a character that is no letter. Type it again by hand.", name=name)
    if len(pupil.number) > LONGEST_NUMBER or not pupil.number.isprintable():
        return _(
            "the number {number} cannot be kept. It has up to {most} letters or digits.",
            number=quoted(pupil.number[:20]),
            most=LONGEST_NUMBER,
        )
    return ""


def _same_names(found: Sequence[Pupil]) -> Iterator[str]:
    """Two pupils of one class and one name, told apart by their numbers alone: a teacher should know."""
    first: dict[tuple[str, str], int] = {}
    for pupil in found:
        key = (pupil.class_code, pupil.name.casefold())
        if key in first:
            yield _(
                "Lines {first} and {line}: two pupils are called {name}. Add a letter so that you can tell them apart.",
                first=first[key],
                line=pupil.line,
                name=quoted(pupil.name),
            )
        first.setdefault(key, pupil.line)
