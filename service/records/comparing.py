"""Works as they are compared: all of the school for a worker, and for a teacher what came of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import case, select
from sqlalchemy.orm import Session

from rubric.messages.likeness import Fingerprint, Work
from service.records.models import COORDINATOR, MARKED, TEACHER, Assignment, Person, SchoolClass, Submission
from service.records.queries import in_reach

MOST_OTHERS = 4000
"""So many works of other classes and years are compared with one class, the newest first."""


def works_to_compare(session: Session, assignment_id: int) -> tuple[Work, ...]:
    """The works at an assignment and those of the rest of the school, oldest first, for a worker.

    Of attempts of one student at one assignment with the same structure, the first.
    """
    columns = select(Submission.id, Submission.student_id, Submission.assignment_id, Submission.fingerprint)
    marked = columns.where(Submission.fingerprint.is_not(None), Submission.state == MARKED)
    own = session.execute(marked.where(Submission.assignment_id == assignment_id)).all()
    others = marked.where(Submission.assignment_id != assignment_id).order_by(Submission.id.desc()).limit(MOST_OTHERS)
    first: dict[tuple[int, int, str], Work] = {}
    for id_, student_id, group, mark in sorted([*own, *session.execute(others)], key=lambda row: row[0]):
        work = Work(submission=id_, student=student_id, group=group, fingerprint=Fingerprint.model_validate(mark))
        first.setdefault((student_id, group, work.fingerprint.model_dump_json()), work)
    return tuple(first.values())


@dataclass(frozen=True)
class ComparedLine:
    """One work as the page of alike work shows it; of a class out of reach without the student's name."""

    id: int
    number: int
    handed_in: datetime
    assignment: str
    class_name: str
    fingerprint: Fingerprint
    student_id: int
    student: str | None
    """None where the person who asks does not teach the class."""


def compared(session: Session, person: Person, submission_ids: Sequence[int]) -> dict[int, ComparedLine]:
    """Works by number of their submission, for a teacher or a coordinator; for anybody else none."""
    if person.role not in (TEACHER, COORDINATOR):
        return {}
    within = in_reach(person, Assignment.class_id.expression)
    rows = session.execute(
        select(
            Submission.id,
            Submission.number,
            Submission.handed_in,
            Assignment.title,
            SchoolClass.name,
            Submission.fingerprint,
            Submission.student_id,
            case((within, Person.name)),
        )
        .join(Assignment, Submission.assignment_id == Assignment.id)
        .join(SchoolClass, Assignment.class_id == SchoolClass.id)
        .join(Person, Submission.student_id == Person.id)
        .where(Submission.id.in_(submission_ids), Submission.fingerprint.is_not(None))
    )
    return {
        id_: ComparedLine(id_, number, at, title, name, Fingerprint.model_validate(mark), student_id, student)
        for id_, number, at, title, name, mark, student_id, student in rows
    }
