"""Small questions of the teacher's desk: own dates, open notices, aliases that wait."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import and_, func, select
from sqlalchemy.orm import Session

from service.records.models import STUDENT, Extension, ExtraAttempts, Notice, Person, Submission
from service.records.queries import in_reach


def aliases_and_names(session: Session, student: Person) -> tuple[list[str], list[str]]:
    """Aliases that others have or ask for, and the names of the others of the class: none of them is free."""
    rows = session.execute(
        select(Person.alias, Person.alias_asked, Person.class_id, Person.name).where(
            Person.role == STUDENT, Person.id != student.id
        )
    ).all()
    taken = [one for alias, asked, _, _ in rows for one in (alias, asked) if one]
    return taken, [name for _, _, class_id, name in rows if class_id == student.class_id]


def asked_aliases(session: Session, person: Person) -> dict[int, int]:
    """How many students of each class wait for somebody to look at their alias."""
    waits = and_(Person.role == STUDENT, Person.alias_asked.is_not(None), Person.left_at.is_(None))
    rows = session.execute(
        select(Person.class_id, func.count())
        .where(waits, in_reach(person, Person.class_id.expression))
        .group_by(Person.class_id)
    )
    return {class_id: count for class_id, count in rows if class_id is not None}


def extensions(session: Session, assignment_id: int) -> dict[int, Extension]:
    """Due dates of students' own at an assignment, by student."""
    found = session.scalars(select(Extension).where(Extension.assignment_id == assignment_id))
    return {one.student_id: one for one in found}


def own_due(session: Session, student: Person) -> dict[int, datetime]:
    """The due dates (UTC) that are a student's own, by assignment."""
    found = session.scalars(select(Extension).where(Extension.student_id == student.id))
    return {one.assignment_id: one.due for one in found}


def extra_attempts(session: Session, assignment_id: int) -> dict[int, ExtraAttempts]:
    """Attempts beyond those of the rubric at an assignment, by student."""
    found = session.scalars(select(ExtraAttempts).where(ExtraAttempts.assignment_id == assignment_id))
    return {one.student_id: one for one in found}


def more_of(session: Session, assignment_id: int, student_id: int) -> int:
    """How many attempts a student has at an assignment beyond those of the rubric."""
    found = session.get(ExtraAttempts, (assignment_id, student_id))
    return found.more if found else 0


def noticed(session: Session, assignment_id: int) -> set[int]:
    """The attempts at an assignment that an open notice is about."""
    rows = session.scalars(
        select(Notice.submission_id)
        .join(Submission, Submission.id == Notice.submission_id)
        .where(Notice.settled.is_(False), Submission.assignment_id == assignment_id)
    )
    return {number for number in rows if number is not None}


def newest_files(session: Session, assignment_id: int) -> dict[int, str]:
    """SHA-256 of the newest file of each student at an assignment."""
    rows = session.execute(
        select(Submission.student_id, Submission.file_sha256)
        .where(Submission.assignment_id == assignment_id)
        .order_by(Submission.number)
    )
    return {row[0]: row[1] for row in rows}
