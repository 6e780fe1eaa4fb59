"""The report of a class: asked for where marks are handed on, set by a worker, kept until it is asked for again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import Literal, get_args

from flask import Blueprint, Response, abort, flash, redirect, request, send_file, url_for
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response as Redirect

from rubric.language import _
from rubric.messages.names import REPORT
from rubric.messages.report import ReportPaper
from service import web
from service.classes.history import moved_since
from service.classes.teaching import found_assignment
from service.jobs import open_job
from service.people.guards import staff_only
from service.records import queries
from service.records.acts import note
from service.records.models import FAILED, WAITING, Job, Person
from service.records.report_models import ClassReport
from service.saying import file_word

pages = Blueprint("reports", __name__)

ReportStage = Literal["none", "waiting", "ready", "failed"]
PAPERS: tuple[str, ...] = get_args(ReportPaper)


class NotSet(Exception):
    """Why no report is set just now, in words for the person who asked."""


@dataclass(frozen=True)
class ReportState:
    """How far a report has come: 'none' yet, 'waiting', 'ready' or 'failed'."""

    stage: ReportStage
    paper: str = PAPERS[0]
    made_at: datetime | None = None
    """Of one that is ready: when it was asked for, which is what it says itself."""
    stale: bool = False
    """Whether marks have changed since then."""


@pages.post("/staff/assignments/<int:assignment_id>/report")
@staff_only
def ask(assignment_id: int) -> Redirect:
    """Have the report set."""
    found = found_assignment(assignment_id)
    try:
        with web.writing() as session:
            job = order(session, found.id, web.person(), request.form.get("paper", ""))
    except NotSet as refused:
        flash(str(refused))
    else:
        web.send(job)
    return redirect(url_for("handing_on.choices", assignment_id=found.id) + "#report", 303)


@pages.get("/staff/assignments/<int:assignment_id>/report.pdf")
@staff_only
def pdf(assignment_id: int) -> Response:
    """What was set."""
    found = found_assignment(assignment_id)
    made = web.reading().get(ClassReport, found.id)
    if made is None or made.pdf is None:
        abort(404)
    words = file_word(found.school_class.code, "class"), file_word(found.title, str(found.id))
    return send_file(
        BytesIO(made.pdf), "application/pdf", as_attachment=True, download_name=f"report-{words[0]}-{words[1]}.pdf"
    )


def order(session: Session, assignment_id: int, by: Person, paper: str) -> Job:
    """Open the job of a report.

    Raises
    ------
    NotSet
        The paper is not known, or it is being set already.
    """
    if paper not in PAPERS:
        raise NotSet(_("Choose the paper: {some} or {last}.", some=", ".join(PAPERS[:-1]), last=PAPERS[-1]))
    made = session.scalar(select(ClassReport).where(ClassReport.assignment_id == assignment_id).with_for_update())
    if made is not None and queries.job_state(session, REPORT, assignment_id) == WAITING:
        raise NotSet(_("The class report is being set already."))
    session.merge(ClassReport(assignment_id=assignment_id, by_id=by.id, paper=paper, pdf=None, printed_at=None))
    note(session, by.id, "class report made", "assignment", assignment_id)
    return open_job(session, REPORT, assignment_id)


def state_of(session: Session, assignment_id: int) -> ReportState:
    """How far the report of an assignment has come."""
    made = session.get(ClassReport, assignment_id)
    job = session.scalar(select(Job).where(Job.kind == REPORT, Job.subject_id == assignment_id))
    if made is None or job is None:
        return ReportState("none")
    if job.state == FAILED or made.printed_at is None:
        return ReportState("failed" if job.state == FAILED else "waiting", made.paper)
    return ReportState("ready", made.paper, job.created_at, moved_since(session, assignment_id, job.created_at))
