"""Outcomes taken in: checked like anything from outside, then written once.

A worker reads the files of strangers and may have been taken over by one, so its answer is held
to its shape and bounds, a sheet must be a PDF, and a drawing must pass ``service.drawings``.
"""

from __future__ import annotations

import base64
import binascii
import json
from typing import Any

from pydantic import TypeAdapter, ValidationError
from sqlalchemy.orm import Session

from rubric.messages.names import AWARD, COMPARE, DRAW, MARK, PLAN, PRINT, REPORT, TRY
from rubric.messages.outcomes import AnyOutcome, Compared, Drawn, Figure, Marked, Planned, Printed, Sketched
from service.classes.sketches import keep_answer
from service.drawings import drawing_fault
from service.jobs import finish, open_job, waiting_job
from service.marks import keep_outcome, total_up
from service.records.contest_models import ContestPrint
from service.records.models import MARKED, Assignment, Job, Plan, Sheet, Submission, TrialWork, now
from service.records.report_models import ClassReport

Known = Marked | Drawn | Printed | Planned | Compared | Sketched

KINDS_OF: dict[type[Known], tuple[str, ...]] = {
    Marked: (MARK, TRY),
    Drawn: (DRAW,),
    Printed: (PRINT, AWARD, REPORT),
    Planned: (PLAN,),
    Compared: (COMPARE,),
}
"""Which kinds of job an outcome may answer."""

MOST_CHARACTERS = 9_000_000
"""The largest outcome that is looked at: a sheet as base64 and its envelope."""

_SHAPE: TypeAdapter[Known] = TypeAdapter(AnyOutcome)


class OutcomeRefused(Exception):
    """An answer that cannot be taken; the message says why and quotes nothing."""


def read_outcome(message: Any) -> Known:
    """Check what a worker sent.

    Raises
    ------
    OutcomeRefused
        Where it is not what a worker of ours would send.
    """
    try:
        text = json.dumps(message, allow_nan=False)
        if len(text) > MOST_CHARACTERS:
            raise OutcomeRefused("it is too large")
        outcome = _SHAPE.validate_json(text)
    except ValidationError as error:
        raise OutcomeRefused(f"it has the wrong shape in {error.error_count()} places") from None
    except (ValueError, TypeError, RecursionError):
        raise OutcomeRefused("it is no plain JSON") from None
    if isinstance(outcome, Printed | Planned):
        _pdf(outcome)
    elif isinstance(outcome, Drawn | Sketched) and outcome.drawing:
        _check_drawing(outcome.drawing)
    elif isinstance(outcome, Marked):
        for drawing in _drawings(outcome):
            _check_drawing(drawing)
    return outcome


def record(session: Session, outcome: Known) -> list[Job] | None:
    """Write an outcome: once, and only while its row waits for this very attempt.

    Returns the jobs that this opened, to be sent after the commit; None where the outcome did
    not count, because it is late, doubled or made up.
    """
    if isinstance(outcome, Sketched):
        return [] if keep_answer(session, outcome) else None
    job = waiting_job(session, outcome.job, outcome.attempt, KINDS_OF[type(outcome)])
    if job is None or not finish(session, job):
        return None
    if isinstance(outcome, Marked):
        return _tried(session, job, outcome) if job.kind == TRY else _marked(session, job, outcome)
    if isinstance(outcome, Drawn | Compared):
        assignment = session.get(Assignment, job.subject_id)
        if assignment is not None and isinstance(outcome, Compared):
            assignment.alike, assignment.alike_at = outcome.model_dump(mode="json"), now()
        elif assignment is not None and isinstance(outcome, Drawn):
            assignment.newest.drawing = outcome.drawing.model_dump(mode="json")
            assignment.newest.par_wood_g = outcome.par_wood_g
    else:
        _keep_pdf(session, job, _pdf(outcome))
    return []


def _keep_pdf(session: Session, job: Job, pdf: bytes) -> None:
    """A sheet, a plan, a report, a print of a contest; nothing where it was asked for something that is gone."""
    found: Plan | ContestPrint | ClassReport | None = None
    if job.kind == PRINT:
        if session.get(Submission, job.subject_id) is not None:
            session.merge(Sheet(submission_id=job.subject_id, pdf=pdf, printed_at=now()))
    elif job.kind == PLAN:
        found = session.get(Plan, job.subject_id)
    elif job.kind == REPORT:
        found = session.get(ClassReport, job.subject_id)
    else:
        found = session.get(ContestPrint, job.subject_id)
    if found is not None:
        found.pdf, found.printed_at = pdf, now()


def _tried(session: Session, job: Job, outcome: Marked) -> list[Job]:
    work = session.get(TrialWork, job.subject_id)
    if work is not None:
        work.outcome = outcome.model_dump(mode="json", exclude={"fingerprint"})
    return []


def _marked(session: Session, job: Job, outcome: Marked) -> list[Job]:
    submission = session.get(Submission, job.subject_id)
    if submission is None:
        return []
    keep_outcome(submission, outcome.model_dump(mode="json", exclude={"fingerprint"}))
    submission.fingerprint = outcome.fingerprint.model_dump(mode="json") if outcome.fingerprint else None
    submission.state, submission.marked_at = MARKED, now()
    if submission.held:
        total_up(submission)
        return plan_again(session, submission)  # its sheet is printed when a teacher releases it
    submission.given_at = submission.given_at or submission.marked_at
    total_up(submission)
    return [open_job(session, PRINT, submission.id), *plan_again(session, submission)]


def plan_again(session: Session, submission: Submission) -> list[Job]:
    """A plan that was asked for before is drawn anew: by now the brief may have another kit."""
    plan = session.get(Plan, submission.id)
    if plan is None:
        return []
    if not submission.stable:
        session.delete(plan)
        return []
    plan.pdf = None
    return [open_job(session, PLAN, submission.id)]


def _pdf(outcome: Printed | Planned) -> bytes:
    try:
        pdf = base64.b64decode(outcome.pdf_base64, validate=True)
    except (binascii.Error, ValueError):
        raise OutcomeRefused("its sheet is no base64") from None
    if not pdf.startswith(b"%PDF-"):
        raise OutcomeRefused("its sheet is no PDF")
    return pdf


def _drawings(outcome: Marked) -> list[Figure]:
    """Every drawing that a page will show."""
    main = [outcome.drawing] if outcome.drawing else []
    return [*main, *(outcome.told.drawings if outcome.told else ())]


def _check_drawing(figure: Figure) -> None:
    fault = drawing_fault(figure.svg)
    if fault:
        raise OutcomeRefused(f"its drawing is refused: {fault}")
