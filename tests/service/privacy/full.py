"""A class in which two pupils have a row of every kind."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from service.classes.history import Step, keep
from service.outcomes import read_outcome, record
from service.records.contest_models import Confirmation, Entry, Protest, RawReading, RulesVersion, Ruling, Station
from service.records.engine import Records
from service.records.models import (
    TEACHER,
    Assignment,
    Contest,
    Notice,
    Person,
    Plan,
    SecondMarking,
    Submission,
    Trial,
    TrialWork,
    now,
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
    _in_a_contest(session, found, teacher)


def _in_a_contest(session: Session, submission: Submission, teacher: Person) -> None:
    contest = Contest(title="Spring bridges")
    session.add(contest)
    session.flush()
    rules = RulesVersion(contest_id=contest.id, number=1, rules={}, text="")
    station = Station(contest_id=contest.id, kind="weigh-in", name="Scale 1", by_id=teacher.id)
    of_whom = {"student_id": submission.student_id, "submission_id": submission.id}
    entry = Entry(contest_id=contest.id, number=1, division="all", **of_whom)
    session.add_all([rules, station, entry])
    session.flush()
    by = {"entry_id": entry.id, "by_id": teacher.id}
    taken = {
        "rules_id": rules.id,
        "station_id": station.id,
        "kind": "mass",
        "key": f"key {entry.id}",
        "taken_at": now(),
    }
    session.add_all([RawReading(values={}, **taken, **by), Confirmation(readings=[1], **by)])
    session.add_all([Ruling(what="disqualified", why="late", **by), Protest(text="Not fair", **by)])
    session.flush()
