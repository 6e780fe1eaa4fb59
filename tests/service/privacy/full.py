"""A class in which two pupils have a row of every kind."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from service.classes.history import Step, keep
from service.outcomes import read_outcome, record
from service.records.engine import Records
from service.records.models import (
    TEACHER,
    Assignment,
    Notice,
    Person,
    Plan,
    SecondMarking,
    Submission,
    Trial,
    TrialWork,
)
from tests.service import rows


def school(records: Records) -> tuple[int, int, int]:
    """The class and both pupils."""
    with records.write() as session:
        given = rows.assignment(session)
        teacher = session.scalars(select(Person).where(Person.role == TEACHER)).one()
        pupils = [rows.student(session, given, name) for name in ("Nell Reed", "Oda Fen")]
        for pupil in pupils:
            hand_in(session, given, pupil, teacher)
        return given.class_id, pupils[0].id, pupils[1].id


def hand_in(session: Session, given: Assignment, pupil: Person, teacher: Person) -> None:
    """An attempt with all that can hang on one."""
    job = rows.hand_in(session, given, pupil)
    (printing,) = record(session, read_outcome(rows.marked(job))) or []
    record(session, read_outcome(rows.printed(printing)))
    found = session.get_one(Submission, job.subject_id)
    keep(session, found, teacher.id, [Step("own points", "neatness", "1", "2", "Tidy.")], 1.0)
    session.add(Plan(submission_id=found.id, paper="A4", pdf=b"%PDF-1.7 plan"))
    session.add(SecondMarking(submission_id=found.id, marker_id=teacher.id, asked_by_id=teacher.id))
    session.add(Notice(class_id=given.class_id, submission_id=found.id, person_id=pupil.id, text="Look at it"))
    texts = {"brief": {}, "rubric": {}, "brief_text": "", "rubric_text": ""}
    trial = Trial(assignment_id=given.id, by_id=teacher.id, **texts)
    trial.works.append(TrialWork(submission_id=found.id))
    session.add(trial)
    session.flush()
