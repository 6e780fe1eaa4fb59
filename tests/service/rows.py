"""Rows of an invented school, and outcomes as a worker would send them."""

from __future__ import annotations

import base64
import uuid
from typing import Any

from sqlalchemy.orm import Session

from rubric import library
from rubric.evidence import Evidence
from rubric.marking import mark
from rubric.messages.names import MARK
from rubric.messages.outcomes import Analysis, Figure, Marked, Planned, Printed
from service.jobs import open_job
from service.records.models import (
    STUDENT,
    TEACHER,
    Assignment,
    Job,
    Person,
    School,
    SchoolClass,
    Submission,
    Teaching,
    Version,
)

TRUSS = b"""\
joints: {a: [0, 0], b: [300, 0], c: [600, 0], d: [300, 150]}
members: {a-b: square5, b-c: square5, a-d: square5 x2, d-c: square5 x2, b-d: square3}
"""

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><path d="M0 0L9 9"/><text x="1" y="2">T</text></svg>'

BRIEF, RUBRIC = library.brief("footbridge"), library.rubric("footbridge")


def assignment(session: Session) -> Assignment:
    """An assignment of a class with a teacher."""
    session.add(School(name="Millbrook School", zone="Europe/Vienna"))
    school_class = SchoolClass(code=uuid.uuid4().hex[:12], name="Otters")
    teacher = Person(role=TEACHER, name="Tess Birch", sign_in_name=uuid.uuid4().hex, secret_hash="none")
    session.add_all([school_class, teacher])
    session.flush()
    session.add(Teaching(person_id=teacher.id, class_id=school_class.id))
    given = Assignment(
        class_id=school_class.id,
        title=BRIEF.title,
        versions=[
            Version(
                number=1,
                brief=BRIEF.model_dump(mode="json"),
                rubric=RUBRIC.model_dump(mode="json"),
                brief_text="",
                rubric_text="",
            )
        ],
    )
    session.add(given)
    session.flush()
    return given


def student(session: Session, given: Assignment, name: str = "Nell Reed") -> Person:
    """A student of the class of an assignment."""
    person = Person(role=STUDENT, name=name, class_id=given.class_id, handle=uuid.uuid4().hex, secret_hash="none")
    session.add(person)
    session.flush()
    return person


def hand_in(session: Session, given: Assignment, person: Person, number: int = 1, file: bytes = TRUSS) -> Job:
    """A submission as the page that takes files writes it; returns its job."""
    submission = Submission(
        assignment_id=given.id,
        version_id=given.newest.id,
        student_id=person.id,
        number=number,
        file_name="bridge.yaml",
        file=file,
        file_sha256="0" * 64,
    )
    session.add(submission)
    session.flush()
    return open_job(session, MARK, submission.id)


def handed_in(session: Session) -> Job:
    """A school with one student who has just handed in."""
    given = assignment(session)
    return hand_in(session, given, student(session, given))


def marked(job: Job, efficiency: float = 300.0, /, **changes: Any) -> dict[str, Any]:
    """The outcome of a stable truss."""
    measures = {"mechanisms": 0.0, "reserve factor": 1.0, "limits broken": 0.0, "efficiency": efficiency}
    analysis = Analysis(state="stable", joints=(), members=(), degree=0, mechanisms=0, mass_g=60, efficiency=efficiency)
    outcome = Marked(
        job=job.id,
        attempt=job.attempt,
        analysis=analysis,
        measures=measures,
        marks=mark(RUBRIC, Evidence(measures=measures)),
        on_board=True,
        drawing=Figure(svg=SVG, alternative="a truss"),
    )
    return outcome.model_dump(mode="json") | changes


def printed(job: Job, pdf: bytes = b"%PDF-1.7 a sheet") -> dict[str, Any]:
    """The outcome of a sheet."""
    encoded = base64.b64encode(pdf).decode()
    return Printed(job=job.id, attempt=job.attempt, pdf_base64=encoded).model_dump(mode="json")


def planned(job: Job, pdf: bytes = b"%PDF-1.7 a plan") -> dict[str, Any]:
    """The outcome of a building plan."""
    encoded = base64.b64encode(pdf).decode()
    return Planned(job=job.id, attempt=job.attempt, pdf_base64=encoded).model_dump(mode="json")
