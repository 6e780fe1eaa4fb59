"""Questions put to the tables.  Every question about somebody's object names who asks: it is
answered with None, or nothing, where that person has no business with it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Select, and_, case, false, func, or_, select, true
from sqlalchemy.orm import Session, undefer

from service.records.models import (
    COORDINATOR,
    MARKED,
    RECEIVED,
    STUDENT,
    TEACHER,
    Assignment,
    Contest,
    Extension,
    Job,
    Notice,
    Person,
    School,
    SchoolClass,
    Sheet,
    Submission,
    Teaching,
    Trial,
    Version,
)


def school(session: Session) -> School | None:
    """The one school."""
    return session.scalar(select(School).order_by(School.id).limit(1))


def in_reach(person: Person, class_id: ColumnElement[Any]) -> ColumnElement[bool]:
    """Whether ``class_id`` is a class that ``person`` sits in, teaches or looks after."""
    if person.role == COORDINATOR:
        return true()
    if person.role == TEACHER:
        return class_id.in_(select(Teaching.class_id).where(Teaching.person_id == person.id))
    return class_id == person.class_id if person.class_id is not None else false()


def classes_of(session: Session, person: Person) -> Sequence[SchoolClass]:
    """The classes a person sits in, teaches or looks after."""
    return session.scalars(
        select(SchoolClass).where(in_reach(person, SchoolClass.id.expression)).order_by(SchoolClass.name)
    ).all()


def school_class(session: Session, person: Person, class_id: int) -> SchoolClass | None:
    """One such class."""
    return session.scalar(
        select(SchoolClass).where(SchoolClass.id == class_id, in_reach(person, SchoolClass.id.expression))
    )


def student(session: Session, person: Person, student_id: int) -> Person | None:
    """A student of such a class."""
    return session.scalar(
        select(Person).where(
            Person.id == student_id, Person.role == STUDENT, in_reach(person, Person.class_id.expression)
        )
    )


def assignment(session: Session, person: Person, assignment_id: int) -> Assignment | None:
    """An assignment of such a class."""
    return session.scalar(
        select(Assignment).where(Assignment.id == assignment_id, in_reach(person, Assignment.class_id.expression))
    )


def version(session: Session, person: Person, version_id: int) -> Version | None:
    """A version of a brief and a rubric of such a class, for staff."""
    query = select(Version).join(Assignment, Version.assignment_id == Assignment.id)
    if person.role == STUDENT:
        return None
    return session.scalar(query.where(Version.id == version_id, in_reach(person, Assignment.class_id.expression)))


def trial(session: Session, person: Person, trial_id: int) -> Trial | None:
    """Something tried out for such a class, for staff."""
    query = select(Trial).join(Assignment, Trial.assignment_id == Assignment.id)
    if person.role == STUDENT:
        return None
    return session.scalar(query.where(Trial.id == trial_id, in_reach(person, Assignment.class_id.expression)))


def marked_under(session: Session, assignment_id: int) -> dict[int, int]:
    """How many attempts are marked under each version, by the version's id."""
    rows = session.execute(
        select(Submission.version_id, func.count())
        .where(Submission.assignment_id == assignment_id)
        .group_by(Submission.version_id)
    )
    return {row[0]: row[1] for row in rows}


def submission(session: Session, person: Person, submission_id: int) -> Submission | None:
    """An attempt: a student's own, or one of a class that the person teaches or looks after."""
    query = (
        select(Submission)
        .join(Assignment, Submission.assignment_id == Assignment.id)
        .where(Submission.id == submission_id, in_reach(person, Assignment.class_id.expression))
    )
    if person.role == STUDENT:
        query = query.where(Submission.student_id == person.id)
    return session.scalar(query)


def marked_works(session: Session, person: Person, submission_ids: Sequence[int]) -> Sequence[Submission]:
    """Marked attempts of classes that a teacher teaches or a coordinator looks after, with their outcomes."""
    query = select(Submission).join(Assignment, Submission.assignment_id == Assignment.id)
    known = query.where(Submission.id.in_(submission_ids), Submission.outcome.is_not(None))
    if person.role == STUDENT:
        return []
    within = known.where(in_reach(person, Assignment.class_id.expression)).options(undefer(Submission.outcome))
    return session.scalars(within.order_by(Submission.id)).all()


def contests_of(session: Session, person: Person) -> Sequence[Contest]:
    """The contests that such a class takes part in; for a coordinator all."""
    query = select(Contest).order_by(Contest.id)
    if person.role != COORDINATOR:
        entered = select(Assignment.contest_id).where(in_reach(person, Assignment.class_id.expression))
        query = query.where(Contest.id.in_(entered))
    return session.scalars(query).all()


def contest(session: Session, person: Person, contest_id: int) -> Contest | None:
    """One such contest."""
    return next((found for found in contests_of(session, person) if found.id == contest_id), None)


def notice(session: Session, person: Person, notice_id: int) -> Notice | None:
    """A notice about such a class."""
    return session.scalar(select(Notice).where(Notice.id == notice_id, in_reach(person, Notice.class_id.expression)))


def open_notices(session: Session, person: Person) -> Sequence[tuple[Notice, str]]:
    """Notices not yet settled, oldest first, each with the name of its class; 'Staff' where it has none."""
    rows = session.execute(
        select(Notice, SchoolClass.name)
        .outerjoin(SchoolClass, Notice.class_id == SchoolClass.id)
        .where(Notice.settled.is_(False), in_reach(person, Notice.class_id.expression))
        .order_by(Notice.id)
        .limit(100)
    )
    return [(row[0], row[1] or "Staff") for row in rows]


def has_sheet(session: Session, submission_id: int) -> bool:
    """Whether the sheet of an attempt is printed."""
    return session.scalar(select(Sheet.submission_id).where(Sheet.submission_id == submission_id)) is not None


def job_state(session: Session, kind: str, subject_id: int) -> str | None:
    """The state of the job of one kind for one subject, or None where there was none."""
    return session.scalar(select(Job.state).where(Job.kind == kind, Job.subject_id == subject_id))


@dataclass(frozen=True)
class Counts:
    """How much has been handed in for an assignment."""

    students: int
    attempts: int
    in_work: int


def counts(session: Session, assignment_id: int) -> Counts:
    """Students who handed in, their attempts, and those not yet marked."""
    row = session.execute(
        select(
            func.count(Submission.student_id.distinct()),
            func.count(),
            func.count().filter(Submission.state == RECEIVED),
        ).where(Submission.assignment_id == assignment_id)
    ).one()
    return Counts(students=row[0], attempts=row[1], in_work=row[2])


@dataclass(frozen=True)
class AttemptLine:
    """One attempt as lists show it."""

    id: int
    assignment_id: int
    student_id: int
    number: int
    handed_in: datetime
    state: str
    has_mistakes: bool
    stable: bool | None
    total: float | None
    out_of: float | None
    waiting_points: float | None
    efficiency: float | None
    on_board: bool
    file_name: str
    held: bool
    """Whether the student waits for the mark: for a student's eyes, its figures are left out here."""
    due: datetime | None
    """When it was due, UTC: by the student's own extension, else by the version that it is marked under."""
    by_staff: bool
    """Whether somebody of the staff handed it in for the student."""

    @property
    def late(self) -> bool:
        """Whether it came after it was due."""
        return self.due is not None and self.handed_in > self.due


_LINE = (
    Submission.id,
    Submission.assignment_id,
    Submission.student_id,
    Submission.number,
    Submission.handed_in,
    Submission.state,
    Submission.has_mistakes,
    Submission.stable,
    Submission.total,
    Submission.out_of,
    Submission.waiting_points,
    Submission.efficiency,
    Submission.on_board,
    Submission.file_name,
    Submission.held,
    func.coalesce(Extension.due, Version.due).label("due"),
    Submission.by_id.is_not(None).label("by_staff"),
)


def line_query() -> Select[*tuple[Any, ...]]:
    """Attempts as lists show them."""
    own = and_(Extension.assignment_id == Submission.assignment_id, Extension.student_id == Submission.student_id)
    return (
        select(*_LINE)
        .join(Assignment, Submission.assignment_id == Assignment.id)
        .join(Version, Submission.version_id == Version.id)
        .outerjoin(Extension, own)
    )


def attempts(session: Session, person: Person, assignment_id: int, student_id: int | None = None) -> list[AttemptLine]:
    """The attempts at an assignment, of one student or of all, by student and number.

    A student gets their own alone, and of those that are held no figure.
    """
    query = line_query().where(Assignment.id == assignment_id, in_reach(person, Assignment.class_id.expression))
    if person.role == STUDENT:
        student_id = person.id
    if student_id is not None:
        query = query.where(Submission.student_id == student_id)
    rows = session.execute(query.order_by(Submission.student_id, Submission.number))
    lines = [AttemptLine(**row) for row in rows.mappings()]
    return [_without_figures(line) for line in lines] if person.role == STUDENT else lines


def attempts_of(session: Session, person: Person, student_id: int) -> list[AttemptLine]:
    """All attempts of a student that staff may see, by assignment and number."""
    if person.role == STUDENT:
        return []
    query = line_query().where(Submission.student_id == student_id, in_reach(person, Assignment.class_id.expression))
    rows = session.execute(query.order_by(Submission.assignment_id, Submission.number))
    return [AttemptLine(**row) for row in rows.mappings()]


def assignments_for(session: Session, person: Person, student: Person) -> Sequence[Assignment]:
    """The assignments of a student's class, and others of such classes with work of the student; newest first."""
    worked = select(Submission.assignment_id).where(Submission.student_id == student.id)
    query = select(Assignment).where(or_(Assignment.class_id == student.class_id, Assignment.id.in_(worked)))
    query = query.where(in_reach(person, Assignment.class_id.expression))
    return session.scalars(query.order_by(Assignment.id.desc())).all()


def _without_figures(line: AttemptLine) -> AttemptLine:
    if not line.held:
        return line
    return replace(line, total=None, out_of=None, waiting_points=None, efficiency=None, on_board=False)


@dataclass(frozen=True)
class BoardLine:
    """The attempt of one student that stands on the board: the best one, or the one that counts by the rubric."""

    submission_id: int
    student_id: int
    alias: str
    efficiency: float


def assignment_board(session: Session, assignment_id: int) -> list[BoardLine]:
    """Best attempts of a class at an assignment, best first."""
    return _board(session, Submission.assignment_id == assignment_id)


def contest_board(session: Session, contest_id: int) -> list[BoardLine]:
    """Best attempts of all classes in a contest, best first."""
    return _board(session, Assignment.contest_id == contest_id)


def _board(session: Session, which: ColumnElement[bool]) -> list[BoardLine]:
    stands = and_(Submission.on_board.is_(True), Submission.efficiency.is_not(None))
    rule = (
        select(Version.rubric["attempts"]["counts"].as_string())
        .where(Version.assignment_id == Submission.assignment_id)
        .order_by(Version.number.desc())
        .limit(1)
        .scalar_subquery()
    )
    first = case(
        (rule == "first", Submission.number),
        (rule == "last", -Submission.number),
        (stands, -Submission.efficiency),
        else_=0.0,  # behind every bridge that stands on the board
    )
    place = func.row_number().over(partition_by=Submission.student_id, order_by=(first, Submission.id))
    best = (
        select(
            Submission.id, Submission.student_id, Submission.efficiency, stands.label("stands"), place.label("place")
        )
        .join(Assignment, Submission.assignment_id == Assignment.id)
        .where(Submission.state == MARKED, Submission.held.is_(False), Submission.has_mistakes.is_(False), which)
        .subquery()
    )
    rows = (
        select(best.c.id, best.c.student_id, Person.alias, best.c.efficiency)
        .join(Person, Person.id == best.c.student_id)
        .where(best.c.place == 1, best.c.stands)
        .order_by(best.c.efficiency.desc(), best.c.id)
    )
    return [BoardLine(row[0], row[1], row[2] or "", row[3]) for row in session.execute(rows)]


@dataclass(frozen=True)
class Entrant:
    """A marked attempt in a comparison by one measure."""

    student_id: int
    total: float
    """Before any place is settled."""
    value: float | None


def entrants(session: Session, assignment_id: int, measure: str) -> list[Entrant]:
    """The marked attempts at an assignment whose files had no mistakes, by student and number."""
    rows = session.execute(
        select(
            Submission.student_id,
            Submission.total_without_places,
            Submission.outcome["measures"][measure].as_float(),
        )
        .where(
            Submission.assignment_id == assignment_id,
            Submission.state == MARKED,
            Submission.has_mistakes.is_(False),
            Submission.total_without_places.is_not(None),
        )
        .order_by(Submission.student_id, Submission.number)
    )
    return [Entrant(*row) for row in rows]


def assignments_of(session: Session, contest_id: int) -> list[Assignment]:
    """All assignments that count for a contest."""
    return list(session.scalars(select(Assignment).where(Assignment.contest_id == contest_id).order_by(Assignment.id)))


def loads_and_masses(session: Session, submission_ids: Sequence[int]) -> dict[int, tuple[float | None, float | None]]:
    """Failure load (N) and mass (g) of the whole bridge, by submission."""
    measures = Submission.outcome["measures"]
    rows = session.execute(
        select(Submission.id, measures["failure load"].as_float(), measures["mass"].as_float()).where(
            Submission.id.in_(submission_ids)
        )
    )
    return {id_: (load, mass) for id_, load, mass in rows}


def sheets_of(session: Session, assignment_id: int) -> list[tuple[int, str, int]]:
    """Submission, student's name and attempt number of each printed sheet that is released, by name."""
    rows = session.execute(
        select(Submission.id, Person.name, Submission.number)
        .join(Sheet, Sheet.submission_id == Submission.id)
        .join(Person, Person.id == Submission.student_id)
        .where(Submission.assignment_id == assignment_id, Submission.held.is_(False))
        .order_by(Person.name, Submission.student_id, Submission.number)
    )
    return [(id_, name, number) for id_, name, number in rows]
