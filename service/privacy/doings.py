"""The list of who did what and when: acts of the office and changes of marks as one, newest first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Float, Select, and_, literal, null, select, true, type_coerce, union_all
from sqlalchemy.orm import Session

from rubric.language import _, later
from rubric.wording import points
from service.classes.releasing import HELD, RELEASED
from service.kept_words import change_said
from service.records.acts import WHAT, Act
from service.records.models import STUDENT, Assignment, Change, Contest, Person, SchoolClass, Submission

AT_ONCE = 100

KINDS: Mapping[str, tuple[str, ...]] = {
    later("marks"): (),
    later("work set and handed in"): (
        "work set",
        "dates changed",
        "more time given",
        "more time taken back",
        "attempts given",
        "attempts taken back",
        "handed in for a pupil",
    ),
    later("release"): ("when marks are given",),
    later("sign-ins"): ("new sign-in", "new cards for a class", "signed out everywhere"),
    later("class lists"): ("class list brought in", "with the leavers", "back from the leavers"),
    later("aliases"): ("alias asked for", "alias chosen", "alias allowed", "alias refused"),
    later("staff and classes"): (
        "staff added",
        "classes taught",
        "class made",
        "class renamed",
        "language of a class",
        "language of an account",
        "class put away",
        "class opened again",
    ),
    later("contests"): ("entries locked", "running order drawn", "ruling on a bridge", "contest list published"),
    later("programs"): ("token made", "token revoked"),
    later("deletion and data"): (
        "pupil deleted",
        "class deleted",
        "deletion foretold",
        "time of keeping",
        "data given out",
        "class report made",
    ),
}
"""What a coordinator may pick, and the acts of each; marks and their release are changes of attempts."""

NUMBERED = {
    "person": later("person no. {number}"),
    "class": later("class no. {number}"),
    "assignment": later("assignment no. {number}"),
    "contest": later("contest no. {number}"),
    "attempt": later("attempt no. {number}"),
}
"""What is said of a row that is gone."""


@dataclass(frozen=True)
class Wanted:
    """What the list is to hold; None: all."""

    kind: str | None = None
    by_id: int | None = None
    since: datetime | None = None
    until: datetime | None = None
    page: int = 1


@dataclass(frozen=True)
class Doing:
    """One line."""

    at: datetime
    by: str
    what: str
    about: str
    """Its name as it stands now."""
    word: str
    by_id: int | None
    kind: str
    """'person', 'class', 'assignment', 'contest', 'attempt' or 'school'."""
    about_id: int
    submission_id: int | None = None


def doings(session: Session, wanted: Wanted) -> tuple[list[Doing], bool]:
    """One page of the list, and whether an older one follows."""
    both = union_all(_acts(wanted), _changes(wanted)).subquery()
    newest = select(both).order_by(both.c.at.desc(), both.c.kind, both.c.id.desc())
    rows = session.execute(newest.offset((wanted.page - 1) * AT_ONCE).limit(AT_ONCE + 1)).mappings().all()
    return _said(session, [dict(row) for row in rows[:AT_ONCE]]), len(rows) > AT_ONCE


def what_said(what: str) -> str:
    """What was done, in the language of the moment."""
    return _(what) if what in WHAT or what in KINDS else change_said(what)


def doers(session: Session) -> list[Person]:
    """The staff, by name: whoever can have done something."""
    return list(session.scalars(select(Person).where(Person.role != STUDENT).order_by(Person.name)))


def _acts(wanted: Wanted) -> Select[*tuple[Any, ...]]:
    what = Act.what.in_(KINDS[wanted.kind]) if wanted.kind else true()
    nothing = type_coerce(null(), Float)
    columns = (literal("act").label("kind"), Act.id, Act.at, Act.by_id.label("by_id"), Act.what, Act.about)
    query = select(*columns, Act.about_id, Act.word, nothing.label("total_before"), nothing.label("total_after"))
    return query.where(what, _when(Act.at, Act.by_id, wanted))


def _changes(wanted: Wanted) -> Select[*tuple[Any, ...]]:
    freed = Change.what.in_((HELD, RELEASED))
    what = {None: true(), "marks": ~freed, "release": freed}.get(wanted.kind, literal(1) == 0)
    columns = (literal("change").label("kind"), Change.id, Change.at, Change.person_id.label("by_id"), Change.what)
    query = select(
        *columns,
        literal("attempt").label("about"),
        Change.submission_id.label("about_id"),
        Change.criterion.label("word"),
        Change.total_before,
        Change.total_after,
    )
    return query.where(what, _when(Change.at, Change.person_id, wanted))


def _when(at: Any, by: Any, wanted: Wanted) -> ColumnElement[bool]:
    return and_(
        at >= wanted.since if wanted.since else true(),
        at < wanted.until if wanted.until else true(),
        by == wanted.by_id if wanted.by_id is not None else true(),
    )


def _said(session: Session, rows: Sequence[Mapping[str, Any]]) -> list[Doing]:
    def numbers(about: str) -> set[int]:
        return {row["about_id"] for row in rows if row["about"] == about}

    people = _names(session, Person.id, Person.name, numbers("person") | {row["by_id"] for row in rows})
    names = {
        "person": people,
        "class": _names(session, SchoolClass.id, SchoolClass.name, numbers("class")),
        "assignment": _names(session, Assignment.id, Assignment.title, numbers("assignment")),
        "contest": _names(session, Contest.id, Contest.title, numbers("contest")),
        "attempt": _attempts(session, numbers("attempt")),
    }
    return [
        Doing(
            at=row["at"],
            by=_("the clock, or the command line") if row["by_id"] is None else _name(people, "person", row["by_id"]),
            what=row["what"],
            about="" if row["about"] == "school" else _name(names[row["about"]], row["about"], row["about_id"]),
            word="; ".join(text for text in (_(str(row["word"] or "")), _moved(row)) if text),
            by_id=row["by_id"],
            kind=row["about"],
            about_id=row["about_id"],
            submission_id=row["about_id"] if row["about"] == "attempt" else None,
        )
        for row in rows
    ]


def _name(names: Mapping[int, str], about: str, number: int) -> str:
    """The name that stands in the tables now: the list itself holds numbers alone."""
    return names.get(number) or _(NUMBERED[about], number=number)


def _names(session: Session, number: Any, name: Any, wanted: set[int]) -> dict[int, str]:
    return {row[0]: row[1] for row in session.execute(select(number, name).where(number.in_(wanted)))}


def _attempts(session: Session, wanted: set[int]) -> dict[int, str]:
    rows = session.execute(
        select(Submission.id, Submission.number, Person.name)
        .join(Person, Submission.student_id == Person.id)
        .where(Submission.id.in_(wanted))
    )
    return {id_: _("{name}, attempt {number}", name=name, number=number) for id_, number, name in rows}


def _moved(row: Mapping[str, Any]) -> str:
    before, after = row["total_before"], row["total_after"]
    if after is None or before == after:
        return ""
    if before is None:
        return _("total none to {after}", after=points(after))
    return _("total {before} to {after}", before=points(before), after=points(after))
