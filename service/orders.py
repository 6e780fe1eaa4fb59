"""Orders built from the rows: all that a worker needs, as JSON."""

from __future__ import annotations

import base64
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy import select
from sqlalchemy.orm import Session

from rubric.brief import Brief
from rubric.language import ENGLISH, Language, _, as_language, speaking
from rubric.messages.names import AWARD, COMPARE, DRAW, MARK, PLAN, REPORT, TRY
from rubric.messages.orders import (
    CompareOrder,
    DrawOrder,
    MarkOrder,
    Order,
    PlanOrder,
    PrintOrder,
    SheetHead,
    SketchOrder,
)
from rubric.messages.outcomes import Marked
from rubric.rubrics import Rubric
from service.classes.history import corrections
from service.classes.report_orders import report_order
from service.contest.award_orders import award_language, award_order
from service.contest.board import own_standing
from service.marks import judgements_of, marks_now
from service.records import queries
from service.records.comparing import works_to_compare
from service.records.models import (
    TEACHER,
    Assignment,
    Job,
    Person,
    Plan,
    School,
    Sketch,
    Submission,
    Teaching,
    TrialWork,
)
from service.saying import day_said, long_moment_said, ordinal


def order_for(session: Session, job: Job) -> dict[str, Any] | None:
    """The JSON of the order of a job; None where what it was about is gone."""
    about = {DRAW: _draw, COMPARE: _compare, TRY: _try, AWARD: award_order, REPORT: report_order}.get(
        job.kind, _about_submission
    )
    language = _language(session, job)
    with speaking(language):
        order = about(session, job)
    return order.model_copy(update={"language": language}).model_dump(mode="json") if order else None


def _language(session: Session, job: Job) -> Language:
    """The language of those for whom something is made; of more than one class together, the one that they share."""
    if job.kind == COMPARE:
        return ENGLISH
    if job.kind == AWARD:
        return award_language(session, job)
    about: Assignment | Submission | None
    if job.kind in (DRAW, REPORT):
        about = session.get(Assignment, job.subject_id)
    elif job.kind == TRY:
        work = session.get(TrialWork, job.subject_id)
        about = work.trial.assignment if work else None
    else:
        found = session.get(Submission, job.subject_id)
        about = found.assignment if found else None
    return as_language(about.school_class.language) if about else ENGLISH


def sketch_order(session: Session, sketch: Sketch) -> dict[str, Any]:
    """The JSON of the order to look at a file that is still being written."""
    assignment = session.get_one(Assignment, sketch.assignment_id)
    order = SketchOrder(
        job=sketch.id,
        attempt=sketch.attempt,
        file_base64=base64.b64encode(sketch.file).decode(),
        brief=Brief.model_validate(assignment.newest.brief),
        language=as_language(assignment.school_class.language),
    )
    return order.model_dump(mode="json")


def _draw(session: Session, job: Job) -> Order | None:
    assignment = session.get(Assignment, job.subject_id)
    if assignment is None:
        return None
    return DrawOrder(job=job.id, attempt=job.attempt, brief=Brief.model_validate(assignment.newest.brief))


def _compare(session: Session, job: Job) -> Order | None:
    if session.get(Assignment, job.subject_id) is None:
        return None
    works = works_to_compare(session, job.subject_id)
    return CompareOrder(job=job.id, attempt=job.attempt, about=job.subject_id, works=works)


def _try(session: Session, job: Job) -> Order | None:
    work = session.get(TrialWork, job.subject_id)
    if work is None:
        return None
    trial, submission = work.trial, work.submission
    file = submission.file if submission else work.file
    return MarkOrder(
        job=job.id,
        attempt=job.attempt,
        file_name=submission.file_name if submission else "sample.yaml",
        file_base64=base64.b64encode(file or b"").decode(),
        brief=Brief.model_validate(trial.brief),
        rubric=Rubric.model_validate(trial.rubric),
        par_wood_g=trial.version.par_wood_g if trial.version else None,
    )


def _about_submission(session: Session, job: Job) -> Order | None:
    submission = session.get(Submission, job.subject_id)
    if submission is None:
        return None
    version = submission.version
    brief = Brief.model_validate(version.brief)
    if job.kind == MARK:
        return MarkOrder(
            job=job.id,
            attempt=job.attempt,
            file_name=submission.file_name,
            file_base64=base64.b64encode(submission.file).decode(),
            brief=brief,
            rubric=Rubric.model_validate(version.rubric),
            par_wood_g=version.par_wood_g,
        )
    if submission.outcome is None:
        return None
    if job.kind == PLAN:
        return _plan(session, job, submission, brief)
    outcome = Marked.model_validate(submission.outcome | {"marks": marks_now(submission), "told": None})
    head = sheet_head(session, submission)
    return PrintOrder(job=job.id, attempt=job.attempt, head=head, brief=brief, outcome=outcome)


NO_MARKS: dict[str, Any] = {"place": "", "comment": "", "corrected": {}}
"""What a head says of marks, left out."""


def _plan(session: Session, job: Job, submission: Submission, brief: Brief) -> Order | None:
    """No marks and no standing are in it: a plan may be made while the mark is held."""
    plan, outcome = session.get(Plan, submission.id), Marked.model_validate(submission.outcome)
    if plan is None or outcome.analysis is None:
        return None
    head = sheet_head(session, submission).model_copy(update={"paper": plan.paper} | NO_MARKS)
    return PlanOrder(
        job=job.id, attempt=job.attempt, head=head, brief=brief, title=outcome.title, analysis=outcome.analysis
    )


def sheet_head(session: Session, submission: Submission) -> SheetHead:
    """Whose sheet it is and where they stand."""
    school = session.scalar(select(School).limit(1))
    school_class = submission.assignment.school_class
    zone = school.zone if school else "UTC"
    return SheetHead(
        student=submission.student.name,
        school=school.name if school else "",
        class_name=school_class.name,
        teacher=_(" and ").join(_teachers(session, school_class.id)),
        attempt_number=submission.number,
        handed_in=long_moment_said(_here(submission.handed_in, zone)),
        file_name=submission.file_name,
        place=place_on_board(session, submission),
        comment=_comment(submission),
        corrected={name: day_said(_here(one.at, zone)) for name, one in corrections(session, submission).items()},
    )


def _comment(submission: Submission) -> str:
    """What the teacher says: on the whole, on criteria, and with points of her own."""
    whole = submission.comments.get("", "")
    criteria = [f"{name}: {text}" for name, text in submission.comments.items() if name]
    own = [given.comment for given in judgements_of(submission).values() if given.comment]
    return " ".join(text for text in (whole, *criteria, *own) if text)


def place_on_board(session: Session, submission: Submission) -> str:
    """The student's place by their best attempt as the board stands now, in words, or nothing."""
    standing = own_standing(queries.assignment_board(session, submission.assignment_id), submission.student_id)
    if standing is None:
        return ""
    return _(
        "When this sheet was printed, your best bridge was {rank} of {of} by efficiency, among those that keep "
        "the limits.",
        rank=ordinal(standing.place.rank),
        of=standing.of,
    )


def _teachers(session: Session, class_id: int) -> list[str]:
    teaching = select(Person.name).join(Teaching, Teaching.person_id == Person.id)
    return list(
        session.scalars(teaching.where(Teaching.class_id == class_id, Person.role == TEACHER).order_by(Person.id))
    )


def _here(moment: datetime, zone: str) -> datetime:
    try:
        place = ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError):
        place = ZoneInfo("UTC")
    return moment.replace(tzinfo=UTC).astimezone(place)
