"""Certificates and the booklet: asked for by the coordinator, set by a worker, kept until the list changes."""

from __future__ import annotations

from io import BytesIO

from flask import Blueprint, Response, abort, flash, redirect, request, send_file, url_for
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response as Redirect

from rubric.language import _, later
from rubric.messages.names import AWARD
from rubric.messages.orders import AWARD_PAPERS, AWARDS
from service import web
from service.contest.publishing import publications
from service.contest.reaching import contest_or_404, coordinator_only
from service.contest.rulebook import Refusal
from service.jobs import open_job
from service.records import queries
from service.records.contest_models import ContestPrint
from service.records.models import FAILED, WAITING, Job
from service.saying import file_word

pages = Blueprint("awards", __name__)

BEING_SET = {
    "certificates": later("The certificates of the list published last: being set. Load this page again in a moment."),
    "booklet": later("The booklet of the list published last: being set. Load this page again in a moment."),
}
"""What is said when one of them was asked for."""


@pages.post("/staff/contests/<int:contest_id>/awards")
@coordinator_only
def ask(contest_id: int) -> Redirect:
    """Have certificates or the booklet set."""
    contest, what = contest_or_404(contest_id), request.form.get("what", "")
    try:
        with web.writing() as session:
            job = order(session, contest.id, what, request.form.get("paper", AWARD_PAPERS[0]))
    except Refusal as refused:
        flash(_("Not done: {reason}", reason=refused))
    else:
        web.send(job)
        flash(_(BEING_SET[what]))
    return redirect(url_for("contest_desk.desk", contest_id=contest.id) + "#print", 303)


@pages.get("/staff/contests/<int:contest_id>/<any(certificates, booklet):what>.pdf")
@coordinator_only
def pdf(contest_id: int, what: str) -> Response:
    """What was set."""
    contest = contest_or_404(contest_id)
    found = prints(web.reading(), contest.id).get(what)
    if found is None or found.pdf is None:
        abort(404)
    name = f"{what}-{file_word(contest.title, str(contest.id))}.pdf"
    return send_file(BytesIO(found.pdf), "application/pdf", as_attachment=True, download_name=name)


def order(session: Session, contest_id: int, what: str, paper: str = AWARD_PAPERS[0]) -> Job:
    """Open the job.

    Raises
    ------
    Refusal
        Nothing was published, the paper is not known, or it is being set already.
    """
    lists = publications(session, contest_id)
    if what not in AWARDS or not lists:
        raise Refusal(_("Publish the list first: certificates and booklet show what was published."))
    if paper not in AWARD_PAPERS:
        some, last = ", ".join(AWARD_PAPERS[:-1]), AWARD_PAPERS[-1]
        raise Refusal(_("Choose the paper: {some} or {last}.", some=some, last=last))
    found = prints(session, contest_id).get(what)
    if found is None:
        found = ContestPrint(contest_id=contest_id, what=what)
        session.add(found)
    elif queries.job_state(session, AWARD, found.id) == WAITING:
        raise Refusal(_("It is being set already."))
    found.list_number, found.paper, found.pdf, found.printed_at = lists[-1].number, paper, None, None
    session.flush()
    return open_job(session, AWARD, found.id)


def prints(session: Session, contest_id: int) -> dict[str, ContestPrint]:
    """What was asked for, by its kind."""
    rows = session.scalars(select(ContestPrint).where(ContestPrint.contest_id == contest_id))
    return {row.what: row for row in rows}


def failures(session: Session, contest_id: int) -> dict[str, bool]:
    """Whether the last setting of each kind was given up."""
    found = prints(session, contest_id)
    return {what: queries.job_state(session, AWARD, row.id) == FAILED for what, row in found.items()}
