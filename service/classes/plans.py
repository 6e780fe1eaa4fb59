"""The building plan of an attempt: asked for on its page, drawn by a worker, kept like a sheet.

It holds no marks, so it may be made while the mark is held.
"""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO

from flask import Blueprint, Response, abort, flash, redirect, request, send_file, url_for
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response as Redirect

from rubric.language import _
from rubric.messages.names import PLAN
from rubric.messages.orders import PAPERS
from service import web
from service.jobs import open_job
from service.records import queries
from service.records.models import DONE, FAILED, RECEIVED, STUDENT, WAITING, Job, Plan, Submission
from service.saying import file_word

pages = Blueprint("plans", __name__)


class NotDrawn(Exception):
    """Why no plan is drawn just now, in words for the person who asked."""


@dataclass(frozen=True)
class PlanState:
    """How far the plan of an attempt has come: 'none' yet, 'waiting', 'ready' or 'failed'."""

    stage: str
    paper: str = PAPERS[0]


@pages.post("/attempts/<int:submission_id>/plan")
def ask(submission_id: int) -> Redirect:
    """Have the plan drawn on the paper chosen."""
    found = _found(submission_id)
    try:
        with web.writing() as session:
            job = order(session, found.id, request.form.get("paper", ""), again=web.person().role != STUDENT)
    except NotDrawn as refused:
        flash(str(refused))
    else:
        web.send(job)
        flash(_("The building plan is being drawn."))
    return redirect(url_for("attempts.attempt", submission_id=submission_id) + "#part-plan", 303)


@pages.get("/attempts/<int:submission_id>/plan.pdf")
def plan(submission_id: int) -> Response:
    """The plan."""
    found = _found(submission_id)
    drawn = web.reading().get(Plan, found.id)
    if drawn is None or drawn.pdf is None:
        abort(404)
    title = file_word(found.assignment.title, str(found.assignment_id))
    name = f"plan-{title}-attempt-{found.number}-{drawn.paper}.pdf"
    return send_file(BytesIO(drawn.pdf), "application/pdf", as_attachment=True, download_name=name)


def order(session: Session, submission_id: int, paper: str, again: bool) -> Job:
    """Open the job of a plan.

    Parameters
    ----------
    again
        Whether a plan that could not be drawn may be tried once more.

    Raises
    ------
    NotDrawn
        Nothing to draw, or it is there or on its way already.
    """
    query = select(Submission).where(Submission.id == submission_id)
    submission = session.scalars(query.with_for_update()).one()
    if not can_have(submission):
        raise NotDrawn(_("Only a truss that was read and is stable has a building plan."))
    if paper not in PAPERS:
        raise NotDrawn(_("Choose the paper: {some} or {last}.", some=", ".join(PAPERS[:-1]), last=PAPERS[-1]))
    state = state_of(session, submission)
    if state.stage == "waiting":
        raise NotDrawn(_("The building plan is being drawn already. Wait until it is there."))
    if state == PlanState("ready", paper):
        raise NotDrawn(_("The building plan for {paper} is there already.", paper=paper))
    if state.stage == "failed" and not again:
        raise NotDrawn(_("The building plan could not be drawn. Ask your teacher to try it again."))
    session.merge(Plan(submission_id=submission_id, paper=paper, pdf=None, printed_at=None))
    return open_job(session, PLAN, submission_id)


def can_have(submission: Submission) -> bool:
    """Whether there is anything to build: a truss of one's own that was read and stands."""
    own = not submission.version.brief.get("problem")
    return own and bool(submission.stable) and submission.state != RECEIVED


def state_of(session: Session, submission: Submission) -> PlanState:
    """How far the plan of an attempt has come."""
    paper = session.scalar(select(Plan.paper).where(Plan.submission_id == submission.id))
    job = queries.job_state(session, PLAN, submission.id)
    if paper is None or job is None:
        return PlanState("none")
    return PlanState({WAITING: "waiting", DONE: "ready", FAILED: "failed"}[job], paper)


def _found(submission_id: int) -> Submission:
    return queries.submission(web.reading(), web.person(), submission_id) or abort(404)
