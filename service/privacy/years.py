"""Classes by the school year in which they were last active."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from service.privacy.keeping import kept
from service.records.models import Person, SchoolClass
from service.saying import here


@dataclass(frozen=True)
class Line:
    """One class."""

    id: int
    name: str
    code: str
    pupils: int
    active: datetime
    """When it was last active, UTC."""
    warned_at: datetime | None


@dataclass(frozen=True)
class Year:
    """A school year, by the calendar year in which it begins."""

    begins: int
    label: str
    classes: tuple[Line, ...]


def year_of(moment: datetime, zone: str, month: int) -> int:
    """The calendar year in which the school year of a moment began; ``month`` is that of its beginning."""
    local = here(moment, zone)
    return local.year if local.month >= month else local.year - 1


def label(year: int, month: int) -> str:
    """``2026/27``, or ``2026`` where a school year is a calendar year."""
    return str(year) if month == 1 else f"{year}/{(year + 1) % 100:02d}"


def years(session: Session, zone: str, month: int) -> list[Year]:
    """All classes, the newest year first."""
    named = {one.id: one for one in session.scalars(select(SchoolClass))}
    pupils = {
        row[0]: row[1] for row in session.execute(select(Person.class_id, func.count()).group_by(Person.class_id))
    }
    found: dict[int, list[Line]] = {}
    for one in kept(session):
        line = Line(one.id, named[one.id].name, named[one.id].code, pupils.get(one.id, 0), one.active, one.warned_at)
        found.setdefault(year_of(one.active, zone, month), []).append(line)
    return [Year(year, label(year, month), tuple(found[year])) for year in sorted(found, reverse=True)]
