"""Questions about second markings; each names who asks, like those of :mod:`service.records.queries`."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from service.records import queries
from service.records.models import STUDENT, TEACHER, Person, SecondMarking, Submission, Teaching


def may_be_asked(session: Session, class_id: int) -> Sequence[Person]:
    """The teachers who may mark a second time: those who do not teach the class, by name.

    No page shows them its names, marks or comments, so what they mark is blind.
    """
    teaching = select(Teaching.person_id).where(Teaching.class_id == class_id)
    return session.scalars(
        select(Person).where(Person.role == TEACHER, Person.id.not_in(teaching)).order_by(Person.name)
    ).all()


def asked_of(session: Session, person: Person) -> Sequence[SecondMarking]:
    """What a person was asked to mark, what is open first."""
    found = select(SecondMarking).where(SecondMarking.marker_id == person.id)
    return session.scalars(found.order_by(SecondMarking.done_at.is_not(None), SecondMarking.id)).all()


def asked_for(session: Session, person: Person, marking_id: int) -> SecondMarking | None:
    """One of them."""
    return session.scalar(
        select(SecondMarking).where(SecondMarking.id == marking_id, SecondMarking.marker_id == person.id)
    )


def of_assignment(session: Session, person: Person, assignment_id: int) -> Sequence[SecondMarking]:
    """The second markings of an assignment whose class the person teaches or looks after."""
    if person.role == STUDENT or queries.assignment(session, person, assignment_id) is None:
        return ()
    found = select(SecondMarking).join(Submission).where(Submission.assignment_id == assignment_id)
    return session.scalars(found.order_by(SecondMarking.submission_id, SecondMarking.id)).all()


def of_class(session: Session, person: Person, marking_id: int) -> SecondMarking | None:
    """One second marking of such a class."""
    found = session.get(SecondMarking, marking_id)
    if found is None or person.role == STUDENT:
        return None
    return found if queries.submission(session, person, found.submission_id) is not None else None
