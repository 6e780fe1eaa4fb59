"""How long classes are kept: a class that was not active for the months that the school has set is deleted.

It is foretold 30 days before, in a notice to the coordinators and the teachers of the class.  Work handed in, a
new version of a brief or a due date makes a class active again, and the notice void.
"""

from __future__ import annotations

import calendar
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from rubric.language import later
from service.privacy.erasing import erase_class
from service.records import queries
from service.records.acts import note
from service.records.models import Assignment, Notice, School, SchoolClass, Submission, Version
from service.saying import here

FORETOLD = timedelta(days=30)
SHORTEST, LONGEST = 3, 120
"""Months that a school may choose."""

FORETOLD_SAID = later(
    "This class was not active since {since}. Its pupils and all their work will be deleted on {day}. "
    "To keep it longer, ask the coordinator to change the time of keeping; to keep the marks, save them now."
)


@dataclass(frozen=True)
class Due:
    """What one look finds to do, as numbers of classes."""

    foretell: tuple[int, ...] = ()
    delete: tuple[int, ...] = ()
    void: tuple[int, ...] = ()
    """Foretold, and active since."""


@dataclass(frozen=True)
class Kept:
    """One class and when it was last active."""

    id: int
    active: datetime
    warned_at: datetime | None


def months_later(moment: datetime, months: int) -> datetime:
    """The same day of a later month, or its last day where it has fewer."""
    year, month = divmod(moment.year * 12 + moment.month - 1 + months, 12)
    return moment.replace(year=year, month=month + 1, day=min(moment.day, calendar.monthrange(year, month + 1)[1]))


def end_of(one: Kept, months: int, moment: datetime) -> datetime:
    """When a class is deleted: never sooner than 30 days after it was foretold."""
    return max(months_later(one.active, months), (one.warned_at or moment) + FORETOLD)


def due(classes: Iterable[Kept], months: int | None, moment: datetime) -> Due:
    """Decide; nothing is changed."""
    foretell, gone, void = [], [], []
    for one in classes:
        late = months is not None and months_later(one.active, months) - FORETOLD <= moment
        if one.warned_at is None:
            foretell += [one.id] if late else []
        elif not late or months is None:
            void.append(one.id)
        elif end_of(one, months, moment) <= moment:
            gone.append(one.id)
    return Due(tuple(foretell), tuple(gone), tuple(void))


def kept(session: Session) -> list[Kept]:
    """All classes by name: the latest of being made, of a version, a hand-in, a due date."""
    dates = [
        select(Assignment.class_id, func.max(Submission.handed_in)).join(Submission).group_by(Assignment.class_id),
        select(Assignment.class_id, func.max(Version.made_at)).join(Version).group_by(Assignment.class_id),
        select(Assignment.class_id, func.max(Assignment.due)).group_by(Assignment.class_id),
    ]
    latest: dict[int, datetime] = {}
    for query in dates:
        for class_id, at in session.execute(query):
            latest[class_id] = max(at or datetime.min, latest.get(class_id, datetime.min))
    rows = session.execute(
        select(SchoolClass.id, SchoolClass.made_at, SchoolClass.warned_at).order_by(SchoolClass.name, SchoolClass.id)
    )
    return [Kept(id_, max(made_at, latest.get(id_, made_at)), warned_at) for id_, made_at, warned_at in rows]


def keep_time(session: Session, moment: datetime) -> Due:
    """Foretell, delete and take back what is due; what was done."""
    school = queries.school(session)
    classes = {one.id: one for one in kept(session)}
    found = due(classes.values(), school.keep_months if school else None, moment)
    for number in found.void:
        _void(session, session.get_one(SchoolClass, number))
    for number in found.foretell:
        assert school is not None
        assert school.keep_months is not None
        one = classes[number]
        end = end_of(one, school.keep_months, moment)
        days = {"since": _date(one.active, school.zone), "day": _date(end, school.zone)}
        session.get_one(SchoolClass, number).warned_at = moment
        session.add(Notice(class_id=number, text=FORETOLD_SAID, values=days, created_at=moment))
        note(session, None, "deletion foretold", "class", number, _day(end, school.zone))
    for number in found.delete:
        erase_class(session, session.get_one(SchoolClass, number), None, "time of keeping over")
    return found


def set_time(session: Session, by_id: int, months: int | None, year_begins: int) -> None:
    """Keep classes for so many months after they were last active, or with None until somebody deletes them.

    Parameters
    ----------
    year_begins
        The month in which a school year begins.
    """
    school = session.scalars(select(School).limit(1)).one()
    school.keep_months, school.year_begins = months, year_begins
    word = f"{months} months" if months else "no time set"
    note(session, by_id, "time of keeping", "school", school.id, word)


def _void(session: Session, school_class: SchoolClass) -> None:
    school_class.warned_at = None
    begin = FORETOLD_SAID.partition("{")[0]
    notices = select(Notice).where(Notice.class_id == school_class.id, Notice.text.startswith(begin))
    for notice in session.scalars(notices):
        notice.settled = True


def _date(moment: datetime, zone: str) -> str:
    return here(moment, zone).date().isoformat()


def _day(moment: datetime, zone: str) -> str:
    local = here(moment, zone)
    return f"{local.day} {local:%B %Y}"
